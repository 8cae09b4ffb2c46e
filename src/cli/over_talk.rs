//! A call over talk in the room, such as a radio's.
//!
//! Talk has no pause behind which the phrase would stand. So, while nobody has called, the phrase is listened for in the last
//! 1.3 seconds of sound as well, wherever that is clearly louder than the talk before: who calls is nearer to the microphone. What
//! is taken for it only says where an utterance begins, and from what loudness on sound belongs to it: whether it is a call is
//! judged as ever, when its pause comes.

use super::hearing::Hearing;
use super::spotter::Spotter;
use crate::ear::{EarError, Endpoint, Level, RATE, Sound};
use crate::grammar::{CALLED, GrammarError, Verdict, WakePhrase};

/// So much sound is looked at, in samples: the phrase, said slowly.
const WINDOW: usize = RATE as usize * 13 / 10;
/// How often, in samples of new sound.
const EACH: usize = RATE as usize / 5;
/// How much of it a call needs, in samples: the phrase, said fast.
const SHORTEST: usize = RATE as usize * 6 / 10;
/// How much talk must be there before, in samples, to tell how loud it is: half a second, behind the quiet in front of it.
const LEAST_TALK: usize = RATE as usize * 8 / 10;
/// How much of it counts, in samples: a pan that was put down before, or a call that wasn't heard, doesn't.
const MOST_TALK: usize = 4 * RATE as usize;
/// By how many decibels a call is louder than the talk before it.
const LOUDER: f32 = 5.0;
/// By how many decibels the loudest talk so far may still be surpassed.
const MARGIN: f32 = 1.0;
/// How much sound before the first loud one belongs to the phrase, in samples: its first consonant.
const LEAD: usize = RATE as usize * 15 / 100;

/// Looks for calls.
pub(super) struct OverTalk {
    spotter: Spotter,
    new: usize,
}

impl OverTalk {
    /// Looks for this phrase.
    ///
    /// # Errors
    /// [`GrammarError`] where a grammar can't have it.
    pub fn new(phrase: &WakePhrase) -> Result<Self, GrammarError> {
        let spotter = Spotter::new(&[format!("{CALLED}: {phrase}")])?;
        Ok(Self { spotter, new: 0 })
    }

    /// Looks at the utterance under way, after so many new samples. Where the phrase is found in it, the talk before is left
    /// out, and what is no louder than that counts as silence from now on. Whether that was so.
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub fn look(
        &mut self,
        new: usize,
        endpoint: &mut Endpoint,
        hearing: &mut Hearing,
    ) -> Result<bool, EarError> {
        self.new += new;
        let samples = endpoint.samples();
        let before = samples.len().saturating_sub(WINDOW);
        if self.new < EACH || before < LEAST_TALK {
            return Ok(false);
        }
        self.new = 0;
        let (talk, window) = samples.split_at(before);
        let loudest_talk = Level::loudest(&talk[talk.len().saturating_sub(MOST_TALK)..]);
        if Level::loudest(window) < loudest_talk.louder_by(LOUDER) {
            return Ok(false);
        }
        let floor = loudest_talk.louder_by(MARGIN);
        let begin = floor.first_in(window).unwrap_or_default();
        let begin = begin.saturating_sub(LEAD);
        let call = &window[begin..];
        if call.len() < SHORTEST
            || self.spotter.judge(&Sound::new(call.to_vec()), hearing)?.0 == Verdict::Reject
        {
            return Ok(false);
        }
        endpoint.leave_out(before + begin);
        endpoint.ignore_below(Some(floor));
        Ok(true)
    }
}
