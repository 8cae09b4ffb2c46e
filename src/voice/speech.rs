//! Speech through the machine's own speech service, with every wait bounded.

use std::sync::mpsc::RecvTimeoutError;
use std::time::{Duration, Instant};

use tts::UtteranceId;

use super::VoiceError;
use super::manner::Manner;
use super::service::{self, Done, Line, Request};

/// How long [`Speech::open`] waits. A service that has to be started first takes about a second.
const OPENING: Duration = Duration::from_secs(5);

/// How long an open service may take to accept a request. It takes a few milliseconds; a busy small
/// board may need a hundred times as much.
const ANSWER: Duration = Duration::from_secs(3);

/// How long it may take to change the voice: the service lists all of them for that, thousands, in about four seconds.
const OTHER_VOICE: Duration = Duration::from_secs(20);

/// How often [`Speech::wait`] asks whether the service is still there. A service that dies sends no
/// word of it.
const PULSE: Duration = Duration::from_millis(500);

/// A connection to the speech service (speech-dispatcher, on Linux).
///
/// Texts are spoken one after another in the order of [`say`](Self::say). Neither dropping it nor the
/// end of the process cuts off what is being spoken; only [`stop`](Self::stop) does.
pub struct Speech {
    /// `None` once the service is lost.
    line: Option<Line>,
    /// In the order in which they are spoken.
    unspoken: Vec<UtteranceId>,
    /// When the last of those that are over was.
    silent_since: Option<Instant>,
}

/// A connection that is being opened in the background.
pub struct Opening(Line);

/// How an [`Opening`] stands.
pub enum Opened {
    /// The speech service answered.
    Ready(Speech),
    /// It hasn't answered yet.
    NotYet(Opening),
    /// It can't be reached, and couldn't be started.
    Failed(VoiceError),
}

impl Opening {
    /// Begins to open a connection, and returns at once. If no speech service runs, the client
    /// library tries to start one.
    ///
    /// # Errors
    /// [`VoiceError::NotRunning`] if the thread for it can't be started.
    pub fn start() -> Result<Self, VoiceError> {
        service::start()
            .map(Self)
            .map_err(|error| VoiceError::NotRunning(error.into()))
    }

    /// Waits at most this long for the connection.
    #[must_use]
    pub fn wait(self, at_most: Duration) -> Opened {
        match self.0.answers.recv_timeout(at_most) {
            Ok(Ok(_)) => Opened::Ready(Speech {
                line: Some(self.0),
                unspoken: Vec::new(),
                silent_since: None,
            }),
            Ok(Err(error)) => Opened::Failed(VoiceError::NotRunning(error.into())),
            Err(RecvTimeoutError::Timeout) => Opened::NotYet(self),
            // The thread ended without a word: it panicked inside the library.
            Err(RecvTimeoutError::Disconnected) => Opened::Failed(VoiceError::Lost),
        }
    }
}

impl Speech {
    /// Opens a connection to the speech service, starting the service if need be. Takes at most
    /// 5 seconds.
    ///
    /// # Errors
    /// [`VoiceError::NotRunning`] if there is no service and none can be started,
    /// [`VoiceError::NoAnswer`] if that isn't known after 5 seconds.
    pub fn open() -> Result<Self, VoiceError> {
        match Opening::start()?.wait(OPENING) {
            Opened::Ready(speech) => Ok(speech),
            Opened::NotYet(_) => Err(VoiceError::NoAnswer(OPENING)),
            Opened::Failed(error) => Err(error),
        }
    }

    /// Speaks this text after whatever is still being spoken, and returns as soon as the service has
    /// taken it: in milliseconds, at most 3 seconds. To interrupt, call [`stop`](Self::stop) first.
    /// A text with nothing in it is not spoken.
    ///
    /// # Errors
    /// [`VoiceError::Lost`] if the service is gone, hangs or refuses; then open a new connection.
    pub fn say(&mut self, text: &str) -> Result<(), VoiceError> {
        let text = speakable(text);
        if !text.is_empty()
            && let Done::Speaks(utterance) = self.ask(Request::Say(text))?
        {
            self.unspoken.push(utterance);
        }
        Ok(())
    }

    /// Waits until everything said has been spoken: `true`, or `false` if `at_most` passed first.
    /// A duration of zero asks without waiting.
    ///
    /// # Errors
    /// [`VoiceError::Lost`] if the service dies or hangs meanwhile; it is noticed within half a second,
    /// a hanging one within 3.5 seconds.
    pub fn wait(&mut self, at_most: Duration) -> Result<bool, VoiceError> {
        let started = Instant::now();
        loop {
            let line = self.line.as_ref().ok_or(VoiceError::Lost)?;
            for (utterance, since) in line.finished.try_iter() {
                self.silent_since = Some(since);
                spoken(&mut self.unspoken, utterance);
            }
            if self.unspoken.is_empty() {
                return Ok(true);
            }
            let left = at_most.saturating_sub(started.elapsed());
            if left.is_zero() {
                return Ok(false);
            }
            match line.finished.recv_timeout(left.min(PULSE)) {
                Ok((utterance, since)) => {
                    self.silent_since = Some(since);
                    spoken(&mut self.unspoken, utterance);
                }
                Err(_) => {
                    self.ask(Request::AreYouThere)?;
                }
            }
        }
    }

    /// When the last utterance that is over was, as far as [`wait`](Self::wait) has learnt.
    pub(super) fn silent_since(&self) -> Option<Instant> {
        self.silent_since
    }

    /// Falls silent, and forgets what was still waiting to be spoken. Takes at most 3 seconds.
    ///
    /// # Errors
    /// [`VoiceError::Lost`] if the service is gone or hangs.
    pub fn stop(&mut self) -> Result<(), VoiceError> {
        // What was waiting and never began is dropped by the service without notice.
        self.unspoken.clear();
        self.ask(Request::Stop).map(drop)
    }

    /// Speaks so from now on.
    ///
    /// # Errors
    /// [`VoiceError::Lost`] if the service is gone or hangs.
    pub(super) fn speak_so(&mut self, manner: Manner) -> Result<(), VoiceError> {
        let at_most = match manner.voice {
            Some(_) => OTHER_VOICE,
            None => ANSWER,
        };
        self.ask_within(Request::Manner(manner), at_most).map(drop)
    }

    /// The plain voices for a language.
    ///
    /// # Errors
    /// [`VoiceError::Lost`] if the service is gone or hangs.
    pub(super) fn voices(&mut self, language: &str) -> Result<Vec<String>, VoiceError> {
        match self.ask_within(Request::Voices(language.to_owned()), OTHER_VOICE)? {
            Done::Has(voices) => Ok(voices),
            Done::So | Done::Speaks(_) => Ok(Vec::new()),
        }
    }

    /// Asks whether the service still answers.
    ///
    /// # Errors
    /// [`VoiceError::Lost`] if it doesn't.
    pub(super) fn is_there(&mut self) -> Result<(), VoiceError> {
        self.ask(Request::AreYouThere).map(drop)
    }

    fn ask(&mut self, request: Request) -> Result<Done, VoiceError> {
        self.ask_within(request, ANSWER)
    }

    /// Sends one request and waits for its answer. After a failure the line is given up for good: a
    /// late answer would be taken for the answer to the next request.
    fn ask_within(&mut self, request: Request, at_most: Duration) -> Result<Done, VoiceError> {
        let line = self.line.take().ok_or(VoiceError::Lost)?;
        line.requests.send(request).map_err(|_| VoiceError::Lost)?;
        match line.answers.recv_timeout(at_most) {
            Ok(Ok(done)) => {
                self.line = Some(line);
                Ok(done)
            }
            _ => Err(VoiceError::Lost),
        }
    }
}

/// Takes one utterance, and those before it whose end was never reported, off the unspoken ones. One
/// that was stopped before isn't among them.
fn spoken(unspoken: &mut Vec<UtteranceId>, utterance: UtteranceId) {
    if let Some(place) = unspoken.iter().position(|&other| other == utterance) {
        unspoken.drain(..=place);
    }
}

/// The text as one line of words. Control characters have no sound, and a zero byte would end the
/// text early in the client library.
fn speakable(text: &str) -> String {
    text.replace(char::is_control, " ").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_end_of_an_utterance_is_the_end_of_those_before_it() {
        let [first, second, third, stranger] = [1, 2, 3, 9].map(UtteranceId::SpeechDispatcher);
        let mut unspoken = vec![first, second, third];
        spoken(&mut unspoken, stranger);
        assert_eq!(unspoken, [first, second, third]);
        spoken(&mut unspoken, second);
        assert_eq!(unspoken, [third]);
    }

    #[test]
    fn control_characters_are_not_spoken() {
        assert_eq!(speakable(" Oats\0used\r\nup.\n"), "Oats used  up.");
        assert_eq!(speakable("\n\t"), "");
    }
}
