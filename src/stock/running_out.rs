//! What is likely to run out before the next trip goes onto the list by itself.
//!
//! That is looked at when some of it is used, and when a trip begins: each is an event, so that the same ledger gives the
//! same list, and no question changes what it asks about. What runs out before the next trip is to be bought on this one,
//! or on the one that comes first; so at home, too, one such stretch is looked ahead.

use chrono::{Days, NaiveDateTime};
use rusqlite::Connection;

use super::list::{self, Why};
use super::names::ItemName;
use super::{items, pace, trip, used};

/// From three trips on, the days between them tell when the next one is; before, it is taken to be in a week.
const FEWEST_TRIPS: usize = 3;

/// At most so many trips are looked at: habits change.
const MOST_TRIPS: u32 = 9;

/// Who tells of a trip but now and then goes more often than that.
const LONGEST: i64 = 28;

/// The days from one trip to the next: their median, and of the two in the middle the longer one, so that nothing is
/// missed.
fn to_next_trip(connection: &Connection) -> rusqlite::Result<Days> {
    let trips = trip::days(connection, MOST_TRIPS)?;
    if trips.len() < FEWEST_TRIPS {
        return Ok(pace::WEEK);
    }
    let between = trips.windows(2).map(|two| (two[0] - two[1]).num_days());
    let mut between: Vec<i64> = between.collect();
    between.sort_unstable();
    let median = between[between.len() / 2].clamp(1, LONGEST);
    Ok(Days::new(median.unsigned_abs()))
}

/// Puts all on the list that is likely to run out before the next trip. A trip begins, so that the next one is the one
/// after it.
pub(super) fn list_all(connection: &Connection, at: NaiveDateTime) -> rusqlite::Result<()> {
    let ahead = to_next_trip(connection)?;
    for soon in pace::within(connection, ahead, at.date())? {
        list_it(connection, &soon.item, at)?;
    }
    Ok(())
}

/// Puts an item on the list if it is likely to run out before the next trip.
pub(super) fn list_if_soon(
    connection: &Connection,
    item: &ItemName,
    at: NaiveDateTime,
) -> rusqlite::Result<()> {
    let Some(when) = used::run_out(connection, item, at.date())? else {
        return Ok(());
    };
    let last = at.date().checked_add_days(to_next_trip(connection)?);
    if last.is_some_and(|last| when.likely <= last) {
        list_it(connection, item, at)?;
    }
    Ok(())
}

/// Unless it is on its way into the house, or the person took it off.
fn list_it(connection: &Connection, item: &ItemName, at: NaiveDateTime) -> rusqlite::Result<()> {
    let Some(id) = items::find(connection, item)? else {
        return Ok(());
    };
    let mut kept_off = connection.prepare_cached("SELECT 1 FROM kept_off WHERE item = ?1")?;
    if !trip::waits(connection, item)? && !kept_off.exists([id])? {
        list::insert(connection, id, None, Why::RunningOut, at)?;
    }
    Ok(())
}

/// The person took an item off the list: it isn't wanted, or was bought and comes in later.
pub(super) fn keep_off(connection: &Connection, item: i64) -> rusqlite::Result<()> {
    let keep = "INSERT OR IGNORE INTO kept_off (item) VALUES (?1)";
    connection.execute(keep, [item])?;
    Ok(())
}

/// An item came in: what was said before was of what there was before.
pub(super) fn allow_again(connection: &Connection, item: i64) -> rusqlite::Result<()> {
    connection.execute("DELETE FROM kept_off WHERE item = ?1", [item])?;
    Ok(())
}

/// A trip is over: what was said before was of its list.
pub(super) fn allow_all_again(connection: &Connection) -> rusqlite::Result<()> {
    // With a condition: SQLite empties a table without looking at its rows, which would be missing in the changeset.
    connection.execute("DELETE FROM kept_off WHERE item IS NOT NULL", [])?;
    Ok(())
}
