//! What has expired, what to use first, and what of it is a medicine.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn what_has_expired_is_only_what_has_passed() {
    go(&[
        (
            "what has expired",
            "Nothing has passed its date, of what has one.",
        ),
        (
            "add milk to the fridge, use by December third",
            "Milk: fridge, use by December 3.",
        ),
        (
            "add cream to the fridge, use by today",
            "Cream: fridge, use by today.",
        ),
        (
            "is anything expired",
            "Nothing has passed its date, of what has one.",
        ),
        (
            "add ham to the fridge, use by yesterday",
            "Ham: fridge, use by yesterday, passed. Check the label. When in doubt, throw it out.",
        ),
        (
            "what has expired",
            "1 thing: ham, use by yesterday, passed, fridge. Check the label. When in doubt, throw it out.",
        ),
    ]);
}

/// Source: FDA, a medical product isn't used past its expiry; what is said of food past its date isn't said of it.
#[test]
fn a_medicine_is_never_told_as_food_to_be_used() {
    go(&[
        ("aspirin is a medicine", "Aspirin: a medicine? Yes or no."),
        ("yes", "Aspirin: a medicine. I never tell it by feel."),
        (
            "add aspirin to the bathroom, use by yesterday",
            "Aspirin: bathroom, use by yesterday, passed. Don't take a medicine past its date. Ask a pharmacist.",
        ),
        (
            "bleach is a household thing",
            "Bleach: household, no medicine? Yes or no.",
        ),
        ("yes", "Bleach: household."),
        (
            "add bleach to the closet, use by December third",
            "Bleach: closet, use by December 3.",
        ),
        ("what should I use first", "Nothing to eat has a date yet."),
        (
            "what has expired",
            "1 thing: aspirin, a medicine, use by yesterday, passed, bathroom. Don't take a medicine past its date. Ask a pharmacist.",
        ),
        (
            "when does the aspirin expire",
            "Aspirin, a medicine: use by yesterday, passed, bathroom. Don't take a medicine past its date. Ask a pharmacist.",
        ),
        (
            "add milk to the fridge, use by December third",
            "Milk: fridge, use by December 3.",
        ),
        (
            "what should I use first",
            "1 thing: milk, use by December 3, fridge.",
        ),
    ]);
}
