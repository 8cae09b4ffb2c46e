//! "It" is what was spoken of last, and words that name nothing are kept under no name.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn it_is_what_was_spoken_of_last() {
    go(&[
        ("add flour to the pantry", "Flour: pantry."),
        (
            "does it have nuts",
            "Not known. Nobody read the label of flour for nuts.",
        ),
        (
            "is it still good",
            "Flour: no date noted, pantry. Check the label.",
        ),
        ("why is it on the list", "Not on the list: flour."),
        ("how many are there", "Flour: some, pantry."),
        ("where is it", "Flour: pantry."),
        (
            "when does it expire",
            "Flour: no date noted, pantry. Check the label.",
        ),
        (
            "how do I cook it",
            "No directions noted for flour. Have the label read.",
        ),
        ("spell it", "F, L, O, U, R."),
        ("undo", "Undone: adding flour."),
        ("where is it", "No flour on the shelf."),
        ("add it to the pantry", "Flour: pantry."),
    ]);
}

#[test]
fn it_is_the_line_that_was_read_last_at_the_store() {
    go(&[
        ("I need milk", "Milk on the list."),
        ("I need bread", "Bread on the list."),
        (
            "I'm going shopping",
            "2 things on the list. Say next for each.",
        ),
        ("next", "Milk."),
        ("why is it on the list", "Milk: you asked for it today."),
    ]);
}

#[test]
fn it_is_nothing_where_nothing_was_spoken_of() {
    let session = go(&[
        ("does it have nuts", "Of what? Say its name."),
        ("where is it", "Of what? Say its name."),
        ("how many are there", "Of what? Say its name."),
        (
            "add it to the pantry",
            "What is it? Say it all again with its name.",
        ),
    ]);
    assert_eq!(session.stock().events().unwrap().len(), 0);
}

#[test]
fn words_that_name_nothing_are_no_food() {
    let what = "What is it? Say it all again with its name.";
    let session = go(&[
        ("add something to the pantry", what),
        ("add stuff", what),
        ("add a thing", what),
        ("add it to the pantry", what),
    ]);
    assert_eq!(session.stock().events().unwrap().len(), 0);
}
