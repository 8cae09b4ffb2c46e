//! What can hurt is said, or asked about, in the words in which people come to it.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, go_on, say};

#[test]
fn what_was_thawed_and_put_back_is_frozen_again() {
    for back in [
        "I put the chicken back in the freezer",
        "it's in the freezer",
    ] {
        go(&[
            ("add chicken to the freezer", "Chicken: freezer."),
            (
                "I took the chicken out of the freezer",
                "Chicken: some thawed. No place known. Published guidance: fridge, till tomorrow; the label goes first.",
            ),
            (back, "Chicken: some frozen."),
        ]);
    }
}

#[test]
fn what_was_opened_of_cans_has_its_time() {
    go(&[
        (
            "add two cans of tomatoes to the pantry",
            "Tomatoes: 2 cans, pantry.",
        ),
        (
            "I opened a can of tomatoes",
            "Tomatoes: 1 can opened, pantry. Published guidance: fridge, till Monday, November 30; the label goes first. Besides, 1 can unopened.",
        ),
    ]);
}

#[test]
fn what_is_no_food_is_not_drunk_and_poison_control_is_called() {
    let mut session = go(&[
        (
            "can I drink the bleach",
            "Bleach: no food. Don't eat or drink it.",
        ),
        (
            "I ate the bad chicken",
            "Call a doctor or your local poison control.",
        ),
    ]);
    for line in [
        "I drank bleach",
        "my child drank bleach",
        "I swallowed bleach",
        "my child ate the pills",
    ] {
        let reply = "Call a doctor or your local poison control now.";
        assert_eq!(say(&mut session, line), reply, "to “{line}”");
    }
    for line in [
        "can I give aspirin to the baby",
        "how much aspirin should my child take",
        "did I take my aspirin",
        "I took two aspirin",
    ] {
        let reply = "I don't tell doses. Ask a pharmacist or a doctor.";
        assert_eq!(say(&mut session, line), reply, "to “{line}”");
    }
}

#[test]
fn nothing_of_a_medicine_or_cleaner_is_among_what_to_use_first_though_nobody_said_what_it_is() {
    go(&[
        (
            "add ibuprofen to the bathroom, use by December third",
            "Ibuprofen: bathroom, use by December 3.",
        ),
        (
            "add bleach to the closet, use by December third",
            "Bleach: closet, use by December 3.",
        ),
        ("what should I use first", "Nothing to eat has a date yet."),
        (
            "move the ibuprofen to the freezer",
            "Ibuprofen: some frozen. May it be frozen? Ask a pharmacist.",
        ),
    ]);
}

#[test]
fn what_was_left_out_has_two_hours() {
    let mut session = go(&[
        ("add chicken to the fridge", "Chicken: fridge."),
        (
            "move the chicken to the counter",
            "Chicken: some moved, counter. Two hours out of the fridge at most, one in heat.",
        ),
    ]);
    for line in [
        "I left the chicken out",
        "I left the chicken out overnight",
        "I left the chicken on the counter",
    ] {
        assert_eq!(
            say(&mut session, line),
            "Chicken: two hours out of the fridge at most, one in heat. Longer: throw it out.",
            "to “{line}”"
        );
    }
}

#[test]
fn what_shows_that_it_is_spoiled_is_thrown_out_untasted() {
    let mut session = begin();
    for line in [
        "the tomatoes are bulging",
        "the can is dented",
        "the bread is moldy",
        "the milk is sour",
    ] {
        let reply = "Don't use it, don't taste it: throw it out.";
        assert_eq!(say(&mut session, line), reply, "to “{line}”");
    }
}

#[test]
fn a_day_that_is_over_stands_behind_the_verb_and_in_no_name() {
    go(&[
        ("add milk to the fridge", "Milk: fridge."),
        (
            "I opened the milk three days ago",
            "Milk: some opened, Sunday, November 22, fridge.",
        ),
        (
            "have I opened the milk",
            "Milk: opened Sunday, November 22.",
        ),
        ("is the milk open", "Milk: opened Sunday, November 22."),
        (
            "I used up the milk yesterday",
            "Milk used up. Off the shelf: some, fridge. On the list.",
        ),
        (
            "I opened the milk last week",
            "Which day? Say it again with the day, such as three days ago, or on Monday.",
        ),
        (
            "I put the zhoug yesterday in the fridge",
            "Zhoug yesterday: I take no day with that. Say it without the day.",
        ),
    ]);
}

#[test]
fn a_weekday_that_is_today_is_asked_about() {
    go(&[
        (
            "add milk to the fridge, use by Wednesday",
            "Wednesday, November 25, 2026: is that the date? Yes or no.",
        ),
        ("yes", "Milk: fridge, use by today."),
    ]);
}

#[test]
fn a_day_that_just_passed_is_asked_about_first_and_its_year_is_an_answer() {
    for (answer, reply) in [
        (
            "this year",
            "Ham: fridge, sell by Friday, November 20, passed. Check the label. When in doubt, throw it out.",
        ),
        ("next year", "Ham: fridge, sell by November 20, 2027."),
    ] {
        let mut session = begin();
        go_on(
            &mut session,
            &[(
                "add ham to the fridge, sell by November twentieth",
                "Friday, November 20, 2026: is that the date? Yes or no.",
            )],
        );
        let said = say(&mut session, answer).replace(", 2026", "");
        assert_eq!(said, reply);
    }
}

#[test]
fn talk_of_others_is_not_offered_as_a_command() {
    let mut session = go(&[("add milk to the fridge", "Milk: fridge.")]);
    for line in [
        "if I opened the milk",
        "she said I opened the milk",
        "maybe I opened the milk",
    ] {
        let reply = say(&mut session, line);
        assert!(!reply.contains("Did you say"), "to “{line}”: {reply}");
    }
}

#[test]
fn whether_it_can_be_eaten_raw_is_answered_by_how_it_is_cooked() {
    go(&[
        ("add chicken to the fridge", "Chicken: fridge."),
        (
            "can I eat the chicken raw",
            "Cook it first: chicken to 165 degrees Fahrenheit, says FSIS.",
        ),
        (
            "can I still eat the chicken today",
            "Chicken: no date noted, fridge. I can't say if it is good. When in doubt, throw it out.",
        ),
    ]);
}

#[test]
fn who_has_none_is_asked_what_becomes_of_it() {
    go(&[
        ("add milk to the fridge", "Milk: fridge."),
        ("I have no milk", "Milk: used up? Yes or no."),
        (
            "yes",
            "Milk used up. Off the shelf: some, fridge. On the list.",
        ),
        (
            "we don't have any eggs",
            "Eggs: none noted. Put on the list? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        (
            "what has no nuts",
            "I can't tell what is without it. Ask: what has nuts in it.",
        ),
    ]);
}

#[test]
fn labels_are_told_and_asked_in_other_words_and_free_of_it_is_never_a_yes() {
    go(&[
        ("add bread to the pantry", "Bread: pantry."),
        (
            "the bread contains peanut butter",
            "Bread: contains peanuts.",
        ),
        ("the bread has butter in it", "Bread: contains butter."),
        ("there is egg in the bread", "Bread: contains eggs."),
        ("it may contain soy", "Bread: may contain soy."),
        (
            "what has dairy",
            "1 thing with milk: bread, the label says butter.",
        ),
        (
            "is the bread nut free",
            "No. Bread: the label says peanuts.",
        ),
        ("is it free of milk", "No. Bread: the label says butter."),
        (
            "can my guest with a milk allergy eat the bread",
            "No. Bread: the label says butter.",
        ),
        (
            "is the bread safe for someone with a nut allergy",
            "No. Bread: the label says peanuts.",
        ),
        (
            "is the bread gluten free",
            "Not known. Nobody read the label of bread for gluten.",
        ),
        (
            "doesn't the bread contain eggs",
            "Yes. Bread: the label says eggs.",
        ),
        (
            "does anything have nuts in it",
            "1 thing with nuts: bread, the label says peanuts.",
        ),
    ]);
}

/// Eggs of which a dozen has passed.
const EGGS: &[(&str, &str)] = &[
    (
        "add twelve eggs to the fridge, use by yesterday",
        "Eggs: 12, fridge, use by yesterday, passed. Check the label. When in doubt, throw it out.",
    ),
    (
        "add twelve eggs to the fridge, use by December ninth",
        "Eggs: 12, fridge, use by December 9.",
    ),
];
const WHICH: (&str, &str) = (
    "I threw out the eggs",
    "Eggs: all of it, 12, use by yesterday, passed; 12, use by December 9? Yes; or say how much.",
);

#[test]
fn how_much_of_several_was_thrown_out_is_an_answer() {
    for answer in ["no, twelve", "twelve of them"] {
        let mut session = go(EGGS);
        let left = "Eggs: 12 left. Taken from: use by yesterday, passed.";
        go_on(&mut session, &[WHICH, (answer, left)]);
    }
    let mut session = go(EGGS);
    go_on(
        &mut session,
        &[
            WHICH,
            (
                "the expired ones",
                "Eggs, what has passed: used up. 12 left.",
            ),
        ],
    );
    let mut session = go(EGGS);
    go_on(
        &mut session,
        &[(
            "I threw out the expired eggs",
            "Eggs, what has passed: used up. 12 left.",
        )],
    );
}

#[test]
fn of_baby_food_the_passed_one_is_not_opened_unasked() {
    go(&[
        (
            "add baby food to the pantry, use by yesterday",
            "Baby food: pantry, use by yesterday, passed. Past its use-by date, discard the baby food.",
        ),
        (
            "add baby food to the pantry, use by March 2027",
            "Baby food: pantry, use by March 31.",
        ),
        (
            "I opened the baby food",
            "One baby food is past its use-by date. First say: I threw out the expired baby food.",
        ),
        (
            "I threw out the expired baby food",
            "Baby food, what has passed: used up. Some left.",
        ),
    ]);
}

#[test]
fn leftovers_have_their_time_since_they_were_cooked_and_are_not_bought() {
    go(&[
        (
            "add two containers of leftover dal to the fridge, made today",
            "Leftover dal: 2 containers, fridge, packed today. Published guidance: fridge, till Saturday, November 28. A new name.",
        ),
        (
            "I used up the leftover dal",
            "Leftover dal used up. Off the shelf: 2 containers, fridge.",
        ),
        (
            "add leftover rice to the fridge",
            "Leftover rice: fridge. Say the day it was cooked. A new name.",
        ),
        (
            "how long does leftover chicken keep in the fridge",
            "Leftover chicken: 3 to 4 days in the fridge. FoodKeeper.",
        ),
    ]);
}

#[test]
fn the_days_that_were_asked_for_come_alone() {
    go(&[
        (
            "add ham to the fridge, use by yesterday",
            "Ham: fridge, use by yesterday, passed. Check the label. When in doubt, throw it out.",
        ),
        (
            "add milk to the fridge, use by tomorrow",
            "Milk: fridge, use by tomorrow.",
        ),
        (
            "what expires tomorrow",
            "1 thing: milk, use by tomorrow, fridge. Besides, 1 has passed: ask what has expired. When in doubt, throw it out.",
        ),
        (
            "what expires next week",
            "Nothing has a date next week. Besides, 1 has passed: ask what has expired. When in doubt, throw it out.",
        ),
    ]);
}
