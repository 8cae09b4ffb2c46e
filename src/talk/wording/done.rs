//! What was done.

use chrono::NaiveDate;

use super::{
    CAUTION, amounts, capital, chosen, located, lot_facts, lots_said, much_of, note_said, passed,
    sounds_said, tag_facts, undone,
};
use super::{facts, guide, round};
use crate::measure::{DateKind, Quantity, say_date};
use crate::stock::{Change, ItemName, Lot, Outcome, Place, Refrozen, TagNumber};

/// What an event did.
pub(in crate::talk) fn outcome(outcome: &Outcome, today: NaiveDate) -> String {
    match outcome {
        Outcome::CameIn {
            lot,
            freed,
            off_list,
            still,
        } => {
            let follows = came_in(lot, *freed, *off_list, today);
            let still = still_to_get(still.as_ref());
            format!("{}.{still}{follows}", lot_facts(lot, today))
        }
        Outcome::Used { item, from, left } => {
            let name = capital(item.as_str());
            let all: Vec<&Lot> = left.iter().collect();
            let much = amounts(&all);
            // Of several, it is told where the rest is, unless all stood together.
            match from.as_slice() {
                [from] => format!("{name}: {much} left.{}", taken_from(from, left, today)),
                from if are_together(from.iter().chain(left)) => format!("{name}: {much} left."),
                _ => format!("{name} left: {}.", lots_said(left)),
            }
        }
        Outcome::SomeGone { item, of, left } => {
            let name = capital(&chosen(item.as_str(), of));
            let left: Vec<&Lot> = left.iter().collect();
            let unlike = match of.opened && left.iter().all(|lot| !lot.is_opened()) {
                true => " unopened",
                false => " left",
            };
            format!("{name}: used up. {}{unlike}.", capital(&amounts(&left)))
        }
        Outcome::Changed { how, changed, .. } => changed_said(*how, changed, today),
        Outcome::Gone {
            item,
            lots,
            was_listed,
        } => {
            if lots.is_empty() {
                return none_was_noted(item, *was_listed);
            }
            let name = capital(item.as_str());
            let (lots, listed) = (lots_said(lots), on_list_now(item, *was_listed));
            format!("{name} used up. Off the shelf: {lots}.{listed}")
        }
        Outcome::Listed {
            item,
            quantity,
            before,
        } => match (quantity, before) {
            (None, _) => format!("{} on the list.", capital(item.as_str())),
            (Some(quantity), Some(before)) if before != quantity => {
                let (quantity, before) = (much_of(quantity, item), before.spoken());
                format!("On the list: {quantity} instead of {before}.")
            }
            (Some(quantity), _) => format!("On the list: {}.", much_of(quantity, item)),
        },
        Outcome::OffList { item, .. } => format!("{} off the list.", capital(item.as_str())),
        Outcome::KeepSet { item, level } if level.is_zero() => {
            format!("{}: no longer kept.", capital(item.as_str()))
        }
        Outcome::KeepSet { item, level } => {
            format!("{}: keep {}.", capital(item.as_str()), level.spoken())
        }
        Outcome::Tagged {
            tag,
            off_list,
            still,
        } => format!(
            "Tag {}: {}.{}{}{}",
            tag.number,
            tag_facts(tag, today),
            if *off_list { " Off the list." } else { "" },
            still_to_get(still.as_ref()),
            passed(&tag.dates, today)
        ),
        Outcome::Described { item, fact } => facts::described(item, fact),
        Outcome::Coded { item } => format!("The code means {item}."),
        Outcome::TagCoded(tag) => format!("The code means tag {tag}."),
        Outcome::KitchenTagged { tag, lot, facts } => {
            facts::kitchen_tag(*tag, lot, facts, today) + due_passed(lot, today)
        }
        Outcome::Reminded { item, tag } => format!("Tag {tag}: reminder for {item}."),
        Outcome::TagsTaken { tags, is_cut } => {
            let taken = match tags.as_slice() {
                [one] => format!("Tag {one} taken along."),
                several => format!("{} tags taken along.", several.len()),
            };
            match tags.last().filter(|_| *is_cut) {
                Some(last) => format!("{taken} Up to tag {last}; for more, say the next ones."),
                None => taken,
            }
        }
        Outcome::TagLost {
            tag,
            was_on: Some(item),
        } => format!("Tag {tag}: lost. Still noted: {item}."),
        Outcome::TagLost { tag, was_on: None } => format!("Tag {tag}: lost."),
        Outcome::TagFound(tag) => format!("Tag {tag}: free."),
        Outcome::TagSpent { .. } => round::spent(outcome).0,
        Outcome::SectionPlaced {
            section,
            comes,
            cold_is_early_now,
        } => round::section_placed(section, comes, *cold_is_early_now),
        Outcome::StoreForgotten => round::STORE_FORGOTTEN.to_owned(),
        Outcome::TripBegun {
            lines,
            running_out,
            worn,
        } => round::trip_begun(*lines, *running_out, worn.len()),
        Outcome::CameHome {
            waiting,
            still_listed,
            worn,
        } => round::came_home(*waiting, *still_listed, worn),
        Outcome::Got {
            item,
            quantity,
            instead_of,
            was_listed,
            still,
            left,
            ..
        } => round::got(
            item,
            quantity.as_ref(),
            instead_of.as_ref(),
            *was_listed,
            still.as_ref(),
            *left,
        ),
        Outcome::NoneThere { item, left } => {
            format!("{} {}", round::none_there(item), round::to_find(*left))
        }
        Outcome::Marked { item, mark } => facts::marked(item, *mark),
        Outcome::Unmarked { item } => format!("{}: mark off.", capital(item.as_str())),
        Outcome::LotTold { lot } => format!("{}.", lot_facts(lot, today)) + &guided(lot, today),
        Outcome::Counted { lot, was: None } => format!("{}.", lot_facts(lot, today)),
        Outcome::Counted {
            lot,
            was: Some(was),
        } => format!("{}; it was {}.", lot_facts(lot, today), was.spoken()),
        Outcome::Located { lots } => located(lots),
        Outcome::MadeSure { item } => format!("{}: known for sure.", capital(item.as_str())),
        Outcome::PutBack { item, lots } => facts::put_back(item, lots),
        Outcome::Forgotten { item, forms } => {
            format!("Forgotten for {item}: {}.", names_said(forms))
        }
        Outcome::Renamed { item, name } => format!("{}, no longer {item}.", capital(name.as_str())),
        Outcome::SoundsAllowed { keep: true, .. } => {
            "From now on I keep how you say a new name. Ask: how did I say it.".to_owned()
        }
        Outcome::SoundsAllowed {
            keep: false,
            kept: 0,
        } => "No sounds are kept.".to_owned(),
        Outcome::SoundsAllowed { keep: false, kept } => format!(
            "No more sounds are kept. {} still: to lose them, say forget how I said the names.",
            capital(&sounds_said(*kept))
        ),
        Outcome::Undone(event) => format!("Undone: {}.", undone(event)),
    }
}

/// The same of a thing put away, of which all but the place was said as it was taken in hand.
pub(in crate::talk) fn placed(result: &Outcome, today: NaiveDate) -> String {
    match result {
        Outcome::CameIn {
            lot: lot @ Lot {
                place: Some(place), ..
            },
            freed,
            off_list,
            ..
        } => {
            let follows = came_in(lot, *freed, *off_list, today);
            format!("{}: {place}.{follows}", capital(lot.item.as_str()))
        }
        other => outcome(other, today),
    }
}

/// Whether lots are in one place.
fn are_together<'l>(mut lots: impl Iterator<Item = &'l Lot>) -> bool {
    let first = lots.next().map(|lot| &lot.place);
    lots.all(|lot| Some(&lot.place) == first)
}

/// What is still on the list of something of which less was bought.
fn still_to_get(still: Option<&Quantity>) -> String {
    let still = still.map(|still| format!(" {} still to get.", capital(&still.spoken())));
    still.unwrap_or_default()
}

fn on_list_now(item: &ItemName, was_listed: bool) -> &'static str {
    match was_listed {
        _ if crate::guide::is_leftover(item.as_str()) => "",
        true => " Still on the list.",
        false => " On the list.",
    }
}

/// Something is used up of which there was none as far as is known.
fn none_was_noted(item: &ItemName, was_listed: bool) -> String {
    let listed = on_list_now(item, was_listed);
    format!("{}: none was noted.{listed}", capital(item.as_str()))
}

/// What follows from a lot that came in, behind its facts.
pub(super) fn came_in(
    lot: &Lot,
    freed: Option<TagNumber>,
    off_list: bool,
    today: NaiveDate,
) -> String {
    let mut follows = String::new();
    // Where there is a caution, that is what is to be heard.
    if let Some(number) = freed.filter(|_| due_passed(lot, today).is_empty()) {
        follows.push_str(&format!(" Tag {number} is free."));
    }
    if off_list {
        follows.push_str(" Off the list.");
    }
    follows + &guided(lot, today)
}

/// Behind the facts of a lot: what is published of it, and the caution where a day has passed.
pub(super) fn guided(lot: &Lot, today: NaiveDate) -> String {
    // Its own dates are among the facts already.
    let guidance = match lot.guide {
        Some(_) => guide::guidance(lot, today),
        None => String::new(),
    };
    let discard = guide::discard_if_past(&lot.item, lot.dates.get(DateKind::UseBy), today);
    match discard.is_empty() {
        true => guidance + due_passed(lot, today),
        false => guidance + &discard,
    }
}

/// The caution, where the day has passed by which something should be done with a lot.
pub(in crate::talk) fn due_passed(lot: &Lot, today: NaiveDate) -> &'static str {
    match lot.passed(today) {
        Some(_) => CAUTION,
        None => "",
    }
}

/// Which of several was taken, by what tells it from the others; nothing where there is nothing to be told.
pub(super) fn taken_from(from: &Lot, left: &[Lot], today: NaiveDate) -> String {
    let others: Vec<&Lot> = left.iter().filter(|lot| lot.id != from.id).collect();
    if others.is_empty() {
        return String::new();
    }
    let mut facts = Vec::new();
    let state = |lot: &Lot| (lot.is_opened(), lot.is_thawed(), lot.is_frozen());
    if others.iter().any(|lot| state(lot) != state(from)) {
        facts.extend(state_said(from).map(str::to_owned));
    }
    let first = Lot::first_due;
    if facts.is_empty() && others.iter().any(|lot| first(lot) != first(from)) {
        let ahead = from.dates.iter().find(|note| {
            note.kind.is_some_and(DateKind::looks_ahead) && Some(note.date) == first(from)
        });
        facts.extend(ahead.map(|note| match from.is_frozen() {
            true => note.spoken(today),
            false => note_said(note, today),
        }));
        // What tells it then is the day on which its clock began.
        let begun = |kind: &DateKind| matches!(kind, DateKind::Opened | DateKind::Thawed);
        let begun = from
            .dates
            .iter()
            .filter(|note| note.kind.as_ref().is_some_and(begun));
        if ahead.is_none() && from.guide.is_some() {
            facts.extend(begun.map(|note| note_said(note, today)));
        }
    }
    if others.iter().any(|lot| lot.mark != from.mark) {
        facts.extend(from.mark.map(|mark| mark.spoken()));
    }
    if others.iter().any(|lot| lot.place != from.place) {
        facts.extend(from.place.iter().map(Place::to_string));
    }
    if facts.is_empty() {
        return String::new();
    }
    format!(" Taken from: {}.", facts.join(", "))
}

pub(super) fn state_said(lot: &Lot) -> Option<&'static str> {
    if lot.is_frozen() {
        Some("frozen")
    } else if lot.is_opened() {
        Some("opened")
    } else {
        lot.is_thawed().then_some("thawed")
    }
}

/// "Milk: 1 carton opened, fridge."
pub(super) fn changed_said(how: Change, changed: &[Lot], today: NaiveDate) -> String {
    let name = changed.first().map_or("", |lot| lot.item.as_str());
    let lots: Vec<&Lot> = changed.iter().collect();
    let word = match how {
        Change::Opened => "opened",
        Change::Frozen => "frozen",
        Change::Thawed => "thawed",
        Change::Moved => "moved",
    };
    let mut facts = vec![format!("{} {word}", amounts(&lots))];
    let day = match how {
        Change::Opened => DateKind::Opened,
        Change::Frozen => DateKind::Frozen,
        Change::Thawed => DateKind::Thawed,
        Change::Moved => DateKind::Bought,
    };
    let on = changed.first().and_then(|lot| lot.dates.get(day));
    if how != Change::Moved {
        facts.extend(on.filter(|on| *on != today).map(|on| say_date(on, today)));
    }
    let place = changed.first().and_then(|lot| lot.place.as_ref());
    // That it is in the freezer goes without saying.
    let place = place.filter(|place| how != Change::Frozen || place.as_str() != "freezer");
    facts.extend(place.map(Place::to_string));
    let mut reply = format!("{}: {}.", capital(name), facts.join(", "));
    let before = changed.iter().filter_map(|lot| lot.refrozen);
    let before = before.max_by_key(|before| before.thawed);
    let before = before.filter(|_| how != Change::Opened);
    let before = before.and_then(thawed_before);
    if let Some(before) = &before {
        reply.push_str(&format!(" {}.", capital(before)));
        // What is left of its time is over: that is what is to be heard.
        let over = changed
            .iter()
            .any(|lot| lot.guide.is_some_and(|day| day < today));
        if over && how != Change::Frozen {
            return reply + " Its time has passed." + CAUTION;
        }
    }
    if changed.iter().any(|lot| lot.place.is_none()) && how == Change::Thawed && before.is_none() {
        reply.push_str(" No place known.");
    }
    if let Some(lot) = changed.first()
        && begins_a_clock(how, lot, today)
    {
        let discard = guide::discard_if_past(&lot.item, lot.dates.get(DateKind::UseBy), today);
        if !discard.is_empty() {
            return reply + &discard;
        }
        let guidance = guide::guidance(lot, today);
        if guidance.is_empty() && guide::is_for_babies(&lot.item) {
            reply.push_str(guide::ONCE_OPENED_BY_LABEL);
        }
        reply.push_str(&guidance);
        if lot.guide.is_some_and(|day| day < today) {
            reply.push_str(CAUTION);
        }
    }
    reply
}

/// What is to be heard of where something is now: what spoils doesn't stay out long. Behind what was left of a meal, that
/// its day is missing.
pub(in crate::talk) fn behind_its_place(outcome: &Outcome) -> &'static str {
    let lot = match outcome {
        Outcome::CameIn { lot, .. } => Some(lot),
        Outcome::Changed {
            changed,
            how: Change::Moved,
            ..
        } => changed.first(),
        Outcome::Located { lots } => lots.first(),
        _ => None,
    };
    let Some(lot) = lot else {
        return "";
    };
    let is_out = lot
        .place
        .as_ref()
        .is_some_and(|place| place.as_str() == "counter");
    if is_out && guide::is_perishable(&lot.item) {
        return guide::NOT_LONG_OUT;
    }
    let is_new = matches!(outcome, Outcome::CameIn { .. }) && !lot.is_frozen();
    if is_new
        && lot.dates.get(DateKind::Packed).is_none()
        && crate::guide::is_leftover(lot.item.as_str())
    {
        return guide::SAY_WHEN_COOKED;
    }
    ""
}

/// For how long something was thawed before it was frozen again. What went back on the same day needn't be told.
pub(super) fn thawed_before(before: Refrozen) -> Option<String> {
    match before.thawed {
        0 => None,
        1 => Some("thawed before: 1 day".to_owned()),
        days => Some(format!("thawed before: {days} days")),
    }
}

/// Whether a change began the time that is published for a lot. What is moved out of the freezer thaws.
pub(super) fn begins_a_clock(how: Change, lot: &Lot, today: NaiveDate) -> bool {
    match how {
        Change::Opened | Change::Thawed => true,
        Change::Moved => lot.dates.get(DateKind::Thawed) == Some(today),
        Change::Frozen => false,
    }
}

/// What else may be good to know behind what was done: who wants brief replies goes without. So nothing is in it that
/// keeps from harm, asks, or tells which of several things was meant.
pub(in crate::talk) fn tail(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Changed { how, others, .. } if !others.is_empty() => {
            let all_unopened = others.iter().all(|lot| !lot.is_opened());
            let unlike = match how {
                Change::Opened if all_unopened => " unopened",
                _ => "",
            };
            let others: Vec<&Lot> = others.iter().collect();
            format!(" Besides, {}{unlike}.", amounts(&others))
        }
        Outcome::OffList { left, .. } => format!(" {}", lines_left(*left)),
        Outcome::TripBegun { lines: 1.., .. } => " Say next for each.".to_owned(),
        Outcome::CameHome { waiting: 1.., .. } => " Say: put things away.".to_owned(),
        _ => String::new(),
    }
}

/// The same event as taking off the list, said as what it is at the store.
pub(in crate::talk) fn got(result: &Outcome, today: NaiveDate) -> String {
    match result {
        Outcome::OffList { item, .. } => format!("Got {item}. Off the list."),
        Outcome::Listed {
            item,
            quantity: Some(still),
            ..
        } => round::got_in_part(item, None, still),
        other => outcome(other, today),
    }
}

/// "Got tomatoes", and there is no such line, nor a trip on.
pub(in crate::talk) fn got_unlisted(item: &ItemName) -> String {
    format!("Not on the list: {item}. To note it, say: add {item}.")
}

/// Behind what came in, where it can't be compared with the keep level.
pub(in crate::talk) fn keeps_otherwise(level: &Quantity) -> String {
    format!(" You keep {}: I can't compare that.", level.spoken())
}

/// Behind an undo of what was used up and was gone before as well: it isn't back by that.
pub(in crate::talk) const STILL_NONE: &str = " Still none is noted.";

/// Behind a keep level that what there is can't be compared with.
pub(in crate::talk) fn cant_compare(have: &[Lot]) -> String {
    let have: Vec<&Lot> = have.iter().collect();
    format!(" You have {}: I can't compare that.", amounts(&have))
}

pub(super) fn names_said(names: &[ItemName]) -> String {
    let names: Vec<&str> = names.iter().map(ItemName::as_str).collect();
    names.join(", ")
}

pub(super) fn lines_left(left: usize) -> String {
    match left {
        0 => "The list is empty.".to_owned(),
        n => format!("{n} more on it."),
    }
}

/// What was used up is back where it was.
pub(in crate::talk) fn back_there(item: &ItemName, lots: &[&Lot], place: &Place) -> String {
    let name = capital(item.as_str());
    format!("{name} back: {}, {place}.", super::amounts(lots))
}
