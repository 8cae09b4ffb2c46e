//! What is called nearly like another thing is another thing: it is never taken for it without a question.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, go_on, say};

#[test]
fn a_name_with_another_word_is_a_name_of_its_own() {
    go(&[
        (
            "add ear candles to the bathroom",
            "Ear candles: bathroom. A new name.",
        ),
        (
            "add spelt crackers to the pantry",
            "Spelt crackers: pantry. A new name.",
        ),
    ]);
}

#[test]
fn what_may_be_another_word_of_a_name_is_asked_about() {
    let mut session = begin();
    let reply = say(&mut session, "add coat milk to the fridge");
    assert_eq!(reply, "Did you say: add oat milk to the fridge? Yes or no.");
}

#[test]
fn a_question_is_not_answered_of_another_thing() {
    let mut session = go(&[
        (
            "add a jar of peanut butter to the pantry",
            "Peanut butter: 1 jar, pantry.",
        ),
        (
            "the peanut butter contains peanuts",
            "Peanut butter: contains peanuts.",
        ),
    ]);
    go_on(
        &mut session,
        &[
            (
                "does the nut butter contain peanuts",
                "I know no nut butter.",
            ),
            (
                "does the peanut buter contain peanuts",
                "Yes. Peanut butter: the label says peanuts.",
            ),
            (
                "does the peanut batter contain peanuts",
                "I know no peanut batter. Did you mean peanut butter? Yes or no.",
            ),
            ("yes", "Yes. Peanut butter: the label says peanuts."),
            ("where is the peanut buttar", "Peanut butter: pantry."),
        ],
    );
}

#[test]
fn a_slip_in_spelling_is_no_other_name() {
    go(&[
        (
            "add two cans of tomatos to the pantry",
            "Tomatoes: 2 cans, pantry.",
        ),
        ("where are the tomatos", "Tomatoes: pantry."),
        (
            "I used up the tomatos",
            "Tomatoes used up. Off the shelf: 2 cans, pantry. On the list.",
        ),
    ]);
}

#[test]
fn what_was_declined_is_not_offered_again() {
    go(&[
        (
            "add xat milk to the fridge",
            "Did you say: add oat milk to the fridge? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        (
            "add xat milk to the fridge",
            "Xat milk: fridge. A new name.",
        ),
    ]);
    go(&[
        (
            "add xat milk to the fridge",
            "Did you say: add oat milk to the fridge? Yes or no.",
        ),
        (
            "no, I said xat milk",
            "Not oat milk. Xat milk: fridge. A new name.",
        ),
    ]);
}
