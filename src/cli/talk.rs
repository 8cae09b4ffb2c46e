//! `tellshelf talk`: the microphone in, answers aloud.

use std::time::Duration;

use clap::Args;

use super::error::CliError;
use super::hear::{hear, play_sound, take_turn};
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
                let now = self.conversation.clock().now();
                let settled = hear(&mut hearing, &utterance, &mut session, now)?;
                // Noise that passed for speech, and gave no words, is no utterance.
                if settled.heard.is_silent() {
                    continue;
                }
                let (turn, times) = take_turn(&mut session, settled, now, Source::Microphone);
                if self.conversation.json {
                    write_turn("microphone", &turn, &times)?;
                }
                voice.say(&turn.reply);
                if voice.speaks() {
                    voice.wait();
                    play_sound(&turn, &mut voice);
                    // What the microphone took in meanwhile is our own voice. Nothing more of it comes:
                    // the speech service tells the end 0.35 s after the last sound, and an echo that
                    // is 0.2 s late has been captured 0.07 to 0.14 s before that. (Measured on a make-believe
                    // sound card with espeak-ng; to be deaf any longer would cost a quick answer its
                    // beginning.)
                    microphone.flush();
                    endpoint.reset();
                }
            }
        }
    }
}
