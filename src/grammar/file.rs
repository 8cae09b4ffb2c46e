//! The grammar file: YAML around JSGF expansions, each with the line it stands on.

use std::collections::{HashMap, HashSet};

use super::error::{Fault, GrammarError, SyntaxFault};
use super::jsgf::{Expansion, is_rule_name, parse_expansion};
use super::yaml::{self, Node};

/// The largest grammar file that is read, in bytes. Ours has a few thousand; a file fifty times as
/// large is a mistake, and would only be found out after a long wait.
pub const MAX_FILE: usize = 1 << 18;

/// How many rules and intents a file may have together. Ours has a few dozen.
pub const MAX_RULES: usize = 2_000;

/// How many modes a file may have. Each is compiled by itself: the largest files with so many took up
/// to a second (development build), and thousands would take minutes. A conversation has a few.
pub const MAX_MODES: usize = 16;

/// A grammar file, parsed and not yet compiled.
#[derive(Debug, Clone, PartialEq)]
pub struct GrammarFile {
    /// The file's name, for errors.
    pub name: String,
    /// The language as a BCP 47 tag, such as `en-US`.
    pub language: String,
    /// Rules whose match is reported, each with its line.
    pub slots: Vec<(String, usize)>,
    /// The rules, in the order of the file.
    pub rules: Vec<Rule>,
    /// The intents: the same as rules, each the name of what is meant.
    pub intents: Vec<Rule>,
    /// The modes, in the order of the file. An intent in none can always be said.
    pub modes: Vec<Mode>,
}

/// A state of the conversation in which more can be said than outside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mode {
    /// The mode's name.
    pub name: String,
    /// The line it stands on.
    pub line: usize,
    /// The intents that can't be said outside, at least one, each with its line.
    pub intents: Vec<(String, usize)>,
}

/// A name with the expansions that belong to it, each with the line it stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// The rule's or intent's name.
    pub name: String,
    /// Its expansions: any one of them may be said.
    pub expansions: Vec<(Expansion, usize)>,
}

impl GrammarFile {
    /// Parses the text of a grammar file. `name` is used in errors only.
    ///
    /// # Errors
    /// [`GrammarError`] with the line and the rule.
    ///
    /// ```
    /// use tellshelf::grammar::GrammarFile;
    /// let text = "language: en-US\nrules:\n  place: fridge | pantry\nintents:\n  go: go to the <place>\n";
    /// let file = GrammarFile::parse("small.yaml", text).unwrap();
    /// assert_eq!(file.rules[0].expansions[0].1, 3);
    /// ```
    pub fn parse(name: &str, text: &str) -> Result<Self, GrammarError> {
        let parts = Parts { file: name };
        let whole = |message: &str| parts.error(0, None, Fault::Yaml(message.to_owned()));
        let root = yaml::read(text).map_err(|(line, fault)| parts.error(line, None, fault))?;
        let Node::Map(root) = root else {
            return Err(whole("it has no “language”, “rules” and “intents”"));
        };
        let mut language = None;
        let mut slots = Vec::new();
        let mut rules = Vec::new();
        let mut intents = Vec::new();
        let mut modes = Vec::new();
        for (key, line, value) in parts.named(root, 1)? {
            match key.as_str() {
                "language" => match value {
                    Node::Text(tag, _) => language = Some(tag),
                    _ => return Err(parts.yaml(line, "“language” is a tag such as en-US")),
                },
                "slots" => slots = parts.slots(value, line)?,
                "rules" => rules = parts.section(&key, value, line)?,
                "intents" => intents = parts.section(&key, value, line)?,
                "modes" => modes = parts.modes(value, line)?,
                _ => {
                    let message =
                        format!("“{key}” isn't one of language, slots, rules, intents, modes");
                    return Err(parts.yaml(line, &message));
                }
            }
        }
        let Some(language) = language else {
            return Err(whole(
                "“language” is missing. Begin with, say, language: en-US",
            ));
        };
        if let Some(rule) = rules.iter().find(|rule| !is_rule_name(&rule.name)) {
            let line = rule.expansions[0].1;
            let fault = Fault::Syntax(SyntaxFault::BadName(rule.name.clone()));
            return Err(parts.error(line, Some(&rule.name), fault));
        }
        if intents.is_empty() {
            return Err(parts.error(0, None, Fault::NoIntents));
        }
        if rules.len() + intents.len() > MAX_RULES {
            let what = "its number of rules and intents";
            let limit = MAX_RULES;
            return Err(parts.error(0, None, Fault::TooLarge { what, limit }));
        }
        let file = Self {
            name: name.to_owned(),
            language,
            slots,
            rules,
            intents,
            modes,
        };
        file.check_modes()?;
        Ok(file)
    }

    /// The intents that can be said in a mode, or outside any, in the order of the file.
    pub(super) fn intents_in<'f>(
        &'f self,
        mode: Option<&'f Mode>,
    ) -> impl Iterator<Item = &'f Rule> {
        fn names<'m>(modes: impl IntoIterator<Item = &'m Mode>) -> HashSet<&'m str> {
            let intents = modes.into_iter().flat_map(|mode| &mode.intents);
            intents.map(|(intent, _)| intent.as_str()).collect()
        }
        let (in_some, in_this) = (names(&self.modes), names(mode));
        self.intents.iter().filter(move |intent| {
            let name = intent.name.as_str();
            !in_some.contains(name) || in_this.contains(name)
        })
    }

    /// The modes may stand before the intents, so they are checked when all is read.
    fn check_modes(&self) -> Result<(), GrammarError> {
        let parts = Parts { file: &self.name };
        let there: HashSet<&str> = self.intents.iter().map(|i| i.name.as_str()).collect();
        for mode in &self.modes {
            let unknown = |(intent, _): &&(String, usize)| !there.contains(intent.as_str());
            if let Some((intent, line)) = mode.intents.iter().find(unknown) {
                let (mode, intent) = (mode.name.clone(), intent.clone());
                return Err(parts.error(*line, None, Fault::UnknownIntent { mode, intent }));
            }
        }
        if let Some(mode) = self.modes.first()
            && self.intents_in(None).next().is_none()
        {
            return Err(parts.error(mode.line, None, Fault::OnlyModes));
        }
        Ok(())
    }
}

/// Reads the parts of a file, and says where one is wrong.
struct Parts<'n> {
    file: &'n str,
}

impl Parts<'_> {
    fn error(&self, line: usize, rule: Option<&str>, fault: Fault) -> GrammarError {
        GrammarError {
            file: self.file.to_owned(),
            line,
            rule: rule.map(str::to_owned),
            fault,
        }
    }

    fn yaml(&self, line: usize, message: &str) -> GrammarError {
        self.error(line, None, Fault::Yaml(message.to_owned()))
    }

    /// Entries with names, no name twice. `line` is where they are, as far as known.
    fn named(
        &self,
        entries: Vec<(Node, Node)>,
        line: usize,
    ) -> Result<Vec<(String, usize, Node)>, GrammarError> {
        let mut first = HashMap::new();
        let mut named = Vec::with_capacity(entries.len());
        for (key, value) in entries {
            let Node::Text(name, at) = key else {
                return Err(self.yaml(key.line().unwrap_or(line), "a name is a word"));
            };
            if let Some(first) = first.insert(name.clone(), at) {
                return Err(self.error(at, None, Fault::Twice { name, first }));
            }
            named.push((name, at, value));
        }
        Ok(named)
    }

    fn slots(&self, value: Node, line: usize) -> Result<Vec<(String, usize)>, GrammarError> {
        self.list(value, line, "“slots” is a list of rule names")
    }

    /// A list of names, no name twice, each with its line. `shape` says how it is written.
    fn list(
        &self,
        value: Node,
        line: usize,
        shape: &str,
    ) -> Result<Vec<(String, usize)>, GrammarError> {
        let wrong = |line| self.yaml(line, shape);
        let names = match value {
            Node::Nothing(_) => return Ok(Vec::new()),
            Node::List(names) => names,
            other => return Err(wrong(other.line().unwrap_or(line))),
        };
        let entries = names.into_iter().map(|name| (name, Node::Nothing(line)));
        let named = self
            .named(entries.collect(), line)
            .map_err(|error| match error.fault {
                Fault::Yaml(_) => wrong(error.line),
                _ => error,
            })?;
        Ok(named.into_iter().map(|(name, at, _)| (name, at)).collect())
    }

    fn modes(&self, value: Node, line: usize) -> Result<Vec<Mode>, GrammarError> {
        let shape = "under “modes”, write name: [intent, intent]";
        let entries = match value {
            Node::Nothing(_) => return Ok(Vec::new()),
            Node::Map(entries) => entries,
            other => return Err(self.yaml(other.line().unwrap_or(line), shape)),
        };
        if entries.len() > MAX_MODES {
            let (what, limit) = ("its number of modes", MAX_MODES);
            return Err(self.error(line, None, Fault::TooLarge { what, limit }));
        }
        let mode = |(name, line, value)| {
            let intents = self.list(value, line, shape)?;
            if intents.is_empty() {
                return Err(self.error(line, None, Fault::EmptyMode(name)));
            }
            Ok(Mode {
                name,
                line,
                intents,
            })
        };
        self.named(entries, line)?.into_iter().map(mode).collect()
    }

    fn section(&self, section: &str, value: Node, line: usize) -> Result<Vec<Rule>, GrammarError> {
        let entries = match value {
            Node::Nothing(_) => return Ok(Vec::new()),
            Node::Map(entries) => entries,
            other => {
                let message = format!("under “{section}”, write name: what can be said");
                return Err(self.yaml(other.line().unwrap_or(line), &message));
            }
        };
        let named = self.named(entries, line)?.into_iter();
        named
            .map(|(name, at, value)| self.rule(name, value, at))
            .collect()
    }

    fn rule(&self, name: String, value: Node, line: usize) -> Result<Rule, GrammarError> {
        let expansions = match value {
            Node::List(items) if items.is_empty() => {
                let fault = Fault::Syntax(SyntaxFault::Empty("the list has no line"));
                return Err(self.error(line, Some(&name), fault));
            }
            Node::List(items) => items,
            single => vec![single],
        };
        let read = |node: Node| {
            let (text, at) = match node {
                Node::Nothing(at) => (String::new(), at),
                Node::Text(text, at) => (text, at),
                Node::List(_) | Node::Map(_) => {
                    let at = node.line().unwrap_or(line);
                    let message = "an expansion is a text. Put quotes around it if it begins with \
                                   a bracket or contains a colon";
                    let fault = Fault::Yaml(message.to_owned());
                    return Err(self.error(at, Some(&name), fault));
                }
            };
            match parse_expansion(&text) {
                Ok(expansion) => Ok((expansion, at)),
                Err(fault) => Err(self.error(at, Some(&name), Fault::Syntax(fault))),
            }
        };
        let expansions = expansions.into_iter().map(read).collect::<Result<_, _>>()?;
        Ok(Rule { name, expansions })
    }
}
