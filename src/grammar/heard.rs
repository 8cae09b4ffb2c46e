//! What recognisers heard of one utterance, and what to make of it.

use chrono::NaiveDate;

use super::certainty::Evidence;
use super::lexicon::Lexicon;
use super::meaning::Command;
use super::meanings::{Meant, meanings};
use super::pooled::pool;
use super::teens::differ_in_a_teen;
use super::understand::Grammar;
use super::understanding::Understanding;
use super::verdict::Verdict;

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

/// What is nearer than this in both is heard again where a recogniser can. Of 20 commands in loud noise that
/// the small model alone rejected, 16 are; of other people's talk, most isn't, and would only take time.
const FIT_TO_TRY: f32 = -2.3;
const SCORE_TO_TRY: f32 = -3.5;

/// A command is accepted when so many of those like it are right: of 800 random commands, 88.7 % clean
/// and 55.4 % at 9 dB were, of these 0.6 and 2.7 % wrong; at 0.85, 91.7 and 60.9 % with 0.5 and 4.1 %.
const SURE: f32 = 0.9;

/// Where another meaning is nearer than this (natural logarithm), it is offered as well.
const NEAR: f32 = 2.0;

/// Where the next meaning has fifty for fifteen, or such a pair, the better one is accepted only if it is so much
/// likelier, natural logarithm. Of 252 commands with such numbers by six synthetic voices, 205 were accepted, 12 of
/// them wrong, without this; with 5, 5 of these are asked about and 56 of 193 right ones; with 6, 9 and 78: an amount that
/// is wrong by far goes unnoticed until dinner.
const TEENS_APART: f32 = 6.0;

/// Names that nobody knows are kept as heard if they are so near to the likeliest of them (natural
/// logarithm), and so many at most.
const FORM_WITHIN: f32 = 4.0;
const MOST_FORMS: usize = 4;

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
    /// What its open speech and what is unlikely by the grammar cost, natural logarithm. It isn't in
    /// the other figures.
    pub cost: f32,
    /// Tokens, the end included.
    pub tokens: usize,
}

/// A text that an ear heard freely, beside others.
///
/// ```
/// use tellshelf::grammar::Beside;
/// let half = Beside { text: "undo".into(), log_share: 0.5f32.ln() };
/// assert!(half.log_share < 0.0);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// The text, as the recogniser writes it.
    pub text: String,
    /// Natural logarithm of its share: how likely it is among all texts that this ear heard.
    pub log_share: f32,
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
    /// The same, by an ear that knows how likely each of its texts is. Where another one was guided, both
    /// count.
    pub beside: Vec<Beside>,
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

    /// Whether a sentence of the grammar was heard that is near enough to be worth another hearing.
    ///
    /// ```
    /// use tellshelf::grammar::{Fit, Heard};
    /// let fit = |against_free| Fit { text: "undo".into(), score: -1.0, against_free, cost: 0.0, tokens: 3 };
    /// let heard = |fit| Heard { guided: Some(vec![fit]), ..Heard::default() };
    /// assert!(heard(fit(-0.5)).is_near());
    /// assert!(!heard(fit(-4.0)).is_near());
    /// ```
    pub fn is_near(&self) -> bool {
        let near = |fit: &Fit| fit.against_free > FIT_TO_TRY && fit.score > SCORE_TO_TRY;
        self.guided.iter().flatten().any(near)
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
    /// Guided sentences that mean the same count together, and the likeliest meaning is taken if it
    /// fits what was heard freely and is sure enough. Where it doesn't fit, the free text is read, if
    /// it is a command word for word with names that are known: the search can miss what is there. What
    /// another ear heard makes meanings likelier or less so; where it is sure of something else, or where
    /// only a forced ear heard it, it is asked about.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Fit, Grammar, Heard, Lexicon, Verdict};
    /// let file = "language: en-US\nslots: [item]\nintents:\n  used-up: I used up [the] <item>\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// let mut names = Lexicon::default();
    /// names.add("flour", "flour");
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let fit = Fit { text: "I used up the flour".into(), score: -0.2, against_free: -0.1, cost: 0.0, tokens: 6 };
    /// let free = vec!["I used up the flower.".into()];
    /// let heard = Heard { guided: Some(vec![fit]), free, ..Heard::default() };
    /// let understood = grammar.settle(&heard, &names, today);
    /// assert_eq!(understood.verdict, Verdict::Accept);
    /// assert_eq!(understood.command.unwrap().slot("item").unwrap().to_json(), "flour");
    /// ```
    pub fn settle(&self, heard: &Heard, names: &Lexicon, today: NaiveDate) -> Understanding {
        self.settle_without(heard, names, today, &|_| false)
    }

    /// The same, where some commands can't be meant: a person who says "no" to one doesn't want to be
    /// asked for it again. What was heard word for word is meant all the same.
    pub fn settle_without(
        &self,
        heard: &Heard,
        names: &Lexicon,
        today: NaiveDate,
        ruled_out: &dyn Fn(&Command) -> bool,
    ) -> Understanding {
        let read = |texts: &[String]| {
            let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
            self.understand_without(&texts, names, today, ruled_out)
        };
        let Some(guided) = &heard.guided else {
            let free = read(&heard.free);
            if heard.forced.is_empty() {
                return free;
            }
            return free.or_forced(read(&heard.forced));
        };
        // With a name that nobody knows, other people's talk is a command as well.
        let as_command = |free: Understanding| {
            let command = free.command.as_ref();
            let known = command.is_some_and(|c| c.unknown_name().is_none());
            // What only the ear beside heard isn't acted on unasked.
            let is_beside = heard.beside.iter().any(|beside| beside.text == free.heard);
            match free.agrees(HEARD_EXACTLY) && known {
                true if is_beside => Some(free.in_doubt()),
                is_command => is_command.then_some(free),
            }
        };
        let mut meanings = meanings(self, guided, names, today);
        meanings.retain(|meaning| !ruled_out(&meaning.command));
        let other = pool(self, &mut meanings, &heard.beside, names, today);
        let Some(best) = meanings.first() else {
            // No sentence of the grammar was worth following to its end.
            let free = read(&heard.free);
            return as_command(free.clone()).unwrap_or_else(|| free.rejected());
        };
        let (fit, score) = (best.fit.against_free, best.fit.score);
        let next = meanings.get(1);
        let margin = next.map_or(f32::INFINITY, |next| best.log - next.log);
        let evidence = Evidence {
            score,
            against_free: fit,
            margin,
            unknown_name: best.unknown_name,
        };
        let confidence = evidence.confidence();
        let verdict = if fit > FIT_TO_ACCEPT && score > SCORE_TO_ACCEPT && confidence > SURE {
            Verdict::Accept
        } else if fit > FIT_TO_ASK && score > SCORE_TO_ASK {
            Verdict::Ask
        } else {
            Verdict::Reject
        };
        // The search can miss what the free ear heard word for word.
        if verdict == Verdict::Reject
            && let Some(free) = as_command(read(&heard.free))
        {
            return free;
        }
        // Where the other ear is sure of something else, that is asked about.
        let other = other.filter(|other| !other.means(&best.command) && !ruled_out(other));
        let verdict = match verdict {
            Verdict::Accept if other.is_some() => Verdict::Ask,
            verdict => verdict,
        };
        // "Fifteen" and "fifty" are told apart by little, and the one for the other is wrong by far.
        let teen = meanings.iter().skip(1).find(|meaning| {
            best.log - meaning.log < TEENS_APART
                && differ_in_a_teen(&meaning.command, &best.command)
        });
        let verdict = match verdict {
            Verdict::Accept if teen.is_some() => Verdict::Ask,
            verdict => verdict,
        };
        let near = next.filter(|_| margin < NEAR);
        Understanding {
            heard: best.fit.text.clone(),
            command: Some(Command {
                confidence,
                ..best.command.clone()
            }),
            verdict,
            or: other.or_else(|| teen.or(near).map(|next| next.command.clone())),
            forms: forms(&meanings),
            name_said: None,
        }
    }
}

/// How a name that nobody knows may have been heard in the likeliest command.
fn forms(meanings: &[Meant<'_>]) -> Vec<String> {
    let Some(best) = meanings.first() else {
        return Vec::new();
    };
    let alike = meanings
        .iter()
        .filter(|meaning| meaning.command.differs_in_name(&best.command));
    let mut heard: Vec<&(String, f32)> = alike.flat_map(|meaning| &meaning.heard).collect();
    heard.sort_by(|a, b| b.1.total_cmp(&a.1));
    let likeliest = heard.first().map_or(0.0, |(_, log)| *log);
    heard.retain(|(_, log)| likeliest - log < FORM_WITHIN);
    let mut forms: Vec<String> = Vec::new();
    for (form, _) in heard {
        if !forms.contains(form) {
            forms.push(form.clone());
        }
    }
    forms.truncate(MOST_FORMS);
    forms
}
