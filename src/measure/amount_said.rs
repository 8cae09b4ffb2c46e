//! Amounts as they should sound.

use super::number::Amount;
use super::spell::spell;

/// Figures of an amount that can't be said exactly: as many as kitchen scales show.
const FIGURES: i32 = 3;
/// Figures behind the point that are said exactly.
const PLACES: u32 = 3;
/// Figures behind the point that are said at most.
const MOST_PLACES: i32 = 9;
/// Up to this, the whole in front of a fraction is said in words, as it is with the fraction: "one and a half".
const IN_WORDS: i128 = 12;

/// The parts that have names of their own in a kitchen.
const PARTS: [(i128, i128, &str); 11] = [
    (1, 2, "a half"),
    (1, 3, "a third"),
    (2, 3, "two thirds"),
    (1, 4, "a quarter"),
    (3, 4, "three quarters"),
    (1, 6, "a sixth"),
    (5, 6, "five sixths"),
    (1, 8, "an eighth"),
    (3, 8, "three eighths"),
    (5, 8, "five eighths"),
    (7, 8, "seven eighths"),
];

/// An amount as it should sound: whole numbers as digits, common fractions in words, what has up to three
/// places as a decimal. Anything else is rounded to three figures, and that is said: "about 0.143".
///
/// What is said without "about" is heard again as the same amount.
///
/// ```
/// use tellshelf::measure::{Amount, say_amount};
/// assert_eq!(say_amount(Amount::from_integer(12)), "12");
/// assert_eq!(say_amount(Amount::new(5, 2)), "two and a half");
/// assert_eq!(say_amount(Amount::new(3, 4)), "three quarters");
/// assert_eq!(say_amount(Amount::new(6, 5)), "1.2");
/// assert_eq!(say_amount(Amount::new(15_359_237, 100_000)), "about 154");
/// ```
pub fn say_amount(amount: Amount) -> String {
    if amount.is_integer() {
        return amount.to_integer().to_string();
    }
    let whole = amount.trunc().to_integer();
    if let Some(part) = part_said(amount.fract()) {
        return match whole {
            0 => part
                .strip_prefix("a ")
                .filter(|p| *p == "half")
                .unwrap_or(part)
                .to_owned(),
            1..=IN_WORDS => format!("{} and {part}", spell(whole.unsigned_abs() as u64)),
            _ => format!("{whole} and {part}"),
        };
    }
    let scale = Amount::from_integer(10_i128.pow(PLACES));
    if (amount * scale).is_integer() {
        return decimal(amount, PLACES);
    }
    let rounded = rounded(amount);
    if is_exactly(&rounded, amount) {
        rounded
    } else {
        format!("about {rounded}")
    }
}

fn part_said(part: Amount) -> Option<&'static str> {
    let named = PARTS
        .iter()
        .find(|(top, bottom, _)| part == Amount::new(*top, *bottom));
    named.map(|(_, _, said)| *said)
}

/// Rounded to [`FIGURES`] figures, or to the whole where that has more. As a double, which has plenty: the parts of
/// an exact amount may be too long to reckon with.
fn rounded(amount: Amount) -> String {
    let value = *amount.numer() as f64 / *amount.denom() as f64;
    // Zeros behind the point are no figures: "about 0.0143".
    let figures_before = value.abs().log10().floor() as i32 + 1;
    let places = (FIGURES - figures_before).clamp(0, MOST_PLACES) as usize;
    without_last_zeros(&format!("{value:.places$}"))
}

/// Whether an amount in figures is this one.
fn is_exactly(figures: &str, amount: Amount) -> bool {
    let (whole, places) = figures.split_once('.').unwrap_or((figures, ""));
    let scale = 10_i128.pow(places.len() as u32);
    let scaled = format!("{whole}{places}").parse();
    scaled.is_ok_and(|scaled| Amount::new(scaled, scale) == amount)
}

/// With so many places behind the point, which must be enough.
fn decimal(amount: Amount, places: u32) -> String {
    let scale = 10_i128.pow(places);
    let scaled = (amount * Amount::from_integer(scale)).to_integer();
    let width = places as usize;
    without_last_zeros(&format!("{}.{:0width$}", scaled / scale, scaled % scale))
}

fn without_last_zeros(text: &str) -> String {
    match text.split_once('.') {
        Some(_) => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odd_amounts_are_rounded_only_when_spoken_and_that_is_said() {
        for (top, bottom, said) in [
            (1, 7, "about 0.143"),
            (1, 70, "about 0.0143"),
            (1, 16, "0.0625"),
            (1, 2, "half"),
            (1, 4, "a quarter"),
            (10, 3, "three and a third"),
            (29, 2, "14 and a half"),
            (9, 8, "one and an eighth"),
            (6, 5, "1.2"),
            (1_234, 1_000, "1.234"),
            (8, 7, "about 1.14"),
            (799, 7, "about 114"),
            (79_999, 7, "about 11428"),
            (1_999_999, 1_000_000, "about 2"),
            (1, 1_000_000_000, "0.000000001"),
            (1, 10_000_000_000, "about 0"),
        ] {
            assert_eq!(say_amount(Amount::new(top, bottom)), said, "{top}/{bottom}");
        }
    }
}
