//! How a new name was said: kept only if that is allowed, played back, and lost for good.

use std::path::Path;

use chrono::{NaiveDate, NaiveDateTime};
use tellshelf::grammar::Grammar;
use tellshelf::stock::{Clip, ItemName, Source, Stock};
use tellshelf::talk::Session;

fn now() -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    day.and_hms_opt(10, 0, 0).unwrap()
}

fn open(file: &Path) -> Session {
    let grammar = Grammar::from_text("en.yaml", include_str!("../grammars/en.yaml")).unwrap();
    Session::new(Stock::open(file).unwrap(), grammar).unwrap()
}

/// A sound that is found again in a file: nothing else has these samples in a row.
fn sound(mark: i16) -> Clip {
    Clip::new((0..8_000).map(|n| n ^ mark).collect())
}

/// Whether any file of the stock has the middle of a sound in it.
fn is_on_disk(folder: &Path, clip: &Clip) -> bool {
    let bytes: Vec<u8> = clip.samples()[1_000..1_100]
        .iter()
        .flat_map(|s| s.to_le_bytes())
        .collect();
    std::fs::read_dir(folder).unwrap().any(|file| {
        let file = std::fs::read(file.unwrap().path()).unwrap();
        file.windows(bytes.len()).any(|window| window == bytes)
    })
}

/// Says a line that sounded like that.
fn say(session: &mut Session, line: &str, clip: Clip) -> String {
    if session.keeps_sounds().unwrap() {
        session.overhear(clip);
    }
    session.hear(&[line], now(), Source::Microphone).reply
}

/// Allows that sounds are kept.
fn allow(session: &mut Session) {
    say(session, "remember how I say new names", sound(1));
    say(session, "yes", sound(1));
}

fn kept(session: &Session, name: &str) -> Option<Clip> {
    let name = ItemName::new(name).unwrap();
    session
        .stock()
        .sound_of(&name)
        .unwrap()
        .map(|(_, clip)| clip)
}

#[test]
fn nothing_is_kept_before_it_is_allowed() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    // Even if somebody hands the session a sound.
    session.overhear(sound(1));
    say(&mut session, "put two jars of zhoug on the list", sound(1));
    assert_eq!(kept(&session, "zhoug"), None);
    assert_eq!(
        say(&mut session, "how did I say zhoug", sound(2)),
        "No sound is kept of zhoug."
    );
    assert!(!is_on_disk(folder.path(), &sound(1)));
}

#[test]
fn a_new_name_is_kept_as_it_sounded_and_a_known_one_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    let asked = say(&mut session, "remember how I say new names", sound(1));
    assert_eq!(
        asked,
        "Keep the sound of each new name, on this machine only? Yes or no."
    );
    assert!(!session.keeps_sounds().unwrap());
    let allowed = say(&mut session, "yes", sound(1));
    assert_eq!(
        allowed,
        "From now on I keep how you say a new name. Ask: how did I say it."
    );
    say(&mut session, "put two jars of zhoug on the list", sound(2));
    say(&mut session, "put the milk on the list", sound(3));
    say(
        &mut session,
        "add three jars of zhoug to the fridge",
        sound(4),
    );
    assert_eq!(kept(&session, "zhoug"), Some(sound(2)));
    assert_eq!(kept(&session, "milk"), None);
    let turn = session.hear(&["how did I say zhoug"], now(), Source::Microphone);
    assert_eq!(
        turn.reply,
        "Zhoug, as you said it today: 0.5 seconds of sound."
    );
    assert_eq!(turn.sound, Some(sound(2)));
    // It is there the next time as well.
    drop(session);
    assert_eq!(
        kept(&open(&folder.path().join("stock.db")), "zhoug"),
        Some(sound(2))
    );
}

#[test]
fn what_is_kept_is_the_name_and_not_the_yes_to_a_question() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    allow(&mut session);
    let asked = say(&mut session, "I used up the zhoug", sound(2));
    assert!(asked.ends_with("Yes or no."), "{asked}");
    assert_eq!(kept(&session, "zhoug"), None);
    say(&mut session, "yes", sound(3));
    assert_eq!(kept(&session, "zhoug"), Some(sound(2)));
}

#[test]
fn an_undo_takes_the_sound_of_a_new_name_with_it_for_good() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    allow(&mut session);
    say(&mut session, "put two jars of zhoug on the list", sound(2));
    assert!(is_on_disk(folder.path(), &sound(2)));
    say(&mut session, "undo", sound(3));
    assert_eq!(kept(&session, "zhoug"), None);
    assert!(!is_on_disk(folder.path(), &sound(2)));
    // Said once more, it is kept once more.
    say(&mut session, "put two jars of zhoug on the list", sound(4));
    assert_eq!(kept(&session, "zhoug"), Some(sound(4)));
}

#[test]
fn what_puts_a_name_right_is_its_sound() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    allow(&mut session);
    say(&mut session, "put two jars of zoo on the list", sound(2));
    say(&mut session, "no I said zhoug", sound(3));
    let reply = say(&mut session, "yes", sound(4));
    assert_eq!(reply, "Not zoo. On the list: 2 jars of zhoug. A new name.");
    assert_eq!(kept(&session, "zhoug"), Some(sound(3)));
    assert!(!is_on_disk(folder.path(), &sound(2)));
}

#[test]
fn sounds_are_lost_for_good_only_when_that_is_confirmed() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    assert_eq!(
        say(&mut session, "forget how I said the names", sound(1)),
        "No sound is kept."
    );
    allow(&mut session);
    say(&mut session, "put two jars of zhoug on the list", sound(2));
    say(&mut session, "put two jars of amba on the list", sound(3));
    let question = "Lose 2 sounds? Undo can't bring that back. Yes or no.";
    assert_eq!(
        say(&mut session, "forget how I said the names", sound(4)),
        question
    );
    assert_eq!(
        say(&mut session, "no", sound(4)),
        "All right. Nothing changed."
    );
    assert_eq!(kept(&session, "zhoug"), Some(sound(2)));
    assert_eq!(
        say(&mut session, "forget how I said the names", sound(4)),
        question
    );
    assert_eq!(
        say(&mut session, "yes", sound(4)),
        "2 sounds lost for good."
    );
    for mark in [2, 3] {
        assert!(!is_on_disk(folder.path(), &sound(mark)));
    }
    say(&mut session, "undo", sound(4));
    assert_eq!(
        (kept(&session, "zhoug"), kept(&session, "amba")),
        (None, None)
    );
}

#[test]
fn what_is_no_longer_allowed_stays_until_it_is_forgotten() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    assert_eq!(
        say(&mut session, "don't remember how I say new names", sound(1)),
        "No sounds are kept."
    );
    allow(&mut session);
    say(&mut session, "put two jars of zhoug on the list", sound(2));
    assert_eq!(
        say(
            &mut session,
            "stop remembering how I say new names",
            sound(3)
        ),
        "No more sounds are kept. 1 sound still: to lose them, say forget how I said the names."
    );
    say(&mut session, "put two jars of amba on the list", sound(4));
    assert_eq!(
        (kept(&session, "zhoug"), kept(&session, "amba")),
        (Some(sound(2)), None)
    );
    // The permission is undone like anything else.
    say(&mut session, "undo", sound(5));
    say(&mut session, "undo", sound(5));
    assert!(session.keeps_sounds().unwrap());
}

/// Replayed from nothing, the ledger gives the same tables: it has no sound in it.
#[test]
fn the_ledger_has_no_sounds() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = open(&folder.path().join("stock.db"));
    allow(&mut session);
    say(&mut session, "put two jars of zhoug on the list", sound(2));
    let mut again = Stock::in_memory().unwrap();
    for (_, at, _, event) in session.stock().events().unwrap() {
        again.record(event, at, Source::Typed).unwrap();
    }
    assert_eq!(again.dump().unwrap(), session.stock().dump().unwrap());
    assert_eq!(again.sounds().unwrap(), 0);
    session.stock().check().unwrap();
}
