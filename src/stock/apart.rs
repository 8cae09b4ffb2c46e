//! Medicines among food: what is told wherever the two could be taken for each other.

use std::sync::LazyLock;

use rusqlite::{Connection, params};

use super::lots::name_column;
use super::names::{ItemName, Place};
use crate::guide::{NotFood, things_not_food};

/// What is a medicine: it was said to be one, or is one by its name and wasn't said to be anything else.
static MEDICINE: LazyLock<String> = LazyLock::new(|| {
    let names = names_of(&[NotFood::Medicine]);
    format!(
        "(EXISTS (SELECT 1 FROM fact WHERE fact.item = item.id AND what = 'kind' AND value = 'medicine')
            OR name IN ({names})
                AND NOT EXISTS (SELECT 1 FROM fact WHERE fact.item = item.id AND what = 'kind'))"
    )
});

/// What is to be eaten: it was said to be food, or nothing else was said, and its name is of no other kind.
pub(super) static FOOD: LazyLock<String> = LazyLock::new(|| {
    let names = names_of(&[NotFood::Medicine, NotFood::Household]);
    format!(
        "NOT EXISTS (SELECT 1 FROM fact WHERE fact.item = item.id AND what = 'kind' AND value <> 'food')
            AND (item.name NOT IN ({names})
                OR EXISTS (SELECT 1 FROM fact WHERE fact.item = item.id AND what = 'kind'))"
    )
});

/// Names of the starter list, as the database reads them.
fn names_of(kinds: &[NotFood]) -> String {
    let names = kinds.iter().flat_map(|of| things_not_food(*of));
    let mut names: Vec<String> = names
        .map(|name| format!("'{}'", name.replace('\'', "''")))
        .collect();
    names.sort();
    names.join(", ")
}

/// All medicines, by name.
pub(super) fn medicines(connection: &Connection) -> rusqlite::Result<Vec<ItemName>> {
    let mut query = connection.prepare_cached(&format!(
        "SELECT name FROM item WHERE {} ORDER BY name",
        *MEDICINE
    ))?;
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
    let mut query = connection.prepare_cached(&format!(
        "SELECT name FROM item WHERE {}
             AND EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id AND place = ?1) ORDER BY name",
        *MEDICINE
    ))?;
    let rows = query.query_map([place.as_str()], |row| {
        name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)
    })?;
    rows.collect()
}

/// Whether there is food in a place.
pub(super) fn is_food_in(connection: &Connection, place: &Place) -> rusqlite::Result<bool> {
    let mut query = connection.prepare_cached(&format!(
        "SELECT 1 FROM lot JOIN item ON item.id = lot.item WHERE place = ?1 AND {} LIMIT 1",
        *FOOD
    ))?;
    query.exists(params![place.as_str()])
}
