//! The voice as it is heard: spoken by the real speech service into a loudspeaker that is recorded.
//!
//! The client library takes its service from the environment of the process. So each test runs this
//! same program again as an [`Actor`], in the environment of the test's own stage, and tells it
//! line by line what to do.

#[path = "common/stage.rs"]
mod stage;

use std::fs::{self, File};
use std::io::{BufRead, BufReader, Write, stdin};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

use stage::Stage;
use tellshelf::settings::{Rate, Settings};
use tellshelf::voice::{Captions, Loudness, Speech, Voice, VoiceError, check};

const SHORT: &str = "Oats used up. On the list.";
const LONG: &str = "Use first: the yogurt in the fridge, opened on Monday, use by tomorrow. Then the \
                    spinach in the fridge, use by Friday. Then the bread in the cupboard, best before \
                    Saturday. Then the oats in the pantry.";

/// Two texts in whole sentences, of short words (54 with 3.8 letters) and of longer ones (54 with 4.5): a word a minute is
/// counted on these.
const PROSE: [&str; 2] = [
    "The kitchen was quiet when the morning began, and the kettle had just started to sing. On the counter stood a bowl \
     of apples, a loaf of bread and a small jar of honey. Someone had left the window open, so the smell of rain came in \
     and mixed with the smell of coffee.",
    "Rinse the brown rice under running water until the water is clear. Put it into the heavy saucepan with two cups of \
     water and a little salt. Bring everything to the boil, lower the flame, and cover the pot. Let it simmer about \
     forty minutes without stirring, before serving it with roasted vegetables.",
];

/// A word is counted as five letters, without the spaces: of all counts that is the one in which espeak-ng speaks what its
/// number says. Of the words as they are written it speaks as many more as they are shorter.
const LETTERS_OF_A_WORD: f64 = 5.0;

/// What the voice writes in an actor's folder.
const CAPTIONS: &str = "captions.txt";
const NOTICES: &str = "notices.txt";

/// Names the folder of an actor; tells the program that it is one.
const ACTOR: &str = "VOICE_ACTOR";

/// How long one order may take at the very most: nothing in the voice may hang.
const NEVER_LONGER: Duration = Duration::from_secs(30);

fn seconds(seconds: f32) -> Duration {
    Duration::from_secs_f32(seconds)
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_reply_is_heard_and_waited_for() {
    let stage = Stage::start();
    let recording = stage.start_recording();
    let mut actor = Actor::start(&stage.env(), stage.folder());

    let opening = actor.ask("open", "opened");
    let said = Instant::now();
    let saying = actor.ask(&format!("say {SHORT}"), "said");
    actor.ask("wait 20", "spoken");
    let waited = Instant::now();

    assert!(recording.wait_for_silence(seconds(0.5), seconds(10.0)));
    let (first, last) = recording.sound().expect("the loudspeaker is heard");
    let to_sound = first.saturating_duration_since(said);
    let after_end = waited.saturating_duration_since(last);
    println!(
        "opening {opening:?}, saying {saying:?}, to the first sound {to_sound:?}, speech {:?}, \
         waited on after its end {after_end:?} (or {:?} less than it)",
        last - first,
        last.saturating_duration_since(waited),
    );
    assert!(last - first > seconds(1.0), "it is a whole sentence");
    assert!(saying < seconds(1.0));
    assert!(to_sound < seconds(3.0));
    assert!(after_end < seconds(2.0));
    assert!(
        last.saturating_duration_since(waited) < seconds(0.5),
        "wait() returns when the speech has ended, not before"
    );

    let wav = fs::read(recording.stop()).expect("the recording is a file");
    assert_eq!(&wav[..4], b"RIFF");
    assert!(wav.len() > 2 * stage::RATE as usize);
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn stop_silences_what_is_spoken_and_what_is_waiting() {
    let stage = Stage::start();
    let recording = stage.start_recording();
    let mut actor = Actor::start(&stage.env(), stage.folder());

    actor.ask("open", "opened");
    actor.ask(&format!("say {LONG}"), "said");
    actor.ask(&format!("say {LONG}"), "said");
    assert!(recording.wait_for_sound(seconds(10.0)), "it speaks");
    actor.ask("wait 0", "still speaking");
    let stopped = Instant::now();
    actor.ask("stop", "stopped");
    actor.ask("wait 0", "spoken");

    assert!(recording.wait_for_silence(seconds(1.0), seconds(10.0)));
    let (_, last) = recording.sound().expect("it has spoken");
    println!(
        "silent {:?} after stop()",
        last.saturating_duration_since(stopped)
    );
    assert!(last.saturating_duration_since(stopped) < seconds(1.5));

    // It isn't mute now.
    actor.ask(&format!("say {SHORT}"), "said");
    let long_ago = actor.ask("wait 20", "spoken");
    assert!(long_ago > seconds(0.5), "the new text is waited for");
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_service_killed_in_the_middle_is_an_error_and_no_hang() {
    let mut stage = Stage::start();
    let recording = stage.start_recording();
    let mut actor = Actor::start(&stage.env(), stage.folder());

    actor.ask("open", "opened");
    actor.ask(&format!("say {LONG}"), "said");
    assert!(recording.wait_for_sound(seconds(10.0)), "it speaks");
    actor.tell("wait 30");
    let killed = Instant::now();
    stage.kill_speech();
    assert_eq!(actor.answer().outcome, VoiceError::Lost.to_string());
    println!("the loss was noticed after {:?}", killed.elapsed());
    assert!(killed.elapsed() < seconds(5.0));

    for order in ["say Still there?", "wait 30", "stop"] {
        let took = actor.ask(order, &VoiceError::Lost.to_string());
        assert!(took < seconds(1.0), "{order} took {took:?}");
    }
    // No service can be started on this stage, so that is said, too.
    let took = actor.ask("open", &not_running());
    println!("opening without a service failed after {took:?}");

    stage.restart_speech();
    actor.ask("open", "opened");
    actor.ask(&format!("say {SHORT}"), "said");
    actor.ask("wait 20", "spoken");
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn captions_go_on_when_speech_is_lost_and_speech_comes_back() {
    let mut stage = Stage::start();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");

    stage.kill_speech();
    let took = actor.ask("reply One.", "given");
    println!("the reply that met the loss took {took:?}");
    assert!(took < seconds(5.0));
    let took = actor.ask("reply Two.", "given");
    assert!(took < seconds(0.5), "no second attempt at once: {took:?}");
    assert_eq!(actor.captions(), ["One.", "Two."]);
    assert_eq!(actor.notices(), [VoiceError::Lost.to_string()]);

    stage.restart_speech();
    let recording = stage.start_recording();
    let back = Instant::now();
    while recording.sound().is_none() {
        assert!(back.elapsed() < seconds(20.0), "it finds the service again");
        actor.ask("reply Three.", "given");
        actor.ask("finish", "finished");
        recording.wait_for_sound(seconds(0.5));
    }
    println!("heard again {:?} after the restart", back.elapsed());
    assert_eq!(actor.notices(), [VoiceError::Lost.to_string()]);
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_service_restarted_unnoticed_still_speaks_the_next_reply() {
    let mut stage = Stage::start();
    let recording = stage.start_recording();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");
    stage.restart_speech();
    actor.ask(&format!("reply {SHORT}"), "given");
    assert!(recording.wait_for_sound(seconds(10.0)));
    assert!(actor.notices().is_empty());
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_service_without_a_loudspeaker_is_reported_and_holds_up_nothing() {
    let mut stage = Stage::start();
    stage.kill_sound();
    stage.restart_speech();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");
    for number in 1..=3 {
        actor.ask("reply Oats.", "given");
        let waited = actor.ask("finish", "finished");
        assert!(number == 1 || waited < seconds(1.0), "waited {waited:?}");
    }
    assert_eq!(actor.captions(), ["Oats."; 3]);
    // Without a loudspeaker the service may also die of what it is told; that is a notice of its own.
    let notices = actor.notices();
    assert_eq!(notices[0], VoiceError::Unspoken(seconds(6.0)).to_string());
    assert!(
        notices[1..].is_empty() || notices[1..] == [VoiceError::Lost.to_string()],
        "{notices:?}"
    );
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn the_check_speaks() {
    let stage = Stage::start();
    let recording = stage.start_recording();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.tell("check");
    let outcome = actor.answer().outcome;
    assert!(outcome.starts_with("Speech works: "), "{outcome}");
    assert!(recording.wait_for_sound(seconds(5.0)));
}

/// How many words a minute are heard where so many are asked for, of a service that speaks so many at most: of each text.
fn heard_rates(stage: &Stage, actor: &mut Actor, words_a_minute: u16, fastest: u16) -> [f64; 2] {
    actor.ask(&format!("rate {words_a_minute} {fastest}"), "set");
    PROSE.map(|text| {
        let recording = stage.start_recording();
        actor.ask(&format!("reply {text}"), "given");
        assert!(recording.wait_for_sound(seconds(10.0)), "it speaks");
        // More than the pause between two sentences.
        assert!(recording.wait_for_silence(seconds(1.0), 2 * NEVER_LONGER));
        let (first, last) = recording.sound().expect("it has spoken");
        let letters = text.chars().filter(|c| c.is_alphabetic()).count();
        let minutes = (last - first).as_secs_f64() / 60.0;
        println!(
            "{words_a_minute} of {fastest}: {:.0} words a minute as they are written",
            text.split_whitespace().count() as f64 / minutes
        );
        letters as f64 / LETTERS_OF_A_WORD / minutes
    })
}

/// Asserts that as many words a minute are heard as are asked for, to a tenth.
fn assert_rates(stage: &Stage, asked: &[u16], fastest: u16) {
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");
    for &words_a_minute in asked {
        let heard = heard_rates(stage, &mut actor, words_a_minute, fastest);
        println!("{words_a_minute} words a minute of {fastest} are heard as {heard:.0?}");
        for words in heard {
            let ratio = words / f64::from(words_a_minute);
            assert!((0.9..1.1).contains(&ratio), "{words_a_minute}: {heard:?}");
        }
    }
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn as_many_words_a_minute_are_heard_as_are_set() {
    assert_rates(&Stage::start(), &[120, 170, 300, 449], 449);
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_service_that_is_let_speaks_550_words_a_minute_and_fewer_as_they_are_set() {
    let mut stage = Stage::start();
    stage.let_service_speak_up_to(550);
    assert_rates(&stage, &[170, 300, 449, 550], 550);
}

/// By voice nobody is let have more (`talk/manner.rs`); who writes more into the file hears the fastest there is.
#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn more_words_than_the_service_speaks_are_its_fastest() {
    let stage = Stage::start();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");
    let [fastest, _] = heard_rates(&stage, &mut actor, 449, 449);
    let [more, _] = heard_rates(&stage, &mut actor, 550, 449);
    // The service itself makes no more of it, either.
    let [no_more, _] = heard_rates(&stage, &mut actor, 550, 550);
    println!("{fastest:.0}, {more:.0}, {no_more:.0}");
    for words in [more, no_more] {
        assert!((words / fastest - 1.0).abs() < 0.03, "{words} of {fastest}");
    }
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_muted_voice_makes_no_sound() {
    let stage = Stage::start();
    let recording = stage.start_recording();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice muted", "voice");
    actor.ask(&format!("reply {SHORT}"), "given");
    actor.ask("finish", "finished");
    assert!(!recording.wait_for_sound(seconds(2.0)));
    assert_eq!(actor.captions(), [SHORT]);
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_sound_is_played_behind_the_reply_and_waited_for() {
    let stage = Stage::start();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");
    let recording = stage.start_recording();
    // A second of a tone.
    actor.ask("play", "plays");
    let took = actor.ask("finish", "finished");
    assert!(recording.wait_for_silence(seconds(0.5), seconds(10.0)));
    let (first, last) = recording.sound().expect("the loudspeaker is heard");
    let length = last - first;
    assert!(length > seconds(0.9) && length < seconds(1.3), "{length:?}");
    assert!(took > seconds(0.9) && took < seconds(4.0), "{took:?}");

    let recording = stage.start_recording();
    actor.ask(&format!("reply {SHORT}"), "given");
    actor.ask("play", "plays");
    actor.ask("finish", "finished");
    assert!(recording.wait_for_silence(seconds(0.5), seconds(10.0)));
    let (first, last) = recording.sound().expect("the loudspeaker is heard");
    assert!(
        last - first > seconds(2.5),
        "the sentence, and then the tone"
    );
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn a_sound_behind_a_reply_is_silenced_as_the_reply_is() {
    let stage = Stage::start();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    actor.ask("voice aloud", "voice");
    let recording = stage.start_recording();
    actor.ask("play", "plays");
    assert!(recording.wait_for_sound(seconds(5.0)));
    std::thread::sleep(seconds(0.2));
    actor.ask("hush", "hushed");
    assert!(recording.wait_for_silence(seconds(0.5), seconds(5.0)));
    let (first, last) = recording.sound().expect("the loudspeaker is heard");
    // The whole tone takes a second.
    assert!(last - first < seconds(0.7), "{:?}", last - first);
}

#[test]
#[ignore = "needs PulseAudio; .ci/run runs it"]
fn what_is_played_into_the_microphone_is_heard_there_and_only_there() {
    let stage = Stage::start();
    let mut actor = Actor::start(&stage.env(), stage.folder());
    let loudspeaker = stage.start_recording();
    actor.ask("open", "opened");
    actor.ask(&format!("say {SHORT}"), "said");
    actor.ask("wait 20", "spoken");
    let sentence = loudspeaker.stop();

    let loudspeaker = stage.start_recording();
    let microphone = stage.start_recording_microphone();
    stage.play_into_microphone(&sentence);
    let (first, last) = microphone.sound().expect("the microphone hears it");
    assert!(last - first > seconds(1.0), "it hears the whole sentence");
    assert!(loudspeaker.sound().is_none());
}

/// An environment with no speech service and none that could be started, in a folder of its own.
fn nothing_to_speak_with() -> (tempfile::TempDir, Vec<(String, String)>) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let settings = folder.path().join("speech-dispatcher");
    fs::create_dir(&settings).expect("a folder for settings");
    // Where the service is installed, this keeps the client library from starting it.
    fs::write(settings.join("speechd.conf"), "DisableAutoSpawn\n").expect("settings");
    let here = folder.path().display().to_string();
    let env = vec![
        (
            "SPEECHD_ADDRESS".into(),
            format!("unix_socket:{here}/nobody.sock"),
        ),
        ("XDG_CONFIG_HOME".into(), here.clone()),
        ("XDG_RUNTIME_DIR".into(), here),
    ];
    (folder, env)
}

fn not_running() -> String {
    VoiceError::NotRunning("".into()).to_string()
}

#[test]
fn without_a_service_opening_is_an_error_in_time() {
    let (folder, env) = nothing_to_speak_with();
    let mut actor = Actor::start(&env, folder.path());
    let took = actor.ask("open", &not_running());
    assert!(took < seconds(8.0), "it took {took:?}");
    actor.ask("check", &not_running());
}

#[test]
fn without_a_service_captions_go_on_and_the_notice_comes_once() {
    let (folder, env) = nothing_to_speak_with();
    let mut actor = Actor::start(&env, folder.path());
    actor.ask("voice aloud", "voice");
    for reply in ["Oats used up.", "On the list."] {
        actor.ask(&format!("reply {reply}"), "given");
        actor.ask("finish", "finished");
    }
    assert_eq!(actor.captions(), ["Oats used up.", "On the list."]);
    assert_eq!(actor.notices(), [not_running()]);
}

/// A child process with a voice.
struct Actor {
    process: Child,
    orders: ChildStdin,
    answers: Receiver<Answer>,
    folder: PathBuf,
}

/// An actor's answer to one order.
struct Answer {
    took: Duration,
    outcome: String,
}

impl Actor {
    fn start(env: &[(String, String)], folder: &Path) -> Self {
        let mut process = Command::new(std::env::current_exe().expect("this program"))
            .args(["--exact", "actor", "--nocapture"])
            .envs(env.iter().cloned())
            .env(ACTOR, folder)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("this program starts again");
        let orders = process.stdin.take().expect("piped");
        let output = BufReader::new(process.stdout.take().expect("piped"));
        let (sender, answers) = channel();
        thread::spawn(move || {
            for line in output.lines().map_while(Result::ok) {
                // The test harness has things to say on the same output.
                let Some(answer) = line.strip_prefix('@') else {
                    continue;
                };
                let (took, outcome) = answer.split_once(' ').expect("time and outcome");
                let answer = Answer {
                    took: Duration::from_micros(took.parse().expect("microseconds")),
                    outcome: outcome.to_owned(),
                };
                if sender.send(answer).is_err() {
                    return;
                }
            }
        });
        Self {
            process,
            orders,
            answers,
            folder: folder.to_owned(),
        }
    }

    /// Gives an order and doesn't wait for the answer.
    fn tell(&mut self, order: &str) {
        writeln!(self.orders, "{order}").expect("the actor listens");
    }

    fn answer(&mut self) -> Answer {
        self.answers
            .recv_timeout(NEVER_LONGER)
            .expect("an answer: the actor neither hangs nor dies")
    }

    /// Gives an order, expects this outcome, and says how long it took.
    #[track_caller]
    fn ask(&mut self, order: &str, expected: &str) -> Duration {
        self.tell(order);
        let answer = self.answer();
        assert_eq!(answer.outcome, expected, "after {order}");
        answer.took
    }

    fn captions(&self) -> Vec<String> {
        self.lines(CAPTIONS)
    }

    fn notices(&self) -> Vec<String> {
        self.lines(NOTICES)
    }

    fn lines(&self, file: &str) -> Vec<String> {
        let text = fs::read_to_string(self.folder.join(file)).expect("the actor wrote it");
        text.lines().map(str::to_owned).collect()
    }
}

impl Drop for Actor {
    fn drop(&mut self) {
        // It may have ended by itself; then there is nothing to kill.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// The other side of [`Actor`]. Not a test: without a folder in its environment it does nothing.
#[test]
fn actor() {
    let Some(folder) = std::env::var_os(ACTOR).map(PathBuf::from) else {
        return;
    };
    // Ends the line that the test harness may have begun.
    println!();
    let mut speech = None;
    let mut voice = None;
    for line in stdin().lines().map_while(Result::ok) {
        let (order, text) = line.split_once(' ').unwrap_or((&line, ""));
        let started = Instant::now();
        let outcome = match order {
            "open" => Speech::open().map(|opened| {
                speech = Some(opened);
                "opened".to_owned()
            }),
            "check" => check(),
            "voice" => {
                let file = |name| Box::new(File::create(folder.join(name)).expect("a file"));
                let loudness = match text {
                    "muted" => Loudness::Muted,
                    _ => Loudness::Aloud,
                };
                let captions = Captions::on(file(CAPTIONS));
                voice = Some(Voice::with_notices(captions, loudness, file(NOTICES)));
                Ok("voice".to_owned())
            }
            "rate" => {
                let rate = |number: &str| Rate::new(number.parse().expect("a number"));
                let (words, fastest) = text.split_once(' ').expect("two rates");
                let mut settings = Settings::default();
                settings.speech.words_a_minute = rate(words).expect("a rate");
                settings.speech.fastest = rate(fastest).expect("a rate");
                voice.as_mut().expect("voice comes first").follow(&settings);
                Ok("set".to_owned())
            }
            "play" => {
                let tone = (0..16_000).map(|n| (n as f32 * 0.2).sin() * 0.5);
                let tone: Vec<f32> = tone.collect();
                let voice = voice.as_mut().expect("voice comes first");
                voice.play(tone, 16_000);
                Ok("plays".to_owned())
            }
            "hush" => {
                voice.as_mut().expect("voice comes first").stop();
                Ok("hushed".to_owned())
            }
            "reply" | "finish" => {
                let voice = voice.as_mut().expect("voice comes first");
                if order == "reply" {
                    voice.say(text);
                    Ok("given".to_owned())
                } else {
                    voice.wait();
                    Ok("finished".to_owned())
                }
            }
            _ => order_to_speech(speech.as_mut().expect("open comes first"), order, text),
        };
        let took = started.elapsed().as_micros();
        println!(
            "@{took} {}",
            outcome.unwrap_or_else(|error| error.to_string())
        );
    }
}

fn order_to_speech(speech: &mut Speech, order: &str, text: &str) -> Result<String, VoiceError> {
    let outcome = match order {
        "say" => {
            speech.say(text)?;
            "said"
        }
        "stop" => {
            speech.stop()?;
            "stopped"
        }
        "wait" => {
            let at_most = Duration::from_secs(text.parse().expect("seconds"));
            if speech.wait(at_most)? {
                "spoken"
            } else {
                "still speaking"
            }
        }
        _ => panic!("unknown order {order}"),
    };
    Ok(outcome.to_owned())
}
