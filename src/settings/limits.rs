//! The values of settings, each within its limits.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize};

/// A number outside its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("{0} isn't from {1} to {2}")]
pub struct OutOfRange(u16, u16, u16);

fn within(number: u16, least: u16, most: u16) -> Result<u16, OutOfRange> {
    if (least..=most).contains(&number) {
        Ok(number)
    } else {
        Err(OutOfRange(number, least, most))
    }
}

/// A value that is made of a number, or not.
trait Limited: Sized {
    fn limited(number: u16) -> Result<Self, OutOfRange>;
}

/// Reads a number where it stands, so that the error names its line and not that of the whole section.
struct InLimits<T>(PhantomData<T>);

impl<T: Limited> Visitor<'_> for InLimits<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a whole number")
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<T, E> {
        T::limited(u16::try_from(number).unwrap_or(u16::MAX)).map_err(E::custom)
    }
}

macro_rules! read_in_limits {
    ($limited:ty) => {
        impl Limited for $limited {
            fn limited(number: u16) -> Result<Self, OutOfRange> {
                Self::new(number)
            }
        }

        impl<'de> Deserialize<'de> for $limited {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                deserializer.deserialize_u64(InLimits(PhantomData))
            }
        }
    };
}

read_in_limits!(Rate);
read_in_limits!(Percent);
read_in_limits!(Window);

/// How fast is spoken, in words a minute. A word is five letters, without the spaces: so it is heard with espeak-ng, to
/// within a tenth (`tests/voice_aloud.rs`).
///
/// People who live by listening follow speech at several times the speed of talk, and someone with wet hands in a loud
/// room may want half of it.
///
/// ```
/// use tellshelf::settings::Rate;
/// let rate = Rate::new(170).unwrap();
/// assert_eq!(rate.faster().words_a_minute(), 204);
/// assert_eq!(rate.faster().slower(), rate);
/// assert!(Rate::new(551).is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Rate(u16);

impl Rate {
    /// The slowest.
    pub const SLOWEST: Self = Self(120);
    /// The fastest.
    pub const FASTEST: Self = Self(550);
    /// What Debian's speech service speaks where nothing is set.
    pub const USUAL: Self = Self(170);
    /// What it speaks at most as it is installed.
    pub const DEBIANS_FASTEST: Self = Self(449);
    /// What a step changes: a fifth is clearly heard, and a few steps go all the way.
    const STEP: f64 = 1.2;

    /// Takes 120 to 550 words a minute.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(words_a_minute: u16) -> Result<Self, OutOfRange> {
        within(words_a_minute, Self::SLOWEST.0, Self::FASTEST.0).map(Self)
    }

    /// The words a minute.
    pub fn words_a_minute(self) -> u16 {
        self.0
    }

    /// A step faster, or the fastest.
    #[must_use]
    pub fn faster(self) -> Self {
        Self((f64::from(self.0) * Self::STEP).round() as u16).min(Self::FASTEST)
    }

    /// A step slower, or the slowest.
    #[must_use]
    pub fn slower(self) -> Self {
        Self((f64::from(self.0) / Self::STEP).round() as u16).max(Self::SLOWEST)
    }
}

/// How loud, from 0 to 100 percent of the loudest.
///
/// ```
/// use tellshelf::settings::Percent;
/// assert_eq!(Percent::new(95).unwrap().louder(), Percent::MOST);
/// assert!(Percent::new(101).is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Percent(u16);

impl Percent {
    /// The loudest.
    pub const MOST: Self = Self(100);
    /// Half of it.
    pub const HALF: Self = Self(50);
    /// What can be heard at all. By voice nothing is made softer: nobody could hear how to make it louder again.
    const LEAST_BY_VOICE: u16 = 10;
    const STEP: u16 = 15;

    /// Takes 0 to 100.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(percent: u16) -> Result<Self, OutOfRange> {
        within(percent, 0, Self::MOST.0).map(Self)
    }

    /// The number.
    pub fn number(self) -> u16 {
        self.0
    }

    /// From 0 to 1.
    pub fn share(self) -> f32 {
        f32::from(self.0) / 100.0
    }

    /// A step louder, or the loudest.
    #[must_use]
    pub fn louder(self) -> Self {
        Self(self.0 + Self::STEP).min(Self::MOST)
    }

    /// A step softer, but never silent.
    #[must_use]
    pub fn softer(self) -> Self {
        Self(self.0.saturating_sub(Self::STEP).max(Self::LEAST_BY_VOICE))
    }
}

/// For how many seconds is listened on without the wake phrase, after it was said and after each reply: 2 to 120.
///
/// ```
/// use tellshelf::settings::Window;
/// assert_eq!(Window::new(8).unwrap().seconds(), 8);
/// assert!(Window::new(0).is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Window(u16);

impl Window {
    /// Long enough to think of an answer, and short enough that talk in the room is seldom taken for one.
    pub const USUAL: Self = Self(8);

    /// Takes 2 to 120 seconds.
    ///
    /// # Errors
    /// [`OutOfRange`].
    pub fn new(seconds: u16) -> Result<Self, OutOfRange> {
        within(seconds, 2, 120).map(Self)
    }

    /// The seconds.
    pub fn seconds(self) -> u16 {
        self.0
    }
}

/// How much is said in a reply.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Replies {
    /// All of it.
    Full,
    /// What matters first, and no more, where nothing can go wrong by that.
    Brief,
}

/// How long a pause ends what is being said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Patience {
    /// Two thirds of the usual pause.
    Short,
    /// The usual pause.
    Usual,
    /// Twice as long, for who speaks slowly or thinks in between.
    Long,
}

impl Patience {
    /// How much longer than usual.
    pub fn factor(self) -> f64 {
        match self {
            Self::Short => 2.0 / 3.0,
            Self::Usual => 1.0,
            Self::Long => 2.0,
        }
    }
}

impl fmt::Display for Patience {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Short => "short",
            Self::Usual => "usual",
            Self::Long => "long",
        })
    }
}
