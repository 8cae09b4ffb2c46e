//! What can be said here: for who asks, and for who wasn't understood twice.
//!
//! In: the point at which the talk is. Out: sayings that are understood there, in the order in which they are of use.
//! They are said three at a time, as every list is, so that nobody has to keep twenty commands in mind.

use super::question::Question;
use super::reading::{AT_ONCE, Listing};

/// Where the talk is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Point {
    /// On no walk: anything can be said.
    Outside,
    /// Spent tags are read.
    Spent,
    /// At the store.
    Store,
    /// Things get their places.
    Away,
    /// A code was read that nobody knows.
    Code,
    /// A question wants yes or no.
    YesOrNo,
    /// It is asked what a date means.
    WhatDate,
    /// It is asked what ounces measure.
    WhatOunces,
    /// In the practice round, where this is asked for.
    Practice(&'static str),
}

/// What a beginner needs first, and then the round: kitchen, list, store, putting away.
const OUTSIDE: [&str; 19] = [
    "add rice to the pantry",
    "I used up the oats",
    "read the list",
    "undo",
    "repeat that",
    "teach me",
    "put milk on the list",
    "what expires this week",
    "where is the flour",
    "slower",
    "how do I correct a mistake",
    "how much rice is left",
    "what is running low",
    "spent tags",
    "I'm going shopping",
    "put things away",
    "I opened the milk",
    "how do I cook the oats",
    "what changed today",
];
const SPENT: [&str; 5] = ["tag twelve", "oats", "done", "undo", "repeat that"];
const STORE: [&str; 8] = [
    "next",
    "got it",
    "they have none",
    "instead I took honey",
    "what's left",
    "temporary tag for salmon",
    "undo",
    "I'm home",
];
const AWAY: [&str; 9] = [
    "in the fridge",
    "in the usual place",
    "skip it",
    "tag three",
    "the one with two bands",
    "I can't tell",
    "done",
    "undo",
    "repeat that",
];
const CODE: [&str; 2] = ["this is the rice", "this is tag twelve"];
const YES_OR_NO: [&str; 3] = ["yes", "no", "repeat that"];
const WHAT_DATE: [&str; 5] = ["use by", "best by", "sell by", "repeat that", "never mind"];
const WHAT_OUNCES: [&str; 4] = ["by weight", "fluid ounces", "repeat that", "never mind"];

impl Point {
    /// Where a question waits.
    pub fn asked(question: &Question) -> Self {
        match question {
            Question::WhatDate { .. } => Self::WhatDate,
            Question::WhatOunces(_) => Self::WhatOunces,
            _ => Self::YesOrNo,
        }
    }

    fn sayings(self) -> Vec<&'static str> {
        match self {
            Self::Outside => OUTSIDE.to_vec(),
            Self::Spent => SPENT.to_vec(),
            Self::Store => STORE.to_vec(),
            Self::Away => AWAY.to_vec(),
            Self::Code => CODE.to_vec(),
            Self::YesOrNo => YES_OR_NO.to_vec(),
            Self::WhatDate => WHAT_DATE.to_vec(),
            Self::WhatOunces => WHAT_OUNCES.to_vec(),
            Self::Practice(saying) => vec![saying, "skip", "stop practising"],
        }
    }

    /// The reply to "what can I say?"
    pub fn help(self) -> Listing {
        let sayings = self.sayings().into_iter().map(str::to_owned);
        Listing::new(YOU_CAN_SAY.to_owned(), sayings.collect())
    }
}

pub(super) const YOU_CAN_SAY: &str = "You can say";

/// Behind the second miss, every other reply is one of these: who hears the same twice learns nothing, and who was only
/// talking to someone else isn't talked at. No word in them could be the answer to what was asked, such as a no.
const IN_SHORT: [&str; 4] = [
    "I still didn't get that.",
    "Say it another way, please.",
    "I couldn't follow that.",
    "Say it in fewer words.",
];

/// Behind the first miss, where nothing was ever noted.
pub(super) const FOR_BEGINNERS: &str = " Say: what can I say. Or: teach me.";

/// What the sayings of a place are led in by: another one each time that they begin again.
const HEADS: [&str; 4] = [
    YOU_CAN_SAY,
    "Here, say",
    "Say one of these",
    "Understood here",
];

/// What is said to what wasn't understood, after so many misses in a row: never twice running the same.
pub(super) fn not_understood(heard: &str, misses: usize, point: Point) -> String {
    match misses {
        0 if heard.trim().is_empty() => "I heard nothing.".to_owned(),
        0 => "I didn't get that.".to_owned(),
        odd if odd % 2 == 1 => sayings_in_turn(misses / 2, point),
        even => IN_SHORT[(even / 2 - 1) % IN_SHORT.len()].to_owned(),
    }
}

/// The first three sayings of a place, then the next, and so on round.
fn sayings_in_turn(turn: usize, point: Point) -> String {
    let sayings = point.sayings();
    let pages: Vec<&[&str]> = sayings.chunks(AT_ONCE).collect();
    let count = pages.len().max(1);
    let page = pages.get(turn % count).copied().unwrap_or_default();
    let head = HEADS[turn / count % HEADS.len()];
    format!("{head}: {}.", page.join(", "))
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::super::reading::{ListPlace, Through};
    use super::*;
    use crate::grammar::{Grammar, Lexicon, Verdict};

    const EVERYWHERE: [(Point, Option<&str>); 9] = [
        (Point::Outside, None),
        (Point::Spent, Some("spent")),
        (Point::Store, Some("store")),
        (Point::Away, Some("away")),
        (Point::Code, Some("code")),
        (Point::YesOrNo, None),
        (Point::WhatDate, None),
        (Point::WhatOunces, None),
        (Point::Practice("put milk on the list"), Some("practice")),
    ];

    fn words(reply: &str) -> usize {
        reply.split_whitespace().count()
    }

    #[test]
    fn what_is_offered_is_understood_there_exactly() {
        let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
        let (names, today) = (
            Lexicon::starter("en-US"),
            NaiveDate::from_ymd_opt(2026, 11, 25).unwrap(),
        );
        for (point, mode) in EVERYWHERE {
            let inside = mode.map(|mode| grammar.in_mode(mode).unwrap());
            let here = inside.as_ref().unwrap_or(&grammar);
            for saying in point.sayings() {
                let understood = here.understand(&[saying], &names, today);
                assert_eq!(understood.verdict, Verdict::Accept, "{point:?}: {saying}");
                let command = understood.command.unwrap();
                assert_eq!(command.unknown_name(), None, "{point:?}: {saying}");
            }
        }
    }

    #[test]
    fn every_page_of_every_help_is_twenty_words_at_most() {
        for (point, _) in EVERYWHERE {
            let reply = point.help().reply();
            assert!(words(&reply) <= 20, "{reply}");
            let mut place = ListPlace::begin(point.help(), None);
            for _ in 0..point.sayings().len() {
                let page = place.go(Through::More);
                assert!(words(&page) <= 20, "{page}");
            }
            for way in [Through::Back, Through::FromTheStart] {
                let page = place.go(way);
                assert!(words(&page) <= 20, "{page}");
            }
        }
    }

    #[test]
    fn it_is_never_said_twice_running_how_little_was_understood() {
        for (point, _) in EVERYWHERE {
            let replies: Vec<String> = (0..40).map(|n| not_understood("hm", n, point)).collect();
            assert_eq!(replies[0], "I didn't get that.");
            assert!(replies[1].starts_with("You can say: "), "{point:?}");
            for pair in replies.windows(2) {
                assert_ne!(pair[0], pair[1], "{point:?}");
            }
            for reply in &replies[..16] {
                let again = replies[..16].iter().filter(|other| *other == reply);
                assert!(again.count() <= 2, "{point:?}: {reply}");
            }
            assert!(replies.iter().all(|reply| words(reply) <= 20));
        }
    }

    #[test]
    fn no_reply_to_what_was_not_understood_could_be_an_answer() {
        for (point, _) in EVERYWHERE {
            for misses in (0..40).step_by(2) {
                let reply = not_understood("are there nuts in it", misses, point).to_lowercase();
                let mut words = reply.split(|c: char| !c.is_alphanumeric());
                assert!(!words.any(|word| ["no", "not", "none", "nothing", "yes"].contains(&word)));
            }
        }
    }

    #[test]
    fn that_nothing_was_heard_is_told_once() {
        let reply = |misses| not_understood(" ", misses, Point::Outside);
        assert_eq!(reply(0), "I heard nothing.");
        assert!((1..9).all(|misses| reply(misses) != reply(0)));
    }
}
