//! Whether many names make anything slower: `cargo bench --bench names`.
//!
//! The starter list by itself, and with 4,500 made-up names more ("smoked oat crackers"). With each, the
//! commands of `audio-fixtures` are heard, twice: first the automaton is walked for the first time,
//! then it is remembered.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use made_up::{MOST, made_up};
use tellshelf::cli::Hearing;
use tellshelf::ear::{Models, Sound, read_recording};
use tellshelf::grammar::{Acceptor, Grammar, Lexicon};

#[path = "shared/made_up.rs"]
mod made_up;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let sounds: Vec<Sound> = std::fs::read_dir(root.join("audio-fixtures/commands"))?
        .map(|entry| Ok(read_recording(&entry?.path())?))
        .collect::<Result<_, Box<dyn std::error::Error>>>()?;
    let all: Vec<String> = (0..MOST).map(made_up).collect();
    println!(
        "| names beside the starter list | ready, ms | a name added, ms | hearing first, ms (median, 95 %) | hearing again |"
    );
    println!("|---|---|---|---|---|");
    for more in [0, 4_500] {
        let start = Instant::now();
        let grammar = Grammar::load(&root.join("grammars/en.yaml"))?;
        let mut names = Lexicon::starter(grammar.language());
        for name in all.iter().take(more) {
            names.add(name, name);
        }
        let mut names = Arc::new(names);
        let acceptor = grammar.acceptor(Arc::clone(&names));
        let ready = start.elapsed();
        let mut hearing = Hearing::open(&Models::find(), None, &grammar)?;
        let first = hear(&mut hearing, (&grammar, &names), &acceptor, &sounds)?;
        let again = hear(&mut hearing, (&grammar, &names), &acceptor, &sounds)?;
        drop(acceptor);
        let start = Instant::now();
        Arc::make_mut(&mut names).add("freekeh", "freekeh");
        let acceptor = grammar.acceptor(Arc::clone(&names));
        let added = start.elapsed();
        assert!(acceptor.cost("I used up the freekeh") == Some(0.0));
        let ms = |time: Duration| time.as_secs_f64() * 1000.0;
        println!(
            "| {more} | {:.1} | {:.2} | {first} | {again} |",
            ms(ready),
            ms(added)
        );
    }
    Ok(())
}

fn hear(
    hearing: &mut Hearing,
    (grammar, names): (&Grammar, &Lexicon),
    acceptor: &Acceptor,
    sounds: &[Sound],
) -> Result<String, Box<dyn std::error::Error>> {
    let mut times = Vec::new();
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).ok_or("a day that is none")?;
    for sound in sounds {
        let settled = hearing.hear(sound, acceptor, |heard| grammar.settle(heard, names, today))?;
        times.push(settled.hear.as_secs_f64() * 1000.0);
    }
    times.sort_by(f64::total_cmp);
    let at = |share: f64| times[(times.len() as f64 * share) as usize];
    Ok(format!("{:.0}, {:.0}", at(0.5), at(0.95)))
}
