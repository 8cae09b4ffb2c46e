//! What can't be: a short answer says what is known and what to say next, and nothing changes.

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::grammar::Grammar;
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::Session;

fn now() -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    day.and_hms_opt(10, 0, 0).unwrap()
}

/// Says some lines, and then one that gets this reply and changes nothing.
fn refused(before: &[&str], line: &str, reply: &str) {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    for line in before {
        session.hear(&[line], now(), Source::Typed);
    }
    let dump = session.stock().dump().unwrap();
    let events = session.stock().events().unwrap().len();
    let turn = session.hear(&[line], now(), Source::Typed);
    assert_eq!(turn.reply, reply, "to “{line}”");
    assert!(!turn.changed);
    assert_eq!(session.stock().dump().unwrap(), dump);
    assert_eq!(session.stock().events().unwrap().len(), events);
    let words = reply.split_whitespace().count();
    assert!(words <= 20, "{words} words");
}

#[test]
fn a_tag_that_nobody_spoke_of() {
    refused(
        &["spent tags"],
        "seven",
        "There is no tag 7. Say read the tags.",
    );
    let line = "put away tag seven in the fridge";
    refused(&[], line, "There is no tag 7. Say read the tags.");
    refused(
        &[],
        "I lost tag seven",
        "There is no tag 7. Say read the tags.",
    );
}

#[test]
fn a_tag_that_is_on_something_else() {
    let before = [
        "add a bag of sugar to the pantry",
        "add a bag of flour to the pantry",
        "kitchen tag five on the sugar",
    ];
    let reply = "Tag 5 is on sugar. Nothing changed. Take another tag.";
    refused(&before, "kitchen tag five on the flour", reply);
    refused(&before, "reminder tag five for salt", reply);
}

#[test]
fn a_tag_that_is_lost_before_its_thing_is_put_away() {
    let before = ["temporary tag two pounds of salmon"];
    let reply = "Tag 1 is noted for salmon. Nothing changed. Put the salmon away first.";
    refused(&before, "I lost tag one", reply);
}

#[test]
fn a_tag_of_another_kind() {
    let before = [
        "reminder tag five for salt",
        "add a bag of flour to the pantry",
        "spent tags",
    ];
    let reply = "Tag 5 is a reminder tag. Nothing changed.";
    refused(&before, "five", reply);
}

#[test]
fn a_tag_that_is_on_nothing_or_lost() {
    let before = [
        "add a bag of sugar to the pantry",
        "kitchen tag five on the sugar",
        "spent tags",
        "five",
    ];
    refused(&before, "five", "Tag 5 is on nothing. Nothing changed.");
    let lost = [&before[..], &["I lost tag five"]].concat();
    refused(&lost, "five", "Tag 5 is noted as lost. Say: I found tag 5.");
}

#[test]
fn what_is_not_there_is_not_used() {
    refused(
        &[],
        "I used two bags of sugar",
        "No sugar on the shelf. Nothing changed.",
    );
    refused(
        &[],
        "I opened the milk",
        "No milk on the shelf. Nothing changed.",
    );
    refused(
        &[],
        "kitchen tag five on the sugar",
        "No sugar on the shelf. Nothing changed.",
    );
    let reply = "Bread wasn't the last thing used up. Add it again, with how much there is.";
    refused(&[], "put the bread back", reply);
}

#[test]
fn more_than_there_is_is_not_used() {
    let before = ["add a bag of sugar to the pantry"];
    let reply = "Sugar: only 1 bag. Nothing changed.";
    refused(&before, "I used two bags of sugar", reply);
}

#[test]
fn one_name_is_not_given_to_two_things() {
    let before = [
        "add a bag of sugar to the pantry",
        "add a bag of flour to the pantry",
    ];
    let reply = "Sugar is a name already. Nothing changed. Say another one.";
    refused(&before, "call it sugar", reply);
}

#[test]
fn a_date_long_past_is_asked_about() {
    let reply = "Tuesday, March 3, 2020 is long past. Is that the date? Yes or no.";
    refused(
        &[],
        "add milk to the fridge, use by march third 2020",
        reply,
    );
    refused(&[], "temporary tag milk, use by march third 2020", reply);
}

#[test]
fn a_date_is_not_changed_unasked() {
    let before = ["add milk to the fridge, use by december third"];
    let reply = "Milk: use by December 3 so far. Change it to December 10? Yes or no.";
    refused(&before, "the milk is use by december tenth", reply);
}

#[test]
fn a_mark_means_one_thing_in_one_place() {
    let before = [
        "add a can of beans to the pantry",
        "add a can of tomatoes to the pantry",
        "I put two bands on the beans",
    ];
    let reply = "Already on the beans: 2 bands. Nothing changed. Take 1 band.";
    refused(&before, "I put two bands on the tomatoes", reply);
}

#[test]
fn what_is_of_a_trip_is_not_done_without_one() {
    refused(&[], "I'm home", "No trip is on. Nothing changed.");
    refused(
        &[],
        "they have none",
        "Which one? Say next, or got and its name.",
    );
    let reply = "You're on a trip already. Say: I'm home, or next.";
    refused(&["I'm going shopping"], "I'm going shopping", reply);
    refused(&[], "put things away", "Nothing is to be put away.");
}

#[test]
fn a_label_that_nobody_read_is_not_known() {
    let before = ["add a bag of flour to the pantry"];
    let reply = "Not known. Nobody read the label of flour for peanuts.";
    refused(&before, "does the flour contain peanuts", reply);
}

#[test]
fn what_could_hurt_is_asked_first() {
    let reply = "Flour: the label was read, and lists no peanuts? Yes or no.";
    refused(&[], "the label of the flour lists no peanuts", reply);
    refused(
        &[],
        "vinegar is a medicine",
        "Vinegar: a medicine? Yes or no.",
    );
}

#[test]
fn a_medicine_is_never_told_by_feel() {
    let before = [
        "aspirin is a medicine",
        "yes",
        "add a bottle of aspirin to the medicine cabinet",
        "the aspirin feels like a small round bottle",
    ];
    let reply =
        "A medicine may feel like that. Never tell a medicine by feel: have its label read.";
    refused(&before, "what is this small round bottle", reply);
}

#[test]
fn a_code_that_was_misread_is_scanned_again() {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    // The check digit of the second is wrong; the first is a published example. Source: GS1 General Specifications.
    for (code, reply) in [
        (
            "6291041500213",
            "I don't know this code. Say: this is, and its name; or: this is tag, and its number.",
        ),
        ("6291041500214", "That code was misread. Scan it again."),
        (
            "201234105992",
            "That number is the store's own: it names nothing at home. Use the name instead.",
        ),
    ] {
        let turn = session.scan(code, now(), Source::Typed).unwrap();
        assert_eq!(turn.reply, reply, "{code}");
        assert!(!turn.changed);
    }
    assert!(
        session
            .scan("two cans of corn", now(), Source::Typed)
            .is_none()
    );
    session.scan("6291041500213", now(), Source::Typed);
    session.hear(&["this is the rice"], now(), Source::Typed);
    let turn = session.scan("6291041500213", now(), Source::Typed).unwrap();
    assert_eq!(turn.reply, "No rice on the shelf.");
}

#[test]
fn a_code_that_nobody_knows_ends_no_walk() {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    let mut say = |line: &str| {
        let scanned = session.scan(line, now(), Source::Typed);
        let turn = scanned.unwrap_or_else(|| session.hear(&[line], now(), Source::Typed));
        turn.reply
    };
    say("add a bag of sugar to the pantry");
    say("kitchen tag five on the sugar");
    say("add a bag of flour to the pantry");
    say("spent tags");
    let unknown =
        "I don't know this code. Say: this is, and its name; or: this is tag, and its number.";
    assert_eq!(say("04A2B1C2D3"), unknown);
    assert_eq!(say("this is tag five"), "The code means tag 5.");
    assert_eq!(say("04A2B1C2D3"), "Sugar.");
    // One that is passed by doesn't end it either.
    assert_eq!(say("04FFB1C2D3"), unknown);
    assert_eq!(say("flour"), "Flour.");
    let done = "2 tags read: sugar, flour. 2 things on the list.";
    assert_eq!(say("done"), done);
}
