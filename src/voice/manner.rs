//! How replies are spoken, in the speech service's own numbers.

use crate::settings::{Rate, Speaking};

/// Rate and volume, each from -100 to 100 as the speech service counts (SSIP, the protocol of speech-dispatcher).
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Manner {
    pub rate: f32,
    pub volume: f32,
    /// A voice by its name, if one was chosen.
    pub voice: Option<String>,
}

/// Words a minute at -100, as Debian's configuration of the espeak-ng module has it; at 0 it is [`Rate::USUAL`].
const AT_LEAST: f32 = 80.0;
/// At 100 it clips.
const LOUDEST: f32 = 90.0;

impl Manner {
    pub fn of(speaking: &Speaking) -> Self {
        let wanted = speaking.words_a_minute.min(speaking.fastest);
        let words = |rate: Rate| f32::from(rate.words_a_minute());
        let (usual, fastest) = (words(Rate::USUAL), words(speaking.fastest).max(171.0));
        let above = words(wanted) - usual;
        let rate = if above < 0.0 {
            above / (usual - AT_LEAST)
        } else {
            above / (fastest - usual)
        };
        Self {
            rate: (100.0 * rate).clamp(-100.0, 100.0),
            volume: -100.0 + (100.0 + LOUDEST) * speaking.volume.share(),
            voice: speaking.voice.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings::Percent;

    fn rate(words_a_minute: u16, fastest: u16) -> f32 {
        let rate = |number| Rate::new(number).unwrap();
        let speaking = Speaking {
            words_a_minute: rate(words_a_minute),
            fastest: rate(fastest),
            ..Speaking::default()
        };
        Manner::of(&speaking).rate
    }

    #[test]
    fn words_a_minute_become_the_services_own_scale() {
        assert_eq!(rate(170, 449), 0.0);
        assert_eq!(rate(449, 449), 100.0);
        assert_eq!(rate(550, 449), 100.0);
        assert_eq!(rate(550, 550), 100.0);
        // Source: Debian's espeak-ng.conf for speech-dispatcher: 80 at -100, 170 at 0, 449 at 100.
        assert!((rate(125, 449) + 50.0).abs() < 0.1);
    }

    #[test]
    fn the_loudest_does_not_clip_and_the_softest_is_silent() {
        let volume = |percent| {
            let volume = Percent::new(percent).unwrap();
            Manner::of(&Speaking {
                volume,
                ..Speaking::default()
            })
            .volume
        };
        assert_eq!((volume(0), volume(100)), (-100.0, LOUDEST));
    }
}
