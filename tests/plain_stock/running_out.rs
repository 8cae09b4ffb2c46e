//! What is put on the list because it runs out before the next trip.

use std::collections::BTreeMap;

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::measure::Amount;
use tellshelf::stock::Why as Reason;

use super::{Item, Model};

/// How much of the last value counts. Source: as in `src/stock/forecast.rs`.
const LAST: f64 = 0.1;

/// What smoothing from the mean gives, each value with its own weight: what it adds to the mean, and what is left of
/// that and of its own step when those behind it have come.
fn level(values: &[f64]) -> f64 {
    let count = values.len() as i32;
    let weigh = |(i, value): (i32, &f64)| {
        let in_mean = (1.0 - LAST).powi(count) / f64::from(count);
        value * (in_mean + LAST * (1.0 - LAST).powi(count - 1 - i))
    };
    (0..).zip(values).map(weigh).sum()
}

/// How uneven values are: the square of the coefficient of variation.
fn unevenness(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let sum: f64 = values.iter().sum();
    let squares: f64 = values.iter().map(|value| value * value).sum();
    (squares - sum * sum / count) / (count - 1.0) / (sum / count).powi(2)
}

fn float(amount: Amount) -> f64 {
    *amount.numer() as f64 / *amount.denom() as f64
}

impl Model {
    /// In how many days an item is likely to run out.
    fn days_left(&self, item: Item, today: NaiveDate) -> Option<f64> {
        let left = self.total(&self.in_order(item))?;
        let mut uses: Vec<_> = self
            .uses
            .iter()
            .filter(|(used, ..)| *used == item)
            .collect();
        uses.drain(..uses.len().saturating_sub(100));
        let mut by_day: BTreeMap<NaiveDate, f64> = BTreeMap::new();
        for (_, at, much) in uses {
            let much = much.filter(|much| much.fits(left))?;
            *by_day.entry(at.date()).or_default() += float(much.base);
        }
        if by_day.len() < 5 {
            return None;
        }
        let days: Vec<NaiveDate> = by_day.keys().copied().collect();
        let between = days
            .windows(2)
            .map(|two| (two[1] - two[0]).num_days() as f64);
        let gaps: Vec<f64> = [1.0].into_iter().chain(between).collect();
        let sizes: Vec<f64> = by_day.into_values().collect();
        let idle = (today - *days.last()?).num_days() as f64;
        if gaps.iter().all(|gap| idle > 2.0 * gap) {
            return None;
        }
        // Croston's rate, as corrected by Syntetos and Boylan; the next use is one gap away at least.
        let rate = 0.95 * level(&sizes) / level(&gaps);
        let from_last = (float(left.base) / rate).max(level(&gaps));
        Some((from_last - idle * (1.0 - unevenness(&gaps).min(1.0))).max(1.0))
    }

    /// In how many days the next trip is taken to be.
    fn days_to_next_trip(&self) -> i64 {
        let first = self.trips.len().saturating_sub(9);
        let days: Vec<NaiveDate> = self.trips[first..]
            .iter()
            .map(|trip| trip.began.date())
            .collect();
        let mut between: Vec<i64> = days
            .windows(2)
            .map(|two| (two[1] - two[0]).num_days())
            .collect();
        between.sort_unstable();
        match between.len() {
            0 | 1 => 7,
            // The one in the middle, or the longer of two.
            several => between[several / 2].clamp(1, 28),
        }
    }

    /// Puts an item on the list that is likely to run out before the next trip.
    pub(super) fn list_if_soon(&mut self, item: Item, at: NaiveDateTime) {
        let soon = self.days_to_next_trip() as f64;
        let runs_out = self
            .days_left(item, at.date())
            .is_some_and(|days| days.round() <= soon);
        let is_on_its_way =
            self.basket.contains_key(&item) || self.tags.values().any(|tag| tag.item == item);
        if runs_out && !is_on_its_way && !self.kept_off.contains(&item) {
            self.list(item, None, Reason::RunningOut, at);
        }
    }

    /// The same of all things, by name.
    pub(super) fn list_all_soon(&mut self, at: NaiveDateTime) {
        let mut items: Vec<Item> = (0..self.names.len()).collect();
        items.sort_by_key(|item| &self.names[*item]);
        for item in items {
            self.list_if_soon(item, at);
        }
    }

    /// The person takes a line off: until it comes in again or a trip is over, it isn't put back by itself.
    pub(super) fn take_off_list(&mut self, item: Item) {
        if self.is_listed(item) {
            self.kept_off.insert(item);
        }
        self.unlist(item);
    }
}
