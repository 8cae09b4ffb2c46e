//! How new names were said: kept only if the person allows it, and lost for good when they say so.
//!
//! Clips stand beside the ledger, not in it: what is in the ledger stays there for good.

use chrono::NaiveDateTime;
use rusqlite::{Connection, OptionalExtension, params};

use super::columns::{parse_column, time_text};
use super::items;
use super::ledger::Fault;
use super::names::ItemName;
use super::outcome::Outcome;

/// The word for the permission in its table.
const SOUNDS: &str = "sounds";

/// A short sound: one channel, 16 bits, [`Clip::RATE`] samples a second.
///
/// ```
/// use tellshelf::stock::Clip;
/// let clip = Clip::new(vec![0; 24_000]);
/// assert_eq!(clip.seconds(), 1.5);
/// assert_eq!(Clip::new(vec![0; 1_000_000]).seconds(), Clip::LONGEST as f64);
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clip(Vec<i16>);

impl Clip {
    /// Samples a second.
    pub const RATE: u32 = 16_000;
    /// The most seconds that are kept: longer than any command.
    pub const LONGEST: u32 = 10;

    /// A clip of these samples, as far as it may reach.
    pub fn new(mut samples: Vec<i16>) -> Self {
        samples.truncate((Self::RATE * Self::LONGEST) as usize);
        Self(samples)
    }

    /// The samples.
    pub fn samples(&self) -> &[i16] {
        &self.0
    }

    /// How long it is.
    pub fn seconds(&self) -> f64 {
        self.0.len() as f64 / f64::from(Self::RATE)
    }

    fn bytes(&self) -> Vec<u8> {
        self.0
            .iter()
            .flat_map(|sample| sample.to_le_bytes())
            .collect()
    }

    fn from_bytes(bytes: &[u8]) -> Self {
        let samples = bytes.chunks_exact(2);
        Self::new(samples.map(|b| i16::from_le_bytes([b[0], b[1]])).collect())
    }
}

/// Allows that clips are kept, or forbids it.
pub(super) fn allow(
    connection: &Connection,
    keep: bool,
    at: NaiveDateTime,
) -> Result<Outcome, Fault> {
    if keep {
        let allow = "INSERT OR IGNORE INTO permission (what, since) VALUES (?1, ?2)";
        connection.execute(allow, params![SOUNDS, time_text(at)])?;
    } else {
        connection.execute("DELETE FROM permission WHERE what = ?1", [SOUNDS])?;
    }
    let kept = count(connection)?;
    Ok(Outcome::SoundsAllowed { keep, kept })
}

pub(super) fn count(connection: &Connection) -> rusqlite::Result<usize> {
    let query = "SELECT count(*) FROM clip";
    let count: i64 = connection.query_row(query, [], |row| row.get(0))?;
    Ok(usize::try_from(count).unwrap_or_default())
}

pub(super) fn are_allowed(connection: &Connection) -> rusqlite::Result<bool> {
    connection
        .prepare_cached("SELECT 1 FROM permission WHERE what = ?1")?
        .exists([SOUNDS])
}

/// Keeps how an item's name was said, in place of what was kept before; nothing where that isn't allowed.
pub(super) fn keep(
    connection: &Connection,
    item: &ItemName,
    clip: &Clip,
    at: NaiveDateTime,
) -> rusqlite::Result<()> {
    let Some(id) = items::find(connection, item)?.filter(|_| !clip.0.is_empty()) else {
        return Ok(());
    };
    if are_allowed(connection)? {
        let change = "INSERT OR REPLACE INTO clip (item, at, sound) VALUES (?1, ?2, ?3)";
        connection.execute(change, params![id, time_text(at), clip.bytes()])?;
    }
    Ok(())
}

/// How an item's name was said, and when.
pub(super) fn of_item(
    connection: &Connection,
    item: &ItemName,
) -> rusqlite::Result<Option<(NaiveDateTime, Clip)>> {
    let query = "SELECT at, sound FROM clip JOIN item ON item.id = clip.item WHERE name = ?1";
    let mut query = connection.prepare_cached(query)?;
    let found = query.query_row([item.as_str()], |row| {
        let at: String = row.get(0)?;
        let sound: Vec<u8> = row.get(1)?;
        Ok((parse_column(0, &at)?, Clip::from_bytes(&sound)))
    });
    found.optional()
}

/// Drops the clips of items that are no longer there, because their first mention was taken back.
pub(super) fn drop_orphans(connection: &Connection) -> rusqlite::Result<()> {
    let orphans = "DELETE FROM clip WHERE item NOT IN (SELECT id FROM item)";
    if connection.execute(orphans, [])? > 0 {
        wipe(connection)?;
    }
    Ok(())
}

/// Loses every clip, for good.
pub(super) fn lose_all(connection: &Connection) -> rusqlite::Result<usize> {
    let lost = connection.execute("DELETE FROM clip", [])?;
    wipe(connection)?;
    Ok(lost)
}

/// Deleted rows are overwritten in the file (`secure_delete`), and the write-ahead log, which has them
/// still, is emptied into it and cut off. Where another program reads just then, its next turn does it.
pub(super) fn wipe(connection: &Connection) -> rusqlite::Result<()> {
    connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))
}
