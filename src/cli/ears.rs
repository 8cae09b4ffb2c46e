//! Who hears what the listener has found: the recognisers, with a word to the person where they take long.

use std::time::{Duration, Instant};

use chrono::NaiveDateTime;

use super::hear::hear_so_far;
use super::hearing::{Hearing, Settled};
use super::over_talk::OverTalk;
use super::patience::with_a_word;
use crate::ear::{Backlog, EarError, Endpoint, Level, Moment, RATE, Sound, quiet_at_end};
use crate::talk::{Attention, Notice, Session};
use crate::voice::Voice;

/// Hears what the listener has found.
pub(super) trait Ears {
    /// Hears what was said so far, and settles it with the names that the session knows.
    fn hear(
        &mut self,
        utterance: Utterance<'_>,
        session: &mut Session,
    ) -> Result<Settled, EarError>;

    /// Looks for a call in what is being said, after so many new samples; whether there seems to be one.
    fn look(
        &mut self,
        over_talk: &mut OverTalk,
        new: usize,
        endpoint: &mut Endpoint,
    ) -> Result<bool, EarError>;
}

/// What is to be heard.
pub(super) struct Utterance<'a> {
    /// All of it so far.
    pub sound: &'a Sound,
    /// How long it has been quiet at its end, in seconds.
    pub pause: f64,
    /// What has come since, and wasn't listened to yet.
    pub behind: &'a [f32],
    /// What is softer than this is somebody else.
    pub floor: Option<Level>,
}

impl Utterance<'_> {
    /// How long ago the last sound of it was, in seconds; of what was said behind it, if the person spoke on meanwhile.
    fn waited(&self, backlog: &Backlog) -> f64 {
        // Without a filter, which never happens, nothing came meanwhile.
        let waiting = backlog.samples().unwrap_or_default();
        let behind = [self.behind, &waiting].concat();
        let quiet = quiet_at_end(&behind, self.floor);
        let all = behind.len() as f64 / f64::from(RATE);
        if quiet < all { quiet } else { self.pause + all }
    }
}

/// The recognisers that are installed.
pub(super) struct OwnEars<'a> {
    hearing: &'a mut Hearing,
    now: NaiveDateTime,
    /// How the person is asked for patience, if they are.
    asking: Option<Asking<'a>>,
}

struct Asking<'a> {
    voice: &'a mut Voice,
    /// What comes from the microphone meanwhile.
    backlog: Backlog,
    /// How long after the person's last sound, in seconds.
    after: f64,
    /// Since when they were asked.
    since: Option<Moment>,
}

impl<'a> OwnEars<'a> {
    /// They take the time that they take.
    pub fn new(hearing: &'a mut Hearing, now: NaiveDateTime) -> Self {
        Self {
            hearing,
            now,
            asking: None,
        }
    }

    /// Whoever has been silent for so long, in seconds, and isn't heard yet, is told, once; `backlog` tells whether they
    /// speak on.
    pub fn asking_for_patience(self, voice: &'a mut Voice, backlog: Backlog, after: f64) -> Self {
        let asking = Some(Asking {
            voice,
            backlog,
            after,
            since: None,
        });
        Self { asking, ..self }
    }

    /// Since when our own word is in what the microphone takes in, if the person was told.
    pub fn own_word(&self) -> Option<Moment> {
        self.asking.as_ref().and_then(|asking| asking.since)
    }
}

impl Ears for OwnEars<'_> {
    fn hear(
        &mut self,
        utterance: Utterance<'_>,
        session: &mut Session,
    ) -> Result<Settled, EarError> {
        let (hearing, now) = (&mut *self.hearing, self.now);
        let is_awake = session.attention() == Attention::Awake;
        let mut work = || hear_so_far(hearing, utterance.sound, session, now);
        let asking = self.asking.as_mut();
        let Some(asking) = asking.filter(|asking| is_awake && asking.since.is_none()) else {
            return work();
        };
        let (backlog, after) = (&asking.backlog, asking.after);
        let due_in = || Duration::from_secs_f64((after - utterance.waited(backlog)).max(0.0));
        let word = || {
            asking.since = Some(backlog.at(Instant::now()));
            asking.voice.say(Notice::OneMoment.words());
        };
        with_a_word(work, due_in, word)
    }

    fn look(
        &mut self,
        over_talk: &mut OverTalk,
        new: usize,
        endpoint: &mut Endpoint,
    ) -> Result<bool, EarError> {
        over_talk.look(new, endpoint, self.hearing)
    }
}
