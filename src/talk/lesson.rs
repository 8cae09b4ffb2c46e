//! The practice round: a beginner learns the first commands by saying them, on a kitchen that is thrown away.
//!
//! In: what was answered to each utterance, and what was carried out for it. Out: the same answer with a word about it,
//! and what to say next. Who practises can't do anything wrong: whatever else is said is answered as in earnest, and the
//! step is said again.

use super::answer::Answer;
use super::request::Request;
use crate::grammar::WakePhrase;
use crate::measure::{Amount, Quantity};
use crate::stock::{ItemName, Place};

/// What one step asks for.
struct Step {
    /// What is to be said.
    saying: &'static str,
    /// Whether it is this that was asked for; other words for it count as well.
    is_meant: fn(&Request) -> bool,
}

/// Three things that everybody needs, then how a mistake is mended, how something is found, and how to hear it again.
const STEPS: [Step; 7] = [
    Step {
        saying: "put milk on the list",
        is_meant: |request| matches!(request, Request::List(item, _) if item.as_str() == "milk"),
    },
    Step {
        saying: "read the list",
        is_meant: |request| matches!(request, Request::ReadList | Request::Wanted),
    },
    Step {
        saying: "put two cans of beans in the pantry",
        is_meant: |request| match request {
            Request::PutIn {
                goods,
                place: Some(place),
            } => is_two_cans_of_beans(&goods.item, goods.quantity.as_ref(), place),
            Request::PutSomewhere(item, quantity, place) => {
                is_two_cans_of_beans(item, quantity.as_ref(), place)
            }
            _ => false,
        },
    },
    Step {
        saying: "I used up the beans",
        is_meant: |request| matches!(request, Request::UsedUp(item, _) | Request::Finished(item) | Request::Use(item, ..) if item.as_str() == BEANS),
    },
    Step {
        saying: "undo",
        is_meant: |request| matches!(request, Request::Undo | Request::UndoSeveral(_)),
    },
    Step {
        saying: "where are the beans",
        is_meant: |request| matches!(request, Request::Where(item) if item.as_str() == BEANS),
    },
    Step {
        saying: "repeat that",
        is_meant: |request| matches!(request, Request::Repeat),
    },
];

const BEANS: &str = "beans";

/// Where they are to go, and how many, if that was said.
fn is_two_cans_of_beans(item: &ItemName, quantity: Option<&Quantity>, place: &Place) -> bool {
    let is_two = |quantity: &Quantity| quantity.parts().0 == Some(Amount::from_integer(2));
    item.as_str() == BEANS && place.as_str() == "pantry" && quantity.is_none_or(is_two)
}

/// The first words of the round.
pub(super) const BEGUN: &str = "Practice. Nothing here is kept.";
/// The last.
pub(super) const OVER: &str = "Practice is over. Your own kitchen is as it was.";
/// The reply to an end where nothing was begun.
pub(super) const NOT_BEGUN: &str = "No practice is on. Say: teach me.";
/// A step was left out.
pub(super) const SKIPPED: &str = "Skipped.";

/// How far the person has come.
pub(super) struct Lesson {
    at: &'static Step,
    later: &'static [Step],
    /// The last answer as it is in earnest, without a word about it: that is what "repeat" is to say.
    plain: String,
}

/// What comes of an utterance.
pub(super) enum Comment {
    /// The round goes on with this.
    GoesOn(Answer),
    /// That was the last step: what is said to it.
    Over(Answer),
}

impl Lesson {
    /// Begins, and says what to say first: with the wake phrase, since who has a microphone must say it once things have
    /// been quiet for a while.
    pub fn begin(phrase: Option<&WakePhrase>) -> (Self, String) {
        let [at, later @ ..] = &STEPS;
        let saying = match phrase {
            Some(phrase) => format!("{phrase}, {}", at.saying),
            None => at.saying.to_owned(),
        };
        let lesson = Self {
            at,
            later,
            plain: String::new(),
        };
        (lesson, format!("{BEGUN} Say: {saying}."))
    }

    /// What is asked for now.
    pub fn saying(&self) -> &'static str {
        self.at.saying
    }

    /// The next step, or `false` where that was the last.
    pub fn go_on(&mut self) -> bool {
        let Some((next, later)) = self.later.split_first() else {
            return false;
        };
        (self.at, self.later) = (next, later);
        true
    }

    /// Says what there is to say of an answer to what was carried out, with so many misses before it.
    pub fn comment(
        &mut self,
        answer: Answer,
        carried_out: Option<&Request>,
        misses: usize,
    ) -> Comment {
        let saying = self.at.saying;
        if answer.missed {
            // From the second one on, what can be said here has the step in it, and how to leave.
            let reply = match misses {
                0 => format!("{} Say: {saying}.", answer.reply),
                _ => answer.reply,
            };
            return Comment::GoesOn(Answer { reply, ..answer });
        }
        if !carried_out.is_some_and(self.at.is_meant) {
            // What was said again, and what can be said, has the step in it.
            if matches!(
                carried_out,
                Some(Request::Repeat | Request::Help | Request::Teach)
            ) {
                return Comment::GoesOn(answer);
            }
            let tails = [format!("Now say: {saying}."), String::new()];
            let reply = joined(&answer.reply, &tails);
            if carried_out.is_some() {
                self.plain.clone_from(&answer.reply);
            }
            return Comment::GoesOn(Answer { reply, ..answer });
        }
        let plain = if answer.repeated {
            std::mem::take(&mut self.plain)
        } else {
            answer.reply.clone()
        };
        if !self.go_on() {
            let tails = [format!("Right. {OVER}"), OVER.to_owned()];
            return Comment::Over(Answer::say(joined(&plain, &tails)));
        }
        let saying = self.at.saying;
        let tails = [
            format!("Right. Now say: {saying}."),
            format!("Now: {saying}."),
        ];
        let reply = joined(&plain, &tails);
        self.plain = plain;
        Comment::GoesOn(Answer {
            reply,
            // It is said with more behind it now.
            repeated: false,
            ..answer
        })
    }
}

/// A reply with the first tail for which there is room; with the last, if there is room for none.
fn joined(reply: &str, tails: &[String]) -> String {
    let words = |text: &str| text.split_whitespace().count();
    let room = super::wording::MOST_WORDS.saturating_sub(words(reply));
    let tail = tails.iter().find(|tail| words(tail) <= room);
    let tail = tail.or(tails.last()).map_or("", String::as_str);
    format!("{reply} {tail}").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::grammar::{Grammar, Lexicon, Verdict};

    #[test]
    fn what_a_step_asks_for_is_what_it_waits_for() {
        let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
        let grammar = grammar.in_mode("practice").unwrap();
        let (names, today) = (
            Lexicon::starter("en-US"),
            NaiveDate::from_ymd_opt(2026, 11, 25).unwrap(),
        );
        for step in &STEPS {
            let saying = step.saying;
            let understood = grammar.understand(&[saying], &names, today);
            assert_eq!(understood.verdict, Verdict::Accept, "{saying}");
            let request = Request::read(&understood.command.unwrap()).unwrap();
            assert!((step.is_meant)(&request), "{saying}: {request:?}");
            let others = STEPS.iter().filter(|other| other.saying != saying);
            assert_eq!(others.filter(|other| (other.is_meant)(&request)).count(), 0);
        }
    }

    #[test]
    fn a_long_answer_is_said_whole_and_what_is_next_in_fewer_words() {
        let (mut lesson, _) = Lesson::begin(None);
        assert!(lesson.go_on());
        let long = ["a"; 12].join(" ");
        let answer = Answer::say(long.clone());
        let Comment::GoesOn(answer) = lesson.comment(answer, Some(&Request::ReadList), 0) else {
            panic!("the round goes on");
        };
        assert_eq!(
            answer.reply,
            format!("{long} Now: put two cans of beans in the pantry.")
        );
    }
}
