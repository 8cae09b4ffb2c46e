//! Talk in a kitchen that is no command: recipes, radio, the telephone. Typed, as the words alone
//! decide then.

#[path = "common/kitchen.rs"]
mod kitchen;

use kitchen::Kitchen;
use serde_json::Value;

/// Types all lines of a file into one kitchen, where each may answer a question that another raised.
fn typed(file: &str) -> Vec<Value> {
    let text = std::fs::read_to_string(kitchen::project("tests/data").join(file)).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let objects = Kitchen::new().say_json(&lines);
    assert_eq!(objects.len(), lines.len());
    objects
}

fn with_verdict<'o>(objects: &'o [Value], verdict: &str) -> Vec<&'o Value> {
    let of = objects.iter().filter(|object| object["verdict"] == verdict);
    of.map(|object| &object["heard"]).collect()
}

#[test]
fn talk_changes_nothing_and_is_hardly_ever_a_command() {
    let objects = typed("talk.en.txt");
    assert!(objects.len() >= 60);
    let changed: Vec<&Value> = objects.iter().filter(|o| o["changed"] == true).collect();
    assert!(changed.is_empty(), "{changed:#?}");
    let (accepted, asked) = (
        with_verdict(&objects, "accept"),
        with_verdict(&objects, "ask"),
    );
    assert!(accepted.len() * 50 <= objects.len(), "{accepted:#?}");
    assert!(asked.len() * 10 <= objects.len(), "{asked:#?}");
}

/// Lines that were written before the rules for the others were made, and never looked at meanwhile.
#[test]
fn talk_that_the_rules_were_not_made_on_changes_nothing_either() {
    let objects = typed("talk-held-out.en.txt");
    let accepted = with_verdict(&objects, "accept");
    assert!(accepted.is_empty(), "{accepted:#?}");
    assert!(objects.iter().all(|object| object["changed"] == false));
}

/// One sentence of another kind than a command is told from one by its verb, however few its letters.
#[test]
fn a_verb_that_is_near_to_a_commands_is_not_it() {
    for line in [
        "fold the egg whites",
        "feed the cat",
        "bind the sauce",
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

/// Nobody knows the name, and the words around it could be the beginning of anything.
#[test]
fn a_new_name_at_the_end_of_a_short_form_is_asked_about() {
    let kitchen = Kitchen::new();
    assert_eq!(
        kitchen.say(&["buy zhoug", "yes", "buy zhoug"]),
        [
            "Did you say: buy zhoug? Yes or no.",
            "Zhoug on the list. A new name.",
            "Already on the list: zhoug.",
        ]
    );
}
