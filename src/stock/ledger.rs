//! The ledger: every event is applied and written down in one transaction.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::config::DbConfig;
use rusqlite::session::{ConflictAction, Session, invert_strm};
use rusqlite::{
    Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior, params,
};

use super::by_feel::Candidate;
use super::clips::{self, Clip};
use super::codes::Coded;
use super::error::{Refusal, StockError};
use super::event::{Dates, Event, Source};
use super::expiry::{self, Expiring};
use super::facts::Facts;
use super::forecast::RunOut;
use super::learned::{self, Learned};
use super::life;
use super::list::{self, ListLine, Why};
use super::lots::{self, Lot, NotYetKnown};
use super::low::{self, Low};
use super::names::{Allergen, Code, ItemName, Place, TagNumber};
use super::outcome::Outcome;
use super::pace::{self, RunningOut};
use super::pool::PoolTag;
use super::schema::{self, Found};
use super::sections::StoreOrder;
use super::tags::{self, TemporaryTag};
use super::trip::{self, LastTrip, Waiting};
use super::{
    amounts, codes, facts, items, known, pool, put_back, running_out, sections, spent, used,
};
use crate::measure::Quantity;

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
    /// let used = Event::Used { item: item.clone(), quantity: "1 cup".parse().unwrap() };
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
    /// let gone = Event::UsedUp { item: ItemName::new("oats").unwrap() };
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

    /// Whether the person allows that the sound of new names is kept.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use tellshelf::stock::Stock;
    /// assert!(!Stock::in_memory().unwrap().keeps_sounds().unwrap());
    /// ```
    pub fn keeps_sounds(&self) -> Result<bool, StockError> {
        self.ask(clips::are_allowed)
    }

    /// Keeps how an item's name was said, in place of what was kept before; nothing where that isn't allowed. No part
    /// of the ledger: what is in there stays for good.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Clip, Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("freekeh").unwrap();
    /// let listed = Event::Listed { item: item.clone(), quantity: None };
    /// for event in [Event::SoundsAllowed { keep: true }, listed] {
    ///     stock.record(event, now, Source::Microphone).unwrap();
    /// }
    /// let clip = Clip::new(vec![7; 16_000]);
    /// stock.keep_sound(&item, &clip, now).unwrap();
    /// assert_eq!(stock.sound_of(&item).unwrap(), Some((now, clip)));
    /// assert_eq!(stock.lose_sounds().unwrap(), 1);
    /// assert_eq!(stock.sound_of(&item).unwrap(), None);
    /// ```
    pub fn keep_sound(
        &mut self,
        item: &ItemName,
        clip: &Clip,
        at: NaiveDateTime,
    ) -> Result<(), StockError> {
        self.ask(|connection| clips::keep(connection, item, clip, at))
    }

    /// How an item's name was said, and when, if that was kept.
    ///
    /// # Errors
    /// What the file says.
    pub fn sound_of(&self, item: &ItemName) -> Result<Option<(NaiveDateTime, Clip)>, StockError> {
        self.ask(|connection| clips::of_item(connection, item))
    }

    /// How many sounds are kept.
    ///
    /// # Errors
    /// What the file says.
    pub fn sounds(&self) -> Result<usize, StockError> {
        self.ask(clips::count)
    }

    /// Loses every sound, for good: they are overwritten in the file, and no undo brings them back. Says how many.
    ///
    /// # Errors
    /// What the file says.
    pub fn lose_sounds(&mut self) -> Result<usize, StockError> {
        self.ask(clips::lose_all)
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
    /// let event = Event::UsedUp { item: ItemName::new("oats").unwrap() };
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
    ///     let gone = Event::UsedUp { item: ItemName::new(name).unwrap() };
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
    /// stock.record(Event::UsedUp { item: ItemName::new("oats").unwrap() }, now, Source::Typed).unwrap();
    /// let oats = stock.last_standing().unwrap().unwrap();
    /// assert!(stock.stands(oats).unwrap());
    /// stock.undo(now, Source::Typed).unwrap();
    /// assert!(!stock.stands(oats).unwrap());
    /// ```
    pub fn last_standing(&self) -> Result<Option<EventId>, StockError> {
        self.ask(last)
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

    /// Why an item is on the list, and since when; `None` where it isn't on it, or that isn't known.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock, Why};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// stock.record(Event::UsedUp { item: item.clone() }, now, Source::Typed).unwrap();
    /// assert_eq!(stock.why_listed(&item).unwrap(), Some((Why::UsedUp, now)));
    /// ```
    pub fn why_listed(&self, item: &ItemName) -> Result<Option<(Why, NaiveDateTime)>, StockError> {
        self.ask(|connection| list::why(connection, item))
    }

    /// Every row of the derived tables as text, for comparing two stocks.
    ///
    /// # Errors
    /// What the file says.
    pub fn dump(&self) -> Result<String, StockError> {
        self.ask(|c| {
            let mut text = String::new();
            for table in schema::DERIVED {
                let columns = c.prepare(&format!("SELECT * FROM {table}"))?.column_count();
                let order: Vec<String> = (1..=columns).map(|i| i.to_string()).collect();
                let order = order.join(", ");
                let mut query = c.prepare(&format!("SELECT * FROM {table} ORDER BY {order}"))?;
                let mut rows = query.query([])?;
                while let Some(row) = rows.next()? {
                    let values = (0..columns).map(|i| {
                        row.get::<_, rusqlite::types::Value>(i)
                            .map(|v| format!("{v:?}"))
                    });
                    let values: Vec<String> = values.collect::<Result<_, _>>()?;
                    text.push_str(&format!("{table}: {}\n", values.join(", ")));
                }
            }
            Ok(text)
        })
    }

    /// The names of all items ever mentioned, in that order.
    ///
    /// # Errors
    /// What the file says.
    pub fn names(&self) -> Result<Vec<String>, StockError> {
        self.ask(items::names)
    }

    /// The items that were heard in other ways than they are called, with these ways, by name.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let name = |name| ItemName::new(name).unwrap();
    /// let listed = Event::Listed { item: name("freekeh"), quantity: None };
    /// let heard = Event::Heard { what: Box::new(listed), forms: vec![name("freaky")] };
    /// stock.record(heard, now, Source::Typed).unwrap();
    /// let learned = stock.learned().unwrap();
    /// assert_eq!((&learned[0].item, &learned[0].forms[..]), (&name("freekeh"), &[name("freaky")][..]));
    /// ```
    pub fn learned(&self) -> Result<Vec<Learned>, StockError> {
        self.ask(learned::all)
    }

    /// The lots of an item, in the order to use them: first expired, first out.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::measure::DateKind;
    /// use tellshelf::stock::{Dates, Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let milk = ItemName::new("milk").unwrap();
    /// for day in [9, 1] {
    ///     let date = NaiveDate::from_ymd_opt(2026, 12, day).unwrap();
    ///     let mut dates = Dates::default();
    ///     dates.insert(DateKind::UseBy, date);
    ///     let event = Event::PutIn { item: milk.clone(), quantity: None, place: None, dates };
    ///     stock.record(event, date.and_hms_opt(8, 0, 0).unwrap(), Source::Typed).unwrap();
    /// }
    /// let first = &stock.lots(&milk).unwrap()[0];
    /// assert_eq!(first.dates.first_ahead(), NaiveDate::from_ymd_opt(2026, 12, 1));
    /// ```
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

    /// What is in a place and how much of it, lot by lot, by name.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Place, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let fridge = Place::new("fridge").unwrap();
    /// for (name, place) in [("milk", Some(fridge.clone())), ("oats", None)] {
    ///     let (item, dates) = (ItemName::new(name).unwrap(), Default::default());
    ///     let event = Event::PutIn { item, quantity: None, place, dates };
    ///     stock.record(event, now, Source::Typed).unwrap();
    /// }
    /// let there = stock.in_place(&fridge).unwrap();
    /// assert_eq!(there, [(ItemName::new("milk").unwrap(), None)]);
    /// ```
    pub fn in_place(&self, place: &Place) -> Result<Vec<(ItemName, Option<Quantity>)>, StockError> {
        self.ask(|c| lots::in_place(c, place))
    }

    /// The list, in the order of the store, and of one section the oldest line first.
    ///
    /// # Errors
    /// What the file says.
    pub fn list(&self) -> Result<Vec<ListLine>, StockError> {
        self.ask(list::lines)
    }

    /// Whether an item is on the list.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// stock.record(Event::UsedUp { item: item.clone() }, now, Source::Typed).unwrap();
    /// assert!(stock.is_listed(&item).unwrap());
    /// ```
    pub fn is_listed(&self, item: &ItemName) -> Result<bool, StockError> {
        self.ask(|c| list::has(c, item))
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

    /// The dates of the thing that came last, which a [`DateChanged`](Event::DateChanged) changes; `None` where there is
    /// none of it.
    ///
    /// # Errors
    /// What the file says.
    pub fn newest_dates(&self, item: &ItemName) -> Result<Option<Dates>, StockError> {
        self.ask(|c| known::newest_dates(c, item))
    }

    /// What has a date up to a day, that day included, soonest first: on the shelf and on
    /// temporary tags. Only dates that look ahead count, not when a thing was bought or opened; and the days by which
    /// published times end of what was opened or thawed.
    ///
    /// # Errors
    /// What the file says.
    pub fn expiring(&self, until: NaiveDate) -> Result<Vec<Expiring>, StockError> {
        self.ask(|c| expiry::until(c, until, usize::MAX))
    }

    /// So many at most of what has a date, as [`Stock::expiring`], soonest first.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::measure::DateKind;
    /// use tellshelf::stock::{Dates, Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// for (name, day) in [("oats", 28), ("milk", 27)] {
    ///     let mut dates = Dates::default();
    ///     dates.insert(DateKind::UseBy, NaiveDate::from_ymd_opt(2026, 11, day).unwrap());
    ///     let event = Event::Tagged { item: ItemName::new(name).unwrap(), quantity: None, dates };
    ///     stock.record(event, now, Source::Typed).unwrap();
    /// }
    /// let first = stock.expiring_first(1).unwrap();
    /// assert_eq!(first.iter().map(|e| e.item.as_str()).collect::<Vec<_>>(), ["milk"]);
    /// ```
    pub fn expiring_first(&self, at_most: usize) -> Result<Vec<Expiring>, StockError> {
        self.ask(|c| expiry::until(c, expiry::LAST, at_most))
    }

    /// What there is less of than its keep level, by name. An item whose quantity isn't known, or
    /// can't be compared with its level, isn't among them.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// let keep = Event::KeptAt { item, level: "2 bag".parse().unwrap() };
    /// stock.record(keep, now, Source::Typed).unwrap();
    /// let low = &stock.low().unwrap()[0];
    /// assert_eq!((low.have.clone(), low.keep.to_string().as_str()), (None, "2 bag"));
    /// ```
    pub fn low(&self) -> Result<Vec<Low>, StockError> {
        self.ask(low::all)
    }

    /// All that is known of an item, whether or not there is any of it.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Allergen, Event, Fact, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let (item, allergen) = (ItemName::new("cookies").unwrap(), Allergen::new("peanuts").unwrap());
    /// let fact = Fact::Allergen { allergen: allergen.clone(), contains: true };
    /// stock.record(Event::Described { item: item.clone(), fact }, now, Source::Typed).unwrap();
    /// assert_eq!(stock.facts(&item).unwrap().contains(&allergen), Some(true));
    /// ```
    pub fn facts(&self, item: &ItemName) -> Result<Facts, StockError> {
        self.ask(|c| facts::of_item(c, item))
    }

    /// What there is to eat, with what its label says of an allergen: `None` where nobody read it for that, which is
    /// never a no.
    ///
    /// # Errors
    /// What the file says.
    pub fn allergen(
        &self,
        allergen: &Allergen,
    ) -> Result<Vec<(ItemName, Option<bool>)>, StockError> {
        self.ask(|c| facts::of_allergen(c, allergen))
    }

    /// What is still to be looked for: on a trip, not what the store had none of.
    ///
    /// # Errors
    /// What the file says.
    pub fn wanted(&self) -> Result<Vec<ListLine>, StockError> {
        self.ask(list::wanted)
    }

    /// The order of the store: the person's own, or the usual one.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Comes, Event, Section, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// assert!(stock.store_order().unwrap().is_cold_last());
    /// let section = Section::new("dairy").unwrap();
    /// let placed = Event::SectionPlaced { section: section.clone(), comes: Comes::First };
    /// stock.record(placed, now, Source::Typed).unwrap();
    /// let order = stock.store_order().unwrap();
    /// assert!(order.is_own() && !order.is_cold_last());
    /// assert_eq!(order.sections()[0], section);
    /// ```
    pub fn store_order(&self) -> Result<StoreOrder, StockError> {
        self.ask(StoreOrder::of)
    }

    /// Whether a trip to the store is on.
    ///
    /// # Errors
    /// What the file says.
    pub fn is_on_trip(&self) -> Result<bool, StockError> {
        self.ask(|c| Ok(trip::current(c)?.is_some()))
    }

    /// What has no place yet, what has a temporary tag first.
    ///
    /// # Errors
    /// What the file says.
    pub fn waiting(&self) -> Result<Vec<Waiting>, StockError> {
        self.ask(trip::waiting)
    }

    /// When the last trip that is over began, and what was bought on it.
    ///
    /// # Errors
    /// What the file says.
    pub fn last_trip(&self) -> Result<Option<LastTrip>, StockError> {
        self.ask(trip::last)
    }

    /// The reminder tags that are worn, by number.
    ///
    /// # Errors
    /// What the file says.
    pub fn worn(&self) -> Result<Vec<(TagNumber, ItemName)>, StockError> {
        self.ask(pool::worn)
    }

    /// The tag with a number, of any kind, if it was ever spoken of.
    ///
    /// # Errors
    /// What the file says.
    pub fn pool_tag(&self, number: TagNumber) -> Result<Option<PoolTag>, StockError> {
        self.ask(|c| pool::find(c, number))
    }

    /// Every tag that was spoken of, by number; temporary ones only while they are in use, in hand or lost.
    ///
    /// # Errors
    /// What the file says.
    pub fn pool(&self) -> Result<Vec<PoolTag>, StockError> {
        self.ask(pool::all)
    }

    /// The lot that a kitchen tag is on.
    ///
    /// # Errors
    /// What the file says.
    pub fn lot_of_tag(&self, number: TagNumber) -> Result<Option<Lot>, StockError> {
        pool::lot_of(&self.connection, number).map_err(|fault| self.explain(fault))
    }

    /// What a code stands for, if that was said.
    ///
    /// # Errors
    /// What the file says.
    pub fn code(&self, code: &Code) -> Result<Option<Coded>, StockError> {
        self.ask(|c| codes::find(c, code))
    }

    /// The lots of which nobody could tell what they are, said where they are, or how much they hold.
    ///
    /// # Errors
    /// What the file says.
    pub fn not_yet_known(&self) -> Result<Vec<NotYetKnown>, StockError> {
        self.ask(lots::not_yet_known)
    }

    /// When what is left of an item runs out, by how it was used so far. `None` where there is too little history, or it
    /// isn't known how much was used or is left.
    ///
    /// # Errors
    /// What the file says.
    pub fn run_out(&self, item: &ItemName, today: NaiveDate) -> Result<Option<RunOut>, StockError> {
        self.ask(|c| used::run_out(c, item, today))
    }

    /// What is likely to run out within a week, by name.
    ///
    /// # Errors
    /// What the file says.
    pub fn running_out(&self, today: NaiveDate) -> Result<Vec<RunningOut>, StockError> {
        self.ask(|c| pace::within(c, pace::WEEK, today))
    }

    /// All that is in the house, with how it feels, its marks and places: what may be the thing in hand.
    ///
    /// # Errors
    /// What the file says.
    pub fn candidates(&self) -> Result<Vec<Candidate>, StockError> {
        self.ask(facts::candidates)
    }

    /// The same of what may be taken for an item in a place: what is there in the same container, and what is there and
    /// has a mark; with the item itself. Of each, only the marks on what is there.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Container, Event, Fact, Feel, ItemName, Place, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let pantry = Place::new("pantry").unwrap();
    /// let name = |name| ItemName::new(name).unwrap();
    /// for (item, container) in [("soup", Container::Can), ("jam", Container::Jar), ("corn", Container::Can)] {
    ///     let (item, fact) = (name(item), Fact::Feel(Feel::default().with(container)));
    ///     let described = Event::Described { item: item.clone(), fact };
    ///     let (place, dates) = (Some(pantry.clone()), Default::default());
    ///     let put_in = Event::PutIn { item, quantity: None, place, dates };
    ///     for event in [described, put_in] {
    ///         stock.record(event, now, Source::Typed).unwrap();
    ///     }
    /// }
    /// let cans = stock.beside(&name("soup"), &pantry).unwrap();
    /// assert_eq!(cans.iter().map(|one| one.item.as_str()).collect::<Vec<_>>(), ["soup", "corn"]);
    /// ```
    pub fn beside(&self, item: &ItemName, place: &Place) -> Result<Vec<Candidate>, StockError> {
        self.ask(|c| facts::beside(c, item, place))
    }

    /// The same of what has a touch mark.
    ///
    /// # Errors
    /// What the file says.
    pub fn marked(&self) -> Result<Vec<Candidate>, StockError> {
        self.ask(facts::marked)
    }

    /// The last uses of an item, oldest first, with the quantity where it is known.
    ///
    /// # Errors
    /// What the file says.
    pub fn uses(&self, item: &ItemName) -> Result<Vec<(NaiveDate, Option<Quantity>)>, StockError> {
        self.ask(|c| used::of_item(c, item))
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

/// What came of making a file ready.
enum Ready {
    Yes,
    ReadOnly,
    Newer,
    Damaged,
}

/// How long another program may hold the file: longer than a moment, a person waits.
const PATIENCE: Duration = Duration::from_secs(3);

/// How much of the file may stay in memory, in KiB: all that answers are read from, but not the ledger. Of 50,000 lots
/// that is 10 MB; with SQLite's own 2 MB, each answer about them reads the disk's pages anew.
const MEMORY: i64 = 16_384;

/// How many statements are kept ready: more than there are questions.
const STATEMENTS: usize = 64;

/// Looks what the file is before anything in it is changed, then brings it to this version.
fn make_ready(connection: &mut Connection) -> rusqlite::Result<Ready> {
    if connection.is_readonly("main")? {
        return Ok(Ready::ReadOnly);
    }
    connection.busy_timeout(PATIENCE)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    // What a file brings along must not run by itself.
    connection.pragma_update(None, "trusted_schema", false)?;
    match look_at(connection)? {
        Ready::Yes => {}
        other => return Ok(other),
    }
    begin_write_ahead_log(connection)?;
    connection.pragma_update(None, "cache_size", -MEMORY)?;
    connection.set_prepared_statement_cache_capacity(STATEMENTS);
    // Else SQLite plans a kept statement anew for each new name that is looked up with it, which takes longer than the
    // looking up.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    // What is deleted is gone from the file.
    connection.pragma_update(None, "secure_delete", true)?;
    connection.pragma_update(None, "synchronous", "full")?;
    // Elsewhere than on a Mac this changes nothing; there, "on disk" would mean the disk's cache.
    connection.pragma_update(None, "fullfsync", true)?;
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Another program may have been first.
    if let Found::Version(version) = schema::find(&transaction)?
        && version < schema::VERSION
    {
        schema::migrate(&transaction, version)?;
        if (1..schema::REASONS).contains(&version) {
            fill_reasons(&transaction)?;
        }
    }
    transaction.commit()?;
    clips::drop_orphans(connection)?;
    // A program that was killed may have left in the log what it had deleted.
    clips::wipe(connection)?;
    Ok(Ready::Yes)
}

/// Why things are on the list, which an older file didn't keep: told all it was told, a new stock knows it.
fn fill_reasons(transaction: &Transaction<'_>) -> rusqlite::Result<()> {
    let Ok(mut again) = Stock::in_memory() else {
        return Ok(());
    };
    // That version put nothing on the list by a forecast. The lines behind such a one would have other numbers.
    again.connection.execute_batch(
        "CREATE TEMP TRIGGER no_forecast BEFORE INSERT ON list_line WHEN NEW.why = 'running-out'
         BEGIN SELECT RAISE (IGNORE); END",
    )?;
    for (_, at, _, event) in events(transaction)? {
        // What an older version took, and this one wouldn't, leaves a line without its reason.
        let _ = again.record(event, at, Source::Typed);
    }
    let mut known = again
        .connection
        .prepare("SELECT why, since, id, item FROM list_line")?;
    let mut known = known.query([])?;
    let fill = "UPDATE list_line SET why = ?1, since = ?2 WHERE id = ?3 AND item = ?4";
    while let Some(line) = known.next()? {
        let text = |column| line.get::<_, Option<String>>(column);
        let (id, item): (i64, i64) = (line.get(2)?, line.get(3)?);
        transaction.execute(fill, params![text(0)?, text(1)?, id, item])?;
    }
    Ok(())
}

/// Turns the write-ahead log on. Where another program is just doing the same, SQLite gives up at
/// once instead of waiting as it does elsewhere, so the waiting is done here.
fn begin_write_ahead_log(connection: &Connection) -> rusqlite::Result<()> {
    let begun = Instant::now();
    loop {
        match connection.pragma_update(None, "journal_mode", "wal") {
            Err(error)
                if error.sqlite_error_code() == Some(rusqlite::ErrorCode::DatabaseBusy)
                    && begun.elapsed() < PATIENCE =>
            {
                std::thread::sleep(Duration::from_millis(10));
            }
            done => return done,
        }
    }
}

/// Says what a file is. All of it is read at one moment: another program may be making the tables,
/// and half of its work would look like damage.
fn look_at(connection: &mut Connection) -> rusqlite::Result<Ready> {
    let moment = connection.transaction_with_behavior(TransactionBehavior::Deferred)?;
    let found = schema::find(&moment)?;
    if is_cut(&moment)? {
        return Ok(Ready::Damaged);
    }
    Ok(match found {
        Found::Newer => Ready::Newer,
        Found::Foreign => Ready::Damaged,
        Found::Version(0) => Ready::Yes,
        Found::Version(_) if schema::is_sound(&moment)? => Ready::Yes,
        Found::Version(_) => Ready::Damaged,
    })
}

/// Whether a file ends within a page. SQLite doesn't mind: it takes a scrap for an empty file and
/// would write over it, and reads zeros where the last page was cut off.
fn is_cut(connection: &Connection) -> rusqlite::Result<bool> {
    let page: u32 = connection.pragma_query_value(None, "page_size", |row| row.get(0))?;
    let length = |suffix: &str| {
        let path = format!("{}{suffix}", connection.path().unwrap_or_default());
        std::fs::metadata(path).map_or(0, |found| found.len())
    };
    // After a crash, SQLite mends such an end from its journal.
    Ok(length("-wal") == 0 && length("-journal") == 0 && !length("").is_multiple_of(page.into()))
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
    let mut outcome = apply(transaction, event, at)?;
    follow(transaction, &mut outcome, at)?;
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
        params![time_text(at), source.name(), body, undoes, changes],
    )?;
    Ok(outcome)
}

/// What follows from a change of what is there: what fell below its keep level is put on the list, it is reckoned again
/// when it runs out, and what was used and runs out before the next trip is put on the list as well.
fn follow(transaction: &Transaction<'_>, outcome: &mut Outcome, at: NaiveDateTime) -> Inner<()> {
    if let Some(item) = outcome.changed_lots_of().cloned() {
        let is_listed = low::list_if_low(transaction, &item, at)?;
        pace::look_ahead(transaction, &item, at.date())?;
        if matches!(outcome, Outcome::Used { .. }) {
            running_out::list_if_soon(transaction, &item, at)?;
        }
        // What came in isn't enough: so it is on the list as before.
        if let (true, Outcome::CameIn { off_list, .. }) = (is_listed, outcome) {
            *off_list = false;
        }
    }
    Ok(())
}

fn apply(transaction: &Transaction<'_>, event: &Event, at: NaiveDateTime) -> Inner<Outcome> {
    match event {
        Event::PutIn {
            quantity: Some(quantity),
            ..
        }
        | Event::Listed {
            quantity: Some(quantity),
            ..
        }
        | Event::Tagged {
            quantity: Some(quantity),
            ..
        } => amounts::require(quantity)?,
        Event::KeptAt { level, .. } => amounts::require_level(level)?,
        _ => {}
    }
    match event {
        Event::PutIn {
            item,
            quantity,
            place,
            dates,
        } => lots::put_in(
            transaction,
            item,
            quantity.as_ref(),
            place.as_ref(),
            dates,
            at,
        ),
        Event::PutAway { tag, place } => tags::put_away(transaction, *tag, place, at),
        Event::Changed {
            item,
            how,
            quantity,
            place,
            on,
        } => life::change(
            transaction,
            item,
            *how,
            quantity.as_ref(),
            place.as_ref(),
            *on,
        ),
        Event::UsedUp { item } => lots::use_up(transaction, item, at),
        Event::Used { item, quantity } => lots::use_some(transaction, item, quantity, at),
        Event::Listed { item, quantity } => list::add(transaction, item, quantity.as_ref(), at),
        Event::Unlisted { item } => list::remove(transaction, item),
        Event::Got { item } => trip::got(transaction, item, None),
        Event::GotInstead { item, instead } => trip::got(transaction, instead, Some(item)),
        Event::NoneThere { item } => trip::none_there(transaction, item),
        Event::SectionPlaced { section, comes } => sections::place(transaction, section, comes),
        Event::StoreForgotten => sections::forget(transaction),
        Event::TripBegun => trip::begin(transaction, at),
        Event::CameHome => trip::come_home(transaction, at),
        Event::Marked { item, mark } => trip::mark(transaction, item, mark),
        Event::Stowed {
            item,
            place,
            unsure,
        } => trip::stow(transaction, item, place, *unsure, at),
        Event::Dated { item, kind, date } => known::date(transaction, item, *kind, *date),
        Event::DateChanged { item, kind, date } => {
            known::change_date(transaction, item, *kind, *date)
        }
        Event::Counted { item, quantity } => known::count(transaction, item, quantity),
        Event::Located { item, place } => known::locate(transaction, item, place),
        Event::MadeSure { item } => lots::make_sure(transaction, item),
        Event::PutBack { item } => put_back::put_back(transaction, item),
        Event::Described { item, fact } => facts::describe(transaction, item, fact),
        Event::Coded { item, code } => codes::learn(transaction, item, code),
        Event::TagCoded { tag, code } => pool::code(transaction, *tag, code),
        Event::KitchenTagged { item, tag } => pool::put_on(transaction, item, *tag),
        Event::Reminded { item, tag } => pool::remind(transaction, item, *tag),
        Event::TagsTaken { first, last } => pool::take_along(transaction, *first, *last),
        Event::TagLost { tag } => pool::lose(transaction, *tag),
        Event::TagFound { tag } => pool::find_again(transaction, *tag),
        Event::TagSpent { tag } => spent::tag(transaction, *tag, at),
        Event::Spent { item } => spent::item(transaction, item, at),
        Event::KeptAt { item, level } => low::keep(transaction, item, level),
        Event::Tagged {
            item,
            quantity,
            dates,
        } => tags::write(transaction, item, quantity.as_ref(), dates, at),
        Event::Heard { what, forms } => {
            let outcome = apply(transaction, what, at)?;
            if let Some(item) = what.item() {
                learned::hear(transaction, item, forms)?;
            }
            Ok(outcome)
        }
        Event::Unheard { item } => learned::forget(transaction, item),
        Event::Renamed { item, name } => learned::rename(transaction, item, name),
        Event::SoundsAllowed { keep } => clips::allow(transaction, *keep, at),
        Event::Undone { id } => take_back(transaction, *id),
    }
}

type Recorded = (EventId, NaiveDateTime, String, Event);

fn events(connection: &Connection) -> rusqlite::Result<Vec<Recorded>> {
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
fn last(connection: &Connection) -> rusqlite::Result<Option<EventId>> {
    let mut query = connection.prepare_cached(
        "SELECT id FROM event AS e WHERE undoes IS NULL
            AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)
         ORDER BY id DESC LIMIT 1",
    )?;
    query.query_row([], |row| row.get(0)).optional()
}

/// Undoes the row changes of an event exactly. Events are taken back last first, so the rows are
/// as that event left them.
fn take_back(transaction: &Transaction<'_>, id: EventId) -> Inner<Outcome> {
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

/// A local time as it is kept: 2026-11-25T07:30:00, the form that is read back.
pub(super) fn time_text(at: NaiveDateTime) -> String {
    at.format("%Y-%m-%dT%H:%M:%S%.f").to_string()
}

/// Reads a value that is kept as text in a column.
pub(super) fn parse_column<T>(column: usize, text: &str) -> rusqlite::Result<T>
where
    T: std::str::FromStr<Err: std::error::Error + Send + Sync + 'static>,
{
    text.parse().map_err(|e| unreadable(column, Box::new(e)))
}

pub(super) fn parse_json<T: serde::de::DeserializeOwned>(
    column: usize,
    text: &str,
) -> rusqlite::Result<T> {
    serde_json::from_str(text).map_err(|e| unreadable(column, Box::new(e)))
}

pub(super) fn unreadable(
    column: usize,
    error: Box<dyn std::error::Error + Send + Sync + 'static>,
) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, error)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_keeps_a_promise_is_switched_on() {
        let folder = tempfile::tempdir().unwrap();
        let stock = Stock::open(&folder.path().join("stock.db")).unwrap();
        let pragma = |name: &str| -> String {
            let value = stock
                .connection
                .pragma_query_value(None, name, |row| row.get::<_, rusqlite::types::Value>(0));
            format!("{:?}", value.unwrap())
        };
        assert_eq!(pragma("journal_mode"), "Text(\"wal\")");
        // FULL: each commit waits for the disk.
        assert_eq!(pragma("synchronous"), "Integer(2)");
        assert_eq!(pragma("fullfsync"), "Integer(1)");
        assert_eq!(pragma("foreign_keys"), "Integer(1)");
        assert_eq!(pragma("trusted_schema"), "Integer(0)");
    }

    #[test]
    fn a_time_comes_back_as_it_was_written() {
        for text in [
            "2026-11-25T07:30:00",
            "2026-11-25T07:30:00.000000001",
            "0001-01-01T00:00:00",
        ] {
            let at: NaiveDateTime = text.parse().unwrap();
            assert_eq!(time_text(at), text);
        }
    }
}
