//! What is published of storage, in the conversation: told as guidance behind the label, and never that something is safe.

#[path = "common/typed.rs"]
mod typed;

use chrono::{Days, NaiveDate};
use tellshelf::stock::Source;

/// Lines on days after November 25, 2026, with their replies.
fn go(lines: &[(u64, &str, &str)]) {
    let first = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let mut session = typed::begin();
    for (days, line, reply) in lines {
        let now = (first + Days::new(*days)).and_hms_opt(10, 0, 0).unwrap();
        let turn = session.hear(&[line], now, Source::Typed);
        assert_eq!(turn.reply, *reply, "to “{line}”");
        assert!(
            !turn.reply.to_lowercase().contains("safe"),
            "{}",
            turn.reply
        );
    }
}

/// Source of the times: FoodKeeper, mayonnaise 2 months and bacon 1 week in the fridge once opened.
#[test]
fn what_is_opened_gets_the_published_time_behind_the_label() {
    go(&[
        (
            0,
            "add a jar of mayonnaise to the fridge",
            "Mayonnaise: 1 jar, fridge.",
        ),
        (
            0,
            "I opened the mayonnaise",
            "Mayonnaise: 1 jar opened, fridge. Published guidance: fridge, till January 25; the label goes first.",
        ),
        (0, "add bacon to the fridge", "Bacon: fridge."),
        (
            0,
            "I opened the bacon yesterday",
            "Bacon: some opened, yesterday, fridge. Published guidance: fridge, till Tuesday, December 1; the label goes first.",
        ),
        (
            0,
            "what expires this week",
            "1 thing: bacon, published guidance till Tuesday, December 1, fridge.",
        ),
        (
            0,
            "what should I use first",
            "2 things: bacon, published guidance till Tuesday, December 1, fridge; mayonnaise, published guidance till January 25, fridge.",
        ),
        (
            2,
            "when does the bacon expire",
            "Bacon: no date noted, opened Tuesday, November 24, 3 days ago, published guidance till Tuesday, December 1, in 4 days, fridge. \
             Check the label.",
        ),
        (
            7,
            "what has expired",
            "1 thing: bacon, published guidance till yesterday, passed, fridge. Check the label. When in doubt, throw it out.",
        ),
        (
            7,
            "when does the bacon expire",
            "Bacon: no date noted, opened November 24, 8 days ago, published guidance till yesterday, passed, fridge. Check the \
             label. When in doubt, throw it out.",
        ),
        (7, "undo", "Undone: bacon opened."),
        (7, "what expires today", "Nothing has a date today."),
    ]);
}

#[test]
fn the_use_by_date_counts_alone_where_it_comes_first() {
    go(&[
        (
            0,
            "add cottage cheese to the fridge, use by November thirtieth",
            "Cottage cheese: fridge, use by Monday, November 30.",
        ),
        (
            0,
            "I opened the cottage cheese",
            "Cottage cheese: some opened, fridge. Use by Monday, November 30.",
        ),
        (
            0,
            "what expires in the next month",
            "1 thing: cottage cheese, use by Monday, November 30, fridge.",
        ),
        (
            0,
            "add hot dogs to the fridge, use by December tenth",
            "Hot dogs: fridge, use by December 10.",
        ),
        (
            0,
            "I opened the hot dogs",
            "Hot dogs: some opened, fridge. Published guidance: fridge, till December 2; the label goes first.",
        ),
        (
            0,
            "what expires in the next month",
            "2 things: cottage cheese, use by Monday, November 30, fridge; hot dogs, published guidance till December 2, use by \
             December 10, fridge.",
        ),
        // What the label says of an opened pack is the person's to say, as a date.
        (
            0,
            "the hot dogs are use by November twenty eighth",
            "Hot dogs: use by December 10 so far. Change it to Saturday, November 28? Yes or no.",
        ),
        (
            0,
            "yes",
            "Hot dogs: fridge, use by Saturday, November 28, opened today.",
        ),
        (
            0,
            "when do the hot dogs expire",
            "Hot dogs: use by Saturday, November 28, in 3 days, opened today, fridge.",
        ),
    ]);
}

/// Freezing stops a clock and never sets it back; thawing begins one of its own. Source: state extension services after FSIS,
/// 3 to 5 days for cuts of red meat and 1 to 2 for poultry; FoodKeeper for bacon.
#[test]
fn the_freezer_stops_the_clock_and_thawing_begins_one() {
    go(&[
        (
            0,
            "put four pork chops in the freezer",
            "Pork chops: 4, freezer.",
        ),
        (
            1,
            "what expires in the next month",
            "Nothing has a date up to December 26.",
        ),
        (
            2,
            "I thawed the pork chops",
            "Pork chops: 4 thawed. No place known. Published guidance: fridge, till Monday, \
             November 30; the label goes first.",
        ),
        (
            2,
            "move the pork chops to the fridge",
            "Pork chops: 4 moved, fridge. Published guidance: fridge, till Monday, November 30; the label \
             goes first.",
        ),
        (
            3,
            "move the pork chops to the counter",
            "Pork chops: 4 moved, counter. Two hours out of the fridge at most, one in heat.",
        ),
        (
            3,
            "move the pork chops to the freezer",
            "Pork chops: 4 frozen. Thawed before: 1 day.",
        ),
        (
            3,
            "what expires in the next month",
            "Nothing has a date up to December 28, 2026.",
        ),
        (
            4,
            "move two pork chops to the fridge",
            "Pork chops: 2 moved, fridge. Thawed before: 1 day. Published guidance: fridge, till Tuesday, \
             December 1; the label goes first. Besides, 2.",
        ),
    ]);
    go(&[
        (0, "add bacon to the fridge", "Bacon: fridge."),
        (
            0,
            "I opened the bacon",
            "Bacon: some opened, fridge. Published guidance: fridge, till December 2; the label goes first.",
        ),
        (2, "I froze the bacon", "Bacon: some frozen."),
        (
            10,
            "what expires in the next month",
            "Nothing has a date up to January 4.",
        ),
        (
            12,
            "I thawed the bacon",
            "Bacon: some thawed. No place known. Published guidance: fridge, till Saturday, December 12; the \
             label goes first.",
        ),
    ]);
}

#[test]
fn what_turns_out_to_be_in_the_freezer_has_no_clock() {
    go(&[
        (0, "add a pack of bacon", "Bacon: 1 pack."),
        (
            0,
            "I opened the bacon",
            "Bacon: 1 pack opened. Published guidance: fridge, till December 2; the label goes first.",
        ),
        (0, "the bacon is in the freezer", "Bacon: 1 pack, freezer."),
        (
            20,
            "what expires this week",
            "Nothing has a date up to December 22.",
        ),
    ]);
}

#[test]
fn what_ends_first_is_used_first() {
    go(&[
        (
            0,
            "add a jar of mayonnaise to the fridge, opened yesterday",
            "Mayonnaise: 1 jar, fridge, opened yesterday. Published guidance: fridge, till January 24; the \
             label goes first.",
        ),
        (
            0,
            "add a jar of mayonnaise to the fridge, opened Friday",
            "Mayonnaise: 1 jar, fridge, opened Friday, November 20. Published guidance: fridge, till January 20; \
             the label goes first.",
        ),
        (
            0,
            "I used one jar of mayonnaise",
            "Mayonnaise: 1 jar left. Taken from: opened Friday, November 20.",
        ),
        // Its own date comes before what is published of the other one.
        (
            0,
            "add a jar of mayonnaise to the fridge, best by December first",
            "Mayonnaise: 1 jar, fridge, best by Tuesday, December 1.",
        ),
        (
            0,
            "I opened the mayonnaise",
            "Mayonnaise: 1 jar opened, fridge. Published guidance: fridge, till January 25; the \
             label goes first. Besides, 1 jar.",
        ),
        (
            0,
            "I used one jar of mayonnaise",
            "Mayonnaise: 1 jar left. Taken from: best by Tuesday, December 1.",
        ),
    ]);
}

#[test]
fn what_is_no_food_has_no_guide() {
    go(&[
        (0, "add honey to the pantry", "Honey: pantry."),
        (0, "add bacon to the fridge", "Bacon: fridge."),
        (
            0,
            "bacon is a household thing",
            "Bacon: household, no medicine? Yes or no.",
        ),
        (0, "yes", "Bacon: household."),
        (0, "I opened the bacon", "Bacon: some opened, fridge."),
        (
            0,
            "how long does bacon keep",
            "No published time that I know; go by the label.",
        ),
        (0, "bacon is food", "Bacon: food, no medicine? Yes or no."),
        (0, "yes", "Bacon: food."),
        (
            0,
            "what expires in the next month",
            "1 thing: bacon, published guidance till December 2, fridge.",
        ),
        (0, "bacon is a medicine", "Bacon: a medicine? Yes or no."),
        (0, "yes", "Bacon: a medicine. I never tell it by feel."),
        (
            0,
            "what expires in the next month",
            "Nothing has a date up to December 25.",
        ),
        // Nothing is published of opened honey.
        (0, "I opened the honey", "Honey: some opened, pantry."),
    ]);
}

/// Sources: FoodKeeper; cold storage chart; state extension services after FSIS.
#[test]
fn how_long_something_keeps_can_be_asked() {
    const NONE: &str = "No published time that I know; go by the label.";
    go(&[
        (
            0,
            "how long does opened mayonnaise keep",
            "Mayonnaise: opened, 2 months in the fridge. FoodKeeper; the label goes first.",
        ),
        (
            0,
            "how long do eggs keep in the fridge",
            "Eggs: 3 to 5 weeks in the fridge. FoodKeeper; the label goes first.",
        ),
        (
            0,
            "how long do eggs keep in the freezer",
            "Eggs: not recommended in the freezer. FoodKeeper; the label goes first.",
        ),
        (
            0,
            "how long can I keep bacon",
            "Bacon: 1 week in the fridge; opened, 1 week in the fridge; 1 month in the freezer, for quality. FoodKeeper; the \
             label goes first.",
        ),
        (
            0,
            "how long does chicken keep after thawing",
            "Chicken: thawed, 1 to 2 days in the fridge. Extension service; the label goes first.",
        ),
        (
            0,
            "how long does cooked rice keep in the fridge",
            "Cooked rice: 3 to 4 days in the fridge. Cold storage chart; the label goes first.",
        ),
        (
            0,
            "how long does butter keep on the counter",
            "Butter: 1 to 2 days at room temperature. FoodKeeper; the label goes first.",
        ),
        (
            0,
            "how long does peanut butter keep",
            "Peanut butter: 6 to 24 months in the pantry; opened, 2 to 3 months in the pantry. FoodKeeper; the label goes first.",
        ),
        (
            0,
            "how long does milk keep",
            "Milk: 1 week in the fridge; 3 months in the freezer, for quality. Older storage chart and FoodKeeper; the label goes \
             first.",
        ),
        (
            0,
            "how long does infant formula keep",
            "Infant formula: in the pantry until the use-by date on the pack. FoodKeeper; the label goes first. Past its use-by \
             date, discard the infant formula.",
        ),
        (
            0,
            "how long does mayo keep in the fridge once it is open",
            "Mayonnaise: opened, 2 months in the fridge. FoodKeeper; the label goes first.",
        ),
        (
            0,
            "how long does mayo keep once opened in the freezer",
            NONE,
        ),
        (0, "how long does coconut milk keep", NONE),
        (0, "how long does opened milk keep", NONE),
        (0, "how long does cheese keep", NONE),
        (0, "how long does mayonnaise keep in the cellar", NONE),
        (0, "how long does mayonnaise keep in the freezer", NONE),
        (0, "how long does thawed bread keep", NONE),
        (0, "how long does zhoug keep", NONE),
    ]);
}

/// Sources: 21 CFR 107.20(c), and FSIS, "Food Product Dating".
#[test]
fn infant_formula_past_its_use_by_date_is_to_be_discarded() {
    go(&[
        (
            0,
            "add two cans of infant formula to the pantry, use by November thirtieth",
            "Infant formula: 2 cans, pantry, use by Monday, November 30.",
        ),
        (
            5,
            "what expires this week",
            "1 thing: infant formula, use by today, pantry.",
        ),
        (
            6,
            "what expires this week",
            "1 thing: infant formula, use by yesterday, passed, pantry. Past its use-by date, discard the infant formula.",
        ),
        (
            6,
            "when does the infant formula expire",
            "Infant formula: use by yesterday, passed, pantry. Past its use-by date, discard the infant formula.",
        ),
    ]);
}
