//! The days by which published times end, for the two foods of these days of which anything is published.

use chrono::{Days, NaiveDate, TimeDelta};
use tellshelf::measure::DateKind;
use tellshelf::stock::ItemKind;

use super::{Lot, Model};

/// Days that bacon keeps once opened. Source: FoodKeeper, 1 week.
const OPENED_BACON: u64 = 7;
/// Days that a steak keeps once thawed in the fridge. Source: state extension services after FSIS, 3 to 5 days.
const THAWED_STEAK: u64 = 3;

impl Lot {
    /// For how many days it was frozen since it was opened.
    pub(super) fn still(&self) -> i64 {
        let on = |kind| self.dates.get(kind);
        let Some(opened) = on(DateKind::Opened) else {
            return 0;
        };
        let last = match (on(DateKind::Frozen), on(DateKind::Thawed)) {
            (Some(from), Some(to)) if from >= opened && to >= from => (to - from).num_days(),
            _ => 0,
        };
        last + self.before.map_or(0, |(_, still)| still)
    }
}

impl Model {
    /// The day of a lot, as things stand now.
    pub(super) fn guide(&self, lot: &Lot) -> Option<NaiveDate> {
        let kind = self.facts.get(&lot.item).map(|facts| facts.kind);
        if kind.unwrap_or_default() != ItemKind::Food {
            return None;
        }
        let on = |kind| lot.dates.get(kind);
        let ends = match self.names[lot.item].as_str() {
            "bacon" => {
                // In the freezer it stands still.
                let still = u64::try_from(lot.still()).unwrap();
                on(DateKind::Opened)? + Days::new(OPENED_BACON + still)
            }
            // Thawed again, the time goes on where it stopped.
            "steak" => {
                let from = match lot.before {
                    Some(_) if lot.is_frozen() => on(DateKind::Frozen)?,
                    _ => on(DateKind::Thawed)?,
                };
                let used = lot.before.map_or(0, |(days, _)| days);
                from + Days::new(THAWED_STEAK) - TimeDelta::days(used)
            }
            _ => return None,
        };
        // Only what was over before it was frozen stays over.
        if lot.is_frozen() && on(DateKind::Frozen).is_none_or(|frozen| ends >= frozen) {
            return None;
        }
        let use_by = on(DateKind::UseBy).unwrap_or(NaiveDate::MAX);
        (ends < use_by).then_some(ends)
    }
}
