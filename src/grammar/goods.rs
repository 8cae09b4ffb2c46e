//! The starter list: names of goods that a kitchen may hold, before it has told us its own.

use serde::Deserialize;
use std::collections::BTreeMap;

use super::lexicon::Lexicon;

/// The starter list for English.
const ENGLISH: &str = include_str!("../../grammars/goods.en.yaml");

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct GoodsFile {
    poured: Vec<Vec<String>>,
    by_weight: Vec<Vec<String>>,
    goods: BTreeMap<String, Vec<Good>>,
}

/// One thing: its name as it stands on a list, alone or with its other names behind it.
#[derive(Deserialize)]
#[serde(untagged)]
enum Good {
    Name(String),
    Names(Vec<String>),
}

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
        let file: GoodsFile =
            serde_yaml::from_str(ENGLISH).expect("the starter list is fixed and tested");
        for (endings, poured) in [(&file.poured, true), (&file.by_weight, false)] {
            let endings = endings.iter().flatten();
            endings.for_each(|ending| names.add_pouring(ending, poured));
        }
        for good in file.goods.values().flatten() {
            match good {
                Good::Name(name) => names.add(name, name),
                Good::Names(all) => {
                    if let Some(first) = all.first() {
                        all.iter().for_each(|name| names.add(first, name));
                    }
                }
            }
        }
        names
    }
}
