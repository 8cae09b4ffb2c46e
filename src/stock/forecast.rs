//! When an item runs out, from how it was used so far.
//!
//! Most of a kitchen's stock is used now and then, on most days not at all. Croston's method (J. D. Croston,
//! Forecasting and stock control for intermittent demands, Operational Research Quarterly 23(3), 1972, 289–303) is made
//! for that: it smooths the sizes of the uses and the days between them, each for itself. The answer takes the variant
//! of Syntetos and Boylan (The accuracy of intermittent demand estimates, International Journal of Forecasting 21(2),
//! 2005, 303–314): Croston's own rate is too high on average, and things would be told to run out too early.
//!
//! Croston's method has no spread of its own. Here it is that of a compound renewal process: see [`run_out`].

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

/// How fast older uses fade: the last use is a tenth of what is known. Source: the default of `croston` in the R
/// package forecast, and what the library statsforecast has fixed, by which this is checked.
const ALPHA: f64 = 0.1;

/// What Croston's rate is multiplied by. Source: Syntetos and Boylan (2005), 1 − α/2.
const UNBIASED: f64 = 1.0 - ALPHA / 2.0;

/// Days with use that are needed, so that there are four intervals between them. With fewer, a single odd one decides
/// the rate, and how far they differ can hardly be told. That five are enough is measured: see [`run_out`].
const FEWEST: usize = 5;

/// A pause of more than this many times the longest one so far says that the habit is another now. If uses come purely
/// at random, such a pause is the next one with a probability of 2 / ((n + 1)(n + 2)) after n of them: 5 % at the
/// fewest.
const TOO_LONG: f64 = 2.0;

/// The quantile of the normal distribution that leaves 10 % above it: on both sides, 80 % lie between.
const TENTH: f64 = 1.2816;

/// Days after which nothing is told any more closely: ten years, longer than anything keeps.
const FARTHEST: f64 = 3652.0;

/// So much of an item was used on a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// The day.
    pub on: NaiveDate,
    /// How much, in the unit in which what is left is counted too. What is no positive number is no use.
    pub amount: f64,
}

/// When what is left of an item will be used up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RunOut {
    /// The day before which it hardly runs out: measured, one time in 20.
    pub earliest: NaiveDate,
    /// The day on which it does at the rate so far.
    pub likely: NaiveDate,
    /// The day after which there is hardly any left: measured, one time in eight.
    pub latest: NaiveDate,
    /// How many days there are from one use to the next, about: one at least.
    pub every: u64,
}

/// What is used a day, by Croston's method as it was published. `None` where nothing was used.
///
/// The series holds what was used on each day, none left out; what is no positive number counts as nothing used. The
/// first interval runs from the day before the series; the first use is where the smoothing starts. Source of these
/// conventions: statsforecast and the R package forecast, which have the same.
///
/// ```
/// // Two every other day.
/// assert_eq!(tellshelf::stock::croston(&[0.0, 2.0, 0.0, 2.0, 0.0]), Some(1.0));
/// assert_eq!(tellshelf::stock::croston(&[0.0, 0.0]), None);
/// ```
pub fn croston(series: &[f64]) -> Option<f64> {
    let habit = Habit::of_series(series);
    Some(from_first(&habit.sizes)? / from_first(&habit.intervals)?)
}

/// What is used a day, by the variant of Syntetos and Boylan. `None` where nothing was used.
///
/// ```
/// assert_eq!(tellshelf::stock::sba(&[0.0, 2.0, 0.0, 2.0, 0.0]), Some(0.95));
/// ```
pub fn sba(series: &[f64]) -> Option<f64> {
    croston(series).map(|rate| UNBIASED * rate)
}

/// What is used a day, by the method of Teunter, Syntetos and Babai (Intermittent demand: Linking forecasting to
/// inventory obsolescence, European Journal of Operational Research 214(3), 2011, 606–615). `None` where nothing was
/// used.
///
/// It smooths, instead of the intervals, day by day whether there was a use, so that its rate falls while nothing is
/// used. The answer doesn't take it: it forgets within weeks what is used once a month.
///
/// ```
/// use tellshelf::stock::{croston, tsb};
/// let (used, left_alone) = ([1.0, 1.0, 1.0], [1.0, 1.0, 1.0, 0.0, 0.0, 0.0]);
/// assert_eq!(croston(&used), croston(&left_alone));
/// assert!(tsb(&used) > tsb(&left_alone));
/// ```
pub fn tsb(series: &[f64]) -> Option<f64> {
    let used: Vec<f64> = series.iter().map(|day| is_use(*day).into()).collect();
    Some(from_first(&used)? * from_first(&Habit::of_series(series).sizes)?)
}

/// When what is left of an item will be used up, going by its uses from one day up to today, both included.
///
/// `None` where that can't be told: there were fewer than five days with use, or the last one is longer ago than twice
/// the longest pause before, or nothing is left, or amounts are beyond all reckoning. Uses on other days, and amounts
/// that are no positive numbers, are left out.
///
/// *Likely*: at the rate of [`sba`], counted from the last use, but that the smoothing starts with the mean of all uses
/// (otherwise the first alone would have two thirds of the weight while there are five). It takes one interval at
/// least. The more even the intervals are, the more of the days since the last use are taken off: who bakes each
/// Saturday will next Saturday, but where uses come purely at random, the next one is no nearer for the wait.
///
/// *Earliest and latest*: the day is meant to lie between them four times in five. Uses are taken for a compound
/// renewal process: so much that n of them are needed on average lasts for a time with the variance
/// n · interval² · (c² + d²), if sizes and intervals are independent, with the coefficients of variation c and d (the
/// asymptotic variance of renewal theory, for instance D. R. Cox, Renewal Theory, 1962: from memory). To that comes that
/// size and interval are themselves only estimated, from few uses. The time is taken for gamma distributed, as it is
/// where uses of one size come purely at random. Nothing is drawn by lot: the same question has the same answer.
///
/// Measured on three times 500 simulated kitchens with habits of another kind (`tests/stock_forecast.rs`): it ran out
/// between the two days in 81 % after five to seven days with use, in 84 % after eight to 20, and in 82 % after 21 to
/// 60; before the earliest in 4 to 5 %; and the two were as far apart, in the median, as the time that it took.
///
/// ```
/// use chrono::{Days, NaiveDate};
/// use tellshelf::stock::{Use, run_out};
/// let since = NaiveDate::from_ymd_opt(2026, 5, 1).unwrap();
/// // One every third day, the last today.
/// let on = |n: u64| since + Days::new(3 * n - 1);
/// let uses: Vec<Use> = (1..=6).map(|n| Use { on: on(n), amount: 1.0 }).collect();
/// let told = run_out(&uses, since, on(6), 4.0).unwrap();
/// assert!(told.earliest <= on(10) && on(10) <= told.latest);
/// assert_eq!(run_out(&uses[..4], since, on(4), 4.0), None);
/// ```
pub fn run_out(uses: &[Use], since: NaiveDate, today: NaiveDate, left: f64) -> Option<RunOut> {
    let habit = Habit::between(uses, since, today);
    let days_used = habit.sizes.len();
    if days_used < FEWEST || !is_use(left) {
        return None;
    }
    let longest = habit.intervals.iter().copied().fold(0.0, f64::max);
    // The intervals run from the day before the first one without a gap to the last use.
    let idle = (today - since).num_days() as f64 + 1.0 - habit.intervals.iter().sum::<f64>();
    if idle > TOO_LONG * longest {
        return None;
    }

    let size = from_mean(&habit.sizes);
    let interval = from_mean(&habit.intervals);
    let uneven = variation(&habit.intervals);
    let spread = uneven + variation(&habit.sizes);

    let from_last_use = (left / (UNBIASED * size) * interval).max(interval);
    let mean = (from_last_use - idle * (1.0 - uneven.min(1.0))).max(1.0);
    let to_come = (left / size).max(1.0) * interval.powi(2) * spread;
    let estimated = mean.powi(2) * spread * weight_of_squares(days_used);
    let variance = to_come + estimated;
    if ![size, mean, variance].iter().all(|x| x.is_finite()) {
        return None;
    }
    let at = |days: f64| {
        // Whole already: only the type changes.
        let days = Days::new(days.clamp(0.0, FARTHEST) as u64);
        today.checked_add_days(days).unwrap_or(NaiveDate::MAX)
    };
    let likely = mean.round();
    // The first interval isn't one between two uses: it may begin with the first of them.
    let every = from_mean(&habit.intervals[1..]);
    Some(RunOut {
        every: every.round().clamp(1.0, FARTHEST) as u64,
        earliest: at(gamma_quantile(mean, variance, -TENTH).floor().min(likely)),
        likely: at(likely),
        latest: at(gamma_quantile(mean, variance, TENTH).ceil().max(likely)),
    })
}

/// The days with use: how much was used on each, and how many days after the one before.
struct Habit {
    sizes: Vec<f64>,
    intervals: Vec<f64>,
}

impl Habit {
    fn of_series(series: &[f64]) -> Self {
        Self::of_days((1..).zip(series.iter().copied()))
    }

    /// From the dates, not by way of a series, which would hold millions of days for a slip of the year.
    fn between(uses: &[Use], since: NaiveDate, today: NaiveDate) -> Self {
        let mut days = BTreeMap::new();
        for one in uses.iter().filter(|one| is_use(one.amount)) {
            if (since..=today).contains(&one.on) {
                *days.entry((one.on - since).num_days() + 1).or_insert(0.0) += one.amount;
            }
        }
        Self::of_days(days.into_iter())
    }

    /// From days in their order, counted from one, with what was used.
    fn of_days(days: impl Iterator<Item = (i64, f64)>) -> Self {
        let (mut sizes, mut intervals) = (Vec::new(), Vec::new());
        let mut before = 0;
        for (day, size) in days.filter(|(_, size)| is_use(*size)) {
            sizes.push(size);
            intervals.push((day - before) as f64);
            before = day;
        }
        Self { sizes, intervals }
    }
}

fn is_use(amount: f64) -> bool {
    amount.is_finite() && amount > 0.0
}

/// Simple exponential smoothing.
fn smoothed(start: f64, values: &[f64]) -> f64 {
    values
        .iter()
        .fold(start, |level, value| level + ALPHA * (value - level))
}

fn from_first(values: &[f64]) -> Option<f64> {
    values
        .split_first()
        .map(|(first, others)| smoothed(*first, others))
}

fn from_mean(values: &[f64]) -> f64 {
    smoothed(mean(values), values)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// The square of the coefficient of variation.
fn variation(values: &[f64]) -> f64 {
    let mean = mean(values);
    let squares: f64 = values
        .iter()
        .map(|value| (value / mean - 1.0).powi(2))
        .sum();
    squares / (values.len() - 1) as f64
}

/// The sum of the squared weights that [`from_mean`] gives to so many values: the variance of its result as a part of
/// theirs. About one in `count` while there are few, and never less than α / (2 − α).
fn weight_of_squares(count: usize) -> f64 {
    // The weight of value i is start / n + α (1 − α)^(n − i).
    let count = count as f64;
    let start = (1.0 - ALPHA).powf(count);
    start * (2.0 - start) / count + ALPHA / (2.0 - ALPHA) * (1.0 - start.powi(2))
}

/// A quantile of the gamma distribution, from that of the normal one. Source: E. B. Wilson and M. M. Hilferty, The
/// distribution of chi-square, PNAS 17(12), 1931, 684–688: its cube root is nearly normal.
fn gamma_quantile(mean: f64, variance: f64, normal: f64) -> f64 {
    let ninth = variance / mean.powi(2) / 9.0;
    mean * (1.0 - ninth + normal * ninth.sqrt()).max(0.0).powi(3)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against SciPy's quantiles, which `tests/data/stock/make-croston.py` wrote.
    #[test]
    fn the_quantiles_are_nearly_those_of_the_gamma_distribution() {
        let table = include_str!("../../tests/data/stock/gamma.tsv");
        for line in table.lines().filter(|line| !line.starts_with('#')) {
            let row: Vec<f64> = line.split('\t').map(|cell| cell.parse().unwrap()).collect();
            let &[shape, low, high] = &row[..] else {
                panic!("{line}");
            };
            // With the mean 1, the variance is one in the shape. It is off by most at the shape 1: by one day in forty.
            assert!((gamma_quantile(1.0, 1.0 / shape, -TENTH) - low).abs() < 0.025);
            assert!((gamma_quantile(1.0, 1.0 / shape, TENTH) - high).abs() < 0.025);
        }
    }

    #[test]
    fn the_weights_are_those_of_the_smoothing() {
        for count in [1, 2, 5, 19, 60] {
            // The weight of a value is what the result changes by with it.
            let weight = |i: usize| {
                let mut values = vec![0.0; count];
                values[i] = 1.0;
                from_mean(&values)
            };
            let squares: f64 = (0..count).map(|i| weight(i).powi(2)).sum();
            assert!((squares - weight_of_squares(count)).abs() < 1e-12);
        }
    }
}
