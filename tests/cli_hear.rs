//! Recordings through the real recogniser, on the command line.

#[path = "common/kitchen.rs"]
mod kitchen;
#[path = "common/labels.rs"]
mod labels;

use std::path::PathBuf;

use kitchen::{AT, Kitchen, objects, project, recordings, tellshelf, text};
use labels::{Label, labels};
use serde_json::Value;

/// The label of each object, by its source.
fn labelled(objects: &[Value], language: &str) -> Vec<(Label, Value)> {
    let mut labels = labels(language);
    let fixtures = project("audio-fixtures");
    let pairs = objects.iter().map(|object| {
        let file = PathBuf::from(object["source"].as_str().unwrap());
        let name = file.strip_prefix(&fixtures).unwrap().display().to_string();
        (labels.remove(&name).expect(&name), object.clone())
    });
    pairs.collect()
}

fn hear(kitchen: &Kitchen, folder: &str) -> Vec<Value> {
    let files = recordings(folder);
    let output = kitchen
        .command("hear")
        .arg("--json")
        .args(&files)
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let heard = objects(&output);
    assert_eq!(heard.len(), files.len(), "one utterance a file");
    heard
}

#[test]
fn the_day_of_the_demo_is_heard_word_for_word() {
    for (label, object) in labelled(&hear(&Kitchen::new(), "demo"), "en") {
        assert!(label.is(&object), "{}: {object}", label.text);
        assert_eq!(object["verdict"], "accept", "{object}");
    }
}

/// The bar is the issue's, for hearing without guidance: three quarters. Guided hearing is far over it.
#[test]
fn of_seven_voices_at_least_three_quarters_are_heard_exactly() {
    let heard = labelled(&hear(&Kitchen::new(), "commands"), "en");
    let wrong = |(label, object): &(Label, Value)| {
        (!label.is(object)).then(|| format!("{}: {object}", label.text))
    };
    let wrong: Vec<String> = heard.iter().filter_map(wrong).collect();
    assert!(wrong.len() * 4 <= heard.len(), "{}", wrong.join("\n"));
}

#[test]
fn a_wrong_thing_is_never_done_on_clean_recordings() {
    for (label, object) in labelled(&hear(&Kitchen::new(), "commands"), "en") {
        if object["verdict"] == "accept" {
            assert!(label.is(&object), "{}: {object}", label.text);
        }
    }
}

#[test]
fn talk_that_is_not_for_us_changes_nothing() {
    for object in hear(&Kitchen::new(), "not-for-us") {
        assert_eq!(object["changed"], false, "{object}");
    }
}

#[test]
fn what_was_heard_is_in_the_stock_for_the_next_run() {
    let kitchen = Kitchen::new();
    let file = project("audio-fixtures/demo/15-add-two-bags-oats.wav");
    let output = kitchen.command("hear").arg(file).output().unwrap();
    assert_eq!(text(&output.stdout), "Oats: 2 bags, pantry.\n");
    assert_eq!(kitchen.reply("where are the oats"), "Oats: pantry.");
}

#[test]
fn the_demo_ends_with_what_was_said() {
    let output = tellshelf().args(["demo", "--mute"]).output().unwrap();
    assert!(output.status.success(), "{output:?}");
    let said = text(&output.stdout);
    let end = said.split("The day is over.").nth(1).expect(&said);
    for line in [
        "  eggs: 10, fridge, best by 2026-12-02\n",
        "  milk: 1 gallon, fridge, best by 2026-12-10\n",
        "  oats: 1 bag, pantry\n",
        "  salmon: 2 pounds 4 ounces, freezer, use by 2026-12-03\n",
        "On the list: tomatoes, dish soap.\n",
        "Temporary tags: nothing.\n",
    ] {
        assert!(end.contains(line), "{line} isn't in {end}");
    }
    for part in ["heard: ", "understood: ", "reply: ", "time: hearing "] {
        assert_eq!(said.matches(part).count(), 20, "{part}");
    }
}

#[test]
fn the_demo_gives_an_object_for_each_utterance_and_nothing_else() {
    let output = tellshelf()
        .args(["demo", "--mute", "--json"])
        .output()
        .unwrap();
    let objects = objects(&output);
    assert_eq!(objects.len(), 20);
    assert!(objects.iter().all(|object| object["verdict"] == "accept"));
}

#[test]
fn a_recording_without_speech_changes_nothing() {
    let kitchen = Kitchen::new();
    let file = kitchen.folder().join("silence.wav");
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 16_000,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(&file, spec).unwrap();
    (0..32_000).for_each(|_| writer.write_sample(0i16).unwrap());
    writer.finalize().unwrap();
    let output = kitchen
        .command("hear")
        .arg("--json")
        .arg(&file)
        .output()
        .unwrap();
    let object = &objects(&output)[0];
    assert_eq!(
        (&object["heard"], &object["verdict"]),
        (&"".into(), &"reject".into())
    );
    assert_eq!(
        (&object["changed"], &object["reply"]),
        (&false.into(), &"I heard nothing.".into())
    );
}

#[test]
fn korean_is_heard_by_vosk_with_a_grammar_of_its_own() {
    let output = tellshelf()
        .args([
            "understand",
            "--recogniser",
            "vosk",
            "--json",
            "--at",
            AT,
            "--grammar",
        ])
        .arg(project("grammars/ko.yaml"))
        .args(recordings("ko"))
        .output()
        .unwrap();
    let heard = labelled(&objects(&output), "ko");
    let right = heard
        .iter()
        .filter(|(label, object)| label.is(object))
        .count();
    // Eight of eight when measured; the engine is the test's matter, and not its last percent.
    assert!(right >= 6, "{right} of {}", heard.len());
}

#[test]
fn korean_commands_reach_the_stock() {
    let kitchen = Kitchen::new();
    let grammar = project("grammars/ko.yaml");
    let mut command = kitchen.command("hear");
    command.arg("--json").arg("--grammar").arg(&grammar);
    // What only an ear held to the grammar heard is asked about, and "네" is yes.
    let output = command
        .arg(project("audio-fixtures/ko/butter-on-list.wav"))
        .output()
        .unwrap();
    let object = &objects(&output)[0];
    assert_eq!(object["intent"], "list-add", "{object}");
    assert_eq!(object["slots"]["item"], "버터");
    assert_eq!(object["changed"], object["verdict"] == "accept");
}
