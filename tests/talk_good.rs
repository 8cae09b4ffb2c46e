//! Whether something is good is never told; what is known of it is.

#[path = "common/typed.rs"]
mod typed;

use typed::{go, say};

#[test]
fn whether_food_is_good_is_answered_by_its_dates_and_no_yes() {
    let mut session = go(&[
        (
            "add chicken to the fridge, use by yesterday",
            "Chicken: fridge, use by yesterday, passed. Check the label. When in doubt, throw it out.",
        ),
        ("add milk to the fridge", "Milk: fridge."),
    ]);
    for line in [
        "is the chicken safe",
        "can I eat the chicken",
        "should I throw out the chicken",
        "the chicken smells off",
        "the chicken has expired",
    ] {
        assert_eq!(
            say(&mut session, line),
            "Chicken: use by yesterday, passed, fridge. I can't say if it is good. When in doubt, throw it out.",
            "to “{line}”"
        );
    }
    assert_eq!(
        say(&mut session, "is the milk safe to drink"),
        "Milk: no date noted, fridge. I can't say if it is good. When in doubt, throw it out."
    );
    assert_eq!(
        say(&mut session, "I ate something bad"),
        "Call a doctor or your local poison control."
    );
}

#[test]
fn what_was_thrown_out_is_gone_and_of_several_it_is_asked() {
    go(&[
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        (
            "I threw out the eggs",
            "Eggs: all of it, 12, fridge? Yes; or say how much.",
        ),
        (
            "yes",
            "Eggs used up. Off the shelf: 12, fridge. On the list.",
        ),
        (
            "add a carton of milk to the fridge, use by December third",
            "Milk: 1 carton, fridge, use by December 3.",
        ),
        (
            "add a carton of milk to the cellar, use by December ninth",
            "Milk: 1 carton, cellar, use by December 9.",
        ),
        (
            "throw out the milk",
            "Milk: all of it, 1 carton, fridge; 1 carton, cellar? Yes; or say how much.",
        ),
        ("no", "All right. Nothing changed."),
        (
            "I threw out a carton of milk",
            "Milk: 1 carton left. Taken from: use by December 3, fridge.",
        ),
    ]);
}

#[test]
fn whether_it_is_a_medicine_is_answered_from_what_was_noted() {
    go(&[
        (
            "is vinegar a medicine",
            "Vinegar: not noted as a medicine. Have the label read.",
        ),
        ("is aspirin a medicine", "Yes. Aspirin: a medicine."),
        ("aspirin is a medicine", "Aspirin: a medicine? Yes or no."),
        ("yes", "Aspirin: a medicine. I never tell it by feel."),
        ("is aspirin a medicine", "Yes. Aspirin: a medicine."),
    ]);
}
