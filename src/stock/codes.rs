//! Codes that a scanner types: which item or tag each stands for.

use rusqlite::{Connection, OptionalExtension, params};

use super::error::Refusal;
use super::items;
use super::ledger::Fault;
use super::lots::name_column;
use super::names::{Code, ItemName, TagNumber};
use super::outcome::Outcome;
use crate::measure::Gtin;

/// What a code stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Coded {
    /// An item: it stands on its packs.
    Item(ItemName),
    /// A tag.
    Tag(TagNumber),
}

/// What a code stands for, if that was said of it in any length: with zeros before it, a bar code is the same number.
pub(super) fn find(connection: &Connection, code: &Code) -> rusqlite::Result<Option<Coded>> {
    for form in Gtin::lengths_of(code.as_str()) {
        if let Ok(form) = Code::new(&form)
            && let Some(coded) = find_exact(connection, &form)?
        {
            return Ok(Some(coded));
        }
    }
    find_exact(connection, code)
}

/// The same of a code in just this length.
fn find_exact(connection: &Connection, code: &Code) -> rusqlite::Result<Option<Coded>> {
    let mut query = connection.prepare_cached("SELECT number FROM pool WHERE code = ?1")?;
    let tag = query.query_row([code.as_str()], |row| row.get(0).map(TagNumber));
    if let Some(tag) = tag.optional()? {
        return Ok(Some(Coded::Tag(tag)));
    }
    let mut query = connection
        .prepare_cached("SELECT name FROM code JOIN item ON item.id = code.item WHERE code = ?1")?;
    let item = query.query_row([code.as_str()], |row| {
        let name: String = row.get(0)?;
        name_column(0, &name, ItemName::new)
    });
    Ok(item.optional()?.map(Coded::Item))
}

/// Notes that a code stands on packs of an item.
pub(super) fn learn(
    connection: &Connection,
    item: &ItemName,
    code: &Code,
) -> Result<Outcome, Fault> {
    if let Some(known) = find(connection, code)? {
        return Err(Refusal::CodeTaken { known }.into());
    }
    let id = items::find_or_make(connection, item)?;
    let note = "INSERT INTO code (code, item) VALUES (?1, ?2)";
    connection.execute(note, params![code.as_str(), id])?;
    Ok(Outcome::Coded { item: item.clone() })
}
