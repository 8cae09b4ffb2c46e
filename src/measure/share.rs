//! A part of what there is: "half of it", "a third", "all but two".

use super::number::{Amount, read_number};
use super::quantity::{Mismatch, Quantity};
use super::quantity_read::read_quantity;

/// A part of what there is of a thing, which is a quantity only beside that.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Share {
    /// "Half of it": more than nothing, and less than all.
    Part(Amount),
    /// "All but two": what is left of it.
    AllBut(Quantity),
}

impl Share {
    /// How much that is of what there is. `None` where there isn't even as much as is to be left.
    ///
    /// # Errors
    /// [`Mismatch`] where what is to be left can't be compared with what there is.
    ///
    /// ```
    /// use tellshelf::measure::{read_quantity, read_share};
    /// let dozen = read_quantity(&["a", "dozen"]).unwrap();
    /// let all_but_two = read_share(&["all", "but", "two"]).unwrap();
    /// assert_eq!(all_but_two.of(&dozen).unwrap().unwrap().spoken(), "10");
    /// let half = read_share(&["half"]).unwrap();
    /// assert_eq!(half.of(&dozen).unwrap().unwrap().spoken(), "6");
    /// let bag = read_quantity(&["a", "bag"]).unwrap();
    /// assert!(read_share(&["all", "but", "a", "cup"]).unwrap().of(&bag).is_err());
    /// ```
    pub fn of(&self, have: &Quantity) -> Result<Option<Quantity>, Mismatch> {
        match self {
            Self::Part(part) => Ok(Some(have.times(*part))),
            Self::AllBut(left) => have.minus(left),
        }
    }

    /// As it should sound: "half", "all but 2".
    pub fn spoken(&self) -> String {
        match self {
            Self::Part(part) => super::say_amount(*part),
            Self::AllBut(left) => format!("all but {}", left.spoken()),
        }
    }
}

/// Reads a share said in words. All words must belong to it, and it must be a part: "all" of a thing is used up.
///
/// ```
/// use tellshelf::measure::{Amount, Share, read_share};
/// let read = |s: &str| read_share(&s.split(' ').collect::<Vec<_>>());
/// assert_eq!(read("three quarters"), Some(Share::Part(Amount::new(3, 4))));
/// assert_eq!(read("all but one can").map(|s| s.spoken()).as_deref(), Some("all but 1 can"));
/// assert_eq!(read("two"), None);
/// ```
pub fn read_share(words: &[&str]) -> Option<Share> {
    if let ["all", "but", left @ ..] = words {
        return read_quantity(left).map(Share::AllBut);
    }
    let (none, all) = (Amount::from_integer(0), Amount::from_integer(1));
    let part = read_number(words)?;
    (none < part && part < all).then_some(Share::Part(part))
}
