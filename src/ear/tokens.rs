//! The pieces of text that the Moonshine model thinks in: tokens, from `tokenizer.bin`.

/// The token that every decoding begins with.
pub const BEGIN: u32 = 1;
/// The token that ends a decoding.
pub const END: u32 = 2;

/// How the file spells a space (U+2581, in UTF-8).
const SPACE: &[u8] = "\u{2581}".as_bytes();
/// What the marks of the file that spell no text begin with.
const MARK: &[u8] = b"<<ST_";

/// All tokens of a model, by number.
///
/// The file holds one record for each, in order: a length byte and that many bytes of text; a
/// length byte `b` of 128 or more is followed by a second, `n`, for a length of `n * 128 + b - 128`.
///
/// ```
/// use tellshelf::ear::Tokens;
/// let file = b"\x05<unk>\x03<s>\x04</s>\x06\xe2\x96\x81bak\x02er";
/// let tokens = Tokens::parse(file).unwrap();
/// assert_eq!(tokens.len(), 5);
/// assert_eq!(tokens.spelling(3), Some(b" bak".as_slice()));
/// assert_eq!(tokens.spelling(1), None);
/// assert_eq!(tokens.text(&[1, 3, 4, 2]), "baker");
/// ```
#[derive(Debug, Clone)]
pub struct Tokens {
    spellings: Vec<Option<Vec<u8>>>,
}

impl Tokens {
    /// Reads the bytes of a `tokenizer.bin`.
    ///
    /// # Errors
    /// What is wrong with it, in words: it is empty, or ends in the middle of a token.
    pub fn parse(file: &[u8]) -> Result<Self, String> {
        let mut spellings = Vec::new();
        let mut rest = file;
        while !rest.is_empty() {
            let text = take_record(&mut rest)?;
            spellings.push(spelling_of(spellings.len(), text));
        }
        if spellings.is_empty() {
            return Err("it holds no tokens".into());
        }
        Ok(Self { spellings })
    }

    /// How many tokens there are.
    #[expect(clippy::len_without_is_empty, reason = "there is always at least one")]
    pub fn len(&self) -> usize {
        self.spellings.len()
    }

    /// The bytes that a token adds to the text, with real spaces; none for a token that isn't text
    /// (begin, end, unknown, marks) or doesn't exist. Not every token is whole UTF-8.
    pub fn spelling(&self, token: u32) -> Option<&[u8]> {
        self.spellings.get(token as usize)?.as_deref()
    }

    /// The text of tokens in order, without spaces at the ends. Tokens that aren't text add none.
    pub fn text(&self, tokens: &[u32]) -> String {
        let bytes: Vec<u8> = tokens
            .iter()
            .filter_map(|token| self.spelling(*token))
            .flatten()
            .copied()
            .collect();
        String::from_utf8_lossy(&bytes).trim().to_owned()
    }
}

/// Takes the text of the first record off the file.
fn take_record<'f>(file: &mut &'f [u8]) -> Result<&'f [u8], String> {
    let cut_short = || "it ends in the middle of a token".to_owned();
    let mut byte = || {
        let (first, rest) = file.split_first()?;
        *file = rest;
        Some(usize::from(*first))
    };
    let mut length = byte().ok_or_else(cut_short)?;
    if length >= 128 {
        length = byte().ok_or_else(cut_short)? * 128 + length - 128;
    }
    let (text, rest) = file.split_at_checked(length).ok_or_else(cut_short)?;
    *file = rest;
    Ok(text)
}

fn spelling_of(number: usize, text: &[u8]) -> Option<Vec<u8>> {
    // 0 stands for the unknown, and the begin and the end follow it.
    if number <= END as usize || text.is_empty() || text.starts_with(MARK) {
        return None;
    }
    let mut spelling = Vec::with_capacity(text.len());
    let mut rest = text;
    while let Some((&byte, after)) = rest.split_first() {
        match rest.strip_prefix(SPACE) {
            Some(after) => {
                spelling.push(b' ');
                rest = after;
            }
            None => {
                spelling.push(byte);
                rest = after;
            }
        }
    }
    Some(spelling)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_ends_inside_a_token_is_refused() {
        for file in [b"\x05<un".as_slice(), b"\x80", b"\x01a\x03bc"] {
            assert!(
                Tokens::parse(file).unwrap_err().contains("middle"),
                "{file:?}"
            );
        }
    }

    #[test]
    fn an_empty_file_is_refused() {
        assert!(Tokens::parse(b"").unwrap_err().contains("no tokens"));
    }

    #[test]
    fn a_length_above_127_takes_two_bytes() {
        let mut file = b"\x01a\x01b\x01c\x82\x01".to_vec();
        file.extend([b'x'; 130]);
        let tokens = Tokens::parse(&file).unwrap();
        assert_eq!(tokens.spelling(3).unwrap().len(), 130);
    }

    #[test]
    fn marks_and_unknown_numbers_are_no_text() {
        let tokens = Tokens::parse(b"\x01a\x01b\x01c\x08<<ST_0>>\x02ok").unwrap();
        assert_eq!(tokens.text(&[0, 1, 2, 3, 4, 5, u32::MAX]), "ok");
    }

    #[test]
    fn a_letter_split_over_two_tokens_is_joined() {
        let tokens = Tokens::parse(b"\x01a\x01b\x01c\x01\xc3\x01\xa9").unwrap();
        assert_eq!(tokens.text(&[3, 4]), "é");
        assert_eq!(tokens.text(&[3]), "\u{fffd}");
    }
}
