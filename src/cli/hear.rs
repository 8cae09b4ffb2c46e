//! `tellshelf hear`: recordings, as if they were spoken.

use std::path::{Path, PathBuf};
use std::time::Duration;

use clap::Args;

use super::error::CliError;
use super::output::{Times, timed, write_turn};
use super::{ConversationOptions, Ending, HearingOptions};
use crate::ear::{EarError, Sound, read_recording, utterances_in};
use crate::grammar::Heard;
use crate::stock::Source;
use crate::talk::{Session, Turn};
use crate::voice::Voice;

#[derive(Debug, Args)]
pub(super) struct Hear {
    /// Recordings, in the order in which they are spoken
    #[arg(value_name = "FILE.wav", required = true)]
    files: Vec<PathBuf>,
    #[command(flatten)]
    hearing: HearingOptions,
    #[command(flatten)]
    conversation: ConversationOptions,
}

impl Hear {
    pub fn run(self) -> Result<Ending, CliError> {
        let grammar = self.hearing.grammar()?;
        let mut hearing = self.hearing.ears(&grammar)?;
        let mut session = self.conversation.session(grammar)?;
        let mut voice = self.conversation.voice();
        let mut ending = Ending::Well;
        for file in &self.files {
            // A bad recording is said, and the others are still heard.
            let utterances = match utterances_of(file) {
                Ok(utterances) => utterances,
                Err(error) => {
                    eprintln!("{error}.");
                    ending = Ending::WithFailures;
                    continue;
                }
            };
            for sound in utterances {
                let (heard, hear) = hearing.hear(&sound, session.acceptor())?;
                let turn = self.turn(
                    &file.display().to_string(),
                    (&heard, hear),
                    &mut session,
                    &mut voice,
                )?;
                if turn.failed {
                    ending = Ending::WithFailures;
                }
            }
        }
        Ok(ending)
    }

    fn turn(
        &self,
        source: &str,
        heard: (&Heard, Duration),
        session: &mut Session,
        voice: &mut Voice,
    ) -> Result<Turn, CliError> {
        let now = self.conversation.clock().now();
        let (turn, times) = take_turn(session, heard, now, Source::Recording);
        if self.conversation.json {
            write_turn(source, &turn, &times)?;
        }
        voice.say(&turn.reply);
        voice.wait();
        Ok(turn)
    }
}

/// The utterances of a recording. One without speech has one utterance: silence.
pub(super) fn utterances_of(file: &Path) -> Result<Vec<Sound>, EarError> {
    let utterances = utterances_in(&read_recording(file)?);
    if utterances.is_empty() {
        return Ok(vec![Sound::default()]);
    }
    Ok(utterances)
}

/// Understands and answers what was heard in so long a time, and takes the other times.
pub(super) fn take_turn(
    session: &mut Session,
    (heard, hear): (&Heard, Duration),
    now: chrono::NaiveDateTime,
    source: Source,
) -> (Turn, Times) {
    let (understanding, understand) = timed(|| session.settle(heard, now));
    let (turn, act) = timed(|| session.answer(understanding, now, source));
    (
        turn,
        Times {
            hear,
            understand,
            act,
        },
    )
}
