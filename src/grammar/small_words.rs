//! Small words of English that stand in sentences, and hardly ever in the name of a thing.

/// Pronouns, forms of "be", "do" and "have", and what joins one half of a sentence to the other. Words
/// that names do have are left out: "and", "of", "in", "on", "with", "no", "can".
const SMALL: &[&str] = &[
    "i", "id", "ill", "im", "ive", "you", "youll", "youre", "youve", "he", "hes", "she", "shes",
    "it", "its", "we", "well", "were", "weve", "they", "theyre", "me", "him", "her", "us", "them",
    "my", "your", "his", "our", "their", "this", "that", "these", "those", "there", "the", "is",
    "isnt", "are", "arent", "was", "wasnt", "be", "been", "am", "do", "does", "did", "dont",
    "doesnt", "didnt", "has", "had", "have", "will", "wont", "would", "could", "couldnt", "cant",
    "should", "must", "to", "at", "from", "for", "by", "until", "till", "so", "because", "when",
    "while", "if", "than", "then", "about", "into", "onto", "before", "after", "who", "what",
    "where", "why", "how", "not", "just", "one", "a", "an", "any", "some", "plenty", "lots",
    "enough", "more", "much",
];

/// Whether a name has such a word in it: it is more likely talk than a thing. Two things said as one,
/// "milk and the eggs", aren't talk.
pub(super) fn reads_like_talk(name: &str) -> bool {
    let small = |text: &str| text.split(' ').any(|word| SMALL.contains(&word));
    // Within a name they join its parts, and join nothing at its ends: "two of flour".
    let joins = |word: Option<&str>| matches!(word, Some("and" | "of" | "in" | "on" | "with"));
    if joins(name.split(' ').next()) || joins(name.rsplit(' ').next()) {
        return true;
    }
    let mut things = name.split(" and ");
    let first = things.next().is_some_and(small);
    first
        || things.any(|thing| match thing.split_once(' ') {
            Some((a_or_the, rest)) if SMALL.contains(&a_or_the) => small(rest),
            _ => small(thing),
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_read_like_talk_and_names_do_not() {
        for talk in [
            "talk about saturday to you",
            "a headache",
            "of flour",
            "flour and",
            "vanilla to the bowl",
        ] {
            assert!(reads_like_talk(talk), "{talk}");
        }
        for name in [
            "milk and the eggs",
            "zhoug",
            "beans in tomato sauce",
            "cream of celery",
            "can opener",
        ] {
            assert!(!reads_like_talk(name), "{name}");
        }
    }
}
