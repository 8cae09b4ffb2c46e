//! Whether a name that is known is the one that was said, word by word.
//!
//! Over a whole name a few letters are little, and yet they may be all of a word, and another thing: "ear drops" is near to
//! "eye drops". So each word of a name must be the one that was said, but for a slip.

use super::form::{Found, compare, spelling};
use super::letters::difference;

/// In words of fewer letters, one letter makes another word: "goat", "oat".
const SHORTEST_WITH_A_SLIP: usize = 4;
/// What differs by more letters is no slip.
const A_SLIP: f32 = 1.0;

/// How far a known name is the one that was said; the less so, the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) enum Likeness {
    /// As it is spelled. Spaces and doubled letters are no matter.
    #[default]
    Exact,
    /// With one letter wrong in a word.
    Slip,
    /// One of its words may be another one: "goat milk", "salted butter", "prednisolone".
    Near,
    /// One of its words is another one: "ear drops".
    Other,
}

impl Likeness {
    /// Compares a name with what was said, both in normal form.
    pub fn of(name: &[char], said: &[char]) -> Self {
        if spelling(name) == spelling(said) {
            return Self::Exact;
        }
        let words = |text: &[char]| -> Vec<Vec<char>> {
            let words = text.split(|letter| *letter == ' ').map(spelling);
            words.filter(|word| !word.is_empty()).collect()
        };
        let (names, saids) = (words(name), words(said));
        // What is written in one or in several is compared as a whole.
        if names.len() != saids.len() {
            return Self::of_word(&spelling(name), &spelling(said));
        }
        let words = names.iter().zip(&saids);
        let words = words.map(|(name, said)| Self::of_word(name, said));
        words.max().unwrap_or_default()
    }

    fn of_word(name: &[char], said: &[char]) -> Self {
        if name == said {
            return Self::Exact;
        }
        let is_long = name.len() >= SHORTEST_WITH_A_SLIP;
        if is_long && difference(said, name) <= A_SLIP {
            return Self::Slip;
        }
        match compare(name, said) {
            Found::Exact => Self::Exact,
            // Two letters that changed places are one slip of the pen.
            Found::Slip if is_long && name.len() == said.len() && is_swap(name, said) => Self::Slip,
            Found::Slip | Found::Doubtful => Self::Near,
            Found::Wrong => Self::Other,
        }
    }
}

fn is_swap(a: &[char], b: &[char]) -> bool {
    let differ: Vec<usize> = (0..a.len()).filter(|at| a[*at] != b[*at]).collect();
    matches!(differ[..], [one, next] if next == one + 1 && a[one] == b[next] && a[next] == b[one])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn likeness(name: &str, said: &str) -> Likeness {
        let letters = |text: &str| text.chars().collect::<Vec<_>>();
        Likeness::of(&letters(name), &letters(said))
    }

    #[test]
    fn a_slip_is_still_the_name() {
        for (name, said) in [
            ("tomatoes", "tomatos"),
            ("yogurt", "yoghurt"),
            ("oats", "oaks"),
            ("cinnamon", "cinnamin"),
            ("peanut butter", "peanut buter"),
            ("peanut butter", "peanut btuter"),
            ("sour cream", "sour creem"),
        ] {
            assert!(likeness(name, said) <= Likeness::Slip, "{said}");
        }
        assert_eq!(likeness("chickpeas", "chick peas"), Likeness::Exact);
    }

    #[test]
    fn another_word_in_a_name_is_another_thing() {
        for (name, said) in [
            ("eye drops", "ear drops"),
            ("dark chocolate", "milk chocolate"),
            ("canned chicken", "cooked chicken"),
            ("pie", "peas"),
            ("sage", "sauce"),
        ] {
            assert_eq!(likeness(name, said), Likeness::Other, "{said}");
        }
    }

    #[test]
    fn what_may_be_another_word_is_asked_about() {
        for (name, said) in [
            ("oat milk", "goat milk"),
            ("unsalted butter", "salted butter"),
            ("prednisone", "prednisolone"),
            ("fluoxetine", "duloxetine"),
        ] {
            assert_eq!(likeness(name, said), Likeness::Near, "{said}");
        }
    }
}
