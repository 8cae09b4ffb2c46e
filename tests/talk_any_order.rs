//! Whatever is said in whatever order: an answer, no panic, and a change only when one is reported.

use chrono::{Days, NaiveDate, NaiveDateTime};
use proptest::prelude::*;
use tellshelf::grammar::Grammar;
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::Session;

fn now() -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    day.and_hms_opt(10, 0, 0).unwrap()
}

/// Lines of all kinds about a few things, so that they meet each other.
fn line() -> impl Strategy<Value = String> {
    let item = prop::sample::select(vec!["oats", "eggs", "milk", "dish soap", "zhoug", "rice"]);
    let amount = prop::sample::select(vec![
        "two bags of",
        "a dozen",
        "half a pound of",
        "three 14 ounce cans of",
        "500 grams of",
        "",
    ]);
    let place = prop::sample::select(vec!["pantry", "fridge", "freezer door", "moon"]);
    let date = prop::sample::select(vec![
        "",
        ", use by December third",
        ", December tenth",
        ", best by February thirtieth",
        ", use by November first 2026",
        ", opened yesterday",
    ]);
    let form = 0..20usize;
    (form, item, amount, place, date).prop_map(|(form, item, amount, place, date)| match form {
        0 | 1 => format!("add {amount} {item} to the {place}{date}"),
        2 => format!("I used up the {item}"),
        3 => format!("I used {amount} {item}"),
        4 => format!("put {amount} {item} on the list"),
        5 => format!("take the {item} off the list"),
        6 => format!("got the {item}"),
        7 => format!("temporary tag: {amount} {item}{date}"),
        8 => format!("put away the {item} in the {place}"),
        9 => format!("put away tag 1 in the {place}"),
        10 => format!("keep {amount} {item}"),
        11 => format!("where is the {item}"),
        12 => format!("how much {item} is left"),
        13 => "read the list".to_owned(),
        14 => "read the tags".to_owned(),
        15 => "what expires this month".to_owned(),
        16 => "what is running low".to_owned(),
        17 => "undo".to_owned(),
        18 => prop_oneof_words(place),
        _ => format!("{item} {amount} {place}{date}"),
    })
}

/// Answers, whether or not there was a question.
fn prop_oneof_words(place: &str) -> String {
    match place {
        "pantry" => "yes",
        "fridge" => "no",
        "moon" => "use by",
        _ => "repeat that",
    }
    .to_owned()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn every_line_is_answered_and_a_change_is_a_change(lines in prop::collection::vec(line(), 1..40)) {
        let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
        let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
        for (number, line) in lines.iter().enumerate() {
            let events = session.stock().events().unwrap().len();
            let tables = session.stock().dump().unwrap();
            let at = now() + Days::new(number as u64);
            let turn = session.hear(&[line], at, Source::Typed);
            prop_assert!(turn.reply.ends_with(['.', '?']), "{line}: {}", turn.reply);
            let grew = session.stock().events().unwrap().len() - events;
            prop_assert_eq!(grew, usize::from(turn.changed), "{}: {}", line, turn.reply);
            if !turn.changed {
                prop_assert_eq!(session.stock().dump().unwrap(), tables, "{}", line);
            }
            prop_assert!(!turn.failed, "{line}: {}", turn.reply);
            // Nothing relies on sight, nothing is promised to be safe.
            let reply = turn.reply.to_lowercase();
            for word in ["see ", "look", "click", "screen", "safe"] {
                prop_assert!(!reply.contains(word), "{line}: {reply}");
            }
            // Lists are as long as they are; all else is short.
            let long = ["read the", "what ", "where", "how ", "repeat"];
            if !long.iter().any(|start| line.starts_with(start)) {
                let words = reply.split(' ').count();
                prop_assert!(words <= 30, "{words} words to {line}: {reply}");
            }
        }
    }
}
