//! What a command lacks.

/// What a command lacks, in words to be spoken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unclear {
    /// A quantity that can't be read.
    #[error("How much was that? I got: {0}")]
    Quantity(String),
    /// A date that can't be read, or doesn't exist.
    #[error("{0}. Say it again with the right date")]
    Date(String),
    /// Some day of last week.
    #[error("Which day? Say it again with the day, such as three days ago, or on Monday")]
    WhichDay,
    /// A tag number that can't be read.
    #[error("Which tag was that? I got: {0}")]
    Tag(String),
    /// Two things said as one, which would be kept as one that nobody ever asks for.
    #[error("One thing at a time. Say one, then the other")]
    Several,
    /// A second date, or words of one, behind a name: it would be kept as a part of it.
    #[error(
        "One date at a time. Leave one out, then say, for example: the ham is best by December first"
    )]
    Dates,
    /// A touch mark behind a name.
    #[error("Say the tag without the mark. Then, for example: two bands on the {0}")]
    Marked(String),
    /// A tag where a name should be.
    #[error("Tag {0} is no name. Say, for example: put tag {0} in the pantry")]
    TagAsName(u32),
    /// What a label says, mixed with what somebody thinks of it.
    #[error("Say it as the label does: contains milk, may contain milk, or lists no milk")]
    Label,
    /// A slot that the command needs and the grammar let pass without.
    #[error("I didn't get the {0}. Say it all again")]
    Missing(&'static str),
    /// Words that don't tell how a thing feels or is marked.
    #[error("How does it feel? I got: {0}. Say, for example, a flat square can")]
    Feel(String),
    /// A thing whose name begins like a step, while directions are read.
    #[error("A step {0} is no step of directions. Say: I need a step {0}")]
    NoStep(String),
    /// An intent of the grammar file that nothing here answers to.
    #[error("No answer is known to {0}")]
    Intent(String),
}
