//! What is wrong with a grammar file is said with the file, the line and the rule, so that it can be
//! mended without looking for it.

use tellshelf::grammar::{Fault, Grammar, GrammarError, MAX_FILE, MAX_RULES, SyntaxFault};

fn fault(yaml: &str) -> GrammarError {
    Grammar::from_text("kitchen.yaml", yaml).unwrap_err()
}

/// The error's place: line and rule.
fn at(error: &GrammarError) -> (usize, Option<&str>) {
    assert_eq!(error.file, "kitchen.yaml");
    (error.line, error.rule.as_deref())
}

#[test]
fn an_unknown_rule_is_named() {
    let error = fault("language: en\nintents:\n  go:\n    - go home\n    - go to <nowhere>\n");
    assert_eq!(at(&error), (5, Some("go")));
    assert_eq!(error.fault, Fault::UnknownRule("nowhere".to_owned()));
    assert_eq!(
        error.to_string(),
        "kitchen.yaml, line 5, rule go: there is no rule <nowhere>. Define it under rules, or use \
         one of <number> <quantity> <date> <item> <tag> <text>"
    );
}

#[test]
fn an_unknown_rule_is_found_in_a_rule_that_nothing_uses() {
    let error = fault("language: en\nrules:\n  spare: <gone> now\nintents:\n  go: go\n");
    assert_eq!(at(&error), (3, Some("spare")));
    assert_eq!(error.fault, Fault::UnknownRule("gone".to_owned()));
}

#[test]
fn a_helper_of_a_built_in_rule_is_no_rule_of_a_file() {
    let error = fault("language: en\nintents:\n  go: <n.digit>\n");
    assert_eq!(error.fault, Fault::UnknownRule("n.digit".to_owned()));
}

#[test]
fn a_rule_that_begins_with_itself_is_refused() {
    let yaml =
        "language: en\nrules:\n  list:\n    - cup\n    - <list> and cup\nintents:\n  go: <list>\n";
    let error = fault(yaml);
    assert_eq!(at(&error), (5, Some("list")));
    assert_eq!(
        error.fault,
        Fault::LeftRecursion("list, then list".to_owned())
    );
}

#[test]
fn rules_that_begin_with_each_other_are_refused() {
    let yaml =
        "language: en\nrules:\n  a: x | <b> y\n  b: <c>\n  c: z | <a>\nintents:\n  go: <c>\n";
    let error = fault(yaml);
    assert_eq!(at(&error), (3, Some("a")));
    let circle = "a, then b, then c, then a";
    assert_eq!(error.fault, Fault::LeftRecursion(circle.to_owned()));
}

#[test]
fn what_may_be_silent_does_not_hide_left_recursion() {
    for start in [
        "[x]",
        "x*",
        "[x] [y]",
        "(x | <NULL>)",
        "<maybe>",
        "<maybe>*",
        "[x]+",
        "<maybe> {tag}",
        "<NULL>",
    ] {
        let yaml = format!(
            "language: en\nrules:\n  maybe: '[<inner>]'\n  inner: z*\n  a: '{start} <a> w'\nintents:\n  go: <a>\n"
        );
        let error = fault(&yaml);
        assert_eq!(at(&error), (5, Some("a")), "{start}");
        let circle = "a, then a".to_owned();
        assert_eq!(error.fault, Fault::LeftRecursion(circle), "{start}");
    }
}

#[test]
fn left_recursion_is_found_in_a_rule_that_nothing_uses() {
    let error = fault("language: en\nrules:\n  spare: <spare> x | y\nintents:\n  go: go\n");
    assert_eq!(at(&error), (3, Some("spare")));
}

#[test]
fn a_rule_behind_a_word_is_no_left_recursion() {
    let yaml = "language: en\nrules:\n  a: x+ [<a>]\n  b: <item> <b> | <text> <b> | y\nintents:\n  go: <a> <b>\n";
    assert!(Grammar::from_text("kitchen.yaml", yaml).is_ok());
}

#[test]
fn an_unknown_slot_is_named() {
    let error = fault("language: en\nslots:\n  - item\n  - colour\nintents:\n  go: <item>\n");
    assert_eq!(at(&error), (4, None));
    assert_eq!(error.fault, Fault::UnknownSlot("colour".to_owned()));
}

#[test]
fn an_empty_expansion_is_refused() {
    for (line, rule) in [
        (3, "intents:\n  go:\n"),
        (3, "intents:\n  go: ''\n"),
        (3, "intents:\n  go: []\n"),
        (5, "intents:\n  go:\n    - a\n    - \n"),
        (4, "intents:\n  go:\n    - a | \n"),
        (3, "intents:\n  go: a ( ) b\n"),
        (3, "intents:\n  go: 'a [ ]'\n"),
    ] {
        let error = fault(&format!("language: en\n{rule}"));
        assert_eq!(at(&error), (line, Some("go")), "{rule}");
        let empty = matches!(error.fault, Fault::Syntax(SyntaxFault::Empty(_)));
        assert!(empty, "{rule}: {error}");
    }
}

#[test]
fn what_breaks_the_expansion_is_named() {
    for (expansion, fault_there) in [
        ("a (b", SyntaxFault::Unclosed('(')),
        ("a [b", SyntaxFault::Unclosed('[')),
        ("a <b", SyntaxFault::Unclosed('<')),
        ("a {b", SyntaxFault::Unclosed('{')),
        ("a \"b", SyntaxFault::Unclosed('"')),
        ("a) b", SyntaxFault::Stray(')')),
        ("a ] b", SyntaxFault::Stray(']')),
        ("a > b", SyntaxFault::Stray('>')),
        ("a } b", SyntaxFault::Stray('}')),
        ("a ** b", SyntaxFault::Stray('*')),
        ("{x} a", SyntaxFault::Stray('{')),
        ("a <>", SyntaxFault::BadName(String::new())),
        ("a <b c>", SyntaxFault::BadName("b c".to_owned())),
        ("/-1/ a | b", SyntaxFault::BadWeight("-1".to_owned())),
        ("/inf/ a | b", SyntaxFault::BadWeight("inf".to_owned())),
        ("a | /heavy/ b", SyntaxFault::BadWeight("heavy".to_owned())),
        ("a \"...\"", SyntaxFault::Silent("...".to_owned())),
    ] {
        let yaml = format!(
            "language: en\nrules:\n  r:\n    - fine\n    - '{expansion}'\nintents:\n  go: <r>\n"
        );
        let error = fault(&yaml);
        assert_eq!(at(&error), (5, Some("r")), "{expansion}");
        assert_eq!(error.fault, Fault::Syntax(fault_there), "{expansion}");
    }
}

#[test]
fn an_expansion_that_yaml_takes_for_a_list_is_explained() {
    for (line, yaml) in [
        (3, "intents:\n  go: [[please], go]\n"),
        (4, "intents:\n  go:\n    - [please] \n"),
        (4, "intents:\n  go:\n    - {a: b}\n"),
        (5, "intents:\n  go:\n    - go\n    - home: now\n"),
    ] {
        let error = fault(&format!("language: en\n{yaml}"));
        assert_eq!(at(&error), (line, Some("go")), "{yaml}");
        let explained = error.to_string().contains("Put quotes around it");
        assert!(explained, "{yaml}: {error}");
    }
    // Here YAML itself gives up, behind the bracket.
    for yaml in [
        "intents:\n\n  go: [please] go\n",
        "intents:\n  go:\n    - [please] go\n",
        "intents:\n  stay: a\n  go: [[please] go]\n",
    ] {
        let error = fault(&format!("language: en\n{yaml}"));
        assert!(matches!(error.fault, Fault::Yaml(_)), "{error}");
        assert_eq!(error.line, 4, "{yaml}: {error}");
        let explained = error.to_string().contains("begins with a bracket");
        assert!(explained, "{yaml}: {error}");
    }
}

#[test]
fn bad_yaml_has_its_line() {
    for (line, yaml) in [
        (2, "language: en\n\tintents: x\n"),
        (4, "language: en\nintents:\n  go: 'a\n"),
        (3, "language: en\nintents:\n  go: @a\n"),
        (3, "language: en\nintents:\n  go: *nothing\n"),
        (3, "language: en\nintents:\n  go: a: b\n"),
    ] {
        let error = fault(yaml);
        assert!(matches!(error.fault, Fault::Yaml(_)), "{yaml}: {error}");
        assert_eq!(error.line, line, "{yaml}: {error}");
    }
}

#[test]
fn a_name_that_is_there_twice_is_refused() {
    for (line, first, name, yaml) in [
        (5, 3, "go", "intents:\n  go: a\n  stay: b\n  \"go\": c\n"),
        (4, 3, "r", "rules:\n  r: a\n  r: b\nintents:\n  go: <r>\n"),
        (4, 2, "intents", "intents:\n  go: a\nintents:\n  stay: b\n"),
        (2, 2, "item", "slots: [item, item]\nintents:\n  go: a\n"),
    ] {
        let error = fault(&format!("language: en\n{yaml}"));
        assert_eq!(error.line, line, "{yaml}");
        let name = name.to_owned();
        assert_eq!(error.fault, Fault::Twice { name, first }, "{yaml}");
    }
}

#[test]
fn lines_are_right_in_every_way_to_write_yaml() {
    for yaml in [
        "# a comment\nintents:\n  go: <gone>\n",
        "intents:\n  # - not this one\n  go: <gone>\n",
        "intents:\n  go: [a,\n    <gone>]\n  stay:\n    - b\n    - c\n",
        "intents: {stay: b,\n  go: <gone>}\n",
        "intents:\n  stay: >-\n    go: here\n  go: <gone>\n",
        "intents:\n  \"go\":\n    - a\n\n    - <gone>\n",
        "rules: {}\nslots: []\nintents:\n  go:\n  - - <gone>\n",
    ] {
        let yaml = format!("language: en\n{yaml}");
        let line = yaml.lines().position(|l| l.contains("<gone>")).unwrap() + 1;
        assert_eq!(at(&fault(&yaml)), (line, Some("go")), "{yaml}");
    }
}

#[test]
fn what_belongs_elsewhere_is_named() {
    for (line, said, yaml) in [
        (2, "intent", "language: en\nintent:\n  go: a\n"),
        (2, "slots", "language: en\nslots: item\nintents:\n  go: a\n"),
        (
            3,
            "slots",
            "language: en\nslots:\n  - [item]\nintents:\n  go: a\n",
        ),
        (2, "rules", "language: en\nrules: <r>\nintents:\n  go: a\n"),
        (2, "intents", "language: en\nintents:\n- go\n"),
        (1, "language", "language: [en]\nintents:\n  go: a\n"),
        (0, "language", "intents:\n  go: a\n"),
        (0, "intents", ""),
        (0, "intents", "just a text"),
    ] {
        let error = fault(yaml);
        assert!(matches!(error.fault, Fault::Yaml(_)), "{yaml}: {error}");
        assert!(error.to_string().contains(said), "{yaml}: {error}");
        assert!(error.line.abs_diff(line) <= 1, "{yaml}: {error}");
    }
}

#[test]
fn a_rule_has_a_name_that_can_be_referred_to() {
    for name in ["two words", "NULL", "VOID", "a/b"] {
        let error = fault(&format!(
            "language: en\nrules:\n  '{name}': a\nintents:\n  go: b\n"
        ));
        assert_eq!(at(&error), (3, Some(name)));
        let bad = SyntaxFault::BadName(name.to_owned());
        assert_eq!(error.fault, Fault::Syntax(bad));
    }
}

#[test]
fn a_grammar_without_an_intent_is_refused() {
    for yaml in [
        "language: en\n",
        "language: en\nintents:\n",
        "language: en\nintents: {}\n",
    ] {
        let error = fault(yaml);
        assert_eq!(
            (at(&error), &error.fault),
            ((0, None), &Fault::NoIntents),
            "{yaml}"
        );
    }
}

#[test]
fn a_rule_that_a_language_lacks_is_named() {
    let lacking = Fault::NoBuiltIn {
        rule: "date".to_owned(),
        language: "ko-KR".to_owned(),
    };
    let error = fault("language: ko-KR\nintents:\n  go: <date>\n");
    assert_eq!((at(&error), &error.fault), ((3, Some("go")), &lacking));
    let error = fault("language: ko-KR\nslots: [date]\nintents:\n  go: <item>\n");
    assert_eq!((at(&error), &error.fault), ((2, None), &lacking));
}

#[test]
fn too_large_a_file_is_refused() {
    let yaml = format!(
        "language: en\nintents:\n  go: {}\n",
        "a ".repeat(MAX_FILE / 2)
    );
    let too_large = |error: &GrammarError| {
        matches!(
            error.fault,
            Fault::TooLarge {
                limit: MAX_FILE,
                ..
            }
        )
    };
    assert!(too_large(&fault(&yaml)));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("large.yaml");
    std::fs::write(&path, yaml).unwrap();
    let error = Grammar::load(&path).unwrap_err();
    assert!(too_large(&error), "{error}");
    assert!(error.file.ends_with("large.yaml"));
}

#[test]
fn too_many_rules_are_refused() {
    let many = |count: usize| {
        let intents: String = (0..count).map(|n| format!("  i{n}: word\n")).collect();
        format!("language: en\nrules:\n  r: a\nintents:\n{intents}")
    };
    assert!(Grammar::from_text("kitchen.yaml", &many(MAX_RULES - 1)).is_ok());
    let error = fault(&many(MAX_RULES));
    assert!(
        matches!(
            error.fault,
            Fault::TooLarge {
                limit: MAX_RULES,
                ..
            }
        ),
        "{error}"
    );
}

#[test]
fn a_file_that_cannot_be_read_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing.yaml");
    let not_text = folder.path().join("binary.yaml");
    std::fs::write(&not_text, [0xff, 0xfe, 0x00]).unwrap();
    for path in [&missing, &not_text] {
        let error = Grammar::load(path).unwrap_err();
        assert_eq!(error.file, path.display().to_string());
        assert!(matches!(error.fault, Fault::Unreadable(_)), "{error}");
    }
}
