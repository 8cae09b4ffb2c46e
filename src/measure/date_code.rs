//! Dates as packages encode them: in bar codes, and as the day of a year.

use chrono::{Datelike, NaiveDate};

use super::calendar::{Direction, last_of_month};

/// Reads a date of six figures from a GS1 bar code (YYMMDD).
///
/// Day 00 is the last day of the month; the century is the one that puts the year between 49 years back and 50
/// years ahead. Source: GS1 General Specifications, sections 3.4 (AI 11 to 17) and 7.12 (the century). `None` where
/// there is no such day.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::read_gs1_date;
/// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
/// let read = |code| read_gs1_date(code, today).map(|date| date.to_string());
/// assert_eq!(read("270315").as_deref(), Some("2027-03-15"));
/// assert_eq!(read("280200").as_deref(), Some("2028-02-29"));
/// assert_eq!(read("270230"), None);
/// ```
pub fn read_gs1_date(code: &str, today: NaiveDate) -> Option<NaiveDate> {
    let is_code = code.len() == 6 && code.bytes().all(|b| b.is_ascii_digit());
    let part = |at: usize| code.get(at..at + 2)?.parse::<u32>().ok();
    let (year, month, day) = (part(0).filter(|_| is_code)?, part(2)?, part(4)?);
    let this_year = today.year();
    let in_century = i32::try_from(year).ok()?;
    let century = this_year - this_year.rem_euclid(100);
    let distance = in_century - this_year.rem_euclid(100);
    let year = match distance {
        51.. => century - 100 + in_century,
        ..=-50 => century + 100 + in_century,
        _ => century + in_century,
    };
    match day {
        0 => last_of_month(year, month),
        _ => NaiveDate::from_ymd_opt(year, month, day),
    }
}

/// The nearest day with this number in its year, 1 to 366: in this year or the next to it.
pub(super) fn day_of_year(
    number: u32,
    direction: Direction,
    today: NaiveDate,
) -> Option<NaiveDate> {
    let other_year = match direction {
        Direction::Ahead => today.year() + 1,
        Direction::Behind => today.year() - 1,
    };
    let mut days = [today.year(), other_year]
        .into_iter()
        .filter_map(|year| NaiveDate::from_yo_opt(year, number));
    days.find(|date| match direction {
        Direction::Ahead => *date >= today,
        Direction::Behind => *date <= today,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_century_is_the_one_whose_year_is_nearest() {
        // GS1 General Specifications, 7.12; the worked years for 2026, 2051 and 2000.
        for (code, today, date) in [
            ("760101", "2026-11-25", "2076-01-01"),
            ("770101", "2026-11-25", "1977-01-01"),
            ("000101", "2026-11-25", "2000-01-01"),
            ("010101", "2051-06-01", "2101-01-01"),
            ("510101", "2000-06-01", "1951-01-01"),
            ("500101", "2000-06-01", "2050-01-01"),
        ] {
            assert_eq!(read_gs1_date(code, day(today)), Some(day(date)), "{code}");
        }
    }

    #[test]
    fn day_zero_is_the_last_of_the_month() {
        // The specification's own examples: 130200 and 160200.
        let today = day("2013-01-01");
        assert_eq!(read_gs1_date("130200", today), Some(day("2013-02-28")));
        assert_eq!(read_gs1_date("160200", today), Some(day("2016-02-29")));
    }

    #[test]
    fn what_is_no_code_is_refused() {
        for code in [
            "", "2702", "27021", "2702155", "27o215", "271315", "+70215", "27１2",
        ] {
            assert_eq!(read_gs1_date(code, day("2026-11-25")), None, "{code}");
        }
    }

    #[test]
    fn the_day_of_the_year_is_the_last_one_past() {
        let packed = |number, today| day_of_year(number, Direction::Behind, day(today));
        assert_eq!(packed(329, "2026-11-25"), Some(day("2026-11-25")));
        assert_eq!(packed(330, "2026-11-25"), Some(day("2025-11-26")));
        assert_eq!(packed(366, "2029-01-10"), Some(day("2028-12-31")));
        assert_eq!(packed(366, "2027-01-10"), None);
        assert_eq!(packed(0, "2027-01-10"), None);
    }
}
