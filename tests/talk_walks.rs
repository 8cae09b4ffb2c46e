//! On a walk: what is said there is taken for what it is, and what isn't known is asked about.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::talk::Session;
use typed::{begin, go, go_on, say};

#[test]
fn talk_is_no_spent_tag() {
    go(&[
        ("add oats to the pantry", "Oats: pantry."),
        ("spent tags", "Read the first spent tag."),
        ("okay", "I know no okay. Note it all the same? Yes or no."),
        ("hello", "I know no hello. Note it all the same? Yes or no."),
        (
            "99999",
            "Which tag was that? I got: ninety nine thousand nine hundred ninety nine.",
        ),
        ("twelve again", "Which tag was that? I got: twelve again."),
        ("the oats", "Oats."),
        ("stop", "1 tag read: oats. 1 thing on the list."),
        ("read the list", "1 thing: oats."),
    ]);
}

#[test]
fn a_new_name_on_a_spent_tag_is_noted_once_it_is_confirmed() {
    go(&[
        ("spent tags", "Read the first spent tag."),
        ("zhoug", "I know no zhoug. Note it all the same? Yes or no."),
        ("yes", "Zhoug. A new name."),
        ("done", "1 tag read: zhoug. 1 thing on the list."),
    ]);
}

#[test]
fn what_is_taken_instead_is_in_place_of_what_there_is_none_of() {
    let mut session = begin();
    for thing in ["bread", "milk", "eggs"] {
        say(&mut session, &format!("I need {thing}"));
    }
    say(&mut session, "I'm going shopping");
    go_on(
        &mut session,
        &[
            ("next", "Bread."),
            (
                "they have no bread",
                "No bread; it stays on the list. Milk.",
            ),
            (
                "instead I took rolls",
                "Rolls instead of bread. 2 more to find.",
            ),
            ("next", "Eggs."),
            (
                "instead I took tofu",
                "Tofu instead of eggs. End of the list. 1 thing left; say next to begin again.",
            ),
            ("what's left", "1 thing: milk."),
        ],
    );
}

/// At home with a tag on the milk, and bread and apples without one.
fn at_home() -> Session {
    let mut session = begin();
    for line in [
        "I need bread",
        "I need apples",
        "I'm going shopping",
        "temporary tag milk",
        "got the bread",
        "got the apples",
        "I'm home",
    ] {
        say(&mut session, line);
    }
    session
}

#[test]
fn a_tag_on_nothing_that_waits_becomes_no_kitchen_tag_unasked() {
    go_on(
        &mut at_home(),
        &[
            ("put things away", "3 things. Milk: tag 1. Where?"),
            (
                "in the fridge",
                "Milk: fridge. Tag 1 is free. Bread. Where?",
            ),
            ("tag one", "No tag 1 waits."),
            ("tag nine", "Kitchen tag 9 for the milk? Yes or no."),
            ("no", "All right. Nothing changed."),
            ("tag nine", "Kitchen tag 9 for the milk? Yes or no."),
            ("yes", "Tag 9: milk, fridge. Bread. Where?"),
            ("pantry", "Bread: pantry. Apples. Where?"),
            ("kitchen tag eight", "Tag 8: bread, pantry. Apples. Where?"),
        ],
    );
}

#[test]
fn the_place_of_what_was_just_put_away_is_put_right_and_the_next_thing_stays_in_hand() {
    for right in [
        "no I meant the pantry",
        "no in the pantry",
        "no, I said the pantry",
    ] {
        let mut session = at_home();
        go_on(
            &mut session,
            &[
                ("put things away", "3 things. Milk: tag 1. Where?"),
                (
                    "in the fridge",
                    "Milk: fridge. Tag 1 is free. Bread. Where?",
                ),
                (right, "Milk: pantry. Tag 1 is free. Bread. Where?"),
                ("counter", "Bread: counter. Apples. Where?"),
                ("where is the milk", "Milk: pantry."),
                ("where is the bread", "Bread: counter."),
            ],
        );
    }
}

#[test]
fn at_the_store_back_and_the_third_one_are_of_the_list_also_after_help() {
    let mut session = begin();
    for thing in ["bread", "milk", "eggs", "rice"] {
        say(&mut session, &format!("I need {thing}"));
    }
    say(&mut session, "I'm going shopping");
    go_on(
        &mut session,
        &[
            ("next", "Bread."),
            ("next", "Milk."),
            (
                "what can I say",
                "You can say: next, got it, they have none. Say more.",
            ),
            ("back", "Bread."),
            ("back", "That's the start. Bread."),
            ("the third one", "Eggs."),
            ("the previous line", "Milk."),
            ("next", "Eggs."),
            ("next", "Rice."),
            (
                "next",
                "End of the list. 4 things left; say next to begin again.",
            ),
            ("back", "Rice."),
        ],
    );
}
