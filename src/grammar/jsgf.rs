//! Expansions as the JSpeech Grammar Format writes them (JSGF, W3C Note, 5 June 2000).

use super::error::SyntaxFault;

/// How deep brackets may be nested: far more than a person can follow, and few enough for the stack.
const MAX_DEPTH: usize = 64;

/// How many tags may stand behind one thing: each is a level of nesting too.
const MAX_TAGS: usize = 16;

/// One expansion: what may be said.
#[derive(Debug, Clone, PartialEq)]
pub enum Expansion {
    /// A word, or a quoted text, as written.
    Word(String),
    /// `<rule>`.
    Rule(String),
    /// One after another; empty for `<NULL>`.
    Sequence(Vec<Expansion>),
    /// One of several, each with its weight; empty for `<VOID>`.
    Alternatives(Vec<(f64, Expansion)>),
    /// `[once or not at all]`.
    Optional(Box<Expansion>),
    /// `any number of times*`.
    Star(Box<Expansion>),
    /// `at least once+`.
    Plus(Box<Expansion>),
    /// `something {tag}`.
    Tagged(Box<Expansion>, String),
}

impl Expansion {
    /// Its own words, as written, in order; not those of rules that it names.
    pub(super) fn words(&self, words: &mut Vec<String>) {
        match self {
            Self::Word(word) => words.push(word.clone()),
            Self::Rule(_) => {}
            Self::Sequence(parts) => parts.iter().for_each(|part| part.words(words)),
            Self::Alternatives(ways) => ways.iter().for_each(|(_, way)| way.words(words)),
            Self::Optional(one) | Self::Star(one) | Self::Plus(one) | Self::Tagged(one, _) => {
                one.words(words);
            }
        }
    }
}

/// Reads one expansion.
///
/// # Errors
/// [`SyntaxFault`], naming the mark that is wrong.
///
/// ```
/// use tellshelf::grammar::{Expansion, parse_expansion};
/// let tagged = parse_expansion("(refrigerator) {fridge}").unwrap();
/// assert_eq!(
///     tagged,
///     Expansion::Tagged(Box::new(Expansion::Word("refrigerator".into())), "fridge".into())
/// );
/// assert!(parse_expansion("put [the <item>").is_err());
/// ```
pub fn parse_expansion(text: &str) -> Result<Expansion, SyntaxFault> {
    let mut parser = Parser {
        rest: text,
        depth: 0,
    };
    let expansion = parser.alternatives("there is nothing before the end")?;
    match parser.peek() {
        None => Ok(expansion),
        Some(mark) => Err(SyntaxFault::Stray(mark)),
    }
}

struct Parser<'t> {
    rest: &'t str,
    depth: usize,
}

impl<'t> Parser<'t> {
    fn peek(&mut self) -> Option<char> {
        self.rest = self.rest.trim_start();
        self.rest.chars().next()
    }

    fn take(&mut self, mark: char) -> bool {
        let found = self.peek() == Some(mark);
        if found {
            self.rest = &self.rest[mark.len_utf8()..];
        }
        found
    }

    /// The text up to a closing mark; `\` takes the next character as it is.
    fn until(&mut self, open: char, close: char) -> Result<String, SyntaxFault> {
        let mut text = String::new();
        let mut chars = self.rest.char_indices();
        while let Some((at, c)) = chars.next() {
            if c == '\\' {
                text.extend(chars.next().map(|(_, escaped)| escaped));
            } else if c == close {
                self.rest = &self.rest[at + c.len_utf8()..];
                return Ok(text);
            } else {
                text.push(c);
            }
        }
        Err(SyntaxFault::Unclosed(open))
    }

    fn alternatives(&mut self, missing: &'static str) -> Result<Expansion, SyntaxFault> {
        self.depth += 1;
        if self.depth > MAX_DEPTH {
            return Err(SyntaxFault::TooDeep(MAX_DEPTH));
        }
        let mut choices = Vec::new();
        loop {
            let weight = self.weight()?;
            choices.push((weight, self.sequence(missing)?));
            if !self.take('|') {
                break;
            }
        }
        self.depth -= 1;
        match choices.len() {
            1 if choices[0].0 == 1.0 => Ok(choices.swap_remove(0).1),
            _ => Ok(Expansion::Alternatives(choices)),
        }
    }

    fn weight(&mut self) -> Result<f64, SyntaxFault> {
        if !self.take('/') {
            return Ok(1.0);
        }
        let text = self.until('/', '/')?;
        match text.trim().parse::<f64>() {
            Ok(weight) if weight.is_finite() && weight >= 0.0 => Ok(weight),
            _ => Err(SyntaxFault::BadWeight(text)),
        }
    }

    fn sequence(&mut self, missing: &'static str) -> Result<Expansion, SyntaxFault> {
        let mut parts = Vec::new();
        while let Some(mark) = self.peek() {
            match mark {
                '|' | ')' | ']' => break,
                _ => parts.push(self.unary()?),
            }
        }
        match parts.len() {
            0 => Err(SyntaxFault::Empty(missing)),
            1 => Ok(parts.swap_remove(0)),
            _ => Ok(Expansion::Sequence(parts)),
        }
    }

    fn unary(&mut self) -> Result<Expansion, SyntaxFault> {
        let mut expansion = self.primary()?;
        if self.take('*') {
            expansion = Expansion::Star(Box::new(expansion));
        } else if self.take('+') {
            expansion = Expansion::Plus(Box::new(expansion));
        }
        for count in 0.. {
            if !self.take('{') {
                break;
            }
            if count == MAX_TAGS {
                return Err(SyntaxFault::TooManyTags(MAX_TAGS));
            }
            let tag = self.until('{', '}')?;
            expansion = Expansion::Tagged(Box::new(expansion), tag.trim().to_owned());
        }
        Ok(expansion)
    }

    fn primary(&mut self) -> Result<Expansion, SyntaxFault> {
        if self.take('(') {
            let inside = self.alternatives("there is nothing inside ( )")?;
            return if self.take(')') {
                Ok(inside)
            } else {
                Err(SyntaxFault::Unclosed('('))
            };
        }
        if self.take('[') {
            let inside = self.alternatives("there is nothing inside [ ]")?;
            return if self.take(']') {
                Ok(Expansion::Optional(Box::new(inside)))
            } else {
                Err(SyntaxFault::Unclosed('['))
            };
        }
        if self.take('<') {
            return rule(self.until('<', '>')?);
        }
        if self.take('"') {
            return word(self.until('"', '"')?);
        }
        let special = |c: char| c.is_whitespace() || "|()[]<>{}*+/\"".contains(c);
        let end = self.rest.find(special).unwrap_or(self.rest.len());
        match self.rest[..end].chars().next() {
            None => Err(SyntaxFault::Stray(self.rest.chars().next().unwrap_or(' '))),
            Some(_) => {
                let text = self.rest[..end].to_owned();
                self.rest = &self.rest[end..];
                word(text)
            }
        }
    }
}

fn rule(name: String) -> Result<Expansion, SyntaxFault> {
    match name.trim() {
        "NULL" => Ok(Expansion::Sequence(Vec::new())),
        "VOID" => Ok(Expansion::Alternatives(Vec::new())),
        name if is_rule_name(name) => Ok(Expansion::Rule(name.to_owned())),
        name => Err(SyntaxFault::BadName(name.to_owned())),
    }
}

/// Whether a rule may be called this: NULL and VOID are the standard's own.
pub(super) fn is_rule_name(name: &str) -> bool {
    let allowed = |c: char| c.is_alphanumeric() || "-_.".contains(c);
    !matches!(name, "" | "NULL" | "VOID") && name.chars().all(allowed)
}

fn word(text: String) -> Result<Expansion, SyntaxFault> {
    if super::words::normal_words(&text).is_empty() {
        return Err(SyntaxFault::Silent(text));
    }
    Ok(Expansion::Word(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<Expansion> {
        text.split(' ')
            .map(|w| Expansion::Word(w.to_owned()))
            .collect()
    }

    #[test]
    fn a_sequence_binds_closer_than_a_choice() {
        let choices = vec![
            (1.0, Expansion::Sequence(words("a b"))),
            (1.0, Expansion::Word("c".to_owned())),
        ];
        assert_eq!(
            parse_expansion("a b | c"),
            Ok(Expansion::Alternatives(choices))
        );
    }

    #[test]
    fn a_tag_belongs_to_what_stands_before_it() {
        let Ok(Expansion::Sequence(parts)) = parse_expansion("a b {x} {y}") else {
            panic!()
        };
        assert_eq!(parts[0], Expansion::Word("a".to_owned()));
        assert!(matches!(&parts[1], Expansion::Tagged(_, tag) if tag == "y"));
    }

    #[test]
    fn weights_stay_with_their_choice() {
        let choices = vec![
            (10.0, Expansion::Word("small".to_owned())),
            (0.5, Expansion::Word("large".to_owned())),
        ];
        assert_eq!(
            parse_expansion("/10/ small | /0.5/ large"),
            Ok(Expansion::Alternatives(choices))
        );
    }

    #[test]
    fn null_and_void_are_the_standard_ones() {
        assert_eq!(
            parse_expansion("<NULL>"),
            Ok(Expansion::Sequence(Vec::new()))
        );
        assert_eq!(
            parse_expansion("<VOID>"),
            Ok(Expansion::Alternatives(Vec::new()))
        );
    }

    #[test]
    fn what_breaks_the_rules_is_named() {
        use SyntaxFault::*;
        for (text, fault) in [
            ("", Empty("there is nothing before the end")),
            ("a |", Empty("there is nothing before the end")),
            ("a ()", Empty("there is nothing inside ( )")),
            ("(a", Unclosed('(')),
            ("a]", Stray(']')),
            ("a {b", Unclosed('{')),
            ("* a", Stray('*')),
            ("\"a", Unclosed('"')),
            ("<a b>", BadName("a b".to_owned())),
            ("/x/ a", BadWeight("x".to_owned())),
            ("a - b", Silent("-".to_owned())),
        ] {
            assert_eq!(parse_expansion(text), Err(fault), "{text}");
        }
        let deep = "(".repeat(100_000);
        assert_eq!(parse_expansion(&deep), Err(TooDeep(MAX_DEPTH)));
    }
}
