//! What every recogniser does: sound and a guide in, hypotheses out.

use super::{EarError, Phrases, Sound};
use crate::grammar::Acceptor;

/// One thing that may have been said.
///
/// ```
/// use tellshelf::ear::Hypothesis;
/// let heard = Hypothesis { text: "undo".into(), score: -0.1, fit: None, by: "moonshine" };
/// assert!(heard.score <= 0.0);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Hypothesis {
    /// The words, as the recogniser writes them.
    pub text: String,
    /// How sure the recogniser is: a natural logarithm of a probability, so 0 is certain and less
    /// is less sure. Over what the probability is taken differs between recognisers, so scores
    /// compare only among hypotheses of the same one:
    /// `moonshine` gives the mean over the tokens of the text, its end included;
    /// [`Vosk`](super::Vosk) says for each of its two ways what it gives.
    pub score: f32,
    /// How well a guided text fits; none where it was heard freely.
    pub fit: Option<GuideFit>,
    /// The name of the recogniser.
    pub by: &'static str,
}

/// How well a text that was guided fits what was heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GuideFit {
    /// How much less likely it is than what was heard freely, natural logarithm for each token.
    /// About 0 where the guide fits what was said, and far below where other words were forced
    /// onto it.
    pub against_free: f32,
    /// What its open speech and what is unlikely by the grammar cost, natural logarithm: see [`Move::cost`](crate::grammar::Move::cost).
    /// It isn't in the other figures.
    pub cost: f32,
    /// Tokens of the text, its end included.
    pub tokens: usize,
}

/// What may be said now. Later versions know more kinds.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub enum Guide<'a> {
    /// Anything.
    Free,
    /// One of these phrases, or words of them strung together.
    Phrases(&'a Phrases),
    /// Sentences of a grammar. What was heard freely is given as well, last.
    Grammar(&'a Acceptor),
}

/// Something that hears words in a sound.
///
/// ```
/// use tellshelf::ear::{EarError, Guide, Hypothesis, Recogniser, Sound};
/// struct Deaf;
/// impl Recogniser for Deaf {
///     fn name(&self) -> &'static str { "deaf" }
///     fn language(&self) -> &str { "en" }
///     fn hear(&mut self, _: &Sound, _: Guide<'_>) -> Result<Vec<Hypothesis>, EarError> {
///         Ok(Vec::new())
///     }
/// }
/// assert!(Deaf.hear(&Sound::default(), Guide::Free)?.is_empty());
/// # Ok::<(), EarError>(())
/// ```
pub trait Recogniser {
    /// Its name, as `--recogniser` takes it.
    fn name(&self) -> &'static str;

    /// The language it hears, as the first part of a language tag: `en`.
    fn language(&self) -> &str;

    /// Whether [`Guide::Grammar`] guides it.
    fn takes_grammar(&self) -> bool {
        false
    }

    /// Hears one utterance: hypotheses, best first, none if it hears no words.
    ///
    /// A recogniser that can't follow the `guide` hears as if it were [`Guide::Free`]: the guide
    /// helps to hear right, and what was heard is checked afterwards in any case.
    ///
    /// # Errors
    /// [`EarError::Recognition`] if it fails; [`EarError::UnknownWords`] if the guide has words
    /// that it can't hear.
    fn hear(&mut self, sound: &Sound, guide: Guide<'_>) -> Result<Vec<Hypothesis>, EarError>;

    /// Hears the same utterance again, right after [`Recogniser::hear`], with more care: for one that
    /// left a doubt. What it gives stands for all that it heard the first time. None where it can't do
    /// better.
    ///
    /// # Errors
    /// As [`Recogniser::hear`].
    fn hear_again(
        &mut self,
        _sound: &Sound,
        _guide: Guide<'_>,
    ) -> Result<Option<Vec<Hypothesis>>, EarError> {
        Ok(None)
    }
}
