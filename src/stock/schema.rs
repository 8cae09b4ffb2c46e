//! The tables, and how an older file becomes a newer one.

use rusqlite::{Connection, Transaction, params};

/// Each step brings a file one version further. A step is never changed once it was released:
/// kitchens out there have run it.
const STEPS: [&str; 7] = [STEP_1, STEP_2, STEP_3, STEP_4, STEP_5, STEP_6, STEP_7];

/// Marks a file as ours ("Tell"), so that no other program's file is taken for a stock.
const APPLICATION: i64 = 0x5465_6c6c;

/// The ledger, which is only added to, and the tables derived from it. Nothing here deletes or
/// changes rows by itself (no cascade): a row that goes when another one does would be missing when
/// its own change is taken back, and the undo would fail.
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
    lot  INTEGER NOT NULL REFERENCES lot (id),
    kind TEXT NOT NULL,
    date TEXT NOT NULL,
    PRIMARY KEY (lot, kind)
) STRICT;
CREATE INDEX lot_date_by_date ON lot_date (kind, date);
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
    tag  INTEGER NOT NULL REFERENCES tag (number),
    kind TEXT NOT NULL,
    date TEXT NOT NULL,
    PRIMARY KEY (tag, kind)
) STRICT;
";

/// The names that were learned by hearing.
const STEP_2: &str = "
CREATE TABLE heard_as (
    form TEXT PRIMARY KEY,              -- how it was heard
    item INTEGER NOT NULL REFERENCES item (id)
) STRICT;
CREATE INDEX heard_as_of_item ON heard_as (item);
";

/// What the person allows, why things are on the list, and how new names were said. Clips are no part of the ledger, and go with their item
/// without a word in it.
const STEP_3: &str = "
CREATE TABLE permission (
    what  TEXT PRIMARY KEY,             -- there while it is allowed
    since TEXT NOT NULL                 -- local time
) STRICT;
CREATE INDEX event_by_time ON event (at);
ALTER TABLE list_line ADD COLUMN why TEXT;   -- used-up or asked-for; absent where an older file didn't say
ALTER TABLE list_line ADD COLUMN since TEXT; -- local time
CREATE TABLE clip (
    item  INTEGER PRIMARY KEY,          -- the item's id; no reference, so that an undo can drop the item first
    at    TEXT NOT NULL,                -- local time
    sound BLOB NOT NULL                 -- 16-bit samples, one channel, 16,000 a second, low byte first
) STRICT;
";

/// What is known of items, all tags and their codes, the trip to the store, and what was used when.
const STEP_4: &str = "
CREATE TABLE fact (
    item  INTEGER NOT NULL REFERENCES item (id),
    what  TEXT NOT NULL,                -- kind, section, place, last-place, directions, make, note, allergen, feel
    which TEXT NOT NULL,                -- which allergen or property of feel; empty for the others
    value TEXT NOT NULL,
    PRIMARY KEY (item, what, which)
) STRICT;
CREATE INDEX fact_by_what ON fact (what, which, item);
CREATE TABLE code (
    code TEXT PRIMARY KEY,              -- as a scanner types it
    item INTEGER NOT NULL REFERENCES item (id)
) STRICT;
CREATE TABLE pool (                     -- the tags, but for temporary ones that are free or in use
    number INTEGER PRIMARY KEY,
    kind   TEXT NOT NULL CHECK (kind IN ('temporary', 'kitchen', 'reminder')),
    state  TEXT NOT NULL CHECK (state IN ('free', 'in-hand', 'on', 'spent', 'lost')),
    code   TEXT UNIQUE,                 -- as a scanner types it
    item   INTEGER REFERENCES item (id),-- what it is on, or was on when it was spent
    lot    INTEGER UNIQUE,              -- which lot of it a kitchen tag is on
    CHECK ((state IN ('on', 'spent')) = (item IS NOT NULL)),
    CHECK ((lot IS NOT NULL) = (state = 'on' AND kind = 'kitchen'))
) STRICT;
CREATE INDEX pool_of_item ON pool (item);
CREATE TABLE trip (
    id    INTEGER PRIMARY KEY,
    began TEXT NOT NULL,                -- local time
    home  TEXT                          -- local time; absent while the person is away
) STRICT;
CREATE TABLE bought (
    trip     INTEGER NOT NULL REFERENCES trip (id),
    item     INTEGER NOT NULL REFERENCES item (id),
    quantity TEXT,
    PRIMARY KEY (trip, item)
) STRICT;
CREATE TABLE basket (                   -- what was bought, has no temporary tag, and has no place yet
    item     INTEGER PRIMARY KEY REFERENCES item (id),
    quantity TEXT,
    mark     TEXT
) STRICT;
CREATE TABLE used (
    id       INTEGER PRIMARY KEY,
    item     INTEGER NOT NULL REFERENCES item (id),
    day      TEXT NOT NULL,
    quantity TEXT                       -- absent where nobody knows how much it was
) STRICT;
CREATE INDEX used_of_item ON used (item, day);
CREATE TABLE pace (                     -- what was used often enough to tell when it runs out
    item   INTEGER PRIMARY KEY REFERENCES item (id),
    likely TEXT NOT NULL                -- the day
) STRICT;
CREATE INDEX pace_by_day ON pace (likely);
CREATE INDEX event_of_item ON event (
    CASE WHEN json_valid(body) THEN coalesce(body ->> 'item', body -> 'what' ->> 'item') END
);
ALTER TABLE lot ADD COLUMN mark TEXT;
CREATE INDEX lot_by_mark ON lot (item, mark) WHERE mark IS NOT NULL;
CREATE INDEX lot_by_place ON lot (place, item, quantity);
CREATE INDEX lot_where ON lot (item, place);
CREATE INDEX tag_of_item ON tag (item);
ALTER TABLE lot ADD COLUMN unsure TEXT; -- 'unsure' where nobody could tell for sure what it is
CREATE INDEX lot_unknown ON lot (item) WHERE unsure IS NOT NULL OR place IS NULL OR quantity IS NULL;
ALTER TABLE tag ADD COLUMN mark TEXT;
ALTER TABLE list_line ADD COLUMN missing INTEGER; -- the trip on which the store had none of it
";

/// By which day the published time of what was opened or thawed ends (of an older file's lots it is known once something
/// more is told of their item); what the person took off the list; the order of their store; and where things got their
/// names.
const STEP_5: &str = "
ALTER TABLE lot ADD COLUMN guide TEXT;  -- the day; absent where nothing is published, or the use-by date comes first
CREATE INDEX lot_by_guide ON lot (guide) WHERE guide IS NOT NULL;
CREATE TABLE kept_off (                 -- what the forecast doesn't put on the list for now: the person took it off
    item INTEGER PRIMARY KEY REFERENCES item (id)
) STRICT;
CREATE TABLE store (                    -- the person's own order of the store; empty where it is the usual one
    section TEXT PRIMARY KEY,
    place   INTEGER NOT NULL            -- from the first to the last to go to
) STRICT;
CREATE INDEX event_of_new_name ON event (CASE WHEN json_valid(body) THEN body ->> 'name' END)
    WHERE CASE WHEN json_valid(body) THEN body ->> 'name' END IS NOT NULL;
";

/// Freezing a thing again doesn't make it new: what of its time was used stays with it.
const STEP_6: &str = "
ALTER TABLE lot ADD COLUMN thawed_for INTEGER CHECK (thawed_for >= 0); -- days, before it was frozen again
ALTER TABLE lot ADD COLUMN still_for INTEGER CHECK (still_for >= 0);   -- days that it was frozen once opened, before that
";

/// Nothing is made: from here on a label may say of an allergen that it "may contain" it, or be read as "not listed before",
/// of an earlier pack. An earlier version would tell both as not listed; it mustn't open such a file.
const STEP_7: &str = "-- values of fact: may contain, not listed before";

/// The tables that the ledger's events change: all that a replay must give again.
pub(super) const DERIVED: [&str; 18] = [
    "item",
    "permission",
    "heard_as",
    "lot",
    "lot_date",
    "list_line",
    "tag",
    "tag_date",
    "fact",
    "code",
    "pool",
    "trip",
    "bought",
    "basket",
    "used",
    "pace",
    "kept_off",
    "store",
];

/// The version from which on the list has its reasons.
pub(super) const REASONS: usize = 3;

/// The version of a file that this program writes.
pub(super) const VERSION: usize = STEPS.len();

/// What a file is, before anything is done with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Found {
    /// A stock of this version; 0 for an empty file.
    Version(usize),
    /// A stock of a later version.
    Newer,
    /// Not a stock, or one that misses a table, an index or a trigger.
    Foreign,
}

/// Looks what a file is.
pub(super) fn find(connection: &Connection) -> rusqlite::Result<Found> {
    let number = |name: &str| -> rusqlite::Result<i64> {
        connection.pragma_query_value(None, name, |row| row.get(0))
    };
    let (application, version) = (number("application_id")?, number("user_version")?);
    if application == APPLICATION && version > VERSION as i64 {
        return Ok(Found::Newer);
    }
    let parts = "SELECT count(*) FROM sqlite_schema";
    if (application, version) == (0, 0)
        && connection.query_row(parts, [], |row| row.get::<_, i64>(0))? == 0
    {
        return Ok(Found::Version(0));
    }
    match usize::try_from(version) {
        Ok(version @ 1..=VERSION)
            if application == APPLICATION && is_whole(connection, version)? =>
        {
            Ok(Found::Version(version))
        }
        _ => Ok(Found::Foreign),
    }
}

/// Whether all that the steps up to a version make is there, word for word.
fn is_whole(connection: &Connection, version: usize) -> rusqlite::Result<bool> {
    let model = Connection::open_in_memory()?;
    for step in &STEPS[..version] {
        model.execute_batch(step)?;
    }
    let mut parts = model.prepare("SELECT type, name, tbl_name, sql FROM sqlite_schema")?;
    let mut parts = parts.query([])?;
    let same =
        "SELECT 1 FROM sqlite_schema WHERE type = ?1 AND name = ?2 AND tbl_name = ?3 AND sql IS ?4";
    let mut same = connection.prepare(same)?;
    while let Some(part) = parts.next()? {
        let text = |i: usize| part.get::<_, Option<String>>(i);
        if !same.exists(params![text(0)?, text(1)?, text(2)?, text(3)?])? {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Looks whether the tables are sound that every answer is read from. The ledger, which only grows,
/// isn't looked through at each start: what is read of it is checked then.
pub(super) fn is_sound(connection: &Connection) -> rusqlite::Result<bool> {
    for table in DERIVED {
        // An earlier version had fewer.
        if !connection.table_exists(None, table)? {
            continue;
        }
        let report: String =
            connection.query_row("SELECT * FROM pragma_quick_check(?1)", [table], |row| {
                row.get(0)
            })?;
        if report != "ok" {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Runs the steps that a file lacks. The caller commits.
pub(super) fn migrate(transaction: &Transaction<'_>, from: usize) -> rusqlite::Result<()> {
    for step in &STEPS[from..] {
        transaction.execute_batch(step)?;
    }
    transaction.pragma_update(None, "application_id", APPLICATION)?;
    transaction.pragma_update(None, "user_version", VERSION as i64)
}
