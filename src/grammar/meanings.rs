//! What guided sentences mean: many ways to say one thing count together.

use chrono::NaiveDate;

use super::acceptor::unknown_cost;
use super::heard::Fit;
use super::lexicon::Lexicon;
use super::meaning::Command;
use super::understand::Grammar;

/// Added for each token when sentences are compared, so that a short one doesn't win for its length:
/// here, and in the search for them. On 800 random commands, 0, 0.5, 1 and 1.5 gave 92.0, 93.0, 94.0
/// and 93.2 % right clean, and 63.5, 65.5, 66.8 and 66.5 % in kitchen noise at 9 dB.
pub const TOKEN_BONUS: f32 = 1.0;

/// What a letter costs by which a name differs from one that was learned by hearing, natural logarithm:
/// another hearing of it is rarely spelled alike. It is taken for that one where this is less than what
/// a name costs that nobody knows.
const NEAR_LETTER: f32 = 2.0;

/// A meaning, with the sentences that may have been said for it.
#[derive(Debug, Clone)]
pub(super) struct Meant<'f> {
    pub command: Command,
    /// The likeliest sentence.
    pub fit: &'f Fit,
    /// Natural logarithm of the probability of all its sentences, less what open speech and unlikely
    /// choices cost.
    pub log: f32,
    /// Whether a name in the likeliest sentence isn't known as it was heard.
    pub unknown_name: bool,
    /// The names heard for it that nobody knows, each with the logarithm of its sentence.
    pub heard: Vec<(String, f32)>,
}

/// The meanings of guided sentences, likeliest first.
pub(super) fn meanings<'f>(
    grammar: &Grammar,
    guided: &'f [Fit],
    names: &Lexicon,
    today: NaiveDate,
) -> Vec<Meant<'f>> {
    let mut meanings: Vec<Meant<'f>> = Vec::new();
    for fit in guided {
        let Some(command) = grammar.read(&fit.text, names, today) else {
            continue;
        };
        let log = (fit.score + TOKEN_BONUS) * fit.tokens as f32 - fit.cost;
        let heard = command.unknown_name().map(|name| (name.to_owned(), log));
        if let Some((name, _)) = &heard
            && let Some((item, letters)) = names.nearest_heard(name)
        {
            // Two ways to take it: as a name that nobody knows, and as this one in another spelling.
            let near = NEAR_LETTER * letters;
            let log = log + (unknown_cost(name) - near).max(0.0);
            add(
                &mut meanings,
                command.with_name(item),
                fit,
                log,
                heard.clone(),
            );
        }
        add(&mut meanings, command, fit, log, heard);
    }
    meanings.sort_by(|a, b| b.log.total_cmp(&a.log));
    meanings
}

fn add<'f>(
    meanings: &mut Vec<Meant<'f>>,
    command: Command,
    fit: &'f Fit,
    log: f32,
    heard: Option<(String, f32)>,
) {
    match meanings.iter_mut().find(|m| m.command.means(&command)) {
        Some(known) => {
            known.log = log_of_sum(known.log, log);
            known.heard.extend(heard);
        }
        None => meanings.push(Meant {
            command,
            fit,
            log,
            unknown_name: heard.is_some(),
            heard: heard.into_iter().collect(),
        }),
    }
}

/// The logarithm of the sum of two numbers whose logarithms are given.
fn log_of_sum(a: f32, b: f32) -> f32 {
    a.max(b) + (-(a - b).abs()).exp().ln_1p()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_equal_halves_make_a_whole() {
        let half = 0.5f32.ln();
        assert!(log_of_sum(half, half).abs() < 1e-6);
        assert_eq!(log_of_sum(-1.0, f32::NEG_INFINITY), -1.0);
    }
}
