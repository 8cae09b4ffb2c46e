//! What people naturally say, typed: each wording does what is meant by it, or nothing.

#[path = "common/kitchen.rs"]
mod kitchen;

use kitchen::Kitchen;
use serde_json::{Value, json};

/// Types lines into one kitchen, and compares each reply.
fn talk(lines: &[(&str, &str)]) {
    let said: Vec<&str> = lines.iter().map(|(said, _)| *said).collect();
    let replies = Kitchen::new().say(&said);
    for ((said, expected), reply) in lines.iter().zip(&replies) {
        assert_eq!(reply, expected, "to “{said}”");
    }
    assert_eq!(replies.len(), lines.len());
}

/// What is made of a line in an empty kitchen.
fn heard(line: &str) -> Value {
    Kitchen::new().say_json(&[line]).remove(0)
}

fn count(n: f64) -> Value {
    match n {
        n if n.fract() == 0.0 => json!({ "count": n as i64, "amount": null, "unit": null }),
        n => json!({ "count": n, "amount": null, "unit": null }),
    }
}

#[test]
fn one_thing_is_a_quantity_of_one() {
    for (line, intent, item) in [
        ("I used a carrot", "use", "carrots"),
        ("I ate an apple", "use", "apples"),
        ("add a lemon", "put-in", "lemons"),
        ("put an onion in the fridge", "put-in", "onions"),
        ("there is an onion in the fridge", "have", "onions"),
        ("I bought a lemon", "put-in", "lemons"),
        ("I need an onion", "list-add", "onions"),
        ("add another lemon", "put-in", "lemons"),
    ] {
        let object = heard(line);
        assert_eq!(
            (&object["intent"], &object["slots"]["quantity"]),
            (&json!(intent), &count(1.0)),
            "{line}"
        );
        assert_eq!(object["slots"]["item"], item, "{line}");
    }
    talk(&[
        ("add three carrots to the fridge", "Carrots: 3, fridge."),
        ("I used a carrot", "Carrots: 2 left."),
        ("add another carrot to the fridge", "Carrots: 1, fridge."),
        ("how many carrots are left", "Carrots: 3, fridge."),
    ]);
}

#[test]
fn half_a_thing_is_one_half() {
    for line in [
        "I used half an onion",
        "I used half a lemon",
        "put half an onion in the fridge",
        "I ate half of an apple",
    ] {
        assert_eq!(heard(line)["slots"]["quantity"], count(0.5), "{line}");
    }
    assert_eq!(
        heard("I used a quarter of an onion")["slots"]["quantity"],
        count(0.25)
    );
    talk(&[
        ("add two onions to the fridge", "Onions: 2, fridge."),
        ("I used half an onion", "Onions: one and a half left."),
    ]);
}

#[test]
fn a_pack_stays_a_pack() {
    for (line, unit) in [
        ("add a can of tuna", "can"),
        ("I bought a bag of flour", "bag"),
        ("I used half a carton of milk", "carton"),
        ("I used half a pound of butter", "pound"),
        ("add another can of tuna", "can"),
    ] {
        assert_eq!(heard(line)["slots"]["quantity"]["unit"], unit, "{line}");
    }
}

#[test]
fn who_is_out_of_a_thing_has_used_it_up() {
    for (line, item) in [
        ("we're out of milk", "milk"),
        ("we are all out of milk", "milk"),
        ("I'm out of eggs", "eggs"),
        ("I ran out of milk", "milk"),
        ("we've run out of flour", "flour"),
    ] {
        let object = heard(line);
        assert_eq!(
            (&object["intent"], &object["slots"]["item"]),
            (&json!("used-up"), &json!(item)),
            "{line}"
        );
    }
    talk(&[
        (
            "put a carton of milk in the fridge",
            "Milk: 1 carton, fridge.",
        ),
        (
            "we're out of milk",
            "Milk used up. Off the shelf: 1 carton, fridge. On the list.",
        ),
    ]);
}

#[test]
fn what_is_nearly_out_or_out_without_a_subject_is_not_used_up() {
    // It is to be bought, and is still there.
    let nearly = heard("we're almost out of milk");
    assert_eq!(nearly["intent"], "list-add", "{nearly}");
    for line in [
        "out of milk",
        "out of",
        "we are not out of milk",
        "take the milk out of the fridge",
    ] {
        let object = heard(line);
        assert_eq!(object["changed"], false, "{object}");
        assert_ne!(object["verdict"], "accept", "{object}");
    }
}

#[test]
fn how_much_there_is_can_be_asked_in_many_ways() {
    let mut lines = vec![(
        "add two bags of rice to the pantry",
        "Rice: 2 bags, pantry.",
    )];
    for line in [
        "Do we have enough rice",
        "do we still have rice",
        "do I still have any rice left",
        "how much rice is there",
        "how much is left of the rice",
        "how much of the rice is left",
    ] {
        lines.push((line, "Rice: 2 bags, pantry."));
    }
    talk(&lines);
}

#[test]
fn what_needs_to_be_used_up_is_what_goes_first() {
    let mut lines = vec![(
        "add one tub of yogurt to the fridge, use by November twenty-seventh",
        "Yogurt: 1 tub, fridge, use by Friday, November 27.",
    )];
    for line in [
        "what needs to be used up",
        "what needs to be used first",
        "what needs to be eaten soon",
    ] {
        lines.push((line, "1 thing: yogurt, use by Friday, November 27, fridge."));
    }
    talk(&lines);
}

#[test]
fn plenty_is_no_quantity() {
    talk(&[
        ("add plenty of rice to the pantry", "Rice: pantry."),
        ("how much rice is left", "Rice: some, pantry."),
    ]);
    for line in [
        "we have plenty of rice in the pantry",
        "I bought plenty of rice",
        "I used plenty of rice",
    ] {
        let object = heard(line);
        assert_eq!(object["changed"], false, "{object}");
        assert_eq!(object["slots"].get("quantity"), None, "{object}");
    }
}

#[test]
fn three_more_are_three() {
    talk(&[
        (
            "add two cans of corn to the pantry",
            "Corn: 2 cans, pantry.",
        ),
        (
            "add three more cans of corn to the pantry",
            "Corn: 3 cans, pantry.",
        ),
        ("how much corn is left", "Corn: 5 cans, pantry."),
        ("add two more lemons", "Lemons: 2."),
        ("I used one more lemon", "Lemons: 1 left."),
    ]);
}

/// What is near to a number is near to another one too.
#[test]
fn a_number_that_is_misspelled_is_never_taken_as_one() {
    for line in [
        "add tow bags of rice to the pantry",
        "add sevn eggs",
        "put fourtn eggs in the fridge",
    ] {
        assert_eq!(heard(line)["changed"], false, "{line}");
    }
}

#[test]
fn two_things_in_one_line_are_never_kept_as_one() {
    const ONE: &str = "One thing at a time. Say one, then the other.";
    for line in [
        "add a bag of flour and two cans of corn",
        "I bought a bag of flour and two cans of corn",
        "add two eggs and three lemons to the fridge",
        "I used two eggs and a lemon",
        "put the milk and the eggs in the fridge",
        "I used up the milk and the eggs",
        "got the milk and some eggs",
        "we need flour and two cans of corn",
    ] {
        let object = heard(line);
        assert_eq!(
            (&object["changed"], &object["reply"]),
            (&json!(false), &json!(ONE)),
            "{line}"
        );
    }
}

#[test]
fn what_may_be_two_things_is_asked_about_and_is_one_after_a_yes() {
    talk(&[
        (
            "add milk and eggs",
            "Milk and eggs: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: add milk."),
        (
            "I used up the milk and eggs",
            "Milk and eggs: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: I used up the milk."),
        (
            "add a bag of salt and vinegar chips",
            "Salt and vinegar chips: is that one thing? Yes or no.",
        ),
        ("yes", "Salt and vinegar chips: 1 bag. A new name."),
        (
            "add two bags of salt and vinegar chips",
            "Salt and vinegar chips: 2 bags.",
        ),
        (
            "add a box of macaroni and cheese to the pantry",
            "Macaroni and cheese: 1 box, pantry.",
        ),
        (
            "add a box of macaroni and cheese and two lemons to the pantry",
            "One thing at a time. Say one, then the other.",
        ),
    ]);
}

/// A statement mustn't become something else.
#[test]
fn where_a_thing_is_said_to_be_is_where_it_is() {
    let kitchen = Kitchen::new();
    kitchen.say(&[
        "add a dozen eggs to the pantry",
        "add two bags of rice to the pantry",
    ]);
    for line in ["the eggs are in the fridge", "the rice is in the freezer"] {
        let object = kitchen.say_json(&[line]).remove(0);
        assert_eq!(object["intent"], "is-there", "{object}");
        assert_eq!(object["changed"], true, "{object}");
    }
    for (place, reply) in [
        ("pantry", "Pantry: nothing noted."),
        ("fridge", "1 thing: eggs, 12."),
        ("freezer", "1 thing: rice, 2 bags."),
    ] {
        assert_eq!(kitchen.reply(&format!("what is in the {place}")), reply);
    }
}

#[test]
fn the_exact_name_wins_over_the_one_in_the_other_number() {
    for (said, item) in [
        ("pepper", "pepper"),
        ("peppers", "bell peppers"),
        ("jalapeno", "jalapenos"),
        ("red pepper", "red peppers"),
    ] {
        for line in [
            format!("add {said}"),
            format!("where are the {said}"),
            format!("I used up the {said}"),
            format!("put {said} on the list"),
        ] {
            assert_eq!(heard(&line)["slots"]["item"], item, "{line}");
        }
    }
}
