//! Whether the sound server takes our own voice out of what the microphone hears.

use std::process::{Command, Stdio};

/// Whether the default microphone is one of the sound server's that cancel echo.
///
/// PulseAudio's `module-echo-cancel` and PipeWire's module of that name both make a microphone with "echo-cancel" in its
/// name, and `pactl`, which talks to either server, says which is the default. Without `pactl`, or where it doesn't answer,
/// the answer is no: then our own voice is kept out by not listening to it.
pub fn cancels_echo() -> bool {
    let asked = Command::new("pactl")
        .arg("get-default-source")
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .output();
    asked.is_ok_and(|said| {
        let name = String::from_utf8_lossy(&said.stdout).to_lowercase();
        said.status.success() && name.contains("echo-cancel")
    })
}
