//! Names of things that nobody has: "smoked oat crackers".

const KINDS: [&str; 25] = [
    "smoked", "dried", "roasted", "pickled", "frozen", "salted", "sweet", "spicy", "plain",
    "organic", "crunchy", "creamy", "wild", "golden", "crushed", "toasted", "candied", "minced",
    "stuffed", "glazed", "sour", "bitter", "young", "mild", "hot",
];
pub const PLANTS: [&str; 20] = [
    "oat", "barley", "plum", "cherry", "walnut", "pepper", "garlic", "lentil", "beet", "carrot",
    "fig", "hazelnut", "lemon", "mustard", "olive", "peach", "potato", "quince", "radish",
    "tomato",
];
const FORMS: [&str; 10] = [
    "crackers", "spread", "soup", "flakes", "sauce", "paste", "bars", "bread", "jelly", "chips",
];

/// How many there are.
pub const MOST: usize = KINDS.len() * PLANTS.len() * FORMS.len();

/// One of them, by its number.
pub fn made_up(number: usize) -> String {
    let kind = KINDS[number % KINDS.len()];
    let plant = PLANTS[number / KINDS.len() % PLANTS.len()];
    let form = FORMS[number / (KINDS.len() * PLANTS.len()) % FORMS.len()];
    format!("{kind} {plant} {form}")
}
