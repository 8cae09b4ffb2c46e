//! The parts of requests that are more than one value.

use chrono::{Datelike, Days, Months, NaiveDate, Weekday};

use crate::measure::{DateDoubt, DateReading, Quantity, Share, read_number};
use crate::stock::{Dates, Feel, ItemName, Mark, Place, TagNumber};

/// Since when a thing is as it was said to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Since {
    /// Today, also where nothing was said.
    #[default]
    Today,
    /// "Three days ago."
    Ago(u64),
    /// "On Monday": the last one.
    Weekday(Weekday),
}

impl Since {
    /// Reads "yesterday", "three days ago", "last Monday". `None` where no one day is meant.
    ///
    /// ```
    /// use tellshelf::talk::Since;
    /// assert_eq!(Since::read("two weeks ago"), Some(Since::Ago(14)));
    /// assert_eq!(Since::read("last week"), None);
    /// ```
    pub fn read(words: &str) -> Option<Self> {
        let words: Vec<&str> = words.split_whitespace().collect();
        Some(match words.as_slice() {
            ["today"] | ["this", "morning"] => Self::Today,
            ["yesterday"] | ["last", "night"] => Self::Ago(1),
            [.., "before", "yesterday"] => Self::Ago(2),
            ["on" | "last", day] | [day] => Self::Weekday(day.parse().ok()?),
            [number @ .., unit, "ago"] => {
                let number = match number {
                    ["a"] => 1,
                    ["a", "couple"] | ["a", "couple", "of"] => 2,
                    number => u64::try_from(read_number(number)?.to_integer()).ok()?,
                };
                let days = if unit.starts_with("week") { 7 } else { 1 };
                Self::Ago(number.checked_mul(days)?)
            }
            _ => return None,
        })
    }

    /// The day. Nobody calls today by the name of its weekday: a clock then rather ends too early than too late.
    pub fn day(self, today: NaiveDate) -> NaiveDate {
        let ago = match self {
            Self::Today => 0,
            Self::Ago(days) => days,
            Self::Weekday(day) => {
                let since = u64::from(today.weekday().days_since(day));
                if since == 0 { 7 } else { since }
            }
        };
        today.checked_sub_days(Days::new(ago)).unwrap_or(today)
    }
}

/// How the person says what they hold, while things are put away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Held {
    /// "This is tag three": its temporary tag.
    Tag(TagNumber),
    /// "The chickpeas."
    Item(ItemName),
    /// "The chickpeas without a tag", where others have one.
    Untagged(ItemName),
    /// "The flat square tin with two bands."
    Felt(Feel, Option<Mark>),
}

/// How much was used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Used {
    /// "Two."
    Quantity(Quantity),
    /// "Half of it."
    Share(Share),
}

/// What begins another time for which a thing keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Its pack was opened.
    Opened,
    /// It was thawed.
    Thawed,
}

/// What ounces measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OunceKind {
    /// Weight.
    Weight,
    /// Volume.
    Fluid,
}

/// A thing with the facts that were said about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Goods {
    /// What it is.
    pub item: ItemName,
    /// How much, if it was said.
    pub quantity: Option<Quantity>,
    /// The date, if one was said. What it means may be missing, and the day may be in doubt: both are asked for.
    pub date: Option<DateReading>,
}

impl Goods {
    /// The dates, or the day whose meaning wasn't said.
    ///
    /// # Errors
    /// The day, where it must be asked what it means: a date is never kept under a guessed meaning.
    pub fn dates(&self) -> Result<Dates, NaiveDate> {
        let mut dates = Dates::default();
        if let Some(DateReading { note, .. }) = self.date {
            dates.insert(note.kind.ok_or(note.date)?, note.date);
        }
        Ok(dates)
    }

    /// The day that was read, and why it is to be asked about, if it is.
    pub fn doubtful_day(&self) -> Option<(NaiveDate, DateDoubt)> {
        let reading = self.date?;
        Some((reading.note.date, reading.doubt?))
    }

    /// The same on a day that isn't in doubt.
    #[must_use]
    pub fn on(mut self, day: NaiveDate) -> Self {
        if let Some(reading) = &mut self.date {
            reading.note.date = day;
            reading.doubt = None;
            // It was said in full to be asked about.
            reading.read_back = false;
        }
        self
    }
}

/// What was said of one thing is meant of something else, or of another amount, place or date of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// Of what.
    pub item: Option<ItemName>,
    /// How much.
    pub quantity: Option<Quantity>,
    /// Where.
    pub place: Option<Place>,
    /// With which date. Where it wasn't said what it means, it means what the other one did.
    pub date: Option<DateReading>,
    /// "I said", and not "I meant": the person wasn't heard right.
    pub misheard: bool,
}

impl Correction {
    /// Another name for a thing that wasn't heard right.
    pub fn of_name(item: ItemName) -> Self {
        Self {
            item: Some(item),
            quantity: None,
            place: None,
            date: None,
            misheard: true,
        }
    }

    /// The place, if nothing else is put right.
    pub(in crate::talk) fn place_alone(&self) -> Option<&Place> {
        let other = self.item.is_some() || self.quantity.is_some() || self.date.is_some();
        self.place.as_ref().filter(|_| !other)
    }

    /// Whether nothing but the name is put right.
    pub fn is_of_name_only(&self) -> bool {
        self.quantity.is_none() && self.place.is_none() && self.date.is_none()
    }
}

/// Which of the things with temporary tags is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// The one with this tag.
    Tag(TagNumber),
    /// The one of this name.
    Item(ItemName),
}

/// The days that "what expires" asks about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Span {
    /// A week from today: longer than to the end of the calendar week, so that nothing is missed.
    Week,
    /// Today.
    Today,
    /// Tomorrow.
    Tomorrow,
    /// The next week of the calendar.
    NextWeek,
    /// The rest of this month of the calendar.
    Month,
    /// Up to a day.
    Until(NaiveDate),
    /// What has passed.
    Passed,
}

impl Span {
    /// The first day that is asked about, where what comes before isn't.
    pub fn first_day(self, today: NaiveDate) -> NaiveDate {
        let ahead = |days| today.checked_add_days(Days::new(days)).unwrap_or(today);
        match self {
            Self::Tomorrow => ahead(1),
            Self::NextWeek => ahead(7 - u64::from(today.weekday().num_days_from_monday())),
            _ => today,
        }
    }

    /// Whether it is of the days of the calendar alone, and of nothing that passed before.
    pub fn is_alone(self) -> bool {
        matches!(
            self,
            Self::Today | Self::Tomorrow | Self::NextWeek | Self::Month
        )
    }

    /// The words for the days of the calendar that are asked about.
    pub fn named(self) -> &'static str {
        match self {
            Self::Today => "today",
            Self::Tomorrow => "tomorrow",
            Self::NextWeek => "next week",
            Self::Month => "this month",
            Self::Week | Self::Until(_) | Self::Passed => "by then",
        }
    }

    /// The last day that is asked about.
    pub fn last_day(self, today: NaiveDate) -> NaiveDate {
        let ahead = |days| today.checked_add_days(Days::new(days)).unwrap_or(today);
        match self {
            Self::Today => today,
            Self::Tomorrow => ahead(1),
            Self::Week => ahead(7),
            Self::NextWeek => self
                .first_day(today)
                .checked_add_days(Days::new(6))
                .unwrap_or(today),
            Self::Month => {
                let next = today
                    .with_day(1)
                    .and_then(|first| first.checked_add_months(Months::new(1)));
                next.and_then(|next| next.pred_opt()).unwrap_or(today)
            }
            Self::Until(day) => day,
            Self::Passed => today.checked_sub_days(Days::new(1)).unwrap_or(today),
        }
    }
}
