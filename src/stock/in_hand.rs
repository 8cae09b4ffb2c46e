//! What may be the thing in hand: what is in the house, with how it feels and its marks.
//!
//! Each question reads only what it needs: with thousands of things, everything of each would take too long.

use std::collections::BTreeMap;

use rusqlite::{Connection, params};

use super::by_feel::Candidate;
use super::facts::{self, ItemKind};
use super::feel::Feel;
use super::items;
use super::ledger::{parse_column, unreadable};
use super::lots::name_column;
use super::mark::Mark;
use super::names::{ItemName, Place};

/// All in the house of which it is known how it feels, or what marks it has. Places aren't looked up.
pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<Candidate>> {
    let mut words: BTreeMap<i64, BTreeMap<String, String>> = BTreeMap::new();
    let mut query =
        connection.prepare_cached("SELECT item, which, value FROM fact WHERE what = 'feel'")?;
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let of_item = words.entry(row.get(0)?).or_default();
        of_item.insert(row.get(1)?, row.get(2)?);
    }
    let mut marks: BTreeMap<i64, Vec<Mark>> = BTreeMap::new();
    let mut query = connection.prepare_cached(
        "SELECT item, mark FROM lot WHERE mark IS NOT NULL
         UNION SELECT item, mark FROM tag WHERE mark IS NOT NULL
         UNION SELECT item, mark FROM basket WHERE mark IS NOT NULL",
    )?;
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        let mark: String = row.get(1)?;
        marks.entry(id).or_default().push(parse_column(1, &mark)?);
        words.entry(id).or_default();
    }
    let mut candidates = Vec::with_capacity(words.len());
    for (id, words) in words {
        if let Some((item, medicine)) = in_the_house(connection, id)? {
            candidates.push(Candidate {
                item,
                feel: Feel::try_from(words).map_err(|e| unreadable(2, Box::new(e)))?,
                marks: marks.remove(&id).unwrap_or_default(),
                places: Vec::new(),
                medicine,
            });
        }
    }
    Ok(candidates)
}

/// The name of an item of which there is some, and whether it is a medicine.
fn in_the_house(connection: &Connection, id: i64) -> rusqlite::Result<Option<(ItemName, bool)>> {
    let mut query = connection.prepare_cached(
        "SELECT name, EXISTS (SELECT 1 FROM fact WHERE fact.item = item.id AND what = 'kind'
             AND which = '' AND value = 'medicine')
         FROM item WHERE id = ?1 AND (
             EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id)
             OR EXISTS (SELECT 1 FROM tag WHERE tag.item = item.id)
             OR EXISTS (SELECT 1 FROM basket WHERE basket.item = item.id))",
    )?;
    let mut rows = query.query([id])?;
    match rows.next()? {
        None => Ok(None),
        Some(row) => {
            let name: String = row.get(0)?;
            Ok(Some((name_column(0, &name, ItemName::new)?, row.get(1)?)))
        }
    }
}

/// One item as it may be in hand.
pub(super) fn one(connection: &Connection, item: &ItemName) -> rusqlite::Result<Candidate> {
    let facts = facts::of_item(connection, item)?;
    let mut marks = Vec::new();
    if let Some(id) = items::find(connection, item)? {
        let mut query = connection.prepare_cached(
            "SELECT mark FROM lot WHERE item = ?1 AND mark IS NOT NULL
             UNION SELECT mark FROM tag WHERE item = ?1 AND mark IS NOT NULL
             UNION SELECT mark FROM basket WHERE item = ?1 AND mark IS NOT NULL",
        )?;
        let mut rows = query.query([id])?;
        while let Some(row) = rows.next()? {
            let mark: String = row.get(0)?;
            marks.push(parse_column(0, &mark)?);
        }
    }
    Ok(Candidate {
        item: item.clone(),
        feel: facts.feel,
        marks,
        places: Vec::new(),
        medicine: facts.kind == ItemKind::Medicine,
    })
}

/// What lies in a place in the same sort of container as a thing, or with one of its marks: what it might be taken for.
pub(super) fn beside(
    connection: &Connection,
    new: &Candidate,
    place: &Place,
) -> rusqlite::Result<Vec<Candidate>> {
    let mut names: Vec<String> = Vec::new();
    if let Some(container) = new.feel.container {
        let mut query = connection.prepare_cached(
            "SELECT name FROM fact JOIN item ON item.id = fact.item
             WHERE what = 'feel' AND which = 'container' AND value = ?1 AND EXISTS (
                 SELECT 1 FROM lot WHERE lot.item = fact.item AND place = ?2)",
        )?;
        let found = query.query_map(params![container.name(), place.as_str()], |row| row.get(0))?;
        names.extend(found.collect::<rusqlite::Result<Vec<_>>>()?);
    }
    for mark in &new.marks {
        let mut query = connection.prepare_cached(
            "SELECT DISTINCT name FROM lot JOIN item ON item.id = lot.item
             WHERE mark = ?1 AND place = ?2",
        )?;
        let found = query.query_map(params![mark.to_string(), place.as_str()], |row| row.get(0))?;
        names.extend(found.collect::<rusqlite::Result<Vec<_>>>()?);
    }
    names.sort_unstable();
    names.dedup();
    names.retain(|name| *name != new.item.as_str());
    let names = names.iter().map(|name| name_column(0, name, ItemName::new));
    names.map(|name| one(connection, &name?)).collect()
}
