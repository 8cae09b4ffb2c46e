//! What an event did, in facts from which a reply is made.

use super::choice::Choice;
use super::event::Event;
use super::facts::{Fact, Facts};
use super::life::Change;
use super::lots::Lot;
use super::mark::Mark;
use super::names::{ItemName, Section, TagNumber};
use super::sections::Comes;
use super::tags::TemporaryTag;
use crate::measure::Quantity;

/// What an event did. Nothing in it is a guess: what isn't known is absent.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// A lot is on the shelf.
    CameIn {
        /// The lot as it is kept.
        lot: Lot,
        /// The tag it had until then.
        freed: Option<TagNumber>,
        /// Whether it was on the list, and so went off it.
        off_list: bool,
        /// How much of it is still on the list.
        still: Option<Quantity>,
    },
    /// Something was opened, frozen, thawed, or put somewhere else.
    Changed {
        /// What became of it.
        how: Change,
        /// The lots of which that is true now.
        changed: Vec<Lot>,
        /// What else there is of the item.
        others: Vec<Lot>,
    },
    /// Some was used, and some is left.
    Used {
        /// What.
        item: ItemName,
        /// What it was taken from, lot by lot, as they were before.
        from: Vec<Lot>,
        /// What is left, lot by lot in the order to use them.
        left: Vec<Lot>,
    },
    /// All of some lots is gone, and others are left.
    SomeGone {
        /// What.
        item: ItemName,
        /// Which of it were meant.
        of: Choice,
        /// What is left, lot by lot in the order to use them.
        left: Vec<Lot>,
    },
    /// The last of an item is gone.
    Gone {
        /// What.
        item: ItemName,
        /// What was there before.
        lots: Vec<Lot>,
        /// Whether it was on the list before.
        was_listed: bool,
    },
    /// It is on the list.
    Listed {
        /// What.
        item: ItemName,
        /// How much to get, if that was said.
        quantity: Option<Quantity>,
        /// How much was to be got before, if there was a line that said so.
        before: Option<Quantity>,
    },
    /// It is off the list.
    OffList {
        /// What.
        item: ItemName,
        /// Lines left on the list.
        left: usize,
    },
    /// The keep level is set.
    KeepSet {
        /// What.
        item: ItemName,
        /// The least to have in the house.
        level: Quantity,
    },
    /// A temporary tag is written.
    Tagged {
        /// The tag.
        tag: TemporaryTag,
        /// Whether its item went off the list: on a trip, it is in the basket.
        off_list: bool,
        /// How much of it is still to be bought.
        still: Option<Quantity>,
    },
    /// Something more is known of an item.
    Described {
        /// Of what.
        item: ItemName,
        /// What.
        fact: Fact,
    },
    /// A code stands for an item.
    Coded {
        /// For what.
        item: ItemName,
    },
    /// A code stands for a tag.
    TagCoded(TagNumber),
    /// A kitchen tag is on a lot.
    KitchenTagged {
        /// Which tag.
        tag: TagNumber,
        /// What it is on.
        lot: Lot,
        /// What is known of it, for the tag's text.
        facts: Box<Facts>,
    },
    /// A reminder tag is worn.
    Reminded {
        /// For what.
        item: ItemName,
        /// Which tag.
        tag: TagNumber,
    },
    /// Temporary tags are taken along.
    TagsTaken {
        /// Which.
        tags: Vec<TagNumber>,
        /// Whether the row that was said is longer than is taken in one go.
        is_cut: bool,
    },
    /// A tag is lost.
    TagLost {
        /// Which.
        tag: TagNumber,
        /// What it was on.
        was_on: Option<ItemName>,
    },
    /// A tag is there again.
    TagFound(TagNumber),
    /// A spent tag was read.
    TagSpent {
        /// Which.
        tag: TagNumber,
        /// What it was on.
        item: ItemName,
        /// What else there is of it.
        left: Vec<Lot>,
        /// Whether it was on the list before.
        was_listed: bool,
    },
    /// A section comes somewhere else.
    SectionPlaced {
        /// Which.
        section: Section,
        /// Where.
        comes: Comes,
        /// Whether something that is kept cold comes before something that isn't, from now on.
        cold_is_early_now: bool,
    },
    /// The order of the store is the usual one.
    StoreForgotten,
    /// The person goes shopping.
    TripBegun {
        /// Lines on the list.
        lines: usize,
        /// How many of them are there because they are likely to run out.
        running_out: usize,
        /// The reminder tags that are worn.
        worn: Vec<(TagNumber, ItemName)>,
    },
    /// The person is home.
    CameHome {
        /// Things to be put away.
        waiting: usize,
        /// Lines still on the list.
        still_listed: usize,
        /// The reminder tags that are still worn.
        worn: Vec<(TagNumber, ItemName)>,
    },
    /// Something is in the basket.
    Got {
        /// What.
        item: ItemName,
        /// How much: what was said, or else what was to be bought.
        quantity: Option<Quantity>,
        /// What it was taken in place of.
        instead_of: Option<ItemName>,
        /// Whether it was on the list.
        was_listed: bool,
        /// How much of it is still to be bought.
        still: Option<Quantity>,
        /// Lines still to be looked for.
        left: usize,
    },
    /// The store has none.
    NoneThere {
        /// Of what.
        item: ItemName,
        /// Lines still to be looked for.
        left: usize,
    },
    /// A touch mark is on a thing.
    Marked {
        /// What.
        item: ItemName,
        /// The mark.
        mark: Mark,
    },
    /// The touch marks are off a thing.
    Unmarked {
        /// What.
        item: ItemName,
    },
    /// More is known of what is there.
    LotTold {
        /// As it is kept now.
        lot: Lot,
    },
    /// It is known now how much there is.
    Counted {
        /// As it is kept now.
        lot: Lot,
        /// How much had been noted, if it was another amount.
        was: Option<Quantity>,
    },
    /// It is known now where a thing is.
    Located {
        /// The lots of which that wasn't known, as they are kept now.
        lots: Vec<Lot>,
    },
    /// It is known now what a thing is.
    MadeSure {
        /// What.
        item: ItemName,
    },
    /// What was used up is there after all.
    PutBack {
        /// What.
        item: ItemName,
        /// What is there now.
        lots: Vec<Lot>,
    },
    /// What was learned by hearing is forgotten.
    Forgotten {
        /// What.
        item: ItemName,
        /// The ways in which it had been heard.
        forms: Vec<ItemName>,
    },
    /// It is called something else.
    Renamed {
        /// What it was called.
        item: ItemName,
        /// What it is called now.
        name: ItemName,
    },
    /// The sound of new names is kept from now on, or no longer.
    SoundsAllowed {
        /// Whether it is kept.
        keep: bool,
        /// How many are kept already.
        kept: usize,
    },
    /// An event was taken back.
    Undone(Event),
}

impl Outcome {
    /// The item of which there is more or less than before. An undo puts back what followed with the rest.
    pub(super) fn changed_lots_of(&self) -> Option<&ItemName> {
        match self {
            Self::CameIn { lot, .. } | Self::LotTold { lot } | Self::Counted { lot, .. } => {
                Some(&lot.item)
            }
            Self::Used { item, .. }
            | Self::SomeGone { item, .. }
            | Self::Gone { item, .. }
            | Self::TagSpent { item, .. }
            | Self::KeepSet { item, .. }
            | Self::PutBack { item, .. } => Some(item),
            _ => None,
        }
    }
}
