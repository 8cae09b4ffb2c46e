//! From a request to the stock, and from what it did to a reply.

use chrono::{Days, NaiveDate, NaiveDateTime, NaiveTime};

use super::request::{Goods, Request, Used, Which};
use super::wording;
use crate::measure::{Quantity, Share};
use crate::stock::{
    Change, Clip, Event, ItemName, Place, Refusal, Source, Stock, StockError, TemporaryTag, total,
};

/// A reply, and what goes with it.
#[derive(Debug, Default)]
pub(super) struct Answer {
    pub reply: String,
    pub changed: bool,
    pub failed: bool,
    /// Nothing was understood.
    pub missed: bool,
    /// The reply is the last one again.
    pub repeated: bool,
    /// How a name was said, to be played behind the reply.
    pub sound: Option<Clip>,
    /// An item that the kitchen knows from now on.
    pub mentioned: Option<ItemName>,
}

impl Answer {
    pub fn say(reply: String) -> Self {
        Self {
            reply,
            ..Self::default()
        }
    }

    pub fn missed(reply: String) -> Self {
        Self {
            missed: true,
            ..Self::say(reply)
        }
    }
}

/// Carries out a request that needs nothing of the session.
///
/// `forms` are the ways in which its item was heard, if they are to be names of it from now on.
pub(super) fn answer(
    stock: &mut Stock,
    request: &Request,
    forms: &[ItemName],
    now: NaiveDateTime,
    source: Source,
) -> Result<Answer, StockError> {
    let today = now.date();
    let event = match request {
        Request::ReadList => return Ok(Answer::say(wording::list(&stock.list()?))),
        Request::ReadTags => return Ok(Answer::say(wording::tags(&stock.tags()?, today))),
        Request::Low => return Ok(Answer::say(wording::low(&stock.low()?))),
        Request::Expires(span) => {
            let last = span.last_day(today);
            return Ok(Answer::say(wording::expiring(
                &stock.expiring(last)?,
                last,
                today,
            )));
        }
        Request::UseFirst => {
            // As far as a date with a year of four figures reaches: all there are.
            let last = NaiveDate::from_ymd_opt(9999, 12, 31).unwrap_or(today);
            let all = stock.expiring(last)?;
            return Ok(Answer::say(wording::use_first(&all, today)));
        }
        Request::WhatIsIn(place) => {
            let mut there = stock.shelf()?;
            there.retain(|lot| lot.place.as_ref() == Some(place));
            return Ok(Answer::say(wording::what_is_in(place, &there)));
        }
        Request::ReadTag(number) => {
            return Ok(Answer::say(wording::tag(
                *number,
                stock.tag(*number)?.as_ref(),
                today,
            )));
        }
        Request::When(item) => {
            let tags = tags_of(stock, item)?;
            return Ok(Answer::say(wording::when(
                item,
                &stock.lots(item)?,
                &tags,
                today,
            )));
        }
        Request::Where(item) => return where_is(stock, item),
        Request::HowMuch(item) => {
            return Ok(Answer::say(wording::how_much(item, &stock.lots(item)?)));
        }
        Request::PlaySound(item) => {
            let (at, clip) = match stock.sound_of(item)? {
                Some((at, clip)) => (at, clip),
                None => return Ok(Answer::say(wording::no_sound(item))),
            };
            let reply = wording::sound(item, at.date(), &clip, today);
            return Ok(Answer {
                sound: Some(clip),
                ..Answer::say(reply)
            });
        }
        Request::LoseSounds => {
            let lost = stock.lose_sounds()?;
            return Ok(changed(wording::sounds_lost(lost), None));
        }
        Request::LearnedNames => return Ok(Answer::say(wording::learned(&stock.learned()?))),
        Request::Help => return Ok(Answer::say(wording::HELP.to_owned())),
        Request::ChangedToday => {
            let midnight = today.and_time(NaiveTime::MIN);
            let changes = stock.standing(usize::MAX, Some(midnight))?;
            return Ok(Answer::say(wording::changed_today(&changes)));
        }
        Request::Why(item) => {
            let why = stock.why_listed(item)?;
            let listed = stock.list()?.iter().any(|line| line.item == *item);
            return Ok(Answer::say(wording::why(item, why, listed, today)));
        }
        Request::UndoSeveral(several) => {
            let mut undone = 0;
            while undone < *several {
                match stock.undo(now, source) {
                    Ok(_) => undone += 1,
                    Err(StockError::Refused(Refusal::NothingToUndo)) if undone > 0 => break,
                    Err(error) => return Err(error),
                }
            }
            return Ok(changed(wording::undone_several(undone), None));
        }
        Request::Undo => {
            let outcome = stock.undo(now, source)?;
            return Ok(changed(wording::outcome(&outcome, today), None));
        }
        Request::PutIn { goods, place } => put_in(goods, place.clone()),
        Request::PutAway(which, place) => match put_away(stock, which, place)? {
            Ok(event) => event,
            Err(reply) => return Ok(Answer::say(reply)),
        },
        Request::UsedUp(item) => Event::UsedUp { item: item.clone() },
        Request::Change {
            item,
            how,
            quantity,
            place,
            yesterday,
        } => Event::Changed {
            item: item.clone(),
            how: *how,
            quantity: quantity.clone(),
            place: place.clone().or_else(|| usual_place_of(*how)),
            on: today
                .checked_sub_days(Days::new((*yesterday).into()))
                .unwrap_or(today),
        },
        Request::Use(item, Used::Quantity(quantity)) => used(item, quantity.clone()),
        Request::Use(item, Used::Share(share)) => used(item, part_of(stock, item, share)?),
        Request::List(item, quantity) => Event::Listed {
            item: item.clone(),
            quantity: quantity.clone(),
        },
        Request::Unlist(item) => Event::Unlisted { item: item.clone() },
        Request::Got(item) => Event::Got { item: item.clone() },
        Request::Keep(item, level) => Event::KeptAt {
            item: item.clone(),
            level: level.clone(),
        },
        Request::Tag(goods) => tag(goods),
        Request::ForgetNames(item) => Event::Unheard { item: item.clone() },
        Request::KeepSounds(keep) => Event::SoundsAllowed { keep: *keep },
        // The session's own; here, there is no question to answer.
        Request::Repeat
        | Request::Yes
        | Request::No
        | Request::Meaning(_)
        | Request::Ounces(_)
        | Request::UseOfIt(_)
        | Request::PutSomewhere(..)
        | Request::Correct(_)
        | Request::CallIt(_)
        | Request::Spell => {
            return Ok(Answer::say(wording::NO_QUESTION.to_owned()));
        }
    };
    let event = with_forms(event, forms);
    let item = event.item().cloned();
    let bought = matches!(request, Request::Got(_));
    let outcome = stock.record(event, now, source)?;
    let reply = if bought {
        wording::got(&outcome, today)
    } else {
        wording::outcome(&outcome, today)
    };
    Ok(changed(reply, item))
}

/// Where a thing is after a change of which the place wasn't said. What was taken out of the freezer may be anywhere.
fn usual_place_of(how: Change) -> Option<Place> {
    match how {
        Change::Frozen => Place::new("freezer").ok(),
        Change::Opened | Change::Thawed | Change::Moved => None,
    }
}

fn used(item: &ItemName, quantity: Quantity) -> Event {
    let item = item.clone();
    Event::Used { item, quantity }
}

/// A part of all there is of an item, as a quantity of it.
fn part_of(stock: &Stock, item: &ItemName, share: &Share) -> Result<Quantity, StockError> {
    let refuse = |refusal: Refusal| Err(StockError::Refused(refusal));
    let lots = stock.lots(item)?;
    let item = item.clone();
    if lots.is_empty() {
        return refuse(Refusal::NoneLeft { item });
    }
    // Half of what nobody measured is nothing that can be kept.
    let Some(have) = total(&lots) else {
        return refuse(Refusal::UnknownAmount { item });
    };
    match share.of(&have) {
        Ok(Some(part)) if part.is_positive() => Ok(part),
        Ok(_) => {
            let have = have.spoken();
            refuse(Refusal::NotEnough { item, have })
        }
        Err(mismatch) => refuse(Refusal::OtherMeasure {
            item,
            have: mismatch.have,
            asked: mismatch.other,
        }),
    }
}

/// The same event, with the ways in which its item was heard.
fn with_forms(event: Event, forms: &[ItemName]) -> Event {
    let mut forms = forms.to_vec();
    forms.retain(|form| event.item() != Some(form));
    if forms.is_empty() || event.item().is_none() {
        return event;
    }
    Event::Heard {
        what: Box::new(event),
        forms,
    }
}

pub(super) fn changed(reply: String, mentioned: Option<ItemName>) -> Answer {
    Answer {
        changed: true,
        mentioned,
        ..Answer::say(reply)
    }
}

fn put_in(goods: &Goods, place: Option<Place>) -> Event {
    Event::PutIn {
        item: goods.item.clone(),
        quantity: goods.quantity.clone(),
        place,
        // Asked for before it comes here, where it wasn't said what the date means.
        dates: goods.dates().unwrap_or_default(),
    }
}

fn tag(goods: &Goods) -> Event {
    Event::Tagged {
        item: goods.item.clone(),
        quantity: goods.quantity.clone(),
        dates: goods.dates().unwrap_or_default(),
    }
}

/// Finds the tag that is meant. The inner error is a reply: nothing is put away on a guess.
fn put_away(
    stock: &Stock,
    which: &Which,
    place: &Place,
) -> Result<Result<Event, String>, StockError> {
    let item = match which {
        Which::Tag(tag) => {
            return Ok(Ok(Event::PutAway {
                tag: *tag,
                place: place.clone(),
            }));
        }
        Which::Item(item) => item,
    };
    let tags = tags_of(stock, item)?;
    Ok(match tags.as_slice() {
        [tag] => Ok(Event::PutAway {
            tag: tag.number,
            place: place.clone(),
        }),
        [] => Ok(Event::PutIn {
            item: item.clone(),
            quantity: None,
            place: Some(place.clone()),
            dates: Default::default(),
        }),
        several => Err(wording::several_tags(item, several)),
    })
}

fn tags_of(stock: &Stock, item: &ItemName) -> Result<Vec<TemporaryTag>, StockError> {
    let mut tags = stock.tags()?;
    tags.retain(|tag| tag.item == *item);
    Ok(tags)
}

fn where_is(stock: &Stock, item: &ItemName) -> Result<Answer, StockError> {
    let lots = stock.lots(item)?;
    let tags = tags_of(stock, item)?;
    let listed = stock.list()?.iter().any(|line| line.item == *item);
    Ok(Answer::say(wording::where_is(item, &lots, &tags, listed)))
}
