//! From the microphone's sound to what was said: when somebody calls, and when they are through.
//!
//! Sound is listened to in three steps, each dearer than the one before and taken only where that one found something:
//! is anyone speaking; what was said, looked at in each pause; and, where that left a doubt, the same again with more care.

use std::borrow::Cow;

use chrono::NaiveDateTime;

use super::ears::{Ears, OwnEars, Utterance};
use super::hear::overhear;
use super::hearing::{Hearing, Settled};
use super::over_talk::OverTalk;
use crate::ear::{EarError, Endpoint, EndpointSettings, RATE, Sound};
use crate::grammar::{GrammarError, Verdict, WakePhrase};
use crate::settings::Patience;
use crate::talk::{Attention, Completeness, Session};

/// From how long a pause on it is looked at what was said so far, in seconds. Within words there are pauses of a fifth
/// of a second.
const FIRST_LOOK: f64 = 0.3;
/// How long a pause ends an utterance, in seconds: one to which nothing can be added, one that could go on, and one that
/// isn't understood so far.
const AFTER_WHOLE: f64 = 0.35;
const AFTER_SOME: f64 = EndpointSettings::END_PAUSE;
const AFTER_UNFINISHED: f64 = 1.5;
/// The longest of them, with the longest patience.
const LONGEST_PAUSE: f64 = 3.0;
/// So much sound is taken at once, in samples: pauses are found to a thirtieth of a second, however late the sound comes.
const PIECE: usize = RATE as usize / 30;
/// Of who hasn't called, no more is kept than this, in seconds: the phrase with a long command behind it.
const LONGEST_UNCALLED: f64 = 12.0;
/// What goes on for longer than this over a reply is what an echo canceller left of our own voice, or talk in the room, in
/// seconds: who interrupts is brief.
const LONGEST_OVER_REPLY: f64 = 6.0;

/// What is left of a word that was noticed before its end is no longer than this, in seconds.
const REST_OF_A_WORD: f64 = 0.6;
/// How late behind such a word its rest may begin to be heard, in samples.
const LATEST_REST: usize = RATE as usize / 4;

/// What came of listening.
#[derive(Debug)]
pub enum News {
    /// The wake phrase was said by itself.
    Called,
    /// Something was said, and it is over.
    Said(Box<Settled>),
}

/// Listens to a stream of sound.
pub struct Listener {
    endpoint: Endpoint,
    patience: Patience,
    /// What was understood in the pause under way.
    look: Option<Look>,
    /// Whether the person called within the utterance under way.
    called: bool,
    /// Whether a reply is being spoken.
    over_reply: bool,
    /// Where there is a phrase to call by.
    over_talk: Option<OverTalk>,
    /// Whether talk before what may be a call was left out, and is left out still.
    cut: bool,
    /// Whether nobody has called, as far as was known last.
    asleep: bool,
    /// How many samples have come since a word was noticed before its end: what begins now may be its rest.
    behind_word: Option<usize>,
}

struct Look {
    settled: Settled,
    completeness: Completeness,
}

impl Listener {
    /// Waits for the first word, or for this phrase.
    ///
    /// # Errors
    /// [`GrammarError`] where a grammar can't have the phrase.
    pub fn new(patience: Patience, phrase: Option<&WakePhrase>) -> Result<Self, GrammarError> {
        let settings = EndpointSettings {
            end_pause: LONGEST_PAUSE + 0.1,
            ..EndpointSettings::default()
        };
        Ok(Self {
            endpoint: Endpoint::new(settings),
            patience,
            look: None,
            called: false,
            over_reply: false,
            over_talk: phrase.map(OverTalk::new).transpose()?,
            cut: false,
            asleep: false,
            behind_word: None,
        })
    }

    /// Begins anew in the middle of a word that was noticed already, or at its end. The rest of it is nothing: "stop" may
    /// end like "no".
    pub(super) fn begin_behind_a_word(&mut self) {
        self.reset();
        self.behind_word = Some(0);
    }

    /// Whether a reply is being spoken from now on. Over one, what isn't clearly a command when its first pause comes is
    /// dropped at once: it is a cough, or what an echo canceller left of our own voice, and to go on listening to that
    /// would make us slow to hear "stop".
    pub(super) fn be_over_reply(&mut self, over_reply: bool) {
        self.over_reply = over_reply;
    }

    /// Waits so long in pauses from now on.
    pub(super) fn be(&mut self, patience: Patience) {
        self.patience = patience;
    }

    /// Forgets everything heard so far: sound was left out, or it was our own voice. A radio goes on meanwhile, and is still
    /// left out.
    pub fn reset(&mut self) {
        self.endpoint.reset();
        (self.look, self.called, self.behind_word) = (None, false, None);
    }

    /// Whether somebody is speaking, or pausing in the middle.
    pub fn is_hearing(&self) -> bool {
        self.endpoint.speaking()
    }

    /// Takes sound (one channel, [`RATE`] samples a second); gives what came of it. While the session is asleep, that is
    /// only what begins with its wake phrase.
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub fn push(
        &mut self,
        samples: &[f32],
        hearing: &mut Hearing,
        session: &mut Session,
        now: NaiveDateTime,
    ) -> Result<Vec<News>, EarError> {
        self.push_with(samples, session, &mut OwnEars::new(hearing, now))
    }

    /// The same with other ears.
    pub(super) fn push_with(
        &mut self,
        samples: &[f32],
        session: &mut Session,
        ears: &mut impl Ears,
    ) -> Result<Vec<News>, EarError> {
        let mut news = Vec::new();
        let mut behind = samples;
        while !behind.is_empty() {
            let piece;
            (piece, behind) = behind.split_at(PIECE.min(behind.len()));
            let asleep = session.attention() == Attention::Asleep;
            let was_asleep = std::mem::replace(&mut self.asleep, asleep);
            if asleep && (!was_asleep || (self.cut && !self.endpoint.speaking())) {
                self.listen_to_all();
            }
            let cut_off = self.endpoint.push(piece);
            self.leave_out_rest_of_word(piece.len());
            if asleep
                && !self.called
                && !self.cut
                && let Some(over_talk) = &mut self.over_talk
            {
                self.cut = ears.look(over_talk, piece.len(), &mut self.endpoint)?;
            }
            for sound in cut_off {
                let utterance = Utterance {
                    sound: &self.audible(&sound, session),
                    pause: 0.0,
                    behind,
                    floor: self.endpoint.floor(),
                };
                let settled = ears.hear(utterance, session)?;
                news.extend(self.end(settled, Some(sound), session));
            }
            if self.over_reply && self.endpoint.length() > LONGEST_OVER_REPLY {
                self.endpoint.take();
            }
            match self.endpoint.pause() {
                Some(pause) if pause >= FIRST_LOOK => {
                    news.extend(self.in_pause(pause, behind, session, ears)?);
                }
                // Speech goes on: what was understood in the last pause isn't all.
                _ => self.look = None,
            }
        }
        Ok(news)
    }

    /// No talk is left out any more: whoever speaks may be the next, however softly.
    pub(super) fn listen_to_all(&mut self) {
        self.endpoint.ignore_below(None);
        self.cut = false;
    }

    /// Drops an utterance that, at its first pause, is too short to be more than the rest of a word.
    fn leave_out_rest_of_word(&mut self, new: usize) {
        let Some(behind) = &mut self.behind_word else {
            return;
        };
        *behind += new;
        if !self.endpoint.speaking() {
            if *behind > LATEST_REST {
                self.behind_word = None;
            }
            return;
        }
        let spoken = self.endpoint.spoken();
        if spoken > REST_OF_A_WORD {
            self.behind_word = None;
        } else if self.endpoint.length() - spoken >= FIRST_LOOK {
            self.endpoint.take();
            self.behind_word = None;
        }
    }

    fn in_pause(
        &mut self,
        pause: f64,
        behind: &[f32],
        session: &mut Session,
        ears: &mut impl Ears,
    ) -> Result<Option<News>, EarError> {
        if self.look.is_none() {
            let sound = self.endpoint.so_far();
            let utterance = Utterance {
                sound: &self.audible(&sound, session),
                pause,
                behind,
                floor: self.endpoint.floor(),
            };
            let settled = ears.hear(utterance, session)?;
            self.called |= session.is_addressed(&settled.heard, &settled.understanding);
            let in_doubt = settled.understanding.verdict != Verdict::Accept;
            if !self.called || (self.over_reply && in_doubt) {
                // Nobody called: of this nothing is kept.
                self.called = false;
                self.endpoint.take();
                if self.cut {
                    self.listen_to_all();
                }
                return Ok(None);
            }
            if session.is_call(&settled.understanding) {
                self.endpoint.take();
                self.called = false;
                // What has come meanwhile may be the command.
                session.wake();
                return Ok(Some(News::Called));
            }
            let completeness = session.completeness(&settled.understanding);
            self.look = Some(Look {
                settled,
                completeness,
            });
        }
        let factor = self.patience.factor();
        let over = |look: &mut Look| pause >= pause_after(look.completeness, factor);
        let Some(look) = self.look.take_if(over) else {
            return Ok(None);
        };
        let utterance = self.endpoint.take();
        Ok(self.end(look.settled, utterance, session))
    }

    fn end(
        &mut self,
        settled: Settled,
        utterance: Option<Sound>,
        session: &mut Session,
    ) -> Option<News> {
        let called = std::mem::take(&mut self.called)
            || session.is_addressed(&settled.heard, &settled.understanding);
        // Noise that passed for speech, and gave no words, is no utterance.
        if !called || settled.heard.is_silent() {
            return None;
        }
        // Only now: the sound of what nobody said to us isn't kept, not even until the next reply.
        if let Some(utterance) = utterance {
            overhear(session, &utterance);
        }
        Some(News::Said(Box::new(settled)))
    }

    /// What is heard of a sound: while nobody has called, no more than its end.
    fn audible<'a>(&self, sound: &'a Sound, session: &Session) -> Cow<'a, Sound> {
        let longest = (LONGEST_UNCALLED * f64::from(RATE)) as usize;
        let surplus = sound.samples().len().saturating_sub(longest);
        let called = self.called || session.attention() == Attention::Awake;
        if called || surplus == 0 {
            return Cow::Borrowed(sound);
        }
        Cow::Owned(Sound::new(sound.samples()[surplus..].to_vec()))
    }
}

/// How long after their last sound somebody is told that it takes longer, in seconds. Who speaks slowly pauses that long in
/// the middle of a sentence, and any sooner the word would fall into that pause, and what they go on to say would be lost
/// in it (seen on a slow machine). It is 0.7 s after the end of most commands, and 1.15 s after that of one to which
/// nothing can be added.
pub(super) fn told_to_wait_after(patience: Patience) -> f64 {
    pause_after(Completeness::Unfinished, patience.factor())
}

/// How long a pause ends what was said so far, in seconds.
fn pause_after(completeness: Completeness, patience: f64) -> f64 {
    let pause = match completeness {
        Completeness::Whole => AFTER_WHOLE,
        Completeness::MayGoOn => AFTER_SOME,
        Completeness::Unfinished => AFTER_UNFINISHED,
    };
    (pause * patience).max(FIRST_LOOK)
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use chrono::NaiveDate;

    use super::*;
    use crate::ear::read_recording;
    use crate::grammar::{Grammar, Heard};
    use crate::stock::Stock;

    fn recording(name: &str) -> Vec<f32> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("audio-fixtures");
        read_recording(&folder.join(name))
            .unwrap()
            .samples()
            .to_vec()
    }

    /// Ears to which everything is "read the list"; how long each sound was, in seconds.
    struct Deaf(Vec<f64>);

    impl Ears for Deaf {
        fn hear(
            &mut self,
            utterance: Utterance<'_>,
            session: &mut Session,
        ) -> Result<Settled, EarError> {
            self.0.push(utterance.sound.seconds());
            let (words, now) = (Heard::text("read the list"), NaiveDate::default().into());
            Ok(Settled::of(words, |heard| session.settle(heard, now)))
        }

        fn look(&mut self, _: &mut OverTalk, _: usize, _: &mut Endpoint) -> Result<bool, EarError> {
            Ok(false)
        }
    }

    /// Pushes sound into a listener behind a word; how long each sound is that is heard of it, in seconds.
    fn heard_behind_a_word(pieces: &[&[f32]]) -> Vec<f64> {
        let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
        let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
        let mut listener = Listener::new(Patience::Usual, None).unwrap();
        listener.begin_behind_a_word();
        let mut ears = Deaf(Vec::new());
        for piece in pieces {
            listener.push_with(piece, &mut session, &mut ears).unwrap();
        }
        ears.0
    }

    #[test]
    fn the_rest_of_a_word_is_nothing_and_what_is_said_behind_it_is_heard() {
        let second = [0.0; RATE as usize];
        let command = recording("turns/slt-put-flour-on-the-list.wav");
        for voice in ["heart", "slt", "rms", "awb"] {
            let stop = recording(&format!("turns/{voice}-stop.wav"));
            let loudest = (0..stop.len()).max_by(|a, b| stop[*a].abs().total_cmp(&stop[*b].abs()));
            let rest = &stop[loudest.unwrap()..];
            assert_eq!(heard_behind_a_word(&[rest, &second]), [0.0; 0], "{voice}");
            // At once, and behind a pause.
            let at_once = heard_behind_a_word(&[&rest[..3_000], &command, &second]);
            assert!(at_once.iter().any(|seconds| *seconds > 1.0), "{at_once:?}");
            let behind_a_pause = heard_behind_a_word(&[rest, &second, &command, &second]);
            assert!(
                behind_a_pause.iter().any(|seconds| *seconds > 1.0),
                "{behind_a_pause:?}"
            );
        }
    }

    #[test]
    fn a_short_answer_behind_a_word_and_a_pause_is_heard() {
        let (second, no) = ([0.0; RATE as usize], recording("answers/heart-no.wav"));
        let heard = heard_behind_a_word(&[&second, &no, &second]);
        assert_eq!(heard.len(), 1, "{heard:?}");
    }
}
