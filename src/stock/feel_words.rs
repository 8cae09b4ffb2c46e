//! From the words people say of a thing to how it feels.

use super::feel::{Feel, PHRASES, Property};

/// What a few words do in a description.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    /// They tell a property.
    Says(Property),
    /// "wide", "screw": they say something of a lid, and of nothing else.
    ForLid,
    /// "lid", "cap": what stands before it is said of the lid.
    Lid,
    /// Another part, such as the label: what is said of it isn't said of the thing.
    Part,
    /// "is", "feels".
    Link,
    /// "not", "without".
    Not,
    /// "or": it is left open which.
    Or,
    /// "and", "very": it changes nothing.
    Small,
    /// "a", "with", "it": from here on it is about something else.
    Break,
    /// Says nothing of how a thing feels.
    Other,
}

impl Role {
    /// Whether it tells what the thing is packed in.
    fn is_container(self) -> bool {
        matches!(self, Self::Says(Property::Container(_)))
    }

    /// Whether a row of words about one thing goes on over it.
    fn goes_on(self) -> bool {
        let goes_on = matches!(self, Self::Says(_) | Self::ForLid | Self::Small | Self::Or);
        goes_on && !self.is_container()
    }

    /// Whether it names a part of the thing.
    fn is_part(self) -> bool {
        let is_lid_phrase = matches!(self, Self::Says(Property::Lid(_)));
        is_lid_phrase || matches!(self, Self::Lid | Self::Part)
    }
}

const LIDS: &[&str] = &["lid", "cap", "cover", "top", "mouth", "neck", "opening"];
const PARTS: &[&str] = &[
    "label", "wrapper", "sticker", "handle", "bottom", "base", "rim", "edge", "seam", "seal",
    "straw", "window",
];
const SMALL: &[&str] = &[
    "and", "very", "quite", "rather", "really", "so", "too", "pretty", "fairly", "bit", "kind",
    "sort",
];
const BREAKS: &[&str] = &[
    "a",
    "an",
    "the",
    "with",
    "it",
    "its",
    "that",
    "this",
    "which",
    "has",
    "have",
    "got",
    "thing",
    "one",
    "something",
    "item",
    "container",
    "package",
    "of",
    "for",
    "in",
    "made",
    "sides",
    "size",
    "sized",
    "shape",
    "shaped",
    "when",
    "i",
    "you",
    "shake",
    "shaken",
];

/// Words that stand together, and what they do.
struct Piece<'w, 's> {
    words: &'s [&'w str],
    role: Role,
}

impl Feel {
    /// Reads how a thing feels from words in normal form, and gives back, in their order, the words that say something
    /// else.
    ///
    /// The later of two words for one property counts ("large, no, small"). What is said of a part isn't taken for the
    /// thing: a metal lid makes no metal jar. What is denied ("not heavy") or left open ("round or oval") is no
    /// property and is given back, to be asked about. "Flat" and "soft" by themselves are said of the thing, "medium"
    /// of its size; its lid, sound and weight take a second word: "flat lid", "soft sound", "medium weight".
    ///
    /// Marks are read first, by [`Mark::read`](super::Mark::read): a band on the lid says nothing of the lid.
    ///
    /// ```
    /// use tellshelf::stock::Feel;
    /// let read = |s: &'static str| Feel::read(&s.split(' ').collect::<Vec<_>>());
    /// let (feel, rest) = read("a big square tin with a ring pull that rattles and looks green");
    /// assert_eq!(feel.to_string(), "large square can with a pop top, rattles");
    /// assert_eq!(rest, ["looks", "green"]);
    /// assert_eq!(read("glass jar with a wide metal lid").0.to_string(), "glass jar with a wide lid");
    /// assert_eq!(read("not heavy").1, ["not", "heavy"]);
    /// ```
    pub fn read<'w>(words: &[&'w str]) -> (Self, Vec<&'w str>) {
        let pieces = pieces(words);
        let mut taken = vec![false; pieces.len()];
        let mut feel = Self::default();
        for (at, piece) in pieces.iter().enumerate() {
            let property = match piece.role {
                Role::Says(property) => Some(property),
                Role::ForLid => None,
                _ => continue,
            };
            if is_denied(&pieces, at) || is_left_open(&pieces, at) {
                continue;
            }
            let meant = match part_meant(&pieces, at) {
                None => property,
                // Of other parts than the lid nothing is kept.
                Some(part) if pieces[part].role == Role::Part => None,
                Some(part) => says_of_lid(piece.words).inspect(|_| taken[part] = true),
            };
            if let Some(meant) = meant {
                feel = feel.with(meant);
                taken[at] = true;
            }
        }
        let rest = pieces.iter().zip(taken).filter(|(piece, taken)| {
            !taken && !matches!(piece.role, Role::Small | Role::Break | Role::Link)
        });
        let rest = rest.flat_map(|(piece, _)| piece.words.iter().copied());
        (feel, rest.collect())
    }
}

/// Whether a word denies what follows it.
pub(super) fn denies(word: &str) -> bool {
    word.ends_with("n't") || matches!(word, "not" | "no" | "without" | "never" | "nor" | "neither")
}

fn pieces<'w, 's>(words: &'s [&'w str]) -> Vec<Piece<'w, 's>> {
    let mut pieces = Vec::new();
    let mut rest = words;
    while let Some(word) = rest.first() {
        let (len, role) = match longest_phrase(rest) {
            Some((len, property)) => (len, Role::Says(property)),
            None if *word == "no" && corrects(&rest[1..]) => (1, Role::Break),
            None if says_of_lid(&rest[..1]).is_some() => (1, Role::ForLid),
            None => (1, role_of(word)),
        };
        let (words, after) = rest.split_at(len);
        pieces.push(Piece { words, role });
        rest = after;
    }
    pieces
}

/// Whether a "no" before these words takes back what was said: "no spout" denies, "large, no, small" doesn't.
fn corrects(words: &[&str]) -> bool {
    longest_phrase(words)
        .is_some_and(|(_, property)| !matches!(property, Property::Lid(_) | Property::Sound(_)))
}

fn role_of(word: &str) -> Role {
    match word {
        "or" => Role::Or,
        "is" | "are" | "feels" | "feel" | "it's" | "that's" | "sounds" => Role::Link,
        _ if denies(word) => Role::Not,
        _ if LIDS.contains(&word) => Role::Lid,
        _ if PARTS.contains(&word) => Role::Part,
        _ if SMALL.contains(&word) => Role::Small,
        _ if BREAKS.contains(&word) => Role::Break,
        _ => Role::Other,
    }
}

/// The longest phrase that the words begin with: how many they are, and what it says.
fn longest_phrase(words: &[&str]) -> Option<(usize, Property)> {
    let found = PHRASES.iter().flat_map(|(phrases, property)| {
        let lengths = phrases
            .iter()
            .filter_map(|phrase| length_at_start(phrase, words));
        lengths.map(move |len| (len, *property))
    });
    found.max_by_key(|(len, _)| *len)
}

/// How many words a phrase has, if the words begin with it. For "lid" any word for one will do.
fn length_at_start(phrase: &str, words: &[&str]) -> Option<usize> {
    let mut len = 0;
    for wanted in phrase.split(' ') {
        let word = words.get(len)?;
        let fits = *word == wanted || wanted == "lid" && LIDS.contains(word);
        if !fits {
            return None;
        }
        len += 1;
    }
    Some(len)
}

/// Whether the row of words that a piece stands in is denied: "not a tall can" is no can either.
fn is_denied(pieces: &[Piece<'_, '_>], at: usize) -> bool {
    let before = pieces[..at].iter().rev().find(|piece| {
        let is_article = matches!(piece.words, ["a" | "an" | "the"]);
        !is_article && !matches!(piece.role, Role::Says(_) | Role::Or | Role::Small)
    });
    before.is_some_and(|piece| piece.role == Role::Not)
}

fn is_left_open(pieces: &[Piece<'_, '_>], at: usize) -> bool {
    let is_or = |piece: Option<&Piece<'_, '_>>| piece.is_some_and(|piece| piece.role == Role::Or);
    let is_heavier = |piece: &&Piece<'_, '_>| piece.role != Role::Small;
    let before = pieces[..at].iter().rev().find(is_heavier);
    let after = pieces[at + 1..].iter().find(is_heavier);
    is_or(before) || is_or(after)
}

/// The part that a piece is said of, if it isn't said of the whole thing: by what follows ("smooth metal lid"), or by
/// what went before ("the lid is smooth").
fn part_meant(pieces: &[Piece<'_, '_>], at: usize) -> Option<usize> {
    // These are never said of a part, and a lid's own words name theirs.
    if matches!(
        pieces[at].role,
        Role::Says(
            Property::Container(_) | Property::Weight(_) | Property::Sound(_) | Property::Lid(_)
        )
    ) {
        return None;
    }
    part_after(pieces, at).or_else(|| part_before(pieces, at))
}

fn part_after(pieces: &[Piece<'_, '_>], at: usize) -> Option<usize> {
    let mut next = at + 1;
    while !pieces.get(next)?.role.is_part() {
        if !pieces[next].role.goes_on() {
            return None;
        }
        next += 1;
    }
    // In "square pop top can" the can is square; but in "plastic screw top bottle" the top is plastic, or may be.
    let then = pieces[next + 1..]
        .iter()
        .find(|piece| !piece.role.goes_on());
    let names_a_kind =
        pieces[next].role != Role::Part && then.is_some_and(|piece| piece.role.is_container());
    let is_material = matches!(pieces[at].role, Role::Says(Property::Material(_)));
    (!names_a_kind || is_material && next == at + 1).then_some(next)
}

fn part_before(pieces: &[Piece<'_, '_>], at: usize) -> Option<usize> {
    let link = pieces[..at]
        .iter()
        .rposition(|piece| !piece.role.goes_on())?;
    let part = link.checked_sub(1)?;
    (pieces[link].role == Role::Link && pieces[part].role.is_part()).then_some(part)
}

/// What words say of a lid, if they say anything of one.
fn says_of_lid(words: &[&str]) -> Option<Property> {
    let as_lid = [words, &["lid"]].concat();
    let (len, property) = longest_phrase(&as_lid)?;
    (len == as_lid.len() && matches!(property, Property::Lid(_))).then_some(property)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (String, String) {
        let (feel, rest) = Feel::read(&text.split(' ').collect::<Vec<_>>());
        (feel.to_string(), rest.join(" "))
    }

    #[test]
    fn words_are_read_as_they_are_meant() {
        // Written by hand, from the meaning.
        for (said, feel, rest) in [
            (
                "flat square can with a pop top heavy sloshes",
                "flat square can with a pop top, heavy, sloshes",
                "",
            ),
            ("a square pop top can", "square can with a pop top", ""),
            ("it is large no small", "small thing", ""),
            ("a small bag that rustles", "small bag, rustles", ""),
            (
                "tall jar with a smooth wide lid",
                "tall jar with a wide lid",
                "",
            ),
            ("a wide mouth glass jar", "glass jar with a wide lid", ""),
            ("soft bag soft sound", "soft bag, soft sound", ""),
            ("medium box medium weight", "medium box, medium weight", ""),
            ("a little heavy", "heavy", ""),
            ("heavy for its size", "heavy", ""),
            ("a wide jar", "jar", "wide"),
            ("jar whose lid is wide", "jar with a wide lid", "whose"),
            ("the lid is ridged", "thing with a ridged lid", ""),
            ("makes no sound", "no sound", ""),
            ("bottle with a narrow neck", "bottle with a narrow lid", ""),
            ("a blue one", "", "blue"),
            ("", "", ""),
        ] {
            assert_eq!(read(said), (feel.to_owned(), rest.to_owned()), "{said}");
        }
    }

    #[test]
    fn what_is_said_of_a_part_isnt_taken_for_the_thing() {
        assert_eq!(
            read("can with a paper label"),
            ("can".to_owned(), "paper label".to_owned())
        );
        assert_eq!(
            read("glass jar with a metal lid"),
            ("glass jar".to_owned(), "metal lid".to_owned())
        );
        assert_eq!(
            read("bottle with a plastic screw cap"),
            ("bottle with a screw lid".to_owned(), "plastic".to_owned())
        );
        assert_eq!(
            read("plastic screw top bottle"),
            ("bottle with a screw lid".to_owned(), "plastic".to_owned())
        );
        assert_eq!(
            read("jar with a small round lid"),
            ("jar with a narrow lid".to_owned(), "round".to_owned())
        );
        assert_eq!(
            read("jar the lid is metal"),
            ("jar".to_owned(), "lid metal".to_owned())
        );
    }

    #[test]
    fn what_is_denied_or_left_open_is_given_back() {
        assert_eq!(
            read("a can that isn't very heavy"),
            ("can".to_owned(), "isn't heavy".to_owned())
        );
        assert_eq!(
            read("not a tall can"),
            (String::new(), "not tall can".to_owned())
        );
        assert_eq!(
            read("a round or oval box"),
            ("box".to_owned(), "round or oval".to_owned())
        );
        assert_eq!(
            read("a box without a lid"),
            ("box".to_owned(), "without lid".to_owned())
        );
    }
}
