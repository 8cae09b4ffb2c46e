//! From the spent tags to the store and back: what is said there in plain words, and what must not be lost on the way.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::grammar::Grammar;
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::Session;
use typed::{begin, go, go_on, now, say};

const OATS: &str = "036000291452";

#[test]
fn what_a_label_says_of_using_or_freezing_is_a_use_by_date() {
    go(&[
        (
            "temporary tag pork chops use or freeze by december second",
            "Tag 1: pork chops, use by December 2.",
        ),
        (
            "add ham freeze or use by december third",
            "Ham: use by December 3.",
        ),
    ]);
}

#[test]
fn dates_marks_and_tags_make_no_name() {
    go(&[
        (
            "temporary tag ham use by december 3 best by december 1",
            "One date at a time. Leave one out, then say, for example: the ham is best by December first.",
        ),
        (
            "temporary tag for two cans of beans with two bands",
            "Say the tag without the mark. Then, for example: two bands on the beans.",
        ),
        ("temporary tag for bacon no date", "Tag 1: bacon."),
        (
            "temporary tag cheese unopened no date on it",
            "Tag 2: cheese.",
        ),
        (
            "put the tag four thing in the pantry",
            "Tag 4 is no name. Say, for example: put tag 4 in the pantry.",
        ),
    ]);
}

#[test]
fn a_tag_is_used_up_by_its_number() {
    go(&[
        (
            "add two cans of soup to the pantry",
            "Soup: 2 cans, pantry.",
        ),
        (
            "kitchen tag twelve on the soup",
            "Tag 12: soup, 2 cans, pantry.",
        ),
        (
            "tag twelve is in the garage",
            "Tag 12 is a kitchen tag, on soup. Say: move the soup to the garage.",
        ),
        (
            "I used up tag twelve",
            "Soup used up. On the list. Tag 12 is free.",
        ),
        ("temporary tag sugar", "Tag 1: sugar."),
        (
            "tag one is free",
            "Tag 1 is on sugar, to be put away. Is that gone? Yes or no.",
        ),
        ("yes", "Sugar used up. On the list. Tag 1 is free."),
    ]);
}

#[test]
fn a_code_that_was_misread_is_not_told_of_the_one_before() {
    let mut session = begin();
    say(&mut session, "6291041500213");
    go_on(
        &mut session,
        &[
            ("6291041500214", "That code was misread. Scan it again."),
            (
                "this is the rice",
                "I didn't get that. Say: what can I say. Or: teach me.",
            ),
            (
                "6291041500213",
                "I don't know this code. Say: this is, and its name; or: this is tag, and its number.",
            ),
        ],
    );
}

#[test]
fn a_code_is_the_same_with_zeros_before_it() {
    let mut session = begin();
    say(&mut session, OATS);
    go_on(
        &mut session,
        &[
            ("this is the oats", "The code means oats."),
            (&format!("0{OATS}"), "No oats on the shelf."),
            (&format!("00{OATS}"), "No oats on the shelf."),
        ],
    );
}

/// Bread, rice and three apples to get, and a reminder for batteries, at the store.
fn at_the_store() -> Session {
    let mut session = begin();
    for line in [
        "I need bread",
        "I need rice",
        "I need three apples",
        "reminder tag thirty for batteries",
        "I'm at the store",
    ] {
        say(&mut session, line);
    }
    session
}

#[test]
fn undo_at_the_store_goes_back_to_its_line_and_ends_no_trip() {
    let ask = "Nothing is ticked off. Undo going shopping? Yes or no.";
    go_on(
        &mut at_the_store(),
        &[
            ("undo", ask),
            ("no", "All right. Nothing changed."),
            ("next", "Bread."),
            ("got it", "Got bread. Rice."),
            ("undo", "Undone: bread got. Bread."),
            ("got it", "Got bread. Rice."),
            ("put the bread back", "Undone: bread got. Bread."),
            ("undo", ask),
            ("yes", "Undone: going shopping."),
        ],
    );
}

#[test]
fn plain_words_at_the_store_are_understood() {
    go_on(
        &mut at_the_store(),
        &[
            ("next", "Bread."),
            ("I can't find it", "No bread; it stays on the list. Rice."),
            (
                "they're sold out",
                "No rice; it stays on the list. 3 apples.",
            ),
            ("skip it", "You're wearing one more reminder: batteries."),
            (
                "they have none",
                "No batteries. The reminder stays. End of the list. 2 things left; say next to begin again.",
            ),
            ("okay next", "3 apples."),
            (
                "they only have one",
                "Got 1 apple. 2 still to get. You're wearing one more reminder: batteries.",
            ),
            (
                "I also got butter",
                "Got butter. It wasn't on the list. 1 more to find.",
            ),
            (
                "I got the batteries",
                "Got batteries. End of the list. 1 thing left; say next to begin again.",
            ),
            ("got the apples", "Got apples. That was all of it."),
            (
                "what's left",
                "Nothing more to find here. Not there: bread, rice.",
            ),
            (
                "I'm done shopping",
                "That was all of it. At home, say: I'm home.",
            ),
        ],
    );
}

#[test]
fn what_is_taken_twice_is_told_with_its_sum() {
    go_on(
        &mut at_the_store(),
        &[
            (
                "got two cans of tuna",
                "Got tuna. It wasn't on the list. 3 more to find.",
            ),
            (
                "got three cans of tuna",
                "In the cart: 5 cans of tuna. 3 more to find.",
            ),
            (
                "got the tuna",
                "In the cart already: 5 cans of tuna. For more, say got, and how many.",
            ),
        ],
    );
}

#[test]
fn spent_tags_of_several_places_are_asked_about() {
    let mut session = begin();
    for line in [
        "add two cans of tuna to the pantry",
        "add two cans of tuna to the garage",
        "add oats to the pantry",
        "spent tags",
    ] {
        say(&mut session, line);
    }
    go_on(
        &mut session,
        &[
            ("next", "Read the next spent tag, or say done."),
            ("all", "I didn't get the name. Say it all again."),
            (
                "tuna",
                "Tuna: all of it, 2 cans, pantry; 2 cans, garage? Yes; or say how much.",
            ),
            ("no", "All right. Nothing changed."),
            (
                "the tuna in the garage",
                "Tuna, garage: used up. 2 cans left.",
            ),
            ("one can of tuna", "Tuna: 1 can left."),
            ("oats", "Oats."),
            ("oats", "Oats: read already."),
            ("undo", "Undone: oats used up."),
            ("done", "2 tags read: tuna, tuna. 0 things on the list."),
        ],
    );
}

#[test]
fn a_few_is_no_amount_and_more_is_beside_what_is_listed() {
    go(&[
        ("put a few apples on the list", "Apples on the list."),
        (
            "put two more cans of beans on the list",
            "On the list: 2 cans of beans.",
        ),
        (
            "put two more cans of beans on the list",
            "On the list: 4 cans of beans instead of 2 cans.",
        ),
        (
            "I need one more gallon of milk",
            "On the list: 1 gallon of milk.",
        ),
    ]);
}

#[test]
fn the_list_is_asked_and_changed_in_plain_words() {
    go(&[
        (
            "I need five pounds of flour",
            "On the list: 5 pounds of flour.",
        ),
        (
            "take two pounds of flour off the list",
            "On the list: 3 pounds of flour instead of 5 pounds.",
        ),
        (
            "change the flour to six pounds",
            "On the list: 6 pounds of flour instead of 3 pounds.",
        ),
        ("is flour on the list", "On the list: 6 pounds of flour."),
        (
            "do I need milk",
            "Not on the list: milk. No milk on the shelf.",
        ),
        ("I need two apples", "On the list: 2 apples."),
        ("make it four", "On the list: 4 apples."),
        ("change the milk to two cartons", "Not on the list: milk."),
    ]);
}

#[test]
fn what_waits_is_found_by_its_feel_and_by_the_end_of_its_name() {
    go(&[
        ("temporary tag sugar", "Tag 1: sugar."),
        ("the sugar feels like a square bag", "Sugar: square bag."),
        ("put away the square bag in the pantry", "Sugar? Yes or no."),
        ("yes", "Sugar: pantry. Tag 1 is free."),
        ("temporary tag frozen corn", "Tag 1: frozen corn."),
        (
            "put the corn in the freezer",
            "Do you mean the frozen corn? Yes or no.",
        ),
        ("yes", "Frozen corn: freezer. Tag 1 is free."),
        ("I need frozen peas", "Frozen peas on the list."),
        ("got the peas", "Do you mean the frozen peas? Yes or no."),
        ("yes", "Got frozen peas. Off the list. The list is empty."),
    ]);
}

#[test]
fn what_is_left_is_what_waits_while_things_are_put_away() {
    let mut session = at_the_store();
    for line in ["got the bread", "temporary tag rice", "I'm home"] {
        say(&mut session, line);
    }
    go_on(
        &mut session,
        &[
            ("put things away", "2 things. Rice: tag 1. Where?"),
            ("what's left", "2 things: rice, tag 1; bread."),
            ("next", "Left for later. Bread. Where?"),
        ],
    );
}

#[test]
fn a_walk_that_a_restart_ended_is_pointed_to() {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("stock.db");
    let open = || Session::new(Stock::open(&path).unwrap(), grammar.clone()).unwrap();
    let mut before = open();
    before.hear(&["temporary tag rice"], now(), Source::Typed);
    before.hear(&["put things away"], now(), Source::Typed);
    drop(before);
    let waits = "1 thing is to be put away. Say: put things away.";
    go_on(&mut open(), &[("in the fridge", waits), ("tag one", waits)]);
}

#[test]
fn a_kitchen_tag_goes_on_the_one_that_is_meant_and_is_told_when_it_is_stale() {
    go(&[
        (
            "add two cans of tuna to the pantry",
            "Tuna: 2 cans, pantry.",
        ),
        (
            "add two cans of tuna to the garage",
            "Tuna: 2 cans, garage.",
        ),
        (
            "kitchen tag three on the tuna",
            "Tuna: the one in the garage? Yes or no.",
        ),
        ("no", "Then the one in the pantry? Yes or no."),
        ("yes", "Tag 3: tuna, 2 cans, pantry."),
        (
            "the tuna contains fish",
            "Tuna: contains fish. Tag 3 is to be written again.",
        ),
        (
            "kitchen tag four on the tuna in the garage",
            "Tag 4: tuna. Contains fish. 2 cans, garage.",
        ),
    ]);
}

#[test]
fn marks_are_told_and_taken_off() {
    go(&[
        ("add a can of corn to the pantry", "Corn: 1 can, pantry."),
        ("the corn has one band", "Corn: 1 band."),
        ("what mark is on the corn", "Corn: 1 band, pantry."),
        ("I took the band off the corn", "Corn: mark off."),
        ("what mark is on the corn", "Corn: no mark is noted."),
        ("undo", "Undone: taking the mark off the corn."),
        ("the corn has no band", "Corn: mark off."),
        (
            "what feels like a round can",
            "Nothing I know feels like that.",
        ),
    ]);
}

#[test]
fn of_the_tags_what_has_passed_is_read_first() {
    go(&[
        ("temporary tag rice", "Tag 1: rice."),
        ("temporary tag oats", "Tag 2: oats."),
        ("temporary tag corn", "Tag 3: corn."),
        (
            "temporary tag chicken use by november twenty fourth twenty twenty six",
            "Tag 4: chicken, use by yesterday, passed. Check the label. When in doubt, throw it out.",
        ),
        (
            "read the tags",
            "4 tags: tag 4, chicken, use by yesterday, passed; tag 1, rice; tag 2, oats. Say more. Check the label. When in doubt, throw it out.",
        ),
        // "It" is what was said first.
        ("the first one", "Tag 4, chicken, use by yesterday, passed."),
        (
            "do they have milk",
            "Not known. Nobody read the label of chicken for milk.",
        ),
    ]);
}
