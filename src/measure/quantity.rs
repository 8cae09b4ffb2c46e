//! Quantities: how much of a thing, as people say it, exact inside.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::number::Amount;
use super::unit::{Pack, Unit};

/// How much of a thing.
///
/// ```
/// use tellshelf::measure::{Quantity, read_quantity};
/// let bags = read_quantity(&["two", "bags"]).unwrap();
/// assert_eq!(bags.to_string(), "2 bag");
/// assert_eq!(bags.spoken(), "2 bags");
/// let salmon = read_quantity(&["two", "pounds", "four", "ounces"]).unwrap();
/// assert_eq!(salmon.to_string(), "9/4 pound");
/// assert_eq!(salmon.spoken(), "2 pounds 4 ounces");
/// ```
///
/// Its text form ([`fmt::Display`], [`FromStr`]) is exact, and is what the stock keeps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub enum Quantity {
    /// "three", "two bags".
    Count {
        /// How many; may be a part ("half a carton").
        count: Amount,
        /// What they come in, if it was said.
        pack: Option<Pack>,
    },
    /// "two pounds four ounces".
    Measure {
        /// How much, in `unit`.
        amount: Amount,
        /// The unit.
        unit: Unit,
    },
    /// "three 14 ounce cans".
    Packs {
        /// How many packs.
        count: Amount,
        /// How much is in one, in `unit`.
        amount: Amount,
        /// The unit of `amount`.
        unit: Unit,
        /// What they come in.
        pack: Pack,
    },
}

/// Two quantities that can't be compared, such as cups and pounds.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{have} and {other} can't be compared")]
pub struct Mismatch {
    /// What there is.
    pub have: String,
    /// What it was compared with.
    pub other: String,
}

impl Quantity {
    /// A bare count of things.
    pub fn of(count: i128) -> Self {
        Self::Count {
            count: Amount::from_integer(count),
            pack: None,
        }
    }

    /// Whether it is one, of whatever it is counted or measured in.
    pub fn is_one(&self) -> bool {
        self.main() == Amount::from_integer(1)
    }

    /// Whether nothing is left of it.
    pub fn is_zero(&self) -> bool {
        *self.main().numer() == 0
    }

    /// Whether both are in the same pack or unit, and packs of the same size: only the number differs.
    pub(crate) fn is_measured_as(&self, other: &Self) -> bool {
        self.with_main(other.main()) == *other
    }

    /// Whether it is more than nothing.
    pub fn is_positive(&self) -> bool {
        *self.main().numer() > 0
    }

    /// The number of a bare count, of what isn't said to come in packs.
    pub fn bare_count(&self) -> Option<Amount> {
        match self {
            Self::Count { count, pack: None } => Some(*count),
            _ => None,
        }
    }

    /// The pack that it is counted in, if it is.
    pub fn pack(&self) -> Option<Pack> {
        match self {
            Self::Count { pack, .. } => *pack,
            Self::Packs { pack, .. } => Some(*pack),
            Self::Measure { .. } => None,
        }
    }

    /// Whether the thing is counted, in packs or one by one, rather than measured.
    pub fn is_counted(&self) -> bool {
        !matches!(self, Self::Measure { .. })
    }

    fn main(&self) -> Amount {
        match self {
            Self::Count { count, .. } | Self::Packs { count, .. } => *count,
            Self::Measure { amount, .. } => *amount,
        }
    }

    /// The number that names how many or how much, in this quantity's own pack or unit.
    fn with_main(&self, value: Amount) -> Self {
        let mut changed = self.clone();
        match &mut changed {
            Self::Count { count, .. } | Self::Packs { count, .. } => *count = value,
            Self::Measure { amount, .. } => *amount = value,
        }
        changed
    }

    /// `other` as a number of this quantity's own packs or units.
    ///
    /// A bare count fits packs that are the thing itself ("use two" of four cans), and a pack fits a pack of the same
    /// kind whatever its size. A measure fits packs whose size is known.
    ///
    /// # Errors
    /// [`Mismatch`] where that would need a guess: cups of a thing kept in bags, or two eggs of a carton.
    fn express(&self, other: &Self) -> Result<Amount, Mismatch> {
        let mismatch = || Mismatch {
            have: self.spoken(),
            other: other.spoken(),
        };
        let convert = |from: Unit, to: Unit, amount: Amount| {
            (from.dimension() == to.dimension()).then(|| amount * from.in_base() / to.in_base())
        };
        match (self, other) {
            (
                Self::Count { pack: mine, .. },
                Self::Count {
                    count,
                    pack: theirs,
                },
            ) if mine == theirs || is_bare_fit(*mine, *theirs) => Some(*count),
            (
                Self::Count { pack: mine, .. },
                Self::Packs {
                    count,
                    pack: theirs,
                    ..
                },
            ) if *mine == Some(*theirs) || is_bare_fit(*mine, Some(*theirs)) => Some(*count),
            (Self::Measure { unit: mine, .. }, Self::Measure { amount, unit }) => {
                convert(*unit, *mine, *amount)
            }
            (
                Self::Packs { pack: mine, .. },
                Self::Count {
                    count,
                    pack: theirs,
                },
            ) if *theirs == Some(*mine) || is_bare_fit(Some(*mine), *theirs) => Some(*count),
            (
                Self::Packs {
                    amount: size,
                    unit: mine,
                    ..
                },
                Self::Measure { amount, unit },
            ) if *size.numer() > 0 => convert(*unit, *mine, *amount).map(|a| a / size),
            (
                Self::Packs {
                    pack: mine,
                    amount: size,
                    unit: mine_unit,
                    ..
                },
                Self::Packs {
                    count,
                    amount,
                    unit,
                    pack,
                },
            ) if mine == pack && convert(*unit, *mine_unit, *amount) == Some(*size) => Some(*count),
            _ => None,
        }
        .ok_or_else(mismatch)
    }

    /// What is left when `used` is taken away: `None` where there isn't that much.
    ///
    /// # Errors
    /// [`Mismatch`] where the two can't be compared.
    ///
    /// ```
    /// use tellshelf::measure::read_quantity;
    /// let pound = read_quantity(&["one", "pound"]).unwrap();
    /// let some = read_quantity(&["four", "ounces"]).unwrap();
    /// assert_eq!(pound.minus(&some).unwrap().unwrap().spoken(), "12 ounces");
    /// assert!(some.minus(&pound).unwrap().is_none());
    /// ```
    pub fn minus(&self, used: &Self) -> Result<Option<Self>, Mismatch> {
        let left = self.main() - self.express(used)?;
        Ok((*left.numer() >= 0).then(|| self.with_main(left)))
    }

    /// The two together.
    ///
    /// # Errors
    /// [`Mismatch`] where the two can't be added.
    pub fn plus(&self, more: &Self) -> Result<Self, Mismatch> {
        Ok(self.with_main(self.main() + self.express(more)?))
    }

    /// Whether it counts what lies in a pack, and no packs: "12", "6 slices".
    pub(crate) fn is_loose(&self) -> bool {
        let loose = [
            None,
            Some(Pack::Slice),
            Some(Pack::Piece),
            Some(Pack::Tablet),
        ];
        matches!(self, Self::Count { pack, .. } if loose.contains(pack))
    }

    /// What is left of the pack that is begun, beside whole ones: half a carton of two and a half.
    pub(crate) fn begun(&self) -> Option<Self> {
        let begun = self.main().fract();
        (*begun.numer() != 0).then(|| self.with_main(begun))
    }

    /// One of them: one pack of so many, or one pound of several.
    #[must_use]
    pub(crate) fn with_count_of_one(&self) -> Self {
        self.with_main(Amount::from_integer(1))
    }

    /// The same so many times, or a part of it.
    ///
    /// ```
    /// use tellshelf::measure::{Amount, read_quantity};
    /// let pound = read_quantity(&["one", "pound"]).unwrap();
    /// assert_eq!(pound.times(Amount::new(1, 4)).spoken(), "4 ounces");
    /// ```
    #[must_use]
    pub fn times(&self, factor: Amount) -> Self {
        self.with_main(self.main() * factor)
    }

    /// Whether it has ounces of which it isn't said whether they are of weight or fluid. See
    /// [`Quantity::in_fluid_ounces`].
    pub fn has_bare_ounces(&self) -> bool {
        self.unit() == Some(Unit::Ounce)
    }

    /// The same with its ounces as fluid ounces: of what is poured, "twelve ounces" are of volume.
    ///
    /// Source: 21 CFR 101.7(a): labels give fluid measure if the food is liquid, and weight if it is solid,
    /// semisolid or viscous.
    ///
    /// ```
    /// use tellshelf::measure::read_quantity;
    /// let bottles = read_quantity(&["two", "twelve", "ounce", "bottles"]).unwrap();
    /// assert_eq!(bottles.in_fluid_ounces().spoken(), "2 12 fluid ounce bottles");
    /// ```
    #[must_use]
    pub fn in_fluid_ounces(&self) -> Self {
        let mut changed = self.clone();
        if let Self::Measure { unit, .. } | Self::Packs { unit, .. } = &mut changed
            && *unit == Unit::Ounce
        {
            *unit = Unit::FluidOunce;
        }
        changed
    }

    fn unit(&self) -> Option<Unit> {
        match self {
            Self::Count { .. } => None,
            Self::Measure { unit, .. } | Self::Packs { unit, .. } => Some(*unit),
        }
    }

    /// Count, amount and unit as separate facts, for machine-readable output.
    pub fn parts(&self) -> (Option<Amount>, Option<Amount>, Option<&'static str>) {
        match self {
            Self::Count { count, pack } => (Some(*count), None, pack.map(Pack::one)),
            Self::Measure { amount, unit } => (None, Some(*amount), Some(unit.one())),
            Self::Packs {
                count,
                amount,
                unit,
                ..
            } => (Some(*count), Some(*amount), Some(unit.one())),
        }
    }
}

/// Whether one of two counts is bare, and the other in packs of which nobody doubts that they are what is counted.
fn is_bare_fit(mine: Option<Pack>, theirs: Option<Pack>) -> bool {
    match (mine, theirs) {
        (None, Some(pack)) | (Some(pack), None) => !pack.holds_several(),
        _ => false,
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Count { count, pack: None } => write!(f, "{count}"),
            Self::Count {
                count,
                pack: Some(pack),
            } => write!(f, "{count} {}", pack.one()),
            Self::Measure { amount, unit } => write!(f, "{amount} {}", unit.one()),
            Self::Packs {
                count,
                amount,
                unit,
                pack,
            } => {
                write!(f, "{count} x {amount} {} {}", unit.one(), pack.one())
            }
        }
    }
}

/// A text that isn't the exact text form of a [`Quantity`].
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” isn't a quantity")]
pub struct NotAQuantity(String);

impl FromStr for Quantity {
    type Err = NotAQuantity;

    fn from_str(text: &str) -> Result<Self, NotAQuantity> {
        let words: Vec<&str> = text.split(' ').collect();
        let parsed = || {
            // No quantity is less than nothing; and turning the sign of the lowest number of all would run over.
            // A whole number needn't be brought to its lowest terms.
            let number = |w: &str| match w.contains('-') {
                true => None,
                false => match w.parse() {
                    Ok(whole) => Some(Amount::from_integer(whole)),
                    Err(_) => w.parse::<Amount>().ok(),
                },
            };
            Some(match words.as_slice() {
                [count] => Self::Count {
                    count: number(count)?,
                    pack: None,
                },
                [count, "x", amount, unit @ .., pack] => Self::Packs {
                    count: number(count)?,
                    amount: number(amount)?,
                    unit: Unit::from_word(&unit.join(" "))?,
                    pack: Pack::from_word(pack)?,
                },
                [amount, unit @ ..] => {
                    let unit = unit.join(" ");
                    match Pack::from_word(&unit) {
                        Some(pack) => Self::Count {
                            count: number(amount)?,
                            pack: Some(pack),
                        },
                        None => Self::Measure {
                            amount: number(amount)?,
                            unit: Unit::from_word(&unit)?,
                        },
                    }
                }
                [] => return None,
            })
        };
        parsed().ok_or_else(|| NotAQuantity(text.to_owned()))
    }
}

impl From<Quantity> for String {
    fn from(quantity: Quantity) -> Self {
        quantity.to_string()
    }
}

impl TryFrom<String> for Quantity {
    type Error = NotAQuantity;

    fn try_from(text: String) -> Result<Self, NotAQuantity> {
        text.parse()
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_quantity;
    use super::*;

    fn read(text: &str) -> Quantity {
        read_quantity(&text.split(' ').collect::<Vec<_>>()).unwrap_or_else(|| panic!("{text}"))
    }

    #[test]
    fn the_written_form_comes_back() {
        for said in [
            "two bags",
            "three",
            "half a cup",
            "two pounds four ounces",
            "three fourteen ounce cans",
            "eight fluid ounces",
            "a third of a cup",
            "one and a half gallons",
            "two eight fluid ounce jars",
        ] {
            let quantity = read(said);
            assert_eq!(quantity.to_string().parse(), Ok(quantity), "{said}");
        }
    }

    #[test]
    fn a_gram_amount_taken_from_a_pound_is_exact() {
        let left = read("one pound")
            .minus(&read("three hundred grams"))
            .unwrap()
            .unwrap();
        let grams = Quantity::Measure {
            amount: Amount::from_integer(0),
            unit: Unit::Gram,
        };
        let expected = Quantity::Measure {
            amount: Amount::new(15_359_237, 100_000),
            unit: Unit::Gram,
        };
        assert_eq!(grams.plus(&left), Ok(expected));
    }

    #[test]
    fn cups_are_never_taken_from_pounds() {
        assert!(read("one pound").minus(&read("one cup")).is_err());
        assert!(read("two bags").minus(&read("one can")).is_err());
    }

    #[test]
    fn a_bare_count_is_never_taken_from_what_holds_several() {
        for (packs, bare) in [
            ("a carton", "two"),
            ("three bags", "one"),
            ("a twelve ounce box", "one"),
        ] {
            assert!(read(packs).minus(&read(bare)).is_err(), "{packs}");
            assert!(read(bare).plus(&read(packs)).is_err(), "{packs}");
        }
    }

    #[test]
    fn a_bare_count_fits_a_pack_that_is_the_thing() {
        assert_eq!(
            read("four cans")
                .minus(&read("one"))
                .unwrap()
                .unwrap()
                .spoken(),
            "3 cans"
        );
        assert_eq!(
            read("three fourteen ounce cans")
                .minus(&read("one can"))
                .unwrap()
                .unwrap()
                .spoken(),
            "2 14 ounce cans"
        );
    }

    #[test]
    fn quantities_sound_right() {
        for (said, sounds) in [
            ("one bag", "1 bag"),
            ("half a carton", "half a carton"),
            ("two and a half pounds", "two and a half pounds"),
            ("a quarter of a cup", "a quarter of a cup"),
            ("half an ounce", "half an ounce"),
            ("half a pound", "8 ounces"),
            ("an eighth of a teaspoon", "an eighth of a teaspoon"),
            ("a can and a half", "one and a half cans"),
            ("two cups and three quarters", "two and three quarters cups"),
            ("one point two kilos", "1.2 kilograms"),
            ("one and a half cups", "one and a half cups"),
            ("one gallon", "1 gallon"),
            ("four ounces", "4 ounces"),
            ("twelve fluid oz", "12 fluid ounces"),
            ("twenty eight ounce cans", "20 8 ounce cans"),
            ("an eight ounce jar", "an 8 ounce jar"),
            ("a twenty eight ounce can", "a 28 ounce can"),
            ("two half gallon cartons", "2 half gallon cartons"),
        ] {
            assert_eq!(read(said).spoken(), sounds, "{said}");
        }
    }
}
