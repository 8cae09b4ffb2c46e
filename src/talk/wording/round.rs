//! The words of the round: spent tags, the walk along the list, and putting away.

use chrono::NaiveDate;

use super::{amounts, capital, is_plural, much_of, note_said, on, things};
use crate::measure::{Quantity, say_date};
use crate::stock::{
    Coded, Comes, ItemName, LastTrip, ListLine, Lot, Outcome, OwnWords, Place, Section, StoreOrder,
    TagNumber, Waiting,
};
use crate::talk::reading::{AT_ONCE, Listing};

pub(in crate::talk) const READ_SPENT: &str = "Read the first spent tag.";
pub(in crate::talk) const NOT_AT_THE_STORE: &str = "No trip is on. Say: I'm going shopping.";
pub(in crate::talk) const NO_LINE_READ: &str = "Which one? Say next, or got and its name.";
pub(in crate::talk) const READ_NEXT_SPENT: &str = "Read the next spent tag, or say done.";
pub(in crate::talk) const ASK_WHETHER_TO_END_TRIP: &str =
    "Nothing is ticked off. Undo going shopping? Yes or no.";
pub(in crate::talk) const NOTHING_IN_HAND: &str = "Nothing is in hand. Say: put things away.";
pub(in crate::talk) const NOTHING_PLACED: &str =
    "Nothing was just put away. Say: kitchen tag, its number, on, and the name.";
pub(in crate::talk) const SKIPPED: &str = "Left for later.";
pub(in crate::talk) const BEHIND_THE_OLD: &str = " Put it behind the old.";
pub(in crate::talk) const NOT_YET_KNOWN: &str = "Kept as not yet known. Where does it go?";
pub(in crate::talk) const NOTHING_TO_END: &str = "All right.";
pub(in crate::talk) const NO_CODE: &str = "No code was read.";
pub(in crate::talk) const UNKNOWN_CODE: &str =
    "I don't know this code. Say: this is, and its name; or: this is tag, and its number.";
pub(in crate::talk) const MISREAD_CODE: &str = "That code was misread. Scan it again.";
pub(in crate::talk) const STORE_CODE: &str =
    "That number is the store's own: it names nothing at home. Use the name instead.";

/// Two sentences, of which the first may be missing.
pub(in crate::talk) fn joined(before: &str, after: &str) -> String {
    format!("{before} {after}").trim().to_owned()
}

/// A spent tag in a word or two, and its item.
pub(in crate::talk) fn spent(outcome: &Outcome) -> (String, Option<ItemName>) {
    let (item, left, was_listed) = match outcome {
        Outcome::TagSpent {
            item,
            left,
            was_listed,
            ..
        } => (item, &left[..], *was_listed),
        Outcome::Gone {
            item, was_listed, ..
        } => (item, &[][..], *was_listed),
        _ => return (String::new(), None),
    };
    let mut reply = format!("{}.", capital(item.as_str()));
    if !left.is_empty() {
        let left: Vec<&Lot> = left.iter().collect();
        reply.push_str(&format!(" {} left.", capital(&amounts(&left))));
    }
    if was_listed {
        reply.push_str(" Already listed.");
    }
    (reply, Some(item.clone()))
}

/// The same outside the walk: nobody expects it there in a word.
pub(in crate::talk) fn spent_by_tag(outcome: &Outcome) -> String {
    let Outcome::TagSpent {
        tag,
        item,
        left,
        was_listed,
    } = outcome
    else {
        return String::new();
    };
    let listed = match was_listed {
        true => "Still on the list.",
        false => "On the list.",
    };
    let left: Vec<&Lot> = left.iter().collect();
    let left = match left.is_empty() {
        true => String::new(),
        false => format!(" {} left.", capital(&amounts(&left))),
    };
    format!(
        "{} used up. {listed} Tag {tag} is free.{left}",
        capital(item.as_str())
    )
}

/// What was read right before.
pub(in crate::talk) fn read_already(item: &ItemName) -> String {
    format!("{}: read already.", capital(item.as_str()))
}

/// Whether a thing is gone of which the tag is said to be free.
pub(in crate::talk) fn ask_whether_gone(tag: TagNumber, item: &ItemName) -> String {
    format!("Tag {tag} is on {item}, to be put away. Is that gone? Yes or no.")
}

pub(in crate::talk) fn spent_done(read: &[ItemName], on_list: usize) -> String {
    let count = match read.len() {
        0 => return "No spent tag was read.".to_owned(),
        1 => "1 tag read".to_owned(),
        several => format!("{several} tags read"),
    };
    let names: Vec<&str> = read.iter().map(ItemName::as_str).collect();
    // Each was said as it was read.
    let names = match names.len() <= AT_ONCE {
        true => format!(": {}", names.join(", ")),
        false => String::new(),
    };
    format!("{count}{names}. {} on the list.", capital(&things(on_list)))
}

/// A line of the list, as it is looked for at the store.
pub(in crate::talk) fn line(line: &ListLine) -> String {
    let mut facts = vec![match &line.quantity {
        Some(quantity) => much_of(quantity, &line.item),
        None => line.item.to_string(),
    }];
    facts.extend(line.section.as_ref().map(Section::to_string));
    facts.extend(line.make.as_ref().map(OwnWords::to_string));
    let note = line
        .note
        .as_ref()
        .map(|note| format!(" For the helper: {note}."));
    format!(
        "{}.{}",
        capital(&facts.join(", ")),
        note.unwrap_or_default()
    )
}

/// There is none before it.
pub(in crate::talk) fn first_line(first: &ListLine) -> String {
    format!("That's the start. {}", line(first))
}

pub(in crate::talk) fn reminder(item: &ItemName) -> String {
    format!("You're wearing one more reminder: {item}.")
}

pub(in crate::talk) fn end_of_list(left: usize) -> String {
    match left {
        0 => "That was all of it.".to_owned(),
        left => format!(
            "End of the list. {} left; say next to begin again.",
            capital(&things(left))
        ),
    }
}

/// What was done with the line that was just read.
pub(in crate::talk) fn in_short(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Got {
            item,
            instead_of: Some(of),
            ..
        } => format!("{} instead of {of}.", capital(item.as_str())),
        Outcome::Got {
            item,
            quantity,
            still: Some(still),
            ..
        } => got_in_part(item, quantity.as_ref(), still),
        Outcome::Got { item, .. } => format!("Got {item}."),
        Outcome::OffList { item, .. } => format!("Got {item}."),
        Outcome::NoneThere { item, .. } => none_there(item),
        _ => String::new(),
    }
}

/// The store has none of it.
pub(in crate::talk) fn none_there(item: &ItemName) -> String {
    match is_plural(item) {
        true => format!("No {item}; they stay on the list."),
        false => format!("No {item}; it stays on the list."),
    }
}

/// What was bought in part.
pub(in crate::talk) fn got_in_part(
    item: &ItemName,
    quantity: Option<&Quantity>,
    still: &Quantity,
) -> String {
    let got = match quantity {
        Some(quantity) => much_of(quantity, item),
        None => format!("some {item}"),
    };
    format!("Got {got}. {} still to get.", capital(&still.spoken()))
}

/// What was taken on a trip, where the line wasn't the one read last.
pub(in crate::talk) fn got(
    item: &ItemName,
    quantity: Option<&Quantity>,
    instead_of: Option<&ItemName>,
    was_listed: bool,
    still: Option<&Quantity>,
    left: usize,
) -> String {
    if let Some(still) = still {
        return got_in_part(item, quantity, still);
    }
    let what = match (instead_of, was_listed) {
        (Some(of), _) => format!("{} instead of {of}.", capital(item.as_str())),
        (None, true) => format!("Got {item}."),
        (None, false) => format!("Got {item}. It wasn't on the list."),
    };
    format!("{what} {}", to_find(left))
}

/// What was taken once more: so much of it is in the cart.
pub(in crate::talk) fn got_more(item: &ItemName, all: &Quantity, left: usize) -> String {
    format!("In the cart: {}. {}", much_of(all, item), to_find(left))
}

/// What was taken before, and how to say that there is more of it.
pub(in crate::talk) fn got_already(item: &ItemName, all: Option<&Quantity>) -> String {
    let all = match all {
        Some(all) => much_of(all, item),
        None => item.to_string(),
    };
    format!("In the cart already: {all}. For more, say got, and how many.")
}

/// Nothing is left to be found, and some of the list isn't there.
pub(in crate::talk) fn nothing_to_find(missing: &[ListLine]) -> Listing {
    let names = missing.iter().map(|line| line.item.to_string());
    Listing::new(
        "Nothing more to find here. Not there".to_owned(),
        names.collect(),
    )
}

/// The store has none of what a reminder is worn for.
pub(in crate::talk) fn reminder_stays(item: &ItemName) -> String {
    format!("No {item}. The reminder stays.")
}

pub(in crate::talk) fn done_at_store(left: usize) -> String {
    match left {
        0 => "That was all of it. At home, say: I'm home.".to_owned(),
        left => format!(
            "{} still to find. Say next; or at home: I'm home.",
            capital(&things(left))
        ),
    }
}

/// What was bought on the last trip.
pub(in crate::talk) fn bought_last(trip: Option<&LastTrip>, today: NaiveDate) -> Listing {
    let Some((began, bought)) = trip else {
        return Listing::none("No trip is over yet.");
    };
    let day = say_date(began.date(), today);
    let said = bought.iter().map(|(item, quantity)| match quantity {
        Some(quantity) => much_of(quantity, item),
        None => item.to_string(),
    });
    match bought.len() {
        0 => Listing::none(&format!("{}: nothing was noted.", capital(&day))),
        several => Listing::new(format!("{} {}", things(several), on(&day)), said.collect()),
    }
}

pub(in crate::talk) fn to_find(left: usize) -> String {
    match left {
        0 => "That was all of it.".to_owned(),
        left => format!("{left} more to find."),
    }
}

pub(in crate::talk) fn trip_begun(lines: usize, running_out: usize, worn: usize) -> String {
    let worn = match worn {
        0 => String::new(),
        1 => " You wear 1 reminder.".to_owned(),
        several => format!(" You wear {several} reminders."),
    };
    let soon = match running_out {
        0 => String::new(),
        all if all == lines => ", likely to run out soon".to_owned(),
        some => format!(", {some} of them likely to run out soon"),
    };
    match lines {
        0 => format!("The list is empty.{worn}"),
        lines => format!("{} on the list{soon}.{worn}", capital(&things(lines))),
    }
}

/// Said once, when the person's order comes to be otherwise. Source: FSIS's advice to pick up refrigerated and frozen
/// food last.
const COLD_LAST: &str = " Cold food is best picked up last; that is yours to decide.";

/// Where a section comes in the person's store.
pub(in crate::talk) fn section_placed(
    section: &Section,
    comes: &Comes,
    cold_is_early_now: bool,
) -> String {
    let comes = match comes {
        Comes::First => "first".to_owned(),
        Comes::Last => "last".to_owned(),
        Comes::Before(other) => format!("before {other}"),
        Comes::After(other) => format!("after {other}"),
    };
    let advice = if cold_is_early_now { COLD_LAST } else { "" };
    format!(
        "{} {comes} in your store.{advice}",
        capital(section.as_str())
    )
}

pub(in crate::talk) const STORE_FORGOTTEN: &str = "The order of the store is the usual one again.";

pub(in crate::talk) fn store_order(order: &StoreOrder) -> Listing {
    let sections = order.sections().iter().map(Section::to_string);
    let whose = if order.is_own() {
        "in your order"
    } else {
        "in the usual order"
    };
    let sections: Vec<String> = sections.collect();
    Listing::new(format!("{} sections {whose}", sections.len()), sections)
}

/// What the person wears a reminder for, and hasn't bought.
pub(in crate::talk) fn still_worn(worn: &[(TagNumber, ItemName)]) -> String {
    match worn {
        [] => String::new(),
        worn => {
            let names: Vec<&str> = worn.iter().map(|(_, item)| item.as_str()).collect();
            format!(" Reminder: {}.", names.join(", "))
        }
    }
}

pub(in crate::talk) fn came_home(
    waiting: usize,
    still_listed: usize,
    worn: &[(TagNumber, ItemName)],
) -> String {
    let listed = match still_listed {
        0 => String::new(),
        still => format!(" {still} still on the list."),
    };
    let listed = listed + &still_worn(worn);
    match waiting {
        0 => format!("Welcome back. Nothing is to be put away.{listed}"),
        waiting => format!("{} to put away.{listed}", capital(&things(waiting))),
    }
}

pub(in crate::talk) const NOTHING_TO_PUT_AWAY: &str = "Nothing is to be put away.";

pub(in crate::talk) fn to_put_away(waiting: usize) -> String {
    format!("{}.", capital(&things(waiting)))
}

/// What is taken in hand, by what it is found by: its tag or its mark.
pub(in crate::talk) fn in_hand(thing: &Waiting, usual: Option<&Place>, today: NaiveDate) -> String {
    let mut facts = Vec::new();
    facts.extend(thing.tag.map(|tag| format!("tag {tag}")));
    facts.extend(thing.mark.map(|mark| mark.spoken()));
    facts.extend(thing.quantity.as_ref().map(Quantity::spoken));
    facts.extend(thing.dates.iter().map(|note| note_said(note, today)));
    let name = capital(thing.item.as_str());
    let facts = match facts.is_empty() {
        true => format!("{name}."),
        false => format!("{name}: {}.", facts.join(", ")),
    };
    match usual {
        Some(place) => format!("{facts} Usually {place}. Where?"),
        None => format!("{facts} Where?"),
    }
}

pub(in crate::talk) fn all_put_away(skipped: usize) -> String {
    match skipped {
        0 => "That was the last.".to_owned(),
        1 => "That was the last. 1 is left for later.".to_owned(),
        several => format!("That was the last. {several} are left for later."),
    }
}

pub(in crate::talk) fn put_away_done(waiting: usize) -> String {
    match waiting {
        0 => "All is put away.".to_owned(),
        1 => "1 thing is still to be put away.".to_owned(),
        several => format!("{several} things are still to be put away."),
    }
}

pub(in crate::talk) fn no_usual_place(item: &ItemName) -> String {
    format!("No usual place is known for {item}. Say where it goes.")
}

/// What has a tag is known by it.
pub(in crate::talk) fn by_its_tag(thing: &Waiting) -> String {
    match thing.tag {
        Some(tag) => format!(
            "The one with tag {tag} is {}. Where does it go?",
            thing.item
        ),
        None => NOT_YET_KNOWN.to_owned(),
    }
}

/// A temporary tag that is lost on its way: all that is known of the thing is noted under its number.
pub(in crate::talk) fn tag_still_needed(tag: TagNumber, item: &ItemName) -> String {
    format!("Tag {tag} is noted for {item}. Nothing changed. Put the {item} away first.")
}

/// What a code stands for already.
pub(in crate::talk) fn code_taken(known: &Coded) -> String {
    match known {
        Coded::Item(item) => format!("That code is {item} already. Nothing changed."),
        Coded::Tag(tag) => format!("That code is tag {tag} already. Nothing changed."),
    }
}
