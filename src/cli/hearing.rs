//! The recognisers that are installed, asked together.

use std::time::Duration;

use clap::ValueEnum;

use super::output::timed;
use crate::ear::{EarError, Guide, GuideFit, Models, Moonshine, Phrases, Recogniser, Sound, Vosk};
use crate::grammar::{Acceptor, Fit, Grammar, Heard};

/// A grammar with more sentences than this isn't given to a recogniser as a list.
const MOST_PHRASES: usize = 2_000;

/// Which recogniser hears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum RecogniserName {
    /// English, guided by the grammar.
    Moonshine,
    /// Any language that has a model.
    Vosk,
}

/// The ears: every recogniser for the grammar's language, or the one that was named.
///
/// ```no_run
/// use std::sync::Arc;
/// use tellshelf::cli::Hearing;
/// use tellshelf::ear::{Models, read_recording};
/// use tellshelf::grammar::{Grammar, Lexicon};
/// let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
/// let acceptor = grammar.acceptor(Arc::new(Lexicon::starter("en-US")));
/// let mut hearing = Hearing::open(&Models::find(), None, &grammar)?;
/// let (heard, time) = hearing.hear(&read_recording("oats.wav".as_ref())?, &acceptor)?;
/// println!("{:?} in {time:?}", heard.free);
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
pub struct Hearing {
    recognisers: Vec<Box<dyn Recogniser>>,
    /// All that can be said, where that is few enough: for Vosk's grammar mode.
    phrases: Option<Phrases>,
}

impl Hearing {
    /// Loads every recogniser for the grammar's language that is installed, or only the one named.
    ///
    /// # Errors
    /// [`EarError`] where none can be loaded.
    pub fn open(
        models: &Models,
        only: Option<RecogniserName>,
        grammar: &Grammar,
    ) -> Result<Self, EarError> {
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
            return Err(error);
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
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub fn hear(
        &mut self,
        sound: &Sound,
        acceptor: &Acceptor,
    ) -> Result<(Heard, Duration), EarError> {
        let (heard, time) = timed(|| {
            let mut heard = Heard::default();
            for recogniser in &mut self.recognisers {
                if recogniser.takes_grammar() {
                    heard.guided.get_or_insert_default();
                }
                for hypothesis in recogniser.hear(sound, Guide::Grammar(acceptor))? {
                    let (text, score) = (hypothesis.text, hypothesis.score);
                    match hypothesis.fit {
                        None => heard.free.push(text),
                        Some(GuideFit {
                            against_free,
                            cost,
                            tokens,
                        }) => heard.guided.get_or_insert_default().push(Fit {
                            text,
                            score,
                            against_free,
                            cost,
                            tokens,
                        }),
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

    /// Hears one utterance freely with every ear, only to compare the time that it takes.
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub fn hear_freely(&mut self, sound: &Sound) -> Result<Duration, EarError> {
        let (heard, time) = timed(|| {
            let mut ears = self.recognisers.iter_mut();
            ears.try_for_each(|ear| ear.hear(sound, Guide::Free).map(drop))
        });
        heard.map(|()| time)
    }
}
