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
