//! A list of phrases to listen for, checked before a recogniser sees it.

use super::EarError;

/// Phrases that a recogniser may expect: at least one, each with at least one word.
///
/// The check comes first because Vosk crashes on an empty list or a quotation mark, and a crash
/// can't be caught. Words are kept as written, with single spaces between them.
///
/// ```
/// use tellshelf::ear::{EarError, Phrases};
/// let phrases = Phrases::new(["open  the oats", "undo"])?;
/// assert_eq!(phrases.as_slice(), ["open the oats", "undo"]);
/// assert!(matches!(Phrases::new([""]), Err(EarError::EmptyPhrase { number: 1 })));
/// # Ok::<(), EarError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phrases {
    phrases: Vec<String>,
}

impl Phrases {
    /// Checks and takes phrases.
    ///
    /// # Errors
    /// [`EarError::NoPhrases`] for an empty list, [`EarError::EmptyPhrase`] for a phrase without a
    /// word, [`EarError::BadPhrase`] for one with a double quotation mark, a backslash or a control
    /// character.
    pub fn new<P: AsRef<str>>(phrases: impl IntoIterator<Item = P>) -> Result<Self, EarError> {
        let phrases = phrases
            .into_iter()
            .enumerate()
            .map(|(place, phrase)| checked(place + 1, phrase.as_ref()))
            .collect::<Result<Vec<_>, _>>()?;
        if phrases.is_empty() {
            Err(EarError::NoPhrases)
        } else {
            Ok(Self { phrases })
        }
    }

    /// The phrases, in the order they were given.
    pub fn as_slice(&self) -> &[String] {
        &self.phrases
    }

    /// Each word once, in the order of its first use.
    ///
    /// ```
    /// use tellshelf::ear::Phrases;
    /// assert_eq!(Phrases::new(["a b", "b c"])?.words(), ["a", "b", "c"]);
    /// # Ok::<(), tellshelf::ear::EarError>(())
    /// ```
    pub fn words(&self) -> Vec<&str> {
        let mut seen = std::collections::HashSet::new();
        let words = self.phrases.iter().flat_map(|phrase| phrase.split(' '));
        words.filter(|word| seen.insert(*word)).collect()
    }
}

fn checked(number: usize, phrase: &str) -> Result<String, EarError> {
    let bad = |c: &char| matches!(c, '"' | '\\') || c.is_control();
    if let Some(character) = phrase.chars().find(bad) {
        return Err(EarError::BadPhrase {
            phrase: phrase.to_owned(),
            character,
        });
    }
    let words: Vec<&str> = phrase.split_whitespace().collect();
    if words.is_empty() {
        Err(EarError::EmptyPhrase { number })
    } else {
        Ok(words.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_list_is_refused() {
        assert!(matches!(
            Phrases::new(Vec::<String>::new()),
            Err(EarError::NoPhrases)
        ));
    }

    #[test]
    fn a_phrase_of_spaces_is_refused_by_its_number() {
        let error = Phrases::new(["undo", " \u{a0} "]).unwrap_err();
        assert!(matches!(error, EarError::EmptyPhrase { number: 2 }));
    }

    #[test]
    fn characters_that_would_break_the_grammar_are_refused_by_name() {
        for (phrase, wanted) in [
            ("say \"oats\"", '"'),
            ("back\\slash", '\\'),
            ("line\nbreak", '\n'),
            ("nul\0", '\0'),
            ("delete\u{7f}", '\u{7f}'),
        ] {
            match Phrases::new(["undo", phrase]).unwrap_err() {
                EarError::BadPhrase {
                    phrase: named,
                    character,
                } => {
                    assert_eq!((named.as_str(), character), (phrase, wanted));
                }
                other => panic!("{phrase:?} gave {other}"),
            }
        }
    }
}
