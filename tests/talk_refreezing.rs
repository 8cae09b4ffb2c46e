//! Freezing stops the time of what was thawed or opened, and never gives it back.

#[path = "common/typed.rs"]
mod typed;

use chrono::{Days, NaiveDateTime};
use tellshelf::stock::Source;
use tellshelf::talk::Session;
use typed::{begin, now};

/// Types a line some days after the first one.
fn say(session: &mut Session, days: u64, line: &str) -> String {
    let at: NaiveDateTime = now().checked_add_days(Days::new(days)).unwrap();
    session.hear(&[line], at, Source::Typed).reply
}

fn go(lines: &[(u64, &str, &str)]) {
    let mut session = begin();
    for (days, line, reply) in lines {
        assert_eq!(say(&mut session, *days, line), *reply, "to “{line}”");
    }
}

#[test]
fn what_was_thawed_too_long_is_asked_about_before_it_is_frozen_and_stays_so() {
    go(&[
        (
            0,
            "add a pound of chicken to the freezer",
            "Chicken: 1 pound, freezer.",
        ),
        (
            0,
            "I thawed the chicken",
            "Chicken: 1 pound thawed. No place known. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
        (
            4,
            "I froze the chicken",
            "Chicken: published guidance till Thursday, November 26, passed. When in doubt, throw it out. Freeze it anyway? Yes or no.",
        ),
        (4, "no", "All right. Nothing changed."),
        (
            4,
            "move the chicken to the freezer",
            "Chicken: published guidance till Thursday, November 26, passed. When in doubt, throw it out. Freeze it anyway? Yes or no.",
        ),
        (4, "yes", "Chicken: 1 pound frozen. Thawed before: 4 days."),
        (
            4,
            "when does the chicken expire",
            "Chicken: no date noted, frozen today, published guidance till Thursday, November 26, passed, 3 days ago, thawed before: 4 days, freezer. Check the label. When in doubt, throw it out.",
        ),
        (
            9,
            "I thawed the chicken",
            "Chicken: 1 pound thawed. Thawed before: 4 days. Its time has passed. Check the label. When in doubt, throw it out.",
        ),
        (9, "undo", "Undone: chicken thawed."),
        (
            9,
            "I used half a pound of chicken",
            "Chicken: 8 ounces left.",
        ),
        (
            9,
            "I thawed the chicken",
            "Chicken: 8 ounces thawed. Thawed before: 4 days. Its time has passed. Check the label. When in doubt, throw it out.",
        ),
    ]);
}

#[test]
fn a_new_thaw_goes_on_where_the_last_one_stopped() {
    go(&[
        (
            0,
            "add a pound of steak to the freezer",
            "Steak: 1 pound, freezer.",
        ),
        (
            0,
            "I thawed the steak",
            "Steak: 1 pound thawed. No place known. Published guidance: fridge, till Saturday, November 28; the label goes first.",
        ),
        (
            1,
            "I froze the steak",
            "Steak: 1 pound frozen. Thawed before: 1 day.",
        ),
        (
            10,
            "I thawed the steak",
            "Steak: 1 pound thawed. Thawed before: 1 day. Published guidance: fridge, till Monday, December 7; the label goes first.",
        ),
        (
            11,
            "I froze the steak",
            "Steak: 1 pound frozen. Thawed before: 2 days.",
        ),
        (
            20,
            "I thawed the steak",
            "Steak: 1 pound thawed. Thawed before: 2 days. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
    ]);
}

#[test]
fn what_is_past_its_date_is_asked_about_before_it_is_frozen() {
    go(&[
        (
            0,
            "add milk to the fridge, use by November twenty seventh",
            "Milk: fridge, use by Friday, November 27.",
        ),
        (
            3,
            "I froze the milk",
            "Milk: use by yesterday, passed. When in doubt, throw it out. Freeze it anyway? Yes or no.",
        ),
        (
            3,
            "what is on the list",
            "The list is empty. Milk: nothing changed.",
        ),
        (3, "yes", "There was no question."),
    ]);
}

/// Freezing keeps food as it was. Source: FSIS, "Food Product Dating", and the cold storage chart.
#[test]
fn what_was_frozen_before_its_date_has_not_passed_since() {
    go(&[
        (
            0,
            "add a pound of chicken to the fridge, use by November twenty seventh",
            "Chicken: 1 pound, fridge, use by Friday, November 27.",
        ),
        (0, "I froze the chicken", "Chicken: 1 pound frozen."),
        (
            3,
            "when does the chicken expire",
            "Chicken: frozen Wednesday, November 25, 3 days ago, before its use-by date, freezer.",
        ),
        (
            3,
            "what has expired",
            "Nothing has passed its date, of what has one.",
        ),
    ]);
}

#[test]
fn what_had_passed_when_it_was_frozen_is_told_as_passed() {
    go(&[
        (
            0,
            "add a pound of ham to the fridge, use by November twenty seventh",
            "Ham: 1 pound, fridge, use by Friday, November 27.",
        ),
        (
            4,
            "I froze the ham",
            "Ham: use by Friday, November 27, passed. When in doubt, throw it out. Freeze it anyway? Yes or no.",
        ),
        (4, "yes", "Ham: 1 pound frozen."),
        (
            5,
            "what has expired",
            "1 thing: ham, use by Friday, November 27, passed, freezer. Check the label. When in doubt, throw it out.",
        ),
        (
            5,
            "when does the ham expire",
            "Ham: use by Friday, November 27, passed, 3 days ago, frozen yesterday, freezer. Check the label. When in doubt, throw it out.",
        ),
        (
            5,
            "what should I use first",
            "Nothing to eat has a date yet.",
        ),
    ]);
}

#[test]
fn what_is_alike_is_said_once() {
    go(&[
        (0, "add a can of tuna to the pantry", "Tuna: 1 can, pantry."),
        (0, "add a can of tuna to the garage", "Tuna: 1 can, garage."),
        (0, "add a can of tuna to the pantry", "Tuna: 1 can, pantry."),
        (0, "where is the tuna", "Tuna: pantry and garage."),
        (
            0,
            "when does the tuna expire",
            "Tuna: no date noted, pantry; no date noted, garage. Check the label.",
        ),
    ]);
}
