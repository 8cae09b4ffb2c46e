//! A malformed or enormous grammar file is refused, or serves, within bounded time and memory.
//!
//! Each file here once took minutes or gigabytes, or overflowed the stack. The time allowed is that
//! of a slow machine without optimisation, and still far from any of that.

use std::time::{Duration, Instant};

use chrono::NaiveDate;
use tellshelf::grammar::{Fault, Grammar, GrammarError, Lexicon, MAX_FILE, SyntaxFault};

const ALLOWED: Duration = Duration::from_secs(30);

/// Compiles a file and understands a sentence with it.
fn compile(yaml: &str) -> Result<(), GrammarError> {
    assert!(yaml.len() <= MAX_FILE, "{} bytes", yaml.len());
    let since = Instant::now();
    let grammar = Grammar::from_text("large.yaml", yaml);
    let understood = grammar.map(|grammar| {
        let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
        grammar.understand(&["a a a a a a b"], &Lexicon::default(), today);
    });
    assert!(since.elapsed() < ALLOWED, "{:?}", since.elapsed());
    understood
}

/// As many repetitions as a file may have, with room for what stands around them.
fn much(text: &str) -> String {
    text.repeat((MAX_FILE - 200) / text.len())
}

fn going(expansion: &str) -> String {
    format!("language: en\nintents:\n  go: '{expansion}'\n")
}

/// `count` rules, each written by what it may refer to: the next one.
fn chain(count: usize, rule: impl Fn(&str) -> String) -> String {
    let rules = (0..count).map(|n| format!("  r{n}: '{}'\n", rule(&format!("<r{}>", n + 1))));
    let rules: String = rules.collect();
    format!("language: en\nrules:\n{rules}  r{count}: a\nintents:\n  go: <r0> b\n")
}

#[test]
fn deep_nesting_in_yaml_is_refused() {
    for open in ["[", "{", "{a: ", "- ", "? "] {
        let error = compile(&much(open)).unwrap_err();
        assert!(matches!(error.fault, Fault::Yaml(_)), "{open}: {error}");
    }
    let late = format!(
        "{}rules: {}",
        "# a comment\n".repeat(9_000),
        "{a: ".repeat(30_000)
    );
    assert!(matches!(compile(&late).unwrap_err().fault, Fault::Yaml(_)));
}

#[test]
fn aliases_that_multiply_are_refused() {
    let mut laughs = "language: en\nintents:\n  a0: &a0 [x, x, x, x, x, x, x, x, x]\n".to_owned();
    for n in 1..40 {
        let aliases = vec![format!("*a{}", n - 1); 9].join(", ");
        laughs += &format!("  a{n}: &a{n} [{aliases}]\n");
    }
    assert!(compile(&laughs).is_err());
    let words = "x,".repeat(60_000);
    let users: String = (0..1_500).map(|n| format!("  i{n}: *all\n")).collect();
    let wide = format!("language: en\nintents:\n  all: &all [{words}]\n{users}");
    let error = compile(&wide).unwrap_err();
    assert!(matches!(error.fault, Fault::TooLarge { .. }), "{error}");
}

#[test]
fn an_alias_that_repeats_little_is_fine() {
    assert_eq!(
        compile("language: en\nintents:\n  go: &way [a, b]\n  stay: *way\n"),
        Ok(())
    );
}

#[test]
fn deep_brackets_are_refused() {
    for open in ["(", "["] {
        let error = compile(&going(&much(open))).unwrap_err();
        assert!(
            matches!(error.fault, Fault::Syntax(SyntaxFault::TooDeep(_))),
            "{error}"
        );
    }
}

#[test]
fn tags_upon_tags_are_refused() {
    let error = compile(&going(&format!("a {}", much("{x}")))).unwrap_err();
    assert!(
        matches!(error.fault, Fault::Syntax(SyntaxFault::TooManyTags(_))),
        "{error}"
    );
}

#[test]
fn the_deepest_expansion_that_is_allowed_compiles() {
    let open = "[(".repeat(31);
    let close = format!(")*{}]", "{t}".repeat(16)).repeat(31);
    assert_eq!(compile(&going(&format!("{open}a{close} b"))), Ok(()));
}

#[test]
fn a_long_chain_of_rules_compiles() {
    assert_eq!(compile(&chain(1_990, str::to_owned)), Ok(()));
    assert_eq!(compile(&chain(1_990, |next| format!("[{next}]"))), Ok(()));
    assert_eq!(compile(&chain(1_990, |next| format!("[{next}] x"))), Ok(()));
    assert_eq!(
        compile(&chain(1_990, |next| format!("a {next} | {next} b"))),
        Ok(())
    );
}

#[test]
fn a_long_circle_of_rules_is_found() {
    let yaml = chain(1_990, |next| format!("[x] {next}")).replace("r1990: a", "r1990: <r0> a");
    let error = compile(&yaml).unwrap_err();
    assert!(matches!(error.fault, Fault::LeftRecursion(_)));
    assert_eq!((error.line, error.rule.as_deref()), (3, Some("r0")));
}

#[test]
fn rules_that_double_from_one_to_the_next_compile() {
    assert_eq!(compile(&chain(60, |next| format!("{next} {next}"))), Ok(()));
    assert_eq!(
        compile(&chain(60, |next| format!("({next} | {next})"))),
        Ok(())
    );
    assert_eq!(
        compile(&chain(60, |next| format!("[{next}] [{next}]"))),
        Ok(())
    );
    assert_eq!(compile(&chain(60, |next| format!("{next}*"))), Ok(()));
}

#[test]
fn rules_that_all_refer_to_each_other_compile() {
    let all: String = (0..100).map(|n| format!(" [<r{n}>]")).collect();
    let rules: String = (0..100).map(|n| format!("  r{n}: a{all}\n")).collect();
    let yaml = format!(
        "language: en\nrules:\n{}intents:\n  go: <r0>\n",
        rules.replace(": a", ": x a")
    );
    assert_eq!(compile(&yaml), Ok(()));
}

#[test]
fn an_expansion_with_many_ways_is_searched_only_so_far() {
    for part in ["[a]", "a|", "(a)+", "a ", "[<item>]", "[<text>]"] {
        let yaml = going(&format!("{}a b", much(part)));
        match compile(&yaml) {
            Ok(()) => {}
            Err(error) => assert!(
                matches!(error.fault, Fault::TooLarge { .. }),
                "{part}: {error}"
            ),
        }
    }
}

#[test]
fn stars_upon_stars_are_searched_once() {
    assert_eq!(compile(&going("((((a*)*)*)*)* b")), Ok(()));
    assert_eq!(compile(&going("((a* a*)* (a* a*)*)* b")), Ok(()));
    assert_eq!(compile(&going("([a] [a] [a] [a])* b")), Ok(()));
}

#[test]
fn text_of_any_length_is_answered_in_time() {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let names = Lexicon::starter("en-US");
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    for text in [
        "a ".repeat(299),
        "a".repeat(599),
        "two ".repeat(149),
        "add the of milk ".repeat(37),
        "9".repeat(100_000),
        "a\u{301}".repeat(100_000),
        "\u{301}".repeat(100_000),
        "1/2/3/4".repeat(10_000),
        "put ".repeat(1_000_000),
    ] {
        let since = Instant::now();
        grammar.understand(&[&text], &names, today);
        let start: String = text.chars().take(20).collect();
        assert!(since.elapsed() < ALLOWED, "{start}: {:?}", since.elapsed());
    }
}

#[test]
fn a_name_of_any_length_can_be_listed() {
    let mut names = Lexicon::default();
    let long = "oats ".repeat(20_000);
    names.add("oats", &long);
    assert_eq!(names.find(&long), Some("oats"));
}
