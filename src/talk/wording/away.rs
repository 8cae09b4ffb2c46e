//! The words for what is in hand while things are put away, as the person says which it is.

use super::capital;
use crate::stock::{ItemName, TagNumber, Waiting};
use crate::talk::reading::Listing;

pub(in crate::talk) const MEDICINE_FEELS_SO: &str =
    "A medicine may feel like that. Say its name, its tag or its mark.";
/// What is said to a no, where nothing else is likely.
pub(in crate::talk) const SAY_WHICH: &str = "Then say its name, its tag or its mark.";

pub(in crate::talk) const WHICH_IS_IT: &str =
    "Which one? Say its name, its tag or its mark, or skip it.";
/// What waits and feels so can't be told.
pub(in crate::talk) const SAY_ITS_NAME: &str =
    "Which one is that? Say put away, its name or its tag, and the place.";
pub(in crate::talk) const LAY_ASIDE: &str = "Lay it aside for the end, and say skip it.";

/// At most this many are named.
const MOST_NAMED: usize = 5;

pub(in crate::talk) fn ask_whether_it_is(item: &ItemName) -> String {
    format!("{}? Yes or no.", capital(item.as_str()))
}

pub(in crate::talk) fn several_fit(items: &[ItemName]) -> String {
    let names: Vec<String> = items.iter().map(ItemName::to_string).collect();
    format!(
        "{} fit: {}. Say its name.",
        count(names.len()),
        named(&names)
    )
}

/// What waits to be put away, for who asks what is left.
pub(in crate::talk) fn waiting(things: &[Waiting]) -> Listing {
    let said = things.iter().map(|thing| match thing.tag {
        Some(tag) => format!("{}, tag {tag}", thing.item),
        None => thing.item.to_string(),
    });
    Listing::new(super::things(things.len()), said.collect())
}

/// A place or a tag is said, and nothing is being put away; but something waits.
pub(in crate::talk) fn still_waits(waiting: usize) -> String {
    let are = if waiting == 1 { "is" } else { "are" };
    format!(
        "{} {are} to be put away. Say: put things away.",
        super::capital(&super::things(waiting))
    )
}

/// Several things of one name, told apart by what is on them.
pub(in crate::talk) fn which_of_one_kind(things: &[&Waiting]) -> String {
    let item = things.first().map_or("", |thing| thing.item.as_str());
    let (tags, count) = (tags_of(things), count(things.len()));
    match things.iter().any(|thing| thing.tag.is_none()) {
        false => format!("{count} are {item}: {tags}. Say which tag."),
        true => format!("{count} are {item}: {tags}. Say which tag, or {item} without a tag."),
    }
}

/// All that waits of one name has a tag.
pub(in crate::talk) fn none_untagged(things: &[&Waiting]) -> String {
    let item = things.first().map_or("", |thing| thing.item.as_str());
    format!(
        "{}: none without a tag. Say: {}.",
        capital(item),
        tags_of(things)
    )
}

fn tags_of(things: &[&Waiting]) -> String {
    let tags = things.iter().filter_map(|thing| thing.tag);
    named(&tags.map(|tag| format!("tag {tag}")).collect::<Vec<_>>())
}

pub(in crate::talk) fn no_tag_waits(tag: TagNumber, waiting: &[Waiting]) -> String {
    format!("Tag {tag} is on none of these: {}.", names_of(waiting))
}

/// A temporary tag on nothing that waits.
pub(in crate::talk) fn waits_with_no_tag(tag: TagNumber) -> String {
    format!("No tag {tag} waits.")
}

pub(in crate::talk) fn ask_whether_kitchen_tag(tag: TagNumber, item: &ItemName) -> String {
    format!("Kitchen tag {tag} for the {item}? Yes or no.")
}

pub(in crate::talk) fn waits_not(item: &ItemName, waiting: &[Waiting]) -> String {
    let name = capital(item.as_str());
    format!(
        "{name}: none to put away. There are: {}.",
        names_of(waiting)
    )
}

pub(in crate::talk) fn nothing_feels_so(waiting: &[Waiting]) -> String {
    format!(
        "None is known to feel so. Say which: {}.",
        names_of(waiting)
    )
}

pub(in crate::talk) fn has_its_place(thing: &Waiting) -> String {
    format!("{} has its place.", capital(thing.item.as_str()))
}

/// What waits, by name, each once.
fn names_of(waiting: &[Waiting]) -> String {
    let mut names: Vec<String> = Vec::new();
    for thing in waiting {
        let name = thing.item.to_string();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    named(&names)
}

fn named(names: &[String]) -> String {
    let first = &names[..names.len().min(MOST_NAMED)];
    let more = match names.len() - first.len() {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    first.join(", ") + &more
}

/// A number at the beginning of a sentence.
fn count(count: usize) -> String {
    capital(&crate::measure::spell(count as u64))
}
