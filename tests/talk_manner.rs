//! How it speaks is changed in the words that come first, and taken back with the rest.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

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
