//! Questions before anything is done: what is asked, and what becomes of no answer.

use chrono::{Datelike, NaiveDate};

use super::{Asked, Session, Sure, changes_something};
use crate::grammar::{Command, Understanding, Verdict};
use crate::measure::{DateKind, DateNote, DateReading, Quantity};
use crate::stock::{Choice, ItemName, Labelled, Lot, Refusal, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::request::{Correction, Goods, Request, Which};
use crate::talk::wording;

/// More words than that are no question that anybody keeps in mind.
pub(super) const MOST_ECHOED: usize = 14;

/// What isn't done where the question is let go, if more is to be said than that nothing changed.
pub(super) fn not_done(open: &Asked) -> Option<String> {
    if open.is_behind_a_change {
        return Some(wording::STAYS_AS_TAKEN_BACK.to_owned());
    }
    open.question.half_said().and_then(wording::not_noted)
}

impl Session {
    /// Whether a question waits for its answer.
    pub fn is_asking(&self) -> bool {
        self.open.is_some()
    }

    /// Whether it was asked how much of several lots is meant.
    pub(super) fn is_asking_how_much(&self) -> bool {
        let open = self.open.as_ref().map(|open| &open.question);
        matches!(open, Some(Question::AllOfIt(_)))
    }

    /// Whether it was asked which of two days is a date.
    pub(super) fn is_asking_which_day(&self) -> bool {
        let open = self.open.as_ref().map(|open| &open.question);
        matches!(open, Some(Question::IsThatTheDay { or: Some(_), .. }))
    }

    /// The day in a year that was named, of those that may be a date. `None` where neither is.
    pub(super) fn day_in_year(question: &Question, year: i32) -> Option<Request> {
        let Question::IsThatTheDay { request, or } = question else {
            return None;
        };
        let asked = request.goods()?.date?.note.date;
        let mut days = [Some(asked), *or].into_iter().flatten();
        let day = days.find(|day| day.year() == year)?;
        Some(request.clone().on(day))
    }

    /// Whether what was said drops what waited to be finished.
    pub(super) fn drops(&self, unfinished: &Request, understanding: &Understanding) -> bool {
        let still_open = self
            .open
            .as_ref()
            .and_then(|open| open.question.unfinished());
        let understood = understanding.verdict != Verdict::Reject;
        let command = understanding.command.as_ref().filter(|_| understood);
        let said = command.and_then(|command| Request::read(command).ok());
        let has_date =
            |request: &Request| request.goods().is_some_and(|goods| goods.date.is_some());
        said.is_some_and(|said| {
            let finishes = said.item() == unfinished.item()
                && (has_date(&said) || !has_date(unfinished))
                && !tells_something_else(&said, unfinished);
            // Of three meanings, one may be told by its number.
            let answers = said.answers() || matches!(said, Request::Through(_));
            !answers && !finishes && still_open.and_then(Request::item) != unfinished.item()
        })
    }

    /// Lets the open question go: silence is no. Says so; `None` where nothing was asked.
    pub fn let_go(&mut self) -> Option<String> {
        let open = self.open.take()?;
        let reply = match not_done(&open) {
            _ if open.is_behind_a_change => wording::NO_ANSWER_BEHIND_A_CHANGE.to_owned(),
            Some(words) => wording::no_answer(&words),
            None => wording::NO_ANSWER.to_owned(),
        };
        self.last_reply = Some(reply.clone());
        Some(reply)
    }

    /// The question where a date would take the place of another one of this thing.
    pub(super) fn overwritten_date(
        &self,
        goods: &Goods,
        of: Labelled,
        today: NaiveDate,
    ) -> Result<Option<String>, StockError> {
        self.other_date(goods, today, |kind| {
            let dates = match of {
                Labelled::Lot(id) => {
                    let lots = self.stock.lots(&goods.item)?;
                    let lot = lots.into_iter().find(|lot| lot.id == id);
                    lot.map(|lot| lot.dates)
                }
                Labelled::Tag(tag) => self.stock.tag(tag)?.map(|tag| tag.dates),
            };
            let dates = dates.unwrap_or_default();
            Ok(dates.iter().find(|note| note.kind == kind))
        })
    }

    /// The question before something is frozen whose time has passed: freezing only stops it.
    pub(super) fn passed_before_freezing(
        &self,
        item: &ItemName,
        of: &Choice,
        today: NaiveDate,
    ) -> Result<Option<String>, StockError> {
        let lots = self.stock.lots(item)?;
        let meant = |lot: &&Lot| of.fits(lot) && !lot.is_frozen();
        let mut passed = lots.iter().filter(meant);
        let passed = passed.find_map(|lot| lot.passed(today));
        Ok(passed.map(|due| wording::ask_whether_to_freeze(item, due, today)))
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
        let of_manner = self.manners_changed_last()?.min(several);
        let changes = self.stock.standing(several - of_manner, None)?;
        if changes.is_empty() && of_manner == 0 {
            return Err(Refusal::NothingToUndo.into());
        }
        let words = wording::ask_whether_to_undo(&changes, of_manner);
        Ok(self.ask(Question::UndoSeveral(changes.len() + of_manner), words))
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
            is_behind_a_change: false,
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
        if command.sentence.split_whitespace().count() > MOST_ECHOED {
            return Answer::say(wording::TOO_LONG.to_owned());
        }
        let or = or.and_then(|or| Some((or.sentence.clone(), Box::new(Request::read(or).ok()?))));
        let words = wording::ask_whether(&command.sentence);
        self.ask(Question::DidYouMean { request, or }, words)
    }

    /// Asks whether a known name is meant by one that only comes near to it.
    pub(super) fn ask_whether_known(&mut self, said: &str, request: Request) -> Answer {
        let words = request
            .item()
            .map(|item| wording::ask_whether_known(said, &item));
        self.ask(Question::did_you_mean(request), words.unwrap_or_default())
    }

    /// "I used up the yogurt", and there is only Greek yogurt: asks whether that is meant. A no leads to what was said.
    pub(super) fn ask_whether_kind(
        &mut self,
        request: &Request,
    ) -> Result<Option<Answer>, StockError> {
        let (item, kinds) = match request {
            Request::UsedUp(item, _)
            | Request::Finished(item)
            | Request::ThrownOut(item)
            | Request::UseSome(item)
            | Request::ChangePart { item, .. }
            | Request::Use(item, ..)
            | Request::Change { item, .. } => (item, self.stock.kinds_instead(item)?),
            // What waits to be put away, and not what has its place.
            Request::PutSomewhere(item, ..)
            | Request::Locate(item, _)
            | Request::PutAway(Which::Item(item), _) => {
                let mut kinds = self.stock.kinds_instead(item)?;
                let waiting = self.stock.waiting()?;
                kinds.retain(|kind| waiting.iter().any(|thing| thing.item == *kind));
                (item, kinds)
            }
            Request::Got(item, _) => (item, self.kinds_on_list(item)?),
            _ => return Ok(None),
        };
        let [kind] = kinds.as_slice() else {
            let words = wording::none_but_kinds(item, &kinds);
            return Ok((!kinds.is_empty()).then(|| Answer::say(words)));
        };
        let of_kind = request
            .clone()
            .corrected(&Correction::of_name(kind.clone()));
        let Some(of_kind) = of_kind.filter(|of_kind| !self.declined.contains(of_kind)) else {
            return Ok(None);
        };
        let words = wording::ask_whether_kind(kind);
        // Of the very thing, some may have been there that nobody spoke of.
        let sentence = self.said.as_ref().map(|said| said.sentence.clone());
        let or = sentence.filter(|_| !matches!(request, Request::Use(..)));
        let question = Question::DidYouMean {
            request: of_kind,
            or: or.map(|sentence| (sentence, Box::new(request.clone()))),
        };
        Ok(Some(self.ask(question, words)))
    }

    /// Where a thing isn't on the list, what is there of its kinds: of "peas", the frozen peas.
    fn kinds_on_list(&self, item: &ItemName) -> Result<Vec<ItemName>, StockError> {
        let lines = self.stock.list()?;
        let is_worn = self.stock.worn()?.iter().any(|(_, worn)| worn == item);
        if is_worn || lines.iter().any(|line| line.item == *item) || self.stock.waits(item)? {
            return Ok(Vec::new());
        }
        let kind = format!(" {item}");
        let listed = lines.into_iter().map(|line| line.item);
        Ok(listed
            .filter(|name| name.as_str().ends_with(&kind))
            .collect())
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
            Question::WhichOne { mut or, .. } if !or.is_empty() => {
                let (said, request) = or.remove(0);
                let words = wording::ask_whether_that_one(&said);
                self.ask(Question::WhichOne { request, or }, words)
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
            Question::IsOneThing { first, .. } => Answer::say(wording::one_at_a_time(&first)),
            _ if open.is_behind_a_change => Answer::say(wording::STAYS_TAKEN_BACK.to_owned()),
            Question::WholePacks(_) => Answer::say(wording::SAY_WHAT_IS_LEFT.to_owned()),
            _ => Answer::say(wording::NOTHING_CHANGED.to_owned()),
        }
    }

    pub(super) fn ask_about_unknown(&mut self, name: &str, request: Request) -> Answer {
        if name.split_whitespace().count() > MOST_ECHOED {
            return Answer::say(wording::TOO_LONG.to_owned());
        }
        if !changes_something(&request) {
            return Answer::say(wording::unknown(name));
        }
        // Of the others, a yes would only be refused: there is none of it.
        if !matches!(
            request,
            Request::UsedUp(..) | Request::Finished(_) | Request::Spent(_)
        ) {
            return Answer::say(wording::unknown_unchanged(name));
        }
        self.ask(
            Question::did_you_mean(request),
            wording::ask_whether_to_note(name),
        )
    }
}

/// Whether another fact is told of a thing than the one that waits.
fn tells_something_else(said: &Request, unfinished: &Request) -> bool {
    match (said, unfinished) {
        (Request::Describe(_, said), Request::Describe(_, waits)) => {
            std::mem::discriminant(said) != std::mem::discriminant(waits)
        }
        (_, Request::Describe(..)) => true,
        _ => false,
    }
}
