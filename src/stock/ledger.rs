//! The ledger: every event is applied and written down in one transaction.

use std::path::{Path, PathBuf};

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::session::{ConflictAction, Session, invert_strm};
use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior, params};

use super::error::{Refusal, StockError};
use super::event::{Event, ItemName, Source, TagNumber};
use super::expiry::{self, Expiring};
use super::list::{self, ListLine};
use super::lots::{self, Lot};
use super::low::{self, Low};
use super::outcome::Outcome;
use super::tags::{self, TemporaryTag};
use super::{items, schema};

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
/// assert_eq!(outcome, Outcome::Listed { item: oats, quantity: None });
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
    /// version; it is left as it was.
    pub fn open(path: &Path) -> Result<Self, StockError> {
        let cant_open = |reason: String| StockError::CantOpen { path: path.to_owned(), reason };
        if path.is_dir() {
            return Err(cant_open("it is a folder".to_owned()));
        }
        if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty()) {
            std::fs::create_dir_all(folder).map_err(|e| cant_open(e.to_string()))?;
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
            | OpenFlags::SQLITE_OPEN_CREATE
            | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(path, flags)
            .map_err(|e| StockError::from_database(e, path))?;
        Self::prepare(connection, path.to_owned())
    }

    /// A stock that is gone when it is dropped, for practice and tests.
    ///
    /// # Errors
    /// [`StockError`] where the machine has no memory left.
    pub fn in_memory() -> Result<Self, StockError> {
        let path = PathBuf::from(":memory:");
        let connection =
            Connection::open_in_memory().map_err(|e| StockError::from_database(e, &path))?;
        Self::prepare(connection, path)
    }

    fn prepare(mut connection: Connection, path: PathBuf) -> Result<Self, StockError> {
        let ready = || -> rusqlite::Result<bool> {
            // Another program may hold the file for a moment; longer than this, a person waits.
            connection.busy_timeout(std::time::Duration::from_secs(3))?;
            connection.pragma_update(None, "foreign_keys", true)?;
            let version = schema::version(&connection)?;
            if version > schema::VERSION {
                return Ok(false);
            }
            connection.pragma_update(None, "journal_mode", "wal")?;
            connection.pragma_update(None, "synchronous", "full")?;
            let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let version = schema::version(&transaction)?;
            if version < schema::VERSION {
                schema::migrate(&transaction, version)?;
            } else {
                // A read-only file is found out now, and not at the first word.
                transaction.pragma_update(None, "user_version", version as i64)?;
            }
            transaction.commit()?;
            Ok(true)
        };
        let mut ready = ready;
        match ready() {
            Ok(true) => Ok(Self { connection, path }),
            Ok(false) => Err(StockError::Newer { path }),
            Err(error) => Err(StockError::from_database(error, &path)),
        }
    }

    /// Looks through the whole file for damage.
    ///
    /// # Errors
    /// [`StockError::Damaged`] where there is any.
    pub fn check(&self) -> Result<(), StockError> {
        let report = self.ask(|c| {
            c.pragma_query_value(None, "quick_check", |row| row.get::<_, String>(0))
        })?;
        if report == "ok" { Ok(()) } else { Err(StockError::Damaged { path: self.path.clone() }) }
    }

    /// Records an event and what follows from it. When this returns, it is on disk.
    ///
    /// # Errors
    /// [`StockError::Refused`] where it can't be, as things stand; or what the file says. Nothing
    /// was changed then.
    pub fn record(
        &mut self,
        event: Event,
        at: NaiveDateTime,
        source: Source,
    ) -> Result<Outcome, StockError> {
        let result = (|| {
            let transaction =
                self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let outcome = write(&transaction, &event, at, source)?;
            transaction.commit()?;
            Ok(outcome)
        })();
        result.map_err(|fault| self.explain(fault))
    }

    /// Takes back the last event that wasn't taken back before.
    ///
    /// # Errors
    /// [`Refusal::NothingToUndo`], or what the file says.
    pub fn undo(&mut self, at: NaiveDateTime, source: Source) -> Result<Outcome, StockError> {
        let last = self.ask(|c| {
            let query = "SELECT id FROM event AS e WHERE undoes IS NULL
                AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)
                ORDER BY id DESC LIMIT 1";
            c.query_row(query, [], |row| row.get(0)).optional()
        })?;
        let id = last.ok_or(Refusal::NothingToUndo)?;
        self.record(Event::Undone { id }, at, source)
    }

    /// Every event, oldest first, with its time and source.
    ///
    /// # Errors
    /// What the file says.
    pub fn events(&self) -> Result<Vec<(EventId, NaiveDateTime, String, Event)>, StockError> {
        self.ask(|c| {
            let mut query = c.prepare("SELECT id, at, source, body FROM event ORDER BY id")?;
            query
                .query_map([], |row| {
                    let body: String = row.get(3)?;
                    let time: String = row.get(1)?;
                    Ok((row.get(0)?, parse_column(1, &time)?, row.get(2)?, parse_json(3, &body)?))
                })?
                .collect()
        })
    }

    /// Every row of the derived tables as text, for comparing two stocks.
    ///
    /// # Errors
    /// What the file says.
    pub fn dump(&self) -> Result<String, StockError> {
        self.ask(|c| {
            let mut text = String::new();
            for table in schema::DERIVED {
                let mut query = c.prepare(&format!("SELECT * FROM {table} ORDER BY 1, 2"))?;
                let columns = query.column_count();
                let mut rows = query.query([])?;
                while let Some(row) = rows.next()? {
                    let values = (0..columns)
                        .map(|i| row.get::<_, rusqlite::types::Value>(i).map(|v| format!("{v:?}")));
                    let values: Vec<String> = values.collect::<Result<_, _>>()?;
                    text.push_str(&format!("{table}: {}\n", values.join(", ")));
                }
            }
            Ok(text)
        })
    }

    /// The names of all items ever mentioned.
    ///
    /// # Errors
    /// What the file says.
    pub fn names(&self) -> Result<Vec<String>, StockError> {
        self.ask(items::names)
    }

    /// The lots of an item, in the order to use them.
    ///
    /// # Errors
    /// What the file says.
    pub fn lots(&self, item: &ItemName) -> Result<Vec<Lot>, StockError> {
        self.ask(|c| lots::of_item(c, item))
    }

    /// Everything on the shelf, by name.
    ///
    /// # Errors
    /// What the file says.
    pub fn shelf(&self) -> Result<Vec<Lot>, StockError> {
        self.ask(lots::all)
    }

    /// The list, oldest line first.
    ///
    /// # Errors
    /// What the file says.
    pub fn list(&self) -> Result<Vec<ListLine>, StockError> {
        self.ask(list::lines)
    }

    /// The temporary tags in use, by number.
    ///
    /// # Errors
    /// What the file says.
    pub fn tags(&self) -> Result<Vec<TemporaryTag>, StockError> {
        self.ask(tags::all)
    }

    /// The temporary tag with a number.
    ///
    /// # Errors
    /// What the file says.
    pub fn tag(&self, number: TagNumber) -> Result<Option<TemporaryTag>, StockError> {
        self.ask(|c| tags::find(c, number))
    }

    /// What has a date up to a day, that day included, soonest first.
    ///
    /// # Errors
    /// What the file says.
    pub fn expiring(&self, until: NaiveDate) -> Result<Vec<Expiring>, StockError> {
        self.ask(|c| expiry::until(c, until))
    }

    /// What there is less of than its keep level.
    ///
    /// # Errors
    /// What the file says.
    pub fn low(&self) -> Result<Vec<Low>, StockError> {
        self.ask(low::all)
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
            Fault::Database(error) => StockError::from_database(error, &self.path),
        }
    }
}

/// Applies an event, and adds it to the ledger with the changes it made.
fn write(
    transaction: &Transaction<'_>,
    event: &Event,
    at: NaiveDateTime,
    source: Source,
) -> Inner<Outcome> {
    let mut session = Session::new(transaction)?;
    for table in schema::DERIVED {
        session.attach(Some(table))?;
    }
    let outcome = apply(transaction, event, at)?;
    let mut changes = Vec::new();
    session.changeset_strm(&mut changes)?;
    drop(session);
    let body = serde_json::to_string(event)
        .map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
    let undoes = match event {
        Event::Undone { id } => Some(id),
        _ => None,
    };
    transaction.execute(
        "INSERT INTO event (at, source, body, undoes, changes) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![at.to_string(), source.name(), body, undoes, changes],
    )?;
    Ok(outcome)
}

fn apply(transaction: &Transaction<'_>, event: &Event, at: NaiveDateTime) -> Inner<Outcome> {
    match event {
        Event::PutIn { item, quantity, place, dates } => {
            lots::put_in(transaction, item, quantity.as_ref(), place.as_ref(), dates, at)
        }
        Event::PutAway { tag, place } => tags::put_away(transaction, *tag, place, at),
        Event::UsedUp { item } => lots::use_up(transaction, item),
        Event::Used { item, quantity } => lots::use_some(transaction, item, quantity),
        Event::Listed { item, quantity } => list::add(transaction, item, quantity.as_ref()),
        Event::Unlisted { item } | Event::Got { item } => list::remove(transaction, item),
        Event::KeptAt { item, level } => low::keep(transaction, item, level),
        Event::Tagged { item, quantity, dates } => {
            tags::write(transaction, item, quantity.as_ref(), dates, at)
        }
        Event::Undone { id } => take_back(transaction, *id),
    }
}

/// Undoes the row changes of an event exactly. Events are taken back last first, so the rows are
/// as that event left them.
fn take_back(transaction: &Transaction<'_>, id: EventId) -> Inner<Outcome> {
    let query = "SELECT body, changes FROM event WHERE id = ?1 AND undoes IS NULL";
    let found = transaction.query_row(query, [id], |row| {
        let body: String = row.get(0)?;
        Ok((parse_json(0, &body)?, row.get::<_, Vec<u8>>(1)?))
    });
    let (event, changes): (Event, _) = found.optional()?.ok_or(Refusal::NothingToUndo)?;
    let mut inverse = Vec::new();
    invert_strm(&mut changes.as_slice(), &mut inverse)?;
    if !inverse.is_empty() {
        transaction.apply_strm(
            &mut inverse.as_slice(),
            None::<fn(&str) -> bool>,
            |_, _| ConflictAction::SQLITE_CHANGESET_ABORT,
        )?;
    }
    Ok(Outcome::Undone(event))
}

/// Reads a value that is kept as text in a column.
pub(super) fn parse_column<T>(column: usize, text: &str) -> rusqlite::Result<T>
where
    T: std::str::FromStr<Err: std::error::Error + Send + Sync + 'static>,
{
    text.parse().map_err(|e| unreadable(column, Box::new(e)))
}

fn parse_json<T: serde::de::DeserializeOwned>(column: usize, text: &str) -> rusqlite::Result<T> {
    serde_json::from_str(text).map_err(|e| unreadable(column, Box::new(e)))
}

fn unreadable(
    column: usize,
    error: Box<dyn std::error::Error + Send + Sync + 'static>,
) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, error)
}
