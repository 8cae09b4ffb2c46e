//! Names that nobody knows: kept as they sounded, put right by voice, known the next time, and forgotten.

#[path = "common/typed.rs"]
mod typed;

use tellshelf::grammar::{Fit, Grammar, Heard, Verdict};
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::{Session, Turn};
use typed::now;

fn grammar() -> Grammar {
    Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap()
}

struct Talk(Session);

impl Talk {
    fn new() -> Self {
        Self(typed::begin())
    }

    /// Sentences that a guided ear heard, each a little less likely than the one before, with what the
    /// grammar charges for them.
    fn hear(&mut self, sentences: &[&str]) -> Turn {
        let acceptor = self.0.acceptor();
        let fit = |(rank, text): (usize, &&str)| Fit {
            text: (*text).to_owned(),
            score: -0.1 - 0.05 * rank as f32,
            against_free: 0.0,
            cost: acceptor.cost(text).expect("a sentence of the grammar"),
            tokens: 10,
        };
        let guided = sentences.iter().enumerate().map(fit).collect();
        let heard = Heard {
            guided: Some(guided),
            free: vec![sentences[0].to_owned()],
            ..Heard::default()
        };
        let understood = self.0.settle(&heard, now());
        self.0.answer(understood, now(), Source::Recording)
    }

    fn say(&mut self, line: &str) -> String {
        self.0.hear(&[line], now(), Source::Typed).reply
    }

    fn go(&mut self, lines: &[(&str, &str)]) {
        for (line, reply) in lines {
            assert_eq!(self.say(line), *reply, "to “{line}”");
        }
    }

    /// "freekeh: freek, freeka", for each thing with learned names.
    fn learned(&self) -> Vec<String> {
        let learned = self.0.stock().learned().unwrap().into_iter();
        let said = learned.map(|learned| {
            let forms: Vec<String> = learned.forms.iter().map(|f| f.to_string()).collect();
            format!("{}: {}", learned.item, forms.join(", "))
        });
        said.collect()
    }
}

#[test]
fn a_new_name_is_kept_as_it_sounded_with_its_other_hearings() {
    let mut talk = Talk::new();
    let asked = talk.hear(&["Put freak on the list.", "Put freka on the list."]);
    assert_eq!(
        asked.reply,
        "Did you say: put freak on the list? Yes or no."
    );
    assert_eq!(talk.say("yes"), "Freak on the list. A new name.");
    assert_eq!(talk.learned(), ["freak: freka"]);
    assert_eq!(
        talk.say("where is the freka"),
        "No freak on the shelf. On the list already."
    );
}

#[test]
fn a_new_name_and_its_other_hearings_are_taken_back_together() {
    let mut talk = Talk::new();
    talk.hear(&["Put freak on the list.", "Put freka on the list."]);
    talk.say("yes");
    assert_eq!(talk.say("undo"), "Undone: freak on the list.");
    assert!(talk.learned().is_empty());
    assert_eq!(talk.say("where is the freka"), "I know no freka.");
}

#[test]
fn typed_names_have_no_other_hearings() {
    let mut talk = Talk::new();
    talk.say("put freekeh on the list");
    talk.say("no I said amchur");
    assert!(talk.learned().is_empty());
}

#[test]
fn what_was_learned_is_known_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    let mut talk = Talk(Session::new(Stock::open(&path).unwrap(), grammar()).unwrap());
    talk.hear(&["Put freak on the list.", "Put freka on the list."]);
    talk.say("yes");
    drop(talk);
    let mut talk = Talk(Session::new(Stock::open(&path).unwrap(), grammar()).unwrap());
    assert_eq!(
        talk.say("take the freka off the list"),
        "Freak off the list. The list is empty."
    );
}

#[test]
fn no_i_said_takes_back_and_does_what_was_said() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "add two bags of lentils to the pantry",
            "Lentils: 2 bags, pantry.",
        ),
        ("no I said lemons", "Not lentils. Lemons: 2 bags, pantry."),
        ("where are the lentils", "No lentils on the shelf."),
        ("no I said lentils", "No lentils on the shelf."),
    ]);
}

#[test]
fn no_i_said_puts_an_amount_right() {
    let mut talk = Talk::new();
    talk.go(&[
        (
            "add two bags of rice to the pantry",
            "Rice: 2 bags, pantry.",
        ),
        ("no I said three bags", "Rice: 3 bags, pantry."),
        ("how much rice is left", "Rice: 3 bags, pantry."),
    ]);
}

#[test]
fn no_i_said_teaches_what_was_misheard() {
    let mut talk = Talk::new();
    talk.say("put oat milk on the list");
    talk.hear(&[
        "Take the old mick off the list.",
        "Take the oldmik off the list.",
    ]);
    assert_eq!(
        talk.say("no I said oat milk"),
        "Not old mick. Oat milk off the list. The list is empty."
    );
    assert_eq!(talk.learned(), ["oat milk: old mick, oldmik"]);
    assert_eq!(
        talk.say("where is the old mick"),
        "No oat milk on the shelf."
    );
}

#[test]
fn no_i_meant_teaches_nothing() {
    let mut talk = Talk::new();
    talk.hear(&["Put freak on the list.", "Put freka on the list."]);
    talk.say("yes");
    assert_eq!(
        talk.say("no I meant oat milk"),
        "Not freak. Oat milk on the list."
    );
    assert!(talk.learned().is_empty());
}

#[test]
fn what_was_taken_for_a_known_name_is_not_its_name() {
    let mut talk = Talk::new();
    assert_eq!(
        talk.hear(&["Put soda on the list."]).reply,
        "Soda on the list."
    );
    let corrected = talk.hear(&["No, I said soda.", "No, I said zatar."]);
    assert_eq!(
        corrected.reply, "Did you say: no I said zatar? Yes or no.",
        "what was just refused isn't offered again"
    );
    assert_eq!(talk.say("yes"), "Not soda. Zatar on the list. A new name.");
    assert_eq!(talk.say("read the list"), "1 thing: zatar.");
    assert_eq!(talk.say("where is the soda"), "No soda on the shelf.");
}

#[test]
fn a_no_rules_out_what_was_asked() {
    let mut talk = Talk::new();
    let both = ["Put soda on the list.", "Put sumac on the list."];
    assert_eq!(
        talk.hear(&both).understanding.command.unwrap().sentence,
        "put soda on the list"
    );
    let mut talk = Talk::new();
    let mut understood = talk.0.understand(&["put soda on the list"], now());
    understood.verdict = Verdict::Ask;
    talk.0.answer(understood, now(), Source::Recording);
    talk.say("no");
    let again = talk.hear(&both).understanding.command.unwrap();
    assert_eq!(again.sentence, "put sumac on the list");
}

#[test]
fn another_hearing_of_a_learned_name_is_taken_for_it_and_asked_about() {
    let mut talk = Talk::new();
    talk.hear(&["Put freak on the list."]);
    talk.say("yes");
    let asked = talk.hear(&["Take the freka off the list."]);
    assert_eq!(asked.understanding.verdict, Verdict::Ask);
    assert_eq!(
        asked.reply,
        "Did you say: take the freak off the list? Yes or no."
    );
    assert_eq!(talk.say("yes"), "Freak off the list. The list is empty.");
    assert_eq!(talk.learned(), ["freak: freka"]);
}

#[test]
fn a_name_can_be_spelled_by_either() {
    let mut talk = Talk::new();
    talk.hear(&["Put freak on the list."]);
    talk.go(&[
        ("yes", "Freak on the list. A new name."),
        ("spell it", "F, R, E, A, K."),
        ("spell it f r e e k e h", "Freekeh, no longer freak."),
        ("read the list", "1 thing: freekeh."),
        (
            "where is the freak",
            "No freekeh on the shelf. On the list already.",
        ),
        ("undo", "Undone: calling freak freekeh."),
        ("read the list", "1 thing: freak."),
    ]);
}

#[test]
fn a_name_can_be_spelled_with_the_words_of_the_radio_alphabet() {
    let mut talk = Talk::new();
    talk.go(&[
        ("put freak on the list", "Freak on the list. A new name."),
        (
            "spell it foxtrot romeo echo echo kilo echo hotel",
            "Freekeh, no longer freak.",
        ),
    ]);
}

#[test]
fn the_name_in_a_question_is_put_right_by_spelling_it() {
    let mut talk = Talk::new();
    let asked = talk.hear(&["Put does on the list."]);
    assert_eq!(asked.reply, "Did you say: put does on the list? Yes or no.");
    assert_eq!(
        talk.say("spell it d u l s e"),
        "Not does. Dulse on the list. A new name."
    );
    assert_eq!(talk.learned(), ["dulse: does"]);
}

#[test]
fn a_name_that_is_taken_is_not_given_again() {
    let mut talk = Talk::new();
    talk.go(&[
        ("put milk on the list", "Milk on the list."),
        ("put eggs on the list", "Eggs on the list."),
        (
            "call it milk",
            "Milk is a name already. Nothing changed. Say another one.",
        ),
    ]);
}

#[test]
fn there_is_nothing_to_spell_or_correct_at_the_beginning() {
    let mut talk = Talk::new();
    talk.go(&[
        ("spell it", "Which name? Say it in a command first."),
        ("call it milk", "Which name? Say it in a command first."),
        (
            "no I said milk",
            "There is nothing to correct. To take the last change back, say undo.",
        ),
    ]);
}

#[test]
fn learned_names_are_listed_and_forgotten() {
    let mut talk = Talk::new();
    assert_eq!(
        talk.say("what names have you learned"),
        "No names learned yet."
    );
    talk.hear(&["Put freak on the list.", "Put freka on the list."]);
    talk.go(&[
        ("yes", "Freak on the list. A new name."),
        (
            "what names have you learned",
            "1 thing with learned names. Freak: also heard as freka.",
        ),
        (
            "forget the learned names of freak",
            "Forgotten for freak: freka.",
        ),
        ("where is the freka", "I know no freka."),
        (
            "forget the learned names of freak",
            "No other names learned for freak.",
        ),
        ("undo", "Undone: forgetting how freak was heard."),
        (
            "where is the freka",
            "No freak on the shelf. On the list already.",
        ),
    ]);
}

#[test]
fn what_was_only_guessed_at_is_asked_about_when_it_is_put_right() {
    let mut talk = Talk::new();
    let mut understood = talk.0.understand(&["put sandals on the list"], now());
    understood.verdict = Verdict::Reject;
    let turn = talk.0.answer(understood, now(), Source::Recording);
    assert!(turn.reply.starts_with("I didn't get that."));
    talk.go(&[
        (
            "no I said sambal",
            "Did you say: put sambal on the list? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        ("read the list", "The list is empty."),
    ]);
}

#[test]
fn what_is_not_the_last_change_any_more_is_not_put_right() {
    let mut talk = Talk::new();
    talk.go(&[
        ("temporary tag milk", "Tag 1: milk."),
        (
            "add two bags of lentils to the pantry",
            "Lentils: 2 bags, pantry.",
        ),
        (
            "put away tag one in the fridge",
            "Milk: fridge. Tag 1 is free.",
        ),
        (
            "no I said lemons",
            "There is nothing to correct. To take the last change back, say undo.",
        ),
        ("where is the milk", "Milk: fridge."),
        ("where are the lentils", "Lentils: pantry."),
        ("put freak on the list", "Freak on the list. A new name."),
        ("spell it f r e e k e h", "Freekeh, no longer freak."),
        (
            "no I said oats",
            "There is nothing to correct. To take the last change back, say undo.",
        ),
    ]);
}

#[test]
fn a_learned_name_that_is_heard_clearly_learns_nothing_more() {
    let mut talk = Talk::new();
    talk.hear(&["Put freak on the list."]);
    talk.say("yes");
    let clear = talk.hear(&["Take freak off the list.", "Take frake off the list."]);
    assert_eq!(clear.reply, "Freak off the list. The list is empty.");
    assert!(talk.learned().is_empty());
}
