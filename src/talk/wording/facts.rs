//! The words for what is known of things: directions, allergens, how they feel, their tags and marks.

use chrono::NaiveDate;

use super::{amounts, capital, dates_of, labels, note_said, thawed_before, things};
use crate::measure::{DateNote, Quantity, say_date};
use crate::stock::{
    Fact, Facts, ItemKind, ItemName, Lot, Mark, NotYetKnown, OwnWords, Place, PoolTag, Sureness,
    TagKind, TagNumber, TagState, Waiting,
};
use crate::talk::reading::Listing;

/// Behind what was noted of how to take a medicine: no note stands in for its label.
pub(in crate::talk) const LABEL_FIRST: &str = "The label and the pharmacist go first.";

/// Behind a medicine that came into the freezer: many mustn't.
pub(in crate::talk) const FROZEN_MEDICINE: &str = " May it be frozen? Ask a pharmacist.";

/// The reply to who asks how much to take. Never a number: what was noted may be another strength, or outdated.
pub(in crate::talk) const NO_DOSE: &str = "I don't tell doses. Ask a pharmacist or a doctor.";

/// The reply to who took too much. No number is known that holds everywhere.
pub(in crate::talk) const TOO_MUCH: &str = "Call a doctor or your local poison control now.";

/// The question before it is noted how a medicine is taken.
pub(in crate::talk) fn ask_whether_taken_so(item: &ItemName, words: &OwnWords) -> String {
    let name = capital(item.as_str());
    format!("{name}, a medicine: does its label say {words}? Yes or no.")
}

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

/// Whether something is a medicine. What nobody said isn't a no.
pub(in crate::talk) fn is_medicine(item: &ItemName, kind: ItemKind) -> String {
    let name = capital(item.as_str());
    match kind {
        ItemKind::Medicine => format!("Yes. {name}: a medicine."),
        ItemKind::Household => format!("{name}: noted as household, no medicine."),
        ItemKind::Food => format!("{name}: not noted as a medicine. Have the label read."),
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

/// All that a kitchen tag says, what can hurt first.
pub(in crate::talk) fn full_facts(lot: &Lot, facts: &Facts, today: NaiveDate) -> String {
    let is_medicine = facts.kind == ItemKind::Medicine;
    let mut said = vec![lot.item.to_string()];
    said.extend(is_medicine.then(|| "a medicine".to_owned()));
    let mut told = lot
        .quantity
        .iter()
        .map(Quantity::spoken)
        .collect::<Vec<_>>();
    told.extend(dates_of(lot, today, note_said));
    told.extend(lot.place.as_ref().map(Place::to_string));
    told.extend(lot.mark.map(|mark| mark.spoken()));
    let cautions = cautions(lot, facts);
    if cautions.is_empty() {
        said.append(&mut told);
    }
    let mut text = format!("{}.{cautions}", said.join(", "));
    if !told.is_empty() {
        text.push_str(&format!(" {}.", capital(&told.join(", "))));
    }
    for step in &facts.directions {
        match is_medicine {
            true => text.push_str(&format!(" As you noted it: {step}. {LABEL_FIRST}")),
            false => text.push_str(&format!(" {}.", capital(step.as_str()))),
        }
    }
    text
}

/// What is to be heard of a thing before all else.
fn cautions(lot: &Lot, facts: &Facts) -> String {
    let mut text = labels::cautions(facts);
    if lot.unsure {
        text.push_str(" What it is isn't known for sure.");
    }
    if let Some(before) = lot.refrozen.and_then(thawed_before) {
        text.push_str(&format!(" {}.", capital(&before)));
    }
    text
}

pub(in crate::talk) fn marked(item: &ItemName, mark: Mark) -> String {
    format!("{}: {}.", capital(item.as_str()), mark.spoken())
}

pub(in crate::talk) fn no_mark(item: &ItemName) -> String {
    format!("{}: no mark is noted.", capital(item.as_str()))
}

/// The marks on what there is of a thing, each once, with where that is.
pub(in crate::talk) fn marks(item: &ItemName, lots: &[Lot], waiting: &[Waiting]) -> String {
    let mut said: Vec<String> = Vec::new();
    let on_shelf = lots.iter().filter_map(|lot| {
        let place = lot.place.as_ref().map(|place| format!(", {place}"));
        Some(lot.mark?.spoken() + &place.unwrap_or_default())
    });
    let on_its_way = waiting.iter().filter(|thing| thing.item == *item);
    let on_its_way =
        on_its_way.filter_map(|thing| Some(thing.mark?.spoken() + ", not put away yet"));
    for one in on_shelf.chain(on_its_way) {
        if !said.contains(&one) {
            said.push(one);
        }
    }
    match said.is_empty() {
        true => no_mark(item),
        false => format!("{}: {}.", capital(item.as_str()), said.join("; ")),
    }
}

/// What kitchen tags say isn't so any more; nothing where there are none.
pub(in crate::talk) fn to_write_again(tags: &[TagNumber]) -> String {
    match tags {
        [] => String::new(),
        [tag] => format!(" Tag {tag} is to be written again."),
        tags => {
            let numbers: Vec<String> = tags.iter().map(ToString::to_string).collect();
            format!(" Tags {} are to be written again.", numbers.join(", "))
        }
    }
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

/// That a medicine lies where food is: by hand, and by its place, it is taken for it.
pub(in crate::talk) fn among_food(medicine: &ItemName) -> String {
    format!(
        " {} is a medicine, and food is there.",
        capital(medicine.as_str())
    )
}

/// The same of food that came to where a medicine is.
pub(in crate::talk) fn beside_medicine(medicine: &ItemName) -> String {
    format!(" A medicine is there: {medicine}.")
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

/// It is on something that has its place already.
pub(in crate::talk) fn is_kitchen_tag(tag: TagNumber, item: &ItemName, place: &Place) -> String {
    format!("Tag {tag} is a kitchen tag, on {item}. Say: move the {item} to the {place}.")
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

/// What isn't known yet of what is there; last what has no date, since that may be much.
pub(in crate::talk) fn not_yet_known(
    lots: &[NotYetKnown],
    undated: &[ItemName],
    waiting: usize,
) -> Listing {
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
    let no_date = undated.iter().map(|item| format!("{item}, no date"));
    let said: Vec<String> = said.chain(no_date).collect();
    let waiting = match waiting {
        0 => String::new(),
        1 => " 1 thing has no place yet.".to_owned(),
        several => format!(" {several} things have no place yet."),
    };
    match (lots.len(), undated.len()) {
        (0, 0) if waiting.is_empty() => Listing::none("All is known that I ask for."),
        (0, 0) => Listing::none(waiting.trim_start()),
        (0, count) => {
            let head = format!("{} without a date", things(count));
            let names = undated.iter().map(ItemName::to_string).collect();
            Listing::new(head, names).with_caution(&waiting)
        }
        (count, 0) => Listing::new(things(count), said).with_caution(&waiting),
        (count, more) => {
            let head = format!("{}, and {more} without a date", things(count));
            Listing::new(head, said).with_caution(&waiting)
        }
    }
}

pub(in crate::talk) fn put_back(item: &ItemName, lots: &[Lot]) -> String {
    let lots: Vec<&Lot> = lots.iter().collect();
    format!("{} back: {}.", capital(item.as_str()), amounts(&lots))
}
