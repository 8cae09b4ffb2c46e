//! Every reply works by ear: short, complete, and with nothing in it that takes eyes.

use chrono::{Days, NaiveDate, NaiveDateTime};
use tellshelf::grammar::{Grammar, Verdict};
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::Session;

/// A round of everything: what can be refused is refused, what can be asked is asked.
const ROUND: &[&str] = &[
    "undo",
    "repeat",
    "yes",
    "no",
    "use by",
    "help",
    "read the list",
    "read the tags",
    "what is running low",
    "what expires this week",
    "what should I use first",
    "what is in the fridge",
    "where are the oats",
    "how much oats are left",
    "when do the oats expire",
    "what is on tag one",
    "where is the zhoug",
    "I used up the zhoug",
    "yes",
    "I used up the oats",
    "I used two eggs",
    "put away tag one in the fridge",
    "put eggs and milk on the list",
    "no",
    "add a dozen eggs to the fridge",
    "add two bags of oats to the pantry, best by March third",
    "add one bag of oats to the cupboard",
    "add oats",
    "add three cups of rice to the pantry",
    "put cheese in the fridge, use by November twenty-sixth",
    "put ham in the fridge, use by November third",
    "yes",
    "put ham in the fridge, December tenth",
    "sell by",
    "put ham in the fridge, use by February thirtieth",
    "put ham in the fridge, opened yesterday",
    "put fish in the fridge, use by yesterday",
    "I used one bag of oats",
    "I used three cups of oats",
    "I used twenty eggs",
    "I used two eggs",
    "I used half the eggs",
    "add zero eggs to the fridge",
    "where are the oats",
    "how much oats are left",
    "when does the fish expire",
    "when does the ham expire",
    "keep twenty eggs",
    "keep two cans of tomatoes",
    "what is running low",
    "put dish soap on the list",
    "put dish soap on the list",
    "I need two cans of tomatoes",
    "got the bread",
    "got the dish soap",
    "take the tomatoes off the list",
    "take the tomatoes off the list",
    "temporary tag",
    "temporary tag two pounds four ounces of salmon, use by December third",
    "temporary tag salmon, best by yesterday",
    "read the tags",
    "what is on tag two",
    "where is the salmon",
    "put away the salmon in the freezer",
    "put away tag one in the freezer",
    "put away tag seven in the freezer",
    "what expires this month",
    "what should I use first",
    "what is in the fridge",
    "read the list",
    "xylophone quartet",
    "xylophone quartet",
    "xylophone quartet",
    "",
    "undo",
    "undo",
    "undo",
    "undo",
    "undo",
    "undo",
    "undo",
    "undo",
    "undo",
];

/// What lists things is as long as they are.
const LISTS: &[&str] = &["read ", "what ", "where ", "how ", "when ", "help"];

fn replies() -> Vec<(String, String)> {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let morning: NaiveDateTime = day.and_hms_opt(10, 0, 0).unwrap();
    let mut said = Vec::new();
    // Once as it is, then badly heard, then two weeks later, when dates have passed.
    for (verdict, days) in [(None, 0), (Some(Verdict::Ask), 0), (None, 14)] {
        let now = morning + Days::new(days);
        for line in ROUND {
            let mut understood = session.understand(&[line], now);
            if let (Some(doubt), Some(_)) = (verdict, &understood.command) {
                understood.verdict = doubt;
            }
            let turn = session.answer(understood, now, Source::Typed);
            said.push(((*line).to_owned(), turn.reply));
        }
    }
    said
}

#[test]
fn every_reply_works_by_ear() {
    let replies = replies();
    let mut different: Vec<&str> = replies.iter().map(|(_, reply)| reply.as_str()).collect();
    different.sort_unstable();
    different.dedup();
    println!("{}", different.join("\n"));
    assert!(different.len() > 80, "only {} forms", different.len());
    let mut wrong = Vec::new();
    for (line, reply) in &replies {
        let words = reply.split_whitespace().count();
        let is_list = LISTS.iter().any(|start| line.starts_with(start)) || line == "repeat";
        if words > 20 && !is_list {
            wrong.push(format!("{words} words to “{line}”: {reply}"));
        }
        if !reply.ends_with(['.', '?']) {
            wrong.push(format!("no end to “{line}”: {reply}"));
        }
        let small = reply.to_lowercase();
        let sight = [
            "see ", "click", "below ", "above", "screen", "press", "look",
        ];
        // "Below its keep level" is a place on a scale, not on a page.
        let small = small.replace("below its keep level", "");
        if let Some(word) = sight.iter().find(|word| small.contains(**word)) {
            wrong.push(format!("{word} to “{line}”: {reply}"));
        }
        if small.contains("safe") || small.contains("fresh") {
            wrong.push(format!("a judgement to “{line}”: {reply}"));
        }
        // A name may be one or many: "oats is" and "oats are" are both wrong for some.
        let names = ["oats", "eggs", "tomatoes", "milk", "salmon"];
        let verbs = ["is", "isn't", "are", "aren't", "was", "were"];
        let mut pairs = names
            .iter()
            .flat_map(|n| verbs.map(|v| format!("{n} {v} ")));
        if let Some(pair) = pairs.find(|pair| small.contains(pair)) {
            wrong.push(format!("“{pair}” to “{line}”: {reply}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_passed_date_always_comes_with_the_caution() {
    let passed: Vec<(String, String)> = replies()
        .into_iter()
        .filter(|(_, reply)| reply.contains("passed"))
        .collect();
    assert!(passed.len() > 3, "{passed:?}");
    for (line, reply) in passed {
        assert!(
            reply.contains("When in doubt, throw it out."),
            "to “{line}”: {reply}"
        );
    }
}
