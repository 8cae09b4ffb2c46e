//! The tags: each is free, in hand, on a thing, spent or lost.

use std::ops::RangeInclusive;

use chrono::NaiveDateTime;
use tellshelf::stock::{Code, Dates, ItemName, TagKind, Why as Reason};

use super::{Item, Lot, Model, Much, Remembered, State, Temporary, Why};

impl Model {
    /// Refuses a code that is known already.
    pub(super) fn check_new(&self, code: &Code) -> Result<(), Why> {
        let on_tag = |tag: &Remembered| tag.code.as_ref() == Some(code);
        if self.codes.contains_key(code) || self.pool.values().any(on_tag) {
            return Err(Why::CodeTaken);
        }
        Ok(())
    }

    /// A tag that nobody spoke of becomes a kitchen tag by its code.
    pub(super) fn code_tag(&mut self, number: u32, code: &Code) -> Result<(), Why> {
        self.check_new(code)?;
        let kind = if self.tags.contains_key(&number) {
            TagKind::Temporary
        } else {
            TagKind::Kitchen
        };
        let tag = self.pool.entry(number).or_insert(Remembered {
            kind,
            state: State::Free,
            code: None,
        });
        tag.code = Some(code.clone());
        Ok(())
    }

    /// The lowest number in hand, or else the lowest that can be on a thing for a time.
    fn free_number(&self) -> u32 {
        let in_hand = self.pool.iter().find(|(_, tag)| tag.state == State::InHand);
        let is_free = |number: &u32| {
            let is_free =
                |tag: &Remembered| (tag.kind, tag.state) == (TagKind::Temporary, State::Free);
            !self.tags.contains_key(number) && self.pool.get(number).is_none_or(is_free)
        };
        in_hand.map_or_else(|| (1..).find(is_free).unwrap(), |(number, _)| *number)
    }

    /// A temporary tag is free or in use: nothing else is remembered of it but its code.
    fn forget(&mut self, number: u32) {
        match self.pool.get_mut(&number) {
            Some(tag) if tag.code.is_some() => tag.state = State::Free,
            _ => drop(self.pool.remove(&number)),
        }
    }

    pub(super) fn tag(
        &mut self,
        item: &ItemName,
        much: Option<Much>,
        dates: &Dates,
        at: NaiveDateTime,
    ) -> Result<(), Why> {
        let item = self.mention(item);
        let number = self.free_number();
        self.forget(number);
        // What waits at home from another trip isn't what is tagged in the aisle.
        let is_other = |trip: usize| !self.trips[trip].bought.contains_key(&item);
        let before = match self.trip() {
            Some(trip) if is_other(trip) => None,
            _ => self.basket.remove(&item),
        };
        let was_in_basket = before.is_some();
        let tag = Temporary {
            item,
            much: much.or(before.as_ref().and_then(|thing| thing.much)),
            dates: dates.clone(),
            mark: before.and_then(|thing| thing.mark),
            written: at,
        };
        self.tags.insert(number, tag);
        if self.trip().is_some() {
            self.note_bought(item, much, was_in_basket);
            if !was_in_basket {
                self.buy(item, much);
            }
            self.heed(item);
        }
        Ok(())
    }

    /// Whether a tag can be put on something for good, as one of a kind.
    fn check_free(&self, number: u32, kind: TagKind) -> Result<(), Why> {
        match self.pool.get(&number) {
            _ if self.tags.contains_key(&number) => Err(Why::TagInUse),
            Some(tag) if matches!(tag.state, State::On(_)) => Err(Why::TagInUse),
            Some(tag) if tag.kind != kind => Err(Why::OtherTag),
            _ => Ok(()),
        }
    }

    fn set(&mut self, number: u32, kind: TagKind, state: State) {
        let code = self.pool.get(&number).and_then(|tag| tag.code.clone());
        self.pool.insert(number, Remembered { kind, state, code });
    }

    pub(super) fn tag_in_kitchen(&mut self, name: &ItemName, number: u32) -> Result<(), Why> {
        self.check_free(number, TagKind::Kitchen)?;
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let own = self.lots.iter_mut().filter(|lot| lot.item == item);
        let own: Vec<&mut Lot> = own.collect();
        if own.is_empty() {
            return Err(Why::NoneLeft);
        }
        let bare = own.into_iter().rfind(|lot| lot.tag.is_none());
        bare.ok_or(Why::AllTagged)?.tag = Some(number);
        self.set(number, TagKind::Kitchen, State::On(item));
        Ok(())
    }

    pub(super) fn remind(&mut self, name: &ItemName, number: u32) -> Result<(), Why> {
        self.check_free(number, TagKind::Reminder)?;
        let item = self.mention(name);
        self.set(number, TagKind::Reminder, State::On(item));
        Ok(())
    }

    fn is_worn_for(tag: &Remembered, item: Item) -> bool {
        (tag.kind, tag.state) == (TagKind::Reminder, State::On(item))
    }

    pub(super) fn is_worn(&self, item: Item) -> bool {
        self.pool.values().any(|tag| Self::is_worn_for(tag, item))
    }

    /// What a reminder is for is bought.
    pub(super) fn heed(&mut self, item: Item) {
        let worn = self
            .pool
            .values_mut()
            .filter(|tag| Self::is_worn_for(tag, item));
        worn.for_each(|tag| tag.state = State::Free);
    }

    pub(super) fn take_tags(&mut self, numbers: RangeInclusive<u32>) -> Result<(), Why> {
        let can_go = |number: &u32| {
            let kind = self.pool.get(number).map(|tag| tag.kind);
            kind.is_none_or(|kind| kind == TagKind::Temporary) && !self.tags.contains_key(number)
        };
        let taken: Vec<u32> = numbers.take(50).filter(can_go).collect();
        for number in &taken {
            self.set(*number, TagKind::Temporary, State::InHand);
        }
        if taken.is_empty() {
            return Err(Why::NoneToTake);
        }
        Ok(())
    }

    /// What was in hand is in the pool again.
    pub(super) fn lay_down(&mut self) {
        let in_hand = self
            .pool
            .iter()
            .filter(|(_, tag)| tag.state == State::InHand);
        let in_hand: Vec<u32> = in_hand.map(|(number, _)| *number).collect();
        in_hand.into_iter().for_each(|number| self.forget(number));
    }

    pub(super) fn lose(&mut self, number: u32) -> Result<(), Why> {
        if self.tags.contains_key(&number) {
            return Err(Why::TagInUse);
        }
        let tag = self.pool.get_mut(&number).ok_or(Why::NoSuchTag)?;
        if tag.state == State::Lost {
            return Err(Why::TagIsLost);
        }
        tag.state = State::Lost;
        let lots = self.lots.iter_mut();
        let with_it = lots.filter(|lot| lot.tag == Some(number));
        with_it.for_each(|lot| lot.tag = None);
        Ok(())
    }

    pub(super) fn find_again(&mut self, number: u32) -> Result<(), Why> {
        if self.tags.contains_key(&number) {
            return Err(Why::TagNotLost);
        }
        let tag = self.pool.get_mut(&number).ok_or(Why::NoSuchTag)?;
        if tag.state != State::Lost {
            return Err(Why::TagNotLost);
        }
        tag.state = State::Free;
        Ok(())
    }

    /// A tag is read whose thing is gone.
    pub(super) fn spend(&mut self, number: u32, at: NaiveDateTime) -> Result<(), Why> {
        let item = if let Some(tag) = self.tags.remove(&number) {
            self.uses.push((tag.item, at, tag.much));
            tag.item
        } else {
            let tag = self.pool.get(&number).ok_or(Why::NoSuchTag)?;
            let item = match (tag.kind, tag.state) {
                (TagKind::Reminder, State::On(_)) => return Err(Why::OtherTag),
                (_, State::Lost) => return Err(Why::TagIsLost),
                (_, State::Free | State::InHand) => return Err(Why::TagOnNothing),
                (_, State::On(item) | State::Spent(item)) => item,
            };
            if let Some(i) = self.lots.iter().position(|lot| lot.tag == Some(number)) {
                let lot = self.take_off(i);
                self.uses.push((item, at, lot.much));
            }
            self.pool.get_mut(&number).unwrap().state = State::Free;
            item
        };
        self.list(item, None, Reason::UsedUp, at);
        Ok(())
    }

    /// All that were on an item are read.
    pub(super) fn free_spent(&mut self, item: Item) {
        let tags = self.pool.values_mut();
        let spent = tags.filter(|tag| tag.state == State::Spent(item));
        spent.for_each(|tag| tag.state = State::Free);
    }
}
