//! What runs low against its keep level.

use rusqlite::{Connection, params};

use super::ledger::Fault;
use super::lots::{self, name_column};
use super::names::ItemName;
use super::outcome::Outcome;
use super::{amounts, items};
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
        let lots = lots::of_item(connection, &item)?;
        let have = lots::total(&lots);
        if have.is_none() && !lots.is_empty() {
            // An unknown quantity, or one in another measure: whether it is low isn't known.
            continue;
        }
        let is_low = match &have {
            None => keep.is_positive(),
            // Nothing is left over when the level is taken from it: so there is less.
            Some(have) => matches!(amounts::minus(have, &keep), Some(None)),
        };
        if is_low {
            low.push(Low { item, have, keep });
        }
    }
    Ok(low)
}
