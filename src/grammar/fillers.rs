//! Words around a command that ask for nothing: "okay", "well", "I'd like to", "thank you".

use super::words::FILLERS;

/// What may stand in front, the longest first; besides, what people say while they think.
const OPENINGS: [&str; 18] = [
    "i would like you to",
    "i would like to",
    "i'd like to",
    "id like to",
    "all right",
    "alright",
    "okay",
    "ok",
    "well",
    "just",
    "now",
    "then",
    "and",
    "so",
    "oh",
    "hey",
    "hi",
    "hello",
];

/// What may stand behind.
const CLOSINGS: [&str; 3] = ["thank you", "thanks", "then"];

/// A text without what asks for nothing around it; `None` where it has nothing of it, or nothing else.
///
/// ```
/// use tellshelf::grammar::without_fillers;
/// assert_eq!(without_fillers("Okay, add rice to the pantry, thank you."), Some("add rice to the pantry,".to_owned()));
/// assert_eq!(without_fillers("okay"), None);
/// assert_eq!(without_fillers("add rice"), None);
/// ```
pub fn without_fillers(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let plain: Vec<String> = words.iter().map(|word| plain(word)).collect();
    let (mut first, mut end) = (0, words.len());
    while let Some(opening) = OPENINGS.iter().chain(&FILLERS).find(|opening| {
        let mut there = plain[first..end].iter();
        opening
            .split(' ')
            .all(|word| there.next().is_some_and(|said| said == word))
    }) {
        first += opening.split(' ').count();
    }
    while let Some(closing) = CLOSINGS.iter().find(|closing| {
        let mut there = plain[first..end].iter().rev();
        closing
            .split(' ')
            .rev()
            .all(|word| there.next().is_some_and(|said| said == word))
    }) {
        end -= closing.split(' ').count();
    }
    let is_shorter = first > 0 || end < words.len();
    (is_shorter && first < end).then(|| words[first..end].join(" "))
}

/// A word without capitals and what stands beside it.
fn plain(word: &str) -> String {
    let word = word.trim_matches(|c: char| c.is_ascii_punctuation());
    word.to_lowercase().replace('’', "'")
}
