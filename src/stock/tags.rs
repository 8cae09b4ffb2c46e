//! Temporary tags: the bare facts of a thing on its way home.

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{Connection, OptionalExtension, Row, params};

use super::columns::{parse_column, time_text};
use super::error::Refusal;
use super::event::Dates;
use super::ledger::Fault;
use super::lots::{self, dates_column, name_column};
use super::mark::Mark;
use super::names::{ItemName, Place, TagNumber};
use super::outcome::Outcome;
use super::{amounts, items, list, pool, trip};
use crate::measure::{DateKind, Quantity};

/// A temporary tag in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemporaryTag {
    /// Its number.
    pub number: TagNumber,
    /// What it is on.
    pub item: ItemName,
    /// How much, if that was said.
    pub quantity: Option<Quantity>,
    /// The dates read out.
    pub dates: Dates,
    /// The touch mark on the thing.
    pub mark: Option<Mark>,
}

const COLUMNS: &str = "SELECT tag.number, item.name, tag.quantity,
    (SELECT group_concat(kind || '=' || date, ';') FROM tag_date WHERE tag = tag.number), tag.mark
    FROM tag JOIN item ON item.id = tag.item";

fn read(row: &Row<'_>) -> rusqlite::Result<TemporaryTag> {
    let name: String = row.get(1)?;
    let quantity: Option<String> = row.get(2)?;
    let dates: Option<String> = row.get(3)?;
    let mark: Option<String> = row.get(4)?;
    Ok(TemporaryTag {
        number: TagNumber(row.get(0)?),
        item: name_column(1, &name, ItemName::new)?,
        quantity: quantity.map(|text| amounts::column(2, &text)).transpose()?,
        dates: dates_column(3, dates.as_deref())?,
        mark: mark.map(|text| parse_column(4, &text)).transpose()?,
    })
}

pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<TemporaryTag>> {
    let mut query = connection.prepare_cached(&format!("{COLUMNS} ORDER BY tag.number"))?;
    query.query_map([], read)?.collect()
}

pub(super) fn find(
    connection: &Connection,
    number: TagNumber,
) -> rusqlite::Result<Option<TemporaryTag>> {
    let mut query = connection.prepare_cached(&format!("{COLUMNS} WHERE tag.number = ?1"))?;
    query.query_row([number.0], read).optional()
}

/// The tag that was put on such a thing last.
pub(super) fn newest(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Option<TemporaryTag>> {
    let newest =
        format!("{COLUMNS} WHERE item.name = ?1 ORDER BY tag.written DESC, tag.number DESC");
    let mut query = connection.prepare_cached(&newest)?;
    query.query_row([item.as_str()], read).optional()
}

/// Notes a date on a tag, in the place of another one that means the same.
pub(super) fn date(
    connection: &Connection,
    mut tag: TemporaryTag,
    kind: DateKind,
    date: NaiveDate,
) -> rusqlite::Result<Outcome> {
    let note = "INSERT INTO tag_date (tag, kind, date) VALUES (?1, ?2, ?3)
        ON CONFLICT (tag, kind) DO UPDATE SET date = excluded.date";
    connection.execute(note, params![tag.number.0, kind.name(), date.to_string()])?;
    tag.dates.insert(kind, date);
    Ok(Outcome::Tagged {
        tag,
        off_list: false,
        still: None,
    })
}

pub(super) fn write(
    connection: &Connection,
    item: &ItemName,
    quantity: Option<&Quantity>,
    dates: &Dates,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    let number = free_number(connection)?;
    pool::forget(connection, TagNumber(number))?;
    let trip = trip::current(connection)?;
    let from_basket = match trip {
        // What waits at home from another trip isn't what is tagged now.
        Some(trip) if !trip::is_bought(connection, trip, id)? => None,
        _ => take_from_basket(connection, id)?,
    };
    let was_in_basket = from_basket.is_some();
    let (in_basket, mark) = from_basket.unwrap_or_default();
    // What was read off the thing counts for more than what was to be bought.
    let dictated = quantity;
    let quantity = quantity.cloned().or(in_basket);
    connection.execute(
        "INSERT INTO tag (number, item, quantity, written, mark) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![
            number,
            id,
            quantity.as_ref().map(Quantity::to_string),
            time_text(at),
            mark.as_ref().map(Mark::to_string),
        ],
    )?;
    let line = match trip {
        Some(trip) => {
            trip::note_bought(connection, trip, id, dictated, was_in_basket)?;
            pool::heed(connection, id)?;
            // Of what was in the basket, the list knows already.
            match was_in_basket {
                true => None,
                false => list::buy(connection, id, dictated)?,
            }
        }
        None => None,
    };
    for note in dates.iter() {
        connection.execute(
            "INSERT INTO tag_date (tag, kind, date) VALUES (?1, ?2, ?3)",
            params![number, note.kind.map(DateKind::name), note.date.to_string()],
        )?;
    }
    let tag = TemporaryTag {
        number: TagNumber(number),
        item: item.clone(),
        quantity,
        dates: dates.clone(),
        mark,
    };
    Ok(Outcome::Tagged {
        tag,
        off_list: line == Some(None),
        still: line.flatten(),
    })
}

/// The lowest number of those in hand; or else the lowest that no tag has, or a temporary one that is free: small
/// numbers are easy to say and to feel.
fn free_number(connection: &Connection) -> rusqlite::Result<u32> {
    let in_hand = "SELECT min(number) FROM pool WHERE state = 'in-hand'";
    let in_hand = connection.query_row(in_hand, [], |row| row.get::<_, Option<u32>>(0))?;
    if let Some(number) = in_hand {
        return Ok(number);
    }
    connection.query_row(
        "SELECT 1 + coalesce(max(n), 0) FROM
            (SELECT n, row_number() OVER (ORDER BY n) AS place FROM
                (SELECT number AS n FROM tag UNION SELECT number FROM pool
                 WHERE kind <> 'temporary' OR state <> 'free'))
         WHERE n = place",
        [],
        |row| row.get(0),
    )
}

/// A tag takes over what lay in the basket without one, with its amount and its mark.
fn take_from_basket(
    connection: &Connection,
    item: i64,
) -> rusqlite::Result<Option<(Option<Quantity>, Option<Mark>)>> {
    let query = "SELECT quantity, mark FROM basket WHERE item = ?1";
    let thing = connection.query_row(query, [item], |row| {
        let (quantity, mark): (Option<String>, Option<String>) = (row.get(0)?, row.get(1)?);
        Ok((
            quantity.map(|text| amounts::column(0, &text)).transpose()?,
            mark.map(|text| parse_column(1, &text)).transpose()?,
        ))
    });
    let thing = thing.optional()?;
    connection.execute("DELETE FROM basket WHERE item = ?1", [item])?;
    Ok(thing)
}

/// Whether an item has a temporary tag.
pub(super) fn is_on(connection: &Connection, item: i64) -> rusqlite::Result<bool> {
    let mut query = connection.prepare_cached("SELECT 1 FROM tag WHERE item = ?1")?;
    query.exists([item])
}

/// A tag is free, and what it said is gone.
pub(super) fn delete(connection: &Connection, number: TagNumber) -> rusqlite::Result<()> {
    connection.execute("DELETE FROM tag_date WHERE tag = ?1", [number.0])?;
    connection.execute("DELETE FROM tag WHERE number = ?1", [number.0])?;
    Ok(())
}

/// What a tag is on gets its place, with all that the tag said; the tag is free again.
pub(super) fn put_away(
    connection: &Connection,
    number: TagNumber,
    place: &Place,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let tag = find(connection, number)?.ok_or(Refusal::NoSuchTag(number))?;
    delete(connection, number)?;
    let quantity = tag.quantity.as_ref();
    let outcome = lots::put_in(
        connection,
        &tag.item,
        quantity,
        Some(place),
        &tag.dates,
        true,
        at,
    )?;
    let outcome = lots::note(connection, outcome, tag.mark.as_ref(), false)?;
    Ok(match outcome {
        Outcome::CameIn {
            lot,
            off_list,
            still,
            ..
        } => Outcome::CameIn {
            lot,
            freed: Some(number),
            off_list,
            still,
        },
        other => other,
    })
}
