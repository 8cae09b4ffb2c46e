//! Who says "teach me" practises on a kitchen that is thrown away, and one's own stays as it was.

#[path = "common/kitchen.rs"]
mod kitchen;

#[path = "common/typed.rs"]
mod typed;

use kitchen::Kitchen;
use tellshelf::grammar::WakePhrase;
use tellshelf::stock::{Source, Stock};
use typed::{begin, go_on, now, say};

const BEGUN: &str = "Practice. Nothing here is kept. Say: put milk on the list.";
const OVER: &str = "Practice is over. Your own kitchen is as it was.";

/// The round as it is meant to go.
const ROUND: [(&str, &str); 8] = [
    ("teach me", BEGUN),
    (
        "put milk on the list",
        "Milk on the list. Right. Now say: read the list.",
    ),
    (
        "read the list",
        "1 thing: milk. Right. Now say: put two cans of beans in the pantry.",
    ),
    (
        "put two cans of beans in the pantry",
        "Beans: 2 cans, pantry. Right. Now say: I used up the beans.",
    ),
    (
        "I used up the beans",
        "Beans used up. Off the shelf: 2 cans, pantry. On the list. Right. Now say: undo.",
    ),
    (
        "undo",
        "Undone: beans used up. Right. Now say: where are the beans.",
    ),
    (
        "where are the beans",
        "Beans: pantry. Right. Now say: repeat that.",
    ),
    (
        "repeat that",
        "Beans: pantry. Right. Practice is over. Your own kitchen is as it was.",
    ),
];

#[test]
fn the_round_goes_from_step_to_step_and_changes_nothing_of_ones_own() {
    let mut session = begin();
    say(&mut session, "put dish soap on the list");
    let events = session.stock().events().unwrap();
    for (line, reply) in ROUND {
        let turn = session.hear(&[line], now(), Source::Typed);
        assert_eq!(turn.reply, reply);
        assert!(!turn.changed, "{line}");
        assert!(turn.reply.split_whitespace().count() <= 20, "{reply}");
        assert_eq!(session.stock().events().unwrap(), events, "{line}");
    }
    go_on(
        &mut session,
        &[
            ("read the list", "1 thing: dish soap."),
            ("where are the beans", "No beans on the shelf."),
            ("undo", "Undone: dish soap on the list."),
        ],
    );
}

#[test]
fn what_else_is_said_is_done_there_and_the_step_is_said_again() {
    go_on(
        &mut begin(),
        &[
            ("let me practise", BEGUN),
            (
                "put bread on the list",
                "Bread on the list. Now say: put milk on the list.",
            ),
            (
                "read the list",
                "1 thing: bread. Now say: put milk on the list.",
            ),
            (
                "buy milk",
                "Milk on the list. Right. Now say: read the list.",
            ),
            (
                "repeat that",
                "Milk on the list. Right. Now say: read the list.",
            ),
            (
                "what can I say",
                "You can say: read the list, skip, stop practising.",
            ),
            (
                "123456789013",
                "That code was misread. Scan it again. Now say: read the list.",
            ),
        ],
    );
}

#[test]
fn a_question_there_comes_before_the_step_and_what_it_leads_to_counts() {
    let mut session = begin();
    go_on(&mut session, &[("teach me", BEGUN)]);
    let mut understood = session.understand(&["put milk on the list"], now());
    understood.verdict = tellshelf::grammar::Verdict::Ask;
    let turn = session.answer(understood, now(), Source::Typed);
    assert_eq!(turn.reply, "Did you say: put milk on the list? Yes or no.");
    go_on(
        &mut session,
        &[
            (
                "xylophone quartet",
                "I didn't get that. Did you say: put milk on the list? Yes or no.",
            ),
            ("yes", "Milk on the list. Right. Now say: read the list."),
            ("stop practising", OVER),
        ],
    );
}

#[test]
fn what_is_not_understood_is_asked_for_again_with_how_to_leave() {
    let miss = "xylophone quartet";
    go_on(
        &mut begin(),
        &[
            ("teach me", BEGUN),
            (miss, "I didn't get that. Say: put milk on the list."),
            (
                miss,
                "You can say: put milk on the list, skip, stop practising.",
            ),
            (miss, "I still didn't get that."),
            (
                miss,
                "Here, say: put milk on the list, skip, stop practising.",
            ),
            (miss, "Say it another way, please."),
            (
                "buy milk",
                "Milk on the list. Right. Now say: read the list.",
            ),
            (miss, "I didn't get that. Say: read the list."),
        ],
    );
}

#[test]
fn a_step_that_is_skipped_is_done_for_the_person() {
    go_on(
        &mut begin(),
        &[
            ("teach me", BEGUN),
            ("skip", "Skipped. Now say: read the list."),
            (
                "skip",
                "Skipped. Now say: put two cans of beans in the pantry.",
            ),
            ("skip", "Skipped. Now say: I used up the beans."),
            ("skip", "Skipped. Now say: undo."),
            (
                "undo",
                "Undone: beans used up. Right. Now say: where are the beans.",
            ),
            ("skip", "Skipped. Now say: repeat that."),
            ("skip", OVER),
            ("read the list", "The list is empty."),
            ("stop practising", "No practice is on. Say: teach me."),
        ],
    );
}

#[test]
fn it_ends_when_the_person_says_so_also_on_a_walk_there_and_begins_again_from_the_start() {
    for end in ["stop practising", "done", "that's all"] {
        go_on(
            &mut begin(),
            &[
                ("teach me", BEGUN),
                (
                    "buy milk",
                    "Milk on the list. Right. Now say: read the list.",
                ),
                ("teach me", BEGUN),
                (
                    "read the list",
                    "The list is empty. Now say: put milk on the list.",
                ),
                (end, OVER),
            ],
        );
    }
    let mut session = begin();
    say(&mut session, "teach me");
    go_on(
        &mut session,
        &[
            (
                "spent tags",
                "Read the first spent tag. Now say: put milk on the list.",
            ),
            (
                "done",
                "No spent tag was read. Now say: put milk on the list.",
            ),
            ("done", OVER),
        ],
    );
    say(&mut session, "teach me");
    say(&mut session, "I'm going shopping");
    go_on(&mut session, &[("stop practising", OVER)]);
    assert!(!session.is_busy());
    assert!(!session.stock().is_on_trip().unwrap());
}

#[test]
fn the_conversation_goes_on_where_it_was() {
    let mut session = begin();
    for thing in ["milk", "rice", "oats", "flour", "sugar"] {
        say(&mut session, &format!("put {thing} on the list"));
    }
    say(&mut session, "I'm going shopping");
    let first = say(&mut session, "read the list");
    assert!(first.ends_with("Say more."), "{first}");
    say(&mut session, "I used up the zhoug");
    go_on(
        &mut session,
        &[
            ("teach me", BEGUN),
            // Nothing of one's own is known there, and nothing there is open.
            (
                "yes",
                "There was no question. Now say: put milk on the list.",
            ),
            (
                "stop practising",
                "Practice is over. Your own kitchen is as it was. I know no zhoug. Note it all the same? Yes or no.",
            ),
            ("no", "All right. Nothing changed."),
        ],
    );
    let rest = say(&mut session, "more");
    assert!(rest.ends_with("That's all."), "{rest}");
    let next = say(&mut session, "next");
    assert_ne!(next, "No trip is on. Say: I'm going shopping.");
}

#[test]
fn with_a_wake_phrase_it_begins_with_that_and_how_it_speaks_is_kept() {
    let mut session = begin();
    session
        .use_wake_phrase(WakePhrase::new("tell the shelf").unwrap())
        .unwrap();
    session.sleep();
    go_on(
        &mut session,
        &[
            (
                "tell the shelf, teach me",
                "Practice. Nothing here is kept. Say: tell the shelf, put milk on the list.",
            ),
            (
                "tell the shelf, put milk on the list",
                "Milk on the list. Right. Now say: read the list.",
            ),
            (
                "tell the shelf, slower",
                "Slower: 142 words a minute. Now say: read the list.",
            ),
        ],
    );
    session.wake();
    go_on(
        &mut session,
        &[
            ("done", OVER),
            ("slower", "Slower: 120 words a minute."),
            ("repeat that", "Slower: 120 words a minute."),
        ],
    );
}

#[test]
fn the_file_is_the_same_also_if_the_program_ends_in_the_middle() {
    let kitchen = Kitchen::new();
    kitchen.say(&["put dish soap on the list", "add rice to the pantry"]);
    let events = || Stock::open(&kitchen.db()).unwrap().events().unwrap();
    let before = events();
    assert_eq!(before.len(), 2);
    let (lines, replies): (Vec<&str>, Vec<&str>) = ROUND.into_iter().unzip();
    for so_far in 1..=ROUND.len() {
        assert_eq!(kitchen.say(&lines[..so_far]), replies[..so_far]);
        assert_eq!(events(), before);
    }
    // Undo goes no further than the practice does.
    kitchen.say(&[
        "teach me",
        "undo",
        "undo",
        "undo",
        "undo the last two",
        "yes",
    ]);
    assert_eq!(events(), before);
    assert_eq!(kitchen.reply("read the list"), "1 thing: dish soap.");
}

#[test]
fn the_round_ends_in_any_words_for_it() {
    for end in [
        "stop",
        "quit",
        "end practice",
        "never mind",
        "I want to stop",
        "done",
        "stop practising",
    ] {
        go_on(&mut begin(), &[("teach me", BEGUN), (end, OVER)]);
    }
}

#[test]
fn another_amount_and_place_than_was_asked_for_isnt_right() {
    go_on(
        &mut begin(),
        &[
            ("teach me", BEGUN),
            ("skip", "Skipped. Now say: read the list."),
            (
                "skip",
                "Skipped. Now say: put two cans of beans in the pantry.",
            ),
            (
                "put three cans of beans in the fridge",
                "Beans: 3 cans, fridge. Now say: put two cans of beans in the pantry.",
            ),
            (
                "add two cans of beans to the pantry",
                "Beans: 2 cans, pantry. Right. Now say: I used up the beans.",
            ),
        ],
    );
}
