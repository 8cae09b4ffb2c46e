//! The settings through the program: changed by a line, kept for the next run, and never lost to a mistake in the file.

#[path = "common/kitchen.rs"]
mod kitchen;

use std::path::PathBuf;

use kitchen::{Kitchen, give, text};

fn file(kitchen: &Kitchen, says: &str) -> PathBuf {
    let file = kitchen.folder().join("settings.yaml");
    std::fs::write(&file, says).unwrap();
    file
}

/// Types lines with this settings' file; gives the replies, and what was said on standard error.
fn say(kitchen: &Kitchen, settings: &PathBuf, lines: &str) -> (String, String) {
    let mut command = kitchen.command("type");
    let output = give(command.arg("--settings").arg(settings), lines.as_bytes());
    assert!(output.status.success(), "{output:?}");
    (text(&output.stdout), text(&output.stderr))
}

#[test]
fn what_was_changed_by_a_line_holds_in_the_next_run() {
    let kitchen = Kitchen::new();
    let settings = file(&kitchen, "");
    assert_eq!(
        say(&kitchen, &settings, "slower\ntones off").0,
        "Slower: 142 words a minute.\nTones off.\n"
    );
    assert_eq!(
        say(&kitchen, &settings, "slower").0,
        "Slower: 120 words a minute.\n"
    );
    let kept = std::fs::read_to_string(&settings).unwrap();
    assert!(
        kept.contains("words-a-minute: 120") && kept.contains("on: false"),
        "{kept}"
    );
}

#[test]
fn a_mistake_in_the_file_is_said_once_and_the_file_is_left_as_it_is() {
    let kitchen = Kitchen::new();
    let wrong = "speech:\n  words-a-minute: 30\nlistening:\n  window: 20\n";
    let settings = file(&kitchen, wrong);
    let (replies, notices) = say(&kitchen, &settings, "read the list");
    assert_eq!(replies, "The list is empty.\n");
    assert_eq!(notices.lines().count(), 1, "{notices}");
    assert!(
        notices.contains("line 2: speech.words-a-minute: 30 isn't from 120 to 550"),
        "{notices}"
    );
    // What is changed now holds until the end; the file is the person's.
    let (replies, notices) = say(&kitchen, &settings, "slower\nslower");
    assert!(
        replies.ends_with("Slower: 120 words a minute.\n"),
        "{replies}"
    );
    assert!(notices.contains("line 2"), "{notices}");
    assert_eq!(std::fs::read_to_string(&settings).unwrap(), wrong);
}
