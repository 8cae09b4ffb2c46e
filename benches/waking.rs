//! How often the wake phrase is heard, how often something else is taken for it, and what waiting costs.
//!
//! ```sh
//! cargo bench --bench waking -- --calls DIR --noise NOISE.wav --snr 15,9     # recordings that begin with the phrase
//! cargo bench --bench waking -- --other DIR [--other DIR]                     # hours of anything else
//! ```
//! Sound goes through the same listener as in `tellshelf talk`, piece by piece as it comes from a microphone. Each call is
//! heard by a session that sleeps; it counts as heard if the session is called, whatever is understood behind the phrase, and as
//! clearly heard if it is the phrase alone, or a command that needn't be asked about.
//! Of other sound, everything that isn't ignored is a false wake. Noise is mixed in as in `recordings`.
#[path = "recordings/mix.rs"]
mod mix;
#[path = "shared/random.rs"]
mod random;

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::Parser;
use tellshelf::cli::{Hearing, Listener, News};
use tellshelf::ear::{Models, RATE, Sound, read_recording};
use tellshelf::grammar::{Grammar, Verdict, WakePhrase};
use tellshelf::settings::{Patience, Settings};
use tellshelf::stock::Stock;
use tellshelf::talk::Session;

#[derive(Debug, Parser)]
struct Arguments {
    /// Folders of recordings that begin with the phrase
    #[arg(long, value_name = "DIR")]
    calls: Vec<PathBuf>,
    /// Folders of recordings without it
    #[arg(long, value_name = "DIR")]
    other: Vec<PathBuf>,
    /// The phrase; otherwise the usual one
    #[arg(long, value_name = "WORDS")]
    phrase: Option<String>,
    /// Noise to mix in
    #[arg(long, value_name = "NOISE.wav")]
    noise: Option<PathBuf>,
    /// How far the noise lies below the speech, in decibels
    #[arg(long, value_name = "DB", value_delimiter = ',')]
    snr: Vec<f32>,
    /// Passed by cargo bench
    #[arg(long, hide = true)]
    bench: bool,
}

type Failure = Box<dyn std::error::Error>;

/// A session that waits for its phrase, with all that it needs to hear.
struct Room {
    phrase: WakePhrase,
    hearing: Hearing,
    session: Session,
}

impl Room {
    fn new(phrase: &str) -> Result<Self, Failure> {
        let file = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("grammars/en.yaml");
        let grammar = Grammar::load(&file)?;
        let hearing = Hearing::open(&Models::find(), None, &grammar)?;
        let mut session = Session::new(Stock::in_memory()?, grammar)?;
        let phrase = WakePhrase::new(phrase)?;
        session.use_wake_phrase(phrase.clone())?;
        Ok(Self {
            phrase,
            hearing,
            session,
        })
    }

    fn listener(&self) -> Result<Listener, Failure> {
        Ok(Listener::new(Patience::Usual, Some(&self.phrase))?)
    }

    /// Listens to a recording, with the silence behind it that ends any utterance.
    fn hear(&mut self, listener: &mut Listener, sound: &Sound) -> Result<Vec<News>, Failure> {
        self.session.sleep();
        let now = NaiveDate::from_ymd_opt(2026, 11, 25)
            .and_then(|day| day.and_hms_opt(10, 0, 0))
            .ok_or("no such time")?;
        let silence = vec![0.0; 2 * RATE as usize];
        let stream: Vec<f32> = sound.samples().iter().chain(&silence).copied().collect();
        let mut news = Vec::new();
        for piece in stream.chunks(RATE as usize / 20) {
            news.extend(listener.push(piece, &mut self.hearing, &mut self.session, now)?);
        }
        Ok(news)
    }
}

fn main() -> Result<(), Failure> {
    let arguments = Arguments::parse();
    let usual = Settings::default().listening.wake_phrase;
    let phrase = arguments.phrase.unwrap_or(usual);
    let mut room = Room::new(&phrase)?;
    let noise = arguments.noise.as_deref().map(read_recording).transpose()?;
    let mut snrs = vec![None];
    snrs.extend(arguments.snr.into_iter().map(Some));
    for folder in &arguments.calls {
        for snr in &snrs {
            let (mut heard, mut clear, mut missed) = (0, 0, Vec::new());
            let files = recordings(folder)?;
            for (number, file) in files.iter().enumerate() {
                let sound = mixed(read_recording(file)?, noise.as_ref(), *snr, number as u64);
                let mut listener = room.listener()?;
                let news = room.hear(&mut listener, &sound)?;
                if news.is_empty() {
                    missed.push(file.display().to_string());
                } else {
                    heard += 1;
                    clear += usize::from(news.iter().any(is_clear));
                }
            }
            println!(
                "{} {}: heard {heard} of {}, {clear} of them clearly",
                folder.display(),
                level(*snr),
                files.len()
            );
            missed.iter().for_each(|file| println!("  missed: {file}"));
        }
    }
    for folder in &arguments.other {
        for snr in &snrs {
            let mut listener = room.listener()?;
            let (mut seconds, mut wakes) = (0.0, Vec::new());
            let before = processor_seconds();
            for (number, file) in recordings(folder)?.iter().enumerate() {
                let sound = mixed(read_recording(file)?, noise.as_ref(), *snr, number as u64);
                seconds += sound.seconds() + 2.0;
                for news in room.hear(&mut listener, &sound)? {
                    let what = match news {
                        News::Called => "the phrase".to_owned(),
                        News::Said(settled) => format!(
                            "{:?} {}",
                            settled.understanding.verdict, settled.understanding.heard
                        ),
                    };
                    wakes.push(format!("{}: {what}", file.display()));
                }
            }
            let cost = 100.0 * (processor_seconds() - before) / seconds;
            println!(
                "{} {}: {} false wakes in {:.2} hours; {cost:.1} % of one core",
                folder.display(),
                level(*snr),
                wakes.len(),
                seconds / 3600.0
            );
            wakes.iter().for_each(|wake| println!("  {wake}"));
        }
    }
    Ok(())
}

/// Whether it is a call by itself, or a command that needn't be asked about.
fn is_clear(news: &News) -> bool {
    match news {
        News::Called => true,
        News::Said(settled) => settled.understanding.verdict == Verdict::Accept,
    }
}

fn mixed(sound: Sound, noise: Option<&Sound>, snr: Option<f32>, seed: u64) -> Sound {
    match (noise, snr) {
        (Some(noise), Some(snr)) => mix::mix(&sound, noise, snr, seed),
        _ => sound,
    }
}

fn level(snr: Option<f32>) -> String {
    snr.map_or("as recorded".into(), |snr| format!("{snr} dB"))
}

fn recordings(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            files.extend(recordings(&path)?);
        } else if path.extension().is_some_and(|e| e == "wav") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// Processor time of this process so far, all threads together. Linux only; 0 elsewhere.
fn processor_seconds() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let behind = stat.rsplit(')').next().unwrap_or_default();
    let fields: Vec<f64> = behind
        .split_whitespace()
        .map(|f| f.parse().unwrap_or(0.0))
        .collect();
    // utime and stime, in ticks of a hundredth of a second (proc(5)).
    match (fields.get(11), fields.get(12)) {
        (Some(user), Some(system)) => (user + system) / 100.0,
        _ => 0.0,
    }
}
