//! NFC tags against worked examples, and against ndeflib, whose bytes stand in a table that
//! `tests/data/share/make-ndef.py` writes, with its version.

use tellshelf::share::{TooLong, TypeTwo, text_record};

/// The Lock Control TLV that some tags of 144 bytes are delivered with, by their data sheet.
const LOCK_CONTROL: [u8; 3] = [0xA0, 0x0C, 0x34];

fn bytes(hex: &str) -> Vec<u8> {
    let digits: Vec<u8> = hex
        .chars()
        .filter_map(|c| c.to_digit(16))
        .map(|digit| digit as u8)
        .collect();
    assert_eq!(digits.len() % 2, 0, "{hex}");
    digits
        .chunks_exact(2)
        .map(|pair| pair[0] << 4 | pair[1])
        .collect()
}

/// Every tag there may be: each size that one byte can say, with and without a Lock Control TLV.
fn tags() -> impl Iterator<Item = (usize, TypeTwo)> {
    let sizes = (0..=u8::MAX).filter_map(|size| Some((usize::from(size) * 8, TypeTwo::new(size)?)));
    sizes.flat_map(|(area, tag)| [(area, tag), (area, tag.with_lock_control(LOCK_CONTROL))])
}

/// From a dump in a chip maker's forum, and by hand from the Text Record Type Definition 1.0.
#[test]
fn the_worked_examples_are_written() {
    let elephant = bytes("D1 01 0B 54 02 65 6E 65 6C 65 70 68 61 6E 74");
    assert_eq!(text_record("en", "elephant"), elephant);
    assert_eq!(
        text_record("en", "café"),
        bytes("D1 01 08 54 02 65 6E 63 61 66 C3 A9")
    );
    let tag = TypeTwo::new(0x12).unwrap();
    let on_tag = [bytes("03 0F"), elephant, bytes("FE")].concat();
    assert_eq!(tag.write("elephant"), Ok(on_tag.clone()));
    let with_lock = [bytes("01 03 A0 0C 34"), on_tag].concat();
    let tag = tag.with_lock_control(LOCK_CONTROL);
    assert_eq!(tag.write("elephant"), Ok(with_lock));
    // Over 252 bytes with "en" the length takes four bytes: 256 = 1 + 2 + 253.
    let long = text_record("en", &"x".repeat(253));
    assert_eq!(long[..9], bytes("C1 01 00 00 01 00 54 02 65"));
}

#[test]
fn records_are_those_of_ndeflib() {
    let lines = include_str!("data/share/ndef.tsv").lines();
    let rows: Vec<Vec<&str>> = lines
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split('\t').collect())
        .collect();
    assert!(rows.len() >= 50);
    for row in rows {
        let text = String::from_utf8(bytes(row[1])).unwrap();
        assert_eq!(
            text_record(row[0], &text),
            bytes(row[2]),
            "{} {text}",
            row[0]
        );
    }
}

/// Size byte, data area, bytes of text, the same with a Lock Control TLV: worked out by hand from the formats.
#[test]
fn the_budget_is_that_of_the_table() {
    for (size, area, text, with_lock) in [
        (0x06, 48, 38, 33),
        (0x10, 128, 118, 113),
        (0x12, 144, 134, 129),
        (0x3E, 496, 481, 476),
        (0x6D, 872, 857, 852),
        (0x6F, 888, 873, 868),
        (0xFF, 2040, 2025, 2020),
    ] {
        assert_eq!(usize::from(size) * 8, area);
        let tag = TypeTwo::new(size).unwrap();
        assert_eq!(tag.text_budget(), text, "{area}");
        let tag = tag.with_lock_control(LOCK_CONTROL);
        assert_eq!(tag.text_budget(), with_lock, "{area}");
    }
    for too_small in 0..6 {
        assert_eq!(TypeTwo::new(too_small), None);
    }
}

/// Reads the blocks of a data area as a phone does, up to the terminator, which must be its last byte.
fn blocks(mut area: &[u8]) -> Vec<(u8, &[u8])> {
    let mut blocks = Vec::new();
    loop {
        let (length, rest) = match area {
            [0xFE] => return blocks,
            [_, 0xFF, high, low, rest @ ..] => {
                let length = u16::from_be_bytes([*high, *low]);
                assert!(length >= 0xFF, "a short length was written long");
                (usize::from(length), rest)
            }
            [_, length, rest @ ..] => (usize::from(*length), rest),
            _ => panic!("no terminator"),
        };
        blocks.push((area[0], &rest[..length]));
        area = &rest[length..];
    }
}

#[test]
fn a_text_up_to_the_budget_is_there_in_full_on_any_tag() {
    for (size, tag) in tags() {
        let budget = tag.text_budget();
        for length in [0, 1, 247, 248, 252, 253, budget - 1, budget] {
            let text = "x".repeat(length.min(budget));
            let area = tag.write(&text).unwrap();
            assert!(area.len() <= size, "{length} bytes on {tag:?}");
            let mut blocks = blocks(&area);
            assert_eq!(
                blocks.pop(),
                Some((0x03, text_record("en", &text).as_slice()))
            );
            let lock_is_kept = blocks.is_empty() || blocks == [(0x01, LOCK_CONTROL.as_slice())];
            assert!(lock_is_kept, "{blocks:?}");
        }
    }
}

/// One byte more wouldn't fit: around the text there are at least 10 bytes, two more for a message of over 254, three
/// for a payload of over 255, and five for the Lock Control TLV.
#[test]
fn a_byte_over_the_budget_is_refused_and_would_not_fit() {
    for (size, tag) in tags() {
        let budget = tag.text_budget();
        let bytes = budget + 1;
        let text = "x".repeat(bytes);
        assert_eq!(tag.write(&text), Err(TooLong { bytes, budget }));
        let lock = tag.write("").unwrap().len() - 10;
        let around = match bytes {
            0..=247 => 10,
            248..=252 => 12,
            _ => 15,
        };
        assert!(lock + around + bytes > size, "{tag:?}");
    }
}

#[test]
fn bytes_are_counted_and_not_characters() {
    let tag = TypeTwo::new(0x06).unwrap();
    assert!(tag.write(&"é".repeat(19)).is_ok());
    let refused = tag.write(&"é".repeat(20)).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "The text takes 40 bytes, and the tag has room for 38"
    );
}

#[test]
#[should_panic(expected = "is no language code")]
fn a_language_too_long_for_its_six_bits_is_a_mistake_of_the_program() {
    text_record(&"x".repeat(64), "oats");
}
