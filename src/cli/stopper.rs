//! "Stop", or the wake phrase, said over a reply.
//!
//! It is listened for apart from everything else, in the last second of sound, several times a second: a pause that ends
//! an utterance would come too late, and while our own voice is in the room there is none. What is taken for it only ends
//! a reply. Where the reply itself has one of the words, it isn't listened for: it would be our own. ("Enough" was one of
//! the words: pieces of our own sentences came near to it.)

use std::collections::VecDeque;

use super::hearing::Hearing;
use super::spotter::Spotter;
use crate::ear::{EarError, RATE, Sound};
use crate::grammar::{CALLED, GrammarError, Verdict, WakePhrase, normal_words};

/// What silences.
const WORDS: [&str; 2] = ["stop", "quiet"];
const STOP: &str = "stop: stop [it] | stop stop | be quiet";

/// So much sound is looked at, in samples: the longest of them with some room.
const WINDOW: usize = RATE as usize * 11 / 10;
/// How often, in samples of new sound: every 80 ms, or as often as the machine can.
const EACH: usize = RATE as usize * 8 / 100;
/// So much of the latest sound may already belong to what is said behind the wake phrase, in samples.
const BEHIND: usize = RATE as usize * 15 / 100;

/// What silenced a reply.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Silencer {
    /// "Stop", or the like.
    Stop,
    /// The wake phrase.
    Phrase,
}

/// Listens for "stop".
pub(super) struct Stopper {
    spotter: Spotter,
    latest: VecDeque<f32>,
    new: usize,
    /// Whether the reply under way has one of the words in it.
    own_words: bool,
}

impl Stopper {
    /// Listens for the words that silence, and for the wake phrase if there is one: it calls for silence as well.
    pub fn new(phrase: Option<&WakePhrase>) -> Result<Self, GrammarError> {
        let mut intents = vec![STOP.to_owned()];
        intents.extend(phrase.map(|phrase| format!("{CALLED}: {phrase}")));
        Ok(Self {
            spotter: Spotter::new(&intents)?,
            latest: VecDeque::with_capacity(WINDOW),
            new: 0,
            own_words: false,
        })
    }

    /// A reply begins.
    pub fn begin(&mut self, reply: &str) {
        self.latest.clear();
        self.new = 0;
        self.own_words = normal_words(reply)
            .iter()
            .any(|word| WORDS.contains(&word.as_str()));
    }

    /// Takes sound; which of the words ended in it.
    pub fn push(
        &mut self,
        samples: &[f32],
        hearing: &mut Hearing,
    ) -> Result<Option<Silencer>, EarError> {
        self.latest.extend(samples);
        let surplus = self.latest.len().saturating_sub(WINDOW);
        self.latest.drain(..surplus);
        self.new += samples.len();
        if self.own_words || self.new < EACH {
            return Ok(None);
        }
        self.new = 0;
        let sound = Sound::new(self.latest.iter().copied().collect());
        let (verdict, intent) = self.spotter.judge(&sound, hearing)?;
        let silencer = match intent.as_str() {
            CALLED => Silencer::Phrase,
            _ => Silencer::Stop,
        };
        Ok((verdict == Verdict::Accept).then_some(silencer))
    }

    /// The end of the sound: a command may have begun in it without a pause.
    pub fn latest(&self) -> Vec<f32> {
        let from = self.latest.len().saturating_sub(BEHIND);
        self.latest.range(from..).copied().collect()
    }
}
