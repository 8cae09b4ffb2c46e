//! A few words, listened for in the midst of other sound.

use chrono::NaiveDate;

use super::hearing::Hearing;
use crate::ear::{EarError, Sound};
use crate::grammar::{Acceptor, Grammar, GrammarError, Lexicon, Verdict};

/// Listens for the sentences of a small grammar.
pub(super) struct Spotter {
    grammar: Grammar,
    acceptor: Acceptor,
}

impl Spotter {
    /// Listens for what these intents, each a line of a grammar file, say.
    ///
    /// # Errors
    /// [`GrammarError`] where they are none.
    pub fn new(intents: &[String]) -> Result<Self, GrammarError> {
        let intents = intents.join("\n  ");
        let text = format!("language: en-US\nintents:\n  {intents}\n");
        let grammar = Grammar::from_text("spotted", &text)?;
        Ok(Self {
            acceptor: grammar.acceptor(Lexicon::default().into()),
            grammar,
        })
    }

    /// Whether all of a sound is one of the sentences, and of which intent.
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub fn judge(
        &self,
        sound: &Sound,
        hearing: &mut Hearing,
    ) -> Result<(Verdict, String), EarError> {
        let (grammar, names) = (&self.grammar, Lexicon::default());
        let settled = hearing.hear_once(sound, &self.acceptor, |heard| {
            grammar.settle(heard, &names, NaiveDate::default())
        })?;
        let understood = settled.understanding;
        let intent = understood.command.map(|command| command.intent);
        Ok((understood.verdict, intent.unwrap_or_default()))
    }
}
