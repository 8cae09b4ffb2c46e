//! The tags as a pool: each is free, in hand, on an item, spent or lost, and never on two things.
//!
//! A temporary tag that is free, or is in use, needs no line here but for its code: it is told of by its number alone.

use rusqlite::{Connection, OptionalExtension, params};

use super::choice::Choice;
use super::columns::unreadable;
use super::error::Refusal;
use super::ledger::Fault;
use super::lots::{self, Lot, name_column};
use super::names::{Code, ItemName, TagNumber};
use super::outcome::Outcome;
use super::{facts, items, tags};

/// What a tag is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TagKind {
    /// The bare facts, from the store to the shelf.
    Temporary,
    /// The full facts, while the thing is in the house.
    Kitchen,
    /// Worn to the store, for what is seldom bought.
    Reminder,
}

impl TagKind {
    const ALL: [Self; 3] = [Self::Temporary, Self::Kitchen, Self::Reminder];

    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Temporary => "temporary",
            Self::Kitchen => "kitchen",
            Self::Reminder => "reminder",
        }
    }
}

/// Where a tag is in its round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TagState {
    /// In the pool.
    Free,
    /// Taken along to the store.
    InHand,
    /// On a thing, or worn for it.
    On(ItemName),
    /// Off a thing that is gone, and not read since.
    Spent(ItemName),
    /// Nobody knows where.
    Lost,
}

/// A tag that was spoken of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PoolTag {
    /// Its number.
    pub number: TagNumber,
    /// What it is for.
    pub kind: TagKind,
    /// Where it is in its round.
    pub state: TagState,
}

/// The tag with a number, if it was ever spoken of.
pub(super) fn find(
    connection: &Connection,
    number: TagNumber,
) -> rusqlite::Result<Option<PoolTag>> {
    if let Some(tag) = tags::find(connection, number)? {
        return Ok(Some(PoolTag {
            number,
            kind: TagKind::Temporary,
            state: TagState::On(tag.item),
        }));
    }
    let mut query = connection.prepare_cached(
        "SELECT kind, state, name FROM pool LEFT JOIN item ON item.id = pool.item
         WHERE number = ?1",
    )?;
    let found = query.query_row([number.0], |row| {
        let (kind, state): (String, String) = (row.get(0)?, row.get(1)?);
        let name: Option<String> = row.get(2)?;
        let item = name.map(|name| name_column(2, &name, ItemName::new));
        let kind = TagKind::ALL.into_iter().find(|known| known.name() == kind);
        let state = match (state.as_str(), item.transpose()?) {
            ("on", Some(item)) => TagState::On(item),
            ("spent", Some(item)) => TagState::Spent(item),
            ("in-hand", _) => TagState::InHand,
            ("lost", _) => TagState::Lost,
            _ => TagState::Free,
        };
        Ok(PoolTag {
            number,
            kind: kind.ok_or_else(|| unreadable(0, "no kind of tag".into()))?,
            state,
        })
    });
    found.optional()
}

/// What every tag that is remembered is doing, by number.
pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<PoolTag>> {
    let mut query = connection
        .prepare_cached("SELECT number FROM pool UNION SELECT number FROM tag ORDER BY 1")?;
    let numbers = query.query_map([], |row| row.get(0).map(TagNumber))?;
    let numbers = numbers.collect::<rusqlite::Result<Vec<_>>>()?;
    let found = numbers.into_iter().map(|number| find(connection, number));
    found.filter_map(Result::transpose).collect()
}

/// A tag that can be put on something now, as one of this kind. A tag that is lost is found by that.
fn take(connection: &Connection, number: TagNumber, kind: TagKind) -> Result<(), Fault> {
    let Some(tag) = find(connection, number)? else {
        return Ok(());
    };
    if let TagState::On(item) = tag.state {
        return Err(Refusal::TagInUse { tag: number, item }.into());
    }
    if tag.kind != kind {
        let is = tag.kind;
        return Err(Refusal::OtherTag { tag: number, is }.into());
    }
    Ok(())
}

fn set(
    connection: &Connection,
    number: TagNumber,
    kind: TagKind,
    state: &str,
    item: Option<i64>,
    lot: Option<i64>,
) -> rusqlite::Result<()> {
    let set = "INSERT INTO pool (number, kind, state, item, lot) VALUES (?1, ?2, ?3, ?4, ?5)
        ON CONFLICT (number) DO UPDATE SET kind = excluded.kind, state = excluded.state,
            item = excluded.item, lot = excluded.lot";
    connection.execute(set, params![number.0, kind.name(), state, item, lot])?;
    Ok(())
}

/// Puts a kitchen tag on what came in last of an item, of what is meant, and has none.
pub(super) fn put_on(
    connection: &Connection,
    item: &ItemName,
    number: TagNumber,
    of: &Choice,
) -> Result<Outcome, Fault> {
    take(connection, number, TagKind::Kitchen)?;
    let all = lots::of_item(connection, item)?;
    let all = match all.is_empty() {
        true => all,
        false => of.of(item, all)?,
    };
    let bare = all.iter().filter(|lot| lot.tag.is_none());
    let Some(mut lot) = bare.max_by_key(|lot| lot.id).cloned() else {
        let item = item.clone();
        return Err(match all.first().and_then(|lot| lot.tag) {
            Some(tag) => Refusal::AllTagged { item, tag }.into(),
            None => Refusal::NoneLeft { item }.into(),
        });
    };
    let id = items::find_or_make(connection, item)?;
    set(
        connection,
        number,
        TagKind::Kitchen,
        "on",
        Some(id),
        Some(lot.id),
    )?;
    lot.tag = Some(number);
    let facts = facts::of_item(connection, item)?;
    Ok(Outcome::KitchenTagged {
        tag: number,
        lot,
        facts: Box::new(facts),
    })
}

/// A reminder tag is worn for an item.
pub(super) fn remind(
    connection: &Connection,
    item: &ItemName,
    number: TagNumber,
) -> Result<Outcome, Fault> {
    take(connection, number, TagKind::Reminder)?;
    let id = items::find_or_make(connection, item)?;
    set(connection, number, TagKind::Reminder, "on", Some(id), None)?;
    Ok(Outcome::Reminded {
        item: item.clone(),
        tag: number,
    })
}

/// What the worn reminder tags are for, by number.
pub(super) fn worn(connection: &Connection) -> rusqlite::Result<Vec<(TagNumber, ItemName)>> {
    let mut query = connection.prepare_cached(
        "SELECT number, name FROM pool JOIN item ON item.id = pool.item
         WHERE kind = 'reminder' AND state = 'on' ORDER BY number",
    )?;
    let rows = query.query_map([], |row| {
        let name: String = row.get(1)?;
        Ok((
            TagNumber(row.get(0)?),
            name_column(1, &name, ItemName::new)?,
        ))
    })?;
    rows.collect()
}

/// What a reminder is for is bought. Says whether one was worn.
pub(super) fn heed(connection: &Connection, item: i64) -> rusqlite::Result<bool> {
    set_free(connection, "kind = 'reminder' AND item = ?1", item)
}

/// Temporary tags are taken along; these are given out first.
pub(super) fn take_along(
    connection: &Connection,
    first: TagNumber,
    last: TagNumber,
) -> Result<Outcome, Fault> {
    let mut taken = Vec::new();
    // A range is said of tags that a hand can hold.
    for number in (first.0..=last.0).take(MOST_IN_HAND).map(TagNumber) {
        match find(connection, number)? {
            Some(tag) if tag.kind != TagKind::Temporary => continue,
            Some(PoolTag {
                state: TagState::On(_),
                ..
            }) => continue,
            _ => {
                set(
                    connection,
                    number,
                    TagKind::Temporary,
                    "in-hand",
                    None,
                    None,
                )?;
                taken.push(number);
            }
        }
    }
    if taken.is_empty() {
        return Err(Refusal::NoneToTake { first, last }.into());
    }
    let asked = (last.0 - first.0) as usize;
    Ok(Outcome::TagsTaken {
        tags: taken,
        is_cut: asked >= MOST_IN_HAND,
    })
}

/// At most so many tags are taken along in one go. A pouch holds more than anybody tags on a trip; and a number that was
/// misheard ("to five thousand") would fill the pool with tags that nobody has. Who does have more says it twice.
const MOST_IN_HAND: usize = 50;

/// Tags that weren't needed are free again once the person is home.
pub(super) fn lay_down(connection: &Connection) -> rusqlite::Result<()> {
    let mut query = connection.prepare("SELECT number FROM pool WHERE state = 'in-hand'")?;
    let in_hand = query.query_map([], |row| row.get(0).map(TagNumber))?;
    for number in in_hand.collect::<rusqlite::Result<Vec<_>>>()? {
        forget(connection, number)?;
    }
    Ok(())
}

/// A temporary tag is in use, or free: nothing is remembered of it but its code.
pub(super) fn forget(connection: &Connection, number: TagNumber) -> rusqlite::Result<()> {
    let delete = "DELETE FROM pool WHERE number = ?1 AND code IS NULL";
    connection.execute(delete, [number.0])?;
    free(connection, number)
}

/// A tag can't be found. What it was on is still there.
pub(super) fn lose(connection: &Connection, number: TagNumber) -> Result<Outcome, Fault> {
    let tag = find(connection, number)?.ok_or(Refusal::NoSuchTag(number))?;
    let was_on = match (tag.kind, tag.state) {
        // What it said must be said again, and until then there would be no trace of the thing.
        (TagKind::Temporary, TagState::On(item)) => {
            return Err(Refusal::TagInUse { tag: number, item }.into());
        }
        (_, TagState::On(item)) => Some(item),
        (_, TagState::Lost) => return Err(Refusal::TagIsLost(number).into()),
        _ => None,
    };
    set(connection, number, tag.kind, "lost", None, None)?;
    Ok(Outcome::TagLost {
        tag: number,
        was_on,
    })
}

/// A tag is there again.
pub(super) fn find_again(connection: &Connection, number: TagNumber) -> Result<Outcome, Fault> {
    match find(connection, number)? {
        Some(tag) if tag.state == TagState::Lost => {
            set(connection, number, tag.kind, "free", None, None)?;
            Ok(Outcome::TagFound(number))
        }
        Some(_) => Err(Refusal::TagNotLost(number).into()),
        None => Err(Refusal::NoSuchTag(number).into()),
    }
}

/// What a kitchen tag is on has gone.
pub(super) fn come_off(connection: &Connection, lot: i64) -> rusqlite::Result<()> {
    let off = "UPDATE pool SET state = 'spent', lot = NULL WHERE lot = ?1";
    connection.execute(off, [lot])?;
    Ok(())
}

/// A tag is read, and free again.
pub(super) fn free(connection: &Connection, number: TagNumber) -> rusqlite::Result<()> {
    set_free(connection, "number = ?1", number.0.into())?;
    Ok(())
}

/// The spent tags of an item are read, and free again.
pub(super) fn free_spent(connection: &Connection, item: i64) -> rusqlite::Result<()> {
    set_free(connection, "item = ?1 AND state = 'spent'", item)?;
    Ok(())
}

/// Frees the tags of which a condition holds; its one value is a number or an item. Says whether there was one.
fn set_free(
    connection: &Connection,
    condition: &'static str,
    value: i64,
) -> rusqlite::Result<bool> {
    let free = format!("UPDATE pool SET state = 'free', item = NULL WHERE {condition}");
    Ok(connection.execute(&free, [value])? > 0)
}

/// The lot that a kitchen tag is on.
pub(super) fn lot_of(connection: &Connection, number: TagNumber) -> Result<Option<Lot>, Fault> {
    let Some(PoolTag {
        state: TagState::On(item),
        ..
    }) = find(connection, number)?
    else {
        return Ok(None);
    };
    let mut lots = lots::of_item(connection, &item)?;
    lots.retain(|lot| lot.tag == Some(number));
    Ok(lots.pop())
}

/// Notes what a scanner reads off a tag.
pub(super) fn code(
    connection: &Connection,
    number: TagNumber,
    code: &Code,
) -> Result<Outcome, Fault> {
    if let Some(known) = super::codes::find(connection, code)? {
        return Err(Refusal::CodeTaken { known }.into());
    }
    // One that nobody spoke of is for the kitchen: temporary tags go by their numbers.
    let kind = find(connection, number)?.map_or(TagKind::Kitchen, |tag| tag.kind);
    let note = "INSERT INTO pool (number, kind, state, code) VALUES (?1, ?2, 'free', ?3)
        ON CONFLICT (number) DO UPDATE SET code = excluded.code";
    connection.execute(note, params![number.0, kind.name(), code.as_str()])?;
    Ok(Outcome::TagCoded(number))
}
