//! Why something was not done, and what to say next.

use super::{capital, is_plural};
use super::{facts, round};
use crate::stock::{Change, Choice, Refusal};

/// The same behind what did change something.
pub(in crate::talk) fn refused_behind_a_change(refused: &Refusal) -> String {
    refusal(refused).replace(" Nothing changed.", "")
}

pub(in crate::talk) fn refusal(refusal: &Refusal) -> String {
    match refusal {
        Refusal::NoneLeft { item } => format!("No {item} on the shelf. Nothing changed."),
        Refusal::NoneSuch {
            item,
            of: Choice {
                place: Some(place), ..
            },
        } => {
            let is = if is_plural(item) { "are" } else { "is" };
            let place = capital(place.as_str());
            format!(
                "{place}: no {item} {is} noted there. Nothing changed. Ask: where {is} the {item}."
            )
        }
        Refusal::NoneSuch { item, .. } => format!("No {item} is noted as opened. Nothing changed."),
        Refusal::NotEnough { item, have } => {
            format!("{}: only {have}. Nothing changed.", capital(item.as_str()))
        }
        Refusal::OtherMeasure { item, have, asked } => format!(
            "{}: I can't take {asked} from {have}. Say: I used some {item}.",
            capital(item.as_str())
        ),
        Refusal::UnknownAmount { item } => format!(
            "{}: the amount isn't known yet. Say used up when it's gone.",
            capital(item.as_str())
        ),
        Refusal::AllSoAlready { item, how } => {
            let name = capital(item.as_str());
            match how {
                Change::Opened => format!("{name}: none is unopened. Nothing changed."),
                Change::Frozen => format!("{name}: all of it is frozen. Nothing changed."),
                Change::Thawed => format!("{name}: none is frozen. Nothing changed."),
                Change::Moved => format!("{name}: there already. Nothing changed."),
            }
        }
        Refusal::NotListed { item } => format!("Not on the list: {item}."),
        Refusal::AlreadyListed { item } => format!("Already on the list: {item}."),
        Refusal::NoSuchTag(number) => format!("There is no tag {number}. Say read the tags."),
        Refusal::NothingLearned { item } => format!("No other names learned for {item}."),
        Refusal::NeverHad { item } => format!("I know no {item}. Nothing changed."),
        Refusal::NameTaken { name } => {
            format!(
                "{} is a name already. Nothing changed. Say another one.",
                capital(name.as_str())
            )
        }
        Refusal::TagInUse { tag, item } => {
            format!("Tag {tag} is on {item}. Nothing changed. Take another tag.")
        }
        Refusal::OtherTag { tag, is } => facts::other_tag(*tag, *is),
        Refusal::TagOnNothing(tag) => format!("Tag {tag} is on nothing. Nothing changed."),
        Refusal::TagIsLost(tag) => format!("Tag {tag} is noted as lost. Say: I found tag {tag}."),
        Refusal::TagNotLost(tag) => format!("Tag {tag} isn't lost. Nothing changed."),
        Refusal::NoneToTake { first, last } => {
            format!("None of the tags {first} to {last} is free. Nothing changed.")
        }
        Refusal::AllTagged { item, tag } => {
            format!(
                "{} has tag {tag} already. Nothing changed.",
                capital(item.as_str())
            )
        }
        Refusal::CodeTaken { known } => round::code_taken(known),
        Refusal::MarkTaken { mark, item } => format!(
            "Already on the {item}: {}. Nothing changed. Take another mark.",
            mark.spoken()
        ),
        Refusal::OnTrip => "You're on a trip already. Say: I'm home, or next.".to_owned(),
        Refusal::NotOnTrip => "No trip is on. Nothing changed.".to_owned(),
        Refusal::SameSection { section } => {
            format!("That is {section} twice. Nothing changed. Say before or after what.")
        }
        Refusal::NoOwnOrder => "The order is the usual one already.".to_owned(),
        Refusal::NothingWaiting { item } => {
            format!("No {item} waits to be put away. Nothing changed.")
        }
        Refusal::WhichLot { item, lots } => format!(
            "{}: there are {lots} lots. Say what was used, or add what is new.",
            capital(item.as_str())
        ),
        Refusal::KnownAlready { item } => {
            format!(
                "{}: that is known. Nothing changed.",
                capital(item.as_str())
            )
        }
        Refusal::NothingToPutBack { item } => format!(
            "{} wasn't the last thing used up. Add it again, with how much there is.",
            capital(item.as_str())
        ),
        Refusal::NothingToUndo => "Nothing is left to undo.".to_owned(),
    }
}
