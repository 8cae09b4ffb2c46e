//! Guided decoding: a beam search in which only sentences of the grammar can be heard.
//!
//! The grammar says which letters may follow, the tokens of the model are laid over them as a tree
//! of bytes, and the search keeps the best few texts. Probabilities are those among all tokens, also
//! those that the grammar forbids: so a text that was forced shows by its score.

use std::rc::Rc;

use rustc_hash::FxHashMap;

use super::EarError;
use super::network::{Encoded, Hearing, Network};
use super::tokens::{END, Tokens};
use crate::grammar::{Acceptor, Move, Point, TOKEN_BONUS};

/// The most texts kept at each step. On 50 random commands each of 8 voices, 8, 16, 32 and 48 texts
/// gave 94.2, 96.2, 96.8 and 96.8 % right clean, and 67.0, 70.0, 75.2 and 75.8 % in kitchen noise at
/// 9 dB. Only a sound that is hard to hear needs so many: see [`FAR_BEHIND`].
const BEAM: usize = 40;
/// The most tokens that a second of sound can hold, and some on top: as in free decoding.
const TOKENS_A_SECOND: f64 = 6.5;
const TOKENS_ANYWAY: usize = 8;

/// A text that is so much less likely than the best of its length is given up (natural logarithm). In
/// the same experiment, of the steps to what was said, 98 to 99 in 100 were nearer than 6.7 clean and
/// 7.2 at 9 dB, and more than half of them were the best. With 5, 6 and 7 (40 texts), 94.5, 95.8 and
/// 96.0 % were right clean and 72.0, 73.0 and 74.0 % at 9 dB, in times as 0.83 : 1 : 1.15.
const FAR_BEHIND: f32 = 6.0;
/// From so many tokens on, guided texts are given up when the best of them is so much less likely than
/// free speech, for each token: it is something else that is being said, and a wide beam over a long
/// speech takes long. What is asked about is nearer than 1.5.
const TOKENS_TO_JUDGE: usize = 8;
const HOPELESS: f32 = 2.5;
/// Texts that go on are given up when the best that ended is so much likelier.
const CATCH_UP: f32 = 6.0;
/// Where any words may follow, tokens so near to the likeliest one are tried.
const OPEN_WITHIN: f32 = 6.0;
/// So many texts of each network, the likeliest, are weighed by the other. Of 200 random commands in kitchen
/// noise at 9 dB, 16 and 40 gave the same.
const WEIGHED: usize = 16;

/// The tokens laid over the letters of a grammar, remembered by the points of one acceptor.
#[derive(Default)]
pub(super) struct Overlay {
    tree: Vec<TreeNode>,
    acceptor: Option<u64>,
    follow: FxHashMap<Point, Rc<[(u32, Move)]>>,
}

#[derive(Default)]
struct TreeNode {
    children: Vec<(u8, u32)>,
    tokens: Vec<u32>,
}

impl Overlay {
    pub fn new(tokens: &Tokens) -> Self {
        let mut tree = vec![TreeNode::default()];
        for token in 0..tokens.len() as u32 {
            let Some(spelling) = tokens.spelling(token) else {
                continue;
            };
            let mut at = 0;
            for byte in spelling {
                let child = tree[at]
                    .children
                    .iter()
                    .find(|(b, _)| b == byte)
                    .map(|(_, c)| *c);
                at = match child {
                    Some(child) => child as usize,
                    None => {
                        let child = tree.len();
                        tree.push(TreeNode::default());
                        tree[at].children.push((*byte, child as u32));
                        child
                    }
                };
            }
            if at > 0 {
                tree[at].tokens.push(token);
            }
        }
        Self {
            tree,
            ..Self::default()
        }
    }

    /// The tokens that may follow at a point, each with what it leads to. Where open speech is one of
    /// the ways, only those that go on with known words: of the others there are too many.
    fn follow(&mut self, acceptor: &Acceptor, point: Point) -> Rc<[(u32, Move)]> {
        if self.acceptor != Some(acceptor.identity()) {
            self.acceptor = Some(acceptor.identity());
            self.follow.clear();
        }
        if let Some(known) = self.follow.get(&point) {
            return Rc::clone(known);
        }
        let mut found = Vec::new();
        let mut open = vec![(
            0u32,
            Move {
                to: point,
                cost: 0.0,
            },
        )];
        while let Some((node, at)) = open.pop() {
            let node = &self.tree[node as usize];
            found.extend(node.tokens.iter().map(|token| (*token, at)));
            for (byte, child) in &node.children {
                let Some(next) = acceptor.next(at.to, *byte) else {
                    continue;
                };
                if !acceptor.is_only_open(next.to) {
                    open.push((*child, next.after(at)));
                }
            }
        }
        let found: Rc<[(u32, Move)]> = found.into();
        self.follow.insert(point, Rc::clone(&found));
        found
    }
}

/// Where a token leads, if it may follow at a point.
fn lead(acceptor: &Acceptor, point: Point, spelling: &[u8]) -> Option<Move> {
    let begin = Move {
        to: point,
        cost: 0.0,
    };
    spelling.iter().try_fold(begin, |at, byte| {
        Some(acceptor.next(at.to, *byte)?.after(at))
    })
}

/// A text under way, or one that ended.
#[derive(Debug, Clone, Default)]
pub(super) struct Text {
    pub tokens: Vec<u32>,
    /// Natural logarithm of its probability; with that of its end, once it ended.
    pub log: f32,
    /// What its open speech costs.
    pub cost: f32,
    /// Without what may be spelled in several ways.
    plain: String,
}

impl Text {
    /// Its tokens, its end included.
    pub fn choices(&self) -> usize {
        self.tokens.len() + 1
    }

    /// The mean over its tokens, its end included.
    pub fn score(&self) -> f32 {
        self.log / self.choices() as f32
    }

    /// How much likelier it is than another text, for each token, its end included.
    pub fn against(&self, log_other: f32) -> f32 {
        (self.log - log_other) / self.choices() as f32
    }

    fn rank(&self) -> f32 {
        self.log - self.cost + TOKEN_BONUS * self.tokens.len() as f32
    }
}

/// What was heard: freely, and as sentences of the grammar, best first.
pub(super) struct Decoded {
    pub free: Text,
    pub guided: Vec<Text>,
}

/// One more token for a text.
struct Candidate {
    parent: usize,
    token: u32,
    log: f32,
    cost: f32,
    to: Point,
    rank: f32,
}

/// Hears freely, always taking the best next token, and guided by the grammar if there is one: both in
/// the same steps, which costs less than one after the other.
pub(super) fn decode(
    network: &mut Network,
    tokens: &Tokens,
    overlay: &mut Overlay,
    acceptor: Option<&Acceptor>,
    encoded: &Encoded,
) -> Result<Decoded, EarError> {
    let most = (encoded.seconds() * TOKENS_A_SECOND).ceil() as usize + TOKENS_ANYWAY;
    let mut hearing = network.start(encoded)?;
    let mut free = Text::default();
    let mut free_row = Some(0);
    let mut texts: Vec<(Text, Point)> = Vec::new();
    texts.extend(acceptor.map(|acceptor| (Text::default(), acceptor.start())));
    // Both begin with the same row; afterwards the free text, while it goes on, is behind the others.
    let mut rows: Vec<usize> = vec![0; texts.len()];
    let mut ended: Vec<Text> = Vec::new();
    for step in 0..=most {
        let mut parents = Vec::new();
        let mut added = Vec::new();
        if let Some(acceptor) = acceptor {
            let mut next: Vec<Candidate> = Vec::new();
            for (number, (text, point)) in texts.iter().enumerate() {
                let logits = Logits::of(&hearing, rows[number]);
                if let Some(cost) = acceptor.end(*point) {
                    ended.push(Text {
                        log: text.log + logits.log(END),
                        cost: text.cost + cost,
                        ..text.clone()
                    });
                }
                let mut add = |token: u32, lead: Move| {
                    let log = text.log + logits.log(token);
                    let cost = text.cost + lead.cost;
                    next.push(Candidate {
                        parent: number,
                        token,
                        log,
                        cost,
                        to: lead.to,
                        rank: log - cost,
                    });
                };
                for (token, lead) in overlay.follow(acceptor, *point).iter() {
                    add(*token, *lead);
                }
                if acceptor.is_open(*point) {
                    for token in logits.likeliest() {
                        let spelling = tokens.spelling(token);
                        let lead = spelling.and_then(|s| lead(acceptor, *point, s));
                        if let Some(lead) = lead {
                            add(token, lead);
                        }
                    }
                }
            }
            let kept = best_of(next, &texts, tokens);
            // A text that ended beats all that go on once none of them can catch up.
            let best_end = ended
                .iter()
                .map(Text::rank)
                .fold(f32::NEG_INFINITY, f32::max);
            let bonus = TOKEN_BONUS * (step + 1) as f32;
            let mut going_on = Vec::with_capacity(kept.len());
            for (candidate, plain) in kept {
                if candidate.rank + bonus < best_end - CATCH_UP {
                    continue;
                }
                let parent = &texts[candidate.parent].0;
                let mut all = parent.tokens.clone();
                all.push(candidate.token);
                parents.push(rows[candidate.parent]);
                added.push(candidate.token);
                let text = Text {
                    tokens: all,
                    log: candidate.log,
                    cost: candidate.cost,
                    plain,
                };
                going_on.push((text, candidate.to));
            }
            let best = going_on
                .iter()
                .map(|(text, _)| text.log - text.cost)
                .fold(f32::NEG_INFINITY, f32::max);
            let tokens = step + 1;
            if tokens >= TOKENS_TO_JUDGE && best < free.log - HOPELESS * tokens as f32 {
                going_on.clear();
                parents.clear();
                added.clear();
            }
            texts = going_on;
            rows = (0..texts.len()).collect();
        }
        if let Some(row) = free_row {
            let logits = Logits::of(&hearing, row);
            let token = logits.best();
            free.log += logits.log(token);
            free_row = None;
            if token != END {
                free.tokens.push(token);
                free_row = Some(parents.len());
                parents.push(row);
                added.push(token);
            }
        }
        if added.is_empty() || step == most {
            break;
        }
        network.step(&mut hearing, &parents, &added)?;
    }
    ended.sort_by(|a, b| b.rank().total_cmp(&a.rank()));
    let mut spellings: Vec<String> = Vec::new();
    ended.retain(|text| {
        let new = !spellings.contains(&text.plain);
        spellings.push(text.plain.clone());
        new
    });
    ended.truncate(BEAM);
    Ok(Decoded {
        free,
        guided: ended,
    })
}

/// What two networks heard of one sound, as one: each text is as likely as both find it, in the mean of
/// the logarithms. Texts that only one of them thought of are weighed by the other.
pub(super) fn together(
    (network, encoded, decoded): (&mut Network, &Encoded, Decoded),
    (other_network, other_encoded, other): (&mut Network, &Encoded, Decoded),
) -> Result<Decoded, EarError> {
    let (mut texts, mut others) = (decoded.guided, other.guided);
    texts.truncate(WEIGHED);
    others.truncate(WEIGHED);
    // What both heard, both have weighed already.
    let mut only_first = Vec::new();
    for text in &mut texts {
        match others.iter().position(|other| other.plain == text.plain) {
            Some(both) => text.log = (text.log + others.swap_remove(both).log) / 2.0,
            None => only_first.push(text),
        }
    }
    weigh(other_network, other_encoded, only_first)?;
    weigh(network, encoded, others.iter_mut().collect())?;
    texts.append(&mut others);
    texts.sort_by(|a, b| b.rank().total_cmp(&a.rank()));
    let free = Text {
        log: (decoded.free.log + other.free.log) / 2.0,
        ..other.free
    };
    Ok(Decoded {
        free,
        guided: texts,
    })
}

/// Takes another network's word for texts as well: their logarithms become the means of both. What they
/// begin with alike is gone through once.
fn weigh(
    network: &mut Network,
    encoded: &Encoded,
    mut texts: Vec<&mut Text>,
) -> Result<(), EarError> {
    if texts.is_empty() {
        return Ok(());
    }
    let mut logs = vec![0.0; texts.len()];
    let mut hearing = network.start(encoded)?;
    // The texts that go on, each with its row.
    let mut going_on: Vec<(usize, usize)> = (0..texts.len()).map(|text| (text, 0)).collect();
    for step in 0.. {
        let mut rows: Vec<(usize, u32)> = Vec::new();
        let mut next = Vec::with_capacity(going_on.len());
        for (text, row) in going_on {
            let logits = Logits::of(&hearing, row);
            let Some(token) = texts[text].tokens.get(step) else {
                logs[text] += logits.log(END);
                continue;
            };
            logs[text] += logits.log(*token);
            let choice = (row, *token);
            let known = rows.iter().position(|known| *known == choice);
            next.push((text, known.unwrap_or(rows.len())));
            if known.is_none() {
                rows.push(choice);
            }
        }
        if next.is_empty() {
            break;
        }
        going_on = next;
        let (parents, tokens): (Vec<usize>, Vec<u32>) = rows.into_iter().unzip();
        network.step(&mut hearing, &parents, &tokens)?;
    }
    for (text, log) in texts.iter_mut().zip(logs) {
        text.log = (text.log + log) / 2.0;
    }
    Ok(())
}

/// The best candidates that differ in more than spelling, best first, with their plain spelling.
fn best_of(
    mut next: Vec<Candidate>,
    texts: &[(Text, Point)],
    tokens: &Tokens,
) -> Vec<(Candidate, String)> {
    let order = |a: &Candidate, b: &Candidate| b.rank.total_cmp(&a.rank);
    let best = next
        .iter()
        .map(|c| c.rank)
        .fold(f32::NEG_INFINITY, f32::max);
    next.retain(|candidate| candidate.rank > best - FAR_BEHIND);
    next.sort_unstable_by(order);
    let mut kept: Vec<(Candidate, String)> = Vec::with_capacity(BEAM);
    for candidate in next {
        let mut spelling = texts[candidate.parent].0.plain.clone();
        spelling.push_str(&plain(tokens.spelling(candidate.token).unwrap_or_default()));
        if kept.iter().all(|(_, known)| *known != spelling) {
            kept.push((candidate, spelling));
            if kept.len() == BEAM {
                break;
            }
        }
    }
    kept
}

/// The logits of one row, as logarithms of probabilities.
struct Logits<'h> {
    logits: &'h [f32],
    best: u32,
    log_total: f32,
}

impl<'h> Logits<'h> {
    fn of(hearing: &'h Hearing, row: usize) -> Self {
        let logits = hearing.logits(row);
        let numbered = logits.iter().zip(0u32..);
        let best = numbered.fold((f32::NEG_INFINITY, END), |best, (logit, token)| {
            if *logit > best.0 {
                (*logit, token)
            } else {
                best
            }
        });
        Self {
            logits,
            best: best.1,
            log_total: hearing.log_total(row),
        }
    }

    /// The natural logarithm of a token's probability.
    fn log(&self, token: u32) -> f32 {
        self.logits[token as usize] - self.log_total
    }

    fn best(&self) -> u32 {
        self.best
    }

    /// The tokens that are worth trying where any may follow.
    fn likeliest(&self) -> Vec<u32> {
        let least = self.logits[self.best as usize] - OPEN_WITHIN;
        let numbered = self.logits.iter().zip(0u32..);
        let near = numbered.filter(|(logit, _)| **logit >= least);
        near.map(|(_, token)| token).collect()
    }
}

/// A text without what may be spelled in several ways.
fn plain(text: &[u8]) -> String {
    let letters = text.iter().filter(|byte| byte.is_ascii_alphanumeric());
    letters
        .map(|byte| byte.to_ascii_lowercase() as char)
        .collect()
}
