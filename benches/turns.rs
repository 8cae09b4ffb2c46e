//! How long a turn takes through real sound, from the end of speech to the first sound of the answer, room by room.
//!
//! ```sh
//! cargo bench --bench turns                # 24 of our own commands; needs PulseAudio and speech-dispatcher
//! cargo bench --bench turns -- --count 48
//! ```
//! `tellshelf talk` runs on a make-believe sound card, as in the sound tests; commands are played into its microphone, and
//! its loudspeaker is recorded. Three times: with tones, whose first is the tick that says "heard"; without, where the first
//! sound is the first word; and so on a machine that is ten times slower, where that word is "One moment".
#[path = "../tests/common/kitchen.rs"]
mod kitchen;
#[path = "../tests/common/stage.rs"]
mod stage;
#[path = "../tests/common/talk.rs"]
mod talk;

use clap::Parser;
use kitchen::{Kitchen, recordings};
use stage::Stage;
use talk::{ANSWER, REPLY_IS_OVER, SlowMachine, Talk};

#[derive(Debug, Parser)]
struct Arguments {
    /// How many commands
    #[arg(long, default_value_t = 24)]
    count: usize,
    /// Passed by cargo bench
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() {
    let arguments = Arguments::parse();
    println!(
        "milliseconds, median and 95th percentile; {} commands",
        arguments.count
    );
    for (name, tones) in [("with tones", true), ("without tones", false)] {
        let (stage, kitchen) = (Stage::start(), Kitchen::new());
        let settings = format!("listening:\n  wake-phrase: none\ntones:\n  on: {tones}\n");
        let talk = Talk::start_with(&stage, &kitchen, &settings, &["--json"]);
        let mut parts: [(&str, Vec<f64>); 6] = [
            ("ear: pause that ends it, and hearing in it", Vec::new()),
            ("  of that hearing, all passes", Vec::new()),
            ("grammar", Vec::new()),
            ("talk and stock, on disk", Vec::new()),
            ("voice: from the reply to its sound", Vec::new()),
            ("end of speech to first sound", Vec::new()),
        ];
        for recording in commands(arguments.count) {
            let exchange = talk.exchange(&stage, &recording);
            let turn = exchange.turn();
            let ms = |part: &str| turn["ms"][part].as_f64().unwrap_or_default();
            let to_line = exchange.to_line.as_secs_f64() * 1e3;
            let to_sound = exchange.to_sound.as_secs_f64() * 1e3;
            let times = [
                to_line - ms("understand") - ms("act"),
                ms("hear"),
                ms("understand"),
                ms("act"),
                to_sound - to_line,
                to_sound,
            ];
            for ((_, all), time) in parts.iter_mut().zip(times) {
                all.push(time);
            }
        }
        println!("\n{name}:");
        for (part, times) in parts {
            row(part, times);
        }
    }
    println!("\nwithout tones, on a machine that is ten times slower:");
    row("end of speech to first word", slow(arguments.count));
}

/// From the end of speech to the first word, on a slow machine: it is "One moment" where the answer isn't there yet.
fn slow(count: usize) -> Vec<f64> {
    let (stage, kitchen) = (Stage::start(), Kitchen::new());
    let talk = Talk::start(&stage, &kitchen, &[]);
    let _slow = SlowMachine::start(&talk);
    let times = commands(count).map(|recording| {
        let exchange = talk.exchange(&stage, &recording);
        if exchange.line == "One moment." {
            talk.line();
            let loudspeaker = stage.start_recording();
            loudspeaker.wait_for_silence(REPLY_IS_OVER, ANSWER);
        }
        exchange.to_sound.as_secs_f64() * 1e3
    });
    times.collect()
}

/// Every other one of our own: of all voices.
fn commands(count: usize) -> impl Iterator<Item = String> {
    let all = recordings("commands").into_iter().step_by(2);
    let all: Vec<_> = all.collect();
    let fixtures = kitchen::project("audio-fixtures");
    all.into_iter().cycle().take(count).map(move |recording| {
        let name = recording.strip_prefix(&fixtures).expect("a fixture");
        name.to_string_lossy().into_owned()
    })
}

fn row(what: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let at = |share: f64| times[((times.len() - 1) as f64 * share).round() as usize];
    println!("{what:45} {:6.0} {:6.0}", at(0.5), at(0.95));
}
