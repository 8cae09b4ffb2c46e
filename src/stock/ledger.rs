//! The ledger: every event is applied and written down in one transaction.

mod applying;
mod questions;
mod ready;
mod sounds;
mod told;

use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use self::applying::write;
use self::ready::{Ready, make_ready};
use self::told::last;
use super::clips;
use super::error::{Refusal, StockError};
use super::event::{Event, Source};
use super::outcome::Outcome;

/// The number of an event in the ledger.
pub type EventId = i64;

/// The kitchen's stock, in one SQLite file.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::stock::{Event, ItemName, Outcome, Source, Stock};
/// let mut stock = Stock::in_memory().unwrap();
/// let morning = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
/// let oats = ItemName::new("oats").unwrap();
/// let listed = Event::Listed { item: oats.clone(), quantity: None };
/// let outcome = stock.record(listed, morning, Source::Typed).unwrap();
/// assert_eq!(outcome, Outcome::Listed { item: oats, quantity: None, before: None });
/// assert_eq!(stock.list().unwrap().len(), 1);
/// stock.undo(morning, Source::Typed).unwrap();
/// assert!(stock.list().unwrap().is_empty());
/// ```
#[derive(Debug)]
pub struct Stock {
    connection: Connection,
    path: PathBuf,
}

/// An error inside a transaction: what the database says gets its words when it is left.
type Inner<T> = Result<T, Fault>;

pub(super) enum Fault {
    Refused(Refusal),
    NoAmount { asked: String },
    Database(rusqlite::Error),
}

impl From<rusqlite::Error> for Fault {
    fn from(error: rusqlite::Error) -> Self {
        Self::Database(error)
    }
}

impl From<Refusal> for Fault {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl Stock {
    /// Opens the stock in a file, which is made with its folder if it isn't there.
    ///
    /// What is confirmed is on disk: write-ahead log, full synchronisation.
    ///
    /// # Errors
    /// [`StockError`] where the file can't be opened or written, is damaged, or is from a later
    /// version; it is left as it was. The tables that answers are read from are looked through for
    /// damage each time, the whole file only by [`Stock::check`].
    ///
    /// ```
    /// use tellshelf::stock::{Stock, StockError};
    /// let home = tempfile::tempdir().unwrap();
    /// let path = home.path().join("kitchen/stock.db");
    /// drop(Stock::open(&path).unwrap());
    /// std::fs::write(&path, "something else").unwrap();
    /// let damaged = Stock::open(&path).unwrap_err();
    /// assert!(matches!(damaged, StockError::Damaged { .. }));
    /// ```
    pub fn open(path: &Path) -> Result<Self, StockError> {
        let cant_open = |error: std::io::Error| StockError::from_system(&error, path);
        // With its folder in front, no name means something else to SQLite, as ":memory:" would.
        let path = &std::path::absolute(path).map_err(cant_open)?;
        match path.metadata() {
            Ok(found) if found.is_file() => {}
            Ok(found) => {
                let reason = if found.is_dir() {
                    "it is a folder"
                } else {
                    "it isn't a plain file"
                };
                return Err(StockError::CantOpen {
                    path: path.clone(),
                    reason: reason.to_owned(),
                });
            }
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                if let Some(folder) = path.parent() {
                    std::fs::create_dir_all(folder).map_err(cant_open)?;
                }
                // Made here and not by SQLite, for the system's reason where it can't be.
                match std::fs::File::create_new(path) {
                    Err(e) if e.kind() != std::io::ErrorKind::AlreadyExists => {
                        return Err(cant_open(e));
                    }
                    _ => {}
                }
            }
            Err(error) => return Err(cant_open(error)),
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(path, flags)
            .map_err(|e| StockError::from_database(e, path))?;
        Self::prepare(connection, path.clone())
    }

    /// A stock that is gone when it is dropped, for practice and tests.
    ///
    /// # Errors
    /// [`StockError`] where the machine has no memory left.
    ///
    /// ```
    /// let stock = tellshelf::stock::Stock::in_memory().unwrap();
    /// assert!(stock.shelf().unwrap().is_empty());
    /// ```
    pub fn in_memory() -> Result<Self, StockError> {
        let path = PathBuf::from(":memory:");
        let connection =
            Connection::open_in_memory().map_err(|e| StockError::from_database(e, &path))?;
        Self::prepare(connection, path)
    }

    fn prepare(mut connection: Connection, path: PathBuf) -> Result<Self, StockError> {
        match make_ready(&mut connection) {
            Ok(Ready::Yes) => Ok(Self { connection, path }),
            Ok(Ready::ReadOnly) => Err(StockError::ReadOnly { path }),
            Ok(Ready::Newer) => Err(StockError::Newer { path }),
            Ok(Ready::Damaged) => Err(StockError::Damaged { path }),
            Err(error) => Err(StockError::from_database(error, &path)),
        }
    }

    /// Looks through the whole file for damage.
    ///
    /// # Errors
    /// [`StockError::Damaged`] where there is any.
    ///
    /// ```
    /// tellshelf::stock::Stock::in_memory().unwrap().check().unwrap();
    /// ```
    pub fn check(&self) -> Result<(), StockError> {
        let sound = self.ask(|c| {
            let report: String = c.pragma_query_value(None, "integrity_check", |row| row.get(0))?;
            let orphans = c.prepare("PRAGMA foreign_key_check")?.exists([])?;
            Ok(report == "ok" && !orphans)
        })?;
        if !sound {
            return Err(StockError::Damaged {
                path: self.path.clone(),
            });
        }
        // Sound pages may still hold what isn't a name, a quantity or a date.
        self.events()?;
        self.shelf()?;
        self.list()?;
        self.tags()?;
        self.low()?;
        self.learned()?;
        self.pool()?;
        self.waiting()?;
        self.candidates()?;
        self.store_order()?;
        Ok(())
    }

    /// Records an event and what follows from it. When this returns, it is on disk.
    ///
    /// [`Event::Undone`] is recorded only for the last event that wasn't taken back before.
    ///
    /// # Errors
    /// [`StockError::Refused`] where it can't be, as things stand; [`StockError::NoAmount`] for a
    /// quantity that isn't more than nothing; or what the file says. Nothing was changed then.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Refusal, Source, Stock, StockError};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// let used = Event::Used { item: item.clone(), quantity: "1 cup".parse().unwrap(), of: Default::default() };
    /// let refused = stock.record(used, now, Source::Typed).unwrap_err();
    /// assert!(matches!(refused, StockError::Refused(Refusal::NoneLeft { .. })));
    /// ```
    pub fn record(
        &mut self,
        event: Event,
        at: NaiveDateTime,
        source: Source,
    ) -> Result<Outcome, StockError> {
        self.change(at, source, |_| Ok(event))
    }

    /// Takes back the last event that wasn't taken back before, with all that followed from it.
    /// Again and again it goes back step by step; an undo itself isn't taken back.
    ///
    /// # Errors
    /// [`Refusal::NothingToUndo`], or what the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Outcome, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let gone = Event::UsedUp { item: ItemName::new("oats").unwrap(), of: Default::default() };
    /// stock.record(gone.clone(), now, Source::Typed).unwrap();
    /// assert_eq!(stock.undo(now, Source::Typed).unwrap(), Outcome::Undone(gone));
    /// assert!(stock.undo(now, Source::Typed).is_err());
    /// ```
    pub fn undo(&mut self, at: NaiveDateTime, source: Source) -> Result<Outcome, StockError> {
        // Looked up where it is written: another program may record something in between.
        self.change(at, source, |transaction| {
            let id = last(transaction)?.ok_or(Refusal::NothingToUndo)?;
            Ok(Event::Undone { id })
        })
        .and_then(|outcome| self.ask(clips::drop_orphans).map(|()| outcome))
    }

    fn change(
        &mut self,
        at: NaiveDateTime,
        source: Source,
        event: impl FnOnce(&Transaction<'_>) -> Inner<Event>,
    ) -> Result<Outcome, StockError> {
        let result = (|| {
            let transaction = self
                .connection
                .transaction_with_behavior(TransactionBehavior::Immediate)?;
            let event = event(&transaction)?;
            let outcome = write(&transaction, &event, at, source)?;
            transaction.commit()?;
            Ok(outcome)
        })();
        result.map_err(|fault| self.explain(fault))
    }

    fn ask<T>(
        &self,
        question: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, StockError> {
        question(&self.connection).map_err(|e| StockError::from_database(e, &self.path))
    }

    fn explain(&self, fault: Fault) -> StockError {
        match fault {
            Fault::Refused(refusal) => StockError::Refused(refusal),
            Fault::NoAmount { asked } => StockError::NoAmount { asked },
            Fault::Database(error) => StockError::from_database(error, &self.path),
        }
    }
}
