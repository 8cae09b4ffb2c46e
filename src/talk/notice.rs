//! What is said without having been asked.

/// Something that a person must know, though nobody spoke.
///
/// ```
/// use tellshelf::talk::Notice;
/// assert_eq!(Notice::MicrophoneBack.words(), "I hear again.");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Notice {
    /// The microphone is gone.
    MicrophoneLost,
    /// It was found again.
    MicrophoneBack,
    /// It takes long to hear what was said.
    OneMoment,
    /// Another voice was asked for, and the speech service has none.
    NoOtherVoice,
}

impl Notice {
    /// All of them, for whoever looks through what can be said.
    pub const ALL: [Self; 4] = [
        Self::MicrophoneLost,
        Self::MicrophoneBack,
        Self::OneMoment,
        Self::NoOtherVoice,
    ];

    /// What is said.
    pub fn words(self) -> &'static str {
        match self {
            Self::MicrophoneLost => {
                "I lost the microphone. Nothing else is lost. I'm looking for it; until then, type."
            }
            Self::MicrophoneBack => "I hear again.",
            Self::OneMoment => "One moment.",
            Self::NoOtherVoice => "There is no other voice for this language.",
        }
    }
}
