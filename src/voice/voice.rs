//! The voice a person meets: captions always, speech whenever it can be had.

use std::io::{self, Write};
use std::time::{Duration, Instant};

use super::manner::Manner;
use super::playback::Playing;
use super::{Captions, Opened, Opening, Speech, TONE_RATE, Tone, VoiceError};
use crate::settings::{Settings, Tones};

/// How long the first opening may hold up the start: time enough to start a speech service.
const FIRST_OPENING: Duration = Duration::from_secs(5);

/// How long a reply waits for a lost speech service to come back. The opening goes on behind.
const REOPENING: Duration = Duration::from_secs(1);

/// The least time between two attempts to find a lost speech service.
const BETWEEN_ATTEMPTS: Duration = Duration::from_secs(5);

/// After how long an opening that hangs is given up and begun anew. Each one given up leaves a thread
/// behind, so this is long.
const HANGING: Duration = Duration::from_secs(60);

/// Whether replies are spoken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loudness {
    /// Captions and speech.
    Aloud,
    /// Captions only; no speech service is looked for.
    Muted,
}

/// Gives replies: the caption at once, and the same words spoken.
///
/// Nothing about speech is an error to the caller. When speech is missing or gets lost, one line on
/// the notices says so and how to mend it; captions go on, and a later reply finds speech again.
pub struct Voice {
    captions: Captions,
    notices: Box<dyn Write + Send>,
    mouth: Mouth,
    /// How long [`Voice::wait`] has patience with what was said since the last one.
    patience: Duration,
    /// Whether the last [`Voice::wait`] was in vain.
    silent: bool,
    /// Since when there is something to be spoken, and when the service was last asked whether it is there.
    since: Instant,
    asked: Instant,
    manner: Option<Manner>,
    tones: Tones,
    /// The sound behind what was said.
    playing: Option<Playing>,
    /// Since when all that was said is over.
    silent_since: Instant,
}

/// Where speech stands.
enum Mouth {
    Muted,
    Open(Speech),
    /// Being opened since that moment.
    Opening(Opening, Instant),
    /// Not to be had, as was found at that moment.
    Shut(Instant),
}

impl Voice {
    /// A voice whose notices go to standard error. Unless muted, it waits at most 5 seconds for
    /// the speech service.
    #[must_use]
    pub fn new(captions: Captions, loudness: Loudness) -> Self {
        Self::with_notices(captions, loudness, Box::new(io::stderr()))
    }

    /// A voice whose notices go to this writer.
    #[must_use]
    pub fn with_notices(
        captions: Captions,
        loudness: Loudness,
        notices: Box<dyn Write + Send>,
    ) -> Self {
        let mut voice = Self {
            captions,
            notices,
            mouth: Mouth::Muted,
            patience: Duration::ZERO,
            silent: false,
            since: Instant::now(),
            asked: Instant::now(),
            manner: None,
            tones: Tones::default(),
            playing: None,
            silent_since: Instant::now(),
        };
        if loudness == Loudness::Aloud
            && let Err(error) = voice.open(FIRST_OPENING)
        {
            voice.notice(&error);
        }
        voice
    }

    /// Speaks and sounds from now on as the settings say.
    pub fn follow(&mut self, settings: &Settings) {
        self.tones = settings.tones.clone();
        let manner = Manner::of(&settings.speech);
        let had_a_voice = matches!(&self.manner, Some(Manner { voice: Some(_), .. }));
        let to_usual = had_a_voice && manner.voice.is_none();
        self.manner = Some(manner);
        // A service can be given a voice, and not be told to choose for itself again: a new connection is.
        if to_usual && matches!(self.mouth, Mouth::Open(_)) {
            if let Err(error) = self.open(FIRST_OPENING) {
                self.notice(&error);
            }
        } else {
            self.speak_so();
        }
    }

    /// Tells the speech service how to speak; a new connection knows nothing of it.
    fn speak_so(&mut self) {
        if let (Mouth::Open(speech), Some(manner)) = (&mut self.mouth, &self.manner)
            && let Err(lost) = speech.speak_so(manner.clone())
        {
            self.lose(&lost);
        }
    }

    /// The name of the voice that comes behind this one (behind none, the first) among those for a language; `None`
    /// where there is no other. Takes some seconds: the service has thousands to look through.
    pub fn voice_behind(&mut self, voice: Option<&str>, language: &str) -> Option<String> {
        let Mouth::Open(speech) = &mut self.mouth else {
            return None;
        };
        match speech.voices(language) {
            Ok(voices) => {
                let at = voices.iter().position(|name| Some(name.as_str()) == voice);
                let next = at.map_or(0, |at| (at + 1) % voices.len());
                voices
                    .into_iter()
                    .nth(next)
                    .filter(|next| Some(next.as_str()) != voice)
            }
            Err(lost) => {
                self.lose(&lost);
                None
            }
        }
    }

    /// Plays a tone, beside whatever is spoken, and doesn't wait for its end. Muted, or with the tones off, nothing is
    /// played.
    pub fn tone(&self, tone: Tone) {
        if matches!(self.mouth, Mouth::Muted) || !self.tones.on {
            return;
        }
        let loudness = self.tones.volume.share();
        let mut samples = tone.samples();
        samples.iter_mut().for_each(|sample| *sample *= loudness);
        // Without a loudspeaker there is no speech either, and that is said elsewhere.
        drop(Playing::start(samples, TONE_RATE));
    }

    /// Whether something that was said is still being spoken, or a sound played, as far as is known. Takes no time but for
    /// a question to the service, each half a second, whether it is there: it sends no word when it dies.
    pub fn is_speaking(&mut self) -> bool {
        const PULSE: Duration = Duration::from_millis(500);
        if let Some(playing) = &self.playing {
            match playing.goes_on() {
                Ok(true) => return true,
                Ok(false) => {}
                Err(error) => self.notice(&error),
            }
            self.playing = None;
            self.silent_since = Instant::now();
        }
        if self.patience.is_zero() {
            return false;
        }
        let Mouth::Open(speech) = &mut self.mouth else {
            self.patience = Duration::ZERO;
            return false;
        };
        let mut state = speech.wait(Duration::ZERO);
        if matches!(state, Ok(false)) && self.asked.elapsed() > PULSE {
            self.asked = Instant::now();
            state = speech.is_there().map(|()| false);
        }
        match state {
            Ok(false) if self.since.elapsed() < self.patience && !self.silent => true,
            Ok(spoken) => {
                let at_most = std::mem::take(&mut self.patience);
                self.silent_since = end_of(speech, spoken);
                if !spoken && !self.silent {
                    self.silent = true;
                    self.notice(&VoiceError::Unspoken(at_most));
                }
                false
            }
            Err(lost) => {
                self.lose(&lost);
                false
            }
        }
    }

    /// Since when it is silent. To be asked once [`Voice::is_speaking`] says no, or behind [`Voice::wait`] or
    /// [`Voice::stop`].
    #[must_use]
    pub fn silent_since(&self) -> Instant {
        self.silent_since
    }

    /// Gives one reply: its caption first, then its speech, after whatever is still being spoken.
    /// Doesn't wait for the speech to end. An empty reply gives an empty line and no speech.
    ///
    /// If the speech service was lost, it is looked for again, at most every 5 seconds, and this reply
    /// waits for it at most 1 second.
    pub fn say(&mut self, reply: &str) {
        if let Err(error) = self.captions.write(reply) {
            // Whoever read the captions has gone. Speech goes on, and the lines are not tried again.
            self.captions = Captions::none();
            self.notice(&format_args!("I can't write captions any more: {error}."));
        }
        self.reopen();
        self.listen_again();
        let Some(Err(lost)) = self.speak(reply) else {
            return;
        };
        // A service that was restarted in the meantime speaks this very reply, and nothing is amiss.
        self.patience = Duration::ZERO;
        if self.open(REOPENING).is_err() {
            self.notice(&lost);
        } else if let Some(Err(lost)) = self.speak(reply) {
            self.lose(&lost);
        }
    }

    /// Whether what is said now is spoken, as far as is known.
    #[must_use]
    pub fn speaks(&self) -> bool {
        matches!(self.mouth, Mouth::Open(_))
    }

    /// Waits until everything said has been spoken, and the sound behind it played. Returns at once if there is no speech;
    /// never waits longer than 5 seconds and a fifth of a second for each letter said.
    ///
    /// If that isn't enough, the service lives and makes no sound. One line says so, and no more time
    /// is spent on waiting until something has been spoken to its end.
    pub fn wait(&mut self) {
        let is_played = self.playing.is_some();
        if let Some(playing) = self.playing.take()
            && let Err(error) = playing.wait()
        {
            self.notice(&error);
        }
        let patience = std::mem::take(&mut self.patience);
        self.silent_since = Instant::now();
        let Mouth::Open(speech) = &mut self.mouth else {
            return;
        };
        let at_most = if self.silent {
            Duration::ZERO
        } else {
            patience
        };
        match speech.wait(at_most) {
            Ok(true) if is_played => {}
            Ok(true) => self.silent_since = end_of(speech, true),
            Ok(false) if self.silent => {}
            Ok(false) => {
                self.silent = true;
                self.notice(&VoiceError::Unspoken(at_most));
            }
            Err(lost) => self.lose(&lost),
        }
    }

    /// Begins to play a sound (one channel, so many samples a second, from -1 to 1), when all that was said has been
    /// spoken. Muted, nothing is played: the reply before it says what it is.
    pub fn play(&mut self, samples: Vec<f32>, rate: u32) {
        if matches!(self.mouth, Mouth::Muted) {
            return;
        }
        self.wait();
        self.playing = Some(Playing::start(samples, rate));
    }

    /// Falls silent, and forgets what was still waiting to be spoken.
    pub fn stop(&mut self) {
        if let Some(playing) = self.playing.take() {
            playing.stop();
        }
        self.patience = Duration::ZERO;
        if let Mouth::Open(speech) = &mut self.mouth
            && let Err(lost) = speech.stop()
        {
            self.lose(&lost);
        }
        self.silent_since = Instant::now();
    }

    /// Speaks one reply, if there is an open mouth to speak with.
    fn speak(&mut self, reply: &str) -> Option<Result<(), VoiceError>> {
        let Mouth::Open(speech) = &mut self.mouth else {
            return None;
        };
        if self.patience.is_zero() {
            self.patience = Duration::from_secs(5);
            (self.since, self.asked) = (Instant::now(), Instant::now());
        }
        // The slowest voices take a seventh of a second for a letter.
        let letters = u32::try_from(reply.chars().count()).unwrap_or(u32::MAX);
        self.patience = self
            .patience
            .saturating_add(Duration::from_millis(200).saturating_mul(letters));
        Some(speech.say(reply))
    }

    /// Whether a service that made no sound has spoken to its end what was said before.
    fn listen_again(&mut self) {
        if self.silent
            && let Mouth::Open(speech) = &mut self.mouth
        {
            self.silent = !matches!(speech.wait(Duration::ZERO), Ok(true));
        }
    }

    /// Looks for speech, waiting at most this long.
    fn open(&mut self, at_most: Duration) -> Result<(), VoiceError> {
        let now = Instant::now();
        match Opening::start() {
            Ok(opening) => self.go_on_opening(opening, now, at_most),
            Err(error) => {
                self.mouth = Mouth::Shut(now);
                Err(error)
            }
        }
    }

    fn go_on_opening(
        &mut self,
        opening: Opening,
        since: Instant,
        at_most: Duration,
    ) -> Result<(), VoiceError> {
        // A new connection deserves new patience.
        self.silent = false;
        let (mouth, outcome) = match opening.wait(at_most) {
            Opened::Ready(speech) => (Mouth::Open(speech), Ok(())),
            Opened::NotYet(opening) => (
                Mouth::Opening(opening, since),
                Err(VoiceError::NoAnswer(at_most)),
            ),
            Opened::Failed(error) => (Mouth::Shut(since), Err(error)),
        };
        self.mouth = mouth;
        self.speak_so();
        outcome
    }

    /// Before a reply: takes up an opening that has come through, or tries again when it is time.
    /// Failure needs no word: the person was told once when speech went.
    fn reopen(&mut self) {
        match std::mem::replace(&mut self.mouth, Mouth::Muted) {
            Mouth::Opening(opening, since) if since.elapsed() < HANGING => {
                let _ = self.go_on_opening(opening, since, Duration::ZERO);
            }
            Mouth::Shut(since) if since.elapsed() < BETWEEN_ATTEMPTS => {
                self.mouth = Mouth::Shut(since);
            }
            Mouth::Opening(..) | Mouth::Shut(_) => {
                let _ = self.open(REOPENING);
            }
            as_it_was => self.mouth = as_it_was,
        }
    }

    /// Speech is gone: says so once.
    fn lose(&mut self, error: &VoiceError) {
        self.mouth = Mouth::Shut(Instant::now());
        self.patience = Duration::ZERO;
        self.notice(error);
    }

    fn notice(&mut self, words: &dyn std::fmt::Display) {
        // If even this can't be written, there is nowhere left to say so.
        let _ = writeln!(self.notices, "{words}").and_then(|()| self.notices.flush());
    }
}

/// When the speech was over: as the service told, or just now if it told nothing.
fn end_of(speech: &Speech, spoken: bool) -> Instant {
    let told = speech.silent_since().filter(|_| spoken);
    told.unwrap_or_else(Instant::now)
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::{Receiver, Sender, channel};

    use super::*;

    /// A writer that passes on what is flushed, or is a closed pipe.
    struct Pipe {
        unflushed: Vec<u8>,
        flushed: Option<Sender<String>>,
    }

    impl Pipe {
        fn open() -> (Box<Self>, Receiver<String>) {
            let (flushed, reader) = channel();
            let pipe = Self {
                unflushed: Vec::new(),
                flushed: Some(flushed),
            };
            (Box::new(pipe), reader)
        }

        fn closed() -> Box<Self> {
            Box::new(Self {
                unflushed: Vec::new(),
                flushed: None,
            })
        }
    }

    impl Write for Pipe {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.unflushed.write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            let text = String::from_utf8(std::mem::take(&mut self.unflushed)).unwrap();
            match &self.flushed {
                Some(reader) => reader.send(text).map_err(io::Error::other),
                None => Err(io::ErrorKind::BrokenPipe.into()),
            }
        }
    }

    #[test]
    fn each_reply_is_one_line_at_once() {
        let (captions, reader) = Pipe::open();
        let (notices, noticed) = Pipe::open();
        let mut voice = Voice::with_notices(Captions::on(captions), Loudness::Muted, notices);
        assert!(!voice.speaks());
        voice.say("Oats used up.\nOn the list.");
        assert_eq!(reader.try_recv().unwrap(), "Oats used up. On the list.\n");
        voice.say("Undone.");
        voice.wait();
        assert_eq!(reader.try_recv().unwrap(), "Undone.\n");
        assert!(noticed.try_recv().is_err(), "nothing to notice");
    }

    #[test]
    fn captions_that_cannot_be_written_are_noticed_once() {
        let (notices, noticed) = Pipe::open();
        let captions = Captions::on(Pipe::closed());
        let mut voice = Voice::with_notices(captions, Loudness::Muted, notices);
        voice.say("One.");
        voice.say("Two.");
        let notice = noticed.try_recv().unwrap();
        assert!(notice.starts_with("I can't write captions"), "{notice}");
        assert!(noticed.try_recv().is_err());
    }

    #[test]
    fn no_captions_write_nothing() {
        let (notices, noticed) = Pipe::open();
        let mut voice = Voice::with_notices(Captions::none(), Loudness::Muted, notices);
        voice.say("One.");
        assert!(noticed.try_recv().is_err());
    }
}
