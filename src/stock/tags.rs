//! Temporary tags: the bare facts of a thing on its way home.

use chrono::NaiveDateTime;
use rusqlite::{Connection, OptionalExtension, Row, params};

use super::error::Refusal;
use super::event::{Dates, ItemName, Place, TagNumber};
use super::ledger::{Fault, time_text};
use super::lots::{self, dates_column, name_column};
use super::outcome::Outcome;
use super::{amounts, items};
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
}

const COLUMNS: &str = "SELECT tag.number, item.name, tag.quantity,
    (SELECT group_concat(kind || '=' || date, ';') FROM tag_date WHERE tag = tag.number)
    FROM tag JOIN item ON item.id = tag.item";

fn read(row: &Row<'_>) -> rusqlite::Result<TemporaryTag> {
    let name: String = row.get(1)?;
    let quantity: Option<String> = row.get(2)?;
    let dates: Option<String> = row.get(3)?;
    Ok(TemporaryTag {
        number: TagNumber(row.get(0)?),
        item: name_column(1, &name, ItemName::new)?,
        quantity: quantity.map(|text| amounts::column(2, &text)).transpose()?,
        dates: dates_column(3, dates.as_deref())?,
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

pub(super) fn write(
    connection: &Connection,
    item: &ItemName,
    quantity: Option<&Quantity>,
    dates: &Dates,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    // The lowest number that is free: small numbers are easy to say and to feel.
    let number: u32 = connection.query_row(
        "SELECT 1 + coalesce(max(n), 0) FROM
            (SELECT number AS n, row_number() OVER (ORDER BY number) AS place FROM tag)
         WHERE n = place",
        [],
        |row| row.get(0),
    )?;
    connection.execute(
        "INSERT INTO tag (number, item, quantity, written) VALUES (?1, ?2, ?3, ?4)",
        params![number, id, quantity.map(Quantity::to_string), time_text(at)],
    )?;
    for note in dates.iter() {
        connection.execute(
            "INSERT INTO tag_date (tag, kind, date) VALUES (?1, ?2, ?3)",
            params![number, note.kind.map(DateKind::name), note.date.to_string()],
        )?;
    }
    Ok(Outcome::Tagged(TemporaryTag {
        number: TagNumber(number),
        item: item.clone(),
        quantity: quantity.cloned(),
        dates: dates.clone(),
    }))
}

/// What a tag is on gets its place, with all that the tag said; the tag is free again.
pub(super) fn put_away(
    connection: &Connection,
    number: TagNumber,
    place: &Place,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let tag = find(connection, number)?.ok_or(Refusal::NoSuchTag(number))?;
    connection.execute("DELETE FROM tag_date WHERE tag = ?1", [number.0])?;
    connection.execute("DELETE FROM tag WHERE number = ?1", [number.0])?;
    let quantity = tag.quantity.as_ref();
    let outcome = lots::put_in(connection, &tag.item, quantity, Some(place), &tag.dates, at)?;
    Ok(match outcome {
        Outcome::CameIn { lot, off_list, .. } => Outcome::CameIn {
            lot,
            freed: Some(number),
            off_list,
        },
        other => other,
    })
}
