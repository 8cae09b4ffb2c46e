//! What was used when: from it comes when an item runs out.

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{Connection, params};

use super::columns::parse_column;
use super::forecast::{self, RunOut, Use};
use super::names::ItemName;
use super::{amounts, items, lots};
use crate::measure::Quantity;

/// Notes a use. Of what nobody measured, only that there was one.
pub(super) fn note(
    connection: &Connection,
    item: &ItemName,
    quantity: Option<&Quantity>,
    at: NaiveDateTime,
) -> rusqlite::Result<()> {
    let id = items::find_or_make(connection, item)?;
    let quantity = quantity.map(Quantity::to_string);
    let note = "INSERT INTO used (item, day, quantity) VALUES (?1, ?2, ?3)";
    connection.execute(note, params![id, at.date().to_string(), quantity])?;
    Ok(())
}

/// At most so many uses are looked at: habits change.
const MOST_USES: u32 = 100;

/// When what is left of an item runs out, by how it was used so far.
pub(super) fn run_out(
    connection: &Connection,
    item: &ItemName,
    today: NaiveDate,
) -> rusqlite::Result<Option<RunOut>> {
    let Some(left) = lots::total(&lots::of_item(connection, item)?) else {
        return Ok(None);
    };
    let uses = of_item(connection, item)?;
    let Some((since, _)) = uses.first().cloned() else {
        return Ok(None);
    };
    // In the measure of what is left. A use that can't be brought to it is a gap in what is known: nothing is told then.
    let share = |used: Quantity| amounts::share_of(&used, &left);
    let mut known = Vec::with_capacity(uses.len());
    for (on, quantity) in uses {
        match quantity.and_then(share) {
            Some(amount) => known.push(Use { on, amount }),
            None => return Ok(None),
        }
    }
    Ok(forecast::run_out(&known, since, today, 1.0))
}

/// The last uses of an item, oldest first, with the quantity where it is known.
pub(super) fn of_item(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Vec<(NaiveDate, Option<Quantity>)>> {
    let mut query = connection.prepare_cached(
        "SELECT day, quantity FROM used JOIN item ON item.id = used.item WHERE name = ?1
         ORDER BY day DESC, used.id DESC LIMIT ?2",
    )?;
    let rows = query.query_map(params![item.as_str(), MOST_USES], |row| {
        let day: String = row.get(0)?;
        let quantity: Option<String> = row.get(1)?;
        Ok((
            parse_column(0, &day)?,
            quantity.map(|text| amounts::column(1, &text)).transpose()?,
        ))
    })?;
    let mut uses = rows.collect::<rusqlite::Result<Vec<_>>>()?;
    uses.reverse();
    Ok(uses)
}
