//! The words of the replies: the important word first, then stop. Nothing in them relies on sight.

use std::collections::HashMap;

use chrono::{NaiveDate, NaiveDateTime};

use super::reading::Listing;
use super::{wording_facts, wording_guide, wording_round};
use crate::grammar::one_of;
use crate::measure::{
    DateDoubt, DateKind, DateNote, Quantity, say_date, say_date_to_check, say_distance,
};
use crate::stock::{
    Change, Clip, Dates, Event, Expiring, ItemName, Learned, ListLine, Lot, Low, Outcome, Place,
    Refusal, RunOut, RunningOut, TagNumber, TemporaryTag, Why,
};

pub(super) const NO_QUESTION: &str = "There was no question.";

pub(super) const NO_TO_WHAT: &str =
    "There was no question. To take the last change back, say undo.";

pub(super) fn ask_what_date(day: NaiveDate, today: NaiveDate) -> String {
    format!(
        "{}: is that use by, best by or sell by?",
        capital(&say_date(day, today))
    )
}

/// No directions are being read.
pub(super) const NO_DIRECTIONS_READ: &str =
    "No directions are being read. Say: directions for, and the name.";

/// A step is to be added to nothing that was spoken of.
pub(super) const STEP_OF_WHAT: &str = "A step of what? Say: add a step to, the name, and the step.";

/// Whether it was heard right.
pub(super) fn ask_whether(sentence: &str) -> String {
    format!("Did you say: {sentence}? Yes or no.")
}

/// Whether it was the other thing that sounds nearly the same.
pub(super) fn ask_whether_instead(sentence: &str) -> String {
    format!("Then did you say: {sentence}? Yes or no.")
}

/// The reply to a no.
pub(super) const NOTHING_CHANGED: &str = "All right. Nothing changed.";

/// A question was asked, and nobody said anything for a while.
pub(super) const NO_ANSWER: &str = "No answer. Nothing changed.";

/// Nothing was said of a thing whose date could be changed.
pub(super) const WHICH_DATE: &str = "The date of what? Say its name and the date.";

/// Nobody has said anything yet.
pub(super) const NOTHING_HEARD_YET: &str = "Nothing yet.";

/// What was heard last, as it was written down.
pub(super) fn heard(text: &str) -> String {
    let text = text.trim_end_matches(|c: char| c.is_ascii_punctuation());
    format!("I heard: {text}.")
}

/// The reply to the wake phrase by itself, where no tone says it.
pub(super) const LISTENING: &str = "I'm listening.";

/// Nothing was said of a thing that could have been misheard.
pub(super) const NOTHING_TO_CORRECT: &str = "There is nothing to correct. Say it all again.";

/// Nothing was said of a thing whose name could be spelled or changed.
pub(super) const NO_NAME_YET: &str = "Which name? Say it in a command first.";

/// What is put right, in front of what is done instead.
pub(super) fn not_that(item: &ItemName) -> String {
    format!("Not {item}.")
}

/// A name letter by letter.
pub(super) fn spelled(item: &ItemName) -> String {
    let letters = item.as_str().chars().map(|letter| match letter {
        ' ' => "space".to_owned(),
        letter => letter.to_uppercase().to_string(),
    });
    format!("{}.", letters.collect::<Vec<_>>().join(", "))
}

/// What is known by other names, learned by hearing.
pub(super) fn learned(learned: &[Learned]) -> String {
    let count = match learned {
        [] => return "No names learned yet.".to_owned(),
        [_] => "1 thing with learned names".to_owned(),
        several => format!("{} things with learned names", several.len()),
    };
    let said = learned.iter().map(|one| {
        let name = capital(one.item.as_str());
        format!("{name}: also heard as {}.", names_said(&one.forms))
    });
    format!("{count}. {}", said.collect::<Vec<_>>().join(" "))
}

/// Two things said in one go would be kept as one that nobody ever asks for.
pub(super) fn ask_whether_one(name: &str) -> String {
    format!("{}: is that one thing? Yes or no.", capital(name))
}

/// Whether a day that was in doubt is the one. The whole date is said, so that nothing is left to guess.
pub(super) fn ask_whether_day(day: NaiveDate, doubt: DateDoubt) -> String {
    let day = say_date_to_check(day);
    match doubt {
        DateDoubt::Or(_) => format!("{day}: is that the date? Yes or no."),
        doubt => format!("{doubt}. Is it {day}? Yes or no."),
    }
}

/// Whether a date is meant that passed long ago.
pub(super) fn ask_whether_long_past(day: NaiveDate) -> String {
    format!(
        "{} is long past. Is that the date? Yes or no.",
        say_date_to_check(day)
    )
}

/// Whether it is the other day that the words fit.
pub(super) fn ask_whether_other_day(day: NaiveDate) -> String {
    format!("Then is it {}? Yes or no.", say_date_to_check(day))
}

/// Behind a reply, where the words of a date could be meant otherwise.
pub(super) fn read_back(day: NaiveDate) -> String {
    format!(" That is {}.", say_date_to_check(day))
}

pub(super) fn ask_what_ounces(quantity: &Quantity) -> String {
    format!(
        "{}: by weight, or fluid ounces?",
        capital(&quantity.spoken())
    )
}

/// How a name was said: played behind this.
pub(super) fn sound(item: &ItemName, day: NaiveDate, clip: &Clip, today: NaiveDate) -> String {
    let (name, day) = (capital(item.as_str()), say_date(day, today));
    format!(
        "{name}, as you said it {}: {:.1} seconds of sound.",
        on(&day),
        clip.seconds()
    )
}

/// "On November 3", but "today".
pub(super) fn on(day: &str) -> String {
    match day {
        "today" | "yesterday" => day.to_owned(),
        day => format!("on {day}"),
    }
}

pub(super) fn no_sound(item: &ItemName) -> String {
    format!("No sound is kept of {item}.")
}

/// Sounds are kept only if that was surely meant.
pub(super) const ASK_WHETHER_TO_KEEP: &str =
    "Keep the sound of each new name, on this machine only? Yes or no.";

pub(super) fn ask_whether_to_lose(sounds: usize) -> String {
    format!(
        "Lose {}? Undo can't bring that back. Yes or no.",
        sounds_said(sounds)
    )
}

pub(super) fn sounds_lost(sounds: usize) -> String {
    format!("{} lost for good.", capital(&sounds_said(sounds)))
}

fn sounds_said(sounds: usize) -> String {
    match sounds {
        1 => "1 sound".to_owned(),
        sounds => format!("{sounds} sounds"),
    }
}

/// Nothing was kept that could be lost.
pub(super) const NO_SOUNDS: &str = "No sound is kept.";

/// The name is known all the same.
pub(super) const SOUND_NOT_KEPT: &str = " Its sound couldn't be kept.";

/// Whether what was put somewhere is what stood somewhere else, or new.
pub(super) fn ask_whether_from(item: &ItemName, there: &Place) -> String {
    format!("Is that the {item} from the {there}? Yes or no.")
}

/// Whether what is said to be somewhere is to be noted, where none was known of.
pub(super) fn ask_whether_to_add(item: &ItemName, place: &Place) -> String {
    format!("No {item} was noted. Note it now, {place}? Yes or no.")
}

/// The kitchen has never heard of it.
pub(super) fn unknown(name: &str) -> String {
    format!("I know no {name}.")
}

pub(super) fn unknown_unchanged(name: &str) -> String {
    format!("I know no {name}. Nothing changed.")
}

pub(super) fn ask_whether_to_note(name: &str) -> String {
    format!("I know no {name}. Note it all the same? Yes or no.")
}

/// Behind what was done, where less is left than is to be kept.
pub(super) const BELOW_KEEP: &str = " Less than you keep: on the list.";

/// Behind what was done, where what is left is likely to run out before the next trip.
pub(super) fn running_out(likely: NaiveDate, today: NaiveDate) -> String {
    format!(" Likely to run out {}: on the list.", around(likely, today))
}

/// "Around Friday", but "today".
fn around(day: NaiveDate, today: NaiveDate) -> String {
    match say_date(day, today) {
        day if day == "today" || day == "tomorrow" => day,
        day => format!("around {day}"),
    }
}

/// "Half of it", and nothing was spoken of.
pub(super) const OF_WHAT: &str = "Of what? Say it again with its name.";

pub(super) fn refusal(refusal: &Refusal) -> String {
    match refusal {
        Refusal::NoneLeft { item } => format!("No {item} on the shelf. Nothing changed."),
        Refusal::NotEnough { item, have } => {
            format!("{}: only {have}. Nothing changed.", capital(item.as_str()))
        }
        Refusal::OtherMeasure { item, have, asked } => format!(
            "{}: you have {have}, and I can't take {asked} from that. Nothing changed.",
            capital(item.as_str())
        ),
        Refusal::UnknownAmount { item } => format!(
            "{}: the amount isn't known yet. Say used up when it's gone.",
            capital(item.as_str())
        ),
        Refusal::AllSoAlready { item, how } => {
            let name = capital(item.as_str());
            match how {
                Change::Opened => format!("{name}: none is unopened. Nothing changed."),
                Change::Frozen => format!("{name}: all of it is frozen. Nothing changed."),
                Change::Thawed => format!("{name}: none is frozen. Nothing changed."),
                Change::Moved => format!("{name}: there already. Nothing changed."),
            }
        }
        Refusal::NotListed { item } => format!("Not on the list: {item}."),
        Refusal::AlreadyListed { item } => format!("Already on the list: {item}."),
        Refusal::NoSuchTag(number) => format!("There is no tag {number}. Say read the tags."),
        Refusal::NothingLearned { item } => format!("No other names learned for {item}."),
        Refusal::NeverHad { item } => format!("I know no {item}. Nothing changed."),
        Refusal::NameTaken { name } => {
            format!(
                "{} is a name already. Nothing changed. Say another one.",
                capital(name.as_str())
            )
        }
        Refusal::TagInUse { tag, item } => {
            format!("Tag {tag} is on {item}. Nothing changed. Take another tag.")
        }
        Refusal::OtherTag { tag, is } => wording_facts::other_tag(*tag, *is),
        Refusal::TagOnNothing(tag) => format!("Tag {tag} is on nothing. Nothing changed."),
        Refusal::TagIsLost(tag) => format!("Tag {tag} is noted as lost. Say: I found tag {tag}."),
        Refusal::TagNotLost(tag) => format!("Tag {tag} isn't lost. Nothing changed."),
        Refusal::NoneToTake { first, last } => {
            format!("None of the tags {first} to {last} is free. Nothing changed.")
        }
        Refusal::AllTagged { item, tag } => {
            format!(
                "{} has tag {tag} already. Nothing changed.",
                capital(item.as_str())
            )
        }
        Refusal::CodeTaken { known } => wording_round::code_taken(known),
        Refusal::MarkTaken { mark, item } => format!(
            "Already on the {item}: {}. Nothing changed. Take another mark.",
            mark.spoken()
        ),
        Refusal::OnTrip => "You're on a trip already. Say: I'm home, or next.".to_owned(),
        Refusal::NotOnTrip => "No trip is on. Nothing changed.".to_owned(),
        Refusal::SameSection { section } => {
            format!("That is {section} twice. Nothing changed. Say before or after what.")
        }
        Refusal::NoOwnOrder => "The order is the usual one already.".to_owned(),
        Refusal::NothingWaiting { item } => {
            format!("No {item} waits to be put away. Nothing changed.")
        }
        Refusal::WhichLot { item, lots } => format!(
            "{}: there are {lots} lots. Say what was used, or add what is new.",
            capital(item.as_str())
        ),
        Refusal::KnownAlready { item } => {
            format!(
                "{}: that is known. Nothing changed.",
                capital(item.as_str())
            )
        }
        Refusal::NothingToPutBack { item } => format!(
            "{} wasn't the last thing used up. Add it again, with how much there is.",
            capital(item.as_str())
        ),
        Refusal::NothingToUndo => "Nothing is left to undo.".to_owned(),
    }
}

/// What an event did.
pub(super) fn outcome(outcome: &Outcome, today: NaiveDate) -> String {
    match outcome {
        Outcome::CameIn {
            lot,
            freed,
            off_list,
        } => {
            let follows = came_in(lot, *freed, *off_list, today);
            format!("{}.{follows}", lot_facts(lot, today))
        }
        Outcome::Used { item, from, left } => {
            let taken = taken_from(from, left, today);
            let left: Vec<&Lot> = left.iter().collect();
            format!(
                "{}: {} left.{taken}",
                capital(item.as_str()),
                amounts(&left)
            )
        }
        Outcome::Changed { how, changed, .. } => changed_said(*how, changed, today),
        Outcome::Gone {
            item,
            lots,
            was_listed,
        } => {
            let listed = if *was_listed {
                "Still on the list."
            } else {
                "On the list."
            };
            let name = capital(item.as_str());
            if lots.is_empty() {
                format!("{name}: none was noted. {listed}")
            } else {
                format!(
                    "{name} used up. Off the shelf: {}. {listed}",
                    lots_said(lots)
                )
            }
        }
        Outcome::Listed { item, quantity } => match quantity {
            None => format!("{} on the list.", capital(item.as_str())),
            Some(quantity) => format!("On the list: {}.", much_of(quantity, item)),
        },
        Outcome::OffList { item, .. } => format!("{} off the list.", capital(item.as_str())),
        Outcome::KeepSet { item, level } => {
            format!("{}: keep {}.", capital(item.as_str()), level.spoken())
        }
        Outcome::Tagged { tag, off_list } => format!(
            "Tag {}: {}.{}{}",
            tag.number,
            tag_facts(tag, today),
            if *off_list { " Off the list." } else { "" },
            passed(&tag.dates, today)
        ),
        Outcome::Described { item, fact } => wording_facts::described(item, fact),
        Outcome::Coded { item } => format!("The code means {item}."),
        Outcome::TagCoded(tag) => format!("The code means tag {tag}."),
        Outcome::KitchenTagged { tag, lot, facts } => {
            wording_facts::kitchen_tag(*tag, lot, facts, today) + passed(&lot.dates, today)
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
        Outcome::TagSpent { .. } => wording_round::spent(outcome).0,
        Outcome::SectionPlaced {
            section,
            comes,
            cold_is_early_now,
        } => wording_round::section_placed(section, comes, *cold_is_early_now),
        Outcome::StoreForgotten => wording_round::STORE_FORGOTTEN.to_owned(),
        Outcome::TripBegun {
            lines,
            running_out,
            worn,
        } => wording_round::trip_begun(*lines, *running_out, worn.len()),
        Outcome::CameHome {
            waiting,
            still_listed,
            worn,
        } => wording_round::came_home(*waiting, *still_listed, worn),
        Outcome::Got {
            item,
            instead_of,
            was_listed,
            left,
            ..
        } => wording_round::got(item, instead_of.as_ref(), *was_listed, *left),
        Outcome::NoneThere { item, left } => format!(
            "No {item}; it stays on the list. {}",
            wording_round::to_find(*left)
        ),
        Outcome::Marked { item, mark } => wording_facts::marked(item, *mark),
        Outcome::LotTold { lot } => format!("{}.", lot_facts(lot, today)) + &guided(lot, today),
        Outcome::Located { lots } => located(lots),
        Outcome::MadeSure { item } => format!("{}: known for sure.", capital(item.as_str())),
        Outcome::PutBack { item, lots } => wording_facts::put_back(item, lots),
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
pub(super) fn placed(result: &Outcome, today: NaiveDate) -> String {
    match result {
        Outcome::CameIn {
            lot: lot @ Lot {
                place: Some(place), ..
            },
            freed,
            off_list,
        } => {
            let follows = came_in(lot, *freed, *off_list, today);
            format!("{}: {place}.{follows}", capital(lot.item.as_str()))
        }
        other => outcome(other, today),
    }
}

/// What follows from a lot that came in, behind its facts.
fn came_in(lot: &Lot, freed: Option<TagNumber>, off_list: bool, today: NaiveDate) -> String {
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
fn guided(lot: &Lot, today: NaiveDate) -> String {
    // Its own dates are among the facts already.
    let guidance = match lot.guide {
        Some(_) => wording_guide::guidance(lot, today),
        None => String::new(),
    };
    guidance + due_passed(lot, today)
}

/// The caution, where the day has passed by which something should be done with a lot.
fn due_passed(lot: &Lot, today: NaiveDate) -> &'static str {
    match lot.first_due() {
        Some(day) if day < today => CAUTION,
        _ => "",
    }
}

/// Which of several was taken, by what tells it from the others; nothing where there is nothing to be told.
fn taken_from(from: &Lot, left: &[Lot], today: NaiveDate) -> String {
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
        facts.extend(ahead.map(|note| note_said(note, today)));
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

fn state_said(lot: &Lot) -> Option<&'static str> {
    if lot.is_frozen() {
        Some("frozen")
    } else if lot.is_opened() {
        Some("opened")
    } else {
        lot.is_thawed().then_some("thawed")
    }
}

/// "Milk: 1 carton opened, fridge."
fn changed_said(how: Change, changed: &[Lot], today: NaiveDate) -> String {
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
    if changed.iter().any(|lot| lot.place.is_none()) && how == Change::Thawed {
        reply.push_str(" No place known.");
    }
    if let Some(lot) = changed.first()
        && begins_a_clock(how, lot, today)
    {
        reply.push_str(&wording_guide::guidance(lot, today));
        if lot.guide.is_some_and(|day| day < today) {
            reply.push_str(CAUTION);
        }
    }
    reply
}

/// Whether a change began the time that is published for a lot. What is moved out of the freezer thaws.
fn begins_a_clock(how: Change, lot: &Lot, today: NaiveDate) -> bool {
    match how {
        Change::Opened | Change::Thawed => true,
        Change::Moved => lot.dates.get(DateKind::Thawed) == Some(today),
        Change::Frozen => false,
    }
}

/// What else may be good to know behind what was done: who wants brief replies goes without. So nothing is in it that
/// keeps from harm, asks, or tells which of several things was meant.
pub(super) fn tail(outcome: &Outcome) -> String {
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
pub(super) fn got(result: &Outcome, today: NaiveDate) -> String {
    match result {
        Outcome::OffList { item, .. } => format!("Got {item}. Off the list."),
        other => outcome(other, today),
    }
}

fn names_said(names: &[ItemName]) -> String {
    let names: Vec<&str> = names.iter().map(ItemName::as_str).collect();
    names.join(", ")
}

fn lines_left(left: usize) -> String {
    match left {
        0 => "The list is empty.".to_owned(),
        n => format!("{n} more on it."),
    }
}

pub(super) fn list(lines: &[ListLine]) -> Listing {
    if lines.is_empty() {
        return Listing::none("The list is empty.");
    }
    let said = lines.iter().map(|line| match &line.quantity {
        None => line.item.to_string(),
        Some(quantity) => much_of(quantity, &line.item),
    });
    Listing::new(things(lines.len()), said.collect())
}

pub(super) fn tags(tags: &[TemporaryTag], today: NaiveDate) -> Listing {
    let number = match tags {
        [] => return Listing::none("No temporary tag is in use."),
        [_] => "1 tag".to_owned(),
        several => format!("{} tags", several.len()),
    };
    let said = tags
        .iter()
        .map(|tag| format!("tag {}, {}", tag.number, tag_facts(tag, today)));
    let caution = caution(tags.iter().map(|tag| &tag.dates), today);
    Listing::new(number, said.collect()).with_caution(caution)
}

pub(super) fn tag(number: TagNumber, tag: Option<&TemporaryTag>, today: NaiveDate) -> String {
    match tag {
        Some(tag) => format!(
            "Tag {number}: {}.{}",
            tag_facts(tag, today),
            passed(&tag.dates, today)
        ),
        None => format!("Tag {number}: not in use."),
    }
}

pub(super) fn several_tags(item: &ItemName, tags: &[TemporaryTag]) -> String {
    let numbers: Vec<String> = tags.iter().map(|tag| tag.number.to_string()).collect();
    let (last, first) = numbers
        .split_last()
        .map_or(("", &[][..]), |(l, f)| (l.as_str(), f));
    format!(
        "{}: tags {} and {last}. Say put away tag, its number, and the place.",
        capital(item.as_str()),
        first.join(", ")
    )
}

/// What runs low: below its keep level, or likely to run out by how it was used.
pub(super) fn running_low(below: &[Low], soon: &[RunningOut], today: NaiveDate) -> Listing {
    let soon = soon
        .iter()
        .filter(|soon| below.iter().all(|low| low.item != soon.item));
    let soon: Vec<String> = soon
        .map(|soon| {
            let (likely, latest) = (soon.when.likely, soon.when.latest);
            let (likely, latest) = (say_date(likely, today), say_date(latest, today));
            format!(
                "{}, likely until {likely}, at the latest {latest}",
                soon.item
            )
        })
        .collect();
    match (below, soon.is_empty()) {
        ([], true) => Listing::none("Nothing is below its keep level."),
        ([one], true) => Listing::none(&format!("{}.", capital(&low_said(one)))),
        ([], false) => Listing::new("Running out".to_owned(), soon),
        (below, _) => {
            let low = below.iter().map(low_said);
            let all: Vec<String> = low.chain(soon).collect();
            Listing::new(things(all.len()), all)
        }
    }
}

fn low_said(low: &Low) -> String {
    let have = low
        .have
        .as_ref()
        .map_or("none".to_owned(), Quantity::spoken);
    format!("{}: {have}, you keep {}", low.item, low.keep.spoken())
}

pub(super) fn expiring(found: &[Expiring], last: NaiveDate, today: NaiveDate) -> Listing {
    if found.is_empty() {
        return Listing::none(&format!(
            "Nothing has a date up to {}.",
            say_date(last, today)
        ));
    }
    // A lot with several days is one thing, told where the first of them is.
    let mut lots: Vec<(&Expiring, Vec<String>)> = Vec::new();
    let mut told: HashMap<i64, usize> = HashMap::new();
    for expiring in found {
        let due = wording_guide::due_said(expiring.due, today);
        let next = lots.len();
        let at = expiring
            .lot
            .map_or(next, |lot| *told.entry(lot).or_insert(next));
        match lots.get_mut(at) {
            Some((_, dues)) => dues.push(due),
            None => lots.push((expiring, vec![due])),
        }
    }
    let said = lots.iter().map(|(expiring, dues)| {
        let place = match (&expiring.place, expiring.tag) {
            (Some(place), _) => format!(", {place}"),
            (None, Some(tag)) => format!(", tag {tag}"),
            (None, None) => String::new(),
        };
        format!("{}, {}{place}", expiring.item, dues.join(", "))
    });
    let said = said.collect();
    let is_doubtful = |e: &Expiring| e.due.day() < today && !wording_guide::is_to_discard(e, today);
    let caution = found.iter().any(is_doubtful);
    let caution = if caution { CAUTION } else { "" };
    let discard = wording_guide::to_discard(found, today);
    Listing::new(things(lots.len()), said)
        .with_caution(&discard)
        .with_caution(caution)
}

/// At most this many are named where the question was only what comes first.
pub(super) const FIRST: usize = 3;

pub(super) fn use_first(first: &[Expiring], today: NaiveDate) -> Listing {
    if first.is_empty() {
        return Listing::none("Nothing has a date yet.");
    }
    expiring(first, today, today)
}

pub(super) fn what_is_in(place: &Place, by_name: &[(ItemName, Option<Quantity>)]) -> Listing {
    if by_name.is_empty() {
        return Listing::none(&format!("{}: nothing noted.", capital(place.as_str())));
    }
    let said = by_name.chunk_by(|(one, _), (next, _)| one == next);
    let said = said.map(|lots| {
        let quantities = lots.iter().map(|(_, quantity)| quantity.as_ref());
        format!("{}, {}", lots[0].0, added_up(quantities))
    });
    let said: Vec<String> = said.collect();
    Listing::new(things(said.len()), said)
}

/// Said with every date that has passed. Source: FSIS, "Food Product Dating", and its usual
/// "when in doubt, throw it out"; the label and local rules go first.
const CAUTION: &str = " Check the label. When in doubt, throw it out.";

fn passed(dates: &Dates, today: NaiveDate) -> &'static str {
    caution([dates], today)
}

/// The caution, where any date of those to use things by has passed.
fn caution<'d>(dates: impl IntoIterator<Item = &'d Dates>, today: NaiveDate) -> &'static str {
    let mut ahead = dates.into_iter().filter_map(Dates::first_ahead);
    if ahead.any(|date| date < today) {
        CAUTION
    } else {
        ""
    }
}

pub(super) fn where_is(
    item: &ItemName,
    lots: &[Lot],
    tags: &[TemporaryTag],
    listed: bool,
) -> String {
    let name = capital(item.as_str());
    if let [tag, ..] = tags {
        let shelf = match places(lots) {
            Some(places) => format!(" Also: {places}."),
            None => String::new(),
        };
        return format!("{name}: not put away yet, tag {}.{shelf}", tag.number);
    }
    match (places(lots), lots.is_empty()) {
        (Some(places), _) if lots.iter().any(|lot| lot.place.is_none()) => {
            format!("{name}: {places}. There is more; where isn't known.")
        }
        (Some(places), _) => format!("{name}: {places}."),
        (None, false) => format!("{name}: there is some, but where isn't known."),
        (None, true) if listed => format!("No {item} on the shelf. On the list already."),
        (None, true) => format!("No {item} on the shelf."),
    }
}

fn places(lots: &[Lot]) -> Option<String> {
    let mut places: Vec<&str> = lots
        .iter()
        .flat_map(|l| &l.place)
        .map(Place::as_str)
        .collect();
    places.dedup();
    (!places.is_empty()).then(|| places.join(" and "))
}

/// The dates of all there is of an item. That there is none of one is said, too.
pub(super) fn when(
    item: &ItemName,
    lots: &[Lot],
    tags: &[TemporaryTag],
    today: NaiveDate,
) -> String {
    if lots.is_empty() && tags.is_empty() {
        return format!("No {item} on the shelf.");
    }
    let shelf = lots.iter().map(|lot| {
        let place = lot.place.as_ref().map(Place::to_string);
        (&lot.dates, lot.guide, place)
    });
    let tags = tags
        .iter()
        .map(|tag| (&tag.dates, None, Some(format!("tag {}", tag.number))));
    let all: Vec<(&Dates, Option<NaiveDate>, Option<String>)> = shelf.chain(tags).collect();
    let said = all.iter().map(|(dates, guide, place)| {
        let mut facts: Vec<String> = dates.iter().map(|note| when_said(note, today)).collect();
        if dates.first_ahead().is_none() {
            facts.insert(0, "no date noted".to_owned());
        }
        facts.extend(guide.map(|day| wording_guide::guided_till(day, today)));
        facts.extend(place.clone());
        facts.join(", ")
    });
    let said: Vec<String> = said.collect();
    let mut caution = caution(all.iter().map(|(dates, ..)| *dates), today);
    if all
        .iter()
        .any(|(_, guide, _)| guide.is_some_and(|day| day < today))
    {
        caution = CAUTION;
    }
    if caution.is_empty() && all.iter().any(|(dates, ..)| dates.first_ahead().is_none()) {
        caution = " Check the label.";
    }
    let use_by = all
        .iter()
        .filter_map(|(dates, ..)| dates.get(DateKind::UseBy));
    let discard = wording_guide::discard_if_past(item, use_by, today);
    if !discard.is_empty() {
        caution = "";
    }
    let name = capital(item.as_str());
    format!("{name}: {}.{discard}{caution}", said.join("; "))
}

pub(super) fn how_much(item: &ItemName, lots: &[Lot]) -> String {
    if lots.is_empty() {
        return format!("No {item} on the shelf.");
    }
    format!("{}: {}.", capital(item.as_str()), lots_said(lots))
}

fn lot_facts(lot: &Lot, today: NaiveDate) -> String {
    let mut facts: Vec<String> = lot.quantity.iter().map(Quantity::spoken).collect();
    facts.extend(lot.place.iter().map(Place::to_string));
    facts.extend(lot.dates.iter().map(|note| note_said(note, today)));
    if facts.is_empty() {
        return format!("{} noted", capital(lot.item.as_str()));
    }
    format!("{}: {}", capital(lot.item.as_str()), facts.join(", "))
}

/// "Eggs: 6, fridge."
fn located(lots: &[Lot]) -> String {
    let item = lots.first().map_or("", |lot| lot.item.as_str());
    let place = lots.first().and_then(|lot| lot.place.as_ref());
    let all: Vec<&Lot> = lots.iter().collect();
    let is_counted = lots.iter().any(|lot| lot.quantity.is_some());
    let mut facts = Vec::new();
    facts.extend(is_counted.then(|| amounts(&all)));
    facts.extend(place.map(Place::to_string));
    format!("{}: {}.", capital(item), facts.join(", "))
}

fn tag_facts(tag: &TemporaryTag, today: NaiveDate) -> String {
    let mut facts = vec![tag.item.to_string()];
    facts.extend(tag.quantity.iter().map(Quantity::spoken));
    facts.extend(tag.dates.iter().map(|note| note_said(note, today)));
    facts.join(", ")
}

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

/// What was done today, in the order in which it was.
pub(super) fn changed_today(newest_first: &[Event]) -> Listing {
    match newest_first {
        [] => Listing::none("Nothing changed today."),
        changes => Listing::new(
            format!("{} today", changes_counted(changes.len())),
            changes.iter().rev().map(undone).collect(),
        ),
    }
}

fn changes_counted(changes: usize) -> String {
    match changes {
        1 => "1 change".to_owned(),
        changes => format!("{changes} changes"),
    }
}

/// At most so many changes are told one by one before they are taken back; of more, the ends.
const MOST_CHANGES: usize = 2;

pub(super) fn ask_whether_to_undo(newest_first: &[Event]) -> String {
    let count = changes_counted(newest_first.len());
    let what = match newest_first {
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

pub(super) fn undone_several(changes: usize) -> String {
    format!("{} undone.", capital(&changes_counted(changes)))
}

/// Why something is on the list.
pub(super) fn why(
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
fn why_running_out(name: &str, run_out: &RunOut, today: NaiveDate) -> String {
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

/// When something runs out, with how sure that is: from the earliest to the latest day.
pub(super) fn how_long(item: &ItemName, run_out: Option<&RunOut>, today: NaiveDate) -> String {
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

/// "2 bags of oats", "3 lemons", "1 lemon".
pub(super) fn much_of(quantity: &Quantity, item: &ItemName) -> String {
    if *quantity == Quantity::of(1) {
        return quantity.spoken_of(&one_of(item.as_str()));
    }
    quantity.spoken_of(item.as_str())
}

/// What was taken back, as what had been done.
fn undone(event: &Event) -> String {
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
        Event::UsedUp { item } => format!("{item} used up"),
        Event::Used { item, quantity } => format!("using {}", much_of(quantity, item)),
        Event::Listed { item, quantity } => format!("{} on the list", much(quantity, item)),
        Event::Unlisted { item } => format!("{item} off the list"),
        Event::Got { item } => format!("{item} got"),
        Event::KeptAt { item, level } => format!("keeping {}", much_of(level, item)),
        Event::Tagged { item, quantity, .. } => format!("the tag for {}", much(quantity, item)),
        Event::Heard { what, .. } => undone(what),
        Event::Unheard { item } => format!("forgetting how {item} was heard"),
        Event::Renamed { item, name } => format!("calling {item} {name}"),
        Event::SoundsAllowed { keep: true } => "keeping sounds".to_owned(),
        Event::SoundsAllowed { keep: false } => "keeping no sounds".to_owned(),
        Event::Described { item, fact } => format!("noting the {} of {item}", fact.name()),
        Event::Coded { item, .. } => format!("the code of {item}"),
        Event::TagCoded { tag, .. } => format!("the code of tag {tag}"),
        Event::KitchenTagged { item, tag } => format!("tag {tag} on {item}"),
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
