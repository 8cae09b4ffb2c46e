//! The Vosk recogniser on a real model: `./models-fetch.sh --tests` fetches the Korean one.
//! Korean speech is made by espeak-ng, slowly and with silence around it, which the model hears best.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, MutexGuard};

use tellshelf::ear::{
    EarError, Guide, Hypothesis, Models, Phrases, Recogniser, Sound, Vosk, read_recording,
};

fn models() -> Models {
    Models::in_folder(Path::new(env!("CARGO_MANIFEST_DIR")).join("models"))
}

/// One loaded model for all tests, because each takes two seconds and half a gigabyte.
fn vosk() -> MutexGuard<'static, Option<Vosk>> {
    static VOSK: Mutex<Option<Vosk>> = Mutex::new(None);
    let mut vosk = VOSK.lock().unwrap_or_else(|poisoned| poisoned.into_inner());
    vosk.get_or_insert_with(|| Vosk::load(&models(), "ko-KR").unwrap());
    vosk
}

fn hypotheses(sound: &Sound, guide: Guide<'_>) -> Result<Vec<Hypothesis>, EarError> {
    let heard = vosk().as_mut().unwrap().hear(sound, guide)?;
    assert!(heard.iter().all(|one| one.by == "vosk" && one.score <= 0.0));
    assert!(heard.windows(2).all(|pair| pair[0].score >= pair[1].score));
    Ok(heard)
}

fn hear(sound: &Sound, guide: Guide<'_>) -> Result<Vec<String>, EarError> {
    Ok(hypotheses(sound, guide)?
        .into_iter()
        .map(|one| one.text)
        .collect())
}

/// A text spoken in Korean, with 0.6 s of silence on both sides.
fn spoken(text: &str) -> Sound {
    let place = tempfile::tempdir().unwrap();
    let path: PathBuf = place.path().join("speech.wav");
    let said = Command::new("espeak-ng")
        .args(["-v", "ko+f3", "-s", "110", "-w"])
        .arg(&path)
        .arg(text)
        .status()
        .expect("these tests need the program espeak-ng");
    assert!(said.success());
    let silence = vec![0.0; 9_600];
    let speech = read_recording(&path).unwrap();
    Sound::new([&silence, speech.samples(), &silence].concat())
}

fn commands() -> Phrases {
    Phrases::new(["취소", "다시 말해", "계란 세 개 사용"]).unwrap()
}

#[test]
fn a_spoken_phrase_is_heard_as_itself() {
    let phrases = commands();
    for phrase in ["취소", "다시 말해"] {
        assert_eq!(
            hear(&spoken(phrase), Guide::Phrases(&phrases)).unwrap()[0],
            phrase
        );
    }
}

#[test]
fn other_words_fit_the_phrases_worse_than_a_phrase_does() {
    let phrases = commands();
    let best = |text| hypotheses(&spoken(text), Guide::Phrases(&phrases)).unwrap()[0].score;
    let worst_phrase = best("취소").min(best("다시 말해"));
    for other in ["텔레비전 소리 좀 줄여 줘", "어제 친구를 만나서 영화를 봤어"]
    {
        let score = best(other);
        assert!(
            score < worst_phrase - 3.0,
            "{other}: {score}, phrases: {worst_phrase}"
        );
    }
}

#[test]
fn what_is_said_before_a_pause_is_kept() {
    let long_pause = vec![0.0; 32_000];
    let (first, second) = (spoken("취소"), spoken("다시 말해"));
    let both = Sound::new([first.samples(), &long_pause, second.samples()].concat());
    let phrases = commands();
    assert_eq!(
        hear(&both, Guide::Phrases(&phrases)).unwrap()[0],
        "취소 다시 말해"
    );
}

#[test]
fn hearing_freely_gives_different_hypotheses() {
    let heard = hear(&spoken("계란 세 개 사용"), Guide::Free).unwrap();
    assert!(heard.len() > 1);
    let different: std::collections::HashSet<&String> = heard.iter().collect();
    assert_eq!(different.len(), heard.len());
}

#[test]
fn silence_gives_no_hypothesis() {
    let phrases = commands();
    for samples in [0, 1, 1_600, 160_000] {
        let silence = Sound::new(vec![0.0; samples]);
        assert!(hear(&silence, Guide::Free).unwrap().is_empty(), "{samples}");
        assert!(
            hear(&silence, Guide::Phrases(&phrases)).unwrap().is_empty(),
            "{samples}"
        );
    }
}

#[test]
fn words_that_the_model_does_not_know_are_named() {
    let phrases = Phrases::new(["취소", "zyxw 다시 qqq", "zyxw"]).unwrap();
    match hear(&Sound::default(), Guide::Phrases(&phrases)).unwrap_err() {
        EarError::UnknownWords { words } => assert_eq!(words, ["zyxw", "qqq"]),
        other => panic!("{other}"),
    }
}

#[test]
fn known_words_are_known() {
    let mut vosk = vosk();
    let vosk = vosk.as_mut().unwrap();
    assert!(vosk.knows("우유"));
    assert!(!vosk.knows("zyxw"));
    assert!(!vosk.knows("nul\0"));
    assert_eq!(vosk.language(), "ko");
}

#[test]
fn a_missing_model_says_how_to_fetch_it() {
    let error = Vosk::load(&models(), "xx-XX").err().unwrap();
    assert!(matches!(
        error,
        EarError::NoModel {
            recogniser: "vosk",
            ..
        }
    ));
    assert!(
        error.to_string().ends_with("Run ./models-fetch.sh"),
        "{error}"
    );
}

#[test]
fn a_damaged_model_is_told() {
    let place = tempfile::tempdir().unwrap();
    let damaged = Models::in_folder(place.path());
    let folder = place.path().join("vosk-ko");
    std::fs::create_dir(&folder).unwrap();
    assert!(matches!(
        Vosk::load(&damaged, "ko"),
        Err(EarError::BadModel { .. })
    ));
    for part in ["am", "conf", "graph"] {
        std::fs::create_dir(folder.join(part)).unwrap();
        assert!(matches!(
            Vosk::load(&damaged, "ko"),
            Err(EarError::BadModel { .. })
        ));
    }
    std::fs::write(folder.join("am/final.mdl"), "this is no model").unwrap();
    std::fs::write(folder.join("conf/model.conf"), "").unwrap();
    std::fs::write(folder.join("conf/mfcc.conf"), "").unwrap();
    assert!(matches!(
        Vosk::load(&damaged, "ko"),
        Err(EarError::BadModel { .. })
    ));
}
