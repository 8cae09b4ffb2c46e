//! What people say for each thing the tool does: every intent in the words of everyday, and nothing
//! taken for what it isn't.

#[path = "common/wordings.rs"]
mod wordings;

use std::collections::BTreeSet;
use std::sync::LazyLock;

use chrono::NaiveDate;
use tellshelf::grammar::{Grammar, GrammarFile, Lexicon, Mode, Understanding, Verdict};
use wordings::WORDINGS;

const FILE: &str = include_str!("../grammars/en.yaml");
static GRAMMAR: LazyLock<Grammar> = LazyLock::new(|| Grammar::from_text("en.yaml", FILE).unwrap());
static NAMES: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::starter("en-US"));

/// What is said in one state of the talk, and what it mustn't be taken for there.
#[test]
fn words_that_sound_alike_are_told_apart_where_both_can_be_said() {
    for (mode, line, intent) in [
        ("store", "next", "next-line"),
        ("store", "next one", "next-line"),
        ("store", "next step", "step-next"),
        ("away", "freezer", "goes-there"),
        ("away", "skip it", "skip"),
        ("away", "done", "done"),
        ("away", "this is tag three", "code-is"),
    ] {
        let grammar = GRAMMAR.in_mode(mode).unwrap();
        let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
        let command = grammar.understand(&[line], &NAMES, today).command.unwrap();
        assert_eq!(command.intent, intent, "{line}");
    }
    for line in [
        "add a step stool to the list",
        "add a step ladder to the closet",
    ] {
        let command = understand(line).command.unwrap();
        assert_ne!(command.intent, "step-note", "{line}");
    }
}

fn understand(line: &str) -> Understanding {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    GRAMMAR.understand(&[line], &NAMES, today)
}

/// An intent of a mode is said in that mode.
fn understand_as(intent: &str, line: &str) -> Understanding {
    let file = GrammarFile::parse("en.yaml", FILE).unwrap();
    let has = |mode: &&Mode| mode.intents.iter().any(|(name, _)| name == intent);
    let mode = file.modes.iter().find(has);
    let inside = mode.map(|mode| GRAMMAR.in_mode(&mode.name).unwrap());
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let grammar = inside.as_ref().unwrap_or(&GRAMMAR);
    grammar.understand(&[line], &NAMES, today)
}

#[test]
fn ordinary_words_are_understood_exactly() {
    let mut wrong = Vec::new();
    for (intent, lines) in WORDINGS {
        for line in lines {
            let understood = understand_as(intent, line);
            let command = understood.command.as_ref();
            let found = command.map_or("nothing", |c| c.intent.as_str());
            let exact = command.is_some_and(|c| c.confidence == 1.0);
            if found != intent || understood.verdict != Verdict::Accept || !exact {
                wrong.push(format!("{line}: {found}, {:?}", understood.verdict));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_intent_of_the_grammar_has_its_wordings() {
    let file = GrammarFile::parse("en.yaml", FILE).unwrap();
    let there: BTreeSet<&str> = file.intents.iter().map(|i| i.name.as_str()).collect();
    let tried: BTreeSet<&str> = WORDINGS.iter().map(|(intent, _)| *intent).collect();
    assert_eq!(there, tried);
}

#[test]
fn talk_that_is_no_command_is_not_accepted() {
    for line in [
        "thank you",
        "open the door",
        "turn on the light",
        "how do I clean the oven",
        "what time is it",
        "the bus was late again",
        "take",
        "out of",
    ] {
        let understood = understand(line);
        assert_ne!(
            understood.verdict,
            Verdict::Accept,
            "{line}: {understood:?}"
        );
    }
}

/// A command for one thing is never carried out as one for another that only sounds alike.
#[test]
fn half_of_a_thing_is_not_all_of_it() {
    for line in ["I used half the milk", "I threw away half the milk"] {
        let understood = understand(line);
        assert_eq!(understood.command.unwrap().intent, "use", "{line}");
    }
}

#[test]
fn a_date_is_taken_from_nothing_but_its_own_words() {
    for line in [
        "temporary tag milk use by novembr 30",
        "add milk to the fridge best by decembr third",
    ] {
        let understood = understand(line);
        assert_ne!(
            understood.verdict,
            Verdict::Accept,
            "{line}: {understood:?}"
        );
    }
}
