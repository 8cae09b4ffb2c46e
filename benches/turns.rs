//! How long a turn takes through real sound, from the end of speech to the first sound of the answer, room by room.
//!
//! ```sh
//! cargo bench --bench turns                # 24 of our own commands; needs PulseAudio and speech-dispatcher
//! cargo bench --bench turns -- --count 48
//! ```
//! `tellshelf talk` runs on a make-believe sound card, as in the sound tests; commands are played into its microphone, and
//! its loudspeaker is recorded. Twice: with tones, whose first is the tick that says "heard", and without, where the first
//! sound is the first word.
#[path = "../tests/common/kitchen.rs"]
mod kitchen;
#[path = "../tests/common/stage.rs"]
mod stage;
#[path = "../tests/common/talk.rs"]
mod talk;

use clap::Parser;
use kitchen::{Kitchen, recordings};
use stage::Stage;
use talk::Talk;

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
        // Every other one: of all voices.
        for recording in recordings("commands")
            .iter()
            .step_by(2)
            .cycle()
            .take(arguments.count)
        {
            let name = recording.strip_prefix(kitchen::project("audio-fixtures"));
            let exchange = talk.exchange(&stage, &name.expect("a fixture").to_string_lossy());
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
        for (part, times) in &mut parts {
            times.sort_by(f64::total_cmp);
            let at = |share: f64| times[((times.len() - 1) as f64 * share).round() as usize];
            println!("{part:45} {:6.0} {:6.0}", at(0.5), at(0.95));
        }
    }
}
