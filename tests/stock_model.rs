//! The stock against a plain model of it in memory, over random days in a kitchen.

mod stock_kitchen;

use std::collections::BTreeMap;

use chrono::NaiveDate;
use proptest::prelude::*;
use stock_kitchen::*;
use tellshelf::measure::{Amount, DateKind, Quantity};
use tellshelf::stock::{Change, Dates, Event, Place, Refusal, Source, Stock, StockError};

/// What can be told apart when things are used: a bare number fits bags, and nothing else fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Bare,
    Bags,
    Grams,
}

/// A quantity in grams or pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Much {
    kind: Kind,
    base: Amount,
}

impl Much {
    fn of(quantity: &Quantity) -> Self {
        match quantity {
            Quantity::Count { count, pack: None } => Self {
                kind: Kind::Bare,
                base: *count,
            },
            Quantity::Count { count, .. } => Self {
                kind: Kind::Bags,
                base: *count,
            },
            Quantity::Measure { amount, unit } => Self {
                kind: Kind::Grams,
                base: amount * unit.in_base(),
            },
            Quantity::Packs { .. } => unreachable!("not in these days"),
        }
    }

    fn fits(self, other: Self) -> bool {
        (self.kind == Kind::Grams) == (other.kind == Kind::Grams)
    }
}

#[derive(Debug, Clone, PartialEq)]
struct Lot {
    item: String,
    much: Option<Much>,
    place: Option<String>,
    dates: Dates,
}

impl Lot {
    fn has(&self, kind: DateKind) -> bool {
        self.dates.get(kind).is_some()
    }

    fn is_frozen(&self) -> bool {
        let in_freezer = self.place.as_deref() == Some("freezer");
        (in_freezer || self.has(DateKind::Frozen)) && !self.has(DateKind::Thawed)
    }
}

#[derive(Debug, Clone, PartialEq)]
struct Tag {
    item: String,
    much: Option<Much>,
    dates: Dates,
}

/// All that is derived from the ledger. Lots and lines stand in the order they came.
#[derive(Debug, Clone, Default, PartialEq)]
struct Model {
    names: Vec<String>,
    lots: Vec<Lot>,
    list: Vec<(String, Option<Much>)>,
    tags: BTreeMap<u32, Tag>,
    keep: BTreeMap<String, Much>,
    /// How things were heard, and what they are called.
    heard: BTreeMap<String, String>,
    keeps_sounds: bool,
}

#[derive(Debug, PartialEq)]
enum Why {
    NoneLeft,
    NotEnough,
    OtherMeasure,
    UnknownAmount,
    AllSoAlready,
    NotListed,
    AlreadyListed,
    NoSuchTag,
    NothingLearned,
    NeverHad,
    NameTaken,
    NothingToUndo,
    NoAmount,
}

impl Model {
    fn mention(&mut self, item: &str) {
        if !self.names.iter().any(|name| name == item) {
            self.names.push(item.to_owned());
        }
    }

    fn is_listed(&self, item: &str) -> bool {
        self.list.iter().any(|(name, _)| name == item)
    }

    fn put_in(&mut self, item: &str, much: Option<Much>, place: Option<String>, dates: &Dates) {
        self.mention(item);
        self.list.retain(|(name, _)| name != item);
        self.lots.push(Lot {
            item: item.to_owned(),
            much,
            place,
            dates: dates.clone(),
        });
    }

    fn gone(&mut self, item: &str) {
        self.mention(item);
        self.lots.retain(|lot| lot.item != item);
        if !self.is_listed(item) {
            self.list.push((item.to_owned(), None));
        }
    }

    /// Places in `lots` of an item's lots, in the order to use them.
    fn in_order(&self, item: &str) -> Vec<usize> {
        let mut own: Vec<usize> = (0..self.lots.len())
            .filter(|i| self.lots[*i].item == item)
            .collect();
        own.sort_by_key(|i| {
            let lot = &self.lots[*i];
            let begun = lot.has(DateKind::Opened) || lot.has(DateKind::Thawed);
            let date = lot.dates.first_ahead().unwrap_or(NaiveDate::MAX);
            (lot.is_frozen(), !begun, date)
        });
        own
    }

    fn change(
        &mut self,
        item: &str,
        how: Change,
        quantity: Option<Much>,
        place: Option<&Place>,
        on: NaiveDate,
    ) -> Result<(), Why> {
        let place = place.map(|place| place.to_string());
        let order = self.in_order(item);
        if order.is_empty() {
            return Err(Why::NoneLeft);
        }
        let mut fitting: Vec<usize> = order;
        fitting.retain(|i| {
            let lot = &self.lots[*i];
            match how {
                Change::Opened => !lot.has(DateKind::Opened) && !lot.is_frozen(),
                Change::Frozen => !lot.is_frozen(),
                Change::Thawed => lot.is_frozen(),
                Change::Moved => lot.place != place,
            }
        });
        if how == Change::Moved && fitting.iter().any(|i| !self.lots[*i].is_frozen()) {
            fitting.retain(|i| !self.lots[*i].is_frozen());
        }
        let (zero, one) = (Amount::from_integer(0), Amount::from_integer(1));
        let Some(first) = fitting.first().copied() else {
            return Err(Why::AllSoAlready);
        };
        // How much of each lot; none for all of it.
        let mut parts: Vec<(usize, Option<Amount>)> = Vec::new();
        match (quantity, how) {
            (None, Change::Opened) => {
                let several = self.lots[first].much;
                let several = several.filter(|much| much.kind != Kind::Grams && much.base > one);
                parts.push((first, several.map(|_| one)));
            }
            (None, _) => parts.extend(fitting.iter().map(|i| (*i, None))),
            (Some(used), _) => {
                if used.base <= zero {
                    return Err(Why::NoAmount);
                }
                let known = |i: &&usize| self.lots[**i].much.is_some_and(|much| much.fits(used));
                let known: Vec<usize> = fitting.iter().filter(known).copied().collect();
                let there: Amount = known.iter().map(|i| self.lots[*i].much.unwrap().base).sum();
                if there < used.base {
                    return Err(match () {
                        () if fitting.iter().any(|i| self.lots[*i].much.is_none()) => {
                            Why::UnknownAmount
                        }
                        () if known.is_empty() => Why::OtherMeasure,
                        () => Why::NotEnough,
                    });
                }
                let mut to_take = used.base;
                for i in known {
                    let base = self.lots[i].much.unwrap().base;
                    let part = base.min(to_take);
                    if part > zero {
                        parts.push((i, Some(part).filter(|part| *part < base)));
                    }
                    to_take -= part;
                }
            }
        }
        for (i, part) in parts {
            let i = match part {
                None => i,
                Some(part) => {
                    let mut new = self.lots[i].clone();
                    self.lots[i].much.as_mut().unwrap().base -= part;
                    new.much.as_mut().unwrap().base = part;
                    self.lots.push(new);
                    self.lots.len() - 1
                }
            };
            let lot = &mut self.lots[i];
            let mut dates = Dates::default();
            let kept = lot
                .dates
                .iter()
                .filter(|note| how != Change::Frozen || note.kind != Some(DateKind::Thawed));
            kept.for_each(|note| dates.insert(note.kind.unwrap(), note.date));
            match how {
                Change::Opened => dates.insert(DateKind::Opened, on),
                Change::Frozen => dates.insert(DateKind::Frozen, on),
                Change::Thawed => dates.insert(DateKind::Thawed, on),
                // Out of the freezer, it thaws.
                Change::Moved if lot.is_frozen() && place.as_deref() != Some("freezer") => {
                    dates.insert(DateKind::Thawed, on);
                }
                Change::Moved => {}
            }
            lot.dates = dates;
            if place.is_some() || how != Change::Opened {
                lot.place.clone_from(&place);
            }
        }
        Ok(())
    }

    fn take(&mut self, item: &str, used: Much) -> Result<(), Why> {
        let order = self.in_order(item);
        if order.is_empty() {
            return Err(Why::NoneLeft);
        }
        let zero = Amount::from_integer(0);
        let known: Vec<usize> = order
            .iter()
            .copied()
            .filter(|i| self.lots[*i].much.is_some())
            .collect();
        let fitting: Vec<usize> = known
            .iter()
            .copied()
            .filter(|i| self.lots[*i].much.unwrap().fits(used))
            .collect();
        let there: Amount = fitting
            .iter()
            .map(|i| self.lots[*i].much.unwrap().base)
            .sum();
        if used.base <= zero || there < used.base {
            return Err(match () {
                () if known.len() < order.len() => Why::UnknownAmount,
                () if used.base <= zero || fitting.is_empty() => Why::OtherMeasure,
                () => Why::NotEnough,
            });
        }
        let mut to_take = used.base;
        for i in fitting {
            let lot = self.lots[i].much.as_mut().unwrap();
            let part = lot.base.min(to_take);
            lot.base -= part;
            to_take -= part;
        }
        assert_eq!(to_take, zero);
        self.lots
            .retain(|lot| lot.much.is_none_or(|much| much.base > zero));
        if self.in_order(item).is_empty() {
            self.gone(item);
        }
        Ok(())
    }

    fn rename(&mut self, item: &str, name: &str) -> Result<(), Why> {
        if !self.names.iter().any(|known| known == item) {
            return Err(Why::NeverHad);
        }
        if self.names.iter().any(|known| known == name) {
            return Err(Why::NameTaken);
        }
        self.heard.remove(name);
        let names = self.names.iter_mut();
        let names = names.chain(self.lots.iter_mut().map(|lot| &mut lot.item));
        let names = names.chain(self.list.iter_mut().map(|(listed, _)| listed));
        let names = names.chain(self.tags.values_mut().map(|tag| &mut tag.item));
        let names = names.chain(self.heard.values_mut());
        for known in names.filter(|known| *known == item) {
            *known = name.to_owned();
        }
        if let Some(level) = self.keep.remove(item) {
            self.keep.insert(name.to_owned(), level);
        }
        self.heard.entry(item.to_owned()).or_insert(name.to_owned());
        Ok(())
    }

    /// What falls below its keep level goes onto the list.
    fn apply(&mut self, event: &Event) -> Result<(), Why> {
        let item = match event {
            Event::PutIn { item, .. }
            | Event::UsedUp { item }
            | Event::Used { item, .. }
            | Event::KeptAt { item, .. } => Some(item.to_string()),
            Event::PutAway { tag, .. } => self.tags.get(&tag.0).map(|tag| tag.item.clone()),
            _ => None,
        };
        self.apply_alone(event)?;
        if let Some(item) = item
            && self.low().contains(&item)
            && !self.is_listed(&item)
        {
            self.list.push((item, None));
        }
        Ok(())
    }

    fn apply_alone(&mut self, event: &Event) -> Result<(), Why> {
        let much = |quantity: &Option<Quantity>| match quantity.as_ref().map(Much::of) {
            Some(much) if much.base <= Amount::from_integer(0) => Err(Why::NoAmount),
            much => Ok(much),
        };
        match event {
            Event::PutIn {
                item,
                quantity,
                place,
                dates,
            } => {
                let place = place.as_ref().map(|p| p.to_string());
                self.put_in(item.as_str(), much(quantity)?, place, dates);
            }
            Event::PutAway { tag, place } => {
                let tag = self.tags.remove(&tag.0).ok_or(Why::NoSuchTag)?;
                self.put_in(&tag.item, tag.much, Some(place.to_string()), &tag.dates);
            }
            Event::Changed {
                item,
                how,
                quantity,
                place,
                on,
            } => {
                let much = quantity.as_ref().map(Much::of);
                self.change(item.as_str(), *how, much, place.as_ref(), *on)?;
            }
            Event::UsedUp { item } => self.gone(item.as_str()),
            Event::Used { item, quantity } => self.take(item.as_str(), Much::of(quantity))?,
            Event::Listed { item, quantity } => {
                let (item, quantity) = (item.as_str(), much(quantity)?);
                self.mention(item);
                match self.list.iter_mut().find(|(name, _)| name == item) {
                    Some(_) if quantity.is_none() => return Err(Why::AlreadyListed),
                    Some(line) => line.1 = quantity,
                    None => self.list.push((item.to_owned(), quantity)),
                }
            }
            Event::Unlisted { item } | Event::Got { item } => {
                if !self.is_listed(item.as_str()) {
                    return Err(Why::NotListed);
                }
                self.list.retain(|(name, _)| name != item.as_str());
            }
            Event::KeptAt { item, level } => {
                self.mention(item.as_str());
                self.keep.insert(item.to_string(), Much::of(level));
            }
            Event::Tagged {
                item,
                quantity,
                dates,
            } => {
                let much = much(quantity)?;
                self.mention(item.as_str());
                let number = (1..).find(|n| !self.tags.contains_key(n)).unwrap();
                let tag = Tag {
                    item: item.to_string(),
                    much,
                    dates: dates.clone(),
                };
                self.tags.insert(number, tag);
            }
            Event::Heard { what, forms } => {
                self.apply(what)?;
                for form in forms {
                    if !self.names.contains(&form.to_string()) {
                        let item = what.item().unwrap().to_string();
                        self.heard.entry(form.to_string()).or_insert(item);
                    }
                }
            }
            Event::Unheard { item } => {
                if !self.heard.values().any(|known| known == item.as_str()) {
                    return Err(Why::NothingLearned);
                }
                self.heard.retain(|_, known| known != item.as_str());
            }
            Event::SoundsAllowed { keep } => self.keeps_sounds = *keep,
            Event::Renamed { item, name } => self.rename(item.as_str(), name.as_str())?,
            Event::Undone { .. } => unreachable!("told as Step::Undo"),
            other => unreachable!("{other:?} isn't among the steps"),
        }
        Ok(())
    }

    /// What the stock says, in the model's words. The lots go item by item, in the order to use.
    fn of(stock: &Stock) -> Self {
        let names = stock.names().unwrap();
        let mut lots = vec![];
        for name in &names {
            lots.extend(stock.lots(&item(name)).unwrap().iter().map(|lot| Lot {
                item: lot.item.to_string(),
                much: lot.quantity.as_ref().map(Much::of),
                place: lot.place.as_ref().map(|p| p.to_string()),
                dates: lot.dates.clone(),
            }));
        }
        let list = stock.list().unwrap().into_iter();
        let list = list
            .map(|l| (l.item.to_string(), l.quantity.as_ref().map(Much::of)))
            .collect();
        let tags = stock.tags().unwrap().into_iter();
        let tags = tags.map(|t| {
            let much = t.quantity.as_ref().map(Much::of);
            (
                t.number.0,
                Tag {
                    item: t.item.to_string(),
                    much,
                    dates: t.dates,
                },
            )
        });
        Self {
            names,
            lots,
            list,
            tags: tags.collect(),
            heard: stock
                .learned()
                .unwrap()
                .into_iter()
                .flat_map(|learned| {
                    let item = learned.item.to_string();
                    let forms = learned.forms.into_iter();
                    forms.map(move |form| (form.to_string(), item.clone()))
                })
                .collect(),
            keep: BTreeMap::new(),
            keeps_sounds: stock.keeps_sounds().unwrap(),
        }
    }

    /// This model in the form of [`Model::of`].
    fn in_order_to_use(&self) -> Self {
        let order = self.names.iter().flat_map(|name| self.in_order(name));
        let lots = order.map(|i| self.lots[i].clone()).collect();
        Self {
            lots,
            keep: BTreeMap::new(),
            ..self.clone()
        }
    }

    fn low(&self) -> Vec<String> {
        let is_low = |(item, keep): (&String, &Much)| {
            let lots: Vec<&Lot> = self.lots.iter().filter(|lot| lot.item == *item).collect();
            let all_fit = lots
                .iter()
                .all(|lot| lot.much.is_some_and(|m| m.fits(*keep)));
            let sum: Amount = lots.iter().filter_map(|lot| Some(lot.much?.base)).sum();
            let waits = self.tags.values().any(|tag| tag.item == *item);
            (!waits && all_fit && sum < keep.base).then(|| item.clone())
        };
        self.keep.iter().filter_map(is_low).collect()
    }

    fn expiring(&self, until: NaiveDate) -> Vec<(NaiveDate, String)> {
        let things = self.lots.iter().filter(|lot| !lot.is_frozen());
        let things = things.map(|lot| (&lot.item, &lot.dates));
        let things = things.chain(self.tags.values().map(|tag| (&tag.item, &tag.dates)));
        let mut found: Vec<_> = things
            .flat_map(|(item, dates)| dates.iter().map(move |note| (note, item.clone())))
            .filter(|(note, _)| note.kind.unwrap().looks_ahead() && note.date <= until)
            .map(|(note, item)| (note.date, item))
            .collect();
        found.sort();
        found
    }
}

fn why(error: StockError) -> Why {
    match error {
        StockError::NoAmount { .. } => Why::NoAmount,
        StockError::Refused(refusal) => match refusal {
            Refusal::NoneLeft { .. } => Why::NoneLeft,
            Refusal::NotEnough { .. } => Why::NotEnough,
            Refusal::OtherMeasure { .. } => Why::OtherMeasure,
            Refusal::UnknownAmount { .. } => Why::UnknownAmount,
            Refusal::AllSoAlready { .. } => Why::AllSoAlready,
            Refusal::NotListed { .. } => Why::NotListed,
            Refusal::AlreadyListed { .. } => Why::AlreadyListed,
            Refusal::NoSuchTag(_) => Why::NoSuchTag,
            Refusal::NothingLearned { .. } => Why::NothingLearned,
            Refusal::NeverHad { .. } => Why::NeverHad,
            Refusal::NameTaken { .. } => Why::NameTaken,
            Refusal::NothingToUndo => Why::NothingToUndo,
            other => unreachable!("{other} is of no event among the steps"),
        },
        other => panic!("{other}"),
    }
}

#[derive(Debug, Clone)]
enum Step {
    Tell(Event),
    Undo,
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let name = || prop::sample::select(vec!["oats", "oat", "milk"]);
    let form = || prop::sample::select(vec!["oats", "oaks", "mill"]);
    let quantity = || {
        prop::sample::select(vec![
            "1 bag",
            "2 bag",
            "1/3 bag",
            "1",
            "3",
            "300 gram",
            "1 pound",
            "1/7 ounce",
            "2 kilogram",
            "0 bag",
        ])
    };
    let maybe = || prop_oneof![1 => Just(""), 3 => quantity()];
    let on = || {
        prop::sample::select(vec![
            "",
            "",
            "use by 2026-12-01",
            "best by 2026-12-01, use by 2026-12-24",
            "sell by 2026-11-30, bought 2026-11-01",
            "opened 2026-11-02",
            "freeze by 2027-01-01, packed 2026-11-01, frozen 2026-11-03",
        ])
    };
    let place = || prop::sample::select(vec!["pantry", "fridge"]);
    let how = || {
        prop::sample::select(vec![
            Change::Opened,
            Change::Frozen,
            Change::Thawed,
            Change::Moved,
        ])
    };
    let somewhere = || prop::sample::select(vec!["", "pantry", "fridge", "freezer"]);
    let tell = prop_oneof![
        4 => (name(), maybe(), place(), on()).prop_map(|(n, q, p, d)| put_in(n, q, p, d)),
        1 => (name(), maybe(), on()).prop_map(|(n, q, d)| put_in(n, q, "", d)),
        3 => (1..5u32, place()).prop_map(|(t, p)| put_away(t, p)),
        2 => name().prop_map(used_up),
        4 => (name(), how(), maybe(), somewhere()).prop_map(|(n, h, q, p)| changed(n, h, q, p)),
        8 => (name(), quantity()).prop_map(|(n, q)| used(n, q)),
        2 => (name(), maybe()).prop_map(|(n, q)| listed(n, q)),
        1 => name().prop_map(unlisted),
        1 => name().prop_map(got),
        1 => (name(), quantity()).prop_map(|(n, q)| kept_at(n, q)),
        3 => (name(), maybe(), on()).prop_map(|(n, q, d)| tagged(n, q, d)),
        2 => (name(), name(), form()).prop_map(|(n, a, b)| heard(listed(n, ""), &[a, b])),
        2 => (name(), form()).prop_map(|(n, f)| heard(used_up(n), &[f])),
        1 => name().prop_map(unheard),
        1 => (name(), form()).prop_map(|(n, f)| renamed(n, f)),
        1 => (form(), name()).prop_map(|(n, f)| renamed(n, f)),
        1 => prop::bool::ANY.prop_map(|keep| Event::SoundsAllowed { keep }),
    ];
    let one = tell.prop_map(|event| vec![Step::Tell(event)]);
    let undos = (1..6usize).prop_map(|n| vec![Step::Undo; n]);
    prop::collection::vec(prop_oneof![5 => one, 1 => undos], 1..60).prop_map(|s| s.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_stock_does_as_the_model_does(steps in steps()) {
        let mut stock = Stock::in_memory().unwrap();
        let mut model = Model::default();
        // What was there before each event that isn't taken back.
        let mut before: Vec<(Event, Model, String)> = vec![];
        for step in steps {
            let dump = stock.dump().unwrap();
            let outcome = match &step {
                Step::Undo => stock.undo(at(), Source::Typed),
                Step::Tell(event) => stock.record(event.clone(), at(), Source::Typed),
            };
            let expected = match &step {
                Step::Undo => match before.pop() {
                    None => Err(Why::NothingToUndo),
                    Some((event, earlier, dump)) => {
                        prop_assert_eq!(stock.dump().unwrap(), dump, "undo of {:?}", event);
                        model = earlier;
                        Ok(())
                    }
                },
                Step::Tell(event) => {
                    let earlier = model.clone();
                    let result = model.apply(event);
                    match result {
                        Ok(()) => before.push((event.clone(), earlier, dump)),
                        Err(_) => {
                            model = earlier;
                            prop_assert_eq!(stock.dump().unwrap(), dump, "refused {:?}", event);
                        }
                    }
                    result
                }
            };
            prop_assert_eq!(outcome.map(|_| ()).map_err(why), expected, "{:?}", step);
            prop_assert_eq!(Model::of(&stock), model.in_order_to_use(), "{:?}", step);
            let low: Vec<String> = stock.low().unwrap().iter().map(|l| l.item.to_string()).collect();
            prop_assert_eq!(low, model.low());
            let until = day("2026-12-01");
            let expiring = stock.expiring(until).unwrap().into_iter();
            let expiring: Vec<_> = expiring.map(|e| (e.note.date, e.item.to_string())).collect();
            prop_assert_eq!(expiring, model.expiring(until));
            for lot in stock.shelf().unwrap() {
                prop_assert!(lot.quantity.is_none_or(|q| q.is_positive()));
            }
        }
        stock.check().unwrap();

        let mut replayed = Stock::in_memory().unwrap();
        for (id, at, _, event) in stock.events().unwrap() {
            replayed.record(event, at, Source::Typed).unwrap();
            prop_assert_eq!(replayed.events().unwrap().last().unwrap().0, id);
        }
        prop_assert_eq!(replayed.dump().unwrap(), stock.dump().unwrap());
    }
}
