//! The settings: how the person wants to be listened to and spoken to.
//!
//! In: one YAML file that a person can read and write ([`Settings::read`]). Out: plain values, each within its limits, and
//! the file again ([`Settings::write`]) where something was changed by voice.
//! It stands beside the way and knows no other room.
mod error;
mod file;
mod limits;

pub use error::SettingsError;
pub use file::{Listening, Settings, Speaking, Tones};
pub use limits::{OutOfRange, Patience, Percent, Rate, Replies, Window};
