//! The rules every grammar file may use without defining them.

use std::sync::LazyLock;

use super::file::{GrammarFile, Rule};

/// Put before a built-in rule's name inside the automaton, so that a file's own rule of the same
/// name never changes what another built-in rule refers to.
pub(super) const PREFIX: &str = "builtin.";

/// Built-in rules with expansions.
pub(super) const CLOSED: [&str; 4] = ["number", "quantity", "date", "tag"];

static ENGLISH: LazyLock<GrammarFile> = LazyLock::new(|| {
    let text = include_str!("../../grammars/builtin.en.yaml");
    GrammarFile::parse("builtin.en.yaml", text).expect("the built-in file is fixed and tested")
});

/// The built-in rule of this name for a language; names inside are as in the built-in file.
pub(super) fn rule(language: &str, name: &str) -> Option<&'static Rule> {
    let base = language.split('-').next().unwrap_or(language);
    let file = base.eq_ignore_ascii_case("en").then_some(&*ENGLISH)?;
    file.rules.iter().find(|rule| rule.name == name)
}
