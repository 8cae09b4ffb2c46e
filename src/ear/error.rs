//! What can go wrong on the way from sound to words, in words that work when spoken.

use std::path::PathBuf;

/// An error of the ear. Each message says what happened and what to do next.
///
/// ```
/// use tellshelf::ear::EarError;
/// let error = EarError::UnknownWords { words: vec!["oats".into(), "rye".into()] };
/// assert!(error.to_string().starts_with("The recogniser doesn't know: oats, rye."));
/// ```
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum EarError {
    /// The file can't be opened.
    #[error("I can't open the recording {path}: {reason}. Check the name and try again")]
    Unreadable {
        /// The file that was asked for.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },

    /// The file isn't WAV, or is a kind of WAV that isn't read here.
    #[error("{path} isn't a recording I can read: {reason}. Save it as WAV and try again")]
    NotARecording {
        /// The file that was asked for.
        path: PathBuf,
        /// What is wrong with it.
        reason: String,
    },

    /// The file ends before the length its header promises.
    #[error("The recording {path} is cut short. Copy it again, or record it again")]
    CutShort {
        /// The file that was asked for.
        path: PathBuf,
    },

    /// The recording holds no sound at all.
    #[error("The recording {path} is empty. Record it again")]
    EmptyRecording {
        /// The file that was asked for.
        path: PathBuf,
    },

    /// The recording is longer than one that is worth listening to as commands.
    #[error(
        "The recording {path} is too long: {minutes} minutes, and the longest I take is {most}. Cut it into parts"
    )]
    TooLong {
        /// The file that was asked for.
        path: PathBuf,
        /// How long it is, in whole minutes.
        minutes: u64,
        /// The longest that is taken, in minutes.
        most: u64,
    },

    /// The sound has a sample rate that no sound card uses.
    #[error(
        "The sound has {rate} samples a second, which I can't use. Record with 8000 to 48000 samples a second"
    )]
    UnusableRate {
        /// The samples a second it claims.
        rate: u32,
    },

    /// The resampler failed: a fault of this program.
    #[error("I couldn't convert the sound: {reason}. Please report this")]
    Resampling {
        /// What it said.
        reason: String,
    },

    /// The model of a recogniser isn't there.
    #[error("I can't find the {recogniser} model in {folder}. Run ./models-fetch.sh")]
    NoModel {
        /// The recogniser that needs it.
        recogniser: &'static str,
        /// Where it was looked for.
        folder: PathBuf,
    },

    /// The model of a recogniser is there and can't be used.
    #[error(
        "The {recogniser} model in {path} is damaged: {reason}. Remove it and run ./models-fetch.sh"
    )]
    BadModel {
        /// The recogniser that needs it.
        recogniser: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What went wrong with it.
        reason: String,
    },

    /// The library that runs the Moonshine model can't be loaded.
    #[error("I can't load the ONNX Runtime library {path}: {reason}. Run ./models-fetch.sh")]
    NoRuntime {
        /// The file that was tried.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },

    /// A recogniser failed on a sound.
    #[error(
        "The {recogniser} recogniser failed: {reason}. Say it again, and if it fails again, run tellshelf check"
    )]
    Recognition {
        /// The recogniser.
        recogniser: &'static str,
        /// What it said.
        reason: String,
    },

    /// There is no microphone, or it can't be opened.
    #[error(
        "I can't use a microphone: {reason}. Plug one in or start the sound server, or use tellshelf type"
    )]
    NoMicrophone {
        /// What the sound system said.
        reason: String,
    },

    /// The microphone went away while listening.
    #[error(
        "The microphone stopped: {reason}. Plug it in again and start again, or use tellshelf type"
    )]
    MicrophoneLost {
        /// What the sound system said.
        reason: String,
    },

    /// A list of phrases without any phrase.
    #[error("There are no phrases to listen for. Give at least one")]
    NoPhrases,

    /// A phrase without any word.
    #[error("Phrase number {number} is empty. Remove it, or write its words")]
    EmptyPhrase {
        /// Its place in the list, counted from 1.
        number: usize,
    },

    /// A phrase with a character that can't be spoken.
    #[error("The phrase {phrase:?} has the character {character:?} in it. Write words only")]
    BadPhrase {
        /// The phrase.
        phrase: String,
        /// The first character that isn't allowed.
        character: char,
    },

    /// Phrases with words that the recogniser's model has never heard of.
    #[error("The recogniser doesn't know: {}. Use other words for these", .words.join(", "))]
    UnknownWords {
        /// The words, in the order of their first use.
        words: Vec<String>,
    },
}
