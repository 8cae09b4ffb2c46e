//! Putting away: one thing after another gets its place, in the order in which they wait or as the hand finds them.
//!
//! In: requests that only make sense there. Out: an answer, and what is in hand now.

use super::answer::{Answer, changed};
use super::question::Question;
use super::request::{Held, Request};
use super::walk::Here;
use super::wording;
use crate::stock::{
    Asked, ByHand, Candidate, Choice, Event, EventId, Feel, ItemKind, ItemName, Mark, Place, Stock,
    StockError, TagKind, TagNumber, Waiting, by_hand,
};

/// What is in hand.
#[derive(Debug, Default)]
enum Hand {
    /// Nothing.
    #[default]
    Empty,
    /// Another thing than the one whose turn it was, and it isn't clear which: no place is taken for it.
    Unclear,
    /// This thing.
    Holds(Waiting),
}

impl From<Option<Waiting>> for Hand {
    fn from(thing: Option<Waiting>) -> Self {
        thing.map_or(Self::Empty, Self::Holds)
    }
}

/// The walk along the things that have no place yet.
#[derive(Debug, Default)]
pub(super) struct Away {
    hand: Hand,
    /// Whether the person can't tell for sure what that is.
    unsure: bool,
    /// What was left for later.
    skipped: Vec<Waiting>,
    /// What got its place last, and may get a tag.
    placed: Option<ItemName>,
    /// The same with all that was known of it and how it was noted, for who meant another place.
    last: Option<Box<Placed>>,
    /// The temporary tags that came off what got its place.
    freed: Vec<TagNumber>,
}

/// A thing that got its place.
#[derive(Debug, Clone)]
struct Placed {
    thing: Waiting,
    unsure: bool,
    event: Option<EventId>,
}

impl Away {
    /// Whether this is what is in hand.
    pub fn holds(&self, item: &ItemName) -> bool {
        matches!(&self.hand, Hand::Holds(thing) if thing.item == *item)
    }

    /// What is in hand, if that is clear.
    pub fn in_hand_now(&self) -> Option<&ItemName> {
        match &self.hand {
            Hand::Holds(thing) => Some(&thing.item),
            Hand::Unclear | Hand::Empty => None,
        }
    }

    /// Whether nothing more can be said here: nothing is in hand, and nothing may get a tag.
    pub fn is_over(&self) -> bool {
        matches!(self.hand, Hand::Empty) && self.placed.is_none()
    }

    /// After an undo, things are as they were: what was in hand may wait again.
    pub fn look_again(&mut self, stock: &Stock) -> Result<(), StockError> {
        self.hand = self.next_of(stock)?.into();
        self.placed = None;
        self.last = None;
        Ok(())
    }

    fn next_of(&self, stock: &Stock) -> Result<Option<Waiting>, StockError> {
        let mut waiting = stock.waiting()?.into_iter();
        Ok(waiting.find(|thing| !self.skipped.iter().any(|skipped| are_one(skipped, thing))))
    }

    /// The next thing in order.
    pub fn next_thing(&mut self, before: String, here: &Here<'_>) -> Result<Answer, StockError> {
        self.unsure = false;
        self.hand = self.next_of(here.stock)?.into();
        if let Hand::Empty = self.hand {
            let end = wording::round::all_put_away(self.skipped.len());
            return Ok(Answer::say(wording::round::joined(&before, &end)));
        }
        self.in_hand(before, here)
    }

    /// Says what is in hand, and asks for its place.
    fn in_hand(&self, before: String, here: &Here<'_>) -> Result<Answer, StockError> {
        let Hand::Holds(thing) = &self.hand else {
            return Ok(Answer::say(before));
        };
        let usual = usual_place(here.stock, &thing.item)?;
        let said = wording::round::in_hand(thing, usual.as_ref(), here.now.date());
        Ok(Answer::say(wording::round::joined(&before, &said)))
    }

    /// The person holds this one, whatever its turn.
    pub fn take(&mut self, thing: Waiting, here: &Here<'_>) -> Result<Answer, StockError> {
        self.skipped.retain(|skipped| !are_one(skipped, &thing));
        self.hand = Hand::Holds(thing);
        self.unsure = false;
        self.in_hand(String::new(), here)
    }

    /// The person says which one they hold.
    pub fn hold(&mut self, held: &Held, here: &mut Here<'_>) -> Result<Answer, StockError> {
        let waiting = here.stock.waiting()?;
        if waiting.is_empty() {
            return Ok(Answer::say(wording::round::NOTHING_TO_PUT_AWAY.to_owned()));
        }
        self.hand = Hand::Unclear;
        let (fitting, none) = match held {
            Held::Tag(tag) => {
                let none = wording::away::no_tag_waits(*tag, &waiting);
                (only(&waiting, |thing| thing.tag == Some(*tag)), none)
            }
            Held::Item(item) => {
                let none = wording::away::waits_not(item, &waiting);
                (only(&waiting, |thing| thing.item == *item), none)
            }
            Held::Untagged(item) => {
                let of_item = only(&waiting, |thing| thing.item == *item);
                let none = match of_item.is_empty() {
                    true => wording::away::waits_not(item, &waiting),
                    false => wording::away::none_untagged(&of_item),
                };
                let fits = |thing: &Waiting| thing.item == *item && thing.tag.is_none();
                (only(&waiting, fits), none)
            }
            Held::Felt(feel, mark) => return self.hold_by_hand(*feel, *mark, &waiting, here),
        };
        match fitting.as_slice() {
            [] => Ok(Answer::say(none)),
            [thing] => self.take((*thing).clone(), here),
            several => Ok(Answer::say(wording::away::which_of_one_kind(several))),
        }
    }

    fn hold_by_hand(
        &mut self,
        feel: Feel,
        mark: Option<Mark>,
        waiting: &[Waiting],
        here: &mut Here<'_>,
    ) -> Result<Answer, StockError> {
        let asked = Asked {
            feel,
            marks: mark.map(|mark| vec![mark]),
            place: None,
        };
        let things = by_hand(&asked, &candidates(here.stock, waiting)?);
        Ok(match things {
            ByHand::This(item) => {
                let bears = |thing: &Waiting| mark.is_none_or(|mark| bears(thing, mark));
                let one = only(waiting, |thing| thing.item == item && bears(thing));
                match one.as_slice() {
                    [thing] => self.take((*thing).clone(), here)?,
                    several => Answer::say(wording::away::which_of_one_kind(several)),
                }
            }
            ByHand::Likely(mut items) => {
                let item = items.remove(0);
                let words = wording::away::ask_whether_it_is(&item);
                Answer::ask(Question::IsItInHand { item, or: items }, words)
            }
            ByHand::OneOf(items) => Answer::say(wording::away::several_fit(&items)),
            ByHand::Medicine => Answer::say(wording::away::MEDICINE_FEELS_SO.to_owned()),
            ByHand::None => Answer::say(wording::away::nothing_feels_so(waiting)),
        })
    }

    /// What is in hand goes there; without a place, to its usual one.
    pub fn there(
        &mut self,
        place: Option<&Place>,
        here: &mut Here<'_>,
    ) -> Result<Answer, StockError> {
        let thing = match &self.hand {
            Hand::Holds(thing) => thing.clone(),
            Hand::Unclear => return Ok(Answer::say(wording::away::WHICH_IS_IT.to_owned())),
            Hand::Empty => return Ok(Answer::say(wording::round::NOTHING_IN_HAND.to_owned())),
        };
        if !here.stock.waiting()?.iter().any(|one| are_one(one, &thing)) {
            // It was put away by its name or tag, in a whole sentence.
            return self.next_thing(wording::away::has_its_place(&thing), here);
        }
        let usual = usual_place(here.stock, &thing.item)?;
        let Some(place) = place.cloned().or(usual) else {
            return Ok(Answer::say(wording::round::no_usual_place(&thing.item)));
        };
        let unsure = self.unsure;
        let reply = self.place(thing.clone(), unsure, &place, here)?;
        let answer = self.next_thing(reply, here)?;
        Ok(changed(answer.reply, Some(thing.item)))
    }

    /// "No, I meant the pantry": what got its place last gets this one, and what is in hand now stays there. `None` where
    /// that isn't the last change any more.
    pub fn there_instead(
        &mut self,
        place: &Place,
        here: &mut Here<'_>,
    ) -> Result<Option<Answer>, StockError> {
        let Some(Placed {
            thing,
            unsure,
            event,
        }) = self.last.as_deref().cloned()
        else {
            return Ok(None);
        };
        if event.is_none() || here.stock.last_standing()? != event {
            return Ok(None);
        }
        here.stock.undo(here.now, here.source)?;
        let reply = self.place(thing, unsure, place, here)?;
        let answer = self.in_hand(reply, here)?;
        Ok(Some(changed(answer.reply, None)))
    }

    /// Notes the place of a thing, and says it.
    fn place(
        &mut self,
        thing: Waiting,
        unsure: bool,
        place: &Place,
        here: &mut Here<'_>,
    ) -> Result<String, StockError> {
        let older = here.stock.lots(&thing.item)?;
        let event = match thing.tag {
            Some(tag) => Event::PutAway {
                tag,
                place: place.clone(),
            },
            None => Event::Stowed {
                item: thing.item.clone(),
                place: place.clone(),
                unsure,
            },
        };
        let outcome = here.record(event)?;
        let mut reply = wording::placed(&outcome, here.now.date());
        if older.iter().any(|lot| lot.place.as_ref() == Some(place)) {
            reply.push_str(wording::round::BEHIND_THE_OLD);
        }
        let kind = here.stock.facts(&thing.item)?.kind;
        reply = wording::as_of_kind(reply, kind);
        reply.push_str(&super::answer::alike::mixed(
            here.stock,
            &thing.item,
            place,
        )?);
        reply.push_str(&super::answer::alike::alike(
            here.stock,
            &thing.item,
            place,
        )?);
        self.placed = Some(thing.item.clone());
        self.freed.extend(thing.tag);
        let event = here.stock.last_standing()?;
        self.last = Some(Box::new(Placed {
            thing,
            unsure,
            event,
        }));
        Ok(reply)
    }

    /// A tag by its number alone: the temporary one on a thing that waits, or the kitchen tag of what was just placed.
    pub fn tag(&mut self, tag: TagNumber, here: &mut Here<'_>) -> Result<Answer, StockError> {
        let waits = here
            .stock
            .waiting()?
            .iter()
            .any(|thing| thing.tag == Some(tag));
        let Some(item) = self.placed.as_ref().filter(|_| !waits) else {
            return self.hold(&Held::Tag(tag), here);
        };
        match here.stock.pool_tag(tag)?.map(|known| known.kind) {
            Some(TagKind::Kitchen) => self.with_tag(tag, here),
            // It came off something, or was taken along and is on nothing: more likely misheard, or mistaken by hand.
            Some(TagKind::Temporary) => Ok(Answer::say(wording::away::waits_with_no_tag(tag))),
            None if self.freed.contains(&tag) => {
                Ok(Answer::say(wording::away::waits_with_no_tag(tag)))
            }
            _ => {
                let words = wording::away::ask_whether_kitchen_tag(tag, item);
                Ok(Answer::ask(
                    Question::IsThatSo(Request::WithTag(tag)),
                    words,
                ))
            }
        }
    }

    pub fn with_tag(&mut self, tag: TagNumber, here: &mut Here<'_>) -> Result<Answer, StockError> {
        let Some(item) = self.placed.clone() else {
            return Ok(Answer::say(wording::round::NOTHING_PLACED.to_owned()));
        };
        let outcome = here.record(Event::KitchenTagged {
            item,
            tag,
            of: Choice::default(),
        })?;
        let answer = self.in_hand(here.outcome(&outcome), here)?;
        Ok(changed(answer.reply, None))
    }

    pub fn skip(&mut self, here: &Here<'_>) -> Result<Answer, StockError> {
        if let Hand::Holds(thing) = std::mem::take(&mut self.hand) {
            self.skipped.push(thing);
        }
        self.next_thing(wording::round::SKIPPED.to_owned(), here)
    }

    /// What can't be told goes to its place all the same, and is kept as not yet known. What has a tag is known by it.
    pub fn cant_tell(&mut self) -> Answer {
        match &self.hand {
            Hand::Holds(Waiting { tag: None, .. }) => {
                self.unsure = true;
                Answer::say(wording::round::NOT_YET_KNOWN.to_owned())
            }
            Hand::Holds(thing) => Answer::say(wording::round::by_its_tag(thing)),
            Hand::Unclear => Answer::say(wording::away::LAY_ASIDE.to_owned()),
            Hand::Empty => Answer::say(wording::round::NOTHING_IN_HAND.to_owned()),
        }
    }
}

/// Whether they are one thing, of which more may have become known.
fn are_one(one: &Waiting, other: &Waiting) -> bool {
    (&one.item, one.tag) == (&other.item, other.tag)
}

fn bears(thing: &Waiting, mark: Mark) -> bool {
    thing.mark.is_some_and(|its| its.may_be(mark))
}

fn only(waiting: &[Waiting], fits: impl Fn(&Waiting) -> bool) -> Vec<&Waiting> {
    waiting.iter().filter(|thing| fits(thing)).collect()
}

/// What waits, each item once, with how it feels and the marks on what waits of it: those at home are on something
/// else.
pub(super) fn candidates(stock: &Stock, waiting: &[Waiting]) -> Result<Vec<Candidate>, StockError> {
    let mut candidates: Vec<Candidate> = Vec::new();
    for thing in waiting {
        if let Some(known) = candidates.iter_mut().find(|one| one.item == thing.item) {
            known.marks.extend(thing.mark);
            continue;
        }
        let facts = stock.facts(&thing.item)?;
        candidates.push(Candidate {
            item: thing.item.clone(),
            feel: facts.feel,
            marks: thing.mark.into_iter().collect(),
            places: Vec::new(),
            medicine: facts.kind == ItemKind::Medicine,
        });
    }
    Ok(candidates)
}

/// Where an item belongs: as it was said, or where there is some of it, or was the last time.
fn usual_place(stock: &Stock, item: &ItemName) -> Result<Option<Place>, StockError> {
    let facts = stock.facts(item)?;
    if facts.place.is_some() {
        return Ok(facts.place);
    }
    let there = stock.lots(item)?.into_iter().find_map(|lot| lot.place);
    Ok(there.or(facts.last_place))
}
