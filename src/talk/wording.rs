//! The words of the replies: the important word first, then stop. Nothing in them relies on sight.

mod asked;
pub(super) mod away;
mod done;
pub(super) mod facts;
pub(super) mod guide;
mod history;
pub(super) mod labels;
mod refused;
pub(super) mod round;
mod told;

use chrono::NaiveDate;

pub(super) use self::{asked::*, done::*, history::*, refused::*, told::*};
use crate::grammar::one_of;
use crate::measure::{DateKind, DateNote, Quantity, say_distance};
use crate::stock::{Choice, ItemName, Lot, Place};

/// No reply has more words, unless it was asked for.
pub(super) const MOST_WORDS: usize = 20;

pub(super) fn note_said(note: DateNote, today: NaiveDate) -> String {
    let said = note.spoken(today);
    match note.kind {
        Some(kind) if kind.looks_ahead() && note.date < today => format!("{said}, passed"),
        _ => said,
    }
}

/// The same with how far away it is.
fn when_said(note: DateNote, today: NaiveDate) -> String {
    let said = note_said(note, today);
    match say_distance(note.date, today) {
        Some(distance) => format!("{said}, {distance}"),
        None => said,
    }
}

/// The dates of a lot. What was frozen in time hasn't passed since: its dates stand still.
fn dates_of(lot: &Lot, today: NaiveDate, say: fn(DateNote, NaiveDate) -> String) -> Vec<String> {
    let frozen = lot.dates.get(DateKind::Frozen);
    let frozen = frozen.filter(|_| lot.is_frozen());
    let stands_still = |note: &DateNote| {
        let ahead = note.kind.is_some_and(DateKind::looks_ahead) && note.date < today;
        ahead && frozen.is_some_and(|frozen| frozen <= note.date)
    };
    let still = lot.dates.iter().filter(stands_still);
    let still = still.filter_map(|note| Some(note.kind?.name().replace(' ', "-")));
    let still: Vec<String> = still.collect();
    let said = lot.dates.iter().filter(|note| !stands_still(note));
    let said = said.map(|note| match note.kind {
        Some(DateKind::Frozen) if !still.is_empty() => {
            let before = still.join(" and ");
            format!("{}, before its {before} date", say(note, today))
        }
        _ => say(note, today),
    });
    said.collect()
}

/// Whether a name is that of several: "eggs".
pub(super) fn is_plural(item: &ItemName) -> bool {
    one_of(item.as_str()) != item.as_str()
}

/// "2 bags, pantry; 1 cup, cupboard": what is in one place is added up.
fn lots_said(lots: &[Lot]) -> String {
    let mut places: Vec<Option<&Place>> = Vec::new();
    for lot in lots {
        if !places.contains(&lot.place.as_ref()) {
            places.push(lot.place.as_ref());
        }
    }
    let said = places.into_iter().map(|place| {
        let there: Vec<&Lot> = lots.iter().filter(|l| l.place.as_ref() == place).collect();
        match place {
            Some(place) => format!("{}, {place}", amounts(&there)),
            None => amounts(&there),
        }
    });
    said.collect::<Vec<_>>().join("; ")
}

/// Lots added up as far as they can be.
pub(super) fn amounts(lots: &[&Lot]) -> String {
    added_up(lots.iter().map(|lot| lot.quantity.as_ref()))
}

/// Quantities added up as far as they can be; `None` is one that nobody said.
fn added_up<'q>(quantities: impl Iterator<Item = Option<&'q Quantity>>) -> String {
    let mut sums: Vec<Quantity> = Vec::new();
    let mut unknown = false;
    for quantity in quantities {
        let Some(quantity) = quantity else {
            unknown = true;
            continue;
        };
        match sums
            .iter_mut()
            .find_map(|sum| Some((sum.plus(quantity).ok()?, sum)))
        {
            Some((total, sum)) => *sum = total,
            None => sums.push(quantity.clone()),
        }
    }
    let mut said: Vec<String> = sums.iter().map(Quantity::spoken).collect();
    if unknown {
        said.push(if said.is_empty() { "some" } else { "some more" }.to_owned());
    }
    said.join(" and ")
}

/// A name with which of the thing is meant, if that was said: "milk, opened", "tuna, garage".
pub(super) fn chosen(name: &str, of: &Choice) -> String {
    let mut said = name.to_owned();
    if of.opened {
        said.push_str(", opened");
    }
    if of.passed_by.is_some() {
        said.push_str(", what has passed");
    }
    if let Some(place) = &of.place {
        said.push_str(&format!(", {place}"));
    }
    said
}

/// "2 bags of oats", "3 lemons", "1 lemon".
pub(super) fn much_of(quantity: &Quantity, item: &ItemName) -> String {
    if *quantity == Quantity::of(1) {
        return quantity.spoken_of(&one_of(item.as_str()));
    }
    quantity.spoken_of(item.as_str())
}

pub(super) fn things(count: usize) -> String {
    if count == 1 {
        "1 thing".to_owned()
    } else {
        format!("{count} things")
    }
}

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|c| c.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
