//! A sound, played at the system's default loudspeaker.

use std::sync::mpsc::{self, Receiver, RecvTimeoutError, SyncSender, TryRecvError};
use std::time::{Duration, Instant};

use cpal::traits::{DeviceTrait, HostTrait, StreamTrait};
use cpal::{FromSample, SampleFormat, SizedSample, Stream, StreamConfig};

use super::VoiceError;

/// How long opening the loudspeaker may take, and how long the sound card may hold the end of the sound back.
const PATIENCE: Duration = Duration::from_secs(3);
/// How much later than its length a sound may end: what it takes to begin.
const TAIL: Duration = Duration::from_millis(300);

/// Why a sound is over.
enum End {
    /// All of it was handed to the sound card, or the sound card is gone.
    Played,
    /// Nobody wants to hear the rest.
    Stopped,
}

/// A sound that is being played. Dropping it doesn't end the sound.
pub(super) struct Playing {
    ending: SyncSender<End>,
    outcome: Receiver<Result<(), VoiceError>>,
}

impl Playing {
    /// Begins to play a sound (one channel, `rate` samples a second), in a thread of its own.
    pub fn start(samples: Vec<f32>, rate: u32) -> Self {
        let (ending, end) = mpsc::sync_channel(2);
        let (ended, outcome) = mpsc::channel();
        let played = ending.clone();
        // Nobody may be waiting for the outcome.
        std::thread::spawn(move || ended.send(play(&samples, rate, played, &end)));
        Self { ending, outcome }
    }

    /// Whether it is still being played.
    ///
    /// # Errors
    /// [`VoiceError::NoLoudspeaker`], once, if it couldn't be.
    pub fn goes_on(&self) -> Result<bool, VoiceError> {
        match self.outcome.try_recv() {
            Err(TryRecvError::Empty) => Ok(true),
            Err(TryRecvError::Disconnected) => Ok(false),
            Ok(outcome) => outcome.map(|()| false),
        }
    }

    /// Waits for its end.
    ///
    /// # Errors
    /// [`VoiceError::NoLoudspeaker`] if there is none, or it can't be opened.
    pub fn wait(self) -> Result<(), VoiceError> {
        self.outcome.recv().unwrap_or(Ok(()))
    }

    /// Ends it here.
    pub fn stop(self) {
        // One that is at its end anyhow takes no more word of it.
        let _ = self.ending.try_send(End::Stopped);
    }
}

fn play(
    samples: &[f32],
    rate: u32,
    ended: SyncSender<End>,
    end: &Receiver<End>,
) -> Result<(), VoiceError> {
    quieten();
    let device = cpal::default_host()
        .default_output_device()
        .ok_or_else(|| no_loudspeaker("there is none"))?;
    let supported = device.default_output_config().map_err(unusable)?;
    let (format, config) = (supported.sample_format(), supported.config());
    let player = Player::new(stretched(samples, rate, config.sample_rate), &config);
    let length = player.length();
    let stream = match format {
        SampleFormat::F32 => stream_of::<f32>(&device, config, player, ended),
        SampleFormat::F64 => stream_of::<f64>(&device, config, player, ended),
        SampleFormat::I16 => stream_of::<i16>(&device, config, player, ended),
        SampleFormat::I32 => stream_of::<i32>(&device, config, player, ended),
        SampleFormat::U8 => stream_of::<u8>(&device, config, player, ended),
        SampleFormat::U16 => stream_of::<u16>(&device, config, player, ended),
        _ => return Err(no_loudspeaker("it takes no usual kind of samples")),
    };
    let stream = stream.map_err(unusable)?;
    stream.play().map_err(unusable)?;
    let begun = Instant::now();
    // A loudspeaker that is lost meanwhile ends the sound early, and that is heard.
    if let Ok(End::Stopped) = end.recv_timeout(length + PATIENCE) {
        return Ok(());
    }
    // The sound card takes samples ahead, and closing it drops those that it hasn't played.
    let until = begun + (length + TAIL).max(begun.elapsed() + TAIL);
    loop {
        match end.recv_timeout(until.saturating_duration_since(Instant::now())) {
            Ok(End::Played) => {}
            Ok(End::Stopped) | Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => {
                return Ok(());
            }
        }
    }
}

/// A sound on its way to the sound card, with as many channels as that has.
struct Player {
    samples: std::vec::IntoIter<f32>,
    channels: usize,
    rate: u32,
}

impl Player {
    fn new(samples: Vec<f32>, config: &StreamConfig) -> Self {
        Self {
            samples: samples.into_iter(),
            channels: usize::from(config.channels).max(1),
            rate: config.sample_rate,
        }
    }

    fn length(&self) -> Duration {
        Duration::from_secs_f64(self.samples.len() as f64 / f64::from(self.rate.max(1)))
    }

    /// Fills the next frames, with silence behind the end. Whether there is more to come.
    fn fill<T: SizedSample + FromSample<f32>>(&mut self, frames: &mut [T]) -> bool {
        for frame in frames.chunks_mut(self.channels) {
            frame.fill(T::from_sample(self.samples.next().unwrap_or_default()));
        }
        self.samples.len() > 0
    }
}

fn stream_of<T: SizedSample + FromSample<f32>>(
    device: &cpal::Device,
    config: StreamConfig,
    mut player: Player,
    ended: SyncSender<End>,
) -> Result<Stream, cpal::Error> {
    let lost = ended.clone();
    device.build_output_stream(
        config,
        move |frames: &mut [T], _: &_| {
            if !player.fill(frames) {
                // Said more than once; the first is enough.
                let _ = ended.try_send(End::Played);
            }
        },
        move |_| {
            let _ = lost.try_send(End::Played);
        },
        Some(PATIENCE),
    )
}

/// The samples at another rate, each on the straight line between its neighbours: good enough for speech of a few
/// kilohertz, played once.
fn stretched(samples: &[f32], rate: u32, wanted: u32) -> Vec<f32> {
    let step = f64::from(rate) / f64::from(wanted.max(1));
    let count = (samples.len() as f64 / step) as usize;
    let at = |index: usize| {
        samples
            .get(index)
            .or(samples.last())
            .copied()
            .unwrap_or_default()
    };
    let sample = |number: usize| {
        let place = number as f64 * step;
        let (index, part) = (place as usize, place.fract() as f32);
        at(index) * (1.0 - part) + at(index + 1) * part
    };
    (0..count).map(sample).collect()
}

/// Keeps the sound library from writing its own troubles to standard error, in this thread: a screen reader would
/// read them all before the one line that helps.
#[cfg(target_os = "linux")]
fn quieten() {
    // If even that fails, there is noise beside the line that helps, and nothing worse.
    let _ = alsa::Output::local_error_handler();
}

#[cfg(not(target_os = "linux"))]
fn quieten() {}

fn no_loudspeaker(reason: &str) -> VoiceError {
    let reason = reason.trim_end_matches('.').to_owned();
    VoiceError::NoLoudspeaker { reason }
}

fn unusable(error: cpal::Error) -> VoiceError {
    no_loudspeaker(&error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sound_is_as_long_at_any_rate() {
        let samples: Vec<f32> = (0..16_000).map(|n| n as f32 / 16_000.0).collect();
        for rate in [8_000, 16_000, 44_100, 48_000] {
            let other = stretched(&samples, 16_000, rate);
            assert!(other.len().abs_diff(rate as usize) <= 1, "{}", other.len());
            let middle = other[other.len() / 2];
            assert!((middle - 0.5).abs() < 0.001, "{middle}");
        }
        assert!(stretched(&[], 16_000, 48_000).is_empty());
    }

    #[test]
    fn every_channel_gets_the_sound_and_then_silence() {
        let config = StreamConfig {
            channels: 2,
            sample_rate: 48_000,
            buffer_size: cpal::BufferSize::Default,
        };
        let mut player = Player::new(vec![0.5, -0.5, 0.25], &config);
        let mut frames = [9.0f32; 4];
        assert!(player.fill(&mut frames));
        assert_eq!(frames, [0.5, 0.5, -0.5, -0.5]);
        assert!(!player.fill(&mut frames));
        assert_eq!(frames, [0.25, 0.25, 0.0, 0.0]);
    }
}
