//! The living list behind `<item>`: every name this kitchen knows, as a letter tree that grows.

use std::collections::HashMap;

use super::letters::difference;
use super::plural::other_number;
use super::pouring::Pouring;
use super::words::normal_words;

/// Of the letters of a name, so many may differ from one that was learned by hearing.
const MOST_DIFFERENT: f32 = 0.4;

/// Names and what they stand for.
///
/// ```
/// use tellshelf::grammar::Lexicon;
/// let mut names = Lexicon::default();
/// names.add("oats", "oats");
/// names.add("oats", "porridge oats");
/// assert_eq!(names.find("Porridge oats"), Some("oats"));
/// assert_eq!(names.find("oat"), Some("oats"));
/// assert_eq!(names.find("rye"), None);
/// ```
#[derive(Debug, Clone)]
pub struct Lexicon {
    nodes: Vec<Node>,
    items: Vec<String>,
    ids: HashMap<String, u32>,
    /// Names that were learned by hearing, each with its letters in normal form.
    heard: Vec<(Vec<char>, u32)>,
    pub(super) pouring: Pouring,
}

#[derive(Debug, Clone, Default)]
struct Node {
    children: Vec<(char, u32)>,
    /// The letter that leads here, and from which node; none at the root.
    before: Option<(char, u32)>,
    /// Letters from the root to here.
    letters: u16,
    /// The item whose name ends here, and by what right.
    item: Option<(u32, Given)>,
}

/// By what right a name stands for its item: the later ones give way to the earlier ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Given {
    Name,
    Derived,
    Heard,
}

impl Default for Lexicon {
    fn default() -> Self {
        Self {
            nodes: vec![Node::default()],
            items: Vec::new(),
            ids: HashMap::new(),
            heard: Vec::new(),
            pouring: Pouring::default(),
        }
    }
}

impl Lexicon {
    /// Adds one name for an item. The same name in the other number ("apple" for "apples") is known
    /// with it, unless it is another item's own name. A name given twice stays with its first item.
    pub fn add(&mut self, item: &str, name: &str) {
        let words = normal_words(name);
        let Some((last, head)) = words.split_last() else {
            return;
        };
        let id = self.item_id(item);
        self.insert(&words, id, Given::Name);
        for other in other_number(last) {
            let mut derived = head.to_vec();
            derived.push(other);
            self.insert(&derived, id, Given::Derived);
        }
    }

    /// Adds a way in which an item's name was heard. It is no name if it is anything else's already, and
    /// nothing is derived from it.
    ///
    /// ```
    /// use tellshelf::grammar::Lexicon;
    /// let mut names = Lexicon::default();
    /// names.add("soda", "soda");
    /// for form in ["zatar", "soda"] {
    ///     names.add_heard("zaatar", form);
    /// }
    /// assert_eq!((names.find("zatar"), names.find("soda")), (Some("zaatar"), Some("soda")));
    /// ```
    pub fn add_heard(&mut self, item: &str, form: &str) {
        let words = normal_words(form);
        if !words.is_empty() {
            let id = self.item_id(item);
            self.insert(&words, id, Given::Heard);
            if self.find(form) == Some(item) {
                self.heard.push((words.join(" ").chars().collect(), id));
            }
        }
    }

    /// The item that was heard most nearly like this, and by how many letters it differs, weighted by
    /// how alike they sound; none where that is more than a part of them.
    ///
    /// ```
    /// use tellshelf::grammar::Lexicon;
    /// let mut names = Lexicon::default();
    /// names.add_heard("freekeh", "freaky");
    /// assert_eq!(names.nearest_heard("frekey").map(|(item, _)| item), Some("freekeh"));
    /// assert_eq!(names.nearest_heard("sumac"), None);
    /// ```
    pub fn nearest_heard(&self, name: &str) -> Option<(&str, f32)> {
        let letters: Vec<char> = normal_words(name).join(" ").chars().collect();
        let near = self.heard.iter().filter_map(|(form, id)| {
            let most = MOST_DIFFERENT * form.len().max(letters.len()) as f32;
            let difference = difference(&letters, form);
            (difference <= most).then_some((self.items[*id as usize].as_str(), difference))
        });
        near.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// The item that a name stands for.
    pub fn find(&self, name: &str) -> Option<&str> {
        let words = normal_words(name);
        let mut node = self.root();
        for letter in words.iter().flat_map(|w| w.chars().chain([' '])) {
            node = self.children(node).iter().find(|(c, _)| *c == letter)?.1;
        }
        self.item_at(node)
    }

    fn item_id(&mut self, item: &str) -> u32 {
        if let Some(id) = self.ids.get(item) {
            return *id;
        }
        let id = self.items.len() as u32;
        self.items.push(item.to_owned());
        self.ids.insert(item.to_owned(), id);
        id
    }

    fn insert(&mut self, words: &[String], id: u32, given: Given) {
        let mut at = 0;
        for letter in words.iter().flat_map(|w| w.chars().chain([' '])) {
            let children = &self.nodes[at].children;
            at = match children.iter().find(|(c, _)| *c == letter) {
                Some((_, child)) => *child as usize,
                None => {
                    let child = self.nodes.len();
                    let letters = self.nodes[at].letters.saturating_add(1);
                    self.nodes.push(Node {
                        letters,
                        before: Some((letter, at as u32)),
                        ..Node::default()
                    });
                    self.nodes[at].children.push((letter, child as u32));
                    child
                }
            };
        }
        let place = &mut self.nodes[at].item;
        if place.is_none_or(|(_, known)| given < known) {
            *place = Some((id, given));
        }
    }

    pub(super) fn root(&self) -> u32 {
        0
    }

    /// The letters that may follow in the tree; a space ends every word.
    pub(super) fn children(&self, node: u32) -> &[(char, u32)] {
        &self.nodes[node as usize].children
    }

    /// How many letters a name has that ends here, with a space after each word.
    pub(super) fn letters_to(&self, node: u32) -> u16 {
        self.nodes[node as usize].letters
    }

    /// The letters of a name that ends here.
    pub(super) fn spelled_to(&self, mut node: u32) -> Vec<char> {
        let mut letters = Vec::new();
        while let Some((letter, before)) = self.nodes[node as usize].before {
            letters.push(letter);
            node = before;
        }
        letters.reverse();
        letters
    }

    pub(super) fn item_at(&self, node: u32) -> Option<&str> {
        let (id, _) = self.nodes[node as usize].item?;
        Some(&self.items[id as usize])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_given_name_beats_a_derived_one_in_any_order() {
        for order in [["oil", "oils"], ["oils", "oil"]] {
            let mut names = Lexicon::default();
            for name in order {
                names.add(name, name);
            }
            assert_eq!(names.find("oil"), Some("oil"));
            assert_eq!(names.find("oils"), Some("oils"));
        }
    }

    #[test]
    fn a_silent_name_is_not_added() {
        let mut names = Lexicon::default();
        names.add("nothing", "…");
        assert_eq!(names.find(""), None);
    }
}
