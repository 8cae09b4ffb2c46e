//! Days of the calendar: the nearest one that fits what was said of it.

use chrono::{Datelike, Days, Months, NaiveDate, Weekday};

pub(super) const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The way in which a date lies from today, where the words leave that open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Direction {
    Ahead,
    Behind,
}

impl Direction {
    /// The other one.
    pub fn turned(self) -> Self {
        match self {
            Self::Ahead => Self::Behind,
            Self::Behind => Self::Ahead,
        }
    }

    fn fits(self, date: NaiveDate, today: NaiveDate) -> bool {
        match self {
            Self::Ahead => date >= today,
            Self::Behind => date <= today,
        }
    }

    /// So many days on, in this direction.
    pub fn days(self, from: NaiveDate, count: u64) -> Option<NaiveDate> {
        match self {
            Self::Ahead => from.checked_add_days(Days::new(count)),
            Self::Behind => from.checked_sub_days(Days::new(count)),
        }
    }

    /// So many calendar months on; a day that the month hasn't becomes its last.
    pub fn months(self, from: NaiveDate, count: u32) -> Option<NaiveDate> {
        match self {
            Self::Ahead => from.checked_add_months(Months::new(count)),
            Self::Behind => from.checked_sub_months(Months::new(count)),
        }
    }

    /// The nearest such weekday, never today itself: nobody calls today by its name.
    pub fn weekday(self, day: Weekday, today: NaiveDate) -> Option<NaiveDate> {
        let ahead = u64::from(day.days_since(today.weekday()));
        match self {
            Self::Ahead => self.days(today, if ahead == 0 { 7 } else { ahead }),
            Self::Behind => self.days(today, 7 - ahead),
        }
    }

    /// The nearest such day of a year; today counts. Eight years reach February 29 from anywhere.
    pub fn day_of_year(self, month: u32, day: u32, today: NaiveDate) -> Option<NaiveDate> {
        (0..=8).find_map(|years| {
            let year = match self {
                Self::Ahead => today.year() + years,
                Self::Behind => today.year() - years,
            };
            let date = NaiveDate::from_ymd_opt(year, month, day)?;
            self.fits(date, today).then_some(date)
        })
    }

    /// The nearest month that has such a day; today counts.
    pub fn day_of_month(self, day: u32, today: NaiveDate) -> Option<NaiveDate> {
        let first = today.with_day(1)?;
        (0..12).find_map(|months| {
            let date = self.months(first, months)?.with_day(day)?;
            self.fits(date, today).then_some(date)
        })
    }
}

pub(super) fn last_of_month(year: i32, month: u32) -> Option<NaiveDate> {
    let first = NaiveDate::from_ymd_opt(year, month, 1)?;
    first.checked_add_months(Months::new(1))?.pred_opt()
}
