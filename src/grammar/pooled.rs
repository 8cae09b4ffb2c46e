//! What another ear heard, beside the guided one: both count.
//!
//! The other ear listened freely, and says how likely each of its texts is beside the others. Those that are
//! sentences of the grammar, word for word, are read by the same automaton as the guided ones. A meaning
//! gains where both ears heard it, and loses where only one did; a meaning that only the other ear heard is
//! never taken without a question.

use chrono::NaiveDate;

use super::heard::Beside;
use super::lexicon::Lexicon;
use super::meaning::Command;
use super::meanings::Meant;
use super::understand::Grammar;

/// The least that a meaning's share is taken for which the other ear didn't hear at all: it may have missed
/// it. Chosen with care and not measured, as there is no second model for English on the package indexes:
/// with a twentieth, the word of the other ear is worth at most 3 of natural logarithm, about as much
/// as two letters that sound otherwise.
const LEAST_SHARE: f32 = 0.05;

/// Pools meanings with what another ear heard: changes their likelihoods, and gives the command that the
/// other ear holds for likelier than all else together, if there is one.
pub(super) fn pool(
    grammar: &Grammar,
    meanings: &mut [Meant<'_>],
    beside: &[Beside],
    names: &Lexicon,
    today: NaiveDate,
) -> Option<Command> {
    let mut shares: Vec<(Command, f32)> = Vec::new();
    for heard in beside {
        let Some(command) = grammar.read(&heard.text, names, today) else {
            continue;
        };
        let share = heard.log_share.exp();
        match shares.iter_mut().find(|(known, _)| known.means(&command)) {
            Some((_, known)) => *known += share,
            None => shares.push((command, share)),
        }
    }
    // An ear that heard no command at all says nothing of which it was.
    if shares.is_empty() {
        return None;
    }
    for meaning in meanings.iter_mut() {
        let its = shares.iter().find(|(c, _)| c.means(&meaning.command));
        let share = its.map_or(0.0, |(_, share)| *share);
        meaning.log += share.max(LEAST_SHARE).ln();
    }
    meanings.sort_by(|a, b| b.log.total_cmp(&a.log));
    // A name that nobody knows makes a command of any talk.
    let likely = shares.into_iter().find(|(_, share)| *share > 0.5);
    likely.and_then(|(command, _)| command.unknown_name().is_none().then_some(command))
}
