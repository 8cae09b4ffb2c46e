//! The program, run on a throw-away stock.
#![allow(dead_code, reason = "each test file uses its part")]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

/// The clock of all these kitchens: a Wednesday.
pub const AT: &str = "2026-11-25T10:00";

pub fn tellshelf() -> Command {
    Command::new(env!("CARGO_BIN_EXE_tellshelf"))
}

pub fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The recordings of a folder of `audio-fixtures`, in order.
pub fn recordings(folder: &str) -> Vec<PathBuf> {
    let folder = project("audio-fixtures").join(folder);
    let files = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = files
        .filter(|file| file.extension().is_some_and(|e| e == "wav"))
        .collect();
    assert!(!files.is_empty(), "{} is empty", folder.display());
    files.sort();
    files
}

/// A stock's file in a folder that goes when the test ends.
pub struct Kitchen {
    folder: TempDir,
}

impl Kitchen {
    pub fn new() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    pub fn db(&self) -> PathBuf {
        self.folder.path().join("stock.db")
    }

    /// A command on this stock, silent, with the clock set.
    pub fn command(&self, name: &str) -> Command {
        let mut command = tellshelf();
        command
            .arg(name)
            .arg("--mute")
            .args(["--at", AT])
            .arg("--db")
            .arg(self.db());
        command
    }

    /// Types lines, and gives the replies.
    pub fn say(&self, lines: &[&str]) -> Vec<String> {
        let output = give(&mut self.command("type"), lines.join("\n").as_bytes());
        assert!(output.status.success(), "{output:?}");
        text(&output.stdout).lines().map(str::to_owned).collect()
    }

    /// Types one line, and gives the reply.
    pub fn reply(&self, line: &str) -> String {
        self.say(&[line]).concat()
    }

    /// Types lines, and gives the objects.
    pub fn say_json(&self, lines: &[&str]) -> Vec<Value> {
        objects(&give(
            self.command("type").arg("--json"),
            lines.join("\n").as_bytes(),
        ))
    }
}

/// Runs a command with something on its standard input.
pub fn give(command: &mut Command, input: &[u8]) -> Output {
    command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    // A program that stops reading early says why by its exit status.
    let _ = child.stdin.take().unwrap().write_all(input);
    child.wait_with_output().unwrap()
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// Standard output as JSON: one object a line, and nothing else.
pub fn objects(output: &Output) -> Vec<Value> {
    let lines = text(&output.stdout);
    lines
        .lines()
        .map(|line| serde_json::from_str(line).expect(line))
        .collect()
}

/// The one line on standard error.
pub fn one_line(output: &Output) -> String {
    let line = text(&output.stderr);
    assert_eq!(line.lines().count(), 1, "{line}");
    line
}
