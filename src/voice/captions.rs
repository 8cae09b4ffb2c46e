//! Captions: each reply in writing, one reply a line.

use std::io::{self, Write};

/// Where the replies are written.
pub struct Captions(Option<Box<dyn Write + Send>>);

impl Captions {
    /// Captions on standard output.
    #[must_use]
    pub fn on_standard_output() -> Self {
        Self::on(Box::new(io::stdout()))
    }

    /// Captions on any writer.
    #[must_use]
    pub fn on(writer: Box<dyn Write + Send>) -> Self {
        Self(Some(writer))
    }

    /// No captions, for a program whose standard output belongs to something else.
    #[must_use]
    pub fn none() -> Self {
        Self(None)
    }

    /// Writes one reply as one line of plain text and flushes it, so that a screen reader or a braille
    /// display has it before the first word is spoken. Line breaks within the reply become spaces.
    ///
    /// # Errors
    /// Whatever the writer says, such as a closed pipe.
    pub fn write(&mut self, reply: &str) -> io::Result<()> {
        let Some(writer) = &mut self.0 else {
            return Ok(());
        };
        let words: Vec<&str> = reply.split_whitespace().collect();
        writeln!(writer, "{}", words.join(" "))?;
        writer.flush()
    }
}
