//! `tellshelf hear`: recordings, as if they were spoken.

use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use clap::Args;

use super::error::CliError;
use super::hearing::{Hearing, Settled};
use super::output::{Times, timed, write_turn};
use super::{ConversationOptions, Ending, HearingOptions};
use crate::ear::{EarError, Sound, read_recording, utterances_in};
use crate::stock::{Clip, Source};
use crate::talk::{Effect, Session, Turn};
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
                let now = self.conversation.clock().now();
                let settled = hear(&mut hearing, &sound, &mut session, now)?;
                let source = file.display().to_string();
                let turn = self.turn(&source, settled, now, &mut session, &mut voice)?;
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
        settled: Settled,
        now: NaiveDateTime,
        session: &mut Session,
        voice: &mut Voice,
    ) -> Result<Turn, CliError> {
        let (turn, times) = take_turn(session, settled, now, Source::Recording);
        if self.conversation.json {
            write_turn(source, &turn, &times)?;
        }
        self.conversation.carry_out(&turn, voice);
        voice.say(&turn.reply);
        voice.wait();
        play_sound(&turn, voice);
        voice.wait();
        if turn.effect == Some(Effect::OtherVoice) {
            let words = self.conversation.take_other_voice(session, voice);
            voice.say(&words);
            voice.wait();
        }
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

/// Hears an utterance that is over, and settles with the names that the session knows what was said.
pub(super) fn hear(
    hearing: &mut Hearing,
    sound: &Sound,
    session: &mut Session,
    now: NaiveDateTime,
) -> Result<Settled, EarError> {
    let settled = hear_so_far(hearing, sound, session, now)?;
    overhear(session, sound);
    Ok(settled)
}

/// The same of one that may go on: of its sound, nothing is kept.
pub(super) fn hear_so_far(
    hearing: &mut Hearing,
    sound: &Sound,
    session: &mut Session,
    now: NaiveDateTime,
) -> Result<Settled, EarError> {
    let acceptor = session.acceptor();
    hearing.hear(sound, &acceptor, |heard| session.settle(heard, now))
}

/// Gives the session the sound of what is answered next, if the person allows that.
pub(super) fn overhear(session: &mut Session, sound: &Sound) {
    // Where the file can't tell, nothing is kept; the answer will say what is wrong with it.
    if session.keeps_sounds().unwrap_or_default() {
        session.overhear(clip_of(sound));
    }
}

/// A sound as the stock keeps it.
fn clip_of(sound: &Sound) -> Clip {
    let samples = sound.samples().iter();
    let full_scale = f32::from(i16::MAX);
    Clip::new(
        samples
            .map(|s| (s.clamp(-1.0, 1.0) * full_scale) as i16)
            .collect(),
    )
}

/// Plays what goes with a reply, behind it.
pub(super) fn play_sound(turn: &Turn, voice: &mut Voice) {
    if let Some(clip) = &turn.sound {
        let full_scale = f32::from(i16::MAX);
        let samples: Vec<f32> = clip
            .samples()
            .iter()
            .map(|s| f32::from(*s) / full_scale)
            .collect();
        voice.play(samples, Clip::RATE);
    }
}

/// Answers what was settled, and takes the time of that as well.
pub(super) fn take_turn(
    session: &mut Session,
    settled: Settled,
    now: NaiveDateTime,
    source: Source,
) -> (Turn, Times) {
    let (turn, act) = timed(|| session.answer(settled.understanding, now, source));
    let times = Times {
        hear: settled.hear,
        understand: settled.understand,
        act,
    };
    (turn, times)
}
