//! Any sample rate becomes [`RATE`]: the one place where sound is resampled.

use rubato::audioadapter_buffers::direct::InterleavedSlice;
use rubato::{Fft, FixedSync, Resampler as _, WindowFunction};

use super::{EarError, RATE};

/// The highest rate that is taken, in samples a second: the highest that sound cards offer.
/// Above it the number is surely a mistake, and the memory it would cost isn't worth a try.
pub const HIGHEST_RATE: u32 = 768_000;

/// The block that is converted at once, in seconds. Long enough for a steep filter (speech up to
/// 7.5 kHz passes whole), and short enough that a listener at the microphone never waits for it.
const BLOCK_SECONDS: f64 = 0.032;

/// Resamples a stream of one channel to [`RATE`], without shifting it in time.
///
/// A sinc filter computed by fast Fourier transform (rubato's synchronous resampler). Its delay is
/// cut off at the start and made up for by [`finish`](Self::finish), so that `n` samples in give
/// `n * RATE / rate` samples out, rounded up, and what was at second 1.5 still is.
///
/// ```
/// use tellshelf::ear::Resampler;
/// let mut resampler = Resampler::new(48_000)?;
/// let mut out = resampler.push(&[0.0; 24_000])?;
/// out.extend(resampler.push(&[0.0; 24_000])?);
/// out.extend(resampler.finish()?);
/// assert_eq!(out.len(), 16_000);
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
pub struct Resampler {
    /// None where the sound has the right rate already.
    fft: Option<Fft<f32>>,
    rate: u32,
    /// Samples that don't fill a block yet.
    waiting: Vec<f32>,
    /// Samples of delay that are still to be cut off.
    delay: usize,
    taken: u64,
    given: u64,
}

impl Resampler {
    /// A resampler from `rate` samples a second.
    ///
    /// # Errors
    /// [`EarError::UnusableRate`] if `rate` is 0 or above [`HIGHEST_RATE`].
    pub fn new(rate: u32) -> Result<Self, EarError> {
        if rate == 0 || rate > HIGHEST_RATE {
            return Err(EarError::UnusableRate { rate });
        }
        let fft = if rate == RATE {
            None
        } else {
            let block = (f64::from(rate) * BLOCK_SECONDS).ceil() as usize;
            let mut made = filter(rate, block)?;
            // The middle of an odd number of samples isn't a sample, which would shift the sound by
            // half of one.
            if made.fft_size_in() % 2 == 1 {
                made = filter(rate, 2 * made.fft_size_in())?;
            }
            Some(made)
        };
        let delay = fft.as_ref().map_or(0, |fft| fft.output_delay());
        Ok(Self {
            fft,
            rate,
            waiting: Vec::new(),
            delay,
            taken: 0,
            given: 0,
        })
    }

    /// Takes samples, nominally from -1 to 1, in any number, and gives what is ready.
    /// At most 0.05 s of usual sound stays inside.
    ///
    /// # Errors
    /// [`EarError::Resampling`] if the filter fails, which is a fault of this program.
    pub fn push(&mut self, samples: &[f32]) -> Result<Vec<f32>, EarError> {
        self.taken += samples.len() as u64;
        let out = self.convert(samples)?;
        self.given += out.len() as u64;
        Ok(out)
    }

    /// Gives the samples that are still inside, and is ready for another stream.
    ///
    /// # Errors
    /// [`EarError::Resampling`] if the filter fails, which is a fault of this program.
    pub fn finish(&mut self) -> Result<Vec<f32>, EarError> {
        let owed = (self.taken * u64::from(RATE)).div_ceil(u64::from(self.rate));
        let owed = owed.saturating_sub(self.given) as usize;
        let mut out = Vec::new();
        if let Some(block) = self.fft.as_ref().map(|fft| fft.input_frames_next()) {
            let silence = vec![0.0; block];
            while out.len() < owed {
                out.extend(self.convert(&silence)?);
            }
            out.truncate(owed);
        }
        self.reset();
        Ok(out)
    }

    /// Forgets everything taken so far.
    pub fn reset(&mut self) {
        self.waiting.clear();
        self.taken = 0;
        self.given = 0;
        if let Some(fft) = &mut self.fft {
            fft.reset();
            self.delay = fft.output_delay();
        }
    }

    fn convert(&mut self, samples: &[f32]) -> Result<Vec<f32>, EarError> {
        let Some(fft) = &mut self.fft else {
            return Ok(samples.to_vec());
        };
        self.waiting.extend_from_slice(samples);
        let block = fft.input_frames_next();
        let whole = self.waiting.len() / block * block;
        let mut out = Vec::with_capacity(whole / block * fft.output_frames_next());
        for input in self.waiting[..whole].chunks_exact(block) {
            let input = InterleavedSlice::new(input, 1, block).map_err(fault)?;
            let converted = fft.process(&input, None).map_err(fault)?.take_data();
            let cut = self.delay.min(converted.len());
            self.delay -= cut;
            out.extend_from_slice(&converted[cut..]);
        }
        self.waiting.drain(..whole);
        Ok(out)
    }
}

fn filter(rate: u32, block: usize) -> Result<Fft<f32>, EarError> {
    let (window, fixed) = (WindowFunction::BlackmanHarris2, FixedSync::Both);
    Fft::new_custom(rate as usize, RATE as usize, block, 1, 1, window, fixed).map_err(fault)
}

fn fault(error: impl std::fmt::Display) -> EarError {
    EarError::Resampling {
        reason: error.to_string(),
    }
}

/// Resamples a whole piece of one channel from `rate` to [`RATE`].
///
/// ```
/// use tellshelf::ear::resample;
/// assert_eq!(resample(&[0.0; 44_100], 44_100)?.len(), 16_000);
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
///
/// # Errors
/// [`EarError::UnusableRate`] if `rate` is 0 or above [`HIGHEST_RATE`].
pub fn resample(samples: &[f32], rate: u32) -> Result<Vec<f32>, EarError> {
    let mut resampler = Resampler::new(rate)?;
    let mut out = resampler.push(samples)?;
    out.extend(resampler.finish()?);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(hertz: f64, rate: u32, seconds: f64) -> Vec<f32> {
        (0..(seconds * f64::from(rate)) as usize)
            .map(|n| {
                (0.5 * (std::f64::consts::TAU * hertz * n as f64 / f64::from(rate)).sin()) as f32
            })
            .collect()
    }

    fn largest(samples: &[f32]) -> f32 {
        samples
            .iter()
            .fold(0.0, |most, sample| most.max(sample.abs()))
    }

    #[test]
    fn a_tone_keeps_its_place_in_time_at_every_usual_rate() {
        for rate in [
            8_000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000, 96_000, 192_000,
        ] {
            let out = resample(&tone(440.0, rate, 1.0), rate).unwrap();
            let wanted = tone(440.0, RATE, 1.0);
            assert_eq!(out.len(), wanted.len(), "{rate}");
            // The first and last moments ring, because the tone starts and ends abruptly.
            for n in 1_000..15_000 {
                assert!((out[n] - wanted[n]).abs() < 0.002, "{rate}: sample {n}");
            }
        }
    }

    #[test]
    fn a_tone_above_hearing_range_does_not_fold_down() {
        let out = resample(&tone(9_000.0, 48_000, 1.0), 48_000).unwrap();
        assert!(largest(&out[1_000..15_000]) < 0.001);
    }

    #[test]
    fn speech_frequencies_pass_whole() {
        let out = resample(&tone(7_400.0, 48_000, 1.0), 48_000).unwrap();
        assert!(largest(&out[1_000..15_000]) > 0.49);
    }

    #[test]
    fn pieces_of_any_size_give_the_same_as_the_whole() {
        let samples = tone(700.0, 44_100, 0.5);
        let whole = resample(&samples, 44_100).unwrap();
        for size in [1, 7, 441, 1_024, 9_999] {
            let mut resampler = Resampler::new(44_100).unwrap();
            let mut out = Vec::new();
            for piece in samples.chunks(size) {
                out.extend(resampler.push(piece).unwrap());
            }
            out.extend(resampler.finish().unwrap());
            assert_eq!(out, whole, "pieces of {size}");
        }
    }

    #[test]
    fn very_short_sounds_keep_their_length() {
        for (n, wanted) in [(0, 0), (1, 1), (3, 1), (4, 2), (100, 34)] {
            assert_eq!(
                resample(&vec![0.1; n], 48_000).unwrap().len(),
                wanted,
                "{n} samples"
            );
        }
    }

    #[test]
    fn a_finished_resampler_starts_afresh() {
        let samples = tone(700.0, 44_100, 0.2);
        let mut resampler = Resampler::new(44_100).unwrap();
        let mut hear = || {
            let mut out = resampler.push(&samples).unwrap();
            out.extend(resampler.finish().unwrap());
            out
        };
        assert_eq!(hear(), hear());
    }

    #[test]
    fn absurd_rates_are_refused() {
        for rate in [0, HIGHEST_RATE + 1, u32::MAX] {
            assert!(
                matches!(Resampler::new(rate), Err(EarError::UnusableRate { .. })),
                "{rate}"
            );
        }
        assert!(Resampler::new(1).is_ok());
        assert!(Resampler::new(HIGHEST_RATE).is_ok());
    }

    #[test]
    fn a_rate_without_common_divisor_works() {
        let out = resample(&tone(440.0, 44_101, 1.0), 44_101).unwrap();
        assert_eq!(out.len(), 16_000);
        assert!(largest(&out[6_000..10_000]) > 0.49);
    }
}
