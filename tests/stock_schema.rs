//! Files that earlier versions made open in this one, with all they held.

mod stock_kitchen;

use rusqlite::Connection;
use stock_kitchen::*;
use tellshelf::stock::{Stock, TagNumber};

/// All a kitchen's file of version 1 held, as SQL. It is never written again: kitchens out there
/// have such files, and a change in the steps that made them is found out here.
const VERSION_1: &str = include_str!("data/stock-v1.sql");

#[test]
fn a_file_of_version_1_opens_with_what_it_held() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stock.db");
    Connection::open(&path)
        .unwrap()
        .execute_batch(VERSION_1)
        .unwrap();

    let mut stock = Stock::open(&path).unwrap();
    stock.check().unwrap();
    assert_eq!(
        lots(&stock, "oats"),
        ["5/2 cup | pantry | best by 2027-03-31", "? | ? | "]
    );
    assert_eq!(
        lots(&stock, "milk"),
        ["2 carton | fridge door | use by 2026-12-01, bought 2026-11-24"]
    );
    assert_eq!(list(&stock), ["eggs", "2 x 14 ounce can tomatoes"]);
    let tag = stock.tag(TagNumber(2)).unwrap().unwrap();
    assert_eq!(
        (tag.item.as_str(), tag.quantity, tag.dates),
        ("fish", maybe("9/4 pound"), dates("freeze by 2026-11-27"))
    );
    assert_eq!(stock.tags().unwrap().len(), 1);
    assert_eq!(stock.low().unwrap().len(), 1, "no eggs");
    assert_eq!(stock.events().unwrap().len(), 13);

    // What was used when, where a thing was put last, and what was taken off the list, is known only from later on.
    let but_new = |stock: &Stock| {
        let dump = stock.dump().unwrap();
        let new = ["used: ", "kept_off: ", "\"last-place\""];
        let is_old = |line: &&str| !new.iter().any(|new| line.contains(new));
        let lines = dump.lines().filter(is_old);
        lines.collect::<Vec<_>>().join("\n")
    };
    let dump = but_new(&stock);
    let mut replayed = Stock::in_memory().unwrap();
    for (_, at, source, event) in stock.events().unwrap() {
        assert_eq!(source, "typed");
        replayed
            .record(event, at, tellshelf::stock::Source::Typed)
            .unwrap();
    }
    assert_eq!(but_new(&replayed), dump);

    // Undo reaches back into what the earlier version recorded: twelve events, the last undone.
    for _ in 0..11 {
        undo(&mut stock);
    }
    assert_eq!(stock.dump().unwrap(), "");
    stock.check().unwrap();
}
