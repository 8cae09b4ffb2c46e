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

/// The keep levels, by name. One of nothing is none.
/// What is to be kept of an item, if anything.
pub(super) fn level(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Option<Quantity>> {
    let query = "SELECT keep FROM item WHERE name = ?1 AND keep IS NOT NULL";
    let mut query = connection.prepare_cached(query)?;
    let level = query.query_row([item.as_str()], |row| {
        amounts::column(0, row.get_ref(0)?.as_str()?)
    });
    let level: Option<Quantity> = level.optional()?;
    Ok(level.filter(Quantity::is_positive))
}

pub(super) fn levels(connection: &Connection) -> rusqlite::Result<Vec<(ItemName, Quantity)>> {
    let query = "SELECT name, keep FROM item WHERE keep IS NOT NULL ORDER BY name";
    let mut query = connection.prepare_cached(query)?;
    let levels = query.query_map([], |row| {
        let name = name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)?;
        Ok((name, amounts::column(1, row.get_ref(1)?.as_str()?)?))
    })?;
    let levels: Vec<_> = levels.collect::<rusqlite::Result<_>>()?;
    let is_kept = |(_, level): &(ItemName, Quantity)| level.is_positive();
    Ok(levels.into_iter().filter(is_kept).collect())
}

pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<Low>> {
    // Most of what is kept isn't low, and that shows without the order and the dates of its lots: they are read only of
    // what may be.
    let mut query = connection.prepare_cached(
        "SELECT keep, quantity, lot.id IS NULL, name, item.id
         FROM item LEFT JOIN lot ON lot.item = item.id WHERE keep IS NOT NULL ORDER BY name",
    )?;
    let mut rows = query.query([])?;
    let mut kept: Vec<(i64, Kept)> = Vec::new();
    while let Some(row) = rows.next()? {
        let id = row.get(4)?;
        if kept.last().is_none_or(|(known, _)| *known != id) {
            kept.push((
                id,
                Kept {
                    item: name_column(3, row.get_ref(3)?.as_str()?, ItemName::new)?,
                    keep: amounts::column(0, row.get_ref(0)?.as_str()?)?,
                    sum: Sum::Nothing,
                },
            ));
        }
        if let (Some((_, kept)), false) = (kept.last_mut(), row.get(2)?) {
            let quantity = row.get_ref(1)?.as_str_or_null()?;
            let quantity = quantity.map(|text| amounts::column(1, text)).transpose()?;
            kept.sum = std::mem::replace(&mut kept.sum, Sum::Nothing).with(quantity);
        }
    }
    let mut low = Vec::new();
    for (_, Kept { item, keep, sum }) in kept {
        if !sum.is_enough(&keep)
            && let Some(have) = below(connection, &item, &keep)?
        {
            low.push(Low { item, have, keep });
        }
    }
    Ok(low)
}

/// An item with a keep level, and what was added up of it.
struct Kept {
    item: ItemName,
    keep: Quantity,
    sum: Sum,
}

/// The lots of an item added up in any order.
enum Sum {
    Nothing,
    /// All are measured alike, so that their order makes no difference.
    Alike(Quantity),
    /// In one measure or another: what they come to depends on which is first to be used.
    Mixed,
    /// Nobody said how much one of them holds.
    Unknown,
}

impl Sum {
    fn with(self, lot: Option<Quantity>) -> Self {
        match (self, lot) {
            (Self::Unknown, _) | (_, None) => Self::Unknown,
            (Self::Nothing, Some(lot)) => Self::Alike(lot),
            (Self::Alike(sum), Some(lot)) if sum.is_measured_as(&lot) => {
                amounts::plus(&sum, &lot).map_or(Self::Mixed, Self::Alike)
            }
            (_, Some(_)) => Self::Mixed,
        }
    }

    /// Whether it is plain that this isn't low, whatever else is known of it.
    fn is_enough(&self, keep: &Quantity) -> bool {
        match self {
            Self::Nothing | Self::Mixed => false,
            Self::Alike(sum) => matches!(amounts::minus(sum, keep), Some(Some(_)) | None),
            Self::Unknown => true,
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    fn q(text: &str) -> Quantity {
        text.parse().unwrap()
    }

    fn is_enough(lots: &[&str], keep: &str) -> bool {
        let lot = |text: &&str| (!text.is_empty()).then(|| q(text));
        let sum = lots.iter().map(lot).fold(Sum::Nothing, Sum::with);
        sum.is_enough(&q(keep))
    }

    #[test]
    fn only_what_is_measured_alike_is_plainly_enough() {
        assert!(is_enough(&["1 can", "2 can"], "3 can"));
        assert!(!is_enough(&["1 can", "2 can"], "4 can"));
        assert!(!is_enough(&[], "1 can"));
        // As cans they are two, as packs they may be less than that: it depends on which is the first.
        let (small, any) = ("1 x 14 ounce can", "1 can");
        for lots in [[any, small], [small, any]] {
            assert!(!is_enough(&lots, "1 x 30 ounce can"));
        }
        // Packs of another size are counted by what they hold.
        assert!(!is_enough(&[small, "1 x 20 ounce can"], "1 can"));
    }

    #[test]
    fn what_cannot_be_compared_is_never_low() {
        assert!(is_enough(&["1 can", ""], "3 can"));
        assert!(is_enough(&["1 can"], "3 pound"));
    }
}
