//! Lots: what is on the shelf, each with its quantity, place and dates.

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{Connection, Row, params};

use super::apart::HOUSEHOLD;
use super::choice::Choice;
use super::columns::{parse_column, time_text};
use super::error::Refusal;
use super::event::Dates;
use super::expiry::Due;
use super::ledger::Fault;
use super::list::{self, Why};
use super::mark::Mark;
use super::names::{ItemName, NotAName, Place, TagNumber};
use super::outcome::Outcome;
use super::{amounts, clocks, facts, items, pool, running_out, trip, used};
use crate::guide;
use crate::measure::{DateKind, Quantity};

/// What came in together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lot {
    /// Its number.
    pub id: i64,
    /// What it is.
    pub item: ItemName,
    /// How much is left; absent where nobody said.
    pub quantity: Option<Quantity>,
    /// Where it is; absent where nobody said.
    pub place: Option<Place>,
    /// Its dates.
    pub dates: Dates,
    /// The touch mark on it.
    pub mark: Option<Mark>,
    /// The kitchen tag on it.
    pub tag: Option<TagNumber>,
    /// Whether nobody could tell for sure what it is.
    pub unsure: bool,
    /// The day by which the published time ends that runs since it was opened or thawed. Absent where none does, and
    /// where the use-by date on it comes first. Of what is frozen, only a day that had passed when it was frozen.
    pub guide: Option<NaiveDate>,
    /// What went before, if it was thawed and frozen again.
    pub refrozen: Option<Refrozen>,
}

/// What a thing went through before it was frozen again: its time goes on where it stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Refrozen {
    /// For how many days it was thawed.
    pub thawed: u32,
    /// For how many days it had been frozen since it was opened.
    pub still: u32,
}

impl Lot {
    /// Whether its pack was opened.
    pub fn is_opened(&self) -> bool {
        self.dates.get(DateKind::Opened).is_some()
    }

    /// Whether it was thawed, and not frozen again since.
    pub fn is_thawed(&self) -> bool {
        self.dates.get(DateKind::Thawed).is_some()
    }

    /// Whether it is frozen, by what was said of it or by where it is: its dates stand still.
    pub fn is_frozen(&self) -> bool {
        let in_freezer = self.place.as_ref().is_some_and(Place::is_freezer);
        !self.is_thawed() && (in_freezer || self.dates.get(DateKind::Frozen).is_some())
    }

    /// The first day by which something should be done with it: by a date that stands on it, or by what is published.
    pub fn first_due(&self) -> Option<NaiveDate> {
        self.dates.first_ahead().into_iter().chain(self.guide).min()
    }

    /// The first day by which something should have been done with it, if that has passed; of what is frozen, if it had
    /// passed by then. Where nobody said when it was frozen, it may have been today.
    pub fn passed(&self, today: NaiveDate) -> Option<Due> {
        let frozen = self
            .dates
            .get(DateKind::Frozen)
            .filter(|_| self.is_frozen());
        let ahead = self.dates.iter().filter_map(|note| {
            let kind = note.kind.filter(|kind| kind.looks_ahead())?;
            Some(Due::Date(kind, note.date))
        });
        ahead
            .chain(self.guide.map(Due::Guide))
            .filter(|due| due.day() < frozen.unwrap_or(today))
            .min_by_key(|due| due.day())
    }
}

const COLUMNS: &str = "SELECT lot.id, item.name, lot.quantity, lot.place,
    (SELECT group_concat(kind || '=' || date, ';') FROM lot_date WHERE lot = lot.id),
    lot.mark, (SELECT number FROM pool WHERE pool.lot = lot.id), lot.unsure IS NOT NULL,
    lot.guide, lot.thawed_for, lot.still_for FROM lot JOIN item ON item.id = lot.item";

fn read(row: &Row<'_>) -> rusqlite::Result<Lot> {
    let name: String = row.get(1)?;
    let quantity: Option<String> = row.get(2)?;
    let place: Option<String> = row.get(3)?;
    let dates: Option<String> = row.get(4)?;
    let mark: Option<String> = row.get(5)?;
    let guide: Option<String> = row.get(8)?;
    Ok(Lot {
        id: row.get(0)?,
        item: name_column(1, &name, ItemName::new)?,
        quantity: quantity.map(|text| amounts::column(2, &text)).transpose()?,
        place: place
            .map(|text| name_column(3, &text, Place::new))
            .transpose()?,
        dates: dates_column(4, dates.as_deref())?,
        mark: mark.map(|text| parse_column(5, &text)).transpose()?,
        tag: row.get::<_, Option<u32>>(6)?.map(TagNumber),
        unsure: row.get(7)?,
        guide: guide.map(|text| parse_column(8, &text)).transpose()?,
        refrozen: match (row.get(9)?, row.get(10)?) {
            (Some(thawed), Some(still)) => Some(Refrozen { thawed, still }),
            _ => None,
        },
    })
}

/// Reads a name that is kept in a column.
pub(super) fn name_column<T>(
    column: usize,
    text: &str,
    make: fn(&str) -> Result<T, NotAName>,
) -> rusqlite::Result<T> {
    make(text).map_err(|e| {
        rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, Box::new(e))
    })
}

/// Reads dates gathered as `kind=date;kind=date`.
pub(super) fn dates_column(column: usize, text: Option<&str>) -> rusqlite::Result<Dates> {
    let mut dates = Dates::default();
    for note in text
        .unwrap_or_default()
        .split(';')
        .filter(|note| !note.is_empty())
    {
        let (kind, date) = note.split_once('=').unwrap_or((note, ""));
        dates.insert(
            parse_column::<DateKind>(column, kind)?,
            parse_column(column, date)?,
        );
    }
    Ok(dates)
}

/// First expired, first out: what was opened or thawed goes first, what is frozen last; of these, what has a date
/// goes before what has none, the earlier date first, be it its own or the guide's; and of those alike, what came first, also where it was put back
/// since. What nobody could tell for sure isn't used before that is known.
pub(super) fn of_item(connection: &Connection, item: &ItemName) -> rusqlite::Result<Vec<Lot>> {
    let mut query = connection.prepare_cached(&format!(
        "{COLUMNS} WHERE item.name = ?1 ORDER BY lot.came, lot.id"
    ))?;
    let mut lots: Vec<Lot> = query
        .query_map([item.as_str()], read)?
        .collect::<Result<_, _>>()?;
    lots.sort_by_key(|lot| {
        let date = lot.first_due();
        let untouched = !(lot.is_opened() || lot.is_thawed());
        (lot.unsure, lot.is_frozen(), untouched, date.is_none(), date)
    });
    Ok(lots)
}

/// What is in a place and how much of it, lot by lot, by name. No more is read of them: where much lies in one place,
/// that counts.
pub(super) fn in_place(
    connection: &Connection,
    place: &Place,
) -> rusqlite::Result<Vec<(ItemName, Option<Quantity>)>> {
    let mut query = connection.prepare_cached(
        "SELECT name, quantity FROM lot JOIN item ON item.id = lot.item WHERE place = ?1
         ORDER BY name, lot.id",
    )?;
    query
        .query_map([place.as_str()], name_and_quantity)?
        .collect()
}

/// Reads a row that begins with an item's name and how much there is of it, which may be absent.
pub(super) fn name_and_quantity(row: &Row<'_>) -> rusqlite::Result<(ItemName, Option<Quantity>)> {
    let quantity = row.get_ref(1)?.as_str_or_null()?;
    Ok((
        name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)?,
        quantity.map(|text| amounts::column(1, text)).transpose()?,
    ))
}

pub(super) fn all(connection: &Connection) -> rusqlite::Result<Vec<Lot>> {
    let mut query = connection.prepare_cached(&format!("{COLUMNS} ORDER BY item.name, lot.id"))?;
    query.query_map([], read)?.collect()
}

pub(super) fn put_in(
    connection: &Connection,
    item: &ItemName,
    quantity: Option<&Quantity>,
    place: Option<&Place>,
    dates: &Dates,
    from_trip: bool,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    let mut lot = Lot {
        id: 0,
        item: item.clone(),
        quantity: quantity.cloned(),
        place: place.cloned(),
        dates: dates.clone(),
        mark: None,
        tag: None,
        unsure: false,
        guide: None,
        refrozen: None,
    };
    lot.guide = clocks::of_new(connection, &lot)?;
    connection.execute(
        "INSERT INTO lot (item, quantity, place, came, guide) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![
            id,
            quantity.map(Quantity::to_string),
            place.map(Place::as_str),
            time_text(at),
            lot.guide.map(|day| day.to_string())
        ],
    )?;
    lot.id = connection.last_insert_rowid();
    for note in dates.iter() {
        connection.execute(
            "INSERT INTO lot_date (lot, kind, date) VALUES (?1, ?2, ?3)",
            params![lot.id, note.kind.map(DateKind::name), note.date.to_string()],
        )?;
    }
    if let Some(place) = place {
        facts::note_last_place(connection, id, place)?;
    }
    // What has come in needn't be bought any more. Of what was bought in part on a trip, the list knows already.
    pool::heed(connection, id)?;
    let line = match from_trip && trip::left_a_rest(connection, id)? {
        true => None,
        false => list::buy(connection, id, quantity)?,
    };
    running_out::allow_again(connection, id)?;
    Ok(Outcome::CameIn {
        lot,
        freed: None,
        off_list: line == Some(None),
        still: line.flatten(),
    })
}

/// Notes on a lot that has just come in its mark, and whether it is unsure what it is.
pub(super) fn note(
    connection: &Connection,
    outcome: Outcome,
    mark: Option<&Mark>,
    unsure: bool,
) -> Result<Outcome, Fault> {
    let Outcome::CameIn {
        mut lot,
        freed,
        off_list,
        still,
    } = outcome
    else {
        return Ok(outcome);
    };
    let unsure_text = unsure.then_some("unsure");
    let note = "UPDATE lot SET mark = ?2, unsure = ?3 WHERE id = ?1";
    connection.execute(
        note,
        params![lot.id, mark.map(Mark::to_string), unsure_text],
    )?;
    (lot.mark, lot.unsure) = (mark.copied(), unsure);
    Ok(Outcome::CameIn {
        lot,
        freed,
        off_list,
        still,
    })
}

/// It is known now what the lots of an item are.
pub(super) fn make_sure(connection: &Connection, item: &ItemName) -> Result<Outcome, Fault> {
    let sure = "UPDATE lot SET unsure = NULL WHERE unsure IS NOT NULL
        AND item = (SELECT id FROM item WHERE name = ?1)";
    if connection.execute(sure, [item.as_str()])? == 0 {
        return Err(Refusal::KnownAlready { item: item.clone() }.into());
    }
    Ok(Outcome::MadeSure { item: item.clone() })
}

/// A lot of which something isn't known yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotYetKnown {
    /// What it is, as far as that is known.
    pub item: ItemName,
    /// Whether nobody could tell for sure what it is.
    pub what: bool,
    /// Whether nobody said where it is.
    pub place: bool,
    /// Whether nobody said how much of it there is.
    pub quantity: bool,
}

/// What isn't known yet of what is there, lot by lot, by name. No more is read of them: there may be thousands.
pub(super) fn not_yet_known(connection: &Connection) -> rusqlite::Result<Vec<NotYetKnown>> {
    let mut query = connection.prepare_cached(
        "SELECT name, unsure IS NOT NULL, place IS NULL, quantity IS NULL
         FROM lot JOIN item ON item.id = lot.item
         WHERE unsure IS NOT NULL OR place IS NULL OR quantity IS NULL ORDER BY name, lot.id",
    )?;
    let lots = query.query_map([], |row| {
        Ok(NotYetKnown {
            item: name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)?,
            what: row.get(1)?,
            place: row.get(2)?,
            quantity: row.get(3)?,
        })
    })?;
    lots.collect()
}

/// What is there to be eaten or taken without any date by which to use it, by name, each once.
pub(super) fn undated(connection: &Connection) -> rusqlite::Result<Vec<ItemName>> {
    // A lot has few dates: to read them all and look at their kinds (the plus) takes half the time of looking for each kind.
    let mut query = connection.prepare_cached(&format!(
        "SELECT name FROM item
         WHERE EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id
                 AND NOT EXISTS (SELECT 1 FROM lot_date WHERE lot = lot.id
                     AND +kind IN ('use by', 'best by', 'sell by', 'freeze by')))
             AND id NOT IN ({}) ORDER BY name",
        *HOUSEHOLD
    ))?;
    let names = query.query_map([], |row| {
        name_column(0, row.get_ref(0)?.as_str()?, ItemName::new)
    })?;
    names.collect()
}

/// Everything of an item that is meant goes off the shelf, and the item onto the list unless there is more of it. An item that wasn't on
/// the shelf goes onto the list all the same: the person knows best what is gone.
pub(super) fn use_up(
    connection: &Connection,
    item: &ItemName,
    of: &Choice,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let lots = of.of(item, of_item(connection, item)?)?;
    if !lots.is_empty() {
        used::note(connection, item, total(&lots).as_ref(), at)?;
    }
    for lot in &lots {
        delete(connection, lot.id)?;
    }
    let left = of_item(connection, item)?;
    if left.is_empty() {
        return gone(connection, item, lots, at);
    }
    Ok(Outcome::SomeGone {
        item: item.clone(),
        of: of.clone(),
        left,
    })
}

fn gone(
    connection: &Connection,
    item: &ItemName,
    lots: Vec<Lot>,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    // What was left of a meal can't be bought.
    let was_listed = match guide::is_leftover(item.as_str()) {
        true => false,
        false => !list::insert(connection, id, None, Why::UsedUp, at)?,
    };
    Ok(Outcome::Gone {
        item: item.clone(),
        lots,
        was_listed,
    })
}

/// Takes a quantity from the lots in the order to use them.
pub(super) fn use_some(
    connection: &Connection,
    item: &ItemName,
    quantity: &Quantity,
    of: &Choice,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    let before = of_item(connection, item)?;
    if before.is_empty() {
        return Err(Refusal::NoneLeft { item: item.clone() }.into());
    }
    let before = of.of(item, before)?;
    let parts = parts_of(item, &before, quantity)?;
    used::note(connection, item, Some(quantity), at)?;
    for (id, part) in &parts {
        let lot = before.iter().find(|lot| lot.id == *id);
        match (part, lot.and_then(|lot| lot.quantity.as_ref())) {
            (Part::Some(part), Some(have)) => {
                if let Some(left) = amounts::minus(have, part).flatten() {
                    set_quantity(connection, *id, &left)?;
                }
            }
            _ => delete(connection, *id)?,
        }
    }
    let left = of_item(connection, item)?;
    if left.is_empty() {
        return gone(connection, item, before, at);
    }
    let is_from = |lot: &Lot| parts.iter().any(|(id, _)| *id == lot.id);
    let from = before.into_iter().filter(is_from).collect();
    Ok(Outcome::Used {
        item: item.clone(),
        from,
        left,
    })
}

/// How much is meant of a lot.
pub(super) enum Part {
    Whole,
    Some(Quantity),
}

/// So much of the lots, in the order in which they are given.
pub(super) fn parts_of(
    item: &ItemName,
    lots: &[Lot],
    quantity: &Quantity,
) -> Result<Vec<(i64, Part)>, Fault> {
    // "Zero cups" is no part of anything: no lot is right for it.
    let usable = if amounts::require(quantity).is_ok() {
        lots
    } else {
        &[]
    };
    let mut to_take = quantity.clone();
    let mut parts = Vec::new();
    for lot in usable {
        let Some(have) = &lot.quantity else { continue };
        match amounts::minus(have, &to_take) {
            None => continue,
            Some(Some(left)) if left.is_zero() => {
                parts.push((lot.id, Part::Whole));
                return Ok(parts);
            }
            Some(Some(left)) => {
                // In the lot's own pack or unit.
                let part = amounts::minus(have, &left).flatten().unwrap_or(to_take);
                parts.push((lot.id, Part::Some(part)));
                return Ok(parts);
            }
            Some(None) => {
                let Some(rest) = amounts::rest(&to_take, have) else {
                    continue;
                };
                to_take = rest;
                parts.push((lot.id, Part::Whole));
            }
        }
    }
    let item = item.clone();
    let said = lots.iter().flat_map(|lot| &lot.quantity).map(amounts::say);
    let have = said.collect::<Vec<_>>().join(" and ");
    // A lot that nobody measured may hold what is missing: "only" would be a guess.
    Err(if lots.iter().any(|lot| lot.quantity.is_none()) {
        Refusal::UnknownAmount { item }.into()
    } else if parts.is_empty() {
        let asked = amounts::say(quantity);
        Refusal::OtherMeasure { item, have, asked }.into()
    } else {
        Refusal::NotEnough { item, have }.into()
    })
}

/// What lots hold together. `None` where there are none, or where nobody said how much one of them holds, or they
/// are measured in ways that can't be added.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::stock::{Event, ItemName, Source, Stock, total};
/// let mut stock = Stock::in_memory().unwrap();
/// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
/// let item = ItemName::new("rice").unwrap();
/// for quantity in ["1 pound", "8 ounce"] {
///     let quantity = Some(quantity.parse().unwrap());
///     let (item, place, dates) = (item.clone(), None, Default::default());
///     stock.record(Event::PutIn { item, quantity, place, dates }, now, Source::Typed).unwrap();
/// }
/// assert_eq!(total(&stock.lots(&item).unwrap()).unwrap().to_string(), "3/2 pound");
/// ```
pub fn total(lots: &[Lot]) -> Option<Quantity> {
    let mut quantities = lots.iter().map(|lot| lot.quantity.as_ref());
    let first = quantities.next()??.clone();
    quantities.try_fold(first, |sum, quantity| amounts::plus(&sum, quantity?))
}

pub(super) fn delete(connection: &Connection, lot: i64) -> rusqlite::Result<()> {
    pool::come_off(connection, lot)?;
    // The dates are deleted by hand: a changeset doesn't record what a foreign key does by itself.
    connection.execute("DELETE FROM lot_date WHERE lot = ?1", [lot])?;
    connection.execute("DELETE FROM lot WHERE id = ?1", [lot])?;
    Ok(())
}

fn set_quantity(connection: &Connection, lot: i64, quantity: &Quantity) -> rusqlite::Result<()> {
    let change = "UPDATE lot SET quantity = ?2 WHERE id = ?1";
    connection.execute(change, params![lot, quantity.to_string()])?;
    Ok(())
}
