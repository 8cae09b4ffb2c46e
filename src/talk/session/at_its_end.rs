//! What is thrown out or at its end, where it isn't clear what of it is meant.

use chrono::NaiveDate;

use super::Session;
use crate::measure::DateKind;
use crate::stock::{Choice, ItemName, Lot, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::request::Request;
use crate::talk::wording;

impl Session {
    /// What takes off the shelf what has passed of an item. The inner error is a reply: nothing has.
    pub(super) fn passed_of(
        &self,
        item: ItemName,
        today: NaiveDate,
    ) -> Result<Result<Request, String>, StockError> {
        let of = Choice::passed(today);
        let has_passed = self.stock.lots(&item)?.iter().any(|lot| of.fits(lot));
        Ok(match has_passed {
            true => Ok(Request::UsedUp(item, of)),
            false => Err(wording::none_has_passed(&item)),
        })
    }

    /// Whether of what is for babies one is past its use-by date, and another one isn't: which was opened must be known.
    pub(super) fn has_passed_beside_good(
        &self,
        item: &ItemName,
        today: NaiveDate,
    ) -> Result<bool, StockError> {
        if !wording::guide::is_for_babies(item) {
            return Ok(false);
        }
        let lots = self.stock.lots(item)?;
        let closed = lots.iter().filter(|lot| !lot.is_opened());
        let has_passed = |lot: &Lot| {
            lot.dates
                .get(DateKind::UseBy)
                .is_some_and(|day| day < today)
        };
        let (passed, good): (Vec<&Lot>, Vec<&Lot>) = closed.partition(|lot| has_passed(lot));
        Ok(!passed.is_empty() && !good.is_empty())
    }

    /// "I have no milk": what is noted of it is used up, or it is to be bought. Both are asked, as it may be talk.
    pub(super) fn have_none(&mut self, item: ItemName) -> Result<Answer, StockError> {
        if !self.stock.lots(&item)?.is_empty() {
            let words = wording::ask_whether_used_up(&item);
            let request = Request::UsedUp(item, Choice::default());
            return Ok(self.ask(Question::IsThatSo(request), words));
        }
        if self.stock.is_listed(&item)? {
            return Ok(Answer::say(wording::where_is(&item, &[], &[], true)));
        }
        let words = wording::ask_whether_to_list(&item);
        Ok(self.ask(Question::IsThatSo(Request::List(item, None)), words))
    }
}
