//! The wake phrase: what is said in front of a command, so that talk in the room does nothing.
//!
//! A grammar with a wake phrase takes it in front of every sentence, or by itself, and of that grammar there is a second
//! one, for while nobody has called: there the phrase must be said. A phrase that is heard as a part of the grammar is
//! guided and judged as everything else is, together with the command behind it, and no part of the sound is looked at
//! twice.

use super::file::{GrammarFile, Rule};
use super::jsgf::Expansion;
use super::words::normal_words;

/// The intent of a wake phrase that is said by itself.
pub const CALLED: &str = "called";

/// A phrase needs so many letters: what is shorter is heard in any talk.
const LEAST_LETTERS: usize = 8;
/// Longer ones are said in several ways.
const MOST_WORDS: usize = 5;

/// A few words that nobody says by chance.
///
/// ```
/// use tellshelf::grammar::WakePhrase;
/// let phrase = WakePhrase::new("Tell the shelf").unwrap();
/// assert_eq!(phrase.to_string(), "tell the shelf");
/// assert!(phrase.begins("Tell the shelf, what expires?"));
/// assert!(!phrase.begins("We sell the shelf."));
/// assert!(WakePhrase::new("hey").is_err());
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WakePhrase(Vec<String>);

/// Why words are no wake phrase.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "“{0}” can't be the wake phrase: take two to five words of letters, eight letters or more in all"
)]
pub struct NoWakePhrase(pub String);

impl WakePhrase {
    /// Takes two to five words, eight letters or more.
    ///
    /// # Errors
    /// [`NoWakePhrase`] for anything else.
    pub fn new(text: &str) -> Result<Self, NoWakePhrase> {
        let words = normal_words(text);
        let letters: usize = words.iter().map(|word| word.chars().count()).sum();
        let plain = words
            .iter()
            .all(|word| word.chars().all(char::is_alphabetic));
        if plain && (2..=MOST_WORDS).contains(&words.len()) && letters >= LEAST_LETTERS {
            Ok(Self(words))
        } else {
            Err(NoWakePhrase(text.trim().to_owned()))
        }
    }

    /// Whether a text begins with it, in whatever spelling.
    pub fn begins(&self, text: &str) -> bool {
        normal_words(text).starts_with(&self.0)
    }

    /// A sentence of the grammar without the phrase in front, if it stands there and isn't all of it.
    ///
    /// ```
    /// use tellshelf::grammar::WakePhrase;
    /// let phrase = WakePhrase::new("tell the shelf").unwrap();
    /// assert_eq!(phrase.taken_off("tell the shelf what expires"), "what expires");
    /// assert_eq!(phrase.taken_off("what expires"), "what expires");
    /// ```
    pub fn taken_off<'s>(&self, sentence: &'s str) -> &'s str {
        let behind = sentence.strip_prefix(&self.to_string());
        behind
            .and_then(|behind| behind.strip_prefix(' '))
            .unwrap_or(sentence)
    }

    /// What stands behind the phrase in a text in whatever spelling; all of it where the phrase doesn't stand in front, or
    /// nothing stands behind it.
    ///
    /// ```
    /// use tellshelf::grammar::WakePhrase;
    /// let phrase = WakePhrase::new("tell the shelf").unwrap();
    /// assert_eq!(phrase.behind("Tell the shelf, add milk 3/4."), "add milk 3/4.");
    /// assert_eq!(phrase.behind("Tell the shelf."), "Tell the shelf.");
    /// ```
    pub fn behind<'t>(&self, text: &'t str) -> &'t str {
        let ends = text.match_indices(char::is_whitespace).map(|(end, _)| end);
        let mut splits = ends.map(|end| text.split_at(end));
        let behind = splits.find(|(front, _)| normal_words(front) == self.0);
        behind.map_or(text, |(_, behind)| behind.trim())
    }

    fn said(&self) -> Expansion {
        Expansion::Sequence(self.0.iter().cloned().map(Expansion::Word).collect())
    }
}

impl std::fmt::Display for WakePhrase {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0.join(" "))
    }
}

/// Whether the phrase must be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Called {
    /// It may stand in front.
    Maybe,
    /// Nothing is understood without it.
    Must,
}

/// The same file with the phrase in front of everything that can be said, and by itself.
pub(super) fn behind(file: &GrammarFile, phrase: &WakePhrase, called: Called) -> GrammarFile {
    let in_front = match called {
        Called::Maybe => Expansion::Optional(Box::new(phrase.said())),
        Called::Must => phrase.said(),
    };
    let mut file = file.clone();
    for intent in &mut file.intents {
        for (expansion, _) in &mut intent.expansions {
            let said = std::mem::replace(expansion, Expansion::Sequence(Vec::new()));
            *expansion = Expansion::Sequence(vec![in_front.clone(), said]);
        }
    }
    file.intents.push(Rule {
        name: CALLED.to_owned(),
        expansions: vec![(phrase.said(), 0)],
    });
    file
}
