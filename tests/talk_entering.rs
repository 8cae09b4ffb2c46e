//! What is entered and put right in the natural words: counted, put where it stands, opened, used without an amount; and what
//! is no name or no place.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, say};

#[test]
fn what_is_said_to_be_there_is_a_count_and_adds_nothing() {
    go(&[
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        (
            "there are four eggs in the fridge",
            "Eggs: 4, fridge; it was 12.",
        ),
        (
            "I have six eggs in the fridge",
            "Eggs: 6, fridge; it was 4.",
        ),
        ("I've got two eggs left", "Eggs: 2, fridge; it was 6."),
        ("how many eggs have I got", "Eggs: 2, fridge."),
        ("add two eggs to the fridge", "Eggs: 2, fridge."),
        ("I have three cans of coconut milk", "Coconut milk: 3 cans."),
        (
            "I have two cans of coconut milk",
            "Coconut milk: 2 cans; it was 3 cans.",
        ),
    ]);
}

#[test]
fn a_count_is_of_what_lies_in_that_place() {
    go(&[
        (
            "add six cans of beans to the pantry",
            "Beans: 6 cans, pantry.",
        ),
        (
            "I have two cans of beans in the garage",
            "Beans: 2 cans, garage.",
        ),
        (
            "there are four cans of beans in the pantry",
            "Beans: 4 cans, pantry; it was 6 cans.",
        ),
        ("undo", "Undone: the amount of beans."),
    ]);
}

#[test]
fn a_date_is_heard_behind_the_place_and_tells_what_is_new() {
    go(&[
        (
            "I have half a gallon of milk in the fridge, use by december fourth",
            "Milk: half a gallon, fridge, use by December 4.",
        ),
        (
            "I have half a gallon of milk in the fridge, use by december ninth",
            "Milk, noted before: half a gallon, fridge. Is this besides? Yes or no.",
        ),
        ("yes", "Milk: half a gallon, fridge, use by December 9."),
    ]);
}

#[test]
fn what_is_there_without_an_amount_is_asked_about() {
    go(&[
        (
            "I have turmeric",
            "No turmeric was noted. Note it now? Yes or no.",
        ),
        ("yes", "Turmeric noted."),
        (
            "I have a headache",
            "I know no headache. To note it, say add, then its name.",
        ),
        ("have I got yeast", "No yeast on the shelf."),
    ]);
}

#[test]
fn places_are_known_and_others_are_no_part_of_a_name() {
    go(&[
        (
            "add a jar of cumin to the spice rack",
            "Cumin: 1 jar, spice rack.",
        ),
        (
            "there is a roll of foil under the sink",
            "Foil: 1 roll, sink cabinet. A new name.",
        ),
        ("what's under the sink", "1 thing: foil, 1 roll."),
        (
            "add a bottle of wine to the wine rack",
            "I know no place wine rack. Say pantry, fridge, freezer, cupboard or counter.",
        ),
        (
            "put the wine in the wine rack",
            "I know no place wine rack. Say pantry, fridge, freezer, cupboard or counter.",
        ),
    ]);
}

#[test]
fn it_is_the_one_that_was_opened() {
    let opened = [
        (
            "add six cans of cat food to the pantry",
            "Cat food: 6 cans, pantry.",
        ),
        (
            "I opened a can of cat food",
            "Cat food: 1 can opened, pantry. Besides, 5 cans unopened.",
        ),
    ];
    for line in [
        "it's in the fridge",
        "I moved it to the fridge",
        "put the open can in the fridge",
        "put the open cat food in the fridge",
        "I put the opened can of cat food in the fridge",
    ] {
        let mut session = go(&opened);
        let moved = "Cat food: 1 can moved, fridge. Besides, 5 cans.";
        assert_eq!(say(&mut session, line), moved, "to “{line}”");
    }
}

#[test]
fn what_is_in_the_freezer_can_be_opened_and_a_part_of_it_frozen() {
    go(&[
        (
            "add two bags of frozen peas to the freezer",
            "Frozen peas: 2 bags, freezer.",
        ),
        (
            "I opened a bag of frozen peas",
            "Frozen peas: 1 bag opened, freezer. Besides, 1 bag unopened.",
        ),
        (
            "add a stick of butter to the fridge",
            "Butter: 1 stick, fridge.",
        ),
        (
            "I froze half of the butter",
            "Butter: half a stick frozen. Besides, half a stick.",
        ),
    ]);
}

#[test]
fn some_of_it_is_used_and_a_weight_is_said_as_one() {
    go(&[
        (
            "add a ten pound bag of flour to the pantry",
            "Flour: a 10 pound bag, pantry.",
        ),
        (
            "I used two cups of flour",
            "Flour: I can't take 2 cups from a 10 pound bag. Say: I used some flour.",
        ),
        ("I used some flour", "Flour: a 10 pound bag opened, pantry."),
        (
            "I used some of the flour",
            "Flour: opened before. Say how much is left, or that it's used up.",
        ),
        (
            "I used one pound two ounces of flour",
            "Flour: 8 pounds 14 ounces left.",
        ),
        (
            "I used a third of the flour",
            "Flour: about 5 pounds 15 ounces left.",
        ),
    ]);
}

#[test]
fn what_is_none_is_no_name() {
    go(&[
        ("add two", "Two of what? Say it again with the name."),
        (
            "put two on the list",
            "Two of what? Say it again with the name.",
        ),
        ("add a bag", "Bag of what? Say it again with the name."),
        (
            "add minus two cans of corn",
            "How many? Say it again with the number.",
        ),
        ("put uh coffee on the list", "Coffee on the list."),
        (
            "put peas, no, beans on the list",
            "Which of them? Say it again with one.",
        ),
        (
            "put milk eggs bread on the list",
            "Milk eggs bread: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: put milk on the list."),
        (
            "put peanut butter cookies on the list",
            "Peanut butter cookies on the list. A new name.",
        ),
    ]);
}

#[test]
fn what_is_gone_or_nearly_is_said_in_other_words_too() {
    go(&[
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        ("I just used two eggs", "Eggs: 10 left."),
        ("I dropped an egg", "Eggs: 9 left."),
        (
            "add two portions of curry to the fridge",
            "Curry: 2 portions, fridge. A new name.",
        ),
        (
            "I ate the curry",
            "Curry: all of it, 2 portions, fridge? Yes; or say how much.",
        ),
        ("we're nearly out of flour", "Flour on the list."),
        ("the rice is running low", "Rice on the list."),
    ]);
}

#[test]
fn what_was_thrown_out_in_part_is_not_all_gone() {
    let mut session = begin();
    say(&mut session, "add a bag of carrots to the fridge");
    say(&mut session, "I threw out some carrots");
    assert_eq!(
        say(&mut session, "where are the carrots"),
        "Carrots: fridge."
    );
}
