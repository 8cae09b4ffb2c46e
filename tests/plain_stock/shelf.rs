//! What is on the shelf, and what becomes of it.

use std::cmp::Reverse;

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::measure::{Amount, DateKind};
use tellshelf::stock::{
    Allergen, Change, Choice, Dates, Fact, ItemName, Place, Says, Why as Reason,
};

use super::{Item, Kind, Lot, Model, Much, State, Why};

impl Lot {
    fn has(&self, kind: DateKind) -> bool {
        self.dates.get(kind).is_some()
    }

    pub(super) fn is_frozen(&self) -> bool {
        let in_freezer = self.place.as_deref() == Some("freezer");
        (in_freezer || self.has(DateKind::Frozen)) && !self.has(DateKind::Thawed)
    }

    fn becomes(&mut self, how: Change, place: Option<&str>, on: NaiveDate) {
        if let (Change::Frozen, Some(thawed)) = (how, self.dates.get(DateKind::Thawed)) {
            let days = (on - thawed).num_days().max(0);
            self.before = Some((days + self.before.map_or(0, |(days, _)| days), self.still()));
        }
        let mut dates = Dates::default();
        let kept = self.dates.iter();
        let kept = kept.filter(|n| how != Change::Frozen || n.kind != Some(DateKind::Thawed));
        kept.for_each(|note| dates.insert(note.kind.unwrap(), note.date));
        match how {
            Change::Opened => dates.insert(DateKind::Opened, on),
            Change::Frozen => dates.insert(DateKind::Frozen, on),
            Change::Thawed => dates.insert(DateKind::Thawed, on),
            // Out of the freezer, it thaws.
            Change::Moved if self.is_frozen() && place != Some("freezer") => {
                dates.insert(DateKind::Thawed, on);
            }
            Change::Moved => {}
        }
        self.dates = dates;
        if place.is_some() || how != Change::Opened {
            self.place = place.map(str::to_owned);
        }
    }
}

fn zero() -> Amount {
    Amount::from_integer(0)
}

impl Model {
    pub(super) fn put_in(&mut self, lot: Lot, from_trip: bool) {
        if let Some(place) = &lot.place {
            let facts = self.facts.entry(lot.item).or_default();
            facts.last_place = Place::new(place).ok();
        }
        if !(from_trip && self.left_a_rest(lot.item)) {
            self.buy(lot.item, lot.much);
        }
        self.kept_off.remove(&lot.item);
        self.heed(lot.item);
        self.lots.push(lot);
    }

    /// Places in `lots` of an item's lots, in the order to use them.
    pub(super) fn in_order(&self, item: Item) -> Vec<usize> {
        let mut own: Vec<usize> = (0..self.lots.len())
            .filter(|i| self.lots[*i].item == item)
            .collect();
        own.sort_by_key(|i| {
            let lot = &self.lots[*i];
            let begun = lot.has(DateKind::Opened) || lot.has(DateKind::Thawed);
            let own = lot.dates.first_ahead().unwrap_or(NaiveDate::MAX);
            let date = self.guide(lot).map_or(own, |day| day.min(own));
            (lot.unsure, lot.is_frozen(), Reverse(begun), date, lot.came)
        });
        own
    }

    /// What lots hold together, in the measure of the first.
    pub(super) fn total(&self, lots: &[usize]) -> Option<Much> {
        let all: Option<Vec<Much>> = lots.iter().map(|i| self.lots[*i].much).collect();
        let (all, first) = (all.as_ref()?, *all.as_ref()?.first()?);
        let base = all.iter().map(|much| much.base).sum();
        all.iter()
            .all(|much| much.fits(first))
            .then_some(Much { base, ..first })
    }

    /// So much of these lots, in their order: how much of each, or none for all of it.
    fn parts(&self, of: &[usize], wanted: Much) -> Result<Vec<(usize, Option<Amount>)>, Why> {
        let fits = |i: &usize| self.lots[*i].much.filter(|have| have.fits(wanted));
        let fitting = of.iter().filter_map(|i| Some((*i, fits(i)?.base)));
        let there: Amount = fitting.clone().map(|(_, have)| have).sum();
        if wanted.base <= zero() || there < wanted.base {
            let is_unknown = of.iter().any(|i| self.lots[*i].much.is_none());
            return Err(if is_unknown {
                Why::UnknownAmount
            } else if wanted.base <= zero() || there == zero() {
                Why::OtherMeasure
            } else {
                Why::NotEnough
            });
        }
        let mut to_take = wanted.base;
        let mut parts = Vec::new();
        for (i, have) in fitting {
            let part = have.min(to_take);
            if part > zero() {
                parts.push((i, Some(part).filter(|part| *part < have)));
            }
            to_take -= part;
        }
        Ok(parts)
    }

    /// Those of some lots that are meant: one at least, unless any are.
    fn chosen(&self, mut lots: Vec<usize>, of: &Choice) -> Result<Vec<usize>, Why> {
        let (place, opened) = (of.place.as_ref().map(Place::as_str), of.opened);
        lots.retain(|i| {
            let lot = &self.lots[*i];
            (place.is_none() || place == lot.place.as_deref())
                && (!opened || lot.has(DateKind::Opened))
        });
        let is_any = place.is_none() && !opened;
        match lots.is_empty() && !is_any {
            true => Err(Why::NoneSuch),
            false => Ok(lots),
        }
    }

    pub(super) fn change(
        &mut self,
        item: &ItemName,
        of: &Choice,
        how: Change,
        wanted: Option<Much>,
        place: Option<&Place>,
        on: NaiveDate,
    ) -> Result<(), Why> {
        let place = place.map(Place::as_str);
        let order = self.known(item).map(|item| self.in_order(item));
        let all = order.filter(|lots| !lots.is_empty()).ok_or(Why::NoneLeft)?;
        let mut fitting = self.chosen(all, of)?;
        fitting.retain(|i| {
            let lot = &self.lots[*i];
            match how {
                Change::Opened => !lot.has(DateKind::Opened),
                Change::Frozen => !lot.is_frozen(),
                Change::Thawed => lot.is_frozen(),
                Change::Moved => lot.place.as_deref() != place,
            }
        });
        if how == Change::Moved && fitting.iter().any(|i| !self.lots[*i].is_frozen()) {
            fitting.retain(|i| !self.lots[*i].is_frozen());
        }
        let first = *fitting.first().ok_or(Why::AllSoAlready)?;
        let parts = match wanted {
            Some(wanted) if wanted.base <= zero() => return Err(Why::NoAmount),
            Some(wanted) => self.parts(&fitting, wanted)?,
            None if how == Change::Opened => {
                let one = Amount::from_integer(1);
                let packs = self.lots[first].much;
                let packs = packs.filter(|much| much.kind == Kind::Bags && much.base > one);
                let begun = |packs: Much| Some(packs.base.fract()).filter(|part| *part > zero());
                let part = packs.map(|packs| begun(packs).unwrap_or(one));
                vec![(first, part)]
            }
            None => fitting.into_iter().map(|i| (i, None)).collect(),
        };
        for (i, part) in parts {
            let i = part.map_or(i, |part| self.split(i, part));
            self.lots[i].becomes(how, place, on);
        }
        Ok(())
    }

    /// Makes a lot of its own from a part of one. The tag stays where it is.
    fn split(&mut self, i: usize, part: Amount) -> usize {
        let mut new = self.lots[i].clone();
        self.lots[i].much.as_mut().unwrap().base -= part;
        new.much.as_mut().unwrap().base = part;
        new.tag = None;
        self.lots.push(new);
        self.lots.len() - 1
    }

    /// Takes a lot off the shelf. Its tag waits to be read.
    pub(super) fn take_off(&mut self, i: usize) -> Lot {
        let lot = self.lots.remove(i);
        if let Some(tag) = lot.tag {
            self.pool.get_mut(&tag).unwrap().state = State::Spent(lot.item);
        }
        lot
    }

    pub(super) fn take(
        &mut self,
        name: &ItemName,
        used: Much,
        of: &Choice,
        at: NaiveDateTime,
    ) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let order = self.in_order(item);
        if order.is_empty() {
            return Err(Why::NoneLeft);
        }
        let order = self.chosen(order, of)?;
        let mut parts = self.parts(&order, used)?;
        self.uses.push((item, at, Some(used)));
        // From the last to the first, so that those before stay in their places.
        parts.sort_by_key(|(i, _)| Reverse(*i));
        for (i, part) in parts {
            match part {
                Some(part) => self.lots[i].much.as_mut().unwrap().base -= part,
                None => drop(self.take_off(i)),
            }
        }
        if self.in_order(item).is_empty() {
            self.list(item, None, Reason::UsedUp, at);
        }
        Ok(())
    }

    pub(super) fn use_up(&mut self, item: Item, of: &Choice, at: NaiveDateTime) -> Result<(), Why> {
        let mut order = self.chosen(self.in_order(item), of)?;
        let total = self.total(&order);
        order.sort_unstable();
        let own: Vec<Lot> = order.iter().map(|i| self.lots[*i].clone()).collect();
        for i in order.into_iter().rev() {
            self.take_off(i);
        }
        if !own.is_empty() {
            self.uses.push((item, at, total));
        }
        self.gone.insert(item, (own, at));
        if self.in_order(item).is_empty() {
            self.list(item, None, Reason::UsedUp, at);
        }
        Ok(())
    }

    /// What was noted as used up is there after all, with the tag that nobody has read since.
    pub(super) fn put_back(&mut self, name: &ItemName) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NothingToPutBack)?;
        let (lots, at) = self.gone.remove(&item).ok_or(Why::NothingToPutBack)?;
        if lots.is_empty() {
            return Err(Why::NothingToPutBack);
        }
        for mut lot in lots {
            let tag = lot.tag.take();
            if let Some(tag) = tag.and_then(|tag| Some((tag, self.pool.get_mut(&tag)?)))
                && tag.1.state == State::Spent(item)
            {
                tag.1.state = State::On(item);
                lot.tag = Some(tag.0);
            }
            self.lots.push(lot);
        }
        self.uses.retain(|(used, on, _)| (*used, *on) != (item, at));
        self.list
            .retain(|line| (line.item, line.why) != (item, (Reason::UsedUp, at)));
        Ok(())
    }

    pub(super) fn make_sure(&mut self, name: &ItemName) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::KnownAlready)?;
        let mut unsure = self
            .lots
            .iter_mut()
            .filter(|lot| lot.item == item && lot.unsure);
        let first = unsure.next().ok_or(Why::KnownAlready)?;
        first.unsure = false;
        unsure.for_each(|lot| lot.unsure = false);
        Ok(())
    }

    pub(super) fn describe(&mut self, item: &ItemName, fact: &Fact) {
        let item = self.mention(item);
        let facts = self.facts.entry(item).or_default();
        match fact.clone() {
            Fact::Kind(kind) => facts.kind = kind,
            Fact::Section(section) => facts.section = Some(section),
            Fact::Place(place) => facts.place = Some(place),
            Fact::Directions(words) => facts.directions = vec![words],
            Fact::Step(words) => facts.directions.push(words),
            Fact::Make(words) => facts.make = Some(words),
            Fact::Note(words) => facts.note = Some(words),
            fact @ (Fact::Allergen { .. } | Fact::Label { .. }) => {
                let (says, allergens) = fact.label().unwrap();
                for allergen in allergens {
                    let is_told = |known: &Allergen| match says {
                        Says::NotListed => known.is_kind_of(allergen),
                        _ => known == allergen,
                    };
                    facts.allergens.retain(|(known, _)| !is_told(known));
                    facts.allergens.push((allergen.clone(), says));
                }
                facts.allergens.sort();
            }
            Fact::Feel(feel) => facts.feel = feel.iter().fold(facts.feel, |feel, p| feel.with(p)),
        }
    }

    /// A label that lists none of something was read on an earlier pack.
    pub(super) fn another_pack(&mut self, item: &ItemName) {
        let facts = self.known(item).and_then(|item| self.facts.get_mut(&item));
        for (_, says) in facts.into_iter().flat_map(|facts| &mut facts.allergens) {
            if *says == Says::NotListed {
                *says = Says::NotListedBefore;
            }
        }
    }
}
