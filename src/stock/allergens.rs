//! Which words of labels are kinds of others, and what a label that was read says of an allergen.
//!
//! Sources: the nine major allergens of FALCPA and the FASTER Act, of which labels name the kind of tree nut, fish and
//! crustacean shellfish (FDA, "Food Allergies"); gluten is of wheat, rye and barley (21 CFR 101.91). What is made of milk is
//! milk. "Nuts", as people say it, may be peanuts or tree nuts, which labels tell apart.

use serde::{Deserialize, Serialize};

use super::facts::Facts;
use super::names::Allergen;

/// What people say, and what labels call it.
const OTHER_NAMES: [(&str, &str); 27] = [
    ("almond butter", "almonds"),
    ("almond", "almonds"),
    ("brazil nut", "brazil nuts"),
    ("cashew", "cashews"),
    ("crabs", "crab"),
    ("crayfish", "crawfish"),
    ("crustaceans", "shellfish"),
    ("dairy", "milk"),
    ("egg", "eggs"),
    ("hazelnut", "hazelnuts"),
    ("lobsters", "lobster"),
    ("macadamias", "macadamia nuts"),
    ("mollusks", "molluscs"),
    ("nut", "nuts"),
    ("peanut", "peanuts"),
    ("peanut butter", "peanuts"),
    ("pecan", "pecans"),
    ("pine nut", "pine nuts"),
    ("pistachio", "pistachios"),
    ("prawns", "shrimp"),
    ("sesame seeds", "sesame"),
    ("soya", "soy"),
    ("soybeans", "soy"),
    ("sulphites", "sulfites"),
    ("tree nut", "tree nuts"),
    ("walnut", "walnuts"),
    ("yoghurt", "yogurt"),
];

/// What is said of several, and the kinds of it.
const KINDS: [(&str, &[&str]); 6] = [
    (NUTS, &["peanuts", "tree nuts"]),
    (
        "tree nuts",
        &[
            "almonds",
            "brazil nuts",
            "cashews",
            "hazelnuts",
            "macadamia nuts",
            "pecans",
            "pine nuts",
            "pistachios",
            "walnuts",
        ],
    ),
    ("fish", &["anchovies", "cod", "salmon", "tuna"]),
    ("shellfish", &["crab", "crawfish", "lobster", "shrimp"]),
    ("gluten", &["barley", "rye", "wheat"]),
    (
        "milk",
        &[
            "butter", "casein", "cheese", "cream", "lactose", "whey", "yogurt",
        ],
    ),
];

/// What labels don't say: they name peanuts, and tree nuts.
const NUTS: &str = "nuts";

/// Allergens that are no kind of another one.
const OTHERS: [&str; 8] = [
    "celery", "eggs", "lupin", "molluscs", "mustard", "sesame", "soy", "sulfites",
];

/// The longest name of an allergen, in words.
const MOST_WORDS: usize = 2;

impl Allergen {
    /// The allergens in words that were said: "milk and eggs". Of other words there is none.
    ///
    /// ```
    /// use tellshelf::stock::Allergen;
    /// let read = |words| Allergen::read(words).iter().map(ToString::to_string).collect::<Vec<_>>();
    /// assert_eq!(read("dairy tree nuts or an egg"), ["milk", "tree nuts", "eggs"]);
    /// ```
    pub fn read(words: &str) -> Vec<Self> {
        let words: Vec<&str> = words.split_whitespace().collect();
        let mut found = Vec::new();
        let mut at = 0;
        while at < words.len() {
            let longest = (1..=MOST_WORDS.min(words.len() - at)).rev();
            let mut longest = longest.filter_map(|count| {
                let known = Self::called(&words[at..at + count].join(" "))?;
                Some((count, known))
            });
            match longest.next() {
                Some((count, known)) => {
                    at += count;
                    if !found.contains(&known) {
                        found.push(known);
                    }
                }
                None => at += 1,
            }
        }
        found
    }

    /// The allergen that goes by this name, as labels call it.
    ///
    /// ```
    /// use tellshelf::stock::Allergen;
    /// assert_eq!(Allergen::called("soybeans").unwrap().as_str(), "soy");
    /// assert_eq!(Allergen::called("flour"), None);
    /// ```
    pub fn called(name: &str) -> Option<Self> {
        let other = OTHER_NAMES.iter().find(|(other, _)| *other == name);
        let name = other.map_or(name, |(_, name)| name);
        let is_known = other.is_some()
            || OTHERS.contains(&name)
            || KINDS
                .iter()
                .any(|(all, kinds)| *all == name || kinds.contains(&name));
        is_known.then(|| Self::new(name).ok()).flatten()
    }

    /// Whether what has this has the other one: it is the same, or a kind of it.
    ///
    /// ```
    /// use tellshelf::stock::Allergen;
    /// let is_kind = |one, of| Allergen::new(one).unwrap().is_kind_of(&Allergen::new(of).unwrap());
    /// assert!(is_kind("cashews", "nuts") && is_kind("wheat", "gluten") && is_kind("soy", "soy"));
    /// assert!(!is_kind("nuts", "cashews") && !is_kind("peanuts", "tree nuts"));
    /// ```
    pub fn is_kind_of(&self, other: &Self) -> bool {
        self == other
            || kinds_of(other).iter().any(|kind| {
                *kind == self.as_str() || Self::new(kind).is_ok_and(|kind| self.is_kind_of(&kind))
            })
    }

    /// The same as labels tell it: of nuts, peanuts and tree nuts.
    #[must_use]
    pub fn as_labels_tell(self) -> Vec<Self> {
        if self.as_str() != NUTS {
            return vec![self];
        }
        let kinds = kinds_of(&self).iter();
        kinds.flat_map(|kind| Self::new(kind)).collect()
    }

    /// All words by which a label says something of it: its own, its kinds, and what it is a kind of.
    pub(super) fn related(&self) -> Vec<Self> {
        let all = KINDS.iter().flat_map(|(all, kinds)| {
            let kinds = kinds.iter().copied();
            kinds.chain([*all])
        });
        let all = all.flat_map(Self::new);
        let mut related: Vec<Self> = all
            .filter(|other| other.is_kind_of(self) || self.is_kind_of(other))
            .collect();
        related.push(self.clone());
        related.sort();
        related.dedup();
        related
    }
}

fn kinds_of(allergen: &Allergen) -> &'static [&'static str] {
    let kinds = KINDS.iter().find(|(all, _)| *all == allergen.as_str());
    kinds.map_or(&[], |(_, kinds)| kinds)
}

/// What a label says of an allergen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Says {
    /// It is in it.
    Contains,
    /// It may be in it, or traces of it.
    MayContain,
    /// The label was read, and doesn't list it.
    NotListed,
    /// The same, of a pack that was there before the one that came last.
    NotListedBefore,
}

/// What is known of an allergen that was asked for. What isn't known is never a no.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OnLabel {
    /// The label says these, each of which is what was asked for or a kind of it.
    Contains(Vec<Allergen>),
    /// The label says that it may contain these.
    MayContain(Vec<Allergen>),
    /// The label says these, of which what was asked for is a kind.
    Broader(Vec<Allergen>),
    /// The label was read, and lists none of it.
    NotListed,
    /// That of an earlier pack was, and listed none.
    NotListedBefore,
    /// Nobody read the label for all of it. It lists none of these, which are kinds of it.
    Unknown(Vec<Allergen>),
}

impl Facts {
    /// What the label says of an allergen, by all that was read of it and its kinds.
    ///
    /// ```
    /// use tellshelf::stock::{Allergen, Facts, OnLabel, Says};
    /// let allergen = |name| Allergen::new(name).unwrap();
    /// let facts = Facts { allergens: vec![(allergen("cashews"), Says::Contains)], ..Facts::default() };
    /// assert_eq!(facts.on_label(&allergen("nuts")), OnLabel::Contains(vec![allergen("cashews")]));
    /// assert_eq!(facts.on_label(&allergen("milk")), OnLabel::Unknown(vec![]));
    /// ```
    pub fn on_label(&self, asked: &Allergen) -> OnLabel {
        on_label(&self.allergens, asked)
    }
}

pub(super) fn on_label(known: &[(Allergen, Says)], asked: &Allergen) -> OnLabel {
    let with = |wanted: Says, fits: &dyn Fn(&Allergen) -> bool| -> Vec<Allergen> {
        let known = known
            .iter()
            .filter(|(one, says)| *says == wanted && fits(one));
        known.map(|(one, _)| one.clone()).collect()
    };
    let is_kind = |one: &Allergen| one.is_kind_of(asked);
    let is_broader = |one: &Allergen| asked.is_kind_of(one) && one != asked;
    let contains = with(Says::Contains, &is_kind);
    if !contains.is_empty() {
        return OnLabel::Contains(contains);
    }
    let broader = with(Says::Contains, &is_broader);
    if !broader.is_empty() {
        return OnLabel::Broader(broader);
    }
    let may = with(Says::MayContain, &|one| is_kind(one) || is_broader(one));
    if !may.is_empty() {
        return OnLabel::MayContain(may);
    }
    // Of what is said of several, the label must have been read for each.
    let parts = asked.clone().as_labels_tell();
    let covering = parts.iter().map(|part| {
        let mut covers = known.iter().filter(|(one, says)| {
            part.is_kind_of(one) && matches!(says, Says::NotListed | Says::NotListedBefore)
        });
        covers.next().map(|(_, says)| *says)
    });
    let covering: Option<Vec<Says>> = covering.collect();
    match covering {
        Some(says) if says.contains(&Says::NotListedBefore) => OnLabel::NotListedBefore,
        Some(_) => OnLabel::NotListed,
        None => OnLabel::Unknown(with(Says::NotListed, &is_kind)),
    }
}
