//! The tables of foods and their published times.

use std::collections::HashMap;
use std::fmt;
use std::sync::LazyLock;

use super::time::StorageTime;

/// How a food is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kept {
    /// In the pantry.
    Pantry,
    /// In the pantry, once opened.
    PantryOpened,
    /// At room temperature.
    Room,
    /// In the fridge, from the day it was bought.
    Fridge,
    /// In the fridge, once opened.
    FridgeOpened,
    /// In the fridge, once thawed there.
    FridgeThawed,
    /// In the freezer: of best quality for so long. Source: cold storage chart, "freezer times are for quality only".
    Freezer,
}

impl Kept {
    /// Every way of keeping, in the order in which they are told.
    pub const ALL: [Self; 7] = [
        Self::Pantry,
        Self::PantryOpened,
        Self::Room,
        Self::Fridge,
        Self::FridgeOpened,
        Self::FridgeThawed,
        Self::Freezer,
    ];

    /// The word for it in the table.
    pub fn name(self) -> &'static str {
        match self {
            Self::Pantry => "pantry",
            Self::PantryOpened => "pantry opened",
            Self::Room => "room",
            Self::Fridge => "fridge",
            Self::FridgeOpened => "fridge opened",
            Self::FridgeThawed => "fridge thawed",
            Self::Freezer => "freezer",
        }
    }

    /// As it is said of a thing: "in the fridge".
    pub fn place(self) -> &'static str {
        match self {
            Self::Pantry | Self::PantryOpened => "in the pantry",
            Self::Room => "at room temperature",
            Self::Fridge | Self::FridgeOpened | Self::FridgeThawed => "in the fridge",
            Self::Freezer => "in the freezer",
        }
    }
}

/// Who published a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The FoodKeeper open data set of the USDA's FSIS, CC0.
    FoodKeeper,
    /// The cold storage chart of FoodSafety.gov and FSIS.
    ColdStorageChart,
    /// Older editions of that chart.
    OlderChart,
    /// What state extension services give for thawing in the fridge, after FSIS.
    ThawingAdvice,
}

impl Source {
    const ALL: [Self; 4] = [
        Self::FoodKeeper,
        Self::ColdStorageChart,
        Self::OlderChart,
        Self::ThawingAdvice,
    ];
}

impl fmt::Display for Source {
    /// Its name, in the table and spoken.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::FoodKeeper => "FoodKeeper",
            Self::ColdStorageChart => "cold storage chart",
            Self::OlderChart => "older storage chart",
            Self::ThawingAdvice => "extension service",
        })
    }
}

/// One published time of a food.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Published {
    /// How it is kept.
    pub kept: Kept,
    /// How long.
    pub time: StorageTime,
    /// Who says so.
    pub source: Source,
}

/// A food of the table.
#[derive(Debug, PartialEq, Eq)]
pub struct Food {
    name: &'static str,
    published: Vec<Published>,
    is_discarded_past_use_by: bool,
}

impl Food {
    /// What the table calls it.
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// The time for a way of keeping it: where tables differ, the stricter.
    ///
    /// ```
    /// use tellshelf::guide::{Kept, Source, find};
    /// let rice = find("cooked rice").unwrap().time(Kept::Fridge).unwrap();
    /// assert_eq!((rice.time.to_string().as_str(), rice.source), ("3 to 4 days", Source::ColdStorageChart));
    /// ```
    pub fn time(&self, kept: Kept) -> Option<Published> {
        let times = self.published().filter(|known| known.kept == kept);
        // Of equal ones, the first in the table.
        times.min_by_key(|known| known.time.strictness())
    }

    /// All that is published of it, in the order of the table.
    pub fn published(&self) -> impl Iterator<Item = Published> + '_ {
        self.published.iter().copied()
    }

    /// Whether it is to be discarded once its use-by date has passed, whatever it is like. Sources: 21 CFR 107.20(c) and
    /// FSIS, "Food Product Dating", of infant formula; FoodKeeper of baby food.
    ///
    /// ```
    /// assert!(tellshelf::guide::find("infant formula").unwrap().is_discarded_past_use_by());
    /// assert!(!tellshelf::guide::find("milk").unwrap().is_discarded_past_use_by());
    /// ```
    pub fn is_discarded_past_use_by(&self) -> bool {
        self.is_discarded_past_use_by
    }
}

/// The food that goes by a name. The whole name must be one of the table's: "peanut butter" isn't butter, and of "coconut
/// milk" nothing is known. Capitals and hyphens don't matter.
///
/// ```
/// use tellshelf::guide::find;
/// assert_eq!(find("Mayo").unwrap().name(), "mayonnaise");
/// assert_eq!(find("cream cheese").unwrap().name(), "cream cheese");
/// assert_eq!(find("coconut milk"), None);
/// ```
pub fn find(name: &str) -> Option<&'static Food> {
    let name = normal(name);
    let whole = |name: &str| TABLE.foods.get(*TABLE.names.get(name)?);
    if let Some(food) = whole(&name) {
        return Some(food);
    }
    if is_leftover(&name) {
        return whole("leftovers");
    }
    // Raw or frozen meat and fish are just what their rows speak of; of what else is raw or frozen, other times hold.
    let plain = RAW.iter().find_map(|raw| name.strip_prefix(raw));
    whole(plain?).filter(|food| food.time(Kept::FridgeThawed).is_some())
}

/// The food in a can: "tomatoes", of which there is a can, are canned tomatoes.
///
/// ```
/// use tellshelf::guide::{find, find_in_can};
/// assert_eq!(find_in_can("tomatoes"), find("canned tomatoes"));
/// assert_eq!(find_in_can("coffee"), None);
/// ```
pub fn find_in_can(name: &str) -> Option<&'static Food> {
    find(&format!("canned {}", normal(name))).or_else(|| find(name))
}

/// Whether a name is of what was left of a meal: "leftover curry". It has no label, whoever cooked it.
///
/// ```
/// use tellshelf::guide::is_leftover;
/// assert!(is_leftover("leftover chicken") && is_leftover("Leftovers"));
/// assert!(!is_leftover("chicken"));
/// ```
pub fn is_leftover(name: &str) -> bool {
    let name = normal(name);
    name.split(' ')
        .any(|word| matches!(word, "leftover" | "leftovers"))
}

/// In front of the names of meat and fish.
const RAW: [&str; 5] = ["raw ", "fresh ", "frozen ", "frozen raw ", "raw frozen "];

fn normal(name: &str) -> String {
    let words = name.split(|c: char| c == '-' || c.is_whitespace());
    let words: Vec<String> = words
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    words.join(" ")
}

struct Table {
    foods: Vec<Food>,
    names: HashMap<String, usize>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    Table::read(include_str!("foods.tsv"), include_str!("storage.tsv"))
        .expect("the built-in tables are fixed and tested")
});

impl Table {
    /// # Errors
    /// The line that can't be read.
    fn read(foods: &'static str, storage: &'static str) -> Result<Self, &'static str> {
        let mut table = Self {
            foods: Vec::new(),
            names: HashMap::new(),
        };
        for line in lines(foods) {
            table.read_food(line).ok_or(line)?;
        }
        for line in lines(storage) {
            table.read_time(line).ok_or(line)?;
        }
        Ok(table)
    }

    fn read_food(&mut self, line: &'static str) -> Option<()> {
        let mut columns = line.split('\t');
        let (name, others) = (columns.next()?, columns.next()?);
        let is_discarded_past_use_by = match columns.next()? {
            "" => false,
            "discard" => true,
            _ => return None,
        };
        let others = others.split(", ").filter(|name| !name.is_empty());
        for name in [name].into_iter().chain(others) {
            // One name for two foods would be a guess.
            if self.names.insert(normal(name), self.foods.len()).is_some() {
                return None;
            }
        }
        self.foods.push(Food {
            name,
            published: Vec::new(),
            is_discarded_past_use_by,
        });
        Some(())
    }

    fn read_time(&mut self, line: &'static str) -> Option<()> {
        let columns: Vec<&str> = line.split('\t').collect();
        let [food, kept, time, source] = columns[..] else {
            return None;
        };
        let food = self.foods.iter_mut().find(|known| known.name == food)?;
        food.published.push(Published {
            kept: Kept::ALL.into_iter().find(|known| known.name() == kept)?,
            time: time.parse().ok()?,
            source: Source::ALL
                .into_iter()
                .find(|known| known.to_string() == source)?,
        });
        Some(())
    }
}

/// Lines that aren't empty and no comments.
fn lines(text: &'static str) -> impl Iterator<Item = &'static str> {
    text.lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_that_cant_be_read_is_named() {
        let milk = "milk\t\t";
        for (foods, storage, wrong) in [
            ("milk", "", "milk"),
            ("milk\twhole milk\tperhaps", "", "milk\twhole milk\tperhaps"),
            ("milk\tmilk\t", "", "milk\tmilk\t"),
            (
                milk,
                "cream\tfridge\t1 Week\tFoodKeeper",
                "cream\tfridge\t1 Week\tFoodKeeper",
            ),
            (
                milk,
                "milk\tcellar\t1 Week\tFoodKeeper",
                "milk\tcellar\t1 Week\tFoodKeeper",
            ),
            (
                milk,
                "milk\tfridge\tlong\tFoodKeeper",
                "milk\tfridge\tlong\tFoodKeeper",
            ),
            (
                milk,
                "milk\tfridge\t1 Week\thearsay",
                "milk\tfridge\t1 Week\thearsay",
            ),
            (milk, "milk\tfridge\t1 Week", "milk\tfridge\t1 Week"),
        ] {
            assert_eq!(Table::read(foods, storage).err(), Some(wrong));
        }
    }

    #[test]
    fn every_food_has_a_time() {
        let without = TABLE.foods.iter().filter(|food| food.published.is_empty());
        assert_eq!(
            without.map(Food::name).collect::<Vec<_>>(),
            Vec::<&str>::new()
        );
    }
}
