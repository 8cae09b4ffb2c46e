//! What is kept, what is on the list, and what is bought of it.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn a_keep_level_can_be_heard_and_ended() {
    go(&[
        (
            "what do I keep",
            "You keep nothing yet. Say, for example: keep six eggs.",
        ),
        ("add twelve eggs to the fridge", "Eggs: 12, fridge."),
        ("always keep six eggs", "Eggs: keep 6."),
        ("what do I keep", "You keep 1 thing: 6 eggs."),
        ("stop keeping eggs", "Eggs: no longer kept."),
        (
            "don't keep eggs any more",
            "No keep level is set for eggs. Nothing changed.",
        ),
        ("undo", "Undone: keeping no eggs."),
        ("what do I keep", "You keep 1 thing: 6 eggs."),
        (
            "add a carton of cream to the fridge",
            "Cream: 1 carton, fridge.",
        ),
        (
            "always keep two bottles of cream",
            "Cream: keep 2 bottles. You have 1 carton: I can't compare that.",
        ),
        (
            "add a carton of eggs to the fridge",
            "Eggs: 1 carton, fridge. You keep 6: I can't compare that.",
        ),
    ]);
}

#[test]
fn what_is_bought_in_part_stays_on_the_list_with_the_rest() {
    go(&[
        ("I need six cans of tuna", "On the list: 6 cans of tuna."),
        (
            "got two cans of tuna",
            "Got some tuna. 4 cans still to get.",
        ),
        (
            "I need six cans of tuna",
            "On the list: 6 cans of tuna instead of 4 cans.",
        ),
        ("I need three cans of corn", "On the list: 3 cans of corn."),
        (
            "I'm going shopping",
            "2 things on the list. Say next for each.",
        ),
        (
            "temporary tag two cans of tuna",
            "Tag 1: tuna, 2 cans. 4 cans still to get.",
        ),
        ("next", "4 cans of tuna."),
        (
            "they only had one",
            "Got 1 tuna. 3 cans still to get. 3 cans of corn.",
        ),
        (
            "got two cans of corn",
            "Got 2 cans of corn. 1 can still to get. End of the list. 2 things left; say next to begin again.",
        ),
        (
            "I'm home",
            "2 things to put away. 2 still on the list. Say: put things away.",
        ),
        (
            "what did I buy last time",
            "2 things today: 2 cans of corn, 3 cans of tuna.",
        ),
        (
            "put tag one in the pantry",
            "Tuna: 2 cans, pantry. Tag 1 is free.",
        ),
        ("read the list", "2 things: 3 cans of tuna, 1 can of corn."),
        (
            "add one can of tuna to the pantry",
            "Tuna: 1 can, pantry. 2 cans still to get.",
        ),
    ]);
}

#[test]
fn lots_of_one_thing_that_were_bought_are_added_up() {
    go(&[
        ("I'm going shopping", "The list is empty."),
        ("temporary tag two cans of beans", "Tag 1: beans, 2 cans."),
        ("temporary tag three cans of beans", "Tag 2: beans, 3 cans."),
        ("I'm home", "2 things to put away. Say: put things away."),
        (
            "what did I buy last time",
            "1 thing today: 5 cans of beans.",
        ),
    ]);
}

#[test]
fn an_undo_of_what_was_gone_before_says_that_it_is_still_gone() {
    go(&[
        (
            "add a carton of milk to the fridge",
            "Milk: 1 carton, fridge.",
        ),
        (
            "I finished the milk",
            "Milk used up. Off the shelf: 1 carton, fridge. On the list.",
        ),
        (
            "I finished the milk",
            "Milk: none was noted. Still on the list.",
        ),
        ("undo", "Undone: milk used up. Still none is noted."),
        ("undo", "Undone: milk used up."),
        ("how much milk is left", "Milk: 1 carton, fridge."),
    ]);
}

#[test]
fn a_changed_quantity_on_the_list_is_said_and_more_is_added() {
    go(&[
        ("I need four lemons", "On the list: 4 lemons."),
        ("I need a lemon", "On the list: 1 lemon instead of 4."),
        (
            "I need two more lemons",
            "On the list: 3 lemons instead of 1.",
        ),
        ("I need two cans of corn", "On the list: 2 cans of corn."),
        (
            "I need two more cans",
            "On the list: 4 cans of corn instead of 2 cans.",
        ),
        ("I need one more can of tuna", "On the list: 1 can of tuna."),
        ("clear the list", "Take 3 things off the list? Yes or no."),
        ("no", "All right. Nothing changed."),
        ("clear my list", "Take 3 things off the list? Yes or no."),
        (
            "yes",
            "3 things off the list. To take that back, say undo the last 3.",
        ),
        ("clear the list", "The list is empty."),
    ]);
}

#[test]
fn everyday_words_for_what_is_gone_left_or_needed() {
    go(&[
        ("add three bananas to the counter", "Bananas: 3, counter."),
        ("one of the bananas is gone", "Bananas: 2 left."),
        (
            "the last banana is gone",
            "Bananas used up. Off the shelf: 2, counter. On the list.",
        ),
        ("put it back", "Undone: bananas used up."),
        (
            "there is only one banana left",
            "Bananas: 1, counter; it was 2.",
        ),
        (
            "add two boxes of cereal to the pantry",
            "Cereal: 2 boxes, pantry.",
        ),
        ("I finished a box of cereal", "Cereal: 1 box left."),
        ("we are low on cereal", "Cereal on the list."),
        (
            "I don't need cereal",
            "Cereal off the list. The list is empty.",
        ),
        (
            "I used the rest of the cereal",
            "Cereal used up. Off the shelf: 1 box, pantry. On the list.",
        ),
        (
            "I bought tomatoes",
            "Not on the list: tomatoes. To note it, say: add tomatoes.",
        ),
        (
            "I have two cans of tuna left",
            "No tuna was noted. Note 2 cans now? Yes or no.",
        ),
        ("yes", "Tuna: 2 cans."),
    ]);
}
