//! The order of the person's own store, and what is taken along to it.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::stock::{Comes, Event, Section, Source, Stock};
use typed::{go, now};

#[test]
fn the_list_is_read_in_the_order_of_the_persons_store() {
    go(&[
        ("buy milk", "Milk on the list."),
        ("buy apples", "Apples on the list."),
        ("buy bread", "Bread on the list."),
        ("the milk is in the dairy section", "Milk: dairy section."),
        (
            "the apples are in the produce section",
            "Apples: produce section.",
        ),
        (
            "the bread is in the bakery section",
            "Bread: bakery section.",
        ),
        ("read the list", "3 things: bread, apples, milk."),
        (
            "in my store produce comes before the bakery",
            "Produce before bakery in your store.",
        ),
        ("read the list", "3 things: apples, bread, milk."),
        (
            "dairy comes first",
            "Dairy first in your store. Cold food is best picked up last; that is yours to decide.",
        ),
        (
            "I'm going shopping",
            "3 things on the list. Say next for each.",
        ),
        ("next", "Milk, dairy."),
        // It was said once.
        ("meat comes first", "Meat first in your store."),
        ("undo", "Undone: the place of meat in your store."),
        (
            "undo the last two",
            "Undo 2 changes: the place of dairy in your store; going shopping? Yes or no.",
        ),
        ("yes", "2 changes undone."),
        ("read the list", "3 things: apples, bread, milk."),
    ]);
}

#[test]
fn the_order_of_the_store_is_told_and_forgotten() {
    let usual = "21 sections in the usual order: cleaning, paper goods, pet. Say more.";
    let own = "21 sections in your order: produce, cleaning, paper goods. Say more.";
    go(&[
        ("what is the order of my store", usual),
        ("more", "Pharmacy, household, canned goods. 15 more."),
        ("the last one", "Frozen."),
        (
            "forget the order of my store",
            "The order is the usual one already.",
        ),
        ("produce comes first", "Produce first in your store."),
        ("what is the order of my store", own),
        (
            "forget the order of my store",
            "The order of the store is the usual one again.",
        ),
        ("what is the order of my store", usual),
        ("undo", "Undone: forgetting the order of your store."),
        ("what is the order of my store", own),
        (
            "in my store dairy comes after dairy",
            "That is dairy twice. Nothing changed. Say before or after what.",
        ),
    ]);
}

/// A section that only this person's store has.
#[test]
fn a_section_that_is_not_known_comes_before_what_is_kept_cold() {
    let mut stock = Stock::in_memory().unwrap();
    let section = |name| Section::new(name).unwrap();
    let placed = Event::SectionPlaced {
        section: section("candles"),
        comes: Comes::After(section("garden")),
    };
    stock.record(placed, now(), Source::Typed).unwrap();
    let order = stock.store_order().unwrap();
    let names: Vec<&str> = order.sections().iter().map(Section::as_str).collect();
    assert_eq!(names[14..18], ["produce", "garden", "candles", "deli"]);
    assert!(order.is_cold_last());
}

#[test]
fn of_a_long_row_of_tags_it_is_said_how_far_it_is_taken() {
    go(&[
        ("I'm taking tags one to fifty", "50 tags taken along."),
        (
            "I'm taking tags one hundred to two hundred",
            "50 tags taken along. Up to tag 149; for more, say the next ones.",
        ),
    ]);
}
