//! What a scanner types: told apart from sentences, and from what was misread.

use super::wording::round::{MISREAD_CODE, STORE_CODE};
use crate::measure::Gtin;
use crate::stock::Code;

/// A code as it is kept: no spaces or colons, capital letters.
///
/// `None` where the text isn't one: six characters at least, digits or the letters A to F, and one digit among them. No
/// command is written so.
pub(super) fn code_in(text: &str) -> Option<Code> {
    let code: String = text
        .trim()
        .chars()
        .filter(|c| !matches!(c, ':' | '-'))
        .collect();
    let is_code = code.len() >= 6
        && code.chars().all(|c| c.is_ascii_hexdigit())
        && code.chars().any(|c| c.is_ascii_digit());
    is_code
        .then(|| Code::new(&code.to_uppercase()).ok())
        .flatten()
}

/// What to say of digits that were misread, or that name nothing outside one store. Other codes are taken as they are.
pub(super) fn misread(code: &Code) -> Option<&'static str> {
    let digits = code.as_str().chars().all(|c| c.is_ascii_digit());
    if !digits || !matches!(code.as_str().len(), 12..=14) {
        return None;
    }
    match Gtin::read(code.as_str()) {
        Err(_) => Some(MISREAD_CODE),
        Ok(gtin) if gtin.is_store_number() => Some(STORE_CODE),
        Ok(_) => None,
    }
}
