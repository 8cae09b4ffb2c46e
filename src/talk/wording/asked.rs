//! What is asked, and said without anything being done.

use chrono::NaiveDate;

use super::{amounts, capital, guide, lots_said, much_of, names_said, note_said, things};
use crate::measure::{DateDoubt, DateKind, Pack, Quantity, say_date, say_date_to_check};
use crate::stock::{Clip, Due, ItemName, Learned, Lot, Place};
use crate::talk::request::Request;

pub(in crate::talk) const NO_QUESTION: &str = "There was no question.";

pub(in crate::talk) const NO_TO_WHAT: &str =
    "There was no question. To take the last change back, say undo.";

/// What a date means; with the name where it is told of a thing that is there, since that may be another than is thought.
pub(in crate::talk) fn ask_what_date(
    of: Option<&ItemName>,
    day: NaiveDate,
    today: NaiveDate,
) -> String {
    let day = say_date(day, today);
    let date = match of {
        Some(item) => format!("{}, {day}", capital(item.as_str())),
        None => capital(&day),
    };
    format!("{date}: is that use by, best by or sell by?")
}

/// Nothing was spoken of that could be meant.
pub(in crate::talk) const SAY_ITS_NAME: &str = "Of what? Say its name.";

/// Words that name nothing are no name to keep.
pub(in crate::talk) const WHAT_IS_IT: &str = "What is it? Say it all again with its name.";

/// Said back, it would be no question that anybody could answer.
pub(in crate::talk) const TOO_LONG: &str = "That's long. Say one thing at a time.";

/// What was left half said; `None` where nothing was to be noted.
pub(in crate::talk) fn not_noted(unfinished: &Request) -> Option<String> {
    let item = unfinished.item()?;
    Some(match unfinished {
        Request::Date(_) | Request::DateOf(..) | Request::Redate(_) | Request::ChangeDateOf(..) => {
            format!("The date of {item} wasn't noted.")
        }
        _ => format!("{} wasn't noted.", capital(item.as_str())),
    })
}

/// No directions are being read.
pub(in crate::talk) const NO_DIRECTIONS_READ: &str =
    "No directions are being read. Say: how do I cook the rice.";

/// A step is to be added to nothing that was spoken of.
pub(in crate::talk) const STEP_OF_WHAT: &str =
    "A step of what? Say: add a step to, the name, and the step.";

/// Whether it was heard right.
pub(in crate::talk) fn ask_whether(sentence: &str) -> String {
    format!("Did you say: {sentence}? Yes or no.")
}

/// Whether it was the other thing that sounds nearly the same.
pub(in crate::talk) fn ask_whether_instead(sentence: &str) -> String {
    format!("Then did you say: {sentence}? Yes or no.")
}

/// The reply to a no.
pub(in crate::talk) const NOTHING_CHANGED: &str = "All right. Nothing changed.";

/// The same, where what was to be put right was taken back before it was asked.
pub(in crate::talk) const STAYS_TAKEN_BACK: &str = "All right. What was wrong stays taken back.";

/// In front of why what was said instead can't be.
pub(in crate::talk) const TAKEN_BACK: &str = "Taken back. ";

/// Nobody said anything, where what was to be put right was taken back before it was asked.
pub(in crate::talk) const NO_ANSWER_BEHIND_A_CHANGE: &str =
    "No answer. What was wrong stays taken back.";

/// What was said to a question that only a yes opens wasn't understood.
pub(in crate::talk) const CLOSED: &str = "I didn't get that. Nothing changed.";

pub(in crate::talk) const ALL_AS_IT_WAS: &str = "Nothing changed.";

/// A question was asked, and nobody said anything for a while.
pub(in crate::talk) const NO_ANSWER: &str = "No answer. Nothing changed.";

/// Nothing was said of a thing whose date could be changed.
pub(in crate::talk) const WHICH_DATE: &str = "The date of what? Say its name and the date.";

/// The reply to who wants silence: as little as there can be.
pub(in crate::talk) const HUSHED: &str = "All right.";

/// Nobody has said anything yet.
pub(in crate::talk) const NOTHING_HEARD_YET: &str = "Nothing yet.";

/// What was heard last, as it was written down.
pub(in crate::talk) fn heard(text: &str) -> String {
    let text = text.trim_end_matches(|c: char| c.is_ascii_punctuation());
    format!("I heard: {text}.")
}

/// The reply to the wake phrase by itself, where no tone says it.
pub(in crate::talk) const LISTENING: &str = "I'm listening.";

/// Nothing was said of a thing that could have been misheard.
pub(in crate::talk) const NOTHING_TO_CORRECT: &str =
    "There is nothing to correct. Say it all again.";

/// Nothing was said of a thing whose name could be spelled or changed.
pub(in crate::talk) const NO_NAME_YET: &str = "Which name? Say it in a command first.";

/// What is put right, in front of what is done instead.
pub(in crate::talk) fn not_that(item: &ItemName) -> String {
    format!("Not {item}.")
}

/// A name letter by letter.
pub(in crate::talk) fn spelled(item: &ItemName) -> String {
    let letters = item.as_str().chars().map(|letter| match letter {
        ' ' => "space".to_owned(),
        letter => letter.to_uppercase().to_string(),
    });
    format!("{}.", letters.collect::<Vec<_>>().join(", "))
}

/// What is known by other names, learned by hearing.
pub(in crate::talk) fn learned(learned: &[Learned]) -> String {
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

/// Whether a medicine is to be called something else.
pub(in crate::talk) fn ask_whether_to_rename(item: &ItemName, name: &ItemName) -> String {
    let item = capital(item.as_str());
    format!("{item}, a medicine: call it {name}? Yes or no.")
}

/// Of which of several things a date was told.
pub(in crate::talk) fn ask_whether_this_one(item: &ItemName, said: &str) -> String {
    format!("{}: the one {said}? Yes or no.", capital(item.as_str()))
}

/// The same of the next one, behind a no.
pub(in crate::talk) fn ask_whether_that_one(said: &str) -> String {
    format!("Then the one {said}? Yes or no.")
}

/// Whether all of several lots was thrown out, or only one of them.
pub(in crate::talk) fn ask_whether_all(item: &ItemName, lots: &[Lot], today: NaiveDate) -> String {
    let name = capital(item.as_str());
    let are_together = lots.iter().all(|lot| lot.place == lots[0].place);
    let dated = lots.iter().map(|lot| {
        let date = lot
            .dates
            .iter()
            .find(|note| note.kind.is_some_and(DateKind::looks_ahead));
        Some(format!("{}, {}", amounts(&[lot]), note_said(date?, today)))
    });
    // Together in one place, their dates tell them apart.
    let dated: Option<Vec<String>> = dated.collect();
    let all = match dated.filter(|_| are_together) {
        Some(dated) => dated.join("; "),
        None => lots_said(lots),
    };
    format!("{name}: all of it, {all}? Yes; or no, and say how much.")
}

/// Nothing of it has passed.
pub(in crate::talk) fn none_has_passed(item: &ItemName) -> String {
    format!("No {item} has passed its date. Say how much you threw out.")
}

/// Whether something is at its end that was noted.
pub(in crate::talk) fn ask_whether_used_up(item: &ItemName) -> String {
    format!("{}: used up? Yes or no.", capital(item.as_str()))
}

/// Whether what isn't there is to be bought.
pub(in crate::talk) fn ask_whether_to_list(item: &ItemName) -> String {
    format!(
        "{}: none noted. Put on the list? Yes or no.",
        capital(item.as_str())
    )
}

/// What is for babies and passed lies beside a good one.
pub(in crate::talk) fn one_has_passed(item: &ItemName) -> String {
    format!("One {item} is past its use-by date. First say: I threw out the expired {item}.")
}

/// A name with a day in it would be kept as a thing of its own.
pub(in crate::talk) fn no_day_there(name: &str) -> String {
    format!(
        "{}: I take no day with that. Say it without the day.",
        capital(name)
    )
}

/// Whether all of something is in the freezer now, where some stood elsewhere.
pub(in crate::talk) fn ask_whether_all_frozen(item: &ItemName) -> String {
    format!(
        "{}: is all of it in the freezer now? Yes or no.",
        capital(item.as_str())
    )
}

/// Two things said in one go would be kept as one that nobody ever asks for.
pub(in crate::talk) fn ask_whether_one(name: &str) -> String {
    format!("{}: is that one thing? Yes or no.", capital(name))
}

/// Whether something is to be frozen whose time has passed. Source: FSIS, freezing doesn't make food better than it was.
pub(in crate::talk) fn ask_whether_to_freeze(
    item: &ItemName,
    due: Due,
    today: NaiveDate,
) -> String {
    let (name, due) = (capital(item.as_str()), guide::due_said(due, today));
    format!("{name}: {due}. When in doubt, throw it out. Freeze it anyway? Yes or no.")
}

/// The reply to a no to that.
pub(in crate::talk) fn one_at_a_time(first: &str) -> String {
    format!("Say them one at a time: {first}.")
}

/// Whether a day that was in doubt is the one. The whole date is said, so that nothing is left to guess.
pub(in crate::talk) fn ask_whether_day(day: NaiveDate, doubt: DateDoubt) -> String {
    let day = say_date_to_check(day);
    match doubt {
        DateDoubt::Or(_) => format!("{day}: is that the date? Yes or no."),
        doubt => format!("{doubt}. Is it {day}? Yes or no."),
    }
}

/// Whether a date is meant that passed long ago.
pub(in crate::talk) fn ask_whether_long_past(day: NaiveDate) -> String {
    format!(
        "{} is long past. Is that the date? Yes or no.",
        say_date_to_check(day)
    )
}

/// Whether it is the other day that the words fit.
pub(in crate::talk) fn ask_whether_other_day(day: NaiveDate) -> String {
    format!("Then is it {}? Yes or no.", say_date_to_check(day))
}

/// Behind a reply, where the words of a date could be meant otherwise.
pub(in crate::talk) fn read_back(day: NaiveDate) -> String {
    format!(" That is {}.", say_date_to_check(day))
}

pub(in crate::talk) fn ask_what_ounces(quantity: &Quantity) -> String {
    format!(
        "{}: by weight, or fluid ounces?",
        capital(&quantity.spoken())
    )
}

/// Whether a bare count of what is kept in packs is one of whole packs.
pub(in crate::talk) fn ask_whether_whole(item: &ItemName, packs: &Quantity, pack: Pack) -> String {
    let name = capital(item.as_str());
    let one = pack.one();
    let packs = match packs.is_one() {
        true => format!("A whole {one}"),
        false => capital(&packs.spoken()),
    };
    format!("{name}: kept by the {one}. {packs}? Yes or no.")
}

/// What is taken one by one of what is kept in packs, of which there aren't so many.
pub(in crate::talk) fn kept_by(item: &ItemName, pack: Pack) -> String {
    let name = capital(item.as_str());
    format!("{name}: kept by the {}. {SAY_WHAT_IS_LEFT}", pack.one())
}

/// What was taken of packs is known by what is left in them.
pub(in crate::talk) const SAY_WHAT_IS_LEFT: &str =
    "Nothing changed. Say how many are left, or that they're used up.";

pub(in crate::talk) const LIST_EMPTY: &str = "The list is empty.";

pub(in crate::talk) fn ask_whether_to_clear(lines: usize) -> String {
    format!("Take {} off the list? Yes or no.", things(lines))
}

/// The whole list was taken off.
pub(in crate::talk) fn cleared(lines: usize) -> String {
    let undo = match lines {
        1 => "undo".to_owned(),
        lines => format!("undo the last {lines}"),
    };
    format!(
        "{} off the list. To take that back, say {undo}.",
        capital(&things(lines))
    )
}

/// Whether so much of a thing is to be noted, where none was known of.
pub(in crate::talk) fn ask_whether_to_note_so_much(item: &ItemName, quantity: &Quantity) -> String {
    let quantity = quantity.spoken();
    format!("No {item} was noted. Note {quantity} now? Yes or no.")
}

/// How a name was said: played behind this.
pub(in crate::talk) fn sound(
    item: &ItemName,
    day: NaiveDate,
    clip: &Clip,
    today: NaiveDate,
) -> String {
    let (name, day) = (capital(item.as_str()), say_date(day, today));
    format!(
        "{name}, as you said it {}: {:.1} seconds of sound.",
        on(&day),
        clip.seconds()
    )
}

/// "On November 3", but "today".
pub(in crate::talk) fn on(day: &str) -> String {
    match day {
        "today" | "yesterday" => day.to_owned(),
        day => format!("on {day}"),
    }
}

pub(in crate::talk) fn no_sound(item: &ItemName) -> String {
    format!("No sound is kept of {item}.")
}

/// Sounds are kept only if that was surely meant.
pub(in crate::talk) const ASK_WHETHER_TO_KEEP: &str =
    "Keep the sound of each new name, on this machine only? Yes or no.";

pub(in crate::talk) fn ask_whether_to_lose(sounds: usize) -> String {
    format!(
        "Lose {}? Undo can't bring that back. Yes or no.",
        sounds_said(sounds)
    )
}

pub(in crate::talk) fn sounds_lost(sounds: usize) -> String {
    format!("{} lost for good.", capital(&sounds_said(sounds)))
}

pub(super) fn sounds_said(sounds: usize) -> String {
    match sounds {
        1 => "1 sound".to_owned(),
        sounds => format!("{sounds} sounds"),
    }
}

/// Nothing was kept that could be lost.
pub(in crate::talk) const NO_SOUNDS: &str = "No sound is kept.";

/// The name is known all the same.
pub(in crate::talk) const SOUND_NOT_KEPT: &str = " Its sound couldn't be kept.";

/// Whether what was put somewhere is what stood somewhere else, or new.
pub(in crate::talk) fn ask_whether_from(
    item: &ItemName,
    quantity: Option<&Quantity>,
    there: &Place,
) -> String {
    let what = match quantity {
        Some(quantity) => much_of(quantity, item),
        None => format!("the {item}"),
    };
    format!("Is that {what} from the {there}? Yes or no.")
}

/// Whether a name that nobody knows is one: it has a word in it that seldom belongs to a name.
pub(in crate::talk) fn ask_whether_name(name: &str) -> String {
    format!("{}: is that its name? Yes or no.", capital(name))
}

/// "It's in the fridge", and nothing was spoken of.
pub(in crate::talk) const WHAT_IS_THERE: &str = "What is there? Say it again with its name.";

/// Whether what is said to be somewhere is to be noted, where none was known of.
pub(in crate::talk) fn ask_whether_to_add(item: &ItemName, place: &Place) -> String {
    format!("No {item} was noted. Note it now, {place}? Yes or no.")
}

/// The kitchen has never heard of it.
pub(in crate::talk) fn unknown(name: &str) -> String {
    format!("I know no {name}.")
}

/// The kitchen has never heard of it, but of something that is called nearly the same.
pub(in crate::talk) fn ask_whether_known(said: &str, item: &ItemName) -> String {
    format!("I know no {said}. Did you mean {item}? Yes or no.")
}

/// None of the very thing is there, but one whose name ends in it.
pub(in crate::talk) fn ask_whether_kind(kind: &ItemName) -> String {
    format!("Do you mean the {kind}? Yes or no.")
}

pub(in crate::talk) fn unknown_unchanged(name: &str) -> String {
    format!("I know no {name}. Nothing changed.")
}

pub(in crate::talk) fn ask_whether_to_note(name: &str) -> String {
    format!("I know no {name}. Note it all the same? Yes or no.")
}

/// Behind what was done, where less is left than is to be kept.
pub(in crate::talk) const BELOW_KEEP: &str = " Less than you keep: on the list.";

/// Behind what was done, where what is left is likely to run out before the next trip.
pub(in crate::talk) fn running_out(likely: NaiveDate, today: NaiveDate) -> String {
    format!(" Likely to run out {}: on the list.", around(likely, today))
}

/// "Around Friday", but "today".
pub(super) fn around(day: NaiveDate, today: NaiveDate) -> String {
    match say_date(day, today) {
        day if day == "today" || day == "tomorrow" => day,
        day => format!("around {day}"),
    }
}

/// "Half of it", and nothing was spoken of.
pub(in crate::talk) const OF_WHAT: &str = "Of what? Say it again with its name.";
