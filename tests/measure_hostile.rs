//! Numbers, quantities and dates from any words: a value or none, never a panic, never a wrong one
//! that came from running over.

use chrono::NaiveDate;
use proptest::prelude::*;
use tellshelf::measure::{
    Amount, Quantity, read_date, read_number, read_quantity, say_amount, say_date, spell,
    spell_ordinal,
};

fn words(text: &str) -> Vec<&str> {
    text.split(' ').collect()
}

#[test]
fn the_largest_number_is_read() {
    let text = "nine hundred ninety nine million nine hundred ninety nine thousand nine hundred ninety nine";
    assert_eq!(
        read_number(&words(text)),
        Some(Amount::from_integer(999_999_999))
    );
    assert_eq!(spell(999_999_999), text);
}

#[test]
fn numbers_without_end_are_refused() {
    for word in [
        "dozen", "nine", "million", "hundred", "half", "and", "point", "a", "thousand",
    ] {
        for count in [40, 100_000] {
            let many = vec![word; count];
            assert_eq!(read_number(&many), None, "{count} x {word}");
            assert_eq!(read_quantity(&many), None, "{count} x {word}");
            let dozens = [&["one"], many.as_slice()].concat();
            assert_eq!(read_number(&dozens), None, "one, {count} x {word}");
        }
    }
    let halves = format!("two cups{}", " and a half".repeat(100_000));
    assert_eq!(read_quantity(&words(&halves)), None);
}

#[test]
fn the_largest_whole_numbers_are_spelled() {
    assert!(spell(u64::MAX).ends_with("six hundred fifteen"));
    assert!(spell_ordinal(u64::MAX).ends_with("six hundred fifteenth"));
}

#[test]
fn dates_at_the_ends_of_the_calendar_do_not_panic() {
    for today in [NaiveDate::MIN, NaiveDate::MAX] {
        for text in [
            "tomorrow",
            "yesterday",
            "a week ago",
            "in ninety nine weeks",
            "next friday",
            "friday",
            "a week from friday",
            "the thirty first",
            "bought the thirty first",
            "february twenty ninth",
            "packed february twenty ninth",
            "the end of the month",
            "twelve slash thirty one",
        ] {
            if let Ok(reading) = read_date(&words(text), today.into()) {
                say_date(reading.note.date, today);
            }
        }
    }
}

#[test]
fn a_count_of_days_beyond_any_label_is_refused() {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    for text in [
        "in nine hundred million weeks",
        "nine hundred million days ago",
    ] {
        assert!(read_date(&words(text), today.into()).is_err(), "{text}");
    }
}

/// Words that numbers, quantities and dates are made of.
const WORDS: [&str; 44] = [
    "a", "an", "one", "two", "nine", "ten", "nineteen", "twenty", "ninety", "hundred", "thousand",
    "million", "dozen", "half", "quarter", "thirds", "fifth", "and", "of", "the", "point", "oh",
    "zero", "couple", "cans", "can", "cup", "cups", "pound", "pounds", "ounce", "fluid", "grams",
    "use", "by", "march", "february", "friday", "next", "slash", "days", "ago", "in", "week",
];

fn some_words(most: usize) -> impl Strategy<Value = Vec<&'static str>> {
    prop::collection::vec(prop::sample::select(&WORDS[..]), 0..most)
}

/// A quantity as it may be said.
fn quantity() -> impl Strategy<Value = Quantity> {
    let number = (0u64..999_999_999, 0u64..999, 1usize..12);
    let unit = prop::sample::select(&["pounds", "ounces", "grams", "kilograms"][..]);
    (number, unit).prop_map(|((whole, part, kind), unit)| {
        let number = match kind {
            1..4 => spell(whole % 1_000),
            4..6 => spell(whole),
            6..8 => format!(
                "{} point {} {}",
                spell(whole),
                spell(part % 10),
                spell(part / 100)
            ),
            8..10 => format!("{} and a third", spell(whole)),
            _ => format!("{} sevenths", spell(part + 2)),
        };
        let text = format!("{number} {unit}");
        read_quantity(&words(&text)).unwrap_or_else(|| panic!("{text}"))
    })
}

proptest! {
    #[test]
    fn no_words_make_reading_panic(said in some_words(12), any in "\\PC{0,40}") {
        let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
        for words in [&said, &words(&any)] {
            if let Some(number) = read_number(words) {
                say_amount(number);
            }
            if let Some(quantity) = read_quantity(words) {
                quantity.spoken_of("oats");
                prop_assert_eq!(quantity.to_string().parse(), Ok(quantity));
            }
            if let Ok(reading) = read_date(words, today.into()) {
                say_date(reading.note.date, today);
            }
        }
    }

    #[test]
    fn what_is_put_in_and_taken_out_again_leaves_what_was_there(
        start in quantity(),
        changes in prop::collection::vec(quantity(), 0..20),
    ) {
        let mut there = start.clone();
        for change in &changes {
            there = there.plus(change).unwrap();
        }
        for change in changes.iter().rev() {
            there = there.minus(change).unwrap().unwrap();
        }
        prop_assert_eq!(there, start);
    }

    #[test]
    fn whole_numbers_are_read_as_they_are_spelled(n in 0u64..1_000_000_000) {
        prop_assert_eq!(read_number(&words(&spell(n))), Some(Amount::from_integer(n.into())));
    }
}
