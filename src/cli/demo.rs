//! `tellshelf demo`: a day in an invented kitchen, through the real chain.

use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use clap::Args;
use serde::Deserialize;

use super::Ending;
use super::clock::parse_time;
use super::error::CliError;
use super::hear::{hear, take_turn, utterances_of};
use super::hearing::Settled;
use super::hearing::{Hearing, RecogniserName};
use super::options::{load_grammar, voice};
use super::output::{Times, in_words, write_line, write_turn};
use crate::ear::Models;
use crate::grammar::{Heard, Verdict};
use crate::stock::{Source, Stock};
use crate::talk::{Session, Turn};

#[derive(Debug, Args)]
pub(super) struct Demo {
    /// Captions only, no speech
    #[arg(long)]
    mute: bool,
    /// One JSON object a line for each utterance, instead of captions
    #[arg(long)]
    json: bool,
    /// Use this recogniser only
    #[arg(long, value_name = "NAME")]
    recogniser: Option<RecogniserName>,
    /// The folder of another day, with its day.yaml and recordings
    #[arg(long, value_name = "FOLDER")]
    day: Option<PathBuf>,
}

/// The demo's script: `day.yaml`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Script {
    /// Typed lines that fill the kitchen before the day begins.
    kitchen: Vec<Said>,
    /// Recordings in the order of the day.
    day: Vec<Spoken>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Said {
    at: String,
    say: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Spoken {
    at: String,
    hear: PathBuf,
}

impl Demo {
    pub fn run(self) -> Result<Ending, CliError> {
        let folder = self.day.clone().unwrap_or_else(find_day);
        let script_file = folder.join("day.yaml");
        let script = read_script(&script_file)?;
        let time = |text: &str| {
            let reason = |reason| CliError::NoDemo {
                path: script_file.clone(),
                reason,
            };
            parse_time(text).map_err(reason)
        };
        let grammar = load_grammar(None)?;
        let mut hearing = Hearing::open(&Models::find(), self.recogniser, &grammar)?;
        let mut session = Session::new(Stock::in_memory()?, grammar)?;
        let mut ending = Ending::Well;
        for line in &script.kitchen {
            let now = time(&line.at)?;
            let typed = Settled::of(Heard::text(&line.say), |heard| session.settle(heard, now));
            let (turn, _) = take_turn(&mut session, typed, now, Source::Typed);
            if !turn.changed {
                ending = Ending::WithFailures;
                eprintln!(
                    "The kitchen's line “{}” changed nothing: {}",
                    line.say, turn.reply
                );
            }
        }
        if !self.json {
            write_line("A day in an invented kitchen. It begins with this on the shelf.")?;
            write_state(&session)?;
        }
        let mut voice = voice(self.mute, true);
        for spoken in &script.day {
            let now = time(&spoken.at)?;
            for sound in utterances_of(&folder.join(&spoken.hear))? {
                let settled = hear(&mut hearing, &sound, &mut session, now)?;
                let (turn, times) = take_turn(&mut session, settled, now, Source::Recording);
                if turn.failed || turn.understanding.verdict == Verdict::Reject {
                    ending = Ending::WithFailures;
                }
                if self.json {
                    write_turn(&spoken.hear.display().to_string(), &turn, &times)?;
                } else {
                    write_turn_in_words(now, &turn, &times)?;
                }
                voice.say(&turn.reply);
                voice.wait();
            }
        }
        if !self.json {
            write_line("The day is over. This is on the shelf.")?;
            write_state(&session)?;
        }
        Ok(ending)
    }
}

/// The folder of the demo's day: in the project that holds this program, or the one we are in.
fn find_day() -> PathBuf {
    let day = Path::new("audio-fixtures").join("demo");
    let program = std::env::current_exe().unwrap_or_default();
    let above = program.ancestors().map(|folder| folder.join(&day));
    above
        .into_iter()
        .find(|folder| folder.is_dir())
        .unwrap_or(day)
}

fn read_script(file: &Path) -> Result<Script, CliError> {
    let no_demo = |reason: String| CliError::NoDemo {
        path: file.to_owned(),
        reason,
    };
    let text = std::fs::read_to_string(file).map_err(|e| no_demo(e.to_string()))?;
    serde_yaml::from_str(&text).map_err(|e| no_demo(e.to_string()))
}

fn write_turn_in_words(now: NaiveDateTime, turn: &Turn, times: &Times) -> std::io::Result<()> {
    let ms = |time: std::time::Duration| time.as_millis();
    write_line(&format!(
        "{} heard: {}",
        now.format("%H:%M"),
        turn.understanding.heard
    ))?;
    write_line(&format!("  understood: {}", in_words(&turn.understanding)))?;
    write_line(&format!("  reply: {}", turn.reply))?;
    write_line(&format!(
        "  time: hearing {} ms, understanding {} ms, stock {} ms",
        ms(times.hear),
        ms(times.understand),
        ms(times.act)
    ))
}

/// The shelf, the list and the tags, a line each.
fn write_state(session: &Session) -> Result<(), CliError> {
    let stock = session.stock();
    for lot in stock.shelf()? {
        let quantity = lot.quantity.map_or("some".to_owned(), |q| q.spoken());
        let place = lot
            .place
            .map_or("place not known".to_owned(), |p| p.to_string());
        let dates = lot.dates.iter().map(|note| {
            format!(
                ", {} {}",
                note.kind.map(|k| k.name()).unwrap_or_default(),
                note.date
            )
        });
        write_line(&format!(
            "  {}: {quantity}, {place}{}",
            lot.item,
            dates.collect::<String>()
        ))?;
    }
    let list: Vec<String> = stock
        .list()?
        .iter()
        .map(|line| line.item.to_string())
        .collect();
    write_line(&format!("On the list: {}.", or_nothing(&list)))?;
    let tags: Vec<String> = stock
        .tags()?
        .iter()
        .map(|tag| format!("{} {}", tag.number, tag.item))
        .collect();
    write_line(&format!("Temporary tags: {}.", or_nothing(&tags)))?;
    Ok(())
}

fn or_nothing(names: &[String]) -> String {
    if names.is_empty() {
        "nothing".to_owned()
    } else {
        names.join(", ")
    }
}
