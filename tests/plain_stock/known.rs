//! What is said later of what is there, and what follows from how much there is.

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::measure::{Amount, DateKind};
use tellshelf::stock::{Event, ItemName, Place, Why as Reason};

use super::{Item, Lot, Model, Much, Temporary, Why};

impl Model {
    /// What of an item that is kept there is too little.
    pub(super) fn is_low(&self, item: Item) -> bool {
        let Some(keep) = self.keep.get(&item) else {
            return false;
        };
        // Of what is on its way, nobody knows yet how much there will be.
        let waits =
            self.tags.values().any(|tag| tag.item == item) || self.basket.contains_key(&item);
        let lots: Vec<&Lot> = self.lots.iter().filter(|lot| lot.item == item).collect();
        let all_fit = lots
            .iter()
            .all(|lot| lot.much.is_some_and(|m| m.fits(*keep)));
        let sum: Amount = lots.iter().filter_map(|lot| Some(lot.much?.base)).sum();
        !waits && all_fit && sum < keep.base
    }

    /// The item of which an event changes how much there is, or is to be kept.
    pub(super) fn counted_anew(&self, event: &Event) -> Option<String> {
        match event {
            Event::PutAway { tag, .. } => self.tags.get(&tag.0).map(|tag| self.name(tag.item)),
            Event::PutIn { item, .. }
            | Event::Stowed { item, .. }
            | Event::Used { item, .. }
            | Event::UsedUp { item, .. }
            | Event::Spent { item }
            | Event::PutBack { item }
            | Event::KeptAt { item, .. }
            | Event::Dated { item, .. }
            | Event::Counted { item, .. } => Some(item.to_string()),
            Event::DateChanged { item, .. } => {
                let waits = |tag: &Temporary| self.name(tag.item) == item.as_str();
                (!self.tags.values().any(waits)).then(|| item.to_string())
            }
            _ => None,
        }
    }

    /// What falls below its keep level goes onto the list.
    pub(super) fn list_if_low(&mut self, item: &str, at: NaiveDateTime) {
        if let Some(item) = self.names.iter().position(|known| known == item)
            && self.is_low(item)
        {
            self.list(item, None, Reason::BelowKeep, at);
        }
    }

    pub(super) fn date(
        &mut self,
        name: &ItemName,
        kind: DateKind,
        date: NaiveDate,
    ) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let own = || (0..self.lots.len()).filter(|i| self.lots[*i].item == item);
        let undated = own().rfind(|i| self.lots[*i].dates.get(kind).is_none());
        let newest = undated.or_else(|| own().next_back()).ok_or(Why::NoneLeft)?;
        self.lots[newest].dates.insert(kind, date);
        Ok(())
    }

    pub(super) fn date_tag(
        &mut self,
        name: &ItemName,
        tag: u32,
        kind: DateKind,
        date: NaiveDate,
    ) -> Result<(), Why> {
        let item = self.known(name);
        let tag = self.tags.get_mut(&tag).filter(|tag| Some(tag.item) == item);
        tag.ok_or(Why::NoSuchTag)?.dates.insert(kind, date);
        Ok(())
    }

    pub(super) fn locate(&mut self, name: &ItemName, place: &Place) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let own = self.lots.iter_mut().filter(|lot| lot.item == item);
        let own: Vec<&mut Lot> = own.collect();
        if own.is_empty() {
            return Err(Why::NoneLeft);
        }
        let unknown: Vec<&mut Lot> = own.into_iter().filter(|lot| lot.place.is_none()).collect();
        if unknown.is_empty() {
            return Err(Why::KnownAlready);
        }
        unknown
            .into_iter()
            .for_each(|lot| lot.place = Some(place.to_string()));
        self.facts.entry(item).or_default().last_place = Some(place.clone());
        Ok(())
    }

    /// What waits with a tag came later than what stands in its place.
    pub(super) fn change_date(
        &mut self,
        name: &ItemName,
        kind: DateKind,
        date: NaiveDate,
    ) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let own = self.tags.iter_mut().filter(|(_, tag)| tag.item == item);
        let dates = match own.max_by_key(|(number, tag)| (tag.written, **number)) {
            Some((_, tag)) => &mut tag.dates,
            None => {
                let newest = self.lots.iter_mut().rfind(|lot| lot.item == item);
                &mut newest.ok_or(Why::NoneLeft)?.dates
            }
        };
        dates.insert(kind, date);
        Ok(())
    }

    pub(super) fn count(
        &mut self,
        name: &ItemName,
        much: Much,
        place: Option<&Place>,
    ) -> Result<(), Why> {
        if much.base <= Amount::default() {
            return Err(Why::NoAmount);
        }
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let mut own: Vec<&mut Lot> = self
            .lots
            .iter_mut()
            .filter(|lot| lot.item == item)
            .filter(|lot| place.is_none() || lot.place.as_deref() == place.map(Place::as_str))
            .collect();
        let unknown: Vec<usize> = (0..own.len()).filter(|i| own[*i].much.is_none()).collect();
        let meant = match (unknown.as_slice(), own.len()) {
            (_, 0) => return Err(Why::NoneLeft),
            ([one], _) => *one,
            ([], 1) => 0,
            _ => return Err(Why::WhichLot),
        };
        own[meant].much = Some(much);
        Ok(())
    }
}
