//! What it costs that a letter was heard as another one, or not at all, or too often.

/// Costs are counted in letters: 1 is one letter wrong. Vowels and letters that sound alike are
/// exchanged by a recogniser more easily than others, and spaces most easily of all.
/// From memory of how English is misheard; measured as a whole by `audio-fixtures`.
const SPACE_COST: f32 = 0.4;
const VOWEL_COST: f32 = 0.7;
const LETTER_COST: f32 = 1.0;
const ALIKE_COST: f32 = 0.5;

/// Letters of one group sound alike.
const ALIKE: [&[u8]; 8] = [
    b"aeiouy", b"ckqgx", b"szcx", b"bp", b"dt", b"fv", b"mn", b"jg",
];

/// For each letter from a to z, the groups it is in, one bit each: this is asked for every letter of
/// every way.
const GROUPS: [u8; 26] = {
    let mut groups = [0; 26];
    let mut group = 0;
    while group < ALIKE.len() {
        let mut at = 0;
        while at < ALIKE[group].len() {
            groups[(ALIKE[group][at] - b'a') as usize] |= 1 << group;
            at += 1;
        }
        group += 1;
    }
    groups
};

fn groups(letter: char) -> u8 {
    match letter {
        'a'..='z' => GROUPS[letter as usize - 'a' as usize],
        _ => 0,
    }
}

/// A letter more or less. A doubled letter is spelling, not sound.
pub(super) fn letter_cost(letter: char, before: Option<char>) -> f32 {
    match letter {
        ' ' => SPACE_COST,
        _ if before == Some(letter) => SPACE_COST,
        'a' | 'e' | 'i' | 'o' | 'u' | 'y' | 'h' => VOWEL_COST,
        _ => LETTER_COST,
    }
}

/// One letter for another.
pub(super) fn exchange_cost(heard: char, expected: char) -> f32 {
    if heard == expected {
        0.0
    } else if groups(heard) & groups(expected) != 0 {
        ALIKE_COST
    } else if heard == ' ' || expected == ' ' {
        // A space is no letter: a word that begins elsewhere is a letter added and one left out.
        SPACE_COST + LETTER_COST
    } else {
        LETTER_COST
    }
}

/// The letter in front of another one.
pub(super) fn before(letters: &[char], at: usize) -> Option<char> {
    at.checked_sub(1).map(|i| letters[i])
}

/// By how many letters what was heard differs from a name, weighted: the least over all ways to lay one
/// over the other.
pub(super) fn difference(heard: &[char], name: &[char]) -> f32 {
    let mut row = vec![0.0; name.len() + 1];
    for at in 0..name.len() {
        row[at + 1] = row[at] + letter_cost(name[at], before(name, at));
    }
    for (number, letter) in heard.iter().enumerate() {
        let added = letter_cost(*letter, before(heard, number));
        let mut diagonal = row[0];
        row[0] += added;
        for at in 0..name.len() {
            let exchanged = diagonal + exchange_cost(*letter, name[at]);
            let left_out = row[at] + letter_cost(name[at], before(name, at));
            diagonal = row[at + 1];
            row[at + 1] = exchanged.min(left_out).min(diagonal + added);
        }
    }
    row[name.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_sounds_alike_costs_less() {
        assert_eq!(exchange_cost('t', 't'), 0.0);
        assert_eq!(exchange_cost('t', 'd'), ALIKE_COST);
        assert_eq!(exchange_cost('c', 's'), ALIKE_COST);
        assert_eq!(exchange_cost('c', 'k'), ALIKE_COST);
        assert_eq!(exchange_cost('k', 's'), LETTER_COST);
        assert_eq!(exchange_cost('a', 'z'), LETTER_COST);
        assert_eq!(exchange_cost('감', '자'), LETTER_COST);
        assert_eq!(exchange_cost(' ', 'a'), SPACE_COST + LETTER_COST);
    }

    #[test]
    fn names_differ_by_the_letters_that_differ() {
        let differ = |a: &str, b: &str| {
            let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
            difference(&a, &b)
        };
        assert_eq!(differ("sumac", "sumac"), 0.0);
        assert_eq!(differ("sumak", "sumac"), ALIKE_COST);
        assert_eq!(differ("suma", "sumac"), LETTER_COST);
        assert_eq!(differ("summac", "sumac"), SPACE_COST);
        assert_eq!(differ("", "sum"), 2.0 * LETTER_COST + VOWEL_COST);
    }

    #[test]
    fn a_doubled_letter_is_nearly_the_same_word() {
        assert_eq!(letter_cost('t', Some('t')), SPACE_COST);
        assert_eq!(letter_cost('t', Some('a')), LETTER_COST);
    }
}
