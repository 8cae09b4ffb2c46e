//! Every sentence of a small grammar, for recognisers that want a list.

use std::collections::BTreeSet;

use super::network::{Arc, Network, Span};

/// How long a sentence may get, in words, before its grammar counts as endless.
const MOST_WORDS: usize = 24;

/// All sentences, in normal form; `None` where there are more than `most`, or no end of them.
pub(super) fn sentences(network: &Network, most: usize) -> Option<Vec<String>> {
    let mut all = BTreeSet::new();
    for span in &network.intent_spans {
        let mut walk = Walk {
            network,
            most,
            steps: 0,
            found: &mut all,
        };
        walk.from(span.start, *span, &mut Vec::new(), &mut Vec::new())?;
    }
    Some(all.into_iter().collect())
}

struct Walk<'w> {
    network: &'w Network,
    most: usize,
    steps: usize,
    found: &'w mut BTreeSet<String>,
}

impl Walk<'_> {
    /// Follows every way on from a node. `returns` holds the rules that are open, innermost last:
    /// each with the node behind the call and the rule that was left for it.
    fn from(
        &mut self,
        node: u32,
        rule: Span,
        returns: &mut Vec<(u32, Span)>,
        words: &mut Vec<u32>,
    ) -> Option<()> {
        self.steps += 1;
        // Silent loops and grammars with many ways to say the same end here.
        if self.steps > self.most * 200 || words.len() > MOST_WORDS {
            return None;
        }
        if node == rule.end {
            match returns.pop() {
                Some((behind, outer)) => {
                    self.from(behind, outer, returns, words)?;
                    returns.push((behind, outer));
                }
                None => {
                    self.keep(words);
                    return (self.found.len() <= self.most).then_some(());
                }
            }
        }
        let network = self.network;
        for (_, _, arc) in network.arcs(node) {
            match *arc {
                Arc::Step { to } | Arc::Mark { to, .. } => self.from(to, rule, returns, words)?,
                Arc::Word { word, to } => {
                    words.push(word);
                    self.from(to, rule, returns, words)?;
                    words.pop();
                }
                Arc::Call { rule: inner, to } => {
                    let inner = network.rules[inner as usize];
                    returns.push((to, rule));
                    self.from(inner.start, inner, returns, words)?;
                    returns.pop();
                }
                Arc::Item { .. } | Arc::Text { .. } => return None,
            }
        }
        Some(())
    }

    fn keep(&mut self, words: &[u32]) {
        let letters = words
            .iter()
            .flat_map(|w| &self.network.words[*w as usize].letters);
        self.found
            .insert(letters.collect::<String>().trim_end().to_owned());
    }
}
