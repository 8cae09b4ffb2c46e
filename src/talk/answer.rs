//! From a request to the stock, and from what it did to a reply.

use chrono::{Days, NaiveDate, NaiveDateTime, NaiveTime};

use super::question::Question;
use super::reading::Listing;
use super::request::{Goods, Request, State, Used, Which};
use super::turn::Effect;
use super::{steps, wording, wording_facts, wording_guide, wording_round};
use crate::guide::Kept;
use crate::measure::{DateNote, Quantity, Share};
use crate::stock::{
    Asked, Candidate, Change, Clip, Event, Fact, Facts, Feel, ItemKind, ItemName, Mark, Outcome,
    Place, Refusal, Source, Stock, StockError, TagNumber, TemporaryTag, Why, free_mark,
    look_alikes, marked_alike, rank, total,
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
    /// It is about what was said before, which is still what was heard last.
    pub of_itself: bool,
    /// How a name was said, to be played behind the reply.
    pub sound: Option<Clip>,
    /// What the reply is the beginning of.
    pub listing: Option<Listing>,
    /// What is to be done beside the reply.
    pub effect: Option<Effect>,
    /// What is said behind the reply unless the person wants brief ones.
    pub extra: String,
    /// An item that the kitchen knows from now on.
    pub mentioned: Option<ItemName>,
    /// The reply is this question.
    pub question: Option<Question>,
}

impl Answer {
    pub fn say(reply: String) -> Self {
        Self {
            reply,
            ..Self::default()
        }
    }

    /// Says a list, or its beginning, and keeps the rest for who wants to hear more.
    pub fn read(listing: Listing) -> Self {
        Self {
            reply: listing.reply(),
            listing: Some(listing).filter(|listing| !listing.things.is_empty()),
            ..Self::default()
        }
    }

    pub fn ask(question: Question, words: String) -> Self {
        Self {
            question: Some(question),
            ..Self::say(words)
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
        Request::ReadList => return Ok(Answer::read(wording::list(&stock.list()?))),
        Request::ReadTags => return Ok(Answer::read(wording::tags(&stock.tags()?, today))),
        Request::Low => {
            let (below, soon) = (stock.low()?, stock.running_out(today)?);
            return Ok(Answer::read(wording::running_low(&below, &soon, today)));
        }
        Request::Expires(span) => {
            let last = span.last_day(today);
            return Ok(Answer::read(wording::expiring(
                &stock.expiring(last)?,
                last,
                today,
            )));
        }
        Request::UseFirst => {
            let first = stock.expiring_first(wording::FIRST)?;
            return Ok(Answer::read(wording::use_first(&first, today)));
        }
        Request::WhatIsIn(place) => {
            let there = stock.in_place(place)?;
            return Ok(Answer::read(wording::what_is_in(place, &there)));
        }
        Request::ReadTag(number) if stock.tag(*number)?.is_none() => {
            return read_pool_tag(stock, *number, today);
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
        Request::ChangedToday => {
            let midnight = today.and_time(NaiveTime::MIN);
            let changes = stock.standing(usize::MAX, Some(midnight))?;
            return Ok(Answer::read(wording::changed_today(&changes)));
        }
        Request::Why(item) => {
            let why = stock.why_listed(item)?;
            let listed = stock.is_listed(item)?;
            let run_out = match why {
                Some((Why::RunningOut, _)) => stock.run_out(item, today)?,
                _ => None,
            };
            let why = wording::why(item, why, run_out.as_ref(), listed, today);
            return Ok(Answer::say(why));
        }
        Request::HasAllergen(item, allergen) => {
            let contains = stock.facts(item)?.contains(allergen);
            return Ok(Answer::say(wording_facts::has_allergen(
                item, allergen, contains,
            )));
        }
        Request::WhatHas(allergen) => {
            let known = stock.allergen(allergen)?;
            return Ok(Answer::read(wording_facts::what_has(allergen, &known)));
        }
        Request::StoreOrder => {
            let order = stock.store_order()?;
            return Ok(Answer::read(wording_round::store_order(&order)));
        }
        Request::WhatFeels(feel, mark) => return what_feels(stock, *feel, *mark),
        Request::TagPool => return Ok(Answer::say(wording_facts::pool(&stock.pool()?))),
        Request::NotYetKnown => {
            let lots = stock.not_yet_known()?;
            let waiting = stock.waiting()?.len();
            return Ok(Answer::read(wording_facts::not_yet_known(&lots, waiting)));
        }
        Request::BoughtLast => {
            let last = stock.last_trip()?;
            return Ok(Answer::read(wording_round::bought_last(
                last.as_ref(),
                today,
            )));
        }
        Request::HowLong(item) => return how_long(stock, item, today),
        Request::Keeps { item, state, place } => {
            return keeps(stock, item, *state, place.as_ref());
        }
        Request::PutBack(item) => return put_back(stock, item, now, source),
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
        Request::Describe(item, fact) => Event::Described {
            item: item.clone(),
            fact: fact.clone(),
        },
        Request::PlaceSection(section, comes) => Event::SectionPlaced {
            section: section.clone(),
            comes: comes.clone(),
        },
        Request::ForgetStore => Event::StoreForgotten,
        Request::Mark(item, mark) => Event::Marked {
            item: item.clone(),
            mark: *mark,
        },
        Request::KitchenTag(item, tag) => Event::KitchenTagged {
            item: item.clone(),
            tag: *tag,
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
        Request::Locate(item, place) => match locate(stock, item, place, today)? {
            Ok(event) => event,
            Err(reply) => return Ok(Answer::say(reply)),
        },
        Request::MadeSure(item) => Event::MadeSure { item: item.clone() },
        Request::Date(goods) | Request::Redate(goods) => match goods.date.map(|date| date.note) {
            Some(DateNote {
                kind: Some(kind),
                date,
            }) => match (request, goods.item.clone()) {
                (Request::Redate(_), item) => Event::DateChanged { item, kind, date },
                (_, item) => Event::Dated { item, kind, date },
            },
            _ => return Ok(Answer::say(wording::NO_QUESTION.to_owned())),
        },
        Request::Count(item, quantity) => Event::Counted {
            item: item.clone(),
            quantity: quantity.clone(),
        },
        Request::ForgetNames(item) => Event::Unheard { item: item.clone() },
        Request::KeepSounds(keep) => Event::SoundsAllowed { keep: *keep },
        // The session's own; here, there is no question to answer.
        Request::Called
        | Request::Help
        | Request::Teach
        | Request::StopPractising
        | Request::Through(_)
        | Request::Manner(_)
        | Request::WhatHeard
        | Request::ChangeDate(_)
        | Request::Repeat
        | Request::Yes
        | Request::No
        | Request::Meaning(_)
        | Request::Ounces(_)
        | Request::UseOfIt(_)
        | Request::PutSomewhere(..)
        | Request::Correct(_)
        | Request::CallIt(_)
        | Request::SpentTags
        | Request::Spent(_)
        | Request::BeginTrip
        | Request::ComeHome
        | Request::NextLine
        | Request::GotIt
        | Request::NoneThere(_)
        | Request::Instead { .. }
        | Request::Wanted
        | Request::PutThingsAway
        | Request::Directions(_)
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
        | Request::Spell => {
            return Ok(Answer::say(wording::NO_QUESTION.to_owned()));
        }
    };
    let event = with_forms(event, forms);
    let item = event.item().cloned();
    let was_listed = match &item {
        Some(item) => stock.why_listed(item)?.is_some(),
        None => true,
    };
    let bought = matches!(request, Request::Got(_));
    let outcome = match (request, stock.record(event, now, source)) {
        (Request::LoseTag(tag), Err(StockError::Refused(Refusal::TagInUse { item, .. }))) => {
            return Ok(Answer::say(wording_round::tag_still_needed(*tag, &item)));
        }
        (
            Request::Mark(item, _),
            Err(StockError::Refused(Refusal::MarkTaken { mark, item: by })),
        ) => return mark_taken(stock, item, mark, &by),
        (_, outcome) => outcome?,
    };
    let mut reply = match &outcome {
        outcome if bought => wording::got(outcome, today),
        Outcome::Described {
            item,
            fact: Fact::Step(step),
        } => wording_facts::step_noted(item, steps::count(&stock.facts(item)?), step),
        outcome => wording::outcome(outcome, today),
    };
    reply.push_str(&alike_now(stock, &outcome)?);
    let mut extra = wording::tail(&outcome);
    if let Some(item) = item.as_ref().filter(|_| !was_listed) {
        match stock.why_listed(item)? {
            Some((Why::BelowKeep, _)) => extra.push_str(wording::BELOW_KEEP),
            Some((Why::RunningOut, _)) => {
                let run_out = stock.run_out(item, today)?;
                let said = run_out.map(|when| wording::running_out(when.likely, today));
                extra.push_str(&said.unwrap_or_default());
            }
            _ => {}
        }
    }
    Ok(Answer {
        extra,
        ..changed(reply, item)
    })
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
    if stock.waiting()?.iter().any(|thing| thing.item == item) {
        let tags = tags_of(stock, &item)?;
        if tags.is_empty() {
            let unsure = false;
            return Ok(Ok(Event::Stowed {
                item,
                place,
                unsure,
            }));
        }
        return put_away(stock, &Which::Item(item), &place);
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
    }))
}

/// A tag that is no temporary one in use.
fn read_pool_tag(stock: &Stock, number: TagNumber, today: NaiveDate) -> Result<Answer, StockError> {
    let Some(tag) = stock.pool_tag(number)? else {
        return Ok(Answer::say(wording::tag(number, None, today)));
    };
    let lot = stock.lot_of_tag(number)?;
    let facts = match &lot {
        Some(lot) => stock.facts(&lot.item)?,
        None => Facts::default(),
    };
    let reply = wording_facts::pool_tag(&tag, lot.as_ref(), &facts, today);
    Ok(Answer::say(reply))
}

/// What feels like this, of all that is in the house. Nothing that is a medicine is told by feel.
fn what_feels(stock: &Stock, feel: Feel, mark: Option<Mark>) -> Result<Answer, StockError> {
    let candidates = stock.candidates()?;
    let asked = Asked {
        feel,
        marks: mark.map(|mark| vec![mark]),
        place: None,
    };
    let ranking = rank(&asked, &candidates);
    let likely = ranking.ranked.iter().filter_map(|ranked| {
        // Only what is worth naming is looked up: the kitchen may have thousands.
        let sureness = ranked.sureness?;
        let known = candidates.iter().find(|known| known.item == ranked.item);
        let places = known.map(|known| known.places.clone()).unwrap_or_default();
        Some((ranked.item.clone(), sureness, places))
    });
    let likely: Vec<_> = likely.take(MOST_ALIKE).collect();
    let reply = wording_facts::feels_like(&likely, ranking.medicine_feels_so);
    Ok(Answer::say(reply))
}

/// What feels or is marked like something of which that may have changed: it came in, is somewhere else now, is back, or
/// how it feels was said, or that it is a medicine.
fn alike_now(stock: &Stock, outcome: &Outcome) -> Result<String, StockError> {
    let lots = match outcome {
        Outcome::CameIn { lot, .. } => vec![lot.clone()],
        // What was only opened stands where it stood.
        Outcome::Changed { how, changed, .. } if *how != Change::Opened => changed.clone(),
        Outcome::PutBack { lots, .. } => lots.clone(),
        Outcome::Located { lots } => lots.clone(),
        Outcome::Described {
            item,
            fact: Fact::Feel(_) | Fact::Kind(ItemKind::Medicine),
        } => stock.lots(item)?,
        _ => return Ok(String::new()),
    };
    let mut places: Vec<&Place> = lots.iter().flat_map(|lot| &lot.place).collect();
    places.sort();
    places.dedup();
    for place in places {
        let said = alike(stock, &lots[0].item, place)?;
        if !said.is_empty() {
            return Ok(said);
        }
    }
    Ok(String::new())
}

/// At most so many things are named that may be the one in hand.
const MOST_ALIKE: usize = 3;

/// What feels or is marked like something that just came into a place, with a mark that would tell them apart.
pub(super) fn alike(stock: &Stock, item: &ItemName, place: &Place) -> Result<String, StockError> {
    let there = stock.beside(item, place)?;
    let Some(new) = there.iter().find(|known| known.item == *item) else {
        return Ok(String::new());
    };
    let named = |known: &Candidate| known.item.clone();
    // A mark means one thing in one place.
    let same_mark: Vec<ItemName> = marked_alike(new, &there).into_iter().map(named).collect();
    let alike: Vec<ItemName> = look_alikes(new, &there).into_iter().map(named).collect();
    if new.marks.is_empty() && alike.is_empty() {
        return Ok(String::new());
    }
    // And that of a medicine one thing anywhere.
    let marked = stock.marked()?;
    let elsewhere = marked_alike(new, &marked).into_iter();
    let mut elsewhere = elsewhere.filter(|known| known.medicine || new.medicine);
    let mark = || free_mark(new, &marked, None);
    Ok(if !same_mark.is_empty() {
        wording_facts::marked_alike(&same_mark, mark())
    } else if let Some(other) = elsewhere.next() {
        wording_facts::marked_like_medicine(&other.item, new.medicine, mark())
    } else if !alike.is_empty() {
        wording_facts::feels_alike(&alike, mark())
    } else {
        String::new()
    })
}

/// That a mark means something else already, with one that is free.
fn mark_taken(
    stock: &Stock,
    item: &ItemName,
    taken: Mark,
    by: &ItemName,
) -> Result<Answer, StockError> {
    let facts = stock.facts(item)?;
    let new = Candidate {
        item: item.clone(),
        feel: facts.feel,
        marks: Vec::new(),
        places: Vec::new(),
        medicine: facts.kind == ItemKind::Medicine,
    };
    let free = free_mark(&new, &stock.marked()?, None);
    Ok(Answer::say(wording_facts::mark_taken(taken, by, free)))
}

/// How long something lasts, by how it was used so far.
fn how_long(stock: &Stock, item: &ItemName, today: NaiveDate) -> Result<Answer, StockError> {
    let lots = stock.lots(item)?;
    if lots.is_empty() {
        return Err(StockError::Refused(Refusal::NoneLeft {
            item: item.clone(),
        }));
    }
    let run_out = stock.run_out(item, today)?;
    Ok(Answer::say(wording::how_long(
        item,
        run_out.as_ref(),
        today,
    )))
}

/// How long something keeps, as is published of food.
fn keeps(
    stock: &Stock,
    item: &ItemName,
    state: Option<State>,
    place: Option<&Place>,
) -> Result<Answer, StockError> {
    if stock.facts(item)?.kind != ItemKind::Food {
        return Ok(Answer::say(wording_guide::NO_TIME.to_owned()));
    }
    let ways = Kept::ALL.into_iter().filter(|kept| {
        let is_so = match state {
            None => true,
            Some(State::Opened) => matches!(kept, Kept::PantryOpened | Kept::FridgeOpened),
            Some(State::Thawed) => *kept == Kept::FridgeThawed,
        };
        is_so && place.is_none_or(|place| is_kept_in(*kept, place))
    });
    let ways: Vec<Kept> = ways.collect();
    Ok(Answer::say(wording_guide::keeps(item, &ways)))
}

/// Whether a place is one for which such a time is given. A cellar is neither a pantry nor a fridge.
fn is_kept_in(kept: Kept, place: &Place) -> bool {
    match kept {
        Kept::Pantry | Kept::PantryOpened => matches!(place.as_str(), "pantry" | "cupboard"),
        Kept::Room => place.as_str() == "counter",
        Kept::Fridge | Kept::FridgeOpened | Kept::FridgeThawed => {
            matches!(place.as_str(), "fridge" | "fridge door")
        }
        Kept::Freezer => place.is_freezer(),
    }
}

/// "Put the milk back": an undo where that was the last thing done, or else what was taken is put back.
fn put_back(
    stock: &mut Stock,
    item: &ItemName,
    now: NaiveDateTime,
    source: Source,
) -> Result<Answer, StockError> {
    let last = stock.standing(1, None)?;
    let outcome = match last.first() {
        Some(Event::UsedUp { item: used } | Event::Used { item: used, .. }) if used == item => {
            stock.undo(now, source)?
        }
        _ => match stock.record(Event::PutBack { item: item.clone() }, now, source) {
            Err(StockError::Refused(Refusal::NothingToPutBack { item }))
                if !stock.lots(&item)?.is_empty() =>
            {
                return Ok(Answer::say(wording::how_much(&item, &stock.lots(&item)?)));
            }
            outcome => outcome?,
        },
    };
    let reply = wording::outcome(&outcome, now.date()) + &alike_now(stock, &outcome)?;
    Ok(changed(reply, Some(item.clone())))
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
    let listed = stock.is_listed(item)?;
    Ok(Answer::say(wording::where_is(item, &lots, &tags, listed)))
}
