//! Medicines among food: what is told wherever the two could be taken for each other.

use rusqlite::{Connection, params};

use super::lots::name_column;
use super::names::{ItemName, Place};

/// All medicines, by name.
pub(super) fn medicines(connection: &Connection) -> rusqlite::Result<Vec<ItemName>> {
    let mut query = connection.prepare_cached(
        "SELECT name FROM fact JOIN item ON item.id = fact.item
         WHERE what = 'kind' AND value = 'medicine' ORDER BY name",
    )?;
    let rows = query.query_map([], |row| {
        name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)
    })?;
    rows.collect()
}

/// The medicines in a place, by name.
pub(super) fn medicines_in(
    connection: &Connection,
    place: &Place,
) -> rusqlite::Result<Vec<ItemName>> {
    let mut query = connection.prepare_cached(
        "SELECT name FROM fact JOIN item ON item.id = fact.item
         WHERE what = 'kind' AND value = 'medicine'
             AND EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id AND place = ?1) ORDER BY name",
    )?;
    let rows = query.query_map([place.as_str()], |row| {
        name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)
    })?;
    rows.collect()
}

/// Whether there is food in a place.
pub(super) fn is_food_in(connection: &Connection, place: &Place) -> rusqlite::Result<bool> {
    let mut query = connection.prepare_cached(
        "SELECT 1 FROM lot WHERE place = ?1 AND NOT EXISTS (SELECT 1 FROM fact
             WHERE fact.item = lot.item AND what = 'kind' AND value <> 'food') LIMIT 1",
    )?;
    query.exists(params![place.as_str()])
}
