//! What a date means: the words on labels, and of a kitchen.

use std::fmt;
use std::str::FromStr;

/// What a date on a thing means. The kinds are never merged: a sell-by date isn't a use-by date.
/// Source for the label's words: FSIS, "Food Product Dating".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum DateKind {
    /// Last date recommended for use.
    UseBy,
    /// Best quality until then.
    BestBy,
    /// How long the store should show it.
    SellBy,
    /// When to freeze it for best quality.
    FreezeBy,
    /// When it was packed.
    Packed,
    /// When the pack was opened.
    Opened,
    /// When it was frozen.
    Frozen,
    /// When it was thawed.
    Thawed,
    /// When it was bought.
    Bought,
}

impl DateKind {
    /// Every kind.
    pub const ALL: [Self; 9] = [
        Self::UseBy,
        Self::BestBy,
        Self::SellBy,
        Self::FreezeBy,
        Self::Packed,
        Self::Opened,
        Self::Frozen,
        Self::Thawed,
        Self::Bought,
    ];

    /// The words for it, spoken and written.
    pub fn name(self) -> &'static str {
        match self {
            Self::UseBy => "use by",
            Self::BestBy => "best by",
            Self::SellBy => "sell by",
            Self::FreezeBy => "freeze by",
            Self::Packed => "packed",
            Self::Opened => "opened",
            Self::Frozen => "frozen",
            Self::Thawed => "thawed",
            Self::Bought => "bought",
        }
    }

    /// Whether it lies ahead when it is written down. The others lie in the past.
    pub fn looks_ahead(self) -> bool {
        matches!(
            self,
            Self::UseBy | Self::BestBy | Self::SellBy | Self::FreezeBy
        )
    }
}

impl fmt::Display for DateKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A text that names no [`DateKind`].
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” isn't a kind of date")]
pub struct NotADateKind(String);

impl FromStr for DateKind {
    type Err = NotADateKind;

    fn from_str(text: &str) -> Result<Self, NotADateKind> {
        let known = Self::ALL.into_iter().find(|kind| kind.name() == text);
        known.ok_or_else(|| NotADateKind(text.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_keep_their_names() {
        for kind in DateKind::ALL {
            assert_eq!(kind.name().parse(), Ok(kind));
        }
    }
}
