//! Finds the path through the automaton that is nearest to a text, letter by letter.
//!
//! A recogniser that listens freely spells what it heard ("oaks" for "oats", "chick peas" for
//! "chickpeas"), so the path may differ from the text by letters left out, added or exchanged, each
//! at a cost. The search goes through the text once and keeps, after each letter, the cheapest way
//! to each place in the automaton: its time grows with the text, and hardly with the vocabulary.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::collections::hash_map::Entry;

use rustc_hash::{FxBuildHasher, FxHashMap};

use super::letters::{before, exchange_cost, letter_cost};
use super::lexicon::Lexicon;
use super::network::{Arc, Mark, Network};

/// An unknown word costs this much, and this much for each letter: a known name that differs by less
/// is taken to be meant. Free speech costs little, as it competes with nothing but nearby forms.
const UNKNOWN_WORD: f32 = 0.8;
const UNKNOWN_LETTER: f32 = 0.1;
const TEXT_WORD: f32 = 0.5;
const TEXT_LETTER: f32 = 0.02;

/// What a wrong letter costs in the words of numbers, quantities and dates, times that of others: what
/// is near to one of them is near to another as well, or is none ("plenty", "more", "eggs").
const FIGURES: f32 = 2.0;

/// A way that costs this much more than the best one so far is given up.
const BEAM: f32 = 3.0;
/// The same at first. A path that is found so and costs no more than this is the nearest there is: none that is nearer was
/// given up, since no part of it costs more than the whole. Most texts are sentences to the letter, and are found so in a
/// fraction of the time; the others are searched once more.
const NARROW: f32 = 0.5;
/// At most this many ways, the cheapest, are followed after each letter: a bound on time for any
/// text. A grammar that has more words than this gets more, as all of them may begin at once.
const MOST_WAYS: usize = 4_000;
/// After this many steps the text is given up as not understood: a bound on time and memory for any
/// grammar. A long command with our own takes a tenth of it.
const MOST_STEPS: usize = 5_000_000;

/// The longest text that is matched, in letters. A spoken command has a tenth of that.
pub(super) const MOST_LETTERS: usize = 600;

/// A path through the automaton, with what it cost.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Path {
    /// The intent's number.
    pub intent: u32,
    pub passed: Vec<Passed>,
    /// Letters that differ, weighted.
    pub edits: f32,
    /// All costs together: edits, unknown words, weights of the grammar.
    pub cost: f32,
}

/// What a path passes, in order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Passed {
    /// A mark, and the letters that differed before it in the rule that it stands in.
    Mark(Mark, f32),
    /// A word, and the letter of the text up to which it goes.
    Word(u32, u32),
    /// A node of the lexicon's tree where a name ends, and the letter up to which it goes.
    Name(u32, u32),
    /// Free speech, from one letter of the text to another.
    Free(u32, u32),
}

/// How far a path may differ from the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tolerance {
    /// As far as the beam goes.
    Near,
    /// Not by a letter; which names and words are free speech is all that there is to find.
    Exact,
}

/// The nearest path of each intent that is near to the best, cheapest first. `text` is in normal form, a space after each word.
pub(super) fn nearest_paths(
    network: &Network,
    names: &Lexicon,
    text: &[char],
    tolerance: Tolerance,
) -> Vec<Path> {
    if text.is_empty() || text.len() > MOST_LETTERS {
        return Vec::new();
    }
    if tolerance == Tolerance::Near {
        let paths = paths_within(NARROW, network, names, text, tolerance);
        if paths.first().is_some_and(|path| path.cost <= NARROW) {
            return paths;
        }
    }
    paths_within(BEAM, network, names, text, tolerance)
}

fn paths_within(
    beam: f32,
    network: &Network,
    names: &Lexicon,
    text: &[char],
    tolerance: Tolerance,
) -> Vec<Path> {
    let search = Search {
        network,
        names,
        text,
        traces: Vec::new(),
        visits: Vec::new(),
        visit_ids: FxHashMap::default(),
        caller_ids: FxHashMap::default(),
        entering: Vec::new(),
        steps: 0,
    };
    search.run(tolerance, beam)
}

/// What a [`Visit`] goes through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Place {
    Intent(u32),
    Rule(u32),
    Item,
    Text,
}

/// A rule gone through from one letter of the text on. It is searched once, however many ways
/// lead there: each of them waits as a caller, and goes on wherever the visit ends.
struct Visit {
    place: Place,
    since: u32,
    /// What the first caller had cost in all when it came: the visit's own costs begin at zero.
    base: f32,
    callers: Vec<Caller>,
    /// The cheapest way through that needs none of the text, for callers who come later.
    without_text: Option<Way>,
}

#[derive(Debug, Clone, Copy)]
struct Caller {
    visit: u32,
    return_to: u32,
    way: Way,
}

/// A way at a node of a visit.
#[derive(Debug, Clone, Copy)]
struct Entering {
    node: u32,
    visit: u32,
    way: Way,
}

/// Where a way stands inside its visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum At {
    Word { arc: u32, done: u16 },
    Name { node: u32 },
    Free(Phase),
    End,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Phase {
    Begin,
    InWord,
    BetweenWords,
}

/// Ways that agree in this have the same future, so only the cheapest is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct Key {
    at: At,
    visit: u32,
}

impl Key {
    /// What a way costs in all and where it stands, as one number in the order of both: it is compared at each turn.
    fn at_cost(self, cost: f32) -> u128 {
        let (kind, number) = match self.at {
            At::Word { arc, done } => (0, u64::from(arc) << 16 | u64::from(done)),
            At::Name { node } => (1, node.into()),
            At::Free(Phase::Begin) => (2, 0),
            At::Free(Phase::InWord) => (2, 1),
            At::Free(Phase::BetweenWords) => (2, 2),
            At::End => (3, 0),
        };
        let place = kind << 80 | u128::from(number) << 32 | u128::from(self.visit);
        u128::from(cost.to_bits()) << 82 | place
    }

    /// The two again.
    fn and_cost(ordered: u128) -> (Self, f32) {
        let number = (ordered >> 32) as u64 & 0xffff_ffff_ffff;
        let at = match (ordered >> 80 & 3, number) {
            (0, _) => At::Word {
                arc: (number >> 16) as u32,
                done: number as u16,
            },
            (1, _) => At::Name {
                node: number as u32,
            },
            (2, 0) => At::Free(Phase::Begin),
            (2, 1) => At::Free(Phase::InWord),
            (2, _) => At::Free(Phase::BetweenWords),
            _ => At::End,
        };
        let visit = ordered as u32;
        (Self { at, visit }, f32::from_bits((ordered >> 82) as u32))
    }
}

/// What a way cost since its visit began, and what it passed.
#[derive(Debug, Clone, Copy)]
struct Way {
    cost: f32,
    edits: f32,
    trace: u32,
}

impl Way {
    const NEW: Self = Self {
        cost: 0.0,
        edits: 0.0,
        trace: NO_TRACE,
    };

    fn wrong_by(self, letters: f32) -> Self {
        self.wrong_at(1.0, letters)
    }

    /// Wrong by so many letters, each at so much.
    fn wrong_at(self, each: f32, letters: f32) -> Self {
        Self {
            cost: self.cost + each * letters,
            edits: self.edits + letters,
            ..self
        }
    }

    fn at_cost(self, cost: f32) -> Self {
        Self {
            cost: self.cost + cost,
            ..self
        }
    }
}

const NO_TRACE: u32 = u32::MAX;

#[derive(Debug, Clone, Copy)]
enum Trace {
    Passed(Passed),
    /// Everything on the trace of a visit that ended.
    Inside(u32),
}

/// The ways after one letter.
struct Ways {
    position: u32,
    tolerance: Tolerance,
    beam: f32,
    cheapest: FxHashMap<Key, Way>,
    /// A way that costs more in all is given up at once: by so much over the cheapest so far.
    limit: f32,
    /// Ways to be followed, cheapest first, and of these what stands first in the file. Costs are
    /// never negative, so their bits are in the order of their values.
    open: BinaryHeap<Reverse<u128>>,
    /// Ways that were followed: these go on to the next letter.
    followed: Vec<(Key, Way)>,
    /// For each node of a visit, the least that it cost to come there at this letter.
    entered: FxHashMap<(u32, u32), f32>,
}

impl Ways {
    fn new(tolerance: Tolerance, beam: f32) -> Self {
        Self {
            position: 0,
            tolerance,
            beam,
            cheapest: FxHashMap::default(),
            limit: f32::INFINITY,
            open: BinaryHeap::new(),
            followed: Vec::new(),
            entered: FxHashMap::default(),
        }
    }

    /// None yet, after one letter more. There will be about as many as before it.
    fn after_next(&self) -> Self {
        Self {
            position: self.position + 1,
            cheapest: FxHashMap::with_capacity_and_hasher(self.cheapest.len(), FxBuildHasher),
            open: BinaryHeap::with_capacity(self.cheapest.len()),
            followed: Vec::with_capacity(self.followed.len()),
            entered: FxHashMap::with_capacity_and_hasher(self.entered.len(), FxBuildHasher),
            ..Self::new(self.tolerance, self.beam)
        }
    }

    /// Keeps a way if it is the cheapest to its place. `base` is what its visit began with.
    fn keep(&mut self, key: Key, way: Way, base: f32) {
        let cost = base + way.cost;
        let is_wrong = self.tolerance == Tolerance::Exact && way.edits > 0.0;
        if cost > self.limit || is_wrong {
            return;
        }
        if self.tolerance == Tolerance::Near {
            self.limit = self.limit.min(cost + self.beam);
        }
        match self.cheapest.get_mut(&key) {
            Some(known) if known.cost <= way.cost => return,
            Some(known) => *known = way,
            None => {
                self.cheapest.insert(key, way);
            }
        }
        self.open.push(Reverse(key.at_cost(cost)));
    }

    /// The cheapest way not yet followed, until enough have been.
    fn next(&mut self, visits: &[Visit], most: usize) -> Option<(Key, Way)> {
        if self.followed.len() >= most {
            return None;
        }
        while let Some(Reverse(ordered)) = self.open.pop() {
            let (key, cost) = Key::and_cost(ordered);
            if cost > self.limit {
                return None;
            }
            let way = self.cheapest[&key];
            if visits[key.visit as usize].base + way.cost == cost {
                self.followed.push((key, way));
                return Some((key, way));
            }
        }
        None
    }
}

struct Search<'s> {
    network: &'s Network,
    names: &'s Lexicon,
    text: &'s [char],
    /// What each way passed, linked backwards.
    traces: Vec<(u32, Trace)>,
    visits: Vec<Visit>,
    visit_ids: FxHashMap<(Place, u32), u32>,
    /// Where a caller stands among the callers of a visit: by visit, its own visit, its return.
    caller_ids: FxHashMap<(u32, u32, u32), u32>,
    /// Nodes to go on from at this letter: what was put on last goes first.
    entering: Vec<Entering>,
    steps: usize,
}

impl Search<'_> {
    fn run(mut self, tolerance: Tolerance, beam: f32) -> Vec<Path> {
        let mut ways = Ways::new(tolerance, beam);
        for intent in 0..self.network.intents.len() as u32 {
            self.begin(Place::Intent(intent), 0.0, &mut ways);
            self.go_on_silently(&mut ways);
        }
        self.follow(&mut ways);
        for (position, letter) in self.text.iter().enumerate() {
            let mut next = ways.after_next();
            let before = before(self.text, position);
            for (key, way) in ways.followed {
                self.hear(key, way, *letter, before, &mut next);
            }
            self.follow(&mut next);
            ways = next;
            if self.steps > MOST_STEPS {
                return Vec::new();
            }
        }
        let mut paths: Vec<Path> = ways
            .followed
            .iter()
            .filter(|(key, _)| key.at == At::End)
            .filter_map(|(key, way)| match self.visits[key.visit as usize].place {
                Place::Intent(intent) => Some(Path {
                    intent,
                    passed: self.passed(way.trace),
                    edits: way.edits,
                    cost: way.cost,
                }),
                _ => None,
            })
            .collect();
        // The order of the file decides between two that are equally near.
        paths.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.intent.cmp(&b.intent)));
        paths
    }

    /// Moves one way over one letter of the text.
    fn hear(&self, key: Key, way: Way, letter: char, before: Option<char>, next: &mut Ways) {
        let visit = &self.visits[key.visit as usize];
        let mut to = |at: At, way: Way| next.keep(Key { at, ..key }, way, visit.base);
        match key.at {
            At::Word { arc, done } => {
                let each = self.each(visit.place);
                to(key.at, way.wrong_at(each, letter_cost(letter, before)));
                if let Some(expected) = self.letters(arc).get(usize::from(done)) {
                    let way = way.wrong_at(each, exchange_cost(letter, *expected));
                    to(
                        At::Word {
                            arc,
                            done: done + 1,
                        },
                        way,
                    );
                }
            }
            At::Name { node } => {
                to(key.at, way.wrong_by(letter_cost(letter, before)));
                for (expected, child) in self.names.children(node) {
                    let way = way.wrong_by(exchange_cost(letter, *expected));
                    to(At::Name { node: *child }, way);
                }
            }
            At::Free(phase) => {
                let (word, each) = match visit.place {
                    Place::Item => (UNKNOWN_WORD, UNKNOWN_LETTER),
                    _ => (TEXT_WORD, TEXT_LETTER),
                };
                match (letter, phase) {
                    (' ', Phase::InWord) => to(At::Free(Phase::BetweenWords), way),
                    (' ', _) => {}
                    (_, Phase::InWord) => to(At::Free(Phase::InWord), way.at_cost(each)),
                    _ => to(At::Free(Phase::InWord), way.at_cost(word + each)),
                }
            }
            // Letters behind the last word of a command are too many; elsewhere, the callers go on.
            At::End if matches!(visit.place, Place::Intent(_)) => {
                to(At::End, way.wrong_by(letter_cost(letter, before)));
            }
            At::End => {}
        }
    }

    /// Moves ways on where the text lacks a letter, and through the ends of words, names and visits.
    fn follow(&mut self, ways: &mut Ways) {
        let most_ways = MOST_WAYS.max(2 * self.network.arc_count());
        while let Some((key, way)) = ways.next(&self.visits, most_ways) {
            self.steps += 1;
            if self.steps > MOST_STEPS {
                return;
            }
            let base = self.visits[key.visit as usize].base;
            match key.at {
                At::Word { arc, done } => match self.letters(arc).get(usize::from(done)) {
                    Some(letter) => {
                        let before = before(self.letters(arc), usize::from(done));
                        let each = self.each(self.visits[key.visit as usize].place);
                        let at = At::Word {
                            arc,
                            done: done + 1,
                        };
                        ways.keep(
                            Key { at, ..key },
                            way.wrong_at(each, letter_cost(*letter, before)),
                            base,
                        );
                    }
                    None => {
                        let Arc::Word { word, to } = *self.network.arc(arc) else {
                            continue;
                        };
                        let way = self.pass(way, Trace::Passed(Passed::Word(word, ways.position)));
                        self.enter(to, key.visit, way);
                    }
                },
                At::Name { node } => {
                    if self.names.item_at(node).is_some() {
                        let way = self.pass(way, Trace::Passed(Passed::Name(node, ways.position)));
                        ways.keep(Key { at: At::End, ..key }, way, base);
                    }
                    for (letter, child) in self.names.children(node) {
                        let at = At::Name { node: *child };
                        ways.keep(
                            Key { at, ..key },
                            way.wrong_by(letter_cost(*letter, None)),
                            base,
                        );
                    }
                }
                At::Free(Phase::BetweenWords) => {
                    let since = self.visits[key.visit as usize].since;
                    let free = Passed::Free(since, ways.position);
                    let way = self.pass(way, Trace::Passed(free));
                    ways.keep(Key { at: At::End, ..key }, way, base);
                }
                At::Free(_) => {}
                At::End => {
                    let visit = &mut self.visits[key.visit as usize];
                    if visit.since == ways.position {
                        visit.without_text = Some(way);
                    }
                    // Who calls from here on goes on by `without_text`.
                    for caller in 0..visit.callers.len() {
                        let caller = self.visits[key.visit as usize].callers[caller];
                        self.go_on(caller, way, ways);
                    }
                    self.entering.reverse();
                }
            }
            self.go_on_silently(ways);
        }
    }

    /// A caller goes on behind the visit it waited for.
    fn go_on(&mut self, caller: Caller, inside: Way, ways: &mut Ways) {
        self.steps += 1;
        let base = self.visits[caller.visit as usize].base;
        if base + caller.way.cost + inside.cost > ways.limit {
            return;
        }
        let way = Way {
            cost: caller.way.cost + inside.cost,
            edits: caller.way.edits + inside.edits,
            trace: caller.way.trace,
        };
        let way = self.pass(way, Trace::Inside(inside.trace));
        self.enter(caller.return_to, caller.visit, way);
    }

    /// Begins a visit here, or finds the one that has begun here already.
    fn begin(&mut self, place: Place, base: f32, ways: &mut Ways) -> u32 {
        if let Some(visit) = self.visit_ids.get(&(place, ways.position)) {
            return *visit;
        }
        let visit = self.visits.len() as u32;
        let since = ways.position;
        self.visits.push(Visit {
            place,
            since,
            base,
            callers: Vec::new(),
            without_text: None,
        });
        self.visit_ids.insert((place, since), visit);
        let free = Key {
            at: At::Free(Phase::Begin),
            visit,
        };
        match place {
            Place::Intent(intent) => {
                self.enter(
                    self.network.intent_spans[intent as usize].start,
                    visit,
                    Way::NEW,
                );
            }
            Place::Rule(rule) => {
                self.enter(self.network.rules[rule as usize].start, visit, Way::NEW);
            }
            Place::Item => {
                let names = Key {
                    at: At::Name {
                        node: self.names.root(),
                    },
                    visit,
                };
                ways.keep(names, Way::NEW, base);
                ways.keep(free, Way::NEW, base);
            }
            Place::Text => ways.keep(free, Way::NEW, base),
        }
        visit
    }

    fn call(&mut self, place: Place, caller: Caller, ways: &mut Ways) {
        let base = self.visits[caller.visit as usize].base + caller.way.cost;
        let visit = self.begin(place, base, ways);
        let callers = &mut self.visits[visit as usize].callers;
        match self
            .caller_ids
            .entry((visit, caller.visit, caller.return_to))
        {
            Entry::Vacant(entry) => {
                entry.insert(callers.len() as u32);
                callers.push(caller);
            }
            // It has called already: only a cheaper way changes anything.
            Entry::Occupied(entry) => {
                let known = &mut callers[*entry.get() as usize];
                if known.way.cost <= caller.way.cost {
                    return;
                }
                *known = caller;
            }
        }
        if let Some(way) = self.visits[visit as usize].without_text {
            self.go_on(caller, way, ways);
        }
    }

    fn enter(&mut self, node: u32, visit: u32, way: Way) {
        self.entering.push(Entering { node, visit, way });
    }

    /// Goes on from the nodes entered to every place where something is said, through all that is
    /// silent.
    fn go_on_silently(&mut self, ways: &mut Ways) {
        while let Some(Entering { node, visit, way }) = self.entering.pop() {
            self.steps += 1;
            let base = self.visits[visit as usize].base;
            if base + way.cost > ways.limit {
                continue;
            }
            // A loop that says nothing leads back here: once is enough, unless it is cheaper now.
            match ways.entered.entry((node, visit)) {
                Entry::Occupied(known) if *known.get() <= way.cost => continue,
                entry => entry.insert_entry(way.cost),
            };
            if Some(node) == self.end_of(visit) {
                ways.keep(Key { at: At::End, visit }, way, base);
            }
            let later = self.entering.len();
            for (number, cost, arc) in self.network.arcs(node) {
                let way = way.at_cost(cost);
                let caller = |return_to: u32| Caller {
                    visit,
                    return_to,
                    way,
                };
                match *arc {
                    Arc::Word { .. } => {
                        ways.keep(
                            Key {
                                at: At::Word {
                                    arc: number,
                                    done: 0,
                                },
                                visit,
                            },
                            way,
                            base,
                        );
                    }
                    Arc::Step { to } => self.enter(to, visit, way),
                    Arc::Mark { mark, to } => {
                        let way = self.pass(way, Trace::Passed(Passed::Mark(mark, way.edits)));
                        self.enter(to, visit, way);
                    }
                    Arc::Call { rule, to } => self.call(Place::Rule(rule), caller(to), ways),
                    Arc::Item { to, .. } => self.call(Place::Item, caller(to), ways),
                    Arc::Text { to } => self.call(Place::Text, caller(to), ways),
                }
            }
            // What stands first in the file goes first.
            self.entering[later..].reverse();
        }
    }

    /// The node where a visit ends, if it goes through nodes.
    fn end_of(&self, visit: u32) -> Option<u32> {
        match self.visits[visit as usize].place {
            Place::Intent(intent) => Some(self.network.intent_spans[intent as usize].end),
            Place::Rule(rule) => Some(self.network.rules[rule as usize].end),
            Place::Item | Place::Text => None,
        }
    }

    fn pass(&mut self, way: Way, trace: Trace) -> Way {
        self.traces.push((way.trace, trace));
        Way {
            trace: self.traces.len() as u32 - 1,
            ..way
        }
    }

    /// What a wrong letter costs in a place.
    fn each(&self, place: Place) -> f32 {
        match place {
            Place::Rule(rule) if self.network.figures[rule as usize] => FIGURES,
            _ => 1.0,
        }
    }

    fn letters(&self, arc: u32) -> &[char] {
        match self.network.arc(arc) {
            Arc::Word { word, .. } => &self.network.words[*word as usize].letters,
            _ => &[],
        }
    }

    /// A trace in order, with all that is inside it.
    fn passed(&self, trace: u32) -> Vec<Passed> {
        let mut backwards = Vec::new();
        let mut open = vec![trace];
        while let Some(trace) = open.pop() {
            if trace == NO_TRACE {
                continue;
            }
            let (before, step) = self.traces[trace as usize];
            open.push(before);
            match step {
                Trace::Passed(passed) => backwards.push(passed),
                Trace::Inside(inside) => open.push(inside),
            }
        }
        backwards.reverse();
        backwards
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grammar::{GrammarFile, modes::Modes, normal_words};

    /// Talk, commands to the letter, with slips, and with names that nobody knows.
    #[test]
    fn a_narrow_search_finds_no_other_path_than_a_wide_one() {
        let file = GrammarFile::parse("en.yaml", include_str!("../../grammars/en.yaml")).unwrap();
        let network = Modes::compile(&file).unwrap().outside();
        let names = Lexicon::starter("en-US");
        let commands = [
            "what is not yet known",
            "add two cans of tomatoes to the pantry best by march fourth",
            "ad two can of tomatos to the pantry",
            "I used up the oaks",
            "put zhoug on the list",
            "we have no milk",
            "the oats contain wheat and milk",
            "is the brad nut free",
        ];
        let talk = include_str!("../../tests/data/talk.en.txt").lines();
        let (mut narrow, mut wide) = (0, 0);
        for text in commands.into_iter().chain(talk.step_by(4)) {
            let words = normal_words(text);
            let letters: Vec<char> = words.iter().flat_map(|w| w.chars().chain([' '])).collect();
            let found = nearest_paths(&network, &names, &letters, Tolerance::Near);
            let best = paths_within(BEAM, &network, &names, &letters, Tolerance::Near);
            assert_eq!(found.first(), best.first(), "{text}");
            match best.first() {
                Some(path) if path.cost <= NARROW => narrow += 1,
                _ => wide += 1,
            }
        }
        assert!(narrow > 3 && wide > 3, "{narrow} and {wide}");
    }

    #[test]
    fn ways_come_by_cost_and_at_the_same_cost_in_the_order_of_the_file() {
        let word = |arc, done| At::Word { arc, done };
        // Each before all that stand behind it.
        let places = [
            word(0, 0),
            word(0, 1),
            word(0, u16::MAX),
            word(1, 0),
            word(u32::MAX, u16::MAX),
            At::Name { node: 0 },
            At::Name { node: u32::MAX },
            At::Free(Phase::Begin),
            At::Free(Phase::InWord),
            At::Free(Phase::BetweenWords),
            At::End,
        ];
        let keys = places.iter().flat_map(|at| {
            let visits = [0, 1, u32::MAX];
            visits.map(|visit| Key { at: *at, visit })
        });
        let keys: Vec<Key> = keys.collect();
        let costs = [0.0, 0.1, 3.0, 700.5, f32::INFINITY];
        let all = costs
            .iter()
            .flat_map(|cost| keys.iter().map(|key| (*key, *cost)));
        let all: Vec<(Key, f32)> = all.collect();
        let ordered: Vec<u128> = all.iter().map(|(key, cost)| key.at_cost(*cost)).collect();
        assert!(ordered.is_sorted_by(|one, next| one < next));
        let again: Vec<(Key, f32)> = ordered.into_iter().map(Key::and_cost).collect();
        assert_eq!(again, all);
    }
}
