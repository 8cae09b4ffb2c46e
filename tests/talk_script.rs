//! A conversation at the command line, as a blind cook would have it: typed, and told as it is written.
//!
//! `tests/conversation/script.txt` is meant to be read by a person, from top to bottom. A line that begins with `==` is
//! a clock and a new start of the program on the same stock and settings; one that begins with `>` is said, and below it
//! stands the reply. To make it anew, say new lines in it, run this, and take what it leaves in its temporary folder.

#[path = "common/kitchen.rs"]
mod kitchen;

use kitchen::{Kitchen, give, tellshelf, text};

const SCRIPT: &str = include_str!("conversation/script.txt");

/// What is said from one start of the program to the next.
struct Part<'s> {
    at: &'s str,
    title: &'s str,
    said: Vec<&'s str>,
}

fn parts() -> Vec<Part<'static>> {
    let mut parts: Vec<Part<'_>> = Vec::new();
    for line in SCRIPT.lines() {
        if let Some((at, title)) = line
            .strip_prefix("== ")
            .and_then(|line| line.split_once(' '))
        {
            let said = Vec::new();
            parts.push(Part { at, title, said });
        } else if let (Some(said), Some(part)) = (line.strip_prefix("> "), parts.last_mut()) {
            part.said.push(said);
        }
    }
    parts
}

/// The script as the program tells it now.
fn told() -> String {
    let kitchen = Kitchen::new();
    let settings = kitchen.folder().join("settings.yaml");
    let mut told: Vec<String> = Vec::new();
    for Part { at, title, said } in parts() {
        let mut command = tellshelf();
        command
            .args(["type", "--mute", "--at", at, "--db"])
            .arg(kitchen.db());
        command.arg("--settings").arg(&settings);
        let output = give(&mut command, said.join("\n").as_bytes());
        assert!(output.status.success(), "{output:?}");
        assert_eq!(text(&output.stderr), "");
        let replies = text(&output.stdout);
        assert_eq!(
            replies.lines().count(),
            said.len(),
            "one answer a line: {replies}"
        );
        let turns = said.iter().zip(replies.lines());
        let turns = turns.map(|(said, reply)| format!("> {said}\n{reply}\n"));
        told.push(format!("== {at} {title}\n{}", turns.collect::<String>()));
    }
    told.join("\n")
}

#[test]
fn the_conversation_is_told_as_it_is_written() {
    let told = told();
    if told != SCRIPT {
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("script.txt");
        std::fs::write(&path, &told).unwrap();
        let mut lines = told.lines().zip(SCRIPT.lines());
        let first = lines.find(|(now, written)| now != written);
        panic!("told otherwise, as in {}: {first:#?}", path.display());
    }
    let turns: usize = parts().iter().map(|part| part.said.len()).sum();
    assert!(turns >= 40, "{turns} turns");
}

/// A braille display of 40 cells has one line, and pans along it: so an answer is one line of plain text.
#[test]
fn a_braille_display_takes_every_line() {
    for line in SCRIPT.lines() {
        let is_plain = |c: char| c.is_ascii_alphanumeric() || " .,:;?'-=>".contains(c);
        assert_eq!(line.chars().find(|c| !is_plain(*c)), None, "{line}");
        assert_eq!(line, line.trim_end());
        // No rows of signs, nothing set in columns.
        for drawn in ["  ", "--", "===", ">>", ".."] {
            assert!(!line.contains(drawn), "{line}");
        }
    }
}
