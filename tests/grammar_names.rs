//! Names of goods that could be taken for something else: with numbers, dates, "and" or "of" in
//! them, in one and many.

use chrono::NaiveDate;
use serde_json::{Value, json};
use tellshelf::grammar::{Grammar, Lexicon, Verdict};

fn understood(text: &str) -> (String, Value) {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let understood = grammar.understand(&[text], &Lexicon::starter("en-US"), today);
    assert_eq!(
        understood.verdict,
        Verdict::Accept,
        "{text}: {understood:?}"
    );
    let command = understood.command.unwrap();
    assert_eq!(command.confidence, 1.0, "{text}: {}", command.sentence);
    let slots = command
        .slots
        .iter()
        .map(|(name, value)| (name.clone(), value.to_json()));
    (command.intent, Value::Object(slots.collect()))
}

#[test]
fn names_that_look_like_something_else_are_names() {
    for (text, intent, item) in [
        ("put half-and-half on the list", "list-add", "half-and-half"),
        ("Where are the dates?", "where", "dates"),
        (
            "where is the five-spice powder",
            "where",
            "five-spice powder",
        ),
        (
            "where is the thousand island dressing",
            "where",
            "thousand island dressing",
        ),
        (
            "I used up the mac and cheese",
            "used-up",
            "macaroni and cheese",
        ),
        (
            "put sweet and sour sauce on the list",
            "list-add",
            "sweet and sour sauce",
        ),
        (
            "add cream of tartar to the list",
            "list-add",
            "cream of tartar",
        ),
        ("where are the black-eyed peas", "where", "black-eyed peas"),
        ("where is the vitamin C", "where", "vitamin c"),
        ("add frozen peas to the list", "list-add", "frozen peas"),
        ("I used up the creme fraiche", "used-up", "creme fraiche"),
        ("I used up the crème fraîche", "used-up", "creme fraiche"),
        (
            "where is the all purpose flour",
            "where",
            "all-purpose flour",
        ),
    ] {
        assert_eq!(
            understood(text),
            (intent.to_owned(), json!({ "item": item })),
            "{text}"
        );
    }
}

#[test]
fn a_quantity_before_such_a_name_is_a_quantity() {
    let counted =
        |count: u32, unit: Option<&str>| json!({ "count": count, "amount": null, "unit": unit });
    let (intent, slots) = understood("add two cartons of half-and-half to the fridge");
    assert_eq!(intent, "put-in");
    let quantity = counted(2, Some("carton"));
    assert_eq!(
        slots,
        json!({ "quantity": quantity, "item": "half-and-half", "place": "fridge" })
    );
    let (intent, slots) = understood("I used three dates");
    assert_eq!(intent, "use");
    assert_eq!(
        slots,
        json!({ "quantity": counted(3, None), "item": "dates" })
    );
    let (_, slots) = understood("I used half a carton of half and half");
    let half = json!({ "count": 0.5, "amount": null, "unit": "carton" });
    assert_eq!(slots, json!({ "quantity": half, "item": "half-and-half" }));
    let (_, slots) = understood("add two fourteen ounce cans of tomatoes to the pantry");
    let cans = json!({ "count": 2, "amount": 14, "unit": "ounce" });
    assert_eq!(
        slots,
        json!({ "quantity": cans, "item": "tomatoes", "place": "pantry" })
    );
}

#[test]
fn one_and_many_are_the_same_thing() {
    for (said, item) in [
        ("olive", "olives"),
        ("chive", "chives"),
        ("clove", "cloves"),
        ("bay leaf", "bay leaves"),
        ("date", "dates"),
        ("cookie", "cookies"),
        ("tomato", "tomatoes"),
        ("mango", "mangoes"),
        ("french breads", "french bread"),
        ("peach", "peaches"),
        ("plastic knife", "plastic knives"),
    ] {
        assert_eq!(Lexicon::starter("en-US").find(said), Some(item), "{said}");
    }
}

#[test]
fn every_name_of_the_starter_list_is_understood() {
    let yaml = "language: en-US\nslots: [item]\nintents:\n  where: where is the <item>\n";
    let grammar = Grammar::from_text("where.yaml", yaml).unwrap();
    let names = Lexicon::starter("en-US");
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let file: Value = serde_yaml::from_str(include_str!("../grammars/goods.en.yaml")).unwrap();
    let mut count = 0;
    for goods in file["goods"].as_object().unwrap().values() {
        for good in goods.as_array().unwrap() {
            let all = good
                .as_array()
                .map_or_else(|| vec![good], |names| names.iter().collect());
            let first = all[0].as_str().unwrap();
            for name in &all {
                let text = format!("where is the {}", name.as_str().unwrap());
                let command = grammar.understand(&[&text], &names, today).command.unwrap();
                let item = command.slot("item").unwrap().to_json();
                assert_eq!((item, command.confidence), (json!(first), 1.0), "{text}");
                count += 1;
            }
        }
    }
    assert!(count > 900, "only {count} names");
}
