//! "Put the milk back": what was noted as used up is there after all, also where other things were done since.

use std::collections::HashMap;

use chrono::NaiveDateTime;
use rusqlite::fallible_streaming_iterator::FallibleStreamingIterator;
use rusqlite::hooks::Action;
use rusqlite::session::ChangesetIter;
use rusqlite::types::{Value, ValueRef};
use rusqlite::{Connection, OptionalExtension, params, params_from_iter};

use super::clocks;
use super::columns::{parse_column, parse_json, time_text, unreadable};
use super::error::Refusal;
use super::event::Event;
use super::ledger::{EventId, Fault};
use super::lots;
use super::names::ItemName;
use super::outcome::Outcome;

/// Puts back what the last event of an item took off the shelf, as it was. An undo would do the same, but only of the
/// last change of all; and so this is an event of its own.
pub(super) fn put_back(connection: &Connection, item: &ItemName) -> Result<Outcome, Fault> {
    let refuse = || Refusal::NothingToPutBack { item: item.clone() };
    let Some(Last { event, at, changes }) = last_of(connection, item)? else {
        return Err(refuse().into());
    };
    if !is_gone(&event) {
        return Err(refuse().into());
    }
    let taken = Taken::by(&changes)?;
    if taken.lots.is_empty() {
        return Err(refuse().into());
    }
    taken.put_back(connection)?;
    clocks::reckon(connection, item)?;
    let line = "DELETE FROM list_line WHERE why = 'used-up' AND since = ?2
        AND item = (SELECT id FROM item WHERE name = ?1)";
    connection.execute(line, params![item.as_str(), time_text(at)])?;
    Ok(Outcome::PutBack {
        item: item.clone(),
        lots: lots::of_item(connection, item)?,
    })
}

/// The last event of an item that stands.
struct Last {
    event: Event,
    at: NaiveDateTime,
    changes: Vec<u8>,
}

/// What happened last to an item, also while it was called something else: that it got another name isn't anything that
/// was done with it.
fn last_of(connection: &Connection, item: &ItemName) -> rusqlite::Result<Option<Last>> {
    let (mut name, mut before) = (item.to_string(), EventId::MAX);
    loop {
        let named = name_given(connection, &name, before)?;
        let since = named.as_ref().map_or(0, |(id, _)| *id);
        // The expression is the index's. By itself, SQLite goes back through all events until it finds one of the item.
        let mut query = connection.prepare_cached(
            "SELECT body, at, changes FROM event AS e INDEXED BY event_of_item
             WHERE CASE WHEN json_valid(body) THEN coalesce(body ->> 'item', body -> 'what' ->> 'item') END = ?1
                 AND id > ?2 AND id < ?3
                 AND undoes IS NULL AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)
             ORDER BY id DESC LIMIT 1",
        )?;
        let last = query.query_row(params![name, since, before], |row| {
            let (body, at): (String, String) = (row.get(0)?, row.get(1)?);
            Ok(Last {
                event: parse_json(0, &body)?,
                at: parse_column(1, &at)?,
                changes: row.get(2)?,
            })
        });
        match (last.optional()?, named) {
            (None, Some((id, old))) => (name, before) = (old, id),
            (last, _) => return Ok(last),
        }
    }
}

/// When an item was last given a name that it has, before an event, and what it was called until then.
fn name_given(
    connection: &Connection,
    name: &str,
    before: EventId,
) -> rusqlite::Result<Option<(EventId, String)>> {
    let mut query = connection.prepare_cached(
        "SELECT id, body ->> 'item' FROM event AS e INDEXED BY event_of_new_name
         WHERE CASE WHEN json_valid(body) THEN body ->> 'name' END = ?1
             AND CASE WHEN json_valid(body) THEN body ->> 'name' END IS NOT NULL
             AND body ->> 'event' = 'renamed' AND id < ?2
             AND NOT EXISTS (SELECT 1 FROM event WHERE undoes = e.id)
         ORDER BY id DESC LIMIT 1",
    )?;
    let given = query.query_row(params![name, before], |row| Ok((row.get(0)?, row.get(1)?)));
    given.optional()
}

fn is_gone(event: &Event) -> bool {
    match event {
        Event::UsedUp { .. } | Event::Spent { .. } => true,
        Event::Heard { what, .. } => is_gone(what),
        _ => false,
    }
}

fn owned(value: ValueRef<'_>) -> rusqlite::Result<Value> {
    Value::try_from(value).map_err(|e| unreadable(0, Box::new(e)))
}

/// What an event took off the shelf.
#[derive(Default)]
struct Taken {
    /// Rows of lots, and of their dates, as they were.
    lots: Vec<Vec<Value>>,
    dates: Vec<Vec<Value>>,
    /// Tags that came off, each with its lot.
    tags: Vec<(i64, i64)>,
    /// The notes of what was used.
    used: Vec<Value>,
}

impl Taken {
    fn by(changes: &[u8]) -> rusqlite::Result<Self> {
        let mut taken = Self::default();
        let changes: &mut dyn std::io::Read = &mut { changes };
        let mut changes = ChangesetIter::start_strm(&changes)?;
        while let Some(change) = changes.next()? {
            let operation = change.op()?;
            let columns = operation.number_of_columns() as usize;
            let old = |column: usize| owned(change.old_value(column)?);
            match (operation.table_name(), operation.code()) {
                ("lot", Action::SQLITE_DELETE) => {
                    taken
                        .lots
                        .push((0..columns).map(old).collect::<Result<_, _>>()?);
                }
                ("lot_date", Action::SQLITE_DELETE) => {
                    taken
                        .dates
                        .push((0..columns).map(old).collect::<Result<_, _>>()?);
                }
                ("pool", Action::SQLITE_UPDATE) => {
                    // A change holds what changed: the lot of a tag that was spent before isn't in it.
                    if let (Value::Integer(number), Ok(Value::Integer(lot))) = (old(0)?, old(5)) {
                        taken.tags.push((number, lot));
                    }
                }
                ("used", Action::SQLITE_INSERT) => {
                    taken.used.push(owned(change.new_value(0)?)?);
                }
                _ => {}
            }
        }
        Ok(taken)
    }

    /// The lots get new numbers: the old ones may have been given again.
    fn put_back(self, connection: &Connection) -> rusqlite::Result<()> {
        let mut numbers = HashMap::new();
        // In the order they came, which their numbers keep; a change has no order.
        let number = |lot: &Vec<Value>| match lot.first() {
            Some(Value::Integer(number)) => Some(*number),
            _ => None,
        };
        let mut lots = self.lots;
        lots.sort_by_key(number);
        for mut lot in lots {
            // An older file's changes know fewer columns.
            lot.resize(10, Value::Null);
            // The guide's day is reckoned anew.
            lot[7] = Value::Null;
            let insert = "INSERT INTO lot (item, quantity, place, came, mark, unsure, guide, thawed_for, still_for)
                VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)";
            connection.execute(insert, params_from_iter(&lot[1..]))?;
            if let Value::Integer(old) = lot[0] {
                numbers.insert(old, connection.last_insert_rowid());
            }
        }
        for date in self.dates {
            if let [Value::Integer(lot), kind, day] = &date[..]
                && let Some(lot) = numbers.get(lot)
            {
                let insert = "INSERT INTO lot_date (lot, kind, date) VALUES (?1, ?2, ?3)";
                connection.execute(insert, params![lot, kind, day])?;
            }
        }
        for (number, lot) in self.tags {
            if let Some(lot) = numbers.get(&lot) {
                // A tag that was read since, or put on something else, stays what it is.
                let on =
                    "UPDATE pool SET state = 'on', lot = ?2 WHERE number = ?1 AND state = 'spent'
                    AND item = (SELECT item FROM lot WHERE id = ?2)";
                connection.execute(on, params![number, lot])?;
            }
        }
        for id in self.used {
            connection.execute("DELETE FROM used WHERE id = ?1", [id])?;
        }
        Ok(())
    }
}
