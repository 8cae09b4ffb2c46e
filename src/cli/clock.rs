//! The clock: the machine's, or one that was set for a test.

use chrono::{Local, NaiveDateTime};

/// What time it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Clock {
    Machine,
    Set(NaiveDateTime),
}

impl Clock {
    pub fn now(self) -> NaiveDateTime {
        match self {
            Self::Machine => Local::now().naive_local(),
            Self::Set(time) => time,
        }
    }
}

/// Reads `2026-11-25T10:00`, with or without seconds.
pub(super) fn parse_time(text: &str) -> Result<NaiveDateTime, String> {
    let forms = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"];
    let parsed = forms
        .iter()
        .find_map(|form| NaiveDateTime::parse_from_str(text, form).ok());
    parsed.ok_or_else(|| "write the time as 2026-11-25T10:00".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_read_with_or_without_seconds() {
        assert_eq!(
            parse_time("2026-11-25T10:00"),
            parse_time("2026-11-25T10:00:00")
        );
        assert!(parse_time("2026-11-25").is_err());
        assert!(parse_time("2026-02-30T10:00").is_err());
    }
}
