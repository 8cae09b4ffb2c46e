//! Recordings with what was said in them.

use std::collections::BTreeMap;
use std::error::Error;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use serde_json::{Map, Value};
use tellshelf::grammar::Understanding;

/// One recording, and what it means; no intent for talk that isn't a command.
pub struct Labelled {
    pub file: PathBuf,
    pub intent: Option<String>,
    pub slots: Map<String, Value>,
}

#[derive(Deserialize)]
struct Label {
    intent: Option<String>,
    slots: Map<String, Value>,
}

impl Labelled {
    /// Reads the labels of a folder: from `labels.json` in it, or in the folder above it.
    pub fn read(folder: &Path) -> Result<Vec<Self>, Box<dyn Error>> {
        let above = folder.parent().unwrap_or(folder);
        let file = [folder, above].map(|f| f.join("labels.json"));
        let file = file.iter().find(|f| f.is_file()).ok_or_else(|| {
            format!(
                "{} has no labels.json, nor has the folder above",
                folder.display()
            )
        })?;
        let labels: BTreeMap<String, Label> =
            serde_json::from_str(&std::fs::read_to_string(file)?)?;
        let labelled = labels.into_iter().filter_map(|(name, label)| {
            // A name is relative to the labels, or the bare name of a file.
            let places = [file.parent()?.join(&name), folder.join(&name)];
            let file = places
                .into_iter()
                .find(|f| f.is_file() && f.starts_with(folder))?;
            Some(Self {
                file,
                intent: label.intent,
                slots: label.slots,
            })
        });
        let labelled: Vec<Self> = labelled.collect();
        if labelled.is_empty() {
            return Err(format!("{} has no labelled recording", folder.display()).into());
        }
        Ok(labelled)
    }

    /// Whether what was understood is what was said.
    pub fn is_right(&self, understanding: &Understanding) -> bool {
        let Some(command) = &understanding.command else {
            return self.intent.is_none();
        };
        Some(&command.intent) == self.intent.as_ref()
            && self
                .slots
                .iter()
                .all(|(slot, value)| command.slot(slot).is_some_and(|v| v.to_json() == *value))
    }
}
