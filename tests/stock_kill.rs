//! Said is saved: whatever was confirmed is there after the process was killed at any moment.
#![cfg(unix)]

mod stock_kitchen;

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use stock_kitchen::*;
use tellshelf::stock::{Event, Source, Stock, StockError};

/// What happens as the `n`th thing: something of everything, over and over.
fn nth(n: usize) -> Option<Event> {
    let name = format!("thing {}", n % 7);
    Some(match n % 9 {
        0 | 1 => put_in(
            &name,
            "3 bag",
            "pantry",
            "use by 2026-12-01, bought 2026-11-24",
        ),
        2 => used(&name, "1 bag"),
        3 => tagged(&name, "2 can", "best by 2027-12-01"),
        4 => put_away(1, "fridge"),
        5 => used_up(&name),
        6 => listed(&name, "2 bag"),
        7 => kept_at(&name, "1 bag"),
        _ => return None,
    })
}

/// Records without end, and says each event's number once it is recorded.
#[test]
#[ignore = "run by the test below, which kills it"]
fn as_the_killed_process() {
    let Some(path) = std::env::var_os("STOCK_FILE") else {
        return;
    };
    let mut stock = Stock::open(Path::new(&path)).unwrap();
    let mut recorded = stock.events().unwrap().len();
    let mut out = std::io::stdout().lock();
    writeln!(out, "\nopen").unwrap();
    for n in recorded.. {
        let result = match nth(n) {
            Some(event) => stock.record(event, at(), Source::Typed),
            None => stock.undo(at(), Source::Typed),
        };
        match result {
            Ok(_) => recorded += 1,
            Err(StockError::Refused(_)) => continue,
            Err(error) => panic!("{error}"),
        }
        writeln!(out, "recorded {recorded}").unwrap();
        out.flush().unwrap();
    }
}

#[test]
fn what_was_confirmed_survives_a_kill_at_any_moment() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    let mut total = 0;
    for round in 0..12u64 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args([
                "--ignored",
                "--exact",
                "as_the_killed_process",
                "--nocapture",
            ])
            .env("STOCK_FILE", &path)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap())
            .lines()
            .map_while(Result::ok);
        // Some rounds end while the file is being opened, or even made.
        if round % 4 != 0 {
            lines
                .find(|line| line == "open")
                .expect("it opens the file");
        }
        std::thread::sleep(Duration::from_micros(round * 7_919 % 60_000));
        child.kill().unwrap();
        assert!(
            !child.wait().unwrap().success(),
            "it was killed, and didn't end by itself"
        );
        let confirmed =
            lines.filter_map(|line| line.strip_prefix("recorded ")?.parse::<i64>().ok());
        let confirmed = confirmed.last().unwrap_or(total);

        let stock = Stock::open(&path).unwrap();
        stock.check().unwrap();
        let events = stock.events().unwrap();
        let ids: Vec<i64> = events.iter().map(|event| event.0).collect();
        assert_eq!(ids, (1..=events.len() as i64).collect::<Vec<_>>());
        // At most the one that was on its way is there beyond what was confirmed.
        let there = events.len() as i64;
        assert!(
            (confirmed..=confirmed + 1).contains(&there),
            "{confirmed} confirmed, {there} there"
        );
        let mut replayed = Stock::in_memory().unwrap();
        for (_, at, _, event) in events {
            replayed.record(event, at, Source::Typed).unwrap();
        }
        assert_eq!(replayed.dump().unwrap(), stock.dump().unwrap());
        total = there;
    }
    assert!(
        total > 20,
        "only {total} events in all rounds: the machine is too slow for this test"
    );
}
