//! What is done one thing after another: spent tags are read, the list is walked at the store, things are put away.
//!
//! In: requests that only make sense on such a walk. Out: an answer, and where the walk is now. Nothing is lost if it
//! ends in the middle: each step is an event of its own.

use chrono::NaiveDateTime;

use super::answer::{Answer, changed};
use super::help::Point;
use super::reading::Through;
use super::request::{Held, Request, Which};
use super::walk_away::Away;
use super::wording;
use crate::measure::Quantity;
use crate::stock::{
    Code, Coded, Event, EventId, ItemName, Outcome, Place, Source, Stock, StockError,
};

/// Where the talk is, if it is on a walk.
#[derive(Debug, Default)]
pub(super) enum Walk {
    /// On none.
    #[default]
    None,
    /// Spent tags are read: these were, so far, each by the event that it was. One that is taken back wasn't read.
    Spent(Vec<(EventId, ItemName)>),
    /// At the store.
    Store(Store),
    /// Things get their places.
    Away(Box<Away>),
    /// A scanner read a code that nobody knows; once it is told, or something else is said, the talk goes on where it was.
    Code { code: Code, before: Box<Walk> },
}

/// The walk along the list.
#[derive(Debug, Default)]
pub(super) struct Store {
    /// What was read last.
    at: Option<ItemName>,
    /// What was read and not taken.
    passed: Vec<ItemName>,
    /// Whether all of it was read: the next line is the first again.
    ended: bool,
    /// What the store has none of, as it was said last: what is taken instead is in place of it.
    none_there: Option<ItemName>,
}

/// What an answer is made with.
pub(super) struct Here<'s> {
    pub stock: &'s mut Stock,
    pub now: NaiveDateTime,
    pub source: Source,
}

impl Here<'_> {
    pub fn record(&mut self, event: Event) -> Result<Outcome, StockError> {
        self.stock.record(event, self.now, self.source)
    }

    pub fn outcome(&self, outcome: &Outcome) -> String {
        wording::outcome(outcome, self.now.date())
    }

    /// What was done, and what else may be good to know.
    fn done(&self, outcome: &Outcome) -> Answer {
        Answer {
            extra: wording::tail(outcome),
            ..changed(self.outcome(outcome), None)
        }
    }
}

impl Walk {
    /// On the way along the list, if a trip is on.
    pub fn of(stock: &Stock) -> Result<Self, StockError> {
        Ok(if stock.is_on_trip()? {
            Self::Store(Store::default())
        } else {
            Self::None
        })
    }

    /// After an undo, things are as they were: what was in hand may wait again, and a trip may be on or over.
    pub fn look_again(&mut self, stock: &Stock) -> Result<(), StockError> {
        match self {
            Self::Away(away) => away.look_again(stock)?,
            Self::None | Self::Store(_) => {
                if stock.is_on_trip()? != matches!(self, Self::Store(_)) {
                    *self = Self::of(stock)?;
                }
            }
            Self::Spent(_) => {}
            Self::Code { before, .. } => before.look_again(stock)?,
        }
        Ok(())
    }

    /// The mode of the grammar in which the talk is.
    pub fn mode(&self) -> Option<&'static str> {
        match self {
            Self::None => None,
            Self::Spent(_) => Some("spent"),
            Self::Store(_) => Some("store"),
            Self::Away(_) => Some("away"),
            Self::Code { before, .. } => before.mode().or(Some("code")),
        }
    }

    /// Where the talk is, for who asks what can be said.
    pub fn point(&self) -> Option<Point> {
        match self {
            Self::None => None,
            Self::Spent(_) => Some(Point::Spent),
            Self::Store(_) => Some(Point::Store),
            Self::Away(_) => Some(Point::Away),
            Self::Code { .. } => Some(Point::Code),
        }
    }

    /// Answers what belongs to a walk; `None` for anything else.
    pub fn answer(
        &mut self,
        request: &Request,
        mut here: Here<'_>,
    ) -> Result<Option<Answer>, StockError> {
        let here = &mut here;
        if !matches!(request, Request::CodeIs(_) | Request::CodeIsTag(_)) {
            self.forget_code();
        }
        Ok(Some(match request {
            Request::SpentTags => {
                *self = Self::Spent(Vec::new());
                Answer::say(wording::round::READ_SPENT.to_owned())
            }
            Request::Spent(which) => self.spent(which, here)?,
            Request::GoOn => match self {
                Self::Spent(_) => Answer::say(wording::round::READ_NEXT_SPENT.to_owned()),
                _ => self.away(|away| away.skip(here))?,
            },
            Request::Undo => return self.undo_at_store(here),
            Request::PutBack(item) => {
                // At the store, it is put back on its shelf there.
                return match here.stock.standing(1, None)?.as_slice() {
                    [event] if takes(event) && event.item() == Some(item) => {
                        self.undo_at_store(here)
                    }
                    _ => Ok(None),
                };
            }
            Request::BeginTrip => {
                let outcome = here.record(Event::TripBegun)?;
                *self = Self::Store(Store::default());
                here.done(&outcome)
            }
            Request::ComeHome => {
                let outcome = here.record(Event::CameHome)?;
                *self = Self::None;
                here.done(&outcome)
            }
            Request::NextLine => self.next_line(here)?,
            Request::GotIt => self.take(here, |item| got(item, None))?,
            Request::OnlyHad(much) => self.take(here, |item| got(item, Some(much.clone())))?,
            Request::Got(item, much) if matches!(self, Self::Store(_)) => {
                self.got_by_name(item, much.as_ref(), here)?
            }
            Request::NoneThere(None) if self.at_reminder(here)?.is_some() => {
                self.leave_reminder(here)?
            }
            Request::NoneThere(None) => self.take(here, |item| Event::NoneThere { item })?,
            Request::NoneThere(Some(item)) => {
                self.bought(Event::NoneThere { item: item.clone() }, item, here)?
            }
            Request::Instead { instead, of: None } => {
                let instead = instead.clone();
                match self.none_there() {
                    Some(item) => {
                        let listed = item.clone();
                        self.bought(Event::GotInstead { item, instead }, &listed, here)?
                    }
                    None => self.take(here, |item| Event::GotInstead { item, instead })?,
                }
            }
            Request::Instead {
                instead,
                of: Some(item),
            } => {
                let (item, instead) = (item.clone(), instead.clone());
                let listed = item.clone();
                self.bought(Event::GotInstead { item, instead }, &listed, here)?
            }
            Request::Wanted if matches!(self, Self::Away(_)) => {
                let waiting = here.stock.waiting()?;
                match waiting.is_empty() {
                    true => Answer::say(wording::round::NOTHING_TO_PUT_AWAY.to_owned()),
                    false => Answer::read(wording::away::waiting(&waiting)),
                }
            }
            Request::Wanted => {
                let (wanted, worn) = (here.stock.wanted()?, here.stock.worn()?);
                let listed = here.stock.list()?;
                if wanted.is_empty() && !listed.is_empty() {
                    let none = wording::round::nothing_to_find(&listed);
                    let worn = wording::round::still_worn(&worn);
                    return Ok(Some(Answer::read(none.with_caution(&worn))));
                }
                Answer::read(
                    wording::list(&wanted).with_caution(&wording::round::still_worn(&worn)),
                )
            }
            Request::PutThingsAway => {
                let waiting = here.stock.waiting()?.len();
                if waiting == 0 {
                    return Ok(Some(Answer::say(
                        wording::round::NOTHING_TO_PUT_AWAY.to_owned(),
                    )));
                }
                *self = Self::Away(Box::default());
                let before = wording::round::to_put_away(waiting);
                self.away(|away| away.next_thing(before, here))?
            }
            Request::Locate(item, place) if self.is_in_hand(item) => {
                self.away(|away| away.there(Some(place), here))?
            }
            Request::There(place) => self.away(|away| away.there(place.as_ref(), here))?,
            Request::InHand(held) => self.away(|away| away.hold(held, here))?,
            Request::ByTag(tag) => self.away(|away| away.tag(*tag, here))?,
            Request::WithTag(tag) => self.away(|away| away.with_tag(*tag, here))?,
            Request::Skip => self.away(|away| away.skip(here))?,
            Request::CantTell => self.away(|away| Ok(away.cant_tell()))?,
            Request::Done => self.end(here)?,
            // Where no code is to be told, it is said of what is in hand.
            Request::CodeIs(item) if matches!(self, Self::Away(_)) => {
                let held = Held::Item(item.clone());
                self.away(|away| away.hold(&held, here))?
            }
            Request::CodeIsTag(tag) if matches!(self, Self::Away(_)) => {
                self.away(|away| away.hold(&Held::Tag(*tag), here))?
            }
            Request::CodeIs(item) => {
                let event = |code| Event::Coded {
                    item: item.clone(),
                    code,
                };
                self.code_is(event, Some(item.clone()), here)?
            }
            Request::CodeIsTag(tag) => {
                let event = |code| Event::TagCoded { tag: *tag, code };
                self.code_is(event, None, here)?
            }
            _ => return Ok(None),
        }))
    }

    /// Answers a code that a scanner typed, by where the talk is.
    ///
    /// `Err` is a request to be carried out.
    pub fn scanned(
        &mut self,
        code: &Code,
        mut here: Here<'_>,
    ) -> Result<Result<Answer, Request>, StockError> {
        let here = &mut here;
        self.forget_code();
        let Some(coded) = here.stock.code(code)? else {
            let (code, before) = (code.clone(), Box::new(std::mem::take(self)));
            *self = Self::Code { code, before };
            return Ok(Ok(Answer::say(wording::round::UNKNOWN_CODE.to_owned())));
        };
        if let Self::Away(away) = self {
            let waiting = here.stock.waiting()?;
            let found = waiting.into_iter().find(|thing| match &coded {
                Coded::Item(item) => thing.item == *item,
                Coded::Tag(tag) => thing.tag == Some(*tag),
            });
            if let Some(thing) = found {
                return Ok(Ok(away.take(thing, here)?));
            }
        }
        Ok(Err(match (&*self, coded) {
            (Self::Spent(_), Coded::Item(item)) => Request::Spent(Which::Item(item)),
            (Self::Spent(_), Coded::Tag(tag)) => Request::Spent(Which::Tag(tag)),
            (Self::Away(_), Coded::Tag(tag)) => Request::WithTag(tag),
            (Self::Store(_), Coded::Item(item)) => Request::Got(item, None),
            (_, Coded::Item(item)) => Request::Where(item),
            (_, Coded::Tag(tag)) => Request::ReadTag(tag),
        }))
    }

    fn spent(&mut self, which: &Which, here: &mut Here<'_>) -> Result<Answer, StockError> {
        if let (Self::Spent(read), Which::Item(item)) = (&*self, which)
            && let Some((event, last)) = read.last()
            && last == item
            && here.stock.stands(*event)?
            && here.stock.lots(item)?.is_empty()
        {
            // An undo behind it would take back what was read before.
            return Ok(Answer::say(wording::round::read_already(item)));
        }
        let outcome = match which {
            Which::Tag(tag) => here.record(Event::TagSpent { tag: *tag })?,
            Which::Item(item) => here.record(Event::Spent { item: item.clone() })?,
        };
        let (mut reply, item) = wording::round::spent(&outcome);
        if let (Outcome::TagSpent { .. }, false) = (&outcome, matches!(self, Self::Spent(_))) {
            reply = wording::round::spent_by_tag(&outcome);
        }
        if let (Self::Spent(read), Some(item)) = (self, item.clone()) {
            let event = here.stock.last_standing()?;
            read.extend(event.map(|event| (event, item)));
        }
        Ok(changed(reply, item))
    }

    /// Of what a spent tag was on, some is gone, or that in one place: that tag was read as well.
    pub fn note_read(&mut self, request: &Request, stock: &Stock) -> Result<(), StockError> {
        if let (Self::Spent(read), Request::Use(item, ..) | Request::UsedUp(item, _)) =
            (self, request)
        {
            let event = stock.last_standing()?;
            read.extend(event.map(|event| (event, item.clone())));
        }
        Ok(())
    }

    /// The next line of the list, or the next reminder behind it.
    fn next_line(&mut self, here: &Here<'_>) -> Result<Answer, StockError> {
        let Self::Store(store) = self else {
            return Ok(Answer::say(wording::round::NOT_AT_THE_STORE.to_owned()));
        };
        store.none_there = None;
        store.passed.extend(store.at.take());
        Ok(Answer::say(store.read_next(here.stock)?))
    }

    /// Does something with the line that was read last, and reads the next.
    fn take(
        &mut self,
        here: &mut Here<'_>,
        event: impl FnOnce(ItemName) -> Event,
    ) -> Result<Answer, StockError> {
        let at = match self {
            Self::Store(store) => store.at.clone(),
            _ => None,
        };
        let Some(item) = at else {
            return Ok(Answer::say(wording::round::NO_LINE_READ.to_owned()));
        };
        self.bought(event(item.clone()), &item, here)
    }

    /// Records what was done with a line; behind it, the next is read if that was the one read last.
    fn bought(
        &mut self,
        event: Event,
        line: &ItemName,
        here: &mut Here<'_>,
    ) -> Result<Answer, StockError> {
        let item = event.item().cloned();
        let none_there = matches!(event, Event::NoneThere { .. }).then(|| line.clone());
        let outcome = here.record(event)?;
        let mut reply = wording::outcome(&outcome, here.now.date());
        if let Self::Store(store) = self {
            store.none_there = none_there;
        }
        if let Self::Store(store) = self
            && store.at.as_ref() == Some(line)
        {
            store.at = None;
            // The rest of it isn't here.
            if let Outcome::Got { still: Some(_), .. } = outcome {
                store.passed.push(line.clone());
            }
            reply = format!(
                "{} {}",
                wording::round::in_short(&outcome),
                store.read_next(here.stock)?
            );
        }
        Ok(changed(reply, item))
    }

    /// "Got two cans of tuna": what was got before is told with it, and isn't a thing off the list.
    fn got_by_name(
        &mut self,
        item: &ItemName,
        much: Option<&Quantity>,
        here: &mut Here<'_>,
    ) -> Result<Answer, StockError> {
        let event = got(item.clone(), much.cloned());
        let in_cart = |stock: &Stock| -> Result<Option<Option<Quantity>>, StockError> {
            let waiting = stock.waiting()?.into_iter();
            let mut untagged = waiting.filter(|thing| thing.item == *item && thing.tag.is_none());
            Ok(untagged.next().map(|thing| thing.quantity))
        };
        let is_listed = here.stock.is_listed(item)?;
        let Some(before) = in_cart(here.stock)?.filter(|_| !is_listed) else {
            return self.bought(event, item, here);
        };
        if much.is_none() {
            let words = wording::round::got_already(item, before.as_ref());
            return Ok(Answer::say(words));
        }
        let answer = self.bought(event, item, here)?;
        let left = here.stock.wanted()?.len();
        Ok(match in_cart(here.stock)?.flatten() {
            Some(all) => {
                let words = wording::round::got_more(item, &all, left);
                changed(words, answer.mentioned)
            }
            None => answer,
        })
    }

    /// The reminder that was read last, where its thing isn't on the list as well.
    fn at_reminder(&self, here: &Here<'_>) -> Result<Option<ItemName>, StockError> {
        let Self::Store(Store { at: Some(at), .. }) = self else {
            return Ok(None);
        };
        let is_worn = here.stock.worn()?.iter().any(|(_, item)| item == at);
        Ok((is_worn && !here.stock.is_listed(at)?).then(|| at.clone()))
    }

    /// The store has none of what a reminder is for: it is worn on.
    fn leave_reminder(&mut self, here: &Here<'_>) -> Result<Answer, StockError> {
        let item = self.at_reminder(here)?;
        let next = self.next_line(here)?;
        let stays = item.map(|item| wording::round::reminder_stays(&item));
        let stays = stays.unwrap_or_default();
        Ok(Answer::say(wording::round::joined(&stays, &next.reply)))
    }

    /// A step of the store is taken back: the walk goes back to its line, and names it. `None` where it was no such step.
    fn undo_at_store(&mut self, here: &mut Here<'_>) -> Result<Option<Answer>, StockError> {
        let last = here.stock.standing(1, None)?;
        let (Self::Store(store), [event]) = (self, last.as_slice()) else {
            return Ok(None);
        };
        let Some(item) = event.item().filter(|_| takes(event)) else {
            return Ok(None);
        };
        let outcome = here.stock.undo(here.now, here.source)?;
        let undone = here.outcome(&outcome);
        let line = store.back_to(item, here.stock)?.unwrap_or_default();
        let reply = wording::round::joined(&undone, &line);
        Ok(Some(changed(reply, None)))
    }

    /// Whether it is the list at the store that is gone along.
    pub fn is_at_store(&self) -> bool {
        match self {
            Self::Code { before, .. } => before.is_at_store(),
            other => matches!(other, Self::Store(_)),
        }
    }

    /// What the store has none of, as it was just said.
    fn none_there(&self) -> Option<ItemName> {
        match self {
            Self::Store(store) => store.none_there.clone(),
            _ => None,
        }
    }

    /// Whether things are being put away.
    pub fn puts_away(&self) -> bool {
        matches!(self, Self::Away(_))
    }

    /// "No, I meant the pantry", of what was put away last; `None` where nothing was.
    pub fn there_instead(
        &mut self,
        place: &Place,
        mut here: Here<'_>,
    ) -> Result<Option<Answer>, StockError> {
        match self {
            Self::Away(away) => away.there_instead(place, &mut here),
            _ => Ok(None),
        }
    }

    /// "Back" and "the third one" along the list; `None` where no line is read.
    pub fn through(&mut self, way: Through, stock: &Stock) -> Result<Option<String>, StockError> {
        match (self, way) {
            (Self::Store(store), Through::Back) => store.read_before(stock),
            (Self::Store(store), Through::Nth(number)) => store.read_nth(number, stock),
            // "Go on", where nothing else is read.
            (Self::Store(store), Through::More) => {
                store.passed.extend(store.at.take());
                Ok(Some(store.read_next(stock)?))
            }
            _ => Ok(None),
        }
    }

    /// What the talk is at: the line read last, or what is in hand.
    pub fn in_turn(&self) -> Option<ItemName> {
        match self {
            Self::Store(store) => store.at.clone(),
            Self::Away(away) => away.in_hand_now().cloned(),
            _ => None,
        }
    }

    fn is_in_hand(&self, item: &ItemName) -> bool {
        matches!(self, Self::Away(away) if away.holds(item))
    }

    /// Does something while things are put away. Where nothing is left to do then, the walk is over.
    fn away(
        &mut self,
        step: impl FnOnce(&mut Away) -> Result<Answer, StockError>,
    ) -> Result<Answer, StockError> {
        let Self::Away(away) = self else {
            return Ok(Answer::say(wording::round::NOTHING_IN_HAND.to_owned()));
        };
        let answer = step(away)?;
        if away.is_over() {
            *self = Self::None;
        }
        Ok(answer)
    }

    fn end(&mut self, here: &Here<'_>) -> Result<Answer, StockError> {
        let reply = match std::mem::take(self) {
            Self::Spent(read) => {
                let mut standing = Vec::new();
                for (event, item) in read {
                    if here.stock.stands(event)? {
                        standing.push(item);
                    }
                }
                wording::round::spent_done(&standing, here.stock.list()?.len())
            }
            Self::Away(_) => wording::round::put_away_done(here.stock.waiting()?.len()),
            store @ Self::Store(_) => {
                *self = store;
                wording::round::done_at_store(here.stock.wanted()?.len())
            }
            other => {
                *self = other;
                wording::round::NOTHING_TO_END.to_owned()
            }
        };
        if here.stock.is_on_trip()? && matches!(self, Self::None) {
            *self = Self::Store(Store::default());
        }
        Ok(Answer::say(reply))
    }

    /// Goes on where the talk was before a code was read that nobody knows.
    pub fn forget_code(&mut self) {
        if let Self::Code { before, .. } = self {
            *self = std::mem::take(&mut **before);
        }
    }

    fn code_is(
        &mut self,
        event: impl FnOnce(Code) -> Event,
        item: Option<ItemName>,
        here: &mut Here<'_>,
    ) -> Result<Answer, StockError> {
        let Self::Code { code, .. } = self else {
            return Ok(Answer::say(wording::round::NO_CODE.to_owned()));
        };
        let outcome = here.record(event(code.clone()))?;
        self.forget_code();
        Ok(changed(here.outcome(&outcome), item))
    }
}

/// Whether an event is a step along the list.
fn takes(event: &Event) -> bool {
    match event {
        Event::Got { .. } | Event::GotInstead { .. } | Event::NoneThere { .. } => true,
        Event::Heard { what, .. } => takes(what),
        _ => false,
    }
}

fn got(item: ItemName, quantity: Option<Quantity>) -> Event {
    Event::Got { item, quantity }
}

impl Store {
    /// The line before the one read last; `None` where none was read.
    fn read_before(&mut self, stock: &Stock) -> Result<Option<String>, StockError> {
        let wanted = stock.wanted()?;
        let find = |item: &ItemName| wanted.iter().find(|line| line.item == *item);
        self.ended = false;
        while let Some(item) = self.passed.pop() {
            if let Some(line) = find(&item) {
                self.at = Some(item);
                return Ok(Some(wording::round::line(line)));
            }
        }
        let first = self.at.as_ref().and_then(find);
        Ok(first.map(wording::round::first_line))
    }

    /// A line that is looked for again; `None` where it isn't.
    fn back_to(&mut self, item: &ItemName, stock: &Stock) -> Result<Option<String>, StockError> {
        let wanted = stock.wanted()?;
        let Some(line) = wanted.iter().find(|line| line.item == *item) else {
            return Ok(None);
        };
        self.none_there = None;
        self.passed.retain(|passed| passed != item);
        self.ended = false;
        self.at = Some(item.clone());
        Ok(Some(wording::round::line(line)))
    }

    /// A line by its number, from 1; 0 is the last.
    fn read_nth(&mut self, number: usize, stock: &Stock) -> Result<Option<String>, StockError> {
        let wanted = stock.wanted()?;
        let index = if number == 0 { wanted.len() } else { number };
        let Some(line) = index.checked_sub(1).and_then(|index| wanted.get(index)) else {
            return Ok(None);
        };
        // As if all before it had been read.
        let before = wanted.iter().take_while(|one| one.item != line.item);
        self.passed = before.map(|one| one.item.clone()).collect();
        self.ended = false;
        self.at = Some(line.item.clone());
        Ok(Some(wording::round::line(line)))
    }

    fn read_next(&mut self, stock: &Stock) -> Result<String, StockError> {
        if std::mem::take(&mut self.ended) {
            self.passed.clear();
        }
        let wanted = stock.wanted()?;
        let mut worn = stock.worn()?;
        worn.retain(|(_, item)| wanted.iter().all(|line| line.item != *item));
        if let Some(line) = wanted.iter().find(|line| !self.passed.contains(&line.item)) {
            self.at = Some(line.item.clone());
            return Ok(wording::round::line(line));
        }
        if let Some((_, item)) = worn.iter().find(|(_, item)| !self.passed.contains(item)) {
            self.at = Some(item.clone());
            return Ok(wording::round::reminder(item));
        }
        self.ended = true;
        Ok(wording::round::end_of_list(wanted.len() + worn.len()))
    }
}
