//! Share: the list and tags in forms for others, and for other devices.
//!
//! In: what the stock knows of a thing, as facts with their need; or a text.
//! Out: a text that fits a tag ([`tag_text()`]); or the bytes that an NFC tag holds ([`TypeTwo`]).
//! It speaks to no device and opens no file. What doesn't fit is said, never cut off in silence.
mod kitchen_tag;
mod ndef;
mod tag_text;

pub use kitchen_tag::{reminder_facts, tag_facts, temporary_tag_facts};
pub use ndef::{TooLong, TypeTwo, text_record};
pub use tag_text::{Fact, Need, NoRoom, TagText, tag_text};
