//! Whether a name that was taught once by voice is heard the next time: `cargo bench --bench teaching -- DIR`.
//!
//! `DIR` is made by `audio-fixtures/random-commands.py --rare`: for each voice, names that no kitchen knows in
//! three folders. `first` puts each on the list; where it was taken for something that is known, `said`
//! says it again ("No, I said …"), and "yes" and "no" are answered as the person would. `next` then
//! speaks of them all in other sentences. A name is heard if intent and item are right; which of these
//! are accepted at once, and which asked about, is counted as well.
#[path = "recordings/labels.rs"]
#[allow(dead_code, reason = "the other bench compares all slots")]
mod labels;

use std::collections::HashMap;
use std::error::Error;
use std::path::{Path, PathBuf};

use chrono::{NaiveDate, NaiveDateTime};
use clap::Parser;
use labels::Labelled;
use tellshelf::cli::Hearing;
use tellshelf::ear::{Models, read_recording};
use tellshelf::grammar::{Command, Grammar, Lexicon, Understanding, Value, Verdict};
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::{Session, Turn};

/// How often a person tries to be understood before they give up.
const TRIES: usize = 4;

#[derive(Debug, Parser)]
struct Arguments {
    /// The folder with one folder for each voice
    folder: PathBuf,
    /// Show each name that isn't heard
    #[arg(long)]
    wrong: bool,
    /// Passed by cargo bench
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> Result<(), Box<dyn Error>> {
    let arguments = Arguments::parse();
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let now = NaiveDate::from_ymd_opt(2026, 11, 25)
        .and_then(|day| day.and_hms_opt(10, 0, 0))
        .ok_or("a day that is none")?;
    println!(
        "| voice | names | taught | of these by \"No, I said\" | heard next time | of these accepted | wrong accepted |"
    );
    println!("|---|---|---|---|---|---|---|");
    let mut voices: Vec<PathBuf> = std::fs::read_dir(&arguments.folder)?
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<_, std::io::Error>>()?;
    voices.sort();
    for voice in voices {
        let grammar = Grammar::load(&root.join("grammars/en.yaml"))?;
        let starter = Lexicon::starter(grammar.language());
        let hearing = Hearing::open(&Models::find(), None, &grammar)?;
        let session = Session::new(Stock::in_memory()?, grammar)?;
        let mut lesson = Lesson {
            hearing,
            session,
            starter,
            taught: HashMap::new(),
            again: 0,
            now,
        };
        let first = Labelled::read(&voice.join("first"))?;
        let said = Labelled::read(&voice.join("said"))?;
        for (first, said) in first.iter().zip(&said) {
            let name = lesson.teach(&first.file, &said.file)?;
            if let Some(taught) = name {
                lesson.taught.insert(taught, label(first)?);
            } else if arguments.wrong {
                println!("not taught: {}", label(first)?);
            }
        }
        let (mut heard, mut accepted, mut wrong) = (0, 0, 0);
        let following = Labelled::read(&voice.join("next"))?;
        for next in &following {
            let understanding = lesson.hear(&next.file)?;
            let command = understanding.command.as_ref();
            let right = command.is_some_and(|c| Some(c.intent.as_str()) == next.intent.as_deref())
                && item(&understanding).and_then(|i| lesson.taught.get(i)) == Some(&label(next)?);
            let sure = understanding.verdict == Verdict::Accept;
            heard += usize::from(right && understanding.verdict != Verdict::Reject);
            accepted += usize::from(right && sure);
            wrong += usize::from(!right && sure);
            if !right && arguments.wrong {
                let sentence = command.map(|c| c.sentence.as_str()).unwrap_or_default();
                let taught: Vec<&str> = lesson
                    .taught
                    .iter()
                    .filter(|(_, l)| **l == label(next).unwrap_or_default())
                    .map(|(t, _)| t.as_str())
                    .collect();
                println!(
                    "{} ({taught:?}): {sentence}, {:?}",
                    label(next)?,
                    understanding.verdict
                );
            }
        }
        println!(
            "| {} | {} | {} | {} | {heard} | {accepted} | {wrong} |",
            voice.file_name().unwrap_or_default().display(),
            following.len(),
            lesson.taught.len(),
            lesson.again,
        );
    }
    Ok(())
}

/// What the label calls the thing.
fn label(recording: &Labelled) -> Result<String, Box<dyn Error>> {
    let name = recording.slots.get("item").and_then(|item| item.as_str());
    Ok(name.ok_or("a label without an item")?.to_owned())
}

fn item(understanding: &Understanding) -> Option<&str> {
    name_in(understanding.command.as_ref()?)
}

fn name_in(command: &Command) -> Option<&str> {
    match command.slot("item")? {
        Value::Item { name, .. } => Some(name),
        _ => None,
    }
}

struct Lesson {
    hearing: Hearing,
    session: Session,
    starter: Lexicon,
    /// What the session calls a thing, and what the label does.
    taught: HashMap<String, String>,
    again: usize,
    now: NaiveDateTime,
}

impl Lesson {
    fn hear(&mut self, file: &Path) -> Result<Understanding, Box<dyn Error>> {
        let acceptor = self.session.acceptor();
        let (session, now) = (&self.session, self.now);
        let sound = read_recording(file)?;
        let settled = self
            .hearing
            .hear(&sound, &acceptor, |heard| session.settle(heard, now))?;
        Ok(settled.understanding)
    }

    fn answer(&mut self, understanding: Understanding) -> Turn {
        self.session
            .answer(understanding, self.now, Source::Recording)
    }

    fn type_in(&mut self, text: &str) -> Turn {
        self.session.hear(&[text], self.now, Source::Typed)
    }

    /// Says a name until it is taken for a new one; gives what it is called then.
    fn teach(&mut self, first: &Path, said: &Path) -> Result<Option<String>, Box<dyn Error>> {
        for attempt in 0..TRIES {
            let understanding = self.hear(if attempt == 0 { first } else { said })?;
            let (name, or) = (
                item(&understanding).map(str::to_owned),
                understanding.or.clone(),
            );
            let turn = self.answer(understanding);
            // The person listens to what is said back; a name that is new is taken as it sounds.
            let is_meant = turn.reply.to_lowercase().contains("on the list");
            if let Some(name) = name.filter(|name| is_meant && self.is_new(name)) {
                if turn.reply.ends_with("Yes or no.") {
                    self.type_in("yes");
                }
                let list = self.session.stock().list()?;
                if list.iter().any(|line| line.item.as_str() == name) {
                    self.again += usize::from(attempt > 0);
                    return Ok(Some(name));
                }
                continue;
            }
            if turn.changed {
                continue;
            }
            // "No" may lead to the other meaning.
            let asks_again = self.type_in("no").reply.ends_with("Yes or no.");
            let other = or.as_ref().and_then(name_in).filter(|_| asks_again);
            match other.filter(|name| self.is_new(name)) {
                Some(name) => {
                    self.again += usize::from(attempt > 0);
                    let name = name.to_owned();
                    return Ok(self.type_in("yes").changed.then_some(name));
                }
                None if asks_again => drop(self.type_in("no")),
                None => {}
            }
        }
        Ok(None)
    }

    /// Whether a name isn't known, nor taught.
    fn is_new(&self, name: &str) -> bool {
        self.starter.find(name).is_none() && !self.taught.contains_key(name)
    }
}
