//! What a grammar file can say beyond the everyday (see `grammar_file.rs`): how its features work
//! together, and with every spelling and script.

use chrono::NaiveDate;
use serde_json::{Value, json};
use tellshelf::grammar::{Command, Grammar, Lexicon, Verdict};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

fn grammar(yaml: &str) -> Grammar {
    Grammar::from_text("test.yaml", yaml).unwrap()
}

/// A grammar of one intent, `go`.
fn going(expansion: &str) -> Grammar {
    grammar(&format!("language: en-US\nintents:\n  go: '{expansion}'\n"))
}

/// What a sentence means, if it is a sentence of the grammar.
fn exactly(grammar: &Grammar, text: &str) -> Option<Command> {
    let understood = grammar.understand(&[text], &Lexicon::default(), today());
    let command = understood.command?;
    (understood.verdict == Verdict::Accept && command.confidence == 1.0).then_some(command)
}

fn allows(grammar: &Grammar, texts: &[&str]) {
    for text in texts {
        assert!(exactly(grammar, text).is_some(), "{text}");
    }
}

fn forbids(grammar: &Grammar, texts: &[&str]) {
    for text in texts {
        assert_eq!(exactly(grammar, text), None, "{text}");
    }
}

/// The slots of a sentence as JSON.
fn slots(grammar: &Grammar, text: &str) -> Value {
    let command = exactly(grammar, text).unwrap_or_else(|| panic!("{text}"));
    let slots = command
        .slots
        .iter()
        .map(|(name, value)| (name.clone(), value.to_json()));
    Value::Object(slots.collect())
}

#[test]
fn a_group_holds_its_choices_together() {
    let grammar = going("turn (left | right) here");
    allows(&grammar, &["turn left here", "turn right here"]);
    forbids(&grammar, &["turn left", "right here"]);
}

#[test]
fn a_repeat_binds_to_the_nearest_thing() {
    let grammar = going("so very* good");
    allows(&grammar, &["so good", "so very very good"]);
    forbids(&grammar, &["so very so very good"]);
}

#[test]
fn a_rule_stands_for_its_expansions() {
    let yaml = "language: en\nrules:\n  place: [fridge, top <shelf>]\n  shelf: shelf | board\nintents:\n  go: to the <place>\n";
    let grammar = grammar(yaml);
    allows(
        &grammar,
        &["to the fridge", "to the top shelf", "to the top board"],
    );
    forbids(&grammar, &["to the shelf", "to the top"]);
}

#[test]
fn any_line_of_a_list_may_be_said() {
    let grammar = grammar("language: en\nintents:\n  go:\n    - go\n    - \"[please] leave\"\n");
    allows(&grammar, &["go", "leave", "please leave"]);
    forbids(&grammar, &["please go"]);
}

#[test]
fn a_rule_may_have_itself_in_the_middle() {
    let yaml = "language: en\nrules:\n  nest: open [<nest>] close\nintents:\n  go: <nest>\n";
    let grammar = grammar(yaml);
    allows(
        &grammar,
        &["open close", "open open open close close close"],
    );
    forbids(&grammar, &["open open close"]);
}

#[test]
fn null_says_nothing_and_void_is_never_said() {
    let grammar = going("go (<NULL> | home) | never <VOID>");
    allows(&grammar, &["go", "go home"]);
    forbids(&grammar, &["never"]);
}

#[test]
fn a_weight_decides_between_what_sounds_the_same() {
    for (yaml, kind) in [
        ("/1/ pepper {spice} | /5/ pepper {vegetable}", "vegetable"),
        ("/5/ pepper {spice} | /1/ pepper {vegetable}", "spice"),
        ("pepper {spice} | pepper {vegetable}", "spice"),
    ] {
        let yaml = format!(
            "language: en\nslots: [kind]\nrules:\n  kind: '{yaml}'\nintents:\n  go: <kind>\n"
        );
        assert_eq!(
            slots(&grammar(&yaml), "pepper"),
            json!({ "kind": kind }),
            "{yaml}"
        );
    }
}

#[test]
fn an_unlikely_choice_is_still_understood_when_it_is_said_clearly() {
    let grammar = going("(/1000000/ small | /0.001/ large)+ cup");
    allows(
        &grammar,
        &[
            "large cup",
            "large large large large large large large large cup",
        ],
    );
}

#[test]
fn weight_zero_is_never_said() {
    let grammar = going("/0/ stop | /1/ go");
    allows(&grammar, &["go"]);
    forbids(&grammar, &["stop"]);
}

#[test]
fn a_slot_is_the_words_as_the_grammar_writes_them() {
    let yaml = "language: en\nslots: [size]\nrules:\n  size: 12-ounce | Extra Large\nintents:\n  go: a <size> cup\n";
    let grammar = grammar(yaml);
    assert_eq!(
        slots(&grammar, "A twelve ounce cup!"),
        json!({ "size": "12-ounce" })
    );
    assert_eq!(
        slots(&grammar, "a extra large cup"),
        json!({ "size": "Extra Large" })
    );
}

#[test]
fn a_slot_is_its_tag_where_it_has_one() {
    let yaml = "language: en\nslots: [place]\nrules:\n  place: fridge | (refrigerator | ice box) {fridge} | (top | upper) {top} shelf {shelf}\nintents:\n  go: to the <place>\n";
    let grammar = grammar(yaml);
    for (text, place) in [
        ("to the fridge", "fridge"),
        ("to the refrigerator", "fridge"),
        ("to the ice box", "fridge"),
        ("to the upper shelf", "top shelf"),
    ] {
        assert_eq!(slots(&grammar, text), json!({ "place": place }), "{text}");
    }
}

#[test]
fn a_tag_may_stand_for_nothing_said() {
    let yaml = "language: en\nslots: [pace]\nrules:\n  pace: quickly {fast} | <NULL> {normal}\nintents:\n  go: walk <pace>\n";
    let grammar = grammar(yaml);
    assert_eq!(slots(&grammar, "walk"), json!({ "pace": "normal" }));
    assert_eq!(slots(&grammar, "walk quickly"), json!({ "pace": "fast" }));
}

#[test]
fn a_slot_that_was_not_said_is_not_there() {
    let yaml = "language: en\nslots: [pace, way]\nrules:\n  pace: \"[quickly]\"\n  way: home | out\nintents:\n  go: walk <pace> [<way>]\n";
    assert_eq!(slots(&grammar(yaml), "walk"), json!({}));
}

#[test]
fn a_tag_outside_of_slots_changes_nothing() {
    let yaml = "language: en\nslots: [way]\nrules:\n  way: home | out\nintents:\n  go: walk {walking} <way> {there}\n";
    assert_eq!(slots(&grammar(yaml), "walk home"), json!({ "way": "home" }));
}

#[test]
fn a_slot_inside_a_slot_gives_both() {
    let yaml = "language: en\nslots: [drink, size]\nrules:\n  size: small | large {big}\n  drink: <size> coffee\nintents:\n  go: a <drink>\n";
    let grammar = grammar(yaml);
    let small = json!({ "size": "small", "drink": "small coffee" });
    assert_eq!(slots(&grammar, "a small coffee"), small);
    let big = json!({ "size": "big", "drink": "big" });
    assert_eq!(slots(&grammar, "a large coffee"), big);
}

#[test]
fn an_own_rule_goes_before_a_built_in_one() {
    let yaml = "language: en\nslots: [number, item, date]\nrules:\n  number: few | one {single}\n  item: tea | oat milk {oat drink}\n  date: later\nintents:\n  go: <number> <item> <date>\n";
    let grammar = grammar(yaml);
    let few = json!({ "number": "few", "item": "tea", "date": "later" });
    assert_eq!(slots(&grammar, "few tea later"), few);
    let one = json!({ "number": "single", "item": "oat drink", "date": "later" });
    assert_eq!(slots(&grammar, "one oat milk later"), one);
    forbids(
        &grammar,
        &["two tea later", "few coffee later", "few tea tomorrow"],
    );
}

#[test]
fn a_built_in_rule_keeps_its_meaning_beside_an_own_one() {
    let yaml = "language: en\nslots: [quantity]\nrules:\n  number: many\nintents:\n  go: <quantity> of <number>\n";
    let three = json!({ "quantity": { "count": 3, "amount": null, "unit": "bag" } });
    assert_eq!(slots(&grammar(yaml), "three bags of many"), three);
}

#[test]
fn an_own_rule_may_look_like_a_name_inside() {
    let yaml = "language: en\nslots: [builtin.number]\nrules:\n  builtin.number: lots\nintents:\n  go: <builtin.number>\n";
    let grammar = grammar(yaml);
    assert_eq!(slots(&grammar, "lots"), json!({ "builtin.number": "lots" }));
    forbids(&grammar, &["three"]);
}

#[test]
fn quoted_words_are_one() {
    let yaml = "language: en\nslots: [title]\nrules:\n  title: '\"The Sea (part 2)\" | \"say \\\"hi\\\"\"'\nintents:\n  go: play <title>\n";
    let grammar = grammar(yaml);
    let sea = json!({ "title": "The Sea (part 2)" });
    assert_eq!(slots(&grammar, "play the sea part two"), sea);
    let hi = json!({ "title": "say \"hi\"" });
    assert_eq!(slots(&grammar, "play say hi"), hi);
}

#[test]
fn spelling_makes_no_difference() {
    let grammar = going("add two 12-ounce cans, at 3:30");
    allows(
        &grammar,
        &[
            "add two 12-ounce cans at 3:30",
            "Add 2 twelve ounce cans, at three thirty.",
            "ADD TWO TWELVE-OUNCE CANS AT 3 30!",
            "  add\ttwo 12 ounce\ncans... at 3-30 ",
        ],
    );
    forbids(&grammar, &["add two 13-ounce cans at 3:30"]);
}

#[test]
fn what_a_grammar_writes_in_figures_is_said_in_words() {
    for (written, said) in [
        ("1/2 cup", "one half cup"),
        ("1st of 21", "first of twenty one"),
        ("2.5 lb", "two point five lb"),
        ("salt & pepper", "salt and pepper"),
        ("50%", "fifty percent"),
        ("what''s up", "whats up"),
        ("crème brûlée", "creme brulee"),
    ] {
        allows(
            &going(&format!("\"{written}\" please")),
            &[&format!("{said} please")],
        );
    }
}

#[test]
fn other_scripts_are_words_too() {
    for text in [
        "커피 다 썼어",
        "кофе закончился",
        "ο καφές τελείωσε",
        "コーヒー",
    ] {
        allows(&going(text), &[text]);
    }
    forbids(&going("кофе закончился"), &["чай закончился"]);
}

#[test]
fn yaml_scalars_are_words() {
    let yaml = "language: en\nslots: [size]\nrules:\n  size: [12, true, 1.5]\nintents:\n  go: <size>\n  \"no\": no\n  12: dozen\n";
    let grammar = grammar(yaml);
    for (text, size) in [
        ("twelve", "12"),
        ("true", "true"),
        ("one point five", "1.5"),
    ] {
        assert_eq!(slots(&grammar, text), json!({ "size": size }), "{text}");
    }
    assert_eq!(exactly(&grammar, "no").unwrap().intent, "no");
    assert_eq!(exactly(&grammar, "dozen").unwrap().intent, "12");
}

#[test]
fn the_order_of_the_file_decides_between_equals() {
    let grammar = grammar("language: en\nintents:\n  one: same | other\n  two: same\n");
    assert_eq!(exactly(&grammar, "same").unwrap().intent, "one");
}

#[test]
fn a_list_longer_than_the_search_is_wide_is_heard_to_its_end() {
    let word = |n: usize| -> String {
        let letters = (0..4).map(|place| (b'a' + (n / 26usize.pow(place) % 26) as u8) as char);
        letters.collect()
    };
    let names: Vec<String> = (0..9_000).map(|n| format!("x{}", word(n))).collect();
    let yaml = format!(
        "language: en\nslots: [name]\nrules:\n  name: {}\nintents:\n  go: call <name>\n",
        names.join(" | ")
    );
    let grammar = grammar(&yaml);
    for name in [&names[0], &names[4_500], &names[8_999]] {
        assert_eq!(
            slots(&grammar, &format!("call {name}")),
            json!({ "name": name })
        );
    }
}

#[test]
fn the_same_text_is_always_understood_the_same_way() {
    let text = "put too bags off have and have in the freshly door";
    let yaml = include_str!("../grammars/en.yaml");
    let names = Lexicon::starter("en-US");
    let first = grammar(yaml).understand(&[text], &names, today());
    for _ in 0..4 {
        let names = Lexicon::starter("en-US");
        assert_eq!(grammar(yaml).understand(&[text], &names, today()), first);
    }
}

#[test]
fn a_quantity_is_what_measure_reads() {
    let yaml = "language: en\nslots: [quantity]\nintents:\n  take: take <quantity>\n";
    let grammar = grammar(yaml);
    for (said, quantity) in [
        (
            "two bags",
            json!({ "count": 2, "amount": null, "unit": "bag" }),
        ),
        (
            "half a carton",
            json!({ "count": 0.5, "amount": null, "unit": "carton" }),
        ),
        (
            "half pound",
            json!({ "count": null, "amount": 0.5, "unit": "pound" }),
        ),
        (
            "a cup and a half",
            json!({ "count": null, "amount": 1.5, "unit": "cup" }),
        ),
        (
            "two pounds and four ounces",
            json!({ "count": null, "amount": 2.25, "unit": "pound" }),
        ),
        (
            "twelve fluid oz",
            json!({ "count": null, "amount": 12, "unit": "fluid ounce" }),
        ),
        (
            "an eight-ounce can",
            json!({ "count": 1, "amount": 8, "unit": "ounce" }),
        ),
        (
            "20 8 ounce cans",
            json!({ "count": 20, "amount": 8, "unit": "ounce" }),
        ),
        (
            "a couple of cans",
            json!({ "count": 2, "amount": null, "unit": "can" }),
        ),
        (
            "half a dozen",
            json!({ "count": 6, "amount": null, "unit": null }),
        ),
    ] {
        let text = format!("take {said}");
        assert_eq!(
            slots(&grammar, &text),
            json!({ "quantity": quantity }),
            "{text}"
        );
    }
}

#[test]
fn nonsense_is_no_sentence_of_the_built_in_rules() {
    let yaml = "language: en\nslots: [quantity, date]\nintents:\n  take: take <quantity>\n  on: on <date>\n";
    forbids(
        &grammar(yaml),
        &[
            "take a containers",
            "take half a bags",
            "take a third cans",
            "take a a dozen ounce can",
            "on march ninety nine",
            "on the thirty fifth",
            "on in a weeks",
            "on sixty slash three",
        ],
    );
}
