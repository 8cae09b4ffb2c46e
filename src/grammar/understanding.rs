//! What was understood of one utterance.

use super::meaning::Command;
use super::small_words::reads_like_talk;
use super::verdict::{ACCEPT_WITH_DATE, Verdict};

/// What was understood of one utterance.
#[derive(Debug, Clone, PartialEq)]
pub struct Understanding {
    /// The hypothesis that the command was found in; the first one where none was found.
    pub heard: String,
    /// The nearest command, whatever the verdict; `None` where nothing comes near.
    pub command: Option<Command>,
    /// What to do with it.
    pub verdict: Verdict,
    /// Another command that may have been said, nearly as likely.
    pub or: Option<Command>,
    /// How a name in it may have been heard that nobody knows, likeliest first, whether or not the
    /// command was taken to have one: what can be learned if the person says so.
    pub forms: Vec<String>,
    /// How a known name in the command was said, where that isn't how it is spelled: another thing may be meant.
    pub name_said: Option<String>,
}

impl Understanding {
    /// Settles between an ear that listened freely and one that was held to the grammar.
    ///
    /// The second hears a sentence of the grammar in any noise, so what it says alone is asked
    /// about. Where the first, however badly, heard the same command, it is accepted.
    #[must_use]
    pub fn or_forced(self, forced: Self) -> Self {
        if forced.command.is_none()
            || self.verdict == Verdict::Accept
            || forced.verdict == Verdict::Reject
        {
            return self;
        }
        let verdict = if self.means_the_same(&forced) {
            Verdict::Accept
        } else {
            Verdict::Ask
        };
        Self { verdict, ..forced }
    }

    /// Whether it is the same command with the same slots.
    pub(super) fn means_the_same(&self, other: &Self) -> bool {
        match (&self.command, &other.command) {
            (Some(a), Some(b)) => a.means(b),
            (None, None) => true,
            _ => false,
        }
    }

    /// Whether the command agrees so well with what was heard.
    pub(super) fn agrees(&self, confidence: f32) -> bool {
        self.command
            .as_ref()
            .is_some_and(|c| c.confidence >= confidence)
    }

    /// Whether nothing is in doubt but that there is a thing of this name: nobody knows it, it is no talk, and all is as
    /// the grammar has it, letter by letter. Of what was heard that is much; what was typed stands there.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, Lexicon, Verdict};
    /// let file = "language: en-US\nslots: [item]\nintents:\n  buy: buy <item>\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let understood = grammar.understand(&["buy zhoug"], &Lexicon::default(), today);
    /// assert_eq!(understood.verdict, Verdict::Ask);
    /// assert!(understood.has_only_a_new_name());
    /// ```
    pub fn has_only_a_new_name(&self) -> bool {
        let name = self.command.as_ref().and_then(Command::unknown_name);
        name.is_some_and(|name| !reads_like_talk(name)) && self.agrees(ACCEPT_WITH_DATE)
    }

    /// The same, not to be acted on without a question.
    pub(super) fn in_doubt(self) -> Self {
        let verdict = match self.verdict {
            Verdict::Accept => Verdict::Ask,
            other => other,
        };
        Self { verdict, ..self }
    }

    /// The same, not to be acted on.
    pub(super) fn rejected(self) -> Self {
        Self {
            verdict: Verdict::Reject,
            ..self
        }
    }
}
