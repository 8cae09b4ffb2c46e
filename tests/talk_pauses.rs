//! How far a sentence has come: what a pause in it, or behind it, is to mean.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::grammar::Heard;
use tellshelf::talk::{Completeness, Session};

use typed::{begin, now, say};

fn completeness(session: &mut Session, words: &str) -> Completeness {
    let heard = Heard::text(words);
    let understood = session.settle(&heard, now());
    session.completeness(&understood)
}

#[test]
fn nothing_can_be_added_to_the_whole_of_a_sentence() {
    let session = &mut begin();
    for words in ["put flour on the list", "what expires this week"] {
        assert_eq!(completeness(session, words), Completeness::Whole, "{words}");
    }
}

#[test]
fn a_place_or_a_date_may_still_be_said() {
    let session = &mut begin();
    for words in ["add two bags of oats", "undo"] {
        assert_eq!(
            completeness(session, words),
            Completeness::MayGoOn,
            "{words}"
        );
    }
}

#[test]
fn a_unit_or_a_pack_waits_for_what_it_is_of() {
    let session = &mut begin();
    say(session, "add three cups of rice to the pantry");
    for words in ["i used one cup", "add two cans", "add a pound"] {
        assert_eq!(
            completeness(session, words),
            Completeness::Unfinished,
            "{words}"
        );
    }
    assert_eq!(
        completeness(session, "i used one cup of rice"),
        Completeness::MayGoOn
    );
}
