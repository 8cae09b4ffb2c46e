//! What can happen to the stock, as plain values.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::amounts;
use super::choice::Choice;
use super::facts::Fact;
use super::life::Change;
use super::mark::Mark;
use super::names::{Code, ItemName, Place, Section, TagNumber};
use super::sections::Comes;
use crate::measure::{DateKind, DateNote, Quantity};

/// The dates on a thing: at most one of each kind.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::DateKind;
/// use tellshelf::stock::Dates;
/// let mut dates = Dates::default();
/// dates.insert(DateKind::UseBy, NaiveDate::from_ymd_opt(2026, 12, 3).unwrap());
/// assert_eq!(dates.iter().count(), 1);
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(
    into = "BTreeMap<String, NaiveDate>",
    try_from = "BTreeMap<String, NaiveDate>"
)]
pub struct Dates(BTreeMap<DateKind, NaiveDate>);

impl Dates {
    /// Notes a date; one of the same kind is replaced.
    pub fn insert(&mut self, kind: DateKind, date: NaiveDate) {
        self.0.insert(kind, date);
    }

    /// The dates, in the order of [`DateKind`].
    pub fn iter(&self) -> impl Iterator<Item = DateNote> + '_ {
        self.0.iter().map(|(kind, date)| DateNote {
            kind: Some(*kind),
            date: *date,
        })
    }

    /// The date of a kind.
    pub fn get(&self, kind: DateKind) -> Option<NaiveDate> {
        self.0.get(&kind).copied()
    }

    /// The first date by which something should be done with the thing.
    pub fn first_ahead(&self) -> Option<NaiveDate> {
        self.0
            .iter()
            .filter(|(kind, _)| kind.looks_ahead())
            .map(|(_, date)| *date)
            .min()
    }
}

impl From<Dates> for BTreeMap<String, NaiveDate> {
    fn from(dates: Dates) -> Self {
        dates
            .0
            .into_iter()
            .map(|(kind, date)| (kind.name().to_owned(), date))
            .collect()
    }
}

impl TryFrom<BTreeMap<String, NaiveDate>> for Dates {
    type Error = crate::measure::NotADateKind;

    fn try_from(dates: BTreeMap<String, NaiveDate>) -> Result<Self, Self::Error> {
        let dates = dates
            .into_iter()
            .map(|(kind, date)| Ok((kind.parse()?, date)));
        dates.collect::<Result<_, _>>().map(Self)
    }
}

/// Which of several things has a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Labelled {
    /// The lot with this number.
    Lot(i64),
    /// What has this temporary tag.
    Tag(TagNumber),
}

/// Something that happened to the stock. The ledger keeps it as JSON.
///
/// ```
/// use tellshelf::stock::{Event, ItemName};
/// let item = ItemName::new("oats").unwrap();
/// let event = Event::Used { item, quantity: "1/2 cup".parse().unwrap(), of: Default::default() };
/// let text = serde_json::to_string(&event).unwrap();
/// assert_eq!(text, r#"{"event":"used","item":"oats","quantity":"1/2 cup"}"#);
/// assert_eq!(serde_json::from_str::<Event>(&text).unwrap(), event);
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "kebab-case")]
pub enum Event {
    /// Something came in.
    PutIn {
        /// What.
        item: ItemName,
        /// How much, if it was said.
        #[serde(default, deserialize_with = "amounts::maybe_in_event")]
        quantity: Option<Quantity>,
        /// Where to, if it was said.
        place: Option<Place>,
        /// Its dates.
        dates: Dates,
    },
    /// A thing with a temporary tag got its place; the tag is free again.
    PutAway {
        /// The tag.
        tag: TagNumber,
        /// Where to.
        place: Place,
    },
    /// Something was opened, frozen, thawed, or put somewhere else.
    Changed {
        /// What.
        item: ItemName,
        /// What became of it.
        how: Change,
        /// How much of it, if that was said.
        #[serde(default, deserialize_with = "amounts::maybe_in_event")]
        quantity: Option<Quantity>,
        /// Where it is now, if that was said.
        place: Option<Place>,
        /// When.
        on: NaiveDate,
        /// Which lots of it, if that was said.
        #[serde(default, skip_serializing_if = "Choice::is_any")]
        of: Choice,
    },
    /// Nothing is left of an item: it goes off the shelf and onto the list.
    UsedUp {
        /// What.
        item: ItemName,
        /// Which lots of it, if that was said.
        #[serde(default, skip_serializing_if = "Choice::is_any")]
        of: Choice,
    },
    /// Some of an item was used.
    Used {
        /// What.
        item: ItemName,
        /// How much.
        #[serde(deserialize_with = "amounts::in_event")]
        quantity: Quantity,
        /// Which lots of it, if that was said.
        #[serde(default, skip_serializing_if = "Choice::is_any")]
        of: Choice,
    },
    /// An item goes onto the list, or its line gets another quantity.
    Listed {
        /// What.
        item: ItemName,
        /// How much to get, if it was said.
        #[serde(default, deserialize_with = "amounts::maybe_in_event")]
        quantity: Option<Quantity>,
    },
    /// A line goes off the list unbought.
    Unlisted {
        /// What.
        item: ItemName,
    },
    /// A thing on the list is in the basket.
    Got {
        /// What.
        item: ItemName,
        /// How much, if that was said: of what was to be bought, the rest stays on the list.
        #[serde(
            default,
            deserialize_with = "amounts::maybe_in_event",
            skip_serializing_if = "Option::is_none"
        )]
        quantity: Option<Quantity>,
    },
    /// The least of an item to have in the house.
    KeptAt {
        /// What.
        item: ItemName,
        /// How much.
        #[serde(deserialize_with = "amounts::in_event")]
        level: Quantity,
    },
    /// A temporary tag was dictated. It gets the lowest free number.
    Tagged {
        /// What it is on.
        item: ItemName,
        /// How much, if it was said.
        #[serde(default, deserialize_with = "amounts::maybe_in_event")]
        quantity: Option<Quantity>,
        /// The dates read out.
        dates: Dates,
    },
    /// Something that was heard in these ways where its item was named: it goes by them as well from
    /// now on. Both are one event, so that both are taken back together.
    Heard {
        /// What happened.
        what: Box<Event>,
        /// How the item's name was heard.
        forms: Vec<ItemName>,
    },
    /// The ways in which an item was heard are names of it no longer.
    Unheard {
        /// What.
        item: ItemName,
    },
    /// An item is called something else. Its old name is kept as a way in which it was heard.
    Renamed {
        /// What it was called.
        item: ItemName,
        /// What it is called from now on.
        name: ItemName,
    },
    /// The person allows that the sound of new names is kept, or no longer.
    SoundsAllowed {
        /// Whether it is kept from now on.
        keep: bool,
    },
    /// Something became known of an item.
    Described {
        /// Of what.
        item: ItemName,
        /// What.
        fact: Fact,
    },
    /// A code stands on packs of an item.
    Coded {
        /// On what.
        item: ItemName,
        /// The code.
        code: Code,
    },
    /// A code is what a scanner reads off a tag.
    TagCoded {
        /// Off which.
        tag: TagNumber,
        /// The code.
        code: Code,
    },
    /// A kitchen tag was put on what came in last of an item.
    KitchenTagged {
        /// On what.
        item: ItemName,
        /// Which tag.
        tag: TagNumber,
        /// On which of it, if that was said.
        #[serde(default, skip_serializing_if = "Choice::is_any")]
        of: Choice,
    },
    /// A reminder tag was put with the things that are worn to the store.
    Reminded {
        /// Of what.
        item: ItemName,
        /// Which tag.
        tag: TagNumber,
    },
    /// Temporary tags are taken along to the store.
    TagsTaken {
        /// The first.
        first: TagNumber,
        /// The last.
        last: TagNumber,
    },
    /// A tag can't be found.
    TagLost {
        /// Which.
        tag: TagNumber,
    },
    /// A tag that was lost is there again.
    TagFound {
        /// Which.
        tag: TagNumber,
    },
    /// A tag was taken off an empty pack: what it was on is gone, and is to be bought.
    TagSpent {
        /// Which.
        tag: TagNumber,
    },
    /// The same of an item named by its name: all of it is gone, and its kitchen tags are free.
    Spent {
        /// What.
        item: ItemName,
    },
    /// A section comes somewhere else in the person's store than it did so far.
    SectionPlaced {
        /// Which.
        section: Section,
        /// Where.
        comes: Comes,
    },
    /// The order of the store is the usual one again.
    StoreForgotten,
    /// The person goes shopping.
    TripBegun,
    /// The person is home again.
    CameHome,
    /// The store has none of what is on the list: it stays there for the next time.
    NoneThere {
        /// Of what.
        item: ItemName,
    },
    /// Something else was taken in place of what is on the list.
    GotInstead {
        /// What is on the list.
        item: ItemName,
        /// What was taken.
        instead: ItemName,
    },
    /// The person put a touch mark on a thing: on the one on its way home, or else on what is there.
    Marked {
        /// What.
        item: ItemName,
        /// The mark.
        mark: Mark,
    },
    /// The touch marks of a thing were taken off.
    Unmarked {
        /// What.
        item: ItemName,
    },
    /// A thing from the trip got its place.
    Stowed {
        /// What.
        item: ItemName,
        /// Where.
        place: Place,
        /// Whether nobody could tell for sure what it is: it isn't used before that is known.
        unsure: bool,
    },
    /// A date was read off a thing that is there.
    Dated {
        /// Off what.
        item: ItemName,
        /// What it means.
        #[serde(with = "date_kind")]
        kind: DateKind,
        /// The day.
        date: NaiveDate,
        /// Off which of several, if that was said; else what came last of those without such a date.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        of: Option<Labelled>,
    },
    /// The date of what came last is another one: of the newest temporary tag on it, or else of the newest lot.
    ///
    /// It isn't [`Self::Dated`], which looks for what has no such date yet.
    DateChanged {
        /// Of what.
        item: ItemName,
        /// What it means.
        #[serde(with = "date_kind")]
        kind: DateKind,
        /// The day.
        date: NaiveDate,
    },
    /// How much there is of a thing was found out.
    Counted {
        /// Of what.
        item: ItemName,
        /// How much.
        #[serde(deserialize_with = "amounts::in_event")]
        quantity: Quantity,
        /// Only what is there; absent where no place was said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<Place>,
    },
    /// It was found out where a thing is of which that wasn't known.
    Located {
        /// What.
        item: ItemName,
        /// Where.
        place: Place,
    },
    /// It is known now what a thing is: it is what it was taken for.
    MadeSure {
        /// What.
        item: ItemName,
    },
    /// What was noted as used up is there after all.
    PutBack {
        /// What.
        item: ItemName,
    },
    /// An earlier event was taken back.
    Undone {
        /// Its number in the ledger: the last that wasn't taken back before.
        id: i64,
    },
}

impl Event {
    /// The item of which another pack comes in by it, if one does.
    pub fn brings_in(&self) -> Option<&ItemName> {
        match self {
            Self::PutIn { item, .. } | Self::Tagged { item, .. } | Self::Got { item, .. } => {
                Some(item)
            }
            Self::GotInstead { instead, .. } => Some(instead),
            Self::Heard { what, .. } => what.brings_in(),
            _ => None,
        }
    }

    /// The item that it is about, if it names one; of a renamed one, the new name.
    ///
    /// ```
    /// use tellshelf::stock::{Event, ItemName};
    /// let item = ItemName::new("oats").unwrap();
    /// assert_eq!(Event::Unlisted { item: item.clone() }.item(), Some(&item));
    /// assert_eq!(Event::Undone { id: 1 }.item(), None);
    /// ```
    pub fn item(&self) -> Option<&ItemName> {
        match self {
            Self::PutIn { item, .. }
            | Self::Changed { item, .. }
            | Self::UsedUp { item, .. }
            | Self::Used { item, .. }
            | Self::Listed { item, .. }
            | Self::Unlisted { item }
            | Self::Got { item, .. }
            | Self::KeptAt { item, .. }
            | Self::Tagged { item, .. }
            | Self::Unheard { item }
            | Self::Described { item, .. }
            | Self::Coded { item, .. }
            | Self::KitchenTagged { item, .. }
            | Self::Reminded { item, .. }
            | Self::Spent { item }
            | Self::NoneThere { item }
            | Self::GotInstead { instead: item, .. }
            | Self::Marked { item, .. }
            | Self::Unmarked { item }
            | Self::Stowed { item, .. }
            | Self::Dated { item, .. }
            | Self::DateChanged { item, .. }
            | Self::Counted { item, .. }
            | Self::Located { item, .. }
            | Self::MadeSure { item }
            | Self::PutBack { item }
            | Self::Renamed { name: item, .. } => Some(item),
            Self::Heard { what, .. } => what.item(),
            Self::PutAway { .. }
            | Self::SoundsAllowed { .. }
            | Self::TagCoded { .. }
            | Self::TagsTaken { .. }
            | Self::TagLost { .. }
            | Self::TagFound { .. }
            | Self::TagSpent { .. }
            | Self::SectionPlaced { .. }
            | Self::StoreForgotten
            | Self::TripBegun
            | Self::CameHome
            | Self::Undone { .. } => None,
        }
    }
}

/// A kind of date by its name, as everywhere in the file.
mod date_kind {
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    use crate::measure::DateKind;

    pub fn serialize<S: Serializer>(kind: &DateKind, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(kind.name())
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<DateKind, D::Error> {
        let text = String::deserialize(from)?;
        text.parse().map_err(D::Error::custom)
    }
}

/// By which way an event came in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Spoken at the microphone.
    Microphone,
    /// Spoken in a recording.
    Recording,
    /// Typed, or read by a scanner that types.
    Typed,
}

impl Source {
    /// The word for it in the ledger.
    pub fn name(self) -> &'static str {
        match self {
            Self::Microphone => "microphone",
            Self::Recording => "recording",
            Self::Typed => "typed",
        }
    }
}
