//! Names and numbers of things, as types: what is no name can't be kept as one.

use std::fmt;

use serde::{Deserialize, Serialize};

macro_rules! name_type {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(into = "String", try_from = "String")]
        pub struct $name(String);

        impl $name {
            /// Takes a name: anything that is more than white space.
            ///
            /// # Errors
            /// [`NotAName`] for an empty one.
            pub fn new(name: &str) -> Result<Self, NotAName> {
                if is_plain(name) {
                    return Ok(Self(name.to_owned()));
                }
                let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
                if name.is_empty() { Err(NotAName) } else { Ok(Self(name)) }
            }

            /// The name as text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl From<$name> for String {
            fn from(name: $name) -> Self {
                name.0
            }
        }

        impl TryFrom<String> for $name {
            type Error = NotAName;

            fn try_from(name: String) -> Result<Self, NotAName> {
                Self::new(&name)
            }
        }
    };
}

/// Whether a text is a name as it stands: words of plain letters with one space between them. Nearly all are that come from
/// the file, by the thousand for some answers.
fn is_plain(text: &str) -> bool {
    text.split(' ')
        .all(|word| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_graphic()))
}

name_type! {
    /// The name of an item, as it stands on the list: "oats", "dish soap".
    ///
    /// ```
    /// use tellshelf::stock::ItemName;
    /// assert_eq!(ItemName::new(" dish  soap ").unwrap().as_str(), "dish soap");
    /// assert!(ItemName::new(" ").is_err());
    /// ```
    ItemName
}

name_type! {
    /// A place in the home: "pantry", "fridge door".
    ///
    /// ```
    /// use tellshelf::stock::Place;
    /// assert_eq!(Place::new("pantry").unwrap().as_str(), "pantry");
    /// ```
    Place
}

name_type! {
    /// A section of the store, in whose order the list is read: "dairy".
    ///
    /// ```
    /// use tellshelf::stock::Section;
    /// assert_eq!(Section::new("dairy").unwrap().as_str(), "dairy");
    /// ```
    Section
}

name_type! {
    /// What labels declare: "peanuts". Which there are differs from country to country, so any word is taken.
    ///
    /// ```
    /// use tellshelf::stock::Allergen;
    /// assert_eq!(Allergen::new("tree nuts").unwrap().as_str(), "tree nuts");
    /// ```
    Allergen
}

name_type! {
    /// The person's own words, as they were heard: directions, a note for a helper.
    ///
    /// ```
    /// use tellshelf::stock::OwnWords;
    /// assert_eq!(OwnWords::new("boil  ten minutes").unwrap().as_str(), "boil ten minutes");
    /// ```
    OwnWords
}

name_type! {
    /// What a scanner reads, as it types it: the serial of a tag, or the digits under a barcode.
    ///
    /// ```
    /// use tellshelf::stock::Code;
    /// assert_eq!(Code::new("04A2B1C2").unwrap().as_str(), "04A2B1C2");
    /// ```
    Code
}

impl Place {
    /// Whether it is a freezer, by its name: what is in there is frozen.
    ///
    /// ```
    /// use tellshelf::stock::Place;
    /// assert!(Place::new("basement freezer").unwrap().is_freezer());
    /// ```
    pub fn is_freezer(&self) -> bool {
        self.as_str().split(' ').any(|word| word == "freezer")
    }
}

/// A name of nothing but white space.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a name can't be empty")]
pub struct NotAName;

/// The number of a tag, from 1. All tags are numbered together, so that a number names one thing only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct TagNumber(pub u32);

impl fmt::Display for TagNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_space_of_any_kind_counts_once_and_only_between_words() {
        let name = |text: &str| ItemName::new(text).map(String::from);
        for text in [
            "dish soap",
            " dish  soap",
            "dish soap ",
            "dish\tsoap",
            "dish\u{a0}soap\n",
        ] {
            assert_eq!(name(text), Ok("dish soap".to_owned()), "{text:?}");
        }
        assert_eq!(name("crème  fraîche"), Ok("crème fraîche".to_owned()));
        for text in ["", " ", "\u{a0}\t"] {
            assert_eq!(name(text), Err(NotAName), "{text:?}");
        }
    }
}
