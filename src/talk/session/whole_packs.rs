//! A bare count of what is kept in packs: "I used an egg" of a carton is seldom the carton.

use super::Session;
use crate::grammar::one_of;
use crate::measure::{Pack, Quantity};
use crate::stock::{ItemKind, ItemName, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::request::Request;
use crate::talk::wording;

impl Session {
    /// Makes a bare count one of packs where nobody counts what is in them. Where somebody may, the question, or the reply
    /// where there aren't so many packs.
    pub(super) fn loose_count(
        &mut self,
        request: &mut Request,
    ) -> Result<Option<Answer>, StockError> {
        let Some((item, quantity)) = request.taken_quantity_mut() else {
            return Ok(None);
        };
        let Some(in_packs) = self.in_packs(item, quantity)? else {
            return Ok(None);
        };
        let item = item.clone();
        let is_medicine = self.stock.facts(&item)?.kind == ItemKind::Medicine;
        *quantity = in_packs.clone();
        let Some(pack) = in_packs.pack().filter(|pack| {
            is_medicine || pack.is_of_loose_things() || one_of(item.as_str()) != item.as_str()
        }) else {
            return Ok(None);
        };
        let lots = self.stock.lots(&item)?;
        let there = lots.iter().filter_map(|lot| lot.quantity.as_ref());
        let mut there = there.filter(|have| have.pack() == Some(pack));
        let first = there.next().cloned();
        let there = first.and_then(|first| there.try_fold(first, |sum, have| sum.plus(have).ok()));
        // Of packs of several sizes, the stock sees how many there are.
        let is_enough = there
            .as_ref()
            .is_none_or(|there| matches!(there.minus(&in_packs), Ok(Some(_))));
        if !is_enough {
            let words = wording::kept_by(&item, pack);
            return Ok(Some(Answer::say(words)));
        }
        let words = wording::ask_whether_whole(&item, &in_packs, pack);
        let question = Question::WholePacks(request.clone());
        Ok(Some(self.ask(question, words)))
    }

    /// A bare count as one of the packs that would be taken first; `None` where some of it is counted one by one, or
    /// comes in packs that are the thing.
    fn in_packs(
        &self,
        item: &ItemName,
        quantity: &Quantity,
    ) -> Result<Option<Quantity>, StockError> {
        let Some(count) = quantity.bare_count() else {
            return Ok(None);
        };
        let lots = self.stock.lots(item)?;
        let is_medicine = self.stock.facts(item)?.kind == ItemKind::Medicine;
        // Of a bottle of pills, one is a pill.
        let is_of_pills =
            |pack: Option<Pack>| is_medicine && pack.is_some_and(|p| p != Pack::Tablet);
        let is_singly = lots.iter().any(|lot| match &lot.quantity {
            Some(have) => have.minus(quantity).is_ok() && !is_of_pills(have.pack()),
            None => true,
        });
        if is_singly {
            return Ok(None);
        }
        let mut packs = lots.iter().filter_map(|lot| lot.quantity.as_ref()?.pack());
        Ok(packs.next().map(|pack| Quantity::Count {
            count,
            pack: Some(pack),
        }))
    }
}
