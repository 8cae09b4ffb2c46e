//! How loud a piece of sound is.

use super::RATE;

/// How loud a short piece of sound is: the root of its mean square, 1 at full scale.
///
/// ```
/// use tellshelf::ear::Level;
/// let soft = Level::of([0.1, -0.1]);
/// assert_eq!(soft.louder_by(20.0), Level::of([1.0, -1.0]));
/// assert!(soft < Level::of([0.2]));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Level(f32);

impl Level {
    /// What a level is taken over, in samples: 64 ms, several periods of the lowest voice.
    pub const SPAN: usize = RATE as usize * 64 / 1000;

    /// The level of all these samples together; of none, silence.
    pub fn of(samples: impl IntoIterator<Item = f32>) -> Self {
        let (mut sum, mut count) = (0.0, 0_u32);
        for sample in samples {
            sum += sample * sample;
            count += 1;
        }
        Self((sum / count.max(1) as f32).sqrt())
    }

    /// The loudest level in a longer sound; silence where there is none.
    ///
    /// ```
    /// use tellshelf::ear::Level;
    /// assert_eq!(Level::loudest(&[]), Level::of([]));
    /// ```
    pub fn loudest(samples: &[f32]) -> Self {
        Self::each(samples).fold(Self(0.0), |a, b| if b > a { b } else { a })
    }

    /// The levels of a longer sound, one behind the other.
    fn each(samples: &[f32]) -> impl Iterator<Item = Self> {
        samples
            .chunks(Self::SPAN)
            .map(|span| Self::of(span.iter().copied()))
    }

    /// Where a sound first reaches a level, in samples, to a [`SPAN`](Self::SPAN).
    ///
    /// ```
    /// use tellshelf::ear::Level;
    /// let sound = [[0.0; 2 * Level::SPAN], [0.5; 2 * Level::SPAN]].concat();
    /// assert_eq!(Level::of([0.5]).first_in(&sound), Some(2 * Level::SPAN));
    /// assert_eq!(Level::of([0.6]).first_in(&sound), None);
    /// ```
    pub fn first_in(self, samples: &[f32]) -> Option<usize> {
        let place = Self::each(samples).position(|level| level >= self);
        place.map(|place| place * Self::SPAN)
    }

    /// The level that is louder by so many decibels.
    pub fn louder_by(self, decibels: f32) -> Self {
        Self(self.0 * 10_f32.powf(decibels / 20.0))
    }
}
