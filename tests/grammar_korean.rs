//! A grammar in another language: its own numbers and dates, read from tags.

#[path = "common/labels.rs"]
mod labels;

use chrono::NaiveDate;
use labels::labels;
use serde_json::Map;
use tellshelf::grammar::{Grammar, Lexicon, Verdict};

#[test]
fn the_text_of_every_korean_recording_means_its_label() {
    let grammar = Grammar::from_text("ko.yaml", include_str!("../grammars/ko.yaml")).unwrap();
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let korean = labels("ko");
    assert_eq!(korean.len(), 8);
    for label in korean.values() {
        let understood = grammar.understand(&[&label.text], &Lexicon::default(), today);
        assert_eq!(understood.verdict, Verdict::Accept, "{}", label.text);
        let command = understood.command.unwrap();
        let slots = command
            .slots
            .iter()
            .map(|(name, value)| (name.clone(), value.to_json()));
        assert_eq!(
            Some(&command.intent),
            label.intent.as_ref(),
            "{}",
            label.text
        );
        assert_eq!(slots.collect::<Map<_, _>>(), label.slots, "{}", label.text);
    }
}

#[test]
fn a_small_grammar_can_be_listed_for_a_recogniser() {
    let grammar = Grammar::from_text("ko.yaml", include_str!("../grammars/ko.yaml")).unwrap();
    let sentences = grammar.sentences(2_000).unwrap();
    assert!(
        sentences.contains(&"감자 두 개 썼어".to_owned()),
        "{sentences:?}"
    );
}
