//! Questions back to the person: what is doubtful is asked, and only a clear answer counts.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::grammar::Verdict;
use tellshelf::stock::Source;
use tellshelf::talk::{Session, Turn};
use typed::now;

struct Talk(Session);

impl Talk {
    fn new() -> Self {
        Self(typed::begin())
    }

    fn say(&mut self, line: &str) -> Turn {
        self.0.hear(&[line], now(), Source::Typed)
    }

    /// The same as [`Self::say`], but badly heard.
    fn mumble(&mut self, line: &str) -> Turn {
        let mut understood = self.0.understand(&[line], now());
        understood.verdict = Verdict::Ask;
        self.0.answer(understood, now(), Source::Microphone)
    }

    /// Says lines, each with its reply.
    fn go(&mut self, lines: &[(&str, &str)]) {
        for (line, reply) in lines {
            assert_eq!(self.say(line).reply, *reply, "to “{line}”");
        }
    }

    fn changes(&self) -> usize {
        self.0.stock().events().unwrap().len()
    }
}

#[test]
fn a_change_that_was_badly_heard_waits_for_a_yes() {
    let mut talk = Talk::new();
    let asked = talk.mumble("put milk on the list");
    assert_eq!(asked.reply, "Did you say: put milk on the list? Yes or no.");
    assert_eq!(talk.changes(), 0);
    assert_eq!(talk.say("yes").reply, "Milk on the list.");
}

#[test]
fn a_question_that_was_badly_heard_is_answered() {
    assert_eq!(
        Talk::new().mumble("read the list").reply,
        "The list is empty."
    );
}

#[test]
fn a_yes_that_was_badly_heard_is_no_yes() {
    let mut talk = Talk::new();
    let asked = talk.mumble("put milk on the list").reply;
    assert_eq!(talk.mumble("yes").reply, asked);
    assert_eq!(talk.changes(), 0);
    assert_eq!(talk.say("yes").reply, "Milk on the list.");
}

#[test]
fn a_meaning_that_was_badly_heard_is_asked_for_again() {
    let mut talk = Talk::new();
    let asked = talk.say("temporary tag milk, December tenth").reply;
    assert_eq!(talk.mumble("best by").reply, asked);
    assert_eq!(talk.changes(), 0);
    talk.go(&[("best by", "Tag 1: milk, best by December 10.")]);
}

#[test]
fn an_answer_that_does_not_fit_leaves_the_question_open() {
    let mut talk = Talk::new();
    let asked = talk.say("temporary tag milk, December tenth").reply;
    assert_eq!(talk.say("yes").reply, asked);
    talk.go(&[("use by", "Tag 1: milk, use by December 10.")]);
}

#[test]
fn a_no_that_was_badly_heard_is_enough() {
    let mut talk = Talk::new();
    talk.mumble("put milk on the list");
    assert_eq!(talk.mumble("no").reply, "All right. Nothing changed.");
    assert_eq!(talk.say("yes").reply, "There was no question.");
}

#[test]
fn repeat_puts_an_open_question_again() {
    let mut talk = Talk::new();
    let asked = talk.mumble("put milk on the list").reply;
    talk.go(&[
        ("xylophone quartet", &format!("I didn't get that. {asked}")),
        ("repeat that", &asked),
        ("yes", "Milk on the list."),
    ]);
}

#[test]
fn a_no_without_a_question_tells_how_to_go_back() {
    let mut talk = Talk::new();
    talk.go(&[
        ("put milk on the list", "Milk on the list."),
        (
            "no",
            "There was no question. To take the last change back, say undo.",
        ),
        ("undo", "Undone: milk on the list."),
    ]);
}

/// Some weeks after the third of November, "November third" is on a package that has passed its date.
#[test]
fn a_date_that_has_just_passed_is_not_kept_as_next_years_without_asking() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "put milk in the fridge, use by November third",
            "Tuesday, November 3, 2026: is that the date? Yes or no.",
        ),
        ("no", "Then is it Wednesday, November 3, 2027? Yes or no."),
        ("no", "All right. Nothing changed."),
        (
            "temporary tag milk, November third",
            "November 3, 2027: is that use by, best by or sell by?",
        ),
        (
            "best by",
            "Tuesday, November 3, 2026: is that the date? Yes or no.",
        ),
        ("no", "Then is it Wednesday, November 3, 2027? Yes or no."),
    ]);
    assert_eq!(talk.changes(), 0);
    talk.go(&[
        ("yes", "Tag 1: milk, best by November 3, 2027."),
        // Ahead, or long ago, there is no doubt.
        (
            "put milk in the fridge, use by December third",
            "Milk: fridge, use by December 3.",
        ),
        (
            "put flour in the pantry, best by June third",
            "Flour: pantry, best by June 3.",
        ),
        // What lies behind by its nature is not asked about.
        (
            "put ham in the fridge, opened November third",
            "Ham: fridge, opened November 3.",
        ),
    ]);
}

#[test]
fn a_year_that_has_passed_is_taken_at_its_word() {
    Talk::new().go(&[(
        "put milk in the fridge, use by November third twenty twenty six",
        "Milk: fridge, use by November 3, 2026, passed. Check the label. When in doubt, throw it out.",
    )]);
}

#[test]
fn two_things_in_one_go_are_not_kept_as_one_without_asking() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "put eggs and milk on the list",
            "Eggs and milk: is that one thing? Yes or no.",
        ),
        ("no", "Say them one at a time: put eggs on the list."),
        ("read the list", "The list is empty."),
        // A name that is known has its "and" by right.
        (
            "put macaroni and cheese on the list",
            "Macaroni and cheese on the list.",
        ),
    ]);
}

#[test]
fn a_name_that_is_new_anywhere_is_said_to_be_new_once() {
    Talk::new().go(&[
        ("put zhoug on the list", "Zhoug on the list. A new name."),
        ("keep two jars of zhoug", "Zhoug: keep 2 jars."),
    ]);
}

#[test]
fn what_a_command_lacks_is_asked_for_and_nothing_is_made_up() {
    let mut talk = Talk::new();
    talk.say("add two cartons of milk to the fridge");
    let before = talk.changes();
    talk.go(&[
        ("temporary tag", "I didn't get the name. Say it all again."),
        (
            "add zero cans of beans to the pantry",
            "How much was that? I got: 0 cans.",
        ),
    ]);
    assert_eq!(talk.changes(), before);
}

#[test]
fn a_date_is_told_and_never_judged() {
    Talk::new().go(&[
        ("is the milk still good", "No milk on the shelf."),
        ("put milk in the fridge", "Milk: fridge."),
        (
            "is the milk still good",
            "Milk: no date noted, fridge. Check the label.",
        ),
        (
            "I used up the milk",
            "Milk used up. Off the shelf: some, fridge. On the list.",
        ),
        (
            "temporary tag milk, use by yesterday",
            "Tag 1: milk, use by yesterday, passed. Check the label. When in doubt, throw it out.",
        ),
        (
            "when does the milk expire",
            "Milk: use by yesterday, passed, tag 1. Check the label. When in doubt, throw it out.",
        ),
        ("where is the milk", "Milk: not put away yet, tag 1."),
    ]);
}

#[test]
fn one_tag_is_read_by_its_number() {
    Talk::new().go(&[
        ("what is on tag one", "Tag 1: not in use."),
        (
            "new tag: ham, two pounds, use by December third",
            "Tag 1: ham, 2 pounds, use by December 3.",
        ),
        ("read tag one", "Tag 1: ham, 2 pounds, use by December 3."),
    ]);
}

#[test]
fn a_no_offers_what_else_may_have_been_said() {
    let ask = || {
        let mut talk = Talk::new();
        let mut heard = talk.0.understand(&["put soy milk on the list"], now());
        heard.verdict = Verdict::Ask;
        heard.or = talk
            .0
            .understand(&["put oat milk on the list"], now())
            .command;
        let turn = talk.0.answer(heard, now(), Source::Microphone);
        assert_eq!(
            turn.reply,
            "Did you say: put soy milk on the list? Yes or no."
        );
        talk
    };
    let mut talk = ask();
    talk.go(&[
        (
            "no",
            "Then did you say: put oat milk on the list? Yes or no.",
        ),
        ("yes", "Oat milk on the list."),
    ]);
    assert_eq!(talk.changes(), 1);
    let mut talk = ask();
    talk.say("no");
    talk.go(&[("no", "All right. Nothing changed.")]);
    assert_eq!(talk.changes(), 0);
}

/// What is taken on a "no" is the day that was meant, and has passed: so the caution comes with it.
#[test]
fn a_date_of_a_package_that_has_just_passed_is_kept_with_the_caution() {
    Talk::new().go(&[
        (
            "temporary tag yogurt use by November tenth",
            "Tuesday, November 10, 2026: is that the date? Yes or no.",
        ),
        (
            "yes",
            "Tag 1: yogurt, use by November 10, 2026, passed. Check the label. When in doubt, throw it out.",
        ),
    ]);
}

#[test]
fn dates_that_others_mean_otherwise_are_read_back_in_full() {
    Talk::new().go(&[
        (
            "put milk in the fridge, use by next Friday",
            "Milk: fridge, use by December 4. That is Friday, December 4, 2026.",
        ),
        (
            "temporary tag salmon use by 3/4",
            "Tag 1: salmon, use by March 4. That is Thursday, March 4, 2027.",
        ),
        (
            "temporary tag ham use by 12/20",
            "Tag 2: ham, use by December 20.",
        ),
    ]);
}

#[test]
fn ounces_are_settled_by_the_food_or_asked_about() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "add twelve ounces of milk to the fridge",
            "Milk: 12 fluid ounces, fridge.",
        ),
        (
            "add twelve ounces of flour to the pantry",
            "Flour: 12 ounces, pantry.",
        ),
        (
            "temporary tag two sixteen ounce bottles of apple juice",
            "Tag 1: apple juice, 2 16 fluid ounce bottles.",
        ),
        (
            "add a jar of zhoug to the fridge",
            "Zhoug: 1 jar, fridge. A new name.",
        ),
        (
            "add eight ounces of zhoug to the fridge",
            "8 ounces: by weight, or fluid ounces?",
        ),
        ("by weight", "Zhoug: 8 ounces, fridge."),
        (
            "add eight ounces of zhoug to the fridge",
            "8 ounces: by weight, or fluid ounces?",
        ),
        ("fluid ounces", "Zhoug: 8 fluid ounces, fridge."),
        // Volume is never taken from weight.
        (
            "I used a cup of flour",
            "Flour: I can't take 1 cup from 12 ounces. Say: I used some flour.",
        ),
    ]);
}

#[test]
fn a_part_is_a_part_of_all_there_is() {
    let mut talk = Talk::new();
    talk.go(&[
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        ("I used half of the eggs", "Eggs: 6 left."),
        ("I ate all but two of the eggs", "Eggs: 2 left."),
        (
            "I used all but four of the eggs",
            "Eggs: only 2. Nothing changed.",
        ),
        ("how many eggs are left", "Eggs: 2, fridge."),
        ("I used half of them", "Eggs: 1 left."),
        ("undo", "Undone: using 1 egg."),
        (
            "add one pound of butter to the fridge",
            "Butter: 1 pound, fridge.",
        ),
        ("I used a quarter of the butter", "Butter: 12 ounces left."),
        (
            "I used half the soup",
            "No soup on the shelf. Nothing changed.",
        ),
    ]);
}

#[test]
fn half_of_it_needs_something_that_was_spoken_of() {
    let mut talk = Talk::new();
    talk.go(&[("I used half of it", "Of what? Say it again with its name.")]);
    talk.say("add a dozen eggs to the fridge");
    talk.go(&[
        ("undo", "Undone: adding 12 eggs."),
        (
            "I used half of it",
            "No eggs on the shelf. Nothing changed.",
        ),
    ]);
}

#[test]
fn a_date_takes_the_meaning_of_the_one_that_it_changes() {
    let mut talk = Talk::new();
    let asked = "Milk: use by December 3 so far. Change it to December 6? Yes or no.";
    talk.go(&[
        // An older carton without a date isn't the one in hand.
        (
            "add a carton of milk to the fridge",
            "Milk: 1 carton, fridge.",
        ),
        (
            "add a carton of milk to the fridge, use by December third",
            "Milk: 1 carton, fridge, use by December 3.",
        ),
        ("change the date to December sixth", asked),
        ("no", "All right. Nothing changed."),
        ("change the date to December sixth", asked),
    ]);
    assert_eq!(talk.0.let_go().unwrap(), "No answer. Nothing changed.");
    assert_eq!(talk.changes(), 2);
    talk.go(&[
        ("change the date to December sixth", asked),
        ("yes", "Milk: 1 carton, fridge, use by December 6."),
        ("undo", "Undone: another date of milk."),
        (
            "when does the milk expire",
            "Milk: use by December 3, in 8 days, fridge; no date noted, fridge. Check the label.",
        ),
    ]);
}

#[test]
fn the_date_of_what_is_on_its_way_is_changed_on_its_tag() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "add milk to the fridge, use by December first",
            "Milk: fridge, use by Tuesday, December 1.",
        ),
        (
            "temporary tag milk, use by December tenth",
            "Tag 1: milk, use by December 10.",
        ),
        (
            "change the date to December twelfth",
            "Milk: use by December 10 so far. Change it to December 12? Yes or no.",
        ),
        ("yes", "Tag 1: milk, use by December 12."),
        (
            "when does the milk expire",
            "Milk: use by Tuesday, December 1, in 6 days, fridge; use by December 12, in 17 days, tag 1.",
        ),
    ]);
}

#[test]
fn a_date_that_could_mean_several_things_is_asked_about() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "change the date to December sixth",
            "The date of what? Say its name and the date.",
        ),
        (
            "add ham to the fridge, use by December third",
            "Ham: fridge, use by December 3.",
        ),
        (
            "the ham is sell by December first",
            "Ham: fridge, use by December 3, sell by Tuesday, December 1.",
        ),
        (
            "change the date to December sixth",
            "Ham, December 6: is that use by, best by or sell by?",
        ),
        (
            "sell by",
            "Ham: sell by Tuesday, December 1 so far. Change it to December 6? Yes or no.",
        ),
        ("yes", "Ham: fridge, use by December 3, sell by December 6."),
    ]);
}
