//! The recognisers that are installed, asked together.

use std::time::Duration;

use super::error::CliError;
use super::options::{HearingOptions, RecogniserName};
use super::output::timed;
use crate::ear::{EarError, Guide, Models, Moonshine, Phrases, Recogniser, Sound, Vosk};
use crate::grammar::{Grammar, Understanding};

/// A grammar with more sentences than this isn't given to a recogniser as a list.
const MOST_PHRASES: usize = 2_000;

/// The ears: every recogniser for the grammar's language, or the one that was named.
pub(super) struct Hearing {
    recognisers: Vec<Box<dyn Recogniser>>,
    /// All that can be said, where that is few enough: for Vosk's grammar mode.
    phrases: Option<Phrases>,
}

/// What was heard of one utterance.
#[derive(Debug, Default)]
pub(super) struct Heard {
    /// By ears that listened freely, likeliest first.
    pub free: Vec<String>,
    /// By ears that were held to the grammar, and would hear it in any noise.
    pub forced: Vec<String>,
    pub time: Duration,
}

impl Hearing {
    pub fn open(options: &HearingOptions, grammar: &Grammar) -> Result<Self, CliError> {
        Self::with(&Models::find(), options.recogniser, grammar)
    }

    pub fn with(
        models: &Models,
        only: Option<RecogniserName>,
        grammar: &Grammar,
    ) -> Result<Self, CliError> {
        let language = grammar.language();
        let mut recognisers: Vec<Box<dyn Recogniser>> = Vec::new();
        let mut missing = None;
        let english = language.to_ascii_lowercase().starts_with("en");
        if only == Some(RecogniserName::Moonshine) || (only.is_none() && english) {
            match Moonshine::load(models) {
                Ok(moonshine) => recognisers.push(Box::new(moonshine)),
                Err(error) => missing = Some(error),
            }
        }
        if only != Some(RecogniserName::Moonshine) {
            match Vosk::load(models, language) {
                Ok(vosk) => recognisers.push(Box::new(vosk)),
                // Vosk is a second ear for English: its absence is no fault where there is a first.
                Err(EarError::NoModel { .. }) if !recognisers.is_empty() => {}
                Err(error) => missing = missing.or(Some(error)),
            }
        }
        if let Some(error) = missing
            && recognisers.is_empty()
        {
            return Err(error.into());
        }
        let phrases = match grammar.sentences(MOST_PHRASES) {
            Some(sentences) => Some(Phrases::new(sentences)?),
            None => None,
        };
        Ok(Self {
            recognisers,
            phrases,
        })
    }

    pub fn hear(&mut self, sound: &Sound) -> Result<Heard, EarError> {
        let (heard, time) = timed(|| {
            let mut heard = Heard::default();
            for recogniser in &mut self.recognisers {
                let free = recogniser.hear(sound, Guide::Free)?;
                heard
                    .free
                    .extend(free.into_iter().map(|hypothesis| hypothesis.text));
                if let Some(phrases) = &self.phrases
                    && recogniser.name() == "vosk"
                {
                    let forced = recogniser.hear(sound, Guide::Phrases(phrases))?;
                    heard
                        .forced
                        .extend(forced.into_iter().map(|hypothesis| hypothesis.text));
                }
            }
            Ok(heard)
        });
        Ok(Heard { time, ..heard? })
    }
}

impl Heard {
    /// What typed text counts as.
    pub fn typed(text: &str) -> Self {
        Self {
            free: vec![text.to_owned()],
            ..Self::default()
        }
    }

    /// Understands what was heard, by whatever understands texts.
    pub fn understood(&self, understand: impl Fn(&[&str]) -> Understanding) -> Understanding {
        let texts = |heard: &[String]| {
            let texts: Vec<&str> = heard.iter().map(String::as_str).collect();
            understand(&texts)
        };
        let free = texts(&self.free);
        if self.forced.is_empty() {
            free
        } else {
            free.or_forced(texts(&self.forced))
        }
    }
}
