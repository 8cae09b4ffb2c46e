//! The shopping list: one line an item.

use chrono::NaiveDateTime;
use rusqlite::{Connection, OptionalExtension, Row, params};

use super::columns::{parse_column, time_text};
use super::error::Refusal;
use super::ledger::Fault;
use super::lots::name_column;
use super::names::{ItemName, OwnWords, Section};
use super::outcome::Outcome;
use super::sections::StoreOrder;
use super::{amounts, items, running_out};
use crate::measure::Quantity;

/// Why something is on the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// There is none of it any more.
    UsedUp,
    /// The person asked for it.
    AskedFor,
    /// There is less of it than its keep level.
    BelowKeep,
    /// By how it was used so far, it runs out before the next trip.
    RunningOut,
}

impl Why {
    const ALL: [Self; 4] = [
        Self::UsedUp,
        Self::AskedFor,
        Self::BelowKeep,
        Self::RunningOut,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::UsedUp => "used-up",
            Self::AskedFor => "asked-for",
            Self::BelowKeep => "below-keep",
            Self::RunningOut => "running-out",
        }
    }
}

/// A line of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListLine {
    /// What to get.
    pub item: ItemName,
    /// How much, if that was said.
    pub quantity: Option<Quantity>,
    /// Where in the store it is, if that is known.
    pub section: Option<Section>,
    /// The make or size that is liked.
    pub make: Option<OwnWords>,
    /// What a helper should know.
    pub note: Option<OwnWords>,
}

const COLUMNS: &str = "SELECT item.name, list_line.quantity,
    (SELECT value FROM fact WHERE fact.item = item.id AND what = 'section' AND which = '') AS section,
    (SELECT value FROM fact WHERE fact.item = item.id AND what = 'make' AND which = ''),
    (SELECT value FROM fact WHERE fact.item = item.id AND what = 'note' AND which = '')
    FROM list_line JOIN item ON item.id = list_line.item";

fn read(row: &Row<'_>) -> rusqlite::Result<ListLine> {
    let text = |column| row.get::<_, Option<String>>(column);
    let name: String = row.get(0)?;
    let section = text(2)?.map(|text| name_column(2, &text, Section::new));
    let own = |column| {
        text(column)?
            .map(|text| name_column(column, &text, OwnWords::new))
            .transpose()
    };
    Ok(ListLine {
        item: name_column(0, &name, ItemName::new)?,
        quantity: text(1)?.map(|text| amounts::column(1, &text)).transpose()?,
        section: section.transpose()?,
        make: own(3)?,
        note: own(4)?,
    })
}

/// In the order of the store, and of one section the oldest line first.
fn in_order(
    connection: &Connection,
    lines: impl Iterator<Item = rusqlite::Result<ListLine>>,
) -> rusqlite::Result<Vec<ListLine>> {
    let mut lines = lines.collect::<rusqlite::Result<Vec<_>>>()?;
    let store = StoreOrder::of(connection)?;
    lines.sort_by_key(|line| store.rank(line.section.as_ref()));
    Ok(lines)
}

pub(super) fn lines(connection: &Connection) -> rusqlite::Result<Vec<ListLine>> {
    let mut query = connection.prepare_cached(&format!("{COLUMNS} ORDER BY list_line.id"))?;
    in_order(connection, query.query_map([], read)?)
}

/// What is still to be looked for: on a trip, not what the store had none of.
pub(super) fn wanted(connection: &Connection) -> rusqlite::Result<Vec<ListLine>> {
    let mut query = connection.prepare_cached(&format!(
        "{COLUMNS} WHERE missing IS NULL
            OR missing NOT IN (SELECT id FROM trip WHERE home IS NULL) ORDER BY list_line.id"
    ))?;
    in_order(connection, query.query_map([], read)?)
}

/// The line of an item.
pub(super) fn line_of(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Option<ListLine>> {
    let mut query = connection.prepare_cached(&format!("{COLUMNS} WHERE item.name = ?1"))?;
    query.query_row([item.as_str()], read).optional()
}

pub(super) fn has(connection: &Connection, item: &ItemName) -> rusqlite::Result<bool> {
    let query = "SELECT 1 FROM list_line JOIN item ON item.id = list_line.item WHERE name = ?1";
    connection.prepare_cached(query)?.exists([item.as_str()])
}

pub(super) fn add(
    connection: &Connection,
    item: &ItemName,
    quantity: Option<&Quantity>,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    let before = line_of(connection, item)?.and_then(|line| line.quantity);
    if !insert(connection, id, quantity, Why::AskedFor, at)? {
        // Two sources, one line: only a quantity that was said changes it.
        if quantity.is_none() {
            return Err(Refusal::AlreadyListed { item: item.clone() }.into());
        }
        let change = "UPDATE list_line SET quantity = ?2 WHERE item = ?1";
        connection.execute(change, params![id, quantity.map(Quantity::to_string)])?;
    }
    Ok(Outcome::Listed {
        item: item.clone(),
        quantity: quantity.cloned(),
        before,
    })
}

/// Adds a line unless there is one. Says whether it did.
pub(super) fn insert(
    connection: &Connection,
    item: i64,
    quantity: Option<&Quantity>,
    why: Why,
    at: NaiveDateTime,
) -> rusqlite::Result<bool> {
    let insert = "INSERT INTO list_line (item, quantity, why, since) VALUES (?1, ?2, ?3, ?4)
        ON CONFLICT (item) DO NOTHING";
    let quantity = quantity.map(Quantity::to_string);
    let line = params![item, quantity, why.name(), time_text(at)];
    Ok(connection.execute(insert, line)? == 1)
}

/// Why an item is on the list, and since when. `None` where it isn't on it, or an older file didn't say.
pub(super) fn why(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Option<(Why, NaiveDateTime)>> {
    let query = "SELECT why, since FROM list_line JOIN item ON item.id = list_line.item
        WHERE name = ?1 AND why IS NOT NULL AND since IS NOT NULL";
    let mut query = connection.prepare_cached(query)?;
    let found = query.query_row([item.as_str()], |row| {
        let why: String = row.get(0)?;
        let since: String = row.get(1)?;
        let why = Why::ALL.into_iter().find(|known| known.name() == why);
        Ok(why.map(|why| Ok((why, parse_column(1, &since)?))))
    });
    found.optional()?.flatten().transpose()
}

/// How many lines are there for a reason.
pub(super) fn count_of(connection: &Connection, why: Why) -> rusqlite::Result<usize> {
    let count = "SELECT count(*) FROM list_line WHERE why = ?1";
    let count: i64 = connection.query_row(count, [why.name()], |row| row.get(0))?;
    Ok(count as usize)
}

pub(super) fn remove(connection: &Connection, item: &ItemName) -> Result<Outcome, Fault> {
    let removed = match items::find(connection, item)? {
        Some(id) => take_off(connection, id)?,
        None => false,
    };
    if !removed {
        return Err(Refusal::NotListed { item: item.clone() }.into());
    }
    let left = connection.query_row("SELECT count(*) FROM list_line", [], |row| {
        row.get::<_, i64>(0)
    })?;
    Ok(Outcome::OffList {
        item: item.clone(),
        left: left as usize,
    })
}

/// Takes a line off because the person said so: the forecast doesn't put it back for now. Says whether there was one.
pub(super) fn take_off(connection: &Connection, item: i64) -> rusqlite::Result<bool> {
    let was_there = delete(connection, item)?;
    if was_there {
        running_out::keep_off(connection, item)?;
    }
    Ok(was_there)
}

/// Some of what is on the list was bought: its line goes off it, or says what is still to get. `None` where there was no
/// line; else the rest, if there is one.
pub(super) fn buy(
    connection: &Connection,
    item: i64,
    quantity: Option<&Quantity>,
) -> rusqlite::Result<Option<Option<Quantity>>> {
    let query = "SELECT quantity FROM list_line WHERE item = ?1";
    let line = connection.query_row(query, [item], |row| row.get::<_, Option<String>>(0));
    let Some(wanted) = line.optional()? else {
        return Ok(None);
    };
    let wanted = wanted.map(|text| amounts::column(0, &text)).transpose()?;
    let rest = wanted
        .zip(quantity)
        .and_then(|(wanted, bought)| amounts::minus(&wanted, bought)?);
    match rest.filter(Quantity::is_positive) {
        Some(rest) => {
            let change = "UPDATE list_line SET quantity = ?2 WHERE item = ?1";
            connection.execute(change, params![item, rest.to_string()])?;
            Ok(Some(Some(rest)))
        }
        None => {
            delete(connection, item)?;
            Ok(Some(None))
        }
    }
}

/// Takes a line off the list. Says whether there was one.
pub(super) fn delete(connection: &Connection, item: i64) -> rusqlite::Result<bool> {
    Ok(connection.execute("DELETE FROM list_line WHERE item = ?1", [item])? == 1)
}
