//! The trip to the store: what is bought on it, and what waits to be put away.

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{Connection, OptionalExtension, Params, params};

use super::columns::{parse_column, time_text};
use super::error::Refusal;
use super::event::Dates;
use super::ledger::Fault;
use super::list::{self, Why};
use super::lots::{self, name_column};
use super::mark::Mark;
use super::names::{ItemName, Place, TagNumber};
use super::outcome::Outcome;
use super::{amounts, facts, items, pool, running_out, tags};
use crate::measure::Quantity;

/// A thing that has no place yet: on its way home, or waiting to be put away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// What it is.
    pub item: ItemName,
    /// How much, if that was said.
    pub quantity: Option<Quantity>,
    /// Its temporary tag.
    pub tag: Option<TagNumber>,
    /// Its touch mark.
    pub mark: Option<Mark>,
    /// The dates read out.
    pub dates: Dates,
}

/// The number of the trip that is on.
pub(super) fn current(connection: &Connection) -> rusqlite::Result<Option<i64>> {
    let mut query =
        connection.prepare_cached("SELECT id FROM trip WHERE home IS NULL ORDER BY id DESC")?;
    query.query_row([], |row| row.get(0)).optional()
}

pub(super) fn begin(connection: &Connection, at: NaiveDateTime) -> Result<Outcome, Fault> {
    if current(connection)?.is_some() {
        return Err(Refusal::OnTrip.into());
    }
    let begin = "INSERT INTO trip (began) VALUES (?1)";
    connection.execute(begin, [time_text(at)])?;
    running_out::list_all(connection, at)?;
    Ok(Outcome::TripBegun {
        lines: list::lines(connection)?.len(),
        running_out: list::count_of(connection, Why::RunningOut)?,
        worn: pool::worn(connection)?,
    })
}

/// The days on which the last trips began, so many at most, the newest first.
pub(super) fn days(connection: &Connection, at_most: u32) -> rusqlite::Result<Vec<NaiveDate>> {
    let mut query =
        connection.prepare_cached("SELECT began FROM trip ORDER BY id DESC LIMIT ?1")?;
    let days = query.query_map([at_most], |row| {
        let began: String = row.get(0)?;
        Ok(parse_column::<NaiveDateTime>(0, &began)?.date())
    })?;
    days.collect()
}

pub(super) fn come_home(connection: &Connection, at: NaiveDateTime) -> Result<Outcome, Fault> {
    let trip = current(connection)?.ok_or(Refusal::NotOnTrip)?;
    let home = "UPDATE trip SET home = ?2 WHERE id = ?1";
    connection.execute(home, params![trip, time_text(at)])?;
    pool::lay_down(connection)?;
    running_out::allow_all_again(connection)?;
    Ok(Outcome::CameHome {
        waiting: waiting(connection)?.len(),
        still_listed: list::lines(connection)?.len(),
        worn: pool::worn(connection)?,
    })
}

/// What has no place yet, what has a temporary tag first.
pub(super) fn waiting(connection: &Connection) -> rusqlite::Result<Vec<Waiting>> {
    let mut waiting: Vec<Waiting> = tags::all(connection)?
        .into_iter()
        .map(|tag| Waiting {
            item: tag.item,
            quantity: tag.quantity,
            tag: Some(tag.number),
            mark: tag.mark,
            dates: tag.dates,
        })
        .collect();
    let mut query = connection.prepare_cached(
        "SELECT name, quantity, mark FROM basket JOIN item ON item.id = basket.item
         ORDER BY basket.item",
    )?;
    let basket = query.query_map([], |row| {
        let (item, quantity) = lots::name_and_quantity(row)?;
        let mark: Option<String> = row.get(2)?;
        Ok(Waiting {
            item,
            quantity,
            tag: None,
            mark: mark.map(|text| parse_column(2, &text)).transpose()?,
            dates: Dates::default(),
        })
    })?;
    for thing in basket {
        waiting.push(thing?);
    }
    Ok(waiting)
}

/// Whether some of an item has no place yet.
pub(super) fn waits(connection: &Connection, item: &ItemName) -> rusqlite::Result<bool> {
    let mut query = connection.prepare_cached(
        "SELECT 1 FROM item WHERE name = ?1 AND (
             EXISTS (SELECT 1 FROM tag WHERE tag.item = item.id)
             OR EXISTS (SELECT 1 FROM basket WHERE basket.item = item.id))",
    )?;
    query.exists([item.as_str()])
}

/// Something is in the basket, so much of it if that was said. On a trip it is remembered until it is put away.
pub(super) fn got(
    connection: &Connection,
    item: &ItemName,
    said: Option<&Quantity>,
    instead_of: Option<&ItemName>,
) -> Result<Outcome, Fault> {
    let Some(trip) = current(connection)? else {
        return buy_at_home(connection, item, said, instead_of);
    };
    let listed = instead_of.unwrap_or(item);
    let line = list::line_of(connection, listed)?;
    let is_worn = pool::worn(connection)?
        .iter()
        .any(|(_, item)| item == listed);
    if instead_of.is_some() && line.is_none() && !is_worn {
        let item = listed.clone();
        return Err(Refusal::NotListed { item }.into());
    }
    let id = items::find_or_make(connection, item)?;
    let wanted = line.as_ref().and_then(|line| line.quantity.as_ref());
    let quantity = said.or(wanted).cloned();
    // What was tagged in the aisle waits by its tag. A tag from another trip is on another thing.
    let is_tagged = tags::is_on(connection, id)? && is_bought(connection, trip, id)?;
    note_bought(connection, trip, id, quantity.as_ref(), false)?;
    if !is_tagged {
        let before = "SELECT quantity FROM basket WHERE item = ?1";
        let all = with_before(connection, before, params![id], quantity.as_ref())?;
        let put = "INSERT INTO basket (item, quantity) VALUES (?1, ?2)
            ON CONFLICT (item) DO UPDATE SET quantity = excluded.quantity";
        connection.execute(put, params![id, all.map(|all| all.to_string())])?;
    }
    if let Some(other) = items::find(connection, listed)?.filter(|other| *other != id) {
        list::delete(connection, other)?;
        pool::heed(connection, other)?;
    }
    let still = list::buy(connection, id, said)?.flatten();
    pool::heed(connection, id)?;
    Ok(Outcome::Got {
        item: item.clone(),
        quantity,
        instead_of: instead_of.cloned(),
        was_listed: line.is_some() || is_worn,
        still,
        left: list::wanted(connection)?.len(),
    })
}

/// What is said to be bought while no trip is on. Neither it nor what it stands for is to be bought any more.
fn buy_at_home(
    connection: &Connection,
    item: &ItemName,
    said: Option<&Quantity>,
    instead_of: Option<&ItemName>,
) -> Result<Outcome, Fault> {
    let listed = instead_of.unwrap_or(item);
    let wanted = list::line_of(connection, listed)?.and_then(|line| line.quantity);
    if let (Some(said), Some(wanted)) = (said, wanted)
        && let Some(Some(rest)) = amounts::minus(&wanted, said)
        && rest.is_positive()
        && let Some(id) = items::find(connection, listed)?
    {
        list::buy(connection, id, Some(said))?;
        return Ok(Outcome::Listed {
            item: item.clone(),
            quantity: Some(rest),
            before: Some(wanted),
        });
    }
    if item != listed
        && let Some(id) = items::find(connection, item)?
    {
        list::take_off(connection, id)?;
        pool::heed(connection, id)?;
    }
    let worn = match items::find(connection, listed)? {
        Some(id) => pool::heed(connection, id)?,
        None => false,
    };
    match list::remove(connection, listed) {
        Err(Fault::Refused(Refusal::NotListed { .. })) if worn => Ok(Outcome::OffList {
            item: item.clone(),
            left: list::lines(connection)?.len(),
        }),
        other => other,
    }
}

/// What was bought on a trip: "what did I buy last time?" What is noted of the same thing once more, as its tag is
/// dictated, takes the place of what was; anything else comes to it.
pub(super) fn note_bought(
    connection: &Connection,
    trip: i64,
    item: i64,
    quantity: Option<&Quantity>,
    is_the_same: bool,
) -> rusqlite::Result<()> {
    let all = match quantity {
        Some(quantity) if is_the_same => Some(quantity.clone()),
        _ => {
            let before = "SELECT quantity FROM bought WHERE trip = ?1 AND item = ?2";
            with_before(connection, before, params![trip, item], quantity)?
        }
    };
    let note = "INSERT INTO bought (trip, item, quantity) VALUES (?1, ?2, ?3)
        ON CONFLICT (trip, item) DO UPDATE SET quantity = excluded.quantity";
    connection.execute(note, params![trip, item, all.map(|all| all.to_string())])?;
    Ok(())
}

/// A quantity with the one that a query finds noted before. Where they can't be added, the new one; where one isn't known,
/// the other.
fn with_before(
    connection: &Connection,
    query: &str,
    of: impl Params,
    new: Option<&Quantity>,
) -> rusqlite::Result<Option<Quantity>> {
    let before = connection.query_row(query, of, |row| row.get::<_, Option<String>>(0));
    let before = before.optional()?.flatten();
    let before = before.map(|text| amounts::column(0, &text)).transpose()?;
    Ok(match (before, new) {
        (Some(before), Some(new)) => amounts::plus(&before, new).or_else(|| Some(new.clone())),
        (before, new) => new.cloned().or(before),
    })
}

/// Whether what is on the list of an item was left to get of it on the last trip on which some was bought: its line is no
/// newer than that.
pub(super) fn left_a_rest(connection: &Connection, item: i64) -> rusqlite::Result<bool> {
    let mut query = connection.prepare_cached(
        "SELECT 1 FROM list_line AS line, trip JOIN bought ON bought.trip = trip.id
         WHERE line.item = ?1 AND bought.item = ?1 AND line.quantity IS NOT NULL
             AND line.since <= trip.began AND trip.id = (SELECT max(trip) FROM bought WHERE item = ?1)",
    )?;
    query.exists([item])
}

/// Whether an item was bought on a trip.
pub(super) fn is_bought(connection: &Connection, trip: i64, item: i64) -> rusqlite::Result<bool> {
    let mut query =
        connection.prepare_cached("SELECT 1 FROM bought WHERE trip = ?1 AND item = ?2")?;
    query.exists([trip, item])
}

/// When the last trip that is over began, and what was bought on it.
pub type LastTrip = (NaiveDateTime, Vec<(ItemName, Option<Quantity>)>);

pub(super) fn last(connection: &Connection) -> rusqlite::Result<Option<LastTrip>> {
    let mut query = connection
        .prepare_cached("SELECT id, began FROM trip WHERE home IS NOT NULL ORDER BY id DESC")?;
    let trip = query.query_row([], |row| {
        let began: String = row.get(1)?;
        Ok((row.get::<_, i64>(0)?, parse_column(1, &began)?))
    });
    let Some((trip, began)) = trip.optional()? else {
        return Ok(None);
    };
    let mut query = connection.prepare_cached(
        "SELECT name, quantity FROM bought JOIN item ON item.id = bought.item WHERE trip = ?1
         ORDER BY name",
    )?;
    let things = query.query_map([trip], lots::name_and_quantity)?;
    Ok(Some((began, things.collect::<Result<_, _>>()?)))
}

/// The store has none of it. The line waits for the next trip.
pub(super) fn none_there(connection: &Connection, item: &ItemName) -> Result<Outcome, Fault> {
    let trip = current(connection)?.ok_or(Refusal::NotOnTrip)?;
    let skip = "UPDATE list_line SET missing = ?2
        WHERE item = (SELECT id FROM item WHERE name = ?1)";
    if connection.execute(skip, params![item.as_str(), trip])? == 0 {
        return Err(Refusal::NotListed { item: item.clone() }.into());
    }
    Ok(Outcome::NoneThere {
        item: item.clone(),
        left: list::wanted(connection)?.len(),
    })
}

/// A touch mark is put on what is on its way home, or else on what is there. Identical things share it; different
/// ones that lie together don't.
pub(super) fn mark(
    connection: &Connection,
    item: &ItemName,
    mark: &Mark,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    if let Some((item, mark)) = marked_so(connection, id, *mark)? {
        return Err(Refusal::MarkTaken { mark, item }.into());
    }
    let text = mark.to_string();
    let set = |table: &str| {
        let set = format!("UPDATE {table} SET mark = ?2 WHERE item = ?1");
        connection.execute(&set, params![id, text])
    };
    let on_its_way = set("tag")? + set("basket")?;
    if on_its_way == 0 && current(connection)?.is_some() {
        // Marked in the aisle: so it is in the basket.
        got(connection, item, None, None)?;
        facts::note_new_pack(connection, item)?;
        set("basket")?;
    } else if on_its_way == 0 && set("lot")? == 0 {
        return Err(Refusal::NoneLeft { item: item.clone() }.into());
    }
    Ok(Outcome::Marked {
        item: item.clone(),
        mark: *mark,
    })
}

/// The marks come off, wherever it is.
pub(super) fn unmark(connection: &Connection, item: &ItemName) -> Result<Outcome, Fault> {
    let mut marked = 0;
    if let Some(id) = items::find(connection, item)? {
        for table in ["tag", "basket", "lot"] {
            let off =
                format!("UPDATE {table} SET mark = NULL WHERE item = ?1 AND mark IS NOT NULL");
            marked += connection.execute(&off, [id])?;
        }
    }
    match marked {
        0 => Err(Refusal::NoneLeft { item: item.clone() }.into()),
        _ => Ok(Outcome::Unmarked { item: item.clone() }),
    }
}

/// Another item with a mark that a hand may take for this one, where the two can meet: on its way home, or in the same
/// place. A medicine shares its mark with nothing, wherever it is.
fn marked_so(
    connection: &Connection,
    item: i64,
    mark: Mark,
) -> rusqlite::Result<Option<(ItemName, Mark)>> {
    let mut query = connection.prepare_cached(
        "WITH marked AS (
            SELECT item, mark FROM basket
            UNION ALL SELECT item, mark FROM tag
            UNION ALL SELECT item, mark FROM lot WHERE
                EXISTS (SELECT 1 FROM lot AS mine WHERE mine.item = ?1 AND mine.place IS lot.place)
                OR EXISTS (SELECT 1 FROM fact WHERE fact.item IN (?1, lot.item) AND what = 'kind'
                    AND value = 'medicine'))
         SELECT name FROM marked JOIN item ON item.id = marked.item
         WHERE mark = ?2 AND item.id <> ?1 ORDER BY name LIMIT 1",
    )?;
    for mark in mark.taken_for() {
        let found = query.query_row(params![item, mark.to_string()], |row| {
            let name: String = row.get(0)?;
            name_column(0, &name, ItemName::new)
        });
        if let Some(name) = found.optional()? {
            return Ok(Some((name, mark)));
        }
    }
    Ok(None)
}

/// A thing without a temporary tag gets its place.
pub(super) fn stow(
    connection: &Connection,
    item: &ItemName,
    place: &Place,
    unsure: bool,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let thing = waiting(connection)?
        .into_iter()
        .find(|thing| thing.item == *item && thing.tag.is_none());
    let Some(thing) = thing else {
        return Err(Refusal::NothingWaiting { item: item.clone() }.into());
    };
    let remove = "DELETE FROM basket WHERE item = (SELECT id FROM item WHERE name = ?1)";
    connection.execute(remove, [item.as_str()])?;
    let quantity = thing.quantity.as_ref();
    let outcome = lots::put_in(
        connection,
        item,
        quantity,
        Some(place),
        &thing.dates,
        true,
        at,
    )?;
    lots::note(connection, outcome, thing.mark.as_ref(), unsure)
}
