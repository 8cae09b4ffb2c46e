//! What runs low against its keep level.

use chrono::NaiveDateTime;
use rusqlite::{Connection, OptionalExtension, params};

use super::ledger::Fault;
use super::list::{self, Why};
use super::lots::{self, name_column};
use super::names::ItemName;
use super::outcome::Outcome;
use super::{amounts, items, trip};
use crate::measure::Quantity;

/// An item of which there is less than its keep level.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Low {
    /// What it is.
    pub item: ItemName,
    /// How much there is; absent for none.
    pub have: Option<Quantity>,
    /// The least to have in the house.
    pub keep: Quantity,
}

pub(super) fn keep(
    connection: &Connection,
    item: &ItemName,
    level: &Quantity,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    let change = "UPDATE item SET keep = ?2 WHERE id = ?1";
    connection.execute(change, params![id, level.to_string()])?;
    Ok(Outcome::KeepSet {
        item: item.clone(),
        level: level.clone(),
    })
}

pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<Low>> {
    let mut query = connection
        .prepare_cached("SELECT name, keep FROM item WHERE keep IS NOT NULL ORDER BY name")?;
    let kept = query.query_map([], |row| {
        let name: String = row.get(0)?;
        let keep: String = row.get(1)?;
        Ok((
            name_column(0, &name, ItemName::new)?,
            amounts::column(1, &keep)?,
        ))
    })?;
    let mut low = Vec::new();
    for kept in kept {
        let (item, keep) = kept?;
        if let Some(have) = below(connection, &item, &keep)? {
            low.push(Low { item, have, keep });
        }
    }
    Ok(low)
}

/// How much there is, where that is less than the level. `None` where it isn't, or isn't known: a quantity that nobody
/// said, or one in another measure.
fn below(
    connection: &Connection,
    item: &ItemName,
    keep: &Quantity,
) -> rusqlite::Result<Option<Option<Quantity>>> {
    // Of what is on its way to its place, nobody knows yet how much there will be.
    if trip::waits(connection, item)? {
        return Ok(None);
    }
    let lots = lots::of_item(connection, item)?;
    let have = lots::total(&lots);
    if have.is_none() && !lots.is_empty() {
        return Ok(None);
    }
    let is_low = match &have {
        None => keep.is_positive(),
        // Nothing is left over when the level is taken from it: so there is less.
        Some(have) => matches!(amounts::minus(have, keep), Some(None)),
    };
    Ok(is_low.then_some(have))
}

/// Puts an item on the list once there is less of it than its keep level. Says whether it did.
pub(super) fn list_if_low(
    connection: &Connection,
    item: &ItemName,
    at: NaiveDateTime,
) -> rusqlite::Result<bool> {
    let query = "SELECT id, keep FROM item WHERE name = ?1 AND keep IS NOT NULL";
    let kept = connection.query_row(query, [item.as_str()], |row| {
        let keep: String = row.get(1)?;
        Ok((row.get(0)?, amounts::column(1, &keep)?))
    });
    if let Some((id, keep)) = kept.optional()?
        && below(connection, item, &keep)?.is_some()
    {
        return list::insert(connection, id, None, Why::BelowKeep, at);
    }
    Ok(false)
}
