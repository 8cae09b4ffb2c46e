//! One and many of an English word, for names that are listed in only one of them.

/// Words that change in the kitchen's plurals. A rule wouldn't tell "leaves" from "olives".
const CHANGING: [(&str, &str); 6] = [
    ("leaf", "leaves"),
    ("loaf", "loaves"),
    ("knife", "knives"),
    ("half", "halves"),
    ("calf", "calves"),
    ("shelf", "shelves"),
];

/// The word in the other number, as far as spelling tells; an unlikely form does no harm, since it
/// is only one more name that nobody says.
pub(super) fn other_number(word: &str) -> Vec<String> {
    let mut forms = Vec::new();
    if !word.is_ascii() || word.len() < 3 {
        return forms;
    }
    let ends = |endings: &[&str]| endings.iter().any(|e| word.ends_with(e));
    if let Some((one, many)) = CHANGING.iter().find(|(one, many)| ends(&[one, many])) {
        let (old, new) = if word.ends_with(many) {
            (many, one)
        } else {
            (one, many)
        };
        let stem = word.strip_suffix(old).unwrap_or(word);
        forms.push(format!("{stem}{new}"));
    } else if let Some(stem) = word.strip_suffix("ies") {
        forms.push(format!("{stem}y"));
        forms.push(format!("{stem}ie"));
    } else if ends(&["ches", "shes", "xes", "sses", "oes"]) {
        forms.push(word[..word.len() - 2].to_owned());
        forms.push(word[..word.len() - 1].to_owned());
    } else if word.ends_with('s') && !ends(&["ss", "us", "is"]) {
        forms.push(word[..word.len() - 1].to_owned());
    } else if ends(&["ch", "sh", "x", "ss", "to", "ngo"]) {
        forms.push(format!("{word}es"));
    } else if word.ends_with('y') && !ends(&["ay", "ey", "oy", "uy"]) {
        forms.push(format!("{}ies", &word[..word.len() - 1]));
    } else if !word.ends_with('s') {
        forms.push(format!("{word}s"));
    }
    forms
}

/// Plurals of words that end in "ie" and "che": spelling alone would make "cooky" of one of them.
const KEEPING_E: [&str; 6] = [
    "brownies",
    "cookies",
    "pies",
    "quiches",
    "smoothies",
    "veggies",
];
/// Words that look like plurals and have no other number.
const NO_PLURALS: [&str; 3] = ["molasses", "grits", "oats"];

/// The name of one of things that are listed in the plural; any other name stays as it is.
///
/// ```
/// use tellshelf::grammar::one_of;
/// assert_eq!(one_of("bell peppers"), "bell pepper");
/// assert_eq!(one_of("tomatoes"), "tomato");
/// assert_eq!(one_of("cookies"), "cookie");
/// assert_eq!(one_of("rice"), "rice");
/// ```
pub fn one_of(name: &str) -> String {
    let last = name.rsplit(' ').next().unwrap_or(name);
    if !last.ends_with('s') || NO_PLURALS.contains(&last) {
        return name.to_owned();
    }
    let head = &name[..name.len() - last.len()];
    let forms = other_number(last);
    let keeps_e = KEEPING_E.contains(&last);
    let one = if keeps_e { forms.last() } else { forms.first() };
    one.map_or_else(|| name.to_owned(), |one| format!("{head}{one}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_known_in_both_numbers() {
        for (one, many) in [
            ("apple", "apples"),
            ("box", "boxes"),
            ("berry", "berries"),
            ("cookie", "cookies"),
            ("tomato", "tomatoes"),
            ("peach", "peaches"),
            ("turkey", "turkeys"),
            ("olive", "olives"),
            ("chive", "chives"),
            ("clove", "cloves"),
            ("leaf", "leaves"),
            ("loaf", "loaves"),
            ("mango", "mangoes"),
            ("quiche", "quiches"),
            ("cheese", "cheeses"),
            ("date", "dates"),
        ] {
            assert!(other_number(many).contains(&one.to_owned()), "{many}");
            if one != "cookie" {
                assert_eq!(other_number(one), [many.to_owned()], "{one}");
            }
        }
        assert_eq!(other_number("couscous"), Vec::<String>::new());
    }
}
