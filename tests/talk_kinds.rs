//! What there is none of by that very name, while a kind of it is there: the kind is told, and never used up unasked.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

const GREEK: (&str, &str) = (
    "add a tub of greek yogurt to the fridge, use by December third",
    "Greek yogurt: 1 tub, fridge, use by December 3.",
);

#[test]
fn a_question_is_answered_of_the_kind_that_is_there() {
    go(&[
        GREEK,
        (
            "where is the yogurt",
            "No plain yogurt. Greek yogurt: fridge.",
        ),
        (
            "how much yogurt is left",
            "No plain yogurt. Greek yogurt: 1 tub, fridge.",
        ),
        (
            "when does the yogurt expire",
            "No plain yogurt. Greek yogurt: use by December 3, in 8 days, fridge.",
        ),
        ("add yogurt to the fridge door", "Yogurt: fridge door."),
        ("where is the yogurt", "Yogurt: fridge door."),
    ]);
}

#[test]
fn several_kinds_are_named() {
    go(&[
        ("add tomato soup to the pantry", "Tomato soup: pantry."),
        ("add onion soup to the fridge", "Onion soup: fridge."),
        (
            "where is the soup",
            "No plain soup. There is onion soup, tomato soup. Say which.",
        ),
        ("where is the rice", "No rice on the shelf."),
    ]);
}

#[test]
fn a_kind_is_used_up_only_if_that_is_meant() {
    go(&[
        GREEK,
        (
            "I used up the yogurt",
            "Do you mean the greek yogurt? Yes or no.",
        ),
        (
            "yes",
            "Greek yogurt used up. Off the shelf: 1 tub, fridge. On the list.",
        ),
    ]);
    go(&[
        GREEK,
        (
            "I used up the yogurt",
            "Do you mean the greek yogurt? Yes or no.",
        ),
        ("no", "Then did you say: I used up the yogurt? Yes or no."),
        ("yes", "Yogurt: none was noted. On the list."),
        ("where is the greek yogurt", "Greek yogurt: fridge."),
    ]);
    go(&[
        (
            "add three red onions to the pantry",
            "Red onions: 3, pantry.",
        ),
        (
            "I used two onions",
            "Do you mean the red onions? Yes or no.",
        ),
        ("yes", "Red onions: 1 left."),
        ("I used one onion", "Do you mean the red onions? Yes or no."),
        ("no", "All right. Nothing changed."),
    ]);
}

#[test]
fn a_name_is_found_by_how_it_begins_too() {
    go(&[
        (
            "add two pounds of chicken thighs to the freezer",
            "Chicken thighs: 2 pounds, freezer.",
        ),
        (
            "where is the chicken",
            "No plain chicken. Chicken thighs: freezer.",
        ),
        (
            "I thawed the chicken",
            "Do you mean the chicken thighs? Yes or no.",
        ),
    ]);
}

#[test]
fn a_word_that_is_no_name_yet_is_known_by_what_ends_in_it() {
    go(&[
        (
            "add leftover curry to the fridge",
            "Leftover curry: fridge. Say the day it was cooked. A new name.",
        ),
        (
            "I finished the curry",
            "Do you mean the leftover curry? Yes or no.",
        ),
        (
            "yes",
            "Leftover curry used up. Off the shelf: some, fridge.",
        ),
    ]);
}
