//! What the built-in rules let through, the room "measure" can read: else a person would say a
//! sentence of the grammar, and get no value.

mod grammar_sentences;

use chrono::NaiveDate;
use grammar_sentences::{Numbers, Sentences};
use tellshelf::grammar::{Grammar, GrammarFile, Lexicon, Rule, Value, Verdict};
use tellshelf::measure::{DateError, read_date, read_number, read_quantity};

fn built_in() -> GrammarFile {
    GrammarFile::parse(
        "builtin.en.yaml",
        include_str!("../grammars/builtin.en.yaml"),
    )
    .unwrap()
}

fn rule_of<'f>(file: &'f GrammarFile, name: &str) -> &'f Rule {
    file.rules.iter().find(|rule| rule.name == name).unwrap()
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

/// Sentences of a rule that `reads` can't read.
fn unread(rule: &str, reads: impl Fn(&[&str]) -> bool) -> Vec<String> {
    let file = built_in();
    let sentences = Sentences::of(&file.rules);
    let start = rule_of(&file, rule);
    let mut numbers = Numbers::from_seed(20_261_125);
    let mut unread: Vec<String> = (0..20_000)
        .map(|_| sentences.any(start, &mut numbers))
        .filter(|words| !reads(&words.iter().map(String::as_str).collect::<Vec<_>>()))
        .map(|words| words.join(" "))
        .collect();
    unread.sort();
    unread.dedup();
    unread
}

#[test]
fn every_number_of_the_grammar_is_read() {
    assert_eq!(
        unread("number", |words| read_number(words).is_some()),
        [""; 0]
    );
}

#[test]
fn every_tag_of_the_grammar_is_read() {
    assert_eq!(
        unread("tag", |words| read_number(words)
            .is_some_and(|n| n.is_integer())),
        [""; 0]
    );
}

#[test]
fn every_quantity_of_the_grammar_is_read() {
    assert_eq!(
        unread("quantity", |words| read_quantity(words).is_some()),
        [""; 0]
    );
}

#[test]
fn every_date_of_the_grammar_is_read_or_does_not_exist() {
    let reads =
        |words: &[&str]| !matches!(read_date(words, today()), Err(DateError::NotADate { .. }));
    assert_eq!(unread("date", reads), [""; 0]);
}

#[test]
fn a_quantity_is_understood_as_what_measure_reads() {
    let yaml = "language: en\nslots: [quantity]\nintents:\n  take: take <quantity>\n";
    let grammar = Grammar::from_text("take.yaml", yaml).unwrap();
    let file = built_in();
    let sentences = Sentences::of(&file.rules);
    let mut numbers = Numbers::from_seed(3);
    for _ in 0..60 {
        let words = sentences.any(rule_of(&file, "quantity"), &mut numbers);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let text = format!("take {}", words.join(" "));
        let understood = grammar.understand(&[&text], &Lexicon::default(), today());
        assert_eq!(understood.verdict, Verdict::Accept, "{text}");
        let expected = Value::Quantity(read_quantity(&words).unwrap());
        assert_eq!(
            understood.command.unwrap().slot("quantity"),
            Some(&expected),
            "{text}"
        );
    }
}

#[test]
fn nonsense_is_no_sentence_of_the_built_in_rules() {
    let yaml = "language: en\nslots: [quantity, date]\nintents:\n  take: take <quantity>\n  on: on <date>\n";
    let grammar = Grammar::from_text("take.yaml", yaml).unwrap();
    for text in [
        "take a containers",
        "take half a bags",
        "take a third cans",
        "take a a dozen ounce can",
        "on march ninety nine",
        "on the thirty fifth",
        "on in a weeks",
        "on sixty slash three",
    ] {
        let understood = grammar.understand(&[text], &Lexicon::default(), today());
        let exact = understood
            .command
            .is_some_and(|command| command.confidence == 1.0);
        assert!(!exact, "{text}");
    }
}
