//! The voice: a reply comes in as plain text; captions and speech go out.
//!
//! In: [`Voice::say`], one finished reply at a time, and [`Voice::play`], a sound that goes with it. It knows nothing of food, stock or grammar.
//! Out: the caption, one reply a line, flushed at once; and the same words spoken by the machine's
//! own speech service ([`Speech`]). Speech may be missing or be lost; captions always go on.
//! Beside the way: [`check`] says in one line whether speech works, and [`VoiceError`] how to mend it.

mod captions;
mod check;
mod error;
mod manner;
mod playback;
mod service;
mod speech;
mod tones;
#[expect(
    clippy::module_inception,
    reason = "the room is named after what lives in it"
)]
mod voice;

pub use captions::Captions;
pub use check::check;
pub use error::VoiceError;
pub use speech::{Opened, Opening, Speech};
pub use tones::{TONE_RATE, Tone};
pub use voice::{Loudness, Voice};
