//! The automaton: a network of small graphs, one a rule, that call each other.
//!
//! A rule is compiled once however often it is used, and a list of names or open speech is one arc,
//! so the network stays small for any vocabulary. It is walked lazily, letter by letter: by
//! `matching` over text, and by whatever else wants to know which letters may follow.

/// What a slot's words are read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Words,
    Number,
    Quantity,
    Share,
    Date,
    Tag,
    Item,
    Text,
    /// The same, read from the tags of a rule in a language that has no such built-in rule.
    NumberInTags,
    QuantityInTags,
    DateInTags,
}

impl Kind {
    /// How a file's own rule is read that stands in for a built-in one.
    pub fn in_tags(self) -> Self {
        match self {
            Self::Number | Self::Tag => Self::NumberInTags,
            Self::Quantity => Self::QuantityInTags,
            Self::Date => Self::DateInTags,
            // How a part is said in tags is for the file's own reader.
            Self::Share => Self::Words,
            other => other,
        }
    }
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
    /// A name of the lexicon, or an unknown one, which is likelier where names are taught.
    Item { taught: bool, to: u32 },
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

/// A compiled grammar file, or what can be said in one of its modes.
#[derive(Debug, Clone, Default)]
pub(super) struct Network {
    pub(super) arcs: Vec<(f32, Arc)>,
    /// For each node, where its arcs begin; one more at the end.
    pub(super) first_arc: Vec<u32>,
    pub rules: Vec<Span>,
    /// For each rule, whether it is one of the built-in ones: numbers, quantities and dates.
    pub figures: Vec<bool>,
    pub words: Vec<Word>,
    pub tags: Vec<String>,
    pub intents: Vec<String>,
    pub slots: Vec<(String, Kind)>,
    /// For each intent, what can be said for it.
    pub intent_spans: Vec<Span>,
}

impl Network {
    /// The arcs that leave a node: each one's number, its cost (by its weight) and itself.
    pub fn arcs(&self, node: u32) -> impl Iterator<Item = (u32, f32, &Arc)> {
        let range = self.first_arc[node as usize]..self.first_arc[node as usize + 1];
        range.map(|i| (i, self.arcs[i as usize].0, &self.arcs[i as usize].1))
    }

    pub fn arc(&self, number: u32) -> &Arc {
        &self.arcs[number as usize].1
    }

    pub fn arc_count(&self) -> usize {
        self.arcs.len()
    }

    pub fn node_count(&self) -> usize {
        self.first_arc.len() - 1
    }
}
