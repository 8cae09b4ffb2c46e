//! `tellshelf understand`: hearing and grammar alone, as a line of words or of JSON.

#[path = "common/kitchen.rs"]
mod kitchen;

use std::process::{Command, Output};

use kitchen::{AT, Kitchen, objects, one_line, project, tellshelf, text};
use serde_json::json;

fn understand(arguments: &[&str]) -> Command {
    let mut command = tellshelf();
    command.args(["understand", "--at", AT]).args(arguments);
    command
}

fn output(arguments: &[&str]) -> Output {
    understand(arguments).output().unwrap()
}

#[test]
fn an_object_has_neither_change_nor_reply() {
    let said = "add two bags of rice to the pantry, use by tomorrow";
    let output = output(&["--json", "--text", said]);
    assert!(output.status.success() && output.stderr.is_empty());
    let objects = objects(&output);
    assert_eq!(objects.len(), 1);
    let keys: Vec<&String> = objects[0].as_object().unwrap().keys().collect();
    let promised = [
        "source",
        "heard",
        "intent",
        "slots",
        "verdict",
        "confidence",
        "ms",
    ];
    assert_eq!(keys, promised);
    assert_eq!(
        objects[0]["slots"],
        json!({
            "quantity": {"count": 2, "amount": null, "unit": "bag"},
            "item": "rice",
            "place": "pantry",
            "date": {"kind": "use by", "date": "2026-11-26"},
        })
    );
    assert_eq!(objects[0]["confidence"], json!(1.0));
}

#[test]
fn a_date_without_a_meaning_has_no_kind() {
    let objects = objects(&output(&[
        "--json",
        "--text",
        "temporary tag milk tomorrow",
    ]));
    assert_eq!(
        objects[0]["slots"]["date"],
        json!({"kind": null, "date": "2026-11-26"})
    );
}

#[test]
fn without_json_it_is_told_in_words() {
    let output = output(&[
        "--text",
        "I used two bags of rice",
        "--text",
        "xylophone quartet",
    ]);
    assert_eq!(
        text(&output.stdout),
        "typed: I used two bags of rice\naccept: use, quantity 2 bags, item rice\n\
         typed: xylophone quartet\nreject: nothing\n"
    );
}

#[test]
fn a_grammar_of_ones_own_is_used_with_its_slots() {
    let kitchen = Kitchen::new();
    let file = kitchen.folder().join("g.yaml");
    let grammar = "language: en-US\nslots: [colour, number]\nrules:\n  colour: red {r} | green {g}\n\
                   intents:\n  paint: paint <number> [<colour>] doors\n";
    std::fs::write(&file, grammar).unwrap();
    let mut command = understand(&["--json", "--text", "paint 3 red doors"]);
    let output = command.arg("--grammar").arg(&file).output().unwrap();
    let object = &objects(&output)[0];
    assert_eq!(object["intent"], "paint");
    assert_eq!(object["slots"], json!({"number": 3, "colour": "r"}));
}

#[test]
fn a_grammar_that_is_not_there_is_said_in_one_line() {
    let output = output(&["--text", "go", "--grammar", "nowhere.yaml"]);
    assert_eq!(output.status.code(), Some(1));
    let line = one_line(&output);
    assert!(
        line.contains("nowhere.yaml") && line.ends_with(".\n"),
        "{line}"
    );
    assert!(output.stdout.is_empty());
}

#[test]
fn text_is_understood_where_no_model_is() {
    let kitchen = Kitchen::new();
    let mut command = understand(&["--text", "undo"]);
    command.env("TELLSHELF_MODELS", kitchen.folder());
    let output = command.output().unwrap();
    assert!(output.status.success());
    assert_eq!(text(&output.stdout), "typed: undo\naccept: undo\n");
}

#[test]
fn a_bad_recording_is_said_and_the_next_is_understood() {
    let kitchen = Kitchen::new();
    let bad = kitchen.folder().join("bad.wav");
    std::fs::write(&bad, "RIFF and then nothing").unwrap();
    let good = project("audio-fixtures/demo/06-read-list.wav");
    let output = understand(&["--json"])
        .args([&bad, &good])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(one_line(&output).contains("bad.wav"));
    let objects = objects(&output);
    assert_eq!(
        (objects.len(), &objects[0]["intent"]),
        (1, &json!("list-read"))
    );
    assert_eq!(objects[0]["source"], json!(good));
}
