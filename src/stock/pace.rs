//! When each item is likely to run out, kept as it changes: looking through all that was ever used at each question
//! would take too long.

use chrono::{Days, NaiveDate};
use rusqlite::{Connection, params};

use super::forecast::RunOut;
use super::lots::name_column;
use super::names::ItemName;
use super::{items, used};

/// An item that is likely to run out soon.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunningOut {
    /// What.
    pub item: ItemName,
    /// When, and how sure that is.
    pub when: RunOut,
}

/// Looks ahead again, after something was used or came in.
pub(super) fn look_ahead(
    connection: &Connection,
    item: &ItemName,
    today: NaiveDate,
) -> rusqlite::Result<()> {
    let Some(id) = items::find(connection, item)? else {
        return Ok(());
    };
    match used::run_out(connection, item, today)? {
        None => connection.execute("DELETE FROM pace WHERE item = ?1", [id])?,
        Some(RunOut { likely, .. }) => {
            let note = "INSERT INTO pace (item, likely) VALUES (?1, ?2)
                ON CONFLICT (item) DO UPDATE SET likely = excluded.likely";
            connection.execute(note, params![id, likely.to_string()])?
        }
    };
    Ok(())
}

/// How far ahead it is told that something runs out.
pub(super) const WEEK: Days = Days::new(7);

/// What is likely to run out within so many days, by name. Each is reckoned again for today: of what wasn't used for
/// long, nothing is told.
pub(super) fn within(
    connection: &Connection,
    ahead: Days,
    today: NaiveDate,
) -> rusqlite::Result<Vec<RunningOut>> {
    let last = today.checked_add_days(ahead).unwrap_or(today).to_string();
    let mut query = connection.prepare_cached(
        "SELECT name FROM pace JOIN item ON item.id = pace.item WHERE likely <= ?1 ORDER BY name",
    )?;
    let names = query.query_map([&last], |row| {
        let name: String = row.get(0)?;
        name_column(0, &name, ItemName::new)
    })?;
    let mut soon = Vec::new();
    for item in names {
        let item = item?;
        if let Some(when) = used::run_out(connection, &item, today)?
            && when.likely.to_string() <= last
        {
            soon.push(RunningOut { item, when });
        }
    }
    Ok(soon)
}
