//! TOML text to a tree with places.

use ::toml::de::{DeTable, DeValue};

use super::tree::{Entry, Node, Value};
use crate::diagnostic::Diagnostic;

/// Reads TOML; what could be made of it, and what is wrong with the notation.
pub(crate) fn parse(text: &str) -> (Node, Vec<Diagnostic>) {
    let (root, errors) = DeTable::parse_recoverable(text);
    let faults = errors
        .into_iter()
        .map(|error| {
            let at = error.span().unwrap_or(0..0);
            let said = error.message().to_lowercase();
            if said.contains("duplicate key") {
                let key = text.get(at.clone()).unwrap_or("").trim().to_owned();
                Diagnostic {
                    code: "key-twice",
                    at,
                    message: format!("the key `{key}` stands twice in one table"),
                    help: Some("keep one of the two".to_owned()),
                }
            } else {
                Diagnostic {
                    code: "not-toml",
                    at,
                    message: format!(
                        "cannot be read as TOML: {}",
                        said.replace("invalid ", "unreadable ")
                    ),
                    help: Some(
                        "text stands in quotes, a list in [ ], a table in { } or under a [heading]"
                            .to_owned(),
                    ),
                }
            }
        })
        .collect();
    let at = root.span();
    (
        Node {
            at,
            value: table(root.into_inner(), text),
        },
        faults,
    )
}

fn table(map: DeTable<'_>, text: &str) -> Value {
    let mut entries: Vec<Entry> = map
        .into_iter()
        .map(|(key, value)| {
            let key_at = key.span();
            let at = value.span();
            Entry {
                key: key.into_inner().into_owned(),
                key_at,
                value: node(value.into_inner(), at, text),
            }
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_at.start);
    Value::Table(entries)
}

fn node(value: DeValue<'_>, at: std::ops::Range<usize>, text: &str) -> Node {
    let value = match value {
        DeValue::String(text) => Value::Text(text.into_owned()),
        DeValue::Boolean(yes) => Value::Bool(yes),
        DeValue::Integer(whole) => Value::Number(integer(whole.as_str(), whole.radix())),
        DeValue::Float(number) => Value::Number(float(number.as_str())),
        // A bare clock time such as 11:45:00 is read as if it stood in quotes.
        DeValue::Datetime(_) => Value::Text(text.get(at.clone()).unwrap_or("").trim().to_owned()),
        DeValue::Array(items) => Value::List(
            items
                .into_iter()
                .map(|item| {
                    let at = item.span();
                    node(item.into_inner(), at, text)
                })
                .collect(),
        ),
        DeValue::Table(map) => table(map, text),
    };
    Node { at, value }
}

fn integer(digits: &str, radix: u32) -> f64 {
    match i128::from_str_radix(digits, radix) {
        Ok(whole) => whole as f64,
        Err(_) if radix == 10 => float(digits),
        Err(_) => f64::INFINITY,
    }
}

fn float(digits: &str) -> f64 {
    digits.replace('_', "").parse().unwrap_or(f64::NAN)
}
