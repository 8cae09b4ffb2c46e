//! Storage times as they are published, and when they end.

use std::fmt;
use std::str::FromStr;

use chrono::{Days, Months, NaiveDate};

/// How long a food keeps, in the words of the published table. Source: the values in the FoodKeeper open data set.
///
/// ```
/// use tellshelf::guide::StorageTime;
/// let time: StorageTime = "3 - 4 Days".parse().unwrap();
/// assert_eq!(time.to_string(), "3 to 4 days");
/// assert_eq!("Package use-by date".parse(), Ok(StorageTime::PackageDate));
/// assert!("a while".parse::<StorageTime>().is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StorageTime {
    /// It isn't to be kept so.
    NotRecommended,
    /// So long.
    For(Span),
    /// Until the use-by date on the pack.
    PackageDate,
    /// Until it is ripe.
    WhenRipe,
    /// Without an end.
    Indefinitely,
}

impl StorageTime {
    /// What is to be compared to find the stricter of two: the smaller is. A span is stricter than what has no end of its
    /// own, since the date on the pack holds whatever the table says.
    pub(super) fn strictness(self) -> (u8, u32, u32) {
        match self {
            Self::NotRecommended => (0, 0, 0),
            Self::For(span) => (
                1,
                span.least * span.unit.hours(),
                span.most * span.unit.hours(),
            ),
            Self::PackageDate => (2, 0, 0),
            Self::WhenRipe => (3, 0, 0),
            Self::Indefinitely => (4, 0, 0),
        }
    }
}

impl fmt::Display for StorageTime {
    /// As it should sound.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotRecommended => f.write_str("not recommended"),
            Self::For(span) => span.fmt(f),
            Self::PackageDate => f.write_str("until the use-by date on the pack"),
            Self::WhenRipe => f.write_str("until ripe"),
            Self::Indefinitely => f.write_str("without an end"),
        }
    }
}

/// A length of time, or the shortest and the longest that are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    least: u32,
    most: u32,
    unit: Unit,
}

impl Span {
    /// The day on which the shorter end of it is over, counted from a day. Hours that make no whole day end on the same
    /// day. `None` where the calendar ends before.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::guide::StorageTime;
    /// let day = |m, d| NaiveDate::from_ymd_opt(2026, m, d).unwrap();
    /// let StorageTime::For(span) = "1 - 2 Months".parse().unwrap() else { panic!() };
    /// assert_eq!(span.end(day(1, 31)), Some(day(2, 28)));
    /// ```
    pub fn end(self, from: NaiveDate) -> Option<NaiveDate> {
        match self.unit {
            Unit::Hour => from.checked_add_days(Days::new((self.least / 24).into())),
            Unit::Day => from.checked_add_days(Days::new(self.least.into())),
            Unit::Week => from.checked_add_days(Days::new(7 * u64::from(self.least))),
            Unit::Month => from.checked_add_months(Months::new(self.least)),
            Unit::Year => from.checked_add_months(Months::new(12 * self.least)),
        }
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.least != self.most {
            write!(f, "{} to ", self.least)?;
        }
        let s = if self.most == 1 { "" } else { "s" };
        write!(f, "{} {}{s}", self.most, self.unit.name())
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Hour,
    Day,
    Week,
    Month,
    Year,
}

impl Unit {
    fn read(word: &str) -> Option<Self> {
        Some(match word {
            "Hour" | "Hours" => Self::Hour,
            "Day" | "Days" => Self::Day,
            "Week" | "Weeks" => Self::Week,
            "Month" | "Months" => Self::Month,
            // The table has "1 Yea" twice.
            "Year" | "Years" | "Yea" => Self::Year,
            _ => return None,
        })
    }

    fn name(self) -> &'static str {
        match self {
            Self::Hour => "hour",
            Self::Day => "day",
            Self::Week => "week",
            Self::Month => "month",
            Self::Year => "year",
        }
    }

    /// For comparing only: months differ.
    fn hours(self) -> u32 {
        match self {
            Self::Hour => 1,
            Self::Day => 24,
            Self::Week => 7 * 24,
            Self::Month => 30 * 24,
            Self::Year => 365 * 24,
        }
    }
}

/// Nothing that is given in published tables is longer; so no reckoning with it can overflow.
const MOST: u32 = 1000;

/// A text that is no storage time.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” isn't a storage time")]
pub struct NotAStorageTime(String);

impl FromStr for StorageTime {
    type Err = NotAStorageTime;

    fn from_str(text: &str) -> Result<Self, NotAStorageTime> {
        let span = |least: &str, most: &str, unit: &str| {
            let (least, most) = (least.parse().ok()?, most.parse().ok()?);
            let unit = Unit::read(unit)?;
            let is_span = 0 < least && least <= most && most <= MOST;
            is_span.then_some(Self::For(Span { least, most, unit }))
        };
        let words: Vec<&str> = text.split_whitespace().collect();
        let time = match words.as_slice() {
            ["Not", "Recommended"] => Some(Self::NotRecommended),
            ["Package", "use-by", "date"] => Some(Self::PackageDate),
            ["When", "Ripe"] => Some(Self::WhenRipe),
            ["Indefinitely"] => Some(Self::Indefinitely),
            [count, unit] => span(count, count, unit),
            [least, "-", most, unit] => span(least, most, unit),
            _ => None,
        };
        time.ok_or_else(|| NotAStorageTime(text.to_owned()))
    }
}
