//! The phrases of `tests/data/measure/phrases.tsv` typed in whole commands: their slots have normalised values.

use std::collections::BTreeMap;

use serde_json::{Value, json};

#[path = "common/kitchen.rs"]
mod kitchen;
use kitchen::Kitchen;

const PHRASES: &str = include_str!("data/measure/phrases.tsv");

fn phrases(kind: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let rows = PHRASES.lines().filter(|line| !line.starts_with('#'));
    let rows = rows.map(|row| row.split('\t').collect::<Vec<_>>());
    rows.filter(move |row| row[0] == kind)
        .map(|row| (row[1], row[2]))
}

/// `3 x 14 ounce can` as count, amount and unit; a number as JSON has it.
fn parts(quantity: &str) -> Value {
    let number = |text: &str| -> Value {
        let (top, bottom) = text.split_once('/').unwrap_or((text, "1"));
        let value = top.parse::<f64>().unwrap() / bottom.parse::<f64>().unwrap();
        match value.fract() == 0.0 {
            true => json!(value as i64),
            false => json!(value),
        }
    };
    let words: Vec<&str> = quantity.split(' ').collect();
    let packs = [
        "gram",
        "kilogram",
        "milligram",
        "ounce",
        "fluid ounce",
        "pound",
        "milliliter",
        "liter",
        "teaspoon",
        "tablespoon",
        "cup",
        "pint",
        "quart",
        "gallon",
    ];
    match words.as_slice() {
        [count] => json!({ "count": number(count), "amount": null, "unit": null }),
        [count, "x", amount, unit @ .., _] => {
            json!({ "count": number(count), "amount": number(amount), "unit": unit.join(" ") })
        }
        [amount, unit @ ..] if packs.contains(&unit.join(" ").as_str()) => {
            json!({ "count": null, "amount": number(amount), "unit": unit.join(" ") })
        }
        [count, pack @ ..] => {
            json!({ "count": number(count), "amount": null, "unit": pack.join(" ") })
        }
        [] => panic!("{quantity}"),
    }
}

/// Types lines in one go, and gives what was understood of each.
fn understood(lines: &[String]) -> Vec<Value> {
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    Kitchen::new().say_json(&lines)
}

#[test]
fn quantities_are_normalised_in_a_command() {
    let phrases: BTreeMap<_, _> = phrases("quantity")
        .filter(|(_, value)| *value != "none")
        .collect();
    let line = |(phrase, value): (&&str, &&str)| match value.contains(' ') {
        true => format!("add {phrase} of flour to the pantry"),
        // "Two of flour" is said by nobody.
        false => format!("add {phrase} flour to the pantry"),
    };
    let lines: Vec<String> = phrases.iter().map(line).collect();
    let mut wrong = Vec::new();
    for ((line, object), value) in lines.iter().zip(understood(&lines)).zip(phrases.values()) {
        let found = (
            &object["intent"],
            &object["slots"]["quantity"],
            &object["slots"]["item"],
            &object["verdict"],
        );
        if found
            != (
                &json!("put-in"),
                &parts(value),
                &json!("flour"),
                &json!("accept"),
            )
        {
            wrong.push(format!("{line}: {found:?}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {}: {wrong:#?}",
        wrong.len(),
        lines.len()
    );
}

#[test]
fn dates_are_normalised_in_a_command() {
    let kinds = [
        "use by",
        "best by",
        "sell by",
        "freeze by",
        "packed",
        "opened",
        "frozen",
        "bought",
    ];
    let mut lines = Vec::new();
    let mut expected = Vec::new();
    for (phrase, value) in phrases("date").filter(|(_, value)| *value != "none") {
        let kind = kinds.iter().find(|kind| value.ends_with(*kind));
        let days = kind.map_or(value, |kind| {
            value.strip_suffix(kind).unwrap_or(value).trim()
        });
        // A date without a meaning of its own is given one, as on a tag.
        let phrase = match kind {
            Some(_) => phrase.to_owned(),
            None => format!("use by {}", phrase.strip_prefix("on ").unwrap_or(phrase)),
        };
        lines.push(format!("temporary tag two pounds of salmon {phrase}"));
        expected.push((kind.unwrap_or(&"use by"), days));
    }
    let mut wrong = Vec::new();
    for ((line, object), (kind, days)) in lines.iter().zip(understood(&lines)).zip(expected) {
        let date = &object["slots"]["date"];
        let right = match days.split_once(" or ") {
            _ if days == "no" => date["date"].is_null() && date["unclear"].is_string(),
            Some((day, other)) => date["date"] == day && date["or"] == other,
            None => date["date"] == days && date.get("or").is_none(),
        };
        let sure = object["verdict"] == "accept"
            && object["intent"] == "tag-new"
            && object["slots"]["item"] == "salmon";
        if !right || date["kind"] != *kind || !sure {
            wrong.push(format!(
                "{line}: {} {} {date}",
                object["intent"], object["verdict"]
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {}: {wrong:#?}",
        wrong.len(),
        lines.len()
    );
}
