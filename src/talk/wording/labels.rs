//! The words for what labels say of allergens. What nobody read is never a no.

use super::{capital, things};
use crate::stock::{Allergen, Fact, Facts, ItemName, LabelOf, OnLabel, Says};
use crate::talk::reading::Listing;

/// Behind every answer about an allergen. Source: FDA's advice to read the label each time, as recipes change.
const READ_AGAIN: &str = "Makers change recipes: have the label read.";

/// What was noted of a label.
pub(super) fn noted(item: &ItemName, fact: &Fact) -> String {
    let name = capital(item.as_str());
    match fact.label() {
        Some((Says::NotListed | Says::NotListedBefore, allergens)) => {
            format!(
                "{name}: label read, no {} listed.",
                in_a_row(allergens, "or")
            )
        }
        Some((says, allergens)) => {
            format!("{name}: {} {}.", verb(says), in_a_row(allergens, "and"))
        }
        None => format!("{name}."),
    }
}

fn verb(says: Says) -> &'static str {
    match says {
        Says::Contains => "contains",
        Says::MayContain => "may contain",
        Says::NotListed => "lists no",
        Says::NotListedBefore => "on an earlier pack, no",
    }
}

/// "Milk, eggs and soy."
pub(super) fn in_a_row(allergens: &[Allergen], and: &str) -> String {
    let names: Vec<&str> = allergens.iter().map(Allergen::as_str).collect();
    match names.split_last() {
        Some((last, first @ [_, ..])) => format!("{} {and} {last}", first.join(", ")),
        _ => names.join(""),
    }
}

/// The question before it is noted that a label lists none of something: what it said so far is part of it.
pub(super) fn ask_whether(item: &ItemName, fact: &Fact, known: &Facts) -> Option<String> {
    let (Says::NotListed, allergens) = fact.label()? else {
        return None;
    };
    let name = capital(item.as_str());
    let none = in_a_row(allergens, "or");
    let so_far = known.allergens.iter().filter(|(known, says)| {
        let is_it = allergens
            .iter()
            .any(|allergen| known.is_kind_of(allergen) || allergen.is_kind_of(known));
        is_it && matches!(says, Says::Contains | Says::MayContain)
    });
    let so_far: Vec<Allergen> = so_far.map(|(known, _)| known.clone()).collect();
    Some(match so_far.is_empty() {
        true => format!("{name}: the label was read, and lists no {none}? Yes or no."),
        false => format!(
            "{name}: so far the label says {}. Change it to lists no {none}? Yes or no.",
            in_a_row(&so_far, "and")
        ),
    })
}

/// Whether an item has an allergen, by its label.
pub(in crate::talk) fn has_allergen(
    item: &ItemName,
    allergen: &Allergen,
    says: &OnLabel,
) -> String {
    let name = capital(item.as_str());
    match says {
        OnLabel::Contains(these) => {
            format!("Yes. {name}: the label says {}.", in_a_row(these, "and"))
        }
        OnLabel::MayContain(these) => format!(
            "Maybe. {name}: the label says it may contain {}.",
            in_a_row(these, "and")
        ),
        OnLabel::Broader(these) => {
            format!("Maybe. {name}: the label says {}.", in_a_row(these, "and"))
        }
        OnLabel::NotListed => {
            format!("{name}: the label was read, and lists no {allergen}. {READ_AGAIN}")
        }
        OnLabel::NotListedBefore => {
            format!("Not known for this pack. The label read before listed no {allergen}.")
        }
        OnLabel::Unknown(none) if none.is_empty() => {
            format!("Not known. Nobody read the label of {item} for {allergen}.")
        }
        OnLabel::Unknown(none) => format!(
            "Not known for all {allergen}. The label of {item} lists no {}.",
            in_a_row(none, "or")
        ),
    }
}

/// Whether an item is free of an allergen: the same turned round, and never a yes.
pub(in crate::talk) fn is_free(item: &ItemName, allergen: &Allergen, says: &OnLabel) -> String {
    let name = capital(item.as_str());
    match says {
        OnLabel::Contains(these) => {
            format!("No. {name}: the label says {}.", in_a_row(these, "and"))
        }
        OnLabel::MayContain(these) => format!(
            "Maybe not. {name}: the label says it may contain {}.",
            in_a_row(these, "and")
        ),
        OnLabel::Broader(these) => format!(
            "Maybe not. {name}: the label says {}.",
            in_a_row(these, "and")
        ),
        says => has_allergen(item, allergen, says),
    }
}

/// What there is with an allergen. Of what nobody read, that is said: it may have it as well. What isn't in the house is
/// told where nothing in it has the allergen.
pub(in crate::talk) fn what_has(allergen: &Allergen, known: &[LabelOf]) -> Listing {
    let (there, gone): (Vec<&LabelOf>, Vec<&LabelOf>) = known.iter().partition(|one| one.is_there);
    let named = |things: &[&LabelOf]| -> Vec<String> {
        let named = things.iter().filter_map(|one| named(one, allergen));
        named.collect()
    };
    let (has, had) = (named(&there), named(&gone));
    let listing = match (has.len(), had.is_empty()) {
        (0, true) => Listing::none(&format!("No label read so far says {allergen}.")),
        (0, false) => Listing::new(
            format!("No label in the house says {allergen}. Not in the house, but with it"),
            had,
        ),
        (count, _) => Listing::new(format!("{} with {allergen}", capital(&things(count))), has),
    };
    let is_unknown =
        |one: &&&LabelOf| matches!(one.says, OnLabel::Unknown(_) | OnLabel::NotListedBefore);
    let unknown: Vec<&&LabelOf> = there.iter().filter(is_unknown).collect();
    let unknown = match unknown.as_slice() {
        [] => String::new(),
        [one] => format!(" Not known for {}.", one.item),
        several => format!(" Not known for {}.", things(several.len())),
    };
    listing.with_caution(&unknown)
}

/// That a label lists none is never known of all that is in a thing.
pub(in crate::talk) fn what_has_no(allergen: &Allergen) -> String {
    format!("I can't tell what is without it. Ask: what has {allergen} in it.")
}

/// A thing that has an allergen, or may have it, with what its label says where that isn't the word that was asked for.
fn named(one: &LabelOf, asked: &Allergen) -> Option<String> {
    let item = &one.item;
    match &one.says {
        OnLabel::Contains(these) if these == std::slice::from_ref(asked) => Some(item.to_string()),
        OnLabel::Contains(these) | OnLabel::Broader(these) => {
            Some(format!("{item}, the label says {}", in_a_row(these, "and")))
        }
        OnLabel::MayContain(these) => {
            Some(format!("{item}, may contain {}", in_a_row(these, "and")))
        }
        _ => None,
    }
}

/// All that was read of a label.
pub(in crate::talk) fn allergens(item: &ItemName, known: &[(Allergen, Says)]) -> Listing {
    let all = [
        (Says::Contains, "and"),
        (Says::MayContain, "and"),
        (Says::NotListed, "or"),
        (Says::NotListedBefore, "or"),
    ];
    let said = all.into_iter().filter_map(|(wanted, and)| {
        let these = known.iter().filter(|(_, says)| *says == wanted);
        let these: Vec<Allergen> = these.map(|(allergen, _)| allergen.clone()).collect();
        (!these.is_empty()).then(|| format!("{} {}", verb(wanted), in_a_row(&these, and)))
    });
    let said: Vec<String> = said.collect();
    match said.is_empty() {
        true => Listing::none(&format!("Not known. Nobody read the label of {item}.")),
        false => Listing::new(format!("{}, by the label", capital(item.as_str())), said)
            .with_caution(" Of others nothing is known."),
    }
}

/// What can hurt, for the next hand: what is in it, and what may be.
pub(super) fn cautions(facts: &Facts) -> String {
    let with = |wanted: Says| {
        let these = facts.allergens.iter().filter(|(_, says)| *says == wanted);
        let these: Vec<&str> = these.map(|(allergen, _)| allergen.as_str()).collect();
        match these.is_empty() {
            true => String::new(),
            false => format!(" {} {}.", capital(verb(wanted)), these.join(", ")),
        }
    };
    with(Says::Contains) + &with(Says::MayContain)
}
