//! Numbers, dates and units against what reference libraries make of the same: num2words, text2num, word2number,
//! dateparser, python-dateutil, parsedatetime, Pint, python-stdnum and biip. Their answers stand in tables that
//! `tests/data/measure/make-tables.py` writes, with its versions. Where this crate says something else, the case stands
//! in a list here, with the reason: a library that gave another answer to it one day would be noticed.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};
use tellshelf::grammar::normal_words;
use tellshelf::measure::{
    Amount, DateDoubt, Unit, read_date, read_gs1_date, read_number, spell, spell_ordinal,
};

fn rows(table: &str) -> impl Iterator<Item = Vec<&str>> {
    let lines = table.lines().filter(|line| !line.starts_with('#'));
    lines.map(|line| line.split('\t').collect())
}

fn words(text: &str) -> Vec<String> {
    normal_words(text)
}

fn number(text: &str) -> Option<Amount> {
    let words = words(text);
    read_number(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap_or_else(|_| panic!("{text}"))
}

/// What is read of a date: its day, and the other one that may be meant.
fn date(text: &str, today: NaiveDate) -> String {
    let words = words(text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match read_date(&words, today.into()) {
        Err(_) => "none".to_owned(),
        Ok(reading) => match reading.doubt {
            None => reading.note.date.to_string(),
            Some(DateDoubt::Or(other)) => format!("{} or {other}", reading.note.date),
            Some(_) => "no such day".to_owned(),
        },
    }
}

/// num2words writes hyphens, commas and "and", as British usage has it.
#[test]
fn numbers_are_spelled_and_read_as_num2words_has_them() {
    for row in rows(include_str!("data/measure/numbers-num2words.tsv")) {
        let n: u64 = row[0].parse().unwrap();
        assert_eq!(
            number(row[1]),
            Some(Amount::from_integer(n.into())),
            "{}",
            row[1]
        );
        let plain = |said: &str| words(said).join(" ").replace(" and ", " ");
        assert_eq!(spell(n), plain(row[1]));
        assert_eq!(spell_ordinal(n), plain(row[2]));
    }
}

#[test]
fn years_are_read_as_num2words_says_them() {
    let today = day("2026-11-25");
    // No label looks further than this century.
    let years = rows(include_str!("data/measure/years-num2words.tsv"));
    for row in years.filter(|row| row[0] < "2100") {
        let said = format!("March third {}", row[1]);
        assert_eq!(date(&said, today), format!("{}-03-03", row[0]), "{said}");
    }
}

/// Where the libraries make no number of words that are one, or another.
/// text2num: reads whole numbers alone, and only if they don't begin with "a"; `alpha2digit` rewrites decimals in a text.
/// word2number: adds up what it knows and passes over the rest ("two and a half" is 2, "five oh three" 8).
const UNREAD_NUMBERS: [&str; 47] = [
    "a half",
    "a third",
    "a quarter",
    "an eighth",
    "half",
    "one half",
    "one third",
    "two thirds",
    "one quarter",
    "three quarters",
    "three fourths",
    "one eighth",
    "three eighths",
    "five eighths",
    "seven eighths",
    "two fifths",
    "one and a half",
    "two and a half",
    "three and a half",
    "one and one half",
    "one and a quarter",
    "two and three quarters",
    "one and two thirds",
    "ten and a half",
    "twelve and a quarter",
    "a hundred and a half",
    "a dozen",
    "one dozen",
    "two dozen",
    "half a dozen",
    "a half dozen",
    "a dozen and a half",
    "one and a half dozen",
    "three dozen",
    "a couple",
    "a couple of",
    "a hundred and twenty",
    "five oh three",
    "one two three",
    "two oh two",
    "nine one one",
    "four five",
    "one oh one",
    // These are no single number, and aren't read here either; word2number adds them up.
    "three twenty five",
    "twelve fifty",
    "twenty twenty seven",
    "twenty eleven",
];

#[test]
fn numbers_are_read_as_by_text2num_or_word2number() {
    let decimal = |text: &str| {
        let (whole, places) = text.split_once('.').unwrap_or((text, ""));
        let top = format!("{whole}{places}").parse().ok()?;
        Some(Amount::new(top, 10_i128.pow(places.len() as u32)))
    };
    let mut unread = BTreeSet::new();
    for row in rows(include_str!("data/measure/numbers-read.tsv")) {
        let ours = number(row[0]);
        let theirs: Vec<_> = row[1..]
            .iter()
            .filter_map(|answer| decimal(answer))
            .collect();
        if !theirs.iter().any(|answer| ours == Some(*answer)) {
            unread.insert(row[0]);
        }
    }
    // A bare "thousand" isn't a number here: nobody has a thousand of anything without a word before it.
    assert!(unread.remove("thousand"));
    assert_eq!(unread, BTreeSet::from(UNREAD_NUMBERS));
}

/// Phrases of which dateparser (looking ahead) says something else, with the reason.
const OTHER_DATES: [(&str, &str); 36] = [
    (
        "in a month",
        "it takes PREFER_DAY_OF_MONTH for the day; parsedatetime and dateutil's relativedelta keep the day",
    ),
    ("in two months", "the same"),
    ("in 6 months", "the same"),
    ("in a year", "the same"),
    ("a month ago", "the same"),
    ("6 months ago", "the same"),
    ("a year ago", "the same"),
    (
        "two weeks from today",
        "it counts back; parsedatetime counts on",
    ),
    (
        "a week from today",
        "it counts back; parsedatetime counts on",
    ),
    (
        "next friday",
        "the nearest Friday there, that of the next week in parsedatetime and here: read back in full",
    ),
    (
        "a week from friday",
        "not read; parsedatetime reads it, on a Friday from that day itself",
    ),
    ("two weeks from friday", "the same"),
    ("end of the month", "not read"),
    ("the end of the month", "not read"),
    ("end of next month", "not read; parsedatetime drops the end"),
    ("end of march", "not read; parsedatetime drops the end"),
    ("end of the year", "not read"),
    (
        "the first of next month",
        "not read; parsedatetime reads it",
    ),
    ("the first of the month", "not read"),
    ("the fifteenth", "not read"),
    ("the third", "not read"),
    ("15th", "a past day, though a day ahead was asked for"),
    (
        "february 29",
        "the next such day may be years ahead, or is today: asked about here, or today",
    ),
    ("ten fifteen", "not read"),
    ("march", "a whole month is no day: asked about here"),
    ("next week", "a whole week is no day: asked about here"),
    (
        "thursday december 4",
        "it is a Friday: asked about here, dropped there",
    ),
    (
        "friday december 4",
        "the weekday is dropped there; here it tells the year",
    ),
    ("this friday", "today there, on a Friday; asked about here"),
    (
        "friday",
        "a week later there, on a Friday; asked about here",
    ),
    (
        "on friday",
        "a week later there, on a Friday; asked about here",
    ),
    (
        "wednesday",
        "a week later there, on a Wednesday; asked about here",
    ),
    ("january 1", "today doesn't count as ahead there"),
    ("1 january", "the same"),
    ("jan 1", "the same"),
    ("3/4/27", "27 is 2127 there, in 2028"),
];

/// Days that don't exist, of which all say nothing; here the nearest one is asked about.
const NO_SUCH_DAYS: [&str; 5] = [
    "february 30",
    "june 31",
    "april 31",
    "september 31",
    "02/30/2027",
];

#[test]
fn dates_are_read_as_by_dateparser() {
    let mut other = BTreeSet::new();
    for row in rows(include_str!("data/measure/dates.tsv")) {
        let [base, phrase, ahead, behind, ..] = row[..] else {
            panic!("{row:?}");
        };
        let ours = date(phrase, day(base));
        if NO_SUCH_DAYS.contains(&phrase) {
            assert_eq!((ours.as_str(), ahead), ("no such day", "none"), "{phrase}");
            continue;
        }
        // No library reads ordinals in words: then the same in figures is what it is compared with.
        if ahead == "none"
            && MONTHS.iter().any(|month| phrase.contains(month))
            && is_in_words(phrase)
        {
            continue;
        }
        // Where two days may be meant, they are the ones that it finds looking ahead and back.
        if ours != ahead && ours != format!("{ahead} or {behind}") {
            other.insert(phrase);
        }
    }
    let listed: BTreeSet<&str> = OTHER_DATES.iter().map(|(phrase, _)| *phrase).collect();
    assert_eq!(other, listed);
}

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

fn is_in_words(phrase: &str) -> bool {
    !phrase.contains(|c: char| c.is_ascii_digit())
        && !phrase.starts_with("end")
        && phrase.contains(' ')
}

/// The same days in words and in figures, of which the libraries read the latter.
#[test]
fn ordinals_in_words_are_the_same_as_in_figures() {
    for base in [
        "2026-11-25",
        "2026-12-31",
        "2027-01-01",
        "2028-02-29",
        "2026-03-10",
    ] {
        for month in MONTHS {
            for number in 1..=31 {
                let words = date(&format!("{month} {}", spell_ordinal(number)), day(base));
                // Only a bare number may be a year: "March 28".
                let figures = date(&format!("{month} {number}"), day(base));
                assert!(
                    figures == words || number >= 26 && figures.contains(" or "),
                    "{figures}"
                );
                assert_eq!(
                    words,
                    date(&format!("{} of {month}", spell_ordinal(number)), day(base))
                );
            }
        }
    }
}

#[test]
fn months_and_weekdays_are_reckoned_as_by_dateutil() {
    for row in rows(include_str!("data/measure/months-dateutil.tsv")) {
        let today = day(row[0]);
        let said = |months: &str| spell(months.parse().unwrap());
        let unit = if row[1] == "1" { "month" } else { "months" };
        assert_eq!(date(&format!("in {} {unit}", said(row[1])), today), row[2]);
        assert_eq!(date(&format!("{} {unit} ago", said(row[1])), today), row[3]);
    }
    for row in rows(include_str!("data/measure/weekdays-dateutil.tsv")) {
        let today = day(row[0]);
        // Said on that very weekday, today may be meant: it is asked about.
        let ahead = match row[2].parse() == Ok(today + Days::new(7)) {
            true => format!("{} or {}", row[2], row[0]),
            false => row[2].to_owned(),
        };
        assert_eq!(date(row[1], today), ahead, "{} after {today}", row[1]);
        assert_eq!(
            date(&format!("last {}", row[1]), today),
            row[3],
            "{} before {today}",
            row[1]
        );
        assert_eq!(date(&format!("opened {}", row[1]), today), row[3]);
    }
}

/// biip puts the century as the General Specifications do, by the year in which it is asked (the table's: 2026).
/// python-stdnum leaves it to `strptime`, which takes 69 to 99 for the last century: wrong for 2069 to 2076.
#[test]
fn bar_code_dates_are_read_as_by_biip_and_mostly_by_stdnum() {
    for row in rows(include_str!("data/measure/gs1-dates.tsv")) {
        let ours = read_gs1_date(row[0], day("2026-11-25"));
        let ours = ours.map_or("error".to_owned(), |date| date.to_string());
        assert_eq!(ours, row[2], "{}: biip", row[0]);
        let other_century = ("69".."77").contains(&&row[0][..2]);
        assert!(
            ours == row[1] || other_century,
            "{}: stdnum {}",
            row[0],
            row[1]
        );
    }
}

#[test]
fn days_of_the_year_are_those_of_the_calendar() {
    for row in rows(include_str!("data/measure/day-of-year.tsv")) {
        // On the last day of that year, so that it is the year's own day.
        let today = day(&format!("{}-12-31", row[0]));
        // Python makes January 1 of the 366th day of a year that has 365; here it is no day of that year.
        if row[1] != "366" || row[0] == "2028" {
            let said = format!("packed on day {}", row[1]);
            assert_eq!(date(&said, today), row[2], "{said}");
        }
    }
}

#[test]
fn units_are_turned_as_by_pint() {
    let unit =
        |name: &str| Unit::from_word(&name.replace('_', " ")).unwrap_or_else(|| panic!("{name}"));
    for row in rows(include_str!("data/measure/units-pint.tsv")) {
        let ours = unit(row[0]).in_base() / unit(row[1]).in_base();
        assert_eq!(
            format!("{}/{}", ours.numer(), ours.denom()),
            row[2],
            "{} in {}",
            row[0],
            row[1]
        );
    }
}
