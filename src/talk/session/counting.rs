//! What is said to be there, and what some was used of: how much there is now, or was taken.

use chrono::NaiveDateTime;

use super::Session;
use crate::measure::{Quantity, Share};
use crate::stock::{Change, Choice, ItemName, Lot, Place, Refusal, Source, StockError};
use crate::talk::answer::{Answer, share_of};
use crate::talk::question::Question;
use crate::talk::request::{Goods, Request, Since};
use crate::talk::wording;

impl Session {
    /// "I have six eggs in the fridge": of what lies there already, that is how much there is now; else it is new.
    pub(super) fn has(
        &mut self,
        goods: Goods,
        place: Option<Place>,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let item = goods.item.clone();
        // On a trip, it is in the hand or the cart.
        if place.is_none() && goods.date.is_none() && self.walk.is_at_store() {
            let got = Request::Got(item, goods.quantity);
            return self.carry_out(got, false, now, source);
        }
        let lots = self.stock.lots(&item)?;
        let Some(quantity) = goods.quantity.clone() else {
            return self.has_some(item, lots.is_empty(), now, source);
        };
        // What has no place yet is meant as well.
        if let Some(place) = &place
            && !lots.is_empty()
            && lots.iter().all(|lot| lot.place.is_none())
        {
            let located = Request::Locate(item.clone(), place.clone());
            self.carry_out(located, false, now, source)?;
        }
        let lots = self.stock.lots(&item)?;
        let there = lots
            .iter()
            .filter(|lot| place.is_none() || lot.place == place);
        let there: Vec<&Lot> = there.collect();
        let has_its_date = |lot: &&Lot| {
            goods.date.is_none_or(|date| {
                let kind = date.note.kind;
                kind.is_some_and(|kind| lot.dates.get(kind) == Some(date.note.date))
            })
        };
        let request = match there.as_slice() {
            // "I have two dates."
            [] if place.is_none() && quantity.bare_count().is_some() => {
                Request::Count(item, quantity, None)
            }
            [] => Request::PutIn { goods, place },
            [lot] if has_its_date(lot) => Request::Count(item, quantity, place),
            _ if goods.date.is_none() => Request::Count(item, quantity, place),
            lots => {
                let words = wording::ask_whether_besides(&item, lots);
                let question = Question::did_you_mean(Request::PutIn { goods, place });
                return Ok(self.ask(question, words));
            }
        };
        self.carry_out(request, false, now, source)
    }

    /// "I have turmeric": where none was noted, it is asked whether to note it.
    fn has_some(
        &mut self,
        item: ItemName,
        is_new: bool,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        if !is_new || self.stock.waits(&item)? {
            return self.carry_out(Request::Where(item), false, now, source);
        }
        let words = wording::ask_whether_to_note_some(&item);
        let request = Request::PutIn {
            goods: Goods {
                item,
                quantity: None,
                date: None,
            },
            place: None,
        };
        Ok(self.ask(Question::did_you_mean(request), words))
    }

    /// A part of what can be frozen, thawed or moved, as so much of it.
    pub(super) fn change_of_part(
        &self,
        item: ItemName,
        how: Change,
        share: &Share,
        place: Option<Place>,
    ) -> Result<Request, StockError> {
        let mut lots = self.stock.lots(&item)?;
        if lots.is_empty() {
            return Err(Refusal::NoneLeft { item }.into());
        }
        lots.retain(|lot| match how {
            Change::Frozen => !lot.is_frozen(),
            Change::Thawed => lot.is_frozen(),
            Change::Opened => !lot.is_opened(),
            Change::Moved => lot.place != place,
        });
        if lots.is_empty() {
            return Err(Refusal::AllSoAlready { item, how }.into());
        }
        let quantity = share_of(item.clone(), share, &lots)?;
        Ok(Request::Change {
            item,
            how,
            quantity: Some(quantity),
            place,
            since: Since::Today,
            of: Choice::default(),
        })
    }

    /// "I used some flour": what was sealed is open by that. How much is left, nobody knows but the person.
    pub(super) fn use_some(
        &mut self,
        item: ItemName,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let lots = self.stock.lots(&item)?;
        let Some(first) = lots.first() else {
            return Err(Refusal::NoneLeft { item }.into());
        };
        let is_loose = |quantity: &Quantity| quantity.bare_count().is_some();
        if first.quantity.as_ref().is_some_and(is_loose) {
            return Ok(Answer::say(wording::how_many_used(&item)));
        }
        if first.is_opened() {
            return Ok(Answer::say(wording::opened_before(&item)));
        }
        let opened = Request::Change {
            item,
            how: Change::Opened,
            quantity: None,
            place: None,
            since: Since::Today,
            of: Choice::default(),
        };
        self.carry_out(opened, false, now, source)
    }
}
