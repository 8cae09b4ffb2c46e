//! Whether the person is listened to, and whether all that they have to say is said.

use crate::grammar::{Acceptor, CALLED, Understanding, Verdict};
use crate::measure::{Pack, Unit};

/// Whether the person is listened to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Attention {
    /// Nobody has called: only what begins with the wake phrase is understood.
    Asleep,
    /// Everything that can be said here is understood, with the phrase in front or without.
    Awake,
}

/// How far a sentence has come, by what was understood of it so far.
///
/// Who speaks slowly pauses inside a sentence, and who is through with a short one wants no wait: so the pause that
/// ends an utterance depends on whether it can be the whole of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Completeness {
    /// It is understood, and nothing more can belong to it.
    Whole,
    /// It is understood, and could go on: "add two bags of oats", "… to the pantry".
    MayGoOn,
    /// It isn't understood: the rest may be still to come, or it isn't meant for us.
    Unfinished,
}

impl Completeness {
    /// Judges what was understood so far.
    pub(super) fn of(heard: &Understanding, acceptor: &Acceptor, closing: &[String]) -> Self {
        match (&heard.command, heard.verdict) {
            // "One cup" isn't said of a cup: "of rice" is still to come.
            (Some(command), _) if command.unknown_name().is_some_and(counts) => Self::Unfinished,
            (Some(command), Verdict::Accept) if acceptor.may_go_on(&command.sentence, closing) => {
                Self::MayGoOn
            }
            (Some(_), Verdict::Accept) => Self::Whole,
            // What would be asked about was heard badly, and may be the beginning of something else: "add two".
            (Some(command), Verdict::Ask) if !acceptor.may_go_on(&command.sentence, closing) => {
                Self::MayGoOn
            }
            _ => Self::Unfinished,
        }
    }
}

/// Whether a word counts what comes behind it.
fn counts(word: &str) -> bool {
    Unit::from_word(word).is_some() || Pack::from_word(word).is_some()
}

/// Whether only the wake phrase was said.
pub(super) fn is_call(heard: &Understanding) -> bool {
    let command = heard.command.as_ref();
    heard.verdict != Verdict::Reject && command.is_some_and(|command| command.intent == CALLED)
}
