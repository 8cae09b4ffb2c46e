//! Files of every kind that can be found where the stock should be.

mod stock_kitchen;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use rusqlite::Connection;
use stock_kitchen::*;
use tellshelf::stock::{Source, Stock, StockError};
use tempfile::TempDir;

/// A folder with a stock of some size in `stock.db`.
fn kitchen() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    let mut stock = Stock::open(&path).unwrap();
    for i in 0..150 {
        let name = format!("{} {i}", "a rather long name of a thing ".repeat(8));
        tell(
            &mut stock,
            put_in(
                &name,
                "2 bag",
                "pantry",
                "best by 2027-01-01, bought 2026-11-25",
            ),
        );
    }
    drop(stock);
    (folder, path)
}

/// Opening fails and leaves the file as it was; the message is one line that names it.
fn refuses(path: &Path) -> StockError {
    let before = fs::read(path).ok();
    let error = Stock::open(path).expect_err("this can't be opened");
    assert_eq!(fs::read(path).ok(), before, "{error}");
    let said = error.to_string();
    assert!(
        !said.contains('\n') && said.contains(&path.display().to_string()),
        "{said}"
    );
    assert!(
        said.contains("I changed nothing in it") || said.contains("Nothing was changed"),
        "{said}"
    );
    let what_to_do = [
        "name another file with --db",
        "Name another file with --db",
        "Close it",
    ];
    assert!(what_to_do.iter().any(|what| said.contains(what)), "{said}");
    error
}

fn is_damaged(path: &Path) {
    let error = refuses(path);
    assert!(matches!(error, StockError::Damaged { .. }), "{error}");
}

#[test]
fn what_was_committed_is_there_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    let mut stock = Stock::open(&path).unwrap();
    tell(
        &mut stock,
        put_in("oats", "2 bag", "pantry", "best by 2027-01-01"),
    );
    let dump = stock.dump().unwrap();
    // Not even closed.
    std::mem::forget(stock);
    let stock = Stock::open(&path).unwrap();
    assert_eq!(stock.dump().unwrap(), dump);
    assert_eq!(stock.events().unwrap().len(), 1);
    stock.check().unwrap();
}

#[test]
fn opening_again_changes_nothing() {
    let (_folder, path) = kitchen();
    let before = fs::read(&path).unwrap();
    drop(Stock::open(&path).unwrap());
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn an_empty_file_becomes_a_stock() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    fs::write(&path, "").unwrap();
    tell(&mut Stock::open(&path).unwrap(), listed("milk", ""));
    assert_eq!(list(&Stock::open(&path).unwrap()), ["milk"]);
}

#[test]
fn missing_folders_are_made() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a/b c/ü/stock.db");
    tell(&mut Stock::open(&path).unwrap(), listed("milk", ""));
    assert!(path.is_file());
}

#[test]
fn a_name_with_a_meaning_for_the_database_is_a_file() {
    let folder = tempfile::tempdir().unwrap();
    for name in [":memory:", "file:x?mode=memory"] {
        let path = folder.path().join(name);
        tell(&mut Stock::open(&path).unwrap(), listed("milk", ""));
        assert_eq!(list(&Stock::open(&path).unwrap()), ["milk"]);
    }
    let error = Stock::open(Path::new("")).unwrap_err();
    assert!(matches!(error, StockError::CantOpen { .. }), "{error}");
}

#[test]
fn a_folder_is_not_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let error = refuses(folder.path());
    assert!(error.to_string().contains("it is a folder"), "{error}");
    let below_a_file = folder.path().join("file");
    fs::write(&below_a_file, "x").unwrap();
    let error = refuses(&below_a_file.join("stock.db"));
    assert!(matches!(error, StockError::CantOpen { .. }), "{error}");
}

#[cfg(unix)]
#[test]
fn a_device_is_not_a_file() {
    let error = Stock::open(Path::new("/dev/null")).unwrap_err();
    assert!(
        error.to_string().contains("it isn't a plain file"),
        "{error}"
    );
}

#[test]
fn any_other_bytes_are_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    let noise: Vec<u8> = (0..20_000u32)
        .map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8)
        .collect();
    for bytes in [&noise[..], b"x", b"SQLite format 3\0", &[0; 4096]] {
        fs::write(&path, bytes).unwrap();
        is_damaged(&path);
    }
}

#[test]
fn a_truncated_file_is_damaged() {
    let (_folder, path) = kitchen();
    let whole = fs::read(&path).unwrap();
    for length in [
        1,
        100,
        512,
        4096,
        10_000,
        whole.len() / 2,
        whole.len() - 4096,
        whole.len() - 512,
        whole.len() - 1,
    ] {
        fs::write(&path, &whole[..length]).unwrap();
        is_damaged(&path);
    }
}

#[test]
fn a_damaged_page_is_found_out_wherever_it_is() {
    let (_folder, path) = kitchen();
    let whole = fs::read(&path).unwrap();
    let page = 4096;
    assert!(whole.len() > 40 * page);
    let mut at_opening = 0;
    for number in 0..whole.len() / page {
        let mut bytes = whole.clone();
        // The header of the file itself stays valid.
        let from = number * page + if number == 0 { 100 } else { 0 };
        bytes[from..(number + 1) * page].fill(0xA5);
        fs::write(&path, &bytes).unwrap();
        match Stock::open(&path) {
            Err(StockError::Damaged { .. }) => at_opening += 1,
            Err(other) => panic!("page {number}: {other}"),
            // The ledger isn't looked through at each start, but it is when asked.
            Ok(stock) => {
                let error = stock
                    .check()
                    .expect_err(&format!("page {number} is damaged"));
                assert!(
                    matches!(error, StockError::Damaged { .. }),
                    "page {number}: {error}"
                );
            }
        }
        assert!(
            fs::read(&path).unwrap() == bytes,
            "page {number} was changed"
        );
    }
    assert!(at_opening > 10, "{at_opening}");
}

#[test]
fn another_programs_database_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    for sql in [
        "CREATE TABLE photo (id INTEGER PRIMARY KEY)",
        "PRAGMA user_version = 1",
        "CREATE TABLE item (id); PRAGMA user_version = 1",
        "PRAGMA user_version = 99",
        "PRAGMA application_id = 7",
    ] {
        let _ = fs::remove_file(&path);
        Connection::open(&path).unwrap().execute_batch(sql).unwrap();
        is_damaged(&path);
    }
}

#[test]
fn a_missing_part_is_found_out() {
    for sql in [
        "DROP TABLE tag_date",
        "DROP INDEX lot_of_item",
        "DROP TRIGGER event_stays",
        "PRAGMA user_version = 0",
        "PRAGMA user_version = -1",
        "ALTER TABLE lot ADD COLUMN colour TEXT",
    ] {
        let (_folder, path) = kitchen();
        Connection::open(&path).unwrap().execute_batch(sql).unwrap();
        is_damaged(&path);
    }
}

#[test]
fn a_later_version_is_left_alone() {
    let (_folder, path) = kitchen();
    Connection::open(&path)
        .unwrap()
        .execute_batch("CREATE TABLE new (x); PRAGMA user_version = 1000")
        .unwrap();
    let error = refuses(&path);
    assert!(matches!(error, StockError::Newer { .. }), "{error}");
}

#[test]
fn a_locked_file_is_busy_and_then_free() {
    let (_folder, path) = kitchen();
    let mut stock = Stock::open(&path).unwrap();
    let dump = stock.dump().unwrap();
    let other = Connection::open(&path).unwrap();
    other
        .execute_batch("BEGIN EXCLUSIVE; INSERT INTO item (name) VALUES ('half done')")
        .unwrap();
    let error = stock
        .record(listed("milk", ""), at(), Source::Typed)
        .unwrap_err();
    assert!(matches!(error, StockError::Busy { .. }), "{error}");
    assert!(matches!(
        stock.undo(at(), Source::Typed).unwrap_err(),
        StockError::Busy { .. }
    ));
    assert!(matches!(refuses(&path), StockError::Busy { .. }));
    // Questions are answered all the same.
    assert_eq!(stock.dump().unwrap(), dump);
    other.execute_batch("ROLLBACK").unwrap();
    tell(&mut stock, listed("milk", ""));
    tell(&mut Stock::open(&path).unwrap(), listed("eggs", ""));
    assert_eq!(list(&stock), ["milk", "eggs"]);
}

#[test]
fn two_at_once_take_back_the_last_of_both() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    let (mut one, mut two) = (Stock::open(&path).unwrap(), Stock::open(&path).unwrap());
    tell(&mut one, listed("milk", ""));
    tell(&mut two, listed("eggs", ""));
    assert_eq!(undo(&mut one), listed("eggs", ""));
    assert_eq!(list(&two), ["milk"]);
}

#[test]
fn many_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = &folder.path().join("stock.db");
    std::thread::scope(|scope| {
        for thread in 0..4 {
            scope.spawn(move || {
                // Opened at once, too: one of them makes the tables.
                let mut stock = Stock::open(path).unwrap();
                for i in 0..10 {
                    tell(
                        &mut stock,
                        put_in(&format!("{thread} {i}"), "1", "", "use by 2026-12-01"),
                    );
                }
            });
        }
    });
    let stock = Stock::open(path).unwrap();
    assert_eq!(stock.shelf().unwrap().len(), 40);
    assert_eq!(stock.events().unwrap().len(), 40);
    stock.check().unwrap();
}

#[test]
fn what_is_said_is_on_disk_before_the_reply() {
    let (_folder, path) = kitchen();
    let mut stock = Stock::open(&path).unwrap();
    let other = Connection::open(&path).unwrap();
    let mode: String = other
        .pragma_query_value(None, "journal_mode", |row| row.get(0))
        .unwrap();
    assert_eq!(mode, "wal");
    tell(&mut stock, listed("milk", ""));
    let listed: i64 = other
        .query_row("SELECT count(*) FROM list_line", [], |row| row.get(0))
        .unwrap();
    assert_eq!(listed, 1);
}

/// `synchronous` belongs to the connection, so it is seen in what that connection does.
#[cfg(target_os = "linux")]
#[test]
fn each_commit_waits_for_the_disk() {
    let Ok(strace) = Command::new("strace").arg("-V").output() else {
        println!("Skipped: strace isn't installed");
        return;
    };
    assert!(strace.status.success());
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("log");
    let done = Command::new("strace")
        .args(["-f", "-e", "trace=fsync,fdatasync", "-o"])
        .arg(&log)
        .arg(std::env::current_exe().unwrap())
        .args(["--ignored", "--exact", "as_another_process"])
        .env("STOCK_FILE", folder.path().join("stock.db"))
        .env("STOCK_EVENTS", "20")
        .output()
        .unwrap();
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stdout)
    );
    let synced = fs::read_to_string(&log).unwrap().matches("sync(").count();
    assert!(synced >= 20, "{synced} for 20 events");
}

/// Opens the file in the environment and records in it, printing the error if there is one: run by
/// the tests above and below as another user or under watch.
#[test]
#[ignore = "run by other tests"]
fn as_another_process() {
    let Some(path) = std::env::var_os("STOCK_FILE") else {
        return;
    };
    let events: usize = std::env::var("STOCK_EVENTS").map_or(1, |n| n.parse().unwrap());
    match Stock::open(Path::new(&path)) {
        Err(error) => println!("\nopen: {error:?}\nsaid: {error}"),
        Ok(mut stock) => {
            for i in 0..events {
                let name = format!("{} {i}", "x".repeat(300));
                if let Err(error) = stock.record(listed(&name, ""), at(), Source::Typed) {
                    let whole = stock.list().unwrap().len() == i && stock.check().is_ok();
                    println!("\nrecord {i}: {error:?}\nsaid: {error}\nwhole: {whole}");
                    return;
                }
            }
            println!("\nall well");
        }
    }
}

/// What [`as_another_process`] prints when somebody without rights runs it; `None` where no such
/// user can be had.
#[cfg(unix)]
fn as_nobody(path: &Path) -> Option<String> {
    let this_test = std::env::current_exe().unwrap();
    // Root is let into everything, and so can't be kept out.
    let is_root = Command::new("id")
        .arg("-u")
        .output()
        .is_ok_and(|o| o.stdout == b"0\n");
    let mut command = if is_root {
        // The test itself may lie where nobody else can read.
        let copy = std::env::temp_dir().join(format!(
            "stock-files-{}-{:?}",
            std::process::id(),
            std::thread::current().id()
        ));
        // By another process: were this one to fork for another test while it writes, the copy
        // would be busy when it is run.
        assert!(
            Command::new("cp")
                .args([&this_test, &copy])
                .status()
                .unwrap()
                .success()
        );
        let mut command = Command::new("setpriv");
        command
            .args(["--reuid=65534", "--regid=65534", "--clear-groups"])
            .arg(&copy);
        command
    } else {
        Command::new(this_test)
    };
    let output = command
        .args(["--ignored", "--exact", "as_another_process", "--nocapture"])
        .env("STOCK_FILE", path)
        .current_dir("/")
        .output();
    if is_root {
        let _ = fs::remove_file(command.get_args().nth(3).unwrap());
    }
    match output {
        Ok(output) => {
            let text = String::from_utf8_lossy(&output.stdout).into_owned();
            assert!(
                output.status.success(),
                "{text}{}",
                String::from_utf8_lossy(&output.stderr)
            );
            Some(text)
        }
        Err(error) => {
            println!("Skipped: no unprivileged user ({error})");
            None
        }
    }
}

#[cfg(unix)]
fn set_mode(path: &Path, mode: u32) {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
}

#[cfg(unix)]
#[test]
fn what_may_not_be_written_is_said_and_left_alone() {
    let (folder, path) = kitchen();
    let before = fs::read(&path).unwrap();
    let names = || -> Vec<_> {
        fs::read_dir(folder.path())
            .unwrap()
            .map(|e| e.unwrap().file_name())
            .collect()
    };
    let missing = folder.path().join("missing.db");
    let below = folder.path().join("missing/stock.db");
    // The file, the folder, and which error is due.
    for (file_mode, folder_mode, path, due) in [
        (0o444, 0o777, &path, "ReadOnly"),
        (0o444, 0o555, &path, "ReadOnly"),
        (0o666, 0o555, &path, "ReadOnly"),
        (0o666, 0o555, &missing, "ReadOnly"),
        (0o666, 0o555, &below, "ReadOnly"),
        (0o000, 0o777, &path, "CantOpen"),
        (0o666, 0o777, &path, "all well"),
    ] {
        set_mode(folder.path(), folder_mode);
        set_mode(&folder.path().join("stock.db"), file_mode);
        let said = as_nobody(path);
        set_mode(folder.path(), 0o777);
        let Some(said) = said else { return };
        assert!(
            said.contains(due),
            "{file_mode:o} {folder_mode:o} {}: {said}",
            path.display()
        );
        if due != "all well" {
            assert!(said.contains("\nopen: "), "found out at the start: {said}");
            assert_eq!(names(), ["stock.db"], "{said}");
            set_mode(&folder.path().join("stock.db"), 0o600);
            assert!(fs::read(folder.path().join("stock.db")).unwrap() == before);
        }
    }
}

/// A disk of a few kilobytes, for as long as this lives.
#[cfg(target_os = "linux")]
struct TinyDisk(TempDir);

#[cfg(target_os = "linux")]
impl TinyDisk {
    fn mount(kilobytes: u32) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let size = format!("size={kilobytes}k");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &size, "tmpfs"])
            .arg(folder.path())
            .output();
        if mounted.is_ok_and(|m| m.status.success()) {
            return Some(Self(folder));
        }
        println!("Skipped: only root can mount a tiny disk");
        None
    }
}

#[cfg(target_os = "linux")]
impl Drop for TinyDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.0.path()).output();
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said_and_loses_nothing() {
    for kilobytes in [4, 16, 40, 64, 80, 100, 160, 256, 400] {
        let Some(disk) = TinyDisk::mount(kilobytes) else {
            return;
        };
        let path = disk.0.path().join("stock.db");
        let mut stock = match Stock::open(&path) {
            Ok(stock) => stock,
            Err(error) => {
                assert!(
                    matches!(error, StockError::DiskFull),
                    "{kilobytes} KB: {error:?}"
                );
                continue;
            }
        };
        let mut told = 0;
        let error = loop {
            let name = format!("{} {told}", "x".repeat(300));
            match stock.record(listed(&name, ""), at(), Source::Typed) {
                Ok(_) => told += 1,
                Err(error) => break error,
            }
            assert!(told < 10_000);
        };
        assert!(
            matches!(error, StockError::DiskFull),
            "{kilobytes} KB: {error:?}"
        );
        assert_eq!(
            (stock.list().unwrap().len(), stock.events().unwrap().len()),
            (told, told)
        );
        stock.check().unwrap();
        drop(stock);
        // Moved to a larger disk, all of it is there and it goes on.
        let elsewhere = tempfile::tempdir().unwrap();
        for entry in fs::read_dir(disk.0.path()).unwrap() {
            let entry = entry.unwrap();
            fs::copy(entry.path(), elsewhere.path().join(entry.file_name())).unwrap();
        }
        let mut stock = Stock::open(&elsewhere.path().join("stock.db")).unwrap();
        assert_eq!(stock.list().unwrap().len(), told);
        tell(&mut stock, listed("more", ""));
    }
}

// Rows that this program never writes.

#[test]
fn the_ledger_can_not_be_changed() {
    let (_folder, path) = kitchen();
    let other = Connection::open(&path).unwrap();
    for sql in [
        "UPDATE event SET body = '{}' WHERE id = 1",
        "DELETE FROM event",
        "UPDATE event SET id = id + 1000",
    ] {
        let error = other.execute(sql, []).unwrap_err().to_string();
        assert!(error.contains("the ledger is only added to"), "{error}");
    }
    drop(other);
    assert_eq!(Stock::open(&path).unwrap().events().unwrap().len(), 150);
}

#[test]
fn a_hostile_row_is_an_error_and_no_panic() {
    let lowest = i128::MIN;
    let quantities = [
        "1/0",
        "-1 bag",
        "",
        "x",
        &format!("{lowest}/-1 gram"),
        &format!("{} gram", i128::MAX),
        "1e9",
        "1 x 1/0 ounce can",
    ];
    let mut changes: Vec<String> = vec![];
    for quantity in quantities {
        for column in [
            "lot SET quantity",
            "list_line SET quantity",
            "tag SET quantity",
            "item SET keep",
        ] {
            changes.push(format!("UPDATE {column} = '{quantity}'"));
        }
    }
    let names = [
        "UPDATE item SET name = '  '",
        "UPDATE item SET name = CAST(x'ff' AS TEXT)",
        "UPDATE lot SET place = ''",
        "UPDATE lot SET place = CAST(x'fe' AS TEXT)",
    ];
    let dates = [
        "UPDATE lot_date SET kind = 'eat by'",
        "UPDATE lot_date SET date = 'soon'",
        "UPDATE lot_date SET date = '2026-02-30'",
        "UPDATE tag_date SET kind = 'a=b;c'",
        "UPDATE tag_date SET date = ''",
    ];
    let tags = [
        "PRAGMA foreign_keys = 0; UPDATE tag SET number = -1",
        "PRAGMA foreign_keys = 0; UPDATE tag SET number = 5000000000",
    ];
    let events = [
        "'not json', x''", "'{\"event\":\"eaten\"}', x''", "'{\"event\":\"undone\",\"id\":1.5}', x''",
        "'{\"event\":\"used\",\"item\":\"\",\"quantity\":\"1\"}', x''", "'{\"event\":\"used\",\"item\":\"x\",\"quantity\":\"1/0\"}', x''",
        "'{\"event\":\"used-up\",\"item\":\"x\"}', x'00ff00ff00ff'", "'{\"event\":\"used-up\",\"item\":\"x\"}', CAST('T' AS BLOB)",
    ]
    .map(|values| format!("INSERT INTO event (at, source, body, changes) VALUES ('2026-11-25T07:30:00', 'typed', {values})"));
    let body = format!("'{{\"event\":\"used\",\"item\":\"x\",\"quantity\":\"{lowest}/-1\"}}', x''");
    let fine = [
        format!("INSERT INTO event (at, source, body, changes) VALUES ('2026-11-25T07:30:00', 'typed', {body})"),
        "INSERT INTO event (at, source, body, changes) VALUES ('yesterday', 'typed', '{\"event\":\"used-up\",\"item\":\"x\"}', x'')".to_owned(),
    ];
    let others = names
        .into_iter()
        .chain(dates)
        .chain(tags)
        .map(str::to_owned)
        .chain(events)
        .chain(fine);
    for change in changes.into_iter().chain(others) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("stock.db");
        let mut stock = Stock::open(&path).unwrap();
        for event in [
            put_in("oats", "1 bag", "pantry", "use by 2026-12-01"),
            kept_at("oats", "2 bag"),
            listed("oats", "1 bag"),
            tagged("oats", "1 bag", "use by 2026-12-01"),
        ] {
            tell(&mut stock, event);
        }
        Connection::open(&path)
            .unwrap()
            .execute_batch(&change)
            .unwrap();
        // Whatever is asked gets an answer or an error.
        let results = [
            stock.lots(&item("oats")).err(),
            stock.shelf().err(),
            stock.list().err(),
            stock.tags().err(),
            stock.tag(tellshelf::stock::TagNumber(1)).err(),
            stock.expiring(day("2026-12-31")).err(),
            stock.low().err(),
            stock.events().err(),
            stock.dump().err(),
            stock.check().err(),
        ];
        let errors: Vec<StockError> = results.into_iter().flatten().collect();
        assert!(
            errors
                .iter()
                .all(|e| matches!(e, StockError::Damaged { .. })),
            "{change}: {errors:?}"
        );
        // "00ff00ff00ff" is only read by an undo.
        let undone = stock.undo(at(), Source::Typed);
        assert!(
            !errors.is_empty() || matches!(undone, Err(StockError::Damaged { .. })),
            "{change}: {undone:?}"
        );
        for event in [
            used("oats", "1 bag"),
            used_up("oats"),
            put_away(1, "pantry"),
            listed("milk", ""),
        ] {
            let before = stock.dump().ok();
            if let Err(error) = stock.record(event, at(), Source::Typed) {
                assert!(
                    matches!(error, StockError::Damaged { .. } | StockError::Refused(_)),
                    "{change}: {error}"
                );
                assert_eq!(stock.dump().ok(), before);
            }
        }
    }
}

#[test]
fn an_undo_that_no_longer_fits_the_tables_is_refused_whole() {
    for change in [
        "DELETE FROM list_line",
        "UPDATE list_line SET quantity = '7 bag'",
        "UPDATE item SET name = 'milk'",
        "INSERT INTO tag (number, item, written) SELECT 5, id, '2026-11-25T07:30:00' FROM item",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("stock.db");
        let mut stock = Stock::open(&path).unwrap();
        tell(&mut stock, listed("oats", "2 bag"));
        Connection::open(&path)
            .unwrap()
            .execute_batch(change)
            .unwrap();
        let before = (stock.dump().unwrap(), stock.events().unwrap());
        let error = stock.undo(at(), Source::Typed).unwrap_err();
        assert!(
            matches!(error, StockError::Damaged { .. }),
            "{change}: {error:?}"
        );
        assert_eq!(
            (stock.dump().unwrap(), stock.events().unwrap()),
            before,
            "{change}"
        );
    }
}
