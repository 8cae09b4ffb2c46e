//! The grammar file: YAML around JSGF expansions, each with the line it stands on.

use serde_yaml::Value;

use super::error::{Fault, GrammarError};
use super::jsgf::{Expansion, parse_expansion};

/// The largest grammar file that is read, in bytes. Ours has a few thousand; a file a hundred times
/// as large is a mistake, and would only be found out after a long wait.
pub const MAX_FILE: usize = 1 << 20;

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
        let error = |line, rule: Option<&str>, fault| GrammarError {
            file: name.to_owned(),
            line,
            rule: rule.map(str::to_owned),
            fault,
        };
        let yaml = |message: String| error(0, None, Fault::Yaml(message));
        if text.len() > MAX_FILE {
            let what = "the file's size in bytes";
            return Err(error(0, None, Fault::TooLarge { what, limit: MAX_FILE }));
        }
        let root: Value = serde_yaml::from_str(text).map_err(|e| {
            let line = e.location().map_or(0, |l| l.line());
            error(line, None, Fault::Yaml(e.to_string()))
        })?;
        let Value::Mapping(root) = root else {
            return Err(yaml("it has no “language”, “rules” and “intents”".to_owned()));
        };
        let lines = Lines(text.lines().collect());
        for key in root.keys() {
            let known = ["language", "slots", "rules", "intents"];
            if !key.as_str().is_some_and(|k| known.contains(&k)) {
                let key = scalar(key).unwrap_or_default();
                let line = lines.section(&key).map_or(0, |at| at + 1);
                let message = format!("“{key}” isn't one of language, slots, rules, intents");
                return Err(error(line, None, Fault::Yaml(message)));
            }
        }
        let Some(Value::String(language)) = root.get("language") else {
            return Err(yaml("“language” is missing. Begin with, say, language: en-US".to_owned()));
        };
        let slot_line = lines.section("slots").map_or(0, |at| at + 1);
        let slots = match root.get("slots") {
            None | Some(Value::Null) => Vec::new(),
            Some(Value::Sequence(names)) => {
                let named = names.iter().map(|slot| Some((scalar(slot)?, slot_line)));
                named.collect::<Option<_>>().ok_or_else(|| {
                    error(slot_line, None, Fault::Yaml("“slots” is a list of rule names".to_owned()))
                })?
            }
            Some(_) => {
                let message = "“slots” is a list of rule names".to_owned();
                return Err(error(slot_line, None, Fault::Yaml(message)));
            }
        };
        let read = |section: &str| -> Result<Vec<Rule>, GrammarError> {
            let entries = match root.get(section) {
                None | Some(Value::Null) => return Ok(Vec::new()),
                Some(Value::Mapping(entries)) => entries,
                Some(_) => {
                    let line = lines.section(section).map_or(0, |at| at + 1);
                    let message = format!("under “{section}”, write name: what can be said");
                    return Err(error(line, None, Fault::Yaml(message)));
                }
            };
            entries.iter().map(|(key, value)| read_rule(&lines, section, key, value, &error)).collect()
        };
        let (rules, intents) = (read("rules")?, read("intents")?);
        if intents.is_empty() {
            return Err(error(0, None, Fault::NoIntents));
        }
        Ok(Self { name: name.to_owned(), language: language.clone(), slots, rules, intents })
    }
}

fn read_rule(
    lines: &Lines<'_>,
    section: &str,
    key: &Value,
    value: &Value,
    error: &dyn Fn(usize, Option<&str>, Fault) -> GrammarError,
) -> Result<Rule, GrammarError> {
    let name = scalar(key).ok_or_else(|| {
        let message = format!("under “{section}”, a name is a word");
        error(0, None, Fault::Yaml(message))
    })?;
    let at = lines.entry(section, &name);
    let texts = match value {
        Value::Sequence(items) => {
            items.iter().enumerate().map(|(i, v)| (scalar(v), lines.item(at, i))).collect()
        }
        single => vec![(scalar(single), at + 1)],
    };
    let mut expansions = Vec::with_capacity(texts.len());
    for (text, line) in texts {
        let text = text.ok_or_else(|| {
            let message = "an expansion is a text. Put quotes around it if it begins with a bracket";
            error(line, Some(&name), Fault::Yaml(message.to_owned()))
        })?;
        let expansion =
            parse_expansion(&text).map_err(|f| error(line, Some(&name), Fault::Syntax(f)))?;
        expansions.push((expansion, line));
    }
    if expansions.is_empty() {
        let fault = Fault::Syntax(super::error::SyntaxFault::Empty("the list has no line"));
        return Err(error(at + 1, Some(&name), fault));
    }
    Ok(Rule { name, expansions })
}

/// Text of a YAML scalar: `12` and `true` are words here too.
fn scalar(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        Value::Bool(truth) => Some(truth.to_string()),
        _ => None,
    }
}

/// Finds lines again after parsing, since serde_yaml gives values without their place.
struct Lines<'t>(Vec<&'t str>);

impl Lines<'_> {
    /// Index of the line of a top-level key.
    fn section(&self, key: &str) -> Option<usize> {
        self.0.iter().position(|line| is_key(line, key))
    }

    /// Index of the line of a key inside a section; the section's own where it isn't found.
    fn entry(&self, section: &str, key: &str) -> usize {
        let start = self.section(section).unwrap_or(0);
        let inside = self.0.iter().enumerate().skip(start + 1);
        let mut inside = inside.take_while(|(_, l)| l.starts_with([' ', '#']) || l.trim().is_empty());
        inside.find(|(_, line)| is_key(line.trim_start(), key)).map_or(start, |(at, _)| at)
    }

    /// Line number (from 1) of an item of the list that begins behind line index `at`.
    fn item(&self, at: usize, index: usize) -> usize {
        let dashes = self.0.iter().enumerate().skip(at + 1);
        let mut dashes = dashes.filter(|(_, line)| line.trim_start().starts_with('-'));
        dashes.nth(index).map_or(at, |(line, _)| line) + 1
    }
}

fn is_key(line: &str, key: &str) -> bool {
    let line = line.trim_start_matches(['"', '\'']);
    let rest = line.strip_prefix(key).map(|rest| rest.trim_start_matches(['"', '\'']));
    rest.is_some_and(|rest| rest.trim_start().starts_with(':'))
}
