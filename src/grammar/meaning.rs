//! What a path through the automaton means: an intent, its slots as values, and how sure it is.

use serde_json::{Value as Json, json};

use super::agreement::Agreement;
use super::lexicon::Lexicon;
use super::matching::{Passed, Path};
use super::network::{Kind, Mark, Network};
use crate::measure::{
    Amount, Calendar, DateDoubt, DateReading, NotADate, Quantity, Share, read_date, read_number,
    read_quantity, read_share,
};

/// The value of a slot.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// The tags of the match, or its words as written in the grammar.
    Words(String),
    /// `<number>` or `<tag>`.
    Number(Amount),
    /// `<quantity>`.
    Quantity(Quantity),
    /// `<date>`: words that make no date are kept as an error, for asking.
    Date(Result<DateReading, NotADate>),
    /// `<share>`: a part of what there is.
    Share(Share),
    /// `<item>`: a name that is known, as its item is listed; or an unknown one as it was heard.
    Item {
        /// The item's name.
        name: String,
        /// Whether the kitchen knows it.
        known: bool,
    },
    /// `<text>`: the words as they were heard, in normal form.
    Text(String),
}

impl Value {
    /// The value for machine-readable output.
    ///
    /// ```
    /// use tellshelf::grammar::Value;
    /// use tellshelf::measure::read_quantity;
    /// let two_bags = Value::Quantity(read_quantity(&["two", "bags"]).unwrap());
    /// assert_eq!(two_bags.to_json().to_string(), r#"{"count":2,"amount":null,"unit":"bag"}"#);
    /// ```
    pub fn to_json(&self) -> Json {
        match self {
            Self::Words(text) | Self::Text(text) | Self::Item { name: text, .. } => json!(text),
            Self::Number(number) => number_json(*number),
            Self::Quantity(quantity) => {
                let (count, amount, unit) = quantity.parts();
                json!({
                    "count": count.map(number_json),
                    "amount": amount.map(number_json),
                    "unit": unit,
                })
            }
            Self::Date(Ok(reading)) => date_json(reading),
            Self::Date(Err(error)) => json!({ "unclear": error.to_string() }),
            Self::Share(share) => json!(share.spoken()),
        }
    }
}

/// The day, and the other one that may be meant; a day that doesn't exist is none.
fn date_json(reading: &DateReading) -> Json {
    let note = reading.note;
    let kind = note.kind.map(|kind| kind.name());
    match reading.doubt {
        None => json!({ "kind": kind, "date": note.date.to_string() }),
        Some(DateDoubt::Or(other)) => {
            json!({ "kind": kind, "date": note.date.to_string(), "or": other.to_string() })
        }
        Some(DateDoubt::NoSuchDay { .. } | DateDoubt::OtherWeekday(_)) => {
            json!({ "kind": kind, "date": null, "unclear": reading.doubt.map(|d| d.to_string()) })
        }
    }
}

/// Whole numbers stay whole; others are the nearest double, which is as exact as JSON readers get.
fn number_json(number: Amount) -> Json {
    if let (true, Ok(whole)) = (number.is_integer(), i64::try_from(number.to_integer())) {
        return json!(whole);
    }
    json!(*number.numer() as f64 / *number.denom() as f64)
}

/// What was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Command {
    /// The name of the intent.
    pub intent: String,
    /// The slots that were said, in that order; of a slot said twice, the last.
    pub slots: Vec<(String, Value)>,
    /// The sentence of the grammar that was matched, with names and free words in their place.
    pub sentence: String,
    /// From 0 to 1. Of a guided hearing: how many in one of such commands are right. Of text: how far
    /// the sentence agrees with it, in its weakest part.
    pub confidence: f32,
}

impl Command {
    /// The value of a slot.
    pub fn slot(&self, name: &str) -> Option<&Value> {
        self.slots
            .iter()
            .find(|(slot, _)| slot == name)
            .map(|(_, value)| value)
    }

    /// The name in it that the kitchen doesn't know, if there is one.
    pub fn unknown_name(&self) -> Option<&str> {
        self.slots.iter().find_map(|(_, value)| match value {
            Value::Item { name, known: false } => Some(name.as_str()),
            _ => None,
        })
    }

    /// The same with a name that is known in place of the one that isn't.
    pub(super) fn with_name(&self, item: &str) -> Self {
        let mut command = self.clone();
        for (_, value) in &mut command.slots {
            if let Value::Item { name, known } = value
                && !*known
            {
                command.sentence = command.sentence.replace(name.as_str(), item);
                (*name, *known) = (item.to_owned(), true);
            }
        }
        command
    }

    /// Whether it is the same as another command but for the names of things.
    pub(super) fn differs_in_name(&self, other: &Self) -> bool {
        let same = |(slot, value): &(String, Value)| match (value, other.slot(slot)) {
            (Value::Item { .. }, Some(Value::Item { .. })) => true,
            (value, other) => other == Some(value),
        };
        self.intent == other.intent
            && self.slots.len() == other.slots.len()
            && self.slots.iter().all(same)
    }

    /// Whether it asks for the same as another command: the same intent, with the same slots in any
    /// order.
    pub fn means(&self, other: &Self) -> bool {
        self.intent == other.intent
            && self.slots.len() == other.slots.len()
            && self
                .slots
                .iter()
                .all(|(name, value)| other.slot(name) == Some(value))
    }
}

/// Reads the meaning off a path. `text` is what the path was matched with.
pub(super) fn meaning(
    network: &Network,
    names: &Lexicon,
    text: &[char],
    path: &Path,
    calendar: Calendar,
) -> Command {
    let mut sentence: Vec<String> = Vec::new();
    let mut slots: Vec<(String, Value)> = Vec::new();
    let mut open: Vec<OpenSlot> = Vec::new();
    let mut agreement = Agreement::new(path.edits);
    for passed in &path.passed {
        let mut known = None;
        let said = match passed {
            Passed::Mark(mark, wrong) => {
                match mark {
                    Mark::Tag(number) => {
                        let tag = &network.tags[*number as usize];
                        open.iter_mut().for_each(|slot| slot.tags.push(tag.clone()));
                    }
                    Mark::Open(slot) => {
                        agreement.open_slot(*wrong);
                        open.push(OpenSlot::new(*slot, sentence.len()));
                    }
                    Mark::Close(_) => {
                        agreement.close_slot(*wrong);
                        let Some(slot) = open.pop() else { continue };
                        // A rule that may be silent, and was: nothing is known of this slot.
                        if slot.tags.is_empty() && slot.first_word == sentence.len() {
                            continue;
                        }
                        let (name, kind) = &network.slots[slot.slot as usize];
                        let value = slot.value(*kind, &sentence, calendar);
                        slots.retain(|(known, _)| known != name);
                        slots.push((name.clone(), value));
                    }
                }
                continue;
            }
            Passed::Word(word, _) => {
                let word = &network.words[*word as usize];
                agreement.compare(word.letters.len());
                word.written.clone()
            }
            Passed::Name(node, _) => {
                known = Some(true);
                agreement.compare(names.letters_to(*node).into());
                names.item_at(*node).unwrap_or_default().to_owned()
            }
            Passed::Free(from, to) => {
                known = Some(false);
                let letters = &text[*from as usize..*to as usize];
                letters.iter().collect::<String>().trim().to_owned()
            }
        };
        if let (Some(slot), Some(known)) = (open.last_mut(), known) {
            slot.known = known;
        }
        sentence.push(said);
    }
    Command {
        intent: network.intents[path.intent as usize].clone(),
        slots,
        sentence: sentence.join(" "),
        confidence: agreement.weakest(),
    }
}

struct OpenSlot {
    slot: u32,
    first_word: usize,
    tags: Vec<String>,
    known: bool,
}

impl OpenSlot {
    fn new(slot: u32, first_word: usize) -> Self {
        Self {
            slot,
            first_word,
            tags: Vec::new(),
            known: false,
        }
    }

    fn value(&self, kind: Kind, sentence: &[String], calendar: Calendar) -> Value {
        let said = sentence[self.first_word..].join(" ");
        let tagged = self.tags.join(" ");
        let words: Vec<&str> = said.split(' ').collect();
        let tags: Vec<&str> = tagged.split(' ').collect();
        // What the grammar lets through and no reader takes is kept as words, for asking.
        let as_words = || Value::Words(if self.tags.is_empty() { &said } else { &tagged }.clone());
        match kind {
            Kind::Words => as_words(),
            Kind::Number | Kind::Tag => read_number(&words).map_or_else(as_words, Value::Number),
            Kind::Quantity => read_quantity(&words).map_or_else(as_words, Value::Quantity),
            Kind::Share => read_share(&words).map_or_else(as_words, Value::Share),
            Kind::Date => Value::Date(read_date(&words, calendar)),
            Kind::NumberInTags => read_number(&tags).map_or_else(as_words, Value::Number),
            Kind::QuantityInTags => read_quantity(&tags).map_or_else(as_words, Value::Quantity),
            Kind::DateInTags if self.tags.is_empty() => as_words(),
            Kind::DateInTags => Value::Date(read_date(&tags, calendar)),
            Kind::Item => Value::Item {
                name: said,
                known: self.known,
            },
            Kind::Text => Value::Text(said),
        }
    }
}
