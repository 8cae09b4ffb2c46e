//! What can be asked of the stock. Each question reads the derived tables and changes nothing.

use chrono::{NaiveDate, NaiveDateTime};

use super::Stock;
use crate::measure::Quantity;
use crate::stock::by_feel::Candidate;
use crate::stock::codes::{self, Coded};
use crate::stock::error::StockError;
use crate::stock::event::Dates;
use crate::stock::expiry::{self, Expiring};
use crate::stock::facts::{self, Facts, LabelOf};
use crate::stock::forecast::RunOut;
use crate::stock::learned::{self, Learned};
use crate::stock::list::{self, ListLine, Why};
use crate::stock::lots::{self, Lot, NotYetKnown};
use crate::stock::low::{self, Low};
use crate::stock::names::{Allergen, Code, ItemName, Place, TagNumber};
use crate::stock::pace::{self, RunningOut};
use crate::stock::pool::{self, PoolTag};
use crate::stock::sections::StoreOrder;
use crate::stock::tags::{self, TemporaryTag};
use crate::stock::trip::{self, LastTrip, Waiting};
use crate::stock::{apart, items, known, schema, used};

impl Stock {
    /// Why an item is on the list, and since when; `None` where it isn't on it, or that isn't known.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock, Why};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// stock.record(Event::UsedUp { item: item.clone(), of: Default::default() }, now, Source::Typed).unwrap();
    /// assert_eq!(stock.why_listed(&item).unwrap(), Some((Why::UsedUp, now)));
    /// ```
    pub fn why_listed(&self, item: &ItemName) -> Result<Option<(Why, NaiveDateTime)>, StockError> {
        self.ask(|connection| list::why(connection, item))
    }

    /// Every row of the derived tables as text, for comparing two stocks.
    ///
    /// # Errors
    /// What the file says.
    pub fn dump(&self) -> Result<String, StockError> {
        self.ask(|c| {
            let mut text = String::new();
            for table in schema::DERIVED {
                let columns = c.prepare(&format!("SELECT * FROM {table}"))?.column_count();
                let order: Vec<String> = (1..=columns).map(|i| i.to_string()).collect();
                let order = order.join(", ");
                let mut query = c.prepare(&format!("SELECT * FROM {table} ORDER BY {order}"))?;
                let mut rows = query.query([])?;
                while let Some(row) = rows.next()? {
                    let values = (0..columns).map(|i| {
                        row.get::<_, rusqlite::types::Value>(i)
                            .map(|v| format!("{v:?}"))
                    });
                    let values: Vec<String> = values.collect::<Result<_, _>>()?;
                    text.push_str(&format!("{table}: {}\n", values.join(", ")));
                }
            }
            Ok(text)
        })
    }

    /// The names of all items ever mentioned, in that order.
    ///
    /// # Errors
    /// What the file says.
    pub fn names(&self) -> Result<Vec<String>, StockError> {
        self.ask(items::names)
    }

    /// The items that were heard in other ways than they are called, with these ways, by name.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let name = |name| ItemName::new(name).unwrap();
    /// let listed = Event::Listed { item: name("freekeh"), quantity: None };
    /// let heard = Event::Heard { what: Box::new(listed), forms: vec![name("freaky")] };
    /// stock.record(heard, now, Source::Typed).unwrap();
    /// let learned = stock.learned().unwrap();
    /// assert_eq!((&learned[0].item, &learned[0].forms[..]), (&name("freekeh"), &[name("freaky")][..]));
    /// ```
    pub fn learned(&self) -> Result<Vec<Learned>, StockError> {
        self.ask(learned::all)
    }

    /// The lots of an item, in the order to use them: first expired, first out.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::measure::DateKind;
    /// use tellshelf::stock::{Dates, Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let milk = ItemName::new("milk").unwrap();
    /// for day in [9, 1] {
    ///     let date = NaiveDate::from_ymd_opt(2026, 12, day).unwrap();
    ///     let mut dates = Dates::default();
    ///     dates.insert(DateKind::UseBy, date);
    ///     let event = Event::PutIn { item: milk.clone(), quantity: None, place: None, dates };
    ///     stock.record(event, date.and_hms_opt(8, 0, 0).unwrap(), Source::Typed).unwrap();
    /// }
    /// let first = &stock.lots(&milk).unwrap()[0];
    /// assert_eq!(first.dates.first_ahead(), NaiveDate::from_ymd_opt(2026, 12, 1));
    /// ```
    pub fn lots(&self, item: &ItemName) -> Result<Vec<Lot>, StockError> {
        self.ask(|c| lots::of_item(c, item))
    }

    /// Everything on the shelf, by name.
    ///
    /// # Errors
    /// What the file says.
    pub fn shelf(&self) -> Result<Vec<Lot>, StockError> {
        self.ask(lots::all)
    }

    /// What is in a place and how much of it, lot by lot, by name.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Place, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let fridge = Place::new("fridge").unwrap();
    /// for (name, place) in [("milk", Some(fridge.clone())), ("oats", None)] {
    ///     let (item, dates) = (ItemName::new(name).unwrap(), Default::default());
    ///     let event = Event::PutIn { item, quantity: None, place, dates };
    ///     stock.record(event, now, Source::Typed).unwrap();
    /// }
    /// let there = stock.in_place(&fridge).unwrap();
    /// assert_eq!(there, [(ItemName::new("milk").unwrap(), None)]);
    /// ```
    pub fn in_place(&self, place: &Place) -> Result<Vec<(ItemName, Option<Quantity>)>, StockError> {
        self.ask(|c| lots::in_place(c, place))
    }

    /// The least to have of each item that is kept, by name.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let (item, level) = (ItemName::new("eggs").unwrap(), "6".parse().unwrap());
    /// stock.record(Event::KeptAt { item, level }, now, Source::Typed).unwrap();
    /// assert_eq!(stock.keep_levels().unwrap().len(), 1);
    /// ```
    pub fn keep_levels(&self) -> Result<Vec<(ItemName, Quantity)>, StockError> {
        self.ask(low::levels)
    }

    /// What is to be kept of an item, if anything.
    ///
    /// # Errors
    /// What the file says.
    pub fn keep_level(&self, item: &ItemName) -> Result<Option<Quantity>, StockError> {
        self.ask(|c| low::level(c, item))
    }

    /// The list, in the order of the store, and of one section the oldest line first.
    ///
    /// # Errors
    /// What the file says.
    pub fn list(&self) -> Result<Vec<ListLine>, StockError> {
        self.ask(list::lines)
    }

    /// Whether an item is on the list.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// stock.record(Event::UsedUp { item: item.clone(), of: Default::default() }, now, Source::Typed).unwrap();
    /// assert!(stock.is_listed(&item).unwrap());
    /// ```
    pub fn is_listed(&self, item: &ItemName) -> Result<bool, StockError> {
        self.ask(|c| list::has(c, item))
    }

    /// The temporary tags in use, by number.
    ///
    /// # Errors
    /// What the file says.
    pub fn tags(&self) -> Result<Vec<TemporaryTag>, StockError> {
        self.ask(tags::all)
    }

    /// The temporary tag with a number.
    ///
    /// # Errors
    /// What the file says.
    pub fn tag(&self, number: TagNumber) -> Result<Option<TemporaryTag>, StockError> {
        self.ask(|c| tags::find(c, number))
    }

    /// The dates of the thing that came last, which a [`DateChanged`](crate::stock::Event::DateChanged) changes; `None` where there is
    /// none of it.
    ///
    /// # Errors
    /// What the file says.
    pub fn newest_dates(&self, item: &ItemName) -> Result<Option<Dates>, StockError> {
        self.ask(|c| known::newest_dates(c, item))
    }

    /// What has a date up to a day, that day included, soonest first: on the shelf and on
    /// temporary tags. Only dates that look ahead count, not when a thing was bought or opened; and the days by which
    /// published times end of what was opened or thawed. Of what is frozen, only what had passed by then.
    ///
    /// # Errors
    /// What the file says.
    pub fn expiring(&self, until: NaiveDate) -> Result<Vec<Expiring>, StockError> {
        self.ask(|c| expiry::until(c, until))
    }

    /// So many at most of what is to be eaten and has a date, as [`Stock::expiring`], soonest first. What is frozen isn't
    /// to be used first, whatever had passed by then.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::measure::DateKind;
    /// use tellshelf::stock::{Dates, Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// for (name, day) in [("oats", 28), ("milk", 27)] {
    ///     let mut dates = Dates::default();
    ///     dates.insert(DateKind::UseBy, NaiveDate::from_ymd_opt(2026, 11, day).unwrap());
    ///     let event = Event::Tagged { item: ItemName::new(name).unwrap(), quantity: None, dates };
    ///     stock.record(event, now, Source::Typed).unwrap();
    /// }
    /// let first = stock.expiring_first(1).unwrap();
    /// assert_eq!(first.iter().map(|e| e.item.as_str()).collect::<Vec<_>>(), ["milk"]);
    /// ```
    pub fn expiring_first(&self, at_most: usize) -> Result<Vec<Expiring>, StockError> {
        self.ask(|c| expiry::to_eat(c, at_most))
    }

    /// What there is less of than its keep level, by name. An item whose quantity isn't known, or
    /// can't be compared with its level, isn't among them.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// let keep = Event::KeptAt { item, level: "2 bag".parse().unwrap() };
    /// stock.record(keep, now, Source::Typed).unwrap();
    /// let low = &stock.low().unwrap()[0];
    /// assert_eq!((low.have.clone(), low.keep.to_string().as_str()), (None, "2 bag"));
    /// ```
    pub fn low(&self) -> Result<Vec<Low>, StockError> {
        self.ask(low::all)
    }

    /// All that is known of an item, whether or not there is any of it.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Allergen, Event, Fact, ItemName, OnLabel, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let (item, allergen) = (ItemName::new("cookies").unwrap(), Allergen::new("peanuts").unwrap());
    /// let fact = Fact::Allergen { allergen: allergen.clone(), contains: true };
    /// stock.record(Event::Described { item: item.clone(), fact }, now, Source::Typed).unwrap();
    /// let says = stock.facts(&item).unwrap().on_label(&allergen);
    /// assert_eq!(says, OnLabel::Contains(vec![allergen]));
    /// ```
    pub fn facts(&self, item: &ItemName) -> Result<Facts, StockError> {
        self.ask(|c| facts::of_item(c, item))
    }

    /// What there is to eat, and what else a label was read of, with what it says of an allergen. Where nobody read it for
    /// that, it isn't known, which is never a no.
    ///
    /// # Errors
    /// What the file says.
    pub fn allergen(&self, allergen: &Allergen) -> Result<Vec<LabelOf>, StockError> {
        self.ask(|c| facts::of_allergen(c, allergen))
    }

    /// All medicines, by name, whether or not there is any of them.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, Fact, ItemKind, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let (item, fact) = (ItemName::new("aspirin").unwrap(), Fact::Kind(ItemKind::Medicine));
    /// stock.record(Event::Described { item: item.clone(), fact }, now, Source::Typed).unwrap();
    /// assert_eq!(stock.medicines().unwrap(), [item]);
    /// ```
    pub fn medicines(&self) -> Result<Vec<ItemName>, StockError> {
        self.ask(apart::medicines)
    }

    /// The medicines in a place, by name.
    ///
    /// # Errors
    /// What the file says.
    pub fn medicines_in(&self, place: &Place) -> Result<Vec<ItemName>, StockError> {
        self.ask(|c| apart::medicines_in(c, place))
    }

    /// Whether there is food in a place: neither a medicine nor anything else in the house.
    ///
    /// # Errors
    /// What the file says.
    pub fn is_food_in(&self, place: &Place) -> Result<bool, StockError> {
        self.ask(|c| apart::is_food_in(c, place))
    }

    /// Whether some of an item has no place yet: it was bought, or has a temporary tag.
    ///
    /// # Errors
    /// What the file says.
    pub fn waits(&self, item: &ItemName) -> Result<bool, StockError> {
        self.ask(|c| trip::waits(c, item))
    }

    /// What there is, or is on its way, whose name ends in this one or begins with it: of "onions", the red onions; of "chicken",
    /// the chicken thighs. None where there is some of the very name.
    ///
    /// # Errors
    /// What the file says.
    pub fn kinds_instead(&self, item: &ItemName) -> Result<Vec<ItemName>, StockError> {
        let is_there = !self.lots(item)?.is_empty() || self.waits(item)?;
        match is_there {
            true => Ok(Vec::new()),
            false => self.ask(|c| items::kinds_there(c, item)),
        }
    }

    /// What is still to be looked for: on a trip, not what the store had none of.
    ///
    /// # Errors
    /// What the file says.
    pub fn wanted(&self) -> Result<Vec<ListLine>, StockError> {
        self.ask(list::wanted)
    }

    /// The order of the store: the person's own, or the usual one.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Comes, Event, Section, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// assert!(stock.store_order().unwrap().is_cold_last());
    /// let section = Section::new("dairy").unwrap();
    /// let placed = Event::SectionPlaced { section: section.clone(), comes: Comes::First };
    /// stock.record(placed, now, Source::Typed).unwrap();
    /// let order = stock.store_order().unwrap();
    /// assert!(order.is_own() && !order.is_cold_last());
    /// assert_eq!(order.sections()[0], section);
    /// ```
    pub fn store_order(&self) -> Result<StoreOrder, StockError> {
        self.ask(StoreOrder::of)
    }

    /// Whether a trip to the store is on.
    ///
    /// # Errors
    /// What the file says.
    pub fn is_on_trip(&self) -> Result<bool, StockError> {
        self.ask(|c| Ok(trip::current(c)?.is_some()))
    }

    /// What has no place yet, what has a temporary tag first.
    ///
    /// # Errors
    /// What the file says.
    pub fn waiting(&self) -> Result<Vec<Waiting>, StockError> {
        self.ask(trip::waiting)
    }

    /// When the last trip that is over began, and what was bought on it.
    ///
    /// # Errors
    /// What the file says.
    pub fn last_trip(&self) -> Result<Option<LastTrip>, StockError> {
        self.ask(trip::last)
    }

    /// The reminder tags that are worn, by number.
    ///
    /// # Errors
    /// What the file says.
    pub fn worn(&self) -> Result<Vec<(TagNumber, ItemName)>, StockError> {
        self.ask(pool::worn)
    }

    /// The tag with a number, of any kind, if it was ever spoken of.
    ///
    /// # Errors
    /// What the file says.
    pub fn pool_tag(&self, number: TagNumber) -> Result<Option<PoolTag>, StockError> {
        self.ask(|c| pool::find(c, number))
    }

    /// Every tag that was spoken of, by number; temporary ones only while they are in use, in hand or lost.
    ///
    /// # Errors
    /// What the file says.
    pub fn pool(&self) -> Result<Vec<PoolTag>, StockError> {
        self.ask(pool::all)
    }

    /// The lot that a kitchen tag is on.
    ///
    /// # Errors
    /// What the file says.
    pub fn lot_of_tag(&self, number: TagNumber) -> Result<Option<Lot>, StockError> {
        pool::lot_of(&self.connection, number).map_err(|fault| self.explain(fault))
    }

    /// What a code stands for, if that was said.
    ///
    /// # Errors
    /// What the file says.
    pub fn code(&self, code: &Code) -> Result<Option<Coded>, StockError> {
        self.ask(|c| codes::find(c, code))
    }

    /// The lots of which nobody could tell what they are, said where they are, or how much they hold.
    ///
    /// # Errors
    /// What the file says.
    pub fn not_yet_known(&self) -> Result<Vec<NotYetKnown>, StockError> {
        self.ask(lots::not_yet_known)
    }

    /// What is there without any date by which to use it, by name, each once: what is to be eaten, and medicines.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("oats").unwrap();
    /// let put_in = Event::PutIn { item: item.clone(), quantity: None, place: None, dates: Default::default() };
    /// stock.record(put_in, now, Source::Typed).unwrap();
    /// assert_eq!(stock.undated().unwrap(), [item]);
    /// ```
    pub fn undated(&self) -> Result<Vec<ItemName>, StockError> {
        self.ask(lots::undated)
    }

    /// When what is left of an item runs out, by how it was used so far. `None` where there is too little history, or it
    /// isn't known how much was used or is left.
    ///
    /// # Errors
    /// What the file says.
    pub fn run_out(&self, item: &ItemName, today: NaiveDate) -> Result<Option<RunOut>, StockError> {
        self.ask(|c| used::run_out(c, item, today))
    }

    /// What is likely to run out within a week, by name.
    ///
    /// # Errors
    /// What the file says.
    pub fn running_out(&self, today: NaiveDate) -> Result<Vec<RunningOut>, StockError> {
        self.ask(|c| pace::within(c, pace::WEEK, today))
    }

    /// All that is in the house, with how it feels, its marks and places: what may be the thing in hand.
    ///
    /// # Errors
    /// What the file says.
    pub fn candidates(&self) -> Result<Vec<Candidate>, StockError> {
        self.ask(facts::candidates)
    }

    /// The same of what may be taken for an item in a place: what is there in the same container, and what is there and
    /// has a mark; with the item itself. Of each, only the marks on what is there.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Container, Event, Fact, Feel, ItemName, Place, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let pantry = Place::new("pantry").unwrap();
    /// let name = |name| ItemName::new(name).unwrap();
    /// for (item, container) in [("soup", Container::Can), ("jam", Container::Jar), ("corn", Container::Can)] {
    ///     let (item, fact) = (name(item), Fact::Feel(Feel::default().with(container)));
    ///     let described = Event::Described { item: item.clone(), fact };
    ///     let (place, dates) = (Some(pantry.clone()), Default::default());
    ///     let put_in = Event::PutIn { item, quantity: None, place, dates };
    ///     for event in [described, put_in] {
    ///         stock.record(event, now, Source::Typed).unwrap();
    ///     }
    /// }
    /// let cans = stock.beside(&name("soup"), &pantry).unwrap();
    /// assert_eq!(cans.iter().map(|one| one.item.as_str()).collect::<Vec<_>>(), ["soup", "corn"]);
    /// ```
    pub fn beside(&self, item: &ItemName, place: &Place) -> Result<Vec<Candidate>, StockError> {
        self.ask(|c| facts::beside(c, item, place))
    }

    /// The same of what has a touch mark.
    ///
    /// # Errors
    /// What the file says.
    pub fn marked(&self) -> Result<Vec<Candidate>, StockError> {
        self.ask(facts::marked)
    }

    /// The last uses of an item, oldest first, with the quantity where it is known.
    ///
    /// # Errors
    /// What the file says.
    pub fn uses(&self, item: &ItemName) -> Result<Vec<(NaiveDate, Option<Quantity>)>, StockError> {
        self.ask(|c| used::of_item(c, item))
    }
}
