//! Items: what a thing is, whether or not there is any of it.

use rusqlite::{Connection, OptionalExtension, params};

use super::lots::name_column;
use super::names::ItemName;

/// The number of an item that has been mentioned before.
pub(super) fn find(connection: &Connection, name: &ItemName) -> rusqlite::Result<Option<i64>> {
    let mut query = connection.prepare_cached("SELECT id FROM item WHERE name = ?1")?;
    query
        .query_row([name.as_str()], |row| row.get(0))
        .optional()
}

/// The number of an item, which is made at its first mention.
pub(super) fn find_or_make(connection: &Connection, name: &ItemName) -> rusqlite::Result<i64> {
    if let Some(id) = find(connection, name)? {
        return Ok(id);
    }
    connection.execute(
        "INSERT INTO item (name) VALUES (?1)",
        params![name.as_str()],
    )?;
    Ok(connection.last_insert_rowid())
}

/// The names of all items ever mentioned.
pub(super) fn names(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut query = connection.prepare_cached("SELECT name FROM item ORDER BY id")?;
    query.query_map([], |row| row.get(0))?.collect()
}

/// What there is, or is on its way, whose name ends in this one, and then whose name begins with it: of "onions", the red
/// onions; of "chicken", the chicken thighs.
pub(super) fn kinds_there(
    connection: &Connection,
    name: &ItemName,
) -> rusqlite::Result<Vec<ItemName>> {
    let mut query = connection.prepare_cached(
        "SELECT name FROM item WHERE (substr(name, -length(?1)) = ?1 OR substr(name, 1, length(?2)) = ?2)
             AND (EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id)
                 OR EXISTS (SELECT 1 FROM tag WHERE tag.item = item.id)
                 OR EXISTS (SELECT 1 FROM basket WHERE basket.item = item.id))
         ORDER BY substr(name, -length(?1)) != ?1, name",
    )?;
    let kinds = query.query_map([format!(" {name}"), format!("{name} ")], |row| {
        name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)
    })?;
    kinds.collect()
}
