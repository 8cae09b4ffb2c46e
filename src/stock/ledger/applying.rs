//! An event becomes rows: what it says, what follows from it, and its line in the ledger, in one transaction.

use chrono::NaiveDateTime;
use rusqlite::session::Session;
use rusqlite::{Transaction, params};

use super::Inner;
use super::told::take_back;
use crate::stock::columns::time_text;
use crate::stock::event::{Event, Source};
use crate::stock::outcome::Outcome;
use crate::stock::{
    amounts, clips, codes, facts, known, learned, life, list, lots, low, pace, pool, put_back,
    running_out, schema, sections, spent, tags, trip,
};

/// Applies an event, and adds it to the ledger with the changes it made.
pub(super) fn write(
    transaction: &Transaction<'_>,
    event: &Event,
    at: NaiveDateTime,
    source: Source,
) -> Inner<Outcome> {
    let mut session = Session::new(transaction)?;
    for table in schema::DERIVED {
        session.attach(Some(table))?;
    }
    let mut outcome = apply(transaction, event, at)?;
    if let Some(item) = event.brings_in() {
        facts::note_new_pack(transaction, item)?;
    }
    follow(transaction, &mut outcome, at)?;
    let mut changes = Vec::new();
    session.changeset_strm(&mut changes)?;
    drop(session);
    let body = serde_json::to_string(event)
        .map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
    let undoes = match event {
        Event::Undone { id } => Some(id),
        _ => None,
    };
    transaction.execute(
        "INSERT INTO event (at, source, body, undoes, changes) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![time_text(at), source.name(), body, undoes, changes],
    )?;
    Ok(outcome)
}

/// What follows from a change of what is there: what fell below its keep level is put on the list, it is reckoned again
/// when it runs out, and what was used and runs out before the next trip is put on the list as well.
fn follow(transaction: &Transaction<'_>, outcome: &mut Outcome, at: NaiveDateTime) -> Inner<()> {
    if let Some(item) = outcome.changed_lots_of().cloned() {
        let is_listed = low::list_if_low(transaction, &item, at)?;
        pace::look_ahead(transaction, &item, at.date())?;
        if matches!(outcome, Outcome::Used { .. } | Outcome::SomeGone { .. }) {
            running_out::list_if_soon(transaction, &item, at)?;
        }
        // What came in isn't enough: so it is on the list as before.
        if let (true, Outcome::CameIn { off_list, .. }) = (is_listed, outcome) {
            *off_list = false;
        }
    }
    Ok(())
}

fn apply(transaction: &Transaction<'_>, event: &Event, at: NaiveDateTime) -> Inner<Outcome> {
    match event {
        Event::PutIn {
            quantity: Some(quantity),
            ..
        }
        | Event::Listed {
            quantity: Some(quantity),
            ..
        }
        | Event::Got {
            quantity: Some(quantity),
            ..
        }
        | Event::Tagged {
            quantity: Some(quantity),
            ..
        } => amounts::require(quantity)?,
        Event::KeptAt { level, .. } => amounts::require_level(level)?,
        _ => {}
    }
    match event {
        Event::PutIn {
            item,
            quantity,
            place,
            dates,
        } => lots::put_in(
            transaction,
            item,
            quantity.as_ref(),
            place.as_ref(),
            dates,
            false,
            at,
        ),
        Event::PutAway { tag, place } => tags::put_away(transaction, *tag, place, at),
        Event::Changed {
            item,
            how,
            quantity,
            place,
            on,
            of,
        } => {
            let (quantity, place) = (quantity.as_ref(), place.as_ref());
            life::change(transaction, item, of, *how, quantity, place, *on)
        }
        Event::UsedUp { item, of } => lots::use_up(transaction, item, of, at),
        Event::Used { item, quantity, of } => lots::use_some(transaction, item, quantity, of, at),
        Event::Listed { item, quantity } => list::add(transaction, item, quantity.as_ref(), at),
        Event::Unlisted { item } => list::remove(transaction, item),
        Event::Got { item, quantity } => trip::got(transaction, item, quantity.as_ref(), None),
        Event::GotInstead { item, instead } => trip::got(transaction, instead, None, Some(item)),
        Event::NoneThere { item } => trip::none_there(transaction, item),
        Event::SectionPlaced { section, comes } => sections::place(transaction, section, comes),
        Event::StoreForgotten => sections::forget(transaction),
        Event::TripBegun => trip::begin(transaction, at),
        Event::CameHome => trip::come_home(transaction, at),
        Event::Marked { item, mark } => trip::mark(transaction, item, mark),
        Event::Unmarked { item } => trip::unmark(transaction, item),
        Event::Stowed {
            item,
            place,
            unsure,
        } => trip::stow(transaction, item, place, *unsure, at),
        Event::Dated {
            item,
            kind,
            date,
            of,
        } => known::date(transaction, item, *of, *kind, *date),
        Event::DateChanged { item, kind, date } => {
            known::change_date(transaction, item, *kind, *date)
        }
        Event::Counted {
            item,
            quantity,
            place,
        } => known::count(transaction, item, quantity, place.as_ref()),
        Event::Located { item, place } => known::locate(transaction, item, place),
        Event::MadeSure { item } => lots::make_sure(transaction, item),
        Event::PutBack { item } => put_back::put_back(transaction, item),
        Event::Described { item, fact } => facts::describe(transaction, item, fact),
        Event::Coded { item, code } => codes::learn(transaction, item, code),
        Event::TagCoded { tag, code } => pool::code(transaction, *tag, code),
        Event::KitchenTagged { item, tag, of } => pool::put_on(transaction, item, *tag, of),
        Event::Reminded { item, tag } => pool::remind(transaction, item, *tag),
        Event::TagsTaken { first, last } => pool::take_along(transaction, *first, *last),
        Event::TagLost { tag } => pool::lose(transaction, *tag),
        Event::TagFound { tag } => pool::find_again(transaction, *tag),
        Event::TagSpent { tag } => spent::tag(transaction, *tag, at),
        Event::Spent { item } => spent::item(transaction, item, at),
        Event::KeptAt { item, level } => low::keep(transaction, item, level),
        Event::Tagged {
            item,
            quantity,
            dates,
        } => tags::write(transaction, item, quantity.as_ref(), dates, at),
        Event::Heard { what, forms } => {
            let outcome = apply(transaction, what, at)?;
            if let Some(item) = what.item() {
                learned::hear(transaction, item, forms)?;
            }
            Ok(outcome)
        }
        Event::Unheard { item } => learned::forget(transaction, item),
        Event::Renamed { item, name } => learned::rename(transaction, item, name),
        Event::SoundsAllowed { keep } => clips::allow(transaction, *keep, at),
        Event::Undone { id } => take_back(transaction, *id),
    }
}
