//! How the words of a command's form were found in a text: those that the grammar spells out, around
//! the names and the free speech that stand open in it.
//!
//! Letters in all say little here: "fold the egg whites" differs from "find the egg whites" by few of
//! them. It is the words that make a command, so they are counted one by one.

use super::lexicon::Lexicon;
use super::likeness::Likeness;
use super::matching::{Passed, Path};
use super::network::{Kind, Mark, Network};

/// A word may differ by one letter in so many to be a slip of the pen, and by one in so many to be worth
/// a question. A name, which stands beside a thousand others and all that is none ("break", "bread"), may
/// differ by one in so many.
const LETTERS_A_SLIP: usize = 4;
const LETTERS_A_DOUBT: usize = 3;
const LETTERS_A_SLIP_IN_A_NAME: f32 = 8.0;

/// The words of a form, by how they were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Form {
    /// As they are spelled. Spaces and doubled letters are no matter.
    pub exact: usize,
    /// With a slip of the pen in a word that is long enough to be still the same.
    pub slips: usize,
    /// With as many letters wrong as another word may have; or left out.
    pub doubtful: usize,
    /// Words that the form doesn't have.
    pub extra: usize,
    /// Another word stands in their place.
    pub wrong: usize,
    /// Those of the exact ones that stand behind the last name.
    pub behind_name: usize,
    /// A known name that another word comes as near to.
    pub name_in_doubt: bool,
    /// How far the least alike of the known names is the one that was said.
    pub likeness: Likeness,
    /// Where in the text that one was said, if it isn't as it is spelled.
    pub said: Option<(u32, u32)>,
    /// A word that turns the sense round was said, and isn't in the sentence that was found, or wasn't and is.
    pub other_sense: bool,
    /// Not every word of a quantity, a number or a date is as it is spelled.
    pub figures_in_doubt: bool,
}

/// How a word was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Found {
    Exact,
    Slip,
    Doubtful,
    Wrong,
}

impl Form {
    /// Reads it off a path. `text` is what the path was matched with.
    pub fn of(network: &Network, names: &Lexicon, text: &[char], path: &Path) -> Self {
        let mut form = Self::default();
        let mut slots: Vec<(Kind, f32)> = Vec::new();
        let mut name_letters = 0;
        let mut since = 0;
        for passed in &path.passed {
            match passed {
                Passed::Mark(Mark::Open(slot), wrong) => {
                    slots.push((network.slots[*slot as usize].1, *wrong));
                }
                Passed::Mark(Mark::Close(_), wrong) => {
                    if let Some((Kind::Item, wrong_before)) = slots.pop() {
                        form.name(name_letters, wrong - wrong_before);
                        name_letters = 0;
                    }
                }
                Passed::Mark(Mark::Tag(_), _) => {}
                Passed::Word(word, end) => {
                    let expected = &network.words[*word as usize].letters;
                    form.sense(expected, part(text, since, *end));
                    let found = form.word(expected, part(text, since, *end));
                    let counts =
                        |(kind, _): &(Kind, f32)| !matches!(kind, Kind::Words | Kind::Item);
                    if found != Found::Exact && slots.iter().any(counts) {
                        form.figures_in_doubt = true;
                        // "Plenty" isn't even asked about as "twenty".
                        form.wrong += usize::from(found == Found::Doubtful);
                    }
                    since = *end;
                }
                Passed::Name(node, end) => {
                    name_letters = names.letters_to(*node);
                    let name = names.spelled_to(*node);
                    form.sense(&name, part(text, since, *end));
                    let likeness = Likeness::of(&name, part(text, since, *end));
                    if likeness > form.likeness {
                        (form.likeness, form.said) = (likeness, Some((since, *end)));
                    }
                    since = *end;
                }
                Passed::Free(from, to) => {
                    form.sense(&[], part(text, since, *from));
                    form.extra += words(part(text, since, *from));
                    since = *to;
                }
            }
        }
        form.sense(&[], part(text, since, text.len() as u32));
        form.extra += words(part(text, since, text.len() as u32));
        form
    }

    /// Looks whether what was said turns the sense round where what was found doesn't, or the other way about.
    fn sense(&mut self, found: &[char], said: &[char]) {
        self.other_sense |= count_no(said) != count_no(found);
    }

    /// Counts a name: one that is known is as good as a word of the form. One that isn't has no letters.
    fn name(&mut self, letters: u16, wrong: f32) {
        self.behind_name = 0;
        self.exact += usize::from(letters > 0 && wrong == 0.0);
        self.name_in_doubt |= wrong > 0.0 && wrong * LETTERS_A_SLIP_IN_A_NAME >= f32::from(letters);
    }

    /// Counts a word that was found as a part of the text.
    fn word(&mut self, expected: &[char], there: &[char]) -> Found {
        let (there, extra) = without_extra_words(expected, there);
        self.extra += extra;
        let found = compare(&spelling(expected), &spelling(there));
        match found {
            Found::Exact => {
                self.exact += 1;
                self.behind_name += 1;
            }
            Found::Slip => self.slips += 1,
            Found::Doubtful => self.doubtful += 1,
            Found::Wrong => self.wrong += 1,
        }
        found
    }

    /// Whether every word is there, and hardly any with a slip.
    pub fn is_whole(&self) -> bool {
        self.wrong + self.doubtful + self.extra == 0 && self.slips <= self.exact
    }

    /// Whether every word is there as it is spelled, and no other.
    pub fn is_exact(&self) -> bool {
        self.is_whole() && self.slips == 0
    }

    /// Whether most of it is there, and nothing else stands in place of the rest.
    pub fn is_near(&self) -> bool {
        self.wrong == 0 && 2 * (self.doubtful + self.extra) + self.slips <= self.exact
    }
}

fn part(text: &[char], from: u32, to: u32) -> &[char] {
    text.get(from as usize..to as usize).unwrap_or_default()
}

/// Words that turn the sense of a sentence round.
const NO: [&str; 14] = [
    "no", "not", "never", "without", "none", "neither", "nor", "dont", "doesnt", "isnt", "arent",
    "cant", "cannot", "wont",
];

fn count_no(text: &[char]) -> usize {
    let words = text.split(|c| *c == ' ');
    let is_no = |word: &[char]| NO.iter().any(|no| no.chars().eq(word.iter().copied()));
    words.filter(|word| is_no(word)).count()
}

fn words(text: &[char]) -> usize {
    text.split(|c| *c == ' ').filter(|w| !w.is_empty()).count()
}

/// The letters of a word without its spaces, of doubled ones only one.
pub(super) fn spelling(word: &[char]) -> Vec<char> {
    let mut letters: Vec<char> = word.iter().copied().filter(|c| *c != ' ').collect();
    letters.dedup();
    letters
}

/// Takes the word out of what stands around it, where it is there as it is spelled: "pretty please".
fn without_extra_words<'t>(expected: &[char], there: &'t [char]) -> (&'t [char], usize) {
    let others = there.len().saturating_sub(expected.len());
    if others == 0 {
        return (there, 0);
    }
    if there.starts_with(expected) {
        return (&there[..expected.len()], words(&there[expected.len()..]));
    }
    if there.ends_with(expected) && there[others - 1] == ' ' {
        return (&there[others..], words(&there[..others]));
    }
    (there, 0)
}

pub(super) fn compare(expected: &[char], there: &[char]) -> Found {
    if expected == there {
        return Found::Exact;
    }
    if there.is_empty() {
        return Found::Doubtful;
    }
    let slips = slips(expected, there);
    // The commonest slip leaves all letters there: "teh".
    let is_swap = slips == 1 && expected.len() == there.len() && same_letters(expected, there);
    if is_swap || slips <= expected.len() / LETTERS_A_SLIP {
        Found::Slip
    } else if slips <= (expected.len() / LETTERS_A_DOUBT).max(1) {
        Found::Doubtful
    } else {
        Found::Wrong
    }
}

fn same_letters(a: &[char], b: &[char]) -> bool {
    let sorted = |word: &[char]| {
        let mut word = word.to_vec();
        word.sort_unstable();
        word
    };
    sorted(a) == sorted(b)
}

/// Letters left out, added, exchanged, or swapped with their neighbour: the restricted edit distance
/// of Damerau.
fn slips(a: &[char], b: &[char]) -> usize {
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, letter) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, other) in b.iter().enumerate() {
            let mut cost = (last[j] + usize::from(letter != other))
                .min(last[j + 1] + 1)
                .min(row[j] + 1);
            let swapped = i > 0 && j > 0 && a[i - 1] == *other && b[j - 1] == *letter;
            if swapped {
                cost = cost.min(before_last[j - 1] + 1);
            }
            row.push(cost);
        }
        before_last = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(expected: &str, there: &str) -> Found {
        let letters = |word: &str| spelling(&word.chars().collect::<Vec<_>>());
        compare(&letters(expected), &letters(there))
    }

    #[test]
    fn a_slip_of_the_pen_is_still_the_word() {
        assert_eq!(found("eggs", "egs"), Found::Exact);
        assert_eq!(found("fridge", "frigde"), Found::Slip);
        assert_eq!(found("the", "teh"), Found::Slip);
        assert_eq!(found("used", "usd"), Found::Slip);
        assert_eq!(found("shopping list", "shoping lst"), Found::Slip);
    }

    #[test]
    fn another_word_is_no_slip() {
        for (word, other) in [("find", "fold"), ("dozen", "more"), ("put", "move")] {
            assert_eq!(found(word, other), Found::Wrong, "{other}");
        }
        // These may be either.
        for (word, other) in [("add", "and"), ("the", "he"), ("expires", "experis")] {
            assert_eq!(found(word, other), Found::Doubtful, "{other}");
        }
    }

    #[test]
    fn words_beside_the_expected_one_are_extra() {
        let letters = |text: &str| text.chars().collect::<Vec<_>>();
        for (there, extra) in [
            ("add ", 0),
            ("ok add ", 1),
            ("add well then ", 2),
            ("and ", 0),
        ] {
            let there = letters(there);
            assert_eq!(without_extra_words(&letters("add "), &there).1, extra);
        }
    }
}
