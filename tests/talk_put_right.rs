//! "No, I said …": a place, a date and an amount are put right as what they are, and never become a name.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, go_on, say};

#[test]
fn another_place_is_a_place() {
    for (right, reply) in [
        ("no, I said the pantry", "Milk: pantry."),
        ("no, I meant in the pantry", "Milk: pantry."),
        ("no, I meant the freezer", "Milk: freezer."),
        (
            "no, I said two cartons in the pantry",
            "Milk: 2 cartons, pantry.",
        ),
    ] {
        go(&[
            ("add milk to the fridge", "Milk: fridge."),
            (right, reply),
            ("read the list", "The list is empty."),
        ]);
    }
}

#[test]
fn another_place_for_what_was_moved() {
    go(&[
        ("add bread to the counter", "Bread: counter."),
        ("move the bread to the pantry", "Bread: some moved, pantry."),
        ("no, I meant the freezer", "Bread: some frozen."),
        ("where is the bread", "Bread: freezer."),
    ]);
}

#[test]
fn another_date_means_what_the_first_did() {
    for right in [
        "no, I meant december fourth",
        "no I said use by december fourth",
        "no, I said by december fourth",
    ] {
        go(&[
            (
                "add milk to the fridge use by december fifth",
                "Milk: fridge, use by December 5.",
            ),
            (right, "Milk: fridge, use by December 4."),
            ("undo", "Undone: adding milk."),
        ]);
    }
    go(&[
        (
            "add milk december fifth",
            "December 5: is that use by, best by or sell by?",
        ),
        (
            "no, I meant december sixth",
            "December 6: is that use by, best by or sell by?",
        ),
        ("use by", "Milk: use by December 6."),
    ]);
}

#[test]
fn a_bare_count_is_of_the_same_packs() {
    go(&[
        (
            "add two bags of lentils to the pantry",
            "Lentils: 2 bags, pantry.",
        ),
        ("no, I said three", "Lentils: 3 bags, pantry."),
        ("no, I said four cans", "Lentils: 4 cans, pantry."),
    ]);
    go(&[
        (
            "I need two bags of lentils",
            "On the list: 2 bags of lentils.",
        ),
        (
            "no, I said three lemons",
            "Not lentils. On the list: 3 lemons.",
        ),
    ]);
}

#[test]
fn what_was_taken_back_is_never_said_to_be_unchanged() {
    let mut session = begin();
    say(&mut session, "add twelve eggs to the fridge");
    go_on(
        &mut session,
        &[
            ("I used two eggs", "Eggs: 10 left."),
            ("no, I said twenty", "Taken back. Eggs: only 12."),
            ("how many eggs are left", "Eggs: 12, fridge."),
            ("I used two eggs", "Eggs: 10 left."),
            ("no, I said two apples", "Not eggs. No apples on the shelf."),
            ("how many eggs are left", "Eggs: 12, fridge."),
        ],
    );
    go_on(
        &mut session,
        &[
            (
                "add milk to the fridge use by december fifth",
                "Milk: fridge, use by December 5.",
            ),
            (
                "no, I meant november twentieth 2020",
                "Friday, November 20, 2020 is long past. Is that the date? Yes or no.",
            ),
            ("no", "All right. What was wrong stays taken back."),
            ("where is the milk", "No milk on the shelf."),
        ],
    );
}

#[test]
fn what_is_not_understood_leaves_the_last_change_to_be_put_right() {
    go(&[
        (
            "add two cans of beans to the pantry",
            "Beans: 2 cans, pantry.",
        ),
        ("xylophone quartet", "I didn't get that."),
        ("no, I said three cans", "Beans: 3 cans, pantry."),
        ("how many beans are left", "Beans: 3 cans, pantry."),
    ]);
    go(&[(
        "no, I said three cans",
        "There is nothing to correct. To take the last change back, say undo.",
    )]);
}

#[test]
fn right_behind_a_change_few_words_put_it_right() {
    for (right, reply) in [
        ("no, three", "Beans: 3 cans, pantry."),
        ("no, three bags", "Beans: 3 bags, pantry."),
        ("no, the garage", "Beans: 2 cans, garage."),
        ("make that four cans", "Beans: 4 cans, pantry."),
        ("change it to four", "Beans: 4 cans, pantry."),
        ("actually three", "Beans: 3 cans, pantry."),
        ("I meant corn", "Not beans. Corn: 2 cans, pantry."),
        ("not beans, corn", "Not beans. Corn: 2 cans, pantry."),
    ] {
        go(&[
            (
                "add two cans of beans to the pantry",
                "Beans: 2 cans, pantry.",
            ),
            (right, reply),
        ]);
    }
    for right in ["no, december fourth", "make it december fourth"] {
        go(&[
            (
                "add milk to the fridge use by december fifth",
                "Milk: fridge, use by December 5.",
            ),
            (right, "Milk: fridge, use by December 4."),
        ]);
    }
}

#[test]
fn few_words_put_nothing_right_once_something_else_was_said() {
    go(&[
        (
            "add two cans of beans to the pantry",
            "Beans: 2 cans, pantry.",
        ),
        ("read the list", "The list is empty."),
        ("no, three", "I didn't get that."),
        ("how many beans are left", "Beans: 2 cans, pantry."),
    ]);
}

#[test]
fn what_an_answer_completed_is_put_right_with_it() {
    go(&[
        (
            "add milk december fifth",
            "December 5: is that use by, best by or sell by?",
        ),
        ("use by", "Milk: use by December 5."),
        ("no, two cartons", "Milk: 2 cartons, use by December 5."),
    ]);
}

#[test]
fn who_says_that_it_was_wrong_is_told_how_to_put_it_right() {
    let how = "Say: no, I said, and what you said. Or say undo.";
    go(&[
        ("how do I correct a mistake", how),
        ("add milk to the fridge", "Milk: fridge."),
        ("that's wrong", how),
        (
            "what did I just do",
            "Last: adding milk. To take it back, say undo.",
        ),
        (
            "how do I undo",
            "Say undo: the last change is taken back. Again for the one before.",
        ),
    ]);
}

#[test]
fn what_was_used_up_is_put_back_with_its_date() {
    go(&[
        (
            "add milk to the fridge use by december fifth",
            "Milk: fridge, use by December 5.",
        ),
        ("add ham to the fridge", "Ham: fridge."),
        (
            "I used up the milk",
            "Milk used up. Off the shelf: some, fridge. On the list.",
        ),
        (
            "I used up the ham",
            "Ham used up. Off the shelf: some, fridge. On the list.",
        ),
        (
            "put the milk back in the fridge",
            "Milk back: some, fridge.",
        ),
        (
            "when does the milk expire",
            "Milk: use by December 5, in 10 days, fridge.",
        ),
        (
            "I used up the milk",
            "Milk used up. Off the shelf: some, fridge. On the list.",
        ),
        (
            "put the milk back in the garage",
            "Milk: some moved, garage.",
        ),
        (
            "when does the milk expire",
            "Milk: use by December 5, in 10 days, garage.",
        ),
    ]);
}
