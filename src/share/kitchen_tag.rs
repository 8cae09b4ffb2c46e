//! What a tag is to say, as facts with their need: the full ones on a kitchen tag, the bare ones on the way home.

use super::tag_text::{Fact, Need};
use crate::measure::{DateKind, Quantity};
use crate::stock::{Dates, Facts, ItemKind, ItemName, Lot, OwnWords, Place, Says, TemporaryTag};

/// On every tag of a medicine: no tag stands in for its label.
const MEDICINE: &str = "Medicine. Ask a pharmacist or read the label.";
/// Where nobody could tell what a thing is.
const UNSURE: &str = "What it is isn't known for sure.";

/// All that a kitchen tag says of the thing it is on: what it is, what may do harm, its dates, how much there was, its
/// mark, its place (the usual one, where no other was said), and its directions.
///
/// A tag may be read a year later and by anyone, so dates are days with their year, never "tomorrow". That a label
/// doesn't list an allergen isn't on it: a missing sentence must never be taken for a no, and makers change recipes.
/// The directions stand last, so that what is said after them ("And more.") can only be about them.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::measure::DateKind;
/// use tellshelf::share::{tag_facts, tag_text};
/// use tellshelf::stock::{Allergen, Dates, Facts, ItemName, Lot, OwnWords, Place, Says};
/// let mut dates = Dates::default();
/// dates.insert(DateKind::BestBy, NaiveDate::from_ymd_opt(2027, 3, 15).unwrap());
/// let lot = Lot {
///     id: 1,
///     item: ItemName::new("oats").unwrap(),
///     quantity: Some("2 box".parse().unwrap()),
///     place: Some(Place::new("pantry").unwrap()),
///     dates,
///     mark: None,
///     tag: None,
///     unsure: false,
///     guide: None,
///     refrozen: None,
/// };
/// let facts = Facts {
///     allergens: vec![(Allergen::new("gluten").unwrap(), Says::Contains)],
///     directions: vec![OwnWords::new("boil ten minutes").unwrap()],
///     ..Facts::default()
/// };
/// assert_eq!(
///     tag_text(&tag_facts(&lot, &facts), 144).unwrap().text,
///     "Oats. Contains gluten. Best by March 15, 2027. 2 boxes. Pantry. Boil ten minutes."
/// );
/// ```
pub fn tag_facts(lot: &Lot, facts: &Facts) -> Vec<Fact> {
    let place = lot.place.as_ref().or(facts.place.as_ref());
    let mut said = vec![(Need::Name, lot.item.to_string())];
    said.extend(cautions(lot, facts).map(|words| (Need::Caution, words)));
    said.extend(dates_in_full(&lot.dates).map(|words| (Need::Date, words)));
    said.extend(lot.quantity.as_ref().map(|q| (Need::Quantity, how_much(q))));
    said.extend(lot.mark.map(|mark| (Need::Marks, mark.spoken())));
    said.extend(place.map(|place| (Need::Place, Place::to_string(place))));
    let steps = facts.directions.iter();
    let noted = |words: &OwnWords| match facts.kind {
        ItemKind::Medicine => format!("as noted: {words}"),
        ItemKind::Food | ItemKind::Household => words.to_string(),
    };
    said.extend(steps.map(|words| (Need::Directions, noted(words))));
    as_facts(&said)
}

/// The bare facts, on a temporary tag: what it is, how much, and its dates. It is on the thing for an hour; at home all
/// else is known.
///
/// ```
/// use tellshelf::share::{tag_text, temporary_tag_facts};
/// use tellshelf::stock::{Dates, ItemName, TagNumber, TemporaryTag};
/// let tag = TemporaryTag {
///     number: TagNumber(1),
///     item: ItemName::new("salmon").unwrap(),
///     quantity: Some("2 lb".parse().unwrap()),
///     dates: Dates::default(),
///     mark: None,
/// };
/// assert_eq!(tag_text(&temporary_tag_facts(&tag), 144).unwrap().text, "Salmon. 2 pounds.");
/// ```
pub fn temporary_tag_facts(tag: &TemporaryTag) -> Vec<Fact> {
    let mut said = vec![(Need::Name, tag.item.to_string())];
    said.extend(tag.quantity.as_ref().map(|q| (Need::Quantity, how_much(q))));
    said.extend(dates_in_full(&tag.dates).map(|words| (Need::Date, words)));
    as_facts(&said)
}

/// What a worn reminder tag says: what to buy. There is none of it to tell more of.
///
/// ```
/// use tellshelf::share::{reminder_facts, tag_text};
/// use tellshelf::stock::ItemName;
/// let facts = reminder_facts(&ItemName::new("cumin").unwrap());
/// assert_eq!(tag_text(&facts, 144).unwrap().text, "Reminder for cumin.");
/// ```
pub fn reminder_facts(item: &ItemName) -> Vec<Fact> {
    as_facts(&[(Need::Name, format!("reminder for {item}"))])
}

fn as_facts(said: &[(Need, String)]) -> Vec<Fact> {
    let facts = said.iter().map(|(need, words)| Fact::new(*need, words));
    facts.flatten().collect()
}

/// What may do harm. Each is a fact of its own, so that none is lost among the others.
fn cautions(lot: &Lot, facts: &Facts) -> impl Iterator<Item = String> {
    let unsure = lot.unsure.then(|| UNSURE.to_owned());
    let medicine = (facts.kind == ItemKind::Medicine).then(|| MEDICINE.to_owned());
    let before = lot.refrozen.and_then(|before| match before.thawed {
        0 => None,
        1 => Some("thawed before: 1 day".to_owned()),
        days => Some(format!("thawed before: {days} days")),
    });
    let label = |wanted: Says, verb: &str| {
        let has = facts.allergens.iter().filter(|(_, says)| *says == wanted);
        let has: Vec<&str> = has.map(|(allergen, _)| allergen.as_str()).collect();
        (!has.is_empty()).then(|| format!("{verb} {}", has.join(", ")))
    };
    let contains = label(Says::Contains, "contains");
    let may_contain = label(Says::MayContain, "may contain");
    let cautions = [unsure, medicine, contains, may_contain, before];
    cautions.into_iter().flatten()
}

/// Each date with what it means, in words that stay true: "use by December 3, 2026".
fn dates_in_full(dates: &Dates) -> impl Iterator<Item = String> {
    let known = DateKind::ALL
        .into_iter()
        .filter_map(|kind| Some((kind, dates.get(kind)?)));
    known.map(|(kind, date)| format!("{kind} {}", date.format("%B %-d, %Y")))
}

/// A bare number is named as a count: behind a date, "12" would sound like a part of it.
fn how_much(quantity: &Quantity) -> String {
    match quantity {
        Quantity::Count { pack: None, .. } => format!("count: {}", quantity.spoken()),
        _ => quantity.spoken(),
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::share::tag_text;
    use crate::stock::{Allergen, TagNumber};

    fn lot(item: &str) -> Lot {
        Lot {
            id: 1,
            item: ItemName::new(item).unwrap(),
            quantity: None,
            place: None,
            dates: Dates::default(),
            mark: None,
            tag: Some(TagNumber(12)),
            unsure: false,
            guide: None,
            refrozen: None,
        }
    }

    fn text(facts: &[Fact]) -> String {
        tag_text(facts, usize::MAX).unwrap().text
    }

    #[test]
    fn everything_known_is_said_once_with_the_directions_last() {
        let mut oats = lot("oats");
        oats.quantity = Some("2 box".parse().unwrap());
        oats.place = Some(Place::new("pantry").unwrap());
        oats.mark = Some("2 band lid".parse().unwrap());
        let opened = NaiveDate::from_ymd_opt(2026, 11, 9).unwrap();
        let best_by = NaiveDate::from_ymd_opt(2027, 3, 15).unwrap();
        oats.dates.insert(DateKind::Opened, opened);
        oats.dates.insert(DateKind::BestBy, best_by);
        let milk = Allergen::new("milk").unwrap();
        let facts = Facts {
            place: Some(Place::new("cupboard").unwrap()),
            directions: vec![OwnWords::new("boil ten minutes").unwrap()],
            allergens: vec![
                (Allergen::new("gluten").unwrap(), Says::Contains),
                (milk, Says::MayContain),
            ],
            ..Facts::default()
        };
        assert_eq!(
            text(&tag_facts(&oats, &facts)),
            "Oats. Contains gluten. May contain milk. Best by March 15, 2027. Opened November 9, 2026. \
             2 boxes. 2 bands on the lid. Pantry. Boil ten minutes."
        );
    }

    #[test]
    fn what_isnt_known_is_not_said() {
        assert_eq!(text(&tag_facts(&lot("oats"), &Facts::default())), "Oats.");
    }

    #[test]
    fn a_label_that_lists_no_allergen_is_no_promise_on_a_tag() {
        let facts = Facts {
            allergens: vec![(Allergen::new("peanuts").unwrap(), Says::NotListed)],
            ..Facts::default()
        };
        assert_eq!(text(&tag_facts(&lot("oats"), &facts)), "Oats.");
    }

    #[test]
    fn the_usual_place_is_said_where_no_other_was() {
        let facts = Facts {
            place: Some(Place::new("cupboard").unwrap()),
            ..Facts::default()
        };
        assert_eq!(text(&tag_facts(&lot("oats"), &facts)), "Oats. Cupboard.");
    }

    #[test]
    fn cautions_are_there_in_full_or_there_is_no_text() {
        let mut pills = lot("aspirin");
        pills.unsure = true;
        pills.place = Some(Place::new("bathroom").unwrap());
        let facts = Facts {
            kind: ItemKind::Medicine,
            ..Facts::default()
        };
        let facts = tag_facts(&pills, &facts);
        let least = "Aspirin. What it is isn't known for sure. \
                     Medicine. Ask a pharmacist or read the label.";
        assert_eq!(tag_text(&facts, least.len()).unwrap().text, least);
        assert!(tag_text(&facts, least.len() - 1).is_err());
    }

    #[test]
    fn what_was_noted_of_taking_a_medicine_is_no_label() {
        let facts = Facts {
            kind: ItemKind::Medicine,
            directions: vec![OwnWords::new("two every four hours").unwrap()],
            ..Facts::default()
        };
        assert_eq!(
            text(&tag_facts(&lot("aspirin"), &facts)),
            "Aspirin. Medicine. Ask a pharmacist or read the label. As noted: two every four hours."
        );
    }

    #[test]
    fn a_bare_number_is_named_as_a_count() {
        let mut eggs = lot("eggs");
        eggs.quantity = Some(Quantity::of(12));
        let date = NaiveDate::from_ymd_opt(2026, 12, 2).unwrap();
        eggs.dates.insert(DateKind::BestBy, date);
        assert_eq!(
            text(&tag_facts(&eggs, &Facts::default())),
            "Eggs. Best by December 2, 2026. Count: 12."
        );
    }
}
