//! The settings file, as a person writes it.

use tellshelf::settings::{Patience, Percent, Rate, Replies, Settings, SettingsError};

fn read(text: &str) -> Result<Settings, SettingsError> {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("settings.yaml");
    std::fs::write(&path, text).unwrap();
    Settings::read(&path)
}

fn wrong(text: &str) -> (usize, String) {
    match read(text) {
        Err(SettingsError::Wrong { line, reason, .. }) => (line, reason),
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_is_left_out_is_as_usual() {
    assert_eq!(read("").unwrap(), Settings::default());
    assert_eq!(read("# nothing yet\n").unwrap(), Settings::default());
    let settings = read("speech:\n  words-a-minute: 320\n  replies: brief\n").unwrap();
    assert_eq!(settings.speech.words_a_minute, Rate::new(320).unwrap());
    assert_eq!(settings.speech.replies, Replies::Brief);
    assert_eq!(settings.speech.volume, Percent::MOST);
    assert_eq!(settings.listening, Settings::default().listening);
}

#[test]
fn a_file_that_was_written_reads_the_same() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("not/there/yet/settings.yaml");
    let mut settings = Settings::default();
    settings.tones.on = false;
    settings.speech.voice = Some("English (Scotland)".into());
    settings.listening.wake_phrase = "none".into();
    settings.listening.patience = Patience::Long;
    settings.write(&path).unwrap();
    assert_eq!(Settings::read(&path).unwrap(), settings);
    assert_eq!(settings.listening.phrase(), None);
}

#[test]
fn an_error_names_the_line_and_what_is_wrong() {
    let (line, reason) = wrong("speech:\n  volume: 80\n  words-a-minute: 30\n");
    assert_eq!(
        (line, reason.as_str()),
        (3, "speech.words-a-minute: 30 isn't from 120 to 550")
    );
    let (line, reason) = wrong("tones:\n  on: true\n  loudness: 3\n");
    assert_eq!(line, 3);
    assert!(reason.contains("loudness"), "{reason}");
    let (line, reason) = wrong("listening:\n  patience: endless\n");
    assert_eq!(line, 2);
    assert!(
        reason.contains("endless") && reason.contains("short"),
        "{reason}"
    );
    let (line, _) = wrong("speech:\n  volume: [\n");
    assert!(line >= 2);
}

#[test]
fn a_folder_in_its_place_is_said_to_be_unreadable() {
    let home = tempfile::tempdir().unwrap();
    let error = Settings::read(home.path()).unwrap_err();
    assert!(matches!(error, SettingsError::Unreadable { .. }), "{error}");
    let error = Settings::default().write(home.path()).unwrap_err();
    assert!(matches!(error, SettingsError::Unwritable { .. }), "{error}");
}

#[test]
fn steps_end_at_the_limits() {
    assert_eq!(Rate::new(540).unwrap().faster(), Rate::FASTEST);
    assert_eq!(Rate::new(121).unwrap().slower(), Rate::SLOWEST);
    assert_eq!(Percent::new(20).unwrap().softer().number(), 10);
}
