//! No arrow runs back: each room uses only the rooms below it.

use std::path::{Path, PathBuf};

/// Each room with the rooms it may use.
const FLOORS: [(&str, &[&str]); 9] = [
    ("settings", &[]),
    ("measure", &[]),
    ("grammar", &["guide", "measure"]),
    ("guide", &["measure"]),
    ("stock", &["guide", "measure"]),
    ("share", &["measure", "stock"]),
    ("voice", &["settings"]),
    // The ear takes the automaton that guides it from the grammar, and nothing else.
    ("ear", &["grammar"]),
    (
        "talk",
        &["grammar", "guide", "measure", "settings", "stock"],
    ),
];

const ROOMS: [&str; 10] = [
    "measure", "settings", "grammar", "guide", "stock", "voice", "ear", "talk", "share", "cli",
];

fn files_of(room: &str) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                files.push(path);
            }
        }
    }
    files
}

/// Rooms that a file's code names, as `crate::room` or, in examples, `tellshelf::room`.
fn rooms_named(text: &str) -> Vec<&'static str> {
    let code = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    let code: String = code.collect::<Vec<_>>().join("\n");
    let named = |room: &str| {
        let direct =
            code.contains(&format!("crate::{room}::")) || code.contains(&format!("crate::{room};"));
        // `use crate::{measure, stock};`
        let grouped = code.split("crate::{").skip(1).any(|rest| {
            let group = rest.split(';').next().unwrap_or_default();
            group
                .split(|c: char| !c.is_alphanumeric() && c != '_')
                .any(|word| word == room)
        });
        direct || grouped
    };
    ROOMS.into_iter().filter(|room| named(room)).collect()
}

#[test]
fn no_arrow_runs_back() {
    let mut wrong = Vec::new();
    for (room, below) in FLOORS {
        let files = files_of(room);
        assert!(!files.is_empty(), "the room {room} is empty");
        for file in files {
            let text = std::fs::read_to_string(&file).unwrap();
            for named in rooms_named(&text) {
                if named != room && !below.contains(&named) {
                    wrong.push(format!("{} uses {named}", file.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_arrow_that_runs_back_would_be_found() {
    assert_eq!(rooms_named("use crate::talk::Session;"), ["talk"]);
    assert_eq!(
        rooms_named("use crate::{measure::Amount, voice::Voice};"),
        ["measure", "voice"]
    );
    assert_eq!(
        rooms_named("let x = crate::stock::Stock::open(p);"),
        ["stock"]
    );
    assert_eq!(
        rooms_named("// crate::talk::Session is elsewhere"),
        Vec::<&str>::new()
    );
}

#[test]
fn every_room_says_what_comes_in_and_what_goes_out() {
    for (room, _) in FLOORS {
        let file = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("src")
            .join(room)
            .join("mod.rs");
        let text = std::fs::read_to_string(&file).unwrap();
        let head: Vec<&str> = text
            .lines()
            .take_while(|line| line.starts_with("//!"))
            .collect();
        let head = head.join(" ");
        assert!(
            head.contains("In:") && head.contains("Out:"),
            "{}",
            file.display()
        );
    }
}
