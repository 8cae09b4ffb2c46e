//! The order of the store: what keeps dry first, what is chilled late, what is frozen last.
//!
//! Source of that: FSIS's advice to pick up refrigerated and frozen food last, so that it stays cold. The order within is
//! common practice.

use super::names::Section;

/// Sections from the first to the last to go to.
const ORDER: [&str; 21] = [
    "cleaning",
    "paper goods",
    "pet",
    "pharmacy",
    "household",
    "canned goods",
    "dry goods",
    "baking",
    "spices",
    "cereal",
    "snacks",
    "drinks",
    "baby",
    "bakery",
    "produce",
    "deli",
    "cheese",
    "dairy",
    "meat",
    "fish",
    "frozen",
];

/// Where on the way through the store a section comes; one that isn't known comes before what is chilled, and what has
/// none comes last, for the helper to find.
pub(super) fn rank(section: Option<&Section>) -> usize {
    let at = |name: &str| ORDER.iter().position(|known| *known == name);
    match section {
        Some(section) => at(section.as_str())
            .or_else(|| at("produce"))
            .unwrap_or_default(),
        None => ORDER.len(),
    }
}
