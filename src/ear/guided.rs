//! Guided decoding: a beam search in which only sentences of the grammar can be heard.
//!
//! The grammar says which letters may follow, the tokens of the model are laid over them as a tree
//! of bytes, and the search keeps the best few texts. Probabilities are those among all tokens, also
//! those that the grammar forbids: so a text that was forced shows by its score.

use std::rc::Rc;

use rustc_hash::FxHashMap;

use super::EarError;
use super::network::{Encoded, Network};
use super::tokens::{END, Tokens};
use crate::grammar::{Acceptor, Point};

/// Texts kept at each step. In an earlier experiment on 150 commands each of 8 voices, 4, 8 and 16
/// texts gave 92.9, 95.6 and 96.4 % right clean, and 72.0, 82.2 and 84.4 % in noise at 9 dB.
const BEAM: usize = 8;
/// Added for each token when texts are compared, so that a short one doesn't win for its length. In
/// the same experiment 1.0 was enough, and more changed nothing.
const TOKEN_BONUS: f32 = 1.0;
/// The most tokens that a second of sound can hold, and some on top: as in free decoding.
const TOKENS_A_SECOND: f64 = 6.5;
const TOKENS_ANYWAY: usize = 8;

/// The tokens laid over the letters of a grammar, remembered by the points of one acceptor.
#[derive(Default)]
pub(super) struct Overlay {
    tree: Vec<TreeNode>,
    acceptor: Option<u64>,
    follow: FxHashMap<Point, Rc<[(u32, Point)]>>,
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

    /// The tokens that may follow at a point, each with the point behind it.
    fn follow(&mut self, acceptor: &Acceptor, point: Point) -> Rc<[(u32, Point)]> {
        if self.acceptor != Some(acceptor.identity()) {
            self.acceptor = Some(acceptor.identity());
            self.follow.clear();
        }
        if let Some(known) = self.follow.get(&point) {
            return Rc::clone(known);
        }
        let mut found = Vec::new();
        let mut open = vec![(0u32, point)];
        while let Some((node, at)) = open.pop() {
            let node = &self.tree[node as usize];
            found.extend(node.tokens.iter().map(|token| (*token, at)));
            for (byte, child) in &node.children {
                open.extend(acceptor.next(at, *byte).map(|next| (*child, next)));
            }
        }
        let found: Rc<[(u32, Point)]> = found.into();
        self.follow.insert(point, Rc::clone(&found));
        found
    }
}

/// A text under way, or one that ended.
#[derive(Clone)]
pub(super) struct Text {
    pub tokens: Vec<u32>,
    /// Natural logarithm of its probability; with that of its end, once it ended.
    log: f32,
    point: Point,
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
        self.log + TOKEN_BONUS * self.tokens.len() as f32
    }
}

/// The best sentences of the grammar, best first.
pub(super) fn decode(
    network: &mut Network,
    tokens: &Tokens,
    overlay: &mut Overlay,
    acceptor: &Acceptor,
    encoded: &Encoded,
) -> Result<Vec<Text>, EarError> {
    let most = (encoded.seconds() * TOKENS_A_SECOND).ceil() as usize + TOKENS_ANYWAY;
    let mut hearing = network.start(encoded)?;
    let mut texts = vec![Text {
        tokens: Vec::new(),
        log: 0.0,
        point: acceptor.start(),
    }];
    let mut ended: Vec<Text> = Vec::new();
    for _ in 0..most {
        let mut next: Vec<(usize, u32, f32, Point)> = Vec::new();
        for (number, text) in texts.iter().enumerate() {
            let total = hearing.log_total(number);
            let logits = hearing.logits(number);
            if acceptor.may_end(text.point) {
                let log = text.log + logits[END as usize] - total;
                ended.push(Text {
                    log,
                    ..text.clone()
                });
            }
            for (token, point) in overlay.follow(acceptor, text.point).iter() {
                next.push((
                    number,
                    *token,
                    text.log + logits[*token as usize] - total,
                    *point,
                ));
            }
        }
        next.sort_unstable_by(|a, b| b.2.total_cmp(&a.2));
        let mut kept: Vec<(usize, u32, f32, Point)> = Vec::with_capacity(BEAM);
        let mut spellings: Vec<String> = Vec::with_capacity(BEAM);
        for candidate in next {
            // The same words in another spelling are no other text.
            let mut all = texts[candidate.0].tokens.clone();
            all.push(candidate.1);
            let spelling = plain(&tokens.text(&all));
            if !spellings.contains(&spelling) {
                spellings.push(spelling);
                kept.push(candidate);
                if kept.len() == BEAM {
                    break;
                }
            }
        }
        // A text that ended beats all that go on once none of them can catch up.
        let best_end = ended
            .iter()
            .map(Text::rank)
            .fold(f32::NEG_INFINITY, f32::max);
        let bonus = |length: usize| TOKEN_BONUS * length as f32;
        kept.retain(|(parent, _, log, _)| {
            log + bonus(texts[*parent].tokens.len() + 1) > best_end - 6.0
        });
        if kept.is_empty() {
            break;
        }
        let parents: Vec<usize> = kept.iter().map(|k| k.0).collect();
        let added: Vec<u32> = kept.iter().map(|k| k.1).collect();
        network.step(&mut hearing, &parents, &added)?;
        texts = kept
            .into_iter()
            .map(|(parent, token, log, point)| {
                let mut all = texts[parent].tokens.clone();
                all.push(token);
                Text {
                    tokens: all,
                    log,
                    point,
                }
            })
            .collect();
    }
    ended.sort_by(|a, b| b.rank().total_cmp(&a.rank()));
    let mut spellings: Vec<String> = Vec::new();
    ended.retain(|text| {
        let spelling = plain(&tokens.text(&text.tokens));
        let new = !spellings.contains(&spelling);
        spellings.push(spelling);
        new
    });
    ended.truncate(BEAM);
    Ok(ended)
}

/// A text without what may be spelled in several ways.
fn plain(text: &str) -> String {
    text.chars()
        .filter(char::is_ascii_alphanumeric)
        .map(|c| c.to_ascii_lowercase())
        .collect()
}
