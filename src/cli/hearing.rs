//! The recognisers that are installed, asked together.

use std::time::Duration;

use clap::ValueEnum;

use super::output::timed;
use crate::ear::{
    EarError, Guide, GuideFit, Hypothesis, Models, Moonshine, Phrases, Recogniser, Sound, Vosk,
};
use crate::grammar::{Acceptor, Beside, Fit, Grammar, Heard, Understanding, Verdict};

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
/// let names = Arc::new(Lexicon::starter("en-US"));
/// let acceptor = grammar.acceptor(Arc::clone(&names));
/// let mut hearing = Hearing::open(&Models::find(), None, &grammar)?;
/// let sound = read_recording("oats.wav".as_ref())?;
/// let today = chrono::NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
/// let settled = hearing.hear(&sound, &acceptor, |heard| grammar.settle(heard, &names, today))?;
/// println!("{} in {:?}", settled.understanding.heard, settled.hear);
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
pub struct Hearing {
    recognisers: Vec<Box<dyn Recogniser>>,
    /// All that can be said, where that is few enough: for Vosk's grammar mode.
    phrases: Option<Phrases>,
}

/// What was heard of one utterance, what it was settled to be, and the time that took.
#[derive(Debug, Clone)]
pub struct Settled {
    /// All that was heard.
    pub heard: Heard,
    /// What was understood of it.
    pub understanding: Understanding,
    /// Time to hear, all times together.
    pub hear: Duration,
    /// Time to settle.
    pub understand: Duration,
}

impl Settled {
    /// Settles what was heard, or typed, in no time.
    ///
    /// ```
    /// use tellshelf::cli::Settled;
    /// use tellshelf::grammar::{Grammar, Heard, Lexicon, Verdict};
    /// let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
    /// let names = Lexicon::starter("en-US");
    /// let today = chrono::NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let typed = Heard::text("read the list");
    /// let settled = Settled::of(typed, |heard| grammar.settle(heard, &names, today));
    /// assert_eq!(settled.understanding.verdict, Verdict::Accept);
    /// ```
    pub fn of(heard: Heard, settle: impl Fn(&Heard) -> Understanding) -> Self {
        let (understanding, understand) = timed(|| settle(&heard));
        Self {
            heard,
            understanding,
            hear: Duration::ZERO,
            understand,
        }
    }
}

/// Adds what an ear heard. What one hears freely that can't be guided counts beside the guided one.
fn add(hypothesis: Hypothesis, takes_grammar: bool, heard: &mut Heard) {
    let (text, score) = (hypothesis.text, hypothesis.score);
    match hypothesis.fit {
        None if takes_grammar => heard.free.push(text),
        None => {
            heard.free.push(text.clone());
            let log_share = score;
            heard.beside.push(Beside { text, log_share });
        }
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

    /// Hears one utterance with every ear, guided where an ear can be, and settles what was said. Where
    /// that leaves a doubt, it is heard again by the ears that can do better then.
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub fn hear(
        &mut self,
        sound: &Sound,
        acceptor: &Acceptor,
        settle: impl Fn(&Heard) -> Understanding,
    ) -> Result<Settled, EarError> {
        let mut settled = self.hear_once(sound, acceptor, &settle)?;
        if settled.understanding.verdict == Verdict::Accept || !settled.heard.is_near() {
            return Ok(settled);
        }
        let (again, hear) = timed(|| self.again(sound, acceptor, &settled.heard));
        settled.hear += hear;
        if let Some(again) = again? {
            let again = Settled::of(again, &settle);
            settled = Settled {
                hear: settled.hear,
                understand: settled.understand + again.understand,
                ..again
            };
        }
        Ok(settled)
    }

    /// Hears one utterance once, however doubtful: for what is listened for again and again.
    ///
    /// # Errors
    /// [`EarError`] where a recogniser fails.
    pub(super) fn hear_once(
        &mut self,
        sound: &Sound,
        acceptor: &Acceptor,
        settle: impl Fn(&Heard) -> Understanding,
    ) -> Result<Settled, EarError> {
        let (heard, hear) = timed(|| self.first(sound, acceptor));
        let settled = Settled::of(heard?, &settle);
        Ok(Settled { hear, ..settled })
    }

    fn first(&mut self, sound: &Sound, acceptor: &Acceptor) -> Result<Heard, EarError> {
        let mut heard = Heard::default();
        for recogniser in &mut self.recognisers {
            let takes_grammar = recogniser.takes_grammar();
            if takes_grammar {
                heard.guided.get_or_insert_default();
            }
            for hypothesis in recogniser.hear(sound, Guide::Grammar(acceptor))? {
                add(hypothesis, takes_grammar, &mut heard);
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
    }

    fn again(
        &mut self,
        sound: &Sound,
        acceptor: &Acceptor,
        first: &Heard,
    ) -> Result<Option<Heard>, EarError> {
        let mut heard = Heard::default();
        for recogniser in &mut self.recognisers {
            let again = recogniser.hear_again(sound, Guide::Grammar(acceptor))?;
            for hypothesis in again.into_iter().flatten() {
                add(hypothesis, recogniser.takes_grammar(), &mut heard);
            }
        }
        if heard.guided.is_none() {
            return Ok(None);
        }
        // What the others heard still counts.
        heard.free.extend_from_slice(&first.free);
        heard.beside.extend_from_slice(&first.beside);
        heard.forced.extend_from_slice(&first.forced);
        Ok(Some(heard))
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
