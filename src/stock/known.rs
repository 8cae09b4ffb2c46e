//! What wasn't known of a thing when it came in, and is said later: its date, how much there is, or where.

use rusqlite::{Connection, params};

use super::error::Refusal;
use super::event::{Dates, Labelled};
use super::ledger::Fault;
use super::lots::{self, Lot};
use super::names::{ItemName, Place};
use super::outcome::Outcome;
use super::{amounts, clocks, facts, items, tags};
use crate::measure::{DateKind, Quantity};
use chrono::NaiveDate;

/// Notes a date on the thing that was named, or else on the lot that came in last: the one that is in hand when a label is
/// read.
pub(super) fn date(
    connection: &Connection,
    item: &ItemName,
    of: Option<Labelled>,
    kind: DateKind,
    date: NaiveDate,
) -> Result<Outcome, Fault> {
    if let Some(Labelled::Tag(number)) = of {
        let tag = tags::find(connection, number)?.filter(|tag| tag.item == *item);
        let tag = tag.ok_or(Refusal::NoSuchTag(number))?;
        return Ok(tags::date(connection, tag, kind, date)?);
    }
    let lots = lots::of_item(connection, item)?;
    let undated = lots.iter().filter(|lot| lot.dates.get(kind).is_none());
    let meant = match of {
        Some(Labelled::Lot(named)) => lots.iter().find(|lot| lot.id == named),
        _ => undated.max_by_key(|lot| lot.id).or_else(|| newest(&lots)),
    };
    let Some(lot) = meant else {
        return Err(Refusal::NoneLeft { item: item.clone() }.into());
    };
    date_lot(connection, item, lot.id, kind, date)
}

/// Changes a date of the thing that came last: what waits with a temporary tag came later than what stands in its place.
pub(super) fn change_date(
    connection: &Connection,
    item: &ItemName,
    kind: DateKind,
    date: NaiveDate,
) -> Result<Outcome, Fault> {
    if let Some(tag) = tags::newest(connection, item)? {
        return Ok(tags::date(connection, tag, kind, date)?);
    }
    match newest(&lots::of_item(connection, item)?) {
        Some(lot) => date_lot(connection, item, lot.id, kind, date),
        None => Err(Refusal::NoneLeft { item: item.clone() }.into()),
    }
}

/// The dates of the thing that came last.
pub(super) fn newest_dates(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Option<Dates>> {
    if let Some(tag) = tags::newest(connection, item)? {
        return Ok(Some(tag.dates));
    }
    let lots = lots::of_item(connection, item)?;
    Ok(newest(&lots).map(|lot| lot.dates.clone()))
}

fn date_lot(
    connection: &Connection,
    item: &ItemName,
    lot: i64,
    kind: DateKind,
    date: NaiveDate,
) -> Result<Outcome, Fault> {
    let note = "INSERT INTO lot_date (lot, kind, date) VALUES (?1, ?2, ?3)
        ON CONFLICT (lot, kind) DO UPDATE SET date = excluded.date";
    connection.execute(note, params![lot, kind.name(), date.to_string()])?;
    clocks::reckon(connection, item)?;
    told(connection, item, lot)
}

/// Notes how much a lot holds, where nobody said; or where there is only one, how much it holds now. Where a place was said,
/// only what lies there is meant.
pub(super) fn count(
    connection: &Connection,
    item: &ItemName,
    quantity: &Quantity,
    place: Option<&Place>,
) -> Result<Outcome, Fault> {
    amounts::require(quantity)?;
    let mut lots = lots::of_item(connection, item)?;
    lots.retain(|lot| place.is_none() || lot.place.as_ref() == place);
    let unknown: Vec<&Lot> = lots.iter().filter(|lot| lot.quantity.is_none()).collect();
    let lot = match (unknown.as_slice(), lots.as_slice()) {
        (_, []) => return Err(Refusal::NoneLeft { item: item.clone() }.into()),
        ([lot], _) => *lot,
        ([], [lot]) => lot,
        _ => {
            let item = item.clone();
            let lots = lots.len();
            return Err(Refusal::WhichLot { item, lots }.into());
        }
    };
    let note = "UPDATE lot SET quantity = ?2 WHERE id = ?1";
    connection.execute(note, params![lot.id, quantity.to_string()])?;
    let was = lot.quantity.clone().filter(|was| was != quantity);
    // What was a carton and is ten now was only counted otherwise.
    let was = was.filter(|was| amounts::minus(was, quantity).is_some());
    match told(connection, item, lot.id)? {
        Outcome::LotTold { lot } => Ok(Outcome::Counted { lot, was }),
        other => Ok(other),
    }
}

/// Notes where all of an item is of which that wasn't known.
pub(super) fn locate(
    connection: &Connection,
    item: &ItemName,
    place: &Place,
) -> Result<Outcome, Fault> {
    let lots = lots::of_item(connection, item)?;
    if lots.is_empty() {
        return Err(Refusal::NoneLeft { item: item.clone() }.into());
    }
    let unknown = lots.into_iter().filter(|lot| lot.place.is_none());
    let unknown: Vec<i64> = unknown.map(|lot| lot.id).collect();
    if unknown.is_empty() {
        return Err(Refusal::KnownAlready { item: item.clone() }.into());
    }
    for lot in &unknown {
        let note = "UPDATE lot SET place = ?2 WHERE id = ?1";
        connection.execute(note, params![lot, place.as_str()])?;
    }
    let id = items::find_or_make(connection, item)?;
    facts::note_last_place(connection, id, place)?;
    // In the freezer, no published time runs.
    clocks::reckon(connection, item)?;
    let mut lots = lots::of_item(connection, item)?;
    lots.retain(|lot| unknown.contains(&lot.id));
    Ok(Outcome::Located { lots })
}

fn newest(lots: &[Lot]) -> Option<&Lot> {
    lots.iter().max_by_key(|lot| lot.id)
}

fn told(connection: &Connection, item: &ItemName, lot: i64) -> Result<Outcome, Fault> {
    let mut lots = lots::of_item(connection, item)?;
    lots.retain(|known| known.id == lot);
    match lots.pop() {
        Some(lot) => Ok(Outcome::LotTold { lot }),
        None => Err(Refusal::NoneLeft { item: item.clone() }.into()),
    }
}
