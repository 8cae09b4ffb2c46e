//! What is put somewhere: it is new, or it was in the house before.

use chrono::NaiveDateTime;

use super::{Session, Stage};
use crate::grammar::{Understanding, Verdict};
use crate::measure::Quantity;
use crate::stock::{
    Asked, ByHand, Change, Choice, Feel, ItemName, Lot, Place, Refusal, Source, StockError,
    TagNumber, by_hand,
};
use crate::talk::answer::{Answer, changed};
use crate::talk::question::Question;
use crate::talk::request::{Request, Which};
use crate::talk::walk_away::candidates;
use crate::talk::wording;

/// Where what was frozen is, unless something else was said.
const FREEZER: &str = "freezer";

impl Session {
    /// "I put the bread in the freezer": what has no place gets it. Where there is bread elsewhere, so much at least, it is
    /// asked whether that is meant.
    pub(super) fn put_somewhere(
        &mut self,
        item: ItemName,
        quantity: Option<Quantity>,
        place: Place,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let lots = self.stock.lots(&item)?;
        let has_none = |lot: &Lot| lot.place.is_none();
        if quantity.is_none() && (lots.iter().any(has_none) || self.stock.waits(&item)?) {
            // What comes into the freezer freezes there: that is more than a place that becomes known.
            let mut unfrozen = lots.iter().filter(|lot| !lot.is_frozen()).peekable();
            let freezes = place.is_freezer() && unfrozen.peek().is_some() && unfrozen.all(has_none);
            let request = match freezes {
                true => Request::moved_to(item, None, Choice::default(), place),
                false => Request::Locate(item, place),
            };
            return self.carry_out(request, false, now, source);
        }
        let is_enough = |lot: &Lot| match (&quantity, &lot.quantity) {
            (Some(quantity), Some(have)) => matches!(have.minus(quantity), Ok(Some(_))),
            (Some(_), None) => false,
            (None, _) => true,
        };
        let elsewhere = lots.iter().filter(|lot| is_enough(lot));
        let mut elsewhere = elsewhere.filter_map(|lot| lot.place.as_ref());
        match elsewhere.find(|there| **there != place) {
            None => {
                let request = Request::new_at(item, quantity, place);
                self.carry_out(request, false, now, source)
            }
            Some(there) => {
                let words = wording::ask_whether_from(&item, quantity.as_ref(), there);
                let question = Question::WasItThere {
                    item,
                    quantity,
                    from: there.clone(),
                    place,
                };
                Ok(self.ask(question, words))
            }
        }
    }

    /// "It's in the fridge": of what was spoken of last.
    pub(super) fn locate_it(
        &mut self,
        place: Place,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let Some(item) = self.it() else {
            return Ok(Answer::say(wording::WHAT_IS_THERE.to_owned()));
        };
        let request = match self.part_changed_last(&item)? {
            Some(of) => Request::moved_to(item, None, of, place),
            None => Request::Locate(item, place),
        };
        self.carry_out(request, false, now, source)
    }

    /// What was opened, frozen or moved last, where it was only a part of what there is.
    fn part_changed_last(&self, item: &ItemName) -> Result<Option<Choice>, StockError> {
        let last = self
            .said
            .as_ref()
            .filter(|said| said.stage == Stage::Changed);
        let of = match last.map(|said| &said.request) {
            Some(Request::Change {
                how: Change::Opened,
                ..
            }) => Choice::opened(),
            Some(Request::Change {
                how: Change::Frozen,
                place: None,
                ..
            }) => Choice {
                place: Place::new(FREEZER).ok(),
                ..Choice::default()
            },
            Some(Request::Change {
                place: Some(there), ..
            }) => Choice::from(there.clone()),
            _ => return Ok(None),
        };
        let lots = self.stock.lots(item)?;
        let is_part = lots.iter().any(|lot| of.fits(lot)) && !lots.iter().all(|lot| of.fits(lot));
        Ok(is_part.then_some(of))
    }

    /// "Put the milk back in the fridge": what was used up is there again, with all that was known of it, and gets this place.
    pub(super) fn put_back_in(
        &mut self,
        item: ItemName,
        place: Place,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let was_gone = self.is_nowhere(&item)?;
        let back = match was_gone {
            true => self.carry_out(Request::PutBack(item.clone()), true, now, source),
            false => Ok(Answer::default()),
        };
        match back {
            Err(StockError::Refused(Refusal::NothingToPutBack { .. })) => {}
            back => {
                back?;
            }
        }
        let lots = self.stock.lots(&item)?;
        let is_here = lots.iter().any(|lot| lot.place.as_ref() == Some(&place));
        if was_gone && is_here {
            let lots: Vec<&Lot> = lots.iter().collect();
            let reply = wording::back_there(&item, &lots, &place);
            return Ok(changed(reply, Some(item)));
        }
        let mut answer = self.carry_out(Request::Locate(item, place), false, now, source)?;
        answer.changed |= was_gone && !lots.is_empty();
        Ok(answer)
    }

    /// "Kitchen tag three on the tuna", where there is some in several places that has no tag: asks for one after another,
    /// what came last first.
    pub(super) fn ask_which_to_tag(
        &mut self,
        item: &ItemName,
        tag: TagNumber,
    ) -> Result<Option<Answer>, StockError> {
        let mut lots = self.stock.lots(item)?;
        lots.retain(|lot| lot.tag.is_none());
        lots.sort_by_key(|lot| std::cmp::Reverse(lot.id));
        let mut or: Vec<(String, Request)> = Vec::new();
        for place in lots.into_iter().filter_map(|lot| lot.place) {
            let said = format!("in the {place}");
            if or.iter().all(|(before, _)| *before != said) {
                let request = Request::KitchenTag(item.clone(), tag, Choice::from(place));
                or.push((said, request));
            }
        }
        if or.len() < 2 {
            return Ok(None);
        }
        let (said, request) = or.remove(0);
        let words = wording::ask_whether_this_one(item, &said);
        Ok(Some(self.ask(Question::WhichOne { request, or }, words)))
    }

    /// "Put away the square bag in the pantry": what waits and feels so, asked about; `None` where a name is meant.
    pub(super) fn put_away_by_feel(
        &mut self,
        item: &ItemName,
        place: &Place,
    ) -> Result<Option<Answer>, StockError> {
        let words: Vec<&str> = item.as_str().split(' ').collect();
        let (feel, rest) = Feel::read(&words);
        if feel.is_empty() || !rest.is_empty() || self.names.find(item.as_str()).is_some() {
            return Ok(None);
        }
        let asked = Asked {
            feel,
            marks: None,
            place: None,
        };
        let waiting = self.stock.waiting()?;
        let found = by_hand(&asked, &candidates(&self.stock, &waiting)?);
        let likeliest = match found {
            ByHand::This(item) => Some(item),
            ByHand::Likely(items) => items.into_iter().next(),
            ByHand::OneOf(_) | ByHand::Medicine | ByHand::None => None,
        };
        let Some(likeliest) = likeliest else {
            return Ok(Some(Answer::say(wording::away::SAY_ITS_NAME.to_owned())));
        };
        let words = wording::away::ask_whether_it_is(&likeliest);
        let request = Request::PutAway(Which::Item(likeliest), place.clone());
        Ok(Some(self.ask(Question::did_you_mean(request), words)))
    }

    /// What is said of a thing in hand, while nothing is being put away but something waits: after a restart, say.
    pub(super) fn still_waits(
        &self,
        understanding: &Understanding,
        now: NaiveDateTime,
    ) -> Result<Option<String>, StockError> {
        let waiting = self.stock.waiting()?.len();
        if waiting == 0 || self.walk.mode().is_some() || self.open.is_some() {
            return Ok(None);
        }
        let Some(away) = self.grammar.in_mode("away") else {
            return Ok(None);
        };
        let heard = away.understand(&[&understanding.heard], &self.names, now.date());
        let command = heard.command.filter(|_| heard.verdict == Verdict::Accept);
        let is_of_hand = command.is_some_and(|command| match command.intent.as_str() {
            "goes-there" | "goes-with-tag" | "cant-tell" => true,
            "in-hand" => command.slot("item").is_none(),
            _ => false,
        });
        Ok(is_of_hand.then(|| wording::away::still_waits(waiting)))
    }

    /// The request by which what was thawed and has no place since is frozen again: its place alone would leave its clock
    /// running. `None` where nothing of it was.
    pub(super) fn freezing_again(
        &self,
        item: &ItemName,
        place: &Place,
    ) -> Result<Option<Request>, StockError> {
        let lots = self.stock.lots(item)?;
        let is_out = |lot: &Lot| lot.is_thawed() && lot.place.is_none();
        let freezes = place.is_freezer() && lots.iter().any(is_out);
        Ok(
            freezes
                .then(|| Request::moved_to(item.clone(), None, Choice::default(), place.clone())),
        )
    }

    /// Whether there is none of an item, as far as anybody said.
    pub(super) fn is_nowhere(&self, item: &ItemName) -> Result<bool, StockError> {
        Ok(!self.stock.waits(item)? && self.stock.lots(item)?.is_empty())
    }
}
