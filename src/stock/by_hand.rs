//! Which of a few things is the one in hand.
//!
//! [`rank`] says how likely each is and rules nothing out; here something is done with the one that is taken for it, so
//! a thing is only taken for it unasked if everything else is known to feel otherwise.

use super::alike::{Likeness, likeness};
use super::by_feel::{Asked, Candidate, Sureness, rank};
use super::names::ItemName;

/// Which of some things is the one in hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ByHand {
    /// This one, as all others are known to feel otherwise.
    This(ItemName),
    /// The first of these is likeliest, and isn't the only one that it may be.
    Likely(Vec<ItemName>),
    /// One of these, and nothing tells which.
    OneOf(Vec<ItemName>),
    /// Nothing that may be told by feel: a medicine may feel so.
    Medicine,
    /// None of them, as far as is known.
    None,
}

/// How what is felt goes with what is known of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fit {
    /// Something agrees, and nothing speaks against it.
    Agrees,
    /// Nothing is known that agrees or speaks against it.
    Open,
    /// It is known to feel otherwise.
    Apart,
}

/// Tells which of some things, each there once, is the one in hand.
///
/// A medicine is never told by how it feels, only by a mark that was put on it; and where it may be a medicine, nothing
/// else is offered.
///
/// ```
/// use tellshelf::stock::{Asked, ByHand, Candidate, Container, Feel, ItemName, by_hand};
/// let name = |name: &str| ItemName::new(name).unwrap();
/// let thing = |item: &str, feel: Feel| Candidate {
///     item: name(item),
///     feel,
///     marks: vec![],
///     places: vec![],
///     medicine: false,
/// };
/// let (can, jar) = (Feel::default().with(Container::Can), Feel::default().with(Container::Jar));
/// let asked = Asked { feel: can, ..Asked::default() };
/// let things = [thing("corn", can), thing("jam", jar)];
/// assert_eq!(by_hand(&asked, &things), ByHand::This(name("corn")));
/// let things = [thing("corn", can), thing("rice", Feel::default())];
/// assert_eq!(by_hand(&asked, &things), ByHand::Likely(vec![name("corn")]));
/// ```
pub fn by_hand(asked: &Asked, things: &[Candidate]) -> ByHand {
    let is_marked = asked.marks.as_ref().is_some_and(|marks| !marks.is_empty());
    let with = |wanted: Fit| things.iter().filter(move |one| fit(asked, one) == wanted);
    // Beside a medicine that feels so nothing is offered: a hasty yes would put the medicine where food is.
    if !is_marked && with(Fit::Agrees).any(|one| one.medicine) {
        return ByHand::Medicine;
    }
    let agrees: Vec<&Candidate> = with(Fit::Agrees).collect();
    let is_open = with(Fit::Open).next().is_some();
    match agrees.as_slice() {
        [] if is_marked => by_mark_alone(asked, things),
        [] => ByHand::None,
        [one] if is_open => ByHand::Likely(vec![one.item.clone()]),
        [one] => ByHand::This(one.item.clone()),
        several => likeliest(asked, several),
    }
}

/// The mark is there, and the thing feels otherwise: a hand errs, and so does who told how it feels.
fn by_mark_alone(asked: &Asked, things: &[Candidate]) -> ByHand {
    let marked = things.iter().filter(|one| is_marked_so(asked, one));
    let marked: Vec<ItemName> = marked.map(|one| one.item.clone()).collect();
    match marked.len() {
        0 => ByHand::None,
        1 => ByHand::Likely(marked),
        _ => ByHand::OneOf(marked),
    }
}

fn likeliest(asked: &Asked, several: &[&Candidate]) -> ByHand {
    let things: Vec<Candidate> = several.iter().map(|one| (*one).clone()).collect();
    let ranked = rank(asked, &things).ranked;
    // The ranking leaves medicines out.
    let are_all_ranked = ranked.len() == things.len();
    let first = ranked.first().and_then(|first| first.sureness);
    if are_all_ranked && first >= Some(Sureness::Likely) {
        return ByHand::Likely(ranked.into_iter().map(|one| one.item).collect());
    }
    ByHand::OneOf(things.into_iter().map(|one| one.item).collect())
}

fn fit(asked: &Asked, thing: &Candidate) -> Fit {
    if !is_marked_so(asked, thing) {
        return Fit::Apart;
    }
    let known = asked.feel.beside(&thing.feel);
    let likenesses = known.filter_map(|(felt, known)| Some(likeness(felt, known?)));
    let likenesses: Vec<Likeness> = likenesses.collect();
    let is_said = |one: &Likeness| matches!(one, Likeness::Same | Likeness::Near);
    let has_marks = asked.marks.as_ref().is_some_and(|marks| !marks.is_empty());
    if likenesses.contains(&Likeness::Apart) {
        Fit::Apart
    } else if has_marks || likenesses.iter().any(is_said) {
        Fit::Agrees
    } else {
        Fit::Open
    }
}

/// Whether each mark that is felt may be one of the thing's. One that isn't felt may have come off.
fn is_marked_so(asked: &Asked, thing: &Candidate) -> bool {
    let mut felt = asked.marks.iter().flatten();
    felt.all(|mark| thing.marks.iter().any(|its| mark.may_be(*its)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::{Feel, Mark};

    fn thing(name: &str, feel: &str, marks: &[&str]) -> Candidate {
        let words: Vec<&str> = feel.split_whitespace().collect();
        Candidate {
            item: item(name),
            feel: Feel::read(&words).0,
            marks: marks.iter().map(|mark| mark.parse().unwrap()).collect(),
            places: vec![],
            medicine: false,
        }
    }

    fn item(name: &str) -> ItemName {
        ItemName::new(name).unwrap()
    }

    fn items(names: &[&str]) -> Vec<ItemName> {
        names.iter().map(|name| item(name)).collect()
    }

    fn asked(said: &str) -> Asked {
        let words: Vec<&str> = said.split_whitespace().collect();
        let (marks, rest) = Mark::read(&words);
        let feel = Feel::read(&rest).0;
        Asked {
            feel,
            marks,
            place: None,
        }
    }

    #[test]
    fn what_is_known_better_is_likely_and_never_sure_while_another_may_be_it() {
        let things = [
            thing("tuna", "can", &[]),
            thing("sardines", "flat oblong can with a pop top", &[]),
        ];
        let likely = ByHand::Likely(items(&["sardines", "tuna"]));
        assert_eq!(
            by_hand(&asked("a flat oblong can with a pop top"), &things),
            likely
        );
    }

    #[test]
    fn of_equals_each_is_named() {
        let things = [thing("corn", "can", &[]), thing("peas", "can", &[])];
        assert_eq!(
            by_hand(&asked("a can"), &things),
            ByHand::OneOf(items(&["corn", "peas"]))
        );
        assert_eq!(by_hand(&asked("a jar"), &things), ByHand::None);
    }

    #[test]
    fn a_medicine_is_told_by_its_mark_alone() {
        let aspirin = Candidate {
            medicine: true,
            ..thing("aspirin", "small bottle", &["1 card"])
        };
        let alone = [aspirin.clone(), thing("rice", "bag", &[])];
        assert_eq!(by_hand(&asked("a small bottle"), &alone), ByHand::Medicine);
        assert_eq!(
            by_hand(&asked("a bottle with a card"), &alone),
            ByHand::This(item("aspirin"))
        );
        // Nor is anything else that feels so.
        let beside = [aspirin, thing("sprinkles", "small bottle", &[])];
        assert_eq!(by_hand(&asked("a small bottle"), &beside), ByHand::Medicine);
    }

    #[test]
    fn a_mark_on_what_feels_otherwise_is_asked_about() {
        let things = [
            thing("corn", "can", &["2 band lid"]),
            thing("jam", "jar", &[]),
        ];
        let likely = ByHand::Likely(items(&["corn"]));
        assert_eq!(by_hand(&asked("a jar with two bands"), &things), likely);
        assert_eq!(
            by_hand(&asked("two bands"), &things),
            ByHand::This(item("corn"))
        );
        assert_eq!(
            by_hand(&asked("two bands at the top"), &things),
            ByHand::None
        );
    }
}
