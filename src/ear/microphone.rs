//! The microphone, as a stream of sound that every recogniser here wants.

use std::collections::VecDeque;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, mpsc};
use std::time::{Duration, Instant};

use cpal::traits::{DeviceTrait, HostTrait, StreamTrait};
use cpal::{
    BufferSize, Device, ErrorKind, FromSample, SampleFormat, SizedSample, Stream, StreamConfig,
};

use super::recording::tame;
use super::{EarError, Resampler, resample};

/// Frames of one capture buffer: the size that was reliable through every sound server tried.
const BUFFER_FRAMES: u32 = 1_024;
/// How much captured sound waits at most, in seconds. More than the longest utterance; beyond it
/// the oldest is dropped, so that a reader that is busy elsewhere never fills the memory.
const LONGEST_WAIT: usize = 40;
/// How long nothing at all may arrive before the microphone counts as gone. A live one sends silence;
/// one whose sound server was killed sends nothing and reports nothing. Longer than a wireless
/// microphone takes to wake up.
const PATIENCE: Duration = Duration::from_secs(5);
/// How long opening may take before it counts as failed.
const OPENING_TIME: Duration = Duration::from_secs(5);
/// How long closing may take before the program goes on without waiting for it.
const CLOSING_TIME: Duration = Duration::from_secs(1);

/// The default microphone, listening.
///
/// ```no_run
/// use std::time::Duration;
/// use tellshelf::ear::Microphone;
/// let mut microphone = Microphone::open()?;
/// println!("{}", microphone.describe());
/// while let Some(samples) = microphone.next(Duration::from_millis(500))? {
///     println!("{} samples, 16,000 a second", samples.len());
/// }
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
pub struct Microphone {
    capture: Arc<Capture>,
    resampler: Resampler,
    rate: u32,
    description: String,
    /// Listens as long as it lives; always there until the end.
    stream: Option<Stream>,
}

impl Microphone {
    /// Opens the system's default microphone and starts to listen.
    ///
    /// # Errors
    /// [`EarError::NoMicrophone`] if there is none, or it can't be opened.
    pub fn open() -> Result<Self, EarError> {
        quieten();
        let device =
            cpal::default_host()
                .default_input_device()
                .ok_or_else(|| EarError::NoMicrophone {
                    reason: "there is none".into(),
                })?;
        let supported = device.default_input_config().map_err(unusable)?;
        let format = supported.sample_format();
        let config = supported.config();
        let resampler = Resampler::new(config.sample_rate)?;
        let capture = Arc::new(Capture::new(&config));
        let fixed = StreamConfig {
            buffer_size: BufferSize::Fixed(BUFFER_FRAMES),
            ..config
        };
        // Some devices refuse a buffer size and choose well themselves.
        let stream = stream(&device, fixed, format, &capture)
            .or_else(|_| stream(&device, config, format, &capture))
            .map_err(unusable)?;
        stream.play().map_err(unusable)?;
        let description = format!(
            "{device}, {} samples a second, {} channels, {format}",
            config.sample_rate, config.channels
        );
        Ok(Self {
            capture,
            resampler,
            rate: config.sample_rate,
            description,
            stream: Some(stream),
        })
    }

    /// What is listened to, in one line.
    pub fn describe(&self) -> &str {
        &self.description
    }

    /// The next samples (one channel, 16,000 a second), as soon as there are any; none if there are
    /// none for so long.
    ///
    /// # Errors
    /// [`EarError::MicrophoneLost`] once the microphone is gone, after what it still captured.
    pub fn next(&mut self, timeout: Duration) -> Result<Option<Vec<f32>>, EarError> {
        let until = Instant::now() + timeout;
        loop {
            let Some(captured) = self.capture.take(until)? else {
                return Ok(None);
            };
            let samples = self.resampler.push(&captured)?;
            if !samples.is_empty() {
                return Ok(Some(samples));
            }
        }
    }

    /// What was captured and not taken yet, to be looked at beside whoever takes it.
    pub fn backlog(&self) -> Backlog {
        Backlog {
            capture: Arc::clone(&self.capture),
            rate: self.rate,
        }
    }

    /// Drops what was captured between two moments, as far as it wasn't taken yet: the answer that was spoken meanwhile.
    /// What was captured before and behind it stays.
    pub fn leave_out(&mut self, from: Moment, to: Moment) {
        self.capture.leave_out(from, to);
    }

    /// Drops what was captured before this moment and not taken yet, so that the answer just spoken isn't heard as the next
    /// command. What the sound card held then, about 0.05 s, stays.
    pub fn forget_before(&mut self, moment: Instant) {
        let moment = self.backlog().at(moment);
        self.capture.leave_out(Moment(0), moment);
        self.resampler.reset();
    }
}

/// What a [`Microphone`] has captured and nobody has taken yet: while one thread is busy with what it took, another can
/// look whether the person speaks on.
///
/// ```no_run
/// use std::time::Instant;
/// use tellshelf::ear::{Microphone, quiet_at_end};
/// let mut microphone = Microphone::open()?;
/// let backlog = microphone.backlog();
/// let before = backlog.at(Instant::now());
/// println!("{} s since the last word", quiet_at_end(&backlog.samples()?, None));
/// microphone.leave_out(before, backlog.at(Instant::now()));
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
#[derive(Clone)]
pub struct Backlog {
    capture: Arc<Capture>,
    rate: u32,
}

/// A moment in the stream of a [`Microphone`]: so many samples were captured before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(u64);

impl Backlog {
    /// A copy of it (one channel, 16,000 samples a second).
    ///
    /// # Errors
    /// [`EarError::Resampling`] if the filter fails, which is a fault of this program.
    pub fn samples(&self) -> Result<Vec<f32>, EarError> {
        let captured: Vec<f32> = self.capture.state().samples.iter().copied().collect();
        resample(&captured, self.rate)
    }

    /// Where the stream was at this time; where it is, if that is still to come.
    pub fn at(&self, time: Instant) -> Moment {
        let state = self.capture.state();
        let since = state.latest.saturating_duration_since(time).as_secs_f64();
        let since = (since * f64::from(self.rate)) as u64;
        Moment((state.gone + state.samples.len() as u64).saturating_sub(since))
    }
}

impl Drop for Microphone {
    /// Closes the microphone, but waits for that only so long: closing one whose sound server was
    /// killed never ends, and must not keep the program from ending.
    fn drop(&mut self) {
        let stream = self.stream.take();
        let (closed, waiting) = mpsc::channel();
        std::thread::spawn(move || {
            drop(stream);
            // Nobody may be waiting any more.
            let _ = closed.send(());
        });
        let _ = waiting.recv_timeout(CLOSING_TIME);
    }
}

/// The sound on its way from the sound card's thread to the reader's.
struct Capture {
    channels: usize,
    most: usize,
    patience: Duration,
    state: Mutex<Captured>,
    news: Condvar,
}

struct Captured {
    samples: VecDeque<f32>,
    /// How many samples were captured before those: taken, or dropped.
    gone: u64,
    latest: Instant,
    lost: Option<String>,
}

impl Captured {
    fn drop_first(&mut self, count: usize) {
        self.samples.drain(..count);
        self.gone += count as u64;
    }
}

impl Capture {
    fn new(config: &StreamConfig) -> Self {
        let channels = usize::from(config.channels).max(1);
        let most = config.sample_rate as usize * LONGEST_WAIT;
        let captured = Captured {
            samples: VecDeque::new(),
            gone: 0,
            latest: Instant::now(),
            lost: None,
        };
        Self {
            channels,
            most,
            patience: PATIENCE,
            state: Mutex::new(captured),
            news: Condvar::new(),
        }
    }

    fn state(&self) -> MutexGuard<'_, Captured> {
        // Nothing inside can leave it half done, so a panic elsewhere doesn't spoil it.
        self.state
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
    }

    /// Takes interleaved samples from the sound card and mixes their channels down.
    fn add<T>(&self, interleaved: &[T])
    where
        T: Copy,
        f32: FromSample<T>,
    {
        let mut state = self.state();
        let scale = 1.0 / self.channels as f32;
        state
            .samples
            .extend(interleaved.chunks_exact(self.channels).map(|frame| {
                frame
                    .iter()
                    .map(|sample| tame(f32::from_sample_(*sample)))
                    .sum::<f32>()
                    * scale
            }));
        let surplus = state.samples.len().saturating_sub(self.most);
        state.drop_first(surplus);
        state.latest = Instant::now();
        self.news.notify_one();
    }

    fn lose(&self, reason: String) {
        self.state().lost.get_or_insert(reason);
        self.news.notify_one();
    }

    fn leave_out(&self, from: Moment, to: Moment) {
        let mut state = self.state();
        let place = |moment: Moment| {
            let place = usize::try_from(moment.0.saturating_sub(state.gone)).unwrap_or(usize::MAX);
            place.min(state.samples.len())
        };
        let (from, to) = (place(from), place(to));
        if from < to {
            state.samples.drain(from..to);
            // So that what is still to come keeps its moments.
            state.gone += (to - from) as u64;
        }
    }

    fn still_there(&self, state: &Captured) -> Result<(), EarError> {
        if state.latest.elapsed() < self.patience {
            return Ok(());
        }
        let reason = "nothing comes from it any more".to_owned();
        Err(EarError::MicrophoneLost { reason })
    }

    fn take(&self, until: Instant) -> Result<Option<Vec<f32>>, EarError> {
        let mut state = self.state();
        loop {
            if !state.samples.is_empty() {
                let taken: Vec<f32> = state.samples.drain(..).collect();
                state.gone += taken.len() as u64;
                return Ok(Some(taken));
            }
            if let Some(reason) = &state.lost {
                return Err(EarError::MicrophoneLost {
                    reason: reason.clone(),
                });
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return self.still_there(&state).map(|()| None);
            }
            let waited = self.news.wait_timeout(state, left);
            state = waited.unwrap_or_else(|poisoned| poisoned.into_inner()).0;
        }
    }
}

/// Keeps the sound library from writing its own troubles to standard error, in this thread: a
/// screen reader would read them all before the one line that helps.
#[cfg(target_os = "linux")]
fn quieten() {
    // If even that fails, there is noise beside the line that helps, and nothing worse.
    let _ = alsa::Output::local_error_handler();
}

#[cfg(not(target_os = "linux"))]
fn quieten() {}

fn stream(
    device: &Device,
    config: StreamConfig,
    format: SampleFormat,
    capture: &Arc<Capture>,
) -> Result<Stream, cpal::Error> {
    match format {
        SampleFormat::F32 => stream_of::<f32>(device, config, capture),
        SampleFormat::F64 => stream_of::<f64>(device, config, capture),
        SampleFormat::I16 => stream_of::<i16>(device, config, capture),
        SampleFormat::I32 => stream_of::<i32>(device, config, capture),
        SampleFormat::U8 => stream_of::<u8>(device, config, capture),
        SampleFormat::U16 => stream_of::<u16>(device, config, capture),
        _ => Err(cpal::Error::new(ErrorKind::UnsupportedConfig)),
    }
}

fn stream_of<T>(
    device: &Device,
    config: StreamConfig,
    capture: &Arc<Capture>,
) -> Result<Stream, cpal::Error>
where
    T: SizedSample,
    f32: FromSample<T>,
{
    let (sound, trouble) = (Arc::clone(capture), Arc::clone(capture));
    device.build_input_stream(
        config,
        move |interleaved: &[T], _: &_| sound.add(interleaved),
        move |error| {
            if ends_the_stream(error.kind()) {
                trouble.lose(in_words(&error));
            }
        },
        Some(OPENING_TIME),
    )
}

/// Whether a stream is over after such an error. A lost buffer or another route only makes a gap,
/// which at worst makes one utterance be asked for again.
fn ends_the_stream(kind: ErrorKind) -> bool {
    !matches!(
        kind,
        ErrorKind::Xrun | ErrorKind::DeviceChanged | ErrorKind::RealtimeDenied
    )
}

fn unusable(error: cpal::Error) -> EarError {
    EarError::NoMicrophone {
        reason: in_words(&error),
    }
}

/// The message without its last full stop, to stand in the middle of a sentence.
fn in_words(error: &cpal::Error) -> String {
    error.to_string().trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn capture(channels: u16, sample_rate: u32) -> Capture {
        Capture::new(&StreamConfig {
            channels,
            sample_rate,
            buffer_size: BufferSize::Default,
        })
    }

    fn backlog(capture: &Arc<Capture>) -> Backlog {
        Backlog {
            capture: Arc::clone(capture),
            rate: 16_000,
        }
    }

    fn now(capture: &Capture) -> Result<Option<Vec<f32>>, EarError> {
        capture.take(Instant::now())
    }

    #[test]
    fn channels_are_mixed_down_in_every_format() {
        let stereo = capture(2, 16_000);
        stereo.add(&[0.5f32, 0.0, f32::NAN, -1.0]);
        stereo.add(&[16_384i16, 0]);
        stereo.add(&[49_152u16, 32_768]);
        stereo.add(&[1i32 << 30, 0]);
        assert_eq!(
            now(&stereo).unwrap().unwrap(),
            [0.25, -0.5, 0.25, 0.25, 0.25]
        );
    }

    #[test]
    fn nothing_captured_in_time_is_no_error() {
        assert!(now(&capture(1, 16_000)).unwrap().is_none());
    }

    #[test]
    fn a_time_has_its_place_in_the_stream() {
        let mono = Arc::new(capture(1, 16_000));
        let backlog = backlog(&mono);
        mono.add(&[0.5f32; 32_000]);
        let latest = mono.state().latest;
        let at = |seconds_before| backlog.at(latest - Duration::from_secs(seconds_before)).0;
        assert_eq!([at(0), at(1), at(2), at(3)], [32_000, 16_000, 0, 0]);
        assert_eq!(backlog.at(latest + Duration::from_secs(1)).0, 32_000);
        mono.leave_out(Moment(0), Moment(16_000));
        assert_eq!(now(&mono).unwrap().unwrap().len(), 16_000);
    }

    #[test]
    fn what_was_captured_between_two_moments_is_left_out_and_nothing_else() {
        let mono = Arc::new(capture(1, 16_000));
        let backlog = backlog(&mono);
        mono.add(&[0.1f32; 5]);
        assert!(now(&mono).unwrap().is_some());
        mono.add(&[0.25f32]);
        let from = backlog.at(Instant::now());
        mono.add(&[0.5f32; 3]);
        let to = backlog.at(Instant::now());
        mono.add(&[0.75f32]);
        assert_eq!(
            backlog.samples().unwrap(),
            [0.25, 0.5, 0.5, 0.5, 0.75],
            "only looked at"
        );
        mono.leave_out(from, to);
        assert_eq!(backlog.samples().unwrap(), [0.25, 0.75]);
        // What was taken meanwhile can't be left out any more.
        assert_eq!(now(&mono).unwrap().unwrap(), [0.25, 0.75]);
        mono.add(&[1.0f32]);
        mono.leave_out(from, to);
        assert_eq!(now(&mono).unwrap().unwrap(), [1.0]);
    }

    #[test]
    fn a_lost_microphone_is_told_after_the_last_sound() {
        let mono = capture(1, 16_000);
        mono.add(&[0.5f32]);
        mono.lose("unplugged".into());
        assert!(now(&mono).unwrap().is_some());
        for _ in 0..2 {
            let error = now(&mono).unwrap_err();
            assert!(matches!(&error, EarError::MicrophoneLost { reason } if reason == "unplugged"));
        }
    }

    #[test]
    fn a_microphone_that_sends_nothing_for_long_is_lost() {
        let mut mono = capture(1, 16_000);
        mono.add(&[0.0f32]);
        assert!(now(&mono).unwrap().is_some());
        assert!(now(&mono).unwrap().is_none());
        mono.patience = Duration::ZERO;
        let error = now(&mono).unwrap_err();
        assert!(matches!(error, EarError::MicrophoneLost { .. }), "{error}");
    }

    #[test]
    fn the_oldest_sound_is_dropped_when_nobody_takes_it() {
        let mono = capture(1, 100);
        for n in 0..LONGEST_WAIT + 1 {
            mono.add(&[n as f32 / 100.0; 100]);
        }
        let waiting = now(&mono).unwrap().unwrap();
        assert_eq!(waiting.len(), LONGEST_WAIT * 100);
        assert_eq!(waiting[0], 0.01);
    }

    #[test]
    fn sound_from_another_thread_wakes_the_reader() {
        let mono = Arc::new(capture(1, 16_000));
        let writer = Arc::clone(&mono);
        let thread = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(20));
            writer.add(&[0.5f32]);
        });
        let heard = mono.take(Instant::now() + Duration::from_secs(20)).unwrap();
        assert_eq!(heard.unwrap(), [0.5]);
        thread.join().unwrap();
    }

    #[test]
    fn a_glitch_does_not_end_the_stream_but_a_missing_device_does() {
        assert!(!ends_the_stream(ErrorKind::Xrun));
        assert!(ends_the_stream(ErrorKind::DeviceNotAvailable));
    }
}
