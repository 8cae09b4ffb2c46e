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
        "put two bags of rye down",
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
fn free_speech_is_not_guided() {
    let (_, acceptor) = acceptor(
        "slots: [text]\nintents:\n  note: note <text>\n  go: go home\n",
        &[],
    );
    assert!(acceptor.accepts("go home"));
    assert!(!acceptor.accepts("note that"));
    let (_, nothing) = self::acceptor("slots: [text]\nintents:\n  note: <text>\n", &[]);
    assert!(!nothing.accepts("anything"));
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
