//! Quantities: how much of a thing, as people say it, exact inside.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::number::{Amount, read_number, say_amount};
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

    /// Whether nothing is left of it.
    pub fn is_zero(&self) -> bool {
        *self.main().numer() == 0
    }

    /// Whether it is more than nothing.
    pub fn is_positive(&self) -> bool {
        *self.main().numer() > 0
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
    /// A bare count fits any pack ("use two" of four cans), and a pack fits a pack of the same
    /// kind whatever its size. A measure fits packs whose size is known.
    ///
    /// # Errors
    /// [`Mismatch`] where that would need a guess: cups of a thing kept in bags.
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
            ) if mine == theirs || mine.is_none() || theirs.is_none() => Some(*count),
            (
                Self::Count { pack: mine, .. },
                Self::Packs {
                    count,
                    pack: theirs,
                    ..
                },
            ) if mine.is_none_or(|m| m == *theirs) => Some(*count),
            (Self::Measure { unit: mine, .. }, Self::Measure { amount, unit }) => {
                convert(*unit, *mine, *amount)
            }
            (
                Self::Packs { pack: mine, .. },
                Self::Count {
                    count,
                    pack: theirs,
                },
            ) if theirs.is_none_or(|t| t == *mine) => Some(*count),
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

    /// As it should sound: "2 pounds 4 ounces", "3 14 ounce cans", "half a carton".
    pub fn spoken(&self) -> String {
        match self {
            Self::Count { count, pack: None } => say_amount(*count),
            Self::Count {
                count,
                pack: Some(pack),
            } => say_with(*count, pack.one(), pack.many()),
            Self::Measure { amount, unit } => say_measure(*amount, *unit),
            Self::Packs {
                count,
                amount,
                unit,
                pack,
            } => {
                let name = if *count == Amount::from_integer(1) {
                    pack.one()
                } else {
                    pack.many()
                };
                format!(
                    "{} {} {} {name}",
                    say_amount(*count),
                    say_amount(*amount),
                    unit.one()
                )
            }
        }
    }

    /// The same with "of" where a name follows: "2 bags of", but "3" alone.
    ///
    /// ```
    /// use tellshelf::measure::read_quantity;
    /// assert_eq!(read_quantity(&["two", "bags"]).unwrap().spoken_of("lentils"), "2 bags of lentils");
    /// assert_eq!(read_quantity(&["three"]).unwrap().spoken_of("apples"), "3 apples");
    /// ```
    pub fn spoken_of(&self, name: &str) -> String {
        match self {
            Self::Count { pack: None, .. } => format!("{} {name}", self.spoken()),
            _ => format!("{} of {name}", self.spoken()),
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

/// Whole ounces are said as ounces beside the pounds, since that is how labels and hands know them.
fn say_measure(amount: Amount, unit: Unit) -> String {
    let ounces = amount * Amount::from_integer(16);
    if unit == Unit::Pound && !amount.is_integer() && ounces.is_integer() {
        let (pounds, ounces) = (
            amount.trunc(),
            ounces - amount.trunc() * Amount::from_integer(16),
        );
        let ounces = say_with(ounces, "ounce", "ounces");
        if *pounds.numer() == 0 {
            return ounces;
        }
        return format!("{} {ounces}", say_with(pounds, "pound", "pounds"));
    }
    say_with(amount, unit.one(), unit.many())
}

fn say_with(amount: Amount, one: &str, many: &str) -> String {
    let said = say_amount(amount);
    let article = if one.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    };
    if amount == Amount::new(1, 2) {
        format!("{said} {article} {one}")
    } else if amount > Amount::from_integer(0)
        && amount < Amount::from_integer(1)
        && !said.contains('.')
    {
        format!("{said} of {article} {one}")
    } else if amount == Amount::from_integer(1) {
        format!("{said} {one}")
    } else {
        format!("{said} {many}")
    }
}

/// Reads a quantity said in words. All words must belong to it.
///
/// ```
/// use tellshelf::measure::read_quantity;
/// let read = |s: &str| read_quantity(&s.split(' ').collect::<Vec<_>>()).map(|q| q.to_string());
/// assert_eq!(read("half a carton").as_deref(), Some("1/2 carton"));
/// assert_eq!(read("a pound and a half").as_deref(), Some("3/2 pound"));
/// assert_eq!(read("three fourteen ounce cans").as_deref(), Some("3 x 14 ounce can"));
/// assert_eq!(read("twenty eight ounce can").as_deref(), Some("1 x 28 ounce can"));
/// assert_eq!(read("a dozen").as_deref(), Some("12"));
/// assert_eq!(read("half an").as_deref(), Some("1/2"));
/// assert_eq!(read("another").as_deref(), Some("1"));
/// assert_eq!(read("three more cans").as_deref(), Some("3 can"));
/// assert_eq!(read("two of"), None);
/// ```
pub fn read_quantity(words: &[&str]) -> Option<Quantity> {
    // "Three more cans" are three.
    let without_more: Vec<&str> = words.iter().copied().filter(|w| *w != "more").collect();
    let words = without_more.as_slice();
    if let Some(count) = leading_number(words) {
        return Some(Quantity::Count { count, pack: None });
    }
    // "a pound and a half"
    if let [head @ .., "and", "a", "half"] = words
        && let Some(Quantity::Measure { amount, unit }) = read_measure(head)
    {
        return Some(Quantity::Measure {
            amount: amount + Amount::new(1, 2),
            unit,
        });
    }
    if let [head @ .., last] = words
        && let Some(pack) = Pack::from_word(last)
    {
        return read_packed(head, last, pack);
    }
    read_measure(words)
}

/// "two", "half a", "three fourteen ounce", before "cans".
fn read_packed(head: &[&str], last: &str, pack: Pack) -> Option<Quantity> {
    if let Some(count) = leading_number(head) {
        return Some(Quantity::Count {
            count,
            pack: Some(pack),
        });
    }
    // The size of a pack: the shortest count that leaves a measure, "three | fourteen ounce". Before
    // "cans" there is a count if it can be, so that "twenty | eight ounce" isn't one of 28.
    let sized = |split: usize| {
        let count = match split {
            0 => Amount::from_integer(1),
            _ => leading_number(&head[..split])?,
        };
        match read_measure(&head[split..])? {
            Quantity::Measure { amount, unit } => Some(Quantity::Packs {
                count,
                amount,
                unit,
                pack,
            }),
            _ => None,
        }
    };
    let counted = || (1..head.len()).find_map(sized);
    if last == pack.many() {
        counted().or_else(|| sized(0))
    } else {
        sized(0).or_else(counted)
    }
}

/// "two pounds", "two pounds four ounces", "three quarters of a cup".
fn read_measure(words: &[&str]) -> Option<Quantity> {
    let (head, unit) = split_unit(words)?;
    if let Some(amount) = leading_number(head) {
        return Some(Quantity::Measure { amount, unit });
    }
    // A larger unit before it, with or without "and": both in the larger one.
    let first = (1..head.len()).rev().find_map(|end| {
        split_unit(&head[..end]).map(|(number, large)| (number, large, &head[end..]))
    })?;
    let (number, large, rest) = first;
    let rest = rest.strip_prefix(&["and"]).unwrap_or(rest);
    if large.dimension() != unit.dimension() || large.in_base() <= unit.in_base() {
        return None;
    }
    let small = leading_number(rest)? * unit.in_base() / large.in_base();
    Some(Quantity::Measure {
        amount: leading_number(number)? + small,
        unit: large,
    })
}

/// The words before a unit at the end, and the unit.
fn split_unit<'w>(words: &'w [&'w str]) -> Option<(&'w [&'w str], Unit)> {
    if let [head @ .., "fluid", "ounce" | "ounces" | "oz"] = words {
        return Some((head, Unit::FluidOunce));
    }
    let (last, head) = words.split_last()?;
    Some((head, Unit::from_word(last)?))
}

/// A number before a unit or a thing: "two", "half a", "three quarters of a".
fn leading_number(words: &[&str]) -> Option<Amount> {
    match words {
        [head @ .., "of", "a" | "an"] | [head @ .., "a" | "an"] if !head.is_empty() => {
            read_number(head).filter(|n| !n.is_integer())
        }
        _ => read_number(words),
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
            let number = |w: &str| w.parse::<Amount>().ok();
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
    fn a_bare_count_fits_any_pack() {
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
            ("two and a half pounds", "2 pounds 8 ounces"),
            ("a quarter of a cup", "a quarter of a cup"),
            ("half an ounce", "half an ounce"),
            ("one point two kilos", "1.2 kilograms"),
            ("one and a half cups", "1 and a half cups"),
            ("one gallon", "1 gallon"),
            ("four ounces", "4 ounces"),
            ("twelve fluid oz", "12 fluid ounces"),
            ("twenty eight ounce cans", "20 8 ounce cans"),
            ("a twenty eight ounce can", "1 28 ounce can"),
            ("two half gallon cartons", "2 half gallon cartons"),
        ] {
            assert_eq!(read(said).spoken(), sounds, "{said}");
        }
    }
}
