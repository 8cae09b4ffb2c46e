//! A plain model of the stock in memory, written from what the events mean.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDateTime;
use tellshelf::measure::{Amount, Quantity};
use tellshelf::stock::{
    Code, Dates, Event, Facts, ItemName, Labelled, Mark, Refusal, StockError, TagKind,
    Why as Reason,
};

mod clocks;
mod known;
mod round;
mod running_out;
mod seen;
mod shelf;
pub mod steps;
mod store;
mod tags;

pub use seen::{Seen, Thing};

/// What can be told apart when things are used: none of these fits another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Bare,
    Bags,
    Grams,
}

/// A quantity in grams or pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Much {
    pub kind: Kind,
    pub base: Amount,
}

impl Much {
    pub fn of(quantity: &Quantity) -> Self {
        match quantity {
            Quantity::Count { count, pack: None } => Self {
                kind: Kind::Bare,
                base: *count,
            },
            Quantity::Count { count, .. } => Self {
                kind: Kind::Bags,
                base: *count,
            },
            Quantity::Measure { amount, unit } => Self {
                kind: Kind::Grams,
                base: amount * unit.in_base(),
            },
            Quantity::Packs { .. } => unreachable!("not in these days"),
        }
    }

    /// What was noted of a thing, and what came to it.
    fn together(before: Option<Self>, new: Option<Self>) -> Option<Self> {
        match (before, new) {
            (Some(before), Some(new)) if before.fits(new) => Some(Self {
                base: before.base + new.base,
                ..before
            }),
            (before, new) => new.or(before),
        }
    }

    fn fits(self, other: Self) -> bool {
        self.kind == other.kind
    }
}

/// An item, by its place among the names: what it is called may change.
pub type Item = usize;

#[derive(Debug, Clone, PartialEq)]
struct Lot {
    item: Item,
    much: Option<Much>,
    place: Option<String>,
    dates: Dates,
    mark: Option<Mark>,
    tag: Option<u32>,
    unsure: bool,
    /// For how many days it was thawed, and had been frozen since it was opened, before it was frozen again.
    before: Option<(i64, i64)>,
    came: NaiveDateTime,
}

#[derive(Debug, Clone, PartialEq)]
struct Line {
    item: Item,
    much: Option<Much>,
    why: (Reason, NaiveDateTime),
    /// The trip on which the store had none of it.
    missing: Option<usize>,
}

/// A temporary tag that is on something.
#[derive(Debug, Clone, PartialEq)]
struct Temporary {
    item: Item,
    much: Option<Much>,
    dates: Dates,
    mark: Option<Mark>,
    written: NaiveDateTime,
}

/// What is remembered of a tag beside that.
#[derive(Debug, Clone, PartialEq)]
struct Remembered {
    kind: TagKind,
    state: State,
    code: Option<Code>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum State {
    Free,
    InHand,
    On(Item),
    Spent(Item),
    Lost,
}

#[derive(Debug, Clone, PartialEq)]
struct Trip {
    began: NaiveDateTime,
    is_over: bool,
    bought: BTreeMap<Item, Option<Much>>,
}

/// A thing that was bought, has no tag, and has no place yet.
#[derive(Debug, Clone, PartialEq)]
struct Bought {
    much: Option<Much>,
    mark: Option<Mark>,
}

/// All that is derived from the ledger. Lots, lines and uses stand in the order they came.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Model {
    names: Vec<String>,
    lots: Vec<Lot>,
    list: Vec<Line>,
    /// What the person took off the list: it isn't put back by itself for now.
    kept_off: BTreeSet<Item>,
    tags: BTreeMap<u32, Temporary>,
    pool: BTreeMap<u32, Remembered>,
    trips: Vec<Trip>,
    /// The person's own order of the store, of which only a few sections matter here.
    store: Option<Vec<String>>,
    basket: BTreeMap<Item, Bought>,
    keep: BTreeMap<Item, Much>,
    facts: BTreeMap<Item, Facts>,
    codes: BTreeMap<Code, Item>,
    uses: Vec<(Item, NaiveDateTime, Option<Much>)>,
    /// What the last event of an item took off the shelf, if it noted it as used up, and when.
    gone: BTreeMap<Item, (Vec<Lot>, NaiveDateTime)>,
    /// How things were heard, and what that means.
    heard: BTreeMap<String, Item>,
    keeps_sounds: bool,
}

/// Why something is refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    NoneLeft,
    NoneSuch,
    NotEnough,
    OtherMeasure,
    UnknownAmount,
    AllSoAlready,
    NotListed,
    AlreadyListed,
    NoSuchTag,
    NothingLearned,
    NeverHad,
    NameTaken,
    TagInUse,
    OtherTag,
    TagOnNothing,
    TagIsLost,
    TagNotLost,
    NoneToTake,
    AllTagged,
    CodeTaken,
    MarkTaken,
    OnTrip,
    NotOnTrip,
    SameSection,
    NoOwnOrder,
    NothingWaiting,
    KnownAlready,
    WhichLot,
    NothingToPutBack,
    NothingToUndo,
    NoAmount,
}

impl Why {
    /// The model's word for what the stock says.
    pub fn of(error: &StockError) -> Self {
        match error {
            StockError::NoAmount { .. } => Self::NoAmount,
            StockError::Refused(refusal) => match refusal {
                Refusal::NoneLeft { .. } => Self::NoneLeft,
                Refusal::NoneSuch { .. } => Self::NoneSuch,
                Refusal::NotEnough { .. } => Self::NotEnough,
                Refusal::OtherMeasure { .. } => Self::OtherMeasure,
                Refusal::UnknownAmount { .. } => Self::UnknownAmount,
                Refusal::AllSoAlready { .. } => Self::AllSoAlready,
                Refusal::NotListed { .. } => Self::NotListed,
                Refusal::AlreadyListed { .. } => Self::AlreadyListed,
                Refusal::NoSuchTag(_) => Self::NoSuchTag,
                Refusal::NothingLearned { .. } => Self::NothingLearned,
                Refusal::NeverHad { .. } => Self::NeverHad,
                Refusal::NameTaken { .. } => Self::NameTaken,
                Refusal::TagInUse { .. } => Self::TagInUse,
                Refusal::OtherTag { .. } => Self::OtherTag,
                Refusal::TagOnNothing(_) => Self::TagOnNothing,
                Refusal::TagIsLost(_) => Self::TagIsLost,
                Refusal::TagNotLost(_) => Self::TagNotLost,
                Refusal::NoneToTake { .. } => Self::NoneToTake,
                Refusal::AllTagged { .. } => Self::AllTagged,
                Refusal::CodeTaken { .. } => Self::CodeTaken,
                Refusal::MarkTaken { .. } => Self::MarkTaken,
                Refusal::OnTrip => Self::OnTrip,
                Refusal::NotOnTrip => Self::NotOnTrip,
                Refusal::SameSection { .. } => Self::SameSection,
                Refusal::NoOwnOrder => Self::NoOwnOrder,
                Refusal::NothingWaiting { .. } => Self::NothingWaiting,
                Refusal::KnownAlready { .. } => Self::KnownAlready,
                Refusal::WhichLot { .. } => Self::WhichLot,
                Refusal::NothingToPutBack { .. } => Self::NothingToPutBack,
                Refusal::NothingToUndo => Self::NothingToUndo,
            },
            failure => panic!("{failure}"),
        }
    }
}

/// A quantity that can be kept.
fn much(quantity: &Option<Quantity>) -> Result<Option<Much>, Why> {
    match quantity.as_ref().map(Much::of) {
        Some(much) if much.base <= Amount::from_integer(0) => Err(Why::NoAmount),
        much => Ok(much),
    }
}

impl Model {
    fn known(&self, name: &ItemName) -> Option<Item> {
        self.names.iter().position(|known| known == name.as_str())
    }

    /// The item of a name, from its first mention on.
    fn mention(&mut self, name: &ItemName) -> Item {
        self.known(name).unwrap_or_else(|| {
            self.names.push(name.to_string());
            self.names.len() - 1
        })
    }

    fn is_listed(&self, item: Item) -> bool {
        self.list.iter().any(|line| line.item == item)
    }

    /// Puts an item on the list, unless it is there.
    fn list(&mut self, item: Item, much: Option<Much>, why: Reason, at: NaiveDateTime) {
        if !self.is_listed(item) {
            self.list.push(Line {
                item,
                much,
                why: (why, at),
                missing: None,
            });
        }
    }

    /// So much was bought of what is on the list: what is still to get stays on it.
    fn buy(&mut self, item: Item, much: Option<Much>) {
        let line = self.list.iter_mut().find(|line| line.item == item);
        let wanted = line.and_then(|line| line.much.as_mut());
        match (wanted, much) {
            (Some(wanted), Some(much)) if wanted.fits(much) && much.base < wanted.base => {
                wanted.base -= much.base;
            }
            _ => self.unlist(item),
        }
    }

    fn unlist(&mut self, item: Item) {
        self.list.retain(|line| line.item != item);
    }

    fn rename(&mut self, item: &ItemName, name: &ItemName) -> Result<(), Why> {
        let known = self.known(item).ok_or(Why::NeverHad)?;
        if self.known(name).is_some() {
            return Err(Why::NameTaken);
        }
        self.heard.remove(name.as_str());
        self.names[known] = name.to_string();
        self.heard.entry(item.to_string()).or_insert(known);
        Ok(())
    }

    /// What an event does. After a refusal the model is of no use any more.
    pub fn apply(&mut self, event: &Event, at: NaiveDateTime) -> Result<(), Why> {
        let counted = self.counted_anew(event);
        self.apply_alone(event, at)?;
        if let Some(item) = event.brings_in() {
            self.another_pack(item);
        }
        if let Some(item) = counted {
            self.list_if_low(&item, at);
        }
        if let Event::Used { item, .. } | Event::UsedUp { item, .. } = event
            && let Some(item) = self.known(item)
        {
            self.list_if_soon(item, at);
        }
        // Something else was done with it: what was gone before isn't put back any more.
        let about = match event {
            Event::UsedUp { .. }
            | Event::Spent { .. }
            | Event::Heard { .. }
            | Event::Renamed { .. } => None,
            Event::GotInstead { item, .. } => self.known(item),
            _ => event.item().and_then(|item| self.known(item)),
        };
        if let Some(item) = about {
            self.gone.remove(&item);
        }
        Ok(())
    }

    fn apply_alone(&mut self, event: &Event, at: NaiveDateTime) -> Result<(), Why> {
        match event {
            Event::PutIn {
                item,
                quantity,
                place,
                dates,
            } => {
                let lot = Lot {
                    item: self.mention(item),
                    much: much(quantity)?,
                    place: place.as_ref().map(|place| place.to_string()),
                    dates: dates.clone(),
                    mark: None,
                    tag: None,
                    unsure: false,
                    before: None,
                    came: at,
                };
                self.put_in(lot, false);
            }
            Event::PutAway { tag, place } => self.put_away(tag.0, place, at)?,
            Event::Stowed {
                item,
                place,
                unsure,
            } => self.stow(item, place, *unsure, at)?,
            Event::Changed {
                item,
                how,
                quantity,
                place,
                on,
                of,
            } => {
                let much = quantity.as_ref().map(Much::of);
                self.change(item, of, *how, much, place.as_ref(), *on)?;
            }
            Event::UsedUp { item, of } => {
                let item = self.mention(item);
                self.use_up(item, of, at)?;
            }
            Event::Used { item, quantity, of } => {
                self.take(item, Much::of(quantity), of, at)?;
            }
            Event::MadeSure { item } => self.make_sure(item)?,
            Event::Dated {
                item,
                kind,
                date,
                of: Some(Labelled::Tag(tag)),
            } => self.date_tag(item, tag.0, *kind, *date)?,
            // The model's lots have no numbers; what is dated by its number is tested by itself.
            Event::Dated {
                item, kind, date, ..
            } => self.date(item, *kind, *date)?,
            Event::DateChanged { item, kind, date } => self.change_date(item, *kind, *date)?,
            Event::Counted {
                item,
                quantity,
                place,
            } => self.count(item, Much::of(quantity), place.as_ref())?,
            Event::Located { item, place } => self.locate(item, place)?,
            Event::PutBack { item } => self.put_back(item)?,
            Event::Listed { item, quantity } => {
                let (item, quantity) = (self.mention(item), much(quantity)?);
                match self.list.iter_mut().find(|line| line.item == item) {
                    Some(_) if quantity.is_none() => return Err(Why::AlreadyListed),
                    Some(line) => line.much = quantity,
                    None => self.list(item, quantity, Reason::AskedFor, at),
                }
            }
            Event::Unlisted { item } => {
                let item = self.known(item).filter(|item| self.is_listed(*item));
                self.take_off_list(item.ok_or(Why::NotListed)?);
            }
            Event::KeptAt { item, level } => {
                let item = self.mention(item);
                self.keep.insert(item, Much::of(level));
            }
            Event::Described { item, fact } => self.describe(item, fact),
            Event::Coded { item, code } => {
                let item = self.mention(item);
                self.check_new(code)?;
                self.codes.insert(code.clone(), item);
            }
            Event::TagCoded { tag, code } => self.code_tag(tag.0, code)?,
            Event::Tagged {
                item,
                quantity,
                dates,
            } => self.tag(item, much(quantity)?, dates, at)?,
            Event::KitchenTagged { item, tag, .. } => self.tag_in_kitchen(item, tag.0)?,
            Event::Reminded { item, tag } => self.remind(item, tag.0)?,
            Event::TagsTaken { first, last } => self.take_tags(first.0..=last.0)?,
            Event::TagLost { tag } => self.lose(tag.0)?,
            Event::TagFound { tag } => self.find_again(tag.0)?,
            Event::TagSpent { tag } => self.spend(tag.0, at)?,
            Event::Spent { item } => {
                let item = self.mention(item);
                self.use_up(item, &Default::default(), at)?;
                self.free_spent(item);
            }
            Event::SectionPlaced { section, comes } => self.place_section(section, comes)?,
            Event::StoreForgotten => {
                if self.store.is_none() {
                    return Err(Why::NoOwnOrder);
                }
                self.store = None;
            }
            Event::TripBegun => self.begin_trip(at)?,
            Event::CameHome => self.come_home()?,
            Event::Got { item, quantity } => self.got(item, item, much(quantity)?)?,
            Event::GotInstead { item, instead } => self.got_instead(item, instead)?,
            Event::NoneThere { item } => self.none_there(item)?,
            Event::Marked { item, mark } => self.mark(item, *mark)?,
            Event::Unmarked { item } => self.unmark(item)?,
            Event::Heard { what, forms } => {
                self.apply(what, at)?;
                if let Some(item) = what.item() {
                    let item = self.mention(item);
                    for form in forms.iter().map(ItemName::to_string) {
                        if !self.names.contains(&form) {
                            self.heard.entry(form).or_insert(item);
                        }
                    }
                }
            }
            Event::Unheard { item } => {
                let item = self.known(item).ok_or(Why::NothingLearned)?;
                let forms = self.heard.len();
                self.heard.retain(|_, known| *known != item);
                if self.heard.len() == forms {
                    return Err(Why::NothingLearned);
                }
            }
            Event::SoundsAllowed { keep } => self.keeps_sounds = *keep,
            Event::Renamed { item, name } => self.rename(item, name)?,
            Event::Undone { .. } => unreachable!("told as Step::Undo"),
        }
        Ok(())
    }
}
