//! Numbers: words to exact rationals, and back.

use num_rational::Ratio;

/// An exact amount. Rational, so that a third of a cup used three times leaves nothing.
pub type Amount = Ratio<i128>;

const ONES: [&str; 20] = [
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
const TENS: [&str; 10] = [
    "", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
];
const ORDINALS: [&str; 20] = [
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

/// Reads a number said in words: cardinals, decimals, fractions, dozens.
///
/// All words must belong to the number; otherwise, and where the words make no number,
/// the answer is `None`.
///
/// ```
/// use tellshelf::measure::{Amount, read_number};
/// let read = |s: &str| read_number(&s.split(' ').collect::<Vec<_>>());
/// assert_eq!(read("two and a half"), Some(Amount::new(5, 2)));
/// assert_eq!(read("one point two"), Some(Amount::new(6, 5)));
/// assert_eq!(read("half a dozen"), Some(Amount::from_integer(6)));
/// assert_eq!(read("twenty eleven"), None);
/// ```
pub fn read_number(words: &[&str]) -> Option<Amount> {
    match words {
        [] => None,
        ["a" | "an" | "another"] => Some(Amount::from_integer(1)),
        ["a", "couple"] | ["a", "couple", "of"] | ["couple"] => Some(Amount::from_integer(2)),
        ["half", "a", "dozen"] | ["half", "dozen"] | ["a", "half", "dozen"] => {
            Some(Amount::from_integer(6))
        }
        ["a", "dozen"] | ["dozen"] => Some(Amount::from_integer(12)),
        // One dozen: of dozens of dozens nobody speaks, and their number would have no bound.
        [many @ .., "dozen"] => Some(Amount::from_integer(i128::from(cardinal(many)?) * 12)),
        _ => read_fraction(words)
            .or_else(|| read_mixed(words))
            .or_else(|| read_decimal(words))
            .or_else(|| cardinal(words).map(|n| Amount::from_integer(n.into()))),
    }
}

/// "two and a half", "one and three quarters", "a hundred and two and a half".
fn read_mixed(words: &[&str]) -> Option<Amount> {
    let and = words.iter().rposition(|w| *w == "and")?;
    let whole = cardinal(&words[..and])?;
    let part = read_fraction(&words[and + 1..])?;
    Some(Amount::from_integer(whole.into()) + part)
}

/// "half", "a third", "three quarters".
fn read_fraction(words: &[&str]) -> Option<Amount> {
    let (top, bottom) = match words {
        ["half"] => return Some(Amount::new(1, 2)),
        ["a" | "an" | "one", bottom] => (1, *bottom),
        [top @ .., bottom] => (cardinal(top)?, *bottom),
        [] => return None,
    };
    let one = bottom.strip_suffix('s').unwrap_or(bottom);
    let parts = match one {
        "half" | "halve" => 2,
        "quarter" => 4,
        // "second" is a place in an order, never a half; and so is "twenty fifth", never 20 / 5.
        _ if top != 1 && one == bottom => return None,
        word => ORDINALS
            .iter()
            .position(|o| *o == word)
            .filter(|n| *n >= 3)?,
    };
    Some(Amount::new(top.into(), parts as i128))
}

/// "one point two five", "point seven".
fn read_decimal(words: &[&str]) -> Option<Amount> {
    let point = words.iter().position(|w| *w == "point")?;
    let whole = if point == 0 {
        0
    } else {
        cardinal(&words[..point])?
    };
    let digits = &words[point + 1..];
    if digits.is_empty() || digits.len() > 9 {
        return None;
    }
    let mut value = Amount::from_integer(whole.into());
    let mut place = Amount::new(1, 10);
    for digit in digits {
        value += place * Amount::from_integer(digit_of(digit)?.into());
        place /= Amount::from_integer(10);
    }
    Some(value)
}

fn digit_of(word: &str) -> Option<u64> {
    if word == "oh" {
        return Some(0);
    }
    ONES[..10].iter().position(|w| *w == word).map(|i| i as u64)
}

/// A whole number below a thousand million, or a string of digits ("five oh three").
pub(super) fn cardinal(words: &[&str]) -> Option<u64> {
    if (2..=9).contains(&words.len()) && words.iter().all(|w| digit_of(w).is_some()) {
        return words.iter().try_fold(0, |n, w| Some(n * 10 + digit_of(w)?));
    }
    let mut rest = words;
    let mut total = 0;
    let mut smallest = u64::MAX;
    for (name, scale) in [("million", 1_000_000), ("thousand", 1_000)] {
        if let Some(at) = rest.iter().position(|w| *w == name) {
            total += below_thousand(&rest[..at])? * scale;
            rest = &rest[at + 1..];
            smallest = scale;
            if let ["and", tail @ ..] = rest {
                rest = tail;
            }
        }
    }
    if rest.is_empty() {
        return (smallest != u64::MAX).then_some(total);
    }
    Some(total + below_thousand(rest)?)
}

fn below_thousand(words: &[&str]) -> Option<u64> {
    match words {
        ["a", "hundred"] | ["hundred"] => Some(100),
        ["a", "hundred", "and", tail @ ..] | ["a", "hundred", tail @ ..] => {
            Some(100 + below_hundred(tail)?)
        }
        [hundreds, "hundred"] => Some(100 * digit_of(hundreds)?),
        [hundreds, "hundred", "and", tail @ ..] | [hundreds, "hundred", tail @ ..] => {
            Some(100 * digit_of(hundreds)? + below_hundred(tail)?)
        }
        ["a"] => Some(1),
        _ => below_hundred(words),
    }
}

fn below_hundred(words: &[&str]) -> Option<u64> {
    let tens = |w: &str| {
        TENS[2..]
            .iter()
            .position(|t| *t == w)
            .map(|i| (i as u64 + 2) * 10)
    };
    match words {
        [one] => ONES
            .iter()
            .position(|w| w == one)
            .map(|i| i as u64)
            .or_else(|| tens(one)),
        [ten, one] => Some(tens(ten)? + digit_of(one).filter(|d| *d > 0)?),
        _ => None,
    }
}

/// An ordinal below a hundred ("twenty first"), for days and places in a list.
pub(super) fn ordinal(words: &[&str]) -> Option<u64> {
    (1..100).find(|n| {
        let said = spell_ordinal(*n);
        said.split(' ').eq(words.iter().copied())
    })
}

/// An amount as it should sound: whole numbers as digits, common fractions in words,
/// the rest as a decimal of at most three places.
///
/// ```
/// use tellshelf::measure::{Amount, say_amount};
/// assert_eq!(say_amount(Amount::from_integer(12)), "12");
/// assert_eq!(say_amount(Amount::new(5, 2)), "2 and a half");
/// assert_eq!(say_amount(Amount::new(3, 4)), "three quarters");
/// assert_eq!(say_amount(Amount::new(6, 5)), "1.2");
/// ```
pub fn say_amount(amount: Amount) -> String {
    if amount.is_integer() {
        return amount.to_integer().to_string();
    }
    let whole = amount.trunc().to_integer();
    let part = match amount.fract() {
        f if f == Amount::new(1, 2) => "a half",
        f if f == Amount::new(1, 4) => "a quarter",
        f if f == Amount::new(3, 4) => "three quarters",
        f if f == Amount::new(1, 3) => "a third",
        f if f == Amount::new(2, 3) => "two thirds",
        _ => {
            let thousandths = (amount * Amount::from_integer(1000)).round().to_integer();
            let text = format!("{}.{:03}", thousandths / 1000, (thousandths % 1000).abs());
            return text.trim_end_matches('0').trim_end_matches('.').to_owned();
        }
    };
    match whole {
        0 => part
            .strip_prefix("a ")
            .filter(|p| *p == "half")
            .unwrap_or(part)
            .to_owned(),
        _ => format!("{whole} and {part}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Option<Amount> {
        read_number(&text.split(' ').collect::<Vec<_>>())
    }

    #[test]
    fn whole_numbers_come_back_as_spelled() {
        for n in (0..2_000)
            .chain((2_000..1_000_000).step_by(977))
            .chain([999_999, 1_000_000])
        {
            assert_eq!(
                read(&spell(n)),
                Some(Amount::from_integer(n.into())),
                "{}",
                spell(n)
            );
        }
    }

    #[test]
    fn fractions_are_exact() {
        assert_eq!(read("a third"), Some(Amount::new(1, 3)));
        assert_eq!(read("one half"), Some(Amount::new(1, 2)));
        assert_eq!(read("seven eighths"), Some(Amount::new(7, 8)));
        assert_eq!(read("one and three quarters"), Some(Amount::new(7, 4)));
        assert_eq!(read("point seven five"), Some(Amount::new(3, 4)));
        assert_eq!(
            read("a hundred and two and a half"),
            Some(Amount::new(205, 2))
        );
    }

    #[test]
    fn digit_strings_are_read_digit_by_digit() {
        assert_eq!(read("five oh three"), Some(Amount::from_integer(503)));
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for words in [
            "twenty eleven",
            "hundred hundred",
            "half third",
            "and",
            "a and",
            "ten two",
            "twenty fifth",
            "two dozen dozen",
        ] {
            assert_eq!(read(words), None, "{words}");
        }
    }

    #[test]
    fn ordinals_read_back() {
        for n in 1..100 {
            let said = spell_ordinal(n);
            assert_eq!(ordinal(&said.split(' ').collect::<Vec<_>>()), Some(n));
        }
    }

    #[test]
    fn odd_amounts_are_rounded_only_when_spoken() {
        assert_eq!(say_amount(Amount::new(1, 7)), "0.143");
        assert_eq!(say_amount(Amount::new(1, 2)), "half");
        assert_eq!(say_amount(Amount::new(1, 4)), "a quarter");
        assert_eq!(say_amount(Amount::new(10, 3)), "3 and a third");
    }
}
