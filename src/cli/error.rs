//! Everything that can stop a command, each with its own words.

use std::path::PathBuf;

use crate::ear::EarError;
use crate::grammar::GrammarError;
use crate::stock::StockError;

/// An error that ends a command.
#[derive(Debug, thiserror::Error)]
pub(super) enum CliError {
    #[error(transparent)]
    Ear(#[from] EarError),
    #[error(transparent)]
    Grammar(#[from] GrammarError),
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
    /// Standard input or output is gone.
    #[error("I can't write my answer: {0}")]
    Output(#[from] std::io::Error),
}
