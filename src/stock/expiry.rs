//! What has a date coming up.

use chrono::NaiveDate;
use rusqlite::{Connection, params};

use super::apart::FOOD;
use super::columns::parse_column;
use super::lots::name_column;
use super::names::{ItemName, Place, TagNumber};
use crate::measure::DateKind;

/// A thing with a date that is near or past.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Expiring {
    /// What it is.
    pub item: ItemName,
    /// Why it is told, and the day.
    pub due: Due,
    /// Where it is, if that is known.
    pub place: Option<Place>,
    /// Its temporary tag, if it isn't put away yet.
    pub tag: Option<TagNumber>,
    /// Its lot, if it is: what has several dates is told for each.
    pub lot: Option<i64>,
}

/// By what a thing is to be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Due {
    /// By a date that stands on it.
    Date(DateKind, NaiveDate),
    /// By the day on which the published time ends that runs since it was opened or thawed.
    Guide(NaiveDate),
}

impl Due {
    /// The day.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::Due;
    /// let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// assert_eq!(Due::Guide(day).day(), day);
    /// ```
    pub fn day(self) -> NaiveDate {
        match self {
            Self::Date(_, day) | Self::Guide(day) => day,
        }
    }
}

/// Whether a lot's dates stand still: as [`Lot::is_frozen`](super::Lot::is_frozen).
const FROZEN: &str = "(coalesce(' ' || lot.place || ' ' LIKE '% freezer %', 0)
        OR EXISTS (SELECT 1 FROM lot_date AS d WHERE d.lot = lot.id AND d.kind = 'frozen'))
    AND NOT EXISTS (SELECT 1 FROM lot_date AS d WHERE d.lot = lot.id AND d.kind = 'thawed')";

/// As far as a date with a year of four figures reaches: all there are.
pub(super) const LAST: NaiveDate = match NaiveDate::from_ymd_opt(9999, 12, 31) {
    Some(day) => day,
    None => NaiveDate::MAX,
};

/// Whether a date of a lot counts: what is frozen is told only if the day had passed when it was frozen. Where nobody said
/// when that was, it is known only of a day that had passed when it came in.
const COUNTS: &str =
    "date < coalesce((SELECT date FROM lot_date AS d WHERE d.lot = lot.id AND d.kind = 'frozen'),
        substr(lot.came, 1, 10))";

/// What has a date up to a day, or a published time that ends by then, soonest first.
pub(super) fn until(connection: &Connection, until: NaiveDate) -> rusqlite::Result<Vec<Expiring>> {
    let dated = format!("(NOT ({FROZEN}) OR {COUNTS})");
    find(connection, until, usize::MAX, [&dated, "TRUE", "TRUE"])
}

/// What has a date, of what is to be eaten and isn't frozen, soonest first, and so many at most.
pub(super) fn to_eat(connection: &Connection, at_most: usize) -> rusqlite::Result<Vec<Expiring>> {
    let food = FOOD.as_str();
    let shelf = format!("NOT ({FROZEN}) AND {food}");
    find(connection, LAST, at_most, [&shelf, &shelf, food])
}

/// What has a date up to a day, as far as it meets the conditions: of dates of lots, of published times, and of temporary
/// tags. Each kind of date by itself is found in the order of the days; so where only the first few are asked for, the
/// rest isn't looked at.
fn find(
    connection: &Connection,
    until: NaiveDate,
    at_most: usize,
    [dated, guided, tagged]: [&str; 3],
) -> rusqlite::Result<Vec<Expiring>> {
    // When a thing was bought or opened is no date by which to use it.
    let ahead = DateKind::ALL.into_iter().filter(|kind| kind.looks_ahead());
    let ahead: Vec<String> = ahead.map(|kind| format!("'{kind}'")).collect();
    let lots = ahead.iter().map(|kind| {
        format!(
            "SELECT item.name, kind, date, place, NULL, lot.id FROM lot_date
                JOIN lot ON lot.id = lot_date.lot JOIN item ON item.id = lot.item
                WHERE kind = {kind} AND date <= ?1 AND {dated}"
        )
    });
    let lots = lots.collect::<Vec<_>>().join(" UNION ALL ");
    let ahead = ahead.join(", ");
    let mut query = connection.prepare_cached(
        // One day's things by name; what is on the shelf before what is on a tag, oldest first.
        &format!(
            "{lots} UNION ALL
             SELECT item.name, NULL, guide, place, NULL, lot.id FROM lot JOIN item ON item.id = lot.item
                WHERE guide <= ?1 AND {guided}
             UNION ALL
             SELECT item.name, kind, date, NULL, number, NULL FROM tag_date
                JOIN tag ON tag.number = tag_date.tag JOIN item ON item.id = tag.item
                WHERE kind IN ({ahead}) AND date <= ?1 AND {tagged}
             ORDER BY 3, 1, 5, 6, 2 LIMIT ?2"
        ),
    )?;
    let at_most = i64::try_from(at_most).unwrap_or(i64::MAX);
    let rows = query.query_map(params![until.to_string(), at_most], |row| {
        let name: String = row.get(0)?;
        let kind: Option<String> = row.get(1)?;
        let day: String = row.get(2)?;
        let place: Option<String> = row.get(3)?;
        let day = parse_column(2, &day)?;
        Ok(Expiring {
            item: name_column(0, &name, ItemName::new)?,
            due: match kind {
                Some(kind) => Due::Date(parse_column(1, &kind)?, day),
                None => Due::Guide(day),
            },
            place: place
                .map(|text| name_column(3, &text, Place::new))
                .transpose()?,
            tag: row.get::<_, Option<u32>>(4)?.map(TagNumber),
            lot: row.get(5)?,
        })
    })?;
    rows.collect()
}
