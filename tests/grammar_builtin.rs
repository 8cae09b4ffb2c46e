//! What the built-in rules let through, the room `measure` can read.

#[path = "../benches/shared/random.rs"]
mod random;

use chrono::NaiveDate;
use random::Random;
use tellshelf::grammar::{Expansion, GrammarFile};
use tellshelf::measure::{read_date, read_number, read_quantity, read_share};

/// Sentences picked by chance, the same ones each time.
struct Picker<'f> {
    file: &'f GrammarFile,
    random: Random,
}

impl Picker<'_> {
    fn rule(&mut self, name: &str, words: &mut Vec<String>) {
        let rule = self
            .file
            .rules
            .iter()
            .find(|rule| rule.name == name)
            .expect(name);
        let choice = self.random.below(rule.expansions.len());
        self.pick(&rule.expansions[choice].0, words);
    }

    fn pick(&mut self, expansion: &Expansion, words: &mut Vec<String>) {
        match expansion {
            Expansion::Word(word) => words.push(word.clone()),
            Expansion::Rule(name) => self.rule(name, words),
            Expansion::Sequence(parts) => parts.iter().for_each(|part| self.pick(part, words)),
            Expansion::Alternatives(choices) => {
                let choice = self.random.below(choices.len());
                self.pick(&choices[choice].1, words);
            }
            Expansion::Optional(inside) => {
                if self.random.below(2) == 0 {
                    self.pick(inside, words);
                }
            }
            Expansion::Star(inside) | Expansion::Plus(inside) => {
                (0..1 + self.random.below(2)).for_each(|_| self.pick(inside, words));
            }
            Expansion::Tagged(inside, _) => self.pick(inside, words),
        }
    }
}

/// Asserts that each of many sentences of a rule is read.
fn all_read(rule: &str, read: impl Fn(&[&str]) -> bool) {
    let file = include_str!("../grammars/builtin.en.yaml");
    let file = GrammarFile::parse("builtin.en.yaml", file).unwrap();
    let mut picker = Picker {
        file: &file,
        random: Random(1),
    };
    let mut unread = Vec::new();
    for _ in 0..20_000 {
        let mut words = Vec::new();
        picker.rule(rule, &mut words);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        if !read(&words) {
            unread.push(words.join(" "));
        }
    }
    unread.sort();
    unread.dedup();
    let first: Vec<_> = unread.iter().take(20).collect();
    assert!(
        unread.is_empty(),
        "{} of <{rule}> can't be read: {first:#?}",
        unread.len()
    );
}

#[test]
fn every_number_is_read() {
    all_read("number", |words| read_number(words).is_some());
}

#[test]
fn every_quantity_is_read() {
    all_read("quantity", |words| read_quantity(words).is_some());
}

#[test]
fn every_tag_is_read() {
    all_read("tag", |words| read_number(words).is_some());
}

#[test]
fn every_date_is_read_or_is_a_day_that_does_not_exist() {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    all_read("date", |words| {
        // The year has no day 390; egg cartons aren't the place to say so.
        let is_day_of_year = words.contains(&"packed") && words.contains(&"day");
        is_day_of_year || read_date(words, today.into()).is_ok()
    });
}

#[test]
fn every_share_is_read() {
    all_read("share", |words| read_share(words).is_some());
}
