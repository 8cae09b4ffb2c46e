//! `tellshelf understand`: hearing and grammar alone.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use chrono::NaiveDateTime;
use clap::Args;

use super::Ending;
use super::clock::{Clock, parse_time};
use super::error::CliError;
use super::options::HearingOptions;
use super::output::{Times, in_words, timed, write_line, write_understood};
use crate::ear::read_recording;
use crate::grammar::{Grammar, Heard, Lexicon};

#[derive(Debug, Args)]
pub(super) struct Understand {
    /// Recordings, each one utterance
    #[arg(value_name = "FILE.wav", required_unless_present = "text")]
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
        for line in &self.text {
            self.write(
                "typed",
                (&Heard::text(line), Duration::ZERO),
                &grammar,
                &names,
            )?;
        }
        if self.files.is_empty() {
            return Ok(Ending::Well);
        }
        let mut hearing = self.hearing.ears(&grammar)?;
        let mut ending = Ending::Well;
        for file in &self.files {
            match read_recording(file).and_then(|sound| hearing.hear(&sound, &acceptor)) {
                Ok((heard, hear)) => {
                    let source = file.display().to_string();
                    self.write(&source, (&heard, hear), &grammar, &names)?;
                }
                Err(error) => {
                    eprintln!("{error}.");
                    ending = Ending::WithFailures;
                }
            }
        }
        Ok(ending)
    }

    fn write(
        &self,
        source: &str,
        (heard, hear): (&Heard, Duration),
        grammar: &Grammar,
        names: &Lexicon,
    ) -> Result<(), CliError> {
        let today = self.at.map_or(Clock::Machine, Clock::Set).now().date();
        let (understanding, understand) = timed(|| grammar.settle(heard, names, today));
        let times = Times {
            hear,
            understand,
            ..Times::default()
        };
        if self.json {
            return Ok(write_understood(source, &understanding, &times)?);
        }
        write_line(&format!("{source}: {}", understanding.heard))?;
        write_line(&format!(
            "{}: {}",
            understanding.verdict.name(),
            in_words(&understanding)
        ))?;
        Ok(())
    }
}
