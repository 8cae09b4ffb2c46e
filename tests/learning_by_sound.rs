//! A name that nobody knows, taught by voice and heard the next time: real sound, the real recogniser.

use std::path::{Path, PathBuf};

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::cli::Hearing;
use tellshelf::ear::{Models, read_recording};
use tellshelf::grammar::{Grammar, Understanding};
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::{Session, Turn};

fn now() -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    day.and_hms_opt(10, 0, 0).unwrap()
}

struct Kitchen {
    hearing: Hearing,
    session: Session,
}

impl Kitchen {
    fn new() -> Self {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let grammar = Grammar::load(&root.join("grammars/en.yaml")).unwrap();
        let models = Models::in_folder(root.join("models"));
        Self {
            hearing: Hearing::open(&models, None, &grammar).unwrap(),
            session: Session::new(Stock::in_memory().unwrap(), grammar).unwrap(),
        }
    }

    fn understand(&mut self, file: &Path) -> Understanding {
        let acceptor = self.session.acceptor();
        let session = &self.session;
        let sound = read_recording(file).unwrap();
        let settle = |heard: &_| session.settle(heard, now());
        let settled = self.hearing.hear(&sound, &acceptor, settle).unwrap();
        settled.understanding
    }

    fn hear(&mut self, file: &Path) -> Turn {
        let understanding = self.understand(file);
        self.session.answer(understanding, now(), Source::Recording)
    }

    fn type_in(&mut self, line: &str) -> Turn {
        self.session.hear(&[line], now(), Source::Typed)
    }

    /// What is on the list.
    fn list(&self) -> Vec<String> {
        let list = self.session.stock().list().unwrap();
        list.iter().map(|line| line.item.to_string()).collect()
    }
}

fn recording(voice: &str, part: &str, name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("audio-fixtures/learning");
    folder.join(voice).join(part).join(name)
}

#[test]
fn a_name_that_was_taught_once_is_heard_the_next_time() {
    for voice in ["heart", "rms"] {
        let mut kitchen = Kitchen::new();
        for name in ["004-gochugaru.wav", "011-harissa.wav"] {
            let before = kitchen.list().len();
            if !kitchen.hear(&recording(voice, "first", name)).changed {
                kitchen.type_in("yes");
            }
            let list = kitchen.list();
            assert_eq!(list.len(), before + 1, "{voice}, {name}: {list:?}");
            let called = list.last().unwrap();
            let next = kitchen.understand(&recording(voice, "next", name));
            let command = next.command.expect("a command");
            let item = command.slot("item").unwrap().to_json();
            assert_eq!(item, called.as_str(), "{voice}, {name}: {}", next.heard);
        }
    }
}

#[test]
fn what_was_taken_for_something_else_is_put_right_by_voice() {
    let mut kitchen = Kitchen::new();
    // As if the first time something known had been heard.
    kitchen.type_in("put soda on the list");
    let corrected = kitchen.hear(&recording("heart", "said", "004-gochugaru.wav"));
    let corrected = if corrected.changed {
        corrected
    } else {
        kitchen.type_in("yes")
    };
    assert!(
        corrected.reply.starts_with("Not soda. "),
        "{}",
        corrected.reply
    );
    let list = kitchen.list();
    assert_eq!(list.len(), 1, "{list:?}");
    let next = kitchen.understand(&recording("heart", "next", "004-gochugaru.wav"));
    let item = next.command.unwrap().slot("item").unwrap().to_json();
    assert_eq!(item, list[0].as_str(), "{}", next.heard);
}

/// Through the program itself: the sound that was said is what is kept, and what would be played.
#[test]
fn the_sound_of_a_new_name_is_kept_once_that_is_allowed() {
    let folder = tempfile::tempdir().unwrap();
    let db = folder.path().join("stock.db");
    let tellshelf = |command: &str| {
        let mut tellshelf = std::process::Command::new(env!("CARGO_BIN_EXE_tellshelf"));
        tellshelf
            .args([command, "--mute", "--at", "2026-11-25T10:00", "--db"])
            .arg(&db);
        tellshelf
    };
    let type_in = |line: &str| {
        let mut typed = tellshelf("type");
        typed
            .stdin(std::process::Stdio::piped())
            .stdout(std::process::Stdio::piped());
        let mut typed = typed.spawn().unwrap();
        let mut input = typed.stdin.take().unwrap();
        std::io::Write::write_all(&mut input, line.as_bytes()).unwrap();
        drop(input);
        String::from_utf8(typed.wait_with_output().unwrap().stdout).unwrap()
    };
    let said = recording("heart", "first", "011-harissa.wav");
    type_in("remember how I say new names\nyes\n");
    // The name is asked about, and the answer isn't taken for it.
    let yes = Path::new(env!("CARGO_MANIFEST_DIR")).join("audio-fixtures/answers/heart-yes.wav");
    let heard = tellshelf("hear").arg(&said).arg(yes).output().unwrap();
    assert!(heard.status.success());
    let stock = Stock::open(&db).unwrap();
    let list = stock.list().unwrap();
    assert_eq!(list.len(), 1, "{}", String::from_utf8_lossy(&heard.stdout));
    let (_, clip) = stock.sound_of(&list[0].item).unwrap().expect("a sound");
    // As long as the speech in the recording, without the silence around it.
    let whole = read_recording(&said).unwrap().seconds();
    assert!(
        clip.seconds() > 1.2 && clip.seconds() <= whole,
        "{}",
        clip.seconds()
    );
    assert!(clip.samples().iter().any(|sample| sample.abs() > 3_000));
    drop(stock);
    let reply = type_in(&format!("how did I say {}", list[0].item));
    assert!(reply.contains("as you said it today: "), "{reply}");
}
