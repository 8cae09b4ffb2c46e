//! Numbers: words to exact rationals.

use num_rational::Ratio;

use super::spell::{ONES, ORDINALS, TENS, spell_ordinal};

/// An exact amount. Rational, so that a third of a cup used three times leaves nothing.
pub type Amount = Ratio<i128>;

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
        _ => read_dozens(words)
            .or_else(|| read_fraction(words))
            .or_else(|| read_mixed(words))
            .or_else(|| read_decimal(words))
            .or_else(|| cardinal(words).map(|n| Amount::from_integer(n.into()))),
    }
}

/// "a dozen", "two dozen", "half a dozen", "one and a half dozen", "a dozen and a half".
fn read_dozens(words: &[&str]) -> Option<Amount> {
    let at = words.iter().position(|w| *w == "dozen")?;
    let many = match &words[..at] {
        [] | ["a"] => Amount::from_integer(1),
        ["half", "a"] | ["half"] | ["a" | "one", "half"] => Amount::new(1, 2),
        ["a", "couple"] | ["a", "couple", "of"] => Amount::from_integer(2),
        // One dozen: of dozens of dozens nobody speaks, and their number would have no bound.
        many => {
            read_mixed(many).or_else(|| cardinal(many).map(|n| Amount::from_integer(n.into())))?
        }
    };
    let rest = match &words[at + 1..] {
        [] => Amount::from_integer(0),
        ["and", part @ ..] => read_fraction(part)?,
        _ => return None,
    };
    Some((many + rest) * Amount::from_integer(12))
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
        ["quarter"] => return Some(Amount::new(1, 4)),
        ["a" | "an" | "one", bottom] => (1, *bottom),
        [top @ .., bottom] => (cardinal(top)?, *bottom),
        [] => return None,
    };
    let one = bottom.strip_suffix('s').unwrap_or(bottom);
    let parts = match one {
        // "Twenty four half pints" are no halves.
        "half" if top != 1 && one == bottom => return None,
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
    let whole = match &words[..point] {
        [] | ["oh"] => 0,
        whole => cardinal(whole)?,
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
    if let Some(hundreds) = read_hundreds(words) {
        return Some(hundreds);
    }
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

/// A number of up to three figures, also as it is read off a label: "three twenty nine".
pub(super) fn three_figures(words: &[&str]) -> Option<u64> {
    cardinal(words).or_else(|| {
        let (hundreds, rest) = words.split_first()?;
        let rest = below_hundred(rest).filter(|rest| *rest >= 10)?;
        Some(digit_of(hundreds)? * 100 + rest)
    })
}

/// "Twelve hundred", "twenty five hundred and fifty": eleven hundred to ninety nine hundred.
fn read_hundreds(words: &[&str]) -> Option<u64> {
    let at = words.iter().position(|w| *w == "hundred")?;
    let many = below_hundred(&words[..at]).filter(|n| *n > 10 && !n.is_multiple_of(10))?;
    let rest = &words[at + 1..];
    let rest = match rest.strip_prefix(&["and"]).unwrap_or(rest) {
        [] if rest.is_empty() => 0,
        rest => below_hundred(rest)?,
    };
    Some(many * 100 + rest)
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

#[cfg(test)]
mod tests {
    use super::super::spell;
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
    fn dozens_may_have_a_half() {
        for (said, number) in [
            ("a dozen", 12),
            ("half a dozen", 6),
            ("half dozen", 6),
            ("three dozen", 36),
            ("a dozen and a half", 18),
            ("two and a half dozen", 30),
            ("a couple of dozen", 24),
        ] {
            assert_eq!(read(said), Some(Amount::from_integer(number)), "{said}");
        }
    }

    #[test]
    fn hundreds_go_up_to_ninety_nine() {
        assert_eq!(read("twelve hundred"), Some(Amount::from_integer(1_200)));
        let said = "twenty five hundred and fifty";
        assert_eq!(read(said), Some(Amount::from_integer(2_550)));
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
            "twenty hundred",
            "twelve hundred and",
            "a dozen and",
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
}
