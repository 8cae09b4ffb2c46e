//! Directions, read step by step: hands that cook can't hold a text, and a whole one is forgotten by its end.
//!
//! In: what is known of a thing. Out: the words of a step, and where the reading is.

use super::reading::Through;
use super::wording::capital;
use super::wording::facts::LABEL_FIRST;
use crate::measure::spell;
use crate::stock::{Facts, ItemKind, ItemName};

/// The directions that were read or noted last.
#[derive(Debug)]
pub(super) struct Reading {
    item: ItemName,
    /// How many of the steps were read: the one read last is the last of these.
    read: usize,
}

/// Which step is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// "Next step."
    Next,
    /// "Back a step."
    Back,
    /// "The first step."
    First,
}

impl From<Through> for Step {
    fn from(way: Through) -> Self {
        match way {
            Through::More => Self::Next,
            Through::Back => Self::Back,
            Through::FromTheStart | Through::Nth(_) => Self::First,
        }
    }
}

impl Reading {
    /// Of directions of which nothing was read yet.
    pub fn of(item: ItemName) -> Self {
        Self { item, read: 0 }
    }

    /// Whose directions they are.
    pub fn item(&self) -> &ItemName {
        &self.item
    }

    /// Begins with the first step, and says how many there are.
    pub fn begin(&mut self, facts: &Facts) -> String {
        let steps = steps(facts);
        self.read = 1;
        match steps.as_slice() {
            [] => format!(
                "No directions noted for {}. Have the label read.",
                self.item
            ),
            [all] if is_medicine(facts) => format!("As you noted it: {all}. {LABEL_FIRST}"),
            [all] => format!("{}.", capital(all)),
            [first, ..] if is_medicine(facts) => {
                let (steps, first) = (steps.len(), said(1, first));
                format!("{steps} steps, as you noted them. {first} {LABEL_FIRST}")
            }
            [first, ..] => format!("{} steps. {}", steps.len(), said(1, first)),
        }
    }

    /// Goes to a step, and says it. Directions may have changed since the last one was read.
    pub fn go(&mut self, to: Step, facts: &Facts) -> String {
        let steps = steps(facts);
        if steps.is_empty() {
            return self.begin(facts);
        }
        let before = self.read.min(steps.len());
        self.read = match to {
            Step::Next => before + 1,
            Step::Back => before.saturating_sub(1).max(1),
            Step::First => 1,
        };
        let Some(step) = steps.get(self.read - 1) else {
            self.read = before;
            return "That was the last step.".to_owned();
        };
        let mut step = said(self.read, step);
        if is_medicine(facts) {
            step = format!("{step} {LABEL_FIRST}");
        }
        match to {
            Step::Back if before <= 1 => format!("That is the first. {step}"),
            Step::Next if self.read == steps.len() && steps.len() > 1 => {
                format!("The last. {step}")
            }
            _ => step,
        }
    }
}

fn is_medicine(facts: &Facts) -> bool {
    facts.kind == ItemKind::Medicine
}

/// "Two: boil ten minutes."
fn said(number: usize, step: &str) -> String {
    format!("{}: {step}.", capital(&spell(number as u64)))
}

/// How many steps directions have.
pub(super) fn count(facts: &Facts) -> usize {
    steps(facts).len()
}

fn steps(facts: &Facts) -> Vec<String> {
    let texts = facts.directions.iter();
    texts.flat_map(|text| parts(text.as_str())).collect()
}

/// Words before "then" with which it is no next step: "now and then", "until then".
const NOT_THE_NEXT: &[&str] = &[
    "now", "until", "till", "by", "since", "even", "only", "before", "back", "just", "from", "or",
    "not",
];
/// Words with which "then" may tell what follows from a condition.
const CONDITIONS: &[&str] = &["if", "when", "whenever", "once", "unless", "should"];

/// The steps in one text, as it was dictated: "rinse it then boil it" are two. Where it isn't clear that "then" begins
/// a step, the text is one.
fn parts(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(' ').collect();
    let mut parts = vec![Vec::new()];
    let mut is_clear = !words.iter().any(|word| CONDITIONS.contains(word));
    for word in &words {
        if *word != "then" {
            parts
                .iter_mut()
                .last()
                .into_iter()
                .for_each(|part| part.push(*word));
            continue;
        }
        if let Some(part) = parts.last_mut() {
            if part.last() == Some(&"and") {
                part.pop();
            }
            is_clear &= part.last().is_some_and(|word| !NOT_THE_NEXT.contains(word));
        }
        parts.push(Vec::new());
    }
    // One word alone is hardly a step, and rather the end or the beginning of something.
    is_clear &= parts.iter().all(|part| part.len() > 1);
    match is_clear {
        true => parts.into_iter().map(|part| part.join(" ")).collect(),
        false => vec![text.to_owned()],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn then_parts_steps_only_where_it_begins_one() {
        let two = parts("rinse it well and then boil ten minutes");
        assert_eq!(two, ["rinse it well", "boil ten minutes"]);
        let three = parts("rinse it then boil it until soft then drain it");
        assert_eq!(three, ["rinse it", "boil it until soft", "drain it"]);
        for one in [
            "boil ten minutes",
            "boil it and stir now and then",
            "let it stand until then cover it",
            "if it is dry then add water",
            "when it boils then turn it down",
            "then drain it",
            "rinse then boil it",
            "boil it then",
        ] {
            assert_eq!(parts(one), [one]);
        }
    }
}
