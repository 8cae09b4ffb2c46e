//! What can hurt is done by a yes to its question and by nothing else.

#[path = "common/typed.rs"]
mod typed;

use typed::go;

#[test]
fn what_isnt_understood_closes_a_question_about_what_can_hurt() {
    go(&[
        (
            "the label of the oats lists no peanuts",
            "Oats: the label was read, and lists no peanuts? Yes or no.",
        ),
        (
            "well I do not think so",
            "I didn't get that. Nothing changed.",
        ),
        ("yes", "There was no question."),
        (
            "do the oats have peanuts",
            "Not known. Nobody read the label of oats for peanuts.",
        ),
        ("rice is a medicine", "Rice: a medicine? Yes or no."),
        ("use by", "All right. Nothing changed."),
        ("yes", "There was no question."),
    ]);
}

#[test]
fn other_questions_stay_open_for_a_better_try() {
    go(&[
        (
            "add milk to the fridge, december third",
            "December 3: is that use by, best by or sell by?",
        ),
        (
            "xylophone quartet",
            "I didn't get that. December 3: is that use by, best by or sell by?",
        ),
        ("use by", "Milk: fridge, use by December 3."),
    ]);
}
