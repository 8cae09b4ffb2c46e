//! The whole chain through real sound: spoken into a microphone, answered from a loudspeaker.
//!
//! Both are null sinks of a private PulseAudio, and speech is a private speech-dispatcher: see
//! [`stage`]. These tests share two cores with both, so one runs at a time.

#[path = "common/kitchen.rs"]
mod kitchen;
#[path = "common/stage.rs"]
mod stage;

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use kitchen::{AT, Kitchen, project, tellshelf, text};
use serde_json::Value;
use stage::Stage;
use tellshelf::ear::{Guide, Models, Moonshine, Recogniser, read_recording, utterances_in};
use tellshelf::grammar::normal_words;
use tellshelf::stock::Stock;

/// Long enough for any answer on a loaded machine.
const ANSWER: Duration = Duration::from_secs(20);
/// How long nothing must happen for nothing to have happened: longer than any turn here takes.
const QUIET: Duration = Duration::from_secs(4);

/// `tellshelf talk`, listening.
struct Listener {
    child: Child,
    turns: Receiver<String>,
    notices: Receiver<String>,
}

impl Listener {
    fn start(stage: &Stage, kitchen: &Kitchen) -> Self {
        let mut child = tellshelf()
            .args(["talk", "--json", "--at", AT, "--db"])
            .arg(kitchen.db())
            .envs(stage.env())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let turns = lines_of(child.stdout.take().unwrap());
        let notices = lines_of(child.stderr.take().unwrap());
        let listener = Self {
            child,
            turns,
            notices,
        };
        let notice = listener.notices.recv_timeout(ANSWER).expect("it listens");
        assert!(notice.contains("listening"), "{notice}");
        listener
    }

    fn turn(&self) -> Value {
        let line = self.turns.recv_timeout(ANSWER).expect("it answers");
        serde_json::from_str(&line).expect(&line)
    }

    /// Asserts that no turn comes that changes anything.
    fn changes_nothing(&self) {
        loop {
            match self.turns.recv_timeout(QUIET) {
                Ok(line) => {
                    let turn: Value = serde_json::from_str(&line).expect(&line);
                    assert_eq!(turn["changed"], false, "{turn}");
                }
                Err(RecvTimeoutError::Timeout) => return,
                Err(RecvTimeoutError::Disconnected) => panic!("it has gone"),
            }
        }
    }

    fn wait(&mut self, at_most: Duration) -> ExitStatus {
        let begun = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status;
            }
            assert!(begun.elapsed() < at_most, "it doesn't end");
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn lines_of(pipe: impl Read + Send + 'static) -> Receiver<String> {
    let (send, receive) = channel();
    std::thread::spawn(move || {
        let lines = BufReader::new(pipe).lines();
        lines
            .map_while(Result::ok)
            .try_for_each(|line| send.send(line))
    });
    receive
}

fn demo(name: &str) -> std::path::PathBuf {
    project("audio-fixtures/demo").join(name)
}

/// The words that the recogniser hears in a recording, without any guidance.
fn words_in(recording: &Path) -> Vec<String> {
    let sound = read_recording(recording).unwrap();
    let mut moonshine = Moonshine::load(&Models::find()).unwrap();
    let mut words = Vec::new();
    for utterance in utterances_in(&sound) {
        for heard in moonshine.hear(&utterance, Guide::Free).unwrap() {
            words.extend(normal_words(&heard.text));
        }
    }
    words
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn a_spoken_command_changes_the_stock_and_is_answered_aloud() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    let listener = Listener::start(&stage, &kitchen);
    let recording = stage.start_recording();
    stage.play_into_microphone(&demo("15-add-two-bags-oats.wav"));
    let spoken = Instant::now();
    let turn = listener.turn();
    let answered = spoken.elapsed();
    assert_eq!(turn["reply"], "Oats: 2 bags, pantry.", "{turn}");
    assert!(recording.wait_for_sound(ANSWER), "the answer is silent");
    let (first, _) = recording.sound().unwrap();
    println!(
        "from the end of the recording to the answer {answered:?}, to its sound {:?}",
        first.saturating_duration_since(spoken)
    );
    assert!(recording.wait_for_silence(Duration::from_secs(1), ANSWER));
    let heard = words_in(&recording.stop());
    // The synthetic voice isn't heard perfectly: two of the three words that matter must be.
    let words = [&["oats", "oat"][..], &["bags", "bag"], &["pantry"]];
    let found = words
        .iter()
        .filter(|forms| heard.iter().any(|w| forms.contains(&w.as_str())));
    assert!(found.count() >= 2, "heard {heard:?}");
    assert_eq!(
        kitchen.reply("how much oats are left"),
        "Oats: 2 bags, pantry."
    );
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn several_commands_are_answered_in_turn_and_its_own_voice_is_none_of_them() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    // The loudspeaker stands beside the microphone.
    let looped = Command::new("pactl")
        .args([
            "load-module",
            "module-loopback",
            "source=speaker.monitor",
            "sink=mic",
        ])
        .envs(stage.env())
        .output()
        .unwrap();
    assert!(looped.status.success(), "{looped:?}");
    let listener = Listener::start(&stage, &kitchen);
    for (file, reply) in [
        ("17-add-one-bag-oats.wav", "Oats: 1 bag, pantry."),
        ("04-dish-soap-on-list.wav", "Dish soap on the list."),
        ("06-read-list.wav", "1 thing: dish soap."),
    ] {
        stage.play_into_microphone(&demo(file));
        let voice = stage.start_recording();
        let turn = listener.turn();
        assert_eq!(turn["reply"], reply, "{turn}");
        assert!(voice.wait_for_sound(ANSWER));
        assert!(voice.wait_for_silence(Duration::from_secs(1), ANSWER));
    }
    listener.changes_nothing();
    let events = Stock::open(&kitchen.db()).unwrap().events().unwrap();
    assert_eq!(events.len(), 2, "{events:?}");
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn talk_that_is_not_for_us_changes_nothing() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    let listener = Listener::start(&stage, &kitchen);
    for file in kitchen::recordings("not-for-us") {
        stage.play_into_microphone(&file);
    }
    listener.changes_nothing();
    assert!(
        Stock::open(&kitchen.db())
            .unwrap()
            .events()
            .unwrap()
            .is_empty()
    );
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn a_speech_service_that_dies_takes_nothing_along() {
    let (mut stage, kitchen) = (Stage::start(), Kitchen::new());
    let listener = Listener::start(&stage, &kitchen);
    stage.play_into_microphone(&demo("04-dish-soap-on-list.wav"));
    assert_eq!(listener.turn()["changed"], true);
    stage.kill_speech();
    let notice = listener.notices.recv_timeout(ANSWER);
    stage.play_into_microphone(&demo("05-milk-on-shopping-list.wav"));
    assert_eq!(listener.turn()["reply"], "Milk on the list.");
    // Noticed while it spoke, or at the next word.
    let notice = notice
        .or_else(|_| listener.notices.recv_timeout(ANSWER))
        .expect("it says so");
    assert!(
        notice.contains("speech") || notice.contains("speak"),
        "{notice}"
    );
    assert_eq!(kitchen.reply("read the list"), "2 things: dish soap, milk.");
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn a_sound_server_that_dies_ends_it_with_one_line() {
    let (mut stage, kitchen) = (Stage::start(), Kitchen::new());
    let mut listener = Listener::start(&stage, &kitchen);
    stage.play_into_microphone(&demo("04-dish-soap-on-list.wav"));
    assert_eq!(listener.turn()["changed"], true);
    stage.kill_sound();
    let status = listener.wait(Duration::from_secs(30));
    assert_eq!(status.code(), Some(1));
    let notices: Vec<String> = listener.notices.iter().collect();
    assert!(
        notices
            .last()
            .is_some_and(|line| line.contains("microphone")),
        "{notices:?}"
    );
    assert_eq!(kitchen.reply("read the list"), "1 thing: dish soap.");
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn check_finds_all_well_where_all_is_there() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    let mut check = tellshelf();
    check
        .args(["check", "--db"])
        .arg(kitchen.db())
        .envs(stage.env());
    let output = check.output().unwrap();
    assert!(output.status.success(), "{output:?}");
    let said = text(&output.stdout);
    for part in [
        "English recogniser: works",
        "Microphone: works",
        "Speech: works",
        "Stock: works",
    ] {
        assert!(said.contains(part), "{said}");
    }
}
