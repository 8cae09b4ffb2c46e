//! Whether a long life makes the stock slower: `cargo bench --bench stock -- DIR`.
//!
//! A made-up kitchen lives through 500,000 events, all of them recorded as a person's are; then it has 5,000 items
//! and 50,000 lots. It is kept in `DIR`, and made only where it isn't there yet: on a RAM disk within minutes,
//! elsewhere the half million waits for the disk take an hour. What is timed are copies in the folder for temporary
//! files, or in the one given by `--on`: there, a change is done once it is on the disk.
//!
//! Beside it stand the same kitchen as it was after 5,000 events, small as yet; and the big one with all but the last
//! 5,000 events cut off its ledger, which shows what the length of the ledger by itself costs.

use std::error::Error;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use chrono::{Days, NaiveDateTime, NaiveTime};
use clap::Parser;
use kitchen::{Kind, Kitchen, name, time_of};
use rusqlite::Connection;
use tellshelf::grammar::Grammar;
use tellshelf::stock::{Allergen, Clip, Event, ItemName, Source, Stock, StockError};
use tellshelf::talk::Session;

#[path = "stock/kitchen.rs"]
mod kitchen;
#[path = "shared/made_up.rs"]
mod made_up;
#[path = "shared/random.rs"]
mod random;

const FEW: usize = 5_000;
const MANY: usize = 500_000;
/// How often each is asked and done.
const ROUNDS: usize = 300;

#[derive(Debug, Parser)]
struct Arguments {
    /// Where the kitchens are kept
    folder: PathBuf,
    /// Where copies of them are timed
    #[arg(long)]
    on: Option<PathBuf>,
    /// Time only what has this in its name
    #[arg(long, default_value = "")]
    only: String,
    /// Passed by cargo bench
    #[arg(long, hide = true)]
    bench: bool,
}

/// A question, and how many things its answer has.
type Question = fn(&mut Kitchen) -> Result<usize, StockError>;

const QUESTIONS: [(&str, Question); 31] = [
    ("lots of an item", |k| {
        let item = name(k.any_item());
        Ok(k.stock.lots(&item)?.len())
    }),
    ("what is in a place", |k| {
        let place = k.any_place();
        Ok(k.stock.in_place(&place)?.len())
    }),
    ("list", |k| Ok(k.stock.list()?.len())),
    ("is it listed", |k| {
        let item = name(k.any_item());
        Ok(k.stock.is_listed(&item)?.into())
    }),
    ("why listed", |k| {
        let item = name(k.any_item());
        Ok(k.stock.why_listed(&item)?.iter().len())
    }),
    ("tags", |k| Ok(k.stock.tags()?.len())),
    ("a tag", |k| match k.any_tag() {
        Some(tag) => Ok(k.stock.tag(tag)?.iter().len()),
        None => Ok(0),
    }),
    ("expiring within a week", |k| {
        let week = k.now.date() + Days::new(7);
        Ok(k.stock.expiring(week)?.len())
    }),
    ("first 3 to use", |k| Ok(k.stock.expiring_first(3)?.len())),
    ("low", |k| Ok(k.stock.low()?.len())),
    ("last 10 standing", |k| {
        Ok(k.stock.standing(10, None)?.len())
    }),
    ("standing since midnight", |k| {
        let midnight = k.now.date().and_time(NaiveTime::MIN);
        Ok(k.stock.standing(usize::MAX, Some(midnight))?.len())
    }),
    ("names", |k| Ok(k.stock.names()?.len())),
    ("learned", |k| Ok(k.stock.learned()?.len())),
    ("keeps sounds", |k| Ok(k.stock.keeps_sounds()?.into())),
    ("sound of an item", |k| {
        let item = name(k.any_item());
        Ok(k.stock.sound_of(&item)?.iter().len())
    }),
    ("sounds", |k| k.stock.sounds()),
    ("facts of an item", |k| {
        let item = name(k.any_item());
        k.stock.facts(&item).map(|facts| facts.allergens.len())
    }),
    ("what has an allergen", |k| {
        let allergen = Allergen::new("tree nuts").expect("an allergen");
        Ok(k.stock.allergen(&allergen)?.len())
    }),
    ("what may be in hand", |k| Ok(k.stock.candidates()?.len())),
    ("what may be taken for an item", |k| {
        let (item, place) = (name(k.any_item()), k.any_place());
        Ok(k.stock.beside(&item, &place)?.len())
    }),
    ("what has a mark", |k| Ok(k.stock.marked()?.len())),
    ("uses of an item", |k| {
        let item = name(k.any_item());
        Ok(k.stock.uses(&item)?.len())
    }),
    ("how long an item lasts", |k| {
        let item = name(k.any_item());
        Ok(k.stock.run_out(&item, k.now.date())?.iter().len())
    }),
    ("what runs out soon", |k| {
        Ok(k.stock.running_out(k.now.date())?.len())
    }),
    ("what is wanted", |k| Ok(k.stock.wanted()?.len())),
    ("what waits", |k| Ok(k.stock.waiting()?.len())),
    ("all tags", |k| Ok(k.stock.pool()?.len())),
    ("not yet known", |k| Ok(k.stock.not_yet_known()?.len())),
    ("without a date", |k| Ok(k.stock.undated()?.len())),
    ("last trip", |k| Ok(k.stock.last_trip()?.iter().len())),
];

/// What is typed, with an item in place of the dash.
const COMMANDS: [&str; 28] = [
    "what is in the fridge",
    "what is in the pantry",
    "what should I use first",
    "what expires this week",
    "where is the -",
    "how much - is left",
    "when does the - expire",
    "why is the - on the list",
    "read the list",
    "read the tags",
    "read tag 3",
    "what is low",
    "what changed today",
    "how long will the - last",
    "what is not yet known",
    "what is this can",
    "what contains nuts",
    "what is in the freezer",
    "what expires today",
    "what expires by December fifth",
    "what has expired",
    "does the - contain milk",
    "what allergens are in the -",
    "how do I cook the -",
    "what did I buy last time",
    "add two - to the pantry",
    "used up the -",
    "undo",
];

/// What is typed on a trip and behind it.
const TRIP: [&str; 7] = [
    "I'm going to the store",
    "next",
    "I got it",
    "I'm home",
    "put things away",
    "put it in the pantry",
    "done",
];
/// The same in its order: some lines are read and taken, and as many things are put away.
const ON_A_TRIP: [usize; 16] = [0, 1, 2, 1, 2, 1, 2, 1, 2, 3, 4, 5, 5, 5, 5, 6];
/// What is done with a code that a scanner types, and with the sound of a name.
const SCANNED: [&str; 3] = ["scan a new code", "this is the -", "scan a known code"];
const SOUNDS: [&str; 2] = ["keep a sound", "sound of an item that has one"];

fn main() -> Result<(), Box<dyn Error>> {
    let arguments = Arguments::parse();
    let kept = &arguments.folder;
    std::fs::create_dir_all(kept)?;
    let (few, many) = (kept.join("5000.db"), kept.join("500000.db"));
    let cut = kept.join("500000-cut.db");
    if !many.is_file() {
        let making = kept.join("making.db");
        drop(std::fs::remove_file(&making));
        live(&making, 0, FEW)?;
        std::fs::copy(&making, &few)?;
        live(&making, FEW, MANY)?;
        std::fs::rename(making, &many)?;
    }
    if !cut.is_file() {
        let making = kept.join("making.db");
        std::fs::copy(&many, &making)?;
        cut_ledger(&making)?;
        std::fs::rename(making, &cut)?;
    }
    let scratch = match &arguments.on {
        Some(folder) => tempfile::tempdir_in(folder)?,
        None => tempfile::tempdir()?,
    };
    let only = &arguments.only;
    let columns = [
        Column::of(&few, scratch.path(), time_of(FEW, MANY)?, only)?,
        Column::of(&cut, scratch.path(), time_of(MANY, MANY)?, only)?,
        Column::of(&many, scratch.path(), time_of(MANY, MANY)?, only)?,
    ];
    for column in &columns {
        println!("{}", column.what);
    }
    println!();
    println!(
        "| p50 / p99 in ms (things) | {FEW} events | {MANY}, all but {FEW} cut off | {MANY} events | p50 to {FEW}, to cut |"
    );
    println!("|---|---|---|---|---|");
    let [few, cut, many] = &columns;
    for ((few, cut), many) in few.rows.iter().zip(&cut.rows).zip(&many.rows) {
        println!(
            "| {} | {few} | {cut} | {many} | {:.1}, {:.1} |",
            many.name,
            many.at(0.5) / few.at(0.5),
            many.at(0.5) / cut.at(0.5)
        );
    }
    Ok(())
}

/// Lives in the kitchen of a file.
fn live(path: &Path, from: usize, until: usize) -> Result<(), Box<dyn Error>> {
    let begun = Instant::now();
    let mut kitchen = Kitchen::open(path, time_of(from, MANY)?)?;
    kitchen.live(from, until)?;
    eprintln!("{until} events: {:.0?}", begun.elapsed());
    Ok(())
}

/// Takes all but the last events out of a ledger, in a way that no program has to.
fn cut_ledger(path: &Path) -> Result<(), Box<dyn Error>> {
    let connection = Connection::open(path)?;
    let keeps = "SELECT sql FROM sqlite_schema WHERE name = 'event_is_kept'";
    let keeps: String = connection.query_row(keeps, [], |row| row.get(0))?;
    connection.execute_batch("PRAGMA foreign_keys = off; DROP TRIGGER event_is_kept")?;
    // An undo of what is cut off goes as well.
    let cut = "DELETE FROM event WHERE id <= ?1 OR undoes <= ?1";
    connection.execute(cut, [(MANY - FEW) as i64])?;
    connection.execute_batch(&format!("{keeps}; VACUUM"))?;
    Ok(())
}

/// What was timed in one kitchen.
struct Column {
    what: String,
    rows: Vec<Row>,
}

impl Column {
    fn of(
        kept: &Path,
        scratch: &Path,
        now: NaiveDateTime,
        only: &str,
    ) -> Result<Self, Box<dyn Error>> {
        let path = &scratch.join("stock.db");
        std::fs::copy(kept, path)?;
        let mut rows = Vec::new();
        if "open".contains(only) {
            let mut opening = Row::new("open");
            for _ in 0..ROUNDS / 10 {
                opening.time(|| Ok(Stock::open(path).map(|_| 1)?))?;
            }
            rows.push(opening);
        }
        let mut kitchen = Kitchen::open(path, now)?;
        let what = format!(
            "{}: {} items, {} lots, {} lines, {} tags, {} MB",
            kept.file_name().unwrap_or_default().display(),
            kitchen.stock.names()?.len(),
            kitchen.stock.shelf()?.len(),
            kitchen.stock.list()?.len(),
            kitchen.stock.tags()?.len(),
            kept.metadata()?.len() / 1_000_000
        );
        eprintln!("{what}");
        let named = |name: &str| name.contains(only).then(|| Row::new(name));
        let asked = QUESTIONS
            .iter()
            .filter_map(|(name, question)| Some((named(name)?, question)));
        let mut asked: Vec<_> = asked.collect();
        for _ in 0..ROUNDS {
            for (row, question) in &mut asked {
                row.time(|| Ok(question(&mut kitchen)?))?;
            }
        }
        rows.extend(asked.into_iter().map(|(row, _)| row));
        let done = Kind::ALL
            .iter()
            .filter_map(|(kind, _)| Some((named(&format!("{kind:?}"))?, *kind)));
        let mut done: Vec<_> = done.collect();
        for _ in 0..ROUNDS {
            for (row, kind) in &mut done {
                // What can't be done with one thing can be with another.
                let took = (0..100).find_map(|_| kitchen.change(*kind).transpose());
                row.times.extend(took.transpose()?);
            }
        }
        rows.extend(done.into_iter().map(|(row, _)| row));
        // What was changed meanwhile was changed before it is asked about.
        let now = kitchen.now;
        drop(kitchen);
        let mut session = Session::new(Stock::open(path)?, grammar()?)?;
        rows.append(&mut typed(&mut session, path, now, only)?);
        rows.append(&mut on_trips(&mut session, now, only)?);
        rows.append(&mut scanned(&mut session, now, only)?);
        drop(session);
        rows.append(&mut sounds(path, now, only)?);
        Ok(Self { what, rows })
    }
}

fn grammar() -> Result<Grammar, Box<dyn Error>> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    Ok(Grammar::load(&root.join("grammars/en.yaml"))?)
}

/// What is typed, from its words to the reply.
fn typed(
    session: &mut Session,
    path: &Path,
    now: NaiveDateTime,
    only: &str,
) -> Result<Vec<Row>, Box<dyn Error>> {
    let mut rows = Vec::new();
    if "begin a session".contains(only) {
        let mut begun = Row::new("begin a session");
        for _ in 0..10 {
            let (stock, grammar) = (Stock::open(path)?, grammar()?);
            begun.time(|| {
                *session = Session::new(stock, grammar)?;
                Ok(1)
            })?;
        }
        rows.push(begun);
    }
    let names = session.stock().names()?;
    let mut random = random::Random(11);
    let commands: Vec<&str> = COMMANDS
        .into_iter()
        .filter(|command| command.contains(only))
        .collect();
    let mut said: Vec<Row> = commands.iter().map(|command| Row::new(command)).collect();
    for _ in 0..ROUNDS {
        for (row, command) in said.iter_mut().zip(&commands) {
            let command = command.replace('-', &names[random.below(names.len())]);
            row.time(|| say(session, &command, now))?;
        }
    }
    rows.append(&mut said);
    Ok(rows)
}

/// Says how many things the reply has.
fn say(session: &mut Session, command: &str, now: NaiveDateTime) -> Result<usize, Box<dyn Error>> {
    let turn = session.hear(&[command], now, Source::Typed);
    if turn.understanding.command.is_none() || turn.failed {
        return Err(format!("{command}: {}", turn.reply).into());
    }
    Ok(turn.reply.split(';').count())
}

/// Rows with these names, timed together as one rests on the other, and those of them that are asked for. Nothing is done
/// where none is.
fn timed<const N: usize>(
    names: [&str; N],
    only: &str,
    time: impl FnOnce(&mut [Row; N]) -> Result<(), Box<dyn Error>>,
) -> Result<Vec<Row>, Box<dyn Error>> {
    let mut rows = names.map(Row::new);
    if rows.iter().any(|row| row.name.contains(only)) {
        time(&mut rows)?;
    }
    let asked_for = rows.into_iter().filter(|row| row.name.contains(only));
    Ok(asked_for.collect())
}

/// Trips to the store, from the words to the reply.
fn on_trips(
    session: &mut Session,
    now: NaiveDateTime,
    only: &str,
) -> Result<Vec<Row>, Box<dyn Error>> {
    timed(TRIP, only, |rows| {
        for _ in 0..ROUNDS / 10 {
            for at in ON_A_TRIP {
                rows[at].time(|| say(session, TRIP[at], now))?;
            }
        }
        Ok(())
    })
}

/// Codes that nobody knows, that are told, and that are known from then on.
fn scanned(
    session: &mut Session,
    now: NaiveDateTime,
    only: &str,
) -> Result<Vec<Row>, Box<dyn Error>> {
    timed(SCANNED, only, |rows| {
        let names = session.stock().names()?;
        let mut random = random::Random(12);
        let scan = |session: &mut Session, code: usize| {
            let turn = session.scan(&format!("A{code:07}"), now, Source::Typed);
            turn.map(|_| 1).ok_or("no code".into())
        };
        for code in 0..ROUNDS {
            let this_is = SCANNED[1].replace('-', &names[random.below(names.len())]);
            rows[0].time(|| scan(session, code))?;
            rows[1].time(|| say(session, &this_is, now))?;
            rows[2].time(|| scan(session, random.below(code + 1)))?;
        }
        Ok(())
    })
}

/// How names are said: two seconds of sound each.
fn sounds(path: &Path, now: NaiveDateTime, only: &str) -> Result<Vec<Row>, Box<dyn Error>> {
    timed(SOUNDS, only, |rows| {
        let mut stock = Stock::open(path)?;
        stock.record(Event::SoundsAllowed { keep: true }, now, Source::Typed)?;
        let names = stock.names()?;
        let mut random = random::Random(13);
        let clip = Clip::new(vec![1; 2 * Clip::RATE as usize]);
        for _ in 0..ROUNDS {
            let item = ItemName::new(&names[random.below(names.len())])?;
            rows[0].time(|| Ok(stock.keep_sound(&item, &clip, now).map(|()| 1)?))?;
            rows[1].time(|| Ok(stock.sound_of(&item)?.iter().len()))?;
        }
        Ok(())
    })
}

/// How long one thing took, each time.
struct Row {
    name: String,
    times: Vec<Duration>,
    things: usize,
}

impl Row {
    fn new(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            times: Vec::new(),
            things: 0,
        }
    }

    fn time(
        &mut self,
        what: impl FnOnce() -> Result<usize, Box<dyn Error>>,
    ) -> Result<(), Box<dyn Error>> {
        let begun = Instant::now();
        let things = black_box(what()?);
        self.times.push(begun.elapsed());
        self.things = self.things.max(things);
        Ok(())
    }

    /// The time in milliseconds within which this share of them was.
    fn at(&self, share: f64) -> f64 {
        let mut times = self.times.clone();
        times.sort();
        let place = (times.len() as f64 * share) as usize;
        times
            .get(place.min(times.len().saturating_sub(1)))
            .map_or(f64::NAN, |time| time.as_secs_f64() * 1000.0)
    }
}

impl std::fmt::Display for Row {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:.2} / {:.2}", self.at(0.5), self.at(0.99))?;
        if self.things > 1 {
            write!(f, " ({})", self.things)?;
        }
        Ok(())
    }
}
