//! The order of the store, of the few sections that there are in these days.

use tellshelf::stock::{Comes, Section};

use super::{Model, Why};

/// These sections, as they come where the person said nothing else: what is kept cold last.
pub const USUAL: [&str; 4] = ["baking", "produce", "dairy", "frozen"];

impl Model {
    /// The sections, from the first to the last to go to.
    pub(super) fn store_order(&self) -> Vec<String> {
        let usual = || USUAL.map(str::to_owned).to_vec();
        self.store.clone().unwrap_or_else(usual)
    }

    pub(super) fn place_section(&mut self, section: &Section, comes: &Comes) -> Result<(), Why> {
        let others = self.store_order().into_iter();
        let others: Vec<String> = others.filter(|known| known != section.as_str()).collect();
        let at = |other: &Section| others.iter().position(|known| known == other.as_str());
        let before = match comes {
            Comes::First => 0,
            Comes::Last => others.len(),
            Comes::Before(other) => at(other).ok_or(Why::SameSection)?,
            Comes::After(other) => at(other).ok_or(Why::SameSection)? + 1,
        };
        let (first, last) = others.split_at(before);
        self.store = Some([first, &[section.to_string()], last].concat());
        Ok(())
    }
}
