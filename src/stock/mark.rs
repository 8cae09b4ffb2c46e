//! Touch marks: what a person puts on a thing to know it again by hand.

use std::fmt;
use std::num::NonZeroU8;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::feel_words::denies;
use crate::measure::read_number;

/// What a mark is made of. Sources: Oregon Commission for the Blind (rubber bands), Deafblind Victoria, Tips #16 (clips
/// of bread bags), Perkins Senior Times, 1 Jul 2009 (a card for each item); a notch in the box top and a tab of folded
/// tape are common practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MarkKind {
    /// A rubber band.
    Band,
    /// A clip, such as those of bread bags.
    Clip,
    /// A piece of tape.
    Tape,
    /// A notch, cut into the edge.
    Notch,
    /// A card, held on by a band or a string.
    Card,
}

/// The words for a kind: those spoken stand first.
struct KindWords {
    one: &'static [&'static str],
    many: &'static [&'static str],
}

impl MarkKind {
    /// Every kind, in the order in which they are proposed: first what is quickly put on and taken off again.
    pub const ALL: [Self; 5] = [Self::Band, Self::Clip, Self::Tape, Self::Notch, Self::Card];

    /// The word for it, as it is kept.
    pub fn name(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Clip => "clip",
            Self::Tape => "tape",
            Self::Notch => "notch",
            Self::Card => "card",
        }
    }

    fn words(self) -> KindWords {
        let (one, many): (&[_], &[_]) = match self {
            Self::Band => (
                &["band", "rubber band", "elastic band"],
                &["bands", "rubber bands", "elastic bands"],
            ),
            Self::Clip => (
                &["clip", "bread clip", "plastic clip"],
                &["clips", "bread clips", "plastic clips"],
            ),
            Self::Tape => (
                &["piece of tape", "strip of tape", "bit of tape", "tape"],
                &["pieces of tape", "strips of tape", "bits of tape"],
            ),
            Self::Notch => (&["notch", "nick"], &["notches", "nicks"]),
            Self::Card => (&["card"], &["cards"]),
        };
        KindWords { one, many }
    }
}

impl fmt::Display for MarkKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl FromStr for MarkKind {
    type Err = NotAMark;

    fn from_str(text: &str) -> Result<Self, NotAMark> {
        let known = Self::ALL.into_iter().find(|kind| kind.name() == text);
        known.ok_or_else(|| NotAMark(text.to_owned()))
    }
}

/// Where on the thing a mark is. It tells things apart too: a band at the top for one, around the middle for another
/// (Oregon Commission for the Blind).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// At the top.
    Top,
    /// In the middle.
    Middle,
    /// At the bottom.
    Bottom,
    /// On the lid.
    Lid,
}

impl Spot {
    /// Every spot.
    pub const ALL: [Self; 4] = [Self::Top, Self::Middle, Self::Bottom, Self::Lid];

    /// The word for it, as it is kept.
    pub fn name(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Middle => "middle",
            Self::Bottom => "bottom",
            Self::Lid => "lid",
        }
    }

    fn spoken(self) -> &'static str {
        match self {
            Self::Top => "at the top",
            Self::Middle => "in the middle",
            Self::Bottom => "at the bottom",
            Self::Lid => "on the lid",
        }
    }

    fn read(word: &str) -> Option<Self> {
        match word {
            "top" => Some(Self::Top),
            "middle" | "center" => Some(Self::Middle),
            "bottom" | "base" => Some(Self::Bottom),
            "lid" | "cap" => Some(Self::Lid),
            _ => None,
        }
    }
}

impl FromStr for Spot {
    type Err = NotAMark;

    fn from_str(text: &str) -> Result<Self, NotAMark> {
        let known = Self::ALL.into_iter().find(|spot| spot.name() == text);
        known.ok_or_else(|| NotAMark(text.to_owned()))
    }
}

/// A text that names no [`Mark`], or a count that none has.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” isn't a touch mark")]
pub struct NotAMark(String);

/// A touch mark: so many of a kind, and where on the thing, if that was said.
///
/// ```
/// use tellshelf::stock::{Mark, MarkKind, Spot};
/// let mark = Mark::new(MarkKind::Band, 2).unwrap().at(Spot::Lid);
/// assert_eq!(mark.to_string(), "2 band lid");
/// assert_eq!("2 band lid".parse(), Ok(mark));
/// assert_eq!(mark.spoken(), "2 bands on the lid");
/// assert!(Mark::new(MarkKind::Band, 0).is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct Mark {
    kind: MarkKind,
    count: NonZeroU8,
    spot: Option<Spot>,
}

impl Mark {
    /// The most of a kind: more aren't counted by hand.
    pub const MOST: u8 = 9;

    /// So many of a kind.
    ///
    /// # Errors
    /// [`NotAMark`] for none, and for more than [`Mark::MOST`].
    pub fn new(kind: MarkKind, count: u8) -> Result<Self, NotAMark> {
        let fitting = NonZeroU8::new(count).filter(|count| count.get() <= Self::MOST);
        let count = fitting.ok_or_else(|| NotAMark(format!("{count} {kind}")))?;
        let spot = None;
        Ok(Self { kind, count, spot })
    }

    /// The same at a spot.
    #[must_use]
    pub fn at(self, spot: Spot) -> Self {
        let spot = Some(spot);
        Self { spot, ..self }
    }

    /// What it is made of.
    pub fn kind(self) -> MarkKind {
        self.kind
    }

    /// How many there are.
    pub fn count(self) -> u8 {
        self.count.get()
    }

    /// Where it is, if that was said.
    pub fn spot(self) -> Option<Spot> {
        self.spot
    }

    /// As it should sound: "2 bands on the lid", "1 piece of tape".
    pub fn spoken(self) -> String {
        let words = self.kind.words();
        let of_kind = if self.count.get() == 1 {
            words.one[0]
        } else {
            words.many[0]
        };
        match self.spot {
            None => format!("{} {of_kind}", self.count),
            Some(spot) => format!("{} {of_kind} {}", self.count, spot.spoken()),
        }
    }

    /// Whether a hand that feels the one may be feeling the other: as many of the same kind, and no two spots were
    /// said. Of a mark whose spot nobody told, it may be any: to the hand, 2 bands may be the 2 bands on the lid.
    ///
    /// ```
    /// use tellshelf::stock::Mark;
    /// let mark = |text: &str| text.parse::<Mark>().unwrap();
    /// assert!(mark("2 band").may_be(mark("2 band lid")));
    /// assert!(!mark("2 band top").may_be(mark("2 band lid")));
    /// ```
    pub fn may_be(self, other: Self) -> bool {
        let is_elsewhere = self.spot.is_some() && other.spot.is_some() && self.spot != other.spot;
        self.is_as(other) && !is_elsewhere
    }

    /// Every mark that a hand may take for this one, itself first.
    pub(super) fn taken_for(self) -> impl Iterator<Item = Self> {
        let bare = Self { spot: None, ..self };
        let all = [bare]
            .into_iter()
            .chain(Spot::ALL.map(|spot| bare.at(spot)));
        let others = all.filter(move |other| *other != self && self.may_be(*other));
        [self].into_iter().chain(others)
    }

    /// Whether as many of the same kind are anywhere on the thing.
    pub(super) fn is_as(self, other: Self) -> bool {
        (self.kind, self.count) == (other.kind, other.count)
    }

    /// Reads the marks among words in normal form, and gives the other words back, in their order. That there are none
    /// may be said too ("no marks"); where nothing is said of marks, nothing is known of them.
    ///
    /// What isn't clear is no mark, and is given back: "bands" without a number, "two or three bands", "no bands".
    ///
    /// ```
    /// use tellshelf::stock::Mark;
    /// let read = |s: &'static str| Mark::read(&s.split(' ').collect::<Vec<_>>());
    /// let (marks, rest) = read("a can with two rubber bands at the top and a clip");
    /// assert_eq!(marks, Some(vec!["2 band top".parse().unwrap(), "1 clip".parse().unwrap()]));
    /// assert_eq!(rest, ["a", "can", "with", "and"]);
    /// assert_eq!(read("no marks").0, Some(vec![]));
    /// assert_eq!(read("a can").0, None);
    /// ```
    pub fn read<'w>(words: &[&'w str]) -> (Option<Vec<Self>>, Vec<&'w str>) {
        let mut marks: Option<Vec<Self>> = None;
        let mut left: Vec<&'w str> = Vec::new();
        let mut rest = words;
        while !rest.is_empty() {
            let (len, said) = match one_at_start(rest) {
                Some((len, mark)) => (len, Some(vec![mark])),
                None => match none_at_start(rest) {
                    // A number goes back as a whole, so that no mark is read from its last word.
                    0 => (number_at_start(rest).map_or(1, |(len, _)| len), None),
                    len => (len, Some(vec![])),
                },
            };
            let (words, after) = rest.split_at(len);
            let is_unclear = left
                .last()
                .is_some_and(|word| denies(word) || matches!(*word, "or" | "any"))
                || after.first() == Some(&"or");
            match said.filter(|_| !is_unclear) {
                Some(said) => marks.get_or_insert_default().extend(said),
                None => left.extend(words),
            }
            rest = after;
        }
        (marks, left)
    }
}

/// The mark that the words begin with, and how many they are.
fn one_at_start(words: &[&str]) -> Option<(usize, Mark)> {
    let (number, count) = match number_at_start(words) {
        Some((len, count)) => (len, Some(count?)),
        None => (0, None),
    };
    let (kind, len, is_one) = kind_at_start(&words[number..])?;
    // "Bands" alone are two or more: how many isn't known.
    let count = count.or_else(|| is_one.then_some(1))?;
    let mark = Mark::new(kind, count).ok()?;
    let len = number + len;
    Some(match spot_at_start(&words[len..]) {
        None => (len, mark),
        Some((more, spot)) => (len + more, mark.at(spot)),
    })
}

/// The longest number that the words begin with, in words or figures; its value where it may be a count.
fn number_at_start(words: &[&str]) -> Option<(usize, Option<u8>)> {
    if let Some(figures) = words.first().and_then(|word| word.parse().ok()) {
        return Some((1, Some(figures)));
    }
    let longest = (1..=words.len().min(4)).rev();
    longest.into_iter().find_map(|len| {
        let amount = read_number(&words[..len])?;
        let count = amount.is_integer().then(|| amount.to_integer());
        Some((len, count.and_then(|count| count.try_into().ok())))
    })
}

/// The kind that the words begin with, how many words name it, and whether they name a single one.
fn kind_at_start(words: &[&str]) -> Option<(MarkKind, usize, bool)> {
    MarkKind::ALL.into_iter().find_map(|kind| {
        let KindWords { one, many } = kind.words();
        let one = one.iter().map(|phrase| (phrase, true));
        let many = many.iter().map(|phrase| (phrase, false));
        one.chain(many).find_map(|(phrase, is_one)| {
            let len = phrase.split(' ').count();
            let is_said = words.get(..len)?.iter().copied().eq(phrase.split(' '));
            is_said.then_some((kind, len, is_one))
        })
    })
}

/// The spot that the words begin with, and how many they are: "on the lid", "around its middle".
fn spot_at_start(words: &[&str]) -> Option<(usize, Spot)> {
    let is_place = |word: &&&str| matches!(**word, "on" | "at" | "in" | "around" | "near");
    let place = words.iter().take_while(is_place).count().min(1);
    let is_article = |word: &&&str| matches!(**word, "the" | "its");
    let article = words[place..].iter().take(1).filter(is_article).count();
    let spot = Spot::read(words.get(place + article)?)?;
    (place > 0).then_some((place + article + 1, spot))
}

/// How many words say that there are no marks at all.
fn none_at_start(words: &[&str]) -> usize {
    match words {
        ["no", "mark" | "marks", ..] => 2,
        ["without", "a", "mark", ..] => 3,
        ["without", "marks", ..] => 2,
        ["unmarked", ..] => 1,
        _ => 0,
    }
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.count, self.kind)?;
        match self.spot {
            None => Ok(()),
            Some(spot) => write!(f, " {}", spot.name()),
        }
    }
}

impl FromStr for Mark {
    type Err = NotAMark;

    /// Reads the text as it is kept, and no other: "2 band lid".
    fn from_str(text: &str) -> Result<Self, NotAMark> {
        let no_mark = || NotAMark(text.to_owned());
        let mut parts = text.split(' ');
        let count = parts.next().and_then(|count| count.parse().ok());
        let kind = parts.next().ok_or_else(no_mark)?.parse()?;
        let mut mark = Self::new(kind, count.ok_or_else(no_mark)?)?;
        if let Some(spot) = parts.next() {
            mark = mark.at(spot.parse()?);
        }
        // "+2 band" and "02 band" are numbers too, but no text that is kept.
        if mark.to_string() == text {
            Ok(mark)
        } else {
            Err(no_mark())
        }
    }
}

impl From<Mark> for String {
    fn from(mark: Mark) -> Self {
        mark.to_string()
    }
}

impl TryFrom<String> for Mark {
    type Error = NotAMark;

    fn try_from(text: String) -> Result<Self, NotAMark> {
        text.parse()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Option<Vec<String>>, String) {
        let (marks, rest) = Mark::read(&text.split(' ').collect::<Vec<_>>());
        let marks = marks.map(|marks| marks.iter().map(Mark::to_string).collect());
        (marks, rest.join(" "))
    }

    #[test]
    fn marks_are_read_from_words() {
        // Written by hand, from the meaning.
        for (said, mark) in [
            ("two bands", "2 band"),
            ("a clip on the lid", "1 clip lid"),
            ("a couple of elastic bands", "2 band"),
            ("a piece of tape at the bottom", "1 tape bottom"),
            ("three notches around its middle", "3 notch middle"),
            ("band on top", "1 band top"),
            ("9 cards", "9 card"),
        ] {
            assert_eq!(
                read(said),
                (Some(vec![mark.to_owned()]), String::new()),
                "{said}"
            );
        }
    }

    #[test]
    fn what_isnt_clear_is_no_mark_and_is_given_back() {
        for said in [
            "bands on the lid",
            "two or three bands",
            "two bands or three",
            "no bands",
            "twenty two bands",
            "ten bands",
            "not a band",
            "0 bands",
            "not any band",
        ] {
            assert_eq!(read(said), (None, said.to_owned()));
        }
    }

    #[test]
    fn texts_that_arent_kept_so_are_refused() {
        for text in [
            "",
            "band",
            "0 band",
            "10 band",
            "+2 band",
            "2  band",
            "2 band lid lid",
            "2 bands",
            "2 band side",
        ] {
            assert!(text.parse::<Mark>().is_err(), "{text}");
        }
        assert!(serde_json::from_str::<Mark>(r#""0 clip""#).is_err());
    }

    #[test]
    fn every_mark_is_read_back_as_kept_and_as_spoken() {
        for kind in MarkKind::ALL {
            for count in 1..=Mark::MOST {
                let bare = Mark::new(kind, count).unwrap();
                for mark in Spot::ALL
                    .map(|spot| bare.at(spot))
                    .into_iter()
                    .chain([bare])
                {
                    assert_eq!(mark.to_string().parse(), Ok(mark));
                    let spoken = mark.spoken();
                    let words: Vec<&str> = spoken.split(' ').collect();
                    assert_eq!(Mark::read(&words), (Some(vec![mark]), vec![]), "{spoken}");
                }
            }
        }
    }
}
