//! One turn of the conversation.

use serde_json::{Map, Value as Json, json};

use crate::grammar::{Understanding, Verdict};
use crate::settings::Settings;
use crate::stock::Clip;

/// What came of one utterance.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// What was understood.
    pub understanding: Understanding,
    /// Whether the stock changed.
    pub changed: bool,
    /// What to say.
    pub reply: String,
    /// A sound to be played behind what is said.
    pub sound: Option<Clip>,
    /// What is to be done before the reply is spoken.
    pub effect: Option<Effect>,
    /// Whether the stock file gave trouble: the command wasn't carried out.
    pub failed: bool,
}

/// What is to be done beside the reply, by whoever has the means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Effect {
    /// The settings are these from now on, and are to be kept.
    Settings(Settings),
    /// Speak with another of the speech service's voices, and keep that.
    OtherVoice,
}

impl Turn {
    /// What was understood, for machine-readable output: `heard`, `intent`, `slots`, `verdict` and
    /// `confidence`. What was rejected has no intent, so that nobody acts on it.
    pub fn understood_json(understanding: &Understanding) -> Map<String, Json> {
        let command = understanding.command.as_ref();
        let usable = command.filter(|_| understanding.verdict != Verdict::Reject);
        let slots = usable.map(|c| &c.slots[..]).unwrap_or_default();
        let slots: Map<String, Json> = slots
            .iter()
            .map(|(name, value)| (name.clone(), value.to_json()))
            .collect();
        let confidence =
            command.map_or(0.0, |c| (f64::from(c.confidence) * 1000.0).round() / 1000.0);
        let mut object = Map::new();
        object.insert("heard".to_owned(), json!(understanding.heard));
        object.insert("intent".to_owned(), json!(usable.map(|c| &c.intent)));
        object.insert("slots".to_owned(), Json::Object(slots));
        object.insert("verdict".to_owned(), json!(understanding.verdict.name()));
        object.insert("confidence".to_owned(), json!(confidence));
        object
    }
}
