//! The story of the round: read from its file, and told again.
#![allow(dead_code, reason = "each test file uses its part")]

use chrono::NaiveDateTime;
use tellshelf::grammar::Grammar;
use tellshelf::stock::{Lot, Source, Stock, TagState};
use tellshelf::talk::{Session, Turn};

const STORY: &str = include_str!("story.txt");

/// A line of the story that does something.
pub enum Step {
    /// The clock moves, and a part begins.
    Part(NaiveDateTime, String),
    /// The person says something.
    Said(String),
}

pub struct Story {
    pub text: String,
    pub steps: Vec<Step>,
}

impl Story {
    pub fn read() -> Self {
        let steps = STORY.lines().filter_map(|line| {
            if let Some(said) = line.strip_prefix("> ") {
                return Some(Step::Said(said.to_owned()));
            }
            let (time, title) = line.strip_prefix("== ")?.split_at(16);
            let time = NaiveDateTime::parse_from_str(time, "%Y-%m-%d %H:%M").unwrap();
            Some(Step::Part(time, title.trim().to_owned()))
        });
        Self {
            text: STORY.to_owned(),
            steps: steps.collect(),
        }
    }

    pub fn said(&self) -> impl Iterator<Item = &str> {
        self.steps.iter().filter_map(|step| match step {
            Step::Said(said) => Some(said.as_str()),
            Step::Part(..) => None,
        })
    }
}

/// Tells the story in an empty kitchen. `hear` may take a line in another way than typed: it gets the line's number,
/// from 1, and gives what came of it.
pub fn retold(
    story: &Story,
    mut hear: impl FnMut(&mut Session, (usize, NaiveDateTime)) -> Option<Turn>,
) -> String {
    let grammar = Grammar::from_text("en.yaml", include_str!("../../grammars/en.yaml")).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    let mut told = String::new();
    let mut now = NaiveDateTime::default();
    let mut number = 0;
    for step in &story.steps {
        match step {
            Step::Part(time, title) => {
                if number > 0 {
                    told.push_str(&state(session.stock()));
                    told.push('\n');
                }
                told.push_str(&format!("== {} {title}\n", time.format("%Y-%m-%d %H:%M")));
                now = *time;
            }
            Step::Said(said) => {
                number += 1;
                let turn = hear(&mut session, (number, now));
                let turn =
                    turn.unwrap_or_else(|| session.hear(&[said.as_str()], now, Source::Typed));
                told.push_str(&format!("> {said}\n< {}\n", turn.reply));
            }
        }
    }
    told.push_str(&state(session.stock()));
    told
}

/// What the stock holds, for a person to read.
fn state(stock: &Stock) -> String {
    let mut state = String::new();
    let mut row = |name: &str, values: Vec<String>| {
        let values = match values.is_empty() {
            true => "nothing".to_owned(),
            false => values.join("; "),
        };
        state.push_str(&format!("| {name}: {values}\n"));
    };
    row("shelf", stock.shelf().unwrap().iter().map(lot).collect());
    let lines = stock.list().unwrap();
    let lines = lines.iter().map(|line| match &line.quantity {
        Some(quantity) => format!("{quantity} {}", line.item),
        None => line.item.to_string(),
    });
    row("list", lines.collect());
    let tags = stock.pool().unwrap();
    let tags = tags.iter().map(|tag| {
        let state = match &tag.state {
            TagState::Free => "free".to_owned(),
            TagState::InHand => "in hand".to_owned(),
            TagState::On(item) => format!("on {item}"),
            TagState::Spent(item) => format!("spent, of {item}"),
            TagState::Lost => "lost".to_owned(),
        };
        format!("{} {}, {state}", tag.number, tag.kind.name())
    });
    row("tags", tags.collect());
    let waiting = stock.waiting().unwrap();
    let waiting = waiting.iter().map(|thing| thing.item.to_string());
    row("to put away", waiting.collect());
    state
}

fn lot(lot: &Lot) -> String {
    let mut text = lot.item.to_string();
    let mut add = |fact: String| text.push_str(&format!(", {fact}"));
    lot.quantity.iter().for_each(|q| add(q.to_string()));
    lot.place.iter().for_each(|place| add(place.to_string()));
    for note in lot.dates.iter() {
        let kind = note.kind.map_or("on", |kind| kind.name());
        add(format!("{kind} {}", note.date));
    }
    lot.mark.iter().for_each(|mark| add(mark.spoken()));
    lot.tag.iter().for_each(|tag| add(format!("tag {tag}")));
    if lot.unsure {
        add("unsure".to_owned());
    }
    text
}
