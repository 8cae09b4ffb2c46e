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
    let mut session = go(&[
        (
            "add prednisone to the bathroom",
            "Prednisone: bathroom. A new name.",
        ),
        (
            "when does the prednisolone expire",
            "I know no prednisolone. Did you mean prednisone? Yes or no.",
        ),
    ]);
    let reply = say(&mut session, "add prednisolone to the bathroom");
    let asked = "Did you say: add prednisone to the bathroom? Yes or no.";
    assert_eq!(reply, asked);
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
                "Not known. Nobody read the label of nut butter for peanuts.",
            ),
            (
                "does the plum butter contain peanuts",
                "I know no plum butter.",
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

#[test]
fn plain_names_are_known_beside_longer_ones() {
    go(&[
        ("add peas to the freezer", "Peas: freezer."),
        ("add berries to the fridge", "Berries: fridge."),
        ("add goat milk to the fridge", "Goat milk: fridge."),
        (
            "add milk chocolate to the pantry",
            "Milk chocolate: pantry.",
        ),
        ("add salted butter to the fridge", "Salted butter: fridge."),
        ("add ear drops to the bathroom", "Ear drops: bathroom."),
        ("add corn to the pantry", "Corn: pantry."),
        ("put nuts on the list", "Nuts on the list."),
        ("put sauce on the list", "Sauce on the list."),
        (
            "add gluten free oats to the pantry",
            "Gluten-free oats: pantry.",
        ),
    ]);
}

#[test]
fn a_number_before_percent_is_part_of_the_name() {
    go(&[
        (
            "add two percent milk to the fridge",
            "Two percent milk: fridge.",
        ),
        ("where is the 2% milk", "Two percent milk: fridge."),
        (
            "add two cartons of one percent milk to the fridge",
            "One percent milk: 2 cartons, fridge.",
        ),
        (
            "add five percent vinegar to the pantry",
            "Five percent vinegar: pantry. A new name.",
        ),
    ]);
}

#[test]
fn the_published_time_is_told_of_the_very_food() {
    let mut session = begin();
    let reply = say(
        &mut session,
        "how long does cooked chicken keep in the fridge",
    );
    assert!(reply.starts_with("Cooked chicken: 3 to 4 days"), "{reply}");
    let reply = say(&mut session, "how long does cooked beef keep");
    assert!(reply.starts_with("Cooked beef: "), "{reply}");
    let reply = say(&mut session, "how long do cooked chickens feet keep");
    assert!(!reply.contains("year"), "{reply}");
}

#[test]
fn a_no_that_was_said_is_never_lost() {
    let oats = [("add a bag of oats to the pantry", "Oats: 1 bag, pantry.")];
    let mut session = go(&oats);
    for line in [
        "don't add milk to the fridge",
        "I did not use two bags of oats",
        "never put milk on the list",
    ] {
        say(&mut session, line);
        say(&mut session, "yes");
    }
    assert_eq!(session.stock().events().unwrap().len(), 1);
}
