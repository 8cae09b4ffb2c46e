//! The starter list: names of goods that a kitchen may hold, before it has told us its own, by their sections of a store.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// One thing: the name under which it is kept, and then its other names.
#[derive(Debug, Deserialize)]
#[serde(from = "Written")]
pub struct Good(Vec<String>);

impl Good {
    /// Its names, the one under which it is kept first.
    pub fn names(&self) -> &[String] {
        &self.0
    }
}

/// As it stands in the file: alone, or with its other names behind it.
#[derive(Deserialize)]
#[serde(untagged)]
enum Written {
    Name(String),
    Names(Vec<String>),
}

impl From<Written> for Good {
    fn from(written: Written) -> Self {
        match written {
            Written::Name(name) => Self(vec![name]),
            Written::Names(names) => Self(names),
        }
    }
}

/// The list.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Goods {
    /// The last words of the names of what is poured.
    pub poured: Vec<Vec<String>>,
    /// The same of what is weighed.
    pub by_weight: Vec<Vec<String>>,
    /// The things, by section.
    pub goods: BTreeMap<String, Vec<Good>>,
}

/// The starter list for English.
///
/// ```
/// use tellshelf::guide::goods;
/// let fish = &goods().goods["fish"];
/// assert!(fish.iter().any(|good| good.names() == ["cod"]));
/// ```
pub fn goods() -> &'static Goods {
    static ENGLISH: LazyLock<Goods> = LazyLock::new(|| {
        serde_yaml::from_str(include_str!("../../grammars/goods.en.yaml"))
            .expect("the starter list is fixed and tested")
    });
    &ENGLISH
}
