//! Amounts: read from the file and reckoned with, without ever running over.
//!
//! An exact amount is two whole numbers of 127 bits. Reckoning with uneven parts makes them longer,
//! and a number that runs over would come out wrong without a word. So each reckoning is sized up
//! first, and one that might not fit isn't done.

use serde::de::Error;
use serde::{Deserialize, Deserializer};

use super::columns::unreadable;
use super::ledger::Fault;
use crate::measure::{Amount, Quantity, Unit};

/// What an amount may take up: what is left of 127 bits is for saying it (in ounces, in
/// thousandths).
const BITS: u32 = 112;

/// A quantity in a column that isn't one a kitchen has.
#[derive(Debug, thiserror::Error)]
#[error("“{0}” is no quantity to keep")]
struct NoQuantity(String);

/// Reads a quantity that is kept in a column.
pub(super) fn column(column: usize, text: &str) -> rusqlite::Result<Quantity> {
    read(text).map_err(|e| unreadable(column, Box::new(e)))
}

fn read(text: &str) -> Result<Quantity, NoQuantity> {
    let parsed: Option<Quantity> = text.parse().ok();
    parsed
        .filter(fits)
        .ok_or_else(|| NoQuantity(text.to_owned()))
}

/// Reads the quantity in an event of the ledger.
pub(super) fn in_event<'de, D: Deserializer<'de>>(from: D) -> Result<Quantity, D::Error> {
    read(&String::deserialize(from)?).map_err(D::Error::custom)
}

/// The same where it may be absent.
pub(super) fn maybe_in_event<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<Option<Quantity>, D::Error> {
    let text = Option::<String>::deserialize(from)?;
    text.map(|text| read(&text).map_err(D::Error::custom))
        .transpose()
}

/// Refuses what is no amount of anything: nothing, less than nothing, and more than can be
/// reckoned with.
pub(super) fn require(quantity: &Quantity) -> Result<(), Fault> {
    if fits(quantity) && quantity.is_positive() && size(quantity).is_none_or(|s| *s.numer() > 0) {
        Ok(())
    } else {
        Err(Fault::NoAmount {
            asked: say(quantity),
        })
    }
}

/// The same, but a keep level may be nothing: then the item is never low.
pub(super) fn require_level(level: &Quantity) -> Result<(), Fault> {
    if fits(level) && level.is_zero() {
        Ok(())
    } else {
        require(level)
    }
}

/// How it is said, or written where saying it would run over.
pub(super) fn say(quantity: &Quantity) -> String {
    if fits(quantity) {
        quantity.spoken()
    } else {
        quantity.to_string()
    }
}

/// What is left of a quantity. `None`: the two can't be compared, or not exactly;
/// `Some(None)`: there isn't that much.
pub(super) fn minus(have: &Quantity, used: &Quantity) -> Option<Option<Quantity>> {
    reckonable(have, used)
        .then(|| have.minus(used).ok())
        .flatten()
}

/// Two quantities together. `None`: they can't be added, or not exactly.
pub(super) fn plus(sum: &Quantity, more: &Quantity) -> Option<Quantity> {
    let added = |more: &Quantity| reckonable(sum, more).then(|| sum.plus(more).ok()).flatten();
    added(more).or_else(|| added(&contents(more)?))
}

/// How much of a whole an amount is, for reckoning that needn't be exact. `None`: they can't be compared.
pub(super) fn share_of(part: &Quantity, whole: &Quantity) -> Option<f64> {
    let zero = minus(whole, whole)??;
    // In the whole's own measure.
    let part = plus(&zero, part)?;
    let number = |q: &Quantity| {
        let main = main(q);
        *main.numer() as f64 / *main.denom() as f64
    };
    let (part, whole) = (number(&part), number(whole));
    (whole > 0.0).then_some(part / whole)
}

/// What is still to be taken once a lot is taken whole.
pub(super) fn rest(to_take: &Quantity, lot: &Quantity) -> Option<Quantity> {
    // "20 ounces" goes on to the next can once a 14 ounce can is empty.
    let taken = minus(to_take, lot).or_else(|| minus(to_take, &contents(lot)?));
    taken.flatten()
}

/// Packs of a known size as what is in them.
fn contents(packs: &Quantity) -> Option<Quantity> {
    match packs {
        Quantity::Packs {
            count,
            amount,
            unit,
            ..
        } if bits(*count.numer()) + bits(*amount.numer()) <= BITS
            && bits(*count.denom()) + bits(*amount.denom()) <= BITS =>
        {
            Some(Quantity::Measure {
                amount: count * amount,
                unit: *unit,
            })
        }
        _ => None,
    }
}

fn main(quantity: &Quantity) -> Amount {
    match quantity {
        Quantity::Count { count, .. } | Quantity::Packs { count, .. } => *count,
        Quantity::Measure { amount, .. } => *amount,
    }
}

fn size(quantity: &Quantity) -> Option<Amount> {
    match quantity {
        Quantity::Packs { amount, .. } => Some(*amount),
        _ => None,
    }
}

fn unit(quantity: &Quantity) -> Option<Unit> {
    match quantity {
        Quantity::Count { .. } => None,
        Quantity::Measure { unit, .. } | Quantity::Packs { unit, .. } => Some(*unit),
    }
}

fn bits(number: i128) -> u32 {
    i128::BITS - number.unsigned_abs().leading_zeros()
}

fn fits(quantity: &Quantity) -> bool {
    let mut amounts = std::iter::once(main(quantity)).chain(size(quantity));
    amounts.all(|a| bits(*a.numer()) <= BITS && bits(*a.denom()) <= BITS)
}

/// Whether `mine` and `other` can be added or subtracted in `mine`'s unit with room to spare.
/// The lengths of a product add up, so this looks at the longest that can come out.
fn reckonable(mine: &Quantity, other: &Quantity) -> bool {
    let lengths = |a: Amount| (bits(*a.numer()), bits(*a.denom()));
    let base = |q: &Quantity| unit(q).map_or((0, 0), |u| lengths(u.in_base()));
    let (from, to) = (base(other), base(mine));
    let pack = size(mine).map_or((0, 0), lengths);
    // One amount in the other's unit: times what the one unit is, by what the other is (and by
    // what one pack holds).
    let turned = |(n, d): (u32, u32)| (n + from.0 + to.1 + pack.1, d + from.1 + to.0 + pack.0);
    let (n, d) = turned(lengths(main(other)));
    let other_pack = turned(size(other).map_or((0, 0), lengths));
    let (my_n, my_d) = lengths(main(mine));
    let longest = [my_n + d, n + my_d, my_d + d, other_pack.0, other_pack.1]
        .into_iter()
        .max();
    longest.is_some_and(|l| l < BITS)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn q(text: &str) -> Quantity {
        text.parse().unwrap()
    }

    #[test]
    fn what_a_kitchen_has_is_reckoned_with() {
        // Each unit taken from each other, from an amount that is uneven already.
        for have in Unit::ALL {
            for used in Unit::ALL
                .iter()
                .filter(|u| u.dimension() == have.dimension())
            {
                let have = q(&format!("123456789/45359237 {}", have.one()));
                let used = q(&format!("1/3 {}", used.one()));
                assert!(minus(&have, &used).is_some(), "{have} {used}");
            }
        }
    }

    #[test]
    fn what_would_run_over_is_not_reckoned_with() {
        let fine = format!("1/{} gram", i128::MAX >> 60);
        let also_fine = format!("1/{} pound", (i128::MAX >> 60) - 1);
        assert_eq!(minus(&q(&fine), &q(&also_fine)), None);
        assert_eq!(plus(&q(&fine), &q(&also_fine)), None);
    }

    #[test]
    fn a_hostile_text_is_an_error() {
        let lowest = i128::MIN;
        for text in [
            "",
            "1/0",
            "0/0 gram",
            "-1 bag",
            "1/-2 bag",
            "NaN",
            "1e3",
            "1 bagful",
            "1 x 2 x 3 bag",
            &format!("{lowest}/-1"),
            &format!("{}", i128::MAX),
            &format!("1/{} gram", i128::MAX),
            &format!("1 x {} gram bag", i128::MAX),
        ] {
            assert!(column(0, text).is_err(), "{text}");
        }
    }

    #[test]
    fn twenty_ounces_need_more_than_a_fourteen_ounce_can() {
        assert_eq!(
            rest(&q("20 ounce"), &q("1 x 14 ounce can")),
            Some(q("6 ounce"))
        );
        assert_eq!(rest(&q("3 can"), &q("1 x 14 ounce can")), Some(q("2 can")));
        assert_eq!(rest(&q("1 cup"), &q("1 x 14 ounce can")), None);
    }

    #[test]
    fn a_pack_adds_what_it_holds() {
        assert_eq!(
            plus(&q("1 pound"), &q("2 x 8 ounce box")),
            Some(q("2 pound"))
        );
        assert_eq!(
            plus(&q("2 x 8 ounce box"), &q("1 pound")),
            Some(q("4 x 8 ounce box"))
        );
        assert_eq!(plus(&q("1 pound"), &q("1 bag")), None);
    }
}
