//! Measure: numbers, quantities and dates, between the words people say and exact values.
//!
//! In: words in normal form (small letters, no digits), as the grammar matched them; or a value.
//! Out: a value ([`Amount`], [`Quantity`], [`DateNote`]); or the words that say it.
//! It stands beside the way: several rooms use it, and it knows none of them. Nothing is rounded
//! until it is spoken, and what can't be read is `None` or an error, never a guess.
mod date;
mod number;
mod quantity;
mod unit;

pub use date::{DateError, DateKind, DateNote, NotADateKind, read_date, say_date};
pub use number::{Amount, read_number, say_amount, spell, spell_ordinal};
pub use quantity::{Mismatch, NotAQuantity, Quantity, read_quantity};
pub use unit::{Dimension, Pack, Unit};
