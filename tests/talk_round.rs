//! The whole round in an invented household, over three weeks: from the shelf to the store and back.
//!
//! `tests/round/story.txt` is meant to be read by a person. Each line that begins with `>` is said, each that begins
//! with `<` is the reply, and what stands behind `|` is what the stock holds at the end of a part.

mod round;

use round::{Step, Story, retold};

#[test]
fn the_story_is_told_as_it_is_written() {
    let story = Story::read();
    let told = retold(&story, |_, _| None);
    if told != story.text {
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("story.txt");
        std::fs::write(&path, &told).unwrap();
        let lines = told.lines().zip(story.text.lines());
        let first = lines.enumerate().find(|(_, (now, written))| now != written);
        panic!("told otherwise, as in {}: {first:#?}", path.display());
    }
}

#[test]
fn the_story_is_long_enough_and_changes_what_it_should() {
    let story = Story::read();
    assert!(story.said().count() >= 60);
    let mut days = story.steps.iter().filter_map(|step| match step {
        Step::Part(time, _) => Some(time.date()),
        Step::Said(_) => None,
    });
    let (first, last) = (days.next().unwrap(), days.next_back().unwrap());
    assert!((last - first).num_days() >= 20);
}
