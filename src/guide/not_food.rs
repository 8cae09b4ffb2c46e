//! What of the goods that any kitchen may hold isn't to be eaten, by its section of the starter list.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::goods::{Good, goods};

/// What a thing is that isn't food.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotFood {
    /// A medicine.
    Medicine,
    /// Anything else in the house.
    Household,
}

/// What a name stands for that nobody said anything else of; `None` where it is food, or isn't on the list.
///
/// ```
/// use tellshelf::guide::{NotFood, not_food};
/// assert_eq!(not_food("aspirin"), Some(NotFood::Medicine));
/// assert_eq!(not_food("bleach"), Some(NotFood::Household));
/// assert_eq!(not_food("milk"), None);
/// ```
pub fn not_food(name: &str) -> Option<NotFood> {
    NAMES.get(name).copied()
}

/// All such names of one sort, as they are kept.
pub fn things_not_food(of: NotFood) -> impl Iterator<Item = &'static str> {
    let named = NAMES.iter().filter(move |(_, is)| **is == of);
    named.map(|(name, _)| *name)
}

/// The sections of the list with what isn't eaten. What is to be bought for babies and animals may be food.
const SECTIONS: [(&str, NotFood); 4] = [
    ("medicine", NotFood::Medicine),
    ("cleaning", NotFood::Household),
    ("paper", NotFood::Household),
    ("bath", NotFood::Household),
];

/// In those sections, what may be eaten, and what is in the house with medicines and isn't taken.
const OTHERS: [(&str, Option<NotFood>); 15] = [
    ("starch", None),
    ("baking cups", None),
    ("adhesive bandages", Some(NotFood::Household)),
    ("adhesive tape", Some(NotFood::Household)),
    ("antiseptic wipes", Some(NotFood::Household)),
    ("contact lens solution", Some(NotFood::Household)),
    ("elastic bandages", Some(NotFood::Household)),
    ("electrolyte drink", None),
    ("rehydration drink", None),
    ("gauze pads", Some(NotFood::Household)),
    ("hearing aid batteries", Some(NotFood::Household)),
    ("hot water bottle", Some(NotFood::Household)),
    ("ice packs", Some(NotFood::Household)),
    ("lancets", Some(NotFood::Household)),
    ("thermometer", Some(NotFood::Household)),
];

static NAMES: LazyLock<HashMap<&'static str, NotFood>> = LazyLock::new(|| {
    let mut names = HashMap::new();
    for (section, is) in SECTIONS {
        let things = goods().goods.get(section).into_iter().flatten();
        for name in things.flat_map(Good::names) {
            let other = OTHERS.iter().find(|(other, _)| other == name);
            if let Some(is) = other.map_or(Some(is), |(_, is)| *is) {
                names.insert(name.as_str(), is);
            }
        }
    }
    names
});
