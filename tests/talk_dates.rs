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

#[test]
fn a_date_is_told_in_the_words_of_everyday() {
    for line in [
        "the milk expires December fifth",
        "the milk is good until December fifth",
        "the milk goes bad on December fifth",
    ] {
        go(&[
            ("add milk to the fridge", "Milk: fridge."),
            (
                line,
                "Milk, December 5: is that use by, best by or sell by?",
            ),
            ("best by", "Milk: fridge, best by December 5."),
        ]);
    }
}

#[test]
fn the_date_of_a_thing_is_changed_by_its_name_or_as_it_was_spoken_of() {
    go(&[
        (
            "add milk to the fridge, use by December third",
            "Milk: fridge, use by December 3.",
        ),
        ("add yogurt to the fridge", "Yogurt: fridge."),
        (
            "the date is December ninth",
            "Yogurt, December 9: is that use by, best by or sell by?",
        ),
        ("use by", "Yogurt: fridge, use by December 9."),
        (
            "change the date of the milk to December eleventh",
            "Milk: use by December 3 so far. Change it to December 11? Yes or no.",
        ),
        ("yes", "Milk: fridge, use by December 11."),
        (
            "change the date of the butter to December ninth",
            "No butter on the shelf. Nothing changed.",
        ),
    ]);
}

#[test]
fn of_several_it_is_asked_which_date_is_changed() {
    go(&[
        (
            "add milk to the fridge, use by December third",
            "Milk: fridge, use by December 3.",
        ),
        (
            "add milk to the fridge, best by December ninth",
            "Milk: fridge, best by December 9.",
        ),
        (
            "change the date of the milk to December fifth",
            "Milk: the one use by December 3? Yes or no.",
        ),
        (
            "yes",
            "Milk: use by December 3 so far. Change it to December 5? Yes or no.",
        ),
        ("yes", "Milk: fridge, use by December 5."),
    ]);
}
