//! `tellshelf tags`: what the tags that are on something say, for whatever writes them.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::json;

use super::error::CliError;
use super::output::write_line;
use super::{ConversationOptions, Ending};
use crate::share::{
    Fact, Need, TagText, TypeTwo, reminder_facts, tag_facts, tag_text, temporary_tag_facts,
};
use crate::stock::{PoolTag, Stock, StockError, TagKind, TagNumber, TagState};

#[derive(Debug, Args)]
pub(super) struct Tags {
    /// Write this file: the data area of an NFC Forum Type 2 Tag, with the tag's text
    #[arg(long, value_name = "FILE")]
    ndef: Option<PathBuf>,
    /// The tag to write; not needed where only one is on something
    #[arg(long, value_name = "NUMBER", requires = "ndef")]
    tag: Option<u32>,
    /// The size of the tag's data area
    #[arg(long, value_name = "BYTES", requires = "ndef", default_value = "144", value_parser = parse_size)]
    size: TypeTwo,
    /// What the tag's data area has after 01 03 at its start, as in A00C34, if it begins so
    #[arg(long, value_name = "HEX", requires = "ndef", value_parser = parse_lock_control)]
    lock_control: Option<[u8; 3]>,
    #[command(flatten)]
    conversation: ConversationOptions,
}

/// A tag that is on something, and what is to be said of that.
struct InUse {
    number: TagNumber,
    facts: Vec<Fact>,
}

impl Tags {
    pub fn run(self) -> Result<Ending, CliError> {
        let path = self.conversation.stock_file()?;
        // It isn't made here: who mistypes its name would be told that there are no tags.
        if !path.exists() {
            return Err(CliError::NoStock { path });
        }
        let tags = in_use(&Stock::open(&path)?)?;
        match &self.ndef {
            Some(file) => self.write(self.chosen(&tags)?, file)?,
            None => self.tell(&tags)?,
        }
        Ok(Ending::Well)
    }

    /// Tells every tag, whatever it takes: which size each has isn't known.
    fn tell(&self, tags: &[InUse]) -> Result<(), CliError> {
        for tag in tags {
            let (number, TagText { text, .. }) = (tag.number, tag.text(usize::MAX)?);
            let line = match self.conversation.json {
                true => json!({ "tag": number.0, "text": text }).to_string(),
                false => format!("Tag {number}: {text}"),
            };
            write_line(&line)?;
        }
        if tags.is_empty() && !self.conversation.json {
            write_line("No tag is on anything.")?;
        }
        Ok(())
    }

    fn chosen<'t>(&self, tags: &'t [InUse]) -> Result<&'t InUse, CliError> {
        match (self.tag.map(TagNumber), tags) {
            (Some(number), _) => {
                let found = tags.iter().find(|tag| tag.number == number);
                found.ok_or(CliError::TagOnNothing(number))
            }
            (None, []) => Err(CliError::NoTag),
            (None, [only]) => Ok(only),
            (None, several) => Err(CliError::WhichTag {
                count: several.len(),
            }),
        }
    }

    fn write(&self, tag: &InUse, file: &Path) -> Result<(), CliError> {
        let area = match self.lock_control {
            Some(value) => self.size.with_lock_control(value),
            None => self.size,
        };
        let on_tag = tag.text(area.text_budget())?;
        let bytes = area
            .write(&on_tag.text)
            .expect("the text was made for this budget");
        write_as_a_whole(file, &bytes).map_err(|reason| CliError::CantWrite {
            path: file.to_owned(),
            reason,
        })?;
        let (number, file, text) = (tag.number, file.display(), &on_tag.text);
        let left_out = left_out(&on_tag);
        let line = match self.conversation.json {
            true => {
                let file = file.to_string();
                json!({ "tag": number.0, "text": text, "left_out": left_out, "file": file })
                    .to_string()
            }
            false => {
                let left_out = match left_out.is_empty() {
                    true => "Nothing is left out.".to_owned(),
                    false => format!("Left out for want of room: {}.", left_out.join(", ")),
                };
                format!("Written to {file} for tag {number}: {text} {left_out}")
            }
        };
        Ok(write_line(&line)?)
    }
}

impl InUse {
    fn text(&self, budget: usize) -> Result<TagText, CliError> {
        tag_text(&self.facts, budget).map_err(|reason| CliError::TagTooSmall {
            tag: self.number,
            reason,
        })
    }
}

/// The tags that are on something, by number.
fn in_use(stock: &Stock) -> Result<Vec<InUse>, StockError> {
    let mut in_use = Vec::new();
    for PoolTag {
        number,
        kind,
        state,
    } in stock.pool()?
    {
        let TagState::On(item) = state else {
            continue;
        };
        let facts = match kind {
            TagKind::Temporary => stock.tag(number)?.as_ref().map(temporary_tag_facts),
            TagKind::Kitchen => match stock.lot_of_tag(number)? {
                Some(lot) => Some(tag_facts(&lot, &stock.facts(&item)?)),
                None => None,
            },
            TagKind::Reminder => Some(reminder_facts(&item)),
        };
        in_use.extend(facts.map(|facts| InUse { number, facts }));
    }
    Ok(in_use)
}

/// What isn't on the tag, in words.
fn left_out(on_tag: &TagText) -> Vec<&'static str> {
    // Directions stand last, and the text says so where only some of their steps are there.
    let goes_on = on_tag.text.ends_with(" And more.");
    let words = |need: &Need| match need {
        Need::Name => "what it is",
        Need::Caution => "a caution",
        Need::Date => "a date",
        Need::Directions if goes_on => "the rest of the directions",
        Need::Directions => "the directions",
        Need::Quantity => "how much there is",
        Need::Marks => "its mark",
        Need::Place => "its place",
    };
    on_tag.left_out.iter().map(words).collect()
}

/// Writes a file so that at any time either all of the new one is there, or the old one as it was.
fn write_as_a_whole(file: &Path, bytes: &[u8]) -> io::Result<()> {
    let file = match file.metadata() {
        // A device would be replaced by a file.
        Ok(found) if !found.is_file() => return Err(io::Error::other("it isn't a plain file")),
        // A link to a file stays one.
        Ok(_) => file.canonicalize()?,
        Err(error) if error.kind() == io::ErrorKind::NotFound => file.to_owned(),
        Err(error) => return Err(error),
    };
    let beside = file.with_extension(format!("{}.part", std::process::id()));
    let mut part = File::create_new(&beside)?;
    let written = part
        .write_all(bytes)
        .and_then(|()| part.sync_all())
        .and_then(|()| fs::rename(&beside, &file));
    if written.is_err() {
        // It may be gone already, and what went wrong first is what counts.
        let _ = fs::remove_file(&beside);
    }
    written
}

/// Reads the size of a data area, in bytes.
fn parse_size(text: &str) -> Result<TypeTwo, String> {
    let bytes = text.parse::<usize>().ok();
    let steps = bytes.filter(|bytes| bytes.is_multiple_of(8));
    let steps = steps.and_then(|bytes| u8::try_from(bytes / 8).ok());
    let tag = steps.and_then(TypeTwo::new);
    tag.ok_or_else(|| "a tag's size is a multiple of 8 bytes, from 48 to 2040".to_owned())
}

/// Reads three bytes in hexadecimal, with or without spaces.
fn parse_lock_control(text: &str) -> Result<[u8; 3], String> {
    let digits: Option<Vec<u8>> = text
        .chars()
        .filter(|c| *c != ' ')
        .map(|c| c.to_digit(16).and_then(|digit| u8::try_from(digit).ok()))
        .collect();
    match digits.as_deref() {
        Some([a, b, c, d, e, f]) => Ok([a << 4 | b, c << 4 | d, e << 4 | f]),
        _ => Err("write the three bytes after 01 03 as six digits, as in A00C34".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_that_are_there_in_part_are_told_so() {
        let facts = [
            (Need::Name, "oats"),
            (Need::Directions, "Boil. Stir them well."),
        ];
        let facts = facts.map(|(need, words)| Fact::new(need, words).unwrap());
        let told = |budget| left_out(&tag_text(&facts, budget).unwrap());
        assert!(told("Oats. Boil. Stir them well.".len()).is_empty());
        assert_eq!(
            told("Oats. Boil. And more.".len()),
            ["the rest of the directions"]
        );
        assert_eq!(told("Oats.".len()), ["the directions"]);
    }

    #[test]
    fn only_sizes_that_a_tag_can_have_are_taken() {
        assert_eq!(parse_size("48"), Ok(TypeTwo::new(6).unwrap()));
        assert_eq!(parse_size("2040"), Ok(TypeTwo::new(255).unwrap()));
        for text in ["0", "40", "47", "100", "2048", "-144", "144.0", "", "big"] {
            assert!(parse_size(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_lock_control_is_three_bytes() {
        assert_eq!(parse_lock_control("a00c34"), Ok([0xA0, 0x0C, 0x34]));
        assert_eq!(parse_lock_control("A0 0C 34"), Ok([0xA0, 0x0C, 0x34]));
        for text in ["", "A00C3", "A00C344", "0103A00C34", "A00C3G", "+A00C3"] {
            assert!(parse_lock_control(text).is_err(), "{text}");
        }
    }
}
