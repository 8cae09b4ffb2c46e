//! Where an utterance begins and ends.

use std::collections::VecDeque;

use earshot::Detector;

use super::recording::tame;
use super::{Level, RATE, Sound};

/// Samples of one frame of the voice detector (16 ms): its own fixed size.
const FRAME: usize = 256;

/// What counts as an utterance.
///
/// The defaults were chosen on 120 real spoken commands of more than 50 people, on 68 synthetic
/// ones (4 flite and 3 espeak-ng voices, down to "yes" and "stop"), on both mixed with kitchen
/// noise, and on 61 s of that noise alone, with this result:
///
/// | | clean | 15 dB | 9 dB | 6 dB | noise alone |
/// |---|---|---|---|---|---|
/// | real commands missed, of 120 | 0 | 0 | 0 | 0 | |
/// | real commands with more than one utterance | 0 | 5 | 20 | 33 | |
/// | synthetic commands missed, of 68 | 0 | 0 | 0 | 0 | |
/// | utterances found | | | | | 1 |
///
/// ```
/// use tellshelf::ear::EndpointSettings;
/// let patient = EndpointSettings { end_pause: 1.5, ..EndpointSettings::default() };
/// assert_eq!(patient.max_utterance, EndpointSettings::MAX_UTTERANCE);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndpointSettings {
    /// From what voice score on (0 to 1) a frame of 16 ms may be speech.
    pub threshold: f32,
    /// What voice score (0 to 1) at least one frame of an utterance must reach.
    pub certainty: f32,
    /// How long a pause ends an utterance, in seconds.
    pub end_pause: f64,
    /// How much speech an utterance needs to be one, in seconds.
    pub min_speech: f64,
    /// How long an utterance may last before it is ended without a pause, in seconds.
    pub max_utterance: f64,
    /// How much sound before the first speech belongs to the utterance, in seconds.
    pub lead: f64,
}

impl EndpointSettings {
    /// Voice score of possible speech: the detector's own middle. At 0.6 the first short synthetic
    /// word is missed; at 0.4 noise keeps twice as many commands from ending.
    pub const THRESHOLD: f32 = 0.5;
    /// Voice score of certain speech. Without it the noise alone gives two utterances instead of
    /// one; at 0.75 the first short synthetic words are missed.
    pub const CERTAINTY: f32 = 0.7;
    /// Pause that ends an utterance, in seconds: longer than any pause inside the 120 clean
    /// commands, which are all kept whole, and short enough not to feel deaf.
    pub const END_PAUSE: f64 = 0.8;
    /// Least speech of an utterance, in seconds. The shortest word tried, "stop", has 0.3 s; the
    /// bangs of a kitchen have less than 0.15 s.
    pub const MIN_SPEECH: f64 = 0.2;
    /// Longest utterance, in seconds: what the recognisers take at most. The longest of the 120
    /// commands lasts half of it.
    pub const MAX_UTTERANCE: f64 = 30.0;
    /// Sound kept before the first speech, in seconds: a word may begin with a consonant that the
    /// detector doesn't hear, and the longest of those take 0.2 s.
    pub const LEAD: f64 = 0.3;
}

impl Default for EndpointSettings {
    fn default() -> Self {
        Self {
            threshold: Self::THRESHOLD,
            certainty: Self::CERTAINTY,
            end_pause: Self::END_PAUSE,
            min_speech: Self::MIN_SPEECH,
            max_utterance: Self::MAX_UTTERANCE,
            lead: Self::LEAD,
        }
    }
}

/// Cuts a stream of sound into utterances.
///
/// ```
/// use tellshelf::ear::{Endpoint, EndpointSettings};
/// let mut endpoint = Endpoint::new(EndpointSettings::default());
/// assert!(endpoint.push(&[0.0; 16_000]).is_empty());
/// assert!(endpoint.finish().is_none());
/// ```
pub struct Endpoint {
    detector: Box<Detector>,
    settings: EndpointSettings,
    /// Samples that don't fill a frame yet.
    waiting: Vec<f32>,
    /// The latest sound, kept in case that speech begins.
    lead: VecDeque<f32>,
    /// The utterance under way; empty while nobody speaks.
    utterance: Vec<f32>,
    /// Samples of speech in the utterance under way.
    speech: usize,
    /// Samples since the last speech in the utterance under way.
    pause: usize,
    /// Whether any of it was certainly speech.
    certain: bool,
    /// What is softer than this is nobody's speech.
    floor: Option<Level>,
    /// The latest frames, as long as a [`Level`] is taken over.
    latest: VecDeque<f32>,
}

impl Endpoint {
    /// Waits for the first utterance.
    pub fn new(settings: EndpointSettings) -> Self {
        Self {
            detector: Detector::default_boxed(),
            settings,
            waiting: Vec::with_capacity(FRAME),
            lead: VecDeque::new(),
            utterance: Vec::new(),
            speech: 0,
            pause: 0,
            certain: false,
            floor: None,
            latest: VecDeque::with_capacity(Level::SPAN + FRAME),
        }
    }

    /// What is softer than this counts as silence from now on, and over every [`reset`](Self::reset): who speaks near the
    /// microphone pauses although a radio doesn't.
    ///
    /// ```
    /// use tellshelf::ear::{Endpoint, EndpointSettings, Level};
    /// let mut endpoint = Endpoint::new(EndpointSettings::default());
    /// let radio = Level::of([0.01, -0.01]);
    /// endpoint.ignore_below(Some(radio.louder_by(1.0)));
    /// endpoint.reset();
    /// assert!(endpoint.floor() > Some(radio));
    /// ```
    pub fn ignore_below(&mut self, floor: Option<Level>) {
        self.floor = floor;
    }

    /// What counts as silence however much it is like speech: see [`ignore_below`](Self::ignore_below).
    pub fn floor(&self) -> Option<Level> {
        self.floor
    }

    /// Takes samples (one channel, 16,000 a second) in any number; gives the utterances that ended
    /// within them, each with a little of the sound before it and with the pause that ended it.
    pub fn push(&mut self, samples: &[f32]) -> Vec<Sound> {
        let mut ended = Vec::new();
        for sample in samples {
            // The detector is only defined for real numbers within full scale.
            self.waiting.push(tame(*sample));
            if self.waiting.len() == FRAME {
                ended.extend(self.frame());
                self.waiting.clear();
            }
        }
        ended
    }

    /// Gives the utterance under way, if it is long enough to be one, and starts afresh.
    pub fn finish(&mut self) -> Option<Sound> {
        if !self.utterance.is_empty() {
            self.utterance.append(&mut self.waiting);
        }
        let last = self.end();
        self.reset();
        last
    }

    /// Forgets everything heard so far. To be called whenever sound was left out of the stream.
    pub fn reset(&mut self) {
        self.detector.reset();
        self.waiting.clear();
        self.latest.clear();
        self.lead.clear();
        self.utterance.clear();
        (self.speech, self.pause, self.certain) = (0, 0, false);
    }

    /// Whether an utterance is under way.
    pub fn speaking(&self) -> bool {
        !self.utterance.is_empty()
    }

    /// How long it has been quiet within the utterance under way, in seconds; `None` while nobody speaks, or as long as
    /// what was said is too little for an utterance. For whoever can tell sooner than by a long pause that all is said.
    ///
    /// ```
    /// use tellshelf::ear::{Endpoint, EndpointSettings};
    /// let mut endpoint = Endpoint::new(EndpointSettings::default());
    /// endpoint.push(&[0.0; 16_000]);
    /// assert_eq!(endpoint.pause(), None);
    /// ```
    pub fn pause(&self) -> Option<f64> {
        (self.speaking() && self.is_one()).then(|| self.pause as f64 / f64::from(RATE))
    }

    /// How long the utterance under way is so far, in seconds, with the pause in it; 0 while nobody speaks.
    ///
    /// ```
    /// use tellshelf::ear::{Endpoint, EndpointSettings};
    /// let mut endpoint = Endpoint::new(EndpointSettings::default());
    /// endpoint.push(&[0.0; 16_000]);
    /// assert_eq!(endpoint.length(), 0.0);
    /// ```
    pub fn length(&self) -> f64 {
        self.utterance.len() as f64 / f64::from(RATE)
    }

    /// How much of the utterance under way was spoken so far, in seconds: the same without the pause at its end, be it ever
    /// so short.
    ///
    /// ```
    /// use tellshelf::ear::{Endpoint, EndpointSettings};
    /// let mut endpoint = Endpoint::new(EndpointSettings::default());
    /// endpoint.push(&[0.0; 16_000]);
    /// assert_eq!(endpoint.spoken(), 0.0);
    /// ```
    pub fn spoken(&self) -> f64 {
        self.utterance.len().saturating_sub(self.pause) as f64 / f64::from(RATE)
    }

    /// The samples of the utterance under way, with the pause that it has so far; none while nobody speaks.
    ///
    /// ```
    /// use tellshelf::ear::{Endpoint, EndpointSettings};
    /// let mut endpoint = Endpoint::new(EndpointSettings::default());
    /// endpoint.push(&[0.0; 16_000]);
    /// assert!(endpoint.samples().is_empty());
    /// ```
    pub fn samples(&self) -> &[f32] {
        &self.utterance
    }

    /// Leaves out the beginning of the utterance under way, so many samples (all of it, if it has no more): it was somebody
    /// else's. What is left counts as speech as far as there was that much of it.
    pub fn leave_out(&mut self, samples: usize) {
        let samples = samples.min(self.utterance.len());
        self.utterance.drain(..samples);
        self.speech = self.speech.min(self.utterance.len());
        self.pause = self.pause.min(self.utterance.len());
    }

    /// A copy of the utterance under way, with the pause that it has so far.
    pub fn so_far(&self) -> Sound {
        Sound::new(self.utterance.clone())
    }

    /// Ends the utterance under way here, without another pause, and goes on listening.
    pub fn take(&mut self) -> Option<Sound> {
        self.end()
    }

    fn is_one(&self) -> bool {
        self.certain && self.speech >= samples(self.settings.min_speech)
    }

    fn frame(&mut self) -> Option<Sound> {
        let score = self.detector.predict_f32(&self.waiting);
        self.latest.extend(&self.waiting);
        let surplus = self.latest.len().saturating_sub(Level::SPAN);
        self.latest.drain(..surplus);
        let loud = self
            .floor
            .is_none_or(|floor| Level::of(self.latest.iter().copied()) >= floor);
        let speech = loud && score >= self.settings.threshold;
        if self.utterance.is_empty() && !speech {
            self.lead.extend(&self.waiting);
            let surplus = self.lead.len().saturating_sub(samples(self.settings.lead));
            self.lead.drain(..surplus);
            return None;
        }
        self.utterance.extend(self.lead.drain(..));
        self.utterance.extend(&self.waiting);
        self.certain |= loud && score >= self.settings.certainty;
        if speech {
            self.speech += FRAME;
            self.pause = 0;
        } else {
            self.pause += FRAME;
        }
        let paused = self.pause >= samples(self.settings.end_pause);
        let too_long = self.utterance.len() >= samples(self.settings.max_utterance);
        if paused || too_long { self.end() } else { None }
    }

    /// Ends the utterance under way, and gives it if it is one.
    fn end(&mut self) -> Option<Sound> {
        let is_one = self.is_one();
        let utterance = std::mem::take(&mut self.utterance);
        (self.speech, self.pause, self.certain) = (0, 0, false);
        is_one.then(|| Sound::new(utterance))
    }
}

fn samples(seconds: f64) -> usize {
    // A negative or undefined number of seconds becomes 0.
    (seconds * f64::from(RATE)).round() as usize
}

/// The utterances in a recording, by the default settings.
///
/// ```
/// use tellshelf::ear::{Sound, utterances_in};
/// assert!(utterances_in(&Sound::new(vec![0.0; 48_000])).is_empty());
/// ```
pub fn utterances_in(sound: &Sound) -> Vec<Sound> {
    let mut endpoint = Endpoint::new(EndpointSettings::default());
    let mut utterances = endpoint.push(sound.samples());
    utterances.extend(endpoint.finish());
    utterances
}

/// How long nobody has spoken at the end of a sound (one channel, 16,000 samples a second), in seconds: as long as the
/// sound is, where nobody speaks in it. What is softer than the floor, if there is one, is nobody. As exact as the
/// detector's frames of 16 ms.
///
/// ```
/// use tellshelf::ear::quiet_at_end;
/// assert_eq!(quiet_at_end(&[0.0; 8_000], None), 0.5);
/// ```
pub fn quiet_at_end(samples: &[f32], floor: Option<Level>) -> f64 {
    let mut detector = Detector::default_boxed();
    let mut spoken = 0;
    for (number, frame) in samples.chunks_exact(FRAME).enumerate() {
        let tamed: Vec<f32> = frame.iter().map(|sample| tame(*sample)).collect();
        let end = (number + 1) * FRAME;
        let latest = &samples[end.saturating_sub(Level::SPAN)..end];
        let loud = floor.is_none_or(|floor| Level::of(latest.iter().copied()) >= floor);
        if detector.predict_f32(&tamed) >= EndpointSettings::THRESHOLD && loud {
            spoken = end;
        }
    }
    (samples.len() - spoken) as f64 / f64::from(RATE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn silence(seconds: f64) -> Vec<f32> {
        vec![0.0; samples(seconds)]
    }

    /// Something like a voice: pulses of a gliding pitch through the resonances of changing vowels.
    fn voice(seconds: f64) -> Vec<f32> {
        const VOWELS: [[f64; 3]; 3] = [
            [730.0, 1090.0, 2440.0],
            [270.0, 2290.0, 3010.0],
            [570.0, 840.0, 2410.0],
        ];
        let mut state = [[0.0f64; 2]; 3];
        let mut phase = 0.0;
        let mut out = Vec::new();
        for n in 0..samples(seconds) {
            let time = n as f64 / f64::from(RATE);
            phase += (120.0 + 30.0 * (time * 5.0).sin()) / f64::from(RATE);
            let pulse = if phase >= 1.0 { 1.0 } else { 0.0 };
            phase -= pulse;
            let vowel = VOWELS[(time / 0.15) as usize % VOWELS.len()];
            let mut sum = 0.0;
            for (hertz, state) in vowel.iter().zip(&mut state) {
                let radius = (-std::f64::consts::PI * 90.0 / f64::from(RATE)).exp();
                let angle = std::f64::consts::TAU * hertz / f64::from(RATE);
                let value =
                    pulse + 2.0 * radius * angle.cos() * state[0] - radius * radius * state[1];
                *state = [value, state[0]];
                sum += value;
            }
            out.push((0.05 * sum) as f32);
        }
        out
    }

    fn cut(pieces: &[Vec<f32>]) -> Vec<Sound> {
        utterances_in(&Sound::new(pieces.concat()))
    }

    #[test]
    fn a_pause_ends_an_utterance_and_a_breath_does_not() {
        let two = cut(&[
            silence(0.5),
            voice(1.0),
            silence(1.5),
            voice(1.0),
            silence(1.5),
        ]);
        assert_eq!(two.len(), 2);
        let one = cut(&[
            silence(0.5),
            voice(1.0),
            silence(0.4),
            voice(1.0),
            silence(1.5),
        ]);
        assert_eq!(one.len(), 1);
    }

    #[test]
    fn an_utterance_has_its_lead_and_its_pause() {
        let before = 0.5;
        let utterance = cut(&[silence(before), voice(1.0), silence(2.0)]).remove(0);
        let seconds = utterance.seconds();
        let wanted = EndpointSettings::LEAD + 1.0 + EndpointSettings::END_PAUSE;
        assert!((seconds - wanted).abs() < 0.15, "{seconds} s");
        let first = utterance
            .samples()
            .iter()
            .position(|sample| sample.abs() > 0.01)
            .unwrap();
        assert!(
            (3_200..6_400).contains(&first),
            "{first} samples before the voice"
        );
    }

    #[test]
    fn pieces_of_any_size_give_the_same_utterances() {
        let sound = [
            silence(0.5),
            voice(1.0),
            silence(1.0),
            voice(0.5),
            silence(1.0),
        ]
        .concat();
        let whole = utterances_in(&Sound::new(sound.clone()));
        assert_eq!(whole.len(), 2);
        for size in [1, 255, 257, 4_000] {
            let mut endpoint = Endpoint::new(EndpointSettings::default());
            let mut cut: Vec<Sound> = sound
                .chunks(size)
                .flat_map(|piece| endpoint.push(piece))
                .collect();
            cut.extend(endpoint.finish());
            assert_eq!(cut, whole, "pieces of {size}");
        }
    }

    #[test]
    fn an_utterance_can_be_looked_at_and_ended_before_its_pause_is_over() {
        let mut endpoint = Endpoint::new(EndpointSettings::default());
        endpoint.push(&silence(0.5));
        endpoint.push(&voice(1.0));
        endpoint.push(&silence(0.4));
        let pause = endpoint.pause().unwrap();
        assert!((0.25..0.45).contains(&pause), "{pause} s");
        let so_far = endpoint.so_far();
        assert_eq!(endpoint.take(), Some(so_far));
        assert_eq!(endpoint.pause(), None);
        endpoint.push(&silence(2.0));
        assert_eq!(endpoint.finish(), None);
    }

    #[test]
    fn the_quiet_at_the_end_begins_behind_the_last_word() {
        let silent_for = |pieces: &[Vec<f32>]| quiet_at_end(&pieces.concat(), None);
        assert_eq!(silent_for(&[]), 0.0);
        assert!(silent_for(&[silence(0.5), voice(1.0)]) < 0.05);
        let quiet = silent_for(&[silence(0.5), voice(1.0), silence(0.6)]);
        assert!((0.4..0.65).contains(&quiet), "{quiet} s");
        let louder = Some(Level::loudest(&voice(1.0)).louder_by(3.0));
        assert_eq!(
            quiet_at_end(&voice(1.0), louder),
            1.0,
            "nobody is that loud"
        );
    }

    #[test]
    fn what_is_softer_than_the_floor_is_silence() {
        let loud: Vec<f32> = voice(1.0).iter().map(|sample| sample * 8.0).collect();
        let sound = [voice(2.0), loud, voice(2.0), silence(1.0)].concat();
        let mut endpoint = Endpoint::new(EndpointSettings::default());
        endpoint.ignore_below(Some(Level::loudest(&voice(2.0)).louder_by(3.0)));
        // A reset is for sound that was left out, and the talk goes on.
        endpoint.reset();
        let utterances = endpoint.push(&sound);
        assert_eq!(utterances.len(), 1);
        assert!((1.0..2.5).contains(&utterances[0].seconds()));
        endpoint.ignore_below(None);
        assert!(endpoint.push(&sound)[0].seconds() > 4.0);
    }

    #[test]
    fn what_is_still_being_said_at_the_end_is_kept() {
        let mut endpoint = Endpoint::new(EndpointSettings::default());
        assert!(endpoint.push(&voice(1.0)).is_empty());
        assert!(endpoint.speaking());
        let last = endpoint.finish().unwrap();
        assert!((last.seconds() - 1.0).abs() < 0.001);
        assert!(!endpoint.speaking());
        assert!(endpoint.finish().is_none());
    }

    #[test]
    fn a_click_is_no_utterance() {
        let mut click = silence(3.0);
        click[16_000..16_160].fill(0.9);
        assert!(cut(&[click, voice(0.1), silence(1.0)]).is_empty());
    }

    #[test]
    fn someone_who_never_pauses_is_cut_off() {
        let settings = EndpointSettings {
            max_utterance: 2.0,
            ..EndpointSettings::default()
        };
        let utterances = Endpoint::new(settings).push(&voice(5.0));
        assert_eq!(utterances.len(), 2);
        assert!(
            utterances
                .iter()
                .all(|one| (one.seconds() - 2.0).abs() < 0.02)
        );
    }

    #[test]
    fn a_reset_forgets_what_was_being_said() {
        let mut endpoint = Endpoint::new(EndpointSettings::default());
        endpoint.push(&voice(1.0));
        endpoint.reset();
        assert!(endpoint.push(&silence(2.0)).is_empty());
        assert!(endpoint.finish().is_none());
    }

    #[test]
    fn samples_that_are_no_numbers_do_no_harm() {
        let mut endpoint = Endpoint::new(EndpointSettings::default());
        assert!(
            endpoint
                .push(&[f32::NAN, f32::INFINITY, 9.0, -9.0].repeat(4_000))
                .is_empty()
        );
        endpoint.reset();
        endpoint.push(&silence(1.0));
        endpoint.push(&voice(1.0));
        assert_eq!(endpoint.push(&silence(1.0)).len(), 1);
    }
}
