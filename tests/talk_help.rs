//! What can be said is told for where the talk is, three sayings at a time; and who isn't understood is told it, too.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::grammar::WakePhrase;
use tellshelf::talk::Session;
use typed::{begin, go_on, say};

/// Hears the help out, with all its pages.
fn all_help(session: &mut Session) -> String {
    let mut pages = vec![say(session, "what can I say")];
    while pages.last().is_some_and(|page| page.ends_with(" more.")) {
        pages.push(say(session, "more"));
    }
    pages.join(" ")
}

#[test]
fn help_goes_on_and_back_and_keeps_its_place() {
    let first = "You can say: add rice to the pantry, I used up the oats, read the list. Say more.";
    go_on(
        &mut begin(),
        &[
            ("what can I say", first),
            ("more", "Undo, repeat that, teach me. 13 more."),
            ("I used up the oats", "Oats: none was noted. On the list."),
            (
                "more",
                "Put milk on the list, what expires this week, where is the flour. 10 more.",
            ),
            ("back", "Undo, repeat that, teach me. 13 more."),
            ("from the start", first),
        ],
    );
}

#[test]
fn every_main_kind_is_told_of_in_the_kitchen() {
    let help = all_help(&mut begin());
    for kind in [
        "add rice to the pantry",
        "used up",
        "read the list",
        "what expires",
        "where is",
        "spent tags",
        "I'm going shopping",
        "put things away",
        "undo",
        "repeat that",
        "slower",
        "teach me",
    ] {
        assert!(
            help.to_lowercase().contains(&kind.to_lowercase()),
            "{kind}: {help}"
        );
    }
}

#[test]
fn each_place_has_its_own_help() {
    let mut session = begin();
    go_on(
        &mut session,
        &[
            ("spent tags", "Read the first spent tag."),
            ("help", "You can say: tag twelve, oats, done. Say more."),
            ("done", "No spent tag was read."),
        ],
    );
    say(&mut session, "I need rice");
    say(&mut session, "I'm going shopping");
    go_on(
        &mut session,
        &[
            (
                "help",
                "You can say: next, got it, they have none. Say more.",
            ),
            (
                "more",
                "Instead I took honey, what's left, temporary tag for salmon. 2 more.",
            ),
            ("back", "Next, got it, they have none. 5 more."),
        ],
    );
    say(&mut session, "got the rice");
    say(&mut session, "I'm home");
    say(&mut session, "put things away");
    go_on(
        &mut session,
        &[
            (
                "help",
                "You can say: in the fridge, in the usual place, skip it. Say more.",
            ),
            (
                "4006381333931",
                "I don't know this code. Say: this is, and its name; or: this is tag, and its number.",
            ),
            ("help", "You can say: this is the rice, this is tag twelve."),
            ("help", "You can say: this is the rice, this is tag twelve."),
        ],
    );
}

#[test]
fn help_in_a_question_tells_its_answers_and_leaves_it_open() {
    let mut session = begin();
    session
        .use_wake_phrase(WakePhrase::new("tell the shelf").unwrap())
        .unwrap();
    go_on(
        &mut session,
        &[
            (
                "I used up the zhoug",
                "I know no zhoug. Note it all the same? Yes or no.",
            ),
            ("help", "You can say: yes, no, repeat that."),
            ("tell the shelf", "I'm listening."),
            ("what did you hear", "I heard: tell the shelf."),
            (
                "repeat that",
                "I know no zhoug. Note it all the same? Yes or no.",
            ),
            ("yes", "Zhoug: none was noted. On the list. A new name."),
            (
                "put ham in the fridge, December tenth",
                "December 10: is that use by, best by or sell by?",
            ),
            ("help", "You can say: use by, best by, sell by. Say more."),
            ("more", "Repeat that, never mind. That's all."),
            ("slower", "Slower: 142 words a minute."),
            ("use by", "Ham: fridge, use by December 10."),
        ],
    );
}

#[test]
fn a_short_help_doesnt_lose_the_place_in_a_list() {
    let mut session = begin();
    for thing in ["milk", "rice", "oats", "flour", "sugar"] {
        say(&mut session, &format!("put {thing} on the list"));
    }
    let first = say(&mut session, "read the list");
    assert!(first.ends_with("Say more."), "{first}");
    say(&mut session, "I used up the zhoug");
    go_on(
        &mut session,
        &[
            ("help", "You can say: yes, no, repeat that."),
            ("no", "All right. Nothing changed."),
        ],
    );
    let rest = say(&mut session, "more");
    assert!(rest.ends_with("That's all."), "{rest}");
}

#[test]
fn who_isnt_understood_twice_is_told_what_can_be_said_here() {
    let mut session = begin();
    let miss = "xylophone quartet";
    go_on(
        &mut session,
        &[
            (
                miss,
                "I didn't get that. Say: what can I say. Or: teach me.",
            ),
            (
                miss,
                "You can say: add rice to the pantry, I used up the oats, read the list.",
            ),
            (miss, "I still didn't get that."),
            (miss, "You can say: undo, repeat that, teach me."),
            (miss, "Say it another way, please."),
            ("read the list", "The list is empty."),
            (
                miss,
                "I didn't get that. Say: what can I say. Or: teach me.",
            ),
            (
                "I used up the zhoug",
                "I know no zhoug. Note it all the same? Yes or no.",
            ),
            (
                miss,
                "I didn't get that. I know no zhoug. Note it all the same? Yes or no.",
            ),
            ("what can I say", "You can say: yes, no, repeat that."),
            (
                miss,
                "I didn't get that. I know no zhoug. Note it all the same? Yes or no.",
            ),
            (miss, "I didn't get that. Nothing changed."),
            ("spent tags", "Read the first spent tag."),
            ("", "I heard nothing."),
            ("", "You can say: tag twelve, oats, done."),
        ],
    );
}
