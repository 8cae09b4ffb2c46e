//! What can be said in one state of the conversation only, and what is wrong with how a file says so.

use std::sync::Arc;

use chrono::NaiveDate;
use tellshelf::grammar::{Fault, Grammar, GrammarError, Lexicon, MAX_MODES, Verdict};
use tellshelf::measure::DateOrder;

/// A conversation with two states: reading spent tags one after another, and being at the store.
const FILE: &str = "\
language: en-US
slots: [item, date]
intents:
  used-up: I used up the <item>
  spent-one: [\"the <item>\", <item>]
  stop: all done
  next-line: next one
  got-it: got it
  until: until <date>
modes:
  spent: [spent-one, stop]
  store:
    - next-line
    - got-it
    - stop
";

fn grammar() -> Grammar {
    Grammar::from_text("kitchen.yaml", FILE).unwrap()
}

fn names() -> Lexicon {
    let mut names = Lexicon::default();
    names.add("oats", "oats");
    names
}

/// The intent that a text is accepted as.
fn intent(grammar: &Grammar, text: &str) -> Option<String> {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let understood = grammar.understand(&[text], &names(), today);
    let command = understood.command?;
    (understood.verdict == Verdict::Accept).then_some(command.intent)
}

fn fault(yaml: &str) -> GrammarError {
    let error = Grammar::from_text("kitchen.yaml", yaml).unwrap_err();
    assert_eq!(error.file, "kitchen.yaml");
    error
}

#[test]
fn what_belongs_to_a_mode_is_not_understood_outside() {
    for text in ["oats", "the oats", "all done", "next one", "got it"] {
        assert_eq!(intent(&grammar(), text), None, "{text}");
    }
}

#[test]
fn what_belongs_to_a_mode_is_understood_in_it_and_in_no_other() {
    for (text, meant, modes) in [
        ("The oats.", "spent-one", &["spent"][..]),
        ("oats", "spent-one", &["spent"]),
        ("next one", "next-line", &["store"]),
        ("Got it!", "got-it", &["store"]),
        ("all done", "stop", &["spent", "store"]),
    ] {
        for mode in ["spent", "store"] {
            let expected = modes.contains(&mode).then(|| meant.to_owned());
            let grammar = grammar().in_mode(mode).unwrap();
            assert_eq!(intent(&grammar, text), expected, "{text} in {mode}");
        }
    }
}

#[test]
fn what_belongs_to_no_mode_is_understood_everywhere() {
    let outside = grammar();
    let (spent, store) = (outside.in_mode("spent"), outside.in_mode("store"));
    for grammar in [outside, spent.unwrap(), store.unwrap()] {
        let used_up = Some("used-up".to_owned());
        assert_eq!(intent(&grammar, "I used up the oats"), used_up);
    }
}

#[test]
fn the_acceptor_of_a_mode_takes_its_sentences_and_the_plain_one_does_not() {
    let accepts = |grammar: &Grammar, text: &str| grammar.acceptor(Arc::new(names())).accepts(text);
    let outside = grammar();
    let store = outside.in_mode("store").unwrap();
    for text in ["Next one.", "got it", "all done"] {
        assert!(accepts(&store, text), "{text}");
        assert!(!accepts(&outside, text), "{text}");
    }
    assert!(!accepts(&store, "the oats"));
    for grammar in [&outside, &store] {
        assert!(accepts(grammar, "I used up the oats"));
    }
}

#[test]
fn words_sentences_and_states_are_those_that_can_be_said() {
    let file = "language: en\nintents:\n  go: go home\n  next: next one\nmodes:\n  store: [next]\n";
    let outside = Grammar::from_text("kitchen.yaml", file).unwrap();
    let store = outside.in_mode("store").unwrap();
    let sentences = |grammar: &Grammar| grammar.sentences(9).unwrap();
    assert_eq!(sentences(&outside), ["go home"]);
    assert_eq!(sentences(&store), ["go home", "next one"]);
    assert_eq!(outside.words().collect::<Vec<_>>(), ["go", "home"]);
    let words = ["go", "home", "next", "one"];
    assert_eq!(store.words().collect::<Vec<_>>(), words);
    assert!(outside.states() < store.states());
}

#[test]
fn a_mode_is_the_same_grammar_as_a_file_that_says_it_without_modes() {
    let (without, _) = FILE.split_once("modes:").unwrap();
    let all = Grammar::from_text("kitchen.yaml", without).unwrap();
    let one = format!("{without}modes:\n  all: [spent-one, stop, next-line, got-it]\n");
    let one = Grammar::from_text("kitchen.yaml", &one).unwrap();
    let inside = one.in_mode("all").unwrap();
    assert_eq!(inside.states(), all.states());
    assert!(inside.words().eq(all.words()));
}

#[test]
fn one_mode_leads_to_another_and_back_outside() {
    let spent = grammar().in_mode("spent").unwrap();
    let store = spent.in_mode("store").unwrap();
    assert_eq!(intent(&store, "oats"), None);
    assert_eq!(intent(&store, "next one"), Some("next-line".to_owned()));
    assert_eq!(intent(&store.outside_modes(), "next one"), None);
}

#[test]
fn the_order_of_dates_is_kept_in_a_mode() {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let date = |grammar: &Grammar| {
        let heard = grammar.understand(&["until 3/4/2027"], &names(), today);
        let date = heard.command.unwrap().slot("date").unwrap().to_json();
        date["date"].as_str().unwrap().to_owned()
    };
    let day_first = grammar().with_date_order(DateOrder::DayFirst);
    let store = day_first.in_mode("store").unwrap();
    for grammar in [&day_first, &store, &store.outside_modes()] {
        assert_eq!(date(grammar), "2027-04-03");
    }
    assert_eq!(date(&grammar().in_mode("store").unwrap()), "2027-03-04");
}

#[test]
fn a_mode_that_is_not_there_is_none() {
    for mode in ["cellar", "", "next-line"] {
        assert!(grammar().in_mode(mode).is_none(), "{mode}");
    }
    for modes in ["", "modes:\n", "modes: {}\n"] {
        let file = format!("language: en\nintents:\n  go: go\n{modes}");
        let grammar = Grammar::from_text("kitchen.yaml", &file).unwrap();
        assert!(grammar.in_mode("store").is_none(), "{modes}");
    }
}

#[test]
fn modes_may_stand_before_the_intents() {
    let file = "modes:\n  store: [next]\nlanguage: en\nintents:\n  go: go\n  next: next\n";
    let grammar = Grammar::from_text("kitchen.yaml", file).unwrap();
    let store = grammar.in_mode("store").unwrap();
    assert_eq!(store.sentences(9).unwrap(), ["go", "next"]);
}

/// A file whose modes begin in line 6.
fn with_modes(modes: &str) -> String {
    format!("language: en\nintents:\n  go: go\n  next: next\nmodes:\n{modes}")
}

#[test]
fn an_unknown_intent_in_a_mode_is_named() {
    let error = fault(&with_modes("  store:\n    - next\n    - nxt\n"));
    assert_eq!(error.line, 8);
    let (mode, intent) = ("store".to_owned(), "nxt".to_owned());
    assert_eq!(error.fault, Fault::UnknownIntent { mode, intent });
    assert_eq!(
        error.to_string(),
        "kitchen.yaml, line 8: the mode store has the intent nxt, which isn't there. Define it \
         under intents, or take it out of the mode"
    );
}

#[test]
fn a_rule_is_no_intent_of_a_mode() {
    let file =
        "language: en\nrules:\n  r: a\nintents:\n  go: <r>\n  next: b\nmodes:\n  store: [r]\n";
    let error = fault(file);
    assert_eq!(error.line, 8);
    assert!(matches!(error.fault, Fault::UnknownIntent { .. }));
}

#[test]
fn what_is_twice_in_modes_is_refused() {
    for (line, first, name, modes) in [
        (8, 7, "next", "  store:\n    - next\n    - next\n"),
        (6, 6, "next", "  store: [next, next]\n"),
        (7, 6, "store", "  store: [next]\n  store: [next]\n"),
    ] {
        let error = fault(&with_modes(modes));
        assert_eq!(error.line, line, "{modes}");
        let name = name.to_owned();
        assert_eq!(error.fault, Fault::Twice { name, first }, "{modes}");
        assert!(error.to_string().ends_with("Put both into one"), "{error}");
    }
}

#[test]
fn a_mode_without_intents_is_refused() {
    for modes in ["  store:\n", "  store: []\n", "  store: ~\n"] {
        let error = fault(&with_modes(&format!("  spent: [next]\n{modes}")));
        assert_eq!(error.line, 7, "{modes}");
        assert_eq!(error.fault, Fault::EmptyMode("store".to_owned()), "{modes}");
        let way_out = "List what can be said in it only, or take the mode out";
        assert!(error.to_string().ends_with(way_out), "{error}");
    }
}

#[test]
fn modes_in_another_shape_are_explained() {
    for (line, modes) in [
        (6, "  store: next\n"),
        (7, "  store:\n    next: go\n"),
        (7, "  store:\n    - [next]\n"),
        (7, "  store:\n    - next: go\n"),
        (8, "  store:\n    - next\n    -\n"),
        (6, "  - store\n"),
        (6, "  store\n"),
    ] {
        let error = fault(&with_modes(modes));
        assert_eq!(error.line, line, "{modes}: {error}");
        assert!(matches!(error.fault, Fault::Yaml(_)), "{modes}: {error}");
        let explained = error.to_string().contains("write name: [intent, intent]");
        assert!(explained, "{modes}: {error}");
    }
}

#[test]
fn something_can_be_said_outside_every_mode() {
    let error = fault(&with_modes("  store: [next]\n  spent: [go]\n"));
    assert_eq!((error.line, &error.fault), (6, &Fault::OnlyModes));
    assert!(error.to_string().ends_with("Take one out of its modes"));
}

#[test]
fn a_fault_in_an_intent_of_a_mode_is_found_when_the_file_is_read() {
    let file = "language: en\nintents:\n  go: go\n  next: <gone>\nmodes:\n  store: [next]\n";
    let error = fault(file);
    assert_eq!((error.line, error.rule.as_deref()), (4, Some("next")));
    assert_eq!(error.fault, Fault::UnknownRule("gone".to_owned()));
}

#[test]
fn too_many_modes_are_refused() {
    let many = |count: usize| {
        let modes: String = (0..count).map(|n| format!("  m{n}: [next]\n")).collect();
        with_modes(&modes)
    };
    assert!(Grammar::from_text("kitchen.yaml", &many(MAX_MODES)).is_ok());
    let error = fault(&many(MAX_MODES + 1));
    assert_eq!(error.line, 5);
    let limit = MAX_MODES;
    let too_large = matches!(error.fault, Fault::TooLarge { limit: l, .. } if l == limit);
    assert!(too_large, "{error}");
}

#[test]
fn the_limit_of_states_is_that_of_each_mode() {
    // Each of them takes more than half of what an automaton may have.
    let much = "a*".repeat(40_000);
    let file = |modes: &str| {
        format!("language: en\nintents:\n  go: go\n  a: {much}\n  b: {much}\n{modes}")
    };
    let apart = file("modes:\n  one: [a]\n  two: [b]\n");
    assert!(Grammar::from_text("kitchen.yaml", &apart).is_ok());
    for together in ["", "modes:\n  one: [a, b]\n"] {
        let error = fault(&file(together));
        let too_large = matches!(error.fault, Fault::TooLarge { .. });
        assert!(too_large, "{together}: {error}");
    }
}
