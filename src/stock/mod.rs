//! The stock: what is in the kitchen, on the list and on temporary tags.
//!
//! In: an [`Event`] with its time and source. Out: the [`Outcome`], once it is on disk; or a
//! [`Refusal`], with nothing changed. Questions read the tables that are derived from the ledger.
//! Each event and what it changes are one transaction; undo is an event too, and the ledger itself
//! is only ever added to. The stock knows nothing of speech.
mod alike;
mod amounts;
mod by_feel;
mod clips;
mod error;
mod event;
mod expiry;
mod forecast;
mod feel;
mod feel_words;
mod items;
mod learned;
mod ledger;
mod life;
mod list;
mod look_alikes;
mod lots;
mod low;
mod mark;
mod outcome;
mod schema;
mod tags;

pub use by_feel::{Asked, Candidate, Ranked, Ranking, Sureness, rank};
pub use clips::Clip;
pub use error::{Refusal, StockError};
pub use event::{Dates, Event, ItemName, NotAName, Place, Source, TagNumber};
pub use expiry::Expiring;
pub use forecast::{RunOut, Use, croston, run_out, sba, tsb};
pub use feel::{
    Build, Container, Feel, Lid, Material, NotAFeel, Property, Shape, Size, Sound, Surface, Weight,
};
pub use learned::Learned;
pub use ledger::{EventId, Stock};
pub use life::Change;
pub use list::{ListLine, Why};
pub use look_alikes::{free_mark, look_alikes};
pub use lots::{Lot, total};
pub use low::Low;
pub use mark::{Mark, MarkKind, NotAMark, Spot};
pub use outcome::Outcome;
pub use tags::TemporaryTag;
