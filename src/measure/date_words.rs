//! The words of dates: what they mean, weekdays, months, days and years, and figures.

use chrono::Weekday;

use super::calendar::MONTHS;
use super::date_kind::DateKind;
use super::number::{cardinal, ordinal};

/// The kind's words at the start, and the rest.
pub(super) fn split_kind<'w>(words: &'w [&'w str]) -> (Option<DateKind>, &'w [&'w str]) {
    use DateKind::*;
    let (kind, rest) = match words {
        // "Used by" sounds the same.
        ["use", "it", "by" | "before", rest @ ..]
        | ["use" | "used", "by" | "before", rest @ ..] => (UseBy, rest),
        // As it stands on meat: by then it is used, or in the freezer.
        ["use", "or", "freeze", "by", rest @ ..] | ["freeze", "or", "use", "by", rest @ ..] => {
            (UseBy, rest)
        }
        // GS1 General Specifications: the dates of AI 17 are titled "USE BY or EXPIRY".
        ["expires" | "expiry" | "expiration" | "exp", rest @ ..] => (UseBy, rest),
        ["best", "if", "used", "by" | "before", rest @ ..]
        | ["best", "by" | "before", rest @ ..] => (BestBy, rest),
        ["sell", "by", rest @ ..] => (SellBy, rest),
        ["freeze", "by", rest @ ..] => (FreezeBy, rest),
        // What was cooked at home has its day as well.
        ["packed" | "made" | "cooked", rest @ ..] => (Packed, rest),
        ["opened", rest @ ..] => (Opened, rest),
        ["frozen", rest @ ..] => (Frozen, rest),
        ["thawed" | "defrosted", rest @ ..] => (Thawed, rest),
        ["bought" | "purchased", rest @ ..] => (Bought, rest),
        _ => return (None, words),
    };
    (Some(kind), rest.strip_prefix(&["date"]).unwrap_or(rest))
}

pub(super) fn weekday(word: &str) -> Option<Weekday> {
    // Whole names only: "sun" and "sat" are words of their own.
    let is_name = word.len() > 5 && word.ends_with("day");
    is_name.then(|| word.parse().ok()).flatten()
}

/// A weekday in front of a date, also as it is written there: "Mon March 1".
pub(super) fn weekday_before_day(word: &str) -> Option<Weekday> {
    weekday(word).or_else(|| match word {
        "tues" => Some(Weekday::Tue),
        "thurs" | "thur" => Some(Weekday::Thu),
        short if short.len() == 3 => short.parse().ok(),
        _ => None,
    })
}

pub(super) fn month(word: &str) -> Option<u32> {
    let full = |name: &&str| name.eq_ignore_ascii_case(word);
    let short = |name: &&str| name.len() > 3 && name[..3].eq_ignore_ascii_case(word);
    let at = MONTHS.iter().position(|name| full(name) || short(name));
    let at = at.or_else(|| (word == "sept").then_some(8))?;
    u32::try_from(at + 1).ok()
}

/// A day of the month, as an ordinal or not: 1 to 31.
pub(super) fn day_number(words: &[&str]) -> Option<u32> {
    let number = ordinal(words).or_else(|| cardinal(words))?;
    u32::try_from(number)
        .ok()
        .filter(|day| (1..=31).contains(day))
}

/// "Twelve slash three" as a recogniser writes it, "ten fifteen", "ten fifteen twenty seven": two figures, and the
/// words of a year.
pub(super) fn figures<'w>(words: &'w [&'w str]) -> Option<(u32, u32, &'w [&'w str])> {
    match words.iter().position(|w| *w == "slash") {
        Some(at) => {
            let rest = &words[at + 1..];
            let next = rest.iter().position(|w| *w == "slash");
            let end = next.unwrap_or(rest.len());
            let last = next.map_or(&rest[end..], |next| &rest[next + 1..]);
            if next.is_some() && last.is_empty() {
                return None;
            }
            Some((figure(&words[..at])?, figure(&rest[..end])?, last))
        }
        // A day of the month, in one number.
        None if matches!(words, ["twenty" | "thirty", one] if figure(&[*one]) < Some(10)) => None,
        None => [1, 2]
            .into_iter()
            .filter(|at| *at < words.len())
            .find_map(|at| {
                let first = figure(&words[..at])?;
                let rest = &words[at..];
                // The longest day that leaves nothing or a year.
                (1..=rest.len().min(2)).rev().find_map(|end| {
                    let second = figure(&rest[..end])?;
                    let last = &rest[end..];
                    let has_month = first.min(second) <= 12;
                    let is_date = has_month && (last.is_empty() || any_year(last).is_some());
                    is_date.then_some((first, second, last))
                })
            }),
    }
}

/// "Three slash two thousand twenty seven": a month of a year, as labels have it.
pub(super) fn month_and_year(words: &[&str]) -> Option<(u32, i32)> {
    let slash = words.iter().position(|w| *w == "slash")?;
    let month = figure(&words[..slash]).filter(|month| *month <= 12)?;
    Some((month, year(&words[slash + 1..])?))
}

/// One figure of a date: "ten", "oh three", "twenty one".
fn figure(words: &[&str]) -> Option<u32> {
    let number = match words {
        ["oh" | "zero", digit] => cardinal(&[*digit]).filter(|d| *d < 10)?,
        // Two figures said one by one are no day: "one five" may be the first of two.
        [_, second] if matches!(*second, "oh" | "zero") => return None,
        _ => cardinal(words)?,
    };
    u32::try_from(number)
        .ok()
        .filter(|n| (1..=31).contains(n) && (words.len() == 1 || *n < 10 || *n > 20))
}

/// A year of this century or the end of the last: "twenty twenty seven", "two thousand [and] nine".
pub(super) fn year(words: &[&str]) -> Option<i32> {
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

/// A year, or one as labels write it behind a day: the "27" of 2027.
pub(super) fn any_year(words: &[&str]) -> Option<i32> {
    let short = || {
        let year = cardinal(words).filter(|year| (10..100).contains(year))?;
        Some(2000 + year as i32)
    };
    year(words).or_else(short)
}
