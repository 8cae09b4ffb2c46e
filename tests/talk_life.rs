//! What becomes of things in the house: opened, frozen, thawed, moved; which of several is used first; and what was
//! done, and why.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::stock::Source;
use typed::{go, now};

#[test]
fn one_pack_of_several_is_opened_and_goes_first() {
    go(&[
        (
            "add three cartons of milk to the fridge, use by December third",
            "Milk: 3 cartons, fridge, use by December 3.",
        ),
        (
            "I opened the milk",
            "Milk: 1 carton opened, fridge. Besides, 2 cartons unopened.",
        ),
        (
            "I used one carton of milk",
            "Milk: 2 cartons left. Taken from: opened.",
        ),
        (
            "I opened a carton of milk yesterday",
            "Milk: 1 carton opened, yesterday, fridge. Besides, 1 carton unopened.",
        ),
        (
            "I opened the milk",
            "Milk: 1 carton opened, fridge. Besides, 1 carton.",
        ),
        (
            "I opened the milk",
            "Milk: none is unopened. Nothing changed.",
        ),
        ("undo", "Undone: milk opened."),
        (
            "I opened the cream",
            "No cream on the shelf. Nothing changed.",
        ),
    ]);
}

/// Freezing stops the clock and thawing starts another. Source: FSIS, "The Big Thaw", and "Food Product Dating".
#[test]
fn what_is_frozen_is_used_last_and_its_dates_stand_still() {
    go(&[
        (
            "add two pounds of chicken to the fridge, use by November twenty seventh",
            "Chicken: 2 pounds, fridge, use by Friday, November 27.",
        ),
        (
            "I froze one pound of chicken",
            "Chicken: 1 pound frozen. Besides, 1 pound.",
        ),
        (
            "what expires this week",
            "1 thing: chicken, use by Friday, November 27, fridge.",
        ),
        (
            "I used half a pound of chicken",
            "Chicken: one and a half pounds left. Taken from: fridge.",
        ),
        ("undo", "Undone: using 8 ounces of chicken."),
        (
            "I used one pound of chicken",
            "Chicken: 1 pound left. Taken from: fridge.",
        ),
        (
            "what expires this week",
            "Nothing has a date up to December 2.",
        ),
        (
            "I took the chicken out of the freezer",
            "Chicken: 1 pound thawed. No place known. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
        (
            "what expires this week",
            "1 thing: chicken, published guidance till tomorrow, use by Friday, November 27.",
        ),
        (
            "move the chicken to the fridge",
            "Chicken: 1 pound moved, fridge. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
        (
            "I thawed the chicken",
            "Chicken: none is frozen. Nothing changed.",
        ),
    ]);
}

#[test]
fn things_are_moved_whole_or_in_part() {
    go(&[
        (
            "add four cans of beans to the pantry",
            "Beans: 4 cans, pantry.",
        ),
        (
            "move two cans of beans to the cupboard",
            "Beans: 2 cans moved, cupboard. Besides, 2 cans.",
        ),
        ("where are the beans", "Beans: pantry and cupboard."),
        (
            "move the beans to the pantry",
            "Beans: 2 cans moved, pantry. Besides, 2 cans.",
        ),
        (
            "move the beans to the pantry",
            "Beans: there already. Nothing changed.",
        ),
        (
            "move nine cans of beans to the cellar",
            "Beans: only 2 cans and 2 cans. Nothing changed.",
        ),
        (
            "add two loaves of bread to the bread box",
            "Bread: 2 loaves, bread box.",
        ),
        (
            "move one loaf of bread to the freezer",
            "Bread: 1 loaf frozen. Besides, 1 loaf.",
        ),
        // What lies in the freezer isn't meant, if there is other bread.
        (
            "move the bread to the counter",
            "Bread: 1 loaf moved, counter. Besides, 1 loaf.",
        ),
    ]);
}

#[test]
fn several_changes_are_told_before_they_are_undone() {
    go(&[
        ("undo the last three", "Nothing is left to undo."),
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        ("I used two eggs", "Eggs: 10 left."),
        ("put milk on the list", "Milk on the list."),
        (
            "undo the last two",
            "Undo 2 changes: using 2 eggs; milk on the list? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        ("undo the last one", "Undone: milk on the list."),
        (
            "undo the last nine changes",
            "Undo 2 changes: adding 12 eggs; using 2 eggs? Yes or no.",
        ),
        ("yes", "2 changes undone."),
        ("how many eggs are left", "No eggs on the shelf."),
    ]);
}

#[test]
fn what_was_done_and_why_can_be_asked() {
    go(&[
        ("what changed today", "Nothing changed today."),
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        ("I opened the eggs", "Eggs: 12 opened, fridge."),
        ("undo", "Undone: eggs opened."),
        (
            "I used up the eggs",
            "Eggs used up. Off the shelf: 12, fridge. On the list.",
        ),
        ("put milk on the list", "Milk on the list."),
        (
            "what changed today",
            "3 changes today: adding 12 eggs, eggs used up, milk on the list.",
        ),
        ("why are the eggs on the list", "Eggs: used up today."),
        (
            "why is the milk on the list",
            "Milk: you asked for it today.",
        ),
        ("why is the flour on the list", "Not on the list: flour."),
    ]);
}

#[test]
fn what_is_put_somewhere_is_moved_or_new_and_that_is_asked() {
    go(&[
        ("I put the bread in the pantry", "Bread: pantry."),
        ("undo", "Undone: adding bread."),
        (
            "add two loaves of bread to the pantry",
            "Bread: 2 loaves, pantry.",
        ),
        (
            "I put the bread in the freezer",
            "Is that the bread from the pantry? Yes or no.",
        ),
        ("yes", "Bread: 2 loaves frozen."),
        (
            "I put the bread in the pantry",
            "Is that the bread from the freezer? Yes or no.",
        ),
        ("no", "Bread: pantry."),
        ("where is the bread", "Bread: pantry and freezer."),
    ]);
}

#[test]
fn what_the_kitchen_has_never_had_is_not_opened_moved_or_used_in_part() {
    go(&[
        ("I opened the zhoug", "I know no zhoug. Nothing changed."),
        (
            "move the zhoug to the fridge",
            "I know no zhoug. Nothing changed.",
        ),
        (
            "I used two jars of zhoug",
            "I know no zhoug. Nothing changed.",
        ),
        (
            "I used half of the zhoug",
            "I know no zhoug. Nothing changed.",
        ),
        (
            "I used up the zhoug",
            "I know no zhoug. Note it all the same? Yes or no.",
        ),
    ]);
}

/// Moved out of the freezer it thaws, also where nobody says so: its date must be told again.
#[test]
fn what_is_moved_out_of_the_freezer_is_frozen_no_longer() {
    go(&[
        (
            "add two pounds of chicken to the fridge, use by November twenty seventh",
            "Chicken: 2 pounds, fridge, use by Friday, November 27.",
        ),
        ("I froze the chicken", "Chicken: 2 pounds frozen."),
        (
            "what expires this week",
            "Nothing has a date up to December 2.",
        ),
        (
            "move the chicken to the fridge",
            "Chicken: 2 pounds moved, fridge. Published guidance: fridge, till tomorrow; the label goes first.",
        ),
        (
            "what expires this week",
            "1 thing: chicken, published guidance till tomorrow, use by Friday, November 27, fridge.",
        ),
    ]);
}

#[test]
fn what_is_called_something_else_by_now_is_put_back() {
    go(&[
        (
            "add a carton of milk to the fridge",
            "Milk: 1 carton, fridge.",
        ),
        (
            "I used up the milk",
            "Milk used up. Off the shelf: 1 carton, fridge. On the list.",
        ),
        ("call it soy milk", "Soy milk, no longer milk."),
        ("buy bread", "Bread on the list."),
        ("put the soy milk back", "Soy milk back: 1 carton."),
        ("where is the soy milk", "Soy milk: fridge."),
        ("read the list", "1 thing: bread."),
    ]);
}

#[test]
fn the_spent_tags_that_stand_are_counted() {
    go(&[
        ("add a bag of oats to the pantry", "Oats: 1 bag, pantry."),
        (
            "add a carton of milk to the fridge",
            "Milk: 1 carton, fridge.",
        ),
        ("spent tags", "Read the first spent tag."),
        ("oats", "Oats."),
        // Something else is done in between, and taken back: no tag was.
        ("buy bread", "Bread on the list."),
        ("undo", "Undone: bread on the list."),
        ("milk", "Milk."),
        ("rice", "Rice."),
        ("undo", "Undone: rice used up."),
        ("done", "2 tags read: oats, milk. 2 things on the list."),
        // All of them are taken back.
        ("spent tags", "Read the first spent tag."),
        ("rice", "Rice."),
        ("buy bread", "Bread on the list."),
        (
            "undo the last two",
            "Undo 2 changes: rice used up; bread on the list? Yes or no.",
        ),
        ("yes", "2 changes undone."),
        ("done", "No spent tag was read."),
    ]);
}

#[test]
fn where_a_thing_is_can_be_said_later() {
    go(&[
        ("add six eggs", "Eggs: 6."),
        (
            "where are the eggs",
            "Eggs: there is some, but where isn't known.",
        ),
        ("the eggs are in the fridge", "Eggs: 6, fridge."),
        ("where are the eggs", "Eggs: fridge."),
        ("undo", "Undone: the place of eggs."),
        ("the eggs are in the fridge", "Eggs: 6, fridge."),
        // It is known already; then it is another place.
        ("the eggs are in the fridge", "Eggs: fridge."),
        (
            "the eggs are on the counter",
            "Eggs: 6 moved, counter. Two hours out of the fridge at most, one in heat.",
        ),
        ("there are five eggs", "Eggs: 5, counter; it was 6."),
        ("there is only one egg", "Eggs: 1, counter; it was 5."),
        ("undo", "Undone: the amount of eggs."),
        // Of what is there and somewhere else, nobody knows which is meant.
        ("add a bag of rice to the pantry", "Rice: 1 bag, pantry."),
        ("add a bag of rice to the cellar", "Rice: 1 bag, cellar."),
        ("the rice is in the cellar", "Rice: pantry and cellar."),
        // What nobody noted.
        (
            "the salt is in the cupboard",
            "No salt was noted. Note it now, cupboard? Yes or no.",
        ),
        ("yes", "Salt: cupboard."),
        (
            "the zhoug is in the fridge",
            "No zhoug was noted. Note it now, fridge? Yes or no.",
        ),
        // In the freezer, it is frozen.
        (
            "add a loaf of bread to the bread box",
            "Bread: 1 loaf, bread box.",
        ),
        ("the bread is in the freezer", "Bread: 1 loaf frozen."),
    ]);
}

#[test]
fn what_waits_is_put_away_by_where_it_is() {
    go(&[
        (
            "temporary tag two pounds of salmon",
            "Tag 1: salmon, 2 pounds.",
        ),
        (
            "the salmon is in the fridge",
            "Salmon: 2 pounds, fridge. Tag 1 is free.",
        ),
        ("I'm going shopping", "The list is empty."),
        (
            "got the rice",
            "Got rice. It wasn't on the list. That was all of it.",
        ),
        (
            "got the milk",
            "Got milk. It wasn't on the list. That was all of it.",
        ),
        ("I'm home", "2 things to put away. Say: put things away."),
        ("the rice is in the pantry", "Rice: pantry."),
        ("put things away", "1 thing. Milk. Where?"),
        (
            "the milk is in the fridge",
            "Milk: fridge. That was the last.",
        ),
        ("done", "All is put away."),
    ]);
}

#[test]
fn brief_replies_leave_out_what_else_is_good_to_know_and_no_caution() {
    let replies = |manner: &str| {
        let lines = [
            manner,
            "I need bread",
            "I need salt",
            "take salt off the list",
            "add two cartons of milk to the fridge",
            "I opened the milk",
            "keep two pounds of ham",
            "add ham to the fridge, use by November twentieth 2026",
            "I'm going shopping",
        ];
        let mut session = typed::begin();
        lines.map(|line| session.hear(&[line], now(), Source::Typed).reply)
    };
    let (full, brief) = (replies("full replies"), replies("brief replies"));
    let pairs = full.iter().zip(&brief).skip(1);
    let shorter: Vec<(&str, &str)> = pairs
        .filter(|(full, brief)| full != brief)
        .map(|(full, brief)| (full.strip_prefix(brief.as_str()).unwrap(), brief.as_str()))
        .collect();
    assert_eq!(
        shorter,
        [
            (" 1 more on it.", "Salt off the list."),
            (
                " Besides, 1 carton unopened.",
                "Milk: 1 carton opened, fridge."
            ),
            (" Less than you keep: on the list.", "Ham: keep 2 pounds."),
            (" Say next for each.", "1 thing on the list."),
        ]
    );
    assert!(
        brief[7].ends_with("When in doubt, throw it out."),
        "{}",
        brief[7]
    );
}
