//! What an event did, in facts from which a reply is made.

use super::event::{Event, ItemName, TagNumber};
use super::life::Change;
use super::lots::Lot;
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
        /// What it was taken from first, as that was before.
        from: Lot,
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
    Tagged(TemporaryTag),
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
