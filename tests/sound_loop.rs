//! The whole chain through real sound: spoken into a microphone, answered from a loudspeaker.
//!
//! `tellshelf talk` runs on a [`stage`]: a private PulseAudio with a microphone and a loudspeaker, and
//! a private speech service. Nothing here looks inside it: commands go in as sound, and what comes out
//! is sound, the written line of each turn, and the stock on disk.

#[path = "common/kitchen.rs"]
mod kitchen;
#[path = "common/stage.rs"]
mod stage;

use std::f32::consts::TAU;
use std::io::{BufRead, BufReader, Read};
use std::os::unix::process::ExitStatusExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use kitchen::{AT, Kitchen, objects, project, recordings, tellshelf};
use serde_json::Value;
use stage::Stage;
use tellshelf::ear::{Guide, Models, Moonshine, RATE, Recogniser, Sound};
use tellshelf::ear::{read_recording, utterances_in};
use tellshelf::grammar::normal_words;
use tellshelf::stock::Stock;

/// Long enough for any answer on a loaded machine; nothing here waits that long unless it fails.
const ANSWER: Duration = Duration::from_secs(30);

/// After how much silence of the loudspeaker a reply is over and the next command can be spoken: more
/// than the pauses between its sentences (0.6 s), and than the 0.4 s after which the speech service
/// reports its end.
const REPLY_IS_OVER: Duration = Duration::from_secs(1);

/// How long a program may take to end. It takes milliseconds; the rest is for a loaded machine.
const AT_ONCE: Duration = Duration::from_secs(2);

const ADD_TWO_BAGS_OF_OATS: &str = "demo/15-add-two-bags-oats.wav";
const USED_UP_OATS: &str = "demo/01-used-up-oats.wav";
const DISH_SOAP_ON_LIST: &str = "demo/04-dish-soap-on-list.wav";
const MILK_ON_LIST: &str = "demo/05-milk-on-shopping-list.wav";
const READ_LIST: &str = "demo/06-read-list.wav";
/// Its reply is the longest there is, and made of commands.
const HELP: &str = "commands/slt-help.wav";
const NOT_FOR_US: &str = "not-for-us/heart-the-bus-was-late.wav";

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn a_command_spoken_into_the_microphone_changes_the_stock_and_is_answered_aloud() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    let talk = Talk::start(&stage, &kitchen, &["--json"]);

    let exchange = talk.exchange(&stage, ADD_TWO_BAGS_OF_OATS);
    let turn = exchange.turn();
    assert_eq!(turn["source"], "microphone", "{turn}");
    assert_eq!(turn["intent"], "put-in", "{turn}");
    assert_eq!(turn["changed"], true, "{turn}");
    let reply = turn["reply"].as_str().expect("a reply");
    for word in ["oats", "2 bags", "pantry"] {
        assert!(reply.to_lowercase().contains(word), "{reply}");
    }
    assert_spoken(reply, &exchange.loudspeaker);

    // Another process sees it on disk while this one still listens.
    let told = kitchen.reply("how much oats are left");
    assert!(told.contains("2 bags"), "{told}");
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn commands_are_answered_in_turn_and_its_own_voice_is_none_of_them() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    stage.let_microphone_hear_loudspeaker();
    let talk = Talk::start(&stage, &kitchen, &["--json"]);

    // The help and the list come back as the very words of commands.
    let commands = [
        (ADD_TWO_BAGS_OF_OATS, Some("put-in"), true),
        (HELP, Some("help"), false),
        (USED_UP_OATS, Some("used-up"), true),
        (NOT_FOR_US, None, false),
        (DISH_SOAP_ON_LIST, Some("list-add"), true),
        (READ_LIST, Some("list-read"), false),
    ];
    let (mut to_line, mut to_sound) = (Vec::new(), Vec::new());
    for (recording, intent, changed) in commands {
        // A turn of its own voice would stand where the turn of the next command is expected.
        let exchange = talk.exchange(&stage, recording);
        let turn = exchange.turn();
        assert_eq!(turn["intent"].as_str(), intent, "{turn}");
        assert_eq!(turn["changed"], changed, "{turn}");
        to_line.push(exchange.to_line);
        to_sound.push(exchange.to_sound);
        if recording == HELP {
            let reply = turn["reply"].as_str().expect("a reply");
            // What it must not listen to is there, and clear enough to be taken for commands.
            assert_spoken(reply, &exchange.microphone);
        }
    }
    talk.says_nothing_more();
    println!(
        "from the end of the command to the line {:?}, to the first sound {:?} (medians of {})",
        median(to_line),
        median(to_sound),
        commands.len()
    );
    assert_eq!(shelf(&kitchen), [""; 0]);
    assert_eq!(list(&kitchen), ["oats", "dish soap"]);
    let events = stock(&kitchen).events().expect("the events");
    assert_eq!(events.len(), 3, "{events:?}");
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn talk_that_is_not_for_us_and_noise_change_nothing() {
    // Side by side, since each takes half a minute of sound and next to no work. Without speech, since
    // what is said during a reply isn't heard.
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let (stage, kitchen) = (Stage::start(), Kitchen::new());
            let talk = Talk::start(&stage, &kitchen, &["--json", "--mute"]);
            let chatter = recordings("not-for-us");
            let mut turns = 0;
            for recording in &chatter {
                stage.play_into_microphone(recording);
                // It is heard, and as one piece or in several it changes nothing.
                let turn = talk.turn();
                assert_eq!(turn["changed"], false, "{turn}");
                turns += 1 + talk.turns_before_a_command(&stage, &kitchen);
            }
            println!("{} pieces of talk, {turns} turns", chatter.len());
        });
        scope.spawn(|| {
            let (stage, kitchen) = (Stage::start(), Kitchen::new());
            let talk = Talk::start(&stage, &kitchen, &["--json", "--mute"]);
            let noise = stage.folder().join("noise.wav");
            write_recording(&noise, &[kitchen_noise(10), crosstalk(10), vec![0.0; 16_000]].concat());
            let microphone = stage.start_recording_microphone();
            stage.play_into_microphone(&noise);
            let (first, last) = microphone.sound().expect("the noise reaches the microphone");
            assert!(last - first > Duration::from_secs(18));
            let turns = talk.turns_before_a_command(&stage, &kitchen);
            println!("20 seconds of noise, {turns} turns");
        });
    });
}
