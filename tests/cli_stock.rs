//! One stock over many runs: what is remembered, what the clock does, and a file in others' hands.

#[path = "common/kitchen.rs"]
mod kitchen;

use kitchen::{Kitchen, give, one_line, tellshelf, text};

#[test]
fn the_next_run_goes_on_where_the_last_one_ended() {
    let kitchen = Kitchen::new();
    kitchen.say(&[
        "add a dozen eggs to the fridge",
        "keep ten eggs",
        "put dish soap on the list",
        "temporary tag salmon",
    ]);
    assert_eq!(
        kitchen.say(&["I used three eggs", "what is running low", "read the tags"]),
        [
            "Eggs: 9 left. Less than you keep: on the list.",
            "Eggs: 9, you keep 10.",
            "1 tag: tag 1, salmon."
        ]
    );
    // The newest change goes first, whichever run made it.
    assert_eq!(
        kitchen.say(&["undo", "undo"]),
        ["Undone: using 3 eggs.", "Undone: the tag for salmon."]
    );
}

#[test]
fn a_question_does_not_outlive_its_run() {
    let kitchen = Kitchen::new();
    let asked = kitchen.reply("temporary tag milk, December tenth");
    assert!(
        asked.ends_with("sell by?No answer. Milk wasn't noted."),
        "{asked}"
    );
    assert_eq!(kitchen.reply("use by"), "There was no question.");
    assert_eq!(
        kitchen.reply("read the tags"),
        "No temporary tag is in use."
    );
}

#[test]
fn dates_are_counted_from_the_day_that_was_set() {
    let kitchen = Kitchen::new();
    let on = |day: &str, line: &str| {
        let mut command = tellshelf();
        command
            .args(["type", "--mute", "--at", day, "--db"])
            .arg(kitchen.db());
        text(&give(&mut command, line.as_bytes()).stdout)
    };
    assert_eq!(
        on(
            "2027-02-27T23:59",
            "put milk in the fridge, use by tomorrow"
        ),
        "Milk: fridge, use by tomorrow.\n"
    );
    assert_eq!(
        on("2027-02-28T00:00:01", "when does the milk expire"),
        "Milk: use by today, fridge.\n"
    );
    assert_eq!(
        on("2027-03-01T00:00", "when does the milk expire"),
        "Milk: use by yesterday, passed, fridge. Check the label. When in doubt, throw it out.\n"
    );
}

#[test]
fn a_file_that_another_program_keeps_is_said_and_nothing_is_lost() {
    let kitchen = Kitchen::new();
    kitchen.say(&["put milk on the list"]);
    let other = rusqlite::Connection::open(kitchen.db()).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let output = give(&mut kitchen.command("type"), b"put salt on the list\n");
    assert_eq!(output.status.code(), Some(1));
    let line = if output.stdout.is_empty() {
        one_line(&output)
    } else {
        text(&output.stdout)
    };
    assert!(
        line.starts_with("Another program is using the stock file")
            && line.contains("Nothing was changed."),
        "{line}"
    );
    other.execute_batch("ROLLBACK").unwrap();
    assert_eq!(
        kitchen.say(&["read the list", "put salt on the list"]),
        ["1 thing: milk.", "Salt on the list."]
    );
}

#[test]
fn check_tells_what_is_wrong_with_the_stock() {
    let check = |kitchen: &Kitchen| {
        let mut command = tellshelf();
        command.args(["check", "--mute", "--json", "--db"]);
        // No model, for speed: this is about the stock.
        command
            .arg(kitchen.db())
            .env("TELLSHELF_MODELS", kitchen.folder());
        let output = command.output().unwrap();
        assert!(output.stderr.is_empty(), "{output:?}");
        let parts = kitchen::objects(&output);
        parts.into_iter().find(|p| p["part"] == "Stock").unwrap()
    };
    let kitchen = Kitchen::new();
    kitchen.say(&["add one bag of rice to the pantry"]);
    let stock = check(&kitchen);
    assert_eq!(stock["works"], true);
    assert!(
        stock["says"]
            .as_str()
            .unwrap()
            .ends_with("lots on the shelf: 1"),
        "{stock}"
    );

    let connection = rusqlite::Connection::open(kitchen.db()).unwrap();
    connection.pragma_update(None, "user_version", 999).unwrap();
    connection.close().unwrap();
    let stock = check(&kitchen);
    assert_eq!(stock["works"], false);
    assert!(stock["says"].as_str().unwrap().contains("newer"), "{stock}");

    let kitchen = Kitchen::new();
    std::fs::create_dir(kitchen.db()).unwrap();
    let stock = check(&kitchen);
    assert_eq!(stock["works"], false);
    assert!(
        stock["says"].as_str().unwrap().contains("folder"),
        "{stock}"
    );
}

#[test]
fn a_new_stock_file_and_a_clock_that_is_behind_are_said() {
    let kitchen = Kitchen::new();
    let said = |name: &str, time: &str| {
        let mut command = tellshelf();
        command.args(["type", "--mute", "--at", time, "--db"]);
        let output = give(
            command.arg(kitchen.folder().join(name)),
            b"I need rice\nundo",
        );
        text(&output.stderr)
    };
    assert_eq!(said("stock.db", "2026-11-25T11:00"), "");
    assert_eq!(
        said("stock.db", "2026-11-24T10:00"),
        "The clock is before the last change, 2026-11-25T11:00.\n"
    );
    for mistyped in ["stok.db", "kitchn/stock.db"] {
        assert!(said(mistyped, "2026-11-25T11:00").starts_with("New stock file "));
    }
}

#[test]
fn a_command_that_is_not_there_is_told_which_there_are() {
    let output = tellshelf().arg("foo").output().unwrap();
    assert!(text(&output.stderr).starts_with("The commands are: talk, hear, type"));
    let output = tellshelf().arg("understand").output().unwrap();
    assert!(text(&output.stderr).contains("--text"), "{output:?}");
}
