//! Whether speech works.

use std::time::{Duration, Instant};

use super::{Speech, VoiceError};

/// How long a sentence of two words may take: about a second, and a sound device may wake up slowly.
const SHORT_SENTENCE: Duration = Duration::from_secs(10);

/// Speaks two words aloud and says in one line how it went. Takes at most 20 seconds, mostly one or
/// two.
///
/// # Errors
/// The [`VoiceError`] whose message says how to mend it.
pub fn check() -> Result<String, VoiceError> {
    let mut speech = Speech::open()?;
    let started = Instant::now();
    speech.say("Speech works.")?;
    if speech.wait(SHORT_SENTENCE)? {
        let seconds = started.elapsed().as_secs_f32();
        Ok(format!(
            "Speech works: I said two words in {seconds:.1} seconds."
        ))
    } else {
        Err(VoiceError::Unspoken(SHORT_SENTENCE))
    }
}
