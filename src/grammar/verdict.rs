//! Whether what was understood is good enough to act on.

use super::meaning::{Command, Value};

/// Below this confidence a command is asked about instead of carried out. One letter in five may
/// differ: a mishearing of one sound in a short command. Set on `audio-fixtures` and
/// real recordings of other speech, by hand, until decoding is guided by the grammar.
pub const ACCEPT: f32 = 0.82;

/// Below this confidence it counts as not understood.
pub const ASK: f32 = 0.70;

/// With a date in it, nothing less than full agreement will do: a date is never guessed, and
/// "dec 3" comes near to "may 3".
pub const ACCEPT_WITH_DATE: f32 = 0.999;

/// What to do with what was understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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

    /// The verdict on a command by its confidence.
    pub fn on(command: &Command) -> Self {
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
