//! The stock: what is in the kitchen, on the list and on temporary tags.
//!
//! In: an [`Event`] with its time and source. Out: the [`Outcome`], once it is on disk; or a
//! [`Refusal`], with nothing changed. Questions read the tables that are derived from the ledger.
//! Each event and what it changes are one transaction; undo is an event too, and the ledger itself
//! is only ever added to. The stock knows nothing of speech.
mod alike;
mod amounts;
mod by_feel;
mod by_hand;
mod choice;
mod clips;
mod clocks;
mod codes;
mod columns;
mod error;
mod event;
mod expiry;
mod facts;
mod feel;
mod feel_words;
mod forecast;
mod items;
mod known;
mod learned;
mod ledger;
mod life;
mod list;
mod look_alikes;
mod lots;
mod low;
mod mark;
mod names;
mod outcome;
mod pace;
mod pool;
mod put_back;
mod running_out;
mod schema;
mod sections;
mod spent;
mod tags;
mod trip;
mod used;

pub use by_feel::{Asked, Candidate, Ranked, Ranking, Sureness, rank};
pub use by_hand::{ByHand, by_hand};
pub use choice::Choice;
pub use clips::Clip;
pub use clocks::{Clock, clock};
pub use codes::Coded;
pub use error::{Refusal, StockError};
pub use event::{Dates, Event, Source};
pub use expiry::{Due, Expiring};
pub use facts::{Fact, Facts, ItemKind};
pub use feel::{
    Build, Container, Feel, Lid, Material, NotAFeel, Property, Shape, Size, Sound, Surface, Weight,
};
pub use forecast::{RunOut, Use, croston, run_out, sba, tsb};
pub use learned::Learned;
pub use ledger::{EventId, Stock};
pub use life::Change;
pub use list::{ListLine, Why};
pub use look_alikes::{free_mark, look_alikes, marked_alike};
pub use lots::{Lot, NotYetKnown, total};
pub use low::Low;
pub use mark::{Mark, MarkKind, NotAMark, Spot};
pub use names::{Allergen, Code, ItemName, NotAName, OwnWords, Place, Section, TagNumber};
pub use outcome::Outcome;
pub use pace::RunningOut;
pub use pool::{PoolTag, TagKind, TagState};
pub use sections::{Comes, StoreOrder};
pub use tags::TemporaryTag;
pub use trip::{LastTrip, Waiting};
