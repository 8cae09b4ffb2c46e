//! The keyboard beside the microphone: a key or a pedal that calls, and lines that are typed.

use std::io::BufRead;
use std::sync::mpsc::{Receiver, channel};
use std::thread;

/// What came from the keyboard.
pub(super) enum Key {
    /// Enter by itself, as a pedal sends it too.
    Pressed,
    /// A line.
    Line(String),
}

/// What is typed while the microphone is listened to.
pub(super) struct Keys(Receiver<String>);

impl Keys {
    /// Reads standard input from now on. Where there is none, nothing ever comes.
    pub fn listen() -> Self {
        let (lines, keys) = channel();
        thread::spawn(move || {
            let mut input = std::io::stdin().lock();
            let mut line = Vec::new();
            while input
                .read_until(b'\n', &mut line)
                .is_ok_and(|read| read > 0)
            {
                let text = String::from_utf8_lossy(&line).trim().to_owned();
                line.clear();
                if lines.send(text).is_err() {
                    return;
                }
            }
        });
        Self(keys)
    }

    /// The next thing typed, if there is one.
    pub fn next(&self) -> Option<Key> {
        let line = self.0.try_recv().ok()?;
        Some(if line.is_empty() {
            Key::Pressed
        } else {
            Key::Line(line)
        })
    }
}
