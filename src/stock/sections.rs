//! The order of the store: what keeps dry first, what is chilled late, what is frozen last; or the person's own.
//!
//! Source of the first: FSIS's advice to pick up refrigerated and frozen food last, so that it stays cold. The order
//! within is common practice. The person knows their store, and what they say of it goes first.

use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};

use super::error::Refusal;
use super::ledger::Fault;
use super::lots::name_column;
use super::names::Section;
use super::outcome::Outcome;

/// Sections from the first to the last to go to, where the person said nothing else.
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

/// Those of them that are kept cold.
const COLD: [&str; 6] = ["deli", "cheese", "dairy", "meat", "fish", "frozen"];

/// Where on the way through the store a section comes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Comes {
    /// Before all others.
    First,
    /// After all others.
    Last,
    /// Just before another one.
    Before(Section),
    /// Just after another one.
    After(Section),
}

/// The order of the person's store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoreOrder {
    sections: Vec<Section>,
    is_own: bool,
}

impl StoreOrder {
    pub(super) fn of(connection: &Connection) -> rusqlite::Result<Self> {
        let mut query = connection.prepare_cached("SELECT section FROM store ORDER BY place")?;
        let sections = query.query_map([], |row| {
            let name: String = row.get(0)?;
            name_column(0, &name, Section::new)
        })?;
        let sections = sections.collect::<rusqlite::Result<Vec<_>>>()?;
        if !sections.is_empty() {
            let is_own = true;
            return Ok(Self { sections, is_own });
        }
        let usual = ORDER.iter().flat_map(|name| Section::new(name));
        Ok(Self {
            sections: usual.collect(),
            is_own: false,
        })
    }

    /// The sections, from the first to the last to go to.
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// Whether the person said so.
    pub fn is_own(&self) -> bool {
        self.is_own
    }

    /// Whether all that is kept cold comes behind all that isn't.
    pub fn is_cold_last(&self) -> bool {
        self.sections.is_sorted_by_key(is_cold)
    }

    /// Where a section comes; one that isn't known comes before what is kept cold, and what has none comes last, for the
    /// helper to find.
    pub(super) fn rank(&self, section: Option<&Section>) -> usize {
        let end = self.sections.len();
        match section {
            Some(section) => self.at(section).unwrap_or_else(|| self.first_cold()),
            None => end,
        }
    }

    fn at(&self, section: &Section) -> Option<usize> {
        self.sections.iter().position(|known| known == section)
    }

    fn first_cold(&self) -> usize {
        let end = self.sections.len();
        self.sections.iter().position(is_cold).unwrap_or(end)
    }

    /// Takes a section from where it is to where it comes.
    fn put(&mut self, section: &Section, comes: &Comes) {
        self.sections.retain(|known| known != section);
        let at = match comes {
            Comes::First => 0,
            Comes::Last => self.sections.len(),
            Comes::Before(other) => self.place_of(other),
            Comes::After(other) => self.place_of(other) + 1,
        };
        self.sections.insert(at, section.clone());
    }

    /// Where a section is; one that isn't known gets a place.
    fn place_of(&mut self, section: &Section) -> usize {
        self.at(section).unwrap_or_else(|| {
            let at = self.first_cold();
            self.sections.insert(at, section.clone());
            at
        })
    }
}

fn is_cold(section: &Section) -> bool {
    COLD.contains(&section.as_str())
}

/// A section comes somewhere else than it did so far.
pub(super) fn place(
    connection: &Connection,
    section: &Section,
    comes: &Comes,
) -> Result<Outcome, Fault> {
    if let Comes::Before(other) | Comes::After(other) = comes
        && other == section
    {
        let section = section.clone();
        return Err(Refusal::SameSection { section }.into());
    }
    let mut order = StoreOrder::of(connection)?;
    let was_cold_last = order.is_cold_last();
    order.put(section, comes);
    let note = "INSERT INTO store (section, place) VALUES (?1, ?2)
        ON CONFLICT (section) DO UPDATE SET place = excluded.place";
    for (place, section) in (0_i64..).zip(&order.sections) {
        connection.execute(note, params![section.as_str(), place])?;
    }
    Ok(Outcome::SectionPlaced {
        section: section.clone(),
        comes: comes.clone(),
        cold_is_early_now: was_cold_last && !order.is_cold_last(),
    })
}

/// The order is the usual one again.
pub(super) fn forget(connection: &Connection) -> Result<Outcome, Fault> {
    // With a condition: SQLite empties a table without looking at its rows, which would be missing in the changeset.
    let forget = "DELETE FROM store WHERE section IS NOT NULL";
    match connection.execute(forget, [])? {
        0 => Err(Refusal::NoOwnOrder.into()),
        _ => Ok(Outcome::StoreForgotten),
    }
}
