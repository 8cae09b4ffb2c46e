//! The settings as a file.

use std::io::Write;
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::error::SettingsError;
use super::limits::{Patience, Percent, Rate, Replies, Window};

/// What stands above the settings in the file.
const HEAD: &str = "\
# How Tellshelf listens and speaks. All of it can be changed by voice; what is left out is as usual.
#
# speech: words-a-minute 120 to 550 (fastest: what your speech service does at most), volume 0 to 100,
#   voice: a name of your speech service's, replies: full or brief
# tones: on: true or false, volume 0 to 100
# listening: wake-phrase: two to five words, or none to be listened to always; window: how many seconds
#   it listens on after a reply, 2 to 120; patience with pauses: short, usual or long
";

/// How the person wants to be listened to and spoken to.
///
/// ```
/// use tellshelf::settings::{Rate, Settings};
/// let home = tempfile::tempdir().unwrap();
/// let path = home.path().join("settings.yaml");
/// let mut settings = Settings::read(&path).unwrap();
/// assert_eq!(settings, Settings::default());
/// settings.speech.words_a_minute = Rate::new(300).unwrap();
/// settings.write(&path).unwrap();
/// assert_eq!(Settings::read(&path).unwrap(), settings);
///
/// std::fs::write(&path, "speech:\n  volume: 80\n  words-a-minute: 30\n").unwrap();
/// let error = Settings::read(&path).unwrap_err().to_string();
/// assert!(error.contains("line 3") && error.contains("30 isn't from 120 to 550"), "{error}");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct Settings {
    /// How replies are spoken.
    pub speech: Speaking,
    /// The tones beside them.
    pub tones: Tones,
    /// How the person is listened to.
    pub listening: Listening,
}

/// How replies are spoken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct Speaking {
    /// How fast.
    pub words_a_minute: Rate,
    /// How fast the speech service speaks at most: it can't be asked. Debian's is set to 449.
    pub fastest: Rate,
    /// How loud.
    pub volume: Percent,
    /// The voice, by the speech service's name for it; its own choice if absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voice: Option<String>,
    /// How much.
    pub replies: Replies,
}

impl Default for Speaking {
    fn default() -> Self {
        Self {
            words_a_minute: Rate::USUAL,
            fastest: Rate::DEBIANS_FASTEST,
            volume: Percent::MOST,
            voice: None,
            replies: Replies::Full,
        }
    }
}

/// The tones beside the replies.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct Tones {
    /// Whether there are any.
    pub on: bool,
    /// How loud.
    pub volume: Percent,
}

impl Default for Tones {
    fn default() -> Self {
        Self {
            on: true,
            volume: Percent::HALF,
        }
    }
}

/// How the person is listened to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct Listening {
    /// What calls; `none` to be listened to always.
    pub wake_phrase: String,
    /// For how long is listened on after a reply.
    pub window: Window,
    /// How long a pause may be.
    pub patience: Patience,
}

impl Listening {
    /// What stands in the file for no phrase.
    pub const NO_PHRASE: &str = "none";

    /// The wake phrase, if there is to be one.
    pub fn phrase(&self) -> Option<&str> {
        (self.wake_phrase != Self::NO_PHRASE).then_some(&self.wake_phrase)
    }
}

impl Default for Listening {
    fn default() -> Self {
        Self {
            // Of seven phrases the one heard best in noise; it also says what the program is for.
            wake_phrase: "tell the shelf".to_owned(),
            window: Window::USUAL,
            patience: Patience::Usual,
        }
    }
}

impl Settings {
    /// Reads the file. One that isn't there says nothing: all is as usual then.
    ///
    /// # Errors
    /// [`SettingsError`], with the line.
    pub fn read(path: &Path) -> Result<Self, SettingsError> {
        let text = match std::fs::read_to_string(path) {
            Ok(text) => text,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                return Ok(Self::default());
            }
            Err(reason) => {
                let path = path.to_owned();
                return Err(SettingsError::Unreadable { path, reason });
            }
        };
        // All comments, or nothing at all, is no YAML value.
        let says_something = |line: &str| !line.trim().is_empty() && !line.trim().starts_with('#');
        if !text.lines().any(says_something) {
            return Ok(Self::default());
        }
        serde_yaml::from_str(&text).map_err(|error| {
            let line = error.location().map_or(0, |location| location.line());
            let words = error.to_string();
            let reason = words.split(" at line ").next().unwrap_or(&words).to_owned();
            let path = path.to_owned();
            let reason = in_plain_words(&reason);
            SettingsError::Wrong { path, line, reason }
        })
    }

    /// Writes the file anew, whole or not at all, with its folder if that isn't there.
    ///
    /// # Errors
    /// [`SettingsError::Unwritable`]; the file is as it was then.
    pub fn write(&self, path: &Path) -> Result<(), SettingsError> {
        let unwritable = |reason| SettingsError::Unwritable {
            path: path.to_owned(),
            reason,
        };
        let yaml = serde_yaml::to_string(self).map_err(|e| unwritable(std::io::Error::other(e)))?;
        self.replace(path, &format!("{HEAD}{yaml}"))
            .map_err(unwritable)
    }

    fn replace(&self, path: &Path, text: &str) -> std::io::Result<()> {
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)?;
        }
        let beside = path.with_extension("yaml.new");
        let mut file = std::fs::File::create(&beside)?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        std::fs::rename(&beside, path)
    }
}

/// What is wrong, without the words of the program for its own parts.
fn in_plain_words(reason: &str) -> String {
    match reason.split_once("expected struct ") {
        Some(_) => "there must be settings here, each in a line with its value".to_owned(),
        None => reason.to_owned(),
    }
}
