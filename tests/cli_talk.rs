//! Talk in a kitchen that is no command: recipes, radio, the telephone. As text, so that the words alone decide; but
//! answered as what was heard, since nobody types it.

#[path = "common/kitchen.rs"]
mod kitchen;

use chrono::NaiveDateTime;
use kitchen::Kitchen;
use tellshelf::grammar::{Grammar, Heard, Verdict};
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::{Session, Turn};

/// Says all lines of a file in one kitchen, where each may answer a question that another raised.
fn said(file: &str) -> Vec<Turn> {
    let text = std::fs::read_to_string(kitchen::project("tests/data").join(file)).unwrap();
    let grammar = Grammar::load(&kitchen::project("grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    let now = NaiveDateTime::parse_from_str(kitchen::AT, "%Y-%m-%dT%H:%M").unwrap();
    let answer = |line| {
        let understanding = session.settle(&Heard::text(line), now);
        session.answer(understanding, now, Source::Microphone)
    };
    text.lines().map(answer).collect()
}

fn with_verdict(turns: &[Turn], verdict: Verdict) -> Vec<&str> {
    let of = turns.iter().map(|turn| &turn.understanding);
    let of = of.filter(|understanding| understanding.verdict == verdict);
    of.map(|understanding| understanding.heard.as_str())
        .collect()
}

#[test]
fn talk_changes_nothing_and_is_hardly_ever_a_command() {
    let turns = said("talk.en.txt");
    assert!(turns.len() >= 60);
    let changed: Vec<&Turn> = turns.iter().filter(|turn| turn.changed).collect();
    assert!(changed.is_empty(), "{changed:#?}");
    let accepted = with_verdict(&turns, Verdict::Accept);
    assert!(accepted.len() * 50 <= turns.len(), "{accepted:#?}");
    let asked = with_verdict(&turns, Verdict::Ask);
    assert!(asked.len() * 10 <= turns.len(), "{asked:#?}");
}

/// Lines that were written before the rules for the others were made, and never looked at meanwhile.
#[test]
fn talk_that_the_rules_were_not_made_on_changes_nothing_either() {
    let turns = said("talk-held-out.en.txt");
    let accepted = with_verdict(&turns, Verdict::Accept);
    assert!(accepted.is_empty(), "{accepted:#?}");
    assert!(turns.iter().all(|turn| !turn.changed));
}

/// One sentence of another kind than a command is told from one by its verb, however few its letters.
#[test]
fn a_verb_that_is_near_to_a_commands_is_not_it() {
    for line in [
        "fold the egg whites",
        "feed the cat",
        "bind the roux",
        "pat the chicken in the fridge",
        "pit the cherries in the fridge",
    ] {
        let object = Kitchen::new().say_json(&[line]).remove(0);
        assert_ne!(object["verdict"], "accept", "{object}");
        assert_eq!(object["changed"], false, "{object}");
    }
}

#[test]
fn slips_of_the_pen_are_read_as_what_was_meant() {
    for (line, meant) in [
        ("pls add milk", "add milk"),
        ("add milk plz", "add milk"),
        ("put milk in teh fridge", "put milk in the fridge"),
        ("put milk on teh list", "put milk on the list"),
        ("I usd up the oats", "I used up the oats"),
        ("we need mroe eggs", "we need more eggs"),
        ("buy tomatos", "buy tomatoes"),
        ("buy brocoli", "buy broccoli"),
        ("add milk to freezr", "add milk to freezer"),
        ("raed the list", "read the list"),
        ("what is runing low", "what is running low"),
        ("wher is the flour", "where is the flour"),
        ("how mcuh rice is left", "how much rice is left"),
        ("undoo", "undo"),
    ] {
        let [slipped, right] = [line, meant].map(|line| Kitchen::new().say_json(&[line]).remove(0));
        assert_eq!(slipped["verdict"], "accept", "{slipped}");
        for part in ["intent", "slots", "changed", "reply"] {
            assert_eq!(slipped[part], right[part], "{line}");
        }
    }
}

/// A short name has many words beside it: "a break" is no bread.
#[test]
fn a_slip_in_a_short_name_is_asked_about_where_anything_may_stand() {
    for line in ["I need a break", "add mlk", "buy hum"] {
        let object = Kitchen::new().say_json(&[line]).remove(0);
        assert_eq!(
            (&object["verdict"], &object["changed"]),
            (&"ask".into(), &false.into()),
            "{object}"
        );
    }
}

/// Nobody knows the name, and the words around it could be the beginning of anything. That is asked about where it was
/// heard; what was typed wasn't misheard.
#[test]
fn a_new_name_at_the_end_of_a_short_form_is_asked_about_unless_it_was_typed() {
    let grammar = Grammar::load(&kitchen::project("grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    let now = NaiveDateTime::parse_from_str(kitchen::AT, "%Y-%m-%dT%H:%M").unwrap();
    for (line, reply) in [
        ("buy zhoug", "Did you say: buy zhoug? Yes or no."),
        ("yes", "Zhoug on the list. A new name."),
        ("buy zhoug", "Already on the list: zhoug."),
    ] {
        assert_eq!(session.hear(&[line], now, Source::Microphone).reply, reply);
    }
    for (line, reply) in [
        ("buy zhoug", "Zhoug on the list. A new name."),
        ("add zhoug", "Zhoug noted. A new name."),
        ("temporary tag zhoug", "Tag 1: zhoug. A new name."),
        (
            "reminder tag three for zhoug",
            "Tag 3: reminder for zhoug. A new name.",
        ),
        // It must be there, or may be two things, or talk.
        ("I opened the zhoug", "I know no zhoug. Nothing changed."),
        ("where is the zhoug", "I know no zhoug."),
        (
            "buy zhoug and harissa",
            "Zhoug and harissa: is that one thing? Yes or no.",
        ),
        (
            "I need you to come home",
            "I didn't get that. Say: what can I say. Or: teach me.",
        ),
    ] {
        // Behind a question, that it was left open.
        assert_eq!(Kitchen::new().say(&[line])[0], reply, "to “{line}”");
    }
}
