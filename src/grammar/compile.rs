//! From a grammar file to the automaton.

use std::collections::{HashMap, VecDeque};

use super::builtin;
use super::error::{Fault, GrammarError};
use super::file::{GrammarFile, Mode, Rule};
use super::jsgf::Expansion;
use super::network::{Arc, Kind, Mark, Network, Span, Word};
use super::recursion::{self, Reference};
use super::words::normal_words;

/// Nodes a network may have. The largest grammar measured so far needs a few thousand.
const MAX_NODES: usize = 200_000;

/// What a choice costs that is e times less likely than the likeliest beside it, and the most that
/// it may cost. Less than any letter: weights decide between what sounds the same, and never make
/// something that was said clearly into something else.
pub(super) const WEIGHT_COST: f64 = 0.1;
const MOST_WEIGHT_COST: f64 = 0.3;

impl Network {
    /// Compiles what can be said in a mode of a file, or outside any, with the built-in rules that it
    /// uses.
    pub fn compile(file: &GrammarFile, mode: Option<&Mode>) -> Result<Self, GrammarError> {
        let mut build = Builder::new(file);
        build.slots()?;
        // Every rule, so that a fault in one that nothing uses yet is found too.
        for rule in &file.rules {
            let line = rule.expansions.first().map_or(0, |(_, line)| *line);
            let place = Place::new(&rule.name, line, Origin::File);
            build.rule(&rule.name, Origin::File, place)?;
        }
        build.waiting_rules()?;
        for intent in file.intents_in(mode) {
            build.network.intents.push(intent.name.clone());
            let span = build.span();
            build.network.intent_spans.push(span);
            build.expansions(intent, span, Origin::File, None)?;
        }
        build.waiting_rules()?;
        build.refuse_left_recursion()?;
        Ok(build.finish())
    }
}

/// Where a rule is written, and with it what the names inside mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Origin {
    File,
    BuiltIn,
}

/// What a reference stands for.
enum Target {
    Rule(Origin),
    Open(Kind),
}

/// A rule whose expansions aren't compiled yet.
/// An `<item>`, and its slot, where names are taught: one that nobody knows is likelier there.
const NEW_ITEM: &str = "new-item";

struct Waiting<'f> {
    rule: &'f Rule,
    id: u32,
    span: Span,
    origin: Origin,
}

/// Where an expansion stands.
#[derive(Clone, Copy)]
struct Place<'r> {
    rule: &'r str,
    line: usize,
    origin: Origin,
    /// The number of its rule; `None` in an intent, which nothing refers to.
    id: Option<u32>,
}

impl<'r> Place<'r> {
    fn new(rule: &'r str, line: usize, origin: Origin) -> Self {
        let id = None;
        Self {
            rule,
            line,
            origin,
            id,
        }
    }
}

struct Builder<'f> {
    file: &'f GrammarFile,
    own: HashMap<&'f str, &'f Rule>,
    nodes: Vec<Vec<(f32, Arc)>>,
    network: Network,
    rules: Vec<(Origin, &'f Rule)>,
    rule_ids: HashMap<(Origin, &'f str), u32>,
    waiting: VecDeque<Waiting<'f>>,
    references: Vec<Reference>,
    word_ids: HashMap<String, u32>,
    slot_ids: HashMap<&'f str, u32>,
}

impl<'f> Builder<'f> {
    fn new(file: &'f GrammarFile) -> Self {
        let own = file.rules.iter().map(|rule| (rule.name.as_str(), rule));
        Self {
            file,
            own: own.collect(),
            nodes: Vec::new(),
            network: Network::default(),
            rules: Vec::new(),
            rule_ids: HashMap::new(),
            waiting: VecDeque::new(),
            references: Vec::new(),
            word_ids: HashMap::new(),
            slot_ids: HashMap::new(),
        }
    }

    fn error(&self, line: usize, rule: Option<&str>, fault: Fault) -> GrammarError {
        GrammarError {
            file: self.file.name.clone(),
            line,
            rule: rule.map(str::to_owned),
            fault,
        }
    }

    fn node(&mut self) -> u32 {
        self.nodes.push(Vec::new());
        self.nodes.len() as u32 - 1
    }

    fn span(&mut self) -> Span {
        Span {
            start: self.node(),
            end: self.node(),
        }
    }

    fn arc(&mut self, from: u32, cost: f32, arc: Arc) {
        self.nodes[from as usize].push((cost, arc));
    }

    fn step(&mut self, from: u32, to: u32) {
        self.arc(from, 0.0, Arc::Step { to });
    }

    /// What `<name>` means: inside a built-in rule another one, elsewhere the file's own rule first.
    fn resolve(&self, name: &str, origin: Origin) -> Option<Target> {
        if origin == Origin::BuiltIn {
            return Some(Target::Rule(Origin::BuiltIn));
        }
        match name {
            _ if self.own.contains_key(name) => Some(Target::Rule(Origin::File)),
            "item" | NEW_ITEM => Some(Target::Open(Kind::Item)),
            "text" => Some(Target::Open(Kind::Text)),
            _ => builtin::kind(builtin::whole(name)).map(|_| Target::Rule(Origin::BuiltIn)),
        }
    }

    fn slots(&mut self) -> Result<(), GrammarError> {
        let file = self.file;
        for (slot, line) in &file.slots {
            let built_in = builtin::kind(slot);
            let is_there = builtin::rule(&file.language, slot).is_some();
            let kind = match self.resolve(slot, Origin::File) {
                Some(Target::Open(kind)) => kind,
                // Where a language has no such rule, the file's own stands in for it.
                Some(Target::Rule(Origin::File)) if !is_there => {
                    built_in.map_or(Kind::Words, Kind::in_tags)
                }
                Some(Target::Rule(Origin::File)) => Kind::Words,
                Some(Target::Rule(Origin::BuiltIn)) if is_there => built_in.unwrap_or(Kind::Words),
                Some(Target::Rule(Origin::BuiltIn)) => {
                    return Err(self.error(*line, None, self.no_builtin(slot)));
                }
                None => {
                    return Err(self.error(*line, None, Fault::UnknownSlot(slot.clone())));
                }
            };
            let id = self.network.slots.len() as u32;
            self.slot_ids.insert(slot, id);
            self.network.slots.push((slot.clone(), kind));
        }
        Ok(())
    }

    fn no_builtin(&self, rule: &str) -> Fault {
        Fault::NoBuiltIn {
            rule: rule.to_owned(),
            language: self.file.language.clone(),
        }
    }

    /// Compiles the rules that were referred to, and those that they refer to.
    fn waiting_rules(&mut self) -> Result<(), GrammarError> {
        while let Some(next) = self.waiting.pop_front() {
            self.expansions(next.rule, next.span, next.origin, Some(next.id))?;
        }
        Ok(())
    }

    fn expansions(
        &mut self,
        rule: &Rule,
        span: Span,
        origin: Origin,
        id: Option<u32>,
    ) -> Result<(), GrammarError> {
        for (expansion, line) in &rule.expansions {
            let place = Place::new(&rule.name, *line, origin);
            self.build(expansion, span, Place { id, ..place })?;
        }
        Ok(())
    }

    fn build(
        &mut self,
        expansion: &Expansion,
        span: Span,
        at: Place<'_>,
    ) -> Result<(), GrammarError> {
        if self.nodes.len() > MAX_NODES {
            let what = "its number of states";
            let limit = MAX_NODES;
            return Err(self.error(at.line, Some(at.rule), Fault::TooLarge { what, limit }));
        }
        let Span { start, end } = span;
        match expansion {
            Expansion::Word(written) => {
                let word = self.word(written);
                self.arc(start, 0.0, Arc::Word { word, to: end });
            }
            Expansion::Rule(name) => self.call(name, span, at)?,
            Expansion::Sequence(parts) => {
                let mut from = start;
                for part in parts {
                    let to = self.node();
                    self.build(
                        part,
                        Span {
                            start: from,
                            end: to,
                        },
                        at,
                    )?;
                    from = to;
                }
                self.step(from, end);
            }
            Expansion::Alternatives(choices) => {
                let likeliest = choices
                    .iter()
                    .map(|(weight, _)| *weight)
                    .fold(0.0, f64::max);
                for (weight, choice) in choices.iter().filter(|(weight, _)| *weight > 0.0) {
                    let unlikely = (likeliest / weight).ln() * WEIGHT_COST;
                    let cost = unlikely.min(MOST_WEIGHT_COST) as f32;
                    let inside = self.node();
                    self.arc(start, cost, Arc::Step { to: inside });
                    self.build(choice, Span { start: inside, end }, at)?;
                }
            }
            Expansion::Optional(inside) => {
                // Inside first: where both ways cost the same, what is there was meant.
                let from = self.node();
                self.step(start, from);
                self.build(inside, Span { start: from, end }, at)?;
                self.step(start, end);
            }
            Expansion::Star(inside) => {
                self.repeat(inside, span, at)?;
                self.step(start, end);
            }
            Expansion::Plus(inside) => self.repeat(inside, span, at)?,
            Expansion::Tagged(..) => self.tagged(expansion, span, at)?,
        }
        Ok(())
    }

    /// Once or more.
    fn repeat(
        &mut self,
        inside: &Expansion,
        span: Span,
        at: Place<'_>,
    ) -> Result<(), GrammarError> {
        let round = self.span();
        self.step(span.start, round.start);
        self.build(inside, round, at)?;
        self.step(round.end, round.start);
        self.step(round.end, span.end);
        Ok(())
    }

    /// Something with its tags, the nearest one first. They are unwrapped here and not by `build`, so
    /// that the deepest expansion that is allowed needs little of the stack.
    fn tagged(
        &mut self,
        mut inside: &Expansion,
        span: Span,
        at: Place<'_>,
    ) -> Result<(), GrammarError> {
        let mut tags = Vec::new();
        while let Expansion::Tagged(within, tag) = inside {
            tags.push(tag);
            inside = within;
        }
        let within = self.span();
        self.step(span.start, within.start);
        self.build(inside, within, at)?;
        let mut from = within.end;
        for tag in tags.into_iter().rev() {
            let mark = Mark::Tag(self.network.tags.len() as u32);
            self.network.tags.push(tag.clone());
            let to = self.node();
            self.arc(from, 0.0, Arc::Mark { mark, to });
            from = to;
        }
        self.step(from, span.end);
        Ok(())
    }

    fn word(&mut self, written: &str) -> u32 {
        if let Some(id) = self.word_ids.get(written) {
            return *id;
        }
        let words = normal_words(written);
        let letters = words.iter().flat_map(|w| w.chars().chain([' '])).collect();
        let id = self.network.words.len() as u32;
        let written = written.to_owned();
        self.word_ids.insert(written.clone(), id);
        self.network.words.push(Word { written, letters });
        id
    }

    /// A reference: the rule between the marks of its slot, if it is one.
    fn call(&mut self, name: &str, span: Span, at: Place<'_>) -> Result<(), GrammarError> {
        let own = self.own.contains_key(name);
        let slot = match name {
            _ if own => name,
            NEW_ITEM => "item",
            part => builtin::whole(part),
        };
        let slot = self.slot_ids.get(slot).copied();
        let mut inner = span;
        if let Some(slot) = slot.filter(|_| at.origin == Origin::File) {
            inner = self.span();
            let (open, close) = (Mark::Open(slot), Mark::Close(slot));
            self.arc(
                span.start,
                0.0,
                Arc::Mark {
                    mark: open,
                    to: inner.start,
                },
            );
            self.arc(
                inner.end,
                0.0,
                Arc::Mark {
                    mark: close,
                    to: span.end,
                },
            );
        }
        let Span { start, end: to } = inner;
        let arc = match self.resolve(name, at.origin) {
            Some(Target::Open(Kind::Item)) => {
                let taught = name == NEW_ITEM;
                Arc::Item { taught, to }
            }
            Some(Target::Open(_)) => Arc::Text { to },
            Some(Target::Rule(origin)) => {
                let rule = self.rule(name, origin, at)?;
                if let Some(from) = at.id {
                    let line = at.line;
                    self.references.push(Reference {
                        from,
                        node: start,
                        rule,
                        line,
                    });
                }
                Arc::Call { rule, to }
            }
            None => {
                let fault = Fault::UnknownRule(name.to_owned());
                return Err(self.error(at.line, Some(at.rule), fault));
            }
        };
        self.arc(start, 0.0, arc);
        Ok(())
    }

    /// The number of a rule, which is compiled once, when it is first referred to.
    fn rule(&mut self, name: &str, origin: Origin, at: Place<'_>) -> Result<u32, GrammarError> {
        let rule = match origin {
            Origin::File => self.own.get(name).copied(),
            Origin::BuiltIn => builtin::rule(&self.file.language, name),
        };
        let Some(rule) = rule else {
            return Err(self.error(at.line, Some(at.rule), self.no_builtin(name)));
        };
        let key = (origin, rule.name.as_str());
        if let Some(id) = self.rule_ids.get(&key) {
            return Ok(*id);
        }
        let span = self.span();
        let id = self.rules.len() as u32;
        self.network.rules.push(span);
        self.network.figures.push(origin == Origin::BuiltIn);
        self.rules.push((origin, rule));
        self.rule_ids.insert(key, id);
        self.waiting.push_back(Waiting {
            rule,
            id,
            span,
            origin,
        });
        Ok(id)
    }

    fn refuse_left_recursion(&self) -> Result<(), GrammarError> {
        let found = recursion::left_recursion(&self.nodes, &self.network.rules, &self.references);
        let Some((line, rules)) = found else {
            return Ok(());
        };
        let names: Vec<&str> = rules
            .iter()
            .map(|id| self.rules[*id as usize].1.name.as_str())
            .collect();
        let fault = Fault::LeftRecursion(names.join(", then "));
        Err(self.error(line, Some(names[0]), fault))
    }

    fn finish(self) -> Network {
        let mut network = self.network;
        for arcs in self.nodes {
            network.first_arc.push(network.arcs.len() as u32);
            network.arcs.extend(arcs);
        }
        network.first_arc.push(network.arcs.len() as u32);
        network
    }
}
