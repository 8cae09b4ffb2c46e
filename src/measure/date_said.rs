//! Dates as they should sound.

use chrono::{Datelike, NaiveDate};

use super::calendar::MONTHS;
use super::date::{JUST_PASSED, SOON, month_of_short_year};
use super::date_kind::DateKind;
use super::reading::DateNote;

/// The days around today that are named with their weekday.
const THIS_WEEK: i64 = 6;
/// Days of a year, at least.
const YEAR: i64 = 365;

impl DateNote {
    /// As it should sound, with what it means: "use by December 3".
    ///
    /// Within a week it is named ("tomorrow", "Friday, November 27"); otherwise month and day, with the year
    /// only where it matters: where [`read_date`](super::read_date) would take the words without it for another
    /// day, or ask.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::measure::{DateKind, DateNote};
    /// let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
    /// let today = day(2026, 11, 25);
    /// let use_by = |date| DateNote { kind: Some(DateKind::UseBy), date }.spoken(today);
    /// assert_eq!(use_by(day(2026, 11, 26)), "use by tomorrow");
    /// assert_eq!(use_by(day(2026, 11, 30)), "use by Monday, November 30");
    /// assert_eq!(use_by(day(2026, 12, 3)), "use by December 3");
    /// assert_eq!(use_by(day(2026, 11, 10)), "use by November 10, 2026");
    /// let opened = DateNote { kind: Some(DateKind::Opened), date: day(2026, 11, 10) };
    /// assert_eq!(opened.spoken(today), "opened November 10");
    /// ```
    pub fn spoken(&self, today: NaiveDate) -> String {
        match self.kind {
            Some(kind) => format!("{kind} {}", self.day_spoken(today)),
            None => self.day_spoken(today),
        }
    }

    /// The same without what it means: "December 3".
    pub fn day_spoken(&self, today: NaiveDate) -> String {
        let ahead = self.kind.is_none_or(DateKind::looks_ahead);
        let days = self.date.signed_duration_since(today).num_days();
        let (passed, soon) = (JUST_PASSED as i64, SOON as i64);
        let without_year = if ahead {
            0..YEAR - passed
        } else {
            soon + 1 - YEAR..1
        };
        match days {
            0 => "today".to_owned(),
            1 => "tomorrow".to_owned(),
            -1 => "yesterday".to_owned(),
            _ if days.abs() <= THIS_WEEK => say_weekday(self.date),
            // "March 28" may be March of 2028.
            _ if ahead && may_be_a_month(self.date, today) => say_in_full(self.date),
            _ if without_year.contains(&days) => say_day(self.date),
            _ => say_in_full(self.date),
        }
    }
}

/// A date by itself as it should sound: as [`DateNote::day_spoken`] of one that lies ahead.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::say_date;
/// let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
/// let today = day(2026, 11, 25);
/// assert_eq!(say_date(day(2026, 11, 26), today), "tomorrow");
/// assert_eq!(say_date(day(2026, 11, 20), today), "Friday, November 20");
/// assert_eq!(say_date(day(2028, 3, 1), today), "March 1, 2028");
/// ```
pub fn say_date(date: NaiveDate, today: NaiveDate) -> String {
    DateNote { kind: None, date }.day_spoken(today)
}

/// A date with its weekday and its year: for reading back what could be meant otherwise.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::say_date_to_check;
/// let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
/// assert_eq!(say_date_to_check(day(2026, 12, 4)), "Friday, December 4, 2026");
/// ```
pub fn say_date_to_check(date: NaiveDate) -> String {
    format!("{}, {}", date.format("%A"), say_in_full(date))
}

/// How far a date lies from today, where its name doesn't say it: "in 3 days", "2 weeks ago". `None` for today and the
/// days beside it, and for what is further than a month.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::say_distance;
/// let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
/// let today = day(2026, 11, 25);
/// assert_eq!(say_distance(day(2026, 11, 28), today).as_deref(), Some("in 3 days"));
/// assert_eq!(say_distance(day(2026, 11, 11), today).as_deref(), Some("2 weeks ago"));
/// assert_eq!(say_distance(day(2026, 11, 26), today), None);
/// ```
pub fn say_distance(date: NaiveDate, today: NaiveDate) -> Option<String> {
    let days = date.signed_duration_since(today).num_days();
    let count = match days.unsigned_abs() {
        0 | 1 | 32.. => return None,
        7 => "1 week".to_owned(),
        days if days.is_multiple_of(7) => format!("{} weeks", days / 7),
        days => format!("{days} days"),
    };
    Some(match days {
        1.. => format!("in {count}"),
        _ => format!("{count} ago"),
    })
}

/// Whether a day without its year may be heard as another month, with its year.
fn may_be_a_month(date: NaiveDate, today: NaiveDate) -> bool {
    let end = month_of_short_year(date.month(), date.day(), today);
    end.is_some_and(|end| (end.year(), end.month()) != (date.year(), date.month()))
}

fn say_day(date: NaiveDate) -> String {
    format!("{} {}", MONTHS[date.month0() as usize], date.day())
}

fn say_weekday(date: NaiveDate) -> String {
    format!("{}, {}", date.format("%A"), say_day(date))
}

fn say_in_full(date: NaiveDate) -> String {
    format!("{}, {}", say_day(date), date.format("%Y"))
}
