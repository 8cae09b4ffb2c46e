//! What can go wrong in the stock, in words that work when spoken.

use std::path::{Path, PathBuf};

use rusqlite::ffi;

use super::choice::Choice;
use super::codes::Coded;
use super::life::Change;
use super::mark::Mark;
use super::names::{ItemName, Section, TagNumber};
use super::pool::TagKind;

/// A request that can't be carried out as things stand. Nothing was changed.
///
/// ```
/// use tellshelf::stock::{Refusal, TagNumber};
/// assert_eq!(Refusal::NoSuchTag(TagNumber(3)).to_string(), "there is no tag 3");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// There is none of it.
    #[error("there is no {item}")]
    NoneLeft {
        /// What was asked for.
        item: ItemName,
    },
    /// There is some of it, but none of what was meant.
    #[error("there is no such {item}")]
    NoneSuch {
        /// What was asked for.
        item: ItemName,
        /// Which of it.
        of: Choice,
    },
    /// There is less of it than was to be used.
    #[error("there is only {have} of {item}")]
    NotEnough {
        /// What was asked for.
        item: ItemName,
        /// How much there is, as it is said.
        have: String,
    },
    /// What was said and what there is can't be compared, such as cups and bags.
    #[error("{item} is kept as {have}, and {asked} can't be taken from that")]
    OtherMeasure {
        /// What was asked for.
        item: ItemName,
        /// How much there is, as it is said.
        have: String,
        /// How much was to be used, as it is said.
        asked: String,
    },
    /// Nobody said how much there is, of at least one lot that may hold what is missing.
    #[error("how much {item} there is isn't known")]
    UnknownAmount {
        /// What was asked for.
        item: ItemName,
    },
    /// All there is of it is opened, frozen, thawed or in that place already.
    #[error("all {item} is {how:?} already")]
    AllSoAlready {
        /// What was asked for.
        item: ItemName,
        /// What was to become of it.
        how: Change,
    },
    /// It isn't on the list.
    #[error("{item} isn't on the list")]
    NotListed {
        /// What was asked for.
        item: ItemName,
    },
    /// It is on the list already.
    #[error("{item} is on the list already")]
    AlreadyListed {
        /// What was asked for.
        item: ItemName,
    },
    /// No temporary tag has that number.
    #[error("there is no tag {0}")]
    NoSuchTag(TagNumber),
    /// Nothing was learned by hearing of it.
    #[error("nothing was learned of {item}")]
    NothingLearned {
        /// What was asked for.
        item: ItemName,
    },
    /// The kitchen has never had it, and so it can't be called something else.
    #[error("there is no {item} to be named")]
    NeverHad {
        /// What was asked for.
        item: ItemName,
    },
    /// Another item has this name.
    #[error("something else is called {name}")]
    NameTaken {
        /// The name.
        name: ItemName,
    },
    /// A tag is on something: it can't be on two things.
    #[error("tag {tag} is on {item}")]
    TagInUse {
        /// Which.
        tag: TagNumber,
        /// What it is on.
        item: ItemName,
    },
    /// A tag is of another kind.
    #[error("tag {tag} is a {} tag", is.name())]
    OtherTag {
        /// Which.
        tag: TagNumber,
        /// Its kind.
        is: TagKind,
    },
    /// A tag is on nothing, and so it can't be spent.
    #[error("tag {0} is on nothing")]
    TagOnNothing(TagNumber),
    /// A tag is lost.
    #[error("tag {0} is lost")]
    TagIsLost(TagNumber),
    /// A tag isn't lost.
    #[error("tag {0} isn't lost")]
    TagNotLost(TagNumber),
    /// None of these tags can be taken along.
    #[error("none of the tags {first} to {last} is free")]
    NoneToTake {
        /// The first.
        first: TagNumber,
        /// The last.
        last: TagNumber,
    },
    /// All there is of an item has its tag.
    #[error("{item} has tag {tag}")]
    AllTagged {
        /// What.
        item: ItemName,
        /// Its tag.
        tag: TagNumber,
    },
    /// A code stands for something else.
    #[error("the code is known already")]
    CodeTaken {
        /// For what.
        known: Coded,
    },
    /// A mark stands for something else where the two can meet.
    #[error("{} is on {item}", mark.spoken())]
    MarkTaken {
        /// The mark.
        mark: Mark,
        /// What it stands for.
        item: ItemName,
    },
    /// The person is at the store already.
    #[error("a trip is on")]
    OnTrip,
    /// The person isn't at the store.
    #[error("no trip is on")]
    NotOnTrip,
    /// A section can't come before or after itself.
    #[error("{section} and {section} are the same section")]
    SameSection {
        /// Which.
        section: Section,
    },
    /// The order of the store is the usual one already.
    #[error("the order of the store is the usual one")]
    NoOwnOrder,
    /// Nothing of this name waits to be put away.
    #[error("no {item} waits to be put away")]
    NothingWaiting {
        /// What was asked for.
        item: ItemName,
    },
    /// There are several lots, and it wasn't said which is meant.
    #[error("there are {lots} lots of {item}")]
    WhichLot {
        /// What was asked for.
        item: ItemName,
        /// How many.
        lots: usize,
    },
    /// It is known what it is.
    #[error("it is known what {item} is")]
    KnownAlready {
        /// What was asked for.
        item: ItemName,
    },
    /// It wasn't noted as used up, or something else was done with it since.
    #[error("{item} wasn't noted as used up")]
    NothingToPutBack {
        /// What was asked for.
        item: ItemName,
    },
    /// No change is left to be undone; or one was named that isn't the last of those left.
    #[error("nothing is left to undo")]
    NothingToUndo,
}

/// An error of the stock. Each says what happened to the file and what to do, in one line.
#[derive(Debug, thiserror::Error)]
pub enum StockError {
    /// A request that can't be carried out as things stand.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// A quantity that can't be kept: nothing, less than nothing, or too large or fine to reckon
    /// with.
    #[error("{asked} is no amount I can keep. Nothing was changed. Say how much there is")]
    NoAmount {
        /// What was said.
        asked: String,
    },
    /// The file is no stock, or what is in it is damaged.
    #[error(
        "The stock file {path} is damaged or isn't a stock file. I changed nothing in it. \
         Put a good copy in its place, or name another file with --db"
    )]
    Damaged {
        /// The file.
        path: PathBuf,
    },
    /// The file can't be written.
    #[error(
        "I can't write to the stock file {path}. Nothing was changed. \
         Make the file and its folder writable, or name another file with --db"
    )]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The file or its folder can't be opened or made.
    #[error(
        "I can't open the stock file {path}: {reason}. Nothing was changed. \
         Name another file with --db"
    )]
    CantOpen {
        /// The file.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// A later version wrote the file.
    #[error(
        "The stock file {path} was written by a newer Tellshelf. I changed nothing in it. \
         Install the newer version, or name another file with --db"
    )]
    Newer {
        /// The file.
        path: PathBuf,
    },
    /// Another program keeps the file to itself.
    #[error(
        "Another program is using the stock file {path}. Nothing was changed. \
         Close it, then say that again"
    )]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The disk is full.
    #[error("The disk is full. Nothing was changed. Make room on it, then say that again")]
    DiskFull,
    /// Anything else the database says, such as a disk that fails.
    #[error(
        "The stock file has a problem: {0}. Nothing was changed. \
         Say that again, and if it stays so, run tellshelf check"
    )]
    Database(rusqlite::Error),
}

impl StockError {
    /// Turns what the database says into what to do.
    pub(super) fn from_database(error: rusqlite::Error, path: &Path) -> Self {
        use rusqlite::Error::*;
        use rusqlite::ErrorCode::*;
        let path = path.to_owned();
        match error.sqlite_error_code() {
            // An undo that doesn't fit the tables is aborted: they aren't what the ledger made.
            Some(NotADatabase | DatabaseCorrupt | OperationAborted | ConstraintViolation) => {
                return Self::Damaged { path };
            }
            Some(ReadOnly | PermissionDenied) => return Self::ReadOnly { path },
            Some(CannotOpen) => {
                let reason = "the system doesn't let me read it".to_owned();
                return Self::CantOpen { path, reason };
            }
            Some(DatabaseBusy | DatabaseLocked) => return Self::Busy { path },
            Some(DiskFull) => return Self::DiskFull,
            _ => {}
        }
        match &error {
            // Rows that hold what this program never writes.
            FromSqlConversionFailure(..)
            | IntegralValueOutOfRange(..)
            | InvalidColumnType(..)
            | Utf8Error(..) => Self::Damaged { path },
            SqliteFailure(failure, _) if failure.extended_code == ffi::SQLITE_IOERR_SHMSIZE => {
                Self::DiskFull
            }
            _ => Self::Database(error),
        }
    }

    /// Turns what the system says of the file or its folder into what to do.
    pub(super) fn from_system(error: &std::io::Error, path: &Path) -> Self {
        use std::io::ErrorKind::*;
        let path = path.to_owned();
        match error.kind() {
            PermissionDenied | ReadOnlyFilesystem => Self::ReadOnly { path },
            StorageFull | QuotaExceeded => Self::DiskFull,
            _ => Self::CantOpen {
                path,
                reason: error.to_string(),
            },
        }
    }
}
