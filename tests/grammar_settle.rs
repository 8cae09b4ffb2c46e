//! What is made of all that was heard: guided sentences, and what was heard freely.

use chrono::NaiveDate;
use tellshelf::grammar::{Beside, Fit, Grammar, Heard, Lexicon, Understanding, Verdict};

fn settle(guided: Vec<Fit>, free: &str) -> Understanding {
    settle_beside(guided, free, &[])
}

/// The same with what another ear heard: texts with their shares.
fn settle_beside(guided: Vec<Fit>, free: &str, beside: &[(&str, f32)]) -> Understanding {
    let beside = beside.iter().map(|(text, share)| Beside {
        text: (*text).to_owned(),
        log_share: share.ln(),
    });
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let heard = Heard {
        guided: Some(guided),
        free: vec![free.to_owned()],
        beside: beside.collect(),
        ..Heard::default()
    };
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    grammar.settle(&heard, &Lexicon::starter("en-US"), today)
}

/// A sentence that was heard clearly, and so much less likely than the clearest.
fn fit(text: &str, less: f32) -> Fit {
    let tokens = 8;
    Fit {
        text: text.to_owned(),
        score: -0.1 - less / tokens as f32,
        against_free: 0.0,
        cost: 0.0,
        tokens,
    }
}

#[test]
fn a_clear_command_is_accepted() {
    let heard = settle(
        vec![fit("Put soy milk on the list.", 0.0)],
        "Put soy milk on the list.",
    );
    assert_eq!(heard.verdict, Verdict::Accept);
    assert_eq!(heard.or, None);
}

#[test]
fn what_means_the_same_is_no_other_meaning() {
    let guided = vec![
        fit("Put soy milk on the list.", 0.0),
        fit("Put soy milk on my list.", 0.1),
    ];
    let heard = settle(guided, "Put soy milk on the list.");
    assert_eq!((heard.verdict, heard.or), (Verdict::Accept, None));
}

#[test]
fn a_near_other_meaning_is_asked_about_and_offered() {
    let guided = vec![
        fit("Put soy milk on the list.", 0.0),
        fit("Put oat milk on the list.", 0.1),
    ];
    let heard = settle(guided, "Put some milk on the list.");
    assert_eq!(heard.verdict, Verdict::Ask);
    let or = heard.or.unwrap();
    assert_eq!(or.slot("item").unwrap().to_json(), "oat milk");
}

#[test]
fn a_name_that_nobody_knows_is_asked_about() {
    let guided = vec![fit("Put freekeh on the list.", 0.0)];
    let heard = settle(guided, "Put freekeh on the list.");
    assert_eq!(heard.verdict, Verdict::Ask);
    assert_eq!(
        heard.command.unwrap().slot("item").unwrap().to_json(),
        "freekeh"
    );
}

#[test]
fn what_no_guided_ear_found_is_taken_word_for_word_or_not_at_all() {
    let known = settle(Vec::new(), "Put oat milk on the list.");
    assert_eq!(known.verdict, Verdict::Accept);
    // Any talk is a command if its end may be a name.
    for talk in [
        "We need another meeting next week.",
        "Where on earth have you been?",
    ] {
        assert_eq!(settle(Vec::new(), talk).verdict, Verdict::Reject, "{talk}");
    }
}

/// Two that one ear can't tell from each other.
fn soy_or_oat() -> Vec<Fit> {
    vec![
        fit("Put soy milk on the list.", 0.0),
        fit("Put oat milk on the list.", 0.1),
    ]
}

#[test]
fn what_two_ears_heard_is_accepted_where_one_would_be_asked_about() {
    let alone = settle(soy_or_oat(), "Put some milk on the list.");
    assert_eq!(alone.verdict, Verdict::Ask);
    let beside = [
        ("put soy milk on the list", 0.8),
        ("put so milk on the list", 0.2),
    ];
    let both = settle_beside(soy_or_oat(), "Put some milk on the list.", &beside);
    assert_eq!((both.verdict, both.or), (Verdict::Accept, None));
    assert_eq!(
        both.command.unwrap().slot("item").unwrap().to_json(),
        "soy milk"
    );
}

#[test]
fn the_other_ear_decides_between_two_that_are_near() {
    let beside = [
        ("put oat milk on the list", 0.9),
        ("put oak milk on the list", 0.1),
    ];
    let both = settle_beside(soy_or_oat(), "Put some milk on the list.", &beside);
    assert_eq!(
        both.command.unwrap().slot("item").unwrap().to_json(),
        "oat milk"
    );
}

#[test]
fn where_two_ears_are_sure_of_different_things_both_are_asked_about() {
    let guided = vec![fit("Put soy milk on the list.", 0.0)];
    let beside = [("put dish soap on the list", 1.0)];
    let heard = settle_beside(guided, "Put soy milk on the list.", &beside);
    assert_eq!(heard.verdict, Verdict::Ask);
    assert_eq!(heard.command.unwrap().sentence, "put soy milk on the list");
    assert_eq!(heard.or.unwrap().sentence, "put dish soap on the list");
}

#[test]
fn the_other_ear_alone_changes_nothing() {
    let beside = [("put dish soap on the list", 1.0)];
    let heard = settle_beside(Vec::new(), "put dish soap on the list", &beside);
    assert_eq!(heard.verdict, Verdict::Ask);
    let heard = settle_beside(Vec::new(), "Something else entirely.", &beside);
    assert_eq!(heard.verdict, Verdict::Reject);
}

#[test]
fn an_ear_that_heard_no_command_says_nothing_of_which_it_was() {
    let guided = || vec![fit("Put soy milk on the list.", 0.0)];
    let alone = settle(guided(), "Put soy milk on the list.");
    let beside = [("but soil kind the lift", 1.0)];
    assert_eq!(
        settle_beside(guided(), "Put soy milk on the list.", &beside),
        alone
    );
}

/// Fifteen is easily heard as fifty, and nothing else in the sentence gives that away.
#[test]
fn a_teen_that_may_be_a_ten_is_asked_about_though_it_is_likelier() {
    // By so much, natural logarithm over the whole sentence, the other one is less likely.
    for (less_likely, verdict) in [(4.0, Verdict::Ask), (9.0, Verdict::Accept)] {
        let heard = vec![
            fit("I used fifty grams of butter.", 0.0),
            fit("I used fifteen grams of butter.", less_likely),
        ];
        let settled = settle(heard, "I used fifty grams of butter.");
        assert_eq!(settled.verdict, verdict, "{less_likely}");
        let other = settled.or.map(|or| or.sentence);
        let expected =
            (verdict == Verdict::Ask).then(|| "I used fifteen grams of butter".to_owned());
        assert_eq!(other, expected, "{less_likely}");
    }
    // Other numbers are told apart well.
    let heard = vec![
        fit("I used fifty grams of butter.", 0.0),
        fit("I used sixty grams of butter.", 4.0),
    ];
    let settled = settle(heard, "I used fifty grams of butter.");
    assert_eq!(settled.verdict, Verdict::Accept);
}
