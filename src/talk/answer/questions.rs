//! Questions: what the stock knows, and changes nothing.

use chrono::{Days, NaiveDate, NaiveTime};

use super::Answer;
use super::events::tags_of;
use crate::guide::Kept;
use crate::stock::{
    Asked, Facts, Feel, ItemKind, ItemName, Mark, Place, Refusal, Stock, StockError, TagNumber,
    Why, rank,
};
use crate::talk::request::{Correction, Request, Span, State};
use crate::talk::wording;

/// The answer to a question; `None` to what is none.
pub(super) fn answer(
    stock: &Stock,
    request: &Request,
    today: NaiveDate,
) -> Result<Option<Answer>, StockError> {
    if let Some(answer) = of_kinds(stock, request, today)? {
        return Ok(Some(answer));
    }
    Ok(Some(match request {
        Request::ReadList => Answer::read(wording::list(&stock.list()?)),
        Request::ReadTags => Answer::read(wording::tags(&stock.tags()?, today)),
        Request::Low => {
            let (below, soon) = (stock.low()?, stock.running_out(today)?);
            Answer::read(wording::running_low(&below, &soon, today))
        }
        Request::Expires(Span::Passed) => {
            let passed = stock.expiring(Span::Passed.last_day(today))?;
            Answer::read(wording::expired(&passed, &stock.medicines()?, today))
        }
        Request::KeepLevels => Answer::read(wording::keep_levels(&stock.keep_levels()?)),
        Request::Expires(span) => {
            let last = span.last_day(today);
            let (mut found, medicines) = (stock.expiring(last)?, stock.medicines()?);
            let mut passed = Vec::new();
            if span.is_alone() {
                let first = span.first_day(today);
                passed.extend(found.extract_if(.., |one| one.due.day() < today));
                found.retain(|one| one.due.day() >= first);
            }
            let listing = match found.is_empty() && span.is_alone() {
                true => wording::none_expiring(span.named()),
                false => wording::expiring(&found, &medicines, last, today),
            };
            Answer::read(listing.with_caution(&wording::besides_passed(&passed)))
        }
        Request::UseFirst => {
            let mut first = stock.expiring_first(MOST_FIRST)?;
            // Of what has the same day, none comes before the other.
            if let Some(last) = first.get(wording::FIRST - 1).map(|last| last.due.day()) {
                first.retain(|one| one.due.day() <= last);
            }
            Answer::read(wording::use_first(&first, today))
        }
        Request::WhatIsIn(place) => {
            let there = stock.in_place(place)?;
            let medicines = stock.medicines_in(place)?;
            Answer::read(wording::what_is_in(place, &there, &medicines))
        }
        Request::WhatThereIs => Answer::say(wording::what_there_is(&stock.shelf()?)),
        Request::ReadTag(number) if stock.tag(*number)?.is_none() => {
            read_pool_tag(stock, *number, today)?
        }
        Request::ReadTag(number) => {
            let tag = stock.tag(*number)?;
            let reply = wording::tag(*number, tag.as_ref(), today);
            Answer::say(match tag {
                Some(tag) => wording::as_of_kind(reply, stock.facts(&tag.item)?.kind),
                None => reply,
            })
        }
        Request::When(item) => {
            let tags = tags_of(stock, item)?;
            let kind = stock.facts(item)?.kind;
            Answer::say(wording::when(item, kind, &stock.lots(item)?, &tags, today))
        }
        Request::Where(item) => where_is(stock, item)?,
        Request::HowMuch(item) => Answer::say(wording::how_much(item, &stock.lots(item)?)),
        Request::PlaySound(item) => {
            let Some((at, clip)) = stock.sound_of(item)? else {
                return Ok(Some(Answer::say(wording::no_sound(item))));
            };
            let reply = wording::sound(item, at.date(), &clip, today);
            Answer {
                sound: Some(clip),
                ..Answer::say(reply)
            }
        }
        Request::LearnedNames => Answer::say(wording::learned(&stock.learned()?)),
        Request::ChangedToday => {
            let midnight = today.and_time(NaiveTime::MIN);
            let changes = stock.standing(usize::MAX, Some(midnight))?;
            Answer::read(wording::changed_today(&changes))
        }
        Request::ChangedYesterday => {
            let midnight = today.and_time(NaiveTime::MIN);
            let since_today = stock.standing(usize::MAX, Some(midnight))?.len();
            let midnight = midnight.checked_sub_days(Days::new(1)).unwrap_or(midnight);
            let changes = stock.standing(usize::MAX, Some(midnight))?;
            Answer::read(wording::changed_yesterday(
                changes.get(since_today..).unwrap_or_default(),
            ))
        }
        Request::LastChange => Answer::say(wording::last_change(&stock.standing(1, None)?)),
        Request::HowToUndo => Answer::say(wording::HOW_TO_UNDO.to_owned()),
        Request::HowToCorrect | Request::Wrong => Answer::say(wording::HOW_TO_CORRECT.to_owned()),
        Request::Today => Answer::say(wording::today(today)),
        Request::WhatMeans(kind) => Answer::say(wording::guide::what_means(*kind).to_owned()),
        Request::Why(item) => {
            let why = stock.why_listed(item)?;
            let listed = stock.is_listed(item)?;
            let run_out = match why {
                Some((Why::RunningOut, _)) => stock.run_out(item, today)?,
                _ => None,
            };
            let why = wording::why(item, why, run_out.as_ref(), listed, today);
            Answer::say(why)
        }
        Request::HasAllergen(item, allergen) => {
            let says = stock.facts(item)?.on_label(allergen);
            Answer::say(wording::labels::has_allergen(item, allergen, &says))
        }
        Request::IsItFree(item, allergen) => {
            let says = stock.facts(item)?.on_label(allergen);
            Answer::say(wording::labels::is_free(item, allergen, &says))
        }
        Request::Allergens(item) => {
            let known = stock.facts(item)?.allergens;
            Answer::read(wording::labels::allergens(item, &known))
        }
        Request::WhatHas(allergen) => {
            let known = stock.allergen(allergen)?;
            Answer::read(wording::labels::what_has(allergen, &known))
        }
        Request::OnList(item) => {
            let line = stock.list()?.into_iter().find(|line| line.item == *item);
            Answer::say(wording::on_list(item, line.as_ref(), &stock.lots(item)?))
        }
        Request::MarksOf(item) => {
            let (lots, waiting) = (stock.lots(item)?, stock.waiting()?);
            Answer::say(wording::facts::marks(item, &lots, &waiting))
        }
        Request::Unmark(item) if !is_marked(stock, item)? => {
            Answer::say(wording::facts::no_mark(item))
        }
        Request::StoreOrder => {
            let order = stock.store_order()?;
            Answer::read(wording::round::store_order(&order))
        }
        Request::WhatFeels(feel, mark) => what_feels(stock, *feel, *mark)?,
        Request::TagPool => Answer::say(wording::facts::pool(&stock.pool()?)),
        Request::NotYetKnown => {
            let lots = stock.not_yet_known()?;
            let (undated, waiting) = (stock.undated()?, stock.waiting()?.len());
            Answer::read(wording::facts::not_yet_known(&lots, &undated, waiting))
        }
        Request::BoughtLast => {
            let last = stock.last_trip()?;
            Answer::read(wording::round::bought_last(last.as_ref(), today))
        }
        Request::HowLong(item) => how_long(stock, item, today)?,
        Request::IsItGood(item) => {
            let (lots, tags) = (stock.lots(item)?, tags_of(stock, item)?);
            let kind = stock.facts(item)?.kind;
            Answer::say(wording::is_it_good(item, kind, &lots, &tags, today))
        }
        Request::Raw(item) => Answer::say(wording::guide::raw(item)),
        Request::LeftOut(item) => Answer::say(wording::guide::left_out(item)),
        Request::BadSign => Answer::say(wording::BAD_SIGN.to_owned()),
        Request::WhatHasNo(allergen) => Answer::say(wording::labels::what_has_no(allergen)),
        Request::IsItOpen(item) => {
            Answer::say(wording::is_it_open(item, &stock.lots(item)?, today))
        }
        Request::AteBad => Answer::say(wording::ATE_BAD.to_owned()),
        Request::IsMedicine(item) => {
            let kind = stock.facts(item)?.kind;
            Answer::say(wording::facts::is_medicine(item, kind))
        }
        Request::Dose => Answer::say(wording::facts::NO_DOSE.to_owned()),
        Request::TooMuch => Answer::say(wording::facts::TOO_MUCH.to_owned()),
        Request::Keeps { item, state, place } => keeps(stock, item, *state, place.as_ref())?,
        _ => return Ok(None),
    }))
}

fn is_marked(stock: &Stock, item: &ItemName) -> Result<bool, StockError> {
    let waiting = stock.waiting()?;
    let on_its_way = waiting
        .iter()
        .any(|thing| thing.item == *item && thing.mark.is_some());
    Ok(on_its_way || stock.lots(item)?.iter().any(|lot| lot.mark.is_some()))
}

/// The answer where there is none of the very thing, but kinds of it: of one, all that was asked for, and of several what
/// they are called.
fn of_kinds(
    stock: &Stock,
    request: &Request,
    today: NaiveDate,
) -> Result<Option<Answer>, StockError> {
    let (Request::Where(item)
    | Request::HowMuch(item)
    | Request::When(item)
    | Request::IsItGood(item)) = request
    else {
        return Ok(None);
    };
    let kinds = stock.kinds_instead(item)?;
    let [kind] = kinds.as_slice() else {
        let reply = wording::none_but_kinds(item, &kinds);
        return Ok((!kinds.is_empty()).then(|| Answer::say(reply)));
    };
    let of_kind = request
        .clone()
        .corrected(&Correction::of_name(kind.clone()));
    let told = match of_kind {
        Some(of_kind) => answer(stock, &of_kind, today)?,
        None => None,
    };
    Ok(told.map(|told| Answer {
        reply: wording::none_but(item, &told.reply),
        ..told
    }))
}

pub(super) fn where_is(stock: &Stock, item: &ItemName) -> Result<Answer, StockError> {
    let lots = stock.lots(item)?;
    let tags = tags_of(stock, item)?;
    let listed = stock.is_listed(item)?;
    Ok(Answer::say(wording::where_is(item, &lots, &tags, listed)))
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
    let mut reply = wording::facts::pool_tag(&tag, lot.as_ref(), &facts, today);
    if let Some(lot) = &lot {
        reply.push_str(wording::due_passed(lot, today));
    }
    Ok(Answer::say(wording::as_of_kind(reply, facts.kind)))
}

/// So many things are looked at for who asks what to use first.
const MOST_FIRST: usize = 50;

/// At most so many things are named that may be the one in hand.
const MOST_ALIKE: usize = 3;

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
    let reply = wording::facts::feels_like(&likely, ranking.medicine_feels_so);
    Ok(Answer::say(reply))
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
        return Ok(Answer::say(wording::guide::NO_TIME.to_owned()));
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
    Ok(Answer::say(wording::guide::keeps(item, &ways)))
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
