//! Medicines among food: what is told wherever the two could be taken for each other.

use std::sync::LazyLock;

use rusqlite::{Connection, params};

use super::facts::ItemKind;
use super::lots::name_column;
use super::names::{ItemName, Place};
use crate::guide::{NotFood, things_not_food};

/// The numbers of the medicines: they were said to be one, or are one by their name and weren't said to be anything else.
static MEDICINES: LazyLock<String> = LazyLock::new(|| items_of(&[NotFood::Medicine]));

/// The numbers of what is in the house and is neither food nor medicine.
pub(super) static HOUSEHOLD: LazyLock<String> = LazyLock::new(|| items_of(&[NotFood::Household]));

/// Whether an item is to be eaten: it was said to be food, or nothing else was said, and its name is of no other kind.
pub(super) static FOOD: LazyLock<String> = LazyLock::new(|| {
    let others = items_of(&[NotFood::Medicine, NotFood::Household]);
    format!("item.id NOT IN ({others})")
});

/// A query for the items of these kinds, which the database makes once for all that are looked at: a look at each of them takes
/// far longer.
fn items_of(kinds: &[NotFood]) -> String {
    let values = kinds.iter().map(|kind| ItemKind::from(*kind).name());
    let names = kinds.iter().flat_map(|of| things_not_food(*of));
    format!(
        "SELECT item FROM fact WHERE what = 'kind' AND value IN ({})
             UNION ALL SELECT id FROM item AS named WHERE name IN ({})
                 AND NOT EXISTS (SELECT 1 FROM fact WHERE fact.item = named.id AND what = 'kind')",
        quoted(values),
        quoted(names)
    )
}

/// Texts as the database reads them.
fn quoted(texts: impl Iterator<Item = &'static str>) -> String {
    let mut texts: Vec<String> = texts
        .map(|text| format!("'{}'", text.replace('\'', "''")))
        .collect();
    texts.sort();
    texts.join(", ")
}

/// All medicines, by name.
pub(super) fn medicines(connection: &Connection) -> rusqlite::Result<Vec<ItemName>> {
    let mut query = connection.prepare_cached(&format!(
        "SELECT name FROM item WHERE id IN ({}) ORDER BY name",
        *MEDICINES
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
        "SELECT name FROM item WHERE id IN ({})
             AND EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id AND place = ?1) ORDER BY name",
        *MEDICINES
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
