//! `tellshelf talk`: the microphone in, answers aloud.

use clap::Args;

use super::conversation::Conversation;
use super::error::CliError;
use super::{ConversationOptions, Ending, HearingOptions};

#[derive(Debug, Args)]
pub(super) struct Talk {
    #[command(flatten)]
    hearing: HearingOptions,
    #[command(flatten)]
    conversation: ConversationOptions,
}

impl Talk {
    /// Listens until it is stopped.
    pub fn run(self) -> Result<Ending, CliError> {
        let grammar = self.hearing.grammar()?;
        let hearing = self.hearing.ears(&grammar)?;
        let session = self.conversation.session(grammar)?;
        let voice = self.conversation.voice();
        Conversation::begin(hearing, session, voice, self.conversation)?.go_on()
    }
}
