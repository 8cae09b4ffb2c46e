//! The whole chain through real sound: spoken into a microphone, answered from a loudspeaker.
//!
//! `tellshelf talk` runs on a [`stage`]: a private PulseAudio with a microphone and a loudspeaker, and
//! a private speech service. Nothing here looks inside it: commands go in as sound, and what comes out
//! is sound, the written line of each turn, and the stock on disk.

#[path = "common/kitchen.rs"]
mod kitchen;
#[path = "common/stage.rs"]
mod stage;
#[path = "common/talk.rs"]
mod talk;

use std::f32::consts::TAU;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::ExitStatus;
use std::time::{Duration, Instant};

use kitchen::{Kitchen, objects, recordings, tellshelf};
use stage::Stage;
use talk::{ANSWER, Talk, assert_spoken, fixture, list, shelf, stock};
use tellshelf::ear::{RATE, read_recording};

const ADD_TWO_BAGS_OF_OATS: &str = "demo/15-add-two-bags-oats.wav";
const USED_UP_OATS: &str = "demo/01-used-up-oats.wav";
const DISH_SOAP_ON_LIST: &str = "demo/04-dish-soap-on-list.wav";
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

/// The replies are bare names here, which are commands as well: heard from the loudspeaker, they must not be taken for any.
#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn spent_tags_are_read_one_after_another_by_voice() {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    kitchen.say(&[
        "add a bag of oats to the pantry",
        "add a bag of rice to the pantry",
        "kitchen tag twelve on the oats",
    ]);
    stage.let_microphone_hear_loudspeaker();
    let talk = Talk::start(&stage, &kitchen, &["--json"]);
    for (recording, reply) in [
        ("round/109-rms-spent-tags.wav", "Read the first spent tag."),
        ("round/110-slt-twelve.wav", "Oats."),
        ("round/043-heart-rice.wav", "Rice."),
        (
            "round/113-heart-done.wav",
            "2 tags read: oats, rice. 2 things on the list.",
        ),
    ] {
        let exchange = talk.exchange(&stage, recording);
        let turn = exchange.turn();
        assert_eq!(turn["reply"], reply, "{turn}");
        // That it is spoken, the exchange has waited for; which words, free hearing can't tell of so few ("the first
        // pentagon").
    }
    talk.says_nothing_more();
    assert_eq!(shelf(&kitchen), [""; 0]);
    assert_eq!(list(&kitchen), ["oats", "rice"]);
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
            for recording in recordings("not-for-us") {
                stage.play_into_microphone(&recording);
                let turn = talk.turn();
                assert_eq!(turn["changed"], false, "{turn}");
            }
            talk.only_a_command_changes_anything(&stage, &kitchen);
        });
        scope.spawn(|| {
            let (stage, kitchen) = (Stage::start(), Kitchen::new());
            let talk = Talk::start(&stage, &kitchen, &["--json", "--mute"]);
            let noise = stage.folder().join("noise.wav");
            write_recording(
                &noise,
                &[kitchen_noise(10), crosstalk(10), vec![0.0; 16_000]].concat(),
            );
            let microphone = stage.start_recording_microphone();
            stage.play_into_microphone(&noise);
            let (first, last) = microphone
                .sound()
                .expect("the noise reaches the microphone");
            assert!(last - first > Duration::from_secs(18));
            talk.only_a_command_changes_anything(&stage, &kitchen);
        });
    });
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn a_speech_service_killed_in_the_middle_of_a_reply_is_one_line_and_comes_back() {
    let (mut stage, kitchen) = (Stage::start(), Kitchen::new());
    let talk = Talk::start(&stage, &kitchen, &[]);

    let loudspeaker = stage.start_recording();
    stage.play_into_microphone(&fixture(HELP));
    let help = talk.line();
    assert!(loudspeaker.wait_for_sound(ANSWER), "it speaks");
    stage.kill_speech();
    let killed = Instant::now();
    let notice = talk.notice();
    println!("the loss was told after {:?}", killed.elapsed());
    assert!(notice.contains("speech service"), "{notice}");

    // Without a voice the captions go on, and so does the stock.
    stage.play_into_microphone(&fixture(DISH_SOAP_ON_LIST));
    let caption = talk.line();
    assert_ne!(caption, help);
    assert!(caption.to_lowercase().contains("dish soap"), "{caption}");
    assert_eq!(list(&kitchen), ["dish soap"]);

    stage.restart_speech();
    // It looks for the service at most every 5 seconds, with a reply: the third comes after that.
    let loudspeaker = stage.start_recording();
    let heard_again = (0..3).any(|_| {
        stage.play_into_microphone(&fixture(READ_LIST));
        let caption = talk.line();
        assert!(caption.to_lowercase().contains("dish soap"), "{caption}");
        // As long as it takes from the line to the sound, many times over.
        loudspeaker.wait_for_sound(Duration::from_secs(2))
    });
    assert!(heard_again, "it speaks again");
    // Nothing more was complained of.
    assert_eq!(talk.ended_by("TERM").1, [""; 0]);
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn it_ends_at_once_when_it_is_told_to_and_loses_nothing() {
    let (stage, [one, other]) = (Stage::start(), [Kitchen::new(), Kitchen::new()]);
    // Two at the same microphone, to speak only once.
    let listening = Talk::start(&stage, &one, &["--json", "--mute"]);
    let answering = Talk::start(&stage, &other, &["--json"]);

    let loudspeaker = stage.start_recording();
    stage.play_into_microphone(&fixture(DISH_SOAP_ON_LIST));
    // One in the middle of its reply.
    assert_eq!(answering.turn()["changed"], true);
    assert!(loudspeaker.wait_for_sound(ANSWER));
    let (status, notices) = answering.ended_by("INT");
    assert_eq!(status.signal(), Some(2), "{notices:?}");
    assert_eq!(notices, [""; 0]);
    // One while it listens.
    assert_eq!(listening.turn()["changed"], true);
    let (status, notices) = listening.ended_by("TERM");
    assert_eq!(status.signal(), Some(15), "{notices:?}");
    assert_eq!(notices, [""; 0]);

    for kitchen in [one, other] {
        stock(&kitchen).check().expect("a sound file");
        assert_eq!(list(&kitchen), ["dish soap"]);
    }
}

#[test]
#[ignore = "needs PulseAudio and speech-dispatcher; .ci/run runs it"]
fn the_check_tells_a_stage_from_an_empty_one() {
    let (mut stage, kitchen) = (Stage::start(), Kitchen::new());
    let loudspeaker = stage.start_recording();
    let (status, works) = check(&stage, &kitchen);
    assert!(status.success(), "{works:?}");
    for part in ["English recogniser", "Microphone", "Speech", "Stock"] {
        assert!(works.contains(&(part.to_owned(), true)), "{works:?}");
    }
    assert!(loudspeaker.wait_for_sound(ANSWER), "it tries its voice");
    drop(loudspeaker);

    stage.kill_speech();
    stage.kill_sound();
    let (status, works) = check(&stage, &kitchen);
    assert_eq!(status.code(), Some(1), "{works:?}");
    for part in ["Microphone", "Speech"] {
        assert!(works.contains(&(part.to_owned(), false)), "{works:?}");
    }
    assert!(works.contains(&("Stock".to_owned(), true)), "{works:?}");
}

/// Runs `tellshelf check`: how it ended, and which parts work.
fn check(stage: &Stage, kitchen: &Kitchen) -> (ExitStatus, Vec<(String, bool)>) {
    let mut check = tellshelf();
    check.args(["check", "--json", "--db"]).arg(kitchen.db());
    let output = check.envs(stage.env()).output().expect("tellshelf starts");
    let works = objects(&output).into_iter().map(|part| {
        let name = part["part"].as_str().expect("the name of a part");
        (name.to_owned(), part["works"] == true)
    });
    (output.status, works.collect())
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

/// A kitchen at work: rushing air with the hum of the mains, and crockery struck four times a second.
fn kitchen_noise(seconds: usize) -> Vec<f32> {
    let rate = RATE as f32;
    // Any fixed seed: the noise is the same in each run.
    let mut seed = 0x5EED_u32;
    let mut random = move || {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 8) as f32 / (1 << 23) as f32 - 1.0
    };
    let (mut air, mut pitch) = (0.0, 0.0);
    let mut noise = Vec::new();
    for n in 0..seconds * RATE as usize {
        let time = n as f32 / rate;
        air += 0.1 * (random() - air);
        let since_stroke = time % 0.25;
        if n % (RATE as usize / 4) == 0 {
            pitch = 2_200.0 + 1_000.0 * random();
        }
        let stroke = (TAU * pitch * time).sin() * (-since_stroke / 0.05).exp();
        let hum = (TAU * 120.0 * time).sin();
        noise.push(0.4 * air + 0.05 * hum + 0.2 * stroke);
    }
    noise
}

/// Six people who talk at the same time and never pause.
fn crosstalk(seconds: usize) -> Vec<f32> {
    let mut sum = vec![0.0; seconds * RATE as usize];
    for (number, recording) in recordings("not-for-us").iter().enumerate() {
        let voice = read_recording(recording).expect("a fixture");
        let talk = voice.samples().iter().cycle().skip(number * 9_000);
        sum.iter_mut()
            .zip(talk)
            .for_each(|(sum, sample)| *sum += sample / 3.0);
    }
    sum
}

fn write_recording(path: &Path, samples: &[f32]) {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE,
        bits_per_sample: 32,
        sample_format: hound::SampleFormat::Float,
    };
    let mut writer = hound::WavWriter::create(path, spec).expect("a file for the noise");
    for sample in samples {
        writer
            .write_sample(sample.clamp(-1.0, 1.0))
            .expect("room for the noise");
    }
    writer.finalize().expect("room for the noise");
}
