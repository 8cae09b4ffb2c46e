//! What recognisers heard of one utterance, and what to make of it.

use chrono::NaiveDate;

use super::lexicon::Lexicon;
use super::understand::Grammar;
use super::understanding::Understanding;
use super::verdict::{ACCEPT, ASK, Verdict};

/// A guided sentence that is less likely than free speech by no more than this, natural logarithm for
/// each token, is accepted; by no more than the second, it is asked about. Set by an earlier
/// experiment: -1.0 kept every clean command of 200 real ones, and let none through of 127 pieces of
/// other speech and noise.
const FIT_TO_ACCEPT: f32 = -1.0;
const FIT_TO_ASK: f32 = -1.5;

/// The same for its likelihood by itself: of noise without speech any text is unlikely, and the
/// comparison says nothing. In that experiment, 43 % of noise passed the comparison alone.
const SCORE_TO_ACCEPT: f32 = -1.5;
const SCORE_TO_ASK: f32 = -2.0;

/// Where a sentence of another meaning is nearer than this (natural logarithm), it is asked which was
/// meant. In that experiment it halved what was wrong and accepted.
const MARGIN: f32 = 1.0;

/// What an unknown name costs for each letter, natural logarithm, when it competes with a known one
/// that sounds alike: about 2 for each token, the balance found in that experiment.
const UNKNOWN_LETTER: f32 = 0.7;

/// How well a sentence must agree with what was heard freely to be taken from there.
const HEARD_EXACTLY: f32 = 0.95;

/// A sentence of the grammar that a guided recogniser heard.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The sentence, as the recogniser writes it.
    pub text: String,
    /// Natural logarithm of its probability, for each token.
    pub score: f32,
    /// How much less likely it is than what was heard freely, natural logarithm for each token.
    pub against_free: f32,
    /// Tokens, the end included.
    pub tokens: usize,
}

/// What was heard of one utterance, by every kind of ear. Each list has the likeliest first.
///
/// ```
/// use tellshelf::grammar::Heard;
/// assert!(Heard::default().is_silent());
/// assert!(!Heard::text("undo").is_silent());
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Heard {
    /// By an ear that was guided by the grammar while it decoded, and knows how well that fits; none
    /// where no such ear was there.
    pub guided: Option<Vec<Fit>>,
    /// By ears that listened freely.
    pub free: Vec<String>,
    /// By ears that force any sound onto the grammar.
    pub forced: Vec<String>,
}

impl Heard {
    /// Text that wasn't heard but typed.
    pub fn text(text: &str) -> Self {
        Self {
            free: vec![text.to_owned()],
            ..Self::default()
        }
    }

    /// Whether nobody heard a word.
    pub fn is_silent(&self) -> bool {
        let freely = self.free.iter().chain(&self.forced);
        self.guided.iter().flatten().next().is_none()
            && freely.into_iter().all(|text| text.trim().is_empty())
    }
}

impl Grammar {
    /// Settles what was said between all that was heard.
    ///
    /// A guided sentence is taken where it fits what was heard freely. Where it doesn't, or where
    /// what was heard freely has a name in it that nobody knows and the guided sentence is much
    /// less likely, the free text is read. What only a forced ear heard is asked about.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Fit, Grammar, Heard, Lexicon, Verdict};
    /// let file = "language: en-US\nslots: [item]\nintents:\n  used-up: I used up [the] <item>\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// let mut names = Lexicon::default();
    /// names.add("flour", "flour");
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let fit = Fit { text: "I used up the flour".into(), score: -0.2, against_free: -0.1, tokens: 6 };
    /// let free = vec!["I used up the flower.".into()];
    /// let heard = Heard { guided: Some(vec![fit]), free, ..Heard::default() };
    /// let understood = grammar.settle(&heard, &names, today);
    /// assert_eq!(understood.verdict, Verdict::Accept);
    /// assert_eq!(understood.command.unwrap().slot("item").unwrap().to_json(), "flour");
    /// ```
    pub fn settle(&self, heard: &Heard, names: &Lexicon, today: NaiveDate) -> Understanding {
        let read = |texts: &[String]| {
            let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
            self.understand(&texts, names, today)
        };
        let free = read(&heard.free);
        let Some(guided) = &heard.guided else {
            if heard.forced.is_empty() {
                return free;
            }
            return free.or_forced(read(&heard.forced));
        };
        let Some(best) = guided.first() else {
            // No sentence of the grammar was worth following to its end.
            let exact = free.agrees(HEARD_EXACTLY);
            return if exact { free } else { free.rejected() };
        };
        let unknown = free.unknown_letters();
        let lost = -best.against_free * best.tokens as f32;
        if unknown > 0 && free.agrees(HEARD_EXACTLY) && lost > UNKNOWN_LETTER * unknown as f32 {
            return free;
        }
        let meant = self.understand(&[&best.text], names, today);
        let (fit, score) = (best.against_free, best.score);
        let mut verdict = if fit > FIT_TO_ACCEPT && score > SCORE_TO_ACCEPT {
            Verdict::Accept
        } else if fit > FIT_TO_ASK && score > SCORE_TO_ASK {
            Verdict::Ask
        } else {
            Verdict::Reject
        };
        if verdict == Verdict::Accept && self.is_close(best, &guided[1..], &meant, names, today) {
            verdict = Verdict::Ask;
        }
        // The search can miss what the free ear heard word for word.
        if verdict == Verdict::Reject && unknown == 0 && free.agrees(HEARD_EXACTLY) {
            return free;
        }
        meant.judged(verdict, confidence(fit))
    }

    /// Whether a sentence of another meaning is nearly as likely.
    fn is_close(
        &self,
        best: &Fit,
        others: &[Fit],
        meant: &Understanding,
        names: &Lexicon,
        today: NaiveDate,
    ) -> bool {
        let log = |fit: &Fit| fit.score * fit.tokens as f32;
        let mut near = others
            .iter()
            .filter(|other| log(other) > log(best) - MARGIN);
        near.any(|other| {
            let other = self.understand(&[&other.text], names, today);
            !other.means_the_same(meant)
        })
    }
}

/// A fit on the scale of agreement between texts, so that one pair of thresholds serves both.
fn confidence(fit: f32) -> f32 {
    let between = |fit: f32, (f0, c0): (f32, f32), (f1, c1): (f32, f32)| {
        c0 + (fit - f0) / (f1 - f0) * (c1 - c0)
    };
    let confidence = if fit > FIT_TO_ACCEPT {
        between(fit, (FIT_TO_ACCEPT, ACCEPT), (0.0, 1.0))
    } else {
        between(fit, (FIT_TO_ASK, ASK), (FIT_TO_ACCEPT, ACCEPT))
    };
    confidence.clamp(0.0, 1.0)
}
