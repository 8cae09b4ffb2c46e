//! Which letters may follow: the automaton, walked by a recogniser while it decodes.
//!
//! A recogniser writes as people do: with capitals, punctuation, hyphens and figures. The acceptor
//! takes a text byte by byte in any such spelling, and says at each point what may follow and
//! whether the sentence may end. Its states are made when they are first reached and kept, so
//! what is walked often is only looked up.

use std::cell::RefCell;
use std::collections::hash_map::Entry;
use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use rustc_hash::FxHashMap;

use super::compile::WEIGHT_COST;
use super::lexicon::Lexicon;
use super::network::{Arc as Link, Network};
use crate::measure::{spell, spell_ordinal};

/// Rules inside rules: deeper recursion isn't followed.
const MOST_CALLS: u16 = 12;
/// What open speech costs, natural logarithm: a name that the lexicon lacks, its first letter and each
/// letter, and each letter where the grammar takes any words.
const UNKNOWN_NAME: u16 = units(5.0);
const UNKNOWN_LETTER: u16 = units(0.5);
/// The same where names are taught, and one that nobody knows is likely. Of 60 known names said so by each
/// of four voices, 78 % were heard as known at 0 and 0.3, 91 % at 2 and 0.4, 93 % at 3.5 and 0.4; of 160
/// new ones, the same number was learned.
const TAUGHT_NAME: u16 = units(3.5);
const TAUGHT_LETTER: u16 = units(0.4);
const TEXT_LETTER: u16 = units(0.1);
/// An unknown name has at least so many letters: "a" and "an" are none.
const SHORTEST_NAME: u8 = 3;
/// What costs so much more than another way to say the same letters is given up: it would never be
/// chosen, and without an end to open speech, no two sentences would ever come to the same state.
const GIVEN_UP: u16 = units(10.0);
/// Costs are counted in whole units, so that states that are alike are found to be the same.
const UNITS: f32 = 20.0;
/// See [`Acceptor::is_full`]: some thirty different commands.
const MOST_POINTS: usize = 40_000;
/// Numbers that may be written in figures, and ordinals; the years of this time besides.
const FIGURES: u64 = 1_000;
const ORDINALS: u64 = 31;
const YEARS: std::ops::Range<u64> = 2_000..2_060;
const MOST_FIGURES: usize = 4;

const fn units(nats: f32) -> u16 {
    (nats * UNITS + 0.5) as u16
}

/// What a name costs that nobody knows, natural logarithm, as far as its letters say.
pub(super) fn unknown_cost(name: &str) -> f32 {
    let letters = name.chars().filter(|letter| *letter != ' ').count() as f32;
    (f32::from(UNKNOWN_NAME) + f32::from(UNKNOWN_LETTER) * letters) / UNITS
}

/// A point in a sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Point(u32);

/// One more byte: where it leads, and what it costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// The point behind it.
    pub to: Point,
    /// What open speech costs more than words that are known, and what the grammar calls unlikely by
    /// its weights, as a natural logarithm: to be taken off the logarithm of the text's probability.
    /// It is charged as late as can be: only when nothing cheaper goes on so.
    pub cost: f32,
}

impl Move {
    /// Both in one.
    #[must_use]
    pub fn after(self, before: Self) -> Self {
        Self {
            cost: before.cost + self.cost,
            ..self
        }
    }
}

/// Says what may follow in a sentence of a grammar, for a recogniser to be guided by.
///
/// ```
/// use tellshelf::grammar::{Acceptor, Grammar, Lexicon};
/// let file = "language: en-US\nintents:\n  buy: buy [twelve ounce] cans\n";
/// let grammar = Grammar::from_text("small.yaml", file).unwrap();
/// let acceptor = grammar.acceptor(Lexicon::default().into());
/// for sentence in ["buy cans", "Buy 12-ounce cans.", "buy twelve ounce cans"] {
///     assert!(acceptor.accepts(sentence), "{sentence}");
/// }
/// assert!(!acceptor.accepts("buy 13-ounce cans"));
/// ```
///
/// A name that the lexicon lacks, and free speech, are any words, at a cost for each letter:
///
/// ```
/// # use tellshelf::grammar::{Grammar, Lexicon};
/// let file = "language: en-US\nintents:\n  buy: buy <item> today\n";
/// let grammar = Grammar::from_text("small.yaml", file).unwrap();
/// let mut names = Lexicon::default();
/// names.add("oats", "oats");
/// let acceptor = grammar.acceptor(names.into());
/// assert_eq!(acceptor.cost("buy oats today"), Some(0.0));
/// assert!(acceptor.cost("buy freekeh today") > Some(2.0));
/// assert_eq!(acceptor.cost("sell oats today"), None);
/// ```
#[derive(Debug)]
pub struct Acceptor {
    network: Arc<Network>,
    names: Arc<Lexicon>,
    identity: u64,
    memory: RefCell<Memory>,
}

/// What has been walked so far.
#[derive(Debug, Default)]
struct Memory {
    calls: Vec<Call>,
    call_ids: FxHashMap<Call, u32>,
    /// Sets of places, each sorted, by number.
    states: Vec<State>,
    state_ids: FxHashMap<Rc<[(Place, u16)]>, u32>,
    steps: FxHashMap<(u32, char), Next>,
    points: Vec<Written>,
    point_ids: FxHashMap<Written, u32>,
    bytes: FxHashMap<(u32, u8), Move>,
    /// Whether numbers may be said in a state.
    numbers: FxHashMap<u32, bool>,
}

/// Places at which a sentence may stand, each with what it costs more than the cheapest of them.
#[derive(Debug)]
struct State {
    places: Rc<[(Place, u16)]>,
    letters: Letters,
    /// What it costs to end here, if the sentence may.
    end: Option<u16>,
    openness: Openness,
}

/// The letters that may follow in a state, a bit for each: most that are asked for may not, and
/// to remember them one by one would take most of the memory.
#[derive(Debug, Clone, Copy, Default)]
struct Letters(u32);

impl Letters {
    const ANY_IN_WORD: Self = Self((1 << 26) - 1);

    fn one(letter: char) -> Self {
        match letter {
            'a'..='z' => Self(1 << (letter as u32 - 'a' as u32)),
            ' ' => Self(1 << 26),
            _ => Self(1 << 27),
        }
    }

    fn add(&mut self, other: Self) {
        self.0 |= other.0;
    }

    fn has(self, letter: char) -> bool {
        self.0 & Self::one(letter).0 != 0
    }
}

/// Whether a state is inside open speech.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Openness {
    Closed,
    /// Open speech is one of the ways to go on.
    Beside,
    /// Nothing else goes on here.
    Only,
}

/// A state, and what it cost to come there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Next {
    state: u32,
    cost: u16,
}

/// Where one of the ways to hear the text so far stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Place {
    Word { arc: u32, done: u16, call: u32 },
    Name { arc: u32, node: u32, call: u32 },
    Open { arc: u32, said: Said, call: u32 },
    End,
}

/// What has been said of open speech.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Said {
    in_word: bool,
    /// As far as they matter.
    letters: u8,
}

impl Said {
    const NOTHING: Self = Self {
        in_word: false,
        letters: 0,
    };
}

/// A rule being passed, and where the way goes on behind it; number 0 stands for none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct Call {
    end: u32,
    return_to: u32,
    below: u32,
    depth: u16,
}

/// A state, and how far the writing has got.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
enum Written {
    /// At the beginning, or behind a space or a hyphen.
    Gap(u32),
    /// Behind a mark: a space must follow, or the end.
    Mark(u32),
    /// Inside a word.
    Word(u32),
    /// Inside figures; the state is the one before them.
    Figures(u32, String),
}

impl Acceptor {
    pub(super) fn new(network: Arc<Network>, names: Arc<Lexicon>) -> Self {
        static NEXT: AtomicU64 = AtomicU64::new(0);
        let memory = Memory::default();
        let acceptor = Self {
            network,
            names,
            identity: NEXT.fetch_add(1, Ordering::Relaxed),
            memory: RefCell::new(memory),
        };
        acceptor.begin();
        acceptor
    }

    /// A number that no other acceptor of this process has: points are only good with their own.
    pub fn identity(&self) -> u64 {
        self.identity
    }

    /// Whether so much has been walked that it is time for a new one: what it keeps in memory only
    /// grows, by about a kilobyte for each point with the tokens that are laid over it.
    pub fn is_full(&self) -> bool {
        self.memory.borrow().points.len() > MOST_POINTS
    }

    /// The beginning of every sentence.
    pub fn start(&self) -> Point {
        Point(0)
    }

    /// One more byte of text; `None` where no sentence goes on so.
    pub fn next(&self, point: Point, byte: u8) -> Option<Move> {
        let known = self.memory.borrow().bytes.get(&(point.0, byte)).copied();
        if known.is_some() {
            return known;
        }
        let written = self.memory.borrow().points[point.0 as usize].clone();
        let (written, cost) = self.write(written, byte)?;
        let next = Move {
            to: self.point(written),
            cost: f32::from(cost) / UNITS,
        };
        self.memory.borrow_mut().bytes.insert((point.0, byte), next);
        Some(next)
    }

    /// What it costs to end the sentence here, as [`Move::cost`]; `None` where it may not.
    pub fn end(&self, point: Point) -> Option<f32> {
        let written = self.memory.borrow().points[point.0 as usize].clone();
        let ended = match written {
            Written::Gap(state) | Written::Mark(state) => Some(Next { state, cost: 0 }),
            Written::Word(state) => self.step(state, ' '),
            Written::Figures(state, figures) => self.behind_figures(state, &figures),
        }?;
        let end = self.memory.borrow().states[ended.state as usize].end?;
        Some(f32::from(end.saturating_add(ended.cost)) / UNITS)
    }

    /// Whether open speech is one of the ways to go on here: nearly any letters may follow then.
    pub fn is_open(&self, point: Point) -> bool {
        self.openness(point) != Openness::Closed
    }

    /// Whether nothing but open speech goes on here.
    pub fn is_only_open(&self, point: Point) -> bool {
        self.openness(point) == Openness::Only
    }

    fn openness(&self, point: Point) -> Openness {
        let memory = self.memory.borrow();
        match memory.points[point.0 as usize] {
            Written::Gap(state) | Written::Word(state) => memory.states[state as usize].openness,
            Written::Mark(_) | Written::Figures(..) => Openness::Closed,
        }
    }

    /// What a whole text costs beyond known words, as [`Move::cost`]; `None` if it is no sentence.
    pub fn cost(&self, text: &str) -> Option<f32> {
        let mut point = self.start();
        let mut cost = 0.0;
        for byte in text.bytes() {
            let next = self.next(point, byte)?;
            point = next.to;
            cost += next.cost;
        }
        Some(cost + self.end(point)?)
    }

    /// Whether more may be said behind a sentence than words that change nothing: what was said so far may be only the
    /// beginning of what is meant. Names that nobody knows, which could go on for ever, don't count. A text that is no
    /// sentence isn't at its end.
    ///
    /// ```
    /// use tellshelf::grammar::{Grammar, Lexicon};
    /// let file = "language: en-US\nintents:\n  go: go home [slowly] [please]\n";
    /// let acceptor = Grammar::from_text("small.yaml", file).unwrap().acceptor(Lexicon::default().into());
    /// let closing = ["please".to_owned()];
    /// assert!(acceptor.may_go_on("Go home.", &closing));
    /// assert!(!acceptor.may_go_on("Go home slowly.", &closing));
    /// ```
    pub fn may_go_on(&self, sentence: &str, closing: &[String]) -> bool {
        let mut point = self.start();
        for byte in sentence.bytes() {
            match self.next(point, byte) {
                Some(next) => point = next.to,
                None => return true,
            }
        }
        let written = self.memory.borrow().points[point.0 as usize].clone();
        let behind = match written {
            Written::Gap(state) | Written::Mark(state) => Some(state),
            Written::Word(state) => self.step(state, ' ').map(|next| next.state),
            Written::Figures(state, figures) => {
                let next = self.behind_figures(state, &figures);
                next.map(|next| next.state)
            }
        };
        let Some(behind) = behind else { return true };
        let places = Rc::clone(&self.memory.borrow().states[behind as usize].places);
        places
            .iter()
            .filter(|(_, cost)| *cost < UNKNOWN_NAME)
            .any(|(place, _)| match *place {
                Place::End => false,
                Place::Name { .. } => true,
                Place::Open { arc, .. } => matches!(self.network.arc(arc), Link::Text { .. }),
                Place::Word { arc, .. } => match *self.network.arc(arc) {
                    Link::Word { word, .. } => {
                        !closing.contains(&self.network.words[word as usize].written)
                    }
                    _ => true,
                },
            })
    }

    /// Whether a whole text is a sentence.
    pub fn accepts(&self, text: &str) -> bool {
        self.cost(text).is_some()
    }

    fn begin(&self) {
        let mut memory = self.memory.borrow_mut();
        memory.calls.push(Call {
            end: u32::MAX,
            return_to: 0,
            below: 0,
            depth: 0,
        });
        let mut places = FxHashMap::default();
        for span in &self.network.intent_spans {
            // An intent is entered as a rule that returns nowhere: its end is the sentence's.
            let call = Call {
                end: span.end,
                return_to: u32::MAX,
                below: 0,
                depth: 1,
            };
            let call = memory.call(call);
            self.enter(&mut memory, span.start, call, 0, &mut places);
        }
        let next = self.state(&mut memory, places).unwrap_or_else(|| {
            // A grammar of which nothing can be said.
            memory.states.push(self.describe(Rc::default()));
            Next { state: 0, cost: 0 }
        });
        drop(memory);
        self.point(Written::Gap(next.state));
    }

    fn point(&self, written: Written) -> Point {
        let mut memory = self.memory.borrow_mut();
        if let Some(id) = memory.point_ids.get(&written) {
            return Point(*id);
        }
        let id = memory.points.len() as u32;
        memory.points.push(written.clone());
        memory.point_ids.insert(written, id);
        Point(id)
    }

    /// One more byte in whatever spelling, and what it costs.
    fn write(&self, written: Written, byte: u8) -> Option<(Written, u16)> {
        let letter = byte.to_ascii_lowercase() as char;
        let to = |next: Option<Next>, written: fn(u32) -> Written| {
            next.map(|next| (written(next.state), next.cost))
        };
        match (byte, written) {
            (b'a'..=b'z' | b'A'..=b'Z', Written::Gap(state) | Written::Word(state)) => {
                to(self.step(state, letter), Written::Word)
            }
            (b'0'..=b'9', Written::Gap(state)) => self.more_figures(state, String::new(), letter),
            (b'0'..=b'9' | b'a'..=b'z', Written::Figures(state, figures)) => {
                self.more_figures(state, figures, letter)
            }
            (b'\'', Written::Word(state)) => Some((Written::Word(state), 0)),
            (b' ', Written::Mark(state)) => Some((Written::Gap(state), 0)),
            // A text begins with a space in some tokenisers.
            (b' ', Written::Gap(state)) if state == 0 => Some((Written::Gap(state), 0)),
            (b' ' | b'-', Written::Word(state)) => to(self.step(state, ' '), Written::Gap),
            (b' ' | b'-', Written::Figures(state, figures)) => {
                to(self.behind_figures(state, &figures), Written::Gap)
            }
            (b',' | b'.' | b'?' | b'!' | b':' | b';', Written::Word(state)) => {
                to(self.step(state, ' '), Written::Mark)
            }
            (b',' | b'.' | b'?' | b'!' | b':' | b';', Written::Figures(state, figures)) => {
                to(self.behind_figures(state, &figures), Written::Mark)
            }
            _ => None,
        }
    }

    fn more_figures(&self, state: u32, mut figures: String, more: char) -> Option<(Written, u16)> {
        figures.push(more);
        self.figures_fit(state, &figures)
            .then_some((Written::Figures(state, figures), 0))
    }

    /// Whether some number that begins with these figures may be said in a state.
    fn figures_fit(&self, state: u32, figures: &str) -> bool {
        if !self.takes_numbers(state) {
            return false;
        }
        if figures.bytes().all(|figure| figure.is_ascii_digit()) {
            let mut more = ('0'..='9').map(|figure| format!("{figures}{figure}"));
            self.behind_figures(state, figures).is_some()
                || self.behind_ordinal(state, figures).is_some()
                || (figures.len() < MOST_FIGURES && more.any(|more| self.figures_fit(state, &more)))
        } else {
            let digits = figures.trim_end_matches(|letter: char| letter.is_ascii_lowercase());
            self.behind_ordinal(state, digits)
                .is_some_and(|(whole, _)| whole.starts_with(figures))
        }
    }

    /// Whether the first word of any number may be said in a state.
    fn takes_numbers(&self, state: u32) -> bool {
        if let Some(known) = self.memory.borrow().numbers.get(&state) {
            return *known;
        }
        let cardinals = (0..=20).chain([30, 40, 50, 60, 70, 80, 90]).map(spell);
        let mut words = cardinals.chain((1..=20).chain([30]).map(spell_ordinal));
        let takes = words.any(|word| self.behind_words(state, &word).is_some());
        self.memory.borrow_mut().numbers.insert(state, takes);
        takes
    }

    /// The state behind a number in figures: that behind its words.
    fn behind_figures(&self, state: u32, figures: &str) -> Option<Next> {
        if let Some((digits, _)) = figures.split_once(|figure: char| !figure.is_ascii_digit()) {
            let (whole, behind) = self.behind_ordinal(state, digits)?;
            return (whole == figures).then_some(behind);
        }
        let n: u64 = figures.parse().ok()?;
        let is_written_so = n.to_string() == figures && (n < FIGURES || YEARS.contains(&n));
        let behind = is_written_so.then(|| self.behind_words(state, &spell(n)))??;
        self.without_more(behind, n)
    }

    /// The same state without the words that would make another number of it: what is written in
    /// figures is whole, and "260 nine" isn't "two hundred sixty nine".
    fn without_more(&self, next: Next, n: u64) -> Option<Next> {
        let more = |word: &str| match n {
            0 => false,
            _ if n.is_multiple_of(100) => word == "and" || is_below(word, 100),
            1..10 if word == "hundred" => true,
            _ if word == "thousand" => true,
            _ => n.is_multiple_of(10) && n % 100 >= 20 && is_below(word, 10),
        };
        let mut memory = self.memory.borrow_mut();
        let places = Rc::clone(&memory.states[next.state as usize].places);
        let whole = places.iter().filter(|(place, _)| match *place {
            Place::Word { arc, done: 0, .. } => match *self.network.arc(arc) {
                Link::Word { word, .. } => !more(&self.network.words[word as usize].written),
                _ => true,
            },
            _ => true,
        });
        let behind = self.state(&mut memory, whole.copied().collect())?;
        let cost = next.cost.saturating_add(behind.cost);
        Some(Next { cost, ..behind })
    }

    /// How an ordinal is written in figures, and the state behind its words.
    fn behind_ordinal(&self, state: u32, digits: &str) -> Option<(String, Next)> {
        let n = digits.parse().ok().filter(|n| (1..=ORDINALS).contains(n))?;
        let behind = self.behind_words(state, &spell_ordinal(n))?;
        Some((ordinal_figures(n), behind))
    }

    fn behind_words(&self, state: u32, words: &str) -> Option<Next> {
        // Open speech takes any word, numbers as well: what is written in figures isn't a name.
        let begin = self.without_open_speech(state)?;
        let mut letters = words.chars().chain([' ']);
        letters.try_fold(begin, |at, letter| {
            let next = self.step(at.state, letter)?;
            let cost = at.cost.saturating_add(next.cost);
            Some(Next { cost, ..next })
        })
    }

    /// The state behind one more letter in normal form, in which a space ends every word.
    fn step(&self, state: u32, letter: char) -> Option<Next> {
        let mut memory = self.memory.borrow_mut();
        if !memory.states[state as usize].letters.has(letter) {
            return None;
        }
        if let Some(known) = memory.steps.get(&(state, letter)) {
            return Some(*known);
        }
        let mut next = Places::default();
        let places = Rc::clone(&memory.states[state as usize].places);
        for (place, cost) in places.iter().copied() {
            match place {
                Place::Word { arc, done, call } => {
                    let Link::Word { word, to } = *self.network.arc(arc) else {
                        continue;
                    };
                    let letters = &self.network.words[word as usize].letters;
                    if letters.get(usize::from(done)) != Some(&letter) {
                        continue;
                    }
                    if usize::from(done) + 1 == letters.len() {
                        self.enter(&mut memory, to, call, cost, &mut next);
                    } else {
                        let done = done + 1;
                        keep(&mut next, Place::Word { arc, done, call }, cost);
                    }
                }
                Place::Name { arc, node, call } => {
                    let children = self.names.children(node);
                    let Some((_, child)) = children.iter().find(|(c, _)| *c == letter) else {
                        continue;
                    };
                    let node = *child;
                    keep(&mut next, Place::Name { arc, node, call }, cost);
                    if self.names.item_at(node).is_some()
                        && let Link::Item { to, .. } = *self.network.arc(arc)
                    {
                        self.enter(&mut memory, to, call, cost, &mut next);
                    }
                }
                Place::Open { arc, said, call } => {
                    let (to, first, each, shortest) = match *self.network.arc(arc) {
                        Link::Item { to, taught: false } => {
                            (to, UNKNOWN_NAME, UNKNOWN_LETTER, SHORTEST_NAME)
                        }
                        Link::Item { to, taught: true } => {
                            (to, TAUGHT_NAME, TAUGHT_LETTER, SHORTEST_NAME)
                        }
                        Link::Text { to } => (to, 0, TEXT_LETTER, 1),
                        _ => continue,
                    };
                    if letter != ' ' {
                        let first = if said.letters == 0 { first } else { 0 };
                        let said = Said {
                            in_word: true,
                            letters: shortest.min(said.letters + 1),
                        };
                        keep(
                            &mut next,
                            Place::Open { arc, said, call },
                            cost.saturating_add(first + each),
                        );
                    } else if said.in_word {
                        let in_word = false;
                        let behind = Said { in_word, ..said };
                        keep(
                            &mut next,
                            Place::Open {
                                arc,
                                said: behind,
                                call,
                            },
                            cost,
                        );
                        if said.letters >= shortest {
                            self.enter(&mut memory, to, call, cost, &mut next);
                        }
                    }
                }
                Place::End => {}
            }
        }
        let next = self.state(&mut memory, next)?;
        memory.steps.insert((state, letter), next);
        Some(next)
    }

    /// The number of a set of places; `None` for the empty one, from where nothing follows. What all
    /// of them cost is taken off each.
    fn state(&self, memory: &mut Memory, places: Places) -> Option<Next> {
        let least = places.values().copied().min()?;
        let mut places: Vec<(Place, u16)> = places
            .into_iter()
            .filter(|(_, cost)| *cost <= least.saturating_add(GIVEN_UP))
            .map(|(place, cost)| (place, cost - least))
            .collect();
        places.sort_unstable();
        let places: Rc<[(Place, u16)]> = places.into();
        let known = memory.state_ids.get(&places).copied();
        let state = known.unwrap_or_else(|| {
            let state = memory.states.len() as u32;
            memory.states.push(self.describe(Rc::clone(&places)));
            memory.state_ids.insert(places, state);
            state
        });
        Some(Next { state, cost: least })
    }

    fn describe(&self, places: Rc<[(Place, u16)]>) -> State {
        let mut letters = Letters::default();
        let mut open = 0;
        let mut end = None;
        for (place, cost) in places.iter() {
            match *place {
                Place::Word { arc, done, .. } => {
                    let Link::Word { word, .. } = *self.network.arc(arc) else {
                        continue;
                    };
                    let spelled = &self.network.words[word as usize].letters;
                    if let Some(letter) = spelled.get(usize::from(done)) {
                        letters.add(Letters::one(*letter));
                    }
                }
                Place::Name { node, .. } => {
                    let children = self.names.children(node).iter();
                    children.for_each(|(letter, _)| letters.add(Letters::one(*letter)));
                }
                Place::Open { said, .. } => {
                    open += 1;
                    letters.add(Letters::ANY_IN_WORD);
                    if said.in_word {
                        letters.add(Letters::one(' '));
                    }
                }
                Place::End => end = Some(*cost),
            }
        }
        let openness = match open {
            0 => Openness::Closed,
            all if all == places.len() => Openness::Only,
            _ => Openness::Beside,
        };
        State {
            places,
            letters,
            end,
            openness,
        }
    }

    /// The same state without the places inside open speech.
    fn without_open_speech(&self, state: u32) -> Option<Next> {
        let mut memory = self.memory.borrow_mut();
        let places = Rc::clone(&memory.states[state as usize].places);
        let closed = places
            .iter()
            .filter(|(place, _)| !matches!(place, Place::Open { .. }));
        self.state(&mut memory, closed.copied().collect())
    }

    /// Goes on from a node to every place where something is said, through all that is silent.
    fn enter(&self, memory: &mut Memory, node: u32, call: u32, cost: u16, places: &mut Places) {
        let mut cheapest: FxHashMap<(u32, u32), u16> = FxHashMap::default();
        let mut waiting = vec![(node, call, cost)];
        while let Some((node, call, cost)) = waiting.pop() {
            match cheapest.entry((node, call)) {
                Entry::Occupied(known) if *known.get() <= cost => continue,
                entry => entry.insert_entry(cost),
            };
            let open = memory.calls[call as usize];
            if node == open.end {
                match open.return_to {
                    u32::MAX => keep(places, Place::End, cost),
                    behind => waiting.push((behind, open.below, cost)),
                }
            }
            for (arc, weight, link) in self.network.arcs(node) {
                // A grammar may have weights inside weights without end.
                let cost = cost.saturating_add(units(weight / WEIGHT_COST as f32));
                let said = Said::NOTHING;
                match *link {
                    Link::Word { .. } => keep(places, Place::Word { arc, done: 0, call }, cost),
                    Link::Item { .. } => {
                        let node = self.names.root();
                        keep(places, Place::Name { arc, node, call }, cost);
                        keep(places, Place::Open { arc, said, call }, cost);
                    }
                    Link::Text { .. } => keep(places, Place::Open { arc, said, call }, cost),
                    Link::Step { to } | Link::Mark { to, .. } => waiting.push((to, call, cost)),
                    Link::Call { rule, to } if open.depth < MOST_CALLS => {
                        let span = self.network.rules[rule as usize];
                        let depth = open.depth + 1;
                        let inner = Call {
                            end: span.end,
                            return_to: to,
                            below: call,
                            depth,
                        };
                        waiting.push((span.start, memory.call(inner), cost));
                    }
                    Link::Call { .. } => {}
                }
            }
        }
    }
}

/// Places on the way to a state, each with the least that it costs.
type Places = FxHashMap<Place, u16>;

fn keep(places: &mut Places, place: Place, cost: u16) {
    let known = places.entry(place).or_insert(cost);
    *known = cost.min(*known);
}

impl Memory {
    fn call(&mut self, call: Call) -> u32 {
        if let Some(id) = self.call_ids.get(&call) {
            return *id;
        }
        let id = self.calls.len() as u32;
        self.calls.push(call);
        self.call_ids.insert(call, id);
        id
    }
}

/// Whether a word is the first one of a number below a limit.
fn is_below(word: &str, limit: u64) -> bool {
    (1..limit.min(21))
        .chain((30..limit).step_by(10))
        .any(|n| spell(n) == word)
}

fn ordinal_figures(n: u64) -> String {
    let ending = match (n % 10, n % 100) {
        (1, tail) if tail != 11 => "st",
        (2, tail) if tail != 12 => "nd",
        (3, tail) if tail != 13 => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}
