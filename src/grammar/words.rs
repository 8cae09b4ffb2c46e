//! The normal form of words, in which what was heard and what a grammar says are compared:
//! small letters, no punctuation, hyphens as spaces, numbers spelled out.

use std::sync::LazyLock;

use chrono::NaiveDate;
use regex::Regex;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::measure::{spell, spell_ordinal};

/// What text falls into: figures with slashes, figures, words, and signs that are said as words.
static PIECE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(
        r"(?x)
        (?P<iso>[0-9]{4}-[0-9]{2}-[0-9]{2}\b)
        | (?P<slashed>[0-9]{1,4}(?:/[0-9]{1,4}){1,2})
        | (?P<figures>[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+)(?P<decimals>\.[0-9]+)?(?:(?P<ordinal>st|nd|rd|th)\b)?
        | \.(?P<bare>[0-9]+)
        | (?P<word>[\p{Alphabetic}][\p{Alphabetic}\p{M}'’]*)
        | (?P<sign>[&%½¼¾⅓⅔])",
    )
    .expect("the pattern is fixed and tested")
});

/// What people say while they think of what to say.
pub(super) const FILLERS: [&str; 7] = ["um", "umm", "uhm", "uh", "er", "erm", "hmm"];

/// The words of a text in normal form.
///
/// ```
/// use tellshelf::grammar::normal_words;
/// let normal = |s| normal_words(s).join(" ");
/// assert_eq!(normal("Add 12-ounce cans, please!"), "add twelve ounce cans please");
/// assert_eq!(normal("I'd use 2.5 lb by December 3rd"), "id use two point five lb by december third");
/// assert_eq!(normal("1 1/2 cups"), "one and one half cups");
/// ```
pub fn normal_words(text: &str) -> Vec<String> {
    let lower = without_accents(text).to_lowercase();
    let mut words = Vec::new();
    let mut number_just_ended = false;
    for piece in PIECE.captures_iter(&lower) {
        let is_figures = piece.name("figures").is_some();
        if let Some(iso) = piece.name("iso") {
            push_iso(iso.as_str(), &mut words);
        } else if let Some(slashed) = piece.name("slashed") {
            push_slashed(slashed.as_str(), number_just_ended, &mut words);
        } else if let Some(figures) = piece.name("figures") {
            let figures = figures.as_str().replace(',', "");
            match piece.name("ordinal") {
                Some(_) if figures.len() < 10 => {
                    let n = figures.parse().unwrap_or_default();
                    words.extend(spell_ordinal(n).split(' ').map(str::to_owned));
                }
                _ => push_figures(&figures, &mut words),
            }
            if let Some(decimals) = piece.name("decimals") {
                push_decimals(&decimals.as_str()[1..], &mut words);
            }
        } else if let Some(decimals) = piece.name("bare") {
            push_decimals(decimals.as_str(), &mut words);
        } else if let Some(sign) = piece.name("sign") {
            push_sign(sign.as_str(), number_just_ended, &mut words);
        } else if let Some(word) = piece.name("word") {
            if FILLERS.contains(&word.as_str()) {
                continue;
            }
            words.push(match word.as_str() {
                "pls" | "plz" => "please".to_owned(),
                word => word.replace(['\'', '’'], ""),
            });
        }
        number_just_ended = is_figures;
    }
    words
}

/// The text without the accents over a to z. Other letters keep their marks, which make them other
/// letters: those of Cyrillic, Devanagari or Hangul.
fn without_accents(text: &str) -> String {
    let mut after_latin = false;
    let kept = text.nfd().filter(|c| {
        let is_mark = is_combining_mark(*c);
        // An apostrophe goes as well, and what stands behind it comes to stand on the letter.
        if !is_mark && !matches!(c, '\'' | '’') {
            after_latin = c.is_ascii_alphabetic();
        }
        !(is_mark && after_latin)
    });
    kept.nfc().collect()
}

fn push_figures(figures: &str, words: &mut Vec<String>) {
    let one_by_one = figures.len() > 9 || (figures.len() > 1 && figures.starts_with('0'));
    match figures.parse::<u64>() {
        Ok(n) if !one_by_one => words.extend(spell(n).split(' ').map(str::to_owned)),
        _ => push_digits(figures, words),
    }
}

/// A zero among digits is said "oh" before others, "zero" alone.
fn push_digits(digits: &str, words: &mut Vec<String>) {
    for digit in digits.chars().filter_map(|c| c.to_digit(10)) {
        words.push(if digit == 0 {
            "oh".to_owned()
        } else {
            spell(digit.into())
        });
    }
}

fn push_decimals(digits: &str, words: &mut Vec<String>) {
    words.push("point".to_owned());
    push_digits(digits, words);
}

fn push_sign(sign: &str, after_number: bool, words: &mut Vec<String>) {
    let said = match sign {
        "&" => "and",
        "%" => "percent",
        "½" => "one half",
        "¼" => "one quarter",
        "¾" => "three quarters",
        "⅓" => "one third",
        _ => "two thirds",
    };
    if after_number && said.contains(' ') {
        words.push("and".to_owned());
    }
    words.extend(said.split(' ').map(str::to_owned));
}

/// A date as it is written by international standard (ISO 8601), which leaves nothing open. Whether there is such a
/// day is for whoever reads the words.
fn push_iso(iso: &str, words: &mut Vec<String>) {
    let parts: Vec<&str> = iso.split('-').collect();
    let number = |at: usize| parts.get(at).and_then(|part| part.parse::<u32>().ok());
    let first = number(1).and_then(|month| NaiveDate::from_ymd_opt(2000, month, 1));
    let day = number(2).filter(|day| (1..=31).contains(day));
    let (Some(year), Some(first), Some(day)) = (number(0), first, day) else {
        return parts.iter().for_each(|part| push_figures(part, words));
    };
    words.push(first.format("%B").to_string().to_lowercase());
    let said = format!("{} {}", spell_ordinal(day.into()), spell(year.into()));
    words.extend(said.split(' ').map(str::to_owned));
}

/// Behind these, "3/4" is a date and not a fraction.
const BEFORE_DATES: [&str; 12] = [
    "by",
    "before",
    "on",
    "until",
    "date",
    "expires",
    "exp",
    "packed",
    "opened",
    "frozen",
    "bought",
    "purchased",
];

/// "1/2" is a fraction where kitchens have such a measure; anything else is a date with slashes.
fn push_slashed(text: &str, after_number: bool, words: &mut Vec<String>) {
    let parts: Vec<&str> = text.split('/').collect();
    let bottom = match parts.last().copied() {
        Some("2") => "half",
        Some("3") => "third",
        Some("4") => "quarter",
        Some("8") => "eighth",
        Some("16") => "sixteenth",
        _ => "",
    };
    if let [top, below] = parts[..]
        && let (Ok(top), Ok(below)) = (top.parse::<u64>(), below.parse::<u64>())
        && !bottom.is_empty()
        && !words
            .last()
            .is_some_and(|word| BEFORE_DATES.contains(&word.as_str()))
        && (1..below).contains(&top)
        && !parts[0].starts_with('0')
    {
        if after_number {
            words.push("and".to_owned());
        }
        words.extend(spell(top).split(' ').map(str::to_owned));
        words.push(if top == 1 {
            bottom.to_owned()
        } else {
            format!("{bottom}s")
        });
        return;
    }
    for (i, part) in parts.iter().enumerate() {
        if i > 0 {
            words.push("slash".to_owned());
        }
        push_figures(part.trim_start_matches('0'), words);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_in_many_spellings_has_one_normal_form() {
        for (text, normal) in [
            ("Use it by 12/03", "use it by twelve slash three"),
            (
                "10/15/2026",
                "ten slash fifteen slash two thousand twenty six",
            ),
            ("3/4 cup", "three quarters cup"),
            ("use by 3/4", "use by three slash four"),
            (
                "exp 2026-12-03",
                "exp december third two thousand twenty six",
            ),
            ("2026-13-03", "two thousand twenty six thirteen oh three"),
            ("2½ pounds", "two and one half pounds"),
            ("two 16oz cans", "two sixteen oz cans"),
            ("1,250 g", "one thousand two hundred fifty g"),
            ("the 21st", "the twenty first"),
            ("Jalapeño", "jalapeno"),
            ("What’s low?", "whats low"),
            ("Crème fraîche", "creme fraiche"),
            ("Чай", "чай"),
            ("half-and-half", "half and half"),
            ("tag 007", "tag oh oh seven"),
            (".75", "point seven five"),
            ("pls add milk", "please add milk"),
            ("salt & pepper", "salt and pepper"),
            ("쌀 다 썼어.", "쌀 다 썼어"),
            (
                "4006381333931",
                "four oh oh six three eight one three three three nine three one",
            ),
            ("…", ""),
        ] {
            assert_eq!(normal_words(text).join(" "), normal, "{text}");
        }
    }
}
