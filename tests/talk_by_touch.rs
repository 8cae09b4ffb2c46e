//! What is in hand is told by its tag, its name, its mark or its feel; and marks that meet are told of.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::stock::Source;
use tellshelf::talk::Session;
use typed::now;

/// A conversation after some lines whose replies are of no matter.
struct Talk(Session);

impl Talk {
    fn after(lines: &[&str]) -> Self {
        let mut talk = Self(typed::begin());
        for line in lines {
            talk.0.hear(&[line], now(), Source::Typed);
        }
        talk
    }

    fn say(&mut self, line: &str, reply: &str) {
        let turn = self.0.hear(&[line], now(), Source::Typed);
        assert_eq!(turn.reply, reply, "to “{line}”");
    }

    /// What is answered, and changes nothing.
    fn ask(&mut self, line: &str, reply: &str) {
        let before = self.0.stock().dump().unwrap();
        self.say(line, reply);
        assert_eq!(self.0.stock().dump().unwrap(), before, "by “{line}”");
        let words = reply.split_whitespace().count();
        assert!(words <= 20, "{words} words: {reply}");
    }
}

const FROM_THE_STORE: [&str; 17] = [
    "I'm going shopping",
    "temporary tag: two cans of chickpeas",
    "temporary tag: rice",
    "got the sardines",
    "got the tuna",
    "got the aspirin",
    "aspirin is a medicine",
    "yes",
    "the sardines feel like a flat oblong can with a ring pull",
    "the tuna feels like a round can",
    "the chickpeas feel like a round can",
    "the aspirin feels like a small bottle",
    "I put two bands on the lid on the chickpeas",
    "I put a clip on the tuna",
    "I put a card on the aspirin",
    "I'm home",
    "put things away",
];

fn home() -> Talk {
    Talk::after(&FROM_THE_STORE)
}

#[test]
fn what_is_in_hand_is_told_by_tag_name_or_mark_in_any_order() {
    let mut talk = home();
    talk.ask("tag two", "Rice: tag 2. Where?");
    talk.ask("the sardines", "Sardines. Where?");
    let chickpeas = "Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?";
    talk.ask("this is tag one", chickpeas);
    talk.ask("this is the tuna", "Tuna: 1 clip. Where?");
    talk.ask("the one with two bands", chickpeas);
    talk.ask("the one with a clip on the lid", "Tuna: 1 clip. Where?");
    talk.ask("the one with a card", "Aspirin: 1 card. Where?");
    talk.say(
        "in the bathroom",
        "Aspirin: bathroom. Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?",
    );
    talk.ask("the tuna", "Tuna: 1 clip. Where?");
    talk.say(
        "in the pantry",
        "Tuna: pantry. Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?",
    );
}

#[test]
fn what_was_left_for_later_can_be_taken_up_again() {
    let mut talk = home();
    talk.ask("skip it", "Left for later. Rice: tag 2. Where?");
    talk.ask(
        "the chickpeas",
        "Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?",
    );
    talk.ask("skip it", "Left for later. Rice: tag 2. Where?");
    // What is marked while it waits is still the one that was left.
    talk.say("I put a notch on the chickpeas", "Chickpeas: 1 notch.");
    talk.say(
        "in the pantry",
        "Rice: pantry. Tag 2 is free. Sardines. Where?",
    );
    talk.say("pantry", "Sardines: pantry. Tuna: 1 clip. Where?");
    talk.say("pantry", "Tuna: pantry. Aspirin: 1 card. Where?");
    talk.say(
        "bathroom",
        "Aspirin: bathroom. That was the last. 1 is left for later.",
    );
    talk.ask(
        "the one with a notch",
        "Chickpeas: tag 1, 1 notch, 2 cans. Where?",
    );
}

#[test]
fn what_fits_by_feel_and_isnt_the_only_one_is_asked_about() {
    let mut talk = home();
    // The rice's feel was never told: it may be an oblong can as well.
    talk.ask(
        "the flat oblong can with a ring pull",
        "Sardines? Yes or no.",
    );
    talk.ask("no", "Then say its name, its tag or its mark.");
    talk.ask("it's the flat oblong can", "Sardines? Yes or no.");
    talk.ask("yes", "Sardines. Where?");
    talk.say(
        "pantry",
        "Sardines: pantry. Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?",
    );
    talk.ask("the round can", "Two fit: chickpeas, tuna. Say its name.");
    talk.ask("the round can with a clip", "Tuna: 1 clip. Where?");
    // With its feel told, the others are all known to be something else.
    talk.say("the rice feels like a soft bag", "Rice: soft bag.");
    talk.ask("the bag", "Rice: tag 2. Where?");
}

#[test]
fn the_likelier_of_two_is_asked_about_first() {
    let mut talk = Talk::after(&[
        "I'm going shopping",
        "got the sardines",
        "got the tuna",
        "the sardines feel like a small flat oblong can with a ring pull",
        "the tuna feels like a can",
        "I'm home",
        "put things away",
    ]);
    talk.ask(
        "the small flat oblong can with a ring pull",
        "Sardines? Yes or no.",
    );
    talk.ask("no", "Tuna? Yes or no.");
    talk.ask("repeat that", "Tuna? Yes or no.");
    talk.ask("no", "Then say its name, its tag or its mark.");
    talk.ask(
        "the small flat oblong can with a ring pull",
        "Sardines? Yes or no.",
    );
    // A place is no answer to that, and isn't taken for what was in turn.
    let which = "Which one? Say its name, its tag or its mark, or skip it.";
    talk.ask("in the pantry", which);
    talk.ask("yes", "There was no question.");
    talk.ask("the tuna", "Tuna. Where?");
}

#[test]
fn a_medicine_is_chosen_by_its_mark_or_name_and_never_by_feel_alone() {
    let mut talk = home();
    let never = "A medicine may feel like that. Say its name, its tag or its mark.";
    talk.ask("the small bottle", never);
    talk.ask("the small bottle with a card", "Aspirin: 1 card. Where?");
    talk.ask("the rice", "Rice: tag 2. Where?");
    talk.ask("the aspirin", "Aspirin: 1 card. Where?");
    talk.say("the rice feels like a small bottle", "Rice: small bottle.");
    // Nor is what feels like the medicine.
    talk.ask("the small bottle", never);
}

#[test]
fn what_fits_nothing_that_waits_is_told_with_what_to_say() {
    let mut talk = home();
    let names = "chickpeas, rice, sardines, tuna, aspirin.";
    talk.ask(
        "the jar",
        &format!("None is known to feel so. Say which: {names}"),
    );
    let reply = format!("None is known to feel so. Say which: {names}");
    talk.ask("the one with three bands", &reply);
    talk.ask("the can with two bands at the top", &reply);
    talk.ask(
        "the milk",
        &format!("Milk: none to put away. There are: {names}"),
    );
    talk.ask(
        "the zhoug",
        &format!("Zhoug: none to put away. There are: {names}"),
    );
    talk.ask("tag nine", &format!("Tag 9 is on none of these: {names}"));
    talk.ask(
        "this is tag nine",
        &format!("Tag 9 is on none of these: {names}"),
    );
    // Something else than what was in turn is in hand, and no place is taken for that.
    let which = "Which one? Say its name, its tag or its mark, or skip it.";
    talk.ask("pantry", which);
    talk.ask("I can't tell", "Lay it aside for the end, and say skip it.");
    talk.ask(
        "skip it",
        "Left for later. Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?",
    );
}

#[test]
fn two_things_of_one_name_are_told_apart_by_their_tags() {
    let mut talk = Talk::after(&[
        "temporary tag: two cans of corn",
        "temporary tag: one bag of corn",
        "I'm going shopping",
        "got the corn",
        "I'm home",
        "put things away",
    ]);
    let three = "Three are corn: tag 1, tag 2. Say which tag, or corn without a tag.";
    talk.ask("the corn", three);
    talk.ask("tag two", "Corn: tag 2, 1 bag. Where?");
    talk.ask("the corn without a tag", "Corn. Where?");
    talk.say(
        "pantry",
        "Corn: pantry. Corn: tag 1, 2 cans. Usually pantry. Where?",
    );
    talk.ask("the corn", "Two are corn: tag 1, tag 2. Say which tag.");
    talk.ask(
        "corn without a tag",
        "Corn: none without a tag. Say: tag 1, tag 2.",
    );
}

#[test]
fn a_number_is_a_temporary_tag_where_one_waits_and_else_asked_about_as_a_kitchen_tag() {
    let mut talk = home();
    talk.ask(
        "tag twelve",
        "Tag 12 is on none of these: chickpeas, rice, sardines, tuna, aspirin.",
    );
    talk.ask(
        "tag one",
        "Chickpeas: tag 1, 2 bands on the lid, 2 cans. Where?",
    );
    talk.say(
        "pantry",
        "Chickpeas: pantry. Tag 1 is free. Rice: tag 2. Where?",
    );
    talk.ask("tag twelve", "Kitchen tag 12 for the chickpeas? Yes or no.");
    talk.say(
        "yes",
        "Tag 12: chickpeas, 2 cans, pantry, 2 bands on the lid. Rice: tag 2. Where?",
    );
    talk.ask("tag two", "Rice: tag 2. Where?");
    talk.ask(
        "kitchen tag two",
        "Tag 2 is on rice. Nothing changed. Take another tag.",
    );
}

#[test]
fn what_got_its_place_in_a_whole_sentence_is_no_longer_in_hand() {
    let mut talk = home();
    talk.say(
        "put away tag one in the cellar",
        "Chickpeas: 2 cans, cellar. Tag 1 is free.",
    );
    talk.ask(
        "in the pantry",
        "Chickpeas has its place. Rice: tag 2. Where?",
    );
}

#[test]
fn a_thing_in_hand_belongs_to_putting_away() {
    let mut talk = Talk::after(&["add a can of corn to the pantry"]);
    let turn = talk.0.hear(&["tag three"], now(), Source::Typed);
    assert!(!turn.changed);
    let intent = turn.understanding.command.map(|command| command.intent);
    assert_ne!(intent.as_deref(), Some("in-hand"));
}

fn marked() -> Talk {
    Talk::after(&[
        "add a can of beans to the pantry",
        "I put two bands on the beans",
        "add a can of corn to the cellar",
        "I put two bands on the lid on the corn",
        "add a loaf of bread to the freezer",
        "I put a clip on the bread",
        "add a bag of rice to the counter",
        "I put a clip on the rice",
    ])
}

#[test]
fn marks_that_meet_by_a_move_are_told_with_one_that_is_free() {
    let mut talk = marked();
    // Of 2 bands whose spot nobody told, a hand can't know that they aren't those on the lid.
    let reply = "Corn: 1 can moved, pantry. Marked like the beans there: make it 1 band.";
    talk.say("move the corn to the pantry", reply);
    talk.say(
        "I froze the rice",
        "Rice: 1 bag frozen. Marked like the bread there: make it 1 band.",
    );
    // Two that are both told are two.
    talk.say(
        "I put two bands at the top on the beans",
        "Beans: 2 bands at the top.",
    );
    talk.say("move the corn to the cellar", "Corn: 1 can moved, cellar.");
    talk.say("move the corn to the pantry", "Corn: 1 can moved, pantry.");
}

#[test]
fn marks_that_meet_by_putting_back_are_told() {
    let mut talk = marked();
    talk.say(
        "I used up the beans",
        "Beans used up. Off the shelf: 1 can, pantry. On the list.",
    );
    talk.say("move the corn to the pantry", "Corn: 1 can moved, pantry.");
    let reply = "Beans back: 1 can. Marked like the corn there: make it 1 band.";
    talk.say("put the beans back", reply);
}

#[test]
fn a_mark_that_says_less_is_refused_with_one_that_is_free() {
    let mut talk = marked();
    talk.say(
        "move the corn to the pantry",
        "Corn: 1 can moved, pantry. Marked like the beans there: make it 1 band.",
    );
    let reply = "Already on the beans: 2 bands. Nothing changed. Take 1 band.";
    talk.ask("two bands at the bottom on the corn", reply);
    talk.say("one band on the corn", "Corn: 1 band.");
    // What stands for something in the house isn't proposed for another thing, wherever that lies.
    talk.say(
        "move the beans to the cellar",
        "Beans: 1 can moved, cellar.",
    );
    talk.say("add a box of salt to the pantry", "Salt: 1 box, pantry.");
    let reply = "Already on the corn: 1 band. Nothing changed. Take 3 bands.";
    talk.ask("one band on the lid on the salt", reply);
}

#[test]
fn only_marks_on_what_lies_there_meet() {
    let mut talk = marked();
    // This bag of rice has no clip.
    talk.say("add a bag of rice to the freezer", "Rice: 1 bag, freezer.");
    talk.say(
        "move the bread to the counter",
        "Bread: 1 loaf moved, counter. Marked like the rice there: make it 1 band.",
    );
    talk.say("move the bread to the freezer", "Bread: 1 loaf frozen.");
}

#[test]
fn a_medicine_shares_its_mark_with_nothing_in_the_house() {
    let mut talk = marked();
    talk.say("the rice is a medicine", "Rice: a medicine? Yes or no.");
    let reply = "Rice: a medicine. I never tell it by feel. Marked like the bread: make it 1 piece of tape.";
    talk.say("yes", reply);
    let reply = "Bread: 1 loaf moved, cellar. Marked like a medicine, the rice: make it 1 band.";
    talk.say("move the bread to the cellar", reply);
}
