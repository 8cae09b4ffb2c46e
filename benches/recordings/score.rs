//! Counts, and a table of them.

use std::time::Duration;

use tellshelf::grammar::Verdict;

/// What came of one recording.
pub struct Line {
    pub right: bool,
    /// Whether it was a command at all.
    pub meant: bool,
    pub verdict: Verdict,
    pub shown: String,
    pub hear: Duration,
    pub understand: Duration,
    /// The time that free decoding takes of the same sound, in the same run.
    pub free: Duration,
    pub confidence: Option<f32>,
}

/// All of a folder.
#[derive(Default)]
pub struct Score {
    lines: Vec<Line>,
}

impl Score {
    pub const HEADING: &str = "| recordings | number | right | accepted wrong | asked | rejected | \
        hearing, ms (median, 95 %) | understanding, ms (median, 95 %) | hearing : free decoding |\n|---|---|---|---|---|---|---|---|---|";

    pub fn add(&mut self, line: Line) {
        self.lines.push(line);
    }

    /// One row of the table. What wasn't meant for the tool is right when it is rejected.
    pub fn row(&self, name: &str) -> String {
        let count = |test: &dyn Fn(&Line) -> bool| self.lines.iter().filter(|l| test(l)).count();
        let all = self.lines.len();
        let right = count(&|l| {
            if l.meant {
                l.right
            } else {
                l.verdict == Verdict::Reject
            }
        });
        let wrong = count(&|l| l.verdict == Verdict::Accept && !(l.meant && l.right));
        let asked = count(&|l| l.verdict == Verdict::Ask);
        let rejected = count(&|l| l.verdict == Verdict::Reject);
        let percent = 100.0 * right as f64 / all.max(1) as f64;
        let hear = self.times(|l| l.hear);
        let understand = self.times(|l| l.understand);
        let total = |time: fn(&Line) -> Duration| self.lines.iter().map(time).sum::<Duration>();
        let ratio = total(|l| l.hear).as_secs_f64() / total(|l| l.free).as_secs_f64();
        format!(
            "| {name} | {all} | {right} ({percent:.1} %) | {wrong} | {asked} | {rejected} | {hear} | {understand} | {ratio:.1} |"
        )
    }

    fn times(&self, time: impl Fn(&Line) -> Duration) -> String {
        let mut times: Vec<Duration> = self.lines.iter().map(time).collect();
        times.sort();
        let at = |share: f64| {
            let place = ((times.len() as f64 * share) as usize).min(times.len().saturating_sub(1));
            times
                .get(place)
                .map_or(0.0, |time| time.as_secs_f64() * 1000.0)
        };
        format!("{:.0}, {:.0}", at(0.5), at(0.95))
    }
}

/// The most memory this process has had, as the system says.
pub fn peak_memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.map_or("not known here", str::trim).to_owned()
}
