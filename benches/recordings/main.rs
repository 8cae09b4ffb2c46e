//! How labelled recordings are heard and understood, and how long it takes.
//!
//! ```sh
//! cargo bench --bench recordings                                   # our own recordings
//! cargo bench --bench recordings -- --folder DIR --grammar FILE.yaml --noise NOISE.wav --snr 15,9,6
//! ```
//! A folder is labelled by `labels.json` in it or above it: file name -> `{intent, slots}`. A command is
//! right when the intent is, and every slot of the label has its value. Noise is mixed in as the
//! Speech-to-Intent Benchmark does (see `mix.rs`), with a fixed seed.
mod labels;
mod mix;
#[path = "../shared/random.rs"]
mod random;
mod reliability;
mod score;

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Parser;
use tellshelf::cli::{Hearing, Settled};
use tellshelf::ear::{Models, Sound, read_recording};
use tellshelf::grammar::{Acceptor, Grammar, Heard, Lexicon, Understanding};

use labels::Labelled;
use reliability::Reliability;
use score::{Line, Score};

#[derive(Debug, Parser)]
struct Arguments {
    /// Folders of labelled recordings; otherwise our own
    #[arg(long, value_name = "DIR")]
    folder: Vec<PathBuf>,
    /// The grammar; otherwise grammars/en.yaml
    #[arg(long, value_name = "FILE")]
    grammar: Option<PathBuf>,
    /// Noise to mix in
    #[arg(long, value_name = "NOISE.wav")]
    noise: Option<PathBuf>,
    /// How far the noise lies below the speech, in decibels
    #[arg(long, value_name = "DB", value_delimiter = ',', default_values_t = [15.0, 9.0])]
    snr: Vec<f32>,
    /// Show each recording that isn't right
    #[arg(long)]
    wrong: bool,
    /// Passed by cargo bench
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments = Arguments::parse();
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let grammar_file = arguments.grammar.unwrap_or(root.join("grammars/en.yaml"));
    let grammar = Grammar::load(&grammar_file)?;
    let names = std::sync::Arc::new(Lexicon::starter(grammar.language()));
    let mut acceptor = grammar.acceptor(names.clone());
    // The day from which the labels of our own recordings count their dates.
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).ok_or("a day that is none")?;
    let folders = if arguments.folder.is_empty() {
        ["demo", "commands", "measure", "noisy", "not-for-us"]
            .map(|f| root.join("audio-fixtures").join(f))
            .to_vec()
    } else {
        arguments.folder
    };
    let noise = arguments.noise.as_deref().map(read_recording).transpose()?;
    let mut snrs: Vec<Option<f32>> = vec![None];
    if noise.is_some() {
        snrs.extend(arguments.snr.into_iter().map(Some));
    }
    let mut hearing = Hearing::open(&Models::find(), None, &grammar)?;
    println!("{}", Score::HEADING);
    let mut reliability = Reliability::default();
    for folder in folders {
        let labelled = Labelled::read(&folder)?;
        for snr in &snrs {
            let mut score = Score::default();
            for (number, recording) in labelled.iter().enumerate() {
                let clean = read_recording(&recording.file)?;
                let sound = match (snr, &noise) {
                    (Some(snr), Some(noise)) => mix::mix(&clean, noise, *snr, number as u64),
                    _ => clean,
                };
                // As a session does.
                if acceptor.is_full() {
                    acceptor = grammar.acceptor(names.clone());
                }
                let line = hear(
                    &mut hearing,
                    &grammar,
                    &acceptor,
                    &names,
                    today,
                    recording,
                    &sound,
                )?;
                if arguments.wrong && !line.right {
                    println!("{}: {}", recording.file.display(), line.shown);
                }
                reliability.add(&line);
                score.add(line);
            }
            let name = folder
                .file_name()
                .map_or_else(String::new, |n| n.to_string_lossy().into());
            let name = snr.map_or(format!("{name} as recorded"), |snr| {
                format!("{name} {snr} dB")
            });
            println!("{}", score.row(&name));
        }
    }
    println!("\n{reliability}");
    println!("Peak memory: {}", score::peak_memory());
    Ok(())
}

fn hear(
    hearing: &mut Hearing,
    grammar: &Grammar,
    acceptor: &Acceptor,
    names: &Lexicon,
    today: NaiveDate,
    recording: &Labelled,
    sound: &Sound,
) -> Result<Line, Box<dyn std::error::Error>> {
    let settle = |heard: &Heard| grammar.settle(heard, names, today);
    let settled = hearing.hear(sound, acceptor, settle)?;
    let free = hearing.hear_freely(sound)?;
    let Settled {
        heard,
        understanding,
        hear,
        understand,
    } = settled;
    Ok(Line {
        shown: shown(&heard, &understanding),
        right: recording.is_right(&understanding),
        meant: recording.intent.is_some(),
        verdict: understanding.verdict,
        confidence: understanding.command.as_ref().map(|c| c.confidence),
        hear,
        understand,
        free,
    })
}

/// What was understood, how well the guided sentence fits, and what was heard freely.
fn shown(heard: &Heard, understanding: &Understanding) -> String {
    let command = understanding
        .command
        .as_ref()
        .map(|c| format!("{} {:?}", c.intent, c.slots));
    let fits = heard
        .guided
        .iter()
        .flatten()
        .next()
        .map_or(String::new(), |fit| {
            format!("fits {:.2}, scores {:.2}", fit.against_free, fit.score)
        });
    format!(
        "{}: {} ({fits}; freely: {}) {}",
        understanding.verdict.name(),
        understanding.heard,
        heard.free.join(" / "),
        command.unwrap_or_default()
    )
}
