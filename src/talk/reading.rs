//! Lists by ear: the count first, three things at a time, and a place that is kept.
//!
//! Who hears a list can't look back at it. So no more is said at once than can be kept in mind; more of it, the same again,
//! or one of them is said when it is asked for; and a question in between, or a reply that was cut off, doesn't lose the
//! place.

/// So many things are said at once: what is easily kept in mind while hands are busy.
pub(super) const AT_ONCE: usize = 3;

/// What is read: what is said first, the things, and what is said behind the last of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Listing {
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
            head,
            things,
            caution: String::new(),
        }
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
const NOTHING_READ: &str = "There is no list to go on with. Say what to read.";

/// Where in a list the person is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct ListPlace {
    listing: Listing,
    /// The first thing that was said last.
    at: usize,
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
    pub fn begin(listing: Listing) -> Self {
        Self { listing, at: 0 }
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
                let index = if number == 0 { all } else { number };
                return match index
                    .checked_sub(1)
                    .and_then(|i| self.listing.things.get(i))
                {
                    Some(thing) => format!("{}.", super::wording::capital(thing)),
                    None => format!("There are only {all}."),
                };
            }
        }
        self.page()
    }

    fn page(&self) -> String {
        let page = self.listing.things.iter().skip(self.at).take(AT_ONCE);
        let page: Vec<&str> = page.map(String::as_str).collect();
        let left = self.listing.things.len().saturating_sub(self.at + AT_ONCE);
        let end = match left {
            0 => " That's all.".to_owned(),
            left => format!(" {left} more."),
        };
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
        ListPlace::begin(Listing::new(format!("{count} things"), things))
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
    fn a_caution_is_said_with_the_first_of_them() {
        let mut listing = reading(5).listing;
        listing.caution = " Throw it out.".into();
        assert!(listing.reply().ends_with("Say more. Throw it out."));
    }
}
