//! The told story once more, with three of four lines spoken: real sound, several voices, the real recogniser.

mod round;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use round::{Story, retold};
use tellshelf::cli::Hearing;
use tellshelf::ear::{Models, read_recording};
use tellshelf::grammar::Grammar;
use tellshelf::stock::Source;

/// The recordings, by the number of the line that each speaks.
fn recordings() -> BTreeMap<usize, PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("audio-fixtures/round");
    let files = std::fs::read_dir(folder).unwrap();
    let files = files.map(|file| file.unwrap().path());
    let numbered = files.map(|path| {
        let name = path.file_name().unwrap().to_str().unwrap();
        (name[..3].parse().unwrap(), path)
    });
    numbered.collect()
}

/// What is asked about is confirmed, as a person would who is asked whether they said what they said. A line that is
/// taken for another makes the story go another way.
#[test]
fn most_of_the_story_is_heard_as_it_is_written() {
    let story = Story::read();
    let recordings = recordings();
    assert!(2 * recordings.len() >= story.said().count());
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let grammar = Grammar::load(&root.join("grammars/en.yaml")).unwrap();
    let models = Models::in_folder(root.join("models"));
    let mut hearing = Hearing::open(&models, None, &grammar).unwrap();
    let (mut asked, mut lost) = (Vec::new(), Vec::new());
    let said: Vec<&str> = story.said().collect();
    let told = retold(&story, |session, (number, now)| {
        let file = recordings.get(&number)?;
        let acceptor = session.acceptor();
        let sound = read_recording(file).unwrap();
        let settled = hearing
            .hear(&sound, &acceptor, |heard| session.settle(heard, now))
            .unwrap();
        let meant = session.understand(&[said[number - 1]], now);
        let command = |understood: &tellshelf::grammar::Understanding| {
            let command = understood.command.as_ref()?;
            Some((command.intent.clone(), command.slots.clone()))
        };
        if command(&settled.understanding) != command(&meant) {
            let heard = &settled.understanding.heard;
            lost.push(format!("{number} {}: {heard}", said[number - 1]));
            return None;
        }
        let turn = session.answer(settled.understanding, now, Source::Recording);
        if turn.reply.starts_with("Did you say") {
            asked.push(said[number - 1].to_owned());
            return Some(session.hear(&["yes"], now, Source::Typed));
        }
        Some(turn)
    });
    let mut lines = told.lines().zip(story.text.lines());
    let first = lines.find(|(now, written)| now != written);
    println!(
        "{} heard, {} of them asked about: {asked:#?}",
        recordings.len() - lost.len(),
        asked.len()
    );
    println!("{} not heard, and typed: {lost:#?}", lost.len());
    assert_eq!(first, None);
    assert!(
        2 * (recordings.len() - lost.len()) >= story.said().count(),
        "{lost:#?}"
    );
}
