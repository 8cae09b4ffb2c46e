//! A WAV file becomes a [`Sound`].

use std::io::{BufReader, ErrorKind};
use std::path::Path;

use hound::{SampleFormat, WavReader, WavSpec};

use super::{EarError, HIGHEST_RATE, Resampler, Sound};

/// The longest recording that is taken, in seconds. Commands last seconds; an hour of sound is a
/// mistake in the file name, and decoding it would only fill the memory.
pub const LONGEST_RECORDING_SECONDS: u64 = 3_600;
/// The most channels that are mixed down: what the largest usual sound interfaces record.
const MOST_CHANNELS: u16 = 32;
/// How many samples of each channel are converted at once.
const BLOCK: usize = 65_536;

/// Reads a WAV recording: integers of 8 to 32 bits or 32-bit floats, any usual rate, mixed down to
/// one channel and resampled to 16,000 samples a second.
///
/// A sample that isn't a number becomes 0, and one beyond full scale is cut to it, because both
/// would upset everything after.
///
/// ```
/// use tellshelf::ear::read_recording;
/// let error = read_recording("no-such-file.wav".as_ref()).unwrap_err();
/// assert!(error.to_string().starts_with("I can't open the recording no-such-file.wav"));
/// ```
///
/// # Errors
/// [`EarError::Unreadable`] if the file can't be opened, [`EarError::NotARecording`] if it isn't a
/// WAV file of a known kind, [`EarError::CutShort`] if it ends early, [`EarError::EmptyRecording`]
/// if it holds no sound, [`EarError::UnusableRate`] for a rate of 0 or above [`HIGHEST_RATE`],
/// [`EarError::TooLong`] above [`LONGEST_RECORDING_SECONDS`].
pub fn read_recording(path: &Path) -> Result<Sound, EarError> {
    let unreadable = |error: std::io::Error| EarError::Unreadable {
        path: path.to_owned(),
        reason: in_words(&error),
    };
    let file = std::fs::File::open(path).map_err(unreadable)?;
    let metadata = file.metadata().map_err(unreadable)?;
    if metadata.is_dir() {
        return Err(not_a_recording(path, "it is a folder"));
    }
    let size = metadata.len();
    if size == 0 {
        return Err(EarError::EmptyRecording {
            path: path.to_owned(),
        });
    }
    let reader = WavReader::new(BufReader::new(file)).map_err(|error| match error {
        // The second kind is what the reader calls an early end.
        hound::Error::IoError(error)
            if matches!(error.kind(), ErrorKind::UnexpectedEof | ErrorKind::Other) =>
        {
            EarError::CutShort {
                path: path.to_owned(),
            }
        }
        hound::Error::IoError(error) => unreadable(error),
        hound::Error::FormatError(reason) => not_a_recording(path, reason),
        _ => not_a_recording(path, "it is a kind of WAV I don't know"),
    })?;

    let spec = reader.spec();
    if spec.sample_rate == 0 || spec.sample_rate > HIGHEST_RATE {
        return Err(EarError::UnusableRate {
            rate: spec.sample_rate,
        });
    }
    if spec.channels == 0 || spec.channels > MOST_CHANNELS {
        return Err(not_a_recording(
            path,
            format!("it has {} channels", spec.channels),
        ));
    }
    if reader.duration() == 0 {
        return Err(EarError::EmptyRecording {
            path: path.to_owned(),
        });
    }
    // A header that was never finished claims any length: the file itself tells.
    let claimed = u64::from(reader.len()) * u64::from(spec.bits_per_sample.div_ceil(8));
    if claimed > size {
        return Err(EarError::CutShort {
            path: path.to_owned(),
        });
    }
    let seconds = u64::from(reader.duration()) / u64::from(spec.sample_rate);
    if seconds > LONGEST_RECORDING_SECONDS {
        let most = LONGEST_RECORDING_SECONDS / 60;
        return Err(EarError::TooLong {
            path: path.to_owned(),
            minutes: seconds / 60,
            most,
        });
    }
    match spec.sample_format {
        SampleFormat::Float => converted(reader.into_samples::<f32>(), spec, path),
        SampleFormat::Int => {
            let full_scale = 2f32.powi(i32::from(spec.bits_per_sample) - 1);
            let samples = reader.into_samples::<i32>();
            converted(
                samples.map(|sample| Ok(sample? as f32 / full_scale)),
                spec,
                path,
            )
        }
    }
}

/// Mixes interleaved samples down and resamples them, block by block so that a long recording isn't
/// kept whole at its own rate.
fn converted(
    interleaved: impl Iterator<Item = hound::Result<f32>>,
    spec: WavSpec,
    path: &Path,
) -> Result<Sound, EarError> {
    let mut resampler = Resampler::new(spec.sample_rate)?;
    let mut sound = Vec::new();
    let mut block = Vec::with_capacity(BLOCK);
    let (mut sum, mut seen) = (0.0, 0);
    for sample in interleaved {
        let sample = sample.map_err(|error| match error {
            hound::Error::IoError(_) => EarError::CutShort {
                path: path.to_owned(),
            },
            error => not_a_recording(path, error.to_string()),
        })?;
        sum += tame(sample);
        seen += 1;
        if seen == spec.channels {
            block.push(sum / f32::from(spec.channels));
            (sum, seen) = (0.0, 0);
        }
        if block.len() == BLOCK {
            sound.extend(resampler.push(&block)?);
            block.clear();
        }
    }
    sound.extend(resampler.push(&block)?);
    sound.extend(resampler.finish()?);
    Ok(Sound::new(sound))
}

/// A sample that everything after can rely on: a number from -1 to 1.
pub(super) fn tame(sample: f32) -> f32 {
    if sample.is_finite() {
        sample.clamp(-1.0, 1.0)
    } else {
        0.0
    }
}

fn not_a_recording(path: &Path, reason: impl Into<String>) -> EarError {
    EarError::NotARecording {
        path: path.to_owned(),
        reason: reason.into(),
    }
}

/// The system's message without its error number, which helps nobody when spoken.
fn in_words(error: &std::io::Error) -> String {
    let message = error.to_string();
    match message.find(" (os error") {
        Some(end) => message[..end].to_owned(),
        None => message,
    }
}
