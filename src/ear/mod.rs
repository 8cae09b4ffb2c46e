//! The ear: sound becomes hypotheses.
//!
//! In: a recording, or the microphone. Out: one [`Sound`] for each utterance, and for each of those
//! what the recognisers think was said, as [`Hypothesis`] values, best first.
//! The ear knows nothing of food, stock or replies; a recogniser that can be guided takes its
//! [`Guide`] with the sound.
mod echo;
mod eight_bit;
mod endpoint;
mod error;
mod guided;
mod level;
mod messages;
mod microphone;
mod models;
mod moonshine;
mod network;
mod phrases;
mod recogniser;
mod recording;
mod resample;
mod sound;
mod tokens;
mod vosk;

pub use echo::cancels_echo;
pub use endpoint::{Endpoint, EndpointSettings, quiet_at_end, utterances_in};
pub use error::EarError;
pub use level::Level;
pub use microphone::{Backlog, Microphone, Moment};
pub use models::Models;
pub use moonshine::Moonshine;
pub use network::{Encoded, Hearing, Network};
pub use phrases::Phrases;
pub use recogniser::{Guide, GuideFit, Hypothesis, Recogniser};
pub use recording::{LONGEST_RECORDING_SECONDS, read_recording};
pub use resample::{HIGHEST_RATE, Resampler, resample};
pub use sound::{RATE, Sound};
pub use tokens::{BEGIN, END, Tokens};
pub use vosk::Vosk;
