//! Tones: what needs no words.
//!
//! Each has a shape of its own and not only a pitch: it glides, ticks, rings, rasps or knocks. So they are told apart by
//! whoever hears badly at some pitches, on a poor loudspeaker, and beside a running tap.

use std::f32::consts::TAU;

/// Samples a second of a tone.
pub const TONE_RATE: u32 = 48_000;

/// What a tone says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tone {
    /// "I'm listening": one note that glides upwards.
    Listening,
    /// "I heard you, and I'm working": one dry tick.
    Working,
    /// "Done": one bell that rings out.
    Done,
    /// "I didn't understand": a rasp that sinks.
    NotUnderstood,
    /// "Something needs you": three knocks.
    NeedsYou,
}

impl Tone {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Listening,
        Self::Working,
        Self::Done,
        Self::NotUnderstood,
        Self::NeedsYou,
    ];

    /// How long it sounds, in seconds. None is longer than half a second: a tone is in the way of the next word.
    pub fn seconds(self) -> f32 {
        match self {
            Self::Listening => 0.16,
            Self::Working => 0.03,
            Self::Done => 0.4,
            Self::NotUnderstood => 0.3,
            Self::NeedsYou => 0.45,
        }
    }

    /// Its samples, one channel, [`TONE_RATE`] a second, never louder than 1. It begins and ends in silence, so that
    /// nothing clicks.
    ///
    /// ```
    /// use tellshelf::voice::{TONE_RATE, Tone};
    /// let tick = Tone::Working.samples();
    /// assert_eq!(tick.len() as f32 / TONE_RATE as f32, Tone::Working.seconds());
    /// assert!(tick.iter().all(|sample| sample.abs() <= 1.0));
    /// ```
    pub fn samples(self) -> Vec<f32> {
        let length = self.seconds();
        let count = (length * TONE_RATE as f32).round() as usize;
        let mut phase = 0.0;
        let mut samples = Vec::with_capacity(count);
        for n in 0..count {
            let time = n as f32 / TONE_RATE as f32;
            let (pitch, loudness) = self.at(time);
            phase += pitch / TONE_RATE as f32;
            // An overtone makes it heard on loudspeakers that have no low notes.
            let wave = 0.75 * (TAU * phase).sin() + 0.25 * (2.0 * TAU * phase).sin();
            samples.push(wave * loudness * edges(time, length));
        }
        samples
    }

    /// The pitch in hertz and the loudness (0 to 1) at a moment.
    fn at(self, time: f32) -> (f32, f32) {
        let part = time / self.seconds();
        match self {
            Self::Listening => (440.0 * 2.0f32.powf(part), 0.8),
            Self::Working => (1_200.0, (-time * 150.0).exp()),
            Self::Done => (784.0, (-time * 9.0).exp()),
            // 35 beats a second: too fast to count, slow enough to be rough.
            Self::NotUnderstood => (
                220.0 * 0.7f32.powf(part),
                0.5 + 0.5 * (TAU * 35.0 * time).sin(),
            ),
            Self::NeedsYou => (600.0, (-(time % 0.15) * 40.0).exp()),
        }
    }
}

/// Fades in and out within a few milliseconds.
fn edges(time: f32, length: f32) -> f32 {
    const FADE: f32 = 0.004;
    (time / FADE).min((length - time) / FADE).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Loudness over time, in steps of 5 ms, the loudest 1.
    fn shape(tone: Tone) -> Vec<f32> {
        let samples = tone.samples();
        let steps = samples.chunks(TONE_RATE as usize / 200);
        let loudness: Vec<f32> = steps
            .map(|step| step.iter().map(|s| s * s).sum::<f32>().sqrt())
            .collect();
        let loudest = loudness.iter().copied().fold(0.0, f32::max);
        loudness.iter().map(|step| step / loudest).collect()
    }

    #[test]
    fn tones_differ_in_shape_and_not_only_in_pitch() {
        for one in Tone::ALL {
            for other in Tone::ALL.into_iter().filter(|other| *other != one) {
                let (mut a, mut b) = (shape(one), shape(other));
                let longest = a.len().max(b.len());
                a.resize(longest, 0.0);
                b.resize(longest, 0.0);
                let apart = a.iter().zip(&b).map(|(a, b)| (a - b).abs()).sum::<f32>();
                let total = a.iter().sum::<f32>().max(b.iter().sum());
                assert!(apart / total > 0.3, "{one:?} {other:?}: {}", apart / total);
            }
        }
    }

    #[test]
    fn a_tone_begins_and_ends_in_silence_and_never_clips() {
        for tone in Tone::ALL {
            let samples = tone.samples();
            assert_eq!(samples[0], 0.0, "{tone:?}");
            assert!(samples[samples.len() - 1].abs() < 0.05, "{tone:?}");
            let loudest = samples.iter().fold(0.0f32, |most, s| most.max(s.abs()));
            assert!((0.3..=1.0).contains(&loudest), "{tone:?} {loudest}");
            assert!(tone.seconds() <= 0.5);
        }
    }
}
