//! A date that is told goes to the thing that is meant.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn a_date_goes_to_none_of_several_that_nobody_named() {
    go(&[
        (
            "add milk to the fridge, best by December third",
            "Milk: fridge, best by December 3.",
        ),
        (
            "add milk to the fridge, use by December first",
            "Milk: fridge, use by Tuesday, December 1.",
        ),
        (
            "the milk is use by December tenth",
            "Milk: the one best by December 3? Yes or no.",
        ),
        ("no", "Then the one use by Tuesday, December 1? Yes or no."),
        (
            "yes",
            "Milk: use by Tuesday, December 1 so far. Change it to December 10? Yes or no.",
        ),
        ("yes", "Milk: fridge, use by December 10."),
        (
            "the milk is use by December ninth",
            "Milk: the one best by December 3? Yes or no.",
        ),
        ("no", "Then the one use by December 10? Yes or no."),
        ("no", "All right. Nothing changed."),
    ]);
}

#[test]
fn a_date_goes_to_the_only_one_without_a_date() {
    go(&[
        (
            "add milk to the fridge, best by December third",
            "Milk: fridge, best by December 3.",
        ),
        ("add milk to the cellar", "Milk: cellar."),
        (
            "the milk is use by December tenth",
            "Milk: cellar, use by December 10.",
        ),
        (
            "when does the milk expire",
            "Milk: best by December 3, in 8 days, fridge; use by December 10, in 15 days, cellar.",
        ),
    ]);
}

#[test]
fn a_date_reaches_what_has_a_temporary_tag() {
    go(&[
        (
            "temporary tag two pounds of chicken",
            "Tag 1: chicken, 2 pounds.",
        ),
        (
            "the chicken is use by November thirtieth",
            "Tag 1: chicken, 2 pounds, use by Monday, November 30.",
        ),
    ]);
}
