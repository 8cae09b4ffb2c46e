//! Dates with what they mean, as people say them and as they should sound.

use std::fmt;
use std::str::FromStr;

use chrono::{Datelike, Days, NaiveDate, Weekday};

use super::number::{cardinal, ordinal};

/// What a date on a thing means. The kinds are never merged: a sell-by date isn't a use-by date.
/// Source for the label's words: FSIS, "Food Product Dating".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum DateKind {
    /// Last date recommended for use.
    UseBy,
    /// Best quality until then.
    BestBy,
    /// How long the store should show it.
    SellBy,
    /// When to freeze it for best quality.
    FreezeBy,
    /// When it was packed.
    Packed,
    /// When the pack was opened.
    Opened,
    /// When it was frozen.
    Frozen,
    /// When it was bought.
    Bought,
}

impl DateKind {
    /// Every kind.
    pub const ALL: [Self; 8] = [
        Self::UseBy,
        Self::BestBy,
        Self::SellBy,
        Self::FreezeBy,
        Self::Packed,
        Self::Opened,
        Self::Frozen,
        Self::Bought,
    ];

    /// The words for it, spoken and written.
    pub fn name(self) -> &'static str {
        match self {
            Self::UseBy => "use by",
            Self::BestBy => "best by",
            Self::SellBy => "sell by",
            Self::FreezeBy => "freeze by",
            Self::Packed => "packed",
            Self::Opened => "opened",
            Self::Frozen => "frozen",
            Self::Bought => "bought",
        }
    }

    /// Whether it lies ahead when it is written down. The others lie in the past.
    pub fn looks_ahead(self) -> bool {
        matches!(
            self,
            Self::UseBy | Self::BestBy | Self::SellBy | Self::FreezeBy
        )
    }
}

impl fmt::Display for DateKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A text that names no [`DateKind`].
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” isn't a kind of date")]
pub struct NotADateKind(String);

impl FromStr for DateKind {
    type Err = NotADateKind;

    fn from_str(text: &str) -> Result<Self, NotADateKind> {
        let known = Self::ALL.into_iter().find(|kind| kind.name() == text);
        known.ok_or_else(|| NotADateKind(text.to_owned()))
    }
}

/// A date, and what it means if that was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DateNote {
    /// What it means.
    pub kind: Option<DateKind>,
    /// The day.
    pub date: NaiveDate,
}

/// Words that were meant as a date and make none.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DateError {
    /// Such as February 30.
    #[error("There is no {month} {day}. The last day of {month} is {last}")]
    NoSuchDay {
        /// The month's name.
        month: &'static str,
        /// The day that was said.
        day: u32,
        /// The last day that month has, in the year meant.
        last: u32,
    },
    /// Anything else.
    #[error("I couldn't make a date of “{words}”")]
    NotADate {
        /// What was said.
        words: String,
    },
}

const MONTHS: [&str; 12] = [
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
const WEEKDAYS: [(&str, Weekday); 7] = [
    ("monday", Weekday::Mon),
    ("tuesday", Weekday::Tue),
    ("wednesday", Weekday::Wed),
    ("thursday", Weekday::Thu),
    ("friday", Weekday::Fri),
    ("saturday", Weekday::Sat),
    ("sunday", Weekday::Sun),
];

/// Reads a date said in words, with the words for its kind before it if they were said.
///
/// A date without a year is the next one to come; for `packed`, `opened`, `frozen` and `bought` it
/// is the last one past. `today` counts as both. A month with a year alone is its last day.
///
/// # Errors
/// [`DateError`] where the words make no date, or one that doesn't exist.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::{DateKind, read_date};
/// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
/// let read = |s: &str| read_date(&s.split(' ').collect::<Vec<_>>(), today);
/// let note = read("use by december third").unwrap();
/// assert_eq!(note.kind, Some(DateKind::UseBy));
/// assert_eq!(note.date.to_string(), "2026-12-03");
/// assert_eq!(read("march twenty twenty seven").unwrap().date.to_string(), "2027-03-31");
/// assert!(read("february thirtieth").is_err());
/// ```
pub fn read_date(words: &[&str], today: NaiveDate) -> Result<DateNote, DateError> {
    let (kind, day) = split_kind(words);
    let day = day.strip_prefix(&["on"]).unwrap_or(day);
    let ahead = kind.is_none_or(DateKind::looks_ahead);
    let not_a_date = || DateError::NotADate {
        words: words.join(" "),
    };
    let relative = read_relative(day, today, ahead);
    let date = match relative {
        Some(date) => date,
        None => read_calendar(day, today, ahead).ok_or_else(not_a_date)??,
    };
    Ok(DateNote { kind, date })
}

/// The kind's words at the start, and the rest.
fn split_kind<'w>(words: &'w [&'w str]) -> (Option<DateKind>, &'w [&'w str]) {
    let kind = match words {
        // "used by" sounds the same.
        ["use", "it", "by" | "before", rest @ ..]
        | ["use" | "used", "by" | "before", rest @ ..] => (DateKind::UseBy, rest),
        ["best", "if", "used", "by" | "before", rest @ ..]
        | ["best", "by" | "before", rest @ ..] => (DateKind::BestBy, rest),
        ["sell", "by", rest @ ..] => (DateKind::SellBy, rest),
        ["freeze", "by", rest @ ..] => (DateKind::FreezeBy, rest),
        ["packed", rest @ ..] => (DateKind::Packed, rest),
        ["opened", rest @ ..] => (DateKind::Opened, rest),
        ["frozen", rest @ ..] => (DateKind::Frozen, rest),
        ["bought", rest @ ..] => (DateKind::Bought, rest),
        _ => return (None, words),
    };
    (Some(kind.0), kind.1)
}

/// Days counted from today, and weekdays.
fn read_relative(words: &[&str], today: NaiveDate, ahead: bool) -> Option<NaiveDate> {
    let in_days = |days: u64| today.checked_add_days(Days::new(days));
    let before = |days: u64| today.checked_sub_days(Days::new(days));
    let counted = |number: &[&str], unit: &str| -> Option<u64> {
        let count = match number {
            ["a" | "an"] => 1,
            _ => cardinal(number)?,
        };
        let days = match unit {
            "day" | "days" => 1,
            "week" | "weeks" => 7,
            _ => return None,
        };
        // A hundred years of days is further than any label looks.
        Some(count * days).filter(|d| *d <= 36_525)
    };
    match words {
        ["today"] => Some(today),
        ["tomorrow"] => in_days(1),
        ["yesterday"] => before(1),
        ["the", "day", "after", "tomorrow"] | ["day", "after", "tomorrow"] => in_days(2),
        ["in", number @ .., unit] => in_days(counted(number, unit)?),
        [number @ .., unit, "from", "now" | "today"] => in_days(counted(number, unit)?),
        [number @ .., unit, "ago"] => before(counted(number, unit)?),
        ["a", "week", "from", day] => weekday(day, today, true)?.checked_add_days(Days::new(7)),
        ["next", day] => {
            // The one in the next week, which begins on Monday: read back with its full date.
            let monday = in_days(7 - u64::from(today.weekday().num_days_from_monday()))?;
            let day = weekday_named(day)?;
            monday.checked_add_days(Days::new(day.num_days_from_monday().into()))
        }
        ["this", day] | [day] => weekday(day, today, ahead),
        ["the", "end", "of", "the", "month"] | ["end", "of", "the", "month"] => {
            last_of_month(today.year(), today.month())
        }
        _ => None,
    }
}

fn weekday_named(word: &str) -> Option<Weekday> {
    WEEKDAYS
        .iter()
        .find(|(name, _)| *name == word)
        .map(|(_, day)| *day)
}

/// The nearest such weekday ahead (or behind), never today itself: nobody calls today by its name.
fn weekday(word: &str, today: NaiveDate, ahead: bool) -> Option<NaiveDate> {
    let day = weekday_named(word)?;
    let distance = u64::from(day.days_since(today.weekday()));
    if ahead {
        today.checked_add_days(Days::new(if distance == 0 { 7 } else { distance }))
    } else {
        today.checked_sub_days(Days::new(7 - distance))
    }
}

/// Days named by month and number. `None`: the words have no such form.
fn read_calendar(
    words: &[&str],
    today: NaiveDate,
    ahead: bool,
) -> Option<Result<NaiveDate, DateError>> {
    let number = |w: &[&str]| ordinal(w).or_else(|| cardinal(w));
    // "twelve slash three", as a recogniser writes a date: month first, the label's way in the US.
    if let Some(slash) = words.iter().position(|w| *w == "slash") {
        let month = cardinal(&words[..slash]).filter(|m| (1..=12).contains(m))? as u32;
        let rest = &words[slash + 1..];
        return match rest.iter().position(|w| *w == "slash") {
            None => Some(place(month, cardinal(rest)?, None, today, ahead)),
            Some(second) => {
                let year = year(&rest[second + 1..]).or_else(|| short_year(&rest[second + 1..]))?;
                Some(place(
                    month,
                    cardinal(&rest[..second])?,
                    Some(year),
                    today,
                    ahead,
                ))
            }
        };
    }
    let words = words.strip_prefix(&["the"]).unwrap_or(words);
    let Some((at, month)) = words
        .iter()
        .enumerate()
        .find_map(|(i, w)| Some((i, month(w)?)))
    else {
        return Some(Ok(day_of_month(number(words)?, today, ahead)?));
    };
    let (before, after) = (&words[..at], &words[at + 1..]);
    if !before.is_empty() {
        // "third of march", "third of march twenty twenty seven"
        let day = number(before.strip_suffix(&["of"]).unwrap_or(before))?;
        let year = if after.is_empty() {
            None
        } else {
            Some(year(after)?)
        };
        return Some(place(month, day, year, today, ahead));
    }
    let after = after.strip_prefix(&["the"]).unwrap_or(after);
    if let Some(whole_month) = year(after) {
        return last_of_month(whole_month, month).map(Ok);
    }
    // "march third twenty twenty seven": the longest day that leaves nothing or a year.
    (1..=after.len()).rev().find_map(|end| {
        let day = number(&after[..end]).filter(|d| *d <= 31)?;
        let year = if end == after.len() {
            None
        } else {
            Some(year(&after[end..])?)
        };
        Some(place(month, day, year, today, ahead))
    })
}

fn month(word: &str) -> Option<u32> {
    MONTHS
        .iter()
        .position(|m| m.eq_ignore_ascii_case(word))
        .map(|i| i as u32 + 1)
}

/// A year of this century or the end of the last: "twenty twenty seven", "two thousand [and] nine".
fn year(words: &[&str]) -> Option<i32> {
    let words = words.strip_prefix(&["of"]).unwrap_or(words);
    let paired = match words {
        [century @ ("twenty" | "nineteen"), rest @ ..] if !rest.is_empty() => {
            let in_century = match rest {
                ["oh", digit] => cardinal(&[*digit]).filter(|d| *d < 10),
                _ => cardinal(rest).filter(|y| (10..100).contains(y)),
            };
            in_century.map(|y| y + if *century == "twenty" { 2000 } else { 1900 })
        }
        _ => None,
    };
    let year = paired.or_else(|| cardinal(words))?;
    (1950..2150).contains(&year).then_some(year as i32)
}

/// A year as labels write it behind two slashes: the "27" of 2027.
fn short_year(words: &[&str]) -> Option<i32> {
    let year = cardinal(words).filter(|year| *year < 100)?;
    Some(2000 + year as i32)
}

/// A month and day in the year said, or in the nearest year that fits.
fn place(
    month: u32,
    day: u64,
    year: Option<i32>,
    today: NaiveDate,
    ahead: bool,
) -> Result<NaiveDate, DateError> {
    let day = u32::try_from(day).unwrap_or(u32::MAX);
    let on = |year: i32| NaiveDate::from_ymd_opt(year, month, day);
    let found = match year {
        Some(year) => on(year),
        // Eight years reach the next February 29 from anywhere.
        None if ahead => (today.year()..=today.year() + 8)
            .filter_map(on)
            .find(|d| *d >= today),
        None => (today.year() - 8..=today.year())
            .rev()
            .filter_map(on)
            .find(|d| *d <= today),
    };
    found.ok_or_else(|| {
        let last = last_of_month(year.unwrap_or(today.year()), month);
        DateError::NoSuchDay {
            month: MONTHS[month as usize - 1],
            day,
            last: last.map_or(31, |d| d.day()),
        }
    })
}

/// "the fifteenth": the next month that has such a day (or the last one).
fn day_of_month(day: u64, today: NaiveDate, ahead: bool) -> Option<NaiveDate> {
    let day = u32::try_from(day).ok().filter(|d| (1..=31).contains(d))?;
    let first = today.with_day(1)?;
    (0..12).find_map(|months| {
        let span = chrono::Months::new(months);
        let month = if ahead {
            first.checked_add_months(span)?
        } else {
            first.checked_sub_months(span)?
        };
        month
            .with_day(day)
            .filter(|d| if ahead { *d >= today } else { *d <= today })
    })
}

fn last_of_month(year: i32, month: u32) -> Option<NaiveDate> {
    let first = NaiveDate::from_ymd_opt(year, month, 1)?;
    first.checked_add_months(chrono::Months::new(1))?.pred_opt()
}

/// A date as it should sound: by name within a week ("tomorrow", "Friday, November 27"),
/// otherwise month and day, with the year only where it isn't the nearest one.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::say_date;
/// let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
/// let today = day(2026, 11, 25);
/// assert_eq!(say_date(day(2026, 11, 26), today), "tomorrow");
/// assert_eq!(say_date(day(2026, 11, 30), today), "Monday, November 30");
/// assert_eq!(say_date(day(2026, 12, 3), today), "December 3");
/// assert_eq!(say_date(day(2028, 3, 1), today), "March 1, 2028");
/// ```
pub fn say_date(date: NaiveDate, today: NaiveDate) -> String {
    let days = date.signed_duration_since(today).num_days();
    let plain = format!("{} {}", MONTHS[date.month0() as usize], date.day());
    match days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        2..=6 => format!("{}, {plain}", date.format("%A")),
        -180..=300 => plain,
        _ => format!("{plain}, {}", date.year()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// Read on Wednesday, November 25, 2026.
    fn read(text: &str) -> String {
        let words: Vec<&str> = text.split(' ').collect();
        match read_date(&words, day("2026-11-25")) {
            Ok(note) => note.date.to_string(),
            Err(error) => error.to_string(),
        }
    }

    #[test]
    fn dates_are_read_as_people_say_them() {
        for (said, date) in [
            ("october fifteenth", "2027-10-15"),
            ("the fifteenth", "2026-12-15"),
            ("fifteenth of october", "2027-10-15"),
            ("the third of march twenty twenty seven", "2027-03-03"),
            ("march third two thousand twenty seven", "2027-03-03"),
            ("march third twenty twenty seven", "2027-03-03"),
            ("december twenty first", "2026-12-21"),
            ("december twenty one", "2026-12-21"),
            ("december the third", "2026-12-03"),
            ("march twenty twenty eight", "2028-03-31"),
            ("february two thousand twenty eight", "2028-02-29"),
            ("twelve slash three", "2026-12-03"),
            (
                "three slash four slash two thousand twenty seven",
                "2027-03-04",
            ),
            ("three slash four slash twenty seven", "2027-03-04"),
            ("used by december third", "2026-12-03"),
            ("tomorrow", "2026-11-26"),
            ("the day after tomorrow", "2026-11-27"),
            ("in three days", "2026-11-28"),
            ("in a week", "2026-12-02"),
            ("two weeks from today", "2026-12-09"),
            ("friday", "2026-11-27"),
            ("this friday", "2026-11-27"),
            ("next friday", "2026-12-04"),
            ("a week from friday", "2026-12-04"),
            ("wednesday", "2026-12-02"),
            ("november twenty fifth", "2026-11-25"),
            ("the end of the month", "2026-11-30"),
            ("opened november twentieth", "2026-11-20"),
            ("bought the twenty sixth", "2026-10-26"),
            ("frozen yesterday", "2026-11-24"),
            ("february twenty ninth", "2028-02-29"),
        ] {
            assert_eq!(read(said), date, "{said}");
        }
    }

    #[test]
    fn a_day_that_does_not_exist_is_refused() {
        assert_eq!(
            read("february thirtieth"),
            "There is no February 30. The last day of February is 28"
        );
        assert_eq!(
            read("february twenty ninth twenty twenty seven"),
            "There is no February 29. The last day of February is 28"
        );
        assert_eq!(
            read("june thirty first"),
            "There is no June 31. The last day of June is 30"
        );
        assert_eq!(read("in"), "I couldn't make a date of “in”");
    }

    #[test]
    fn kinds_keep_their_names() {
        for kind in DateKind::ALL {
            assert_eq!(kind.name().parse(), Ok(kind));
        }
    }
}
