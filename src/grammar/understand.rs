//! A grammar, ready to understand.

use std::path::Path;
use std::sync::Arc;

use chrono::NaiveDate;

use super::acceptor::Acceptor;
use super::error::{Fault, GrammarError};
use super::file::{GrammarFile, MAX_FILE};
use super::form::Form;
use super::lexicon::Lexicon;
use super::likeness::Likeness;
use super::matching::{self, Tolerance, nearest_paths};
use super::meaning::{Command, meaning};
use super::modes::Modes;
use super::network::Network;
use super::sentences::sentences;
use super::understanding::Understanding;
use super::verdict::Verdict;
use super::wake::{Called, WakePhrase, behind};
use super::words::normal_words;
use crate::measure::{Calendar, DateOrder};

/// A hypothesis further down a recogniser's list must be nearer by this many letters to win.
const RANK_COST: f32 = 0.5;

/// A longer text isn't even looked at, in bytes.
const MOST_BYTES: usize = 1 << 14;

/// A compiled grammar file, outside its modes or in one of them.
#[derive(Debug, Clone)]
pub struct Grammar {
    language: String,
    file: Arc<GrammarFile>,
    modes: Arc<Modes>,
    /// The same behind a wake phrase that must be said.
    called: Option<Arc<Modes>>,
    /// The one of them that is spoken.
    network: Arc<Network>,
    date_order: DateOrder,
}

impl Grammar {
    /// Reads and compiles a grammar file. What it understands is what can be said outside any mode.
    ///
    /// # Errors
    /// [`GrammarError`] with the file, the line and the rule.
    pub fn load(path: &Path) -> Result<Self, GrammarError> {
        let name = path.display().to_string();
        let unreadable = |reason: String| GrammarError {
            file: name.clone(),
            line: 0,
            rule: None,
            fault: Fault::Unreadable(reason),
        };
        let size = std::fs::metadata(path)
            .map_err(|e| unreadable(e.to_string()))?
            .len();
        if size > MAX_FILE as u64 {
            let fault = Fault::TooLarge {
                what: "the file's size in bytes",
                limit: MAX_FILE,
            };
            return Err(GrammarError {
                fault,
                ..unreadable(String::new())
            });
        }
        let text = std::fs::read_to_string(path).map_err(|e| unreadable(e.to_string()))?;
        Self::from_text(&name, &text)
    }

    /// Compiles the text of a grammar file. `name` is used in errors only. What it understands is what
    /// can be said outside any mode.
    ///
    /// # Errors
    /// [`GrammarError`] with the line and the rule.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, Lexicon, Verdict};
    /// let file = "language: en-US\nslots: [item]\nintents:\n  used-up: I used up [the] <item>\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// let mut names = Lexicon::default();
    /// names.add("oats", "oats");
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let heard = grammar.understand(&["I used up the oats."], &names, today);
    /// assert_eq!(heard.verdict, Verdict::Accept);
    /// assert_eq!(heard.command.unwrap().slot("item").unwrap().to_json(), "oats");
    /// ```
    pub fn from_text(name: &str, text: &str) -> Result<Self, GrammarError> {
        let file = GrammarFile::parse(name, text)?;
        let modes = Modes::compile(&file)?;
        Ok(Self {
            date_order: DateOrder::of_language(&file.language),
            language: file.language.clone(),
            network: modes.outside(),
            modes: Arc::new(modes),
            called: None,
            file: Arc::new(file),
        })
    }

    /// The same file with a wake phrase, which may stand in front of everything that can be said. By itself it is the
    /// intent [`CALLED`](super::CALLED).
    ///
    /// # Errors
    /// [`GrammarError`] where the file becomes too large by it.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, Lexicon, Verdict, WakePhrase};
    /// let file = "language: en-US\nintents:\n  stop: all done\n";
    /// let phrase = WakePhrase::new("tell the shelf").unwrap();
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap().with_wake_phrase(&phrase).unwrap();
    /// let asleep = grammar.asleep().unwrap();
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let verdict = |grammar: &Grammar, text| grammar.understand(&[text], &Lexicon::default(), today).verdict;
    /// for text in ["Tell the shelf, all done.", "Tell the shelf."] {
    ///     assert_eq!((verdict(&grammar, text), verdict(&asleep, text)), (Verdict::Accept, Verdict::Accept));
    /// }
    /// assert_eq!(verdict(&grammar, "all done"), Verdict::Accept);
    /// assert_eq!(verdict(&asleep, "all done"), Verdict::Reject);
    /// ```
    pub fn with_wake_phrase(&self, phrase: &WakePhrase) -> Result<Self, GrammarError> {
        let modes = Modes::compile(&behind(&self.file, phrase, Called::Maybe))?;
        let called = Modes::compile(&behind(&self.file, phrase, Called::Must))?;
        Ok(Self {
            network: modes.outside(),
            modes: Arc::new(modes),
            called: Some(Arc::new(called)),
            ..self.clone()
        })
    }

    /// What is understood while nobody has called: only what begins with the wake phrase. `None` where there is none.
    #[must_use]
    pub fn asleep(&self) -> Option<Self> {
        let called = self.called.as_ref()?;
        Some(Self {
            network: called.outside(),
            modes: Arc::clone(called),
            ..self.clone()
        })
    }

    /// Words that end a sentence and change nothing: those of the file's rule `end`, if it has one.
    ///
    /// ```
    /// use tellshelf::grammar::Grammar;
    /// let file = "language: en-US\nrules:\n  end: please | now\nintents:\n  go: go home [<end>]\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// assert_eq!(grammar.closing_words(), ["please", "now"]);
    /// ```
    pub fn closing_words(&self) -> Vec<String> {
        let rule = self.file.rules.iter().find(|rule| rule.name == "end");
        let expansions = rule.iter().flat_map(|rule| &rule.expansions);
        let mut words = Vec::new();
        expansions.for_each(|(expansion, _)| expansion.words(&mut words));
        words
    }

    /// The same file in one of its modes: all that can be said outside them, and that mode's intents
    /// besides. `None` where the file has no such mode, as one in another language may not.
    ///
    /// What makes sense at one point of a conversation only is noise that is misheard at any other.
    /// Nothing is compiled here, and from one mode any other is reached as well.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, Lexicon, Verdict};
    /// let file = "language: en-US\nintents:\n  stop: all done\n  next: next\nmodes:\n  store: [next]\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// let in_store = grammar.in_mode("store").unwrap();
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let verdict = |grammar: &Grammar| grammar.understand(&["next"], &Lexicon::default(), today).verdict;
    /// assert_eq!((verdict(&grammar), verdict(&in_store)), (Verdict::Reject, Verdict::Accept));
    /// assert!(grammar.in_mode("cellar").is_none());
    /// ```
    #[must_use]
    pub fn in_mode(&self, mode: &str) -> Option<Self> {
        let network = self.modes.inside(mode)?;
        Some(Self {
            network,
            ..self.clone()
        })
    }

    /// The same file outside its modes, as it is when it is loaded.
    ///
    /// ```
    /// use tellshelf::grammar::Grammar;
    /// let file = "language: en-US\nintents:\n  stop: all done\n  next: next\nmodes:\n  store: [next]\n";
    /// let in_store = Grammar::from_text("small.yaml", file).unwrap().in_mode("store").unwrap();
    /// assert_eq!(in_store.outside_modes().sentences(9), Some(vec!["all done".into()]));
    /// ```
    #[must_use]
    pub fn outside_modes(&self) -> Self {
        Self {
            network: self.modes.outside(),
            ..self.clone()
        }
    }

    /// The language as a BCP 47 tag, such as `en-US`.
    pub fn language(&self) -> &str {
        &self.language
    }

    /// The same with another order of month and day in dates of figures than is usual in its language.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, Lexicon};
    /// use tellshelf::measure::DateOrder;
    /// let file = "language: en-US\nslots: [date]\nintents:\n  until: until <date>\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// let grammar = grammar.with_date_order(DateOrder::DayFirst);
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let heard = grammar.understand(&["until 3/4/2027"], &Lexicon::default(), today);
    /// let date = heard.command.unwrap().slot("date").unwrap().to_json();
    /// assert_eq!(date["date"], "2027-04-03");
    /// ```
    #[must_use]
    pub fn with_date_order(mut self, order: DateOrder) -> Self {
        self.date_order = order;
        self
    }

    /// How many states the automaton has, names not counted.
    pub fn states(&self) -> usize {
        self.network.node_count()
    }

    /// Every word of the grammar, as written, for recognisers that want a list of words.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.network.words.iter().map(|word| word.written.as_str())
    }

    /// The automaton with these names, for a recogniser to be guided by.
    pub fn acceptor(&self, names: Arc<Lexicon>) -> Acceptor {
        Acceptor::new(Arc::clone(&self.network), names)
    }

    /// Every sentence that can be said, in normal form, if there are at most `most` of them.
    ///
    /// ```
    /// use tellshelf::grammar::Grammar;
    /// let file = "language: en-US\nintents:\n  go: go [right] home\n";
    /// let grammar = Grammar::from_text("small.yaml", file).unwrap();
    /// assert_eq!(grammar.sentences(9), Some(vec!["go home".into(), "go right home".into()]));
    /// assert_eq!(grammar.sentences(1), None);
    /// ```
    pub fn sentences(&self, most: usize) -> Option<Vec<String>> {
        sentences(&self.network, most)
    }

    /// Finds the command nearest to any of the hypotheses, of which the first is the likeliest.
    ///
    /// `today` is what dates are counted from.
    pub fn understand(&self, heard: &[&str], names: &Lexicon, today: NaiveDate) -> Understanding {
        self.understand_without(heard, names, today, &|_| false)
    }

    /// The same, where some commands can't be meant by what only comes near to them: a person who says "no" to one doesn't
    /// want to be asked for it again.
    pub fn understand_without(
        &self,
        heard: &[&str],
        names: &Lexicon,
        today: NaiveDate,
        ruled_out: &dyn Fn(&Command) -> bool,
    ) -> Understanding {
        let is_ruled_out = |reading: &Reading| !reading.is_exact() && ruled_out(&reading.command);
        let mut best: Option<(f32, &str, Reading)> = None;
        for (rank, text) in heard.iter().enumerate() {
            if let Some(reading) = self.reading(text, names, today, Tolerance::Near) {
                let cost = reading.cost + rank as f32 * RANK_COST;
                if best.as_ref().is_none_or(|(known, ..)| cost < *known) {
                    best = Some((cost, text, reading));
                }
            }
        }
        let understanding = |text: &str, reading: Reading| Understanding {
            heard: text.to_owned(),
            verdict: reading.verdict(),
            name_said: reading.name_said(),
            command: Some(reading.command),
            or: None,
            forms: Vec::new(),
        };
        // What has another name, or was said no to, is rather what its words say.
        let is_other = best.as_ref().is_some_and(|(_, _, reading)| {
            reading.form.likeness == Likeness::Other || is_ruled_out(reading)
        });
        let near = match best {
            Some((_, text, reading)) => understanding(text, reading),
            None => Understanding {
                heard: heard.first().copied().unwrap_or_default().to_owned(),
                command: None,
                verdict: Verdict::Reject,
                or: None,
                forms: Vec::new(),
                name_said: None,
            },
        };
        if near.verdict != Verdict::Reject && !is_other {
            return near;
        }
        // A new name may look like another word of a command: "nori sheet", "more sheet".
        let word_for_word = heard.iter().find_map(|text| {
            let reading = self.reading(text, names, today, Tolerance::Exact)?;
            (reading.verdict() != Verdict::Reject).then(|| understanding(text, reading))
        });
        word_for_word.unwrap_or(near)
    }

    fn reading(
        &self,
        text: &str,
        names: &Lexicon,
        today: NaiveDate,
        tolerance: Tolerance,
    ) -> Option<Reading> {
        let letters = letters(text);
        let paths = nearest_paths(&self.network, names, &letters, tolerance);
        let path = paths.first()?;
        let calendar = Calendar {
            today,
            order: self.date_order,
        };
        Some(Reading {
            cost: path.cost,
            command: meaning(&self.network, names, &letters, path, calendar),
            form: Form::of(&self.network, names, &letters, path),
            letters,
        })
    }
}

/// A text read as a command.
struct Reading {
    cost: f32,
    command: Command,
    form: Form,
    /// What was read.
    letters: Vec<char>,
}

impl Reading {
    fn verdict(&self) -> Verdict {
        Verdict::on(&self.command, &self.form)
    }

    /// Whether every word is as it was read.
    fn is_exact(&self) -> bool {
        self.form.is_exact() && self.form.said.is_none()
    }

    /// How a known name was said that isn't as it is spelled.
    fn name_said(&self) -> Option<String> {
        let (from, to) = self.form.said?;
        let said: String = self
            .letters
            .get(from as usize..to as usize)?
            .iter()
            .collect();
        Some(said.trim().to_owned())
    }
}

impl Grammar {
    /// The command that a sentence of the grammar means, word for word; none if it is no sentence.
    /// Which of its words are names that nobody knows, and which free speech, is found as well.
    pub(super) fn read(
        &self,
        sentence: &str,
        names: &Lexicon,
        today: NaiveDate,
    ) -> Option<Command> {
        let reading = self.reading(sentence, names, today, Tolerance::Exact)?;
        Some(reading.command)
    }
}

/// The letters of a text in normal form, with a space after each word, as the automaton has them.
/// None of a text so long that it can't be a command, whatever it is: nothing is understood then.
fn letters(text: &str) -> Vec<char> {
    if text.len() > MOST_BYTES {
        return Vec::new();
    }
    let mut letters: Vec<char> = normal_words(text)
        .iter()
        .flat_map(|word| word.chars().chain([' ']))
        .collect();
    // A longer text can't be a command; matching refuses it as a whole.
    letters.truncate(matching::MOST_LETTERS + 1);
    letters
}
