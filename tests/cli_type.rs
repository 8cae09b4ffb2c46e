//! The conversation, typed: what is said, and exactly what is answered.

#[path = "common/kitchen.rs"]
mod kitchen;

use kitchen::{Kitchen, give, objects, tellshelf, text};
use serde_json::{Value, json};

/// Says lines and compares each reply.
fn talk(lines: &[(&str, &str)]) {
    let kitchen = Kitchen::new();
    let said: Vec<&str> = lines.iter().map(|(said, _)| *said).collect();
    let replies = kitchen.say(&said);
    for ((said, expected), reply) in lines.iter().zip(&replies) {
        assert_eq!(reply, expected, "to “{said}”");
    }
    assert_eq!(replies.len(), lines.len());
}

#[test]
fn what_comes_in_is_said_back_with_all_that_was_said() {
    talk(&[
        (
            "add two bags of lentils to the pantry",
            "Lentils: 2 bags, pantry.",
        ),
        (
            "put a jar of honey in the cupboard",
            "Honey: 1 jar, cupboard.",
        ),
        ("add three apples to the fridge", "Apples: 3, fridge."),
        (
            "add a dozen eggs to the fridge, best by December second",
            "Eggs: 12, fridge, best by December 2.",
        ),
        (
            "put two pounds of chicken in the freezer",
            "Chicken: 2 pounds, freezer.",
        ),
        ("add milk", "Milk noted."),
    ]);
}

#[test]
fn what_is_used_up_goes_off_the_shelf_and_onto_the_list() {
    talk(&[
        ("add one box of oats to the pantry", "Oats: 1 box, pantry."),
        (
            "I used up the oats",
            "Oats used up. Off the shelf: 1 box, pantry. On the list.",
        ),
        (
            "the oats are gone",
            "Oats: none was noted. Still on the list.",
        ),
        (
            "where are the oats",
            "No oats on the shelf. On the list already.",
        ),
        (
            "add one box of oats to the pantry",
            "Oats: 1 box, pantry. Off the list.",
        ),
    ]);
}

#[test]
fn using_some_leaves_the_rest() {
    talk(&[
        ("add a dozen eggs to the fridge", "Eggs: 12, fridge."),
        ("I used two eggs", "Eggs: 10 left."),
        ("I used twenty eggs", "Eggs: only 10. Nothing changed."),
        (
            "I used three cups of eggs",
            "Eggs: you have 10, and I can't take 3 cups from that. Nothing changed.",
        ),
        (
            "I used two cups of rice",
            "No rice on the shelf. Nothing changed.",
        ),
        (
            "I used ten eggs",
            "Eggs used up. Off the shelf: 10, fridge. On the list.",
        ),
    ]);
}

#[test]
fn half_a_pound_of_a_pound_is_eight_ounces() {
    talk(&[
        (
            "add one pound of butter to the fridge",
            "Butter: 1 pound, fridge.",
        ),
        ("I used half a pound of butter", "Butter: 8 ounces left."),
        ("how much butter is left", "Butter: 8 ounces, fridge."),
    ]);
}

#[test]
fn the_list_is_kept_by_voice() {
    talk(&[
        ("read the list", "The list is empty."),
        ("put dish soap on the list", "Dish soap on the list."),
        (
            "I need two cans of tomatoes",
            "On the list: 2 cans of tomatoes.",
        ),
        (
            "put dish soap on the list",
            "Already on the list: dish soap.",
        ),
        (
            "what's on the list",
            "2 things: dish soap, 2 cans of tomatoes.",
        ),
        (
            "got the dish soap",
            "Got dish soap. Off the list. 1 more on it.",
        ),
        (
            "got the bread",
            "Not on the list: bread. To note it, say: add bread.",
        ),
        (
            "take the tomatoes off the list",
            "Tomatoes off the list. The list is empty.",
        ),
    ]);
}

#[test]
fn what_has_a_date_is_told_soonest_first() {
    talk(&[
        (
            "what expires this week",
            "Nothing has a date up to December 2.",
        ),
        (
            "add one tub of yogurt to the fridge, use by November twenty-seventh",
            "Yogurt: 1 tub, fridge, use by Friday, November 27.",
        ),
        (
            "add a dozen eggs to the fridge, best by December second",
            "Eggs: 12, fridge, best by December 2.",
        ),
        (
            "what expires this week",
            "2 things: yogurt, use by Friday, November 27, fridge; eggs, best by December 2, fridge.",
        ),
        (
            "what expires tomorrow",
            "Nothing has a date up to tomorrow.",
        ),
        (
            "what expires by November thirtieth",
            "1 thing: yogurt, use by Friday, November 27, fridge.",
        ),
    ]);
}

#[test]
fn what_goes_first_is_named_however_far_away_it_is() {
    talk(&[
        ("what should I use first", "Nothing to eat has a date yet."),
        (
            "add one bag of rice to the pantry, best by March third twenty twenty seven",
            "Rice: 1 bag, pantry, best by March 3.",
        ),
        (
            "what should I use first",
            "1 thing: rice, best by March 3, pantry.",
        ),
    ]);
}

#[test]
fn a_place_tells_what_is_in_it() {
    talk(&[
        ("what is in the fridge", "Fridge: nothing noted."),
        (
            "add two tubs of yogurt to the fridge",
            "Yogurt: 2 tubs, fridge.",
        ),
        (
            "add one tub of yogurt to the fridge",
            "Yogurt: 1 tub, fridge.",
        ),
        ("put milk in the fridge", "Milk: fridge."),
        (
            "what is in the fridge",
            "2 things: milk, some; yogurt, 3 tubs.",
        ),
    ]);
}

#[test]
fn ordinary_wordings_are_understood() {
    talk(&[
        ("I bought two cans of beans", "Beans: 2 cans."),
        ("there are three apples in the fridge", "Apples: 3, fridge."),
        ("I ate two apples", "Apples: 1 left."),
        (
            "we have no more apples",
            "Apples used up. Off the shelf: 1, fridge. On the list.",
        ),
        ("buy flour", "Flour on the list."),
        (
            "I used the last of the beans",
            "Beans used up. Off the shelf: 2 cans. On the list.",
        ),
        ("what do I need to buy", "3 things: apples, flour, beans."),
        (
            "new tag: one pound of ham, use by Friday",
            "Tag 1: ham, 1 pound, use by Friday, November 27.",
        ),
    ]);
}

#[test]
fn a_date_that_has_passed_comes_with_the_usual_caution() {
    let kitchen = Kitchen::new();
    kitchen.say(&["add one tub of yogurt to the fridge, use by November twenty-seventh"]);
    let mut later = tellshelf();
    later
        .args(["type", "--mute", "--at", "2026-11-30T08:00", "--db"])
        .arg(kitchen.db());
    let output = give(&mut later, b"what expires today\n");
    assert_eq!(
        text(&output.stdout),
        "1 thing: yogurt, use by Friday, November 27, passed, fridge. \
         Check the label. When in doubt, throw it out.\n"
    );
}

#[test]
fn what_runs_low_is_compared_with_what_is_to_be_kept() {
    talk(&[
        ("what is running low", "Nothing is below its keep level."),
        (
            "keep three cans of tomatoes",
            "Tomatoes: keep 3 cans. Less than you keep: on the list.",
        ),
        ("what is running low", "Tomatoes: none, you keep 3 cans."),
        (
            "add two cans of tomatoes to the cupboard",
            "Tomatoes: 2 cans, cupboard.",
        ),
        ("what's low", "Tomatoes: 2 cans, you keep 3 cans."),
        (
            "add one can of tomatoes to the cupboard",
            "Tomatoes: 1 can, cupboard. Off the list.",
        ),
        ("what is running low", "Nothing is below its keep level."),
    ]);
}

#[test]
fn a_temporary_tag_goes_from_the_store_to_its_place() {
    talk(&[
        ("read the tags", "No temporary tag is in use."),
        (
            "temporary tag: two pounds four ounces of salmon, use by December third",
            "Tag 1: salmon, 2 pounds 4 ounces, use by December 3.",
        ),
        (
            "temporary tag: one gallon of milk, best by December tenth",
            "Tag 2: milk, 1 gallon, best by December 10.",
        ),
        (
            "read the tags",
            "2 tags: tag 1, salmon, 2 pounds 4 ounces, use by December 3; tag 2, milk, 1 gallon, best by December 10.",
        ),
        ("where is the salmon", "Salmon: not put away yet, tag 1."),
        (
            "put away the salmon in the freezer",
            "Salmon: 2 pounds 4 ounces, freezer, use by December 3. Tag 1 is free.",
        ),
        (
            "put away tag two in the fridge",
            "Milk: 1 gallon, fridge, best by December 10. Tag 2 is free.",
        ),
        (
            "put away tag seven in the fridge",
            "There is no tag 7. Say read the tags.",
        ),
    ]);
}

#[test]
fn two_tags_of_one_name_are_never_mixed_up() {
    talk(&[
        (
            "temporary tag: one pound of salmon, use by December third",
            "Tag 1: salmon, 1 pound, use by December 3.",
        ),
        (
            "temporary tag: two pounds of salmon, use by December fifth",
            "Tag 2: salmon, 2 pounds, use by December 5.",
        ),
        (
            "put away the salmon in the freezer",
            "Salmon: tags 1 and 2. Say put away tag, its number, and the place.",
        ),
    ]);
}

#[test]
fn a_date_without_a_meaning_is_asked_about() {
    talk(&[
        (
            "temporary tag: one gallon of milk, December tenth",
            "December 10: is that use by, best by or sell by?",
        ),
        ("sell by", "Tag 1: milk, 1 gallon, sell by December 10."),
        (
            "temporary tag: one pound of ham, December tenth",
            "December 10: is that use by, best by or sell by?",
        ),
        ("no", "All right. Nothing changed."),
        (
            "read the tags",
            "1 tag: tag 1, milk, 1 gallon, sell by December 10.",
        ),
    ]);
}

#[test]
fn a_day_that_does_not_exist_is_refused() {
    talk(&[
        (
            "add milk to the fridge, use by February thirtieth",
            "There is no February 30. Is it Sunday, February 28, 2027? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        (
            "add milk to the fridge, use by Thursday December fourth",
            "It isn't a Thursday. Is it Friday, December 4, 2026? Yes or no.",
        ),
        ("yes", "Milk: fridge, use by December 4."),
        (
            "what expires by June thirty first",
            "There is no June 31. Say it again with the right date.",
        ),
    ]);
}

#[test]
fn a_new_name_is_taken_as_it_is_and_known_from_then_on() {
    let kitchen = Kitchen::new();
    let replies = kitchen.say(&["add one jar of zhoug to the fridge", "where is the zhoug"]);
    assert_eq!(
        replies,
        ["Zhoug: 1 jar, fridge. A new name.", "Zhoug: fridge."]
    );
    assert_eq!(
        kitchen.reply("I used up the zhoug"),
        "Zhoug used up. Off the shelf: 1 jar, fridge. On the list."
    );
}

#[test]
fn a_name_never_heard_of_is_asked_about_where_only_a_known_one_makes_sense() {
    talk(&[
        ("where is the zhoug", "I know no zhoug."),
        (
            "I used up the zhoug",
            "I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("no", "All right. Nothing changed."),
        (
            "I used up the zhoug",
            "I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("yes", "Zhoug: none was noted. On the list. A new name."),
    ]);
}

#[test]
fn another_command_closes_a_question() {
    talk(&[
        (
            "I used up the zhoug",
            "I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("put milk on the list", "Milk on the list."),
        ("yes", "There was no question."),
        ("read the list", "1 thing: milk."),
    ]);
}

#[test]
fn what_is_not_understood_leaves_the_question_open() {
    talk(&[
        (
            "I used up the zhoug",
            "I know no zhoug. Note it all the same? Yes or no.",
        ),
        ("xylophone quartet", "I didn't get that."),
        ("yes", "Zhoug: none was noted. On the list. A new name."),
    ]);
}

#[test]
fn what_is_not_understood_is_never_said_three_times_alike() {
    let kitchen = Kitchen::new();
    let replies = kitchen.say(&["xylophone quartet"; 3]);
    assert!(replies[0] != replies[1] && replies[1] != replies[2] && replies[0] != replies[2]);
}

#[test]
fn undo_goes_back_step_by_step() {
    talk(&[
        ("undo", "Nothing is left to undo."),
        (
            "add two bags of oats to the pantry",
            "Oats: 2 bags, pantry.",
        ),
        (
            "I used up the oats",
            "Oats used up. Off the shelf: 2 bags, pantry. On the list.",
        ),
        ("undo", "Undone: oats used up."),
        ("how much oats are left", "Oats: 2 bags, pantry."),
        ("read the list", "The list is empty."),
        ("undo", "Undone: adding 2 bags of oats."),
        ("undo", "Nothing is left to undo."),
    ]);
}

#[test]
fn the_last_reply_can_be_heard_again() {
    talk(&[
        ("repeat that", "There is nothing to repeat yet."),
        ("put milk on the list", "Milk on the list."),
        ("repeat that", "Milk on the list."),
        ("say that again", "Milk on the list."),
    ]);
}

#[test]
fn an_object_has_the_shape_that_is_promised() {
    let kitchen = Kitchen::new();
    let said = "temporary tag: two pounds four ounces of salmon, use by December third";
    let object = &kitchen.say_json(&[said])[0];
    let keys: Vec<&String> = object.as_object().unwrap().keys().collect();
    assert_eq!(
        keys,
        [
            "source",
            "heard",
            "intent",
            "slots",
            "verdict",
            "confidence",
            "changed",
            "reply",
            "ms"
        ]
    );
    assert_eq!(
        object["slots"],
        json!({
            "quantity": {"count": null, "amount": 2.25, "unit": "pound"},
            "item": "salmon",
            "date": {"kind": "use by", "date": "2026-12-03"},
        })
    );
    assert_eq!(
        (&object["source"], &object["heard"]),
        (&json!("typed"), &json!(said))
    );
    assert_eq!(
        (&object["verdict"], &object["changed"]),
        (&json!("accept"), &json!(true))
    );
    for room in ["hear", "understand", "act"] {
        assert!(object["ms"][room].is_number(), "{object}");
    }
}

#[test]
fn what_was_rejected_names_no_intent() {
    let object = &Kitchen::new().say_json(&["xylophone quartet"])[0];
    assert_eq!(object["verdict"], "reject");
    assert_eq!(
        (&object["intent"], &object["slots"]),
        (&Value::Null, &json!({}))
    );
    assert_eq!(object["changed"], false);
}

#[test]
fn any_bytes_may_come_from_a_scanner() {
    let kitchen = Kitchen::new();
    let mut input = b"\n  \r\nput milk on the list\r\n\xff\xfe\x00\n".to_vec();
    input.extend(vec![b'x'; 1_000_000]);
    input.extend(b"\nread the list");
    let output = give(kitchen.command("type").arg("--json"), &input);
    assert!(output.status.success(), "{output:?}");
    let objects = objects(&output);
    let verdicts: Vec<&str> = objects
        .iter()
        .map(|o| o["verdict"].as_str().unwrap())
        .collect();
    assert_eq!(verdicts, ["accept", "reject", "reject", "accept"]);
    assert_eq!(objects[3]["reply"], "1 thing: milk.");
}

#[test]
fn two_at_once_on_one_stock_lose_nothing() {
    let kitchen = Kitchen::new();
    std::thread::scope(|scope| {
        for item in ["milk", "rice"] {
            let lines = vec![format!("add one bag of {item} to the pantry"); 10];
            let kitchen = &kitchen;
            scope.spawn(move || {
                let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
                kitchen.say(&lines)
            });
        }
    });
    for item in ["milk", "rice"] {
        let reply = kitchen.reply(&format!("how much {item} is left"));
        assert!(reply.ends_with(": 10 bags, pantry."), "{reply}");
    }
}

/// The order of month and day in figures is a setting.
#[test]
fn figures_of_a_date_are_read_in_the_order_that_is_set() {
    for (order, date) in [
        (None, "2027-03-04"),
        (Some("month-first"), "2027-03-04"),
        (Some("day-first"), "2027-04-03"),
    ] {
        let kitchen = Kitchen::new();
        let mut command = kitchen.command("type");
        command.arg("--json");
        if let Some(order) = order {
            command.args(["--dates", order]);
        }
        let output = kitchen::give(&mut command, b"temporary tag ham use by 3/4\n");
        let object: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(object["slots"]["date"]["date"], date, "{order:?}");
    }
}

#[test]
fn another_voice_is_one_answer_to_one_line() {
    let kitchen = Kitchen::new();
    let replies = kitchen.say(&["another voice", "read the list"]);
    assert_eq!(
        replies,
        [
            "There is no other voice for this language.",
            "The list is empty."
        ]
    );
}
