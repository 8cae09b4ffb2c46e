//! What is half said isn't lost unsaid, and what is too much at once is said so.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn an_entry_that_is_left_half_said_is_told_of() {
    let question = "December 5: is that use by, best by or sell by?";
    go(&[
        ("add milk december fifth", question),
        (
            "add bananas to the pantry",
            "Bananas: pantry. Milk wasn't noted.",
        ),
        ("use by", "There was no question."),
        ("add milk december fifth", question),
        (
            "where are the bananas",
            "Bananas: pantry. Milk wasn't noted.",
        ),
        ("add milk december fifth", question),
        (
            "I used up the zhoug",
            "Milk wasn't noted. I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
    ]);
}

#[test]
fn what_answers_or_says_it_again_drops_nothing() {
    let question = "December 5: is that use by, best by or sell by?";
    go(&[
        ("add milk december fifth", question),
        ("repeat that", question),
        ("yes", question),
        ("what did you hear", "I heard: yes."),
        ("xylophone quartet", "I didn't get that."),
        ("add milk use by december fifth", "Milk: use by December 5."),
        ("add ham december fifth", question),
        ("no", "All right. Nothing changed."),
    ]);
}

#[test]
fn several_things_at_once_are_said_one_at_a_time() {
    go(&[
        (
            "add Milk eggs and butter",
            "Milk eggs and butter: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: add milk."),
        (
            "add milk to the fridge and eggs to the fridge",
            "Milk to the fridge and eggs: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: add milk to the fridge."),
        ("add milk to the fridge", "Milk: fridge."),
    ]);
}

#[test]
fn by_a_date_is_a_date_whose_meaning_is_asked() {
    go(&[
        (
            "add two bags of rice to the pantry by friday",
            "Friday, November 27: is that use by, best by or sell by?",
        ),
        (
            "use by",
            "Rice: 2 bags, pantry, use by Friday, November 27.",
        ),
    ]);
}

#[test]
fn what_is_too_long_is_not_said_back() {
    let session = go(&[(
        "add fizzle and bup and bip and bap and bop and bup and bip and bap and bop and tup to the pantry",
        "That's long. Say one thing at a time.",
    )]);
    assert!(!session.is_asking());
}
