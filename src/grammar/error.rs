//! What can be wrong with a grammar file: each fault names the file, the line and the rule.

use std::fmt;

/// A grammar file that can't be used, with the place to mend.
///
/// ```
/// use tellshelf::grammar::Grammar;
/// let file = "language: en-US\nintents:\n  go:\n    - go to <nowhere>\n";
/// let error = Grammar::from_text("small.yaml", file).unwrap_err();
/// assert_eq!(error.to_string(), "small.yaml, line 4, rule go: there is no rule <nowhere>. \
///     Define it under rules, or use one of <number> <quantity> <date> <item> <tag> <text>");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct GrammarError {
    /// The file's name, as it was given.
    pub file: String,
    /// The line, from 1; 0 where the fault is of the whole file.
    pub line: usize,
    /// The rule or intent, if the fault is inside one.
    pub rule: Option<String>,
    /// What is wrong.
    pub fault: Fault,
}

impl fmt::Display for GrammarError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if self.line > 0 {
            write!(f, ", line {}", self.line)?;
        }
        if let Some(rule) = &self.rule {
            write!(f, ", rule {rule}")?;
        }
        write!(f, ": {}", self.fault)
    }
}

/// What is wrong with a grammar file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// The file can't be read.
    #[error("the grammar file can't be read: {0}. Check the name and try again")]
    Unreadable(String),
    /// Larger than [`MAX_FILE`](super::MAX_FILE) bytes, more than [`MAX_RULES`](super::MAX_RULES)
    /// rules or [`MAX_MODES`](super::MAX_MODES) modes, or more than the automaton's limit of states.
    #[error("the grammar is too large: {what} is over the limit of {limit}. Split or shorten it")]
    TooLarge {
        /// What there is too much of.
        what: &'static str,
        /// How much there may be.
        limit: usize,
    },
    /// Not the YAML that a grammar is written in.
    #[error("this isn't a grammar in YAML: {0}")]
    Yaml(String),
    /// A name that is there already.
    #[error("“{name}” is there twice, first in line {first}. Put both into one")]
    Twice {
        /// The name.
        name: String,
        /// The line where it is first.
        first: usize,
    },
    /// An expansion that breaks the rules of JSGF.
    #[error("{0}")]
    Syntax(SyntaxFault),
    /// A reference to a rule that nobody defined.
    #[error(
        "there is no rule <{0}>. Define it under rules, or use one of \
         <number> <quantity> <date> <item> <tag> <text>"
    )]
    UnknownRule(String),
    /// A built-in rule that isn't there for the file's language.
    #[error("<{rule}> isn't built in for the language {language}. Define it under rules")]
    NoBuiltIn {
        /// The rule.
        rule: String,
        /// The file's language.
        language: String,
    },
    /// A rule that begins with itself: hearing it would never end.
    #[error(
        "the rule begins with itself ({0}). Put a word before the repeated rule, or use * or +"
    )]
    LeftRecursion(String),
    /// A slot that is the name of no rule.
    #[error("the slot {0} is the name of no rule. Define the rule, or take the slot out")]
    UnknownSlot(String),
    /// A grammar without a single intent.
    #[error("there is no intent. List what can be said under intents")]
    NoIntents,
    /// A mode with an intent that nobody defined.
    #[error(
        "the mode {mode} has the intent {intent}, which isn't there. Define it under intents, or \
         take it out of the mode"
    )]
    UnknownIntent {
        /// The mode.
        mode: String,
        /// The intent that isn't there.
        intent: String,
    },
    /// A mode in which nothing more can be said than outside it.
    #[error("the mode {0} has no intent. List what can be said in it only, or take the mode out")]
    EmptyMode(String),
    /// Every intent is in a mode: whoever isn't in one yet could say nothing.
    #[error(
        "every intent is in a mode, and nothing can be said outside. Take one out of its modes"
    )]
    OnlyModes,
}

/// Where an expansion breaks the rules of JSGF.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SyntaxFault {
    /// Nothing where words were expected.
    #[error("the expansion is empty: {0}. Write words, or make it optional with [ ]")]
    Empty(&'static str),
    /// A bracket, quote or tag that is never closed.
    #[error("the {0} is never closed")]
    Unclosed(char),
    /// A closing mark without its opening one, or a mark that has no meaning there.
    #[error("the {0} has no meaning here")]
    Stray(char),
    /// `< >` or a name that JSGF doesn't allow.
    #[error("<{0}> isn't the name of a rule")]
    BadName(String),
    /// Something between slashes that is no weight.
    #[error("/{0}/ isn't a weight. Write a number of at least 0, such as /2.5/")]
    BadWeight(String),
    /// A word without a letter or a figure.
    #[error("“{0}” has nothing that can be said")]
    Silent(String),
    /// Brackets inside brackets inside brackets, without end.
    #[error("brackets are nested more than {0} deep")]
    TooDeep(usize),
    /// One thing with tag upon tag upon tag.
    #[error("there are more than {0} tags behind one thing")]
    TooManyTags(usize),
}
