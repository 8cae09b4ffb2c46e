//! What feels like another thing, or is marked like one, told when that may have changed.

use super::Answer;
use crate::stock::{
    Candidate, Change, Fact, ItemKind, ItemName, Mark, Outcome, Place, Stock, StockError,
    free_mark, look_alikes, marked_alike,
};
use crate::talk::wording;

/// What feels or is marked like something of which that may have changed: it came in, is somewhere else now, is back, or
/// how it feels was said, or that it is a medicine.
pub(super) fn alike_now(stock: &Stock, outcome: &Outcome) -> Result<String, StockError> {
    let lots = match outcome {
        Outcome::CameIn { lot, .. } => vec![lot.clone()],
        // What was only opened stands where it stood.
        Outcome::Changed { how, changed, .. } if *how != Change::Opened => changed.clone(),
        Outcome::PutBack { lots, .. } => lots.clone(),
        Outcome::Located { lots } => lots.clone(),
        Outcome::Described {
            item,
            fact: Fact::Feel(_) | Fact::Kind(ItemKind::Medicine),
        } => stock.lots(item)?,
        _ => return Ok(String::new()),
    };
    let mut places: Vec<&Place> = lots.iter().flat_map(|lot| &lot.place).collect();
    places.sort();
    places.dedup();
    let Some(first) = lots.first() else {
        return Ok(String::new());
    };
    for place in places {
        let mixed = mixed(stock, &first.item, place)?;
        let said = mixed + &alike(stock, &first.item, place)?;
        if !said.is_empty() {
            return Ok(said);
        }
    }
    Ok(String::new())
}

/// That a medicine and food lie in one place now.
pub(in crate::talk) fn mixed(
    stock: &Stock,
    item: &ItemName,
    place: &Place,
) -> Result<String, StockError> {
    Ok(match stock.facts(item)?.kind {
        ItemKind::Medicine if stock.is_food_in(place)? => wording::facts::among_food(item),
        ItemKind::Food => match stock.medicines_in(place)?.first() {
            Some(medicine) => wording::facts::beside_medicine(medicine),
            None => String::new(),
        },
        ItemKind::Medicine | ItemKind::Household => String::new(),
    })
}

/// What feels or is marked like something that just came into a place, with a mark that would tell them apart.
pub(in crate::talk) fn alike(
    stock: &Stock,
    item: &ItemName,
    place: &Place,
) -> Result<String, StockError> {
    let there = stock.beside(item, place)?;
    let Some(new) = there.iter().find(|known| known.item == *item) else {
        return Ok(String::new());
    };
    let named = |known: &Candidate| known.item.clone();
    // A mark means one thing in one place.
    let same_mark: Vec<ItemName> = marked_alike(new, &there).into_iter().map(named).collect();
    let alike: Vec<ItemName> = look_alikes(new, &there).into_iter().map(named).collect();
    if new.marks.is_empty() && alike.is_empty() {
        return Ok(String::new());
    }
    // And that of a medicine one thing anywhere.
    let marked = stock.marked()?;
    let elsewhere = marked_alike(new, &marked).into_iter();
    let mut elsewhere = elsewhere.filter(|known| known.medicine || new.medicine);
    let mark = || free_mark(new, &marked, None);
    Ok(if !same_mark.is_empty() {
        wording::facts::marked_alike(&same_mark, mark())
    } else if let Some(other) = elsewhere.next() {
        wording::facts::marked_like_medicine(&other.item, new.medicine, mark())
    } else if !alike.is_empty() {
        wording::facts::feels_alike(&alike, mark())
    } else {
        String::new()
    })
}

/// That a mark means something else already, with one that is free.
pub(super) fn mark_taken(
    stock: &Stock,
    item: &ItemName,
    taken: Mark,
    by: &ItemName,
) -> Result<Answer, StockError> {
    let facts = stock.facts(item)?;
    let new = Candidate {
        item: item.clone(),
        feel: facts.feel,
        marks: Vec::new(),
        places: Vec::new(),
        medicine: facts.kind == ItemKind::Medicine,
    };
    let free = free_mark(&new, &stock.marked()?, None);
    Ok(Answer::say(wording::facts::mark_taken(taken, by, free)))
}
