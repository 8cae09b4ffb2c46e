//! What stands where a name does and is none: a bare number, or the rest of a sentence that wasn't understood.

use chrono::NaiveDateTime;

use super::Session;
use crate::grammar::{Lexicon, Verdict, normal_words};
use crate::measure::{Pack, Unit, read_number};
use crate::talk::request::Request;
use crate::talk::wording;

/// Behind these words, a place follows.
const BEFORE_PLACES: [&str; 10] = [
    " to the ",
    " into the ",
    " in the ",
    " on the ",
    " onto the ",
    " under the ",
    " at the ",
    " in my ",
    " on my ",
    " to my ",
];
/// The name of a place has so many words at most.
const LONGEST_PLACE: usize = 3;
/// Behind these words, a date follows.
const BEFORE_DATES: [&str; 6] = [
    " use by ",
    " best by ",
    " best before ",
    " sell by ",
    " freeze by ",
    " expires ",
];
/// Names that end in one of these are mostly of one thing, whatever stands before: "peanut butter cookies".
const HEADS: [&str; 48] = [
    "soup",
    "sauce",
    "salad",
    "cookies",
    "cake",
    "cakes",
    "bread",
    "butter",
    "milk",
    "cheese",
    "juice",
    "tea",
    "oil",
    "pasta",
    "chips",
    "crackers",
    "powder",
    "pie",
    "paste",
    "flour",
    "cream",
    "yogurt",
    "jam",
    "jelly",
    "syrup",
    "rice",
    "noodles",
    "stew",
    "curry",
    "seasoning",
    "sausage",
    "sausages",
    "burgers",
    "pizza",
    "stock",
    "broth",
    "dressing",
    "water",
    "ice",
    "beans",
    "seeds",
    "vinegar",
    "soap",
    "bags",
    "cups",
    "wine",
    "bars",
    "spray",
];

/// What to say instead of taking a name that nobody knows, where it is none.
pub(super) fn ask_instead(name: &str, known: &Lexicon) -> Option<String> {
    // Of several things it is asked whether they are one.
    if name.contains(" and ") {
        return None;
    }
    let words: Vec<&str> = name.split(' ').collect();
    if words[0] == "minus" {
        return Some(wording::HOW_MANY.to_owned());
    }
    if words.iter().all(is_of_an_amount) {
        let is_letter = name.chars().count() == 1;
        return Some(wording::of_what(if is_letter { "" } else { name }));
    }
    if matches!(words[0], "open" | "opened") {
        return Some(wording::without_open(&words[1..].join(" ")));
    }
    if let Some(place) = BEFORE_PLACES.iter().find_map(|before| behind(name, before)) {
        return Some(wording::no_such_place(place));
    }
    if BEFORE_DATES.iter().any(|before| name.contains(before)) {
        return Some(wording::DATE_IN_NAME.to_owned());
    }
    let mut parts = name.split(" no ");
    let is_put_right = name.contains(" no ")
        && parts.all(|part| known.find(part).is_some() || read_number(&[part]).is_some());
    is_put_right.then(|| wording::ONE_OF_THEM.to_owned())
}

/// Whether a name is nothing but two known names or more, each whole, and so hardly of one thing.
pub(super) fn is_of_known_names(name: &str, known: &Lexicon) -> bool {
    let words: Vec<&str> = name.split(' ').collect();
    let mut names = 0;
    let mut at = 0;
    while at < words.len() {
        let ends = (at + 1..=words.len()).rev();
        let mut ends = ends.filter(|end| known.find(&words[at..*end].join(" ")).is_some());
        match ends.next() {
            Some(end) => at = end,
            None => return false,
        }
        names += 1;
    }
    let has_head = words.last().is_some_and(|last| HEADS.contains(last));
    names > 2 || names == 2 && !has_head
}

impl Session {
    /// What to say where the place was all that wasn't understood: "put the wine in the wine rack".
    pub(super) fn unknown_place(&self, heard: &str, now: NaiveDateTime) -> Option<String> {
        let words = normal_words(heard);
        let begins = ["put", "add", "move", "i put", "i moved"];
        let said = words.join(" ");
        begins.iter().find(|begin| {
            let rest = said.strip_prefix(**begin);
            rest.is_some_and(|rest| rest.starts_with(' '))
        })?;
        let place = BEFORE_PLACES
            .iter()
            .find_map(|before| behind(&said, before))?;
        if place.split(' ').count() > LONGEST_PLACE {
            return None;
        }
        let there = format!("add milk to the {place}");
        let understood = self.understand(&[&there], now);
        let command = understood
            .command
            .filter(|_| understood.verdict == Verdict::Accept);
        let request = command.and_then(|command| Request::read(&command).ok());
        let is_known = matches!(
            request,
            Some(Request::PutIn { place: Some(_), .. } | Request::List(..))
        );
        (!is_known).then(|| wording::no_such_place(place))
    }
}

fn behind<'n>(name: &'n str, before: &str) -> Option<&'n str> {
    name.split_once(before).map(|(_, place)| place)
}

fn is_of_an_amount(word: &&str) -> bool {
    let joins = matches!(*word, "a" | "an" | "of" | "dozen" | "half");
    let is_letter = word.chars().count() == 1;
    joins
        || is_letter
        || read_number(&[*word]).is_some()
        || Pack::from_word(word).is_some()
        || Unit::from_word(word).is_some()
}
