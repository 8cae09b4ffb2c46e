//! Whatever is missing or broken: one clear line that says what to do, a non-zero exit where nothing
//! could be done, and nothing lost.

#[path = "common/kitchen.rs"]
mod kitchen;

use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Command, Output};

use kitchen::{Kitchen, give, objects, one_line, project, tellshelf, text};

/// Neither a sound server nor a sound card, nor a speech service that could be started.
fn without_sound(command: &mut Command, home: &Path) {
    let config = home.join("speech-dispatcher");
    std::fs::create_dir_all(&config).unwrap();
    std::fs::write(config.join("speechd.conf"), "DisableAutoSpawn\n").unwrap();
    let nowhere = home.join("nowhere");
    command
        .env("XDG_CONFIG_HOME", home)
        .env("XDG_RUNTIME_DIR", home)
        .env("HOME", home)
        .env("PULSE_SERVER", format!("unix:{}", nowhere.display()))
        .env(
            "SPEECHD_ADDRESS",
            format!("unix_socket:{}", nowhere.display()),
        );
}

fn failed(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    one_line(output)
}

const SPOKEN: &str = "audio-fixtures/demo/16-undo.wav";

#[test]
fn without_models_hearing_says_what_to_run() {
    let kitchen = Kitchen::new();
    let mut command = kitchen.command("hear");
    command
        .env("TELLSHELF_MODELS", kitchen.folder())
        .arg(project(SPOKEN));
    let line = failed(&command.output().unwrap());
    assert!(
        line.contains("moonshine") && line.contains("./models-fetch.sh"),
        "{line}"
    );
}

#[test]
fn a_broken_model_is_named() {
    let kitchen = Kitchen::new();
    let models = kitchen.folder().join("models");
    std::fs::create_dir_all(models.join("moonshine-tiny-en")).unwrap();
    std::os::unix::fs::symlink(project("models/lib"), models.join("lib")).unwrap();
    for file in [
        "encoder_model.ort",
        "decoder_model_merged.ort",
        "tokenizer.bin",
    ] {
        std::fs::write(models.join("moonshine-tiny-en").join(file), "broken").unwrap();
    }
    let mut command = kitchen.command("hear");
    command
        .env("TELLSHELF_MODELS", &models)
        .arg(project(SPOKEN));
    let line = failed(&command.output().unwrap());
    assert!(
        line.contains("moonshine") && line.contains("./models-fetch.sh"),
        "{line}"
    );
}

#[test]
fn typing_needs_no_model() {
    let kitchen = Kitchen::new();
    let mut command = kitchen.command("type");
    command.env("TELLSHELF_MODELS", kitchen.folder());
    let output = give(&mut command, b"put milk on the list\n");
    assert_eq!(text(&output.stdout), "Milk on the list.\n");
    assert!(output.status.success());
}

#[test]
fn without_a_microphone_talking_says_so_in_one_line() {
    let kitchen = Kitchen::new();
    let mut command = kitchen.command("talk");
    without_sound(&mut command, kitchen.folder());
    let line = failed(&command.output().unwrap());
    assert!(
        line.contains("microphone") && line.contains("tellshelf type"),
        "{line}"
    );
}

#[test]
fn without_speech_captions_go_on() {
    let kitchen = Kitchen::new();
    let mut command = tellshelf();
    command.arg("type").arg("--db").arg(kitchen.db());
    without_sound(&mut command, kitchen.folder());
    let output = give(&mut command, b"put milk on the list\nread the list\n");
    assert_eq!(text(&output.stdout), "Milk on the list.\n1 thing: milk.\n");
    assert!(one_line(&output).contains("can't speak"), "{output:?}");
    assert!(output.status.success());
}

#[test]
fn a_recording_that_is_none_is_said_and_the_others_are_heard() {
    let kitchen = Kitchen::new();
    let bad = |name: &str, bytes: &[u8]| {
        let file = kitchen.folder().join(name);
        std::fs::write(&file, bytes).unwrap();
        file
    };
    let whole = std::fs::read(project(SPOKEN)).unwrap();
    let text_file = bad("text.wav", b"this is no recording");
    let empty = bad("empty.wav", b"");
    let cut = bad("cut.wav", &whole[..whole.len() / 2]);
    let missing = kitchen.folder().join("missing.wav");
    let mut command = kitchen.command("hear");
    command
        .arg("--json")
        .args([&text_file, &empty, &cut, &missing, &project(SPOKEN)]);
    let output = command.output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let said = text(&output.stderr);
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines.len(), 4, "{said}");
    for (line, file) in lines.iter().zip([text_file, empty, cut, missing]) {
        assert!(
            line.contains(file.to_str().unwrap()) && line.ends_with('.'),
            "{line}"
        );
    }
    let heard = objects(&output);
    assert_eq!(heard.len(), 1);
    assert_eq!(heard[0]["intent"], "undo");
}

#[test]
fn a_stock_that_is_damaged_is_left_as_it_is() {
    let kitchen = Kitchen::new();
    std::fs::write(
        kitchen.db(),
        "not a stock at all, and longer than a header of SQLite is",
    )
    .unwrap();
    let before = std::fs::read(kitchen.db()).unwrap();
    let line = failed(&give(&mut kitchen.command("type"), b"read the list\n"));
    assert!(line.contains("damaged") && line.contains("--db"), "{line}");
    assert_eq!(std::fs::read(kitchen.db()).unwrap(), before);
}

#[test]
fn a_stock_of_a_newer_version_is_left_as_it_is() {
    let kitchen = Kitchen::new();
    kitchen.say(&["put milk on the list"]);
    let connection = rusqlite::Connection::open(kitchen.db()).unwrap();
    connection.pragma_update(None, "user_version", 999).unwrap();
    connection.close().unwrap();
    let line = failed(&give(&mut kitchen.command("type"), b"read the list\n"));
    assert!(line.contains("newer"), "{line}");
}

#[test]
fn a_folder_instead_of_a_stock_is_said() {
    let kitchen = Kitchen::new();
    std::fs::create_dir(kitchen.db()).unwrap();
    let line = failed(&give(&mut kitchen.command("type"), b"read the list\n"));
    assert!(line.contains("it is a folder"), "{line}");
}

#[test]
fn a_missing_folder_is_made_for_the_stock() {
    let kitchen = Kitchen::new();
    let deep = kitchen.folder().join("a/b/stock.db");
    let mut command = tellshelf();
    command.args(["type", "--mute", "--db"]).arg(&deep);
    assert!(
        give(&mut command, b"put milk on the list\n")
            .status
            .success()
    );
    assert!(deep.is_file());
}

/// A command that runs as somebody without rights, where this test runs as root, whom no permission
/// stops; `None` where that can't be done.
fn unprivileged(kitchen: &Kitchen, arguments: &[&str]) -> Option<Command> {
    // Folders above may be closed to others: the program and all it needs are put where anyone gets.
    let program = kitchen.folder().join("tellshelf");
    std::fs::copy(env!("CARGO_BIN_EXE_tellshelf"), &program).unwrap();
    for path in [kitchen.folder(), &program] {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o755)).unwrap();
    }
    let nobody = ["--reuid=65534", "--regid=65534", "--clear-groups"];
    let able = Command::new("setpriv").args(nobody).arg("true").output();
    let mut command = Command::new("setpriv");
    command
        .args(nobody)
        .arg(&program)
        .args(arguments)
        .arg("--db")
        .arg(kitchen.db());
    let libraries = kitchen.folder().join("lib");
    std::fs::create_dir_all(&libraries).unwrap();
    std::fs::set_permissions(&libraries, std::fs::Permissions::from_mode(0o755)).unwrap();
    std::fs::copy(
        project("models/lib/libvosk.so"),
        libraries.join("libvosk.so"),
    )
    .unwrap();
    command.env("LD_LIBRARY_PATH", &libraries);
    able.is_ok_and(|output| output.status.success())
        .then_some(command)
}

#[test]
fn a_stock_that_cannot_be_written_is_said_at_once() {
    let kitchen = Kitchen::new();
    kitchen.say(&["put milk on the list"]);
    std::fs::set_permissions(kitchen.db(), std::fs::Permissions::from_mode(0o444)).unwrap();
    let before = std::fs::read(kitchen.db()).unwrap();
    let Some(mut command) = unprivileged(&kitchen, &["type", "--mute"]) else {
        println!("Left out: setpriv can't be used here.");
        return;
    };
    let line = failed(&give(&mut command, b"put eggs on the list\n"));
    assert!(
        line.contains("can't write") && line.contains("Make the file"),
        "{line}"
    );
    assert_eq!(std::fs::read(kitchen.db()).unwrap(), before);
}

#[test]
fn wrong_usage_is_told_apart_from_failure() {
    for arguments in [
        &["sing"][..],
        &["hear"],
        &["type", "--at", "noon"],
        &["understand"],
        &[],
    ] {
        let output = tellshelf().args(arguments).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    }
    for arguments in ["--help", "--version"] {
        assert!(
            tellshelf()
                .arg(arguments)
                .output()
                .unwrap()
                .status
                .success()
        );
    }
}

#[test]
fn a_faulty_grammar_names_file_line_and_rule() {
    let kitchen = Kitchen::new();
    let file = kitchen.folder().join("g.yaml");
    std::fs::write(
        &file,
        "language: en-US\nintents:\n  go:\n    - go to <nowhere>\n",
    )
    .unwrap();
    let output = tellshelf()
        .args(["understand", "--text", "go", "--grammar"])
        .arg(&file)
        .output()
        .unwrap();
    let line = failed(&output);
    assert!(
        line.contains("g.yaml, line 4, rule go: there is no rule <nowhere>"),
        "{line}"
    );
}

#[test]
fn words_that_vosk_does_not_know_are_named() {
    let kitchen = Kitchen::new();
    let file = kitchen.folder().join("g.yaml");
    std::fs::write(&file, "language: ko-KR\nintents:\n  go: 커피 흐믈그트\n").unwrap();
    let output = tellshelf()
        .args(["understand", "--recogniser", "vosk", "--grammar"])
        .arg(&file)
        .arg(project("audio-fixtures/ko/undo.wav"))
        .output()
        .unwrap();
    let line = failed(&output);
    assert!(
        line.contains("흐믈그트") && !line.contains("커피"),
        "{line}"
    );
}

/// The lines of `tellshelf check`, and whether it found all well.
fn check(kitchen: &Kitchen, change: impl FnOnce(&mut Command)) -> (Vec<String>, bool) {
    let mut command = tellshelf();
    command.arg("check").arg("--db").arg(kitchen.db());
    without_sound(&mut command, kitchen.folder());
    change(&mut command);
    let output = command.output().unwrap();
    let lines = text(&output.stdout).lines().map(str::to_owned).collect();
    (lines, output.status.success())
}

#[test]
fn check_says_what_works_and_how_to_mend_what_does_not() {
    let kitchen = Kitchen::new();
    let (lines, well) = check(&kitchen, |_| {});
    assert!(!well);
    let parts = [
        "English recogniser: works",
        "Closer hearing: works",
        "Vosk recogniser: works",
        "Microphone: doesn't work",
        "Speech: doesn't work",
        "Stock: works",
    ];
    assert_eq!(lines.len(), parts.len(), "{lines:?}");
    for (line, part) in lines.iter().zip(parts) {
        assert!(line.starts_with(part), "{line}");
    }
    assert!(!kitchen.db().exists(), "looking makes no stock");
}

#[test]
fn check_tells_of_missing_models_and_a_damaged_stock() {
    let kitchen = Kitchen::new();
    std::fs::write(
        kitchen.db(),
        "not a stock at all, and longer than a header of SQLite is",
    )
    .unwrap();
    let models = kitchen.folder().to_owned();
    let (lines, well) = check(&kitchen, |command| {
        _ = command.env("TELLSHELF_MODELS", models)
    });
    assert!(!well);
    assert!(
        lines[0].contains("doesn't work") && lines[0].contains("models-fetch"),
        "{}",
        lines[0]
    );
    for optional in &lines[1..3] {
        assert!(optional.contains("not there, which is fine"), "{optional}");
    }
    assert!(
        lines[5].contains("doesn't work") && lines[5].contains("damaged"),
        "{}",
        lines[5]
    );
}
