//! The sounds of names, which are kept beside the ledger: what is in there stays for good.

use chrono::NaiveDateTime;

use super::Stock;
use crate::stock::clips::{self, Clip};
use crate::stock::error::StockError;
use crate::stock::names::ItemName;

impl Stock {
    /// Whether the person allows that the sound of new names is kept.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use tellshelf::stock::Stock;
    /// assert!(!Stock::in_memory().unwrap().keeps_sounds().unwrap());
    /// ```
    pub fn keeps_sounds(&self) -> Result<bool, StockError> {
        self.ask(clips::are_allowed)
    }

    /// Keeps how an item's name was said, in place of what was kept before; nothing where that isn't allowed. No part
    /// of the ledger: what is in there stays for good.
    ///
    /// # Errors
    /// What the file says.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::stock::{Clip, Event, ItemName, Source, Stock};
    /// let mut stock = Stock::in_memory().unwrap();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let item = ItemName::new("freekeh").unwrap();
    /// let listed = Event::Listed { item: item.clone(), quantity: None };
    /// for event in [Event::SoundsAllowed { keep: true }, listed] {
    ///     stock.record(event, now, Source::Microphone).unwrap();
    /// }
    /// let clip = Clip::new(vec![7; 16_000]);
    /// stock.keep_sound(&item, &clip, now).unwrap();
    /// assert_eq!(stock.sound_of(&item).unwrap(), Some((now, clip)));
    /// assert_eq!(stock.lose_sounds().unwrap(), 1);
    /// assert_eq!(stock.sound_of(&item).unwrap(), None);
    /// ```
    pub fn keep_sound(
        &mut self,
        item: &ItemName,
        clip: &Clip,
        at: NaiveDateTime,
    ) -> Result<(), StockError> {
        self.ask(|connection| clips::keep(connection, item, clip, at))
    }

    /// How an item's name was said, and when, if that was kept.
    ///
    /// # Errors
    /// What the file says.
    pub fn sound_of(&self, item: &ItemName) -> Result<Option<(NaiveDateTime, Clip)>, StockError> {
        self.ask(|connection| clips::of_item(connection, item))
    }

    /// How many sounds are kept.
    ///
    /// # Errors
    /// What the file says.
    pub fn sounds(&self) -> Result<usize, StockError> {
        self.ask(clips::count)
    }

    /// Loses every sound, for good: they are overwritten in the file, and no undo brings them back. Says how many.
    ///
    /// # Errors
    /// What the file says.
    pub fn lose_sounds(&mut self) -> Result<usize, StockError> {
        self.ask(clips::lose_all)
    }
}
