//! Who comes for the first time is understood, or told what to say.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn help_is_asked_for_in_many_ways() {
    let help = "You can say: add rice to the pantry, I used up the oats, read the list. Say more.";
    for line in [
        "what can you do",
        "how does this work",
        "how do I start",
        "help me",
    ] {
        go(&[(line, help)]);
    }
}

#[test]
fn a_request_may_be_polite() {
    go(&[
        ("can you add milk to the fridge", "Milk: fridge."),
        ("could you please add eggs to the fridge", "Eggs: fridge."),
        ("would you read the list", "The list is empty."),
        (
            "tell me what is in the fridge",
            "2 things: eggs, some; milk, some.",
        ),
        ("tell me where is the milk", "Milk: fridge."),
    ]);
}

#[test]
fn what_there_is_may_be_told_as_it_comes() {
    go(&[
        (
            "what do I have",
            "Nothing is noted yet. Say: add rice to the pantry.",
        ),
        (
            "there's milk in the fridge",
            "No milk was noted. Note it now, fridge? Yes or no.",
        ),
        ("yes", "Milk: fridge."),
        ("there's milk in the fridge", "Milk: fridge."),
        ("I have a can of beans", "Beans: 1 can."),
        (
            "I just bought milk",
            "Not on the list: milk. To note it, say: add milk.",
        ),
        (
            "what do I have",
            "2 things, fridge. Ask what is in the fridge.",
        ),
    ]);
}

#[test]
fn the_first_miss_in_an_empty_kitchen_says_where_to_begin() {
    let miss = "xylophone quartet";
    go(&[
        (
            miss,
            "I didn't get that. Say: what can I say. Or: teach me.",
        ),
        ("I need milk", "Milk on the list."),
        (miss, "I didn't get that."),
    ]);
}
