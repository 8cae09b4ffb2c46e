//! What becomes of a lot in the house: it is opened, frozen, thawed, or moved. Where that is said of a part of it, the
//! lot is split.

use chrono::NaiveDate;
use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};

use super::choice::Choice;
use super::error::Refusal;
use super::ledger::Fault;
use super::lots::{self, Lot, Part};
use super::names::{ItemName, Place};
use super::outcome::Outcome;
use super::{amounts, clocks};
use crate::measure::{DateKind, Quantity};

/// What became of a lot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// Its pack was opened.
    Opened,
    /// It was frozen: its dates stand still. Source: FSIS, freezing keeps food safe; it doesn't make it new.
    Frozen,
    /// It was thawed: another clock runs.
    Thawed,
    /// It stands somewhere else.
    Moved,
}

impl Change {
    /// What moving to a place does: what comes into a freezer freezes there.
    ///
    /// ```
    /// use tellshelf::stock::{Change, Place};
    /// assert_eq!(Change::by_moving_to(&Place::new("freezer").unwrap()), Change::Frozen);
    /// assert_eq!(Change::by_moving_to(&Place::new("pantry").unwrap()), Change::Moved);
    /// ```
    pub fn by_moving_to(place: &Place) -> Self {
        if place.is_freezer() {
            Self::Frozen
        } else {
            Self::Moved
        }
    }

    /// Whether it can still happen to a lot.
    fn fits(self, lot: &Lot, to: Option<&Place>) -> bool {
        match self {
            // In the freezer too: its clock stands still there all the same.
            Self::Opened => !lot.is_opened(),
            Self::Frozen => !lot.is_frozen(),
            Self::Thawed => lot.is_frozen(),
            Self::Moved => lot.place.as_ref() != to,
        }
    }
}

/// Changes lots of an item: so much of it, or, where that wasn't said, all that it can still happen to. Only of packs that
/// are opened it is one.
pub(super) fn change(
    connection: &Connection,
    item: &ItemName,
    of: &Choice,
    how: Change,
    quantity: Option<&Quantity>,
    place: Option<&Place>,
    on: NaiveDate,
) -> Result<Outcome, Fault> {
    let all = lots::of_item(connection, item)?;
    if all.is_empty() {
        return Err(Refusal::NoneLeft { item: item.clone() }.into());
    }
    let all = of.of(item, all)?;
    let mut fitting: Vec<Lot> = all.into_iter().filter(|lot| how.fits(lot, place)).collect();
    // "Move the milk" isn't said of what lies in the freezer, if there is other milk.
    if how == Change::Moved && fitting.iter().any(|lot| !lot.is_frozen()) {
        fitting.retain(|lot| !lot.is_frozen());
    }
    let Some(first) = fitting.first() else {
        let item = item.clone();
        return Err(Refusal::AllSoAlready { item, how }.into());
    };
    let parts = match quantity {
        Some(quantity) => {
            amounts::require(quantity)?;
            lots::parts_of(item, &fitting, quantity)?
        }
        None if how == Change::Opened => vec![(first.id, one_of(first))],
        None => fitting.iter().map(|lot| (lot.id, Part::Whole)).collect(),
    };
    let mut changed = Vec::new();
    for (from, part) in parts {
        let was_frozen = fitting.iter().any(|one| one.id == from && one.is_frozen());
        let lot = match part {
            Part::Whole => from,
            Part::Some(quantity) => split(connection, from, &quantity)?,
        };
        if how == Change::Frozen
            && let Some(before) = fitting.iter().find(|one| one.id == from)
        {
            note_before(connection, lot, before, on)?;
        }
        mark(connection, lot, how, place, on)?;
        // What is taken from the freezer to anywhere else thaws, also where nobody says so: its dates run again.
        if how == Change::Moved && was_frozen && !place.is_some_and(Place::is_freezer) {
            mark(connection, lot, Change::Thawed, place, on)?;
        }
        changed.push(lot);
    }
    clocks::reckon(connection, item)?;
    let (changed, others) = lots::of_item(connection, item)?
        .into_iter()
        .partition(|lot| changed.contains(&lot.id));
    Ok(Outcome::Changed {
        how,
        changed,
        others,
    })
}

/// One pack of a lot that has several: the one that is begun, if there is one. What is counted one by one lies in what is
/// opened.
fn one_of(lot: &Lot) -> Part {
    match &lot.quantity {
        Some(have) if have.is_counted() && !have.is_loose() => {
            let one = have.begun().unwrap_or_else(|| have.with_count_of_one());
            match amounts::minus(have, &one) {
                Some(Some(left)) if left.is_positive() => Part::Some(one),
                _ => Part::Whole,
            }
        }
        _ => Part::Whole,
    }
}

/// Makes a lot of its own from a part of one, with the same place and dates.
fn split(connection: &Connection, lot: i64, part: &Quantity) -> Result<i64, Fault> {
    let have: String =
        connection.query_row("SELECT quantity FROM lot WHERE id = ?1", [lot], |row| {
            row.get(0)
        })?;
    let left = amounts::minus(&amounts::column(0, &have)?, part).flatten();
    let left = left.map(|left| left.to_string());
    connection.execute(
        "UPDATE lot SET quantity = ?2 WHERE id = ?1",
        params![lot, left],
    )?;
    let copy = "INSERT INTO lot (item, quantity, place, came, mark, unsure, thawed_for, still_for)
        SELECT item, ?2, place, came, mark, unsure, thawed_for, still_for FROM lot WHERE id = ?1";
    connection.execute(copy, params![lot, part.to_string()])?;
    let new = connection.last_insert_rowid();
    let dates =
        "INSERT INTO lot_date (lot, kind, date) SELECT ?2, kind, date FROM lot_date WHERE lot = ?1";
    connection.execute(dates, [lot, new])?;
    Ok(new)
}

/// Notes on a thawed lot that is frozen again how much of its time was used, and how long it had stood still.
fn note_before(
    connection: &Connection,
    lot: i64,
    before: &Lot,
    on: NaiveDate,
) -> rusqlite::Result<()> {
    if let Some(refrozen) = clocks::before_refreezing(before, on) {
        let note = "UPDATE lot SET thawed_for = ?2, still_for = ?3 WHERE id = ?1";
        connection.execute(note, params![lot, refrozen.thawed, refrozen.still])?;
    }
    Ok(())
}

/// Notes on a lot what became of it.
fn mark(
    connection: &Connection,
    lot: i64,
    how: Change,
    place: Option<&Place>,
    on: NaiveDate,
) -> rusqlite::Result<()> {
    let note = |kind: DateKind| {
        let note = "INSERT INTO lot_date (lot, kind, date) VALUES (?1, ?2, ?3)
            ON CONFLICT (lot, kind) DO UPDATE SET date = excluded.date";
        connection.execute(note, params![lot, kind.name(), on.to_string()])
    };
    match how {
        Change::Opened => {
            note(DateKind::Opened)?;
        }
        Change::Frozen => {
            note(DateKind::Frozen)?;
            let thawed = "DELETE FROM lot_date WHERE lot = ?1 AND kind = ?2";
            connection.execute(thawed, params![lot, DateKind::Thawed.name()])?;
        }
        Change::Thawed => {
            note(DateKind::Thawed)?;
        }
        Change::Moved => {}
    }
    // What was only opened stands where it stood. What was taken out of the freezer is no longer there, wherever it
    // is now.
    if place.is_some() || how != Change::Opened {
        let change = "UPDATE lot SET place = ?2 WHERE id = ?1";
        connection.execute(change, params![lot, place.map(Place::as_str)])?;
    }
    Ok(())
}
