//! What isn't known yet can be asked for, and a missing date is one of it.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn what_has_no_date_is_told_as_not_yet_known() {
    go(&[
        (
            "add two bags of oats to the pantry",
            "Oats: 2 bags, pantry.",
        ),
        (
            "add two bags of rice to the pantry, best by March third",
            "Rice: 2 bags, pantry, best by March 3.",
        ),
        ("what is not yet known", "1 thing without a date: oats."),
        ("add milk", "Milk noted."),
        (
            "what is not yet known",
            "1 thing, and 2 without a date: milk, where and how much; milk, no date; oats, no date.",
        ),
        (
            "the oats are best by March fifth",
            "Oats: 2 bags, pantry, best by March 5.",
        ),
        (
            "I used up the milk",
            "Milk used up. Off the shelf: some. On the list.",
        ),
        ("what is not yet known", "All is known that I ask for."),
    ]);
}
