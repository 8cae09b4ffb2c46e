//! Lists by ear: the count first, three things at a time, and a place that is kept.
//!
//! Who hears a list can't look back at it. So no more is said at once than can be kept in mind; more of it, the same again,
//! or one of them is said when it is asked for; and a question in between, or a reply that was cut off, doesn't lose the
//! place.

use std::collections::{HashMap, VecDeque};

use super::request::Request;
use crate::stock::ItemName;

/// So many things are said at once: what is easily kept in mind while hands are busy.
pub(super) const AT_ONCE: usize = 3;

/// What is read: what is said first, the things, and what is said behind the last of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Listing {
    /// What each of the things is, where they are things of the kitchen: "it" is the one that was said by its number.
    items: Vec<ItemName>,
    /// With the count, and without the colon: "5 things on the list".
    pub head: String,
    pub things: Vec<String>,
    /// What holds for all of them, such as a caution: it is said at once, and never left to the end of a list that nobody
    /// may hear out.
    pub caution: String,
}

impl Listing {
    pub fn new(head: String, things: Vec<String>) -> Self {
        Self {
            items: Vec::new(),
            head,
            things,
            caution: String::new(),
        }
    }

    /// The same, of these things of the kitchen.
    pub fn of<'i>(mut self, items: impl IntoIterator<Item = &'i ItemName>) -> Self {
        self.items = items.into_iter().cloned().collect();
        self
    }

    /// Words where there is nothing to be listed.
    pub fn none(words: &str) -> Self {
        Self::new(words.to_owned(), Vec::new())
    }

    /// The same with a caution.
    pub fn with_caution(mut self, caution: &str) -> Self {
        self.caution.push_str(caution);
        self
    }

    /// Whether all of it is said at once.
    pub fn is_whole(&self) -> bool {
        self.things.len() <= AT_ONCE
    }

    /// The reply: all of it, if it is no longer than can be kept in mind, or its beginning.
    pub fn reply(&self) -> String {
        if self.things.is_empty() {
            return format!("{}{}", self.head, self.caution);
        }
        let first = self.things.iter().take(AT_ONCE);
        let first: Vec<&str> = first.map(String::as_str).collect();
        let mut reply = format!("{}: {}.", self.head, self.in_a_row(&first));
        if !self.is_whole() {
            reply.push_str(MORE);
        }
        reply + &self.caution
    }

    /// Some of the things, so that it is heard where one ends and the next begins.
    fn in_a_row(&self, things: &[&str]) -> String {
        let plain = self.things.iter().all(|thing| !thing.contains(','));
        things.join(if plain { ", " } else { "; " })
    }
}

const MORE: &str = " Say more.";
const NONE_OF_THESE: &str = "Nothing is left of these.";
const NOTHING_READ: &str = "There is no list to go on with. Say what to read.";

/// Where in a list the person is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct ListPlace {
    listing: Listing,
    /// The first thing that was said last.
    at: usize,
    /// What it answers, to be asked again once something changed.
    asked: Option<Request>,
    /// Which of the things are there no longer.
    gone: Vec<usize>,
}

/// A way through a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Through {
    /// "More."
    More,
    /// "Back."
    Back,
    /// "From the start."
    FromTheStart,
    /// "The third one", from 1; 0 is the last.
    Nth(usize),
}

impl ListPlace {
    /// Begins to read. What is said at once needs no place, but may be asked for one by one.
    pub fn begin(listing: Listing, asked: Option<Request>) -> Self {
        Self {
            listing,
            at: 0,
            asked,
            gone: Vec::new(),
        }
    }

    /// What it answers.
    pub fn asked(&self) -> Option<&Request> {
        self.asked.as_ref()
    }

    /// The thing of the kitchen that has this number in it, from 1; 0 is the last.
    pub fn item(&self, number: usize) -> Option<&ItemName> {
        let index = self.index(number)?;
        self.listing.items.get(index)
    }

    /// Goes on in the same list as it is now. Each thing keeps its number, so that "more" leaves nothing out; what is new
    /// comes last.
    pub fn renew(&mut self, mut now: Listing) {
        let is_known = self.listing.items.len() == self.listing.things.len();
        if !is_known || now.items.len() != now.things.len() {
            return;
        }
        self.gone.clear();
        // Of a thing that is in it several times, one after another.
        let mut there: HashMap<&ItemName, VecDeque<usize>> = HashMap::new();
        for (at, item) in now.items.iter().enumerate() {
            there.entry(item).or_default().push_back(at);
        }
        for (index, item) in self.listing.items.iter().enumerate() {
            match there.get_mut(item).and_then(VecDeque::pop_front) {
                Some(at) => self.listing.things[index] = std::mem::take(&mut now.things[at]),
                None => self.gone.push(index),
            }
        }
        let mut new: Vec<usize> = there.into_values().flatten().collect();
        new.sort_unstable();
        for at in new {
            self.listing.items.push(now.items[at].clone());
            self.listing
                .things
                .push(std::mem::take(&mut now.things[at]));
        }
    }

    fn index(&self, number: usize) -> Option<usize> {
        match number {
            0 => self.listing.things.len().checked_sub(1),
            number => Some(number - 1),
        }
    }

    /// Whether it is what can be said.
    pub fn is_help(&self) -> bool {
        self.listing.head == super::help::YOU_CAN_SAY
    }

    /// Goes on, back, or to one of them.
    pub fn go(&mut self, way: Through) -> String {
        let all = self.listing.things.len();
        match way {
            Through::More if self.at + AT_ONCE >= all => {
                return "That was the last. Say back, or from the start.".to_owned();
            }
            Through::More => self.at += AT_ONCE,
            Through::Back if self.at == 0 => {
                return format!("That's the start. {}", self.page());
            }
            Through::Back => self.at -= AT_ONCE,
            Through::FromTheStart => {
                self.at = 0;
                return self.listing.reply();
            }
            Through::Nth(number) => {
                let index = self.index(number);
                return match index.and_then(|i| self.listing.things.get(i)) {
                    Some(thing) if index.is_some_and(|i| self.gone.contains(&i)) => {
                        format!("{}: no longer there.", super::wording::capital(thing))
                    }
                    Some(thing) => format!("{}.", super::wording::capital(thing)),
                    None => format!("There are only {all}."),
                };
            }
        }
        self.page()
    }

    fn page(&self) -> String {
        let things = self.listing.things.iter().enumerate();
        let is_there = |(index, _): &(usize, &String)| !self.gone.contains(index);
        let page = things.clone().skip(self.at).take(AT_ONCE).filter(is_there);
        let page: Vec<&str> = page.map(|(_, thing)| thing.as_str()).collect();
        let left = things.skip(self.at + AT_ONCE).filter(is_there).count();
        let end = match left {
            0 => " That's all.".to_owned(),
            left => format!(" {left} more."),
        };
        if page.is_empty() {
            return format!("{NONE_OF_THESE}{end}");
        }
        format!(
            "{}.{end}",
            super::wording::capital(&self.listing.in_a_row(&page))
        )
    }
}

/// Goes through what is being read, if anything is.
pub(super) fn go(reading: Option<&mut ListPlace>, way: Through) -> String {
    match reading {
        Some(reading) => reading.go(way),
        None => NOTHING_READ.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(count: usize) -> ListPlace {
        let things = (1..=count).map(|n| format!("thing {n}")).collect();
        ListPlace::begin(Listing::new(format!("{count} things"), things), None)
    }

    #[test]
    fn a_short_list_is_said_whole_and_a_long_one_three_at_a_time() {
        assert_eq!(
            reading(3).listing.reply(),
            "3 things: thing 1, thing 2, thing 3."
        );
        let mut long = reading(7);
        assert_eq!(
            long.listing.reply(),
            "7 things: thing 1, thing 2, thing 3. Say more."
        );
        assert_eq!(long.go(Through::More), "Thing 4, thing 5, thing 6. 1 more.");
        assert_eq!(long.go(Through::More), "Thing 7. That's all.");
        assert_eq!(
            long.go(Through::More),
            "That was the last. Say back, or from the start."
        );
        assert_eq!(long.go(Through::Back), "Thing 4, thing 5, thing 6. 1 more.");
        assert_eq!(long.go(Through::FromTheStart), long.listing.reply());
        assert_eq!(
            long.go(Through::Back),
            "That's the start. Thing 1, thing 2, thing 3. 4 more."
        );
    }

    #[test]
    fn one_of_them_is_said_by_its_number_and_the_place_is_kept() {
        let mut list = reading(5);
        assert_eq!(list.go(Through::Nth(5)), "Thing 5.");
        assert_eq!(list.go(Through::Nth(0)), "Thing 5.");
        assert_eq!(list.go(Through::Nth(6)), "There are only 5.");
        assert_eq!(list.go(Through::More), "Thing 4, thing 5. That's all.");
    }

    #[test]
    fn what_is_gone_is_left_out_and_nothing_is_skipped() {
        let named = |names: &[&str]| {
            let items: Vec<ItemName> = names.iter().map(|n| ItemName::new(n).unwrap()).collect();
            let things = names.iter().map(ToString::to_string).collect();
            Listing::new(format!("{} things", names.len()), things).of(&items)
        };
        let all = named(&["oats", "rice", "milk", "eggs", "corn"]);
        let mut list = ListPlace::begin(all, None);
        list.renew(named(&["oats", "milk", "eggs", "corn", "salt"]));
        assert_eq!(list.go(Through::Nth(2)), "Rice: no longer there.");
        assert_eq!(list.go(Through::More), "Eggs, corn, salt. That's all.");
        assert_eq!(list.go(Through::Back), "Oats, milk. 3 more.");
        assert_eq!(list.item(0).map(ItemName::as_str), Some("salt"));
    }

    #[test]
    fn a_caution_is_said_with_the_first_of_them() {
        let mut listing = reading(5).listing;
        listing.caution = " Throw it out.".into();
        assert!(listing.reply().ends_with("Say more. Throw it out."));
    }
}
