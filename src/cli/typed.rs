//! `tellshelf type`: the same conversation on a line.

use std::io::BufRead;

use chrono::NaiveDateTime;
use clap::Args;

use super::error::CliError;
use super::hear::{play_sound, take_turn};
use super::hearing::Settled;
use super::options::GrammarOptions;
use super::output::{Times, write_turn};
use super::{ConversationOptions, Ending};
use crate::grammar::Heard;
use crate::stock::Source;
use crate::talk::{Effect, Session, Turn};

#[derive(Debug, Args)]
pub(super) struct Typed {
    #[command(flatten)]
    grammar: GrammarOptions,
    #[command(flatten)]
    conversation: ConversationOptions,
}

impl Typed {
    pub fn run(self) -> Result<Ending, CliError> {
        let grammar = self.grammar.load()?;
        let mut session = self.conversation.session(grammar)?;
        let mut voice = self.conversation.voice();
        let mut ending = Ending::Well;
        let mut input = std::io::stdin().lock();
        let mut line = Vec::new();
        while input.read_until(b'\n', &mut line)? > 0 {
            // A scanner or a pasted line may hold any bytes: what can't be read isn't understood.
            let text = String::from_utf8_lossy(&line).trim().to_owned();
            line.clear();
            if text.is_empty() {
                continue;
            }
            let now = self.conversation.clock().now();
            let (mut turn, times) = take_line(&mut session, &text, now);
            // One answer a line: what came of it, and not that it will take a moment.
            if turn.effect == Some(Effect::OtherVoice) {
                turn.reply = self.conversation.take_other_voice(&mut session, &mut voice);
            }
            if turn.failed {
                ending = Ending::WithFailures;
            }
            if self.conversation.json {
                write_turn("typed", &turn, &times)?;
            }
            // Who types on doesn't wait to hear the last answer out.
            voice.stop();
            self.conversation.carry_out(&turn, &mut voice);
            voice.say(&turn.reply);
            play_sound(&turn, &mut voice);
        }
        voice.wait();
        Ok(ending)
    }
}

/// Answers a line: a code that a scanner typed, or what a person did.
pub(super) fn take_line(session: &mut Session, text: &str, now: NaiveDateTime) -> (Turn, Times) {
    match session.scan(text, now, Source::Typed) {
        Some(turn) => (turn, Times::default()),
        None => {
            let typed = Settled::of(Heard::text(text), |heard| session.settle(heard, now));
            take_turn(session, typed, now, Source::Typed)
        }
    }
}
