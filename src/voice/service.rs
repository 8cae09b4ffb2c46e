//! The thread that owns the connection to the speech service.
//!
//! The client library blocks without limit: while it starts a service, and sometimes for ever when
//! the service dies in the middle of a command. So only this thread calls it, and everyone else
//! waits for its answers as long as they choose. A thread that hangs is left behind.

use std::io;
use std::mem::ManuallyDrop;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Instant;

use tts::{Tts, UtteranceId};

use super::manner::Manner;

/// What the thread is asked to do, one request at a time.
pub(super) enum Request {
    /// Speak this text after whatever is still being spoken.
    Say(String),
    /// Fall silent, and forget what is waiting to be spoken.
    Stop,
    /// Prove that the service still answers.
    AreYouThere,
    /// Speak so from now on.
    Manner(Manner),
    /// Name the plain voices for a language: a prefix of its tag, such as `en`.
    Voices(String),
}

/// What the service did.
pub(super) enum Done {
    /// What it was asked.
    So,
    /// It took a text, under this name.
    Speaks(UtteranceId),
    /// Its voices, by their names.
    Has(Vec<String>),
}

/// The answer to one request.
pub(super) type Answer = Result<Done, tts::Error>;

/// An utterance that is over, since this moment.
pub(super) type Finished = (UtteranceId, Instant);

/// The three channels to the thread.
pub(super) struct Line {
    /// Requests to the thread. Dropping it ends the thread.
    pub(super) requests: Sender<Request>,
    /// One answer for the opening of the connection, then one for each request. After an error
    /// nothing more comes.
    pub(super) answers: Receiver<Answer>,
    /// Utterances that were spoken to their end, or stopped, and when.
    pub(super) finished: Receiver<Finished>,
}

/// Starts the thread, which at once begins to open a connection.
///
/// # Errors
/// If the operating system can't start a thread.
pub(super) fn start() -> io::Result<Line> {
    let (requests, incoming) = channel();
    let (outgoing, answers) = channel();
    let (spoken, finished) = channel();
    thread::Builder::new()
        .name("speech".into())
        .spawn(move || serve(&incoming, &outgoing, &spoken))?;
    Ok(Line {
        requests,
        answers,
        finished,
    })
}

/// Opens the connection and answers requests until the first failure, or until nobody asks.
fn serve(requests: &Receiver<Request>, answers: &Sender<Answer>, finished: &Sender<Finished>) {
    let mut connection = match Connection::open(finished) {
        Ok(connection) => connection,
        Err(error) => {
            // Nobody listens any more if the opening took too long; then there is nobody to tell.
            let _ = answers.send(Err(error));
            return;
        }
    };
    let mut answer = Ok(Done::So);
    loop {
        let failed = answer.is_err();
        if answers.send(answer).is_err() || failed {
            return;
        }
        let Ok(request) = requests.recv() else { return };
        answer = connection.answer(request);
    }
}

/// A connection that is never closed before the process ends.
///
/// Closing is where the client library is unsafe. A connection whose service died has its file
/// descriptor closed already, and would close that number a second time, whatever file (say, the
/// kitchen's database) has got it since. And a callback that arrives while a living connection is
/// being taken down aborts the process. The price is one idle socket for each time the service was
/// lost.
struct Connection {
    tts: ManuallyDrop<Tts>,
    volume: f32,
    /// The voice that was asked for last.
    voice: Option<String>,
}

impl Connection {
    fn open(finished: &Sender<Finished>) -> Result<Self, tts::Error> {
        let tts = ManuallyDrop::new(Tts::default()?);
        // Both callbacks only send: calling the library from inside one of them hangs for ever.
        // If the receiver is gone, nobody waits for the end of this utterance.
        let ended = finished.clone();
        tts.on_utterance_end(Some(Box::new(move |id| {
            _ = ended.send((id, Instant::now()))
        })))?;
        let stopped = finished.clone();
        tts.on_utterance_stop(Some(Box::new(move |id| {
            _ = stopped.send((id, Instant::now()));
        })))?;
        // Asked for only now, when the service has just answered: reading a setting from a service
        // that has died is a segmentation fault in the client library.
        let volume = tts.get_volume()?;
        let voice = None;
        Ok(Self { tts, volume, voice })
    }

    fn answer(&mut self, request: Request) -> Answer {
        match request {
            Request::Say(text) => {
                let utterance = self.tts.speak(text, false)?;
                Ok(utterance.map_or(Done::So, Done::Speaks))
            }
            Request::Stop => self.tts.stop().map(|_| Done::So),
            // Setting the volume to what it is changes nothing, and fails cleanly if the service
            // is gone. The library has no plainer question that does.
            Request::AreYouThere => self.tts.set_volume(self.volume).map(|_| Done::So),
            Request::Manner(manner) => self.speak_so(&manner).map(|()| Done::So),
            Request::Voices(language) => self.voices(&language).map(Done::Has),
        }
    }

    fn speak_so(&mut self, manner: &Manner) -> Result<(), tts::Error> {
        self.volume = manner.volume;
        self.tts.set_rate(manner.rate)?;
        self.tts.set_volume(manner.volume)?;
        // To look for it takes seconds, as there are thousands; so it isn't done for nothing.
        if let Some(name) = &manner.voice
            && self.voice.as_ref() != Some(name)
        {
            let voices = self.tts.voices()?;
            // One that is no longer there leaves the voice as it is: any voice is better than none.
            if let Some(voice) = voices.iter().find(|voice| voice.name() == *name) {
                self.tts.set_voice(voice)?;
            }
            self.voice = Some(name.clone());
        }
        Ok(())
    }

    /// Of the many thousand, most are a voice with the manner of another one, and have a plus in their names.
    fn voices(&self, language: &str) -> Result<Vec<String>, tts::Error> {
        let voices = self.tts.voices()?;
        let plain = voices
            .iter()
            .filter(|voice| voice.language().starts_with(language) && !voice.name().contains('+'));
        Ok(plain.map(tts::Voice::name).collect())
    }
}
