//! What is poured: of it, "ounces" are fluid ounces, of anything else they are of weight.

use std::collections::HashMap;

use super::lexicon::Lexicon;
use super::words::normal_words;

/// Endings of names, and whether what ends so is poured.
#[derive(Debug, Clone, Default)]
pub(super) struct Pouring(HashMap<String, bool>);

impl Lexicon {
    /// Adds an ending of names, and whether what ends so is poured.
    pub(super) fn add_pouring(&mut self, ending: &str, poured: bool) {
        let ending = normal_words(ending).join(" ");
        self.pouring.0.insert(ending, poured);
    }

    /// Whether a thing is poured, and so measured by volume, by the longest ending of its name that is known. `None`
    /// where nothing is known of it: then it is to be asked. To be asked of the starter list, since a
    /// name that was learned says nothing of what it stands for. Source: 21 CFR 101.7(a), by which labels give fluid
    /// measure if the food is liquid, and weight if it is solid, semisolid or viscous.
    ///
    /// ```
    /// use tellshelf::grammar::Lexicon;
    /// let names = Lexicon::starter("en-US");
    /// assert_eq!(names.is_poured("goat milk"), Some(true));
    /// assert_eq!(names.is_poured("condensed milk"), Some(false));
    /// assert_eq!(names.is_poured("smoked salmon"), Some(false));
    /// assert_eq!(names.is_poured("zhoug"), None);
    /// ```
    pub fn is_poured(&self, name: &str) -> Option<bool> {
        let words = normal_words(name);
        let endings = || (0..words.len()).map(|first| words[first..].join(" "));
        let by_ending = endings().find_map(|ending| self.pouring.0.get(&ending).copied());
        // The goods of the list that none of the endings fits are all sold by weight.
        by_ending.or_else(|| {
            let is_good = |ending: String| self.find(&ending).is_some();
            endings().any(is_good).then_some(false)
        })
    }
}
