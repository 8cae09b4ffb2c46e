//! The tables, and how an older file becomes a newer one.

use rusqlite::{Connection, Transaction};

/// Each step brings a file one version further. A step is never changed once it was released:
/// kitchens out there have run it.
const STEPS: [&str; 1] = [STEP_1];

/// The ledger, which is only added to, and the tables derived from it.
const STEP_1: &str = "
CREATE TABLE event (
    id      INTEGER PRIMARY KEY,
    at      TEXT NOT NULL,              -- local time, 2026-11-25T07:30:00
    source  TEXT NOT NULL,
    body    TEXT NOT NULL,              -- the event as JSON
    undoes  INTEGER UNIQUE REFERENCES event (id),
    changes BLOB NOT NULL               -- what it changed below, as an SQLite changeset
) STRICT;
CREATE TRIGGER event_is_kept BEFORE DELETE ON event
    BEGIN SELECT RAISE (ABORT, 'the ledger is only added to'); END;
CREATE TRIGGER event_stays BEFORE UPDATE ON event
    BEGIN SELECT RAISE (ABORT, 'the ledger is only added to'); END;

CREATE TABLE item (
    id   INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    keep TEXT                           -- keep level, as an exact quantity
) STRICT;
CREATE TABLE lot (
    id       INTEGER PRIMARY KEY,
    item     INTEGER NOT NULL REFERENCES item (id),
    quantity TEXT,                      -- exact; absent where it isn't known
    place    TEXT,
    came     TEXT NOT NULL              -- local time
) STRICT;
CREATE INDEX lot_of_item ON lot (item);
CREATE TABLE lot_date (
    lot  INTEGER NOT NULL REFERENCES lot (id) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    date TEXT NOT NULL,
    PRIMARY KEY (lot, kind)
) STRICT;
CREATE INDEX lot_date_by_date ON lot_date (date);
CREATE TABLE list_line (
    id       INTEGER PRIMARY KEY,
    item     INTEGER NOT NULL UNIQUE REFERENCES item (id),
    quantity TEXT
) STRICT;
CREATE TABLE tag (
    number   INTEGER PRIMARY KEY,
    item     INTEGER NOT NULL REFERENCES item (id),
    quantity TEXT,
    written  TEXT NOT NULL              -- local time
) STRICT;
CREATE TABLE tag_date (
    tag  INTEGER NOT NULL REFERENCES tag (number) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    date TEXT NOT NULL,
    PRIMARY KEY (tag, kind)
) STRICT;
";

/// The tables that the ledger's events change: all that a replay must give again.
pub(super) const DERIVED: [&str; 6] = ["item", "lot", "lot_date", "list_line", "tag", "tag_date"];

/// The version of a file that this program writes.
pub(super) const VERSION: usize = STEPS.len();

/// The version that a file has: 0 for an empty one.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<usize> {
    connection.pragma_query_value(None, "user_version", |row| row.get::<_, i64>(0)).map(|v| v as usize)
}

/// Runs the steps that a file lacks. The caller commits.
pub(super) fn migrate(transaction: &Transaction<'_>, from: usize) -> rusqlite::Result<()> {
    for step in &STEPS[from..] {
        transaction.execute_batch(step)?;
    }
    transaction.pragma_update(None, "user_version", VERSION as i64)
}
