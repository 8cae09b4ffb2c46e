//! What is spoken, and what is written in the usual ways, is read again as the same value: over all whole numbers
//! to a million, all parts a kitchen names, all units, and all dates of twelve years.

use chrono::{Datelike, Days, NaiveDate};
use tellshelf::grammar::{Grammar, Lexicon, Value, normal_words};
use tellshelf::measure::{
    Amount, DateKind, DateNote, Pack, Quantity, Unit, read_date, read_number, read_quantity,
    say_amount, spell, spell_ordinal,
};

fn whole(n: u64) -> Amount {
    Amount::from_integer(n.into())
}

fn number(text: &str) -> Option<Amount> {
    read_number(&text.split(' ').collect::<Vec<_>>())
}

/// The number as a recogniser or a person writes it, through the normal form of words.
fn written(text: &str) -> Option<Amount> {
    let words = normal_words(text);
    read_number(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

#[test]
fn every_number_to_a_million_is_read_as_it_is_spelled() {
    for n in 0..=1_000_000 {
        assert_eq!(number(&spell(n)), Some(whole(n)), "{n}");
    }
}

/// Source of the form: num2words and British usage, "two hundred and five", "one thousand and five".
#[test]
fn every_number_to_a_million_is_read_with_and() {
    for n in 0..=1_000_000 {
        let (thousands, rest) = (n / 1_000, n % 1_000);
        let (hundreds, tens) = (rest / 100, rest % 100);
        let below = match (hundreds, tens) {
            (0, tens) => spell(tens),
            (hundreds, 0) => spell(hundreds * 100),
            (hundreds, tens) => format!("{} and {}", spell(hundreds * 100), spell(tens)),
        };
        let said = match (thousands, rest) {
            (0, _) | (1_000, 0) => continue,
            (thousands, 0) => spell(thousands * 1_000),
            (thousands, 1..=99) => format!("{} thousand and {below}", spell(thousands)),
            (thousands, _) => format!("{} thousand {below}", spell(thousands)),
        };
        assert_eq!(number(&said), Some(whole(n)), "{said}");
        assert_eq!(number(&below), Some(whole(rest)), "{below}");
    }
}

#[test]
fn every_number_of_the_years_is_read_in_hundreds() {
    for n in (1_100..10_000).filter(|n| n / 100 % 10 != 0) {
        let hundreds = spell(n / 100);
        let said = match n % 100 {
            0 => format!("{hundreds} hundred"),
            rest => format!("{hundreds} hundred {}", spell(rest)),
        };
        assert_eq!(number(&said), Some(whole(n)), "{said}");
    }
}

#[test]
fn numbers_in_figures_are_read() {
    for n in (0..10_000).chain((10_000..=1_000_000).step_by(331)) {
        assert_eq!(written(&n.to_string()), Some(whole(n)), "{n}");
        let figures = n.to_string();
        if let Some(at) = figures
            .len()
            .checked_sub(3)
            .filter(|at| (1..=3).contains(at))
        {
            let with_comma = format!("{},{}", &figures[..at], &figures[at..]);
            assert_eq!(written(&with_comma), Some(whole(n)), "{with_comma}");
        }
    }
}

/// Sixteenths and their like, and every decimal of up to three places, to a hundred.
fn amounts() -> impl Iterator<Item = Amount> {
    let parts = (1..=16)
        .flat_map(|bottom| (1..bottom * 20).map(move |top| Amount::new(top.into(), bottom.into())));
    let decimals = (0..100_000).step_by(7).map(|n| Amount::new(n, 1_000));
    parts.chain(decimals)
}

#[test]
fn an_amount_is_read_as_it_is_spoken_and_a_rounded_one_says_so() {
    for amount in amounts() {
        let said = say_amount(amount);
        match said.strip_prefix("about ") {
            None => assert_eq!(written(&said), Some(amount), "{said}"),
            Some(rounded) => {
                let read = written(rounded).unwrap_or_else(|| panic!("{said}"));
                let off = (read - amount) / amount;
                assert!(off != whole(0), "{said} is exact");
                assert!(off * off < Amount::new(1, 10_000), "{said} is {amount}");
            }
        }
    }
}

fn read_again(said: &str) -> Option<Quantity> {
    let words = normal_words(said);
    read_quantity(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

/// The same value, though maybe in another unit ("4 ounces" of a pound).
fn is_same(quantity: &Quantity, read: &Quantity) -> bool {
    quantity
        .minus(read)
        .is_ok_and(|left| left.is_some_and(|left| left.is_zero()))
}

#[test]
fn a_quantity_is_read_as_it_is_spoken_in_every_unit_and_pack() {
    let parts = [
        (1, 2),
        (1, 3),
        (3, 4),
        (1, 1),
        (3, 2),
        (9, 4),
        (12, 1),
        (6, 5),
        (7, 8),
        (500, 1),
    ];
    for (top, bottom) in parts {
        let amount = Amount::new(top, bottom);
        for unit in Unit::ALL {
            let quantity = Quantity::Measure {
                amount,
                unit: *unit,
            };
            let read = read_again(&quantity.spoken());
            let same = read.as_ref().is_some_and(|read| is_same(&quantity, read));
            assert!(same, "{}: {read:?}", quantity.spoken());
        }
        for pack in Pack::ALL {
            let pack = Some(*pack);
            let quantity = Quantity::Count {
                count: amount,
                pack,
            };
            assert_eq!(
                read_again(&quantity.spoken()),
                Some(quantity.clone()),
                "{}",
                quantity.spoken()
            );
        }
    }
}

#[test]
fn packs_of_every_size_are_read_as_they_are_spoken() {
    for count in [1, 2, 3, 6, 12, 20, 24, 100] {
        for (top, bottom) in [
            (1, 2),
            (5, 1),
            (8, 1),
            (14, 1),
            (29, 2),
            (28, 1),
            (16, 1),
            (6, 5),
        ] {
            for unit in Unit::ALL {
                let (count, amount) = (Amount::from_integer(count), Amount::new(top, bottom));
                for pack in [Pack::Can, Pack::Box, Pack::Loaf] {
                    let quantity = Quantity::Packs {
                        count,
                        amount,
                        unit: *unit,
                        pack,
                    };
                    let said = quantity.spoken();
                    assert_eq!(read_again(&said), Some(quantity), "{said}");
                }
            }
        }
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Days on which reading is hardest: the turns of month and year, leap days, and a day in the middle.
fn todays() -> Vec<NaiveDate> {
    [
        "2026-11-25",
        "2026-12-31",
        "2027-01-01",
        "2028-02-29",
        "2027-03-01",
        "2026-08-31",
    ]
    .map(day)
    .to_vec()
}

fn twelve_years() -> impl Iterator<Item = NaiveDate> {
    let first = day("2021-01-01");
    (0..)
        .map(move |n| first + Days::new(n))
        .take_while(|date| date.year() < 2033)
}

fn read_day(text: &str, today: NaiveDate) -> Option<DateNote> {
    let words = normal_words(text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let reading = read_date(&words, today.into()).ok()?;
    reading.doubt.is_none().then_some(reading.note)
}

#[test]
fn every_date_of_twelve_years_is_read_as_it_is_spoken_with_every_meaning() {
    let kinds = || [None].into_iter().chain(DateKind::ALL.map(Some));
    for today in todays() {
        for date in twelve_years() {
            for kind in kinds() {
                let note = DateNote { kind, date };
                let said = note.spoken(today);
                assert_eq!(read_day(&said, today), Some(note), "“{said}” on {today}");
            }
        }
    }
}

#[test]
fn every_date_of_twelve_years_is_read_in_every_form_that_names_its_year() {
    let today = day("2026-11-25");
    for date in twelve_years() {
        let month = date.format("%B").to_string();
        let short = date.format("%b").to_string();
        let (day, year) = (date.day(), date.year());
        let ordinal = spell_ordinal(day.into());
        let century = match year % 100 {
            rest @ 10.. => format!("twenty {}", spell(rest as u64)),
            rest => format!("two thousand {}", spell(rest as u64)),
        };
        for said in [
            format!("{month} {day}, {year}"),
            format!("{short}. {day}, {year}"),
            format!("{day} {month} {year}"),
            format!("{month} {ordinal} {century}"),
            format!("the {ordinal} of {month} {century}"),
            format!("{month} {ordinal} {}", spell(year as u64)),
            format!("{} {}, {year}", date.format("%A"), date.format("%B %-d")),
            format!("{}/{day}/{year}", date.month()),
            format!("{}/{day}/{:02}", date.month(), year % 100),
            date.to_string(),
        ] {
            let read = read_day(&said, today).map(|note| note.date);
            assert_eq!(read, Some(date), "{said}");
        }
    }
}

/// The same words, through the built-in rules: what the measure room reads can also be said in any grammar.
#[test]
fn what_is_spoken_is_understood_by_the_built_in_rules() {
    let file = "language: en-US\nslots: [date, quantity, number]\nintents:\n  \
        when: on the shelf until <date>\n  much: there are <quantity>\n  count: count to <number>\n";
    let grammar = Grammar::from_text("small.yaml", file).unwrap();
    let today = day("2026-11-25");
    let value = |line: &str, slot: &str| -> Value {
        let understood = grammar.understand(&[line], &Lexicon::default(), today);
        let command = understood.command.unwrap_or_else(|| panic!("{line}"));
        assert_eq!(command.confidence, 1.0, "{line}: {}", command.sentence);
        command
            .slot(slot)
            .unwrap_or_else(|| panic!("{line}"))
            .clone()
    };
    for date in twelve_years().step_by(13).filter(|date| date.year() > 2022) {
        let said = DateNote { kind: None, date }.spoken(today);
        let Value::Date(Ok(read)) = value(&format!("on the shelf until {said}"), "date") else {
            panic!("{said}");
        };
        assert_eq!((read.note.date, read.doubt), (date, None), "{said}");
    }
    for n in (0..3_000)
        .step_by(37)
        .chain((3_000..1_000_000).step_by(9_973))
    {
        let line = format!("count to {}", spell(n));
        assert_eq!(value(&line, "number"), Value::Number(whole(n)), "{line}");
    }
    for unit in Unit::ALL {
        for (top, bottom) in [(1, 2), (1, 3), (2, 1), (3, 2), (9, 4), (16, 1), (6, 5)] {
            let quantity = Quantity::Measure {
                amount: Amount::new(top, bottom),
                unit: *unit,
            };
            let Value::Quantity(read) =
                value(&format!("there are {}", quantity.spoken()), "quantity")
            else {
                panic!("{}", quantity.spoken());
            };
            assert!(is_same(&quantity, &read), "{}: {read}", quantity.spoken());
        }
    }
}
