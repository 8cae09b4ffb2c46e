//! Names that were learned by hearing: an item goes by how it was heard as well.

use rusqlite::{Connection, params};

use super::clocks;
use super::error::Refusal;
use super::items;
use super::ledger::Fault;
use super::lots::name_column;
use super::names::ItemName;
use super::outcome::Outcome;

/// An item, with the ways in which it was heard where its name wasn't recognised.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Learned {
    /// What it is called.
    pub item: ItemName,
    /// How it was heard, in the order of the alphabet.
    pub forms: Vec<ItemName>,
}

/// Notes how an item was heard. What is a name of something else already stays with that.
pub(super) fn hear(
    connection: &Connection,
    item: &ItemName,
    forms: &[ItemName],
) -> rusqlite::Result<()> {
    let id = items::find_or_make(connection, item)?;
    for form in forms {
        if items::find(connection, form)?.is_none() {
            let note = "INSERT OR IGNORE INTO heard_as (form, item) VALUES (?1, ?2)";
            connection.execute(note, params![form.as_str(), id])?;
        }
    }
    Ok(())
}

pub(super) fn forget(connection: &Connection, item: &ItemName) -> Result<Outcome, Fault> {
    let mut learned = all(connection)?;
    learned.retain(|learned| learned.item == *item);
    let Some(Learned { item, forms }) = learned.pop() else {
        return Err(Refusal::NothingLearned { item: item.clone() }.into());
    };
    let forget = "DELETE FROM heard_as WHERE item = (SELECT id FROM item WHERE name = ?1)";
    connection.execute(forget, [item.as_str()])?;
    Ok(Outcome::Forgotten { item, forms })
}

pub(super) fn rename(
    connection: &Connection,
    item: &ItemName,
    name: &ItemName,
) -> Result<Outcome, Fault> {
    let Some(id) = items::find(connection, item)? else {
        return Err(Refusal::NeverHad { item: item.clone() }.into());
    };
    if items::find(connection, name)?.is_some() {
        return Err(Refusal::NameTaken { name: name.clone() }.into());
    }
    // A name that is given counts for more than one that was heard.
    connection.execute("DELETE FROM heard_as WHERE form = ?1", [name.as_str()])?;
    let change = "UPDATE item SET name = ?2 WHERE id = ?1";
    connection.execute(change, params![id, name.as_str()])?;
    hear(connection, name, std::slice::from_ref(item))?;
    // What is published of it goes by its name.
    clocks::reckon(connection, name)?;
    Ok(Outcome::Renamed {
        item: item.clone(),
        name: name.clone(),
    })
}

pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<Learned>> {
    let mut query = connection.prepare_cached(
        "SELECT name, form FROM heard_as JOIN item ON item.id = heard_as.item ORDER BY name, form",
    )?;
    let mut rows = query.query([])?;
    let mut all: Vec<Learned> = Vec::new();
    while let Some(row) = rows.next()? {
        let name = |column| {
            let text: String = row.get(column)?;
            name_column(column, &text, ItemName::new)
        };
        let (item, form) = (name(0)?, name(1)?);
        match all.last_mut() {
            Some(learned) if learned.item == item => learned.forms.push(form),
            _ => all.push(Learned {
                item,
                forms: vec![form],
            }),
        }
    }
    Ok(all)
}
