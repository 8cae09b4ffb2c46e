//! The automaton: a network of small graphs, one a rule, that call each other.
//!
//! A rule is compiled once however often it is used, and a list of names or open speech is one arc,
//! so the network stays small for any vocabulary. It is walked lazily, letter by letter: by
//! `matching` over text, and by whatever else wants to know which letters may follow.

use std::collections::{HashMap, HashSet};

use super::builtin;
use super::error::{Fault, GrammarError};
use super::file::{GrammarFile, Rule};
use super::jsgf::Expansion;
use super::words::normal_words;

/// Nodes a network may have. The largest grammar measured so far needs a few thousand.
const MAX_NODES: usize = 200_000;

/// What a slot's words are read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Words,
    Number,
    Quantity,
    Date,
    Tag,
    Item,
    Text,
}

/// What may be passed on the way from one node to another.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Arc {
    /// Nothing is said.
    Step { to: u32 },
    /// Nothing is said; a mark is left for whoever reads the path.
    Mark { mark: Mark, to: u32 },
    /// A word, by its index.
    Word { word: u32, to: u32 },
    /// A whole rule, by its index.
    Call { rule: u32, to: u32 },
    /// A name of the lexicon, or an unknown one.
    Item { to: u32 },
    /// Free speech, of one word or more.
    Text { to: u32 },
}

/// What a path says beside its words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Open(u32),
    Close(u32),
    Tag(u32),
}

/// One word: as the grammar writes it, and its letters in normal form, a space after each word.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Word {
    pub written: String,
    pub letters: Vec<char>,
}

/// A compiled rule: enter at `start`, leave at `end`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Span {
    pub start: u32,
    pub end: u32,
}

/// A compiled grammar file.
#[derive(Debug, Clone)]
pub(super) struct Network {
    arcs: Vec<(f32, Arc)>,
    /// For each node, where its arcs begin; one more at the end.
    first_arc: Vec<u32>,
    pub rules: Vec<Span>,
    pub words: Vec<Word>,
    pub tags: Vec<String>,
    pub intents: Vec<String>,
    pub slots: Vec<(String, Kind)>,
    /// For each intent, what can be said for it.
    pub intent_spans: Vec<Span>,
}

impl Network {
    /// The arcs that leave a node: each one's number, its cost (-ln of its weight) and itself.
    pub fn arcs(&self, node: u32) -> impl Iterator<Item = (u32, f32, &Arc)> {
        let range = self.first_arc[node as usize]..self.first_arc[node as usize + 1];
        range.map(|i| (i, self.arcs[i as usize].0, &self.arcs[i as usize].1))
    }

    pub fn arc(&self, number: u32) -> &Arc {
        &self.arcs[number as usize].1
    }

    pub fn node_count(&self) -> usize {
        self.first_arc.len() - 1
    }

    /// Compiles a file, with the built-in rules that it uses.
    pub fn compile(file: &GrammarFile) -> Result<Self, GrammarError> {
        let mut build = Builder::new(file);
        for (slot, line) in &file.slots {
            let kind = match build.resolve(slot) {
                Some(Target::Open(kind)) => kind,
                Some(Target::Rule(name)) => kind_of(&name),
                None => {
                    let fault = Fault::UnknownSlot(slot.clone());
                    return Err(build.error(*line, None, fault));
                }
            };
            build.slots.push((slot.clone(), kind));
        }
        for intent in &file.intents {
            build.intents.push(intent.name.clone());
            let span = build.span();
            build.intent_spans.push(span);
            build.expansions(intent, span, "")?;
        }
        while let Some((rule, span, prefix)) = build.waiting.pop() {
            build.expansions(&rule, span, prefix)?;
        }
        build.refuse_left_recursion()?;
        Ok(build.finish())
    }
}

fn kind_of(full_name: &str) -> Kind {
    match full_name.strip_prefix(builtin::PREFIX) {
        Some("number") => Kind::Number,
        Some("quantity") => Kind::Quantity,
        Some("date") => Kind::Date,
        Some("tag") => Kind::Tag,
        _ => Kind::Words,
    }
}

/// What a reference in a file stands for.
enum Target {
    Rule(String),
    Open(Kind),
}

struct Builder<'f> {
    file: &'f GrammarFile,
    nodes: Vec<Vec<(f32, Arc)>>,
    rules: Vec<Span>,
    rule_names: Vec<String>,
    rule_ids: HashMap<String, u32>,
    waiting: Vec<(Rule, Span, &'static str)>,
    words: Vec<Word>,
    word_ids: HashMap<String, u32>,
    tags: Vec<String>,
    intents: Vec<String>,
    intent_spans: Vec<Span>,
    slots: Vec<(String, Kind)>,
}

impl<'f> Builder<'f> {
    fn new(file: &'f GrammarFile) -> Self {
        Self {
            file,
            nodes: Vec::new(),
            rules: Vec::new(),
            rule_names: Vec::new(),
            rule_ids: HashMap::new(),
            waiting: Vec::new(),
            words: Vec::new(),
            word_ids: HashMap::new(),
            tags: Vec::new(),
            intents: Vec::new(),
            intent_spans: Vec::new(),
            slots: Vec::new(),
        }
    }

    fn error(&self, line: usize, rule: Option<&str>, fault: Fault) -> GrammarError {
        GrammarError { file: self.file.name.clone(), line, rule: rule.map(str::to_owned), fault }
    }

    fn node(&mut self) -> u32 {
        self.nodes.push(Vec::new());
        self.nodes.len() as u32 - 1
    }

    fn span(&mut self) -> Span {
        Span { start: self.node(), end: self.node() }
    }

    fn arc(&mut self, from: u32, cost: f32, arc: Arc) {
        self.nodes[from as usize].push((cost, arc));
    }

    /// What `<name>` means in the user's file: its own rule first.
    fn resolve(&self, name: &str) -> Option<Target> {
        if self.file.rules.iter().any(|rule| rule.name == name) {
            return Some(Target::Rule(name.to_owned()));
        }
        match name {
            "item" => Some(Target::Open(Kind::Item)),
            "text" => Some(Target::Open(Kind::Text)),
            _ if builtin::CLOSED.contains(&name) => {
                Some(Target::Rule(format!("{}{name}", builtin::PREFIX)))
            }
            _ => None,
        }
    }

    fn expansions(
        &mut self,
        rule: &Rule,
        span: Span,
        prefix: &'static str,
    ) -> Result<(), GrammarError> {
        for (expansion, line) in &rule.expansions {
            let place = Place { rule: &rule.name, line: *line, prefix };
            self.build(expansion, span, place)?;
        }
        Ok(())
    }

    fn build(&mut self, expansion: &Expansion, span: Span, at: Place<'_>) -> Result<(), GrammarError> {
        if self.nodes.len() > MAX_NODES {
            let fault = Fault::TooLarge { what: "its number of states", limit: MAX_NODES };
            return Err(self.error(at.line, Some(at.rule), fault));
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
                    self.build(part, Span { start: from, end: to }, at)?;
                    from = to;
                }
                self.arc(from, 0.0, Arc::Step { to: end });
            }
            Expansion::Alternatives(choices) => {
                let total: f64 = choices.iter().map(|(weight, _)| weight).sum();
                // Where nobody weighs, choices cost nothing, so that grammars can be compared.
                let weighed = choices.iter().any(|(weight, _)| *weight != 1.0);
                for (weight, choice) in choices {
                    if *weight == 0.0 {
                        continue;
                    }
                    let cost = if weighed { -(weight / total).ln() as f32 } else { 0.0 };
                    let inside = self.node();
                    self.arc(start, cost, Arc::Step { to: inside });
                    self.build(choice, Span { start: inside, end }, at)?;
                }
            }
            Expansion::Optional(inside) => {
                self.arc(start, 0.0, Arc::Step { to: end });
                self.build(inside, span, at)?;
            }
            Expansion::Star(inside) => self.repeat(inside, span, at, true)?,
            Expansion::Plus(inside) => self.repeat(inside, span, at, false)?,
            Expansion::Tagged(inside, tag) => {
                let (from, to) = (self.node(), self.node());
                self.tags.push(tag.clone());
                let tag = self.tags.len() as u32 - 1;
                self.arc(start, 0.0, Arc::Step { to: from });
                self.build(inside, Span { start: from, end: to }, at)?;
                self.arc(to, 0.0, Arc::Mark { mark: Mark::Tag(tag), to: end });
            }
        }
        Ok(())
    }

    fn repeat(
        &mut self,
        inside: &Expansion,
        span: Span,
        at: Place<'_>,
        may_be_none: bool,
    ) -> Result<(), GrammarError> {
        let (from, to) = (self.node(), self.node());
        self.arc(span.start, 0.0, Arc::Step { to: from });
        self.build(inside, Span { start: from, end: to }, at)?;
        self.arc(to, 0.0, Arc::Step { to: from });
        self.arc(to, 0.0, Arc::Step { to: span.end });
        if may_be_none {
            self.arc(span.start, 0.0, Arc::Step { to: span.end });
        }
        Ok(())
    }

    fn word(&mut self, written: &str) -> u32 {
        if let Some(id) = self.word_ids.get(written) {
            return *id;
        }
        let letters = normal_words(written).iter().flat_map(|w| w.chars().chain([' '])).collect();
        self.words.push(Word { written: written.to_owned(), letters });
        let id = self.words.len() as u32 - 1;
        self.word_ids.insert(written.to_owned(), id);
        id
    }

    /// A reference: the rule between the marks of its slot, if it is one.
    fn call(&mut self, name: &str, span: Span, at: Place<'_>) -> Result<(), GrammarError> {
        let inside_builtin = !at.prefix.is_empty();
        let target = if inside_builtin {
            Some(Target::Rule(format!("{}{name}", at.prefix)))
        } else {
            self.resolve(name)
        };
        let slot = self.slots.iter().position(|(slot, _)| slot == name && !inside_builtin);
        let mut inner = span;
        if let Some(slot) = slot {
            inner = self.span();
            let (open, close) = (Mark::Open(slot as u32), Mark::Close(slot as u32));
            self.arc(span.start, 0.0, Arc::Mark { mark: open, to: inner.start });
            self.arc(inner.end, 0.0, Arc::Mark { mark: close, to: span.end });
        }
        let arc = match target {
            Some(Target::Open(Kind::Item)) => Arc::Item { to: inner.end },
            Some(Target::Open(_)) => Arc::Text { to: inner.end },
            Some(Target::Rule(full_name)) => {
                Arc::Call { rule: self.rule(&full_name, at)?, to: inner.end }
            }
            None => {
                return Err(self.error(at.line, Some(at.rule), Fault::UnknownRule(name.to_owned())));
            }
        };
        self.arc(inner.start, 0.0, arc);
        Ok(())
    }

    /// The number of a rule, which is compiled once, when it is first referred to.
    fn rule(&mut self, full_name: &str, at: Place<'_>) -> Result<u32, GrammarError> {
        if let Some(id) = self.rule_ids.get(full_name) {
            return Ok(*id);
        }
        let (rule, prefix) = match full_name.strip_prefix(builtin::PREFIX) {
            None => {
                let own = self.file.rules.iter().find(|rule| rule.name == full_name).cloned();
                (own, "")
            }
            Some(name) => (builtin::rule(&self.file.language, name).cloned(), builtin::PREFIX),
        };
        let Some(rule) = rule else {
            let rule = full_name.trim_start_matches(builtin::PREFIX).to_owned();
            let fault = Fault::NoBuiltIn { rule, language: self.file.language.clone() };
            return Err(self.error(at.line, Some(at.rule), fault));
        };
        let span = self.span();
        let id = self.rules.len() as u32;
        self.rules.push(span);
        self.rule_names.push(full_name.to_owned());
        self.rule_ids.insert(full_name.to_owned(), id);
        self.waiting.push((rule, span, prefix));
        Ok(id)
    }

    /// Refuses a rule that can come back to its own beginning without a word in between.
    fn refuse_left_recursion(&self) -> Result<(), GrammarError> {
        let silent = self.silent_rules();
        let mut done = HashSet::new();
        for rule in 0..self.rules.len() as u32 {
            self.walk_beginnings(rule, &silent, &mut Vec::new(), &mut done)?;
        }
        Ok(())
    }

    /// Rules that may match nothing at all, by repeating until no more are found.
    fn silent_rules(&self) -> HashSet<u32> {
        let mut silent = HashSet::new();
        loop {
            let before = silent.len();
            for (id, span) in self.rules.iter().enumerate() {
                if self.reached_silently(*span, &silent).contains(&span.end) {
                    silent.insert(id as u32);
                }
            }
            if silent.len() == before {
                return silent;
            }
        }
    }

    /// Nodes reached from a rule's start before any word is said.
    fn reached_silently(&self, span: Span, silent: &HashSet<u32>) -> HashSet<u32> {
        let mut reached = HashSet::from([span.start]);
        let mut open = vec![span.start];
        while let Some(node) = open.pop() {
            for (_, arc) in &self.nodes[node as usize] {
                let next = match arc {
                    Arc::Step { to } | Arc::Mark { to, .. } => *to,
                    Arc::Call { rule, to } if silent.contains(rule) => *to,
                    _ => continue,
                };
                if reached.insert(next) {
                    open.push(next);
                }
            }
        }
        reached
    }

    fn walk_beginnings(
        &self,
        rule: u32,
        silent: &HashSet<u32>,
        path: &mut Vec<u32>,
        done: &mut HashSet<u32>,
    ) -> Result<(), GrammarError> {
        let name = |id: &u32| self.rule_names[*id as usize].trim_start_matches(builtin::PREFIX);
        if let Some(at) = path.iter().position(|r| *r == rule) {
            let names: Vec<&str> = path[at..].iter().chain([&rule]).map(name).collect();
            let own = self.file.rules.iter().find(|r| r.name == names[0]);
            let line = own.and_then(|r| r.expansions.first()).map_or(0, |(_, line)| *line);
            let fault = Fault::LeftRecursion(names.join(", then "));
            return Err(self.error(line, Some(names[0]), fault));
        }
        if done.contains(&rule) {
            return Ok(());
        }
        path.push(rule);
        for node in self.reached_silently(self.rules[rule as usize], silent) {
            for (_, arc) in &self.nodes[node as usize] {
                if let Arc::Call { rule: inner, .. } = arc {
                    self.walk_beginnings(*inner, silent, path, done)?;
                }
            }
        }
        path.pop();
        done.insert(rule);
        Ok(())
    }

    fn finish(self) -> Network {
        let mut first_arc = Vec::with_capacity(self.nodes.len() + 1);
        let mut arcs = Vec::new();
        for node in self.nodes {
            first_arc.push(arcs.len() as u32);
            arcs.extend(node);
        }
        first_arc.push(arcs.len() as u32);
        Network {
            arcs,
            first_arc,
            rules: self.rules,
            words: self.words,
            tags: self.tags,
            intents: self.intents,
            slots: self.slots,
            intent_spans: self.intent_spans,
        }
    }
}

/// Where an expansion stands, for errors, and which names its references mean.
#[derive(Clone, Copy)]
struct Place<'r> {
    rule: &'r str,
    line: usize,
    prefix: &'static str,
}
