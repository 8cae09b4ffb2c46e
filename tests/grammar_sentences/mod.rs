//! Sentences of a grammar, made at random from its rules.

use std::collections::HashMap;

use tellshelf::grammar::{Expansion, Rule};

/// A generator of numbers that is the same on every machine: a linear congruence (Knuth's MMIX).
pub struct Numbers(u64);

impl Numbers {
    pub fn from_seed(seed: u64) -> Self {
        let mut numbers = Self(seed);
        // Seeds that are close together begin apart.
        numbers.below(2);
        numbers
    }

    /// A number from 0 to `limit - 1`.
    pub fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = self.0.wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % limit
    }
}

/// Rules by name.
pub struct Sentences<'r>(HashMap<&'r str, &'r Rule>);

impl<'r> Sentences<'r> {
    pub fn of(rules: &'r [Rule]) -> Self {
        Self(
            rules
                .iter()
                .map(|rule| (rule.name.as_str(), rule))
                .collect(),
        )
    }

    /// The words of any one sentence of a rule.
    pub fn any(&self, rule: &Rule, numbers: &mut Numbers) -> Vec<String> {
        let mut words = Vec::new();
        self.say_rule(rule, numbers, &mut words);
        words
    }

    fn say_rule(&self, rule: &Rule, numbers: &mut Numbers, words: &mut Vec<String>) {
        let (expansion, _) = &rule.expansions[numbers.below(rule.expansions.len())];
        self.say(expansion, numbers, words);
    }

    fn say(&self, expansion: &Expansion, numbers: &mut Numbers, words: &mut Vec<String>) {
        match expansion {
            Expansion::Word(word) => words.push(word.clone()),
            Expansion::Rule(name) => self.say_rule(self.0[name.as_str()], numbers, words),
            Expansion::Sequence(parts) => {
                parts.iter().for_each(|part| self.say(part, numbers, words));
            }
            Expansion::Alternatives(choices) => {
                self.say(&choices[numbers.below(choices.len())].1, numbers, words);
            }
            Expansion::Optional(inside) => {
                if numbers.below(2) == 0 {
                    self.say(inside, numbers, words);
                }
            }
            Expansion::Star(inside) => {
                (0..numbers.below(3)).for_each(|_| self.say(inside, numbers, words));
            }
            Expansion::Plus(inside) => {
                (0..=numbers.below(2)).for_each(|_| self.say(inside, numbers, words));
            }
            Expansion::Tagged(inside, _) => self.say(inside, numbers, words),
        }
    }
}
