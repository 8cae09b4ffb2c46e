//! Medicines: no dose is ever told, and none is taken for food.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, go_on};

/// A kitchen with aspirin in it.
const ASPIRIN: &[(&str, &str)] = &[
    ("aspirin is a medicine", "Aspirin: a medicine? Yes or no."),
    ("yes", "Aspirin: a medicine. I never tell it by feel."),
];

#[test]
fn a_dose_is_never_told() {
    for line in [
        "how many aspirin should I take",
        "how much aspirin can I take",
        "can I take two aspirin",
        "how often can I take the aspirin",
        "what is the dose of the aspirin",
    ] {
        go(&[(line, "I don't tell doses. Ask a pharmacist or a doctor.")]);
    }
    go(&[(
        "I took too much aspirin",
        "Call a doctor or your local poison control now.",
    )]);
}

#[test]
fn how_a_medicine_is_taken_is_asked_before_it_is_noted_and_read_as_a_note() {
    let mut session = go(ASPIRIN);
    go_on(
        &mut session,
        &[
            (
                "directions for the aspirin are two tablets every four hours",
                "Aspirin, a medicine: does its label say two tablets every four hours? Yes or no.",
            ),
            (
                "yes",
                "Aspirin, directions: two tablets every four hours. The label and the pharmacist go first.",
            ),
            (
                "how do I take the aspirin",
                "As you noted it: two tablets every four hours. The label and the pharmacist go first.",
            ),
            (
                "directions for the aspirin",
                "As you noted it: two tablets every four hours. The label and the pharmacist go first.",
            ),
        ],
    );
}

#[test]
fn what_is_taken_is_read_as_a_medicine_also_where_nobody_said_so() {
    let mut session = begin();
    go_on(
        &mut session,
        &[
            (
                "directions for the aspirin are one tablet",
                "Aspirin, a medicine: does its label say one tablet? Yes or no.",
            ),
            (
                "yes",
                "Aspirin, directions: one tablet. The label and the pharmacist go first.",
            ),
            (
                "how do I take the aspirin",
                "As you noted it: one tablet. The label and the pharmacist go first.",
            ),
        ],
    );
}

#[test]
fn a_medicine_gets_another_name_only_after_a_question() {
    let mut session = go(ASPIRIN);
    go_on(
        &mut session,
        &[
            (
                "call it candy",
                "Aspirin, a medicine: call it candy? Yes or no.",
            ),
            ("no", "All right. Nothing changed."),
            ("where is the aspirin", "No aspirin on the shelf."),
            (
                "call it candy",
                "Aspirin, a medicine: call it candy? Yes or no.",
            ),
            ("yes", "Candy, no longer aspirin."),
        ],
    );
}

#[test]
fn that_it_is_a_medicine_is_said_where_it_lies_and_on_its_tag() {
    let mut session = go(ASPIRIN);
    go_on(
        &mut session,
        &[
            (
                "add a bottle of aspirin to the bathroom",
                "Aspirin: 1 bottle, bathroom.",
            ),
            (
                "what is in the bathroom",
                "1 thing: aspirin, a medicine, 1 bottle.",
            ),
            (
                "kitchen tag twelve on the aspirin",
                "Tag 12: aspirin, a medicine, 1 bottle, bathroom.",
            ),
            (
                "what is tag twelve",
                "Tag 12: aspirin, a medicine, 1 bottle, bathroom.",
            ),
        ],
    );
}

#[test]
fn what_can_hurt_comes_first_on_a_tag() {
    go(&[
        (
            "add two boxes of cookies to the pantry, best by December third",
            "Cookies: 2 boxes, pantry, best by December 3.",
        ),
        ("the cookies contain peanuts", "Cookies: contains peanuts."),
        (
            "kitchen tag four on the cookies",
            "Tag 4: cookies. Contains peanuts. 2 boxes, best by December 3, pantry.",
        ),
    ]);
}

#[test]
fn a_medicine_among_food_is_told() {
    let mut session = go(ASPIRIN);
    go_on(
        &mut session,
        &[
            ("add six apples to the fruit bowl", "Apples: 6, fruit bowl."),
            (
                "add a bottle of aspirin to the bathroom",
                "Aspirin: 1 bottle, bathroom.",
            ),
            (
                "move the aspirin to the fruit bowl",
                "Aspirin: 1 bottle moved, fruit bowl. Aspirin is a medicine, and food is there.",
            ),
            (
                "add two lemons to the fruit bowl",
                "Lemons: 2, fruit bowl. A medicine is there: aspirin.",
            ),
        ],
    );
}
