//! The rules every grammar file may use without defining them.

use std::sync::LazyLock;

use super::file::{GrammarFile, Rule};
use super::network::Kind;

static ENGLISH: LazyLock<GrammarFile> = LazyLock::new(|| {
    let text = include_str!("../../grammars/builtin.en.yaml");
    GrammarFile::parse("builtin.en.yaml", text).expect("the built-in file is fixed and tested")
});

/// What the words of a built-in rule are read as; `None` where no built-in rule has this name.
/// `<item>` and `<text>` have no expansions, and aren't among them.
pub(super) fn kind(name: &str) -> Option<Kind> {
    match name {
        "number" => Some(Kind::Number),
        "quantity" => Some(Kind::Quantity),
        "date" => Some(Kind::Date),
        "share" => Some(Kind::Share),
        "tag" => Some(Kind::Tag),
        _ => None,
    }
}

/// The slot that a rule fills: that of the rule it is a part of, such as `quantity` of `quantity.of`.
pub(super) fn whole(name: &str) -> &str {
    name.split_once('.').map_or(name, |(whole, _)| whole)
}

/// The built-in rule of this name for a language, or a helper of one.
pub(super) fn rule(language: &str, name: &str) -> Option<&'static Rule> {
    let base = language.split('-').next().unwrap_or(language);
    let file = base.eq_ignore_ascii_case("en").then_some(&*ENGLISH)?;
    file.rules.iter().find(|rule| rule.name == name)
}
