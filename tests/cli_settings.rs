//! The settings through the program: changed by a line, kept for the next run, and never lost to a mistake in the file.

#[path = "common/kitchen.rs"]
mod kitchen;

use std::path::PathBuf;

use kitchen::{Kitchen, give, text};
use tellshelf::settings::Settings;
use tellshelf::stock::Stock;

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

fn events(kitchen: &Kitchen) -> usize {
    let stock = Stock::open(&kitchen.db()).unwrap();
    stock.events().unwrap().len()
}

#[test]
fn undo_takes_back_what_was_changed_last_of_the_settings_and_keeps_that() {
    for (change, reply, undone) in [
        (
            "slower",
            "Slower: 142 words a minute.",
            "Undone: 170 words a minute again.",
        ),
        (
            "speak at three hundred words a minute",
            "300 words a minute.",
            "Undone: 170 words a minute again.",
        ),
        ("louder", "75 percent.", "Undone: 60 percent again."),
        (
            "brief replies",
            "Brief replies.",
            "Undone: full replies again.",
        ),
        ("tones off", "Tones off.", "Undone: tones on again."),
        (
            "wait longer",
            "I'll wait longer in pauses.",
            "Undone: the usual wait again.",
        ),
    ] {
        let kitchen = Kitchen::new();
        let settings = file(&kitchen, "speech:\n  volume: 60\n");
        let before = Settings::read(&settings).unwrap();
        let lines = format!("put milk on the list\n{change}");
        let replies = say(&kitchen, &settings, &lines).0;
        assert_eq!(replies, format!("Milk on the list.\n{reply}\n"));
        assert_ne!(Settings::read(&settings).unwrap(), before, "{change}");

        let settings = file(&kitchen, "speech:\n  volume: 60\n");
        let replies = say(&kitchen, &settings, &format!("{change}\nundo")).0;
        assert_eq!(replies, format!("{reply}\n{undone}\n"));
        assert_eq!(Settings::read(&settings).unwrap(), before, "{change}");
        // The stock is as it was: nothing was taken back there, and no undoing is in its ledger.
        assert_eq!(events(&kitchen), 1, "{change}");
    }
}

#[test]
fn undo_goes_back_in_time_over_the_settings_and_the_stock() {
    let kitchen = Kitchen::new();
    let settings = file(&kitchen, "");
    for (line, reply) in [
        ("put milk on the list\nundo", "Undone: milk on the list."),
        // What came after a change of the settings is taken back first.
        (
            "slower\nput milk on the list\nundo",
            "Undone: milk on the list.",
        ),
        (
            "put rice on the list\nfaster\ntones off\nundo\nundo\nundo",
            "Undone: tones on again.\nUndone: 142 words a minute again.\nUndone: rice on the list.",
        ),
        // What was only asked comes between nothing.
        (
            "faster\nread the list\nundo",
            "Undone: 142 words a minute again.",
        ),
        // What changed nothing isn't taken back.
        (
            "tones off\nput rice on the list\ntones on\ntones on\nundo\nundo",
            "Undone: tones off again.\nUndone: rice on the list.",
        ),
    ] {
        let replies = say(&kitchen, &settings, line).0;
        assert!(replies.ends_with(&format!("{reply}\n")), "{replies}");
    }
    assert_eq!(
        Settings::read(&settings)
            .unwrap()
            .speech
            .words_a_minute
            .words_a_minute(),
        142
    );
}

#[test]
fn a_question_stays_open_while_a_change_of_the_settings_is_taken_back() {
    let kitchen = Kitchen::new();
    let settings = file(&kitchen, "");
    let lines = "add milk to the fridge\nthe milk is december third\nslower\nundo\nuse by";
    let replies = say(&kitchen, &settings, lines).0;
    let replies: Vec<&str> = replies.lines().collect();
    assert_eq!(replies[3], "Undone: 170 words a minute again.");
    assert!(
        replies[1].contains("use by, best by") && replies[4].contains("use by"),
        "{replies:?}"
    );
}

#[test]
fn undo_reaches_from_ones_own_kitchen_into_the_settings_changed_in_practice_and_not_into_its_stock()
{
    let kitchen = Kitchen::new();
    let settings = file(&kitchen, "");
    let lines = "put rice on the list\nteach me\nslower\nput milk on the list\nundo\nstop practising\nundo\nundo";
    let replies = say(&kitchen, &settings, lines).0;
    let replies: Vec<&str> = replies.lines().collect();
    assert!(
        replies[4].starts_with("Undone: milk on the list."),
        "{replies:?}"
    );
    assert_eq!(
        replies[6..],
        [
            "Undone: 170 words a minute again.",
            "Undone: rice on the list."
        ],
    );
}
