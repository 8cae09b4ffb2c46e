//! How it listens and speaks, changed by voice.

use super::wording::capital;
use crate::settings::{Patience, Rate, Replies, Settings};
use crate::stock::EventId;

/// A change of how it listens and speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Manner {
    /// "Slower."
    Slower,
    /// "Faster."
    Faster,
    /// "Normal speed."
    UsualSpeed,
    /// "Speak at three hundred words a minute."
    At(u16),
    /// "Louder."
    Louder,
    /// "Softer."
    Softer,
    /// "Brief replies."
    Brief,
    /// "Full replies."
    Full,
    /// "Tones on", "tones off".
    Tones(bool),
    /// "Wait longer", "don't wait so long": for pauses in what is said.
    Wait(Patience),
    /// "Another voice."
    OtherVoice,
}

impl Manner {
    /// Reads how the grammar's tags name it.
    pub(super) fn read(name: &str) -> Option<Self> {
        Some(match name {
            "slower" => Self::Slower,
            "faster" => Self::Faster,
            "usual speed" => Self::UsualSpeed,
            "louder" => Self::Louder,
            "softer" => Self::Softer,
            "brief" => Self::Brief,
            "full" => Self::Full,
            "tones on" => Self::Tones(true),
            "tones off" => Self::Tones(false),
            "wait longer" => Self::Wait(Patience::Long),
            "wait as usual" => Self::Wait(Patience::Usual),
            "wait shorter" => Self::Wait(Patience::Short),
            "other voice" => Self::OtherVoice,
            _ => return None,
        })
    }

    /// Changes the settings so, and says how they are now; or says why they stay as they are.
    pub(super) fn change(self, settings: &mut Settings) -> String {
        let Settings {
            speech,
            tones,
            listening,
        } = settings;
        match self {
            Self::Slower | Self::Faster => {
                let rate = speech.words_a_minute.min(speech.fastest);
                let next = if self == Self::Slower {
                    rate.slower()
                } else {
                    rate.faster().min(speech.fastest)
                };
                if next == rate {
                    let end = if self == Self::Slower {
                        "slowest"
                    } else {
                        "fastest"
                    };
                    return format!("That's the {end}: {}.", words(rate));
                }
                speech.words_a_minute = next;
                let how = if self == Self::Slower {
                    "Slower"
                } else {
                    "Faster"
                };
                format!("{how}: {}.", words(next))
            }
            Self::UsualSpeed => {
                let rate = Settings::default().speech.words_a_minute;
                speech.words_a_minute = rate.min(speech.fastest);
                format!("{}.", capital(&words(speech.words_a_minute)))
            }
            Self::At(number) => match Rate::new(number) {
                Ok(rate) if rate <= speech.fastest => {
                    speech.words_a_minute = rate;
                    format!("{}.", capital(&words(rate)))
                }
                Ok(_) => format!("The speech service's fastest is {}.", words(speech.fastest)),
                Err(_) => format!(
                    "Between {} and {}, please.",
                    Rate::SLOWEST.words_a_minute(),
                    words(speech.fastest)
                ),
            },
            Self::Louder | Self::Softer => {
                let volume = speech.volume;
                let next = if self == Self::Louder {
                    volume.louder()
                } else {
                    volume.softer()
                };
                speech.volume = next;
                match (next == volume, self) {
                    (true, Self::Louder) => "That's the loudest.".to_owned(),
                    (true, _) => "That's the softest.".to_owned(),
                    (false, _) => format!("{} percent.", next.number()),
                }
            }
            Self::Brief => {
                speech.replies = Replies::Brief;
                "Brief replies.".to_owned()
            }
            Self::Full => {
                speech.replies = Replies::Full;
                "Full replies.".to_owned()
            }
            Self::Tones(on) => {
                tones.on = on;
                format!("Tones {}.", if on { "on" } else { "off" })
            }
            Self::Wait(patience) => {
                listening.patience = patience;
                match patience {
                    Patience::Long => "I'll wait longer in pauses.",
                    Patience::Usual => "I'll wait as usual.",
                    Patience::Short => "I'll answer sooner.",
                }
                .to_owned()
            }
            Self::OtherVoice => "Another voice. One moment.".to_owned(),
        }
    }
}

/// The settings before a change by voice, and the last change of the stock at that time: so what is taken back is what was
/// done last, of the one or of the other.
pub(super) struct Before {
    pub settings: Settings,
    pub stock: Option<EventId>,
}

/// Says that the settings are again as they were, by what is not so now.
pub(super) fn taken_back(now: &Settings, before: &Settings) -> String {
    let (speech, tones) = (&before.speech, &before.tones);
    let what = if speech.words_a_minute != now.speech.words_a_minute {
        words(speech.words_a_minute)
    } else if speech.volume != now.speech.volume {
        format!("{} percent", speech.volume.number())
    } else if speech.voice != now.speech.voice {
        let voice = speech.voice.as_deref();
        voice.unwrap_or("the usual voice").to_owned()
    } else if speech.replies != now.speech.replies {
        match speech.replies {
            Replies::Brief => "brief replies",
            Replies::Full => "full replies",
        }
        .to_owned()
    } else if tones != &now.tones {
        format!("tones {}", if tones.on { "on" } else { "off" })
    } else {
        match before.listening.patience {
            Patience::Long => "the longer wait",
            Patience::Usual => "the usual wait",
            Patience::Short => "the shorter wait",
        }
        .to_owned()
    };
    format!("Undone: {what} again.")
}

fn words(rate: Rate) -> String {
    format!("{} words a minute", rate.words_a_minute())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_end_where_the_speech_service_does_and_say_so() {
        let mut settings = Settings::default();
        assert_eq!(
            Manner::Faster.change(&mut settings),
            "Faster: 204 words a minute."
        );
        assert_eq!(
            Manner::Slower.change(&mut settings),
            "Slower: 170 words a minute."
        );
        for _ in 0..9 {
            Manner::Faster.change(&mut settings);
        }
        assert_eq!(
            Manner::Faster.change(&mut settings),
            "That's the fastest: 449 words a minute."
        );
        assert_eq!(settings.speech.words_a_minute, settings.speech.fastest);
        for _ in 0..9 {
            Manner::Slower.change(&mut settings);
        }
        assert_eq!(
            Manner::Slower.change(&mut settings),
            "That's the slowest: 120 words a minute."
        );
    }

    #[test]
    fn a_rate_out_of_reach_changes_nothing() {
        let mut settings = Settings::default();
        for (number, reply) in [
            (500, "The speech service's fastest is 449 words a minute."),
            (90, "Between 120 and 449 words a minute, please."),
        ] {
            assert_eq!(Manner::At(number).change(&mut settings), reply);
            assert_eq!(settings, Settings::default());
        }
        assert_eq!(Manner::At(300).change(&mut settings), "300 words a minute.");
    }

    #[test]
    fn it_never_falls_silent_by_voice() {
        let mut settings = Settings::default();
        for _ in 0..9 {
            Manner::Softer.change(&mut settings);
        }
        assert!(settings.speech.volume.number() >= 10);
        assert_eq!(Manner::Softer.change(&mut settings), "That's the softest.");
    }
}
