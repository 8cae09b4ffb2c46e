//! The recognisers that are installed, asked together.

use std::time::Duration;

use super::error::CliError;
use super::options::{HearingOptions, RecogniserName};
use super::output::timed;
use crate::ear::{EarError, Guide, Models, Moonshine, Phrases, Recogniser, Sound, Vosk};
use crate::grammar::{Acceptor, Fit, Grammar, Heard};

/// A grammar with more sentences than this isn't given to a recogniser as a list.
const MOST_PHRASES: usize = 2_000;

/// The ears: every recogniser for the grammar's language, or the one that was named.
pub(super) struct Hearing {
    recognisers: Vec<Box<dyn Recogniser>>,
    /// All that can be said, where that is few enough: for Vosk's grammar mode.
    phrases: Option<Phrases>,
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

    /// Hears one utterance with every ear, guided where an ear can be, and takes the time.
    pub fn hear(
        &mut self,
        sound: &Sound,
        acceptor: &Acceptor,
    ) -> Result<(Heard, Duration), EarError> {
        let (heard, time) = timed(|| {
            let mut heard = Heard::default();
            for recogniser in &mut self.recognisers {
                for hypothesis in recogniser.hear(sound, Guide::Grammar(acceptor))? {
                    match hypothesis.fit {
                        Some(fit) => heard.guided.push(Fit {
                            text: hypothesis.text,
                            score: hypothesis.score,
                            against_free: fit.against_free,
                            tokens: fit.tokens,
                        }),
                        None => heard.free.push(hypothesis.text),
                    }
                }
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
        Ok((heard?, time))
    }
}
