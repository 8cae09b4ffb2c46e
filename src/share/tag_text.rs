//! The text of a tag: the facts that fit it, in whole sentences, and never without those that keep a person well.

/// What a fact is good for, from the most needed to the least.
///
/// What hands can't find out comes first. Who hears the tag has the thing in hand: how much there is and how it is
/// marked can be felt, and its place was known a moment ago.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Need {
    /// What it is.
    Name,
    /// What may do harm: an allergen, a warning.
    Caution,
    /// Until when it is good, or when it was opened, frozen or thawed.
    Date,
    /// How it is prepared or used.
    Directions,
    /// How much there is of it.
    Quantity,
    /// How it is marked to be told by touch.
    Marks,
    /// Where it belongs.
    Place,
}

impl Need {
    /// Whether a tag would mislead without it: then it is never left out.
    pub fn is_essential(self) -> bool {
        self <= Self::Date
    }
}

/// One thing to be said about what the tag is on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    need: Need,
    text: String,
}

/// A tag's text, and what isn't in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TagText {
    /// Whole sentences.
    pub text: String,
    /// What didn't fit, or not all of it; the least needed first. To be told to the person, who would rely on it.
    pub left_out: Vec<Need>,
}

/// Even what must be on a tag doesn't fit it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error(
    "The name, the dates and the cautions alone take {bytes} bytes, and there is room for {budget}"
)]
pub struct NoRoom {
    /// What they take, in UTF-8.
    pub bytes: usize,
    /// What there is room for.
    pub budget: usize,
}

impl Fact {
    /// A fact in these words: one sentence, or several; without a full stop it gets one. `None` without words.
    ///
    /// ```
    /// use tellshelf::share::{Fact, Need};
    /// assert!(Fact::new(Need::Caution, "contains milk").is_some());
    /// assert!(Fact::new(Need::Directions, " ").is_none());
    /// ```
    pub fn new(need: Need, words: &str) -> Option<Self> {
        let text = words.split_whitespace().collect::<Vec<_>>().join(" ");
        (!text.is_empty()).then_some(Self { need, text })
    }

    /// What is left out as a whole or not at all: each step of directions, and other facts as they are.
    fn parts(&self) -> Vec<(Need, String)> {
        let words: Vec<&str> = self.text.split(' ').collect();
        let is_directions = self.need == Need::Directions;
        let steps = words.chunk_by(|word, next| !is_directions || !ends_step(word, next));
        let sentences = steps.map(|words| (self.need, sentence(&words.join(" "))));
        sentences.collect()
    }
}

/// What is said after directions of which only the first steps are on the tag.
const AND_MORE: &str = "And more.";

/// The text for a tag that has room for so many bytes of UTF-8: the facts in the order given, as sentences.
///
/// Where they don't all fit, the least needed is left out first, whole; of two needed alike, the one said last. A fact
/// is never left out for a longer one that is needed less, so what is missing can be told in few words.
///
/// Directions are the last to go, and step by step from their end, if they are in sentences; then the text says "And
/// more." after those that are left. No sentence is cut: "do not freeze" would become "do not", and "bake for twenty
/// five minutes" another time.
///
/// # Errors
/// [`NoRoom`] where even the facts that are [essential](Need::is_essential) don't fit.
///
/// ```
/// use tellshelf::share::{Fact, Need, tag_text};
/// let facts = [
///     (Need::Name, "tomato soup"),
///     (Need::Quantity, "2 cans"),
///     (Need::Date, "use by March 15, 2027"),
///     (Need::Caution, "contains milk"),
///     (Need::Directions, "Stir in one can of water. Heat for five minutes."),
/// ];
/// let facts: Vec<Fact> = facts.into_iter().filter_map(|(need, words)| Fact::new(need, words)).collect();
/// let on_tag = tag_text(&facts, 90).unwrap();
/// assert_eq!(
///     on_tag.text,
///     "Tomato soup. Use by March 15, 2027. Contains milk. Stir in one can of water. And more."
/// );
/// assert_eq!(on_tag.left_out, [Need::Quantity, Need::Directions]);
/// assert!(tag_text(&facts, 49).is_err());
/// ```
pub fn tag_text(facts: &[Fact], budget: usize) -> Result<TagText, NoRoom> {
    let mut parts: Vec<(Need, String)> = facts.iter().flat_map(Fact::parts).collect();
    let mut left_out = Vec::new();
    loop {
        let text = joined(&parts, left_out.contains(&Need::Directions));
        if text.len() <= budget {
            return Ok(TagText { text, left_out });
        }
        // Of equals, `max_by_key` takes the last.
        let least = (0..parts.len()).max_by_key(|at| parts[*at].0);
        let Some(at) = least.filter(|at| !parts[*at].0.is_essential()) else {
            let bytes = text.len();
            return Err(NoRoom { bytes, budget });
        };
        let (need, _) = parts.remove(at);
        if left_out.last() != Some(&need) {
            left_out.push(need);
        }
    }
}

/// The sentences as one text. `more` tells that steps of the directions are missing.
fn joined(parts: &[(Need, String)], more: bool) -> String {
    let mut sentences: Vec<&str> = parts.iter().map(|(_, sentence)| &**sentence).collect();
    let is_step = |(need, _): &(Need, String)| *need == Need::Directions;
    if let Some(last_step) = parts.iter().rposition(is_step).filter(|_| more) {
        sentences.insert(last_step + 1, AND_MORE);
    }
    sentences.join(" ")
}

/// The marks a sentence may end in.
const STOPS: [char; 3] = ['.', '!', '?'];

/// Whether a step ends after the first of these two words. In doubt it doesn't, and goes as one: not where the next is
/// small ("10 oz. water"), and not after the number of a step ("2. Bake").
fn ends_step(word: &str, next: &str) -> bool {
    let is_number = word.len() <= "99.".len() && !word.contains(char::is_alphabetic);
    word.ends_with(STOPS) && !is_number && next.starts_with(char::is_uppercase)
}

/// The words with a capital and a full stop, by which a voice knows where to pause.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    let stop = if words.ends_with(STOPS) { "" } else { "." };
    first.chain(letters).chain(stop.chars()).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const SOUP: [(Need, &str); 7] = [
        (Need::Name, "crème soup"),
        (Need::Marks, "two bands"),
        (Need::Quantity, "2 cans"),
        (Need::Date, "use by March 15, 2027"),
        (Need::Caution, "contains milk"),
        (
            Need::Directions,
            "1. Add 10 oz. water. Heat it, but do not boil it! Is it thick? Add more.",
        ),
        (Need::Place, "pantry"),
    ];

    fn facts(of: &[(Need, &str)]) -> Vec<Fact> {
        let facts = of.iter().map(|(need, words)| Fact::new(*need, words));
        facts.map(|fact| fact.expect("it has words")).collect()
    }

    fn written(budget: usize) -> TagText {
        tag_text(&facts(&SOUP), budget).unwrap()
    }

    #[test]
    fn with_room_everything_is_said_in_order() {
        let all = written(1000);
        assert_eq!(
            all.text,
            "Crème soup. Two bands. 2 cans. Use by March 15, 2027. Contains milk. \
             1. Add 10 oz. water. Heat it, but do not boil it! Is it thick? Add more. Pantry."
        );
        assert_eq!(all.left_out, []);
        // "è" takes two bytes, and the budget counts them.
        assert_eq!(all.text.len(), all.text.chars().count() + 1);
        assert_eq!(written(all.text.len()), all);
        assert_eq!(written(all.text.len() - 1).left_out, [Need::Place]);
    }

    #[test]
    fn the_least_needed_goes_first_and_whole() {
        let all = written(1000).text.len();
        let place = " Pantry.".len();
        let marks = " Two bands.".len();
        assert_eq!(written(all - place).left_out, [Need::Place]);
        let both = written(all - place - 1);
        assert_eq!(both.left_out, [Need::Place, Need::Marks]);
        assert!(!both.text.contains("bands"), "{}", both.text);
        let three = written(all - place - marks - 1);
        assert_eq!(three.left_out, [Need::Place, Need::Marks, Need::Quantity]);
        assert!(three.text.ends_with("Is it thick? Add more."));
    }

    #[test]
    fn directions_go_step_by_step_and_say_that_there_is_more() {
        let essential = "Crème soup. Use by March 15, 2027. Contains milk.";
        let two_steps =
            format!("{essential} 1. Add 10 oz. water. Heat it, but do not boil it! And more.");
        assert_eq!(written(two_steps.len()).text, two_steps);
        // Neither "1." nor "oz." ends a step: what isn't surely two sentences stays one.
        let one_step = format!("{essential} 1. Add 10 oz. water. And more.");
        assert_eq!(written(two_steps.len() - 1).text, one_step);
        let none = written(one_step.len() - 1);
        assert_eq!(none.text, essential);
        assert_eq!(none.left_out.last(), Some(&Need::Directions));
    }

    #[test]
    fn without_room_for_what_must_be_said_there_is_no_text() {
        let essential = "Crème soup. Use by March 15, 2027. Contains milk.".len();
        assert!(tag_text(&facts(&SOUP), essential).is_ok());
        let refused = tag_text(&facts(&SOUP), essential - 1).unwrap_err();
        assert_eq!(refused.bytes, essential);
        assert_eq!(
            refused.to_string(),
            "The name, the dates and the cautions alone take 50 bytes, and there is room for 49"
        );
    }

    #[test]
    fn of_two_needed_alike_the_last_said_goes_first() {
        let two = facts(&[(Need::Quantity, "2 cans"), (Need::Quantity, "one is open")]);
        assert_eq!(tag_text(&two, 19).unwrap().text, "2 cans.");
    }

    fn any_fact() -> impl Strategy<Value = Fact> {
        let needs = [
            Need::Name,
            Need::Caution,
            Need::Date,
            Need::Directions,
            Need::Quantity,
            Need::Marks,
            Need::Place,
        ];
        let words = "[a-zA-Zßé우유🥫.!? \\n]{1,40}|\\PC{1,20}";
        (prop::sample::select(needs.to_vec()), words)
            .prop_filter_map("words", |(need, words)| Fact::new(need, &words))
    }

    proptest! {
        /// Whatever is said, what must be is there in order; the rest is there, or told as left out.
        #[test]
        fn a_text_fits_and_tells_what_it_lacks(
            facts in prop::collection::vec(any_fact(), 0..8),
            budget in 0..300_usize,
        ) {
            let Ok(on_tag) = tag_text(&facts, budget) else {
                let essential = facts.iter().filter(|fact| fact.need.is_essential());
                let least: Vec<String> = essential.map(|fact| sentence(&fact.text)).collect();
                prop_assert!(least.join(" ").len() > budget);
                return Ok(());
            };
            prop_assert!(on_tag.text.len() <= budget);
            let mut rest = &*on_tag.text;
            for fact in &facts {
                let said = sentence(&fact.text);
                if fact.need.is_essential() {
                    let at = rest.find(&said);
                    prop_assert!(at.is_some(), "{said:?} isn't in {rest:?}");
                    rest = &rest[at.unwrap_or_default() + said.len()..];
                } else if !on_tag.left_out.contains(&fact.need) {
                    prop_assert!(fact.need == Need::Directions || on_tag.text.contains(&said));
                }
            }
            let in_order = on_tag.left_out.is_sorted_by(|one, next| one > next);
            prop_assert!(in_order, "{:?}", on_tag.left_out);
        }
    }
}
