//! Everything that can stop a command, each with its own words.

use std::path::PathBuf;

use crate::ear::EarError;
use crate::grammar::{GrammarError, NoWakePhrase};
use crate::share::NoRoom;
use crate::stock::{StockError, TagNumber};

/// An error that ends a command.
#[derive(Debug, thiserror::Error)]
pub(super) enum CliError {
    #[error(transparent)]
    Ear(#[from] EarError),
    #[error(transparent)]
    Grammar(#[from] GrammarError),
    #[error(transparent)]
    WakePhrase(#[from] NoWakePhrase),
    #[error(transparent)]
    Stock(#[from] StockError),
    /// There is no home to keep the stock in.
    #[error("I don't know where to keep the stock. Name a file with --db")]
    NoHome,
    /// The demo's day isn't where it should be.
    #[error("I can't use the demo's day {path}: {reason}. Run the demo from the project's folder")]
    NoDemo {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        reason: String,
    },
    /// There is no stock to tell anything of.
    #[error(
        "There is no stock in {path} yet. Nothing was written. Name its file with --db, or put something in first"
    )]
    NoStock {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// No tag is there to be written.
    #[error(
        "No tag is on anything. Nothing was written. Put one on first, as in: kitchen tag 1 on the oats"
    )]
    NoTag,
    /// A tag has nothing to say.
    #[error(
        "Tag {0} is on nothing. Nothing was written. Run tellshelf tags to hear which are on something"
    )]
    TagOnNothing(TagNumber),
    /// It wasn't said which of several tags is meant.
    #[error(
        "{count} tags are on something. Nothing was written. Choose one with --tag. Run tellshelf tags to hear them"
    )]
    WhichTag {
        /// How many there are.
        count: usize,
    },
    /// A tag that would leave out what keeps a person well isn't written at all.
    #[error(
        "Tag {tag} is too small. {reason}. Nothing was written. Take a larger tag, and give its size with --size"
    )]
    TagTooSmall {
        /// Which.
        tag: TagNumber,
        /// By how much.
        reason: NoRoom,
    },
    /// A file can't be written.
    #[error("I can't write {path}: {reason}. It is as it was. Name another file")]
    CantWrite {
        /// The file.
        path: PathBuf,
        /// What the system says.
        reason: std::io::Error,
    },
    /// Standard input or output is gone.
    #[error("I can't write my answer: {0}")]
    Output(#[from] std::io::Error),
}
