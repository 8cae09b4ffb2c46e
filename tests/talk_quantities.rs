//! How much: what is counted one by one, what comes in packs, and what is left of it.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn one_of_what_a_pack_holds_is_never_taken_for_the_pack() {
    go(&[
        (
            "add a carton of eggs to the fridge",
            "Eggs: 1 carton, fridge.",
        ),
        (
            "I used an egg",
            "Eggs: kept by the carton. A whole carton? Yes or no.",
        ),
        (
            "no",
            "Nothing changed. Say how many are left, or that they're used up.",
        ),
        ("how many eggs are left", "Eggs: 1 carton, fridge."),
        (
            "I used two eggs",
            "Eggs: kept by the carton. Nothing changed. Say how many are left, or that they're used up.",
        ),
        ("there are ten eggs left", "Eggs: 10, fridge."),
        ("I used an egg", "Eggs: 9 left."),
        (
            "add three boxes of crackers to the pantry",
            "Crackers: 3 boxes, pantry.",
        ),
        (
            "I ate two crackers",
            "Crackers: kept by the box. 2 boxes? Yes or no.",
        ),
        ("yes", "Crackers: 1 box left."),
        (
            "add a jar of pickles to the fridge",
            "Pickles: 1 jar, fridge.",
        ),
        (
            "I ate a pickle",
            "Pickles: kept by the jar. A whole jar? Yes or no.",
        ),
        ("add a bunch of bananas", "Bananas: 1 bunch."),
        (
            "I froze a banana",
            "Bananas: kept by the bunch. A whole bunch? Yes or no.",
        ),
        // Of "it" likewise.
        (
            "add a bag of apples to the counter",
            "Apples: 1 bag, counter.",
        ),
        (
            "I ate one of them",
            "Apples: kept by the bag. A whole bag? Yes or no.",
        ),
    ]);
}

#[test]
fn two_of_what_comes_in_cans_are_two_cans() {
    go(&[
        (
            "add four cans of beans to the pantry",
            "Beans: 4 cans, pantry.",
        ),
        ("I used two beans", "Beans: 2 cans left."),
        (
            "add two jars of honey to the pantry",
            "Honey: 2 jars, pantry.",
        ),
        ("I used one of the honey", "Honey: 1 jar left."),
    ]);
}

#[test]
fn what_is_counted_is_taken_from_what_is_counted_and_never_added_to_packs() {
    go(&[
        (
            "add a carton of eggs to the fridge, use by November twenty seventh",
            "Eggs: 1 carton, fridge, use by Friday, November 27.",
        ),
        (
            "add twelve eggs to the fridge, use by December third",
            "Eggs: 12, fridge, use by December 3.",
        ),
        ("how many eggs are left", "Eggs: 1 carton and 12, fridge."),
        (
            "I used an egg",
            "Eggs: 1 carton and 11 left. Taken from: use by December 3.",
        ),
        (
            "always keep six eggs",
            "Eggs: keep 6. You have 1 carton and 11: I can't compare that.",
        ),
    ]);
}

#[test]
fn of_what_is_open_a_share_or_the_end_is_that_of_the_open_one() {
    go(&[
        (
            "add three cartons of milk to the fridge",
            "Milk: 3 cartons, fridge.",
        ),
        (
            "I opened the milk",
            "Milk: 1 carton opened, fridge. Besides, 2 cartons unopened.",
        ),
        (
            "I used half of the milk",
            "Milk: two and a half cartons left. Taken from: opened.",
        ),
        (
            "I finished the milk",
            "Milk, opened: used up. 2 cartons unopened.",
        ),
        ("undo", "Undone: milk, opened, used up."),
        (
            "I used up the opened milk",
            "Milk, opened: used up. 2 cartons unopened.",
        ),
        (
            "I finished the open milk",
            "No milk is noted as opened. Nothing changed.",
        ),
        ("put the milk back", "Undone: milk, opened, used up."),
        (
            "the milk is gone",
            "Milk used up. Off the shelf: two and a half cartons, fridge. On the list.",
        ),
    ]);
}

#[test]
fn what_lies_in_one_pack_is_opened_together_and_the_begun_pack_first() {
    go(&[
        (
            "add six slices of ham to the fridge",
            "Ham: 6 slices, fridge.",
        ),
        ("I opened the ham", "Ham: 6 slices opened, fridge."),
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        ("I opened the eggs", "Eggs: 12 opened, fridge."),
        (
            "add three cartons of cream to the fridge",
            "Cream: 3 cartons, fridge.",
        ),
        (
            "I used half a carton of cream",
            "Cream: two and a half cartons left.",
        ),
        (
            "I opened the cream",
            "Cream: half a carton opened, fridge. Besides, 2 cartons unopened.",
        ),
    ]);
}

#[test]
fn what_is_in_one_place_can_be_meant() {
    go(&[
        (
            "add three cans of tuna to the pantry",
            "Tuna: 3 cans, pantry.",
        ),
        (
            "add four cans of tuna to the garage",
            "Tuna: 4 cans, garage.",
        ),
        (
            "I used a can of tuna from the garage",
            "Tuna: 6 cans left. Taken from: garage.",
        ),
        (
            "move two cans of tuna from the garage to the cupboard",
            "Tuna: 2 cans moved, cupboard. Besides, 4 cans.",
        ),
        (
            "I used up the tuna in the pantry",
            "Tuna, pantry: used up. 3 cans left.",
        ),
        (
            "I used a can of tuna from the cellar",
            "Cellar: no tuna is noted there. Nothing changed. Ask: where is the tuna.",
        ),
        (
            "how many cans of tuna are left",
            "Tuna: 1 can, garage; 2 cans, cupboard.",
        ),
        (
            "I finished a can of tuna",
            "Tuna: 2 cans left. Taken from: garage.",
        ),
    ]);
}

#[test]
fn of_several_that_were_taken_from_it_is_said_where_the_rest_is() {
    go(&[
        (
            "add four cans of corn to the cupboard",
            "Corn: 4 cans, cupboard.",
        ),
        (
            "move one can of corn to the pantry",
            "Corn: 1 can moved, pantry. Besides, 3 cans.",
        ),
        (
            "I used three and a half cans of corn",
            "Corn left: half a can, pantry.",
        ),
    ]);
}

#[test]
fn ounces_of_what_is_poured_are_fluid_whatever_is_said_of_it() {
    go(&[
        (
            "add sixty four fluid ounces of milk to the fridge",
            "Milk: 64 fluid ounces, fridge.",
        ),
        ("I drank 8 ounces of milk", "Milk: 56 fluid ounces left."),
        (
            "always keep 16 ounces of milk",
            "Milk: keep 16 fluid ounces.",
        ),
        (
            "I need 32 ounces of milk",
            "On the list: 32 fluid ounces of milk.",
        ),
        (
            "add one pound of ham to the fridge",
            "Ham: 1 pound, fridge.",
        ),
        ("I ate 4 ounces of ham", "Ham: 12 ounces left."),
    ]);
}

#[test]
fn what_nobody_could_measure_is_said_by_what_is_in_it() {
    go(&[
        (
            "add a five pound bag of flour to the pantry",
            "Flour: a 5 pound bag, pantry.",
        ),
        ("I used four pounds of flour", "Flour: 1 pound left."),
        (
            "add three five pound bags of rice to the pantry",
            "Rice: 3 5 pound bags, pantry.",
        ),
        (
            "I used one pound of rice",
            "Rice: 2 5 pound bags and 4 pounds left.",
        ),
    ]);
}
