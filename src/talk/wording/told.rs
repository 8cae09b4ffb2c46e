//! Answers to questions: what there is, where, how much, and until when.

use std::collections::HashMap;

use chrono::NaiveDate;

use super::guide;
use super::{
    added_up, amounts, capital, dates_of, lots_said, much_of, note_said, thawed_before, things,
    when_said,
};
use crate::measure::{DateKind, Quantity, say_date};
use crate::stock::{
    Dates, Expiring, ItemKind, ItemName, ListLine, Lot, Low, Place, RunningOut, TagNumber,
    TemporaryTag,
};
use crate::talk::reading::Listing;

pub(in crate::talk) fn list(lines: &[ListLine]) -> Listing {
    if lines.is_empty() {
        return Listing::none("The list is empty.");
    }
    let said = lines.iter().map(|line| match &line.quantity {
        None => line.item.to_string(),
        Some(quantity) => much_of(quantity, &line.item),
    });
    Listing::new(things(lines.len()), said.collect()).of(lines.iter().map(|line| &line.item))
}

/// Whether a thing is on the list; if not, what there is of it.
pub(in crate::talk) fn on_list(item: &ItemName, line: Option<&ListLine>, lots: &[Lot]) -> String {
    match line {
        Some(ListLine {
            quantity: Some(quantity),
            ..
        }) => format!("On the list: {}.", much_of(quantity, item)),
        Some(_) => format!("On the list: {item}."),
        None => format!("Not on the list: {item}. {}", how_much(item, lots)),
    }
}

/// What is on the list can't be made so much less.
pub(in crate::talk) fn cant_list_less(line: &ListLine) -> String {
    let item = &line.item;
    let listed = match &line.quantity {
        Some(quantity) => much_of(quantity, item),
        None => format!("{item}, without an amount"),
    };
    format!("On the list: {listed}. To take it off, say: take {item} off the list.")
}

pub(in crate::talk) fn tags(tags: &[TemporaryTag], today: NaiveDate) -> Listing {
    let number = match tags {
        [] => return Listing::none("No temporary tag is in use."),
        [_] => "1 tag".to_owned(),
        several => format!("{} tags", several.len()),
    };
    // What has passed comes first, so that the caution is heard with it.
    let mut sorted: Vec<&TemporaryTag> = tags.iter().collect();
    sorted.sort_by_key(|tag| passed(&tag.dates, today).is_empty());
    let said = sorted
        .iter()
        .map(|tag| format!("tag {}, {}", tag.number, tag_facts(tag, today)));
    let caution = caution(tags.iter().map(|tag| &tag.dates), today);
    Listing::new(number, said.collect())
        .of(sorted.iter().map(|tag| &tag.item))
        .with_caution(caution)
}

pub(in crate::talk) fn tag(
    number: TagNumber,
    tag: Option<&TemporaryTag>,
    today: NaiveDate,
) -> String {
    match tag {
        Some(tag) => format!(
            "Tag {number}: {}.{}",
            tag_facts(tag, today),
            passed(&tag.dates, today)
        ),
        None => format!("Tag {number}: not in use."),
    }
}

pub(in crate::talk) fn several_tags(item: &ItemName, tags: &[TemporaryTag]) -> String {
    let numbers: Vec<String> = tags.iter().map(|tag| tag.number.to_string()).collect();
    let (last, first) = numbers
        .split_last()
        .map_or(("", &[][..]), |(l, f)| (l.as_str(), f));
    format!(
        "{}: tags {} and {last}. Say put away tag, its number, and the place.",
        capital(item.as_str()),
        first.join(", ")
    )
}

/// What runs low: below its keep level, or likely to run out by how it was used.
pub(in crate::talk) fn running_low(
    below: &[Low],
    soon: &[RunningOut],
    today: NaiveDate,
) -> Listing {
    let soon = soon
        .iter()
        .filter(|soon| below.iter().all(|low| low.item != soon.item));
    let soon: Vec<String> = soon
        .map(|soon| {
            let (likely, latest) = (soon.when.likely, soon.when.latest);
            let (likely, latest) = (say_date(likely, today), say_date(latest, today));
            format!(
                "{}, likely until {likely}, at the latest {latest}",
                soon.item
            )
        })
        .collect();
    match (below, soon.is_empty()) {
        ([], true) => Listing::none("Nothing is below its keep level."),
        ([one], true) => Listing::none(&format!("{}.", capital(&low_said(one)))),
        ([], false) => Listing::new("Running out".to_owned(), soon),
        (below, _) => {
            let low = below.iter().map(low_said);
            let all: Vec<String> = low.chain(soon).collect();
            Listing::new(things(all.len()), all)
        }
    }
}

pub(super) fn low_said(low: &Low) -> String {
    let have = low
        .have
        .as_ref()
        .map_or("none".to_owned(), Quantity::spoken);
    format!("{}: {have}, you keep {}", low.item, low.keep.spoken())
}

/// What is to be used by a day. A medicine is told as one, and never as food.
pub(in crate::talk) fn expiring(
    found: &[Expiring],
    medicines: &[ItemName],
    last: NaiveDate,
    today: NaiveDate,
) -> Listing {
    if found.is_empty() {
        return Listing::none(&format!(
            "Nothing has a date up to {}.",
            say_date(last, today)
        ));
    }
    // A lot with several days is one thing, told where the first of them is.
    let mut lots: Vec<(&Expiring, Vec<String>)> = Vec::new();
    let mut told: HashMap<i64, usize> = HashMap::new();
    for expiring in found {
        let due = guide::due_said(expiring.due, today);
        let next = lots.len();
        let at = expiring
            .lot
            .map_or(next, |lot| *told.entry(lot).or_insert(next));
        match lots.get_mut(at) {
            Some((_, dues)) => dues.push(due),
            None => lots.push((expiring, vec![due])),
        }
    }
    let said = lots.iter().map(|(expiring, dues)| {
        let place = match (&expiring.place, expiring.tag) {
            (Some(place), _) => format!(", {place}"),
            (None, Some(tag)) => format!(", tag {tag}"),
            (None, None) => String::new(),
        };
        let name = with_kind(&expiring.item, medicines);
        (
            format!("{name}, {}{place}", dues.join(", ")),
            &expiring.item,
        )
    });
    let (mut named, mut items): (Vec<String>, Vec<&ItemName>) = Default::default();
    for (one, item) in said {
        // What is alike in all of it is heard once.
        if !named.contains(&one) {
            named.push(one);
            items.push(item);
        }
    }
    let has_passed = |e: &&Expiring| e.due.day() < today && !guide::is_to_discard(e, today);
    let (drugs, food): (Vec<&Expiring>, Vec<&Expiring>) = found
        .iter()
        .filter(has_passed)
        .partition(|one| medicines.contains(&one.item));
    let mut caution = match drugs.is_empty() {
        true => String::new(),
        false => MEDICINE_CAUTION.to_owned(),
    };
    if !food.is_empty() {
        caution.push_str(CAUTION);
    }
    let discard = guide::to_discard(found, today);
    Listing::new(things(named.len()), named)
        .of(items)
        .with_caution(&discard)
        .with_caution(&caution)
}

/// Nothing falls into these days of the calendar.
pub(in crate::talk) fn none_expiring(days: &str) -> Listing {
    Listing::none(&format!("Nothing has a date {days}."))
}

/// Behind what falls into some days of the calendar: that there is what has passed before.
pub(in crate::talk) fn besides_passed(passed: &[Expiring]) -> String {
    let mut things: Vec<(&ItemName, Option<i64>)> =
        passed.iter().map(|one| (&one.item, one.lot)).collect();
    things.sort();
    things.dedup();
    match things.len() {
        0 => String::new(),
        1 => {
            " Besides, 1 has passed: ask what has expired. When in doubt, throw it out.".to_owned()
        }
        several => format!(
            " Besides, {several} have passed: ask what has expired. When in doubt, throw it out."
        ),
    }
}

/// What has passed. Of what has no date, nobody can tell.
pub(in crate::talk) fn expired(
    passed: &[Expiring],
    medicines: &[ItemName],
    today: NaiveDate,
) -> Listing {
    if passed.is_empty() {
        return Listing::none("Nothing has passed its date, of what has one.");
    }
    expiring(passed, medicines, today, today)
}

/// At most this many are named where the question was only what comes first.
pub(in crate::talk) const FIRST: usize = 3;

pub(in crate::talk) fn use_first(first: &[Expiring], today: NaiveDate) -> Listing {
    if first.is_empty() {
        return Listing::none("Nothing to eat has a date yet.");
    }
    // No medicine is to be used first.
    expiring(first, &[], today, today)
}

/// How much there is to ask about: who asks for all of it could never keep it in mind.
pub(in crate::talk) fn what_there_is(shelf: &[Lot]) -> String {
    let mut items: Vec<&ItemName> = shelf.iter().map(|lot| &lot.item).collect();
    items.sort();
    items.dedup();
    let mut places: Vec<&Place> = shelf.iter().filter_map(|lot| lot.place.as_ref()).collect();
    places.sort();
    places.dedup();
    let count = capital(&things(items.len()));
    match places.as_slice() {
        _ if items.is_empty() => "Nothing is noted yet. Say: add rice to the pantry.".to_owned(),
        [] => format!("{count}, without a place. Ask what is not yet known."),
        [only] => format!("{count}, {only}. Ask what is in the {only}."),
        [first, ..] => format!(
            "{count} in {} places. Ask what is in the {first}.",
            places.len()
        ),
    }
}

pub(in crate::talk) fn what_is_in(
    place: &Place,
    by_name: &[(ItemName, Option<Quantity>)],
    medicines: &[ItemName],
) -> Listing {
    if by_name.is_empty() {
        return Listing::none(&format!("{}: nothing noted.", capital(place.as_str())));
    }
    let by_name = by_name.chunk_by(|(one, _), (next, _)| one == next);
    let items = by_name.clone().map(|lots| &lots[0].0);
    let said = by_name.map(|lots| {
        let quantities = lots.iter().map(|(_, quantity)| quantity.as_ref());
        let name = with_kind(&lots[0].0, medicines);
        format!("{name}, {}", added_up(quantities))
    });
    let said: Vec<String> = said.collect();
    Listing::new(things(said.len()), said).of(items)
}

/// Said with every date that has passed. Source: FSIS, "Food Product Dating", and its usual
/// "when in doubt, throw it out"; the label and local rules go first.
pub(super) const CAUTION: &str = " Check the label. When in doubt, throw it out.";

pub(super) fn passed(dates: &Dates, today: NaiveDate) -> &'static str {
    caution([dates], today)
}

/// The caution, where any date of those to use things by has passed.
pub(super) fn caution<'d>(
    dates: impl IntoIterator<Item = &'d Dates>,
    today: NaiveDate,
) -> &'static str {
    let mut ahead = dates.into_iter().filter_map(Dates::first_ahead);
    if ahead.any(|date| date < today) {
        CAUTION
    } else {
        ""
    }
}

pub(in crate::talk) fn where_is(
    item: &ItemName,
    lots: &[Lot],
    tags: &[TemporaryTag],
    listed: bool,
) -> String {
    let name = capital(item.as_str());
    if let [tag, ..] = tags {
        let shelf = match places(lots) {
            Some(places) => format!(" Also: {places}."),
            None => String::new(),
        };
        return format!("{name}: not put away yet, tag {}.{shelf}", tag.number);
    }
    match (places(lots), lots.is_empty()) {
        (Some(places), _) if lots.iter().any(|lot| lot.place.is_none()) => {
            format!("{name}: {places}. There is more; where isn't known.")
        }
        (Some(places), _) => format!("{name}: {places}."),
        (None, false) => format!("{name}: there is some, but where isn't known."),
        (None, true) if listed => format!("No {item} on the shelf. On the list already."),
        (None, true) => format!("No {item} on the shelf."),
    }
}

/// None of the very thing, but of one whose name ends in it.
pub(in crate::talk) fn none_but(item: &ItemName, told: &str) -> String {
    format!("No plain {item}. {told}")
}

/// What is told of one kind, where another name was said.
pub(in crate::talk) fn none_but_of(kind: &ItemName, told: &str) -> String {
    format!("Of the {kind}: {told}")
}

/// The same of several kinds.
pub(in crate::talk) fn none_but_kinds(item: &ItemName, kinds: &[ItemName]) -> String {
    let first = kinds.iter().take(KINDS).map(ItemName::as_str);
    let first: Vec<&str> = first.collect();
    let more = if kinds.len() > KINDS {
        ", and more"
    } else {
        ""
    };
    format!(
        "No plain {item}. There is {}{more}. Say which.",
        first.join(", ")
    )
}

/// So many kinds are told at once.
const KINDS: usize = 3;

pub(super) fn places(lots: &[Lot]) -> Option<String> {
    let mut places: Vec<&str> = Vec::new();
    for place in lots.iter().flat_map(|lot| &lot.place).map(Place::as_str) {
        if !places.contains(&place) {
            places.push(place);
        }
    }
    (!places.is_empty()).then(|| places.join(" and "))
}

/// A name, and that it is a medicine.
pub(super) fn with_kind(item: &ItemName, medicines: &[ItemName]) -> String {
    match medicines.contains(item) {
        true => format!("{item}, a medicine"),
        false => item.to_string(),
    }
}

/// Said with a date of a medicine that has passed. Source: FDA, a medical product isn't used past its expiry.
pub(super) const MEDICINE_CAUTION: &str = " Don't take a medicine past its date. Ask a pharmacist.";

/// The same reply of what is a medicine: the caution for food is none for it.
pub(in crate::talk) fn as_of_kind(reply: String, kind: ItemKind) -> String {
    match kind {
        ItemKind::Medicine => reply.replace(CAUTION, MEDICINE_CAUTION),
        ItemKind::Food | ItemKind::Household => reply,
    }
}

/// The dates of all there is of an item. That there is none of one is said, too.
pub(in crate::talk) fn when(
    item: &ItemName,
    kind: ItemKind,
    lots: &[Lot],
    tags: &[TemporaryTag],
    today: NaiveDate,
) -> String {
    if lots.is_empty() && tags.is_empty() {
        return format!("No {item} on the shelf.");
    }
    let undated = |facts: &mut Vec<String>, dates: &Dates| {
        if dates.first_ahead().is_none() {
            facts.insert(0, "no date noted".to_owned());
        }
    };
    let shelf = lots.iter().map(|lot| {
        let mut facts = dates_of(lot, today, when_said);
        undated(&mut facts, &lot.dates);
        facts.extend(lot.guide.map(|day| guide::guided_till(day, today)));
        facts.extend(lot.refrozen.and_then(thawed_before));
        facts.extend(lot.place.as_ref().map(Place::to_string));
        facts.join(", ")
    });
    let on_tags = tags.iter().map(|tag| {
        let notes = tag.dates.iter().map(|note| when_said(note, today));
        let mut facts: Vec<String> = notes.collect();
        undated(&mut facts, &tag.dates);
        facts.push(format!("tag {}", tag.number));
        facts.join(", ")
    });
    let mut said: Vec<String> = Vec::new();
    for one in shelf.chain(on_tags) {
        if !said.contains(&one) {
            said.push(one);
        }
    }
    let all = || {
        let shelf = lots.iter().map(|lot| &lot.dates);
        shelf.chain(tags.iter().map(|tag| &tag.dates))
    };
    let on_shelf = lots.iter().any(|lot| lot.passed(today).is_some());
    let has_passed = on_shelf || !caution(tags.iter().map(|tag| &tag.dates), today).is_empty();
    let mut caution = match has_passed {
        true => CAUTION,
        false if all().any(|dates| dates.first_ahead().is_none()) => " Check the label.",
        false => "",
    };
    let use_by = all().filter_map(|dates| dates.get(DateKind::UseBy));
    let discard = guide::discard_if_past(item, use_by, today);
    if !discard.is_empty() {
        caution = "";
    }
    let name = match kind {
        ItemKind::Medicine => format!("{}, a medicine", capital(item.as_str())),
        ItemKind::Food | ItemKind::Household => capital(item.as_str()),
    };
    as_of_kind(
        format!("{name}: {}.{discard}{caution}", said.join("; ")),
        kind,
    )
}

/// Who asks whether something can be eaten gets its dates, and never a yes. Source: FSIS, "when in doubt, throw it out"; what
/// makes ill can't always be smelled or tasted.
pub(in crate::talk) fn is_it_good(
    item: &ItemName,
    kind: ItemKind,
    lots: &[Lot],
    tags: &[TemporaryTag],
    today: NaiveDate,
) -> String {
    if kind == ItemKind::Household {
        return format!(
            "{}: no food. Don't eat or drink it.",
            capital(item.as_str())
        );
    }
    let dates = when(item, ItemKind::Food, lots, tags, today);
    let dates = dates.replace(CAUTION, "").replace(" Check the label.", "");
    match kind {
        ItemKind::Medicine => format!("{dates} I can't say if it is good. Ask a pharmacist."),
        ItemKind::Food | ItemKind::Household => {
            format!("{dates} I can't say if it is good. When in doubt, throw it out.")
        }
    }
}

/// Whether something was opened, as far as that was said.
pub(in crate::talk) fn is_it_open(item: &ItemName, lots: &[Lot], today: NaiveDate) -> String {
    let name = capital(item.as_str());
    if lots.is_empty() {
        return format!("No {item} on the shelf.");
    }
    let opened = lots
        .iter()
        .filter_map(|lot| Some((lot, lot.dates.get(DateKind::Opened)?)));
    let said = opened.map(|(lot, on)| {
        let guide = lot.guide.map(|day| guide::guided_till(day, today));
        let mut facts = vec![format!("opened {}", say_date(on, today))];
        facts.extend(guide);
        facts.join(", ")
    });
    let said: Vec<String> = said.collect();
    match said.is_empty() {
        true => format!("{name}: nobody told me that it was opened."),
        false => format!("{name}: {}.", said.join("; ")),
    }
}

/// The reply to who finds that a can bulges, or that something is moldy. Sources: FSIS, "Shelf-Stable Food Safety", of cans;
/// CDC: never taste to find out.
pub(in crate::talk) const BAD_SIGN: &str = "Don't use it, don't taste it: throw it out.";

/// The reply to who ate something spoiled.
pub(in crate::talk) const ATE_BAD: &str = "Call a doctor or your local poison control.";

pub(in crate::talk) fn how_much(item: &ItemName, lots: &[Lot]) -> String {
    if lots.is_empty() {
        return format!("No {item} on the shelf.");
    }
    format!("{}: {}.", capital(item.as_str()), lots_said(lots))
}

pub(super) fn lot_facts(lot: &Lot, today: NaiveDate) -> String {
    let mut facts: Vec<String> = lot.quantity.iter().map(Quantity::spoken).collect();
    facts.extend(lot.place.iter().map(Place::to_string));
    facts.extend(dates_of(lot, today, note_said));
    if facts.is_empty() {
        return format!("{} noted", capital(lot.item.as_str()));
    }
    format!("{}: {}", capital(lot.item.as_str()), facts.join(", "))
}

/// "Eggs: 6, fridge."
pub(super) fn located(lots: &[Lot]) -> String {
    let item = lots.first().map_or("", |lot| lot.item.as_str());
    let place = lots.first().and_then(|lot| lot.place.as_ref());
    let all: Vec<&Lot> = lots.iter().collect();
    let is_counted = lots.iter().any(|lot| lot.quantity.is_some());
    let mut facts = Vec::new();
    facts.extend(is_counted.then(|| amounts(&all)));
    facts.extend(place.map(Place::to_string));
    format!("{}: {}.", capital(item), facts.join(", "))
}

pub(super) fn tag_facts(tag: &TemporaryTag, today: NaiveDate) -> String {
    let mut facts = vec![tag.item.to_string()];
    facts.extend(tag.quantity.iter().map(Quantity::spoken));
    facts.extend(tag.dates.iter().map(|note| note_said(note, today)));
    facts.join(", ")
}
