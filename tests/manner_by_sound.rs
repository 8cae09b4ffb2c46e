//! How it speaks, changed by what is said into the microphone and heard at the loudspeaker; and the practice round there.

#[path = "common/kitchen.rs"]
mod kitchen;
#[path = "common/stage.rs"]
mod stage;
#[path = "common/talk.rs"]
mod talk;

use std::path::Path;
use std::time::{Duration, Instant};

use kitchen::Kitchen;
use serde_json::Value;
use stage::Stage;
use talk::{ANSWER, REPLY_IS_OVER, Talk, list, stock};
use tellshelf::ear::read_recording;
use tellshelf::settings::Settings;

/// Its reply is the same each time, and some seconds long.
const READ_THE_LIST: &str = "turns/slt-read-the-list.wav";

/// A kitchen with a list.
fn listed() -> Kitchen {
    let kitchen = Kitchen::new();
    kitchen.say(&[
        "put dish soap on the list",
        "put two cans of tomatoes on the list",
        "put olive oil on the list",
    ]);
    kitchen
}

fn settings(kitchen: &Kitchen) -> Settings {
    Settings::read(&kitchen.folder().join("settings.yaml")).expect("the settings can be read")
}

/// What is heard at the loudspeaker from the first to the last audible sample.
fn sound_of(recording: &Path) -> Vec<f32> {
    let sound = read_recording(recording).expect("the recording can be read");
    let audible = |sample: &f32| sample.abs() > 0.01;
    let samples = sound.samples();
    let first = samples.iter().position(audible).expect("a sound");
    let last = samples.iter().rposition(audible).expect("a sound");
    samples[first..=last].to_vec()
}

/// How long a reply is, in samples.
fn length_of_list(talk: &Talk, stage: &Stage) -> f64 {
    let exchange = talk.exchange(stage, READ_THE_LIST);
    let turn = exchange.turn();
    assert_eq!(turn["intent"], "list-read", "{turn}");
    sound_of(&exchange.loudspeaker).len() as f64
}

/// How much the beginnings of two sounds are the same, however loud: 1 where they are, about 0 where nothing is. They
/// may be shifted a little.
fn likeness(one: &[f32], other: &[f32]) -> f32 {
    /// A fifth of a second at 16 kHz, and a hundredth. The service lets the pitch of a voice waver by chance, so that in
    /// a longer piece nothing is like itself.
    const LENGTH: usize = 3_200;
    const SHIFT: usize = 160;
    let piece = &one[SHIFT..SHIFT + LENGTH];
    let product = |a: &[f32], b: &[f32]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f32>();
    (0..2 * SHIFT)
        .map(|shift| {
            let shifted = &other[shift..shift + LENGTH];
            product(piece, shifted) / (product(piece, piece) * product(shifted, shifted)).sqrt()
        })
        .fold(0.0, f32::max)
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn slower_makes_the_same_reply_a_fifth_longer_each_time() {
    let (stage, kitchen) = (Stage::start(), listed());
    let talk = Talk::start(&stage, &kitchen, &["--json"]);
    let mut before = length_of_list(&talk, &stage);
    for (recording, rate) in [("turns/slt-slower.wav", 142), ("turns/rms-slower.wav", 120)] {
        let turn = talk.exchange(&stage, recording).turn();
        assert_eq!(turn["intent"], "manner", "{turn}");
        assert_eq!(
            settings(&kitchen).speech.words_a_minute.words_a_minute(),
            rate
        );
        let after = length_of_list(&talk, &stage);
        let ratio = after / before;
        println!("slower, {rate} words a minute: {ratio:.3} times as long");
        assert!((1.1..1.3).contains(&ratio), "{ratio}");
        before = after;
    }
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn another_voice_is_heard_and_kept_and_undo_brings_the_usual_one_back() {
    let (stage, kitchen) = (Stage::start(), listed());
    let talk = Talk::start(&stage, &kitchen, &["--json"]);
    let read = || sound_of(&talk.exchange(&stage, READ_THE_LIST).loudspeaker);
    let usual = read();
    let again = likeness(&usual, &read());

    let turn = talk
        .exchange(&stage, "turns/heart-another-voice.wav")
        .turn();
    assert_eq!(turn["reply"], "Another voice. One moment.", "{turn}");
    // The service takes seconds to list its voices; then the voice says its name.
    let asked = Instant::now();
    let loudspeaker = stage.start_recording();
    let voice = loop {
        if let Some(voice) = settings(&kitchen).speech.voice {
            break voice;
        }
        assert!(asked.elapsed() < ANSWER, "no voice is kept");
        std::thread::sleep(Duration::from_millis(50));
    };
    assert!(loudspeaker.wait_for_sound(ANSWER));
    assert!(loudspeaker.wait_for_silence(REPLY_IS_OVER, ANSWER));
    drop(loudspeaker);
    let other = likeness(&usual, &read());
    println!("{voice}: the same voice is {again:.2} like itself, the other one {other:.2}");
    assert!(again > 1.5 * other, "{again}, {other}");

    let turn = talk
        .exchange(&stage, "turns/heart-undo-the-last-change.wav")
        .turn();
    assert_eq!(turn["reply"], "Undone: the usual voice again.", "{turn}");
    assert_eq!(settings(&kitchen).speech.voice, None);
    let back = likeness(&usual, &read());
    println!("after undo: {back:.2}");
    assert!(back > 1.5 * other, "{back}, {other}");
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn practice_at_the_microphone_leaves_the_kitchen_as_it_was() {
    let (stage, kitchen) = (Stage::start(), listed());
    let events = stock(&kitchen).events().expect("the events");
    let shopping = list(&kitchen);
    let talk = Talk::start(&stage, &kitchen, &["--json"]);
    let says = |recording: &str, reply: &str| {
        let turn: Value = talk.exchange(&stage, recording).turn();
        assert_eq!(turn["reply"], reply, "{turn}");
        assert_eq!(turn["changed"], false, "{turn}");
        assert_eq!(stock(&kitchen).events().expect("the events"), events);
    };
    says(
        "turns/heart-teach-me.wav",
        "Practice. Nothing here is kept. Say: put milk on the list.",
    );
    says(
        "turns/slt-put-milk-on-the-list.wav",
        "Milk on the list. Right. Now say: read the list.",
    );
    says(
        READ_THE_LIST,
        "1 thing: milk. Right. Now say: put two cans of beans in the pantry.",
    );
    says(
        "turns/heart-stop-practising.wav",
        "Practice is over. Your own kitchen is as it was.",
    );
    assert_eq!(list(&kitchen), shopping);
    // And now it counts again.
    let turn = talk
        .exchange(&stage, "turns/slt-put-milk-on-the-list.wav")
        .turn();
    assert_eq!(turn["changed"], true, "{turn}");
    assert_eq!(
        stock(&kitchen).events().expect("the events").len(),
        events.len() + 1
    );
}
