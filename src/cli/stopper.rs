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
/// A look that isn't sure counts where so many of the latest looks, itself among them, were near to the same word.
const NEAR: usize = 2;
/// So many looks are the latest.
const LOOKS: usize = 3;
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
    /// What the latest looks were at least near to.
    looks: VecDeque<Option<Silencer>>,
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
            looks: VecDeque::with_capacity(LOOKS),
            own_words: false,
        })
    }

    /// A reply begins.
    pub fn begin(&mut self, reply: &str) {
        self.latest.clear();
        self.new = 0;
        self.looks.clear();
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
        Ok(self.look(verdict, silencer))
    }

    /// What silences, by the latest look and those before it. An echo canceller takes away so much of a word that it is
    /// hardly ever heard for sure, but near to it one look after the other is; our own voice isn't.
    fn look(&mut self, verdict: Verdict, silencer: Silencer) -> Option<Silencer> {
        if self.looks.len() == LOOKS {
            self.looks.pop_front();
        }
        let near = (verdict != Verdict::Reject).then_some(silencer);
        self.looks.push_back(near);
        let looks = self.looks.iter().filter(|look| **look == near).count();
        near.filter(|_| verdict == Verdict::Accept || looks >= NEAR)
    }

    /// The end of the sound: a command may have begun in it without a pause.
    pub fn latest(&self) -> Vec<f32> {
        let from = self.latest.len().saturating_sub(BEHIND);
        self.latest.range(from..).copied().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn silenced_by(looks: &[(Verdict, Silencer)]) -> Option<Silencer> {
        let mut stopper = Stopper::new(None).unwrap();
        let mut looks = looks.iter();
        looks.find_map(|(verdict, silencer)| stopper.look(*verdict, *silencer))
    }

    #[test]
    fn a_word_that_is_sure_silences_at_once() {
        let sure = (Verdict::Accept, Silencer::Stop);
        assert_eq!(silenced_by(&[sure]), Some(Silencer::Stop));
    }

    #[test]
    fn a_word_that_is_near_silences_the_second_time() {
        let (near, none) = (
            (Verdict::Ask, Silencer::Stop),
            (Verdict::Reject, Silencer::Stop),
        );
        assert_eq!(silenced_by(&[near]), None);
        assert_eq!(silenced_by(&[near, near]), Some(Silencer::Stop));
        assert_eq!(silenced_by(&[near, none, near]), Some(Silencer::Stop));
        assert_eq!(silenced_by(&[near, none, none, near]), None);
        let phrase = (Verdict::Ask, Silencer::Phrase);
        assert_eq!(silenced_by(&[near, phrase]), None);
    }
}
