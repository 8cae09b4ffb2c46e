//! Another task than ours, in the same format: the labels of spoken coffee orders. The recordings
//! aren't part of the project; where they aren't there, one line says so.

use std::collections::BTreeMap;
use std::path::PathBuf;

use chrono::NaiveDate;
use serde::Deserialize;
use serde_json::{Map, Value};
use tellshelf::grammar::{Grammar, Lexicon, Verdict};

#[derive(Deserialize)]
struct Label {
    intent: String,
    slots: Map<String, Value>,
}

fn folder() -> Option<PathBuf> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/speech-orders");
    let folder = std::env::var_os("SPEECH_ORDERS_DIR").map_or_else(beside, PathBuf::from);
    let there = folder.join("orders.yaml").is_file();
    if !there {
        println!("skipped: set SPEECH_ORDERS_DIR to the folder of the spoken orders");
    }
    there.then_some(folder)
}

/// A sentence that has a label's slots, and nothing else.
fn sentence(label: &Label) -> String {
    let said = |slot: &str| label.slots.get(slot).and_then(Value::as_str);
    let order = ["size", "numberOfShots", "roast", "coffeeDrink"];
    let mut words = vec!["brew", "a"];
    words.extend(order.iter().filter_map(|slot| said(slot)));
    for (slot, link) in [("milkAmount", "with"), ("sugarAmount", "and")] {
        if let Some(said) = said(slot) {
            words.extend([
                if words.contains(&"with") {
                    link
                } else {
                    "with"
                },
                said,
            ]);
        }
    }
    words.join(" ")
}

#[test]
fn every_label_is_understood_from_its_own_sentence() {
    let Some(folder) = folder() else { return };
    let grammar = Grammar::load(&folder.join("orders.yaml")).unwrap();
    let labels = std::fs::read_to_string(folder.join("labels.json")).unwrap();
    let labels: BTreeMap<String, Label> = serde_json::from_str(&labels).unwrap();
    assert!(labels.len() > 100, "only {} labels", labels.len());
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    for label in labels.values() {
        let text = sentence(label);
        let understood = grammar.understand(&[&text], &Lexicon::default(), today);
        assert_eq!(understood.verdict, Verdict::Accept, "{text}");
        let command = understood.command.unwrap();
        let slots = command
            .slots
            .iter()
            .map(|(name, value)| (name.clone(), value.to_json()));
        assert_eq!(slots.collect::<Map<_, _>>(), label.slots, "{text}");
        assert_eq!(
            (&command.intent, command.confidence),
            (&label.intent, 1.0),
            "{text}"
        );
    }
}
