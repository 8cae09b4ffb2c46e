//! On a walk: what is said there is taken for what it is, and what isn't known is asked about.

#[path = "common/typed.rs"]
mod typed;

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
