//! Guide: published storage times, each with its source.
//!
//! In: the name of a food, and how it is kept ([`Kept`]). Out: the time that is published for it
//! ([`Published`]), or nothing. It stands beside the way: it knows nothing of the kitchen, and only takes
//! what stands in its two tables, `foods.tsv` and `storage.tsv`, and in the starter list of goods. A name that isn't in them is never
//! taken for one that is. None of it says that something is safe: it is what was published, and the label goes first.
mod goods;
mod not_food;
mod storage;
mod time;

pub use goods::{Good, Goods, goods};
pub use not_food::{NotFood, not_food, things_not_food};
pub use storage::{Food, Kept, Published, Source, find, find_in_can, is_leftover};
pub use time::{NotAStorageTime, Span, StorageTime};
