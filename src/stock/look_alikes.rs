//! Things that can't be told apart by hand, and a mark to tell them apart by.

use super::alike::{Likeness, likeness};
use super::by_feel::Candidate;
use super::mark::{Mark, MarkKind};

/// The most of a kind that is proposed: up to three are common practice, and more have to be counted.
const MOST_PROPOSED: u8 = 3;

/// The others that can't be told from a thing by what is known of both: the same container, no other property that
/// differs, and the same marks. By name. Medicines are among them: that a food feels like one has to be said.
///
/// Where the container of either isn't known, nothing is: it is no look-alike. Of two values that people use for one
/// thing (small and medium) the hand still tells the difference when it holds both.
///
/// ```
/// use tellshelf::stock::{Candidate, Container, Feel, ItemName, free_mark, look_alikes};
/// let can = |name: &str, marks: &[&str]| Candidate {
///     item: ItemName::new(name).unwrap(),
///     feel: Feel::default().with(Container::Can),
///     marks: marks.iter().map(|mark| mark.parse().unwrap()).collect(),
///     places: vec![],
///     medicine: false,
/// };
/// let others = [can("beans", &[]), can("corn", &["1 band"])];
/// let soup = can("soup", &[]);
/// assert_eq!(look_alikes(&soup, &others), [&others[0]]);
/// assert_eq!(free_mark(&soup, &others, None), "2 band".parse().ok());
/// ```
pub fn look_alikes<'a>(new: &Candidate, others: &'a [Candidate]) -> Vec<&'a Candidate> {
    let mut found: Vec<&Candidate> = others
        .iter()
        .filter(|other| other.item != new.item && feels_like(new, other))
        .collect();
    found.sort_by(|one, other| one.item.cmp(&other.item));
    found
}

/// The others whose mark may be taken for one of a thing's, whatever else is known of them. By name. A mark means one
/// thing in one place, and a hand that feels no spot told can't tell 2 bands from the 2 bands on a lid.
///
/// ```
/// use tellshelf::stock::{Candidate, Feel, ItemName, marked_alike};
/// let thing = |name: &str, mark: &str| Candidate {
///     item: ItemName::new(name).unwrap(),
///     feel: Feel::default(),
///     marks: vec![mark.parse().unwrap()],
///     places: vec![],
///     medicine: false,
/// };
/// let others = [thing("beans", "2 band lid"), thing("corn", "1 band")];
/// assert_eq!(marked_alike(&thing("soup", "2 band"), &others), [&others[0]]);
/// assert!(marked_alike(&thing("soup", "2 band top"), &others).is_empty());
/// ```
pub fn marked_alike<'a>(new: &Candidate, others: &'a [Candidate]) -> Vec<&'a Candidate> {
    let shares = |other: &Candidate| {
        let mut marks = other.marks.iter();
        marks.any(|its| new.marks.iter().any(|mark| mark.may_be(*its)))
    };
    let mut found: Vec<&Candidate> = others
        .iter()
        .filter(|other| other.item != new.item && shares(other))
        .collect();
    found.sort_by(|one, other| one.item.cmp(&other.item));
    found
}

fn feels_like(one: &Candidate, other: &Candidate) -> bool {
    let knows_containers = one.feel.container.is_some() && other.feel.container.is_some();
    let may_be_one = one.feel.beside(&other.feel).all(|(one, other)| {
        other.is_none_or(|other| matches!(likeness(one, other), Likeness::Same | Likeness::Beside))
    });
    knows_containers
        && may_be_one
        && is_enough(one, other)
        && are_marked_alike(&one.marks, &other.marks)
}

/// Whether enough was told to speak of likeness: a flat oblong can and a small one have nothing in common but that both are
/// cans. Of one that is a can and nothing else, any can may be its like.
fn is_enough(one: &Candidate, other: &Candidate) -> bool {
    let known_of_both = one
        .feel
        .beside(&other.feel)
        .filter(|(_, other)| other.is_some());
    let is_bare = |known: &Candidate| known.feel.iter().count() == 1;
    known_of_both.count() > 1 || is_bare(one) || is_bare(other)
}

/// Whether each mark of the one may be one of the other's.
fn are_marked_alike(one: &[Mark], other: &[Mark]) -> bool {
    match one {
        [] => other.is_empty(),
        [mark, rest @ ..] => other.iter().enumerate().any(|(at, its)| {
            let others: Vec<Mark> = [&other[..at], &other[at + 1..]].concat();
            mark.may_be(*its) && are_marked_alike(rest, &others)
        }),
    }
}

/// A mark for a thing that nothing else has, wherever on it: the first that is free of 1 to 3 of the preferred kind,
/// then of 1, 2 or 3 bands, a clip, a piece of tape, a notch, a card, and 2 or 3 of those.
///
/// Marks on medicines and marks on food are of different kinds, always: bands on a medicine may stand for the doses
/// that are left today, and become fewer from dose to dose (APH ConnectCenter, medication), so that 3 bands are 2 by
/// noon. `None` where no mark is left: then the person has to think of one.
pub fn free_mark(
    new: &Candidate,
    others: &[Candidate],
    preferred_kind: Option<MarkKind>,
) -> Option<Mark> {
    let others = || others.iter().filter(|other| other.item != new.item);
    let is_free = |mark: &Mark| {
        others().all(|other| {
            other.marks.iter().all(|its| {
                let is_kept_apart = other.medicine != new.medicine && its.kind() == mark.kind();
                !is_kept_apart && !its.is_as(*mark)
            })
        })
    };
    let preferred = preferred_kind.into_iter().flat_map(up_to_most);
    preferred.chain(in_order()).find(is_free)
}

fn up_to_most(kind: MarkKind) -> impl Iterator<Item = Mark> {
    (1..=MOST_PROPOSED).filter_map(move |count| Mark::new(kind, count).ok())
}

/// Bands are told apart by number; of the other kinds a single one is tried before several.
fn in_order() -> impl Iterator<Item = Mark> {
    let others = (1..=MOST_PROPOSED).flat_map(|count| {
        let kinds = MarkKind::ALL
            .into_iter()
            .filter(|kind| *kind != MarkKind::Band);
        kinds.filter_map(move |kind| Mark::new(kind, count).ok())
    });
    up_to_most(MarkKind::Band).chain(others)
}
