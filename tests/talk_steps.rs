//! Directions are dictated and read step by step.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::stock::Source;
use tellshelf::talk::Session;
use typed::{go, now};

const DICTATED: [(&str, &str); 3] = [
    (
        "the directions for the rice are rinse it well",
        "Rice, directions: rinse it well.",
    ),
    (
        "another step boil ten minutes",
        "Rice, step 2: boil ten minutes.",
    ),
    ("the next step is let it rest", "Rice, step 3: let it rest."),
];

fn after_dictation(lines: &[(&str, &str)]) -> Session {
    go(&[&DICTATED[..], lines].concat())
}

#[test]
fn steps_are_read_one_by_one_and_back() {
    after_dictation(&[
        ("directions for the rice", "3 steps. One: rinse it well."),
        ("next step", "Two: boil ten minutes."),
        ("repeat that", "Two: boil ten minutes."),
        ("next step", "The last. Three: let it rest."),
        ("next step", "That was the last step."),
        ("back a step", "Two: boil ten minutes."),
        ("the first step", "One: rinse it well."),
        ("back a step", "That is the first. One: rinse it well."),
    ]);
}

#[test]
fn what_is_done_or_asked_between_two_steps_doesnt_lose_the_place() {
    after_dictation(&[
        ("how do I cook the rice", "3 steps. One: rinse it well."),
        ("I used up the oats", "Oats: none was noted. On the list."),
        (
            "what can I say",
            "You can say: add rice to the pantry, I used up the oats, read the list. Say more.",
        ),
        ("next step", "Two: boil ten minutes."),
        ("read the list", "1 thing: oats."),
        ("where is the rice", "No rice on the shelf."),
        ("next step", "The last. Three: let it rest."),
    ]);
}

#[test]
fn each_step_can_be_taken_back_by_itself() {
    let session = after_dictation(&[
        ("undo", "Undone: noting the last step of rice."),
        ("directions for the rice", "2 steps. One: rinse it well."),
        ("next step", "The last. Two: boil ten minutes."),
        ("undo", "Undone: noting the last step of rice."),
        // The step that was read last is gone.
        ("next step", "That was the last step."),
        ("the first step", "One: rinse it well."),
        ("undo", "Undone: noting the directions of rice."),
        (
            "next step",
            "No directions noted for rice. Have the label read.",
        ),
    ]);
    assert!(session.stock().shelf().unwrap().is_empty());
}

#[test]
fn a_step_is_added_to_what_is_named_in_the_order_they_were_said() {
    after_dictation(&[
        (
            "the directions for the pasta are salt the water",
            "Pasta, directions: salt the water.",
        ),
        ("add a step to the rice fluff it", "Rice, step 4: fluff it."),
        ("another step serve it", "Rice, step 5: serve it."),
        (
            "add a step to the directions for the pasta drain it",
            "Pasta, step 2: drain it.",
        ),
        ("directions for the rice", "5 steps. One: rinse it well."),
        ("back a step", "That is the first. One: rinse it well."),
        (
            "add a step to the oats stir them",
            "Oats, step 1: stir them.",
        ),
        ("directions for the oats", "Stir them."),
    ]);
}

#[test]
fn more_than_nine_steps_stay_in_order() {
    let words = [
        "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten",
    ];
    let mut session = go(&[(
        "the directions for the rice are open one",
        "Rice, directions: open one.",
    )]);
    let mut say = |line: &str| session.hear(&[line], now(), Source::Typed).reply;
    for (at, word) in words.iter().enumerate() {
        let word = word.to_lowercase();
        let reply = say(&format!("another step open {word}"));
        assert_eq!(reply, format!("Rice, step {}: open {word}.", at + 2));
    }
    assert_eq!(say("another step close them"), "Rice, step 11: close them.");
    assert_eq!(say("directions for the rice"), "11 steps. One: open one.");
    for word in words {
        assert_eq!(
            say("next step"),
            format!("{word}: open {}.", word.to_lowercase())
        );
    }
    assert_eq!(say("next step"), "The last. Eleven: close them.");
}

#[test]
fn a_step_of_nothing_is_asked_about_and_changes_nothing() {
    let session = go(&[
        (
            "another step drain it",
            "A step of what? Say: add a step to, the name, and the step.",
        ),
        (
            "next step",
            "No directions are being read. Say: how do I cook the rice.",
        ),
        (
            "directions for the rice",
            "No directions noted for rice. Have the label read.",
        ),
        (
            "next step",
            "No directions are being read. Say: how do I cook the rice.",
        ),
        (
            "the first step",
            "No directions are being read. Say: how do I cook the rice.",
        ),
    ]);
    assert_eq!(session.stock().events().unwrap().len(), 0);
}

#[test]
fn several_steps_are_not_replaced_unasked() {
    after_dictation(&[
        (
            "the directions for the rice are ask someone",
            "Rice has 3 steps. Replace them all? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        ("directions for the rice", "3 steps. One: rinse it well."),
        (
            "the directions for the rice are ask someone",
            "Rice has 3 steps. Replace them all? Yes or no.",
        ),
        ("yes", "Rice, directions: ask someone."),
        ("directions for the rice", "Ask someone."),
        ("undo", "Undone: noting the directions of rice."),
        ("directions for the rice", "3 steps. One: rinse it well."),
    ]);
}

#[test]
fn one_text_is_parted_only_where_then_begins_a_step() {
    go(&[
        (
            "the directions for the pasta are salt the water then cook eight minutes and then drain it",
            "Pasta, directions: salt the water then cook eight minutes and then drain it.",
        ),
        ("directions for the pasta", "3 steps. One: salt the water."),
        ("next step", "Two: cook eight minutes."),
        ("next step", "The last. Three: drain it."),
        (
            "the directions for the soup are heat it and stir now and then",
            "Soup, directions: heat it and stir now and then.",
        ),
        ("directions for the soup", "Heat it and stir now and then."),
    ]);
}

#[test]
fn a_kitchen_tag_says_every_step() {
    after_dictation(&[
        ("add a bag of rice to the pantry", "Rice: 1 bag, pantry."),
        (
            "kitchen tag twelve on the rice",
            "Tag 12: rice, 1 bag, pantry. Rinse it well. Boil ten minutes. Let it rest.",
        ),
    ]);
}

#[test]
fn the_next_step_is_no_next_line_at_the_store() {
    after_dictation(&[
        ("put milk on the list", "Milk on the list."),
        (
            "I'm going shopping",
            "1 thing on the list. Say next for each.",
        ),
        ("how do I cook the rice", "3 steps. One: rinse it well."),
        ("next step", "Two: boil ten minutes."),
        ("next", "Milk."),
        ("next step", "The last. Three: let it rest."),
        ("got it", "Got milk. That was all of it."),
    ]);
}

/// A file whose directions were dictated as one text, before there were steps.
#[test]
fn directions_of_one_text_are_one_step_to_which_others_are_added() {
    go(&[
        (
            "the directions for the oats are boil ten minutes",
            "Oats, directions: boil ten minutes.",
        ),
        ("how do I cook the oats", "Boil ten minutes."),
        ("next step", "That was the last step."),
        (
            "another step stir in the milk",
            "Oats, step 2: stir in the milk.",
        ),
        ("next step", "The last. Two: stir in the milk."),
    ]);
}

#[test]
fn a_step_that_is_added_while_directions_are_read_is_no_food() {
    after_dictation(&[
        ("how do I cook the rice", "3 steps. One: rinse it well."),
        (
            "add a step, wait ten minutes",
            "Rice, step 4: wait ten minutes.",
        ),
        (
            "add a step stool to the list",
            "A step stool is no step of directions. Say: I need a step stool.",
        ),
        (
            "I need a step stool",
            "On the list: 1 step stool. A new name.",
        ),
        ("next", "Two: boil ten minutes."),
        ("back", "One: rinse it well."),
    ]);
}

#[test]
fn commas_and_then_part_steps() {
    go(&[
        (
            "directions for the rice are rinse it, then boil it twelve minutes, then let it stand",
            "Rice, directions: rinse it then boil it twelve minutes then let it stand.",
        ),
        ("how do I cook the rice", "3 steps. One: rinse it."),
    ]);
}
