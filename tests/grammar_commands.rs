//! What can be said in English: the text of every recording, typed as it is, has exactly the intent
//! and the slots of its label.

#[path = "common/labels.rs"]
mod labels;

use chrono::NaiveDate;
use labels::labels;
use serde_json::{Map, Value};
use tellshelf::grammar::{Grammar, Lexicon, Verdict};

fn grammar() -> Grammar {
    Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap()
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

#[test]
fn the_text_of_every_recording_means_its_label() {
    let (grammar, names) = (grammar(), Lexicon::starter("en-US"));
    let mut wrong = Vec::new();
    let labels = labels("en");
    assert!(labels.len() >= 40, "only {} labels", labels.len());
    for (file, label) in labels.iter().filter(|(_, label)| label.intent.is_some()) {
        let understood = grammar.understand(&[&label.text], &names, today());
        let command = understood.command.expect(file);
        let slots: Map<String, Value> = command
            .slots
            .iter()
            .map(|(name, value)| (name.clone(), value.to_json()))
            .collect();
        if Some(&command.intent) != label.intent.as_ref()
            || slots != label.slots
            || understood.verdict != Verdict::Accept
            || command.confidence < 1.0
        {
            wrong.push(format!(
                "{}: {} {slots:?} {}",
                label.text, command.intent, command.confidence
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn talk_that_is_not_for_us_is_not_accepted() {
    let (grammar, names) = (grammar(), Lexicon::starter("en-US"));
    for label in labels("en").values().filter(|label| label.intent.is_none()) {
        let understood = grammar.understand(&[&label.text], &names, today());
        assert_ne!(
            understood.verdict,
            Verdict::Accept,
            "{}: {understood:?}",
            label.text
        );
    }
}
