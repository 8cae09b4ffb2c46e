//! The grammar: hypotheses become a command.
//!
//! In: a grammar file ([`Grammar::load`]), the names this kitchen knows ([`Lexicon`]), and the texts
//! that recognisers heard. Out: an [`Understanding`]: the [`Command`] (intent and slots as values)
//! that is nearest to what was heard, with a confidence and a [`Verdict`].
//! It knows what can be said, and nothing of sound or stock.
mod acceptor;
mod agreement;
mod builtin;
mod certainty;
mod compile;
mod error;
mod file;
mod fillers;
mod form;
mod goods;
mod heard;
mod jsgf;
mod letters;
mod lexicon;
mod likeness;
mod matching;
mod meaning;
mod meanings;
mod modes;
mod network;
mod plural;
mod pooled;
mod pouring;
mod recursion;
mod sentences;
mod small_words;
mod teens;
mod understand;
mod understanding;
mod verdict;
mod wake;
mod words;
mod yaml;

pub use acceptor::{Acceptor, Move, Point};
pub use error::{Fault, GrammarError, SyntaxFault};
pub use file::{GrammarFile, MAX_FILE, MAX_MODES, MAX_RULES, Mode, Rule};
pub use fillers::without_fillers;
pub use heard::{Beside, Fit, Heard};
pub use jsgf::{Expansion, parse_expansion};
pub use lexicon::Lexicon;
pub use meaning::{Command, Value};
pub use meanings::TOKEN_BONUS;
pub use plural::one_of;
pub use understand::Grammar;
pub use understanding::Understanding;
pub use verdict::{ACCEPT, ASK, Verdict};
pub use wake::{CALLED, NoWakePhrase, WakePhrase};
pub use words::normal_words;
