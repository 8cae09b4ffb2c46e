//! The slots of a command, each read as what it must be.

use super::{Goods, Request, Since, Span, State, Unclear, Used};
use crate::grammar::{Command, Value};
use crate::measure::{
    DateDoubt, DateKind, DateReading, Pack, Quantity, Unit, read_number, read_quantity, spell,
};
use crate::stock::{
    Allergen, Change, Choice, Comes, Fact, Feel, ItemKind, ItemName, Mark, OwnWords, Place, Says,
    Section, TagNumber,
};

/// A command with what fills its slots.
pub(super) struct Slots<'c>(pub(super) &'c Command);

impl Slots<'_> {
    pub(super) fn words(&self, slot: &str) -> Option<&str> {
        match self.0.slot(slot)? {
            Value::Words(words) | Value::Text(words) | Value::Item { name: words, .. } => {
                Some(words)
            }
            _ => None,
        }
    }

    /// Whether a word was said.
    pub(super) fn says(&self, word: &str) -> bool {
        self.0.sentence.split(' ').any(|said| said == word)
    }

    pub(super) fn item(&self) -> Result<ItemName, Unclear> {
        if let Some(Value::Item { name, known: false }) = self.0.slot("item")
            && is_several(name)
        {
            return Err(Unclear::Several);
        }
        if let Some(Value::Item { name, known: false }) = self.0.slot("item") {
            no_name(name)?;
        }
        if let Some(name) = self.named_by_percent() {
            return ItemName::new(&name).map_err(|_| Unclear::Missing("name"));
        }
        let name = self.words("item").and_then(|name| ItemName::new(name).ok());
        name.ok_or(Unclear::Missing("name"))
    }

    /// A name where bare numbers are said as well: a number that is no tag's is none either.
    pub(super) fn item_without_number(&self) -> Result<ItemName, Unclear> {
        let item = self.item()?;
        let words: Vec<&str> = item.as_str().split(' ').collect();
        let is_known = matches!(self.0.slot("item"), Some(Value::Item { known: true, .. }));
        match (1..=words.len()).any(|end| read_number(&words[..end]).is_some()) && !is_known {
            true => Err(Unclear::Tag(item.to_string())),
            false => Ok(item),
        }
    }

    /// "Five percent vinegar": the number is part of the name, and no amount.
    fn named_by_percent(&self) -> Option<String> {
        let Some(Value::Item { name, known: false }) = self.0.slot("item") else {
            return None;
        };
        let Some(Value::Quantity(quantity)) = self.0.slot("quantity") else {
            return None;
        };
        match quantity.parts() {
            (Some(count), None, None) if name.starts_with("percent ") => {
                let count = u64::try_from(count.is_integer().then(|| count.to_integer())?).ok()?;
                Some(format!("{} {name}", spell(count)))
            }
            _ => None,
        }
    }

    /// Without a name, it is asked of what was spoken of before.
    pub(super) fn item_or_it(&self) -> Result<ItemName, Unclear> {
        match self.item_if_said()? {
            Some(item) => Ok(item),
            None => ItemName::new("it").map_err(|_| Unclear::Missing("name")),
        }
    }

    pub(super) fn item_if_said(&self) -> Result<Option<ItemName>, Unclear> {
        match self.item() {
            Err(Unclear::Missing(_)) => Ok(None),
            item => item.map(Some),
        }
    }

    /// A slot that is a name of some sort.
    pub(super) fn named<T, E>(
        &self,
        slot: &'static str,
        make: impl Fn(&str) -> Result<T, E>,
    ) -> Result<T, Unclear> {
        let words = self.words(slot).and_then(|words| make(words).ok());
        words.ok_or(Unclear::Missing(slot))
    }

    pub(super) fn comes(&self) -> Result<Comes, Unclear> {
        let beside = || self.named("beside", Section::new);
        match (self.words("comes"), self.words("side")) {
            (Some("first"), _) => Ok(Comes::First),
            (Some("last"), _) => Ok(Comes::Last),
            (_, Some("before")) => Ok(Comes::Before(beside()?)),
            (_, Some("after")) => Ok(Comes::After(beside()?)),
            _ => Err(Unclear::Missing("place")),
        }
    }

    pub(super) fn kind(&self) -> Result<ItemKind, Unclear> {
        match self.words("kind") {
            Some("medicine") => Ok(ItemKind::Medicine),
            Some("household") => Ok(ItemKind::Household),
            Some("food") => Ok(ItemKind::Food),
            _ => Err(Unclear::Missing("kind")),
        }
    }

    pub(super) fn state(&self) -> Result<Option<State>, Unclear> {
        Ok(match self.words("state") {
            None => None,
            Some("opened") => Some(State::Opened),
            Some("thawed") => Some(State::Thawed),
            Some(_) => return Err(Unclear::Missing("state")),
        })
    }

    pub(super) fn own_words(&self, fact: fn(OwnWords) -> Fact) -> Result<Request, Unclear> {
        let words = self.named("text", OwnWords::new)?;
        Ok(Request::Describe(self.item()?, fact(words)))
    }

    /// A step of directions, and nothing to stand on.
    pub(super) fn step(&self) -> Result<OwnWords, Unclear> {
        let step = self.named("text", OwnWords::new)?;
        match step.as_str().split(' ').next() {
            Some(thing @ ("stool" | "ladder")) => Err(Unclear::NoStep(thing.to_owned())),
            _ => Ok(step),
        }
    }

    /// What the label of a thing says. A name that nobody knows must be no half of a sentence.
    pub(super) fn label(&self, says: Says) -> Result<Request, Unclear> {
        if let Some(Value::Item { name, known: false }) = self.0.slot("item")
            && is_hedged(name)
        {
            return Err(Unclear::Label);
        }
        let allergens = Allergen::read(self.words("allergens").unwrap_or_default());
        // Labels don't say "nuts": that there are none of them was read of each kind.
        let allergens: Vec<Allergen> = match says {
            Says::NotListed => {
                let each = allergens.into_iter();
                each.flat_map(Allergen::as_labels_tell).collect()
            }
            _ => allergens,
        };
        if allergens.is_empty() {
            return Err(Unclear::Missing("allergen"));
        }
        Ok(Request::Describe(
            self.item_or_it()?,
            Fact::of_label(says, allergens),
        ))
    }

    pub(super) fn allergen(&self) -> Result<Allergen, Unclear> {
        let said = self.words("allergen").unwrap_or_default();
        let mut allergens = Allergen::read(said);
        allergens.pop().ok_or(Unclear::Missing("allergen"))
    }

    pub(super) fn feel(&self) -> Result<Feel, Unclear> {
        let feel = self.feel_if_said()?;
        if feel.is_empty() {
            return Err(Unclear::Missing("feel"));
        }
        Ok(feel)
    }

    pub(super) fn feel_if_said(&self) -> Result<Feel, Unclear> {
        let words = self.words("feel").unwrap_or_default();
        let (feel, rest) = Feel::read(&words.split_whitespace().collect::<Vec<_>>());
        match rest.is_empty() {
            true => Ok(feel),
            false => Err(Unclear::Feel(rest.join(" "))),
        }
    }

    pub(super) fn mark_if_said(&self) -> Result<Option<Mark>, Unclear> {
        let Some(words) = self.words("mark") else {
            return Ok(None);
        };
        let said: Vec<&str> = words.split_whitespace().collect();
        match Mark::read(&said).0.as_deref() {
            Some([mark]) => Ok(Some(*mark)),
            _ => Err(Unclear::Feel(words.to_owned())),
        }
    }

    pub(super) fn needed_tag(&self) -> Result<TagNumber, Unclear> {
        self.tag()?.ok_or(Unclear::Missing("number"))
    }

    /// The last of a row of tags.
    pub(super) fn last_tag(&self) -> Result<TagNumber, Unclear> {
        match self.0.slot("number") {
            Some(Value::Number(number)) if number.is_integer() => {
                let number = u32::try_from(number.to_integer());
                number
                    .map(TagNumber)
                    .map_err(|e| Unclear::Tag(e.to_string()))
            }
            _ => Err(Unclear::Missing("number")),
        }
    }

    /// A name, or one that was spelled: one word of the letters.
    pub(super) fn new_name(&self) -> Result<ItemName, Unclear> {
        let Some(letters) = self.words("spelling") else {
            return self.item();
        };
        ItemName::new(&letters.replace(' ', "")).map_err(|_| Unclear::Missing("name"))
    }

    pub(super) fn place(&self) -> Option<Place> {
        let name = self.words("place").or(self.words("below"));
        name.and_then(|name| Place::new(name).ok())
    }

    /// "Some flour", and neither how much nor what part of it.
    pub(super) fn says_no_amount(&self) -> bool {
        self.0.slot("quantity").is_none() && self.0.slot("share").is_none()
    }

    /// Whether what is said to be at its end is one that was begun: "I finished it", but not "it is finished".
    pub(super) fn says_of_one(&self) -> bool {
        let of_all = ["all", "is", "are"];
        (self.says("finished") || self.says("rest")) && !of_all.iter().any(|word| self.says(word))
    }

    /// Which lots of an item are meant.
    pub(super) fn choice(&self) -> Choice {
        Choice {
            place: self.words("from").and_then(|name| Place::new(name).ok()),
            opened: self.words("begun").is_some(),
            ..Choice::default()
        }
    }

    pub(super) fn quantity(&self) -> Result<Option<Quantity>, Unclear> {
        match self.0.slot("quantity") {
            None => Ok(None),
            Some(_) if self.named_by_percent().is_some() => Ok(None),
            Some(Value::Quantity(quantity)) if quantity.is_positive() => Ok(Some(quantity.clone())),
            Some(Value::Quantity(quantity)) => Err(Unclear::Quantity(quantity.spoken())),
            Some(Value::Words(words)) => Err(Unclear::Quantity(words.clone())),
            Some(_) => Err(Unclear::Missing("quantity")),
        }
    }

    pub(super) fn needed_quantity(&self) -> Result<Quantity, Unclear> {
        self.quantity()?.ok_or(Unclear::Missing("quantity"))
    }

    /// A count, with the packs that were named behind it.
    pub(super) fn needed_in_packs(&self) -> Result<Quantity, Unclear> {
        let quantity = self.needed_quantity()?;
        let pack = self.words("pack").and_then(Pack::from_word);
        let unit = self.words("pack").and_then(Unit::from_word);
        Ok(match (quantity.bare_count(), pack, unit) {
            (Some(count), Some(_), _) => Quantity::Count { count, pack },
            (Some(amount), _, Some(unit)) => Quantity::Measure { amount, unit },
            _ => quantity,
        })
    }

    pub(super) fn used(&self) -> Result<Used, Unclear> {
        match self.0.slot("share") {
            Some(Value::Share(share)) => Ok(Used::Share(share.clone())),
            Some(other) => Err(Unclear::Quantity(other.to_json().to_string())),
            None => Ok(Used::Quantity(self.needed_quantity()?)),
        }
    }

    pub(super) fn date(&self) -> Result<Option<DateReading>, Unclear> {
        match self.0.slot("date") {
            None => Ok(None),
            Some(Value::Date(Ok(reading))) => Ok(Some(*reading)),
            Some(Value::Date(Err(error))) => Err(Unclear::Date(error.to_string())),
            Some(_) => Err(Unclear::Missing("date")),
        }
    }

    /// What a date means.
    pub(super) fn date_kind(&self) -> Result<DateKind, Unclear> {
        let kind = self.words("date-kind").and_then(|kind| kind.parse().ok());
        kind.ok_or(Unclear::Missing("meaning of the date"))
    }

    pub(super) fn undo(&self) -> Result<Request, Unclear> {
        if let Some(times) = self.words("times").and_then(|times| times.parse().ok()) {
            return Ok(Request::UndoSeveral(times));
        }
        match self.0.slot("number") {
            None => Ok(Request::Undo),
            Some(Value::Number(number)) if number.is_integer() => Ok(
                match usize::try_from(number.to_integer()).unwrap_or_default() {
                    0 => return Err(Unclear::Missing("number")),
                    1 => Request::Undo,
                    several => Request::UndoSeveral(several),
                },
            ),
            Some(_) => Err(Unclear::Missing("number")),
        }
    }

    pub(super) fn change(&self, how: Change) -> Result<Request, Unclear> {
        let place = self.place();
        let how = match (&place, how) {
            (Some(place), Change::Moved) => Change::by_moving_to(place),
            (None, Change::Moved) => return Err(Unclear::Missing("place")),
            _ => how,
        };
        if let Some(Value::Share(share)) = self.0.slot("share") {
            return Ok(Request::ChangePart {
                item: self.item()?,
                how,
                share: share.clone(),
                place,
            });
        }
        Ok(Request::Change {
            item: self.item_or_it()?,
            how,
            quantity: self.quantity()?,
            place,
            since: self.since()?,
            of: self.choice(),
        })
    }

    /// Since when; of "last week" nobody knows the day.
    fn since(&self) -> Result<Since, Unclear> {
        match self.words("since") {
            None => Ok(Since::Today),
            Some(words) => Since::read(words).ok_or(Unclear::WhichDay),
        }
    }

    pub(super) fn tag(&self) -> Result<Option<TagNumber>, Unclear> {
        match self.0.slot("tag") {
            None => Ok(None),
            Some(Value::Number(number)) if number.is_integer() => {
                let number = u32::try_from(number.to_integer());
                Ok(Some(TagNumber(
                    number.map_err(|e| Unclear::Tag(e.to_string()))?,
                )))
            }
            Some(other) => Err(Unclear::Tag(other.to_json().to_string())),
        }
    }

    pub(super) fn span(&self) -> Result<Span, Unclear> {
        match self.date()? {
            None => {}
            // The day is said back in the reply, in full; one that doesn't exist is no day to look up to.
            Some(DateReading {
                doubt: None | Some(DateDoubt::Or(_)),
                note,
                ..
            }) => {
                return Ok(Span::Until(note.date));
            }
            Some(DateReading {
                doubt: Some(doubt), ..
            }) => {
                return Err(Unclear::Date(doubt.to_string()));
            }
        }
        Ok(match self.words("span") {
            Some("today") => Span::Today,
            Some("tomorrow") => Span::Tomorrow,
            Some("next week") => Span::NextWeek,
            Some("this month") => Span::Month,
            Some("the next month") => Span::ThirtyDays,
            _ => Span::Week,
        })
    }

    /// Words a minute; what is more than any number of them is no rate either.
    pub(super) fn rate(&self) -> Result<u16, Unclear> {
        match self.0.slot("number") {
            Some(Value::Number(number)) => Ok(number.to_integer().try_into().unwrap_or(u16::MAX)),
            _ => Err(Unclear::Missing("number")),
        }
    }

    pub(super) fn goods(&self) -> Result<Goods, Unclear> {
        let (quantity, date) = (self.quantity()?, self.date()?);
        Ok(Goods {
            item: self.item()?,
            quantity,
            date,
        })
    }
}

/// Words beside "contain" that are on no label: what was said with them isn't noted as if it were.
const HEDGES: [&str; 46] = [
    "i",
    "you",
    "he",
    "she",
    "it",
    "we",
    "they",
    "this",
    "that",
    "there",
    "what",
    "which",
    "who",
    "anything",
    "something",
    "nothing",
    "everything",
    "may",
    "might",
    "can",
    "could",
    "would",
    "should",
    "will",
    "must",
    "never",
    "always",
    "sometimes",
    "often",
    "usually",
    "probably",
    "possibly",
    "maybe",
    "perhaps",
    "definitely",
    "likely",
    "think",
    "do",
    "does",
    "dont",
    "doesnt",
    "not",
    "cannot",
    "cant",
    "still",
    "only",
];

/// Words that stand for what was said before, or for all of it: nothing is ever called so.
const NO_NAMES: [&str; 6] = ["what", "next", "both", "all", "everything", "none"];

/// Why a name that nobody knows can't be one.
fn no_name(name: &str) -> Result<(), Unclear> {
    if NO_NAMES.contains(&name) {
        return Err(Unclear::Missing("name"));
    }
    let words: Vec<&str> = name.split(' ').collect();
    let has_date = |pair: &[&str]| matches!(pair, ["use" | "best" | "sell" | "freeze", "by"]);
    if words.windows(2).any(has_date) {
        return Err(Unclear::Dates);
    }
    if let ["tag", rest @ ..] | ["kitchen" | "temporary", "tag", rest @ ..] = words.as_slice()
        && let Some(number) = (1..=rest.len()).find_map(|end| read_number(&rest[..end]))
        && let Ok(number) = u32::try_from(number.to_integer())
    {
        return Err(Unclear::TagAsName(number));
    }
    if let Some(at) = words.iter().position(|word| *word == "with")
        && matches!(Mark::read(&words[at + 1..]).0.as_deref(), Some([_]))
    {
        return Err(Unclear::Marked(words[..at].join(" ")));
    }
    Ok(())
}

fn is_hedged(name: &str) -> bool {
    name.ends_with(" no") || name.split(' ').any(|word| HEDGES.contains(&word))
}

/// Whether a name that nobody knows goes on with a thing of its own: "flour and two cans of corn", "milk
/// and the eggs". Of "rice and beans" nobody can tell; it is asked about.
fn is_several(name: &str) -> bool {
    name.split(" and ").skip(1).any(|thing| {
        let words: Vec<&str> = thing.split(' ').collect();
        let begins_anew = matches!(words[0], "the" | "some" | "my" | "our");
        let quantity = |end: usize| read_quantity(&words[..end]).is_some();
        words.len() > 1 && (begins_anew || (1..words.len()).any(quantity))
    })
}
