//! Finds the path through the automaton that is nearest to a text, letter by letter.
//!
//! A recogniser that listens freely spells what it heard ("oaks" for "oats", "chick peas" for
//! "chickpeas"), so the path may differ from the text by letters left out, added or exchanged, each
//! at a cost. The search goes through the text once and keeps, after each letter, the cheapest way
//! to each place in the automaton: its time grows with the text, and hardly with the vocabulary.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use rustc_hash::{FxHashMap, FxHashSet};

use super::lexicon::Lexicon;
use super::network::{Arc, Mark, Network};

/// Costs are counted in letters: 1 is one letter wrong. Vowels and letters that sound alike are
/// exchanged by a recogniser more easily than others, and spaces most easily of all.
/// From memory of how English is misheard; measured as a whole by `audio-fixtures`.
const SPACE_COST: f32 = 0.4;
const VOWEL_COST: f32 = 0.7;
const LETTER_COST: f32 = 1.0;
const ALIKE_COST: f32 = 0.5;

/// An unknown word costs this much, and this much for each letter: a known name that differs by less
/// is taken to be meant. Free speech costs little, as it competes with nothing but nearby forms.
const UNKNOWN_WORD: f32 = 1.0;
const UNKNOWN_LETTER: f32 = 0.15;
const TEXT_WORD: f32 = 0.5;
const TEXT_LETTER: f32 = 0.02;

/// A way that costs this much more than the best one so far is given up.
const BEAM: f32 = 3.0;
/// At most this many ways, the cheapest, are followed after each letter: a bound on time for any text.
const MOST_WAYS: usize = 1_500;
/// Rules inside rules inside rules: right recursion ends here.
const MOST_CALLS: u16 = 24;

/// The longest text that is matched, in letters. A spoken command has a tenth of that.
pub(super) const MOST_LETTERS: usize = 600;

/// A path through the automaton, with what it cost.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Path {
    pub passed: Vec<Passed>,
    /// Letters that differ, weighted.
    pub edits: f32,
    /// All costs together: edits, unknown words, weights of the grammar.
    pub cost: f32,
}

/// What a path passes, in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Passed {
    Mark(Mark),
    Word(u32),
    /// A node of the lexicon's tree where a name ends.
    Name(u32),
    /// Free speech, from one letter of the text to another.
    Free(u32, u32),
}

/// Where a way stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum At {
    Word { arc: u32, done: u16 },
    Name { arc: u32, node: u32 },
    Free { arc: u32, since: u32, phase: Phase },
    End,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Phase {
    Begin,
    InWord,
    BetweenWords,
}

/// Ways that agree in all of this have the same future, so only the cheapest is kept. The intent
/// is part of it so that the best path of each intent survives to the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Key {
    at: At,
    stack: u32,
    intent: u16,
}

#[derive(Debug, Clone, Copy)]
struct Way {
    cost: f32,
    edits: f32,
    trace: u32,
}

impl Way {
    fn wrong_by(self, letters: f32) -> Self {
        Self { cost: self.cost + letters, edits: self.edits + letters, ..self }
    }
}

/// A rule being passed, and where the way goes on behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct Call {
    rule: u32,
    return_to: u32,
    below: u32,
    depth: u16,
}

/// The ways after one letter. A way over the limit is given up at once.
struct Ways {
    cheapest: FxHashMap<Key, Way>,
    limit: f32,
    most_edits: f32,
    /// Ways whose silent continuations are still to be followed, cheapest first. Costs are never
    /// negative, so their bits are in the order of their values.
    open: BinaryHeap<(Reverse<u32>, Key)>,
    /// Ways that were followed: these go on to the next letter.
    followed: Vec<(Key, Way)>,
}

impl Ways {
    fn new(limit: f32, most_edits: f32) -> Self {
        Self {
            cheapest: FxHashMap::default(),
            limit,
            most_edits,
            open: BinaryHeap::new(),
            followed: Vec::new(),
        }
    }

    /// Keeps a way if it is the cheapest to its place.
    fn keep(&mut self, key: Key, way: Way) {
        if way.cost > self.limit || way.edits > self.most_edits {
            return;
        }
        match self.cheapest.get_mut(&key) {
            Some(known) if known.cost <= way.cost => return,
            Some(known) => *known = way,
            None => {
                self.cheapest.insert(key, way);
            }
        }
        self.open.push((Reverse(way.cost.to_bits()), key));
    }

    /// The cheapest way not yet followed, until enough have been.
    fn next(&mut self) -> Option<(Key, Way)> {
        if self.followed.len() >= MOST_WAYS {
            return None;
        }
        while let Some((Reverse(cost), key)) = self.open.pop() {
            let way = self.cheapest[&key];
            if way.cost.to_bits() == cost {
                self.followed.push((key, way));
                return Some((key, way));
            }
        }
        None
    }
}

const NO_TRACE: u32 = u32::MAX;
const EMPTY_STACK: u32 = 0;

/// The nearest path of each intent, cheapest first. `text` is in normal form, a space after each word.
pub(super) fn nearest_paths(
    network: &Network,
    names: &Lexicon,
    text: &[char],
    most_edits: f32,
) -> Vec<Path> {
    if text.is_empty() || text.len() > MOST_LETTERS {
        return Vec::new();
    }
    let mut search = Search {
        network,
        names,
        text,
        traces: Vec::new(),
        stacks: vec![Call { rule: 0, return_to: 0, below: EMPTY_STACK, depth: 0 }],
        stack_ids: FxHashMap::default(),
        most_edits,
    };
    search.run()
}

struct Search<'s> {
    network: &'s Network,
    names: &'s Lexicon,
    text: &'s [char],
    /// What each way passed, linked backwards.
    traces: Vec<(u32, Passed)>,
    /// Rules that were called and not yet left; number 0 stands for none.
    stacks: Vec<Call>,
    stack_ids: FxHashMap<Call, u32>,
    most_edits: f32,
}

impl Search<'_> {
    fn run(&mut self) -> Vec<Path> {
        let mut ways = Ways::new(BEAM, self.most_edits);
        let start = Way { cost: 0.0, edits: 0.0, trace: NO_TRACE };
        self.enter(self.network.whole.start, EMPTY_STACK, u16::MAX, start, 0, &mut ways);
        self.skip_letters(&mut ways, 0);
        for position in 0..self.text.len() {
            let mut next = Ways::new(f32::INFINITY, self.most_edits);
            for (key, way) in ways.followed {
                self.hear(key, way, position, &mut next);
                next.limit = next.limit.min(way.cost + LETTER_COST + BEAM);
            }
            self.skip_letters(&mut next, position as u32 + 1);
            ways = next;
            if ways.followed.is_empty() {
                return Vec::new();
            }
        }
        let ends = ways.followed.into_iter().filter(|(key, _)| key.at == At::End);
        let mut ends: Vec<(u16, Way)> = ends.map(|(key, way)| (key.intent, way)).collect();
        ends.sort_by(|(a_intent, a), (b_intent, b)| {
            a.cost.total_cmp(&b.cost).then(a_intent.cmp(b_intent))
        });
        ends.into_iter().map(|(_, way)| self.path(way)).collect()
    }

    /// Moves one way over one letter of the text.
    fn hear(&self, key: Key, way: Way, position: usize, next: &mut Ways) {
        let letter = self.text[position];
        let mut to = |at: At, edits: f32, other: f32, trace: u32| {
            let way = Way { cost: way.cost + edits + other, edits: way.edits + edits, trace };
            next.keep(Key { at, ..key }, way);
        };
        // The letter is one too many.
        if !matches!(key.at, At::Free { .. }) {
            to(key.at, letter_cost(letter, before(self.text, position)), 0.0, way.trace);
        }
        match key.at {
            At::Word { arc, done } => {
                let expected = &self.letters(arc)[usize::from(done)..];
                if let Some(expected) = expected.first() {
                    let at = At::Word { arc, done: done + 1 };
                    to(at, exchange_cost(letter, *expected), 0.0, way.trace);
                }
            }
            At::Name { arc, node } => {
                for (expected, child) in self.names.children(node) {
                    let at = At::Name { arc, node: *child };
                    to(at, exchange_cost(letter, *expected), 0.0, way.trace);
                }
            }
            At::Free { arc, since, phase } => {
                let (word, each) = match self.network.arc(arc) {
                    Arc::Item { .. } => (UNKNOWN_WORD, UNKNOWN_LETTER),
                    _ => (TEXT_WORD, TEXT_LETTER),
                };
                let (phase, cost) = match (letter, phase) {
                    (' ', Phase::InWord) => (Phase::BetweenWords, 0.0),
                    (' ', _) => return,
                    (_, Phase::InWord) => (Phase::InWord, each),
                    _ => (Phase::InWord, word + each),
                };
                to(At::Free { arc, since, phase }, 0.0, cost, way.trace);
            }
            At::End => {}
        }
    }

    /// Moves ways on where the text lacks a letter, and through the ends of words and names.
    fn skip_letters(&mut self, ways: &mut Ways, position: u32) {
        while let Some((key, way)) = ways.next() {
            match key.at {
                At::Word { arc, done } => match self.letters(arc).get(usize::from(done)).copied() {
                    None => {
                        let Arc::Word { word, to } = *self.network.arc(arc) else { continue };
                        let way = self.pass(way, Passed::Word(word));
                        self.enter(to, key.stack, key.intent, way, position, ways);
                    }
                    Some(letter) => {
                        let before = before(self.letters(arc), usize::from(done));
                        let at = At::Word { arc, done: done + 1 };
                        ways.keep(Key { at, ..key }, way.wrong_by(letter_cost(letter, before)));
                    }
                },
                At::Name { arc, node } => {
                    if self.names.item_at(node).is_some() {
                        let way = self.pass(way, Passed::Name(node));
                        self.enter(self.behind(arc), key.stack, key.intent, way, position, ways);
                    }
                    for (letter, child) in self.names.children(node) {
                        let at = At::Name { arc, node: *child };
                        ways.keep(Key { at, ..key }, way.wrong_by(letter_cost(*letter, None)));
                    }
                }
                At::Free { arc, since, phase: Phase::BetweenWords } => {
                    let way = self.pass(way, Passed::Free(since, position));
                    self.enter(self.behind(arc), key.stack, key.intent, way, position, ways);
                }
                At::Free { .. } | At::End => {}
            }
        }
    }

    /// The node behind an arc.
    fn behind(&self, arc: u32) -> u32 {
        match *self.network.arc(arc) {
            Arc::Step { to }
            | Arc::Mark { to, .. }
            | Arc::Word { to, .. }
            | Arc::Call { to, .. }
            | Arc::Item { to }
            | Arc::Text { to } => to,
        }
    }

    fn pass(&mut self, way: Way, passed: Passed) -> Way {
        self.traces.push((way.trace, passed));
        Way { trace: self.traces.len() as u32 - 1, ..way }
    }

    /// Goes on from a node to every place where something is said, through all that is silent.
    fn enter(
        &mut self,
        node: u32,
        stack: u32,
        intent: u16,
        way: Way,
        position: u32,
        ways: &mut Ways,
    ) {
        let network = self.network;
        let mut seen = FxHashSet::default();
        let mut waiting = vec![(node, stack, intent, way)];
        while let Some((node, stack, intent, way)) = waiting.pop() {
            // A loop that says nothing leads back here: once is enough.
            if !seen.insert((node, stack, intent)) {
                continue;
            }
            let call = self.stacks[stack as usize];
            if stack != EMPTY_STACK {
                if node == network.rules[call.rule as usize].end {
                    waiting.push((call.return_to, call.below, intent, way));
                }
            } else if node == network.whole.end {
                ways.keep(Key { at: At::End, stack, intent }, way);
            }
            for (number, cost, arc) in network.arcs(node) {
                let way = Way { cost: way.cost + cost, ..way };
                let mut start = |at: At| ways.keep(Key { at, stack, intent }, way);
                match *arc {
                    Arc::Word { .. } => start(At::Word { arc: number, done: 0 }),
                    Arc::Item { .. } => {
                        start(At::Name { arc: number, node: self.names.root() });
                        start(At::Free { arc: number, since: position, phase: Phase::Begin });
                    }
                    Arc::Text { .. } => {
                        start(At::Free { arc: number, since: position, phase: Phase::Begin });
                    }
                    Arc::Step { to } => waiting.push((to, stack, intent, way)),
                    Arc::Mark { mark, to } => {
                        let intent = match mark {
                            Mark::Intent(number) => number as u16,
                            _ => intent,
                        };
                        waiting.push((to, stack, intent, self.pass(way, Passed::Mark(mark))));
                    }
                    Arc::Call { rule, to } => {
                        if call.depth < MOST_CALLS {
                            let depth = call.depth + 1;
                            let inner = self.stack(Call { rule, return_to: to, below: stack, depth });
                            let start = network.rules[rule as usize].start;
                            waiting.push((start, inner, intent, way));
                        }
                    }
                }
            }
        }
    }

    fn stack(&mut self, call: Call) -> u32 {
        *self.stack_ids.entry(call).or_insert_with(|| {
            self.stacks.push(call);
            self.stacks.len() as u32 - 1
        })
    }

    fn letters(&self, arc: u32) -> &[char] {
        match self.network.arc(arc) {
            Arc::Word { word, .. } => &self.network.words[*word as usize].letters,
            _ => &[],
        }
    }

    fn path(&self, way: Way) -> Path {
        let mut passed = Vec::new();
        let mut trace = way.trace;
        while trace != NO_TRACE {
            let (before, step) = self.traces[trace as usize];
            passed.push(step);
            trace = before;
        }
        passed.reverse();
        Path { passed, edits: way.edits, cost: way.cost }
    }
}

fn before(letters: &[char], at: usize) -> Option<char> {
    at.checked_sub(1).map(|i| letters[i])
}

/// A letter more or less. A doubled letter is spelling, not sound.
fn letter_cost(letter: char, before: Option<char>) -> f32 {
    match letter {
        ' ' => SPACE_COST,
        _ if before == Some(letter) => SPACE_COST,
        'a' | 'e' | 'i' | 'o' | 'u' | 'y' | 'h' => VOWEL_COST,
        _ => LETTER_COST,
    }
}

/// One letter for another.
fn exchange_cost(heard: char, expected: char) -> f32 {
    if heard == expected {
        return 0.0;
    }
    const ALIKE: [&str; 8] = ["aeiouy", "ckqgx", "szcx", "bp", "dt", "fv", "mn", "jg"];
    if ALIKE.iter().any(|group| group.contains(heard) && group.contains(expected)) {
        return ALIKE_COST;
    }
    match (heard, expected) {
        // A space is no letter: a word that begins elsewhere is a letter added and one left out.
        (' ', _) | (_, ' ') => SPACE_COST + LETTER_COST,
        _ => LETTER_COST,
    }
}
