//! The trip to the store, and putting away what came of it.

use chrono::NaiveDateTime;
use tellshelf::stock::{ItemKind, ItemName, Mark, Place};

use super::{Bought, Item, Lot, Model, Much, Trip, Why};

impl Model {
    /// The trip that is on.
    pub(super) fn trip(&self) -> Option<usize> {
        self.trips.iter().rposition(|trip| !trip.is_over)
    }

    pub(super) fn begin_trip(&mut self, began: NaiveDateTime) -> Result<(), Why> {
        if self.trip().is_some() {
            return Err(Why::OnTrip);
        }
        self.trips.push(Trip {
            began,
            is_over: false,
            bought: Default::default(),
        });
        self.list_all_soon(began);
        Ok(())
    }

    pub(super) fn come_home(&mut self) -> Result<(), Why> {
        let trip = self.trip().ok_or(Why::NotOnTrip)?;
        self.trips[trip].is_over = true;
        self.lay_down();
        self.kept_off.clear();
        Ok(())
    }

    pub(super) fn note_bought(&mut self, item: Item, much: Option<Much>, is_the_same: bool) {
        if let Some(trip) = self.trip() {
            let noted = self.trips[trip].bought.entry(item).or_default();
            *noted = match is_the_same {
                true => much.or(*noted),
                false => Much::together(*noted, much),
            };
        }
    }

    /// Something was taken for what is on the list, in most cases the same. What is in the basket is remembered, unless
    /// it is known by the tag that was put on it in the aisle.
    pub(super) fn got(
        &mut self,
        listed: &ItemName,
        taken: &ItemName,
        said: Option<Much>,
    ) -> Result<(), Why> {
        let Some(trip) = self.trip() else {
            let wanted = |name: &ItemName| {
                let item = self.known(name)?;
                (self.is_listed(item) || self.is_worn(item)).then_some(item)
            };
            let item = wanted(listed).ok_or(Why::NotListed)?;
            let line = self.list.iter().find(|line| line.item == item);
            if let (Some(wanted), Some(said)) = (line.and_then(|line| line.much), said)
                && wanted.fits(said)
                && said.base < wanted.base
            {
                self.buy(item, Some(said));
                return Ok(());
            }
            for item in [Some(item), self.known(taken)].into_iter().flatten() {
                self.take_off_list(item);
                self.heed(item);
            }
            return Ok(());
        };
        let taken = self.mention(taken);
        let line = self.known(listed).and_then(|item| {
            let line = self.list.iter().find(|line| line.item == item);
            line.map(|line| line.much)
        });
        let much = said.or(line.flatten());
        let is_tagged = self.tags.values().any(|tag| tag.item == taken)
            && self.trips[trip].bought.contains_key(&taken);
        self.note_bought(taken, much, false);
        if !is_tagged {
            let thing = self.basket.entry(taken).or_insert(Bought {
                much: None,
                mark: None,
            });
            thing.much = Much::together(thing.much, much);
        }
        if let Some(other) = self.known(listed).filter(|other| *other != taken) {
            self.unlist(other);
            self.heed(other);
        }
        self.buy(taken, said);
        self.heed(taken);
        Ok(())
    }

    /// Whether what is on the list of an item is what was left to get on the last trip on which some was bought: it may be put
    /// away on a later one.
    pub(super) fn left_a_rest(&self, item: Item) -> bool {
        let line = self.list.iter().find(|line| line.item == item);
        let mut trips = self.trips.iter().rev();
        let trip = trips.find(|trip| trip.bought.contains_key(&item));
        line.zip(trip)
            .is_some_and(|(line, trip)| line.much.is_some() && line.why.1 <= trip.began)
    }

    pub(super) fn got_instead(&mut self, listed: &ItemName, taken: &ItemName) -> Result<(), Why> {
        let item = self.known(listed).ok_or(Why::NotListed)?;
        if !self.is_listed(item) && !self.is_worn(item) {
            return Err(Why::NotListed);
        }
        self.got(listed, taken, None)
    }

    pub(super) fn none_there(&mut self, name: &ItemName) -> Result<(), Why> {
        let trip = self.trip().ok_or(Why::NotOnTrip)?;
        let item = self.known(name).ok_or(Why::NotListed)?;
        let line = self.list.iter_mut().find(|line| line.item == item);
        line.ok_or(Why::NotListed)?.missing = Some(trip);
        Ok(())
    }

    fn is_medicine(&self, item: Item) -> bool {
        let facts = self.facts.get(&item);
        facts.is_some_and(|facts| facts.kind == ItemKind::Medicine)
    }

    /// Whether a mark on a thing could be felt for one on another.
    fn is_mark_taken(&self, item: Item, mark: Mark) -> bool {
        // Of one whose spot isn't known, a hand can't tell that it is another.
        let feels_so = |its: Mark| {
            let spots = [its.spot(), mark.spot()];
            let are_apart = spots[0] != spots[1] && spots.iter().all(Option::is_some);
            (its.kind(), its.count()) == (mark.kind(), mark.count()) && !are_apart
        };
        let bears = |other: Item, its: Option<Mark>| other != item && its.is_some_and(feels_so);
        let places: Vec<_> = self.lots.iter().filter(|lot| lot.item == item).collect();
        let meets = |lot: &Lot| {
            places.iter().any(|mine| mine.place == lot.place)
                || self.is_medicine(item)
                || self.is_medicine(lot.item)
        };
        self.tags.values().any(|tag| bears(tag.item, tag.mark))
            || self
                .basket
                .iter()
                .any(|(other, thing)| bears(*other, thing.mark))
            || self
                .lots
                .iter()
                .any(|lot| bears(lot.item, lot.mark) && meets(lot))
    }

    /// Marks what is on its way home, or else what is there.
    pub(super) fn mark(&mut self, name: &ItemName, mark: Mark) -> Result<(), Why> {
        let item = self.mention(name);
        if self.is_mark_taken(item, mark) {
            return Err(Why::MarkTaken);
        }
        let is_on_its_way = |model: &Self| {
            model.basket.contains_key(&item) || model.tags.values().any(|tag| tag.item == item)
        };
        if !is_on_its_way(self) && self.trip().is_some() {
            // Marked in the aisle: so it is in the basket.
            self.got(name, name, None)?;
            self.another_pack(name);
        }
        if is_on_its_way(self) {
            let tags = self.tags.values_mut().filter(|tag| tag.item == item);
            tags.for_each(|tag| tag.mark = Some(mark));
            if let Some(thing) = self.basket.get_mut(&item) {
                thing.mark = Some(mark);
            }
            return Ok(());
        }
        let own: Vec<&mut Lot> = self
            .lots
            .iter_mut()
            .filter(|lot| lot.item == item)
            .collect();
        if own.is_empty() {
            return Err(Why::NoneLeft);
        }
        own.into_iter().for_each(|lot| lot.mark = Some(mark));
        Ok(())
    }

    /// Takes every mark off a thing.
    pub(super) fn unmark(&mut self, name: &ItemName) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NoneLeft)?;
        let tags = self.tags.values_mut().filter(|tag| tag.item == item);
        let mut marks: Vec<&mut Option<Mark>> = tags.map(|tag| &mut tag.mark).collect();
        marks.extend(self.basket.get_mut(&item).map(|thing| &mut thing.mark));
        let lots = self.lots.iter_mut().filter(|lot| lot.item == item);
        marks.extend(lots.map(|lot| &mut lot.mark));
        let taken = marks.into_iter().filter_map(Option::take).count();
        if taken == 0 {
            return Err(Why::NoneLeft);
        }
        Ok(())
    }

    pub(super) fn put_away(
        &mut self,
        tag: u32,
        place: &Place,
        at: NaiveDateTime,
    ) -> Result<(), Why> {
        let tag = self.tags.remove(&tag).ok_or(Why::NoSuchTag)?;
        self.put_in(
            Lot {
                item: tag.item,
                much: tag.much,
                place: Some(place.to_string()),
                dates: tag.dates,
                mark: tag.mark,
                tag: None,
                unsure: false,
                before: None,
                came: at,
            },
            true,
        );
        Ok(())
    }

    pub(super) fn stow(
        &mut self,
        name: &ItemName,
        place: &Place,
        unsure: bool,
        at: NaiveDateTime,
    ) -> Result<(), Why> {
        let item = self.known(name).ok_or(Why::NothingWaiting)?;
        let thing = self.basket.remove(&item).ok_or(Why::NothingWaiting)?;
        self.put_in(
            Lot {
                item,
                much: thing.much,
                place: Some(place.to_string()),
                dates: Default::default(),
                mark: thing.mark,
                tag: None,
                unsure,
                before: None,
                came: at,
            },
            true,
        );
        Ok(())
    }
}
