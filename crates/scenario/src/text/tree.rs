//! One tree for either notation, in which everything knows its place in the text.

use std::ops::Range;

use super::units;

/// A value and its place.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) at: Range<usize>,
    pub(crate) value: Value,
}

/// A value as written.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    Null,
    Bool(bool),
    /// A number, and whether it was written without a fraction.
    Number(f64),
    Text(String),
    List(Vec<Node>),
    Table(Vec<Entry>),
}

/// A key with its value.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) key: String,
    pub(crate) key_at: Range<usize>,
    pub(crate) value: Node,
}

impl Value {
    /// What it is, for a message.
    pub(crate) fn kind(&self) -> &'static str {
        match self {
            Value::Null => "null",
            Value::Bool(_) => "true or false",
            Value::Number(_) => "a number",
            Value::Text(_) => "text",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}

impl Node {
    /// The entry of a table with this key, or with one that says the same in other units.
    pub(crate) fn entry(&self, key: &str) -> Option<&Entry> {
        let Value::Table(entries) = &self.value else {
            return None;
        };
        entries.iter().find(|entry| entry.key == key).or_else(|| {
            entries
                .iter()
                .find(|entry| units::others(key).any(|other| other == entry.key))
        })
    }

    /// The place of what a path like `belt.soiled.length_m` or `crew.2.posts.0` names; of the nearest thing above
    /// it that is there. A table is shown by its key.
    pub(crate) fn place(&self, path: &str) -> Range<usize> {
        self.find(path).0
    }

    /// The key as the user wrote it at the end of a path (it may be in other units).
    pub(crate) fn key_written(&self, path: &str) -> Option<&str> {
        self.find(path).1
    }

    fn find(&self, path: &str) -> (Range<usize>, Option<&str>) {
        let mut here = self;
        let mut shown = self.at.start..self.at.start;
        let mut key = None;
        for step in path.split('.').filter(|step| !step.is_empty()) {
            key = None;
            match &here.value {
                Value::Table(_) => match here.entry(step) {
                    Some(entry) => {
                        shown = match entry.value.value {
                            Value::Table(_) => entry.key_at.clone(),
                            _ => entry.value.at.clone(),
                        };
                        key = Some(entry.key.as_str());
                        here = &entry.value;
                    }
                    None => return (shown, None),
                },
                Value::List(items) => match step
                    .parse::<usize>()
                    .ok()
                    .and_then(|index| items.get(index))
                {
                    Some(item) => {
                        shown = item.at.clone();
                        here = item;
                    }
                    None => return (shown, None),
                },
                _ => return (shown, None),
            }
        }
        (shown, key)
    }
}
