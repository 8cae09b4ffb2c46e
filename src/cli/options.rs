//! Options that several commands share.

use std::cell::OnceCell;
use std::path::PathBuf;

use chrono::NaiveDateTime;
use clap::{Args, ValueEnum};

use super::clock::{Clock, parse_time};
use super::error::CliError;
use super::hearing::{Hearing, RecogniserName};
use crate::ear::Models;
use crate::grammar::Grammar;
use crate::measure::DateOrder;
use crate::settings::Settings;
use crate::stock::Stock;
use crate::talk::{Effect, Notice, Session, Turn};
use crate::voice::{Captions, Loudness, Voice};

/// Our own grammar, for when no other is named.
const ENGLISH: &str = include_str!("../../grammars/en.yaml");

/// What stands first in a date of figures.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum Dates {
    /// 3/4 is March 4
    MonthFirst,
    /// 3/4 is April 3
    DayFirst,
}

impl From<Dates> for DateOrder {
    fn from(dates: Dates) -> Self {
        match dates {
            Dates::MonthFirst => Self::MonthFirst,
            Dates::DayFirst => Self::DayFirst,
        }
    }
}

#[derive(Debug, Args)]
pub(super) struct GrammarOptions {
    /// The grammar file; otherwise the built-in one for English
    #[arg(long, value_name = "FILE")]
    pub grammar: Option<PathBuf>,
    /// What stands first in a date of figures; otherwise what is usual in the grammar's language
    #[arg(long, value_name = "ORDER")]
    pub dates: Option<Dates>,
}

impl GrammarOptions {
    pub fn load(&self) -> Result<Grammar, CliError> {
        let grammar = load_grammar(self.grammar.as_deref())?;
        Ok(match self.dates {
            Some(order) => grammar.with_date_order(order.into()),
            None => grammar,
        })
    }
}

#[derive(Debug, Args)]
pub(super) struct HearingOptions {
    /// Use this recogniser only; otherwise all that are installed are asked
    #[arg(long, value_name = "NAME")]
    pub recogniser: Option<RecogniserName>,
    #[command(flatten)]
    grammar: GrammarOptions,
}

impl HearingOptions {
    pub fn grammar(&self) -> Result<Grammar, CliError> {
        self.grammar.load()
    }

    pub fn ears(&self, grammar: &Grammar) -> Result<Hearing, CliError> {
        Ok(Hearing::open(&Models::find(), self.recogniser, grammar)?)
    }
}

pub(super) fn load_grammar(file: Option<&std::path::Path>) -> Result<Grammar, CliError> {
    Ok(match file {
        Some(path) => Grammar::load(path)?,
        None => Grammar::from_text("en.yaml", ENGLISH)?,
    })
}

#[derive(Debug, Args)]
pub(super) struct ConversationOptions {
    /// The stock's file; otherwise the one in your data folder
    #[arg(long, value_name = "FILE")]
    pub db: Option<PathBuf>,
    /// Set the clock, as in 2026-11-25T10:00
    #[arg(long, value_name = "TIME", value_parser = parse_time)]
    pub at: Option<NaiveDateTime>,
    /// The settings' file; otherwise the one in your configuration folder
    #[arg(long, value_name = "FILE")]
    pub settings: Option<PathBuf>,
    /// Captions only, no speech
    #[arg(long)]
    pub mute: bool,
    /// One JSON object a line for each utterance, instead of captions
    #[arg(long)]
    pub json: bool,
    /// The settings, once they were read.
    #[arg(skip)]
    read: OnceCell<Settings>,
}

impl ConversationOptions {
    pub fn clock(&self) -> Clock {
        self.at.map_or(Clock::Machine, Clock::Set)
    }

    /// Where the stock is kept.
    pub fn stock_file(&self) -> Result<PathBuf, CliError> {
        match &self.db {
            Some(file) => Ok(file.clone()),
            None => {
                let folders = directories::ProjectDirs::from("", "", "tellshelf");
                let folders = folders.ok_or(CliError::NoHome)?;
                Ok(folders.data_dir().join("stock.db"))
            }
        }
    }

    /// Where the settings are kept, if there is any place for them.
    pub fn settings_file(&self) -> Option<PathBuf> {
        self.settings.clone().or_else(|| {
            let folders = directories::ProjectDirs::from("", "", "tellshelf")?;
            Some(folders.config_dir().join("settings.yaml"))
        })
    }

    /// The settings as they were at the start. What is wrong with them is said once, and they are as usual then: a person
    /// who can't see the file must still be able to talk.
    pub fn settings(&self) -> &Settings {
        self.read.get_or_init(|| {
            let read = self.settings_file().map(|file| Settings::read(&file));
            read.unwrap_or_else(|| Ok(Settings::default()))
                .unwrap_or_else(|error| {
                    eprintln!("{error}.");
                    Settings::default()
                })
        })
    }

    /// Keeps settings that were changed by voice. Where that fails, they hold until the end, and that is said. A file
    /// that can't be read is left as it is: what the person wrote there isn't lost to one word.
    pub fn keep(&self, settings: &Settings) {
        let Some(file) = self.settings_file() else {
            return;
        };
        let kept = Settings::read(&file).and_then(|_| settings.write(&file));
        if let Err(error) = kept {
            eprintln!("{error}.");
        }
    }

    pub fn session(&self, grammar: Grammar) -> Result<Session, CliError> {
        let file = self.stock_file()?;
        // A name that was mistyped must not look like an empty kitchen.
        if self.db.is_some() && may_be_mistyped(&file) {
            eprintln!("New stock file {}.", file.display());
        }
        let stock = Stock::open(&file)?;
        if let Some(last) = stock
            .last_time()?
            .filter(|last| self.at.is_some_and(|at| at < *last))
        {
            eprintln!(
                "The clock is before the last change, {}.",
                last.format("%Y-%m-%dT%H:%M")
            );
        }
        let mut session = Session::new(stock, grammar)?;
        session.follow(self.settings().clone());
        Ok(session)
    }

    pub fn voice(&self) -> Voice {
        let mut voice = voice(self.mute, self.json);
        voice.follow(self.settings());
        voice
    }

    /// Speaks with the next of the speech service's voices, keeps that, and gives the words that say whose it is.
    pub fn take_other_voice(&self, session: &mut Session, voice: &mut Voice) -> String {
        let mut settings = session.settings().clone();
        let now = settings.speech.voice.as_deref();
        let Some(next) = voice.voice_behind(now, session.language()) else {
            return Notice::NoOtherVoice.words().to_owned();
        };
        settings.speech.voice = Some(next.clone());
        self.keep(&settings);
        voice.follow(&settings);
        session.follow(settings);
        format!("{next}.")
    }

    /// Does what a turn asks for beside its reply, before that is spoken.
    pub fn carry_out(&self, turn: &Turn, voice: &mut Voice) {
        match &turn.effect {
            Some(Effect::Settings(settings)) => {
                self.keep(settings);
                voice.follow(settings);
            }
            Some(Effect::OtherVoice) | None => {}
        }
    }
}

pub(super) fn voice(mute: bool, json: bool) -> Voice {
    let captions = if json {
        Captions::none()
    } else {
        Captions::on_standard_output()
    };
    Voice::new(
        captions,
        if mute {
            Loudness::Muted
        } else {
            Loudness::Aloud
        },
    )
}

/// Whether a stock is begun where there is one of another name, or in a folder that isn't there.
fn may_be_mistyped(file: &std::path::Path) -> bool {
    if file.exists() {
        return false;
    }
    let Some(Ok(mut beside)) = file.parent().map(std::fs::read_dir) else {
        return true;
    };
    beside.any(|other| other.is_ok_and(|other| other.path().extension() == file.extension()))
}
