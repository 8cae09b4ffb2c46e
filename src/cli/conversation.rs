//! The conversation at the microphone: who has the word.
//!
//! One loop looks at the keyboard, the sound and the clock, some ten times a second. What is asked of the rooms, and what
//! their answers mean, is the rooms' own business: here it is only decided whose turn it is.

use std::time::{Duration, Instant};

use chrono::NaiveDateTime;

use super::ears::OwnEars;
use super::error::CliError;
use super::hear::{play_sound, take_turn};
use super::hearing::{Hearing, Settled};
use super::keys::{Key, Keys};
use super::listener::{Listener, News, told_to_wait_after};
use super::output::{Times, write_turn};
use super::stopper::{Silencer, Stopper};
use super::typed::take_line;
use super::{ConversationOptions, Ending};
use crate::ear::{EarError, Microphone, Moment, cancels_echo};
use crate::grammar::{Verdict, WakePhrase};
use crate::settings::{Replies, Settings};
use crate::stock::Source;
use crate::talk::{Attention, Effect, Notice, Session, Turn};
use crate::voice::{Tone, Voice};

/// How long one look at the microphone waits for sound.
const LOOK: Duration = Duration::from_millis(60);
/// How often a lost microphone is looked for.
const BETWEEN_ATTEMPTS: Duration = Duration::from_secs(2);
/// How long is listened on in the middle of something: hands need more time than a tongue.
const WHILE_BUSY: Duration = Duration::from_secs(60);
/// How late after a reply is silenced the rest of a word may begin to be heard.
const DOUBT: Duration = Duration::from_millis(500);

pub(super) struct Conversation {
    options: ConversationOptions,
    hearing: Hearing,
    session: Session,
    voice: Voice,
    microphone: Option<Microphone>,
    /// When a lost microphone was looked for last.
    looked: Instant,
    /// Whether our own voice is kept out of what the microphone hears.
    echo_free: bool,
    listener: Listener,
    stopper: Stopper,
    keys: Keys,
    /// A reply is being spoken, and this turn's sound comes behind it.
    speaking: Option<Option<Turn>>,
    /// Since when what is being heard may be no more than the rest of "stop", or of our own voice, as it began over a reply.
    /// Where it isn't clearly a command, it is nothing.
    in_doubt: Option<Instant>,
    /// The person was asked to wait until what they say is heard.
    asks_patience: bool,
    /// Until when is listened without the wake phrase.
    awake_until: Option<Instant>,
}

impl Conversation {
    pub fn begin(
        hearing: Hearing,
        mut session: Session,
        voice: Voice,
        options: ConversationOptions,
    ) -> Result<Self, CliError> {
        let microphone = Microphone::open()?;
        eprintln!("I'm listening at {}.", microphone.describe());
        let phrase = wake_phrase(session.settings())?;
        let stopper = Stopper::new(phrase.as_ref())?;
        let patience = session.settings().listening.patience;
        let listener = Listener::new(patience, phrase.as_ref())?;
        if let Some(phrase) = phrase {
            eprintln!("Say “{phrase}” to begin, or press Enter.");
            session.use_wake_phrase(phrase)?;
            session.sleep();
        }
        Ok(Self {
            listener,
            stopper,
            keys: Keys::listen(),
            echo_free: cancels_echo(),
            microphone: Some(microphone),
            looked: Instant::now(),
            speaking: None,
            in_doubt: None,
            asks_patience: false,
            awake_until: None,
            options,
            hearing,
            session,
            voice,
        })
    }

    /// Goes on until the program is stopped.
    pub fn go_on(mut self) -> Result<Ending, CliError> {
        loop {
            while let Some(key) = self.keys.next() {
                self.key(key)?;
            }
            match self.sound() {
                Ok(Some(samples)) => self.listen(&samples)?,
                Ok(None) => {}
                Err(lost) => self.lose_microphone(&lost),
            }
            if self.speaking.is_some() && !self.voice.is_speaking() {
                self.fall_silent();
            }
            self.look_at_the_clock();
        }
    }

    fn now(&self) -> NaiveDateTime {
        self.options.clock().now()
    }

    fn key(&mut self, key: Key) -> Result<(), CliError> {
        match key {
            Key::Pressed if self.speaking.is_some() => self.hush(),
            Key::Pressed => {
                // From wherever they are.
                self.listener.listen_to_all();
                self.called();
            }
            Key::Line(text) => {
                // Who types is speaking to us, and doesn't wait to hear the last answer out.
                self.voice.stop();
                self.stay_awake();
                let now = self.now();
                let (turn, times) = take_line(&mut self.session, &text, now);
                self.reply("typed", turn, &times)?;
            }
        }
        Ok(())
    }

    /// The next sound, or a microphone that is back.
    fn sound(&mut self) -> Result<Option<Vec<f32>>, EarError> {
        if let Some(microphone) = &mut self.microphone {
            return microphone.next(LOOK);
        }
        std::thread::sleep(LOOK);
        if self.looked.elapsed() > BETWEEN_ATTEMPTS {
            self.microphone = Microphone::open().ok();
            self.looked = Instant::now();
            if self.microphone.is_some() {
                self.echo_free = cancels_echo();
                self.say(Notice::MicrophoneBack.words());
            }
        }
        Ok(None)
    }

    fn lose_microphone(&mut self, lost: &EarError) {
        eprintln!("{lost}.");
        self.microphone = None;
        self.looked = Instant::now();
        self.listener.reset();
        self.listener.listen_to_all();
        self.voice.tone(Tone::NeedsYou);
        self.say(Notice::MicrophoneLost.words());
    }

    fn listen(&mut self, samples: &[f32]) -> Result<(), CliError> {
        if self.speaking.is_some() {
            if let Some(silencer) = self.stopper.push(samples, &mut self.hearing)? {
                self.hush();
                // The word is no command. One may follow it at once.
                match silencer {
                    Silencer::Stop => self.listener.begin_behind_a_word(),
                    Silencer::Phrase => self.listener.reset(),
                }
                if self.echo_free {
                    self.in_doubt = Some(Instant::now());
                    let latest = self.stopper.latest();
                    self.take_in(&latest)?;
                }
                return Ok(());
            }
            if !self.echo_free {
                return Ok(());
            }
        }
        self.take_in(samples)
    }

    fn take_in(&mut self, samples: &[f32]) -> Result<(), CliError> {
        let now = self.now();
        let (news, own_word) = self.hear(samples, now)?;
        // An answer comes behind the word, and what the microphone took in is dropped then.
        let is_answered = news.iter().any(|news| matches!(news, News::Said(_)));
        if let Some(since) = own_word.filter(|_| !is_answered) {
            if !news.is_empty() {
                self.voice.stop();
            }
            self.leave_out_since(since);
        }
        self.asks_patience |= own_word.is_some();
        self.asks_patience &= news.is_empty() && self.listener.is_hearing();
        let over = |since: Instant| since.elapsed() > DOUBT;
        if self.in_doubt.is_some_and(over) && !self.listener.is_hearing() && news.is_empty() {
            self.in_doubt = None;
        }
        for news in news {
            match news {
                News::Called => self.called(),
                News::Said(settled) => self.said(*settled, now)?,
            }
        }
        Ok(())
    }

    /// Listens. If that takes so long that whoever is through is kept waiting, they are told, once; since when we say it
    /// comes with what was heard.
    fn hear(
        &mut self,
        samples: &[f32],
        now: NaiveDateTime,
    ) -> Result<(Vec<News>, Option<Moment>), EarError> {
        let mut ears = OwnEars::new(&mut self.hearing, now);
        let is_quiet = self.speaking.is_none() && !self.asks_patience;
        if let Some(microphone) = self.microphone.as_ref().filter(|_| is_quiet) {
            let after = told_to_wait_after(self.session.settings().listening.patience);
            ears = ears.asking_for_patience(&mut self.voice, microphone.backlog(), after);
        }
        let session = &mut self.session;
        let news = self.listener.push_with(samples, session, &mut ears)?;
        Ok((news, ears.own_word()))
    }

    /// Drops what the microphone took in while we said a word in the middle of listening. What was heard before stays, and
    /// what is said behind it is added to that.
    fn leave_out_since(&mut self, since: Moment) {
        if self.echo_free || !self.voice.speaks() {
            return;
        }
        self.voice.wait();
        if let Some(microphone) = &mut self.microphone {
            let over = microphone.backlog().at(self.voice.silent_since());
            microphone.leave_out(since, over);
        }
    }

    /// Somebody called.
    fn called(&mut self) {
        self.hush();
        self.voice.tone(Tone::Listening);
    }

    fn said(&mut self, settled: Settled, now: NaiveDateTime) -> Result<(), CliError> {
        let over_reply = self.speaking.is_some();
        // Over a reply, only what is clearly a command counts: anything else is a cough, or what an echo canceller left
        // of our own voice. (To fall silent as soon as anyone seems to speak was tried: what is left of our own voice
        // seems to be someone as well.)
        let is_clear = settled.understanding.verdict == Verdict::Accept;
        if (over_reply || self.in_doubt.take().is_some()) && !is_clear {
            return Ok(());
        }
        if over_reply {
            self.voice.stop();
        }
        let understood = settled.understanding.verdict != Verdict::Reject;
        let (turn, times) = take_turn(&mut self.session, settled, now, Source::Microphone);
        if understood {
            self.stay_awake();
        }
        // One at a time, so that each is told by its shape.
        let brief = self.session.settings().speech.replies == Replies::Brief;
        self.voice.tone(match () {
            () if !understood => Tone::NotUnderstood,
            () if self.session.is_asking() => Tone::NeedsYou,
            () if turn.changed && brief => Tone::Done,
            () => Tone::Working,
        });
        self.reply("microphone", turn, &times)
    }

    fn reply(&mut self, source: &str, turn: Turn, times: &Times) -> Result<(), CliError> {
        if self.options.json {
            write_turn(source, &turn, times)?;
        }
        self.options.carry_out(&turn, &mut self.voice);
        if let Some(Effect::Settings(settings)) = &turn.effect {
            self.listener.be(settings.listening.patience);
        }
        let other_voice = turn.effect == Some(Effect::OtherVoice);
        let reply = turn.reply.clone();
        self.say_behind(&reply, Some(turn));
        if other_voice {
            let (session, voice) = (&mut self.session, &mut self.voice);
            let words = self.options.take_other_voice(session, voice);
            self.say(&words);
        }
        Ok(())
    }

    fn say(&mut self, words: &str) {
        self.say_behind(words, None);
    }

    fn say_behind(&mut self, words: &str, turn: Option<Turn>) {
        self.stopper.begin(words);
        self.voice.say(words);
        self.speaking = Some(turn);
        self.listener.be_over_reply(true);
    }

    /// The person wants silence, also from what goes behind the reply, and to be listened to.
    fn hush(&mut self) {
        self.voice.stop();
        self.speaking = self.speaking.take().map(|_| None);
        self.fall_silent();
        self.stay_awake();
    }

    /// A reply is over, or was silenced.
    fn fall_silent(&mut self) {
        let Some(turn) = self.speaking.take() else {
            return;
        };
        if let Some(turn) = turn.filter(|turn| turn.sound.is_some())
            && self.voice.speaks()
        {
            play_sound(&turn, &mut self.voice);
            self.speaking = Some(None);
            return;
        }
        if !self.echo_free && self.voice.speaks() {
            // What the microphone took in meanwhile is our own voice. Nothing more of it comes: the speech service tells
            // the end 0.35 s after the last sound, and an echo that is 0.2 s late has been captured 0.07 to 0.14 s before
            // that. (Measured on a make-believe sound card with espeak-ng; to be deaf any longer would cost a quick answer
            // its beginning.)
            if let Some(microphone) = &mut self.microphone {
                microphone.forget_before(self.voice.silent_since());
            }
            self.listener.reset();
        }
        self.listener.be_over_reply(false);
        // What begins behind the reply is as good as any other.
        self.in_doubt = self.listener.is_hearing().then(Instant::now);
        if self.session.attention() == Attention::Awake {
            self.stay_awake();
        }
    }

    fn stay_awake(&mut self) {
        self.session.wake();
        let window = if self.session.is_busy() && !self.session.is_asking() {
            WHILE_BUSY
        } else {
            Duration::from_secs(self.session.settings().listening.window.seconds().into())
        };
        self.awake_until = Some(Instant::now() + window);
    }

    /// Nobody said anything for a while: an open question is answered by no, and from now on the person must call.
    fn look_at_the_clock(&mut self) {
        let over = self.awake_until.is_some_and(|until| Instant::now() > until);
        if !over || self.speaking.is_some() || self.listener.is_hearing() {
            return;
        }
        self.awake_until = None;
        self.session.sleep();
        if let Some(words) = self.session.let_go() {
            self.say(&words);
        }
    }
}

/// The wake phrase of the settings, if there is to be one. Words that can't be one are said, and the usual one holds.
fn wake_phrase(settings: &Settings) -> Result<Option<WakePhrase>, CliError> {
    let Some(words) = settings.listening.phrase() else {
        return Ok(None);
    };
    let usual = Settings::default().listening.wake_phrase;
    Ok(Some(WakePhrase::new(words).or_else(|error| {
        eprintln!("{error} in the settings. Until then it is “{usual}”.");
        WakePhrase::new(&usual)
    })?))
}
