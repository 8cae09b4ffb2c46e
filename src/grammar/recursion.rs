//! Left recursion: a rule that can come back to its own beginning without a word in between.

use super::network::{Arc, Span};

/// A rule that refers to another one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Reference {
    /// The rule that it is in.
    pub from: u32,
    /// The node where it begins.
    pub node: u32,
    /// The rule that it refers to.
    pub rule: u32,
    pub line: usize,
}

/// The first circle of rules that begin with each other, in the order of the file: the line where
/// it begins, and the rules of it, the first one again at the end.
pub(super) fn left_recursion(
    nodes: &[Vec<(f32, Arc)>],
    rules: &[Span],
    references: &[Reference],
) -> Option<(usize, Vec<u32>)> {
    let reached = reached_silently(nodes, rules);
    let mut beginnings: Vec<Vec<Reference>> = vec![Vec::new(); rules.len()];
    for reference in references.iter().filter(|r| reached[r.node as usize]) {
        beginnings[reference.from as usize].push(*reference);
    }
    let mut state = vec![State::New; rules.len()];
    for rule in 0..rules.len() as u32 {
        if state[rule as usize] == State::New
            && let Some(circle) = circle_from(rule, &beginnings, &mut state)
        {
            return Some(circle);
        }
    }
    None
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    New,
    OnTheWay,
    Done,
}

/// Goes through all that a rule may begin with, without recursion: a file can have a long chain.
fn circle_from(
    rule: u32,
    beginnings: &[Vec<Reference>],
    state: &mut [State],
) -> Option<(usize, Vec<u32>)> {
    let mut path = vec![(rule, 0)];
    state[rule as usize] = State::OnTheWay;
    while let Some((rule, next)) = path.last_mut() {
        let Some(reference) = beginnings[*rule as usize].get(*next) else {
            state[*rule as usize] = State::Done;
            path.pop();
            continue;
        };
        *next += 1;
        match state[reference.rule as usize] {
            State::New => {
                state[reference.rule as usize] = State::OnTheWay;
                path.push((reference.rule, 0));
            }
            State::OnTheWay => {
                let at = path.iter().position(|(rule, _)| *rule == reference.rule)?;
                let (first, after) = path[at];
                let line = beginnings[first as usize][after - 1].line;
                let rules = path[at..].iter().map(|(rule, _)| *rule);
                return Some((line, rules.chain([first]).collect()));
            }
            State::Done => {}
        }
    }
    None
}

/// For each node, whether it is reached from its rule's start before any word is said. A reference
/// is passed once its rule turns out to have a silent way through.
fn reached_silently(nodes: &[Vec<(f32, Arc)>], rules: &[Span]) -> Vec<bool> {
    let mut reached = vec![false; nodes.len()];
    let mut ends = vec![None; nodes.len()];
    let mut silent = vec![false; rules.len()];
    // Nodes behind references to rules that aren't known to be silent yet.
    let mut behind: Vec<Vec<u32>> = vec![Vec::new(); rules.len()];
    let mut open: Vec<u32> = rules.iter().map(|span| span.start).collect();
    for (rule, span) in rules.iter().enumerate() {
        ends[span.end as usize] = Some(rule);
    }
    while let Some(node) = open.pop() {
        if std::mem::replace(&mut reached[node as usize], true) {
            continue;
        }
        if let Some(rule) = ends[node as usize] {
            silent[rule] = true;
            open.append(&mut behind[rule]);
        }
        for (_, arc) in &nodes[node as usize] {
            match arc {
                Arc::Step { to } | Arc::Mark { to, .. } => open.push(*to),
                Arc::Call { rule, to } if silent[*rule as usize] => open.push(*to),
                Arc::Call { rule, to } => behind[*rule as usize].push(*to),
                Arc::Word { .. } | Arc::Item { .. } | Arc::Text { .. } => {}
            }
        }
    }
    reached
}
