//! Quantities as people say them, to values.

use super::number::{Amount, cardinal, read_number};
use super::quantity::Quantity;
use super::unit::{Pack, Unit};

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
    // "Three more cans" and "another three cans" are three, and "3 x 14 oz cans" is how some write them.
    let words = match words {
        ["another", number, ..] if read_number(&[*number]).is_some() => &words[1..],
        _ => words,
    };
    let plain: Vec<&str> = words
        .iter()
        .copied()
        .filter(|w| !matches!(*w, "more" | "x"))
        .collect();
    let words = plain.as_slice();
    if let Some(count) = leading_number(words) {
        return Some(Quantity::Count { count, pack: None });
    }
    if let Some(quantity) = read_and_part(words) {
        return Some(quantity);
    }
    if let [head @ .., last] = words
        && let Some(pack) = Pack::from_word(last)
    {
        return read_packed(head, last, pack);
    }
    read_measure(words)
}

/// "A pound and a half", "two cups and three quarters", "a can and a half".
fn read_and_part(words: &[&str]) -> Option<Quantity> {
    let and = words.iter().rposition(|w| *w == "and")?;
    let (whole, part) = (&words[..and], read_number(&words[and + 1..])?);
    let last = whole.last()?;
    let of_one = Unit::from_word(last).is_some() || Pack::from_word(last).is_some();
    if !of_one || part >= Amount::from_integer(1) {
        return None;
    }
    match read_quantity(whole)? {
        Quantity::Measure { amount, unit } => Some(Quantity::Measure {
            amount: amount + part,
            unit,
        }),
        Quantity::Count { count, pack } => Some(Quantity::Count {
            count: count + part,
            pack,
        }),
        // Whether it is half a can or half an ounce can't be told.
        Quantity::Packs { .. } => None,
    }
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
        // "Twenty | four five ounce": figures are read out one by one where they are long, not on cans.
        if are_figures(&head[split..]) {
            return None;
        }
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
    // "Two quart cartons", "a gallon jug": of one quart, of one gallon.
    let of_one = || {
        let (head, unit) = split_unit(head).filter(|(_, unit)| PACKED_IN_ONES.contains(unit))?;
        Some(Quantity::Packs {
            count: read_number(head).filter(Amount::is_integer)?,
            amount: Amount::from_integer(1),
            unit,
            pack,
        })
    };
    if last == pack.many() {
        counted().or_else(of_one)
    } else {
        sized(0)
            .filter(|_| !matches!(head, ["a" | "an" | "another", _]))
            .or_else(of_one)
            .or_else(counted)
    }
}

/// Units of which packs often hold one, and then don't say so.
const PACKED_IN_ONES: [Unit; 6] = [
    Unit::Pint,
    Unit::Quart,
    Unit::Gallon,
    Unit::Liter,
    Unit::Pound,
    Unit::Kilogram,
];

/// Whether words begin with two figures, one after the other.
fn are_figures(words: &[&str]) -> bool {
    let is_figure = |word: &&str| cardinal(&[*word]).is_some_and(|n| n < 10);
    words.iter().take(2).filter(|word| is_figure(word)).count() == 2
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
    if let [head @ .., "fluid" | "fl", "ounce" | "ounces" | "oz"] = words {
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
