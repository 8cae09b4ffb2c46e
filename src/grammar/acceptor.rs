//! Which letters may follow: the automaton, walked by a recogniser while it decodes.
//!
//! A recogniser writes as people do: with capitals, punctuation, hyphens and figures. The acceptor
//! takes a text byte by byte in any such spelling, and says at each point what may follow and
//! whether the sentence may end. Its states are made when they are first reached and kept, so
//! what is walked often is only looked up.

use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use rustc_hash::{FxHashMap, FxHashSet};

use super::lexicon::Lexicon;
use super::network::{Arc as Link, Network};
use crate::measure::{spell, spell_ordinal};

/// Rules inside rules: deeper recursion isn't followed.
const MOST_CALLS: u16 = 12;
/// Numbers that may be written in figures, and ordinals; the years of this time besides.
const FIGURES: u64 = 1_000;
const ORDINALS: u64 = 31;
const YEARS: std::ops::Range<u64> = 2_000..2_060;

/// A point in a sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Point(u32);

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
    state_ids: FxHashMap<Vec<Place>, u32>,
    letters: FxHashMap<(u32, char), Option<u32>>,
    points: Vec<Written>,
    point_ids: FxHashMap<Written, u32>,
    bytes: FxHashMap<(u32, u8), Option<Point>>,
    figures: FxHashMap<u32, Figures>,
}

#[derive(Debug)]
struct State {
    places: Vec<Place>,
    may_end: bool,
}

/// Where one of the ways to hear the text so far stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Place {
    Word { arc: u32, done: u16, call: u32 },
    Name { arc: u32, node: u32, call: u32 },
    End,
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

/// What may be written in figures from a state on: the figures, and the state behind the words.
#[derive(Debug, Clone, Default)]
struct Figures(Vec<(String, u32)>);

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

    /// How many points have been walked so far: what it keeps in memory grows with them.
    pub fn points(&self) -> usize {
        self.memory.borrow().points.len()
    }

    /// The beginning of every sentence.
    pub fn start(&self) -> Point {
        Point(0)
    }

    /// The point behind one more byte of text; `None` where no sentence goes on so.
    pub fn next(&self, point: Point, byte: u8) -> Option<Point> {
        let known = self.memory.borrow().bytes.get(&(point.0, byte)).copied();
        if let Some(known) = known {
            return known;
        }
        let written = self.memory.borrow().points[point.0 as usize].clone();
        let next = self.write(written, byte).map(|written| self.point(written));
        self.memory.borrow_mut().bytes.insert((point.0, byte), next);
        next
    }

    /// Whether the sentence may end here.
    pub fn may_end(&self, point: Point) -> bool {
        let written = self.memory.borrow().points[point.0 as usize].clone();
        let ended = match written {
            Written::Gap(state) | Written::Mark(state) => Some(state),
            Written::Word(state) => self.step(state, ' '),
            Written::Figures(state, figures) => self.behind_figures(state, &figures),
        };
        ended.is_some_and(|state| self.memory.borrow().states[state as usize].may_end)
    }

    /// Whether a whole text is a sentence.
    pub fn accepts(&self, text: &str) -> bool {
        let end = text
            .bytes()
            .try_fold(self.start(), |point, byte| self.next(point, byte));
        end.is_some_and(|point| self.may_end(point))
    }

    fn begin(&self) {
        let mut memory = self.memory.borrow_mut();
        memory.calls.push(Call {
            end: u32::MAX,
            return_to: 0,
            below: 0,
            depth: 0,
        });
        let mut places = FxHashSet::default();
        for span in &self.network.intent_spans {
            // An intent is entered as a rule that returns nowhere: its end is the sentence's.
            let call = Call {
                end: span.end,
                return_to: u32::MAX,
                below: 0,
                depth: 1,
            };
            let call = memory.call(call);
            self.enter(&mut memory, span.start, call, &mut places);
        }
        let state = memory.state(places).unwrap_or_else(|| {
            // A grammar of free speech alone: nothing of it can be guided.
            memory.states.push(State {
                places: Vec::new(),
                may_end: false,
            });
            0
        });
        drop(memory);
        self.point(Written::Gap(state));
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

    /// One more byte in whatever spelling.
    fn write(&self, written: Written, byte: u8) -> Option<Written> {
        let letter = byte.to_ascii_lowercase() as char;
        match (byte, written) {
            (b'a'..=b'z' | b'A'..=b'Z', Written::Gap(state) | Written::Word(state)) => {
                self.step(state, letter).map(Written::Word)
            }
            (b'a'..=b'z', Written::Figures(state, mut figures)) => {
                figures.push(letter);
                self.figures_go_on(state, &figures)
                    .then_some(Written::Figures(state, figures))
            }
            (b'0'..=b'9', Written::Gap(state)) => {
                let figures = letter.to_string();
                self.figures_go_on(state, &figures)
                    .then_some(Written::Figures(state, figures))
            }
            (b'0'..=b'9', Written::Figures(state, mut figures)) => {
                figures.push(letter);
                self.figures_go_on(state, &figures)
                    .then_some(Written::Figures(state, figures))
            }
            (b'\'', Written::Word(state)) => Some(Written::Word(state)),
            (b' ', Written::Mark(state)) => Some(Written::Gap(state)),
            // A text begins with a space in some tokenisers.
            (b' ', Written::Gap(state)) if state == 0 => Some(Written::Gap(state)),
            (b' ' | b'-', Written::Word(state)) => self.step(state, ' ').map(Written::Gap),
            (b' ' | b'-', Written::Figures(state, figures)) => {
                self.behind_figures(state, &figures).map(Written::Gap)
            }
            (b',' | b'.' | b'?' | b'!' | b':' | b';', Written::Word(state)) => {
                self.step(state, ' ').map(Written::Mark)
            }
            (b',' | b'.' | b'?' | b'!' | b':' | b';', Written::Figures(state, figures)) => {
                self.behind_figures(state, &figures).map(Written::Mark)
            }
            _ => None,
        }
    }

    fn figures_go_on(&self, state: u32, figures: &str) -> bool {
        self.figures(state)
            .0
            .iter()
            .any(|(whole, _)| whole.starts_with(figures))
    }

    fn behind_figures(&self, state: u32, figures: &str) -> Option<u32> {
        let found = self.figures(state);
        found
            .0
            .iter()
            .find(|(whole, _)| whole == figures)
            .map(|(_, behind)| *behind)
    }

    fn figures(&self, state: u32) -> Figures {
        if let Some(known) = self.memory.borrow().figures.get(&state) {
            return known.clone();
        }
        let mut found = Figures::default();
        let cardinals = (0..FIGURES).chain(YEARS).map(|n| (n.to_string(), spell(n)));
        let ordinals = (1..=ORDINALS).map(|n| (ordinal_figures(n), spell_ordinal(n)));
        for (figures, words) in cardinals.chain(ordinals) {
            let letters = words.chars().chain([' ']);
            let end = letters
                .into_iter()
                .try_fold(state, |state, letter| self.step(state, letter));
            found.0.extend(end.map(|end| (figures, end)));
        }
        self.memory
            .borrow_mut()
            .figures
            .insert(state, found.clone());
        found
    }

    /// The state behind one more letter in normal form, in which a space ends every word.
    fn step(&self, state: u32, letter: char) -> Option<u32> {
        let known = self.memory.borrow().letters.get(&(state, letter)).copied();
        if let Some(known) = known {
            return known;
        }
        let mut memory = self.memory.borrow_mut();
        let mut next = FxHashSet::default();
        let places = memory.states[state as usize].places.clone();
        for place in places {
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
                        self.enter(&mut memory, to, call, &mut next);
                    } else {
                        next.insert(Place::Word {
                            arc,
                            done: done + 1,
                            call,
                        });
                    }
                }
                Place::Name { arc, node, call } => {
                    let children = self.names.children(node);
                    let Some((_, child)) = children.iter().find(|(c, _)| *c == letter) else {
                        continue;
                    };
                    next.insert(Place::Name {
                        arc,
                        node: *child,
                        call,
                    });
                    if self.names.item_at(*child).is_some()
                        && let Link::Item { to } = *self.network.arc(arc)
                    {
                        self.enter(&mut memory, to, call, &mut next);
                    }
                }
                Place::End => {}
            }
        }
        let next = memory.state(next);
        memory.letters.insert((state, letter), next);
        next
    }

    /// Goes on from a node to every place where something is said, through all that is silent.
    fn enter(&self, memory: &mut Memory, node: u32, call: u32, places: &mut FxHashSet<Place>) {
        let mut seen = FxHashSet::default();
        let mut waiting = vec![(node, call)];
        while let Some((node, call)) = waiting.pop() {
            if !seen.insert((node, call)) {
                continue;
            }
            let open = memory.calls[call as usize];
            if node == open.end {
                match open.return_to {
                    u32::MAX => _ = places.insert(Place::End),
                    behind => waiting.push((behind, open.below)),
                }
            }
            for (arc, _, link) in self.network.arcs(node) {
                match *link {
                    Link::Word { .. } => _ = places.insert(Place::Word { arc, done: 0, call }),
                    Link::Item { .. } => {
                        let node = self.names.root();
                        places.insert(Place::Name { arc, node, call });
                    }
                    // Free speech isn't guided: what is said there is read from a free hearing.
                    Link::Text { .. } => {}
                    Link::Step { to } | Link::Mark { to, .. } => waiting.push((to, call)),
                    Link::Call { rule, to } if open.depth < MOST_CALLS => {
                        let span = self.network.rules[rule as usize];
                        let depth = open.depth + 1;
                        let inner = Call {
                            end: span.end,
                            return_to: to,
                            below: call,
                            depth,
                        };
                        waiting.push((span.start, memory.call(inner)));
                    }
                    Link::Call { .. } => {}
                }
            }
        }
    }
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

    /// The number of a set of places; `None` for the empty one, from where nothing follows.
    fn state(&mut self, places: FxHashSet<Place>) -> Option<u32> {
        let mut places: Vec<Place> = places.into_iter().collect();
        places.sort_unstable();
        if places.is_empty() {
            return None;
        }
        if let Some(id) = self.state_ids.get(&places) {
            return Some(*id);
        }
        let id = self.states.len() as u32;
        let may_end = places.contains(&Place::End);
        self.states.push(State {
            places: places.clone(),
            may_end,
        });
        self.state_ids.insert(places, id);
        Some(id)
    }
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
