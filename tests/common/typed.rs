//! A conversation by typed lines with a session of its own, on a stock in memory.

// Each test program uses a part of this.
#![allow(dead_code)]

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::grammar::Grammar;
use tellshelf::stock::{Source, Stock};
use tellshelf::talk::Session;

/// When every line is said: ten in the morning of November 25, 2026.
pub fn now() -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    day.and_hms_opt(10, 0, 0).unwrap()
}

/// An empty kitchen.
pub fn begin() -> Session {
    let grammar = Grammar::from_text("en.yaml", include_str!("../../grammars/en.yaml")).unwrap();
    Session::new(Stock::in_memory().unwrap(), grammar).unwrap()
}

/// Types a line, or what a scanner would; gives the reply.
pub fn say(session: &mut Session, line: &str) -> String {
    let scanned = session.scan(line, now(), Source::Typed);
    let turn = scanned.unwrap_or_else(|| session.hear(&[line], now(), Source::Typed));
    assert!(!turn.failed, "{turn:?}");
    turn.reply
}

/// Types lines, each of which must get its reply.
pub fn go_on(session: &mut Session, lines: &[(&str, &str)]) {
    for (line, reply) in lines {
        assert_eq!(say(session, line), *reply, "to “{line}”");
    }
}

/// The same from the beginning.
pub fn go(lines: &[(&str, &str)]) -> Session {
    let mut session = begin();
    go_on(&mut session, lines);
    session
}
