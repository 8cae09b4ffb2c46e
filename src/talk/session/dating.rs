//! A date is told of one of several things: it goes to none that nobody named.

use chrono::NaiveDate;

use super::Session;
use crate::measure::{DateKind, DateReading};
use crate::stock::{Dates, ItemName, Labelled, Refusal, StockError};
use crate::talk::answer::{Answer, tags_of};
use crate::talk::question::Question;
use crate::talk::request::{Goods, Request};
use crate::talk::wording;

/// A thing with a label: a lot, or what has a temporary tag.
struct Thing {
    which: Labelled,
    dates: Dates,
    /// What it is told by beside its dates.
    place: Option<String>,
    state: (bool, bool, bool),
}

impl Session {
    /// The thing of which a date was told: the only one; or, of several, the only one without such a date. The inner error is
    /// the question which it is.
    pub(super) fn meant_by_date(
        &mut self,
        goods: &Goods,
        today: NaiveDate,
    ) -> Result<Result<Labelled, Answer>, StockError> {
        let things = self.things(&goods.item)?;
        let kind = goods.date.and_then(|date| date.note.kind);
        let lacks = |thing: &&Thing| match kind {
            Some(kind) if !kind.looks_ahead() => thing.dates.get(kind).is_none(),
            _ => thing.dates.first_ahead().is_none(),
        };
        let lacking: Vec<&Thing> = things.iter().filter(lacks).collect();
        let are_alike = lacking.windows(2).all(|two| is_alike(two[0], two[1]));
        match (things.as_slice(), lacking.last()) {
            ([], _) => Err(none_left(&goods.item)),
            ([only], _) => Ok(Ok(only.which)),
            (_, Some(last)) if are_alike => Ok(Ok(last.which)),
            _ => Ok(Err(self.ask_which(goods, &things, today))),
        }
    }

    /// "Change the date of the milk to …": of the only thing that has one. The date means what that one meant. The inner error
    /// is the question which it is.
    pub(super) fn meant_by_change(
        &mut self,
        item: ItemName,
        date: DateReading,
        today: NaiveDate,
    ) -> Result<Result<Request, Answer>, StockError> {
        let mut things = self.things(&item)?;
        if things.is_empty() {
            return Err(none_left(&item));
        }
        if things
            .iter()
            .any(|thing| thing.dates.first_ahead().is_some())
        {
            things.retain(|thing| thing.dates.first_ahead().is_some());
        }
        let goods = Goods {
            item,
            quantity: None,
            date: Some(date),
        };
        Ok(match things.as_slice() {
            [only] => Ok(of(&goods, only)),
            _ => Err(self.ask_which(&goods, &things, today)),
        })
    }

    /// Asks for one after another, in the order to use them; of those alike, once.
    fn ask_which(&mut self, goods: &Goods, things: &[Thing], today: NaiveDate) -> Answer {
        let mut or: Vec<(String, Request)> = Vec::new();
        for thing in things {
            let mut said = told_by(&thing.dates, today);
            let others = things.iter().filter(|other| other.which != thing.which);
            if others
                .clone()
                .any(|other| told_by(&other.dates, today) == said)
                && let Some(place) = &thing.place
            {
                said = format!("{said}, {place}");
            }
            // The newest of those alike is the one whose label is read.
            or.retain(|(before, _)| *before != said);
            or.push((said, of(goods, thing)));
        }
        let (said, request) = or.remove(0);
        let words = wording::ask_whether_this_one(&goods.item, &said);
        self.ask(Question::WhichOne { request, or }, words)
    }

    fn things(&self, item: &ItemName) -> Result<Vec<Thing>, StockError> {
        let mut lots = self.stock.lots(item)?;
        lots.sort_by_key(|lot| lot.id);
        let lots = lots.into_iter().map(|lot| Thing {
            which: Labelled::Lot(lot.id),
            place: lot.place.as_ref().map(ToString::to_string),
            state: (lot.is_opened(), lot.is_thawed(), lot.is_frozen()),
            dates: lot.dates,
        });
        let tags = tags_of(&self.stock, item)?.into_iter().map(|tag| Thing {
            which: Labelled::Tag(tag.number),
            place: Some(format!("tag {}", tag.number)),
            state: (false, false, false),
            dates: tag.dates,
        });
        Ok(lots.chain(tags).collect())
    }
}

/// The date as one of this thing. It means what the thing's only one means, where that wasn't said.
fn of(goods: &Goods, thing: &Thing) -> Request {
    let mut goods = goods.clone();
    let kinds = thing.dates.iter().filter_map(|note| note.kind);
    let mut ahead = kinds.filter(|kind: &DateKind| kind.looks_ahead());
    if let (Some(date), Some(only), None) = (&mut goods.date, ahead.next(), ahead.next()) {
        date.note.kind = date.note.kind.or(Some(only));
    }
    Request::DateOf(goods, thing.which)
}

fn is_alike(one: &Thing, other: &Thing) -> bool {
    (&one.dates, &one.place, one.state) == (&other.dates, &other.place, other.state)
}

/// "Use by December 1", by which one thing is told from another.
fn told_by(dates: &Dates, today: NaiveDate) -> String {
    let ahead = dates
        .iter()
        .filter(|note| note.kind.is_some_and(DateKind::looks_ahead));
    let said: Vec<String> = ahead.map(|note| note.spoken(today)).collect();
    match said.is_empty() {
        true => "without a date".to_owned(),
        false => said.join(", "),
    }
}

fn none_left(item: &ItemName) -> StockError {
    StockError::Refused(Refusal::NoneLeft { item: item.clone() })
}
