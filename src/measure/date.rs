//! Dates as people say them, to days.
//!
//! What is asked for is one day, and the words often fit several. The rules, in the order in which they count:
//! a year or a weekday that was said settles it; otherwise it is the nearest day ahead for what lies ahead, and
//! behind for what is past. Where another day is nearly as near, the reading says so, and is to be asked about.

use chrono::{Datelike, Days, NaiveDate, Weekday};

use super::calendar::{Direction, MONTHS, last_of_month};
use super::date_words::{
    any_year, day_number, figures, month, month_and_year, split_kind, weekday, weekday_before_day,
    year,
};
use super::number::{cardinal, three_figures};
use super::reading::{Calendar, DateDoubt, DateNote, DateOrder, DateReading, NotADate};

/// A day without its year that passed so few days ago is more likely that one than the next: packages keep
/// for months, and a date on one that has just passed is read out just when it matters. Common practice.
pub(super) const JUST_PASSED: u64 = 90;
/// A past day without its year that comes again in so few days may be a slip of the month.
pub(super) const SOON: u64 = 31;
/// A day of the month alone: the one so few days on the other side of today is meant as likely.
const NEARLY_TODAY: u64 = 3;
/// A hundred years of days is further than any label looks.
const FURTHEST: u64 = 36_525;

/// Reads a date said in words, with the words for its kind before it if they were said.
///
/// A date without a year is the next one to come; for `packed`, `opened`, `frozen` and `bought` it
/// is the last one past. Today counts as both. A month with a year alone is its last day. "Next Friday" is the
/// one in the next week, which begins on Monday.
///
/// # Errors
/// [`NotADate`] where the words make no date. A day that doesn't exist is a reading in doubt, with the nearest
/// day that does.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::{Calendar, DateDoubt, DateKind, read_date};
/// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
/// let read = |s: &str| read_date(&s.split(' ').collect::<Vec<_>>(), today.into()).unwrap();
/// let reading = read("use by december third");
/// assert_eq!(reading.note.kind, Some(DateKind::UseBy));
/// assert_eq!(reading.note.date.to_string(), "2026-12-03");
/// assert_eq!(reading.doubt, None);
/// assert_eq!(read("march twenty twenty seven").note.date.to_string(), "2027-03-31");
/// let past = NaiveDate::from_ymd_opt(2026, 11, 10).unwrap();
/// assert_eq!(read("use by november tenth").doubt, Some(DateDoubt::Or(past)));
/// assert_eq!(read("february thirtieth").note.date.to_string(), "2027-02-28");
/// ```
pub fn read_date(words: &[&str], calendar: Calendar) -> Result<DateReading, NotADate> {
    let (kind, day) = split_kind(words);
    let day = day.strip_prefix(&["on"]).unwrap_or(day);
    let direction = match kind {
        Some(kind) if !kind.looks_ahead() => Direction::Behind,
        _ => Direction::Ahead,
    };
    let reader = Reader {
        today: calendar.today,
        order: calendar.order,
        direction,
    };
    let found = reader
        .relative(day)
        .map(|date| reader.sure_unless_today(day, date));
    let found = found.or_else(|| reader.calendar(day));
    let found = found.ok_or_else(|| NotADate {
        words: words.join(" "),
    })?;
    Ok(DateReading {
        note: DateNote {
            kind,
            date: found.date,
        },
        doubt: found.doubt,
        read_back: found.read_back || may_be_meant_otherwise(day),
    })
}

/// "Next Friday" is this week's for some, and 03/04 is in March for some and in April for others.
fn may_be_meant_otherwise(words: &[&str]) -> bool {
    match (words, figures(words)) {
        (["next", _], _) => true,
        (_, Some((first, second, _))) => first <= 12 && second <= 12 && first != second,
        _ => false,
    }
}

/// A day, what is doubtful about it, and whether it is read back in full.
struct Found {
    date: NaiveDate,
    doubt: Option<DateDoubt>,
    read_back: bool,
}

impl Found {
    fn sure(date: NaiveDate) -> Self {
        Self::in_doubt(date, None)
    }

    fn or(date: NaiveDate, other: NaiveDate) -> Self {
        Self::in_doubt(date, Some(DateDoubt::Or(other)))
    }

    fn in_doubt(date: NaiveDate, doubt: Option<DateDoubt>) -> Self {
        let read_back = false;
        Self {
            date,
            doubt,
            read_back,
        }
    }
}

struct Reader {
    today: NaiveDate,
    order: DateOrder,
    direction: Direction,
}

impl Reader {
    /// Days counted from today, weekdays, and parts of months.
    fn relative(&self, words: &[&str]) -> Option<NaiveDate> {
        use Direction::{Ahead, Behind};
        let today = self.today;
        match words {
            ["today"] => Some(today),
            ["tomorrow"] => Ahead.days(today, 1),
            ["yesterday"] => Behind.days(today, 1),
            ["the", "day", "after", "tomorrow"] | ["day", "after", "tomorrow"] => {
                Ahead.days(today, 2)
            }
            ["the", "day", "before", "yesterday"] | ["day", "before", "yesterday"] => {
                Behind.days(today, 2)
            }
            ["in", number @ .., unit] => counted(number, unit, Ahead, today),
            [number @ .., unit, "from", "now" | "today"] => counted(number, unit, Ahead, today),
            [number @ .., unit, "from", "tomorrow"] => {
                counted(number, unit, Ahead, Ahead.days(today, 1)?)
            }
            [number @ .., unit, "ago"] => counted(number, unit, Behind, today),
            [number @ .., "week" | "weeks", "from", day] => {
                let day = Ahead.weekday(weekday(day)?, today)?;
                counted(number, "weeks", Ahead, day)
            }
            ["next", day] => {
                let into_week = u64::from(today.weekday().num_days_from_monday());
                let monday = Ahead.days(today, 7 - into_week)?;
                let day = weekday(day)?.num_days_from_monday();
                monday.checked_add_days(Days::new(day.into()))
            }
            ["last", day] => Behind.weekday(weekday(day)?, today),
            ["this", "coming", day] | ["coming", day] => Ahead.weekday(weekday(day)?, today),
            ["this", day] | [day] => self.direction.weekday(weekday(day)?, today),
            [day, "of", "next", "week"] => self.relative(&["next", day]),
            ["the", "end" | "last", ..] => self.end_of(&words[1..]),
            ["end", ..] | ["last", "day", ..] => self.end_of(words),
            _ => None,
        }
    }

    /// "Friday" or "this Friday", said on a Friday, may be today.
    fn sure_unless_today(&self, words: &[&str], date: NaiveDate) -> Found {
        match words {
            ["this", day] if weekday(day) == Some(self.today.weekday()) => {
                Found::or(date, self.today)
            }
            [day]
                if weekday(day) == Some(self.today.weekday())
                    && self.direction == Direction::Ahead =>
            {
                Found::or(date, self.today)
            }
            _ => Found::sure(date),
        }
    }

    /// "End of the month", "last day of next month", "end of March", "end of the year".
    fn end_of(&self, words: &[&str]) -> Option<NaiveDate> {
        let today = self.today;
        let end = words.strip_prefix(&["end", "of"]);
        let rest = end.or_else(|| words.strip_prefix(&["last", "day", "of"]))?;
        match rest {
            ["the" | "this", "month"] => last_of_month(today.year(), today.month()),
            ["next", "month"] => {
                let next = Direction::Ahead.months(today.with_day(1)?, 1)?;
                last_of_month(next.year(), next.month())
            }
            ["the" | "this", "year"] => last_of_month(today.year(), 12),
            [name, after @ ..] => {
                let month = month(name)?;
                let year = match (after, self.direction) {
                    ([], Direction::Ahead) if month < today.month() => today.year() + 1,
                    ([], Direction::Behind) if month >= today.month() => today.year() - 1,
                    ([], _) => today.year(),
                    (year_words, _) => year(year_words)?,
                };
                last_of_month(year, month)
            }
            [] => None,
        }
    }

    /// "The first of the month" is the next first, "the fifteenth of this month" that one.
    fn day_of_named_month(&self, day: u32, which: &str) -> Option<Day> {
        let month = match which {
            "the" => return Some(Day::OfMonth(day)),
            "this" => self.today,
            _ => Direction::Ahead.months(self.today.with_day(1)?, 1)?,
        };
        fixed(month.year(), month.month(), day)
    }

    /// Days named by month and number, with or without their weekday.
    fn calendar(&self, words: &[&str]) -> Option<Found> {
        let words = words.strip_prefix(&["the"]).unwrap_or(words);
        if let [name, rest @ ..] = words
            && let Some(named) = weekday_before_day(name)
        {
            let rest = rest.strip_prefix(&["the"]).unwrap_or(rest);
            return self.on_weekday(named, self.day(rest)?);
        }
        match self.day(words)? {
            Day::Fixed(found) => Some(found),
            Day::OfYear {
                month,
                day,
                or_year,
            } => {
                let found = self.of_year(month, day)?;
                match self.as_month(month, day).filter(|_| or_year) {
                    Some(end) => Some(or_month(found, end)),
                    None => Some(found),
                }
            }
            Day::OfMonth(day) => self.of_month(day),
        }
    }

    /// "March 27" may be March of 2027, as labels write it: then its last day, if that is to come.
    fn as_month(&self, month: u32, number: u32) -> Option<NaiveDate> {
        month_of_short_year(month, number, self.today)
            .filter(|_| self.direction == Direction::Ahead)
    }

    /// A day as it was named, before today says which one it is.
    fn day(&self, words: &[&str]) -> Option<Day> {
        if let [day @ .., "of", month @ ("the" | "this" | "next"), "month"] = words {
            return self.day_of_named_month(day_number(day)?, month);
        }
        if let ["day", number @ ..] = words {
            return Some(Day::Fixed(self.day_number_of_year(number)?));
        }
        if let Some(found) = self.in_figures(words) {
            return Some(found);
        }
        let named = words
            .iter()
            .enumerate()
            .find_map(|(i, w)| Some((i, month(w)?)));
        let Some((at, month)) = named else {
            return Some(Day::OfMonth(day_number(words)?));
        };
        let (before, after) = (&words[..at], &words[at + 1..]);
        if !before.is_empty() {
            // "third of march", "third of march twenty twenty seven"
            let day = day_number(before.strip_suffix(&["of"]).unwrap_or(before))?;
            return if after.is_empty() {
                let or_year = false;
                Some(Day::OfYear {
                    month,
                    day,
                    or_year,
                })
            } else {
                fixed(year(after)?, month, day)
            };
        }
        let after = after.strip_prefix(&["the"]).unwrap_or(after);
        if let Some(year) = year(after) {
            return Some(Day::Fixed(Found::sure(last_of_month(year, month)?)));
        }
        // "march third twenty twenty seven": the longest day that leaves nothing or a year.
        (1..=after.len()).rev().find_map(|end| {
            let day = day_number(&after[..end])?;
            if end == after.len() {
                // Nobody says a year as an ordinal.
                let or_year = cardinal(after).is_some();
                Some(Day::OfYear {
                    month,
                    day,
                    or_year,
                })
            } else {
                fixed(year(&after[end..])?, month, day)
            }
        })
    }

    fn in_figures(&self, words: &[&str]) -> Option<Day> {
        if let Some((month, year)) = month_and_year(words) {
            return Some(Day::Fixed(Found::sure(last_of_month(year, month)?)));
        }
        let (first, second, year_words) = figures(words)?;
        let (month, day) = self.in_order(first, second)?;
        if year_words.is_empty() {
            let or_year = (month, day) == (first, second);
            return Some(Day::OfYear {
                month,
                day,
                or_year,
            });
        }
        fixed(any_year(year_words)?, month, day)
    }

    /// Month and day of two figures: a number that can be no month is the day, wherever it stands.
    fn in_order(&self, first: u32, second: u32) -> Option<(u32, u32)> {
        let month_first = match self.order {
            DateOrder::MonthFirst => first <= 12 || second > 12,
            DateOrder::DayFirst => second > 12 && first <= 12,
        };
        let (month, day) = if month_first {
            (first, second)
        } else {
            (second, first)
        };
        ((1..=12).contains(&month) && (1..=31).contains(&day)).then_some((month, day))
    }

    /// A month and day in the nearest year that fits.
    fn of_year(&self, month: u32, day: u32) -> Option<Found> {
        let Some(date) = self.direction.day_of_year(month, day, self.today) else {
            return self.nearest(month, day);
        };
        let far = date.signed_duration_since(self.today).num_days().abs() > 366;
        if far {
            // Only February 29. Who says it of another year most likely misread it.
            let near = self.direction.day_of_year(month, day - 1, self.today)?;
            return Some(Found::or(date, near));
        }
        let other = self.direction.turned();
        let (window, near) = match self.direction {
            Direction::Ahead => (JUST_PASSED, other.day_of_year(month, day, self.today)),
            Direction::Behind => (SOON, other.day_of_year(month, day, self.today)),
        };
        Some(self.unless_near(date, near, window))
    }

    /// "The fifteenth": in the nearest month that has such a day.
    fn of_month(&self, day: u32) -> Option<Found> {
        let date = self.direction.day_of_month(day, self.today)?;
        let other = self.direction.turned().day_of_month(day, self.today);
        Some(self.unless_near(date, other, NEARLY_TODAY))
    }

    fn unless_near(&self, date: NaiveDate, other: Option<NaiveDate>, window: u64) -> Found {
        let near = other.filter(|other| {
            let days = other.signed_duration_since(self.today).num_days();
            *other != date && days.unsigned_abs() <= window
        });
        near.map_or(Found::sure(date), |other| Found::or(date, other))
    }

    /// A day that doesn't exist: the last of its month, to be asked about.
    fn nearest(&self, month: u32, day: u32) -> Option<Found> {
        let near = self.direction.day_of_year(month, 28, self.today)?;
        let date = last_of_month(near.year(), month)?;
        Some(Found::in_doubt(date, no_such_day(month, day)))
    }

    /// The weekday settles the year or the month; where it fits none near, it is asked about.
    fn on_weekday(&self, named: Weekday, day: Day) -> Option<Found> {
        let found = match day {
            Day::Fixed(found) => found,
            Day::OfYear { month, day, .. } => {
                let both = [self.direction, self.direction.turned()];
                let mut near = both.iter().flat_map(|direction| {
                    direction.day_of_year(month, day, self.today).into_iter()
                });
                match near.find(|date| date.weekday() == named && self.is_meant(*date)) {
                    Some(date) => Found::sure(date),
                    None => self.of_year(month, day)?,
                }
            }
            Day::OfMonth(day) => {
                let both = [self.direction, self.direction.turned()];
                let mut near = both
                    .iter()
                    .flat_map(|direction| direction.day_of_month(day, self.today).into_iter());
                match near.find(|date| date.weekday() == named) {
                    Some(date) => Found::sure(date),
                    None => self.of_month(day)?,
                }
            }
        };
        if found.date.weekday() == named || found.doubt.is_some() {
            return Some(found);
        }
        Some(Found {
            doubt: Some(DateDoubt::OtherWeekday(named)),
            ..found
        })
    }

    /// Whether a day may be meant that lies where it does: the way it should, or not far the other way.
    fn is_meant(&self, date: NaiveDate) -> bool {
        let days = date.signed_duration_since(self.today).num_days();
        let (far, near) = (366, JUST_PASSED as i64);
        match self.direction {
            Direction::Ahead => (-near..=far).contains(&days),
            Direction::Behind => (-far..=near).contains(&days),
        }
    }

    /// "Day three hundred twenty nine", as egg cartons show when they were packed. Source: USDA AMS, "Egg Carton
    /// Codes": the day of the year in three figures.
    ///
    /// One of which the nearest is still to come is rather misread than a year old.
    fn day_number_of_year(&self, number: &[&str]) -> Option<Found> {
        let number = u32::try_from(three_figures(number)?).ok()?;
        let date = super::date_code::day_of_year(number, self.direction, self.today)?;
        let ahead = NaiveDate::from_yo_opt(self.today.year(), number);
        let is_nearer =
            |ahead: &NaiveDate| *ahead > date && *ahead - self.today < self.today - date;
        Some(match ahead.filter(is_nearer) {
            Some(ahead) if self.direction == Direction::Behind => Found::or(date, ahead),
            _ => Found::sure(date),
        })
    }
}

/// What was named: a day of the calendar, or one that comes every year or every month.
enum Day {
    Fixed(Found),
    OfYear {
        month: u32,
        day: u32,
        /// Whether the number of the day may be a year's.
        or_year: bool,
    },
    OfMonth(u32),
}

/// A day of a year that was said; the last of its month, in doubt, where there is no such day.
fn fixed(year: i32, month: u32, day: u32) -> Option<Day> {
    let found = match NaiveDate::from_ymd_opt(year, month, day) {
        Some(date) => Found::sure(date),
        None => Found::in_doubt(last_of_month(year, month)?, no_such_day(month, day)),
    };
    Some(Day::Fixed(found))
}

/// So many years ahead a pack may be dated whose label has only month and year. What is further is read as a day, which comes
/// sooner and so does no harm. Source: FoodKeeper, two years for most canned and dry goods; common practice.
const FURTHEST_MONTH: i32 = 3;

/// The last day of a month of a year of this century in two figures, if that may be on a label.
pub(super) fn month_of_short_year(month: u32, year: u32, today: NaiveDate) -> Option<NaiveDate> {
    let year = i32::try_from(year).ok()? + today.year() / 100 * 100;
    let may_be = year <= today.year() + FURTHEST_MONTH;
    last_of_month(year, month).filter(|end| may_be && *end >= today)
}

/// A day that may be a month with its year as well. The day comes first within its own month, so there it does no harm, and
/// is only read back.
fn or_month(found: Found, end: NaiveDate) -> Found {
    let is_its_month = (found.date.year(), found.date.month()) == (end.year(), end.month());
    match found.doubt {
        Some(DateDoubt::NoSuchDay { .. }) => Found { date: end, ..found },
        Some(_) => found,
        None if is_its_month => Found {
            read_back: true,
            ..found
        },
        None => Found::or(found.date, end),
    }
}

fn no_such_day(month: u32, day: u32) -> Option<DateDoubt> {
    let month = MONTHS.get(month.checked_sub(1)? as usize)?;
    Some(DateDoubt::NoSuchDay { month, day })
}

/// So many days, weeks, months or years from a day.
fn counted(
    number: &[&str],
    unit: &str,
    direction: Direction,
    from: NaiveDate,
) -> Option<NaiveDate> {
    let count = match number {
        ["a" | "an"] => 1,
        ["a", "couple"] | ["a", "couple", "of"] => 2,
        _ => cardinal(number)?,
    };
    let (days, months) = match unit {
        "day" | "days" => (1, 0),
        "week" | "weeks" => (7, 0),
        "month" | "months" => (0, 1),
        "year" | "years" => (0, 12),
        _ => return None,
    };
    let days = count.checked_mul(days).filter(|days| *days <= FURTHEST)?;
    let months = count.checked_mul(months).filter(|m| m * 30 <= FURTHEST)?;
    let date = direction.months(from, u32::try_from(months).ok()?)?;
    direction.days(date, days)
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
        match read_date(&words, day("2026-11-25").into()) {
            Ok(DateReading { note, doubt, .. }) => match doubt {
                None => note.date.to_string(),
                Some(DateDoubt::Or(other)) => format!("{} or {other}", note.date),
                Some(doubt) => format!("{doubt}: {}", note.date),
            },
            Err(error) => error.to_string(),
        }
    }

    #[test]
    fn dates_are_read_as_people_say_them() {
        for (said, date) in [
            ("october fifteenth", "2027-10-15 or 2026-10-15"),
            ("bought october fifteenth", "2026-10-15"),
            ("opened december third", "2025-12-03 or 2026-12-03"),
            ("the twenty third", "2026-12-23 or 2026-11-23"),
            ("the fifteenth", "2026-12-15"),
            ("fifteenth of july", "2027-07-15"),
            ("ten fifteen twenty seven", "2027-10-15"),
            ("twelve oh three", "2026-12-03"),
            ("fifteen slash four", "2027-04-15"),
            ("friday december fourth", "2026-12-04"),
            ("friday november twentieth", "2026-11-20"),
            ("friday the fourth", "2026-12-04"),
            ("the day before yesterday", "2026-11-23"),
            ("in two months", "2027-01-25"),
            ("two weeks from friday", "2026-12-11"),
            ("end of march", "2027-03-31"),
            ("frozen end of march", "2026-03-31"),
            ("frozen end of december", "2025-12-31"),
            ("the end of next month", "2026-12-31"),
            ("the last day of the month", "2026-11-30"),
            ("friday of next week", "2026-12-04"),
            ("the first of the month", "2026-12-01"),
            ("the fifteenth of next month", "2026-12-15"),
            ("expires on dec third", "2026-12-03"),
            ("packed on day three twenty nine", "2026-11-25"),
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
            ("wednesday", "2026-12-02 or 2026-11-25"),
            ("this wednesday", "2026-12-02 or 2026-11-25"),
            ("november twenty fifth", "2026-11-25"),
            ("the end of the month", "2026-11-30"),
            ("opened november twentieth", "2026-11-20"),
            ("bought the twenty sixth", "2026-10-26 or 2026-11-26"),
            ("frozen yesterday", "2026-11-24"),
            ("february twenty ninth", "2028-02-29 or 2027-02-28"),
        ] {
            assert_eq!(read(said), date, "{said}");
        }
    }

    #[test]
    fn a_day_that_does_not_exist_is_refused() {
        assert_eq!(
            read("february thirtieth"),
            "There is no February 30: 2027-02-28"
        );
        assert_eq!(
            read("february twenty ninth twenty twenty seven"),
            "There is no February 29: 2027-02-28"
        );
        assert_eq!(read("june thirty first"), "There is no June 31: 2027-06-30");
        assert_eq!(
            read("thursday december fourth"),
            "It isn't a Thursday: 2026-12-04"
        );
        assert_eq!(read("in"), "I couldn't make a date of “in”");
    }
}
