//! What people say for each thing the tool does: every intent in the words of everyday, and nothing
//! taken for what it isn't.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use chrono::NaiveDate;
use tellshelf::grammar::{Grammar, GrammarFile, Lexicon, Understanding, Verdict};

const FILE: &str = include_str!("../grammars/en.yaml");
static GRAMMAR: LazyLock<Grammar> = LazyLock::new(|| Grammar::from_text("en.yaml", FILE).unwrap());
static NAMES: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::starter("en-US"));

const WORDINGS: [(&str, &[&str]); 43] = [
    (
        "put-in",
        &[
            "add two bags of lentils to the pantry",
            "put a carton of milk in the fridge, use by December third",
            "I put two sticks of butter in the fridge",
            "we have four eggs in the fridge",
            "I bought three cans of beans",
            "there are three apples on the counter",
            "please add some flour to the pantry",
        ],
    ),
    (
        "used-up",
        &[
            "I used up the oats",
            "we've finished the rice",
            "the sugar is gone",
            "the lentils are all gone",
            "there's no more coffee",
            "no more butter",
            "I used the last of the milk",
            "I threw away the yogurt",
            "there are no eggs left",
        ],
    ),
    (
        "use",
        &[
            "I used two eggs",
            "use two eggs",
            "I ate two of the apples",
            "we drank half a carton of milk",
            "I threw away two eggs",
        ],
    ),
    (
        "list-add",
        &[
            "put dish soap on the list",
            "add two cans of tuna to my shopping list",
            "I need coffee",
            "we need more milk",
            "I need to buy bread",
            "remind me to buy salt",
            "buy flour",
        ],
    ),
    (
        "list-drop",
        &[
            "take bread off the list",
            "remove bread from my list",
            "delete coffee from the list",
        ],
    ),
    (
        "list-read",
        &[
            "read the list",
            "what's on my shopping list",
            "what do I need to buy",
            "what do we need",
            "what is left to get",
        ],
    ),
    (
        "got",
        &[
            "got the milk",
            "I've got the milk",
            "I bought the coffee",
            "tick off the tuna",
            "cross the tuna off",
        ],
    ),
    (
        "expires",
        &[
            "what expires this week",
            "what's about to expire",
            "what expires soon",
            "what has expired",
            "is anything going bad",
            "what goes bad by Friday",
        ],
    ),
    (
        "use-first",
        &["what should I use first", "what should we eat first"],
    ),
    (
        "when",
        &[
            "when does the milk expire",
            "is the milk still good",
            "has the yogurt gone bad",
            "what's the date on the milk",
        ],
    ),
    (
        "low",
        &["what is running low", "what's low", "what am I low on"],
    ),
    (
        "keep",
        &[
            "keep two cans of tomatoes",
            "always keep at least a dozen eggs in the house",
        ],
    ),
    (
        "tag-new",
        &[
            "temporary tag: two pounds of salmon, use by December third",
            "temporary tag salmon",
            "new tag for ham",
            "new tag: ham, two pounds",
        ],
    ),
    ("tags-read", &["read the tags", "what tags are there"]),
    (
        "tag-read",
        &[
            "what is on tag two",
            "what's tag two",
            "read tag number two",
        ],
    ),
    (
        "put-away",
        &[
            "put away the salmon in the freezer",
            "put the salmon away in the freezer",
            "put tag two in the fridge",
            "tag two goes in the fridge",
        ],
    ),
    (
        "place-read",
        &[
            "what is in the fridge",
            "what do we have in the freezer",
            "what's on the counter",
        ],
    ),
    (
        "where",
        &[
            "where is the flour",
            "where did I put the salmon",
            "where do we keep the flour",
            "find the flour",
        ],
    ),
    (
        "how-much",
        &[
            "how much rice is left",
            "how many eggs do we have left",
            "do I have milk",
            "is there any milk left",
        ],
    ),
    (
        "correct",
        &[
            "no I said oat milk",
            "no sorry I said the oat milk",
            "no I said two bags",
            "no I said three cans of tomatoes",
        ],
    ),
    ("meant", &["no I meant oat milk", "no I meant three"]),
    (
        "call-it",
        &[
            "call it oat milk",
            "spell it f r e e k e h",
            "it's spelled delta india lima lima",
        ],
    ),
    ("spell", &["spell it", "spell that please"]),
    (
        "names-read",
        &["what names have you learned", "read me the learned names"],
    ),
    (
        "names-forget",
        &[
            "forget the learned names of the milk",
            "forget the learned names for milk",
        ],
    ),
    (
        "put-somewhere",
        &[
            "I put the butter in the fridge",
            "we put rice in the cupboard",
        ],
    ),
    (
        "opened",
        &[
            "I opened the milk",
            "I opened a carton of milk",
            "we've opened two bags of rice yesterday",
        ],
    ),
    (
        "frozen",
        &["I froze the bread", "I froze two pounds of ham"],
    ),
    (
        "thawed",
        &[
            "I thawed the chicken",
            "we defrosted a pound of ham",
            "I took the bread out of the freezer",
        ],
    ),
    (
        "moved",
        &[
            "move the bread to the freezer",
            "I moved two bags of rice into the cupboard",
        ],
    ),
    ("sounds-keep", &["remember how I say new names"]),
    (
        "sounds-stop",
        &[
            "stop remembering how I say names",
            "don't remember how I say new names",
        ],
    ),
    ("sounds-lose", &["forget how I said the names"]),
    (
        "sound-play",
        &["how did I say the milk", "play the sound of milk"],
    ),
    (
        "changed-today",
        &["what changed today", "what did I do today"],
    ),
    (
        "why",
        &["why is the milk on the list", "why do we need milk"],
    ),
    (
        "undo",
        &["undo", "undo that", "take that back", "undo the last three"],
    ),
    ("repeat", &["repeat that", "say that again", "pardon"]),
    ("help", &["help", "what can I say"]),
    ("meaning", &["use by", "it's best by", "sell by date"]),
    ("ounces", &["by weight", "fluid ounces", "it's weight"]),
    ("yes", &["yes", "that's right"]),
    ("no", &["no", "nope", "never mind", "cancel that"]),
];

fn understand(line: &str) -> Understanding {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    GRAMMAR.understand(&[line], &NAMES, today)
}

#[test]
fn ordinary_words_are_understood_exactly() {
    let mut wrong = Vec::new();
    for (intent, lines) in WORDINGS {
        for line in lines {
            let understood = understand(line);
            let command = understood.command.as_ref();
            let found = command.map_or("nothing", |c| c.intent.as_str());
            let exact = command.is_some_and(|c| c.confidence == 1.0);
            if found != intent || understood.verdict != Verdict::Accept || !exact {
                wrong.push(format!("{line}: {found}, {:?}", understood.verdict));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_intent_of_the_grammar_has_its_wordings() {
    let file = GrammarFile::parse("en.yaml", FILE).unwrap();
    let there: BTreeSet<&str> = file.intents.iter().map(|i| i.name.as_str()).collect();
    let tried: BTreeSet<&str> = WORDINGS.iter().map(|(intent, _)| *intent).collect();
    assert_eq!(there, tried);
}

#[test]
fn talk_that_is_no_command_is_not_accepted() {
    for line in [
        "thank you",
        "open the door",
        "turn on the light",
        "how do I cook rice",
        "what time is it",
        "stop keeping milk",
        "the bus was late again",
        "take",
        "out of",
    ] {
        let understood = understand(line);
        assert_ne!(
            understood.verdict,
            Verdict::Accept,
            "{line}: {understood:?}"
        );
    }
}

/// A command for one thing is never carried out as one for another that only sounds alike.
#[test]
fn half_of_a_thing_is_not_all_of_it() {
    for line in ["I used half the milk", "I threw away half the milk"] {
        let understood = understand(line);
        assert_eq!(understood.command.unwrap().intent, "use", "{line}");
    }
}

#[test]
fn a_date_is_taken_from_nothing_but_its_own_words() {
    for line in [
        "temporary tag milk use by novembr 30",
        "add milk to the fridge best by decembr third",
    ] {
        let understood = understand(line);
        assert_ne!(
            understood.verdict,
            Verdict::Accept,
            "{line}: {understood:?}"
        );
    }
}
