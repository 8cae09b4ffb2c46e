//! The days by which published times end, for the two foods of these days of which anything is published.

use chrono::{Days, NaiveDate};
use tellshelf::measure::DateKind;
use tellshelf::stock::ItemKind;

use super::{Lot, Model};

/// Days that bacon keeps once opened. Source: FoodKeeper, 1 week.
const OPENED_BACON: u64 = 7;
/// Days that a steak keeps once thawed in the fridge. Source: state extension services after FSIS, 3 to 5 days.
const THAWED_STEAK: u64 = 3;

impl Model {
    /// The day of a lot, as things stand now.
    pub(super) fn guide(&self, lot: &Lot) -> Option<NaiveDate> {
        let kind = self.facts.get(&lot.item).map(|facts| facts.kind);
        if lot.is_frozen() || kind.unwrap_or_default() != ItemKind::Food {
            return None;
        }
        let on = |kind| lot.dates.get(kind);
        let ends = match self.names[lot.item].as_str() {
            "bacon" => {
                let opened = on(DateKind::Opened)?;
                // In the freezer it stands still.
                let still = match (on(DateKind::Frozen), on(DateKind::Thawed)) {
                    (Some(from), Some(to)) if from >= opened && to >= from => {
                        (to - from).num_days()
                    }
                    _ => 0,
                };
                opened + Days::new(OPENED_BACON + u64::try_from(still).unwrap())
            }
            "steak" => on(DateKind::Thawed)? + Days::new(THAWED_STEAK),
            _ => return None,
        };
        let use_by = on(DateKind::UseBy).unwrap_or(NaiveDate::MAX);
        (ends < use_by).then_some(ends)
    }
}
