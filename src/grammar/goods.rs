//! The names to begin with, from the starter list.

use super::lexicon::Lexicon;
use crate::guide::goods;

impl Lexicon {
    /// The names to begin with in a language: our starter list where there is one, else none.
    ///
    /// ```
    /// use tellshelf::grammar::Lexicon;
    /// let names = Lexicon::starter("en-US");
    /// assert_eq!(names.find("peanut butter"), Some("peanut butter"));
    /// assert_eq!(Lexicon::starter("ko-KR").find("peanut butter"), None);
    /// ```
    pub fn starter(language: &str) -> Self {
        let mut names = Self::default();
        if !language.to_ascii_lowercase().starts_with("en") {
            return names;
        }
        let list = goods();
        for (endings, poured) in [(&list.poured, true), (&list.by_weight, false)] {
            let endings = endings.iter().flatten();
            endings.for_each(|ending| names.add_pouring(ending, poured));
        }
        for good in list.goods.values().flatten() {
            let all = good.names();
            if let Some(first) = all.first() {
                all.iter().for_each(|name| names.add(first, name));
            }
        }
        names
    }
}
