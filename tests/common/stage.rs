//! A machine with a loudspeaker and a microphone, for tests on a machine with neither.
//!
//! A [`Stage`] runs a PulseAudio server of its own with two null sinks and a speech service of its
//! own, all inside one temporary folder. Give [`Stage::env`] to a child process, and what the child
//! plays can be recorded, and what is played into the microphone is what the child hears. No systemd,
//! no D-Bus and no special user are needed, and stages don't disturb each other.

// Each test program uses a part of this.
#![allow(dead_code)]

use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::{Arc, Condvar, Mutex};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use tempfile::TempDir;

/// How long either daemon may take to get ready.
const READY: Duration = Duration::from_secs(15);

/// Samples a second in a recording; one channel of 16 bits.
pub const RATE: u32 = 48_000;

/// A sample louder than this belongs to a sound. Silence from a null sink is exactly 0.
const AUDIBLE: u16 = 300;

/// The programs a stage needs, and the Debian packages they come in.
const TOOLS: [(&str, &str); 6] = [
    ("pulseaudio", "pulseaudio"),
    ("pactl", "pulseaudio-utils"),
    ("paplay", "pulseaudio-utils"),
    ("parec", "pulseaudio-utils"),
    ("speech-dispatcher", "speech-dispatcher"),
    ("espeak-ng", "espeak-ng"),
];

/// The two daemons and their folder. Dropping it ends both and everything they started.
pub struct Stage {
    // In this order they are dropped: the service before its sound, the folder last.
    speech: Option<Daemon>,
    sound: Option<Daemon>,
    folder: TempDir,
}

impl Stage {
    /// Starts both daemons and waits until they are ready.
    ///
    /// # Panics
    /// If a program is missing (the message names its package), or a daemon isn't ready after 15
    /// seconds (the message has its log).
    pub fn start() -> Self {
        require_tools();
        // The name stays short: a socket's path may have no more than 107 bytes.
        let folder = tempfile::Builder::new()
            .prefix("stage-")
            .tempdir()
            .expect("a temporary folder");
        let sound = start_sound(folder.path());
        let mut stage = Self {
            speech: None,
            sound: Some(sound),
            folder,
        };
        stage.restart_speech();
        stage
    }

    /// The environment a child process needs to use this stage.
    pub fn env(&self) -> Vec<(String, String)> {
        environment(self.folder.path())
    }

    /// The folder of this stage, for what a test wants to keep beside it.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Plays a WAV file into the microphone, and returns when it has been played.
    ///
    /// # Panics
    /// If it can't be played.
    pub fn play_into_microphone(&self, wav: &Path) {
        self.play(wav, "65536");
    }

    /// The same, 20 dB softer.
    ///
    /// # Panics
    /// If it can't be played.
    pub fn play_softly_into_microphone(&self, wav: &Path) {
        // PulseAudio's volume is the third root of the amplitude.
        self.play(wav, "30419");
    }

    fn play(&self, wav: &Path, volume: &str) {
        let played = Command::new("paplay")
            .args(["--device=mic", "--latency-msec=50", "--volume", volume])
            .arg(wav)
            .envs(self.env())
            .output()
            .expect("paplay starts");
        assert!(
            played.status.success(),
            "paplay {}: {}",
            wav.display(),
            String::from_utf8_lossy(&played.stderr)
        );
    }

    /// Begins to record the loudspeaker, and returns once samples arrive.
    ///
    /// # Panics
    /// If no sample arrives within 15 seconds.
    pub fn start_recording(&self) -> Recording {
        Recording::start("speaker.monitor", self.env(), self.folder.path())
    }

    /// Begins to record what the microphone hears, and returns once samples arrive.
    ///
    /// # Panics
    /// If no sample arrives within 15 seconds.
    pub fn start_recording_microphone(&self) -> Recording {
        Recording::start("mic.monitor", self.env(), self.folder.path())
    }

    /// From now on the microphone hears the loudspeaker, 10 dB softer and 200 ms late: as loud as in a
    /// small room, and as late as from a wireless loudspeaker.
    ///
    /// # Panics
    /// If the sound server refuses.
    pub fn let_microphone_hear_loudspeaker(&self) {
        self.let_microphone_hear_loudspeaker_late(200);
    }

    /// The same, so many milliseconds late. The two ends stay where they are, and in step: a canceller takes over the
    /// streams of its microphone, and no air changes its length.
    ///
    /// # Panics
    /// If the sound server refuses.
    pub fn let_microphone_hear_loudspeaker_late(&self, milliseconds: u32) {
        let folder = self.folder.path();
        let load = format!(
            "load-module module-loopback source=speaker.monitor sink=mic latency_msec={milliseconds} \
             source_dont_move=true sink_dont_move=true adjust_time=0"
        );
        let load: Vec<&str> = load.split(' ').collect();
        pactl_says(folder, &load);
        // The module can't be told how loud; only its stream can, which has a number of its own.
        let streams = pactl_says(folder, &["list", "short", "sink-inputs"]);
        let stream = streams
            .lines()
            .find(|line| line.contains("module-loopback"))
            .and_then(|line| line.split_whitespace().next())
            .expect("the loopback's stream");
        pactl_says(folder, &["set-sink-input-volume", stream, "-10dB"]);
    }

    /// The sound server keeps the loudspeaker out of the microphone from now on, as README.md describes: call this
    /// before anything is played or captured.
    ///
    /// # Panics
    /// If the sound server refuses, or the speech service isn't ready again after 15 seconds.
    pub fn cancel_echo(&mut self) {
        let folder = self.folder.path();
        pactl_says(
            folder,
            &[
                "load-module",
                "module-echo-cancel",
                "source_master=mic.monitor",
                "sink_master=speaker",
                "source_name=echo-cancel",
                "sink_name=echo-cancel-sink",
                "aec_method=webrtc",
                "aec_args=\"analog_gain_control=0 digital_gain_control=0\"",
            ],
        );
        pactl_says(folder, &["set-default-sink", "echo-cancel-sink"]);
        pactl_says(folder, &["set-default-source", "echo-cancel"]);
        // It goes on speaking into the sink that was there when it began.
        self.restart_speech();
    }

    /// The speech service speaks so many words a minute at most from now on, as where a person has set `EspeakMaxRate`
    /// in its `espeak-ng.conf`.
    ///
    /// # Panics
    /// If the service isn't ready again after 15 seconds.
    pub fn let_service_speak_up_to(&mut self, words_a_minute: u16) {
        let modules = self.folder.path().join("config/speech-dispatcher/modules");
        fs::create_dir_all(&modules).expect("a folder for settings");
        // The other two are as Debian has them.
        let rates =
            format!("EspeakMinRate 80\nEspeakNormalRate 170\nEspeakMaxRate {words_a_minute}\n");
        fs::write(modules.join("espeak-ng.conf"), rates).expect("settings");
        self.restart_speech();
    }

    /// Kills the speech service as a crash would: at once, in the middle of a word, leaving its socket
    /// behind.
    pub fn kill_speech(&mut self) {
        self.speech = None;
    }

    /// Takes the loudspeaker and the microphone away. The speech service dies of it.
    pub fn kill_sound(&mut self) {
        self.sound = None;
    }

    /// Starts the sound server again, after it was killed.
    ///
    /// # Panics
    /// If it isn't ready after 15 seconds.
    pub fn restart_sound(&mut self) {
        self.sound = None;
        self.sound = Some(start_sound(self.folder.path()));
    }

    /// Starts the speech service, again if it was killed before, and waits until it is ready.
    ///
    /// # Panics
    /// If it isn't ready after 15 seconds.
    pub fn restart_speech(&mut self) {
        self.speech = None;
        self.speech = Some(start_speech(self.folder.path()));
    }
}

/// A recording that is going on.
pub struct Recording {
    recorder: Child,
    reader: Option<JoinHandle<()>>,
    heard: Arc<(Mutex<Heard>, Condvar)>,
    wav: PathBuf,
}

/// What a recording has so far.
#[derive(Default)]
struct Heard {
    samples: Vec<i16>,
    /// When the first and the last audible samples came.
    sound: Option<(Instant, Instant)>,
    /// How many silent samples came last.
    silent: usize,
    ended: bool,
}

impl Recording {
    fn start(source: &str, env: Vec<(String, String)>, folder: &Path) -> Self {
        let mut recorder = Command::new("parec")
            .args(["--format=s16le", "--channels=1"])
            .arg("--latency-msec=20")
            .args([format!("--device={source}"), format!("--rate={RATE}")])
            .envs(env)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .expect("parec starts");
        let mut stream = recorder.stdout.take().expect("parec's output is piped");
        let heard = Arc::new((Mutex::new(Heard::default()), Condvar::new()));
        let shared = Arc::clone(&heard);
        let reader = thread::spawn(move || {
            let (heard, news) = &*shared;
            let mut bytes = [0; 1920];
            // Whole samples only: a pipe may split one.
            let mut kept = 0;
            loop {
                let read = stream.read(&mut bytes[kept..]).unwrap_or(0);
                let mut heard = heard.lock().unwrap();
                if read == 0 {
                    heard.ended = true;
                    news.notify_all();
                    return;
                }
                let whole = (kept + read) / 2 * 2;
                heard.take(&bytes[..whole]);
                news.notify_all();
                bytes.copy_within(whole..kept + read, 0);
                kept = kept + read - whole;
            }
        });
        let unique = recorder.id();
        let recording = Self {
            recorder,
            reader: Some(reader),
            heard,
            wav: folder.join(format!("recording-{unique}.wav")),
        };
        assert!(
            recording.until(READY, |heard| !heard.samples.is_empty()),
            "parec recorded nothing within {READY:?}"
        );
        recording
    }

    /// Waits until there has been a sound. `false` after `at_most`.
    pub fn wait_for_sound(&self, at_most: Duration) -> bool {
        self.until(at_most, |heard| heard.sound.is_some())
    }

    /// Waits until there has been silence for this long, whatever was heard before. `false`
    /// after `at_most`.
    pub fn wait_for_silence(&self, length: Duration, at_most: Duration) -> bool {
        let samples = (length.as_secs_f64() * f64::from(RATE)) as usize;
        self.until(at_most, |heard| heard.silent >= samples)
    }

    /// When the first and the last audible sample so far came: some 20 ms after they were played.
    pub fn sound(&self) -> Option<(Instant, Instant)> {
        self.heard.0.lock().unwrap().sound
    }

    /// Ends the recording: the WAV file, in the folder of the stage.
    ///
    /// # Panics
    /// If the file can't be written.
    pub fn stop(mut self) -> PathBuf {
        self.end();
        let heard = self.heard.0.lock().unwrap();
        write_wav(&self.wav, &heard.samples).expect("the recording can be written");
        self.wav.clone()
    }

    fn until(&self, at_most: Duration, enough: impl Fn(&Heard) -> bool) -> bool {
        let (heard, news) = &*self.heard;
        let (heard, _) = news
            .wait_timeout_while(heard.lock().unwrap(), at_most, |heard| {
                !enough(heard) && !heard.ended
            })
            .unwrap();
        enough(&heard)
    }

    fn end(&mut self) {
        // It may have ended by itself; then there is nothing to kill.
        let _ = self.recorder.kill();
        let _ = self.recorder.wait();
        if let Some(reader) = self.reader.take() {
            let _ = reader.join();
        }
    }
}

impl Drop for Recording {
    fn drop(&mut self) {
        self.end();
    }
}

impl Heard {
    fn take(&mut self, bytes: &[u8]) {
        let now = Instant::now();
        for pair in bytes.chunks_exact(2) {
            let sample = i16::from_le_bytes([pair[0], pair[1]]);
            if sample.unsigned_abs() > AUDIBLE {
                self.sound = Some((self.sound.map_or(now, |(first, _)| first), now));
                self.silent = 0;
            } else {
                self.silent += 1;
            }
            self.samples.push(sample);
        }
    }
}

/// Writes samples as a WAV file: the header of 44 bytes, and the samples.
fn write_wav(path: &Path, samples: &[i16]) -> std::io::Result<()> {
    let length = u32::try_from(samples.len() * 2).expect("a recording of less than 12 hours");
    let mut bytes = Vec::with_capacity(44 + samples.len() * 2);
    bytes.extend(b"RIFF");
    bytes.extend((36 + length).to_le_bytes());
    bytes.extend(b"WAVEfmt ");
    bytes.extend(16_u32.to_le_bytes());
    bytes.extend(1_u16.to_le_bytes()); // whole numbers
    bytes.extend(1_u16.to_le_bytes()); // one channel
    bytes.extend(RATE.to_le_bytes());
    bytes.extend((RATE * 2).to_le_bytes());
    bytes.extend(2_u16.to_le_bytes());
    bytes.extend(16_u16.to_le_bytes());
    bytes.extend(b"data");
    bytes.extend(length.to_le_bytes());
    bytes.extend(samples.iter().flat_map(|sample| sample.to_le_bytes()));
    fs::write(path, bytes)
}

/// A daemon that dies with the stage: when this is dropped, and also when the test program is killed.
struct Daemon {
    process: Child,
    /// The daemon's process group is killed when this pipe closes, whatever closes it.
    lifeline: Option<ChildStdin>,
    log: PathBuf,
}

impl Daemon {
    /// Starts a program as the leader of a process group of its own, its output going to `log`.
    fn start(program: &str, args: &[String], env: Vec<(String, String)>, log: PathBuf) -> Self {
        use std::os::unix::process::CommandExt;
        // The shell becomes the daemon. What it leaves behind reads the lifeline, which ends when the
        // test program does, and then kills the group.
        const KEEPER: &str =
            r#"exec 3<&0; (read -r _ <&3; kill -KILL 0) & exec "$@" 3<&- </dev/null"#;
        let output = File::create(&log).expect("a log file");
        let mut process = Command::new("sh")
            .args(["-c", KEEPER, "keeper", program])
            .args(args)
            .envs(env)
            .process_group(0)
            .stdin(Stdio::piped())
            .stdout(output.try_clone().expect("a log file"))
            .stderr(output)
            .spawn()
            .expect("sh starts");
        let lifeline = process.stdin.take();
        Self {
            process,
            lifeline,
            log,
        }
    }

    /// Waits until it is ready, and panics with its log if it ends before or takes too long.
    fn wait_until(&mut self, ready: impl Fn() -> bool) {
        let started = Instant::now();
        while !ready() {
            let ended = self.process.try_wait().expect("a child can be asked");
            if ended.is_some() || started.elapsed() > READY {
                let how = ended.map_or("isn't ready".into(), |status| format!("ended: {status}"));
                let log = fs::read_to_string(&self.log).unwrap_or_default();
                panic!("{} {how}. Its log:\n{log}", self.log.display());
            }
            // Neither daemon tells when it is ready: it can only be asked again.
            thread::sleep(Duration::from_millis(20));
        }
    }
}

impl Drop for Daemon {
    fn drop(&mut self) {
        drop(self.lifeline.take());
        let _ = self.process.wait();
    }
}

/// The private sound server: `speaker` is the loudspeaker, the monitor of `mic` the microphone.
fn start_sound(folder: &Path) -> Daemon {
    fs::create_dir_all(folder.join("pulse")).expect("a folder for the sound server");
    fs::create_dir_all(folder.join("config")).expect("a folder for settings");
    let socket = folder.join("pulse/native");
    let args = [
        "-n".into(),
        "--daemonize=no".into(),
        "--exit-idle-time=-1".into(),
        "--use-pid-file=no".into(),
        "--disable-shm=yes".into(),
        format!(
            "--load=module-native-protocol-unix auth-anonymous=1 socket={}",
            socket.display()
        ),
        // Without norewinds a capture loses pieces of speech.
        "--load=module-null-sink sink_name=speaker rate=48000 channels=2 norewinds=1".into(),
        "--load=module-null-sink sink_name=mic rate=48000 channels=1 norewinds=1".into(),
    ];
    let log = folder.join("pulseaudio.log");
    let mut sound = Daemon::start("pulseaudio", &args, environment(folder), log);
    sound.wait_until(|| pactl(folder, &["info"]));
    assert!(pactl(folder, &["set-default-sink", "speaker"]));
    assert!(pactl(folder, &["set-default-source", "mic.monitor"]));
    sound
}

/// The private speech service, speaking with espeak-ng through the private sound server.
fn start_speech(folder: &Path) -> Daemon {
    // Also found by a service that the client library would start by itself, which this forbids: such
    // a one would outlive the stage.
    let settings = folder.join("config/speech-dispatcher");
    fs::create_dir_all(&settings).expect("a folder for settings");
    fs::write(
        settings.join("speechd.conf"),
        "DisableAutoSpawn\n\
         AudioOutputMethod \"pulse\"\n\
         AddModule \"espeak-ng\" \"sd_espeak-ng\" \"espeak-ng.conf\"\n\
         DefaultModule espeak-ng\n\
         DefaultLanguage \"en-US\"\n",
    )
    .expect("the settings can be written");
    let socket = folder.join("speechd.sock");
    // A killed service leaves its socket behind; the new one's must not be taken for ready because
    // of it.
    let _ = fs::remove_file(&socket);
    let path = |name: &str| folder.join(name).display().to_string();
    let args = [
        "-s".into(),
        "-C".into(),
        settings.display().to_string(),
        "-c".into(),
        "unix_socket".into(),
        "-S".into(),
        path("speechd.sock"),
        "-P".into(),
        path("speechd.pid"),
        "-L".into(),
        path("log"),
        "-t".into(),
        "0".into(),
    ];
    fs::create_dir_all(folder.join("log")).expect("a folder for logs");
    let log = folder.join("speech-dispatcher.log");
    let mut speech = Daemon::start("speech-dispatcher", &args, environment(folder), log);
    speech.wait_until(|| std::os::unix::net::UnixStream::connect(&socket).is_ok());
    speech
}

fn environment(folder: &Path) -> Vec<(String, String)> {
    let at = |name: &str| folder.join(name).display().to_string();
    [
        ("XDG_RUNTIME_DIR", at("")),
        ("XDG_CONFIG_HOME", at("config")),
        ("PULSE_RUNTIME_PATH", at("pulse")),
        ("PULSE_STATE_PATH", at("pulse")),
        ("PULSE_SERVER", format!("unix:{}", at("pulse/native"))),
        (
            "SPEECHD_ADDRESS",
            format!("unix_socket:{}", at("speechd.sock")),
        ),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

fn pactl(folder: &Path, args: &[&str]) -> bool {
    Command::new("pactl")
        .args(args)
        .envs(environment(folder))
        .output()
        .is_ok_and(|output| output.status.success())
}

/// What `pactl` says, which must be no refusal.
fn pactl_says(folder: &Path, args: &[&str]) -> String {
    let output = Command::new("pactl")
        .args(args)
        .envs(environment(folder))
        .output()
        .expect("pactl starts");
    assert!(output.status.success(), "pactl {args:?}: {output:?}");
    String::from_utf8(output.stdout).expect("pactl writes text")
}

/// Panics if a program that a stage needs isn't there, naming the package it comes in.
pub fn require_tools() {
    let folders: Vec<PathBuf> = std::env::var_os("PATH")
        .map(|path| std::env::split_paths(&path).collect())
        .unwrap_or_default();
    for (program, package) in TOOLS {
        assert!(
            folders.iter().any(|folder| folder.join(program).is_file()),
            "{program} is missing. Install the Debian package {package}"
        );
    }
}
