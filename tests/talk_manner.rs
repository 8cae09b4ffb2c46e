//! How it speaks is changed in the words that come first, and taken back with the rest.

#[path = "common/typed.rs"]
mod typed;

use typed::{go, go_on};

#[test]
fn it_speaks_slower_faster_and_softer_in_the_words_that_come_first() {
    let (slower, faster) = ("Slower: 142 words a minute.", "Faster: 170 words a minute.");
    go(&[
        ("slow down", slower),
        ("speed up", faster),
        ("too fast", slower),
        ("too slow", faster),
        ("speak slowly", slower),
        ("normal speed", "170 words a minute."),
        ("quieter", "85 percent."),
        ("volume up", "100 percent."),
        ("volume down", "85 percent."),
        ("short replies", "Brief replies."),
        ("different voice", "Another voice. One moment."),
        ("change voice", "Another voice. One moment."),
    ]);
}

#[test]
fn silence_leaves_a_question_open() {
    let question = "December 5: is that use by, best by or sell by?";
    go(&[
        ("be quiet", "All right."),
        ("add milk december fifth", question),
        ("stop talking", "All right."),
        ("use by", "Milk: use by December 5."),
    ]);
}

#[test]
fn undo_of_several_counts_how_it_speaks_and_the_kitchen() {
    let mut session = go(&[
        ("add milk to the fridge", "Milk: fridge."),
        ("add eggs to the fridge", "Eggs: fridge."),
        ("slower", "Slower: 142 words a minute."),
        ("softer", "85 percent."),
        ("slower", "Slower: 120 words a minute."),
        ("undo twice", "Undo 2 changes: 2 of how I speak? Yes or no."),
        ("yes", "2 changes undone."),
    ]);
    assert_eq!(
        session.settings().speech.words_a_minute.words_a_minute(),
        142
    );
    assert_eq!(session.settings().speech.volume.number(), 100);
    go_on(
        &mut session,
        &[
            (
                "undo my last two changes",
                "Undo 2 changes: 1 of how I speak and 1 in the kitchen? Yes or no.",
            ),
            ("yes", "2 changes undone."),
            ("where are the eggs", "No eggs on the shelf."),
            ("where is the milk", "Milk: fridge."),
            (
                "undo the last two",
                "Undo 1 change: adding milk? Yes or no.",
            ),
            ("yes", "1 change undone."),
        ],
    );
    assert_eq!(
        session.settings().speech.words_a_minute.words_a_minute(),
        170
    );
}
