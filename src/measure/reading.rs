//! What was read of a date: the day, and what is to be asked before it counts.

use chrono::{NaiveDate, Weekday};

use super::date_kind::DateKind;

/// A date, and what it means if that was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DateNote {
    /// What it means.
    pub kind: Option<DateKind>,
    /// The day.
    pub date: NaiveDate,
}

/// The words of a date as a day: the one that is most likely meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DateReading {
    /// The day, and what it means.
    pub note: DateNote,
    /// Why it isn't to be kept without asking. A date that is taken wrongly is a risk to health.
    pub doubt: Option<DateDoubt>,
    /// Whether others mean another day by the same words ("next Friday", 03/04): to be read back in full.
    pub read_back: bool,
}

/// What is to be asked about a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum DateDoubt {
    /// The words fit this day as well: "use by November tenth" said on the twentieth.
    #[error("It may be {0}")]
    Or(NaiveDate),
    /// There is no such day, such as February 30; the note has the nearest one.
    #[error("There is no {month} {day}")]
    NoSuchDay {
        /// The month's name.
        month: &'static str,
        /// The day that was said.
        day: u32,
    },
    /// It falls on another weekday than this one, which was said with it.
    #[error("It isn't a {}", weekday_name(*.0))]
    OtherWeekday(Weekday),
}

fn weekday_name(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}

/// Words that were meant as a date and make none.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("I couldn't make a date of “{words}”")]
pub struct NotADate {
    /// What was said.
    pub words: String,
}

/// Whether the month or the day stands first in a date of figures, such as 03/04.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DateOrder {
    /// As in the United States.
    #[default]
    MonthFirst,
    /// As nearly everywhere else.
    DayFirst,
}

impl DateOrder {
    /// The order that is usual where a language is spoken. Source: Unicode CLDR, short date formats.
    ///
    /// ```
    /// use tellshelf::measure::DateOrder;
    /// assert_eq!(DateOrder::of_language("en-US"), DateOrder::MonthFirst);
    /// assert_eq!(DateOrder::of_language("en-GB"), DateOrder::DayFirst);
    /// ```
    pub fn of_language(tag: &str) -> Self {
        let mut parts = tag.split(['-', '_']);
        let language = parts.next().unwrap_or_default();
        let region = parts.next_back();
        let american = ["US", "PH", "PR", "GU", "VI", "AS", "MP"];
        match region {
            Some(region) if american.iter().any(|r| r.eq_ignore_ascii_case(region)) => {
                Self::MonthFirst
            }
            None if language.eq_ignore_ascii_case("en") => Self::MonthFirst,
            // Year, month, day.
            _ if ["hu", "ja", "ko", "lt", "zh"].contains(&language) => Self::MonthFirst,
            _ => Self::DayFirst,
        }
    }
}

/// The day on which words are read, and how figures stand in a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Calendar {
    /// The day on which it is said.
    pub today: NaiveDate,
    /// Whether the month or the day comes first.
    pub order: DateOrder,
}

impl From<NaiveDate> for Calendar {
    /// With the month first.
    fn from(today: NaiveDate) -> Self {
        Self {
            today,
            order: DateOrder::default(),
        }
    }
}
