//! Which known thing a hand may be holding, by what it feels.

use super::alike::{Likeness, likeness};
use super::feel::{Feel, Property};
use super::mark::Mark;
use super::names::{ItemName, Place};

/// What a hand feels, as far as it was said.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Asked {
    /// How it feels.
    pub feel: Feel,
    /// The marks on it. None in the list: it was said that there are none; no list: nothing was said.
    pub marks: Option<Vec<Mark>>,
    /// Where it was found.
    pub place: Option<Place>,
}

/// A known thing that it may be. Each item stands among the candidates once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Candidate {
    /// What it is.
    pub item: ItemName,
    /// How it feels, as far as that is known.
    pub feel: Feel,
    /// The marks that were put on it.
    pub marks: Vec<Mark>,
    /// Where there is some of it.
    pub places: Vec<Place>,
    /// Whether it is a medicine.
    pub medicine: bool,
}

/// How sure it is that a thing is the one in the hand. Never said of a medicine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sureness {
    /// A share of 5 % or more: worth naming.
    Maybe,
    /// A share of 50 % or more: as likely as all else together.
    Likely,
    /// A share of 90 % or more.
    Sure,
}

impl Sureness {
    fn of(share: f64) -> Option<Self> {
        match share {
            0.9.. => Some(Self::Sure),
            0.5.. => Some(Self::Likely),
            0.05.. => Some(Self::Maybe),
            _ => None,
        }
    }
}

/// A candidate, and how much speaks for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked {
    /// What it is.
    pub item: ItemName,
    /// Its share of all that the thing may be, from 0 to 1. All shares together are no more than 1: it may be something
    /// that isn't known, or a medicine.
    pub share: f64,
    /// How sure it is; absent where it isn't worth naming: because its share is too small, or because nothing that was
    /// said agrees with it.
    pub sureness: Option<Sureness>,
}

/// What a thing may be.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ranking {
    /// Every candidate that isn't a medicine, the likeliest first; of equals, by name.
    pub ranked: Vec<Ranked>,
    /// Whether more speaks for one of the medicines than for a thing of which nothing is known. Then the answer has to
    /// warn: a medicine is never told by feel alone. That it was found elsewhere, or has lost its mark, speaks against
    /// a medicine for nothing here. Of a medicine whose feel was never told, this knows nothing.
    pub medicine_feels_so: bool,
}

/// How likely it is that a property is said so, given what is known of the thing. Judgements, not measurements; what
/// counts is that agreement is always the largest, and that a contradiction is unlikely but never impossible: a hand
/// errs, and things come in a new pack.
struct Odds {
    /// It is known to be the same.
    same: f64,
    /// It is known to be another that is often said for it.
    near: f64,
    /// It isn't known, or what is known speaks of something else.
    unknown: f64,
    /// It is known to be another.
    apart: f64,
}

impl Odds {
    /// A can is hardly taken for a bag, and there are many kinds of packs.
    const CONTAINER: Self = Self {
        same: 0.75,
        near: 0.2,
        unknown: 0.15,
        apart: 0.01,
    };
    /// Hands tell these well, and each has four values or more.
    const PLAIN: Self = Self {
        same: 0.75,
        near: 0.3,
        unknown: 0.25,
        apart: 0.05,
    };
    /// These are a matter of judgement, and change while a thing is used.
    const JUDGED: Self = Self {
        same: 0.65,
        near: 0.3,
        unknown: 0.3,
        apart: 0.1,
    };

    fn of(property: Property) -> &'static Self {
        match property {
            Property::Container(_) => &Self::CONTAINER,
            Property::Build(_) | Property::Shape(_) | Property::Lid(_) | Property::Material(_) => {
                &Self::PLAIN
            }
            Property::Size(_) | Property::Weight(_) | Property::Surface(_) | Property::Sound(_) => {
                &Self::JUDGED
            }
        }
    }

    fn given(&self, likeness: Likeness) -> f64 {
        match likeness {
            Likeness::Same => self.same,
            Likeness::Near => self.near,
            Likeness::Beside => self.unknown,
            Likeness::Apart => self.apart,
        }
    }
}

/// A felt mark is on the thing. Marks are put on in order to tell things apart, so they weigh most.
const MARK_ON_IT: f64 = 0.9;
/// A felt mark is on the thing, but elsewhere on it: bands slip.
const MARK_ELSEWHERE: f64 = 0.05;
/// A felt mark isn't on the thing, as far as is known: someone put it there and didn't tell.
const MARK_NOT_ON_IT: f64 = 0.01;
/// A mark of the thing isn't felt, though something was said of marks: it fell off, or was overlooked.
const MARK_NOT_FELT: f64 = 0.1;

/// It was found where it is kept. Weak on purpose: if others move things, position fails (P. Abbott, CVRT, Second
/// Sense, 15 Jun 2017).
const IN_PLACE: f64 = 0.6;
/// It was found in some place, and where it is kept isn't known.
const PLACE_UNKNOWN: f64 = 0.3;
/// It was found where it isn't kept.
const OUT_OF_PLACE: f64 = 0.15;

/// How many candidates a thing counts for of which nothing is known: with one agreement alone, the only can in the
/// records is no more than a maybe.
const SOMETHING_ELSE: f64 = 6.0;

/// The grain in which logarithms are added up.
const STEP: f64 = 1e-6;

/// What is known of something, to be held against what was asked.
struct Known<'a> {
    feel: &'a Feel,
    marks: &'a [Mark],
    places: &'a [Place],
}

impl<'a> Known<'a> {
    const NOTHING: Self = Self {
        feel: &Feel::UNKNOWN,
        marks: &[],
        places: &[],
    };

    fn of(candidate: &'a Candidate) -> Self {
        Self {
            feel: &candidate.feel,
            marks: &candidate.marks,
            places: &candidate.places,
        }
    }
}

/// How well what is known fits.
struct Fit {
    /// The natural logarithm of the likelihood, in whole [`STEP`]s. A logarithm, because products of many odds would
    /// come to nothing; whole, because sums of whole numbers are exact, so that what fits equally well is equal.
    log: i64,
    /// Whether anything that a hand feels agrees.
    is_felt: bool,
    /// Whether the place agrees.
    is_in_place: bool,
}

impl Fit {
    fn new(asked: &Asked, known: &Known<'_>) -> Self {
        let mut fit = Self {
            log: 0,
            is_felt: false,
            is_in_place: false,
        };
        for (felt, known) in asked.feel.beside(known.feel) {
            let likeness = known.map_or(Likeness::Beside, |known| likeness(felt, known));
            fit.is_felt |= matches!(likeness, Likeness::Same | Likeness::Near);
            fit.count(Odds::of(felt).given(likeness));
        }
        if let Some(felt) = &asked.marks {
            fit.count_marks(felt, known.marks);
        }
        if let Some(place) = &asked.place {
            fit.is_in_place = known.places.contains(place);
            let odds = match known.places {
                [] => PLACE_UNKNOWN,
                _ if fit.is_in_place => IN_PLACE,
                _ => OUT_OF_PLACE,
            };
            fit.count(odds);
        }
        fit
    }

    fn count(&mut self, odds: f64) {
        let steps = (odds.ln() / STEP).round() as i64;
        self.log += steps;
    }

    /// Each felt mark is one of the thing's marks, the best fitting first, and each of those is felt once.
    fn count_marks(&mut self, felt: &[Mark], known: &[Mark]) {
        let (mut felt, mut known) = (felt.to_vec(), known.to_vec());
        // In a fixed order, so that the order in which marks were said changes nothing.
        felt.sort_unstable();
        known.sort_unstable();
        let mut pair_off = |fits: fn(Mark, Mark) -> bool, odds: f64| {
            felt.retain(|mark| {
                let pair = known.iter().position(|known| fits(*mark, *known));
                if let Some(at) = pair {
                    known.remove(at);
                    self.is_felt = true;
                    self.count(odds);
                }
                pair.is_none()
            });
        };
        pair_off(|felt, known| felt == known, MARK_ON_IT);
        pair_off(Mark::may_be, MARK_ON_IT);
        pair_off(Mark::is_as, MARK_ELSEWHERE);
        felt.iter().for_each(|_| self.count(MARK_NOT_ON_IT));
        known.iter().for_each(|_| self.count(MARK_NOT_FELT));
    }

    /// Where a thing stands is no more than a hint, and without any agreement there is no ground to name it.
    fn sureness(&self, share: f64) -> Option<Sureness> {
        let sureness = Sureness::of(share)?;
        match (self.is_felt, self.is_in_place) {
            (true, _) => Some(sureness),
            (false, true) => Some(Sureness::Maybe),
            (false, false) => None,
        }
    }
}

/// Ranks what a thing may be by what a hand feels: naive Bayes, with the odds above, equal chances beforehand, and room
/// for something that isn't known.
///
/// A medicine is never among the answers, and what it may be isn't left to the others: its share is kept from them.
///
/// ```
/// use tellshelf::stock::{Asked, Candidate, Container, Feel, ItemName, Sureness, rank};
/// let can = |name: &str, mark: &str| Candidate {
///     item: ItemName::new(name).unwrap(),
///     feel: Feel::default().with(Container::Can),
///     marks: vec![mark.parse().unwrap()],
///     places: vec![],
///     medicine: false,
/// };
/// let known = [can("creamed corn", "1 band"), can("whole corn", "2 band")];
/// let marks = Some(vec!["2 band".parse().unwrap()]);
/// let asked = Asked { feel: Feel::default().with(Container::Can), marks, place: None };
/// let first = &rank(&asked, &known).ranked[0];
/// assert_eq!(first.item.as_str(), "whole corn");
/// assert_eq!(first.sureness, Some(Sureness::Sure));
/// ```
pub fn rank(asked: &Asked, candidates: &[Candidate]) -> Ranking {
    let nothing = Fit::new(asked, &Known::NOTHING).log;
    let mut fits: Vec<(&Candidate, Fit)> = candidates
        .iter()
        .map(|candidate| (candidate, Fit::new(asked, &Known::of(candidate))))
        .collect();
    // Sorted before the shares are added up: sums of floats depend on their order.
    fits.sort_by(|(one, its_fit), (other, fit)| {
        let by_fit = fit.log.cmp(&its_fit.log);
        by_fit.then_with(|| one.item.cmp(&other.item))
    });
    let best = fits
        .first()
        .map_or(nothing, |(_, fit)| fit.log.max(nothing));
    let weight = |log: i64| ((log - best) as f64 * STEP).exp();
    let known: f64 = fits.iter().map(|(_, fit)| weight(fit.log)).sum();
    let all = known + SOMETHING_ELSE * weight(nothing);
    let ranked = fits
        .into_iter()
        .filter(|(candidate, _)| !candidate.medicine)
        .map(|(candidate, fit)| {
            let share = weight(fit.log) / all;
            let sureness = fit.sureness(share);
            let item = candidate.item.clone();
            Ranked {
                item,
                share,
                sureness,
            }
        });
    Ranking {
        ranked: ranked.collect(),
        medicine_feels_so: medicine_feels_so(asked, candidates),
    }
}

fn medicine_feels_so(asked: &Asked, candidates: &[Candidate]) -> bool {
    let cautious = Asked {
        feel: asked.feel,
        marks: asked.marks.clone().filter(|marks| !marks.is_empty()),
        place: None,
    };
    let mut medicines = candidates.iter().filter(|candidate| candidate.medicine);
    medicines.any(|medicine| {
        [asked, &cautious].into_iter().any(|asked| {
            let fit = Fit::new(asked, &Known::of(medicine));
            fit.log > Fit::new(asked, &Known::NOTHING).log
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agreement_is_always_the_largest_and_nothing_is_impossible() {
        for odds in [Odds::CONTAINER, Odds::PLAIN, Odds::JUDGED] {
            assert!(odds.same > odds.near && odds.near >= odds.unknown);
            assert!(odds.unknown > odds.apart && odds.apart > 0.0);
        }
    }

    #[test]
    fn a_mark_outweighs_every_single_property() {
        let mark = MARK_ON_IT / (MARK_NOT_ON_IT * MARK_NOT_FELT);
        for odds in [Odds::CONTAINER, Odds::PLAIN, Odds::JUDGED] {
            assert!(mark > odds.same / odds.apart);
        }
    }

    #[test]
    fn the_steps_begin_at_their_bounds() {
        assert_eq!(Sureness::of(0.9), Some(Sureness::Sure));
        assert_eq!(Sureness::of(0.899), Some(Sureness::Likely));
        assert_eq!(Sureness::of(0.5), Some(Sureness::Likely));
        assert_eq!(Sureness::of(0.05), Some(Sureness::Maybe));
        assert_eq!(Sureness::of(0.049), None);
    }
}
