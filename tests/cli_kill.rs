//! Said is saved: what was answered is in the stock, however the program ends.

#[path = "common/kitchen.rs"]
mod kitchen;

use std::io::{BufRead, BufReader, Write};
use std::process::Stdio;
use std::time::Duration;

use kitchen::Kitchen;
use serde_json::Value;
use tellshelf::stock::Stock;

#[test]
fn every_command_that_was_answered_survives_a_kill() {
    let kitchen = Kitchen::new();
    let mut answered = 0;
    for round in 0..12u64 {
        let mut child = kitchen
            .command("type")
            .arg("--json")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        let mut output = BufReader::new(child.stdout.take().unwrap()).lines();
        for _ in 0..4 + round {
            // Told apart by their numbers.
            answered += 1;
            writeln!(input, "add {answered} cans of tomatoes to the pantry").unwrap();
            let line = output.next().unwrap().unwrap();
            let object: Value = serde_json::from_str(&line).unwrap();
            assert_eq!(object["changed"], true, "{object}");
        }
        // One more is under way when it dies, at another moment each time.
        writeln!(input, "add one bag of rice to the pantry").unwrap();
        std::thread::sleep(Duration::from_millis(round * 3));
        child.kill().unwrap();
        child.wait().unwrap();

        // The last one may be there, whole, or not; whether it was answered can't be told any more.
        let stock = Stock::open(&kitchen.db()).unwrap();
        stock.check().unwrap();
        let shelf = stock.shelf().unwrap();
        let (rice, tomatoes): (Vec<_>, Vec<_>) =
            shelf.iter().partition(|lot| lot.item.as_str() == "rice");
        let counts: Vec<String> = tomatoes
            .iter()
            .flat_map(|lot| &lot.quantity)
            .map(ToString::to_string)
            .collect();
        let said: Vec<String> = (1..=answered).map(|n| format!("{n} can")).collect();
        assert_eq!(counts, said, "after round {round}");
        assert!(rice.len() as u64 <= round + 1);
        assert_eq!(stock.events().unwrap().len(), shelf.len());
    }
}
