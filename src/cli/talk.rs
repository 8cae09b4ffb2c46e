//! `tellshelf talk`: the microphone in, answers aloud.

use std::time::Duration;

use clap::Args;

use super::error::CliError;
use super::hear::take_turn;
use super::output::write_turn;
use super::{ConversationOptions, Ending, HearingOptions};
use crate::ear::{Endpoint, EndpointSettings, Microphone};
use crate::stock::Source;

/// How long one look at the microphone waits for sound: short against any pause in speech.
const LOOK: Duration = Duration::from_millis(200);

#[derive(Debug, Args)]
pub(super) struct Talk {
    #[command(flatten)]
    hearing: HearingOptions,
    #[command(flatten)]
    conversation: ConversationOptions,
}

impl Talk {
    /// Listens until it is stopped, or the microphone is lost.
    pub fn run(self) -> Result<Ending, CliError> {
        let grammar = self.hearing.grammar()?;
        let mut hearing = self.hearing.ears(&grammar)?;
        let mut session = self.conversation.session(grammar)?;
        let mut voice = self.conversation.voice();
        let mut microphone = Microphone::open()?;
        let mut endpoint = Endpoint::new(EndpointSettings::default());
        eprintln!("I'm listening at {}.", microphone.describe());
        loop {
            let Some(samples) = microphone.next(LOOK)? else {
                continue;
            };
            for utterance in endpoint.push(&samples) {
                let (heard, hear) = hearing.hear(&utterance, session.acceptor())?;
                // Noise that passed for speech, and gave no words, is no utterance.
                if heard.is_silent() {
                    continue;
                }
                let now = self.conversation.clock().now();
                let (turn, times) =
                    take_turn(&mut session, (&heard, hear), now, Source::Microphone);
                if self.conversation.json {
                    write_turn("microphone", &turn, &times)?;
                }
                voice.say(&turn.reply);
                voice.wait();
                // What the microphone took in meanwhile is our own voice.
                microphone.flush();
                endpoint.reset();
            }
        }
    }
}
