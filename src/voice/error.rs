//! What can go wrong with speech, in words that also work when they are spoken.

use std::time::Duration;

use thiserror::Error;

/// Why there is no speech, and what to do next.
///
/// Each message is one line of whole sentences: it is read aloud by a screen reader, or under the
/// fingers on a braille display, by someone who has just lost the voice they work with.
#[derive(Debug, Error)]
pub enum VoiceError {
    /// There is no speech service, and none could be started.
    #[error(
        "I can't speak: the speech service isn't running. \
         Install speech-dispatcher and espeak-ng, then start me again."
    )]
    NotRunning(#[source] Box<dyn std::error::Error + Send + Sync>),
    /// The speech service is being reached or started, and hasn't answered within this time.
    #[error(
        "I can't speak: the speech service didn't answer within {} seconds. \
         Restart speech-dispatcher, then start me again.",
        .0.as_secs()
    )]
    NoAnswer(Duration),
    /// The speech service answered before, and now it has stopped, hangs or refuses.
    #[error(
        "I lost my voice: the speech service stopped. \
         I'll look for it again; until then, read the captions."
    )]
    Lost,
    /// There is no loudspeaker to play a sound at, or it can't be opened.
    #[error("I can't play the sound: {reason}. Connect a loudspeaker, then ask again.")]
    NoLoudspeaker {
        /// What the sound system says.
        reason: String,
    },
    /// The speech service took the words, and didn't report within this time that they were spoken.
    #[error(
        "I may be silent: the speech service didn't finish speaking within {} seconds. \
         Connect a loudspeaker, and see that the sound service runs; then restart speech-dispatcher.",
        .0.as_secs()
    )]
    Unspoken(Duration),
}
