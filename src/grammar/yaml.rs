//! YAML as a small tree in which every text knows its line, for errors that say where to mend.
//!
//! serde_yaml tells a place only inside its errors. So a text is read by a visitor that keeps it and
//! then fails on purpose: the error it gets back has the line, and reading goes on behind the text.

use std::convert::Infallible;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

use super::error::Fault;
use super::file::MAX_FILE;

/// A place in a YAML file.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Node {
    /// Nothing behind a colon, or `null`.
    Nothing(usize),
    /// A text, number or truth value as text, with its line.
    Text(String, usize),
    List(Vec<Node>),
    Map(Vec<(Node, Node)>),
}

impl Node {
    /// The line of the first text in it, where there is one.
    pub fn line(&self) -> Option<usize> {
        match self {
            Self::Nothing(line) | Self::Text(_, line) => Some(*line),
            Self::List(nodes) => nodes.iter().find_map(Self::line),
            Self::Map(entries) => entries.iter().find_map(|(key, _)| key.line()),
        }
    }
}

/// The YAML reader needs time in the square of how deep lists in brackets are nested, and refuses
/// more than 128 levels only once it has gone through all of them. So a long file is first looked
/// into by steps of this many bytes.
const STEP: usize = 1 << 15;

/// Reads a file of at most [`MAX_FILE`] bytes; else the fault with its line (0: of the whole file).
pub(super) fn read(text: &str) -> Result<Node, (usize, Fault)> {
    let limit = MAX_FILE;
    if text.len() > limit {
        let what = "the file's size in bytes";
        return Err((0, Fault::TooLarge { what, limit }));
    }
    for end in (STEP..text.len()).step_by(STEP) {
        // The beginning of a good file is seldom good YAML; but what is too much in it stays so.
        match read_whole(&text[..text.floor_char_boundary(end)]) {
            Err((line, Fault::Yaml(error))) if error.contains("limit exceeded") => {
                return Err((line, Fault::Yaml(error)));
            }
            Err((line, fault @ Fault::TooLarge { .. })) => return Err((line, fault)),
            _ => {}
        }
    }
    read_whole(text)
}

fn read_whole(text: &str) -> Result<Node, (usize, Fault)> {
    // A file has no more nodes than bytes, and no more text, unless aliases repeat a part of it.
    let mut left = 2 * MAX_FILE;
    let node = Read { left: &mut left }.deserialize(serde_yaml::Deserializer::from_str(text));
    if left == 0 {
        let what = "the file's size in bytes, aliases written out";
        let limit = MAX_FILE;
        return Err((0, Fault::TooLarge { what, limit }));
    }
    node.map_err(|error| {
        let line = error.location().map_or(0, |place| place.line());
        let mut message = error.to_string();
        if message.contains("did not find expected") {
            message.push_str(". An expansion that begins with a bracket needs quotes around it");
        }
        (line, Fault::Yaml(message))
    })
}

/// Reads one node, as long as there are bytes left.
struct Read<'l> {
    left: &'l mut usize,
}

impl<'de> DeserializeSeed<'de> for Read<'_> {
    type Value = Node;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Node, D::Error> {
        *self.left = self.left.saturating_sub(1);
        if *self.left == 0 {
            return Err(D::Error::custom("it is too large"));
        }
        let mut found = None;
        let visitor = Collect {
            left: self.left,
            found: &mut found,
        };
        match deserializer.deserialize_any(visitor) {
            Ok(node) => Ok(node),
            Err(error) => match found {
                Some(text) => Ok(text.on_line(line_in(&error.to_string()))),
                None => Err(error),
            },
        }
    }
}

/// The line that an error of serde_yaml ends with: "… at line 3 column 5". The very first place of
/// a file is left out there.
fn line_in(error: &str) -> usize {
    let place = error.rsplit_once(" at line ").map(|(_, place)| place);
    let line = place.and_then(|place| place.split(' ').next()?.parse().ok());
    line.unwrap_or(1)
}

/// A text whose line isn't known yet.
enum Found {
    Nothing,
    Text(String),
}

impl Found {
    fn on_line(self, line: usize) -> Node {
        match self {
            Self::Nothing => Node::Nothing(line),
            Self::Text(text) => Node::Text(text, line),
        }
    }
}

struct Collect<'l> {
    left: &'l mut usize,
    found: &'l mut Option<Found>,
}

impl Collect<'_> {
    /// Keeps what was found, and fails for the sake of its line.
    fn keep<E: Error>(self, found: Found) -> Result<Infallible, E> {
        if let Found::Text(text) = &found {
            *self.left = self.left.saturating_sub(text.len());
        }
        *self.found = Some(found);
        Err(E::custom(""))
    }

    fn text<E: Error>(self, text: impl ToString) -> Result<Node, E> {
        self.keep(Found::Text(text.to_string()))
            .map(|never| match never {})
    }
}

impl<'de> Visitor<'de> for Collect<'_> {
    type Value = Node;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a text, a list, or names with values")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Node, E> {
        self.text(text)
    }

    fn visit_bool<E: Error>(self, truth: bool) -> Result<Node, E> {
        self.text(truth)
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Node, E> {
        self.text(number)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Node, E> {
        self.text(number)
    }

    fn visit_u128<E: Error>(self, number: u128) -> Result<Node, E> {
        self.text(number)
    }

    fn visit_i128<E: Error>(self, number: i128) -> Result<Node, E> {
        self.text(number)
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Node, E> {
        self.text(number)
    }

    fn visit_unit<E: Error>(self) -> Result<Node, E> {
        self.keep(Found::Nothing).map(|never| match never {})
    }

    fn visit_none<E: Error>(self) -> Result<Node, E> {
        self.visit_unit()
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Node, A::Error> {
        let mut nodes = Vec::new();
        while let Some(node) = list.next_element_seed(Read { left: self.left })? {
            nodes.push(node);
        }
        Ok(Node::List(nodes))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
        let mut entries = Vec::new();
        while let Some(key) = map.next_key_seed(Read { left: self.left })? {
            let value = map.next_value_seed(Read { left: self.left })?;
            entries.push((key, value));
        }
        Ok(Node::Map(entries))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(text: &str, line: usize) -> Node {
        Node::Text(text.to_owned(), line)
    }

    #[test]
    fn every_text_has_its_line() {
        let yaml =
            "# first\na: 12\nb:\n  - x\n\n  - [y, true,\n     z]\nc: >-\n  folded\n  text\nd:\n";
        let list = vec![
            text("x", 4),
            Node::List(vec![text("y", 6), text("true", 6), text("z", 7)]),
        ];
        let map = vec![
            (text("a", 2), text("12", 2)),
            (text("b", 3), Node::List(list)),
            (text("c", 8), text("folded text", 8)),
            (text("d", 11), Node::Nothing(11)),
        ];
        assert_eq!(read(yaml), Ok(Node::Map(map)));
    }

    #[test]
    fn an_alias_stands_where_its_text_was_written() {
        let list = vec![text("x", 1), text("y", 2), text("x", 1)];
        assert_eq!(read("- &a x\n- y\n- *a\n"), Ok(Node::List(list)));
    }

    #[test]
    fn aliases_that_multiply_are_refused() {
        let many = format!("- &a [{}]\n{}", "x,".repeat(2_000), "- *a\n".repeat(2_000));
        assert!(matches!(read(&many), Err((0, Fault::TooLarge { .. }))));
    }
}
