//! Walks a tree against the published schema and tells everything that does not fit.
//!
//! Of the schema's language it knows what the file's types make use of; a test holds it to that. What comes back is a
//! value in which every key stands in its own unit and every number and list within its limits; keys that are not known
//! are left out. When there are no faults the types read it without fail.

mod scalars;
mod shapes;
mod tables;

use std::ops::Range;

use serde_json::{Map, Value as Json, json};

use self::shapes::{example, found, is_choice, one_key, shortened, wanted, words};
use super::tree::{Entry, Node, Value};
use crate::diagnostic::Diagnostic;

pub(crate) use shapes::nearest;

/// Walks `root` against `schema`.
pub(crate) fn walk(root: &Node, schema: &Json) -> (Json, Vec<Diagnostic>) {
    let mut walker = Walker {
        defs: schema.get("$defs"),
        faults: Vec::new(),
    };
    let value = walker.node(
        root,
        schema,
        &Spot {
            key: String::new(),
            at: 0..0,
        },
    );
    (value, walker.faults)
}

struct Walker<'s> {
    defs: Option<&'s Json>,
    faults: Vec<Diagnostic>,
}

/// What a value is called in messages, and where to point when it has no place of its own.
struct Spot {
    key: String,
    at: Range<usize>,
}

impl Spot {
    fn named(&self) -> String {
        if self.key.is_empty() {
            "the scenario".to_owned()
        } else {
            format!("`{}`", self.key)
        }
    }

    /// What stands below this, under a key of its own.
    fn below(&self, key: &str, at: &Range<usize>) -> Spot {
        let key = if self.key.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.key)
        };
        Spot {
            key,
            at: at.clone(),
        }
    }
}

impl<'s> Walker<'s> {
    fn fault(
        &mut self,
        code: &'static str,
        at: Range<usize>,
        message: String,
        help: Option<String>,
    ) {
        self.faults.push(Diagnostic {
            code,
            at,
            message,
            help,
        });
    }

    fn resolve(&self, mut schema: &'s Json) -> &'s Json {
        for _ in 0..8 {
            let to = schema.get("$ref").and_then(Json::as_str);
            let Some(name) = to.and_then(|to| to.strip_prefix("#/$defs/")) else {
                break;
            };
            match self.defs.and_then(|defs| defs.get(name)) {
                Some(found) => schema = found,
                None => break,
            }
        }
        schema
    }

    /// The plain shapes a schema allows: itself, or those of its choices.
    fn shapes(&self, schema: &'s Json, into: &mut Vec<&'s Json>) {
        let schema = self.resolve(schema);
        match schema
            .get("oneOf")
            .or_else(|| schema.get("anyOf"))
            .and_then(Json::as_array)
        {
            Some(choices) => choices.iter().for_each(|choice| self.shapes(choice, into)),
            None => into.push(schema),
        }
    }

    fn node(&mut self, node: &Node, schema: &'s Json, spot: &Spot) -> Json {
        let mut shapes = Vec::new();
        self.shapes(schema, &mut shapes);
        let kinds: &[&str] = match &node.value {
            Value::Null => &[],
            Value::Bool(_) => &["boolean"],
            Value::Number(_) => &["number", "integer"],
            Value::Text(_) => &["string"],
            Value::List(_) => &["array"],
            Value::Table(_) => &["object"],
        };
        let is_kind = |shape: &Json| {
            shape
                .get("type")
                .and_then(Json::as_str)
                .is_some_and(|kind| kinds.contains(&kind))
        };
        let of_kind: Vec<&'s Json> = shapes
            .iter()
            .copied()
            .filter(|shape| is_kind(shape))
            .collect();
        let Some(first) = of_kind.first().copied() else {
            self.wrong_type(node, &shapes, spot);
            return Json::Null;
        };
        match &node.value {
            Value::Null => Json::Null,
            Value::Bool(yes) => json!(yes),
            Value::Number(number) => self.number(*number, node, first, spot),
            Value::Text(text) => self.text(text, node, &of_kind, &shapes, spot),
            Value::List(items) => self.list(items, node, first, spot),
            Value::Table(entries) => {
                let choices: Vec<(&'s str, &'s Json)> =
                    of_kind.iter().filter_map(|shape| one_key(shape)).collect();
                if choices.len() == of_kind.len()
                    && (shapes.len() > 1 || is_choice(self.resolve(schema)))
                {
                    self.choice(entries, &choices, &shapes, spot)
                } else {
                    let shape = of_kind
                        .iter()
                        .copied()
                        .find(|shape| one_key(shape).is_none());
                    self.table(entries, shape.unwrap_or(first), spot)
                }
            }
        }
    }

    fn wrong_type(&mut self, node: &Node, shapes: &[&'s Json], spot: &Spot) {
        let at = if matches!(node.value, Value::Table(_)) {
            spot.at.clone()
        } else {
            node.at.clone()
        };
        let message = format!(
            "{} must be {}, found {}",
            spot.named(),
            wanted(shapes),
            found(node)
        );
        let help = match &node.value {
            Value::Text(text)
                if shapes
                    .iter()
                    .any(|shape| one_key(shape).is_some_and(|(key, _)| key == text)) =>
            {
                Some(format!(
                    "`{text}` needs its own values: `{text} = {{ .. }}`"
                ))
            }
            _ => example(shapes),
        };
        self.fault("wrong-type", at, message, help);
    }

    fn choice(
        &mut self,
        entries: &[Entry],
        choices: &[(&'s str, &'s Json)],
        shapes: &[&'s Json],
        spot: &Spot,
    ) -> Json {
        let mut chosen = Map::new();
        for (index, entry) in entries.iter().enumerate() {
            match choices.iter().find(|(key, _)| *key == entry.key) {
                Some((key, of)) if index == 0 => {
                    let value = self.node(&entry.value, of, &spot.below(key, &entry.key_at));
                    chosen.insert((*key).to_owned(), value);
                }
                Some(_) => {
                    let message = format!(
                        "{} must be one choice, found `{}` besides `{}`",
                        spot.named(),
                        entry.key,
                        entries[0].key
                    );
                    self.fault(
                        "two-choices",
                        entry.key_at.clone(),
                        message,
                        Some("keep one of them".to_owned()),
                    );
                }
                None => self.unknown_choice(entry, choices, shapes, spot),
            }
        }
        if entries.is_empty() {
            let message = format!(
                "{} must be {}, found an empty table",
                spot.named(),
                wanted(shapes)
            );
            self.fault("unknown-choice", spot.at.clone(), message, example(shapes));
        }
        Json::Object(chosen)
    }

    fn unknown_choice(
        &mut self,
        entry: &Entry,
        choices: &[(&'s str, &'s Json)],
        shapes: &[&'s Json],
        spot: &Spot,
    ) {
        let texts: Vec<&str> = shapes.iter().flat_map(|shape| words(shape)).collect();
        let message = format!(
            "{} must be {}, found `{}`",
            spot.named(),
            wanted(shapes),
            shortened(&entry.key)
        );
        let help = if texts.contains(&entry.key.as_str()) {
            Some(format!("write it as text: \"{}\"", entry.key))
        } else {
            let known = choices.iter().map(|(key, _)| *key).chain(texts);
            nearest(&entry.key, known).map(|near| format!("did you mean `{near}`?"))
        };
        self.fault("unknown-choice", entry.key_at.clone(), message, help);
    }
}
