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

#[test]
fn it_is_the_one_that_was_read_by_its_number() {
    go(&[
        (
            "add two cartons of milk to the fridge use by december first",
            "Milk: 2 cartons, fridge, use by Tuesday, December 1.",
        ),
        ("add ham to the fridge", "Ham: fridge."),
        (
            "what expires this week",
            "1 thing: milk, use by Tuesday, December 1, fridge.",
        ),
        ("the first one", "Milk, use by Tuesday, December 1, fridge."),
        ("I used half of it", "Milk: 1 carton left."),
        ("where is it", "Milk: fridge."),
    ]);
}

#[test]
fn it_can_be_used_up_opened_and_asked_about() {
    let gone = "Milk used up. Off the shelf: some, fridge. On the list.";
    for line in ["I used it up", "I drank it", "it's gone", "I threw it out"] {
        go(&[("add milk to the fridge", "Milk: fridge."), (line, gone)]);
    }
    let dates =
        "Milk: no date noted, fridge. I can't say if it is good. When in doubt, throw it out.";
    go(&[
        ("add milk to the fridge", "Milk: fridge."),
        ("can I eat them", dates),
        ("is it good", dates),
        ("I used some of it", "Milk: some opened, fridge."),
        ("I opened it", "Milk: none is unopened. Nothing changed."),
    ]);
}

#[test]
fn what_was_undone_is_not_put_somewhere_unasked() {
    let session = go(&[
        ("add milk to the fridge", "Milk: fridge."),
        ("undo", "Undone: adding milk."),
        (
            "put it in the freezer",
            "No milk was noted. Note it now, freezer? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
    ]);
    assert!(session.stock().shelf().unwrap().is_empty());
}

#[test]
fn a_guess_that_nobody_confirmed_is_not_it() {
    go(&[
        ("add ham to the fridge", "Ham: fridge."),
        (
            "I used up the zhoug",
            "I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        ("where is it", "Ham: fridge."),
    ]);
}

#[test]
fn a_list_that_is_read_leaves_out_what_is_gone() {
    go(&[
        ("I need oats", "Oats on the list."),
        ("I need rice", "Rice on the list."),
        ("I need milk", "Milk on the list."),
        ("I need corn", "Corn on the list."),
        ("read the list", "4 things: oats, rice, milk. Say more."),
        ("got the rice", "Got rice. Off the list. 3 more on it."),
        ("more", "Corn. That's all."),
        ("back", "Oats, milk. 1 more."),
        ("from the start", "3 things: oats, milk, corn."),
    ]);
}
