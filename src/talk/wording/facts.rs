//! The words for what is known of things: directions, allergens, how they feel, their tags and marks.

use chrono::NaiveDate;

use super::{amounts, capital, labels, note_said, things};
use crate::measure::{DateNote, Quantity, say_date};
use crate::stock::{
    Fact, Facts, ItemKind, ItemName, Lot, Mark, NotYetKnown, OwnWords, Place, PoolTag, Sureness,
    TagKind, TagNumber, TagState,
};
use crate::talk::reading::Listing;

/// What was noted of an item.
pub(in crate::talk) fn described(item: &ItemName, fact: &Fact) -> String {
    let name = capital(item.as_str());
    match fact {
        Fact::Kind(ItemKind::Medicine) => format!("{name}: a medicine. I never tell it by feel."),
        Fact::Kind(kind) => format!("{name}: {}.", kind.name()),
        Fact::Section(section) => format!("{name}: {section} section."),
        Fact::Place(place) => format!("{name} belongs: {place}."),
        Fact::Directions(words) => format!("{name}, directions: {words}."),
        Fact::Step(step) => format!("{name}, one more step: {step}."),
        Fact::Make(words) => format!("{name}: {words}."),
        Fact::Note(words) => format!("{name}, for the helper: {words}."),
        Fact::Allergen { .. } | Fact::Label { .. } => labels::noted(item, fact),
        Fact::Feel(feel) => format!("{name}: {feel}."),
    }
}

/// Whether a date that was noted is to be another one: a wrong one is noticed when it's too late.
pub(in crate::talk) fn ask_whether_other_date(
    item: &ItemName,
    known: DateNote,
    new: NaiveDate,
    today: NaiveDate,
) -> String {
    format!(
        "{}: {} so far. Change it to {}? Yes or no.",
        capital(item.as_str()),
        known.spoken(today),
        say_date(new, today)
    )
}

/// The question before a fact is noted that could hurt if it was misheard: that a label doesn't list an allergen, and that
/// something is, or isn't, a medicine.
pub(in crate::talk) fn ask_whether(item: &ItemName, fact: &Fact, known: &Facts) -> Option<String> {
    let name = capital(item.as_str());
    match fact {
        Fact::Allergen { .. } | Fact::Label { .. } => labels::ask_whether(item, fact, known),
        Fact::Kind(ItemKind::Medicine) => Some(format!("{name}: a medicine? Yes or no.")),
        Fact::Kind(kind) => Some(format!("{name}: {}, no medicine? Yes or no.", kind.name())),
        _ => None,
    }
}

/// A step that was added to directions, which have so many now.
pub(in crate::talk) fn step_noted(item: &ItemName, count: usize, step: &OwnWords) -> String {
    format!("{}, step {count}: {step}.", capital(item.as_str()))
}

/// Whether directions of several steps are to be others: they were dictated one by one.
pub(in crate::talk) fn ask_whether_other_directions(item: &ItemName, steps: usize) -> String {
    let name = capital(item.as_str());
    format!("{name} has {steps} steps. Replace them all? Yes or no.")
}

/// What is said when a kitchen tag goes on: all that the next hand needs, what can hurt first.
pub(in crate::talk) fn kitchen_tag(
    tag: TagNumber,
    lot: &Lot,
    facts: &Facts,
    today: NaiveDate,
) -> String {
    format!("Tag {tag}: {}", full_facts(lot, facts, today))
}

/// All that a kitchen tag says.
pub(in crate::talk) fn full_facts(lot: &Lot, facts: &Facts, today: NaiveDate) -> String {
    let mut said = vec![lot.item.to_string()];
    said.extend(lot.quantity.as_ref().map(Quantity::spoken));
    said.extend(lot.dates.iter().map(|note| note_said(note, today)));
    said.extend(lot.place.as_ref().map(Place::to_string));
    said.extend(lot.mark.map(|mark| mark.spoken()));
    let mut text = format!("{}.", said.join(", "));
    if lot.unsure {
        text.push_str(" What it is isn't known for sure.");
    }
    text.push_str(&labels::cautions(facts));
    for step in &facts.directions {
        text.push_str(&format!(" {}.", capital(step.as_str())));
    }
    text
}

pub(in crate::talk) fn marked(item: &ItemName, mark: Mark) -> String {
    format!("{}: {}.", capital(item.as_str()), mark.spoken())
}

/// What feels like what is in hand, most likely first, and how sure that is.
pub(in crate::talk) fn feels_like(
    likely: &[(ItemName, Sureness, Vec<Place>)],
    medicine: bool,
) -> String {
    let caution = match medicine {
        true => " A medicine feels like that too: don't take it by feel.",
        false => "",
    };
    let Some((first, sureness, places)) = likely.first() else {
        return match medicine {
            true => {
                "A medicine may feel like that. Never tell a medicine by feel: have its label read."
                    .to_owned()
            }
            false => "Nothing I know feels like that.".to_owned(),
        };
    };
    let name = match sureness {
        Sureness::Sure => format!("Surely {first}"),
        Sureness::Likely => format!("Likely {first}"),
        Sureness::Maybe => format!("Maybe {first}"),
    };
    let place = places
        .first()
        .map(|place| format!(", {place}"))
        .unwrap_or_default();
    let others = match sureness {
        Sureness::Sure => &[],
        Sureness::Likely | Sureness::Maybe => &likely[1..],
    };
    let others: Vec<&str> = others.iter().map(|(item, ..)| item.as_str()).collect();
    let or = match others.as_slice() {
        [] => String::new(),
        others => format!(" Or {}.", others.join(", or ")),
    };
    format!("{name}{place}.{or}{caution}")
}

/// That something which just came in can't be told from another thing by hand.
pub(in crate::talk) fn feels_alike(others: &[ItemName], mark: Option<Mark>) -> String {
    let names: Vec<&str> = others.iter().map(ItemName::as_str).collect();
    let propose = mark.map(|mark| format!(" Put {} on it.", mark.spoken()));
    format!(
        " It feels like the {}.{}",
        names.join(" and the "),
        propose.unwrap_or_default()
    )
}

/// That something which just came in has the mark of another thing there.
pub(in crate::talk) fn marked_alike(others: &[ItemName], mark: Option<Mark>) -> String {
    let names: Vec<&str> = others.iter().map(ItemName::as_str).collect();
    let propose = mark.map(|mark| format!(": make it {}", mark.spoken()));
    format!(
        " Marked like the {} there{}.",
        names.join(" and the "),
        propose.unwrap_or_default()
    )
}

/// That a mark is on a medicine and on something else, wherever these are.
pub(in crate::talk) fn marked_like_medicine(
    other: &ItemName,
    is_the_medicine: bool,
    mark: Option<Mark>,
) -> String {
    let other = match is_the_medicine {
        true => format!("the {other}"),
        false => format!("a medicine, the {other}"),
    };
    let propose = mark.map(|mark| format!(": make it {}", mark.spoken()));
    format!(" Marked like {other}{}.", propose.unwrap_or_default())
}

/// A mark that can't be put on, as it means something else.
pub(in crate::talk) fn mark_taken(mark: Mark, item: &ItemName, free: Option<Mark>) -> String {
    let take = free.map_or("another mark".to_owned(), Mark::spoken);
    let mark = mark.spoken();
    format!("Already on the {item}: {mark}. Nothing changed. Take {take}.")
}

/// A tag of any kind that is no temporary one in use.
pub(in crate::talk) fn pool_tag(
    tag: &PoolTag,
    lot: Option<&Lot>,
    facts: &Facts,
    today: NaiveDate,
) -> String {
    let number = tag.number;
    match (&tag.state, lot) {
        (TagState::On(_), Some(lot)) => kitchen_tag(number, lot, facts, today),
        (TagState::On(item), None) => format!("Tag {number}: {} for {item}.", tag.kind.name()),
        (TagState::Spent(item), _) => format!("Tag {number}: spent. It was on {item}."),
        (TagState::Lost, _) => format!("Tag {number}: lost."),
        (TagState::InHand, _) => format!("Tag {number}: taken along."),
        (TagState::Free, _) => format!("Tag {number}: free."),
    }
}

/// How the tags are.
pub(in crate::talk) fn pool(tags: &[PoolTag]) -> String {
    let with = |wanted: fn(&TagState) -> bool| {
        let tags = tags.iter().filter(move |tag| wanted(&tag.state));
        tags.map(|tag| tag.number.to_string()).collect::<Vec<_>>()
    };
    let groups = [
        ("In use", with(|state| matches!(state, TagState::On(_)))),
        ("Spent", with(|state| matches!(state, TagState::Spent(_)))),
        (
            "Taken along",
            with(|state| matches!(state, TagState::InHand)),
        ),
        ("Free", with(|state| matches!(state, TagState::Free))),
        ("Lost", with(|state| matches!(state, TagState::Lost))),
    ];
    let said: Vec<String> = groups
        .iter()
        .filter(|(_, numbers)| !numbers.is_empty())
        .map(|(state, numbers)| format!("{state}: {}.", numbers.join(", ")))
        .collect();
    match said.is_empty() {
        true => "No tag is in use.".to_owned(),
        false => said.join(" "),
    }
}

/// What a tag can't be used for.
pub(in crate::talk) fn other_tag(tag: TagNumber, is: TagKind) -> String {
    format!("Tag {tag} is a {} tag. Nothing changed.", is.name())
}

/// What isn't known yet of what is there.
pub(in crate::talk) fn not_yet_known(lots: &[NotYetKnown], waiting: usize) -> Listing {
    let said = lots.iter().map(|lot| {
        let mut lacks = Vec::new();
        if lot.what {
            lacks.push("what it is");
        }
        if lot.place {
            lacks.push("where");
        }
        if lot.quantity {
            lacks.push("how much");
        }
        format!("{}, {}", lot.item, lacks.join(" and "))
    });
    let said: Vec<String> = said.collect();
    let waiting = match waiting {
        0 => String::new(),
        1 => " 1 thing has no place yet.".to_owned(),
        several => format!(" {several} things have no place yet."),
    };
    match lots.len() {
        0 if waiting.is_empty() => Listing::none("All is known that I ask for."),
        0 => Listing::none(waiting.trim_start()),
        count => Listing::new(capital(&things(count)), said).with_caution(&waiting),
    }
}

pub(in crate::talk) fn put_back(item: &ItemName, lots: &[Lot]) -> String {
    let lots: Vec<&Lot> = lots.iter().collect();
    format!("{} back: {}.", capital(item.as_str()), amounts(&lots))
}
