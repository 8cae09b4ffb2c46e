//! Making a file ready: looked at before anything in it is changed, then brought to this version.

use std::time::{Duration, Instant};

use rusqlite::config::DbConfig;
use rusqlite::{Connection, Transaction, TransactionBehavior, params};

use super::Stock;
use super::told::events;
use crate::stock::clips;
use crate::stock::event::Source;
use crate::stock::schema::{self, Found};

/// What came of making a file ready.
pub(super) enum Ready {
    Yes,
    ReadOnly,
    Newer,
    Damaged,
}

/// How long another program may hold the file: longer than a moment, a person waits.
const PATIENCE: Duration = Duration::from_secs(3);

/// How much of the file may stay in memory, in KiB: all that answers are read from, but not the ledger. Of 50,000 lots
/// that is 10 MB; with SQLite's own 2 MB, each answer about them reads the disk's pages anew.
const MEMORY: i64 = 16_384;

/// How many statements are kept ready: more than there are questions.
const STATEMENTS: usize = 64;

/// Looks what the file is before anything in it is changed, then brings it to this version.
pub(super) fn make_ready(connection: &mut Connection) -> rusqlite::Result<Ready> {
    if connection.is_readonly("main")? {
        return Ok(Ready::ReadOnly);
    }
    connection.busy_timeout(PATIENCE)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    // What a file brings along must not run by itself.
    connection.pragma_update(None, "trusted_schema", false)?;
    match look_at(connection)? {
        Ready::Yes => {}
        other => return Ok(other),
    }
    begin_write_ahead_log(connection)?;
    connection.pragma_update(None, "cache_size", -MEMORY)?;
    connection.set_prepared_statement_cache_capacity(STATEMENTS);
    // Else SQLite plans a kept statement anew for each new name that is looked up with it, which takes longer than the
    // looking up.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    // What is deleted is gone from the file.
    connection.pragma_update(None, "secure_delete", true)?;
    connection.pragma_update(None, "synchronous", "full")?;
    // Elsewhere than on a Mac this changes nothing; there, "on disk" would mean the disk's cache.
    connection.pragma_update(None, "fullfsync", true)?;
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Another program may have been first.
    if let Found::Version(version) = schema::find(&transaction)?
        && version < schema::VERSION
    {
        schema::migrate(&transaction, version)?;
        if (1..schema::REASONS).contains(&version) {
            fill_reasons(&transaction)?;
        }
    }
    transaction.commit()?;
    clips::drop_orphans(connection)?;
    // A program that was killed may have left in the log what it had deleted.
    clips::wipe(connection)?;
    Ok(Ready::Yes)
}

/// Why things are on the list, which an older file didn't keep: told all it was told, a new stock knows it.
fn fill_reasons(transaction: &Transaction<'_>) -> rusqlite::Result<()> {
    let Ok(mut again) = Stock::in_memory() else {
        return Ok(());
    };
    // That version put nothing on the list by a forecast. The lines behind such a one would have other numbers.
    again.connection.execute_batch(
        "CREATE TEMP TRIGGER no_forecast BEFORE INSERT ON list_line WHEN NEW.why = 'running-out'
         BEGIN SELECT RAISE (IGNORE); END",
    )?;
    for (_, at, _, event) in events(transaction)? {
        // What an older version took, and this one wouldn't, leaves a line without its reason.
        let _ = again.record(event, at, Source::Typed);
    }
    let mut known = again
        .connection
        .prepare("SELECT why, since, id, item FROM list_line")?;
    let mut known = known.query([])?;
    let fill = "UPDATE list_line SET why = ?1, since = ?2 WHERE id = ?3 AND item = ?4";
    while let Some(line) = known.next()? {
        let text = |column| line.get::<_, Option<String>>(column);
        let (id, item): (i64, i64) = (line.get(2)?, line.get(3)?);
        transaction.execute(fill, params![text(0)?, text(1)?, id, item])?;
    }
    Ok(())
}

/// Turns the write-ahead log on. Where another program is just doing the same, SQLite gives up at
/// once instead of waiting as it does elsewhere, so the waiting is done here.
fn begin_write_ahead_log(connection: &Connection) -> rusqlite::Result<()> {
    let begun = Instant::now();
    loop {
        match connection.pragma_update(None, "journal_mode", "wal") {
            Err(error)
                if error.sqlite_error_code() == Some(rusqlite::ErrorCode::DatabaseBusy)
                    && begun.elapsed() < PATIENCE =>
            {
                std::thread::sleep(Duration::from_millis(10));
            }
            done => return done,
        }
    }
}

/// Says what a file is. All of it is read at one moment: another program may be making the tables,
/// and half of its work would look like damage.
fn look_at(connection: &mut Connection) -> rusqlite::Result<Ready> {
    let moment = connection.transaction_with_behavior(TransactionBehavior::Deferred)?;
    let found = schema::find(&moment)?;
    if is_cut(&moment)? {
        return Ok(Ready::Damaged);
    }
    Ok(match found {
        Found::Newer => Ready::Newer,
        Found::Foreign => Ready::Damaged,
        Found::Version(0) => Ready::Yes,
        Found::Version(_) if schema::is_sound(&moment)? => Ready::Yes,
        Found::Version(_) => Ready::Damaged,
    })
}

/// Whether a file ends within a page. SQLite doesn't mind: it takes a scrap for an empty file and
/// would write over it, and reads zeros where the last page was cut off.
fn is_cut(connection: &Connection) -> rusqlite::Result<bool> {
    let page: u32 = connection.pragma_query_value(None, "page_size", |row| row.get(0))?;
    let length = |suffix: &str| {
        let path = format!("{}{suffix}", connection.path().unwrap_or_default());
        std::fs::metadata(path).map_or(0, |found| found.len())
    };
    // After a crash, SQLite mends such an end from its journal.
    Ok(length("-wal") == 0 && length("-journal") == 0 && !length("").is_multiple_of(page.into()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_keeps_a_promise_is_switched_on() {
        let folder = tempfile::tempdir().unwrap();
        let stock = Stock::open(&folder.path().join("stock.db")).unwrap();
        let pragma = |name: &str| -> String {
            let value = stock
                .connection
                .pragma_query_value(None, name, |row| row.get::<_, rusqlite::types::Value>(0));
            format!("{:?}", value.unwrap())
        };
        assert_eq!(pragma("journal_mode"), "Text(\"wal\")");
        // FULL: each commit waits for the disk.
        assert_eq!(pragma("synchronous"), "Integer(2)");
        assert_eq!(pragma("fullfsync"), "Integer(1)");
        assert_eq!(pragma("foreign_keys"), "Integer(1)");
        assert_eq!(pragma("trusted_schema"), "Integer(0)");
    }
}
