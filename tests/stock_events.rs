//! What each event does to the stock, and when it is refused.

mod stock_kitchen;

use stock_kitchen::*;
use tellshelf::measure::{DateKind, Quantity};
use tellshelf::stock::{
    Due, Event, ItemName, Outcome, Place, Refusal, Stock, StockError, TagNumber,
};

// Putting in.

#[test]
fn what_is_put_in_is_on_the_shelf_as_said() {
    let mut stock = after([]);
    let outcome = tell(
        &mut stock,
        put_in("oats", "2 bag", "pantry", "best by 2027-03-31"),
    );
    let Outcome::CameIn {
        lot,
        freed: None,
        off_list: false,
        still: None,
    } = outcome
    else {
        panic!("{outcome:?}")
    };
    assert_eq!(show(&lot), "2 bag | pantry | best by 2027-03-31");
    assert_eq!(stock.lots(&item("oats")).unwrap(), stock.shelf().unwrap());
    assert_eq!(stock.shelf().unwrap(), [lot]);
}

#[test]
fn what_was_not_said_stays_unknown() {
    assert_eq!(
        lots(&after([put_in("oats", "", "", "")]), "oats"),
        ["? | ? | "]
    );
}

#[test]
fn what_is_put_in_goes_off_the_list() {
    let mut stock = after([listed("oats", ""), listed("milk", "")]);
    let outcome = tell(&mut stock, put_in("oats", "", "", ""));
    assert!(
        matches!(outcome, Outcome::CameIn { off_list: true, .. }),
        "{outcome:?}"
    );
    assert_eq!(list(&stock), ["milk"]);
}

#[test]
fn each_putting_in_is_a_lot_of_its_own() {
    let stock = after([
        put_in("oats", "1 bag", "pantry", ""),
        put_in("oats", "1 bag", "pantry", ""),
    ]);
    assert_eq!(amounts(&stock, "oats"), ["1 bag", "1 bag"]);
}

// Using.

#[test]
fn first_expired_goes_first_whenever_it_came() {
    let stock = after([
        put_in("milk", "1", "", ""),
        put_in("milk", "2", "", "use by 2026-12-09"),
        put_in("milk", "3", "", "use by 2026-12-01"),
        put_in("milk", "4", "", "best by 2026-12-01, use by 2026-12-20"),
        put_in("milk", "5", "", "bought 2026-11-01"),
    ]);
    // A date ahead before none, the earliest of a lot's own dates counts, and what came first wins.
    // When it was bought is no date to use it by.
    assert_eq!(amounts(&stock, "milk"), ["3", "4", "2", "1", "5"]);
}

#[test]
fn using_takes_from_the_first_expired() {
    let mut stock = after([
        put_in("milk", "2 carton", "door", "use by 2026-12-09"),
        put_in("milk", "2 carton", "shelf", "use by 2026-12-01"),
    ]);
    let outcome = tell(&mut stock, used("milk", "1/2 carton"));
    let Outcome::Used { from, left, .. } = outcome else {
        panic!("{outcome:?}")
    };
    assert_eq!(from[0].place.as_ref().map(Place::as_str), Some("shelf"));
    assert_eq!(left, stock.lots(&item("milk")).unwrap());
    assert_eq!(amounts(&stock, "milk"), ["3/2 carton", "2 carton"]);
    assert!(list(&stock).is_empty());
}

#[test]
fn using_goes_on_to_the_next_lot() {
    let mut stock = after([
        put_in("beans", "2 can", "shelf", "best by 2027-01-01"),
        put_in("beans", "2 can", "cellar", "best by 2027-02-01"),
        put_in("beans", "2 can", "attic", "best by 2027-03-01"),
    ]);
    let outcome = tell(&mut stock, used("beans", "3 can"));
    let Outcome::Used { from, .. } = outcome else {
        panic!("{outcome:?}")
    };
    assert_eq!(from[0].place.as_ref().map(Place::as_str), Some("shelf"));
    assert_eq!(
        lots(&stock, "beans"),
        [
            "1 can | cellar | best by 2027-02-01",
            "2 can | attic | best by 2027-03-01",
        ]
    );
}

#[test]
fn grams_are_taken_from_a_pound_exactly() {
    let mut stock = after([put_in("flour", "1 pound", "", "")]);
    tell(&mut stock, used("flour", "300 gram"));
    assert_eq!(amounts(&stock, "flour"), ["15359237/45359237 pound"]);
    let outcome = tell(&mut stock, used("flour", "15359237/100000 gram"));
    assert!(matches!(outcome, Outcome::Gone { .. }), "{outcome:?}");
}

#[test]
fn a_third_three_times_leaves_nothing() {
    let mut stock = after([put_in("cream", "1 cup", "", "")]);
    tell(&mut stock, used("cream", "1/3 cup"));
    tell(&mut stock, used("cream", "1/3 cup"));
    tell(&mut stock, used("cream", "1/3 cup"));
    assert!(stock.lots(&item("cream")).unwrap().is_empty());
    assert_eq!(list(&stock), ["cream"]);
}

#[test]
fn ounces_go_on_to_the_next_can() {
    let mut stock = after([
        put_in("tomatoes", "1 x 14 ounce can", "", "best by 2027-01-01"),
        put_in("tomatoes", "2 x 14 ounce can", "", ""),
    ]);
    tell(&mut stock, used("tomatoes", "21 ounce"));
    assert_eq!(amounts(&stock, "tomatoes"), ["3/2 x 14 ounce can"]);
}

#[test]
fn using_skips_lots_of_another_measure() {
    let mut stock = after([
        put_in("rice", "1 bag", "", "best by 2026-12-01"),
        put_in("rice", "2 pound", "", "best by 2027-12-01"),
    ]);
    tell(&mut stock, used("rice", "1 pound"));
    assert_eq!(amounts(&stock, "rice"), ["1 bag", "1 pound"]);
}

#[test]
fn using_takes_nothing_when_there_is_not_enough_in_all() {
    let mut stock = after([
        put_in("beans", "2 can", "", ""),
        put_in("beans", "2 can", "", ""),
    ]);
    let refusal = refused(&mut stock, used("beans", "5 can"));
    let have = "2 cans and 2 cans".to_owned();
    assert_eq!(
        refusal,
        Refusal::NotEnough {
            item: item("beans"),
            have
        }
    );
    assert_eq!(amounts(&stock, "beans"), ["2 can", "2 can"]);
}

#[test]
fn cups_are_not_taken_from_bags() {
    let mut stock = after([put_in("rice", "2 bag", "", "")]);
    let refusal = refused(&mut stock, used("rice", "1 cup"));
    let (have, asked) = ("2 bags".to_owned(), "1 cup".to_owned());
    assert_eq!(
        refusal,
        Refusal::OtherMeasure {
            item: item("rice"),
            have,
            asked
        }
    );
}

#[test]
fn zero_and_less_are_not_taken_from_anything() {
    let mut stock = after([put_in("rice", "2 bag", "", "")]);
    for amount in ["0 bag", "0 x 1 pound bag", "1 x 0 pound bag"] {
        let refusal = refused(&mut stock, used("rice", amount));
        assert!(
            matches!(refusal, Refusal::OtherMeasure { .. }),
            "{amount}: {refusal}"
        );
    }
}

#[test]
fn an_amount_too_fine_to_reckon_with_is_refused() {
    let mut stock = after([put_in("rice", "2 gram", "", "")]);
    let fine = |n: i128| format!("1/{n} gram");
    tell(&mut stock, used("rice", &fine((1 << 61) - 1)));
    let refusal = refused(&mut stock, used("rice", &fine((1 << 61) - 3)));
    assert!(matches!(refusal, Refusal::OtherMeasure { .. }), "{refusal}");
    let refusal = refused(&mut stock, used("rice", &fine(i128::MAX)));
    assert!(matches!(refusal, Refusal::OtherMeasure { .. }), "{refusal}");
}

#[test]
fn what_is_not_there_can_not_be_used() {
    let mut stock = after([used_up("oats")]);
    for name in ["oats", "never mentioned"] {
        let refusal = refused(&mut stock, used(name, "1 cup"));
        assert_eq!(refusal, Refusal::NoneLeft { item: item(name) });
    }
}

#[test]
fn nothing_is_taken_from_an_unknown_quantity() {
    let mut stock = after([put_in("oats", "", "", "")]);
    let refusal = refused(&mut stock, used("oats", "1 cup"));
    assert_eq!(refusal, Refusal::UnknownAmount { item: item("oats") });
}

#[test]
fn a_known_lot_is_used_beside_an_unknown_one() {
    let mut stock = after([
        put_in("oats", "", "", "best by 2026-12-01"),
        put_in("oats", "2 cup", "", ""),
    ]);
    tell(&mut stock, used("oats", "1 cup"));
    assert_eq!(amounts(&stock, "oats"), ["?", "1 cup"]);
    tell(&mut stock, used("oats", "1 cup"));
    assert_eq!(amounts(&stock, "oats"), ["?"]);
    assert!(list(&stock).is_empty(), "an unknown lot is still there");
}

#[test]
fn only_is_not_said_beside_an_unknown_lot() {
    let mut stock = after([put_in("oats", "2 cup", "", ""), put_in("oats", "", "", "")]);
    let refusal = refused(&mut stock, used("oats", "3 cup"));
    assert_eq!(refusal, Refusal::UnknownAmount { item: item("oats") });
}

#[test]
fn the_last_used_goes_onto_the_list() {
    let mut stock = after([put_in("eggs", "2", "fridge", "")]);
    let before = stock.lots(&item("eggs")).unwrap();
    let gone = tell(&mut stock, used("eggs", "2"));
    assert_eq!(
        gone,
        Outcome::Gone {
            item: item("eggs"),
            lots: before,
            was_listed: false
        }
    );
    assert_eq!(list(&stock), ["eggs"]);
}

// Using up.

#[test]
fn used_up_takes_every_lot_and_lists_once() {
    let mut stock = after([
        put_in("oats", "1 bag", "", "use by 2026-12-01"),
        put_in("oats", "", "", ""),
    ]);
    let before = stock.lots(&item("oats")).unwrap();
    let gone = tell(&mut stock, used_up("oats"));
    assert_eq!(
        gone,
        Outcome::Gone {
            item: item("oats"),
            lots: before,
            was_listed: false
        }
    );
    assert!(stock.shelf().unwrap().is_empty());
    let again = tell(&mut stock, used_up("oats"));
    assert_eq!(
        again,
        Outcome::Gone {
            item: item("oats"),
            lots: vec![],
            was_listed: true
        }
    );
    assert_eq!(list(&stock), ["oats"]);
    assert!(stock.expiring(day("2099-12-31")).unwrap().is_empty());
}

#[test]
fn used_up_keeps_the_quantity_on_the_list() {
    let stock = after([
        listed("oats", "3 bag"),
        put_in("milk", "1", "", ""),
        used_up("oats"),
    ]);
    assert_eq!(list(&stock), ["3 bag oats"]);
}

// The list.

#[test]
fn the_list_is_in_the_order_it_was_told() {
    let mut stock = after([listed("milk", ""), listed("apples", "6")]);
    let outcome = tell(&mut stock, listed("bread", "1 loaf"));
    assert_eq!(
        outcome,
        Outcome::Listed {
            item: item("bread"),
            quantity: maybe("1 loaf"),
            before: None,
        }
    );
    assert_eq!(list(&stock), ["milk", "6 apples", "1 loaf bread"]);
}

#[test]
fn a_listed_item_is_not_listed_twice() {
    let mut stock = after([listed("milk", "2 carton")]);
    let refusal = refused(&mut stock, listed("milk", ""));
    assert_eq!(refusal, Refusal::AlreadyListed { item: item("milk") });
}

#[test]
fn another_quantity_changes_the_line() {
    let mut stock = after([listed("milk", ""), listed("bread", "")]);
    let outcome = tell(&mut stock, listed("milk", "2 carton"));
    assert_eq!(
        outcome,
        Outcome::Listed {
            item: item("milk"),
            quantity: maybe("2 carton"),
            before: None,
        }
    );
    assert_eq!(list(&stock), ["2 carton milk", "bread"]);
}

#[test]
fn off_the_list_says_how_many_lines_are_left() {
    let mut stock = after([listed("milk", ""), listed("bread", ""), listed("eggs", "")]);
    assert_eq!(
        tell(&mut stock, got("milk")),
        Outcome::OffList {
            item: item("milk"),
            left: 2
        }
    );
    assert_eq!(
        tell(&mut stock, unlisted("eggs")),
        Outcome::OffList {
            item: item("eggs"),
            left: 1
        }
    );
    assert_eq!(list(&stock), ["bread"]);
}

#[test]
fn what_is_not_on_the_list_can_not_go_off_it() {
    let mut stock = after([listed("milk", ""), got("milk")]);
    for name in ["milk", "never mentioned"] {
        for event in [got(name), unlisted(name)] {
            assert_eq!(
                refused(&mut stock, event),
                Refusal::NotListed { item: item(name) }
            );
        }
    }
}

// Tags.

#[test]
fn a_tag_gets_the_lowest_free_number() {
    let mut stock = after([
        tagged("a", "", ""),
        tagged("b", "", ""),
        tagged("c", "", ""),
    ]);
    tell(&mut stock, put_away(2, "pantry"));
    tell(&mut stock, put_away(1, "pantry"));
    for (name, number) in [("d", 1), ("e", 2), ("f", 4)] {
        let Outcome::Tagged { tag, .. } = tell(&mut stock, tagged(name, "", "")) else {
            panic!()
        };
        assert_eq!(tag.number, TagNumber(number));
        assert_eq!(stock.tag(tag.number).unwrap(), Some(tag));
    }
    let names: Vec<String> = stock
        .tags()
        .unwrap()
        .iter()
        .map(|t| t.item.to_string())
        .collect();
    assert_eq!(names, ["d", "e", "c", "f"]);
}

#[test]
fn a_tagged_thing_is_not_on_the_shelf_yet() {
    let stock = after([
        listed("milk", ""),
        tagged("milk", "1 carton", "use by 2026-12-01"),
    ]);
    assert!(stock.shelf().unwrap().is_empty());
    assert_eq!(list(&stock), ["milk"]);
}

#[test]
fn put_away_carries_quantity_and_dates_over() {
    let mut stock = after([
        listed("milk", ""),
        tagged("milk", "2 carton", "use by 2026-12-01, packed 2026-11-20"),
    ]);
    let outcome = tell(&mut stock, put_away(1, "fridge door"));
    let Outcome::CameIn {
        lot,
        freed: Some(TagNumber(1)),
        off_list: true,
        still: None,
    } = outcome
    else {
        panic!("{outcome:?}")
    };
    assert_eq!(
        show(&lot),
        "2 carton | fridge door | use by 2026-12-01, packed 2026-11-20"
    );
    assert_eq!(stock.shelf().unwrap(), [lot]);
    assert!(stock.tags().unwrap().is_empty());
    assert!(list(&stock).is_empty());
}

#[test]
fn there_is_no_such_tag() {
    let mut stock = after([tagged("milk", "", ""), put_away(1, "fridge")]);
    for number in [0, 1, 2, u32::MAX] {
        let refusal = refused(&mut stock, put_away(number, "fridge"));
        assert_eq!(refusal, Refusal::NoSuchTag(TagNumber(number)));
        assert_eq!(stock.tag(TagNumber(number)).unwrap(), None);
    }
}

// Keep levels.

fn low(stock: &Stock) -> Vec<String> {
    let low = stock.low().unwrap().into_iter();
    low.map(|l| {
        format!(
            "{}: {} of {}",
            l.item,
            l.have.map_or("none".into(), |h| h.to_string()),
            l.keep
        )
    })
    .collect()
}

#[test]
fn low_is_less_than_the_keep_level_over_all_lots() {
    let mut stock = after([
        put_in("oats", "1 bag", "", ""),
        put_in("oats", "1 bag", "", ""),
    ]);
    let outcome = tell(&mut stock, kept_at("oats", "2 bag"));
    assert_eq!(
        outcome,
        Outcome::KeepSet {
            item: item("oats"),
            level: q("2 bag")
        }
    );
    assert!(low(&stock).is_empty(), "the level itself is enough");
    tell(&mut stock, used("oats", "1/2 bag"));
    assert_eq!(low(&stock), ["oats: 3/2 bag of 2 bag"]);
    tell(&mut stock, used_up("oats"));
    assert_eq!(low(&stock), ["oats: none of 2 bag"]);
    tell(&mut stock, kept_at("oats", "0 bag"));
    assert!(low(&stock).is_empty());
}

#[test]
fn low_compares_units_of_one_kind_and_adds_packs() {
    let mut stock = after([
        kept_at("flour", "1 kilogram"),
        put_in("flour", "2 pound", "", ""),
        kept_at("rice", "2 pound"),
        put_in("rice", "1 pound", "", ""),
        put_in("rice", "1 x 15 ounce box", "", ""),
    ]);
    assert_eq!(
        low(&stock),
        [
            "flour: 2 pound of 1 kilogram",
            "rice: 31/16 pound of 2 pound"
        ]
    );
    tell(&mut stock, put_in("flour", "1 pound", "", ""));
    tell(&mut stock, put_in("rice", "1 ounce", "", ""));
    assert!(low(&stock).is_empty());
}

#[test]
fn low_is_not_guessed() {
    let stock = after([
        kept_at("oats", "5 bag"),
        put_in("oats", "1 bag", "", ""),
        put_in("oats", "", "", ""),
        kept_at("rice", "5 bag"),
        put_in("rice", "1 cup", "", ""),
        kept_at("salt", "5 bag"),
        put_in("salt", "1 bag", "", ""),
        put_in("salt", "1 cup", "", ""),
    ]);
    assert!(low(&stock).is_empty());
}

// Dates.

#[test]
fn expiring_looks_ahead_only_through_the_day_itself() {
    let stock = after([
        put_in(
            "ham",
            "1",
            "fridge",
            "use by 2026-12-01, bought 2026-11-20, opened 2026-11-21",
        ),
        put_in(
            "fish",
            "1",
            "freezer",
            "frozen 2026-11-01, packed 2026-10-30, freeze by 2026-12-02",
        ),
        tagged("eggs", "12", "sell by 2026-11-30"),
        put_in("bread", "", "", "best by 2026-12-01"),
        put_in("tin", "", "", "best by 2027-12-01"),
    ]);
    let expiring = |until: &str| -> Vec<String> {
        let found = stock.expiring(day(until)).unwrap().into_iter();
        found
            .map(|e| {
                let place = e.place.map_or("?".to_owned(), |p| p.to_string());
                let tag = e.tag.map_or("-".to_owned(), |t| t.to_string());
                let due = match e.due {
                    Due::Date(kind, day) => format!("{kind} {day}"),
                    Due::Guide(day) => format!("guide {day}"),
                };
                format!("{} {due} {place} {tag}", e.item)
            })
            .collect()
    };
    assert!(expiring("2026-11-29").is_empty());
    assert_eq!(
        expiring("2026-12-02"),
        [
            "eggs sell by 2026-11-30 ? 1",
            "bread best by 2026-12-01 ? -",
            "ham use by 2026-12-01 fridge -",
        ],
        "what is in the freezer stands still"
    );
    assert_eq!(expiring("2026-11-30").len(), 1, "the day itself counts");
}

#[test]
fn every_kind_of_date_comes_back() {
    for kind in DateKind::ALL {
        let on = format!("{kind} 2026-12-01");
        let stock = after([
            put_in("x", "", "", &on),
            tagged("y", "", &on),
            put_in("z", "", "", ""),
        ]);
        assert_eq!(lots(&stock, "x"), [format!("? | ? | {on}")]);
        assert_eq!(stock.tag(TagNumber(1)).unwrap().unwrap().dates, dates(&on));
        assert_eq!(
            stock.expiring(day("2026-12-01")).unwrap().len(),
            if kind.looks_ahead() { 2 } else { 0 }
        );
    }
}

// Amounts.

#[test]
fn no_amount_is_kept_that_is_not_more_than_nothing() {
    let mut stock = after([]);
    let too_large = i128::MAX.to_string();
    for amount in ["0 bag", "1 x 0 ounce can", &too_large] {
        for event in [
            put_in("x", amount, "", ""),
            listed("x", amount),
            tagged("x", amount, ""),
        ] {
            let error = fails(&mut stock, event);
            assert!(
                matches!(error, StockError::NoAmount { .. }),
                "{amount}: {error}"
            );
        }
    }
    // Less than nothing can't even be written down.
    assert!("-1 bag".parse::<Quantity>().is_err());
    let mut less = kept_at("x", "1");
    if let Event::KeptAt { level, .. } = &mut less {
        *level = Quantity::of(-1);
    }
    let error = fails(&mut stock, less);
    assert!(matches!(error, StockError::NoAmount { .. }), "{error}");
    assert!(stock.names().unwrap().is_empty());
}

#[test]
fn the_error_says_what_was_said() {
    let error = fails(&mut after([]), put_in("x", "0 bag", "", ""));
    let said = "0 bags is no amount I can keep. Nothing was changed. Say how much there is";
    assert_eq!(error.to_string(), said);
}

// Undo.

#[test]
fn undo_takes_back_what_followed_too() {
    let mut stock = after([put_in(
        "oats",
        "1 bag",
        "pantry",
        "best by 2027-01-01, bought 2026-11-25",
    )]);
    let before = stock.dump().unwrap();
    tell(&mut stock, used_up("oats"));
    assert_eq!(undo(&mut stock), used_up("oats"));
    assert_eq!(stock.dump().unwrap(), before);
    assert!(list(&stock).is_empty());
}

#[test]
fn undo_of_every_event_restores_all_of_it() {
    let mut stock = after([
        put_in("oats", "2 bag", "pantry", "best by 2027-01-01"),
        tagged("milk", "1", "use by 2026-12-01"),
        listed("eggs", ""),
        listed("milk", ""),
        kept_at("oats", "1 bag"),
    ]);
    let before = stock.dump().unwrap();
    for event in [
        put_in("new", "1", "", "use by 2026-12-01, opened 2026-11-01"),
        put_in("milk", "", "", ""),
        put_away(1, "fridge"),
        used_up("oats"),
        used_up("new"),
        used("oats", "1 bag"),
        used("oats", "2 bag"),
        listed("bread", "1 loaf"),
        listed("eggs", "12"),
        unlisted("eggs"),
        got("eggs"),
        kept_at("oats", "3 bag"),
        kept_at("oats", "1 bag"),
        kept_at("new", "1"),
        tagged("new", "1", "sell by 2026-12-01"),
    ] {
        tell(&mut stock, event.clone());
        assert_eq!(undo(&mut stock), event);
        assert_eq!(stock.dump().unwrap(), before, "{event:?}");
    }
}

#[test]
fn several_undos_go_back_step_by_step() {
    let mut stock = after([]);
    let mut states = vec![];
    for event in [
        put_in("oats", "3 bag", "", "use by 2026-12-01"),
        used("oats", "1 bag"),
        used("oats", "2 bag"),
        listed("x", ""),
    ] {
        states.push(stock.dump().unwrap());
        tell(&mut stock, event);
    }
    for state in states.into_iter().rev() {
        undo(&mut stock);
        assert_eq!(stock.dump().unwrap(), state);
    }
    assert_eq!(refused_undo(&mut stock), Refusal::NothingToUndo);
}

fn refused_undo(stock: &mut Stock) -> Refusal {
    let before = (stock.dump().unwrap(), stock.events().unwrap());
    let error = stock
        .undo(at(), tellshelf::stock::Source::Typed)
        .unwrap_err();
    assert_eq!((stock.dump().unwrap(), stock.events().unwrap()), before);
    match error {
        StockError::Refused(refusal) => refusal,
        other => panic!("{other}"),
    }
}

#[test]
fn an_undo_is_not_undone() {
    let mut stock = after([listed("milk", ""), listed("eggs", "")]);
    undo(&mut stock);
    assert_eq!(
        undo(&mut stock),
        listed("milk", ""),
        "not the undo before it"
    );
    assert_eq!(refused_undo(&mut stock), Refusal::NothingToUndo);
    assert_eq!(stock.events().unwrap().len(), 4);
}

#[test]
fn nothing_is_there_to_undo_at_first() {
    assert_eq!(refused_undo(&mut after([])), Refusal::NothingToUndo);
}

#[test]
fn only_the_last_event_is_taken_back_by_number() {
    let mut stock = after([
        put_in("oats", "1", "", ""),
        listed("milk", ""),
        listed("eggs", ""),
    ]);
    undo(&mut stock);
    for id in [1, 3, 4, 0, -1, 5, 99, i64::MAX] {
        assert_eq!(
            refused(&mut stock, Event::Undone { id }),
            Refusal::NothingToUndo,
            "{id}"
        );
    }
    tell(&mut stock, Event::Undone { id: 2 });
    assert!(list(&stock).is_empty());
}

#[test]
fn a_number_used_again_after_undo_belongs_to_the_new_lot_alone() {
    let mut stock = after([put_in("oats", "1 bag", "pantry", "use by 2026-12-01")]);
    undo(&mut stock);
    tell(&mut stock, put_in("milk", "2", "fridge", ""));
    assert!(lots(&stock, "oats").is_empty());
    assert_eq!(lots(&stock, "milk"), ["2 | fridge | "]);
    undo(&mut stock);
    assert_eq!(refused_undo(&mut stock), Refusal::NothingToUndo);
}

// Names.

#[test]
fn two_items_are_never_mixed() {
    // Near in sound, spelling or letter case, or parts of one another.
    let names = [
        "oat",
        "oats",
        "Oats",
        "oat milk",
        "milk",
        "o%s",
        "oa_s",
        "café",
        "cafe\u{301}",
    ];
    let mut stock = after(names.iter().map(|name| put_in(name, "2", name, "")));
    tell(&mut stock, used_up("oats"));
    tell(&mut stock, used("milk", "1"));
    for name in names {
        let expected = match name {
            "oats" => vec![],
            "milk" => vec!["1"],
            _ => vec!["2"],
        };
        assert_eq!(amounts(&stock, name), expected, "{name}");
    }
    assert_eq!(list(&stock), ["oats"]);
}

#[test]
fn any_name_comes_back_as_it_was() {
    let long = "very ".repeat(20_000);
    for name in [
        "Bobby's \"best\" ; DROP TABLE lot; --",
        "use by=2026-12-01;best by=2026-12-02",
        "🥣 oats 🇨🇭",
        "a\u{0}b",
        "null",
        "1 x 14 ounce can",
        "깍두기",
        "?1",
        "'",
        "\\",
        "%",
        &long,
    ] {
        let mut stock = after([
            put_in(name, "2 bag", name, "use by 2026-12-01, opened 2026-11-25"),
            listed(name, "1"),
            kept_at(name, "3 bag"),
        ]);
        let (as_item, as_place) = (ItemName::new(name).unwrap(), Place::new(name).unwrap());
        assert_eq!(stock.low().unwrap()[0].item, as_item);
        tell(&mut stock, tagged(name, "1 bag", "sell by 2026-12-01"));
        assert_eq!(stock.names().unwrap(), [as_item.as_str()]);
        assert_eq!(stock.shelf().unwrap()[0].place, Some(as_place.clone()));
        assert_eq!(stock.list().unwrap()[0].item, as_item);
        assert_eq!(stock.tags().unwrap()[0].item, as_item);
        assert_eq!(stock.expiring(day("2026-12-01")).unwrap()[0].item, as_item);
        tell(
            &mut stock,
            Event::PutAway {
                tag: TagNumber(1),
                place: as_place,
            },
        );
        tell(&mut stock, used(name, "3 bag"));
        undo(&mut stock);
        let events = stock.events().unwrap();
        assert_eq!(
            events[0].3,
            put_in(name, "2 bag", name, "use by 2026-12-01, opened 2026-11-25")
        );
        stock.check().unwrap();
    }
}

#[test]
fn white_space_does_not_make_another_item() {
    let stock = after([put_in(" dish \t soap\n", "1", "", "")]);
    assert_eq!(amounts(&stock, "dish soap"), ["1"]);
    for nothing in ["", " ", "\t\n", "\u{a0}"] {
        assert!(
            ItemName::new(nothing).is_err() && Place::new(nothing).is_err(),
            "{nothing:?}"
        );
    }
}

// The ledger.

#[test]
fn the_ledger_keeps_each_event_with_its_time_and_source() {
    use tellshelf::stock::Source::{Microphone, Recording, Typed};
    let mut stock = after([]);
    for (nanos, source) in [(0, Microphone), (1, Recording), (500_000_000, Typed)] {
        let when = day("2026-11-25")
            .and_hms_nano_opt(23, 59, 59, nanos)
            .unwrap();
        stock
            .record(put_in("oats", "1", "", ""), when, source)
            .unwrap();
        let (id, at, name, event) = stock.events().unwrap().pop().unwrap();
        assert_eq!((at, name.as_str()), (when, source.name()));
        assert_eq!(event, put_in("oats", "1", "", ""));
        assert_eq!(id, stock.events().unwrap().len() as i64);
    }
}
