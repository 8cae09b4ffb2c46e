//! From the microphone's sound to what was said: when somebody calls, and when they are through.
//!
//! Sound is listened to in three steps, each dearer than the one before and taken only where that one found something:
//! is anyone speaking; what was said, looked at in each pause; and, where that left a doubt, the same again with more care.

use chrono::NaiveDateTime;

use super::hear::{hear_so_far, overhear};
use super::hearing::{Hearing, Settled};
use crate::ear::{EarError, Endpoint, EndpointSettings, RATE, Sound};
use crate::grammar::Verdict;
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
}

struct Look {
    settled: Settled,
    completeness: Completeness,
}

impl Listener {
    /// Waits for the first word.
    pub fn new(patience: Patience) -> Self {
        let settings = EndpointSettings {
            end_pause: LONGEST_PAUSE + 0.1,
            ..EndpointSettings::default()
        };
        Self {
            endpoint: Endpoint::new(settings),
            patience,
            look: None,
            called: false,
            over_reply: false,
        }
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

    /// Forgets everything heard so far: sound was left out, or it was our own voice.
    pub fn reset(&mut self) {
        self.endpoint.reset();
        (self.look, self.called) = (None, false);
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
        let mut news = Vec::new();
        for piece in samples.chunks(PIECE) {
            let cut_off = self.endpoint.push(piece);
            for utterance in cut_off {
                let settled = self.hear(&utterance, hearing, session, now)?;
                news.extend(self.end(settled, Some(utterance), session));
            }
            if self.over_reply && self.endpoint.length() > LONGEST_OVER_REPLY {
                self.endpoint.take();
            }
            match self.endpoint.pause() {
                Some(pause) if pause >= FIRST_LOOK => {
                    news.extend(self.in_pause(pause, hearing, session, now)?);
                }
                // Speech goes on: what was understood in the last pause isn't all.
                _ => self.look = None,
            }
        }
        Ok(news)
    }

    fn in_pause(
        &mut self,
        pause: f64,
        hearing: &mut Hearing,
        session: &mut Session,
        now: NaiveDateTime,
    ) -> Result<Option<News>, EarError> {
        if self.look.is_none() {
            let settled = self.hear(&self.endpoint.so_far(), hearing, session, now)?;
            self.called |= session.is_addressed(&settled.heard, &settled.understanding);
            let in_doubt = settled.understanding.verdict != Verdict::Accept;
            if !self.called || (self.over_reply && in_doubt) {
                // Nobody called: of this nothing is kept.
                self.called = false;
                self.endpoint.take();
                return Ok(None);
            }
            if session.is_call(&settled.understanding) {
                self.endpoint.take();
                self.called = false;
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

    fn hear(
        &self,
        utterance: &Sound,
        hearing: &mut Hearing,
        session: &mut Session,
        now: NaiveDateTime,
    ) -> Result<Settled, EarError> {
        let longest = (LONGEST_UNCALLED * f64::from(RATE)) as usize;
        if session.attention() == Attention::Asleep
            && !self.called
            && utterance.samples().len() > longest
        {
            let end = &utterance.samples()[utterance.samples().len() - longest..];
            return hear_so_far(hearing, &Sound::new(end.to_vec()), session, now);
        }
        hear_so_far(hearing, utterance, session, now)
    }
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
