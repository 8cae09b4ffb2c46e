//! What is put somewhere: back, away, or where it wasn't before.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn what_is_put_back_somewhere_is_what_is_there() {
    go(&[
        (
            "add a carton of milk to the fridge",
            "Milk: 1 carton, fridge.",
        ),
        ("I put the milk back in the fridge", "Milk: fridge."),
        (
            "put the milk back on the counter",
            "Milk: 1 carton moved, counter. Two hours out of the fridge at most, one in heat.",
        ),
        (
            "put the flour back on the top shelf",
            "No flour was noted. Note it now, top shelf? Yes or no.",
        ),
        ("put flour back on the list", "Flour on the list."),
        ("how much milk is left", "Milk: 1 carton, counter."),
    ]);
}

#[test]
fn a_name_with_a_word_that_names_seldom_have_is_asked_about() {
    go(&[
        ("add milk back", "Milk back: is that its name? Yes or no."),
        ("no", "All right. Nothing changed."),
        (
            "put other beans on the list",
            "Other beans: is that its name? Yes or no.",
        ),
        ("yes", "Other beans on the list. A new name."),
        ("put beans on the list", "Beans on the list."),
    ]);
}

#[test]
fn what_has_no_place_gets_it() {
    go(&[
        ("add salmon to the freezer", "Salmon: freezer."),
        (
            "I thawed the salmon",
            "Salmon: some thawed. No place known. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
        ("I put the salmon in the fridge", "Salmon: fridge."),
        ("how much salmon is left", "Salmon: some, fridge."),
        (
            "add a pound of chicken to the freezer",
            "Chicken: 1 pound, freezer.",
        ),
        (
            "I took the chicken out of the freezer",
            "Chicken: 1 pound thawed. No place known. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
        (
            "I put the chicken in the freezer",
            "Chicken: 1 pound frozen.",
        ),
        ("how much chicken is left", "Chicken: 1 pound, freezer."),
        ("add half a pound of ham", "Ham: 8 ounces."),
        ("it's in the fridge", "Ham: 8 ounces, fridge."),
        ("it's on the counter", "Ham: 8 ounces moved, counter."),
    ]);
}

#[test]
fn what_may_be_what_stood_elsewhere_is_asked_about() {
    go(&[
        (
            "add a loaf of bread to the bread box",
            "Bread: 1 loaf, bread box.",
        ),
        (
            "put the bread in the freezer",
            "Is that the bread from the bread box? Yes or no.",
        ),
        ("yes", "Bread: 1 loaf frozen."),
        ("add bread to the bread box", "Bread: bread box."),
        (
            "add three cans of corn to the pantry",
            "Corn: 3 cans, pantry.",
        ),
        (
            "I put two cans of corn in the cupboard",
            "Is that 2 cans of corn from the pantry? Yes or no.",
        ),
        ("yes", "Corn: 2 cans moved, cupboard. Besides, 1 can."),
        // There are only three: so these are others.
        (
            "I put four cans of corn in the cellar",
            "Corn: 4 cans, cellar.",
        ),
        (
            "put two cans of corn in the garage",
            "Is that 2 cans of corn from the cupboard? Yes or no.",
        ),
        ("no", "Corn: 2 cans, garage."),
        (
            "I put the corn on the counter",
            "Is that the corn from the pantry? Yes or no.",
        ),
        ("yes", "Corn: 1 can moved, counter. Besides, 8 cans."),
    ]);
}

#[test]
fn what_waits_is_put_away_and_what_is_there_is_moved() {
    go(&[
        ("add two eggs to the fridge", "Eggs: 2, fridge."),
        ("put six eggs on the list", "On the list: 6 eggs."),
        (
            "I'm going shopping",
            "1 thing on the list. Say next for each.",
        ),
        ("got the eggs", "Got eggs. That was all of it."),
        ("I'm home", "1 thing to put away. Say: put things away."),
        ("put away the eggs in the fridge", "Eggs: 6, fridge."),
        ("put things away", "Nothing is to be put away."),
        ("put away the eggs in the fridge", "Eggs: fridge."),
        ("put away the eggs in the pantry", "Eggs: 8 moved, pantry."),
    ]);
}
