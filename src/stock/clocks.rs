//! The clocks that opening and thawing start: by which day the published time of a lot ends.

use chrono::{NaiveDate, TimeDelta};
use rusqlite::{Connection, params};

use super::expiry::LAST;
use super::facts::{self, ItemKind};
use super::lots::{self, Lot, Refrozen};
use super::names::ItemName;
use crate::guide::{self, Kept, Published, StorageTime};
use crate::measure::{DateKind, Pack};

/// A published time that runs for a lot since it was opened or thawed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clock {
    /// What is published.
    pub published: Published,
    /// The day on which the shorter end of it is over.
    pub ends: NaiveDate,
}

/// The clock of a lot that ends first, by its name and its dates. `None` where it was neither opened nor thawed, nothing is
/// published of it, or it was frozen before it ended.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::stock::{Change, Event, ItemName, Source, Stock, clock};
/// let mut stock = Stock::in_memory().unwrap();
/// let on = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
/// let item = ItemName::new("mayonnaise").unwrap();
/// let (quantity, place) = (None, None);
/// let came = Event::PutIn { item: item.clone(), quantity: None, place: None, dates: Default::default() };
/// let opened = Event::Changed { item: item.clone(), how: Change::Opened, quantity, place, on, of: Default::default() };
/// for event in [came, opened] {
///     stock.record(event, on.and_hms_opt(7, 30, 0).unwrap(), Source::Typed).unwrap();
/// }
/// let lot = &stock.lots(&item).unwrap()[0];
/// assert_eq!(clock(lot).unwrap().published.time.to_string(), "2 months");
/// assert_eq!(lot.guide, NaiveDate::from_ymd_opt(2027, 1, 25));
/// ```
pub fn clock(lot: &Lot) -> Option<Clock> {
    let is_in_can = lot
        .quantity
        .as_ref()
        .is_some_and(|have| have.pack() == Some(Pack::Can));
    let food = match is_in_can {
        true => guide::find_in_can(lot.item.as_str())?,
        false => guide::find(lot.item.as_str())?,
    };
    // Kept in the fridge, unless what is published is the time in the pantry.
    let once_opened = || {
        food.time(Kept::FridgeOpened)
            .or_else(|| food.time(Kept::PantryOpened))
    };
    let opened = lot.dates.get(DateKind::Opened).and_then(|opened| {
        let clock = started(once_opened()?, opened)?;
        let ends = clock.ends.checked_add_signed(pause(lot, opened))?;
        Some(Clock { ends, ..clock })
    });
    let thawed = thawed_from(lot);
    let thawed = thawed.and_then(|thawed| started(food.time(Kept::FridgeThawed)?, thawed));
    // What was left of a meal has no label: its time runs since it was cooked.
    let cooked = lot.dates.get(DateKind::Packed);
    let cooked = cooked.filter(|_| guide::is_leftover(lot.item.as_str()));
    let cooked = cooked.and_then(|cooked| {
        let clock = started(food.time(Kept::Fridge)?, cooked)?;
        let ends = clock.ends.checked_add_signed(pause(lot, cooked))?;
        Some(Clock { ends, ..clock })
    });
    let clocks = [opened, thawed, cooked].into_iter().flatten();
    let clock = clocks.min_by_key(|clock| clock.ends)?;
    // What is frozen stands still, but a time that was over by then stays over.
    let frozen = || lot.dates.get(DateKind::Frozen);
    let runs = !lot.is_frozen() || frozen().is_some_and(|frozen| clock.ends < frozen);
    runs.then_some(clock)
}

/// The day from which the time of what is or was thawed counts: as much before the last thaw, or before it was frozen
/// again, as it was thawed before.
fn thawed_from(lot: &Lot) -> Option<NaiveDate> {
    let used = |refrozen: Refrozen| TimeDelta::days(refrozen.thawed.into());
    let (from, used) = match (lot.dates.get(DateKind::Thawed), lot.refrozen) {
        (Some(thawed), refrozen) => (thawed, refrozen.map_or(TimeDelta::zero(), used)),
        (None, Some(refrozen)) => (lot.dates.get(DateKind::Frozen)?, used(refrozen)),
        (None, None) => return None,
    };
    from.checked_sub_signed(used)
}

/// What is to be kept of a thawed lot that is frozen again on a day. `None` where it isn't thawed.
pub(super) fn before_refreezing(lot: &Lot, on: NaiveDate) -> Option<Refrozen> {
    let thawed = lot.dates.get(DateKind::Thawed)?;
    let days = |time: TimeDelta| u32::try_from(time.num_days()).unwrap_or_default();
    let opened = lot.dates.get(DateKind::Opened);
    Some(Refrozen {
        thawed: days(on - thawed).saturating_add(lot.refrozen.map_or(0, |before| before.thawed)),
        still: opened.map_or(0, |opened| days(pause(lot, opened))),
    })
}

fn started(published: Published, from: NaiveDate) -> Option<Clock> {
    let StorageTime::For(span) = published.time else {
        return None;
    };
    let ends = span.end(from)?;
    Some(Clock { published, ends })
}

/// How long a lot that was opened stood still in the freezer: freezing stops a clock, and never sets it back. Of a lot
/// that came in frozen it isn't known since when; so the clock may end too early, never too late.
fn pause(lot: &Lot, opened: NaiveDate) -> TimeDelta {
    let last = match (
        lot.dates.get(DateKind::Frozen),
        lot.dates.get(DateKind::Thawed),
    ) {
        (Some(frozen), Some(thawed)) if opened <= frozen && frozen <= thawed => thawed - frozen,
        _ => TimeDelta::zero(),
    };
    let before = lot.refrozen.map_or(0, |before| before.still);
    last + TimeDelta::days(before.into())
}

/// The day that is kept with a lot: none where the use-by date on it comes first, since that is then all that counts.
fn day(lot: &Lot) -> Option<NaiveDate> {
    let ends = clock(lot)?.ends;
    let use_by = lot.dates.get(DateKind::UseBy);
    (ends <= LAST && use_by.is_none_or(|use_by| ends < use_by)).then_some(ends)
}

/// The day for a lot that comes in. Of what isn't food, nothing is published.
pub(super) fn of_new(connection: &Connection, lot: &Lot) -> rusqlite::Result<Option<NaiveDate>> {
    match day(lot) {
        Some(day) if is_food(connection, &lot.item)? => Ok(Some(day)),
        _ => Ok(None),
    }
}

/// Reckons the days of an item's lots anew, after something changed on which they rest.
pub(super) fn reckon(connection: &Connection, item: &ItemName) -> rusqlite::Result<()> {
    let is_food = is_food(connection, item)?;
    for lot in lots::of_item(connection, item)? {
        let day = day(&lot).filter(|_| is_food);
        if day != lot.guide {
            let note = "UPDATE lot SET guide = ?2 WHERE id = ?1";
            let mut note = connection.prepare_cached(note)?;
            note.execute(params![lot.id, day.map(|day| day.to_string())])?;
        }
    }
    Ok(())
}

fn is_food(connection: &Connection, item: &ItemName) -> rusqlite::Result<bool> {
    Ok(facts::of_item(connection, item)?.kind == ItemKind::Food)
}
