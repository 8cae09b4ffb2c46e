//! Product codes as scanners read them: GTINs, with their check digit.

use std::fmt;

/// Digits of a GTIN at its longest.
const DIGITS: usize = 14;

/// A Global Trade Item Number whose check digit is right.
///
/// The shorter ones are the same number with zeros before it, so that a thing scanned as UPC-A (12 digits) and as
/// EAN-13 is one thing. Source: GS1 General Specifications, 7.9.1 (the check digit); that of AI 01, which has 14 digits,
/// shorter numbers filled up with zeros.
///
/// ```
/// use tellshelf::measure::Gtin;
/// let scanned = Gtin::read("036000291452").unwrap();
/// assert_eq!(scanned, Gtin::read("0036000291452").unwrap());
/// assert_eq!(scanned.to_string(), "0036000291452");
/// assert_eq!(Gtin::read(&scanned.to_string()), Ok(scanned));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Gtin([u8; DIGITS]);

/// Why digits are no product code, in words to be spoken. The digit that would fit isn't told: any other may be the
/// one that was misread, and only reading the code again tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NotAGtin {
    /// There is something else than the digits 0 to 9, or nothing.
    #[error("A product code is digits alone")]
    NotDigits,
    /// There are too many digits or too few.
    #[error("A product code has 8, 12, 13 or 14 digits, and this has {0}")]
    WrongLength(usize),
    /// It can't be what a UPC-E bar code says.
    #[error("A shortened product code has 8 digits and begins with 0 or 1")]
    NotShortened,
    /// The check digit doesn't fit the others.
    #[error("The last digit doesn't fit the others, so one of them is wrong")]
    CheckDigit,
}

impl Gtin {
    /// Reads a GTIN of 8, 12, 13 or 14 digits, as EAN-8, UPC-A, EAN-13 and ITF-14 bar codes have it.
    ///
    /// Eight digits are taken for a GTIN-8. Those of a UPC-E bar code look the same and mean another number, sometimes
    /// with a check digit that fits both: only the scanner knows the kind of bar code, and says it beside the digits.
    /// For UPC-E there is [`Gtin::from_upc_e`].
    ///
    /// # Errors
    /// [`NotAGtin`], with what is wrong.
    ///
    /// ```
    /// use tellshelf::measure::{Gtin, NotAGtin};
    /// assert!(Gtin::read("6291041500213").is_ok());
    /// assert_eq!(Gtin::read("6291041500214"), Err(NotAGtin::CheckDigit));
    /// assert_eq!(Gtin::read("629104150"), Err(NotAGtin::WrongLength(9)));
    /// assert_eq!(Gtin::read("6291 0415"), Err(NotAGtin::NotDigits));
    /// ```
    pub fn read(text: &str) -> Result<Self, NotAGtin> {
        let digits = digits(text)?;
        match digits.len() {
            8 | 12 | 13 | 14 => Self::checked(&digits),
            length => Err(NotAGtin::WrongLength(length)),
        }
    }

    /// A product code as scanners type it with 12, 13 and 14 digits, as far as it is that short; nothing where the text is
    /// none of those.
    ///
    /// ```
    /// use tellshelf::measure::Gtin;
    /// let lengths = Gtin::lengths_of("0036000291452");
    /// assert_eq!(lengths, ["036000291452", "0036000291452", "00036000291452"]);
    /// assert!(Gtin::lengths_of("96385074").is_empty());
    /// ```
    pub fn lengths_of(text: &str) -> Vec<String> {
        let Some(Self(digits)) = Self::read(text).ok().filter(|_| text.len() >= 12) else {
            return Vec::new();
        };
        let zeros = digits.iter().take_while(|digit| **digit == 0).count();
        let lengths = (12..=DIGITS).filter(|length| DIGITS - length <= zeros);
        let text = |from: usize| digits[from..].iter().map(u8::to_string).collect();
        lengths.map(|length| text(DIGITS - length)).collect()
    }

    /// Reads what a UPC-E bar code says: a GTIN-12 with some of its zeros left out.
    ///
    /// Takes all eight digits, from the number system to the check digit, which is that of the whole number. Source: GS1
    /// General Specifications, 5.2.2.4.2 (as biip cites it), for number system 0; that 1 is shortened alike is common
    /// practice.
    ///
    /// # Errors
    /// [`NotAGtin`], with what is wrong.
    ///
    /// ```
    /// use tellshelf::measure::Gtin;
    /// let scanned = Gtin::from_upc_e("04252614").unwrap();
    /// assert_eq!(scanned, Gtin::read("042100005264").unwrap());
    /// ```
    pub fn from_upc_e(text: &str) -> Result<Self, NotAGtin> {
        let [system @ (0 | 1), a, b, c, d, e, last, check] = digits(text)?[..] else {
            return Err(NotAGtin::NotShortened);
        };
        // The last of the six digits in the middle says where the zeros were.
        Self::checked(&match last {
            0..=2 => [system, a, b, last, 0, 0, 0, 0, c, d, e, check],
            3 => [system, a, b, c, 0, 0, 0, 0, 0, d, e, check],
            4 => [system, a, b, c, d, 0, 0, 0, 0, 0, e, check],
            _ => [system, a, b, c, d, e, 0, 0, 0, 0, last, check],
        })
    }

    /// Whether it is a number for restricted circulation, which a store or company gives as it likes: never to be
    /// learned as the name of a product.
    ///
    /// It names no product elsewhere; and where it has a price or weight in it, each pack has another one. Those are
    /// UPC-A of number system 2 (things weighed in the store) and 4, GTIN-13 with prefixes 020 to 029, 040 to 049 and 200
    /// to 299, and GTIN-8 that begin with 0 or 2. Source: GS1 General Specifications, 2.1.13 for prefix 04; the others as
    /// biip has them (`tests/data/measure/gtin.tsv`). A number of a case of such things is taken for one too.
    ///
    /// ```
    /// use tellshelf::measure::Gtin;
    /// assert!(Gtin::read("201234105992").unwrap().is_store_number()); // 5.99, by its digits 8 to 11
    /// assert!(!Gtin::read("036000291452").unwrap().is_store_number());
    /// ```
    pub fn is_store_number(&self) -> bool {
        match self.0 {
            // No longer number has so many zeros before it: those prefixes are kept free for GTIN-8.
            [0, 0, 0, 0, 0, 0, first, ..] => matches!(first, 0 | 2),
            [_, 0, 2 | 4, ..] | [_, 2, ..] => true,
            _ => false,
        }
    }

    /// A number of at most 14 digits, if the last one is its check digit.
    fn checked(digits: &[u8]) -> Result<Self, NotAGtin> {
        let mut all = [0; DIGITS];
        all[DIGITS - digits.len()..].copy_from_slice(digits);
        // From the right, the check digit counts once, the next three times, and so on: then the sum ends in 0.
        let weights = [1, 3].into_iter().cycle();
        let weighed = all.iter().rev().zip(weights).map(|(digit, by)| digit * by);
        if weighed.map(u32::from).sum::<u32>().is_multiple_of(10) {
            Ok(Self(all))
        } else {
            Err(NotAGtin::CheckDigit)
        }
    }
}

/// The digits of a text that has no other characters, as values.
fn digits(text: &str) -> Result<Vec<u8>, NotAGtin> {
    let digits = text.bytes().map(|byte| match byte {
        b'0'..=b'9' => Ok(byte - b'0'),
        _ => Err(NotAGtin::NotDigits),
    });
    let digits: Vec<u8> = digits.collect::<Result<_, _>>()?;
    if digits.is_empty() {
        return Err(NotAGtin::NotDigits);
    }
    Ok(digits)
}

impl fmt::Display for Gtin {
    /// In 13 digits, as under most bar codes; in 14 where it is that of a case. [`Gtin::read`] reads both.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shown = match self.0 {
            [0, ..] => &self.0[1..],
            _ => &self.0[..],
        };
        shown.iter().try_for_each(|digit| write!(f, "{digit}"))
    }
}
