//! When things run out: the rates against statsforecast, in a table that `tests/data/stock/make-croston.py` writes with
//! its version, and the days against simulated kitchens, which know nothing of the model.

use chrono::{Days, NaiveDate};
use tellshelf::stock::{RunOut, Use, croston, run_out, sba, tsb};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn since() -> NaiveDate {
    day("2026-01-01")
}

/// The uses of a series of days, the first of which is `since()`, and the last of them.
fn uses_of(series: &[f64]) -> (Vec<Use>, NaiveDate) {
    let uses = (0..).zip(series).map(|(n, amount)| Use {
        on: since() + Days::new(n),
        amount: *amount,
    });
    (uses.collect(), since() + Days::new(series.len() as u64 - 1))
}

fn told(series: &[f64], left: f64) -> Option<RunOut> {
    let (uses, today) = uses_of(series);
    run_out(&uses, since(), today, left)
}

/// `amount` every `interval` days, so often.
fn steady(amount: f64, interval: usize, count: usize) -> Vec<f64> {
    let one = (1..=interval).map(|n| if n == interval { amount } else { 0.0 });
    one.collect::<Vec<_>>().repeat(count)
}

#[test]
fn rates_are_those_of_statsforecast() {
    let table = include_str!("data/stock/croston.tsv");
    let mut compared = 0;
    for line in table.lines().filter(|line| !line.starts_with('#')) {
        let row: Vec<&str> = line.split('\t').collect();
        let &[name, classic, corrected, by_day, series] = &row[..] else {
            panic!("{line}");
        };
        let series: Vec<f64> = series.split(' ').map(|n| n.parse().unwrap()).collect();
        for (ours, theirs) in [
            (croston(&series), classic),
            (sba(&series), corrected),
            (tsb(&series), by_day),
        ] {
            let theirs: f64 = theirs.parse().unwrap();
            match ours {
                Some(ours) => assert!((ours / theirs - 1.0).abs() < 1e-9, "{name}: {ours}"),
                // It says zero where nothing was ever used. Here there is no rate: nothing is known.
                None => assert_eq!((name, theirs), ("never", 0.0)),
            }
            compared += 1;
        }
    }
    assert_eq!(compared, 28 * 3);
}

#[test]
fn what_is_no_positive_number_is_no_use() {
    let bad = [f64::NAN, -3.0, 2.0, f64::INFINITY, f64::NEG_INFINITY, 2.0];
    let good = [0.0, 0.0, 2.0, 0.0, 0.0, 2.0];
    for rate in [croston, sba, tsb] {
        assert_eq!(rate(&bad), rate(&good));
    }
    assert_eq!(told(&bad.repeat(4), 9.0), told(&good.repeat(4), 9.0));
    for left in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(told(&steady(1.0, 3, 8), left), None);
    }
}

#[test]
fn a_steady_habit_goes_on() {
    for (interval, left) in [(1, 4.0), (2, 3.0), (7, 2.0)] {
        let series = steady(1.0, interval, 10);
        let told = told(&series, left).unwrap();
        let (_, today) = uses_of(&series);
        let runs_out = today + Days::new(interval as u64 * left as u64);
        assert!(told.earliest <= runs_out && runs_out <= told.latest);
        assert_eq!(told.every, interval as u64);
        // The rate is taken to be a twentieth lower than it was.
        assert!((told.likely - runs_out).num_days().abs() <= 1);
    }
}

#[test]
fn the_likely_day_is_that_of_the_corrected_rate() {
    let series = steady(1.0, 7, 10);
    let days = 19.0 / sba(&series).unwrap();
    let (_, today) = uses_of(&series);
    assert_eq!(
        told(&series, 19.0).unwrap().likely,
        today + Days::new(days.round() as u64)
    );
}

#[test]
fn less_than_one_use_lasts_until_the_next() {
    let series = steady(1.0, 7, 10);
    let next = uses_of(&series).1 + Days::new(7);
    assert_eq!(told(&series, 0.1).unwrap().likely, next);
}

#[test]
fn several_uses_of_a_day_add_up_in_any_order() {
    let (whole, today) = uses_of(&steady(2.0, 3, 6));
    let mut halves: Vec<Use> = whole.iter().chain(&whole).copied().collect();
    for half in &mut halves {
        half.amount /= 2.0;
    }
    halves.reverse();
    let told = run_out(&halves, since(), today, 7.0);
    assert!(told.is_some());
    assert_eq!(told, run_out(&whole, since(), today, 7.0));
}

#[test]
fn other_days_are_left_out() {
    let (mut uses, today) = uses_of(&steady(1.0, 3, 6));
    let told = run_out(&uses, since(), today, 7.0);
    for on in [since() - Days::new(1), today + Days::new(1)] {
        uses.push(Use { on, amount: 50.0 });
    }
    assert_eq!(run_out(&uses, since(), today, 7.0), told);
}

#[test]
fn nothing_is_told_before_four_intervals_are_known() {
    assert_eq!(told(&steady(1.0, 3, 4), 5.0), None);
    assert!(told(&steady(1.0, 3, 5), 5.0).is_some());
    // Many uses of one day are one.
    let uses = [Use {
        on: since(),
        amount: 1.0,
    }; 20];
    assert_eq!(run_out(&uses, since(), since(), 5.0), None);
    assert_eq!(run_out(&[], since(), since(), 5.0), None);
}

#[test]
fn nothing_is_told_of_a_habit_that_ended() {
    let idle = |days| [steady(1.0, 3, 8), vec![0.0; days]].concat();
    assert!(told(&idle(6), 5.0).is_some());
    assert_eq!(told(&idle(7), 5.0), None);
}

#[test]
fn a_wait_brings_the_next_use_nearer_only_where_the_intervals_are_even() {
    let even = steady(1.0, 6, 8);
    let uneven = [steady(1.0, 1, 3), steady(1.0, 9, 3)].concat().repeat(2);
    let later = |series: &[f64]| {
        let waited = [series, &[0.0; 5]].concat();
        let moved = told(&waited, 4.0).unwrap().likely - told(series, 4.0).unwrap().likely;
        moved.num_days()
    };
    assert_eq!(later(&even), 0);
    assert!(later(&uneven) > 0);
}

#[test]
fn the_less_even_the_uses_the_wider_apart_are_the_days() {
    let width = |told: RunOut| (told.latest - told.earliest).num_days();
    let even = told(&steady(2.0, 4, 10), 10.0).unwrap();
    let sizes = [steady(1.0, 4, 1), steady(3.0, 4, 1)].concat().repeat(5);
    let intervals = [steady(2.0, 1, 1), steady(2.0, 7, 1)].concat().repeat(5);
    let both = [steady(1.0, 1, 1), steady(3.0, 7, 1)].concat().repeat(5);
    for one in [&sizes, &intervals] {
        let one = width(told(one, 10.0).unwrap());
        assert!(width(even) < one && one < width(told(&both, 10.0).unwrap()));
    }
}

#[test]
fn no_numbers_and_no_dates_are_too_large() {
    let amounts = [1e-308, 1e-9, 1.0, 1e9, 1e308, f64::MAX];
    let ends = [NaiveDate::MIN, since(), NaiveDate::MAX - Days::new(20)];
    for (from, amount, left) in ends
        .into_iter()
        .flat_map(|from| amounts.map(|amount| (from, amount)))
        .flat_map(|(from, amount)| amounts.map(|left| (from, amount, left)))
    {
        let on = |n: u64| from + Days::new(n);
        let uses: Vec<Use> = (0..=20).map(|n| Use { on: on(n), amount }).collect();
        for today in [on(20), NaiveDate::MAX] {
            if let Some(told) = run_out(&uses, from, today, left) {
                assert!(today <= told.earliest);
                assert!(told.earliest <= told.likely && told.likely <= told.latest);
                assert!((told.latest - today).num_days() <= 3652);
            }
        }
    }
    // What can't be reckoned with isn't told.
    assert_eq!(told(&steady(1.0, 3, 8), 1e300), None);
    assert_eq!(told(&steady(f64::MAX, 3, 8), 1.0), None);
    // The history of a thousand years is no longer to work through than its uses.
    let uses = uses_of(&steady(1.0, 3, 8)).0;
    assert!(run_out(&uses, NaiveDate::MIN, since() + Days::new(30), 5.0).is_some());
    // Where the days can be told, they end ten years on.
    let far = told(&steady(1.0, 3, 8), 1e6).unwrap();
    assert_eq!(far.latest, uses_of(&steady(1.0, 3, 8)).1 + Days::new(3652));
}

/// Numbers drawn by lot, the same on every machine. Source: SplitMix64 (Steele, Lea and Flood, Fast splittable
/// pseudorandom number generators, OOPSLA 2014), its constants from memory.
struct Lot(u64);

impl Lot {
    fn draw(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, count: usize) -> usize {
        (self.draw() * count as f64) as usize
    }

    fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())]
    }
}

/// How a household uses an item. Other than the model has it, uses hang on the weekday, become more or fewer in time,
/// are doubled with guests at the weekend, and stop for days when nobody is at home.
struct Kitchen {
    lot: Lot,
    /// Every so many days, or one day more or less; or else at a chance for each weekday.
    every: Option<usize>,
    chances: [f64; 7],
    drift: f64,
    sizes: &'static [f64],
    today: usize,
    next: usize,
    away_until: usize,
}

impl Kitchen {
    fn new(seed: u64) -> Self {
        let mut lot = Lot(seed);
        let often = lot.one_of(&[0.3, 1.0]);
        let mut chances = [0.0; 7].map(|_: f64| often * lot.draw().powi(2));
        chances[lot.below(7)] = 0.6;
        let every = lot.one_of(&[None, Some(2), Some(3), Some(5), Some(7), Some(10)]);
        Self {
            every: every.filter(|_| seed.is_multiple_of(2)),
            chances,
            drift: 0.006 * (lot.draw() - 0.5),
            sizes: lot.one_of(&[
                &[1.0][..],
                &[1.0, 1.0, 2.0],
                &[1.0, 2.0, 4.0],
                &[0.25, 0.5, 0.5, 1.0],
                &[50.0, 100.0, 150.0, 400.0],
            ]),
            today: 0,
            next: lot.below(7),
            away_until: 0,
            lot,
        }
    }

    /// What is used on the next day.
    fn day(&mut self) -> f64 {
        let today = self.today;
        self.today += 1;
        if today < self.away_until {
            return 0.0;
        }
        if self.lot.below(120) == 0 {
            self.away_until = today + 3 + self.lot.below(7);
        }
        let uses = match self.every {
            Some(days) => {
                today >= self.next && {
                    self.next = today + days + self.lot.one_of(&[0, 1, 1, 1, 2]) - 1;
                    true
                }
            }
            None => {
                let drift = (1.0 + self.drift * today as f64).max(0.2);
                self.lot.draw() < self.chances[today % 7] * drift
            }
        };
        let guests = today % 7 >= 5 && self.lot.below(5) == 0;
        match (uses, guests) {
            (false, _) => 0.0,
            (true, false) => self.lot.one_of(self.sizes),
            (true, true) => 2.0 * self.lot.one_of(self.sizes),
        }
    }
}

/// How what was told of many kitchens came true.
#[derive(Default, Debug)]
struct Tally {
    told: usize,
    within: usize,
    before: usize,
    after: usize,
    /// How far off the likely day was, and how far apart the two others, as a part of the days it took.
    off: Vec<f64>,
    width: Vec<f64>,
}

/// Asks about 500 kitchens after so many days with use and up to a week more, with a few uses left.
fn ask(fewest: usize, most: usize) -> Tally {
    let mut tally = Tally::default();
    for seed in 0..500 {
        let mut kitchen = Kitchen::new(seed);
        let count = fewest + kitchen.lot.below(most - fewest + 1);
        let mut series = Vec::new();
        while series.iter().filter(|used| **used > 0.0).count() < count {
            series.push(kitchen.day());
        }
        for _ in 0..kitchen.lot.below(7) {
            series.push(kitchen.day());
        }
        let mut left = kitchen.lot.one_of(kitchen.sizes) * (2 + kitchen.lot.below(11)) as f64;
        let Some(told) = told(&series, left) else {
            continue;
        };
        let today = uses_of(&series).1;
        let mut runs_out = today;
        while left > 1e-9 {
            runs_out = runs_out + Days::new(1);
            left -= kitchen.day();
        }
        tally.told += 1;
        tally.before += usize::from(runs_out < told.earliest);
        tally.after += usize::from(told.latest < runs_out);
        tally.within += usize::from(told.earliest <= runs_out && runs_out <= told.latest);
        let took = (runs_out - today).num_days() as f64;
        tally
            .off
            .push((told.likely - runs_out).num_days() as f64 / took);
        tally
            .width
            .push((told.latest - told.earliest).num_days() as f64 / took);
    }
    tally
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Four times in five is what it means to tell. A span that is too wide would always be right, and say nothing.
#[test]
fn kitchens_run_out_between_the_days_told() {
    for (fewest, most) in [(5, 7), (8, 20), (21, 60)] {
        let mut tally = ask(fewest, most);
        let part = |count: usize| count as f64 / tally.told as f64;
        let (within, before, after) = (part(tally.within), part(tally.before), part(tally.after));
        let (off, width) = (median(&mut tally.off), median(&mut tally.width));
        println!(
            "{fewest} to {most} uses: {} of 500 told, {within:.3} between, {before:.3} before, {after:.3} after, \
             likely day off by {off:+.3}, width {width:.3}",
            tally.told
        );
        assert!(tally.told >= 450, "{fewest} to {most}");
        assert!(
            (0.70..=0.95).contains(&within),
            "{fewest} to {most}: {within}"
        );
        // Too late a warning is the worse mistake.
        assert!(before <= 0.12, "{fewest} to {most}: {before}");
        assert!(off.abs() <= 0.15, "{fewest} to {most}: {off}");
        assert!(width <= 1.5, "{fewest} to {most}: {width}");
    }
}
