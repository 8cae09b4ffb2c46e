//! Spent tags: read one after another, each takes what it was on off the shelf and puts it on the list.

use chrono::NaiveDateTime;
use rusqlite::Connection;

use super::choice::Choice;
use super::error::Refusal;
use super::ledger::Fault;
use super::list::{self, Why};
use super::lots;
use super::names::{ItemName, TagNumber};
use super::outcome::Outcome;
use super::pool::{self, TagKind, TagState};
use super::{items, tags, used};

/// A tag was read that was on something: that is gone, and the tag is free.
pub(super) fn tag(
    connection: &Connection,
    number: TagNumber,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let tag = pool::find(connection, number)?.ok_or(Refusal::NoSuchTag(number))?;
    let item = match (tag.kind, tag.state) {
        (TagKind::Temporary, TagState::On(item)) => {
            let quantity = tags::find(connection, number)?.and_then(|tag| tag.quantity);
            used::note(connection, &item, quantity.as_ref(), at)?;
            tags::delete(connection, number)?;
            item
        }
        (TagKind::Kitchen, TagState::On(item)) => {
            if let Some(lot) = pool::lot_of(connection, number)? {
                used::note(connection, &item, lot.quantity.as_ref(), at)?;
                lots::delete(connection, lot.id)?;
            }
            item
        }
        (_, TagState::Spent(item)) => item,
        (TagKind::Reminder, TagState::On(_)) => {
            let is = TagKind::Reminder;
            return Err(Refusal::OtherTag { tag: number, is }.into());
        }
        (_, TagState::Lost) => return Err(Refusal::TagIsLost(number).into()),
        (_, TagState::Free | TagState::InHand) => return Err(Refusal::TagOnNothing(number).into()),
    };
    let id = items::find_or_make(connection, &item)?;
    pool::free(connection, number)?;
    let was_listed = !list::insert(connection, id, None, Why::UsedUp, at)?;
    Ok(Outcome::TagSpent {
        tag: number,
        left: lots::of_item(connection, &item)?,
        item,
        was_listed,
    })
}

/// The same of an item whose tag is named by its name.
pub(super) fn item(
    connection: &Connection,
    item: &ItemName,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let outcome = lots::use_up(connection, item, &Choice::default(), at)?;
    let id = items::find_or_make(connection, item)?;
    pool::free_spent(connection, id)?;
    Ok(outcome)
}
