//! "It", and words that name nothing.

use super::{Session, changes_something};
use crate::stock::{Choice, ItemName};
use crate::talk::request::Request;
use crate::talk::wording;

/// Words for what was spoken of before.
const IT: &[&str] = &["it", "them", "they", "that", "this", "those", "these"];
/// Words that could be anything: nothing is kept under them.
const ANYTHING: &[&str] = &[
    "something",
    "something else",
    "anything",
    "stuff",
    "some stuff",
    "thing",
    "things",
    "some things",
];

/// What a request turns out to be about.
pub(super) enum Named {
    /// What it says.
    AsSaid(Request),
    /// What was spoken of last.
    AsBefore(Request),
    /// Nothing: what to say instead.
    Nothing(&'static str),
}

impl Session {
    /// Puts what was spoken of last in the place of "it".
    ///
    /// `said` is how a known name in it was said, where that isn't how it is spelled.
    pub(super) fn named(&self, mut request: Request, said: Option<&str>) -> Named {
        let it = self.spoken_of.as_ref();
        let it = it.filter(|it| self.names.find(it.as_str()).is_some());
        if let Request::UseOfIt(used) = request {
            return match it {
                Some(it) => Named::AsBefore(Request::Use(it.clone(), used, Choice::default())),
                None => Named::Nothing(wording::OF_WHAT),
            };
        }
        let changes = changes_something(&request);
        let Some(item) = request.item_mut() else {
            return Named::AsSaid(request);
        };
        let is_it = |name: &str| IT.contains(&name);
        if is_it(item.as_str()) || said.is_some_and(is_it) {
            return match it {
                Some(it) => {
                    item.clone_from(it);
                    Named::AsBefore(request)
                }
                None if changes => Named::Nothing(wording::WHAT_IS_IT),
                None => Named::Nothing(wording::SAY_ITS_NAME),
            };
        }
        if changes && ANYTHING.contains(&item.as_str()) {
            return Named::Nothing(wording::WHAT_IS_IT);
        }
        Named::AsSaid(request)
    }

    /// The first of several things: as many of the first words as are a name that is known, or what stands before "and".
    pub(super) fn first_of<'n>(&self, several: &'n str) -> &'n str {
        let ends = several.match_indices(' ').map(|(end, _)| end);
        let starts = ends.map(|end| &several[..end]);
        let known = starts.filter(|start| self.names.find(start).is_some());
        let before_and = several.split(" and ").next().unwrap_or(several);
        known.last().unwrap_or(before_and)
    }

    /// Keeps what was spoken of, for who says "it" next.
    pub(super) fn speak_of(&mut self, item: Option<ItemName>) {
        self.spoken_of = item.or(self.spoken_of.take());
    }
}
