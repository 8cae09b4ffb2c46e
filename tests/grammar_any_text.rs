//! Any text is answered without a panic; and every sentence of a small grammar is understood.

mod grammar_sentences;

use std::sync::LazyLock;

use chrono::NaiveDate;
use grammar_sentences::{Numbers, Sentences};
use proptest::prelude::*;
use tellshelf::grammar::{Grammar, GrammarFile, Lexicon, Verdict, normal_words, parse_expansion};

static ENGLISH: LazyLock<Grammar> =
    LazyLock::new(|| Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap());

fn cases() -> u32 {
    let asked = std::env::var("PROPTEST_CASES").ok();
    asked.and_then(|cases| cases.parse().ok()).unwrap_or(48)
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

/// Text made of the marks of both formats more than of anything else.
fn grammar_like() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        Just("language: en\n".to_owned()),
        Just("rules:\n".to_owned()),
        Just("intents:\n".to_owned()),
        Just("slots: [item]\n".to_owned()),
        Just("  r: ".to_owned()),
        Just("  - ".to_owned()),
        Just("<r> ".to_owned()),
        Just("<item> ".to_owned()),
        "[\\[\\](){}<>|*+/\"'\\\\&!%@#:,? \n-]{1,4}",
        "[a-z0-9½é커 ]{1,6}",
    ];
    prop::collection::vec(piece, 0..30).prop_map(|pieces| pieces.concat())
}

/// An expansion of a few words, with every feature. References are to r0 and r1.
fn expansion() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        "[a-e]{1,5}",
        Just("<r0>".to_owned()),
        Just("<r1>".to_owned())
    ];
    word.prop_recursive(4, 12, 3, |inner| {
        let several = prop::collection::vec(inner.clone(), 2..4);
        prop_oneof![
            several.clone().prop_map(|parts| parts.join(" ")),
            several
                .clone()
                .prop_map(|parts| format!("({})", parts.join(" | "))),
            several.prop_map(|parts| format!("(/3/ {})", parts.join(" | /0.1/ "))),
            inner.clone().prop_map(|part| format!("[{part}]")),
            inner.clone().prop_map(|part| format!("(x {part})*")),
            inner.clone().prop_map(|part| format!("({part} y)+")),
            inner.prop_map(|part| format!("({part}) {{tag}}")),
        ]
    })
}

proptest! {
    // Enough to find what is there within seconds; PROPTEST_CASES looks further.
    #![proptest_config(ProptestConfig { cases: cases(), ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_a_grammar_panic(text in grammar_like()) {
        if let Ok(grammar) = Grammar::from_text("any.yaml", &text) {
            grammar.understand(&["a b c", ""], &Lexicon::default(), today());
        }
    }

    #[test]
    fn no_text_makes_an_expansion_panic(text in "\\PC{0,60}", marks in "[\\[\\](){}<>|*+/\" a\\\\]{0,60}") {
        let _ = parse_expansion(&text);
        let _ = parse_expansion(&marks);
    }

    #[test]
    fn no_speech_makes_understanding_panic(text in "\\PC{0,80}", figures in "[0-9/.,½%& a-c-]{0,40}") {
        let mut names = Lexicon::default();
        names.add(&text, &text);
        for text in [&text, &figures] {
            let understood = ENGLISH.understand(&[text], &names, today());
            if let Some(command) = understood.command {
                prop_assert!((0.0..=1.0).contains(&command.confidence));
            }
        }
    }

    #[test]
    fn the_normal_form_is_its_own_normal_form(text in "\\PC{0,80}") {
        let words = normal_words(&text);
        prop_assert_eq!(normal_words(&words.join(" ")), words);
    }

    #[test]
    fn every_sentence_of_a_grammar_is_understood(
        expansions in prop::collection::vec(expansion(), 2..4),
        rules in prop::collection::vec("[a-e]{1,4}( \\| [a-e]{1,4} [a-e]{1,3}){0,2}", 2),
        seed in any::<u64>(),
    ) {
        // Each intent begins with a word of its own, so that no sentence has two meanings.
        let intents: String = expansions
            .iter()
            .enumerate()
            .map(|(n, expansion)| format!("  i{n}: 'begin{} {expansion}'\n", ["f", "g", "h"][n]))
            .collect();
        let yaml = format!(
            "language: en\nslots: [r0]\nrules:\n  r0: '{}'\n  r1: '{}'\nintents:\n{intents}",
            rules[0], rules[1]
        );
        let file = GrammarFile::parse("random.yaml", &yaml).unwrap();
        let grammar = Grammar::from_text("random.yaml", &yaml).unwrap();
        let mut numbers = Numbers::from_seed(seed);
        let sentences = Sentences::of(&file.rules);
        for intent in &file.intents {
            for _ in 0..3 {
                let words = sentences.any(intent, &mut numbers);
                let text = words.join(" ");
                prop_assume!(text.len() < 500);
                let understood = grammar.understand(&[&text], &Lexicon::default(), today());
                let command = understood.command.expect(&text);
                prop_assert_eq!(&command.intent, &intent.name, "{}\n{}", text, yaml);
                prop_assert_eq!(command.confidence, 1.0, "{}\n{}", text, yaml);
                prop_assert_eq!(&command.sentence, &text, "{}", yaml);
                prop_assert_eq!(understood.verdict, Verdict::Accept);
            }
        }
    }
}
