//! What labels say of allergens: noted as it was read, told as it was noted, and never guessed.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, go_on, say};

const OATS: (&str, &str) = ("add a bag of oats to the pantry", "Oats: 1 bag, pantry.");

#[test]
fn what_may_be_in_it_is_noted_and_told_so() {
    go(&[
        ("the cereal may contain milk", "Cereal: may contain milk."),
        (
            "does the cereal have milk",
            "Maybe. Cereal: the label says it may contain milk.",
        ),
        (
            "the label of the cookies says may contain traces of peanuts",
            "Cookies: may contain peanuts.",
        ),
        ("the cereal also contains wheat", "Cereal: contains wheat."),
    ]);
}

#[test]
fn what_somebody_only_thinks_is_not_noted_and_makes_no_name() {
    let reply = "Say it as the label does: contains milk, may contain milk, or lists no milk.";
    for line in [
        "the cereal probably contains milk",
        "the cereal never contains milk",
        "I think the cereal contains milk",
        "the cereal could contain milk",
    ] {
        let mut session = begin();
        assert_eq!(say(&mut session, line), reply, "{line}");
        assert!(session.stock().events().unwrap().is_empty(), "{line}");
    }
}

#[test]
fn a_no_is_never_lost() {
    for line in [
        "the oats contain no milk",
        "the oats have no milk",
        "the oats don't contain milk",
        "the oats do not contain any milk",
        "the oats are free of milk",
        "the label of the oats doesn't list milk",
        "the label of the oats lists no milk",
    ] {
        let mut session = begin();
        let reply = say(&mut session, line);
        let asked = "Oats: the label was read, and lists no milk? Yes or no.";
        assert_eq!(reply, asked, "{line}");
    }
    let mut session = go(&[OATS]);
    for line in [
        "the oats not contain wheat",
        "don't add milk to the fridge",
        "what has no milk",
        "I did not use two bags of oats",
    ] {
        say(&mut session, line);
        say(&mut session, "yes");
    }
    assert_eq!(session.stock().events().unwrap().len(), 1);
    // What says the opposite with one letter less isn't guessed at.
    let reply = say(&mut session, "the oats contain not wheat");
    assert_eq!(reply, "I didn't get that.");
}

#[test]
fn nuts_are_peanuts_and_tree_nuts() {
    go(&[
        ("add granola to the pantry", "Granola: pantry."),
        ("the granola contains peanuts", "Granola: contains peanuts."),
        (
            "what has nuts in it",
            "1 thing with nuts: granola, the label says peanuts.",
        ),
        (
            "the label of the granola lists no tree nuts",
            "Granola: the label was read, and lists no tree nuts? Yes or no.",
        ),
        ("yes", "Granola: label read, no tree nuts listed."),
        (
            "does the granola have nuts",
            "Yes. Granola: the label says peanuts.",
        ),
        (
            "does the granola have cashews",
            "Granola: the label was read, and lists no cashews. Makers change recipes: have the label read.",
        ),
        OATS,
        (
            "the label of the oats lists no nuts",
            "Oats: the label was read, and lists no peanuts or tree nuts? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        (
            "the label of the oats lists no peanuts",
            "Oats: the label was read, and lists no peanuts? Yes or no.",
        ),
        ("yes", "Oats: label read, no peanuts listed."),
        (
            "do the oats have nuts",
            "Not known for all nuts. The label of oats lists no peanuts.",
        ),
    ]);
}

#[test]
fn a_kind_stands_for_what_it_is_a_kind_of() {
    go(&[
        OATS,
        ("the oats contain wheat", "Oats: contains wheat."),
        (
            "do the oats contain gluten",
            "Yes. Oats: the label says wheat.",
        ),
        ("the cookies contain cream", "Cookies: contains cream."),
        (
            "do the cookies have milk",
            "Yes. Cookies: the label says cream.",
        ),
        ("the soup contains shrimp", "Soup: contains shrimp."),
        (
            "does the soup have shellfish",
            "Yes. Soup: the label says shrimp.",
        ),
        ("the granola contains nuts", "Granola: contains nuts."),
        (
            "does the granola have peanuts",
            "Maybe. Granola: the label says nuts.",
        ),
    ]);
}

#[test]
fn what_is_not_in_the_house_is_told_too() {
    go(&[
        ("the cookies contain milk", "Cookies: contains milk."),
        (
            "what has milk in it",
            "No label in the house says milk. Not in the house, but with it: cookies.",
        ),
        OATS,
        (
            "what has milk in it",
            "No label in the house says milk. Not in the house, but with it: cookies. Not known for oats.",
        ),
    ]);
}

#[test]
fn a_label_that_lists_none_was_read_on_one_pack() {
    go(&[
        OATS,
        (
            "the label of the oats lists no peanuts",
            "Oats: the label was read, and lists no peanuts? Yes or no.",
        ),
        ("yes", "Oats: label read, no peanuts listed."),
        (
            "I used up the oats",
            "Oats used up. Off the shelf: 1 bag, pantry. On the list.",
        ),
        (
            "add a bag of oats to the pantry",
            "Oats: 1 bag, pantry. Off the list.",
        ),
        (
            "do the oats have peanuts",
            "Not known for this pack. The label read before listed no peanuts.",
        ),
        ("undo", "Undone: adding 1 bag of oats."),
        (
            "do the oats have peanuts",
            "Oats: the label was read, and lists no peanuts. Makers change recipes: have the label read.",
        ),
    ]);
}

#[test]
fn what_a_label_said_so_far_is_part_of_the_question() {
    go(&[
        ("the soup contains milk", "Soup: contains milk."),
        (
            "the label of the soup lists no milk",
            "Soup: so far the label says milk. Change it to lists no milk? Yes or no.",
        ),
        ("yes", "Soup: label read, no milk listed."),
        ("undo", "Undone: noting no milk on the label of soup."),
        ("does the soup have milk", "Yes. Soup: the label says milk."),
        ("undo", "Undone: noting milk on the label of soup."),
    ]);
}

#[test]
fn an_allergen_that_was_misheard_is_put_right() {
    go(&[
        OATS,
        (
            "do the oats have peanuts",
            "Not known. Nobody read the label of oats for peanuts.",
        ),
        (
            "no, I said wheat",
            "Not known. Nobody read the label of oats for wheat.",
        ),
        ("the oats contain milk", "Oats: contains milk."),
        ("no, I said wheat", "Oats: contains wheat."),
        (
            "do the oats have milk",
            "Not known. Nobody read the label of oats for milk.",
        ),
    ]);
}

#[test]
fn several_allergens_are_said_at_once_and_all_of_them_read() {
    let mut session = go(&[
        OATS,
        (
            "the oats contain milk and eggs",
            "Oats: contains milk and eggs.",
        ),
        (
            "the label of the oats lists no peanuts or sesame",
            "Oats: the label was read, and lists no peanuts or sesame? Yes or no.",
        ),
        ("yes", "Oats: label read, no peanuts or sesame listed."),
        ("the oats may contain soy", "Oats: may contain soy."),
    ]);
    go_on(
        &mut session,
        &[
            (
                "what allergens are in the oats",
                "Oats, by the label: contains eggs and milk, may contain soy, lists no peanuts or sesame. Of others nothing is known.",
            ),
            (
                "what allergens are in the rice",
                "Not known. Nobody read the label of rice.",
            ),
            ("do the oats have eggs", "Yes. Oats: the label says eggs."),
        ],
    );
}
