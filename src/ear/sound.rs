//! Sound as every recogniser here wants it: one channel, 16,000 samples a second.

/// Samples a second of every [`Sound`].
pub const RATE: u32 = 16_000;

/// A stretch of sound: one channel, [`RATE`] samples a second, each nominally from -1 to 1.
///
/// ```
/// use tellshelf::ear::Sound;
/// let half_a_second = Sound::new(vec![0.0; 8_000]);
/// assert_eq!(half_a_second.seconds(), 0.5);
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sound {
    samples: Vec<f32>,
}

impl Sound {
    /// Takes samples that are already one channel at [`RATE`].
    pub fn new(samples: Vec<f32>) -> Self {
        Self { samples }
    }

    /// The samples, one channel at [`RATE`].
    pub fn samples(&self) -> &[f32] {
        &self.samples
    }

    /// How long it lasts, in seconds.
    pub fn seconds(&self) -> f64 {
        self.samples.len() as f64 / f64::from(RATE)
    }
}
