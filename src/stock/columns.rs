//! Values as they stand in the columns of the file.

use chrono::NaiveDateTime;

/// A local time as it is kept: 2026-11-25T07:30:00, the form that is read back.
pub(super) fn time_text(at: NaiveDateTime) -> String {
    at.format("%Y-%m-%dT%H:%M:%S%.f").to_string()
}

/// Reads a value that is kept as text in a column.
pub(super) fn parse_column<T>(column: usize, text: &str) -> rusqlite::Result<T>
where
    T: std::str::FromStr<Err: std::error::Error + Send + Sync + 'static>,
{
    text.parse().map_err(|e| unreadable(column, Box::new(e)))
}

pub(super) fn parse_json<T: serde::de::DeserializeOwned>(
    column: usize,
    text: &str,
) -> rusqlite::Result<T> {
    serde_json::from_str(text).map_err(|e| unreadable(column, Box::new(e)))
}

pub(super) fn unreadable(
    column: usize,
    error: Box<dyn std::error::Error + Send + Sync + 'static>,
) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, error)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_comes_back_as_it_was_written() {
        for text in [
            "2026-11-25T07:30:00",
            "2026-11-25T07:30:00.000000001",
            "0001-01-01T00:00:00",
        ] {
            let at: NaiveDateTime = text.parse().unwrap();
            assert_eq!(time_text(at), text);
        }
    }
}
