//! The stock against a plain model of it in memory, over random days in a kitchen.

mod plain_stock;
mod stock_kitchen;

use chrono::TimeDelta;
use plain_stock::steps::{CODES, Step, steps};
use plain_stock::{Model, Seen, Thing, Why};
use proptest::prelude::*;
use stock_kitchen::*;
use tellshelf::measure::Amount;
use tellshelf::stock::{Event, Source, Stock, TagKind, TagState};

/// What holds after any event, whatever the model says.
fn check_what_always_holds(
    event: &Event,
    before: &Seen,
    after: &Seen,
) -> Result<(), TestCaseError> {
    let mut tags = after.tags_on_things();
    tags.sort_unstable();
    prop_assert!(
        tags.is_sorted_by(|one, next| one < next),
        "a tag on two things: {:?}",
        tags
    );

    for tag in &after.pool {
        if let (TagKind::Kitchen, TagState::On(item)) = (tag.kind, &tag.state) {
            let is_it = |t: &Thing| (t.tag, t.item.as_str()) == (Some(tag.number.0), item.as_str());
            prop_assert!(after.shelf.iter().any(is_it), "{:?}", tag);
        }
    }

    let zero = Amount::default();
    let is_amount = |thing: &Thing| thing.much.is_none_or(|much| much.base > zero);
    prop_assert!(after.shelf.iter().all(is_amount));

    let event = match event {
        Event::Heard { what, .. } => what,
        event => event,
    };
    let (had, has) = (before.totals(), after.totals());
    match event {
        Event::PutIn { .. }
        | Event::PutAway { .. }
        | Event::Stowed { .. }
        | Event::Counted { .. }
        | Event::PutBack { .. } => {}
        Event::Used { .. }
        | Event::UsedUp { .. }
        | Event::Spent { .. }
        | Event::TagSpent { .. } => {
            let grew = has
                .iter()
                .find(|(item, much)| had.get(item).is_none_or(|had| had < much));
            prop_assert_eq!(grew, None);
        }
        Event::Renamed { .. } => prop_assert!(has.values().sum::<Amount>() == had.values().sum()),
        _ => prop_assert_eq!(has, had),
    }
    // Two things with one mark may be put into one place, and may turn out to be medicines; but they aren't marked so.
    let may_meet = matches!(
        event,
        Event::PutAway { .. }
            | Event::Stowed { .. }
            | Event::PutBack { .. }
            | Event::Changed { .. }
            | Event::Located { .. }
            | Event::Described { .. }
            | Event::Renamed { .. }
    );
    if !may_meet {
        prop_assert!(after.shared_marks().is_subset(&before.shared_marks()));
    }
    Ok(())
}

proptest! {
    // Half as many as PROPTEST_CASES asks for: each is many steps, and much is looked at after each.
    #![proptest_config(ProptestConfig {
        cases: ProptestConfig::default().cases / 2,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn the_stock_does_as_the_model_does(steps in steps()) {
        let codes = CODES.map(code);
        let until = day("2026-12-01");
        let mut stock = Stock::in_memory().unwrap();
        let mut model = Model::default();
        let mut seen = Seen::of(&stock, &codes, until);
        // What was there before each event that isn't taken back.
        let mut before: Vec<(Event, Model, String)> = vec![];
        let mut now = at();
        for step in steps {
            now += TimeDelta::hours(7);
            let dump = stock.dump().unwrap();
            let outcome = match &step {
                Step::Undo => stock.undo(now, Source::Typed),
                Step::Tell(event) => stock.record(event.clone(), now, Source::Typed),
            };
            let expected = match &step {
                Step::Undo => match before.pop() {
                    None => Err(Why::NothingToUndo),
                    Some((event, earlier, dump)) => {
                        prop_assert_eq!(stock.dump().unwrap(), dump, "undo of {:?}", event);
                        model = earlier;
                        Ok(())
                    }
                },
                Step::Tell(event) => {
                    let earlier = model.clone();
                    let result = model.apply(event, now);
                    match result {
                        Ok(()) => before.push((event.clone(), earlier, dump)),
                        Err(_) => {
                            model = earlier;
                            prop_assert_eq!(stock.dump().unwrap(), dump, "refused {:?}", event);
                        }
                    }
                    result
                }
            };
            prop_assert_eq!(outcome.map(|_| ()).map_err(|error| Why::of(&error)), expected, "{:?}", step);
            let now_seen = Seen::of(&stock, &codes, until);
            prop_assert_eq!(&now_seen, &model.seen(&codes, until), "{:?}", step);
            if let (Step::Tell(event), Ok(())) = (&step, expected) {
                check_what_always_holds(event, &seen, &now_seen)?;
            }
            seen = now_seen;
        }
        stock.check().unwrap();

        let mut replayed = Stock::in_memory().unwrap();
        for (id, at, _, event) in stock.events().unwrap() {
            replayed.record(event, at, Source::Typed).unwrap();
            prop_assert_eq!(replayed.events().unwrap().last().unwrap().0, id);
        }
        prop_assert_eq!(replayed.dump().unwrap(), stock.dump().unwrap());
    }
}
