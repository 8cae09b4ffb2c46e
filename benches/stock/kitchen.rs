//! A made-up kitchen that much happens in, the same each time: things come in, are used, opened, moved, listed and
//! tagged, and every so often that is taken back.

use std::collections::{HashMap, VecDeque};
use std::error::Error;
use std::path::Path;
use std::time::{Duration, Instant};

use chrono::{Days, NaiveDate, NaiveDateTime, TimeDelta};
use tellshelf::measure::{DateKind, Quantity};
use tellshelf::stock::{
    Allergen, Change, Choice, Container, Dates, Event, Fact, Feel, ItemName, Lid, Outcome,
    OwnWords, Place, Section, Source, Stock, StockError, TagNumber,
};

use crate::made_up::{MOST, PLANTS, made_up};
use crate::random::Random;

/// All of them can be said. What stands first is used most.
pub const PLACES: [&str; 12] = [
    "pantry",
    "fridge",
    "cupboard",
    "shelf",
    "cellar",
    "fridge door",
    "drawer",
    "freezer",
    "counter",
    "top shelf",
    "garage",
    "bread box",
];

/// Events for each lot that there is in the end, and for each item that is mentioned, up to the most there are.
const EVENTS_FOR_A_LOT: usize = 10;
const EVENTS_FOR_AN_ITEM: usize = 90;
/// From so many lines on, what comes in is from the list.
const LONG_LIST: usize = 200;
/// The time from one event to the next: half a million of them are nearly two years.
const MINUTES: i64 = 2;

impl Random {
    /// True so many times in a hundred.
    fn in_hundred(&mut self, times: usize) -> bool {
        self.below(100) < times
    }
}

/// The kinds of changes that are timed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    PutIn,
    Use,
    UseUp,
    List,
    Got,
    Open,
    Freeze,
    Thaw,
    Move,
    Tag,
    PutAway,
    Keep,
    Hear,
    Describe,
    Mark,
    KitchenTag,
    PutBack,
    Undo,
}

impl Kind {
    /// Each with how many of a hundred events it is, once nothing must come in.
    pub const ALL: [(Self, usize); 18] = [
        (Self::PutIn, 0),
        (Self::Use, 46),
        (Self::UseUp, 3),
        (Self::List, 10),
        (Self::Got, 1),
        (Self::Open, 8),
        (Self::Freeze, 1),
        (Self::Thaw, 2),
        (Self::Move, 6),
        (Self::Tag, 6),
        (Self::PutAway, 5),
        (Self::Keep, 1),
        (Self::Hear, 1),
        (Self::Describe, 3),
        (Self::Mark, 1),
        (Self::KitchenTag, 1),
        (Self::PutBack, 1),
        (Self::Undo, 4),
    ];

    fn by_chance(random: &mut Random) -> Self {
        let mut left = random.below(100);
        for (kind, share) in Self::ALL {
            if left < share {
                return kind;
            }
            left -= share;
        }
        Self::Use
    }
}

/// The name of an item.
pub fn name(item: usize) -> ItemName {
    ItemName::new(&made_up(item)).expect("a name")
}

/// So much of an item, each measured in its own way.
fn quantity(item: usize, much: usize) -> Quantity {
    let text = match item % 4 {
        0 => format!("{much} bag"),
        1 => format!("{} ounce", 4 * much),
        2 => format!("{much}"),
        _ => format!("{much} x 14 ounce can"),
    };
    text.parse().expect("a quantity")
}

/// A stock, with what is needed to go on living in it.
pub struct Kitchen {
    pub stock: Stock,
    pub now: NaiveDateTime,
    pub random: Random,
    /// Items that were mentioned.
    items: usize,
    numbers: HashMap<ItemName, usize>,
    /// Lots of each item, and of all.
    lots: Vec<usize>,
    all_lots: usize,
    to_buy: VecDeque<usize>,
    tags: Vec<TagNumber>,
    past: Vec<usize>,
}

impl Kitchen {
    /// Goes on in the kitchen of a file.
    pub fn open(path: &Path, now: NaiveDateTime) -> Result<Self, Box<dyn Error>> {
        let stock = Stock::open(path)?;
        let numbers = (0..MOST).map(|item| (name(item), item)).collect();
        let mut kitchen = Self {
            now,
            random: Random(7),
            items: stock.names()?.len(),
            numbers,
            lots: vec![0; MOST],
            all_lots: 0,
            to_buy: VecDeque::new(),
            tags: stock.tags()?.iter().map(|tag| tag.number).collect(),
            past: Vec::new(),
            stock,
        };
        for lot in kitchen.stock.shelf()? {
            kitchen.lots[kitchen.numbers[&lot.item]] += 1;
            kitchen.all_lots += 1;
        }
        for line in kitchen.stock.list()? {
            kitchen.to_buy.push_back(kitchen.numbers[&line.item]);
        }
        Ok(kitchen)
    }

    /// Lives on until so many events were recorded, `at` those that are there already; in the end as many lots are there
    /// as belong to so many events.
    pub fn live(&mut self, at: usize, until: usize) -> Result<(), Box<dyn Error>> {
        let mut events = at;
        while events < until {
            let mentioned = (events / EVENTS_FOR_AN_ITEM + 1).min(MOST);
            self.items = self.items.max(mentioned);
            if events.is_multiple_of(1_000) {
                let past = self.stock.expiring(self.now.date())?;
                self.past = past.iter().map(|past| self.numbers[&past.item]).collect();
            }
            let kind = if self.all_lots < events / EVENTS_FOR_A_LOT {
                Kind::PutIn
            } else {
                Kind::by_chance(&mut self.random)
            };
            if self.change(kind)?.is_some() {
                events += 1;
            }
        }
        Ok(())
    }

    /// Makes a change, and says how long that took; `None` where it can't be made as things stand.
    pub fn change(&mut self, kind: Kind) -> Result<Option<Duration>, Box<dyn Error>> {
        let event = match kind {
            Kind::Undo => None,
            kind => match self.event(kind)? {
                Some(event) => Some(event),
                None => return Ok(None),
            },
        };
        let begun = Instant::now();
        let outcome = match event {
            Some(event) => self.stock.record(event, self.now, Source::Typed),
            None => self.stock.undo(self.now, Source::Typed),
        };
        let took = begun.elapsed();
        let outcome = match outcome {
            Ok(outcome) => outcome,
            Err(StockError::Refused(_)) => return Ok(None),
            Err(error) => return Err(error.into()),
        };
        self.now += TimeDelta::minutes(MINUTES);
        self.take_note(&outcome)?;
        Ok(Some(took))
    }

    /// Keeps up with what became of it.
    fn take_note(&mut self, outcome: &Outcome) -> Result<(), Box<dyn Error>> {
        let item = match outcome {
            Outcome::CameIn { lot, freed, .. } => {
                self.tags.retain(|tag| Some(*tag) != *freed);
                Some(lot.item.clone())
            }
            Outcome::Changed { changed, .. } => changed.first().map(|lot| lot.item.clone()),
            Outcome::Gone { item, .. } | Outcome::Listed { item, .. } => {
                self.to_buy.push_back(self.numbers[item]);
                Some(item.clone())
            }
            Outcome::Used { item, .. } | Outcome::PutBack { item, .. } => Some(item.clone()),
            Outcome::Tagged { tag, .. } => {
                self.tags.push(tag.number);
                None
            }
            Outcome::Undone(Event::Tagged { .. }) => {
                self.tags = self.stock.tags()?.iter().map(|tag| tag.number).collect();
                None
            }
            Outcome::Undone(Event::PutAway { tag, .. }) => {
                self.tags.push(*tag);
                self.stock.tag(*tag)?.map(|tag| tag.item)
            }
            Outcome::Undone(event) => event.item().cloned(),
            _ => None,
        };
        if let Some(item) = item {
            let now = self.stock.lots(&item)?.len();
            let before = std::mem::replace(&mut self.lots[self.numbers[&item]], now);
            self.all_lots = self.all_lots + now - before;
        }
        Ok(())
    }

    /// Any item, those with a low number more often.
    pub fn any_item(&mut self) -> usize {
        let (one, other) = (self.random.below(self.items), self.random.below(self.items));
        if self.random.in_hundred(30) {
            one.min(other)
        } else {
            one
        }
    }

    /// Any place, those that stand first more often.
    pub fn any_place(&mut self) -> Place {
        let (one, other) = (
            self.random.below(PLACES.len()),
            self.random.below(PLACES.len()),
        );
        Place::new(PLACES[one.min(other)]).expect("a place")
    }

    /// A tag in use, if one is.
    pub fn any_tag(&mut self) -> Option<TagNumber> {
        let tags = self.tags.len().max(1);
        self.tags.get(self.random.below(tags)).copied()
    }

    fn event(&mut self, kind: Kind) -> Result<Option<Event>, Box<dyn Error>> {
        let number = self.any_item();
        let item = name(number);
        Ok(Some(match kind {
            Kind::PutIn => {
                let number = match self.to_buy.len() {
                    LONG_LIST.. => self.to_buy.pop_front().unwrap_or(number),
                    _ => number,
                };
                let much = 1 + self.random.below(6);
                Event::PutIn {
                    item: name(number),
                    quantity: (!self.random.in_hundred(3)).then(|| quantity(number, much)),
                    place: (!self.random.in_hundred(3)).then(|| self.any_place()),
                    dates: self.dates(number),
                }
            }
            Kind::Use => return self.use_some(number),
            Kind::UseUp => Event::UsedUp {
                item,
                of: Default::default(),
            },
            Kind::List => {
                let quantity = self.random.in_hundred(30).then(|| quantity(number, 2));
                Event::Listed { item, quantity }
            }
            Kind::Got => match self.to_buy.pop_back() {
                Some(number) => Event::Got {
                    item: name(number),
                    quantity: None,
                },
                None => return Ok(None),
            },
            Kind::Open => self.changed(item, Change::Opened, None),
            Kind::Freeze => self.changed(item, Change::Frozen, Place::new("freezer").ok()),
            Kind::Thaw => self.changed(item, Change::Thawed, None),
            Kind::Move => {
                let place = self.any_place();
                let mut event = self.changed(item, Change::Moved, Some(place));
                if let Event::Changed { quantity: much, .. } = &mut event
                    && self.random.in_hundred(50)
                {
                    *much = Some(quantity(number, 1));
                }
                event
            }
            Kind::Tag => {
                if self.tags.len() > 40 {
                    return Ok(None);
                }
                Event::Tagged {
                    item,
                    quantity: Some(quantity(number, 1)),
                    dates: self.dates(number),
                }
            }
            Kind::PutAway => match self.any_tag() {
                Some(tag) => Event::PutAway {
                    tag,
                    place: self.any_place(),
                },
                None => return Ok(None),
            },
            // One item in ten has a keep level, one in twenty was heard wrong once.
            Kind::Keep => Event::KeptAt {
                item: name(number / 10 * 10),
                level: quantity(number / 10 * 10, 3),
            },
            Kind::Hear => {
                let number = number / 20 * 20;
                let form = ItemName::new(&format!("{} like", name(number)))?;
                Event::Heard {
                    what: Box::new(Event::Listed {
                        item: name(number),
                        quantity: Some(quantity(number, 2)),
                    }),
                    forms: vec![form],
                }
            }
            Kind::Describe => {
                let fact = self.fact(number);
                Event::Described { item, fact }
            }
            Kind::Mark => {
                let count = 1 + self.random.below(3);
                let mark = format!("{count} band").parse()?;
                Event::Marked { item, mark }
            }
            Kind::KitchenTag => {
                let tag = TagNumber(101 + self.random.below(100) as u32);
                Event::KitchenTagged {
                    item,
                    tag,
                    of: Choice::default(),
                }
            }
            Kind::PutBack => Event::PutBack { item },
            Kind::Undo => return Ok(None),
        }))
    }

    /// Something that may be known of an item.
    fn fact(&mut self, number: usize) -> Fact {
        let containers = [
            Container::Can,
            Container::Bag,
            Container::Box,
            Container::Jar,
            Container::Bottle,
        ];
        match self.random.below(6) {
            0 => Fact::Section(Section::new(PLANTS[number % 12]).expect("a section")),
            1 => Fact::Place(self.any_place()),
            2 => Fact::Allergen {
                allergen: Allergen::new("tree nuts").expect("an allergen"),
                contains: self.random.in_hundred(20),
            },
            3 => Fact::Directions(OwnWords::new("boil ten minutes").expect("words")),
            _ => {
                let lids = [Lid::Screw, Lid::SnapOn, Lid::PopTop];
                let feel = Feel::default().with(containers[number % containers.len()]);
                Fact::Feel(feel.with(lids[self.random.below(lids.len())]))
            }
        }
    }

    fn changed(&self, item: ItemName, how: Change, place: Option<Place>) -> Event {
        Event::Changed {
            item,
            how,
            quantity: None,
            place,
            on: self.now.date(),
            of: Default::default(),
        }
    }

    /// What has passed its date is used before anything else.
    fn use_some(&mut self, number: usize) -> Result<Option<Event>, Box<dyn Error>> {
        let number = self.past.pop().unwrap_or(number);
        let item = name(number);
        let lots = self.stock.lots(&item)?;
        let Some(first) = lots.first() else {
            return Ok(None);
        };
        let all = self.random.in_hundred(70);
        Ok(Some(match &first.quantity {
            Some(have) => Event::Used {
                item,
                quantity: if all {
                    have.clone()
                } else {
                    quantity(number, 1)
                },
                of: Default::default(),
            },
            None => Event::UsedUp {
                item,
                of: Default::default(),
            },
        }))
    }

    /// One item in five is fresh, and three in ten things have no date.
    fn dates(&mut self, number: usize) -> Dates {
        let mut dates = Dates::default();
        let kinds = [DateKind::UseBy, DateKind::BestBy, DateKind::SellBy];
        let days = if number.is_multiple_of(5) {
            3 + self.random.below(30)
        } else {
            200 + self.random.below(1_000)
        };
        let today: NaiveDate = self.now.date();
        if !self.random.in_hundred(30)
            && let Some(date) = today.checked_add_days(Days::new(days as u64))
        {
            dates.insert(kinds[self.random.below(kinds.len())], date);
        }
        if self.random.in_hundred(20) {
            dates.insert(DateKind::Bought, today);
        }
        dates
    }
}

/// When a kitchen of so many events was begun, if the last of `all` is on the day before the day of the questions.
pub fn time_of(events: usize, all: usize) -> Result<NaiveDateTime, Box<dyn Error>> {
    let end = NaiveDate::from_ymd_opt(2026, 11, 25)
        .and_then(|day| day.and_hms_opt(18, 0, 0))
        .ok_or("no such day")?;
    Ok(end - TimeDelta::minutes(MINUTES * (all - events) as i64))
}
