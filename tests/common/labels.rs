//! The labels of the recordings in `audio-fixtures`.
#![allow(dead_code, reason = "each test file uses its part")]

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::{Map, Value};

#[derive(Deserialize)]
pub struct Label {
    pub text: String,
    pub language: String,
    pub intent: Option<String>,
    pub slots: Map<String, Value>,
}

/// All labels of a language ("en", "ko"), by the file's name under `audio-fixtures`.
pub fn labels(language: &str) -> BTreeMap<String, Label> {
    let text = include_str!("../../audio-fixtures/labels.json");
    let labels: BTreeMap<String, Label> = serde_json::from_str(text).unwrap();
    labels
        .into_iter()
        .filter(|(_, label)| label.language.starts_with(language))
        .collect()
}

impl Label {
    /// Whether an object of `--json` has exactly this intent and these slots.
    pub fn is(&self, object: &Value) -> bool {
        object["intent"] == Value::from(self.intent.clone())
            && object["slots"] == Value::Object(self.slots.clone())
    }
}
