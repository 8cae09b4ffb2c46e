//! Questions before anything is done: what is asked, and what becomes of no answer.

use chrono::NaiveDate;

use super::{Asked, Session, Sure, changes_something};
use crate::grammar::Command;
use crate::measure::{DateKind, DateNote, DateReading, Quantity};
use crate::stock::{ItemName, Lot, Refusal, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::request::{Goods, Request};
use crate::talk::wording;

impl Session {
    /// Whether a question waits for its answer.
    pub fn is_asking(&self) -> bool {
        self.open.is_some()
    }

    /// Lets the open question go: silence is no. Says so; `None` where nothing was asked.
    pub fn let_go(&mut self) -> Option<String> {
        self.open.take()?;
        let reply = wording::NO_ANSWER.to_owned();
        self.last_reply = Some(reply.clone());
        Some(reply)
    }

    /// The question where a date would take the place of another one.
    pub(super) fn overwritten_date(
        &self,
        goods: &Goods,
        today: NaiveDate,
    ) -> Result<Option<String>, StockError> {
        self.other_date(goods, today, |kind| {
            let lots = self.stock.lots(&goods.item)?;
            let known = |lot: &Lot| lot.dates.iter().find(|note| note.kind == kind);
            if lots.iter().any(|lot| known(lot).is_none()) {
                return Ok(None);
            }
            Ok(lots.iter().max_by_key(|lot| lot.id).and_then(known))
        })
    }

    /// The question where the date of what came last would be another one.
    pub(super) fn changed_date(
        &self,
        goods: &Goods,
        today: NaiveDate,
    ) -> Result<Option<String>, StockError> {
        self.other_date(goods, today, |kind| {
            let known = self.stock.newest_dates(&goods.item)?.unwrap_or_default();
            Ok(known.iter().find(|note| note.kind == kind))
        })
    }

    /// The question where a date that was said is another one than is known of its kind.
    fn other_date(
        &self,
        goods: &Goods,
        today: NaiveDate,
        known: impl FnOnce(Option<DateKind>) -> Result<Option<DateNote>, StockError>,
    ) -> Result<Option<String>, StockError> {
        let Some(new) = goods.date.map(|reading| reading.note) else {
            return Ok(None);
        };
        let known = known(new.kind)?.filter(|known| known.date != new.date);
        Ok(known.map(|known| {
            wording::facts::ask_whether_other_date(&goods.item, known, new.date, today)
        }))
    }

    /// A date means what the one meant that it takes the place of, if there is only one.
    pub(super) fn as_known(
        &self,
        item: &ItemName,
        mut date: DateReading,
    ) -> Result<DateReading, StockError> {
        let known = self.stock.newest_dates(item)?.unwrap_or_default();
        let kinds = known.iter().flat_map(|note| note.kind);
        let mut ahead = kinds.filter(|kind| kind.looks_ahead());
        if let (None, Some(only), None) = (date.note.kind, ahead.next(), ahead.next()) {
            date.note.kind = Some(only);
        }
        Ok(date)
    }

    pub(super) fn ask_whether_to_undo(&mut self, several: usize) -> Result<Answer, StockError> {
        let changes = self.stock.standing(several, None)?;
        if changes.is_empty() {
            return Err(Refusal::NothingToUndo.into());
        }
        let words = wording::ask_whether_to_undo(&changes);
        Ok(self.ask(Question::UndoSeveral(changes.len()), words))
    }

    pub(super) fn ask_whether_to_lose(&mut self) -> Result<Answer, StockError> {
        let sounds = self.stock.sounds()?;
        if sounds == 0 {
            return Ok(Answer::say(wording::NO_SOUNDS.to_owned()));
        }
        let words = wording::ask_whether_to_lose(sounds);
        Ok(self.ask(Question::LoseSounds, words))
    }

    /// Makes the ounces of what is poured fluid ounces. Where nobody knows whether it is, the question.
    pub(super) fn unsettled_ounces(
        &self,
        request: &mut Request,
    ) -> Result<Option<String>, StockError> {
        // Of what is taken, what there is tells it.
        if let Some((item, quantity)) = request.taken_quantity_mut() {
            if quantity.has_bare_ounces() && self.is_in_fluid(item, quantity)? {
                *quantity = quantity.in_fluid_ounces();
            }
            return Ok(None);
        }
        let Some((item, quantity)) = request.new_quantity_mut() else {
            return Ok(None);
        };
        if !quantity.has_bare_ounces() {
            return Ok(None);
        }
        match self.starter.is_poured(item.as_str()) {
            Some(true) => *quantity = quantity.in_fluid_ounces(),
            Some(false) => {}
            None => return Ok(Some(wording::ask_what_ounces(quantity))),
        }
        Ok(None)
    }

    /// Whether ounces fit what there is of an item only if they are fluid ones.
    fn is_in_fluid(&self, item: &ItemName, ounces: &Quantity) -> Result<bool, StockError> {
        let lots = self.stock.lots(item)?;
        let have = || lots.iter().filter_map(|lot| lot.quantity.as_ref());
        let fluid = ounces.in_fluid_ounces();
        let by_weight = have().any(|have| have.minus(ounces).is_ok());
        Ok(!by_weight && have().any(|have| have.minus(&fluid).is_ok()))
    }

    pub(super) fn ask(&mut self, question: Question, words: String) -> Answer {
        let clip = self.clip.take();
        self.ask_again(Asked {
            question,
            words,
            clip,
        })
    }

    pub(super) fn ask_again(&mut self, asked: Asked) -> Answer {
        let answer = Answer::say(asked.words.clone());
        self.open = Some(asked);
        answer
    }

    /// Asks for the likeliest command; and, on a no, for the one that is nearly as likely.
    pub(super) fn ask_whether(
        &mut self,
        command: &Command,
        request: Request,
        or: Option<&Command>,
    ) -> Answer {
        let or = or.and_then(|or| Some((or.sentence.clone(), Box::new(Request::read(or).ok()?))));
        let words = wording::ask_whether(&command.sentence);
        self.ask(Question::DidYouMean { request, or }, words)
    }

    /// What a no leads to: to what else may have been said, or to nothing.
    pub(super) fn decline(&mut self, open: Asked) -> Answer {
        if let Question::DidYouMean { request, .. } = &open.question {
            self.declined.push(request.clone());
        }
        match open.question {
            Question::DidYouMean {
                or: Some((sentence, request)),
                ..
            } => {
                let forms = self.said.take().map(|said| said.forms);
                self.remember(&request, &sentence, forms.unwrap_or_default(), Sure::Yes);
                let words = wording::ask_whether_instead(&sentence);
                self.ask(Question::did_you_mean(*request), words)
            }
            Question::IsItInHand { mut or, .. } if !or.is_empty() => {
                let item = or.remove(0);
                let words = wording::away::ask_whether_it_is(&item);
                self.ask(Question::IsItInHand { item, or }, words)
            }
            Question::IsItInHand { .. } => Answer::say(wording::away::SAY_WHICH.to_owned()),
            Question::IsThatTheDay {
                request,
                or: Some(day),
            } => {
                let (request, or) = (request.on(day), None);
                let words = wording::ask_whether_other_day(day);
                self.ask(Question::IsThatTheDay { request, or }, words)
            }
            Question::WholePacks(_) => Answer::say(wording::SAY_WHAT_IS_LEFT.to_owned()),
            _ => Answer::say(wording::NOTHING_CHANGED.to_owned()),
        }
    }

    pub(super) fn ask_about_unknown(&mut self, name: &str, request: Request) -> Answer {
        if !changes_something(&request) {
            return Answer::say(wording::unknown(name));
        }
        // Of the others, a yes would only be refused: there is none of it.
        if !matches!(request, Request::UsedUp(..) | Request::Finished(_)) {
            return Answer::say(wording::unknown_unchanged(name));
        }
        self.ask(
            Question::did_you_mean(request),
            wording::ask_whether_to_note(name),
        )
    }
}
