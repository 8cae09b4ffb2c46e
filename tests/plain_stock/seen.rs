//! What is told of a stock, for comparing the stock with the model.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::measure::{Amount, DateKind};
use tellshelf::stock::{
    Code, Coded, Dates, Facts, ItemName, ListLine, Mark, PoolTag, Section, Stock, TagKind,
    TagNumber, TagState, Waiting, Why as Reason,
};

use super::store::USUAL;
use super::{Item, Kind, Lot, Model, Much, State};

/// A thing on the shelf, on its way there, or on a temporary tag.
#[derive(Debug, Clone, PartialEq)]
pub struct Thing {
    pub item: String,
    pub much: Option<Much>,
    pub place: Option<String>,
    pub dates: Dates,
    pub mark: Option<Mark>,
    pub tag: Option<u32>,
    pub unsure: bool,
    pub guide: Option<NaiveDate>,
    pub before: Option<(i64, i64)>,
}

impl Thing {
    fn of_lot(lot: &tellshelf::stock::Lot) -> Self {
        Self {
            item: lot.item.to_string(),
            much: lot.quantity.as_ref().map(Much::of),
            place: lot.place.as_ref().map(|place| place.to_string()),
            dates: lot.dates.clone(),
            mark: lot.mark,
            tag: lot.tag.map(|tag| tag.0),
            unsure: lot.unsure,
            guide: lot.guide,
            before: lot
                .refrozen
                .map(|before| (before.thawed.into(), before.still.into())),
        }
    }

    fn of_waiting(thing: Waiting) -> Self {
        Self {
            item: thing.item.to_string(),
            much: thing.quantity.as_ref().map(Much::of),
            place: None,
            dates: thing.dates,
            mark: thing.mark,
            tag: thing.tag.map(|tag| tag.0),
            unsure: false,
            guide: None,
            before: None,
        }
    }
}

type Named = (String, Option<Much>);

/// All that is told. Of what is told of each item, item by item.
#[derive(Debug, PartialEq)]
pub struct Seen {
    pub names: Vec<String>,
    pub shelf: Vec<Thing>,
    pub in_order_to_use: Vec<Vec<Thing>>,
    /// The item, and whether it isn't known for sure what it is, where, and how much.
    pub not_yet_known: Vec<(String, [bool; 3])>,
    pub list: Vec<(Named, Option<(Reason, NaiveDateTime)>)>,
    pub wanted: Vec<Named>,
    pub tags: Vec<Thing>,
    pub pool: Vec<PoolTag>,
    pub worn: Vec<(u32, String)>,
    pub waiting: Vec<Thing>,
    /// The sections of these days, in the order of the store.
    pub store: Vec<String>,
    pub is_on_trip: bool,
    pub last_trip: Option<(NaiveDateTime, Vec<Named>)>,
    pub facts: Vec<Facts>,
    pub codes: Vec<Option<Coded>>,
    pub uses: Vec<Vec<(NaiveDate, Option<Much>)>>,
    pub heard: BTreeMap<String, String>,
    pub keeps_sounds: bool,
    pub low: Vec<String>,
    pub expiring: Vec<(NaiveDate, String)>,
}

impl Seen {
    /// What the stock tells; of these codes, and of what expires until then.
    pub fn of(stock: &Stock, codes: &[Code], until: NaiveDate) -> Self {
        let names = stock.names().unwrap();
        let items: Vec<ItemName> = names.iter().map(|n| ItemName::new(n).unwrap()).collect();
        let things = |lots: Vec<_>| lots.iter().map(Thing::of_lot).collect();
        let named = |item: ItemName, quantity: Option<_>| {
            (item.to_string(), quantity.as_ref().map(Much::of))
        };
        let line = |line: ListLine| named(line.item, line.quantity);
        let listed = |line: ListLine| {
            let why = stock.why_listed(&line.item).unwrap();
            (named(line.item, line.quantity), why)
        };
        let tags = stock.tags().unwrap().into_iter().map(|tag| Thing {
            item: tag.item.to_string(),
            much: tag.quantity.as_ref().map(Much::of),
            place: None,
            dates: tag.dates,
            mark: tag.mark,
            tag: Some(tag.number.0),
            unsure: false,
            guide: None,
            before: None,
        });
        let uses = |item| {
            let uses = stock.uses(item).unwrap().into_iter();
            uses.map(|(day, q)| (day, q.as_ref().map(Much::of)))
                .collect()
        };
        let heard = stock.learned().unwrap().into_iter().flat_map(|learned| {
            let forms = learned.forms.into_iter();
            forms.map(move |form| (form.to_string(), learned.item.to_string()))
        });
        Self {
            shelf: things(stock.shelf().unwrap()),
            in_order_to_use: items
                .iter()
                .map(|item| things(stock.lots(item).unwrap()))
                .collect(),
            not_yet_known: {
                let lots = stock.not_yet_known().unwrap().into_iter();
                lots.map(|lot| (lot.item.to_string(), [lot.what, lot.place, lot.quantity]))
                    .collect()
            },
            list: stock.list().unwrap().into_iter().map(listed).collect(),
            wanted: stock.wanted().unwrap().into_iter().map(line).collect(),
            tags: tags.collect(),
            pool: stock.pool().unwrap(),
            worn: stock
                .worn()
                .unwrap()
                .into_iter()
                .map(|(tag, item)| (tag.0, item.to_string()))
                .collect(),
            waiting: stock
                .waiting()
                .unwrap()
                .into_iter()
                .map(Thing::of_waiting)
                .collect(),
            store: {
                let order = stock.store_order().unwrap();
                let known = order.sections().iter().map(Section::to_string);
                known
                    .filter(|known| USUAL.contains(&known.as_str()))
                    .collect()
            },
            is_on_trip: stock.is_on_trip().unwrap(),
            last_trip: stock.last_trip().unwrap().map(|(began, bought)| {
                let bought = bought.into_iter().map(|(item, q)| named(item, q));
                (began, bought.collect())
            }),
            facts: items
                .iter()
                .map(|item| stock.facts(item).unwrap())
                .collect(),
            codes: codes.iter().map(|code| stock.code(code).unwrap()).collect(),
            uses: items.iter().map(uses).collect(),
            heard: heard.collect(),
            keeps_sounds: stock.keeps_sounds().unwrap(),
            low: stock
                .low()
                .unwrap()
                .iter()
                .map(|low| low.item.to_string())
                .collect(),
            expiring: stock
                .expiring(until)
                .unwrap()
                .iter()
                .map(|one| (one.due.day(), one.item.to_string()))
                .collect(),
            names,
        }
    }

    /// How much there is of each item by pieces, and by weight, as far as it is known.
    pub fn totals(&self) -> BTreeMap<(&str, bool), Amount> {
        let mut totals = BTreeMap::new();
        for thing in &self.shelf {
            if let Some(much) = thing.much {
                let total = totals.entry((thing.item.as_str(), much.kind == Kind::Grams));
                *total.or_default() += much.base;
            }
        }
        totals
    }

    /// Marks that are on two items which can meet: in one place or both on their way, or a medicine with anything.
    pub fn shared_marks(&self) -> BTreeSet<(Mark, &str, &str)> {
        let on_shelf = self.shelf.iter().map(|thing| (Some(&thing.place), thing));
        let things: Vec<_> = on_shelf
            .chain(self.waiting.iter().map(|thing| (None, thing)))
            .collect();
        let is_medicine = |item: &str| {
            let at = self.names.iter().position(|name| name == item).unwrap();
            self.facts[at].kind == tellshelf::stock::ItemKind::Medicine
        };
        let mut shared = BTreeSet::new();
        for (here, one) in &things {
            for (there, other) in &things {
                let can_meet = here == there || is_medicine(&one.item) || is_medicine(&other.item);
                if let Some(mark) = one.mark.filter(|mark| Some(*mark) == other.mark)
                    && one.item < other.item
                    && can_meet
                {
                    shared.insert((mark, one.item.as_str(), other.item.as_str()));
                }
            }
        }
        shared
    }

    /// The tags on things, on what is in the house or on its way and on what is worn.
    pub fn tags_on_things(&self) -> Vec<u32> {
        let waiting = self.waiting.iter().chain(&self.shelf);
        let worn = self.worn.iter().map(|(tag, _)| *tag);
        waiting.filter_map(|thing| thing.tag).chain(worn).collect()
    }
}

impl Model {
    pub(super) fn name(&self, item: Item) -> String {
        self.names[item].clone()
    }

    fn item_name(&self, item: Item) -> ItemName {
        ItemName::new(&self.names[item]).unwrap()
    }

    fn thing(&self, lot: &Lot) -> Thing {
        Thing {
            item: self.name(lot.item),
            much: lot.much,
            place: lot.place.clone(),
            dates: lot.dates.clone(),
            mark: lot.mark,
            tag: lot.tag,
            unsure: lot.unsure,
            guide: self.guide(lot),
            before: lot.before,
        }
    }

    fn things_with_tags(&self) -> impl Iterator<Item = Thing> + '_ {
        self.tags.iter().map(|(number, tag)| Thing {
            item: self.name(tag.item),
            much: tag.much,
            place: None,
            dates: tag.dates.clone(),
            mark: tag.mark,
            tag: Some(*number),
            unsure: false,
            guide: None,
            before: None,
        })
    }

    /// The pool's tags, and those that are on something for a time.
    fn seen_pool(&self) -> Vec<PoolTag> {
        let state = |state: &State| match state {
            State::Free => TagState::Free,
            State::InHand => TagState::InHand,
            State::On(item) => TagState::On(self.item_name(*item)),
            State::Spent(item) => TagState::Spent(self.item_name(*item)),
            State::Lost => TagState::Lost,
        };
        let pool = self.pool.iter();
        let pool = pool.map(|(number, tag)| (*number, (tag.kind, state(&tag.state))));
        let on = |item| (TagKind::Temporary, TagState::On(self.item_name(item)));
        let in_use = self.tags.iter();
        let in_use = in_use.map(|(number, tag)| (*number, on(tag.item)));
        let all: BTreeMap<u32, (TagKind, TagState)> = pool.chain(in_use).collect();
        let all = all.into_iter().map(|(number, (kind, state))| PoolTag {
            number: TagNumber(number),
            kind,
            state,
        });
        all.collect()
    }

    fn meaning(&self, code: &Code) -> Option<Coded> {
        let mut pool = self.pool.iter();
        let tag = pool.find(|(_, tag)| tag.code.as_ref() == Some(code));
        let tag = tag.map(|(number, _)| Coded::Tag(TagNumber(*number)));
        tag.or_else(|| Some(Coded::Item(self.item_name(*self.codes.get(code)?))))
    }

    fn low(&self) -> Vec<String> {
        let kept = self.keep.keys().filter(|item| self.is_low(**item));
        let mut low: Vec<String> = kept.map(|item| self.name(*item)).collect();
        low.sort();
        low
    }

    fn expiring(&self, until: NaiveDate) -> Vec<(NaiveDate, String)> {
        let things = self.lots.iter().map(|lot| {
            // Of what is frozen, only what had passed by then.
            let frozen = lot.dates.get(DateKind::Frozen).unwrap_or(lot.came.date());
            (lot.item, &lot.dates, lot.is_frozen().then_some(frozen))
        });
        let tags = self.tags.values().map(|tag| (tag.item, &tag.dates, None));
        let mut found: Vec<_> = things
            .chain(tags)
            .flat_map(|(item, dates, frozen)| {
                let counts = move |day| frozen.is_none_or(|frozen| day < frozen);
                let counted = dates.iter().filter(move |note| counts(note.date));
                counted.map(move |note| (note, item))
            })
            .filter(|(note, _)| note.kind.unwrap().looks_ahead() && note.date <= until)
            .map(|(note, item)| (note.date, self.name(item)))
            .collect();
        let guided = self
            .lots
            .iter()
            .filter_map(|lot| Some((self.guide(lot)?, self.name(lot.item))));
        found.extend(guided.filter(|(day, _)| *day <= until));
        found.sort();
        found
    }

    /// What the model tells, as [`Seen::of`] the stock.
    pub fn seen(&self, codes: &[Code], until: NaiveDate) -> Seen {
        let facts: Vec<Facts> = (0..self.names.len())
            .map(|item| self.facts.get(&item).cloned().unwrap_or_default())
            .collect();
        let mut shelf: Vec<Thing> = self.lots.iter().map(|lot| self.thing(lot)).collect();
        shelf.sort_by(|one, other| one.item.cmp(&other.item));
        let is_unknown = |t: &&Thing| t.unsure || t.place.is_none() || t.much.is_none();
        // In the order of the store, what has no section last.
        let order = self.store_order();
        let mut lines: Vec<_> = self.list.iter().collect();
        lines.sort_by_key(|line| {
            let section = facts[line.item].section.as_ref();
            let at = |section: &Section| order.iter().position(|known| known == section.as_str());
            section.map_or(order.len(), |section| at(section).unwrap())
        });
        let named = |item: Item, much: Option<Much>| (self.name(item), much);
        let on = self.trip();
        let wanted = lines
            .iter()
            .filter(|line| line.missing.is_none() || line.missing != on);
        let basket = self.basket.iter().map(|(item, thing)| Thing {
            item: self.name(*item),
            much: thing.much,
            place: None,
            dates: Dates::default(),
            mark: thing.mark,
            tag: None,
            unsure: false,
            guide: None,
            before: None,
        });
        let last_trip = self.trips.iter().rfind(|trip| trip.is_over).map(|trip| {
            let bought = trip.bought.iter().map(|(item, much)| named(*item, *much));
            let mut bought: Vec<Named> = bought.collect();
            bought.sort_by(|one, other| one.0.cmp(&other.0));
            (trip.began, bought)
        });
        let uses_of = |item| {
            let own = self.uses.iter().filter(move |(used, ..)| *used == item);
            own.map(|(_, at, much)| (at.date(), *much)).collect()
        };
        let items = 0..self.names.len();
        Seen {
            names: self.names.clone(),
            not_yet_known: {
                let lacks = |thing: &Thing| {
                    let lacks = [thing.unsure, thing.place.is_none(), thing.much.is_none()];
                    (thing.item.clone(), lacks)
                };
                shelf.iter().filter(is_unknown).map(lacks).collect()
            },
            shelf,
            in_order_to_use: items
                .clone()
                .map(|item| {
                    let order = self.in_order(item).into_iter();
                    order.map(|i| self.thing(&self.lots[i])).collect()
                })
                .collect(),
            list: lines
                .iter()
                .map(|line| (named(line.item, line.much), Some(line.why)))
                .collect(),
            wanted: wanted.map(|line| named(line.item, line.much)).collect(),
            tags: self.things_with_tags().collect(),
            pool: self.seen_pool(),
            worn: self
                .pool
                .iter()
                .filter_map(|(number, tag)| match (tag.kind, tag.state) {
                    (TagKind::Reminder, State::On(item)) => Some((*number, self.name(item))),
                    _ => None,
                })
                .collect(),
            waiting: self.things_with_tags().chain(basket).collect(),
            store: order,
            is_on_trip: on.is_some(),
            last_trip,
            facts,
            codes: codes.iter().map(|code| self.meaning(code)).collect(),
            uses: items.map(uses_of).collect(),
            heard: self
                .heard
                .iter()
                .map(|(form, item)| (form.clone(), self.name(*item)))
                .collect(),
            keeps_sounds: self.keeps_sounds,
            low: self.low(),
            expiring: self.expiring(until),
        }
    }
}
