//! What the ledger was told: its events, which of them stand, and taking back the last one.

use chrono::NaiveDateTime;
use rusqlite::session::{ConflictAction, invert_strm};
use rusqlite::{Connection, OptionalExtension, Transaction, params};

use super::{EventId, Inner, Stock};
use crate::stock::columns::{parse_column, parse_json, time_text};
use crate::stock::error::{Refusal, StockError};
use crate::stock::event::Event;
use crate::stock::outcome::Outcome;

pub(super) type Recorded = (EventId, NaiveDateTime, String, Event);

impl Stock {
    /// Every event, oldest first, with its time and source. Recorded in this order into a new
    /// stock, they give the same stock again.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let (mut stock, mut again) = (Stock::in_memory().unwrap(), Stock::in_memory().unwrap());
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let event = Event::UsedUp { item: ItemName::new("oats").unwrap(), of: Default::default() };
    /// stock.record(event, now, Source::Typed).unwrap();
    /// for (_, at, _, event) in stock.events().unwrap() {
    ///     again.record(event, at, Source::Typed).unwrap();
    /// }
    /// assert_eq!(again.dump().unwrap(), stock.dump().unwrap());
    /// ```
    pub fn events(&self) -> Result<Vec<(EventId, NaiveDateTime, String, Event)>, StockError> {
        self.ask(events)
    }

    /// The last events that stand, that is, weren't taken back: so many at most, the newest first.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// for name in ["oats", "rice", "milk"] {
    ///     let gone = Event::UsedUp { item: ItemName::new(name).unwrap(), of: Default::default() };
    ///     stock.record(gone, now, Source::Typed).unwrap();
    /// }
    /// stock.undo(now, Source::Typed).unwrap();
    /// let last = stock.standing(1, None).unwrap();
    /// assert_eq!(last[0].item().unwrap().as_str(), "rice");
    /// ```
    pub fn standing(
        &self,
        at_most: usize,
        since: Option<NaiveDateTime>,
    ) -> Result<Vec<Event>, StockError> {
        self.ask(|c| {
            // By itself, SQLite looks through all that is no undo, however long ago it was.
            let by = match since {
                Some(_) => "INDEXED BY event_by_time",
                None => "NOT INDEXED",
            };
            let mut query = c.prepare_cached(&format!(
                "SELECT body FROM event AS e {by} WHERE at >= ?1 AND undoes IS NULL
                    AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)
                 ORDER BY id DESC LIMIT ?2"
            ))?;
            let since = since.map(time_text).unwrap_or_default();
            let at_most = i64::try_from(at_most).unwrap_or(i64::MAX);
            let events = query.query_map(params![since, at_most], |row| {
                let body: String = row.get(0)?;
                parse_json(0, &body)
            })?;
            events.collect()
        })
    }

    /// The number of the last event that stands, that is, wasn't taken back.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// stock.record(Event::UsedUp { item: ItemName::new("oats").unwrap(), of: Default::default() }, now, Source::Typed).unwrap();
    /// let oats = stock.last_standing().unwrap().unwrap();
    /// assert!(stock.stands(oats).unwrap());
    /// stock.undo(now, Source::Typed).unwrap();
    /// assert!(!stock.stands(oats).unwrap());
    /// ```
    pub fn last_standing(&self) -> Result<Option<EventId>, StockError> {
        self.ask(last)
    }

    /// When something was last changed, undos included.
    ///
    /// # Errors
    /// What the file says.
    pub fn last_time(&self) -> Result<Option<NaiveDateTime>, StockError> {
        self.ask(|c| {
            let mut query = c.prepare_cached("SELECT max(at) FROM event")?;
            let last: Option<String> = query.query_row([], |row| row.get(0))?;
            last.map(|last| parse_column(0, &last)).transpose()
        })
    }

    /// Whether an event is in the ledger and wasn't taken back.
    ///
    /// # Errors
    /// What the file says.
    pub fn stands(&self, id: EventId) -> Result<bool, StockError> {
        self.ask(|c| {
            let mut query = c.prepare_cached(
                "SELECT 1 FROM event AS e WHERE id = ?1
                    AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)",
            )?;
            query.exists([id])
        })
    }
}

pub(super) fn events(connection: &Connection) -> rusqlite::Result<Vec<Recorded>> {
    let mut query = connection.prepare("SELECT id, at, source, body FROM event ORDER BY id")?;
    let events = query.query_map([], |row| {
        let body: String = row.get(3)?;
        let time: String = row.get(1)?;
        Ok((
            row.get(0)?,
            parse_column(1, &time)?,
            row.get(2)?,
            parse_json(3, &body)?,
        ))
    })?;
    events.collect()
}

/// The last event that isn't an undo and wasn't taken back.
pub(super) fn last(connection: &Connection) -> rusqlite::Result<Option<EventId>> {
    let mut query = connection.prepare_cached(
        "SELECT id FROM event AS e WHERE undoes IS NULL
            AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)
         ORDER BY id DESC LIMIT 1",
    )?;
    query.query_row([], |row| row.get(0)).optional()
}

/// Undoes the row changes of an event exactly. Events are taken back last first, so the rows are
/// as that event left them.
pub(super) fn take_back(transaction: &Transaction<'_>, id: EventId) -> Inner<Outcome> {
    if last(transaction)? != Some(id) {
        return Err(Refusal::NothingToUndo.into());
    }
    let query = "SELECT body, changes FROM event WHERE id = ?1";
    let (event, changes): (Event, Vec<u8>) = transaction.query_row(query, [id], |row| {
        let body: String = row.get(0)?;
        Ok((parse_json(0, &body)?, row.get(1)?))
    })?;
    let mut inverse = Vec::new();
    invert_strm(&mut changes.as_slice(), &mut inverse)?;
    if !inverse.is_empty() {
        transaction.apply_strm(&mut inverse.as_slice(), None::<fn(&str) -> bool>, |_, _| {
            ConflictAction::SQLITE_CHANGESET_ABORT
        })?;
    }
    Ok(Outcome::Undone(event))
}
