//! Protocol-buffer messages as lists of fields: what isn't changed is written as it was read.
//!
//! A model file is read, a few parts of it are changed, and it is written again. With the messages
//! declared one by one, a field that this program doesn't know would be lost.
//! Source: the encoding as the Protocol Buffers documentation describes it.

/// The value of a field, by its wire type.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Field {
    Varint(u64),
    Fixed64([u8; 8]),
    Bytes(Vec<u8>),
    Fixed32([u8; 4]),
}

/// A message: its fields with their numbers, in the order of the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Message(pub Vec<(u32, Field)>);

impl Message {
    /// Reads a message; `None` where the bytes aren't one.
    pub fn parse(mut bytes: &[u8]) -> Option<Self> {
        let mut fields = Vec::new();
        while !bytes.is_empty() {
            let key = take_varint(&mut bytes)?;
            let field = match key & 7 {
                0 => Field::Varint(take_varint(&mut bytes)?),
                1 => Field::Fixed64(take(&mut bytes, 8)?.try_into().ok()?),
                2 => {
                    let length = take_varint(&mut bytes)?.try_into().ok()?;
                    Field::Bytes(take(&mut bytes, length)?.to_vec())
                }
                5 => Field::Fixed32(take(&mut bytes, 4)?.try_into().ok()?),
                _ => return None,
            };
            fields.push((u32::try_from(key >> 3).ok()?, field));
        }
        Some(Self(fields))
    }

    /// The message as bytes.
    pub fn bytes(&self) -> Vec<u8> {
        let mut out = Vec::new();
        for (number, field) in &self.0 {
            let wire = match field {
                Field::Varint(_) => 0,
                Field::Fixed64(_) => 1,
                Field::Bytes(_) => 2,
                Field::Fixed32(_) => 5,
            };
            put_varint(u64::from(*number) << 3 | wire, &mut out);
            match field {
                Field::Varint(n) => put_varint(*n, &mut out),
                Field::Fixed64(bytes) => out.extend(bytes),
                Field::Fixed32(bytes) => out.extend(bytes),
                Field::Bytes(bytes) => {
                    put_varint(bytes.len() as u64, &mut out);
                    out.extend(bytes);
                }
            }
        }
        out
    }

    /// The values of a field of bytes, texts or messages.
    pub fn all(&self, number: u32) -> impl Iterator<Item = &[u8]> {
        self.0.iter().filter_map(move |(n, field)| match field {
            Field::Bytes(bytes) if *n == number => Some(bytes.as_slice()),
            _ => None,
        })
    }

    /// The values of a field as texts.
    pub fn texts(&self, number: u32) -> Vec<String> {
        let texts = self.all(number);
        texts
            .map(|bytes| String::from_utf8_lossy(bytes).into_owned())
            .collect()
    }

    /// The value of a field that is there once, as text; empty where it isn't.
    pub fn text(&self, number: u32) -> String {
        self.texts(number).pop().unwrap_or_default()
    }

    /// The same message with one more field.
    #[must_use]
    pub fn with(mut self, number: u32, bytes: impl Into<Vec<u8>>) -> Self {
        self.0.push((number, Field::Bytes(bytes.into())));
        self
    }

    /// Sets a field that is there once.
    pub fn set(&mut self, number: u32, field: Field) {
        self.0.retain(|(n, _)| *n != number);
        self.0.push((number, field));
    }
}

fn take<'b>(bytes: &mut &'b [u8], length: usize) -> Option<&'b [u8]> {
    let (head, rest) = bytes.split_at_checked(length)?;
    *bytes = rest;
    Some(head)
}

fn take_varint(bytes: &mut &[u8]) -> Option<u64> {
    let mut n = 0;
    for shift in (0..64).step_by(7) {
        let byte = take(bytes, 1)?[0];
        n |= u64::from(byte & 127) << shift;
        if byte < 128 {
            return Some(n);
        }
    }
    None
}

fn put_varint(mut n: u64, out: &mut Vec<u8>) {
    while n > 127 {
        out.push(n as u8 | 128);
        n >>= 7;
    }
    out.push(n as u8);
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The documentation's own examples: field 1 as 150, and field 2 as "testing".
    #[test]
    fn the_examples_of_the_documentation_are_read() {
        let number = Message::parse(&[0x08, 0x96, 0x01]).unwrap();
        assert_eq!(number.0, [(1, Field::Varint(150))]);
        let text = Message::parse(b"\x12\x07testing").unwrap();
        assert_eq!(text.text(2), "testing");
    }

    #[test]
    fn what_is_cut_off_is_no_message() {
        assert_eq!(Message::parse(b"\x12\x07test"), None);
        assert_eq!(Message::parse(&[0x08, 0x96]), None);
    }

    proptest! {
        #[test]
        fn any_bytes_are_read_without_harm(bytes: Vec<u8>) {
            if let Some(message) = Message::parse(&bytes) {
                prop_assert_eq!(Message::parse(&message.bytes()), Some(message));
            }
        }
    }
}
