//! From a request to the stock, and from what it did to a reply.

pub(super) mod alike;
mod events;
mod questions;

use chrono::NaiveDateTime;

use self::alike::{alike_now, mark_taken};
pub(super) use self::events::{share_of, tags_of};
use super::question::Question;
use super::reading::Listing;
use super::request::Request;
use super::turn::Effect;
use super::{steps, wording};
use crate::measure::Quantity;
use crate::stock::{
    Change, Clip, Event, Fact, ItemKind, ItemName, Lot, Outcome, Refusal, Source, Stock,
    StockError, TagNumber, Why,
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
    if let Some(answer) = questions::answer(stock, request, today)? {
        return Ok(answer);
    }
    let event = match request {
        Request::LoseSounds => {
            let lost = stock.lose_sounds()?;
            return Ok(changed(wording::sounds_lost(lost), None));
        }
        Request::ClearList => {
            let lines = stock.list()?;
            for line in &lines {
                let item = line.item.clone();
                stock.record(Event::Unlisted { item }, now, source)?;
            }
            return Ok(changed(wording::cleared(lines.len()), None));
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
            let mut reply = wording::outcome(&outcome, today);
            if let Outcome::Undone(event) = &outcome
                && is_gone_still(stock, event)?
            {
                reply.push_str(wording::STILL_NONE);
            }
            return Ok(changed(reply, None));
        }
        request => match events::event(stock, request, today)? {
            Ok(event) => event,
            Err(reply) => return Ok(Answer::say(reply)),
        },
    };
    let event = with_forms(event, forms);
    let item = event.item().cloned();
    let was_listed = match &item {
        Some(item) => stock.why_listed(item)?.is_some(),
        None => true,
    };
    let bought = matches!(request, Request::Got(..));
    let outcome = match (request, stock.record(event, now, source)) {
        (Request::LoseTag(tag), Err(StockError::Refused(Refusal::TagInUse { item, .. }))) => {
            return Ok(Answer::say(wording::round::tag_still_needed(*tag, &item)));
        }
        (Request::Got(item, _), Err(StockError::Refused(Refusal::NotListed { .. }))) => {
            return Ok(Answer::say(wording::got_unlisted(item)));
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
        } => wording::facts::step_noted(item, steps::count(&stock.facts(item)?), step),
        outcome => wording::outcome(outcome, today),
    };
    if let Some(item) = &item {
        let kind = stock.facts(item)?.kind;
        reply = wording::as_of_kind(reply, kind);
        if kind == ItemKind::Medicine && is_in_freezer(&outcome) {
            reply.push_str(wording::facts::FROZEN_MEDICINE);
        }
        if let (Outcome::Described { fact, .. }, ItemKind::Medicine) = (&outcome, kind)
            && matches!(fact, Fact::Directions(_) | Fact::Step(_))
        {
            reply = format!("{reply} {}", wording::facts::LABEL_FIRST);
        }
    }
    reply.push_str(wording::behind_its_place(&outcome));
    reply.push_str(&alike_now(stock, &outcome)?);
    let stale = wording::facts::to_write_again(&stale_tags(stock, &outcome)?);
    if reply.split(' ').chain(stale.split(' ')).count() <= wording::MOST_WORDS {
        reply.push_str(&stale);
    }
    if let Request::Keep(item, level) = request
        && let Some(have) = uncomparable(stock, item, level)?
    {
        reply.push_str(&wording::cant_compare(&have));
    }
    if let Outcome::CameIn { lot, .. } = &outcome
        && let Some(level) = stock.keep_level(&lot.item)?
        && uncomparable(stock, &lot.item, &level)?.is_some()
    {
        reply.push_str(&wording::keeps_otherwise(&level));
    }
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

/// The kitchen tags that were written before something changed that they say.
fn stale_tags(stock: &Stock, outcome: &Outcome) -> Result<Vec<TagNumber>, StockError> {
    let lots = match outcome {
        Outcome::Described {
            item,
            fact: Fact::Directions(_) | Fact::Step(_) | Fact::Allergen { .. } | Fact::Label { .. },
        } => stock.lots(item)?,
        Outcome::Changed {
            how: Change::Moved | Change::Frozen | Change::Thawed,
            changed,
            ..
        } => changed.clone(),
        Outcome::Located { lots } => lots.clone(),
        _ => Vec::new(),
    };
    Ok(lots.into_iter().filter_map(|lot| lot.tag).collect())
}

/// Whether something came into the freezer by it.
fn is_in_freezer(outcome: &Outcome) -> bool {
    match outcome {
        Outcome::CameIn { lot, .. } => lot.is_frozen(),
        Outcome::Changed { changed: lots, .. } | Outcome::Located { lots } => {
            lots.iter().any(Lot::is_frozen)
        }
        _ => false,
    }
}

/// Whether something was used up that was gone before.
fn is_gone_still(stock: &Stock, undone: &Event) -> Result<bool, StockError> {
    match undone {
        Event::UsedUp { item, .. } => Ok(stock.lots(item)?.is_empty()),
        Event::Heard { what, .. } => is_gone_still(stock, what),
        _ => Ok(false),
    }
}

/// What there is of an item, where it can't be told whether that is less than a keep level.
fn uncomparable(
    stock: &Stock,
    item: &ItemName,
    level: &Quantity,
) -> Result<Option<Vec<Lot>>, StockError> {
    let lots = stock.lots(item)?;
    let is_other = |lot: &Lot| {
        lot.quantity
            .as_ref()
            .is_some_and(|have| have.minus(level).is_err())
    };
    Ok(lots.iter().any(is_other).then_some(lots))
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
        Some(Event::UsedUp { item: used, .. } | Event::Used { item: used, .. }) if used == item => {
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
