//! Whether what was understood is good enough to act on.

use super::form::Form;
use super::likeness::Likeness;
use super::meaning::{Command, Value};
use super::small_words::reads_like_talk;

/// Below this confidence a command is asked about instead of carried out. One letter in five may
/// differ: a mishearing of one sound in a short command. Set on `audio-fixtures` and
/// real recordings of other speech, by hand, until decoding is guided by the grammar.
pub const ACCEPT: f32 = 0.82;

/// Below this confidence it counts as not understood.
pub const ASK: f32 = 0.70;

/// With a date in it, nothing less than full agreement will do: a date is never guessed, and
/// "dec 3" comes near to "may 3".
pub const ACCEPT_WITH_DATE: f32 = 0.999;

/// So many words of the form behind a name close it in: one alone, "please" or "now", may end any talk.
const CLOSING_WORDS: usize = 2;

/// What to do with what was understood; the more careful, the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Carry it out.
    Accept,
    /// Ask whether it was meant.
    Ask,
    /// Say that it wasn't understood; change nothing.
    Reject,
}

impl Verdict {
    /// The word for it in machine-readable output.
    pub fn name(self) -> &'static str {
        match self {
            Self::Accept => "accept",
            Self::Ask => "ask",
            Self::Reject => "reject",
        }
    }

    /// The verdict on a command by its confidence, by the words of its form, and by whether its name
    /// is known.
    ///
    /// A known name is evidence by itself. One that nobody knows may be the end of any sentence ("I
    /// need …"), so the form must say that it was a command: word for word, and closed in, with words
    /// of its own behind the name ("put … on the list") or with what the thing comes in before it ("two
    /// jars of …"). Otherwise it is asked about, and what reads like talk isn't understood. What is near to
    /// a known name ("I need a break") is asked about likewise; and always where a whole word of it may be another one
    /// ("goat milk", "oat milk").
    pub(super) fn on(command: &Command, form: &Form) -> Self {
        // The opposite of what was said isn't even worth a question.
        if form.other_sense {
            return Self::Reject;
        }
        let by_letters = Self::by_letters(command);
        let by_form = if form.is_whole() && !form.figures_in_doubt {
            Self::Accept
        } else if form.is_near() {
            Self::Ask
        } else {
            Self::Reject
        };
        let closed_in = form.behind_name >= CLOSING_WORDS || has_unit(command);
        let by_name = match unknown_name(command) {
            None if form.likeness >= Likeness::Near => Self::Ask,
            None if form.name_in_doubt && !closed_in => Self::Ask,
            None => Self::Accept,
            Some(name) => match (closed_in, reads_like_talk(name)) {
                (true, false) if form.is_exact() => Self::Accept,
                (true, _) => Self::Ask,
                (false, false) if form.is_exact() => Self::Ask,
                (false, _) => Self::Reject,
            },
        };
        by_letters.max(by_form).max(by_name)
    }

    fn by_letters(command: &Command) -> Self {
        let has_date = command
            .slots
            .iter()
            .any(|(_, value)| matches!(value, Value::Date(_)));
        match command.confidence {
            c if c >= if has_date { ACCEPT_WITH_DATE } else { ACCEPT } => Self::Accept,
            c if c >= ASK => Self::Ask,
            _ => Self::Reject,
        }
    }
}

/// The name in a command, if the kitchen doesn't know it.
fn unknown_name(command: &Command) -> Option<&str> {
    command.slots.iter().find_map(|(_, value)| match value {
        Value::Item { name, known: false } => Some(name.as_str()),
        _ => None,
    })
}

/// Whether it was said what the thing comes in, or in what unit it is measured.
fn has_unit(command: &Command) -> bool {
    command.slots.iter().any(|(_, value)| match value {
        Value::Quantity(quantity) => quantity.parts().2.is_some(),
        _ => false,
    })
}
