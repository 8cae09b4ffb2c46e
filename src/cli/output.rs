//! What is written for each utterance.

use std::io::{self, Write};
use std::time::{Duration, Instant};

use serde_json::{Map, Value as Json, json};

use crate::grammar::{Understanding, Value, Verdict};
use crate::measure::{DateDoubt, DateReading};
use crate::talk::Turn;

/// How long each room took.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Times {
    pub hear: Duration,
    pub understand: Duration,
    pub act: Duration,
}

impl Times {
    pub fn json(&self) -> Json {
        let ms = |time: Duration| json!((time.as_secs_f64() * 1e4).round() / 10.0);
        json!({
            "hear": ms(self.hear),
            "understand": ms(self.understand),
            "act": ms(self.act),
        })
    }
}

/// Runs something, and takes its time.
pub(super) fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let start = Instant::now();
    let result = work();
    (result, start.elapsed())
}

/// One turn as one JSON object on one line of standard output.
pub(super) fn write_turn(source: &str, turn: &Turn, times: &Times) -> io::Result<()> {
    let mut object = understood(source, &turn.understanding);
    object.insert("changed".to_owned(), json!(turn.changed));
    object.insert("reply".to_owned(), json!(turn.reply));
    write_object(object, times)
}

/// The same without what only a conversation has.
pub(super) fn write_understood(
    source: &str,
    understanding: &Understanding,
    times: &Times,
) -> io::Result<()> {
    write_object(understood(source, understanding), times)
}

fn understood(source: &str, understanding: &Understanding) -> Map<String, Json> {
    let mut object = Map::new();
    object.insert("source".to_owned(), json!(source));
    object.extend(Turn::understood_json(understanding));
    object
}

fn write_object(mut object: Map<String, Json>, times: &Times) -> io::Result<()> {
    object.insert("ms".to_owned(), times.json());
    write_line(&Json::Object(object).to_string())
}

/// One line on standard output, at once.
pub(super) fn write_line(line: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    writeln!(out, "{line}")?;
    out.flush()
}

/// What was understood, in words: `used-up, item oats`. What was rejected is nothing, as in JSON.
pub(super) fn in_words(understanding: &Understanding) -> String {
    let command = match &understanding.command {
        Some(command) if understanding.verdict != Verdict::Reject => command,
        _ => return "nothing".to_owned(),
    };
    let mut words = command.intent.clone();
    for (slot, value) in &command.slots {
        let value = match value {
            Value::Quantity(quantity) => quantity.spoken(),
            Value::Date(Ok(reading)) => date_in_words(reading),
            Value::Date(Err(error)) => error.to_string(),
            other => match other.to_json() {
                Json::String(text) => text,
                json => json.to_string(),
            },
        };
        words.push_str(&format!(", {slot} {value}"));
    }
    words
}

fn date_in_words(reading: &DateReading) -> String {
    let date = match reading.doubt {
        None => reading.note.date.to_string(),
        Some(DateDoubt::Or(other)) => format!("{} or {other}", reading.note.date),
        Some(doubt) => doubt.to_string(),
    };
    match reading.note.kind {
        Some(kind) => format!("{kind} {date}"),
        None => date,
    }
}
