//! Whole numbers in words.

pub(super) const ONES: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
pub(super) const TENS: [&str; 10] = [
    "", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
];
pub(super) const ORDINALS: [&str; 20] = [
    "zeroth",
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
];

/// A whole number in words, without "and", as the grammar writes numbers.
///
/// ```
/// use tellshelf::measure::spell;
/// assert_eq!(spell(205), "two hundred five");
/// assert_eq!(spell(2026), "two thousand twenty six");
/// ```
pub fn spell(n: u64) -> String {
    let scaled = |unit: u64, name: &str| {
        let rest = n % unit;
        let head = format!("{} {name}", spell(n / unit));
        if rest == 0 {
            head
        } else {
            format!("{head} {}", spell(rest))
        }
    };
    match n {
        0..=19 => ONES[n as usize].to_owned(),
        20..=99 if n.is_multiple_of(10) => TENS[n as usize / 10].to_owned(),
        20..=99 => format!("{} {}", TENS[n as usize / 10], ONES[n as usize % 10]),
        100..=999 => scaled(100, "hundred"),
        1_000..=999_999 => scaled(1_000, "thousand"),
        1_000_000..=999_999_999 => scaled(1_000_000, "million"),
        _ => scaled(1_000_000_000, "billion"),
    }
}

/// A whole number as an ordinal in words.
///
/// ```
/// use tellshelf::measure::spell_ordinal;
/// assert_eq!(spell_ordinal(3), "third");
/// assert_eq!(spell_ordinal(21), "twenty first");
/// assert_eq!(spell_ordinal(30), "thirtieth");
/// ```
pub fn spell_ordinal(n: u64) -> String {
    let words = spell(n);
    let (head, last) = words
        .rsplit_once(' ')
        .map_or(("", words.as_str()), |(h, l)| (h, l));
    let last = match ONES.iter().position(|w| *w == last) {
        Some(i) => ORDINALS[i].to_owned(),
        None => match last.strip_suffix('y') {
            Some(stem) => format!("{stem}ieth"),
            None => format!("{last}th"),
        },
    };
    if head.is_empty() {
        last
    } else {
        format!("{head} {last}")
    }
}
