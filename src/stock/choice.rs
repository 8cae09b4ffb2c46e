//! Which of an item's lots are meant.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::error::Refusal;
use super::lots::Lot;
use super::names::{ItemName, Place};

/// What tells the lots that are meant from the others of an item: "from the garage", "the opened milk". Where nothing was
/// said, all are.
///
/// ```
/// use tellshelf::stock::Choice;
/// let any = Choice::default();
/// assert!(any.is_any());
/// assert_eq!(serde_json::to_string(&any).unwrap(), "{}");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Choice {
    /// Only what is there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// Only what was opened.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub opened: bool,
    /// Only what had passed its day by this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passed_by: Option<NaiveDate>,
}

impl Choice {
    /// What was opened.
    pub fn opened() -> Self {
        Self {
            opened: true,
            ..Self::default()
        }
    }

    /// What is in a place.
    pub fn from(place: Place) -> Self {
        Self {
            place: Some(place),
            ..Self::default()
        }
    }

    /// What has passed its day.
    pub fn passed(today: NaiveDate) -> Self {
        Self {
            passed_by: Some(today),
            ..Self::default()
        }
    }

    /// Whether nothing was said that tells lots apart.
    pub fn is_any(&self) -> bool {
        *self == Self::default()
    }

    /// Whether a lot is meant.
    pub fn fits(&self, lot: &Lot) -> bool {
        let is_there = self.place.is_none() || self.place == lot.place;
        let has_passed = self.passed_by.is_none_or(|day| lot.passed(day).is_some());
        is_there && has_passed && (!self.opened || lot.is_opened())
    }

    /// Those that are meant: one at least, unless any are.
    pub(super) fn of(&self, item: &ItemName, mut lots: Vec<Lot>) -> Result<Vec<Lot>, Refusal> {
        if self.is_any() {
            return Ok(lots);
        }
        lots.retain(|lot| self.fits(lot));
        if lots.is_empty() {
            let (item, of) = (item.clone(), self.clone());
            return Err(Refusal::NoneSuch { item, of });
        }
        Ok(lots)
    }
}
