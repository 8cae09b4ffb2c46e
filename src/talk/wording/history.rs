//! What was done earlier: today, undone, and why something is on the list.

use chrono::{NaiveDate, NaiveDateTime};

use super::labels::in_a_row;
use super::{around, capital, chosen, much_of, on, things};
use crate::measure::{DateKind, DateNote, Quantity, say_date};
use crate::stock::{Change, Event, ItemName, RunOut, Says, Why};
use crate::talk::reading::Listing;

/// What was done today, in the order in which it was.
pub(in crate::talk) fn changed_today(newest_first: &[Event]) -> Listing {
    changed(newest_first, "today")
}

/// The same of the day before.
pub(in crate::talk) fn changed_yesterday(newest_first: &[Event]) -> Listing {
    changed(newest_first, "yesterday")
}

fn changed(newest_first: &[Event], when: &str) -> Listing {
    match newest_first {
        [] => Listing::none(&format!("Nothing changed {when}.")),
        changes => Listing::new(
            format!("{} {when}", changes_counted(changes.len())),
            changes.iter().rev().map(undone).collect(),
        ),
    }
}

/// What was done last.
pub(in crate::talk) fn last_change(newest_first: &[Event]) -> String {
    match newest_first.first() {
        Some(last) => format!("Last: {}. To take it back, say undo.", undone(last)),
        None => "Nothing was changed yet.".to_owned(),
    }
}

pub(super) fn changes_counted(changes: usize) -> String {
    match changes {
        1 => "1 change".to_owned(),
        changes => format!("{changes} changes"),
    }
}

/// At most so many changes are told one by one before they are taken back; of more, the ends.
pub(super) const MOST_CHANGES: usize = 2;

pub(in crate::talk) fn ask_whether_to_undo(newest_first: &[Event], of_manner: usize) -> String {
    let count = changes_counted(newest_first.len() + of_manner);
    let what = match newest_first {
        _ if of_manner > 0 => {
            let others = newest_first.len();
            let rest = match others {
                0 => String::new(),
                others => format!(" and {others} in the kitchen"),
            };
            format!(": {of_manner} of how I speak{rest}")
        }
        [last, .., first] if newest_first.len() > MOST_CHANGES => {
            format!(", from {} back to {}", undone(last), undone(first))
        }
        several => {
            let said: Vec<String> = several.iter().rev().map(undone).collect();
            format!(": {}", said.join("; "))
        }
    };
    format!("Undo {count}{what}? Yes or no.")
}

pub(in crate::talk) fn undone_several(changes: usize) -> String {
    format!("{} undone.", capital(&changes_counted(changes)))
}

/// Why something is on the list.
pub(in crate::talk) fn why(
    item: &ItemName,
    why: Option<(Why, NaiveDateTime)>,
    run_out: Option<&RunOut>,
    listed: bool,
    today: NaiveDate,
) -> String {
    let name = capital(item.as_str());
    let when = |since: NaiveDateTime| {
        let since = DateNote {
            kind: Some(DateKind::Bought),
            date: since.date(),
        };
        on(&since.day_spoken(today))
    };
    match why {
        Some((Why::UsedUp, since)) => format!("{name}: used up {}.", when(since)),
        Some((Why::BelowKeep, since)) => {
            format!(
                "{name}: less than you keep, since {}.",
                when(since).trim_start_matches("on ")
            )
        }
        Some((Why::RunningOut, since)) => match run_out {
            Some(run_out) => why_running_out(&name, run_out, today),
            None => format!("{name}: listed {}, as likely to run out.", when(since)),
        },
        Some((Why::AskedFor, since)) => format!("{name}: you asked for it {}.", when(since)),
        None if listed => format!("{name}: it was put there before I kept reasons."),
        None => format!("Not on the list: {item}."),
    }
}

/// "Milk: you use it about every 6 days; likely to run out around Friday, between Thursday and December 2."
pub(super) fn why_running_out(name: &str, run_out: &RunOut, today: NaiveDate) -> String {
    let every = match run_out.every {
        1 => "day".to_owned(),
        days => format!("{days} days"),
    };
    let likely = around(run_out.likely, today);
    let between = match (run_out.earliest, run_out.latest) {
        (earliest, latest) if earliest == latest => String::new(),
        (earliest, latest) => format!(
            ", between {} and {}",
            say_date(earliest, today),
            say_date(latest, today)
        ),
    };
    format!("{name}: you use it about every {every}; likely to run out {likely}{between}.")
}

/// The keep levels.
pub(in crate::talk) fn keep_levels(levels: &[(ItemName, Quantity)]) -> Listing {
    let said = levels.iter().map(|(item, level)| much_of(level, item));
    match levels.len() {
        0 => Listing::none("You keep nothing yet. Say, for example: keep six eggs."),
        several => Listing::new(format!("You keep {}", things(several)), said.collect()),
    }
}

pub(in crate::talk) fn not_kept(item: &ItemName) -> String {
    format!("No keep level is set for {item}. Nothing changed.")
}

/// When something runs out, with how sure that is: from the earliest to the latest day.
pub(in crate::talk) fn how_long(
    item: &ItemName,
    run_out: Option<&RunOut>,
    today: NaiveDate,
) -> String {
    let name = capital(item.as_str());
    let Some(RunOut {
        earliest,
        likely,
        latest,
        ..
    }) = run_out
    else {
        return format!("{name}: I can't tell yet. I know too little of how it is used.");
    };
    let say = |day: &NaiveDate| say_date(*day, today);
    if earliest == latest {
        return format!("{name}: likely until {}.", say(likely));
    }
    format!(
        "{name}: likely until {}; between {} and {}.",
        say(likely),
        say(earliest),
        say(latest)
    )
}

/// What was taken back, as what had been done.
pub(super) fn undone(event: &Event) -> String {
    let much = |quantity: &Option<Quantity>, item: &ItemName| match quantity {
        Some(quantity) => much_of(quantity, item),
        None => item.to_string(),
    };
    match event {
        Event::PutIn { item, quantity, .. } => format!("adding {}", much(quantity, item)),
        Event::Changed { item, how, .. } => match how {
            Change::Opened => format!("{item} opened"),
            Change::Frozen => format!("{item} frozen"),
            Change::Thawed => format!("{item} thawed"),
            Change::Moved => format!("{item} moved"),
        },
        Event::PutAway { tag, .. } => format!("putting away tag {tag}"),
        Event::UsedUp { item, of } if of.is_any() => format!("{item} used up"),
        Event::UsedUp { item, of } => format!("{}, used up", chosen(item.as_str(), of)),
        Event::Used { item, quantity, .. } => format!("using {}", much_of(quantity, item)),
        Event::Listed { item, quantity } => format!("{} on the list", much(quantity, item)),
        Event::Unlisted { item } => format!("{item} off the list"),
        Event::Got { item, quantity } => format!("{} got", much(quantity, item)),
        Event::KeptAt { item, level } if level.is_zero() => format!("keeping no {item}"),
        Event::KeptAt { item, level } => format!("keeping {}", much_of(level, item)),
        Event::Tagged { item, quantity, .. } => format!("the tag for {}", much(quantity, item)),
        Event::Heard { what, .. } => undone(what),
        Event::Unheard { item } => format!("forgetting how {item} was heard"),
        Event::Renamed { item, name } => format!("calling {item} {name}"),
        Event::SoundsAllowed { keep: true } => "keeping sounds".to_owned(),
        Event::SoundsAllowed { keep: false } => "keeping no sounds".to_owned(),
        Event::Described { item, fact } => match fact.label() {
            Some((Says::NotListed, allergens)) => {
                let none = in_a_row(allergens, "or");
                format!("noting no {none} on the label of {item}")
            }
            Some((_, allergens)) => {
                let these = in_a_row(allergens, "and");
                format!("noting {these} on the label of {item}")
            }
            None => format!("noting the {} of {item}", fact.name()),
        },
        Event::Coded { item, .. } => format!("the code of {item}"),
        Event::TagCoded { tag, .. } => format!("the code of tag {tag}"),
        Event::KitchenTagged { item, tag, .. } => format!("tag {tag} on {item}"),
        Event::Reminded { item, .. } => format!("the reminder for {item}"),
        Event::TagsTaken { .. } => "taking tags along".to_owned(),
        Event::TagLost { tag } => format!("tag {tag} lost"),
        Event::TagFound { tag } => format!("tag {tag} found"),
        Event::TagSpent { tag } => format!("tag {tag} spent"),
        Event::Spent { item } => format!("{item} used up"),
        Event::SectionPlaced { section, .. } => format!("the place of {section} in your store"),
        Event::StoreForgotten => "forgetting the order of your store".to_owned(),
        Event::TripBegun => "going shopping".to_owned(),
        Event::CameHome => "coming home".to_owned(),
        Event::NoneThere { item } => format!("no {item} at the store"),
        Event::GotInstead { item, instead } => format!("{instead} instead of {item}"),
        Event::Marked { item, mark } => format!("{} on {item}", mark.spoken()),
        Event::Unmarked { item } => format!("taking the mark off the {item}"),
        Event::Stowed { item, .. } => format!("putting away {item}"),
        Event::Dated { item, .. } => format!("the date of {item}"),
        Event::DateChanged { item, .. } => format!("another date of {item}"),
        Event::Counted { item, .. } => format!("the amount of {item}"),
        Event::Located { item, .. } => format!("the place of {item}"),
        Event::MadeSure { item } => format!("being sure of {item}"),
        Event::PutBack { item } => format!("putting {item} back"),
        Event::Undone { .. } => "nothing".to_owned(),
    }
}
