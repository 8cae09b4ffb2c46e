//! Recordings: what is read, and what is refused and how.

use std::path::{Path, PathBuf};

use hound::{SampleFormat, WavSpec, WavWriter};
use tellshelf::ear::{EarError, Sound, read_recording};

fn spec(channels: u16, sample_rate: u32, bits_per_sample: u16, float: bool) -> WavSpec {
    let sample_format = if float {
        SampleFormat::Float
    } else {
        SampleFormat::Int
    };
    WavSpec {
        channels,
        sample_rate,
        bits_per_sample,
        sample_format,
    }
}

/// A tone of 440 hertz and half of full scale, at a place in time.
fn tone(seconds: f64) -> f32 {
    (0.5 * (std::f64::consts::TAU * 440.0 * seconds).sin()) as f32
}

/// One second of the tone on the first channel, silence on the others.
fn write_tone(path: &Path, spec: WavSpec) {
    let mut writer = WavWriter::create(path, spec).unwrap();
    for n in 0..spec.sample_rate {
        for channel in 0..spec.channels {
            let sample = if channel == 0 {
                tone(f64::from(n) / f64::from(spec.sample_rate))
            } else {
                0.0
            };
            if spec.sample_format == SampleFormat::Float {
                writer.write_sample(sample).unwrap();
            } else {
                let full_scale = f64::from(2f32).powi(i32::from(spec.bits_per_sample) - 1);
                writer
                    .write_sample((f64::from(sample) * full_scale) as i32)
                    .unwrap();
            }
        }
    }
    writer.finalize().unwrap();
}

/// A file for one test.
struct Place(tempfile::TempDir);

impl Place {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn path(&self) -> PathBuf {
        self.0.path().join("test.wav")
    }

    fn of_tone(&self, spec: WavSpec) -> Result<Sound, EarError> {
        write_tone(&self.path(), spec);
        read_recording(&self.path())
    }

    fn of_bytes(&self, bytes: &[u8]) -> Result<Sound, EarError> {
        std::fs::write(self.path(), bytes).unwrap();
        read_recording(&self.path())
    }

    /// The bytes of a recording with a 44-byte header and 1,000 samples.
    fn small(&self) -> Vec<u8> {
        let mut writer = WavWriter::create(self.path(), spec(1, 16_000, 16, false)).unwrap();
        (0..1_000).for_each(|n| writer.write_sample(n as i16).unwrap());
        writer.finalize().unwrap();
        std::fs::read(self.path()).unwrap()
    }
}

#[test]
fn every_usual_format_is_heard_the_same() {
    let place = Place::new();
    for (bits, float) in [
        (8, false),
        (16, false),
        (24, false),
        (32, false),
        (32, true),
    ] {
        for rate in [8_000, 16_000, 44_100, 48_000] {
            let sound = place.of_tone(spec(1, rate, bits, float)).unwrap();
            let samples = sound.samples();
            assert_eq!(samples.len(), 16_000, "{bits} bits, {rate}");
            for (n, sample) in samples.iter().enumerate().take(15_000).skip(1_000) {
                let wanted = tone(n as f64 / 16_000.0);
                let most = if bits == 8 { 0.02 } else { 0.002 };
                assert!(
                    (sample - wanted).abs() < most,
                    "{bits} bits, {rate}: sample {n}"
                );
            }
        }
    }
}

#[test]
fn channels_are_mixed_down() {
    let place = Place::new();
    for channels in [1, 2, 6] {
        let sound = place.of_tone(spec(channels, 48_000, 16, false)).unwrap();
        let loudest = sound.samples()[1_000..15_000]
            .iter()
            .copied()
            .fold(0.0, f32::max);
        assert!(
            (loudest - 0.5 / f32::from(channels)).abs() < 0.002,
            "{channels}: {loudest}"
        );
    }
}

#[test]
fn samples_that_are_no_numbers_are_silent() {
    let place = Place::new();
    let mut writer = WavWriter::create(place.path(), spec(1, 16_000, 32, true)).unwrap();
    for sample in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, 7.0, 0.5] {
        writer.write_sample(sample).unwrap();
    }
    writer.finalize().unwrap();
    let sound = read_recording(&place.path()).unwrap();
    assert_eq!(sound.samples(), [0.0, 0.0, 0.0, 1.0, 0.5]);
}

#[test]
fn a_text_file_is_refused_as_a_recording() {
    let error = Place::new()
        .of_bytes(b"Dear diary, today I bought oats and more oats.")
        .unwrap_err();
    assert!(matches!(error, EarError::NotARecording { .. }), "{error}");
}

#[test]
fn a_folder_is_refused_as_a_recording() {
    let error = read_recording(Place::new().0.path()).unwrap_err();
    assert!(matches!(error, EarError::NotARecording { .. }), "{error}");
}

#[test]
fn a_missing_file_is_named_without_an_error_number() {
    let error = read_recording(&Place::new().path()).unwrap_err();
    assert!(matches!(error, EarError::Unreadable { .. }), "{error}");
    let message = error.to_string();
    assert!(
        message.contains("test.wav") && !message.contains("os error"),
        "{message}"
    );
}

#[test]
fn a_recording_cut_off_anywhere_is_refused() {
    let place = Place::new();
    let whole = place.small();
    for length in 1..whole.len() {
        let error = place.of_bytes(&whole[..length]).unwrap_err();
        let fits = matches!(
            error,
            EarError::CutShort { .. } | EarError::NotARecording { .. }
        );
        assert!(fits, "{length} bytes: {error}");
    }
    assert!(matches!(
        place.of_bytes(&whole[..1_000]),
        Err(EarError::CutShort { .. })
    ));
    assert!(place.of_bytes(&whole).is_ok());
}

#[test]
fn no_change_to_a_header_is_fatal() {
    let place = Place::new();
    let whole = place.small();
    for byte in 0..44 {
        for value in [0, 1, 2, 3, 15, 16, 32, 127, 128, 254, 255] {
            let mut changed = whole.clone();
            changed[byte] = value;
            if let Err(error) = place.of_bytes(&changed) {
                assert!(!error.to_string().is_empty());
            }
        }
    }
}

#[test]
fn a_recording_without_sound_is_refused() {
    let place = Place::new();
    assert!(matches!(
        place.of_bytes(b""),
        Err(EarError::EmptyRecording { .. })
    ));
    WavWriter::create(place.path(), spec(1, 16_000, 16, false))
        .unwrap()
        .finalize()
        .unwrap();
    let error = read_recording(&place.path()).unwrap_err();
    assert!(matches!(error, EarError::EmptyRecording { .. }), "{error}");
}

#[test]
fn absurd_rates_are_refused() {
    let place = Place::new();
    for rate in [0u32, 768_001, 2_000_000_000] {
        let mut bytes = place.small();
        bytes[24..28].copy_from_slice(&rate.to_le_bytes());
        bytes[28..32].copy_from_slice(&rate.wrapping_mul(2).to_le_bytes());
        let error = place.of_bytes(&bytes).unwrap_err();
        assert!(
            matches!(error, EarError::UnusableRate { rate: told } if told == rate),
            "{error}"
        );
    }
}

#[test]
fn no_channels_or_too_many_are_refused() {
    let place = Place::new();
    for channels in [0u16, 33, u16::MAX] {
        let mut bytes = place.small();
        bytes[22..24].copy_from_slice(&channels.to_le_bytes());
        let block = channels.wrapping_mul(2);
        bytes[32..34].copy_from_slice(&block.to_le_bytes());
        bytes[28..32].copy_from_slice(&(16_000 * u32::from(block)).to_le_bytes());
        let error = place.of_bytes(&bytes).unwrap_err();
        assert!(
            matches!(error, EarError::NotARecording { .. }),
            "{channels}: {error}"
        );
    }
}

#[test]
fn more_than_an_hour_is_refused() {
    let place = Place::new();
    let mut bytes = place.small();
    let samples = 3_601 * 1_000u32;
    bytes[24..28].copy_from_slice(&1_000u32.to_le_bytes());
    bytes[28..32].copy_from_slice(&2_000u32.to_le_bytes());
    bytes[40..44].copy_from_slice(&(2 * samples).to_le_bytes());
    bytes.resize(44 + 2 * samples as usize, 0);
    let error = place.of_bytes(&bytes).unwrap_err();
    assert!(
        matches!(
            error,
            EarError::TooLong {
                minutes: 60,
                most: 60,
                ..
            }
        ),
        "{error}"
    );
}
