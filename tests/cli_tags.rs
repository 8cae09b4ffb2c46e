//! The tags that are on something, told as text and written as the bytes of NFC tags.

#[path = "common/kitchen.rs"]
mod kitchen;

use std::path::PathBuf;
use std::process::Output;

use kitchen::{Kitchen, objects, one_line, text};
use serde_json::json;

impl Kitchen {
    fn tags(&self, arguments: &[&str]) -> Output {
        self.command("tags").args(arguments).output().unwrap()
    }

    fn told(&self) -> Vec<String> {
        let output = self.tags(&[]);
        assert!(output.status.success(), "{output:?}");
        text(&output.stdout).lines().map(str::to_owned).collect()
    }

    fn tag_file(&self) -> PathBuf {
        self.folder().join("tag.bin")
    }

    /// Writes the tag's file, and gives what was said of that and the bytes.
    fn write(&self, arguments: &[&str]) -> (String, Vec<u8>) {
        let mut command = self.command("tags");
        let output = command.arg("--ndef").arg(self.tag_file()).args(arguments);
        let output = output.output().unwrap();
        assert!(output.status.success(), "{output:?}");
        assert!(output.stderr.is_empty(), "{output:?}");
        let said = text(&output.stdout);
        assert_eq!(said.lines().count(), 1, "{said}");
        let file = self.tag_file().display().to_string();
        let said = said.trim_end().replace(&file, "tag.bin");
        (said, std::fs::read(self.tag_file()).unwrap())
    }

    /// The one line that says why there is no file.
    fn refused(&self, arguments: &[&str]) -> String {
        let mut command = self.command("tags");
        let output = command.arg("--ndef").arg(self.tag_file()).args(arguments);
        let output = output.output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        assert!(output.stdout.is_empty(), "{output:?}");
        assert!(!self.tag_file().exists());
        one_line(&output).trim_end().to_owned()
    }
}

/// Oats with all that can be known of them.
fn oats() -> Kitchen {
    let kitchen = Kitchen::new();
    kitchen.say(&[
        "add one box of oats to the pantry, best by December second",
        "I opened the oats",
        "two bands on the oats",
        "the label of the oats says gluten",
        "the directions for the oats are boil ten minutes",
        "kitchen tag twelve on the oats",
    ]);
    kitchen
}

const OATS: &str = "Oats. Contains gluten. Best by December 2, 2026. Opened November 25, 2026. \
                    1 box. 2 bands. Pantry. Boil ten minutes.";

/// Reads the text as a phone does, by hand from the formats: the data area is blocks of a type, a length and a value;
/// the block of type 3 is one record, whose payload is a status byte, the language and the text.
fn read_back(mut area: &[u8]) -> String {
    let mut found = None;
    loop {
        match area {
            [0xFE] => break,
            [0x01, 3, _, _, _, rest @ ..] => area = rest,
            [0x03, 0xFF, high, low, rest @ ..] => {
                let length = u16::from_be_bytes([*high, *low]);
                let (message, rest) = rest.split_at(length.into());
                (found, area) = (Some(message), rest);
            }
            [0x03, length, rest @ ..] => {
                let (message, rest) = rest.split_at((*length).into());
                (found, area) = (Some(message), rest);
            }
            _ => panic!("no block: {area:X?}"),
        }
    }
    let payload = match found.expect("a message") {
        [0xD1, 1, length, b'T', payload @ ..] => {
            assert_eq!(payload.len(), usize::from(*length));
            payload
        }
        [0xC1, 1, a, b, c, d, b'T', payload @ ..] => {
            let length = u32::from_be_bytes([*a, *b, *c, *d]);
            assert_eq!(payload.len(), length as usize);
            payload
        }
        other => panic!("no Text record: {other:X?}"),
    };
    text(payload.strip_prefix(b"\x02en").expect("UTF-8 in English"))
}

#[test]
fn every_tag_that_is_on_something_is_told_by_number() {
    let kitchen = oats();
    kitchen.say(&[
        "temporary tag: two pounds of salmon, use by tomorrow",
        "reminder tag seven for the cumin",
        "the aspirin is a medicine",
        "yes",
        "add twenty aspirin to the bathroom",
        "kitchen tag nine on the aspirin",
    ]);
    assert_eq!(
        kitchen.told(),
        [
            "Tag 1: Salmon. 2 pounds. Use by November 26, 2026.",
            "Tag 7: Reminder for cumin.",
            "Tag 9: Aspirin. Medicine. Ask a pharmacist or read the label. Count: 20. Bathroom.",
            &format!("Tag 12: {OATS}"),
        ]
    );
}

#[test]
fn a_tag_says_the_same_on_every_day() {
    let kitchen = oats();
    let mut command = kitchen::tellshelf();
    command.args(["tags", "--at", "2026-12-01T08:00", "--db"]);
    let later = command.arg(kitchen.db()).output().unwrap();
    assert_eq!(text(&later.stdout), format!("Tag 12: {OATS}\n"));
}

#[test]
fn a_tag_that_came_off_is_not_told() {
    let kitchen = oats();
    kitchen.say(&["I used up the oats"]);
    assert_eq!(kitchen.told(), ["No tag is on anything."]);
    assert!(
        kitchen
            .refused(&[])
            .starts_with("No tag is on anything. Nothing was written. Put one on first"),
    );
    assert!(
        kitchen
            .refused(&["--tag", "12"])
            .starts_with("Tag 12 is on nothing. Nothing was written.")
    );
}

/// Worked out by hand from the formats: 5 bytes of text are a payload of 8 and a message of 12.
#[test]
fn the_bytes_are_those_of_a_tag_with_one_text() {
    let kitchen = Kitchen::new();
    kitchen.say(&["temporary tag oats"]);
    let (said, bytes) = kitchen.write(&[]);
    assert_eq!(
        said,
        "Written to tag.bin for tag 1: Oats. Nothing is left out."
    );
    let message = b"\xD1\x01\x08\x54\x02\x65\x6EOats.";
    assert_eq!(bytes, [b"\x03\x0C", &message[..], b"\xFE"].concat());
    let (_, bytes) = kitchen.write(&["--lock-control", "A0 0C 34"]);
    let with_lock = b"\x01\x03\xA0\x0C\x34\x03\x0C";
    assert_eq!(bytes, [&with_lock[..], message, b"\xFE"].concat());
}

#[test]
fn all_facts_are_on_a_tag_that_has_room() {
    let (said, bytes) = oats().write(&["--tag", "12", "--size", "496"]);
    assert_eq!(read_back(&bytes), OATS);
    assert_eq!(
        said,
        format!("Written to tag.bin for tag 12: {OATS} Nothing is left out.")
    );
}

#[test]
fn a_tag_too_small_for_all_says_what_is_left_out() {
    let (said, bytes) = oats().write(&["--size", "112"]);
    let on_tag = "Oats. Contains gluten. Best by December 2, 2026. Opened November 25, 2026. \
                  1 box. Boil ten minutes.";
    assert_eq!(read_back(&bytes), on_tag);
    assert!(bytes.len() <= 112);
    assert_eq!(
        said,
        format!(
            "Written to tag.bin for tag 12: {on_tag} Left out for want of room: its place, its mark."
        )
    );
    let (said, _) = oats().write(&["--size", "88"]);
    assert!(
        said.ends_with(
            "Opened November 25, 2026. \
             Left out for want of room: its place, its mark, how much there is, the directions."
        ),
        "{said}"
    );
}

#[test]
fn a_tag_too_small_for_what_keeps_a_person_well_is_not_written() {
    // By hand: "Oats." 5, "Contains gluten." 16, "Best by December 2, 2026." 25, "Opened November 25, 2026." 25, and
    // three spaces; around a text so short there are 10 bytes.
    assert_eq!(
        oats().refused(&["--size", "80"]),
        "Tag 12 is too small. The name, the dates and the cautions alone take 74 bytes, and there is room for 70. \
         Nothing was written. Take a larger tag, and give its size with --size."
    );
}

#[test]
fn of_several_tags_one_is_to_be_chosen() {
    let kitchen = oats();
    kitchen.say(&["temporary tag salmon"]);
    let line = kitchen.refused(&[]);
    assert!(
        line.starts_with("2 tags are on something. Nothing was written. Choose one with --tag."),
        "{line}"
    );
    let (said, bytes) = kitchen.write(&["--tag", "1"]);
    assert_eq!(read_back(&bytes), "Salmon.");
    assert!(
        said.starts_with("Written to tag.bin for tag 1: Salmon."),
        "{said}"
    );
}

#[test]
fn a_number_that_no_tag_has_is_refused() {
    let line = oats().refused(&["--tag", "3"]);
    assert_eq!(
        line,
        "Tag 3 is on nothing. Nothing was written. Run tellshelf tags to hear which are on something."
    );
}

#[test]
fn a_file_is_replaced_as_a_whole_and_nothing_is_left_beside_it() {
    let kitchen = oats();
    std::fs::write(kitchen.tag_file(), vec![b'x'; 1000]).unwrap();
    let link = kitchen.folder().join("link.bin");
    std::os::unix::fs::symlink(kitchen.tag_file(), &link).unwrap();
    let output = kitchen.tags(&["--size", "496", "--ndef", link.to_str().unwrap()]);
    assert!(output.status.success(), "{output:?}");
    assert!(link.is_symlink());
    assert_eq!(read_back(&std::fs::read(kitchen.tag_file()).unwrap()), OATS);
    let names = std::fs::read_dir(kitchen.folder()).unwrap();
    let names = names.map(|entry| text(entry.unwrap().file_name().as_encoded_bytes()));
    let mut names: Vec<String> = names.filter(|name| !name.starts_with("stock.db")).collect();
    names.sort();
    assert_eq!(names, ["link.bin", "tag.bin"]);
}

#[test]
fn what_is_refused_leaves_the_file_as_it_was() {
    let kitchen = oats();
    std::fs::write(kitchen.tag_file(), "before").unwrap();
    let file = kitchen.tag_file();
    for arguments in [["--tag", "3"], ["--size", "48"]] {
        let output = kitchen
            .command("tags")
            .args(arguments)
            .arg("--ndef")
            .arg(&file)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        assert_eq!(std::fs::read(&file).unwrap(), b"before");
    }
}

#[test]
fn a_file_that_cannot_be_written_is_said() {
    let kitchen = oats();
    let nowhere = kitchen.folder().join("nowhere/tag.bin");
    for (file, reason) in [
        (nowhere.to_str().unwrap(), "No such file or directory"),
        (kitchen.folder().to_str().unwrap(), "it isn't a plain file"),
        ("/dev/null", "it isn't a plain file"),
    ] {
        let output = kitchen.tags(&["--ndef", file]);
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        let line = one_line(&output);
        assert!(
            line.starts_with(&format!("I can't write {file}: {reason}")),
            "{line}"
        );
    }
}

#[test]
fn a_stock_that_is_not_there_is_said_and_not_made() {
    let kitchen = Kitchen::new();
    let output = kitchen.tags(&[]);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(one_line(&output).starts_with("There is no stock in "));
    assert!(!kitchen.db().exists());
}

#[test]
fn with_json_each_tag_is_an_object() {
    let kitchen = oats();
    let told = objects(&kitchen.tags(&["--json"]));
    assert_eq!(told, [json!({"tag": 12, "text": OATS})]);
    let file = kitchen.tag_file();
    let file = file.to_str().unwrap();
    let written = objects(&kitchen.tags(&["--json", "--size", "88", "--ndef", file]));
    assert_eq!(
        written,
        [json!({
            "tag": 12,
            "text": "Oats. Contains gluten. Best by December 2, 2026. Opened November 25, 2026.",
            "left_out": ["its place", "its mark", "how much there is", "the directions"],
            "file": file,
        })]
    );
    kitchen.say(&["I used up the oats"]);
    assert!(objects(&kitchen.tags(&["--json"])).is_empty());
}

#[test]
fn what_only_a_file_needs_is_wrong_usage_without_one() {
    let kitchen = oats();
    for arguments in [
        ["--tag", "12"],
        ["--size", "144"],
        ["--lock-control", "A00C34"],
    ] {
        let output = kitchen.tags(&arguments);
        assert_eq!(output.status.code(), Some(2), "{output:?}");
    }
    let file = kitchen.tag_file();
    let output = kitchen.tags(&["--size", "100", "--ndef", file.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(text(&output.stderr).contains("a multiple of 8 bytes, from 48 to 2040"));
    assert!(!file.exists());
}
