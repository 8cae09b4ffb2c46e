//! What can be wrong with the settings.

use std::path::PathBuf;

/// Settings that can't be read or written, with what to do about it.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// The file is there and says something that isn't a setting.
    #[error("{path}, line {line}: {reason}. The settings are as usual until that is mended")]
    Wrong {
        /// The file.
        path: PathBuf,
        /// The line, from 1; 0 where the fault is of the whole file.
        line: usize,
        /// What is wrong.
        reason: String,
    },
    /// The file can't be read.
    #[error("I can't read {path}: {reason}. The settings are as usual")]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        reason: std::io::Error,
    },
    /// The file can't be written.
    #[error("I can't write {path}: {reason}. The settings hold until I am stopped")]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        reason: std::io::Error,
    },
}
