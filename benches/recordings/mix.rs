//! Noise mixed in by the rule of the Speech-to-Intent Benchmark: a random stretch of noise as long as
//! the speech, scaled so that the loudest frames of both stand in the wanted ratio, and the sum scaled
//! to a peak of 0.5.

use tellshelf::ear::Sound;

use crate::random::{Random, STEP};

/// Samples of a frame whose energy is compared.
const FRAME: usize = 2048;

/// Mixes; the same seed gives the same stretch.
pub fn mix(speech: &Sound, noise: &Sound, snr: f32, seed: u64) -> Sound {
    let (speech, noise) = (speech.samples(), noise.samples());
    let room = noise.len().saturating_sub(speech.len());
    let start = if room == 0 {
        0
    } else {
        // Seeds in order give numbers without order.
        Random(seed.wrapping_mul(STEP)).below(room)
    };
    let stretch = noise.iter().cycle().skip(start).take(speech.len()).copied();
    let stretch: Vec<f32> = stretch.collect();
    let ratio = loudest(speech) / (loudest(&stretch) * 10f32.powf(snr / 10.0));
    let scale = if ratio.is_finite() { ratio.sqrt() } else { 0.0 };
    let mut sum: Vec<f32> = speech
        .iter()
        .zip(&stretch)
        .map(|(s, n)| s + n * scale)
        .collect();
    let peak = sum
        .iter()
        .fold(0.0f32, |peak, sample| peak.max(sample.abs()));
    if peak > 0.0 {
        sum.iter_mut().for_each(|sample| *sample *= 0.5 / peak);
    }
    Sound::new(sum)
}

/// The largest energy of any whole frame.
fn loudest(samples: &[f32]) -> f32 {
    let energy = |frame: &[f32]| frame.iter().map(|s| s * s).sum::<f32>();
    samples.chunks_exact(FRAME).map(energy).fold(0.0, f32::max)
}
