//! Short ways to say what happens in a kitchen, for the tests of the stock.
#![allow(dead_code, reason = "each test file uses its own part")]

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::measure::{DateKind, Quantity};
use tellshelf::stock::{
    Change, Choice, Code, Dates, Event, Fact, ItemName, Labelled, Lot, Mark, Outcome, Place,
    Refusal, Source, Stock, StockError, TagNumber,
};

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Wednesday morning.
pub fn at() -> NaiveDateTime {
    day("2026-11-25").and_hms_opt(7, 30, 0).unwrap()
}

pub fn item(name: &str) -> ItemName {
    ItemName::new(name).unwrap()
}

pub fn q(text: &str) -> Quantity {
    text.parse().unwrap()
}

/// A quantity, or none for an empty text.
pub fn maybe(text: &str) -> Option<Quantity> {
    (!text.is_empty()).then(|| q(text))
}

/// Dates such as "use by 2026-12-03, bought 2026-11-24".
pub fn dates(text: &str) -> Dates {
    let mut dates = Dates::default();
    for note in text.split(", ").filter(|note| !note.is_empty()) {
        let (kind, date) = note.rsplit_once(' ').unwrap();
        dates.insert(kind.parse::<DateKind>().unwrap(), day(date));
    }
    dates
}

pub fn put_in(name: &str, quantity: &str, place: &str, on: &str) -> Event {
    Event::PutIn {
        item: item(name),
        quantity: maybe(quantity),
        place: Place::new(place).ok(),
        dates: dates(on),
    }
}

pub fn put_away(tag: u32, place: &str) -> Event {
    Event::PutAway {
        tag: TagNumber(tag),
        place: Place::new(place).unwrap(),
    }
}

/// What became of something on that Wednesday.
pub fn changed(name: &str, how: Change, quantity: &str, place: &str) -> Event {
    Event::Changed {
        item: item(name),
        how,
        quantity: maybe(quantity),
        place: Place::new(place).ok(),
        on: day("2026-11-25"),
        of: Choice::default(),
    }
}

pub fn used_up(name: &str) -> Event {
    Event::UsedUp {
        item: item(name),
        of: Choice::default(),
    }
}

/// The same event of some lots only: of those in a place, or else of those that were opened.
pub fn only(event: Event, from: &str) -> Event {
    let mut event = event;
    if let Event::UsedUp { of, .. } | Event::Used { of, .. } | Event::Changed { of, .. } =
        &mut event
    {
        *of = Place::new(from).map_or(Choice::opened(), Choice::from);
    }
    event
}

pub fn used(name: &str, quantity: &str) -> Event {
    Event::Used {
        item: item(name),
        quantity: q(quantity),
        of: Choice::default(),
    }
}

pub fn listed(name: &str, quantity: &str) -> Event {
    Event::Listed {
        item: item(name),
        quantity: maybe(quantity),
    }
}

pub fn heard(what: Event, forms: &[&str]) -> Event {
    Event::Heard {
        what: Box::new(what),
        forms: forms.iter().map(|form| item(form)).collect(),
    }
}

pub fn unheard(name: &str) -> Event {
    Event::Unheard { item: item(name) }
}

pub fn renamed(name: &str, new: &str) -> Event {
    Event::Renamed {
        item: item(name),
        name: item(new),
    }
}

pub fn unlisted(name: &str) -> Event {
    Event::Unlisted { item: item(name) }
}

pub fn got_some(name: &str, quantity: &str) -> Event {
    Event::Got {
        item: item(name),
        quantity: maybe(quantity),
    }
}

pub fn got(name: &str) -> Event {
    got_some(name, "")
}

pub fn kept_at(name: &str, level: &str) -> Event {
    Event::KeptAt {
        item: item(name),
        level: q(level),
    }
}

pub fn tagged(name: &str, quantity: &str, on: &str) -> Event {
    Event::Tagged {
        item: item(name),
        quantity: maybe(quantity),
        dates: dates(on),
    }
}

pub fn described(name: &str, fact: Fact) -> Event {
    Event::Described {
        item: item(name),
        fact,
    }
}

pub fn code(text: &str) -> Code {
    Code::new(text).unwrap()
}

pub fn coded(name: &str, text: &str) -> Event {
    Event::Coded {
        item: item(name),
        code: code(text),
    }
}

pub fn tag_coded(tag: u32, text: &str) -> Event {
    Event::TagCoded {
        tag: TagNumber(tag),
        code: code(text),
    }
}

pub fn kitchen_tagged(name: &str, tag: u32) -> Event {
    Event::KitchenTagged {
        item: item(name),
        tag: TagNumber(tag),
        of: Choice::default(),
    }
}

pub fn reminded(name: &str, tag: u32) -> Event {
    Event::Reminded {
        item: item(name),
        tag: TagNumber(tag),
    }
}

pub fn tags_taken(first: u32, last: u32) -> Event {
    Event::TagsTaken {
        first: TagNumber(first),
        last: TagNumber(last),
    }
}

pub fn tag_lost(tag: u32) -> Event {
    Event::TagLost {
        tag: TagNumber(tag),
    }
}

pub fn tag_found(tag: u32) -> Event {
    Event::TagFound {
        tag: TagNumber(tag),
    }
}

pub fn tag_spent(tag: u32) -> Event {
    Event::TagSpent {
        tag: TagNumber(tag),
    }
}

pub fn spent(name: &str) -> Event {
    Event::Spent { item: item(name) }
}

pub fn none_there(name: &str) -> Event {
    Event::NoneThere { item: item(name) }
}

/// What is on the list, and what was taken in its place.
pub fn got_instead(name: &str, instead: &str) -> Event {
    Event::GotInstead {
        item: item(name),
        instead: item(instead),
    }
}

pub fn mark(text: &str) -> Mark {
    text.parse().unwrap()
}

pub fn marked(name: &str, text: &str) -> Event {
    Event::Marked {
        item: item(name),
        mark: mark(text),
    }
}

pub fn stowed(name: &str, place: &str, unsure: bool) -> Event {
    Event::Stowed {
        item: item(name),
        place: Place::new(place).unwrap(),
        unsure,
    }
}

pub fn counted(name: &str, quantity: &str) -> Event {
    Event::Counted {
        item: item(name),
        quantity: quantity.parse().unwrap(),
        place: None,
    }
}

/// Another date of what came last.
pub fn date_changed(name: &str, note: &str) -> Event {
    let note = dates(note).iter().next().unwrap();
    Event::DateChanged {
        item: item(name),
        kind: note.kind.unwrap(),
        date: note.date,
    }
}

pub fn dated(name: &str, note: &str) -> Event {
    let note = dates(note).iter().next().unwrap();
    Event::Dated {
        item: item(name),
        kind: note.kind.unwrap(),
        date: note.date,
        of: None,
    }
}

/// A date read off what was named of several.
pub fn dated_of(of: Labelled, name: &str, note: &str) -> Event {
    match dated(name, note) {
        Event::Dated {
            item, kind, date, ..
        } => {
            let of = Some(of);
            Event::Dated {
                item,
                kind,
                date,
                of,
            }
        }
        other => other,
    }
}

pub fn located(name: &str, place: &str) -> Event {
    Event::Located {
        item: item(name),
        place: Place::new(place).unwrap(),
    }
}

pub fn made_sure(name: &str) -> Event {
    Event::MadeSure { item: item(name) }
}

pub fn put_back(name: &str) -> Event {
    Event::PutBack { item: item(name) }
}

/// A stock in which these events happened.
pub fn after(events: impl IntoIterator<Item = Event>) -> Stock {
    let mut stock = Stock::in_memory().unwrap();
    for event in events {
        tell(&mut stock, event);
    }
    stock
}

/// Records what must go well.
pub fn tell(stock: &mut Stock, event: Event) -> Outcome {
    stock
        .record(event.clone(), at(), Source::Typed)
        .unwrap_or_else(|e| panic!("{event:?}: {e}"))
}

/// Records what must be refused, and changes nothing.
pub fn refused(stock: &mut Stock, event: Event) -> Refusal {
    match fails(stock, event) {
        StockError::Refused(refusal) => refusal,
        other => panic!("{other}"),
    }
}

/// Records what must fail, and changes neither tables nor ledger.
pub fn fails(stock: &mut Stock, event: Event) -> StockError {
    let before = (stock.dump().unwrap(), stock.events().unwrap());
    let error = stock.record(event.clone(), at(), Source::Typed);
    let error = error.expect_err(&format!("{event:?} should fail"));
    assert_eq!(
        (stock.dump().unwrap(), stock.events().unwrap()),
        before,
        "{event:?} changed something"
    );
    error
}

pub fn undo(stock: &mut Stock) -> Event {
    match stock.undo(at(), Source::Typed).unwrap() {
        Outcome::Undone(event) => event,
        other => panic!("{other:?}"),
    }
}

/// A lot as "2 bag | pantry | use by 2026-12-03", with "?" for what isn't known.
pub fn show(lot: &Lot) -> String {
    let or_unknown = |text: Option<String>| text.unwrap_or_else(|| "?".to_owned());
    let dates: Vec<String> = lot
        .dates
        .iter()
        .map(|n| format!("{} {}", n.kind.unwrap(), n.date))
        .collect();
    let quantity = or_unknown(lot.quantity.as_ref().map(Quantity::to_string));
    let place = or_unknown(lot.place.as_ref().map(Place::to_string));
    [quantity, place, dates.join(", ")].join(" | ")
}

/// An item's lots, in the order to use them.
pub fn lots(stock: &Stock, name: &str) -> Vec<String> {
    stock.lots(&item(name)).unwrap().iter().map(show).collect()
}

/// An item's quantities, in the order to use them.
pub fn amounts(stock: &Stock, name: &str) -> Vec<String> {
    let lots = stock.lots(&item(name)).unwrap();
    lots.iter()
        .map(|l| {
            l.quantity
                .as_ref()
                .map_or("?".to_owned(), Quantity::to_string)
        })
        .collect()
}

/// The list as "oats" and "2 bag oats".
pub fn list(stock: &Stock) -> Vec<String> {
    let lines = stock.list().unwrap();
    let said = lines.iter().map(|line| match &line.quantity {
        None => line.item.to_string(),
        Some(quantity) => format!("{quantity} {}", line.item),
    });
    said.collect()
}
