//! Measure: numbers, quantities and dates, between the words people say and exact values.
//!
//! In: words in normal form (small letters, no digits), as the grammar matched them; or a value.
//! Out: a value ([`Amount`], [`Quantity`], [`Share`], [`DateReading`]); or the words that say it.
//! It stands beside the way: several rooms use it, and it knows none of them. Nothing is rounded
//! until it is spoken, and what can't be read is `None` or an error, never a guess.
mod amount_said;
mod calendar;
mod date;
mod date_code;
mod date_kind;
mod date_said;
mod date_words;
mod gtin;
mod number;
mod quantity;
mod quantity_read;
mod quantity_said;
mod reading;
mod share;
mod spell;
mod unit;

pub use amount_said::say_amount;
pub use date::read_date;
pub use date_code::read_gs1_date;
pub use date_kind::{DateKind, NotADateKind};
pub use date_said::{say_date, say_date_to_check, say_distance};
pub use gtin::{Gtin, NotAGtin};
pub use number::{Amount, read_number};
pub use quantity::{Mismatch, NotAQuantity, Quantity};
pub use quantity_read::read_quantity;
pub use reading::{Calendar, DateDoubt, DateNote, DateOrder, DateReading, NotADate};
pub use share::{Share, read_share};
pub use spell::{spell, spell_ordinal};
pub use unit::{Dimension, Pack, Unit};
