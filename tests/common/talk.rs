//! `tellshelf talk` on a stage, as a test speaks with it.

// Each test program uses a part of this.
#![allow(dead_code)]

use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use serde_json::Value;
use tellshelf::ear::{Guide, Models, Moonshine, Recogniser, read_recording, utterances_in};
use tellshelf::grammar::normal_words;
use tellshelf::stock::Stock;

use super::kitchen::{AT, Kitchen, project, tellshelf};
use super::stage::Stage;

/// Long enough for any answer on a loaded machine; nothing here waits that long unless it fails.
pub const ANSWER: Duration = Duration::from_secs(30);

/// After how much silence of the loudspeaker a reply is over and the next command can be spoken: more
/// than the pauses between its sentences (0.6 s), and than the 0.4 s after which the speech service
/// reports its end.
pub const REPLY_IS_OVER: Duration = Duration::from_secs(1);

/// How long a program may take to end. It takes milliseconds; the rest is for a loaded machine.
pub const AT_ONCE: Duration = Duration::from_secs(2);

/// `tellshelf talk`, listening.
pub struct Talk {
    child: Child,
    /// What it writes on standard output, with the moment of each line.
    lines: Receiver<(Instant, String)>,
    /// What it writes on standard error.
    notices: Receiver<(Instant, String)>,
}

/// One command, and what came of it.
pub struct Exchange {
    pub line: String,
    /// The recordings of both ends.
    pub loudspeaker: PathBuf,
    pub microphone: PathBuf,
    /// From the last sound of the command to the line, and to the first sound of the reply.
    pub to_line: Duration,
    pub to_sound: Duration,
}

impl Talk {
    /// Starts it without a wake phrase, and waits until it listens. Without tones, too: in a recording they lie on the
    /// first word of a reply.
    pub fn start(stage: &Stage, kitchen: &Kitchen, options: &[&str]) -> Self {
        let plain = "listening:\n  wake-phrase: none\ntones:\n  on: false\n";
        Self::start_with(stage, kitchen, plain, options)
    }

    /// Starts it with these settings, and waits until it listens.
    pub fn start_with(stage: &Stage, kitchen: &Kitchen, settings: &str, options: &[&str]) -> Self {
        let file = kitchen.folder().join("settings.yaml");
        std::fs::write(&file, settings).expect("a file for the settings");
        let mut child = tellshelf()
            .args(["talk", "--at", AT, "--db"])
            .arg(kitchen.db())
            .arg("--settings")
            .arg(&file)
            .args(options)
            .envs(stage.env())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("tellshelf starts");
        let lines = lines_of(child.stdout.take().expect("piped"));
        let notices = lines_of(child.stderr.take().expect("piped"));
        let talk = Self {
            child,
            lines,
            notices,
        };
        let notice = talk.notice();
        assert!(notice.contains("listening"), "{notice}");
        talk
    }

    /// Types into it: a line, or nothing but Enter.
    pub fn type_in(&mut self, line: &str) {
        let keyboard = self.child.stdin.as_mut().expect("piped");
        writeln!(keyboard, "{line}").expect("it still reads");
    }

    pub fn notice(&self) -> String {
        let (_, notice) = self.notices.recv_timeout(ANSWER).expect("a line of notice");
        notice
    }

    pub fn timed_line(&self) -> (Instant, String) {
        self.lines.recv_timeout(ANSWER).unwrap_or_else(|_| {
            let notices: Vec<_> = self.notices.try_iter().collect();
            panic!("it doesn't answer; on standard error: {notices:?}")
        })
    }

    pub fn line(&self) -> String {
        self.timed_line().1
    }

    pub fn turn(&self) -> Value {
        let line = self.line();
        serde_json::from_str(&line).expect(&line)
    }

    /// Speaks a command, waits for its line, and hears the reply out.
    pub fn exchange(&self, stage: &Stage, recording: &str) -> Exchange {
        let loudspeaker = stage.start_recording();
        let microphone = stage.start_recording_microphone();
        stage.play_into_microphone(&fixture(recording));
        let (answered, line) = self.timed_line();
        // Before the reply comes back into the microphone: that takes 0.2 seconds.
        let (_, spoken) = microphone
            .sound()
            .expect("the microphone hears the command");
        assert!(loudspeaker.wait_for_sound(ANSWER), "no sound for {line}");
        assert!(loudspeaker.wait_for_silence(REPLY_IS_OVER, ANSWER));
        let (sounded, _) = loudspeaker.sound().expect("the reply is heard");
        Exchange {
            line,
            loudspeaker: loudspeaker.stop(),
            microphone: microphone.stop(),
            to_line: answered.saturating_duration_since(spoken),
            to_sound: sounded.saturating_duration_since(spoken),
        }
    }

    /// After what is no command, a command is still heard, and alone changes the stock.
    pub fn only_a_command_changes_anything(&self, stage: &Stage, kitchen: &Kitchen) {
        stage.play_into_microphone(&fixture("demo/04-dish-soap-on-list.wav"));
        // What was no command may have been heard as several pieces of talk.
        while self.turn()["changed"] == false {}
        assert_eq!(list(kitchen), ["dish soap"]);
        let events = stock(kitchen).events().expect("the events");
        assert_eq!(events.len(), 1, "{events:?}");
    }

    /// Whether no line comes for so long.
    pub fn quiet_for(&self, time: Duration) -> bool {
        self.lines.recv_timeout(time).is_err()
    }

    /// Asserts that no line follows. What it has heard by now has a line within two seconds: 0.8 end the
    /// utterance, and the rest is for a loaded machine.
    pub fn says_nothing_more(&self) {
        let more = self.lines.recv_timeout(Duration::from_secs(2));
        assert_eq!(more, Err(RecvTimeoutError::Timeout));
    }

    /// Waits until it has ended: how, and its notices since it was last asked for them.
    pub fn ended(mut self, at_most: Duration) -> (ExitStatus, Vec<String>) {
        let until = Instant::now() + at_most;
        // Its standard output ends when it does.
        loop {
            let left = until.saturating_duration_since(Instant::now());
            match self.lines.recv_timeout(left) {
                Ok(_) => {}
                Err(RecvTimeoutError::Disconnected) => break,
                Err(RecvTimeoutError::Timeout) => panic!("it doesn't end within {at_most:?}"),
            }
        }
        let status = self.child.wait().expect("a child can be waited for");
        (status, self.notices.iter().map(|(_, line)| line).collect())
    }

    /// Sends it a signal, and waits until it has ended.
    pub fn ended_by(self, signal: &str) -> (ExitStatus, Vec<String>) {
        let sent = Command::new("kill")
            .args([format!("-{signal}"), self.child.id().to_string()])
            .status();
        assert!(sent.is_ok_and(|status| status.success()));
        self.ended(AT_ONCE)
    }
}

/// A machine that is some ten times slower for the program, and not for its surroundings: each core is busy with something
/// that has nine times the program's weight (Linux weighs niceness 5 by 335, and 15 by 36). As long as this lives.
pub struct SlowMachine(Vec<Child>);

impl SlowMachine {
    pub fn start(program: &Talk) -> Self {
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        let busy = (0..cores).map(|_| {
            Command::new("nice")
                .args(["-n", "5", "sh", "-c", "while :; do :; done"])
                .spawn()
                .expect("nice starts")
        });
        let slow = Self(busy.collect());
        let threads = format!("/proc/{}/task", program.child.id());
        for thread in std::fs::read_dir(threads).expect("its threads") {
            let number = thread.expect("a thread").file_name();
            let reniced = Command::new("renice")
                .args(["-n", "15", "-p"])
                .arg(number)
                .output();
            // A thread may have ended since.
            reniced.expect("renice starts");
        }
        slow
    }
}

impl Drop for SlowMachine {
    fn drop(&mut self) {
        for busy in &mut self.0 {
            let _ = busy.kill();
            let _ = busy.wait();
        }
    }
}

impl Drop for Talk {
    fn drop(&mut self) {
        // It may have ended by itself; then there is nothing to kill.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Exchange {
    pub fn turn(&self) -> Value {
        serde_json::from_str(&self.line).expect(&self.line)
    }
}

/// The lines of a pipe as they come. Disconnected when the pipe is closed.
pub fn lines_of(pipe: impl Read + Send + 'static) -> Receiver<(Instant, String)> {
    let (send, receive) = channel();
    std::thread::spawn(move || {
        let mut lines = BufReader::new(pipe).lines().map_while(Result::ok);
        // Nobody listens any more once a test has failed.
        lines.try_for_each(|line| send.send((Instant::now(), line)))
    });
    receive
}

pub fn fixture(name: &str) -> PathBuf {
    project("audio-fixtures").join(name)
}

pub fn stock(kitchen: &Kitchen) -> Stock {
    Stock::open(&kitchen.db()).expect("the stock opens")
}

/// What is on the shelf.
pub fn shelf(kitchen: &Kitchen) -> Vec<String> {
    let lots = stock(kitchen).shelf().expect("the shelf");
    lots.iter().map(|lot| lot.item.to_string()).collect()
}

/// What is on the list.
pub fn list(kitchen: &Kitchen) -> Vec<String> {
    let lines = stock(kitchen).list().expect("the list");
    lines.iter().map(|line| line.item.to_string()).collect()
}

/// Asserts that most words of a reply are in a recording: two in three. The recogniser learnt from
/// people, and of the synthetic voice at its worst, softer and as an echo, it hears 22 words in 30; and
/// replies of one kind share up to three words in five ("milk on the list", "dish soap on the list").
pub fn assert_spoken(reply: &str, recording: &Path) {
    let said = normal_words(reply);
    let heard = words_in(recording);
    let mut left = heard.clone();
    let found = said.iter().filter(|word| {
        let place = left.iter().position(|other| other == *word);
        place.map(|place| left.remove(place)).is_some()
    });
    let (found, all) = (found.count(), said.len());
    println!("{found} of the {all} words of the reply are heard");
    // No other reply shares half of the words of one as long as the help's, and of that the recogniser
    // heard 19 in 31 and more.
    let enough = if all > 20 {
        2 * found >= all
    } else {
        3 * found >= 2 * all
    };
    assert!(enough, "said {said:?}, heard {heard:?}");
}

/// The words that the recogniser hears in a recording, without any guidance.
pub fn words_in(recording: &Path) -> Vec<String> {
    let sound = read_recording(recording).expect("the recording can be read");
    let mut moonshine = Moonshine::load(&Models::find()).expect("the model is there");
    let utterances = utterances_in(&sound);
    let heard = utterances.iter().flat_map(|utterance| {
        let heard = moonshine.hear(utterance, Guide::Free);
        heard.expect("the recogniser works")
    });
    heard.flat_map(|heard| normal_words(&heard.text)).collect()
}
