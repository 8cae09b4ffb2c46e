//! What is half said isn't lost unsaid, and what is too much at once is said so.

#[path = "common/typed.rs"]
mod typed;

use typed::{begin, go, go_on, say};

#[test]
fn an_entry_that_is_left_half_said_is_told_of() {
    let question = "December 5: is that use by, best by or sell by?";
    go(&[
        ("add milk december fifth", question),
        (
            "add bananas to the pantry",
            "Bananas: pantry. Milk wasn't noted.",
        ),
        ("use by", "There was no question."),
        ("add milk december fifth", question),
        (
            "where are the bananas",
            "Bananas: pantry. Milk wasn't noted.",
        ),
        ("add milk december fifth", question),
        (
            "I used up the zhoug",
            "Milk wasn't noted. I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
    ]);
}

#[test]
fn what_answers_or_says_it_again_drops_nothing() {
    let question = "December 5: is that use by, best by or sell by?";
    go(&[
        ("add milk december fifth", question),
        ("repeat that", question),
        ("yes", question),
        ("what did you hear", "I heard: yes."),
        (
            "xylophone quartet",
            &format!("I didn't get that. {question}"),
        ),
        ("add milk use by december fifth", "Milk: use by December 5."),
        ("add ham december fifth", question),
        ("no", "All right. Nothing changed."),
    ]);
}

#[test]
fn several_things_at_once_are_said_one_at_a_time() {
    go(&[
        (
            "add Milk eggs and butter",
            "Milk eggs and butter: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: add milk."),
        (
            "add milk to the fridge and eggs to the fridge",
            "Milk to the fridge and eggs: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: add milk to the fridge."),
        ("add milk to the fridge", "Milk: fridge."),
    ]);
}

#[test]
fn by_a_date_is_a_date_whose_meaning_is_asked() {
    go(&[
        (
            "add two bags of rice to the pantry by friday",
            "Friday, November 27: is that use by, best by or sell by?",
        ),
        (
            "use by",
            "Rice: 2 bags, pantry, use by Friday, November 27.",
        ),
    ]);
}

#[test]
fn what_is_too_long_is_not_said_back() {
    let session = go(&[(
        "add fizzle and bup and bip and bap and bop and bup and bip and bap and bop and tup to the pantry",
        "That's long. Say one thing at a time.",
    )]);
    assert!(!session.is_asking());
}

#[test]
fn the_first_miss_puts_the_question_again_and_the_second_closes_it() {
    let ask = "Take 1 thing off the list? Yes or no.";
    go(&[
        ("I need rice", "Rice on the list."),
        ("clear the list", ask),
        ("xylophone quartet", &format!("I didn't get that. {ask}")),
        ("what was the question", ask),
        ("xylophone quartet", &format!("I didn't get that. {ask}")),
        ("xylophone quartet", "I didn't get that. Nothing changed."),
        ("yes", "There was no question."),
        ("read the list", "1 thing: rice."),
        ("xylophone quartet", "I didn't get that."),
        ("repeat that", "1 thing: rice."),
    ]);
}

#[test]
fn yes_and_no_are_taken_in_the_words_that_people_use() {
    let ask = "Take 1 thing off the list? Yes or no.";
    for yes in [
        "yeah",
        "um, yes",
        "okay",
        "go ahead",
        "yes please",
        "yes, take 1 thing off the list",
    ] {
        let mut session = begin();
        go_on(
            &mut session,
            &[
                ("I need rice", "Rice on the list."),
                ("clear the list", ask),
            ],
        );
        say(&mut session, yes);
        assert!(session.stock().list().unwrap().is_empty(), "{yes}");
    }
    for no in [
        "no thanks",
        "no, don't",
        "not now",
        "I don't know",
        "that's wrong",
    ] {
        go(&[
            ("I need rice", "Rice on the list."),
            ("clear the list", ask),
            (no, "All right. Nothing changed."),
        ]);
    }
    go(&[
        (
            "okay",
            "I didn't get that. Say: what can I say. Or: teach me.",
        ),
        ("aspirin is a medicine", "Aspirin: a medicine? Yes or no."),
        ("sure", "Aspirin: a medicine? Yes or no."),
        ("yeah", "Aspirin: a medicine. I never tell it by feel."),
    ]);
}

#[test]
fn a_question_that_another_command_drops_is_told_of() {
    go(&[
        ("aspirin is a medicine", "Aspirin: a medicine? Yes or no."),
        (
            "put rice on the list",
            "Rice on the list. Aspirin: its kind wasn't noted.",
        ),
    ]);
}

#[test]
fn a_date_without_its_meaning_can_be_left_out() {
    let ask = "December 9: is that use by, best by or sell by?";
    go(&[
        ("add yogurt december ninth", ask),
        ("it doesn't say", "Yogurt noted. Without its date."),
        ("add ham december ninth", ask),
        ("the second one", "Ham: best by December 9."),
    ]);
}

#[test]
fn words_that_ask_for_nothing_are_left_out() {
    go(&[
        ("okay add rice to the pantry", "Rice: pantry."),
        ("I'd like to put bread on the list", "Bread on the list."),
        (
            "well, just put oats on the list, thank you",
            "Oats on the list.",
        ),
    ]);
}

#[test]
fn what_words_on_labels_mean_is_told() {
    go(&[
        (
            "what does sell by mean",
            "Sell by: how long the store may offer it. It isn't the day it spoils.",
        ),
        ("what is today's date", "Wednesday, November 25, 2026."),
    ]);
}
