//! A text as the bytes of an NFC tag, which any phone reads aloud by itself.

/// The language of what is written to tags, as in BCP 47.
const LANGUAGE: &str = "en";

/// First byte of a record: the message begins and ends here, and its type is a well-known one.
const ONLY_RECORD: u8 = 0x80 | 0x40 | 0x01;
/// The length of the payload takes one byte.
const SHORT_RECORD: u8 = 0x10;
/// The type of a Text record.
const TEXT: u8 = b'T';

/// Types of the blocks in a tag's data area.
const LOCK_CONTROL_TLV: u8 = 0x01;
const NDEF_TLV: u8 = 0x03;
const TERMINATOR_TLV: u8 = 0xFE;
/// Where a length of one byte would stand: two more follow.
const LONG_TLV: u8 = 0xFF;

/// Bytes that one step of the size in a tag's capability container stands for.
const SIZE_STEP: usize = 8;
/// The smallest data area, of 48 bytes, in those steps (Type 2 Tag Operation 1.1; from memory).
const SMALLEST: u8 = 0x06;

/// An NDEF message of one Text record, in UTF-8.
///
/// Source: NFC Forum, Text Record Type Definition 1.0, and NDEF 1.0.
///
/// # Panics
/// If the language isn't a code of 1 to 63 ASCII characters, such as "en" or "en-US".
///
/// ```
/// use tellshelf::share::text_record;
/// let record = text_record("en", "café");
/// assert_eq!(record, b"\xD1\x01\x08T\x02encaf\xC3\xA9");
/// ```
pub fn text_record(language: &str, text: &str) -> Vec<u8> {
    let length = u8::try_from(language.len()).unwrap_or(u8::MAX);
    assert!(
        (1..=63).contains(&length) && language.is_ascii(),
        "{language:?} is no language code"
    );
    // The status byte: bit 7 is 0 for UTF-8, and the length of the language code follows.
    let payload = [&[length], language.as_bytes(), text.as_bytes()].concat();
    let head = match u8::try_from(payload.len()) {
        Ok(length) => vec![ONLY_RECORD | SHORT_RECORD, 1, length, TEXT],
        Err(_) => {
            let length = u32::try_from(payload.len()).expect("a text is shorter than 4 GiB");
            [&[ONLY_RECORD, 1][..], &length.to_be_bytes(), &[TEXT]].concat()
        }
    };
    [head, payload].concat()
}

/// An NFC Forum Type 2 Tag: the cheap stickers and cards.
///
/// ```
/// use tellshelf::share::TypeTwo;
/// let sticker = TypeTwo::new(0x12).unwrap();
/// assert_eq!(sticker.text_budget(), 134);
/// let bytes = sticker.write("elephant").unwrap();
/// assert_eq!(bytes, b"\x03\x0F\xD1\x01\x0BT\x02enelephant\xFE");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TypeTwo {
    /// Size of the data area in bytes.
    area: usize,
    /// What stands in the Lock Control TLV, where the tag has one.
    lock_control: Option<[u8; 3]>,
}

/// A text that takes more bytes than the tag has for one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("The text takes {bytes} bytes, and the tag has room for {budget}")]
pub struct TooLong {
    /// What the text takes, in UTF-8.
    pub bytes: usize,
    /// What there is room for.
    pub budget: usize,
}

impl TypeTwo {
    /// A tag whose data area has this size, in steps of 8 bytes: byte 2 of its capability container. `None` under 6:
    /// there is no Type 2 Tag so small.
    pub fn new(size: u8) -> Option<Self> {
        (size >= SMALLEST).then_some(Self {
            area: usize::from(size) * SIZE_STEP,
            lock_control: None,
        })
    }

    /// The same tag, with this Lock Control TLV: the three bytes after `01 03` at the start of its data area.
    ///
    /// A tag delivered with one must keep it, byte for byte: it says where the tag's lock bits are, which depends on
    /// the chip (`A0 0C 34` on some of 144 bytes), so they are read from the tag and never made up.
    ///
    /// ```
    /// use tellshelf::share::TypeTwo;
    /// let sticker = TypeTwo::new(0x12).unwrap().with_lock_control([0xA0, 0x0C, 0x34]);
    /// assert_eq!(sticker.text_budget(), 129);
    /// assert!(sticker.write("oats").unwrap().starts_with(b"\x01\x03\xA0\x0C\x34\x03"));
    /// ```
    pub fn with_lock_control(self, value: [u8; 3]) -> Self {
        Self {
            lock_control: Some(value),
            ..self
        }
    }

    /// How many bytes of UTF-8 the text may take.
    pub fn text_budget(&self) -> usize {
        // What is around the text grows with it, in steps, to 20 bytes at most: the longest that fits is soon found
        // from above. The smallest tag has room for 33 bytes.
        let fits = |bytes: &usize| self.data_area(&" ".repeat(*bytes)).len() <= self.area;
        (0..self.area).rev().find(fits).unwrap_or_default()
    }

    /// The start of the data area with this text on it: the Lock Control TLV if there is one, the message, and the
    /// terminator. What the tag has behind that is never read, and may stay.
    ///
    /// # Errors
    /// [`TooLong`] if it doesn't fit. Nothing is cut off: what a tag leaves out is for
    /// [`tag_text`](super::tag_text()) to choose.
    pub fn write(&self, text: &str) -> Result<Vec<u8>, TooLong> {
        let (bytes, budget) = (text.len(), self.text_budget());
        if bytes > budget {
            return Err(TooLong { bytes, budget });
        }
        Ok(self.data_area(text))
    }

    /// The same, whether or not it fits.
    fn data_area(&self, text: &str) -> Vec<u8> {
        let mut area = Vec::new();
        if let Some(value) = self.lock_control {
            area.extend([LOCK_CONTROL_TLV, 3]);
            area.extend(value);
        }
        let message = text_record(LANGUAGE, text);
        area.push(NDEF_TLV);
        match u8::try_from(message.len()) {
            Ok(length) if length < LONG_TLV => area.push(length),
            _ => {
                let length = u16::try_from(message.len()).expect("no tag is so large");
                area.push(LONG_TLV);
                area.extend(length.to_be_bytes());
            }
        }
        area.extend(message);
        area.push(TERMINATOR_TLV);
        area
    }
}
