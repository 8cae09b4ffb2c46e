//! What the forecast puts on the list, as it is talked about.

#[path = "common/typed.rs"]
mod typed;

use chrono::{Days, NaiveDate, NaiveDateTime};
use tellshelf::stock::Source;
use tellshelf::talk::Session;

/// A Wednesday, and the days after it.
fn day(n: u64) -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap() + Days::new(n);
    day.and_hms_opt(10, 0, 0).unwrap()
}

struct Kitchen(Session);

impl Kitchen {
    /// In which a carton of milk was used every sixth day, four times.
    fn new(cartons: &str) -> Self {
        let mut kitchen = Self(typed::begin());
        kitchen.say(0, &format!("add {cartons} cartons of milk to the fridge"));
        for n in 0..4 {
            kitchen.say(6 * n, "I used a carton of milk");
        }
        kitchen
    }

    fn say(&mut self, n: u64, line: &str) -> String {
        self.0.hear(&[line], day(n), Source::Typed).reply
    }

    fn go(&mut self, n: u64, lines: &[(&str, &str)]) {
        for (line, reply) in lines {
            assert_eq!(self.say(n, line), *reply, "to “{line}”");
        }
    }
}

#[test]
fn what_runs_out_before_the_next_trip_is_on_the_list_and_that_is_said() {
    Kitchen::new("six").go(
        24,
        &[
            ("read the list", "The list is empty."),
            (
                "I used a carton of milk",
                "Milk: 1 carton left. Likely to run out around Thursday, December 24: on the list.",
            ),
            (
                "why is the milk on the list",
                "Milk: you use it about every 6 days; likely to run out around Thursday, December 24, \
                 between Monday, December 21 and December 28, 2026.",
            ),
            ("what is on the list", "1 thing: milk."),
            ("undo", "Undone: using 1 carton of milk."),
            ("read the list", "The list is empty."),
        ],
    );
}

#[test]
fn what_was_taken_off_the_list_is_not_put_back_by_itself() {
    let mut kitchen = Kitchen::new("six");
    kitchen.say(24, "I used a carton of milk");
    kitchen.go(
        30,
        &[
            (
                "take the milk off the list",
                "Milk off the list. The list is empty.",
            ),
            ("I used half a carton of milk", "Milk: half a carton left."),
            ("I'm going shopping", "The list is empty."),
            ("why is the milk on the list", "Not on the list: milk."),
        ],
    );
}

#[test]
fn going_shopping_says_how_many_are_likely_to_run_out() {
    let mut kitchen = Kitchen::new("seven");
    kitchen.say(24, "I used a carton of milk");
    kitchen.go(
        29,
        &[
            ("buy oats", "Oats on the list."),
            (
                "I'm going shopping",
                "2 things on the list, 1 of them likely to run out soon. Say next for each.",
            ),
            (
                "undo",
                "Nothing is ticked off. Undo going shopping? Yes or no.",
            ),
            ("yes", "Undone: going shopping."),
            (
                "take the oats off the list",
                "Oats off the list. The list is empty.",
            ),
            (
                "I'm going shopping",
                "1 thing on the list, likely to run out soon. Say next for each.",
            ),
            ("next", "Milk."),
            ("got it", "Got milk. That was all of it."),
            ("I'm home", "1 thing to put away. Say: put things away."),
        ],
    );
}

#[test]
fn why_it_is_listed_is_told_also_once_it_is_gone() {
    let mut kitchen = Kitchen::new("six");
    kitchen.say(24, "I used a carton of milk");
    kitchen.say(25, "I used up the milk");
    kitchen.go(
        26,
        &[(
            "why is the milk on the list",
            "Milk: listed on Saturday, December 19, as likely to run out.",
        )],
    );
}
