//! JSON text to a tree with places. The general readers keep no places, so this one is our own.

use std::ops::Range;

use super::tree::{Entry, Node, Value};
use crate::diagnostic::Diagnostic;

/// Deepest nesting that is read.
const DEEPEST: usize = 80;

/// Reads JSON; what could be made of it, and what is wrong with the notation (reading stops at the first fault of
/// notation; keys that stand twice are all told).
pub(crate) fn parse(text: &str) -> (Node, Vec<Diagnostic>) {
    let mut reader = Reader {
        text,
        bytes: text.as_bytes(),
        at: 0,
        twice: Vec::new(),
    };
    if text.starts_with('\u{feff}') {
        reader.at = '\u{feff}'.len_utf8();
    }
    let outcome = reader.value(0).and_then(|node| {
        reader.blank();
        if reader.at < text.len() {
            Err(reader.fault("more text after the end of the value"))
        } else {
            Ok(node)
        }
    });
    let mut faults = reader.twice;
    let node = outcome.unwrap_or_else(|fault| {
        faults.push(fault);
        Node {
            at: 0..0,
            value: Value::Table(Vec::new()),
        }
    });
    (node, faults)
}

struct Reader<'a> {
    text: &'a str,
    bytes: &'a [u8],
    at: usize,
    twice: Vec<Diagnostic>,
}

impl Reader<'_> {
    fn fault(&self, what: &str) -> Diagnostic {
        let start = self.at.min(self.text.len());
        let width = self
            .text
            .get(start..)
            .and_then(|rest| rest.chars().next())
            .map_or(0, char::len_utf8);
        fault_at(start..start + width, what)
    }

    fn blank(&mut self) {
        while matches!(self.bytes.get(self.at), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
        }
    }

    fn value(&mut self, depth: usize) -> Result<Node, Diagnostic> {
        self.blank();
        if depth > DEEPEST {
            return Err(self.fault("nested more than 80 deep"));
        }
        let start = self.at;
        let value = match self.bytes.get(self.at) {
            Some(b'{') => self.table(depth)?,
            Some(b'[') => self.list(depth)?,
            Some(b'"') => Value::Text(self.string()?),
            Some(b'-' | b'0'..=b'9') => Value::Number(self.number()?),
            Some(b't') if self.word("true") => Value::Bool(true),
            Some(b'f') if self.word("false") => Value::Bool(false),
            Some(b'n') if self.word("null") => Value::Null,
            Some(_) => return Err(self.fault("a value was expected here")),
            None => return Err(self.fault("the text ends where a value was expected")),
        };
        Ok(Node {
            at: start..self.at,
            value,
        })
    }

    fn word(&mut self, word: &str) -> bool {
        let there = self.bytes[self.at..].starts_with(word.as_bytes());
        if there {
            self.at += word.len();
        }
        there
    }

    fn list(&mut self, depth: usize) -> Result<Value, Diagnostic> {
        self.at += 1;
        let mut items = Vec::new();
        self.blank();
        if self.bytes.get(self.at) == Some(&b']') {
            self.at += 1;
            return Ok(Value::List(items));
        }
        loop {
            items.push(self.value(depth + 1)?);
            self.blank();
            match self.bytes.get(self.at) {
                Some(b',') => self.at += 1,
                Some(b']') => {
                    self.at += 1;
                    return Ok(Value::List(items));
                }
                _ => return Err(self.fault("`,` or `]` was expected here")),
            }
        }
    }

    fn table(&mut self, depth: usize) -> Result<Value, Diagnostic> {
        self.at += 1;
        let mut entries: Vec<Entry> = Vec::new();
        let mut keys = std::collections::BTreeSet::new();
        self.blank();
        if self.bytes.get(self.at) == Some(&b'}') {
            self.at += 1;
            return Ok(Value::Table(entries));
        }
        loop {
            self.blank();
            if self.bytes.get(self.at) != Some(&b'"') {
                return Err(self.fault("a key in double quotes was expected here"));
            }
            let start = self.at;
            let key = self.string()?;
            let key_at = start..self.at;
            self.blank();
            if self.bytes.get(self.at) != Some(&b':') {
                return Err(self.fault("`:` was expected here"));
            }
            self.at += 1;
            let value = self.value(depth + 1)?;
            if keys.insert(key.clone()) {
                entries.push(Entry { key, key_at, value });
            } else {
                self.twice.push(Diagnostic {
                    code: "key-twice",
                    at: key_at,
                    message: format!("the key `{key}` stands twice in one table"),
                    help: Some("keep one of the two".to_owned()),
                });
            }
            self.blank();
            match self.bytes.get(self.at) {
                Some(b',') => self.at += 1,
                Some(b'}') => {
                    self.at += 1;
                    return Ok(Value::Table(entries));
                }
                _ => return Err(self.fault("`,` or `}` was expected here")),
            }
        }
    }

    fn number(&mut self) -> Result<f64, Diagnostic> {
        let start = self.at;
        while matches!(
            self.bytes.get(self.at),
            Some(b'-' | b'+' | b'.' | b'e' | b'E' | b'0'..=b'9')
        ) {
            self.at += 1;
        }
        let digits = &self.text[start..self.at];
        // The grammar of JSON numbers is that of the general reader.
        serde_json::from_str::<f64>(digits).map_err(|_| {
            fault_at(
                start..self.at,
                &format!("`{digits}` is not a number that JSON knows"),
            )
        })
    }

    fn string(&mut self) -> Result<String, Diagnostic> {
        let start = self.at;
        self.at += 1;
        loop {
            match self.bytes.get(self.at) {
                Some(b'"') => {
                    self.at += 1;
                    let quoted = &self.text[start..self.at];
                    return serde_json::from_str(quoted).map_err(|_| {
                        fault_at(
                            start..self.at,
                            "a text with an escape or a control that JSON does not know",
                        )
                    });
                }
                Some(b'\\') => self.at += 2,
                Some(b'\n') | None => {
                    return Err(fault_at(
                        start..start + 1,
                        "a text that is not closed on its line",
                    ));
                }
                Some(_) => self.at += 1,
            }
        }
    }
}

fn fault_at(at: Range<usize>, what: &str) -> Diagnostic {
    Diagnostic {
        code: "not-json",
        at,
        message: format!("cannot be read as JSON: {what}"),
        help: Some(
            "keys and text stand in double quotes, with commas between and none after the last"
                .to_owned(),
        ),
    }
}
