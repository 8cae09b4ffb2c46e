//! Phrases as people say them about food, with the values that were meant: `tests/data/measure/phrases.tsv`.

use std::fmt::Write;

use chrono::NaiveDate;
use tellshelf::grammar::normal_words;
use tellshelf::measure::{DateDoubt, read_date, read_number, read_quantity};

const PHRASES: [&str; 2] = [
    include_str!("data/measure/phrases.tsv"),
    include_str!("data/measure/phrases-more.tsv"),
];

fn read(kind: &str, words: &[&str]) -> String {
    let none = || "none".to_owned();
    match kind {
        "number" => read_number(words).map_or_else(none, |number| number.to_string()),
        "quantity" => read_quantity(words).map_or_else(none, |quantity| quantity.to_string()),
        "date" => {
            let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
            let Ok(reading) = read_date(words, today.into()) else {
                return none();
            };
            let mut said = match reading.doubt {
                None => reading.note.date.to_string(),
                Some(DateDoubt::Or(other)) => format!("{} or {other}", reading.note.date),
                Some(_) => return "no".to_owned(),
            };
            if let Some(kind) = reading.note.kind {
                write!(said, " {kind}").unwrap();
            }
            said
        }
        other => panic!("{other}"),
    }
}

#[test]
fn phrases_mean_what_people_mean() {
    let rows = PHRASES.iter().flat_map(|file| file.lines());
    let rows = rows.filter(|line| !line.starts_with('#'));
    let (mut read_right, mut wrong) = (0, Vec::new());
    for row in rows {
        let [kind, phrase, value] = row.split('\t').collect::<Vec<_>>()[..] else {
            panic!("{row}");
        };
        let words = normal_words(phrase);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let read = read(kind, &words);
        if read == value {
            read_right += 1;
        } else {
            wrong.push(format!("{kind} “{phrase}”: {read}, not {value}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(read_right >= 300, "{read_right}");
}
