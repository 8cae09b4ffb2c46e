//! The words for what is published of storage: always as guidance, behind the label, and never that something is safe.

use chrono::NaiveDate;

use super::{capital, note_said};
use crate::guide::{self, Food, Kept, Published, StorageTime};
use crate::measure::{DateKind, DateNote, say_date, say_distance};
use crate::stock::{Due, Expiring, ItemName, Lot, clock};

/// Nothing is published of a food, or not of how it is kept.
pub(in crate::talk) const NO_TIME: &str = "No published time that I know; go by the label.";

/// Behind what was opened or thawed: the published time that runs now, or the use-by date where that comes first.
pub(in crate::talk) fn guidance(lot: &Lot, today: NaiveDate) -> String {
    let Some(clock) = clock(lot) else {
        return String::new();
    };
    let Published { kept, .. } = clock.published;
    match (lot.guide, lot.dates.get(DateKind::UseBy)) {
        (Some(day), _) => format!(
            " Published guidance: {}, till {}{}.",
            kept.place().trim_start_matches("in the "),
            till(day, today),
            label_first(&lot.item)
        ),
        (None, Some(date)) => {
            let kind = Some(DateKind::UseBy);
            let said = note_said(DateNote { kind, date }, today);
            format!(" {}.", capital(&said))
        }
        (None, None) => String::new(),
    }
}

/// Behind a published time. What was left of a meal has no label.
fn label_first(item: &ItemName) -> &'static str {
    match guide::is_leftover(item.as_str()) {
        true => "",
        false => "; the label goes first",
    }
}

/// The day by which a published time ends, beside the dates of a thing, with how far away it is.
pub(in crate::talk) fn guided_till(day: NaiveDate, today: NaiveDate) -> String {
    let said = format!("published guidance till {}", till(day, today));
    match say_distance(day, today) {
        Some(distance) => format!("{said}, {distance}"),
        None => said,
    }
}

fn till(day: NaiveDate, today: NaiveDate) -> String {
    let passed = if day < today { ", passed" } else { "" };
    format!("{}{passed}", say_date(day, today))
}

/// By what a thing is to be used.
pub(in crate::talk) fn due_said(due: Due, today: NaiveDate) -> String {
    match due {
        Due::Date(kind, date) => {
            let kind = Some(kind);
            note_said(DateNote { kind, date }, today)
        }
        Due::Guide(day) => format!("published guidance till {}", till(day, today)),
    }
}

/// Behind what is told of dates, where something is past a use-by date that the law takes for the end of it.
pub(in crate::talk) fn to_discard(found: &[Expiring], today: NaiveDate) -> String {
    let found = found.iter().filter(|one| is_to_discard(one, today));
    let mut names: Vec<&ItemName> = found.map(|one| &one.item).collect();
    names.sort();
    names.dedup();
    let said = names.iter().map(|name| discard(name));
    said.collect()
}

/// Whether a thing is past such a date: then there is no doubt any more, and no label to be checked.
pub(in crate::talk) fn is_to_discard(one: &Expiring, today: NaiveDate) -> bool {
    matches!(one.due, Due::Date(DateKind::UseBy, day) if day < today) && is_discarded(&one.item)
}

/// The same of one item, where one of these use-by dates has passed.
pub(in crate::talk) fn discard_if_past(
    item: &ItemName,
    use_by: impl IntoIterator<Item = NaiveDate>,
    today: NaiveDate,
) -> String {
    if is_discarded(item) && use_by.into_iter().any(|day| day < today) {
        return discard(item);
    }
    String::new()
}

/// Behind what is for babies and was opened, where no time is published for it then.
pub(in crate::talk) const ONCE_OPENED_BY_LABEL: &str =
    " How long it keeps opened: only the label says.";

/// Whether it is one of the foods for babies.
pub(in crate::talk) fn is_for_babies(item: &ItemName) -> bool {
    is_discarded(item)
}

fn is_discarded(item: &ItemName) -> bool {
    guide::find(item.as_str()).is_some_and(Food::is_discarded_past_use_by)
}

fn discard(item: &ItemName) -> String {
    format!(" Past its use-by date, discard the {item}.")
}

/// How long a food keeps in these ways, with who says so.
pub(in crate::talk) fn keeps(item: &ItemName, ways: &[Kept]) -> String {
    let food = guide::find(item.as_str());
    let times = food.map(|food| ways.iter().filter_map(|kept| food.time(*kept)));
    let times: Vec<Published> = times.into_iter().flatten().collect();
    if times.is_empty() {
        return NO_TIME.to_owned();
    }
    let mut sources: Vec<String> = Vec::new();
    for published in &times {
        let source = published.source.to_string();
        if !sources.contains(&source) {
            sources.push(source);
        }
    }
    let said: Vec<String> = times.iter().map(time_said).collect();
    let mut reply = format!(
        "{}: {}. {}{}.",
        capital(item.as_str()),
        said.join("; "),
        capital(&sources.join(" and ")),
        label_first(item)
    );
    if is_discarded(item) {
        reply.push_str(&discard(item));
    }
    reply
}

fn time_said(published: &Published) -> String {
    let (time, place) = (published.time, published.kept.place());
    let state = match published.kept {
        Kept::PantryOpened | Kept::FridgeOpened => "opened, ",
        Kept::FridgeThawed => "thawed, ",
        _ => "",
    };
    match time {
        // Source: cold storage chart, "freezer times are for quality only".
        StorageTime::For(_) if published.kept == Kept::Freezer => {
            format!("{time} {place}, for quality")
        }
        StorageTime::For(_) | StorageTime::NotRecommended => format!("{state}{time} {place}"),
        _ => format!("{state}{place} {time}"),
    }
}

/// Behind what was left of a meal, where nobody said when it was cooked: without that, no time can be told.
pub(in crate::talk) const SAY_WHEN_COOKED: &str = " Say the day it was cooked.";

/// What was left out of the fridge. Sources: FSIS, "Danger Zone": no more than two hours, and one where it is above 90 °F.
pub(in crate::talk) fn left_out(item: &ItemName) -> String {
    let what = match is_perishable(item) {
        true => item.as_str(),
        false => "what belongs in the fridge",
    };
    format!(
        "{}: two hours out of the fridge at most, one in heat. Longer: throw it out.",
        capital(what)
    )
}

/// Behind what came to the counter.
pub(in crate::talk) const NOT_LONG_OUT: &str = " Two hours out of the fridge at most, one in heat.";

/// Whether a food is one of those for which no time outside the fridge or the freezer is published.
pub(in crate::talk) fn is_perishable(item: &ItemName) -> bool {
    let outside = [Kept::Pantry, Kept::PantryOpened, Kept::Room];
    guide::find(item.as_str()).is_some_and(|food| {
        let times: Vec<Published> = food.published().collect();
        !times.is_empty() && times.iter().all(|time| !outside.contains(&time.kept))
    })
}

/// What is cooked to how many degrees. Source: FSIS, safe minimum internal temperatures.
const COOKED_TO: [(&[&str], u16); 3] = [
    (
        &[
            "poultry parts",
            "whole poultry",
            "ground poultry",
            "stuffed chicken",
        ],
        165,
    ),
    (&["ground meat", "raw sausage", "eggs"], 160),
    (&["steak", "chops", "roast of meat", "seafood"], 145),
];

/// The reply to who asks whether it can be eaten raw.
pub(in crate::talk) fn raw(item: &ItemName) -> String {
    let food = guide::find(item.as_str()).map(Food::name);
    let cooked = COOKED_TO
        .iter()
        .find(|(foods, _)| food.is_some_and(|food| foods.contains(&food)));
    let name = item.as_str().trim_start_matches("raw ");
    match cooked {
        Some((_, degrees)) => {
            format!("Cook it first: {name} to {degrees} degrees Fahrenheit, says FSIS.")
        }
        None => format!("I can't say if {name} is good raw. Have the label read."),
    }
}
