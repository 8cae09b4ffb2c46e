//! What is said of the list beyond one line of it: more of what is on it, and all of it.

use chrono::NaiveDateTime;

use super::Session;
use crate::measure::Quantity;
use crate::stock::{ItemName, Source, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::request::Request;
use crate::talk::wording;

impl Session {
    /// "I need two more cans": beside what is on the list.
    pub(super) fn list_more(
        &mut self,
        item: Option<ItemName>,
        more: Quantity,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let Some(item) = item.or_else(|| self.it()) else {
            return Ok(Answer::say(wording::OF_WHAT.to_owned()));
        };
        let list = self.stock.list()?;
        let line = list.into_iter().find(|line| line.item == item);
        let wanted = line.and_then(|line| line.quantity);
        // What can't be added takes the place of what was, and that is said.
        let all = wanted.and_then(|wanted| wanted.plus(&more).ok());
        let request = Request::List(item, Some(all.unwrap_or(more)));
        self.carry_out(request, false, now, source)
    }

    pub(super) fn ask_whether_to_clear(&mut self) -> Result<Answer, StockError> {
        let lines = self.stock.list()?.len();
        if lines == 0 {
            return Ok(Answer::say(wording::LIST_EMPTY.to_owned()));
        }
        let words = wording::ask_whether_to_clear(lines);
        Ok(self.ask(Question::ClearList, words))
    }
}
