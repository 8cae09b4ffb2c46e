//! The automaton that guides a recogniser: made as it is walked, it takes exactly the sentences.

use std::sync::Arc;

use proptest::prelude::*;
use tellshelf::grammar::{Acceptor, Grammar, Lexicon};

fn acceptor(rest: &str, names: &[&str]) -> (Grammar, Acceptor) {
    let grammar = Grammar::from_text("g.yaml", &format!("language: en-US\n{rest}")).unwrap();
    let mut lexicon = Lexicon::default();
    names.iter().for_each(|name| lexicon.add(name, name));
    let acceptor = grammar.acceptor(Arc::new(lexicon));
    (grammar, acceptor)
}

#[test]
fn a_sentence_may_be_written_in_many_ways() {
    let rest = "slots: [quantity, item, date]\nintents:\n  put: put <quantity> [of] <item> down [<date>]\n";
    let (_, acceptor) = acceptor(rest, &["oats", "dish soap", "half and half"]);
    for text in [
        "put two bags of oats down",
        " Put two bags of oats down.",
        "Put 2 bags of oats down, use by December 3rd.",
        "put 12 dish-soap down",
        "Put two pounds four ounces of half-and-half down, best by March 2027.",
        "put 3 14-ounce cans of oat down",
        "Put twenty-one oats down",
    ] {
        assert!(acceptor.accepts(text), "{text}");
    }
    for text in [
        "put two bags of oats",
        "put two bags of oats down,, use by december third",
        "put down",
        "put 2x bags of oats down",
        "put twobags of oats down",
        "",
    ] {
        assert!(!acceptor.accepts(text), "{text}");
    }
}

#[test]
fn free_speech_is_any_words() {
    let (_, acceptor) = acceptor(
        "slots: [text]\nintents:\n  note: note <text>\n  go: go home\n",
        &[],
    );
    assert_eq!(acceptor.cost("go home"), Some(0.0));
    let cost = acceptor.cost("Note that it's late").unwrap();
    assert!(cost > 0.5 && cost < acceptor.cost("note that it's very late").unwrap());
    assert!(!acceptor.accepts("note"));
    assert!(!acceptor.accepts("write that"));
}

const BUY: &str = "slots: [item]\nintents:\n  buy: buy [some] <item> [today]\n";

#[test]
fn an_unknown_name_costs_more_than_a_known_one() {
    let (_, acceptor) = acceptor(BUY, &["rice", "rice vinegar"]);
    for known in ["buy rice", "buy some rice vinegar today"] {
        assert_eq!(acceptor.cost(known), Some(0.0), "{known}");
    }
    let short = acceptor.cost("buy rye today").unwrap();
    let long = acceptor.cost("buy freekeh today").unwrap();
    assert!(short > 5.0 && long > short);
    // It may begin as a known one does, and be more than one word.
    assert!(acceptor.accepts("buy ricotta") && acceptor.accepts("buy rice paper today"));
    // "A" is no name.
    assert!(!acceptor.accepts("buy a") && !acceptor.accepts("buy an"));
}

#[test]
fn nothing_is_charged_before_it_is_certain() {
    let (_, acceptor) = acceptor(BUY, &["rice"]);
    let mut point = acceptor.start();
    for byte in b"buy ric" {
        let next = acceptor.next(point, *byte).unwrap();
        assert_eq!(next.cost, 0.0);
        point = next.to;
    }
    let known = acceptor.next(point, b'e').unwrap();
    let unknown = acceptor.next(point, b'o').unwrap();
    assert_eq!(known.cost, 0.0);
    assert!(unknown.cost > 5.0);
    assert!(acceptor.is_open(known.to) && !acceptor.is_only_open(known.to));
    assert!(acceptor.is_only_open(unknown.to));
}

#[test]
fn what_the_grammar_calls_unlikely_costs_more() {
    let (_, acceptor) = acceptor("intents:\n  go: go (home | /0.1/ (out | away))\n", &[]);
    assert_eq!(acceptor.cost("go home"), Some(0.0));
    let unlikely = acceptor.cost("go away").unwrap();
    // The natural logarithm of ten.
    assert!((unlikely - 2.3).abs() < 0.1, "{unlikely}");
}

#[test]
fn weights_inside_weights_come_to_an_end() {
    let mut inside = "/0.001/ out | home".to_owned();
    for _ in 0..20 {
        inside = format!("/0.001/ ({inside}) | home");
    }
    let (_, acceptor) = acceptor(&format!("intents:\n  go: go ({inside})\n"), &[]);
    assert_eq!(acceptor.cost("go home"), Some(0.0));
}

#[test]
fn a_number_in_figures_is_whole() {
    let rest = "slots: [quantity]\nintents:\n  put: put <quantity> down\n";
    let (_, acceptor) = acceptor(rest, &[]);
    assert!(acceptor.accepts("put 21 bags down"));
    assert!(acceptor.accepts("put twenty-one bags down"));
    assert!(acceptor.accepts("put 3 24 ounce jars down"));
    assert!(!acceptor.accepts("put 20-one bags down"));
    assert!(!acceptor.accepts("put 2 hundred grams down"));
    assert!(acceptor.accepts("put 200 grams down"));
}

#[test]
fn two_acceptors_are_told_apart() {
    let (grammar, one) = acceptor("intents:\n  go: go\n", &[]);
    let two = grammar.acceptor(Arc::new(Lexicon::default()));
    assert_ne!(one.identity(), two.identity());
}

#[test]
fn a_rule_that_ends_with_itself_is_followed() {
    let (_, acceptor) = acceptor(
        "rules:\n  x: very | very <x>\nintents:\n  go: go <x> far\n",
        &[],
    );
    assert!(acceptor.accepts("go very very very far"));
    assert!(!acceptor.accepts("go far"));
}

/// A random expansion over few words, so that sentences are often alike.
fn expansion() -> impl Strategy<Value = String> {
    let word = prop::sample::select(vec!["a", "an", "ant", "tea", "ten", "no", "nap"]);
    word.prop_map(str::to_owned)
        .prop_recursive(3, 12, 3, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 1..3).prop_map(|parts| parts.join(" ")),
                prop::collection::vec(inner.clone(), 2..3)
                    .prop_map(|p| format!("({})", p.join(" | "))),
                inner.prop_map(|part| format!("[{part}]")),
            ]
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]
    /// The automaton built while it is walked, against the full list of sentences.
    #[test]
    fn the_lazy_automaton_is_the_full_one(
        expansion in expansion(),
        tries in prop::collection::vec("(a|an|ant|tea|ten|no|nap)( (a|an|ant|tea|ten|no|nap)){0,3}", 20),
    ) {
        let (grammar, acceptor) = acceptor(&format!("intents:\n  go: 'x {expansion}'\n"), &[]);
        let all = grammar.sentences(5_000).unwrap();
        for sentence in &all {
            prop_assert!(acceptor.accepts(sentence), "{sentence} of {expansion}");
        }
        for text in tries {
            let text = format!("x {text}");
            prop_assert_eq!(acceptor.accepts(&text), all.contains(&text), "{} of {}", text, expansion);
        }
    }
}
