//! `tellshelf understand`: hearing and grammar alone.

use std::path::PathBuf;
use std::sync::Arc;

use chrono::NaiveDateTime;
use clap::{ArgGroup, Args};

use super::Ending;
use super::clock::{Clock, parse_time};
use super::error::CliError;
use super::hearing::Settled;
use super::options::HearingOptions;
use super::output::{Times, in_words, write_line, write_understood};
use crate::ear::read_recording;
use crate::grammar::{Heard, Lexicon};

#[derive(Debug, Args)]
#[command(group = ArgGroup::new("said").required(true).multiple(true).args(["files", "text"]))]
pub(super) struct Understand {
    /// Recordings, each one utterance
    #[arg(value_name = "FILE.wav")]
    files: Vec<PathBuf>,
    /// A line of text instead of a recording; may be given several times
    #[arg(long, value_name = "LINE")]
    text: Vec<String>,
    #[command(flatten)]
    hearing: HearingOptions,
    /// Set the clock, as in 2026-11-25T10:00
    #[arg(long, value_name = "TIME", value_parser = parse_time)]
    at: Option<NaiveDateTime>,
    /// One JSON object a line for each utterance
    #[arg(long)]
    json: bool,
}

impl Understand {
    pub fn run(self) -> Result<Ending, CliError> {
        let grammar = self.hearing.grammar()?;
        let names = Arc::new(Lexicon::starter(grammar.language()));
        let acceptor = grammar.acceptor(Arc::clone(&names));
        let today = self.at.map_or(Clock::Machine, Clock::Set).now().date();
        let settle = |heard: &Heard| grammar.settle(heard, &names, today);
        for line in &self.text {
            self.write("typed", &Settled::of(Heard::text(line), settle))?;
        }
        if self.files.is_empty() {
            return Ok(Ending::Well);
        }
        let mut hearing = self.hearing.ears(&grammar)?;
        let mut ending = Ending::Well;
        for file in &self.files {
            let sound = read_recording(file);
            match sound.and_then(|sound| hearing.hear(&sound, &acceptor, settle)) {
                Ok(settled) => self.write(&file.display().to_string(), &settled)?,
                Err(error) => {
                    eprintln!("{error}.");
                    ending = Ending::WithFailures;
                }
            }
        }
        Ok(ending)
    }

    fn write(&self, source: &str, settled: &Settled) -> Result<(), CliError> {
        let understanding = &settled.understanding;
        let times = Times {
            hear: settled.hear,
            understand: settled.understand,
            ..Times::default()
        };
        if self.json {
            return Ok(write_understood(source, understanding, &times)?);
        }
        write_line(&format!("{source}: {}", understanding.heard))?;
        write_line(&format!(
            "{}: {}",
            understanding.verdict.name(),
            in_words(understanding)
        ))?;
        Ok(())
    }
}
