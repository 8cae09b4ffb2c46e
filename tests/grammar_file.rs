//! The grammar file: what JSGF's marks mean, and what each fault is called.

use chrono::NaiveDate;
use serde_json::{Map, Value, json};
use tellshelf::grammar::{Grammar, Lexicon, MAX_FILE, Verdict};

fn grammar(rest: &str) -> Grammar {
    Grammar::from_text("g.yaml", &format!("language: en-US\n{rest}")).unwrap()
}

/// Intent and slots of a text that is in the grammar exactly; nothing for one that isn't.
fn read(grammar: &Grammar, text: &str) -> Option<(String, Value)> {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let command = grammar
        .understand(&[text], &Lexicon::default(), today)
        .command?;
    let slots = command
        .slots
        .iter()
        .map(|(name, value)| (name.clone(), value.to_json()));
    let slots = Value::Object(slots.collect::<Map<_, _>>());
    (command.confidence == 1.0).then_some((command.intent, slots))
}

fn accepts(rest: &str, yes: &[&str], no: &[&str]) {
    let grammar = grammar(rest);
    for text in yes {
        assert!(read(&grammar, text).is_some(), "{text} should be heard");
    }
    for text in no {
        assert!(read(&grammar, text).is_none(), "{text} shouldn't be heard");
    }
}

fn fault(text: &str) -> String {
    Grammar::from_text("g.yaml", text).unwrap_err().to_string()
}

#[test]
fn words_follow_each_other() {
    accepts(
        "intents:\n  go: go home now\n",
        &["go home now", "Go home, now!"],
        &["go now home", "go home"],
    );
}

#[test]
fn one_of_several_is_said() {
    accepts(
        "intents:\n  go: go (home | to bed)\n",
        &["go home", "go to bed"],
        &["go", "go home to bed"],
    );
}

#[test]
fn brackets_may_be_left_out() {
    accepts(
        "intents:\n  go: \"[please] go [home]\"\n",
        &["go", "please go home"],
        &["please"],
    );
}

#[test]
fn a_star_is_any_number_and_a_plus_at_least_one() {
    accepts(
        "intents:\n  go: go very* far+\n",
        &["go far", "go very very far far"],
        &["go very", "go"],
    );
}

#[test]
fn figures_and_hyphens_are_spellings() {
    accepts(
        "intents:\n  buy: buy twelve ounce cans\n",
        &[
            "buy 12-ounce cans",
            "Buy twelve-ounce cans.",
            "buy 12 ounce cans",
        ],
        &["buy 13 ounce cans"],
    );
    accepts(
        "intents:\n  buy: buy 12-ounce cans\n",
        &["buy twelve ounce cans"],
        &["buy cans"],
    );
}

#[test]
fn a_quoted_text_is_one_word() {
    let grammar = grammar(
        "slots: [city]\nrules:\n  city: '\"New York\" {NY}'\nintents:\n  go: go to <city>\n",
    );
    assert_eq!(
        read(&grammar, "go to new york"),
        Some(("go".into(), json!({"city": "NY"})))
    );
}

#[test]
fn a_slot_is_its_tags_or_else_its_words_as_written() {
    let rest = "slots: [place]\nrules:\n  place: fridge | (refrigerator) {fridge} | Top shelf\n\
        intents:\n  go: go to [the] <place>\n";
    let grammar = grammar(rest);
    for (said, place) in [
        ("refrigerator", "fridge"),
        ("fridge", "fridge"),
        ("top shelf", "Top shelf"),
    ] {
        let (_, slots) = read(&grammar, &format!("go to the {said}")).unwrap();
        assert_eq!(slots, json!({"place": place}), "{said}");
    }
}

#[test]
fn several_tags_are_joined() {
    let grammar = grammar("slots: [x]\nrules:\n  x: (a {one}) (b {two})\nintents:\n  go: go <x>\n");
    assert_eq!(read(&grammar, "go a b").unwrap().1, json!({"x": "one two"}));
}

#[test]
fn of_a_slot_said_twice_the_last_counts() {
    let grammar = grammar("slots: [x]\nrules:\n  x: a | b\nintents:\n  go: go <x>+\n");
    assert_eq!(read(&grammar, "go a b").unwrap().1, json!({"x": "b"}));
}

#[test]
fn a_rule_that_is_no_slot_is_not_reported() {
    let grammar = grammar("rules:\n  x: a | b\nintents:\n  go: go <x>\n");
    assert_eq!(read(&grammar, "go a").unwrap().1, json!({}));
}

#[test]
fn a_heavier_choice_wins_a_tie() {
    let rest = "slots: [x]\nrules:\n  x: /1/ a {light} | /9/ a {heavy}\nintents:\n  go: go <x>\n";
    assert_eq!(
        read(&grammar(rest), "go a").unwrap().1,
        json!({"x": "heavy"})
    );
}

#[test]
fn a_rule_of_the_file_goes_before_a_built_in_one() {
    let rest = "slots: [number]\nrules:\n  number: few | many\nintents:\n  go: go <number>\n";
    accepts(rest, &["go few"], &["go two"]);
}

#[test]
fn a_rule_may_end_with_itself() {
    accepts(
        "rules:\n  x: a | a <x>\nintents:\n  go: go <x>\n",
        &["go a", "go a a a a"],
        &["go"],
    );
}

#[test]
fn built_in_rules_give_values() {
    let grammar = grammar(
        "slots: [number, quantity, date, tag, item, text]\nintents:\n  \
        n: number <number>\n  q: quantity <quantity>\n  d: date <date>\n  t: tag <tag>\n  \
        i: item <item>\n  x: text <text>\n",
    );
    for (said, slots) in [
        ("number two and a half", json!({"number": 2.5})),
        (
            "quantity 2 lb",
            json!({"quantity": {"count": null, "amount": 2, "unit": "pound"}}),
        ),
        (
            "date use by December 3rd",
            json!({"date": {"kind": "use by", "date": "2026-12-03"}}),
        ),
        (
            "date used by December 3rd",
            json!({"date": {"kind": "use by", "date": "2026-12-03"}}),
        ),
        ("tag 12", json!({"tag": 12})),
        ("item zhoug", json!({"item": "zhoug"})),
        ("text anything at all", json!({"text": "anything at all"})),
    ] {
        assert_eq!(
            read(&grammar, said).map(|(_, slots)| slots),
            Some(slots),
            "{said}"
        );
    }
}

#[test]
fn a_faulty_file_says_where_and_what() {
    let head = "language: en-US\n";
    for (rest, says) in [
        (
            "intents:\n  go: <x>\n",
            "g.yaml, line 3, rule go: there is no rule <x>",
        ),
        (
            "intents:\n  go:\n    - a\n    - b <x>\n",
            "g.yaml, line 5, rule go: there is no rule <x>",
        ),
        (
            "rules:\n  x: <x> a\nintents:\n  go: <x>\n",
            "g.yaml, line 3, rule x: the rule begins with itself (x, then x)",
        ),
        (
            "rules:\n  x: <y>\n  y: \"[a] <x>\"\nintents:\n  go: <x>\n",
            "the rule begins with itself",
        ),
        (
            "slots: [z]\nintents:\n  go: a\n",
            "g.yaml, line 2: the slot z is the name of no rule",
        ),
        (
            "intents:\n  go: a | ()\n",
            "g.yaml, line 3, rule go: the expansion is empty",
        ),
        (
            "intents:\n  go: \"\"\n",
            "g.yaml, line 3, rule go: the expansion is empty",
        ),
        (
            "intents:\n  go: a (b\n",
            "g.yaml, line 3, rule go: the ( is never closed",
        ),
        ("intents:\n  go: [a] b\n", "g.yaml, line "),
        (
            "intents:\n  go: a\n  go: b\n",
            "g.yaml, line 4: “go” is there twice",
        ),
        ("intents: {}\n", "there is no intent"),
        (
            "sorts: a\nintents:\n  go: a\n",
            "“sorts” isn't one of language, slots, rules, intents",
        ),
    ] {
        let said = fault(&format!("{head}{rest}"));
        assert!(said.contains(says), "{rest}\n{said}\nshould say {says}");
    }
    assert!(fault("intents:\n  go: a\n").contains("“language” is missing"));
    let korean = fault("language: ko-KR\nintents:\n  go: <number>\n");
    assert!(
        korean.contains("<number> isn't built in for the language ko-KR"),
        "{korean}"
    );
}

#[test]
fn an_enormous_file_is_refused_at_once() {
    assert!(fault(&"#".repeat(MAX_FILE + 1)).contains("too large"));
    let mut chain = String::from("language: en-US\nrules:\n");
    (0..30_000).for_each(|n| chain.push_str(&format!("  r{n}: <r{}>\n", n + 1)));
    chain.push_str("intents:\n  go: <r0>\n");
    assert!(fault(&chain).contains("too large"), "{}", fault(&chain));
    let deep = format!("language: en-US\nintents:\n  go: {}a\n", "(".repeat(5_000));
    assert!(
        fault(&deep).contains("nested more than"),
        "{}",
        fault(&deep)
    );
    let nested = format!("language: en-US\nintents: {}\n", "[".repeat(50_000));
    assert!(!fault(&nested).is_empty());
    let mut laughs = String::from("language: en-US\nslots: [a]\nrules:\n  a: &a [x, x]\n");
    ('b'..='z').for_each(|c| {
        let before = (c as u8 - 1) as char;
        laughs.push_str(&format!("  {c}: &{c} [*{before}, *{before}]\n"));
    });
    assert!(!fault(&laughs).is_empty());
}

#[test]
fn a_long_or_odd_text_is_not_understood_and_does_no_harm() {
    let grammar = grammar("slots: [item]\nintents:\n  go: go <item>\n");
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    for text in [
        "",
        " ",
        "…",
        &"go ".repeat(100_000),
        "\u{0}\u{ffff}",
        &"9".repeat(10_000),
    ] {
        let understood = grammar.understand(&[text], &Lexicon::default(), today);
        assert_eq!(understood.verdict, Verdict::Reject);
    }
}
