//! Whether confidence means what it says: of the commands given 0.9, nine in ten should be right.

use std::fmt;

use super::score::Line;

/// Where one bin ends and the next begins.
const EDGES: [f32; 7] = [0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98];

/// For each bin: commands, how many were right, and the sum of their confidence.
#[derive(Default)]
pub struct Reliability {
    bins: [(usize, usize, f32); EDGES.len()],
}

impl Reliability {
    /// Counts a command; what isn't one has no right answer.
    pub fn add(&mut self, line: &Line) {
        if let (true, Some(confidence)) = (line.meant, line.confidence) {
            let bin = EDGES
                .iter()
                .rposition(|edge| confidence >= *edge)
                .unwrap_or(0);
            let (number, right, sum) = &mut self.bins[bin];
            *number += 1;
            *right += usize::from(line.right);
            *sum += confidence;
        }
    }
}

impl fmt::Display for Reliability {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "| confidence from | commands | mean confidence | right |\n|---|---|---|---|"
        )?;
        for (edge, (number, right, sum)) in EDGES.iter().zip(self.bins) {
            let share = |part: f32| 100.0 * part / number.max(1) as f32;
            let (mean, right) = (share(sum), share(right as f32));
            writeln!(f, "| {edge:.2} | {number} | {mean:.1} % | {right:.1} % |")?;
        }
        Ok(())
    }
}
