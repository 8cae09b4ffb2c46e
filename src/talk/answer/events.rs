//! From a request to the event that is recorded.

use chrono::NaiveDate;

use super::questions::where_is;
use crate::measure::{DateNote, Quantity, Share};
use crate::stock::{
    Change, Choice, Event, ItemName, Lot, Place, PoolTag, Refusal, Stock, StockError, TagKind,
    TagState, TemporaryTag, total,
};
use crate::talk::request::{Goods, Request, Used, Which};
use crate::talk::wording;

/// The event that a request asks for. The inner error is a reply: there is nothing to record.
pub(super) fn event(
    stock: &Stock,
    request: &Request,
    today: NaiveDate,
) -> Result<Result<Event, String>, StockError> {
    let no_question = || Ok(Err(wording::NO_QUESTION.to_owned()));
    Ok(Ok(match request {
        Request::PutIn { goods, place } => put_in(goods, place.clone()),
        Request::PutAway(which, place) => return put_away(stock, which, place, today),
        Request::UsedUp(item, of) => used_up(item, of.clone()),
        Request::Finished(item) => used_up(item, opened_first(&stock.lots(item)?)),
        Request::Change {
            item,
            how,
            quantity,
            place,
            since,
            of,
        } => Event::Changed {
            item: item.clone(),
            how: *how,
            quantity: quantity.clone(),
            place: place.clone().or_else(|| usual_place_of(*how)),
            on: since.day(today),
            of: of.clone(),
        },
        Request::Use(item, Used::Quantity(quantity), of) => used(item, quantity.clone(), of.clone()),
        Request::Use(item, Used::Share(share), of) => {
            let of = match (share, of.is_any()) {
                (Share::Part(_), true) => opened_first(&stock.lots(item)?),
                _ => of.clone(),
            };
            used(item, part_of(stock, item, share, &of)?, of)
        }
        Request::List(item, quantity) => Event::Listed {
            item: item.clone(),
            quantity: quantity.clone(),
        },
        Request::Unlist(item) => Event::Unlisted { item: item.clone() },
        Request::Got(item, quantity) => Event::Got {
            item: item.clone(),
            quantity: quantity.clone(),
        },
        Request::Keep(item, level) => Event::KeptAt {
            item: item.clone(),
            level: level.clone(),
        },
        Request::EndKeep(item) => {
            if stock.keep_level(item)?.is_none() {
                return Ok(Err(wording::not_kept(item)));
            }
            // A level of nothing is none.
            let (item, level) = (item.clone(), Quantity::of(0));
            Event::KeptAt { item, level }
        }
        Request::Tag(goods) => tag(goods),
        Request::Describe(item, fact) => Event::Described {
            item: item.clone(),
            fact: fact.clone(),
        },
        Request::PlaceSection(section, comes) => Event::SectionPlaced {
            section: section.clone(),
            comes: comes.clone(),
        },
        Request::Unmark(item) => Event::Unmarked { item: item.clone() },
        Request::ListAmount(item, quantity) => {
            if !stock.is_listed(item)? {
                let item = item.clone();
                return Err(StockError::Refused(Refusal::NotListed { item }));
            }
            let (item, quantity) = (item.clone(), Some(quantity.clone()));
            Event::Listed { item, quantity }
        }
        Request::ListLess(item, quantity) => return list_less(stock, item, quantity),
        Request::ForgetStore => Event::StoreForgotten,
        Request::Mark(item, mark) => Event::Marked {
            item: item.clone(),
            mark: *mark,
        },
        Request::KitchenTag(item, tag, of) => Event::KitchenTagged {
            item: item.clone(),
            tag: *tag,
            of: of.clone(),
        },
        Request::Remind(item, tag) => Event::Reminded {
            item: item.clone(),
            tag: *tag,
        },
        Request::TakeTags(first, last) => Event::TagsTaken {
            first: *first,
            last: *last,
        },
        Request::LoseTag(tag) => Event::TagLost { tag: *tag },
        Request::FindTag(tag) => Event::TagFound { tag: *tag },
        Request::Locate(item, place) => return locate(stock, item, place, today),
        Request::MadeSure(item) => Event::MadeSure { item: item.clone() },
        Request::DateOf(goods, _) | Request::Redate(goods) => {
            match goods.date.map(|date| date.note) {
                Some(DateNote {
                    kind: Some(kind),
                    date,
                }) => match (request, goods.item.clone()) {
                    (Request::DateOf(_, which), item) => Event::Dated {
                        item,
                        kind,
                        date,
                        of: Some(*which),
                    },
                    (_, item) => Event::DateChanged { item, kind, date },
                },
                _ => return no_question(),
            }
        }
        Request::Count(item, quantity, place) => Event::Counted {
            item: item.clone(),
            quantity: quantity.clone(),
            place: place.clone(),
        },
        Request::ForgetNames(item) => Event::Unheard { item: item.clone() },
        Request::KeepSounds(keep) => Event::SoundsAllowed { keep: *keep },
        // The session's own; here, there is no question to answer.
        Request::Called
        | Request::Help
        | Request::Teach
        | Request::StopPractising
        | Request::NeverMind
        | Request::Hush
        | Request::Through(_)
        | Request::Manner(_)
        | Request::WhatHeard
        | Request::ChangeDate(_)
        | Request::ChangeDateOf(..)
        | Request::Date(_)
        | Request::Repeat
        | Request::Yes
        | Request::No
        | Request::Meaning(_)
        | Request::Ounces(_)
        | Request::UseOfIt(_)
        | Request::UseSome(_)
        | Request::ChangePart { .. }
        | Request::Has { .. }
        | Request::PutBackIn(..)
        | Request::Agreed
        | Request::NoIdea
        | Request::Wrong
        | Request::WhySo
        | Request::HowToUndo
        | Request::HowToCorrect
        | Request::Today
        | Request::WhatMeans(_)
        | Request::ChangedYesterday
        | Request::LastChange
        | Request::PutSomewhere(..)
        | Request::LocateIt(_)
        | Request::Correct(_)
        | Request::CallIt(_)
        | Request::SpentTags
        | Request::Spent(_)
        | Request::BeginTrip
        | Request::ComeHome
        | Request::NextLine
        | Request::GoOn
        | Request::GotIt
        | Request::OnlyHad(_)
        | Request::NoneThere(_)
        | Request::Instead { .. }
        | Request::Wanted
        | Request::PutThingsAway
        | Request::Directions(_)
        | Request::HowToTake(_)
        | Request::ReadStep(_)
        | Request::AddStep(_)
        | Request::InHand(_)
        | Request::ByTag(_)
        | Request::There(_)
        | Request::WithTag(_)
        | Request::Skip
        | Request::CantTell
        | Request::Done
        | Request::CodeIs(_)
        | Request::CodeIsTag(_)
        | Request::Spell
        // Answered before it comes here: questions, and what takes back.
        | Request::ReadList
        | Request::ReadTags
        | Request::Low
        | Request::KeepLevels
        | Request::ListMore(..)
        | Request::ClearList
        | Request::PutItBack
        | Request::Expires(_)
        | Request::UseFirst
        | Request::WhatIsIn(_)
        | Request::WhatThereIs
        | Request::ReadTag(_)
        | Request::When(_)
        | Request::Where(_)
        | Request::HowMuch(_)
        | Request::PlaySound(_)
        | Request::LearnedNames
        | Request::ChangedToday
        | Request::Why(_)
        | Request::HasAllergen(..)
        | Request::IsItFree(..)
        | Request::Allergens(_)
        | Request::WhatHas(_)
        | Request::StoreOrder
        | Request::MarksOf(_)
        | Request::OnList(_)
        | Request::WhatFeels(..)
        | Request::TagPool
        | Request::FreeTag(_)
        | Request::NotYetKnown
        | Request::BoughtLast
        | Request::HowLong(_)
        | Request::Keeps { .. }
        | Request::Dose
        | Request::ThrownOut(_)
        | Request::ThrownOutOld(_)
        | Request::SoMuchOfIt(_)
        | Request::OldOnes
        | Request::InYear(_)
        | Request::Raw(_)
        | Request::IsItOpen(_)
        | Request::LeftOut(_)
        | Request::BadSign
        | Request::HaveNone(_)
        | Request::WhatHasNo(_)
        | Request::IsItGood(_)
        | Request::AteBad
        | Request::IsMedicine(_)
        | Request::TooMuch
        | Request::LoseSounds
        | Request::PutBack(_)
        | Request::UndoSeveral(_)
        | Request::Undo => return no_question(),
    }))
}

/// So much less on the list; nothing of it, where that is all. The inner error is a reply: what is listed can't be
/// reckoned with.
fn list_less(
    stock: &Stock,
    item: &ItemName,
    less: &Quantity,
) -> Result<Result<Event, String>, StockError> {
    let line = stock.list()?.into_iter().find(|line| line.item == *item);
    let item = item.clone();
    let Some(line) = line else {
        return Err(StockError::Refused(Refusal::NotListed { item }));
    };
    let Some(Ok(rest)) = line.quantity.as_ref().map(|listed| listed.minus(less)) else {
        return Ok(Err(wording::cant_list_less(&line)));
    };
    let rest = rest.filter(Quantity::is_positive);
    Ok(Ok(match rest {
        Some(_) => Event::Listed {
            item,
            quantity: rest,
        },
        None => Event::Unlisted { item },
    }))
}

/// "The eggs are in the fridge": what wasn't known of them, or else where they were moved to. What is on its way is put
/// away by that. The inner error is a reply: of what is there and elsewhere as well, nobody knows which is meant.
fn locate(
    stock: &Stock,
    item: &ItemName,
    place: &Place,
    today: NaiveDate,
) -> Result<Result<Event, String>, StockError> {
    let lots = stock.lots(item)?;
    let (item, place) = (item.clone(), place.clone());
    if lots.iter().any(|lot| lot.place.is_none()) {
        return Ok(Ok(Event::Located { item, place }));
    }
    if stock.waits(&item)? {
        let tags = tags_of(stock, &item)?;
        if tags.is_empty() {
            let unsure = false;
            return Ok(Ok(Event::Stowed {
                item,
                place,
                unsure,
            }));
        }
        return put_away(stock, &Which::Item(item), &place, today);
    }
    if lots.is_empty() {
        return Err(StockError::Refused(Refusal::NoneLeft { item }));
    }
    if lots.iter().any(|lot| lot.place.as_ref() == Some(&place)) {
        return Ok(Err(where_is(stock, &item)?.reply));
    }
    Ok(Ok(Event::Changed {
        item,
        how: Change::by_moving_to(&place),
        quantity: None,
        place: Some(place),
        on: today,
        of: Choice::default(),
    }))
}

/// Finds the tag that is meant. The inner error is a reply: nothing is put away on a guess.
fn put_away(
    stock: &Stock,
    which: &Which,
    place: &Place,
    today: NaiveDate,
) -> Result<Result<Event, String>, StockError> {
    let item = match which {
        Which::Tag(tag) => {
            if let (
                None,
                Some(PoolTag {
                    kind: TagKind::Kitchen,
                    state: TagState::On(item),
                    ..
                }),
            ) = (stock.tag(*tag)?, stock.pool_tag(*tag)?)
            {
                return Ok(Err(wording::facts::is_kitchen_tag(*tag, &item, place)));
            }
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
        [] if stock.waits(item)? => Ok(Event::Stowed {
            item: item.clone(),
            place: place.clone(),
            unsure: false,
        }),
        // Nothing of it is on its way: so it is what is there.
        [] if !stock.lots(item)?.is_empty() => return locate(stock, item, place, today),
        [] => Ok(Event::PutIn {
            item: item.clone(),
            quantity: None,
            place: Some(place.clone()),
            dates: Default::default(),
        }),
        several => Err(wording::several_tags(item, several)),
    })
}

pub(in crate::talk) fn tags_of(
    stock: &Stock,
    item: &ItemName,
) -> Result<Vec<TemporaryTag>, StockError> {
    let mut tags = stock.tags()?;
    tags.retain(|tag| tag.item == *item);
    Ok(tags)
}

/// Where a thing is after a change of which the place wasn't said. What was taken out of the freezer may be anywhere.
fn usual_place_of(how: Change) -> Option<Place> {
    match how {
        Change::Frozen => Place::new("freezer").ok(),
        Change::Opened | Change::Thawed | Change::Moved => None,
    }
}

fn used(item: &ItemName, quantity: Quantity, of: Choice) -> Event {
    let item = item.clone();
    Event::Used { item, quantity, of }
}

fn used_up(item: &ItemName, of: Choice) -> Event {
    let item = item.clone();
    Event::UsedUp { item, of }
}

/// Of what is opened in part, a share or the end is that of the opened one: nobody finishes what is sealed.
fn opened_first(lots: &[Lot]) -> Choice {
    match lots.iter().any(Lot::is_opened) {
        true => Choice::opened(),
        false => Choice::default(),
    }
}

/// A part of all there is of an item that is meant, as a quantity of it.
fn part_of(
    stock: &Stock,
    item: &ItemName,
    share: &Share,
    of: &Choice,
) -> Result<Quantity, StockError> {
    let refuse = |refusal: Refusal| Err(StockError::Refused(refusal));
    let mut lots = stock.lots(item)?;
    let item = item.clone();
    if lots.is_empty() {
        return refuse(Refusal::NoneLeft { item });
    }
    lots.retain(|lot| of.fits(lot));
    if lots.is_empty() {
        let of = of.clone();
        return refuse(Refusal::NoneSuch { item, of });
    }
    share_of(item, share, &lots)
}

/// A part of these lots of an item, as a quantity of it.
pub(in crate::talk) fn share_of(
    item: ItemName,
    share: &Share,
    lots: &[Lot],
) -> Result<Quantity, StockError> {
    let refuse = |refusal: Refusal| Err(StockError::Refused(refusal));
    // Half of what nobody measured is nothing that can be kept.
    let Some(have) = total(lots) else {
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
