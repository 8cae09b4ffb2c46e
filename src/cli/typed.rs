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
use crate::grammar::{Heard, WakePhrase};
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
        let phrase = session.settings().listening.phrase();
        let phrase = phrase.and_then(|words| WakePhrase::new(words).ok());
        while input.read_until(b'\n', &mut line)? > 0 {
            // A scanner or a pasted line may hold any bytes: what can't be read isn't understood.
            let text = String::from_utf8_lossy(&line).trim().to_owned();
            line.clear();
            if text.is_empty() {
                continue;
            }
            // Here nobody needs to call, but who is used to it may.
            let text = behind_the_phrase(phrase.as_ref(), &text);
            let now = self.conversation.clock().now();
            let (mut turn, times) = take_line(&mut session, text, now);
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
        // Nobody answers any more: what waited isn't lost unsaid.
        if let Some(words) = session.let_go()
            && !self.conversation.json
        {
            voice.say(&words);
        }
        voice.wait();
        Ok(ending)
    }
}

/// What stands behind the wake phrase, if a line begins with it and goes on.
fn behind_the_phrase<'l>(phrase: Option<&WakePhrase>, line: &'l str) -> &'l str {
    phrase.map_or(line, |phrase| phrase.behind(line))
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
