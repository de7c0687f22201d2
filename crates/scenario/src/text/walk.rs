//! Walks a tree against the published schema and tells everything that does not fit.
//!
//! Of the schema's language it knows what the file's types make use of; a test holds it to that. What fits comes back
//! as a value in which every key stands in its own unit, which the types can then read without fail.

use std::collections::BTreeMap;

use serde_json::{Map, Value as Json, json};

use super::schema::is_name;
use super::tree::{Entry, Node, Value};
use super::units;
use crate::diagnostic::Diagnostic;

/// Walks `root` against `schema`; the value is whole only when there are no faults.
pub(crate) fn walk(root: &Node, schema: &Json) -> (Json, Vec<Diagnostic>) {
    let mut walker = Walker {
        defs: schema.get("$defs"),
        faults: Vec::new(),
    };
    let value = walker.node(root, schema, &Spot { key: "", at: 0..0 });
    (value, walker.faults)
}

struct Walker<'s> {
    defs: Option<&'s Json>,
    faults: Vec<Diagnostic>,
}

/// What a value is called in messages, and where to point when it has no place of its own.
struct Spot<'a> {
    key: &'a str,
    at: std::ops::Range<usize>,
}

impl Spot<'_> {
    fn named(&self) -> String {
        if self.key.is_empty() {
            "the scenario".to_owned()
        } else {
            format!("`{}`", self.key)
        }
    }
}

impl<'s> Walker<'s> {
    fn fault(
        &mut self,
        code: &'static str,
        at: std::ops::Range<usize>,
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
            let Some(name) = schema
                .get("$ref")
                .and_then(Json::as_str)
                .and_then(|to| to.strip_prefix("#/$defs/"))
            else {
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

    fn node(&mut self, node: &Node, schema: &'s Json, spot: &Spot<'_>) -> Json {
        let mut shapes = Vec::new();
        self.shapes(schema, &mut shapes);
        let fits = |kinds: &[&str]| -> Vec<&'s Json> {
            shapes
                .iter()
                .copied()
                .filter(|shape| {
                    shape
                        .get("type")
                        .and_then(Json::as_str)
                        .is_some_and(|kind| kinds.contains(&kind))
                })
                .collect()
        };
        let of_kind = match &node.value {
            Value::Null => Vec::new(),
            Value::Bool(_) => fits(&["boolean"]),
            Value::Number(_) => fits(&["number", "integer"]),
            Value::Text(_) => fits(&["string"]),
            Value::List(_) => fits(&["array"]),
            Value::Table(_) => fits(&["object"]),
        };
        let at = if matches!(node.value, Value::Table(_)) {
            spot.at.clone()
        } else {
            node.at.clone()
        };
        let Some(first) = of_kind.first().copied() else {
            let wanted = wanted(&shapes);
            let message = format!("{} must be {wanted}, found {}", spot.named(), found(node));
            let mut help = example(&shapes);
            if let Value::Text(text) = &node.value
                && shapes
                    .iter()
                    .any(|shape| one_key(shape).is_some_and(|(key, _)| key == text))
            {
                help = Some(format!(
                    "`{text}` needs its own values: `{text} = {{ .. }}`"
                ));
            }
            self.fault("wrong-type", at, message, help);
            return Json::Null;
        };
        match &node.value {
            Value::Null => Json::Null,
            Value::Bool(yes) => json!(yes),
            Value::Number(number) => self.number(*number, node, first, spot),
            Value::Text(text) => self.text(text, node, &of_kind, &shapes, spot),
            Value::List(items) => self.list(items, node, first, spot),
            Value::Table(entries) => {
                let choices: Vec<(&str, &'s Json)> =
                    of_kind.iter().filter_map(|shape| one_key(shape)).collect();
                if choices.len() == of_kind.len()
                    && (shapes.len() > 1 || schema_is_choice(self.resolve(schema)))
                {
                    self.choice(entries, &choices, &shapes, spot)
                } else {
                    let shape = of_kind
                        .iter()
                        .copied()
                        .find(|shape| one_key(shape).is_none())
                        .unwrap_or(first);
                    self.table(entries, shape, spot)
                }
            }
        }
    }

    fn number(&mut self, number: f64, node: &Node, schema: &'s Json, spot: &Spot<'_>) -> Json {
        let whole = schema.get("type").and_then(Json::as_str) == Some("integer");
        let bound = |name: &str| schema.get(name).and_then(Json::as_f64);
        let (least, above, most) = (
            bound("minimum"),
            bound("exclusiveMinimum"),
            bound("maximum"),
        );
        let named = spot.named();
        let complaint = if !number.is_finite() {
            Some((
                "not-finite",
                format!("{named} must be a number with an end, found {number}"),
                None,
            ))
        } else if whole && number.fract() != 0.0 {
            Some((
                "not-whole",
                format!("{named} must be a whole number, found {number}"),
                Some(number.round()),
            ))
        } else if let Some(least) = least.filter(|least| number < *least) {
            Some((
                "too-small",
                format!("{named} must be at least {}, found {number}", plain(least)),
                Some(least),
            ))
        } else if let Some(above) = above.filter(|above| number <= *above) {
            Some((
                "too-small",
                format!("{named} must be more than {}, found {number}", plain(above)),
                None,
            ))
        } else if let Some(most) = most.filter(|most| number > *most) {
            Some((
                "too-large",
                format!("{named} must be at most {}, found {number}", plain(most)),
                Some(most),
            ))
        } else {
            None
        };
        if let Some((code, message, instead)) = complaint {
            let help = match (instead, code) {
                (Some(instead), _) if !spot.key.contains('[') => Some(format!(
                    "write for example `{} = {}`",
                    spot.key,
                    plain(instead)
                )),
                (None, "too-small") => Some("leave the key out if there is none".to_owned()),
                _ => None,
            };
            self.fault(code, node.at.clone(), message, help);
        }
        if whole {
            json!(number as i64)
        } else {
            json!(number)
        }
    }

    fn text(
        &mut self,
        text: &str,
        node: &Node,
        of_kind: &[&'s Json],
        shapes: &[&'s Json],
        spot: &Spot<'_>,
    ) -> Json {
        let words: Vec<&str> = of_kind.iter().flat_map(|shape| words(shape)).collect();
        if words.is_empty() {
            let length = text.chars().count();
            let bound = |name: &str| {
                of_kind[0]
                    .get(name)
                    .and_then(Json::as_u64)
                    .map(|bound| bound as usize)
            };
            let named = spot.named();
            if let Some(least) = bound("minLength").filter(|least| length < *least) {
                let message = format!("{named} must have at least {least} letters, found {length}");
                self.fault("too-small", node.at.clone(), message, None);
            }
            if let Some(most) = bound("maxLength").filter(|most| length > *most) {
                let message = format!("{named} must have at most {most} letters, found {length}");
                self.fault("too-large", node.at.clone(), message, None);
            }
        } else if !words.contains(&text) {
            let message = format!(
                "{} must be {}, found \"{}\"",
                spot.named(),
                wanted(shapes),
                shortened(text)
            );
            let mut help = nearest(text, words.iter().copied())
                .map(|word| format!("did you mean \"{word}\"?"));
            if shapes
                .iter()
                .any(|shape| one_key(shape).is_some_and(|(key, _)| key == text))
            {
                help = Some(format!(
                    "`{text}` needs its own values: `{text} = {{ .. }}`"
                ));
            }
            self.fault("unknown-choice", node.at.clone(), message, help);
        }
        json!(text)
    }

    fn list(&mut self, items: &[Node], node: &Node, schema: &'s Json, spot: &Spot<'_>) -> Json {
        let bound = |name: &str| {
            schema
                .get(name)
                .and_then(Json::as_u64)
                .map(|bound| bound as usize)
        };
        let at = if node.at.is_empty() {
            spot.at.clone()
        } else {
            node.at.clone()
        };
        if let Some(least) = bound("minItems").filter(|least| items.len() < *least) {
            let message = format!(
                "{} must have at least {least} entries, found {}",
                spot.named(),
                items.len()
            );
            self.fault("too-small", at, message, None);
        } else if let Some(most) = bound("maxItems").filter(|most| items.len() > *most) {
            let message = format!(
                "{} must have at most {most} entries, found {}",
                spot.named(),
                items.len()
            );
            self.fault("too-large", at, message, None);
        }
        let Some(of) = schema.get("items") else {
            return Json::Array(Vec::new());
        };
        let each = items.iter().enumerate().map(|(index, item)| {
            let key = format!("{}[{}]", spot.key, index + 1);
            self.node(
                item,
                of,
                &Spot {
                    key: &key,
                    at: item.at.clone(),
                },
            )
        });
        Json::Array(each.collect())
    }

    fn choice(
        &mut self,
        entries: &[Entry],
        choices: &[(&'s str, &'s Json)],
        shapes: &[&'s Json],
        spot: &Spot<'_>,
    ) -> Json {
        let mut chosen = Map::new();
        for (index, entry) in entries.iter().enumerate() {
            match choices.iter().find(|(key, _)| *key == entry.key) {
                Some((key, of)) if index == 0 => {
                    let value = self.node(
                        &entry.value,
                        of,
                        &Spot {
                            key,
                            at: entry.key_at.clone(),
                        },
                    );
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
                None => {
                    let words = shapes.iter().flat_map(|shape| words(shape));
                    let keys = choices.iter().map(|(key, _)| *key);
                    let message = format!(
                        "{} must be {}, found `{}`",
                        spot.named(),
                        wanted(shapes),
                        shortened(&entry.key)
                    );
                    let help = if words.clone().any(|word| word == entry.key) {
                        Some(format!("write it as text: \"{}\"", entry.key))
                    } else {
                        nearest(&entry.key, keys.chain(words))
                            .map(|near| format!("did you mean `{near}`?"))
                    };
                    self.fault("unknown-choice", entry.key_at.clone(), message, help);
                }
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

    fn table(&mut self, entries: &[Entry], schema: &'s Json, spot: &Spot<'_>) -> Json {
        match (
            schema.get("properties").and_then(Json::as_object),
            schema.get("additionalProperties"),
        ) {
            (Some(properties), _) => self.record(entries, properties, schema, spot),
            (None, Some(of)) if of.is_object() => self.keyed(entries, of, schema, spot),
            _ => Json::Object(Map::new()),
        }
    }

    /// A table with known keys.
    fn record(
        &mut self,
        entries: &[Entry],
        properties: &'s Map<String, Json>,
        schema: &'s Json,
        spot: &Spot<'_>,
    ) -> Json {
        let mut out = Map::new();
        let mut given: BTreeMap<&str, &Entry> = BTreeMap::new();
        for entry in entries {
            let Some(property) = properties.get(&entry.key) else {
                let message = format!("{} has no key `{}`", spot.named(), shortened(&entry.key));
                let help = match nearest(&entry.key, properties.keys().map(String::as_str)) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!(
                        "its keys are {}",
                        listed(
                            properties
                                .iter()
                                .filter(|(_, of)| of.get("x-same-as").is_none())
                                .map(|(key, _)| format!("`{key}`")),
                            "and"
                        )
                    ),
                };
                self.fault("unknown-key", entry.key_at.clone(), message, Some(help));
                continue;
            };
            let kept = property
                .get("x-same-as")
                .and_then(Json::as_str)
                .unwrap_or(&entry.key);
            let mut value = self.node(
                &entry.value,
                property,
                &Spot {
                    key: &entry.key,
                    at: entry.key_at.clone(),
                },
            );
            if let Some(before) = given.insert(kept, entry) {
                let message = format!(
                    "`{}` says the same thing as `{}`, which is given too",
                    entry.key, before.key
                );
                self.fault(
                    "two-units",
                    entry.key_at.clone(),
                    message,
                    Some("keep the one in your own units".to_owned()),
                );
            }
            if kept != entry.key {
                units::convert_amount(kept, &entry.key, &mut value);
            }
            out.insert(kept.to_owned(), value);
        }
        let needed = schema
            .get("x-needs")
            .or_else(|| schema.get("required"))
            .and_then(Json::as_array);
        for key in needed.into_iter().flatten().filter_map(Json::as_str) {
            if !given.contains_key(key) {
                let about = properties
                    .get(key)
                    .and_then(|of| of.get("description"))
                    .and_then(Json::as_str)
                    .unwrap_or("");
                let about = about
                    .split(['.', ':', ';'])
                    .next()
                    .unwrap_or("")
                    .trim()
                    .replace('\n', " ");
                let or = units::others(key)
                    .next()
                    .map_or(String::new(), |other| format!(" (or `{other}`)"));
                let help = format!(
                    "add `{key}`{or}: {}{}",
                    about
                        .chars()
                        .take(1)
                        .flat_map(char::to_lowercase)
                        .collect::<String>(),
                    about.chars().skip(1).collect::<String>()
                );
                self.fault(
                    "missing-key",
                    spot.at.clone(),
                    format!("{} needs the key `{key}`", spot.named()),
                    Some(help),
                );
            }
        }
        Json::Object(out)
    }

    /// A table whose keys are names of the user's own.
    fn keyed(
        &mut self,
        entries: &[Entry],
        of: &'s Json,
        schema: &'s Json,
        spot: &Spot<'_>,
    ) -> Json {
        let bound = |name: &str| {
            schema
                .get(name)
                .and_then(Json::as_u64)
                .map(|bound| bound as usize)
        };
        if let Some(least) = bound("minProperties").filter(|least| entries.len() < *least) {
            let message = format!(
                "{} must have at least {least} entry, found {}",
                spot.named(),
                entries.len()
            );
            self.fault("too-small", spot.at.clone(), message, None);
        } else if let Some(most) = bound("maxProperties").filter(|most| entries.len() > *most) {
            let message = format!(
                "{} must have at most {most} entries, found {}",
                spot.named(),
                entries.len()
            );
            self.fault("too-large", spot.at.clone(), message, None);
        }
        let mut out = Map::new();
        for entry in entries {
            if schema.get("propertyNames").is_some() && !is_name(&entry.key) {
                let message = format!(
                    "a name is a letter, then letters, digits, blanks, `_` or `-`, 40 at most, found `{}`",
                    shortened(&entry.key)
                );
                self.fault(
                    "not-a-name",
                    entry.key_at.clone(),
                    message,
                    Some("choose a short plain name".to_owned()),
                );
            }
            let key = if spot.key.is_empty() {
                entry.key.clone()
            } else {
                format!("{}.{}", spot.key, entry.key)
            };
            let value = self.node(
                &entry.value,
                of,
                &Spot {
                    key: &key,
                    at: entry.key_at.clone(),
                },
            );
            out.insert(entry.key.clone(), value);
        }
        Json::Object(out)
    }
}

/// The one key of a choice written as a one-key table, and what stands behind it.
fn one_key(shape: &Json) -> Option<(&str, &Json)> {
    let properties = shape.get("properties")?.as_object()?;
    let needs_it = shape
        .get("required")
        .and_then(Json::as_array)
        .is_some_and(|keys| keys.len() == 1);
    if properties.len() == 1 && needs_it && shape.get("x-needs").is_none() {
        properties.iter().next().map(|(key, of)| (key.as_str(), of))
    } else {
        None
    }
}

fn schema_is_choice(schema: &Json) -> bool {
    schema.get("oneOf").is_some() || schema.get("anyOf").is_some()
}

/// The fixed words a text shape allows; none: any text.
fn words(shape: &Json) -> Vec<&str> {
    let one = shape.get("const").and_then(Json::as_str);
    let several = shape.get("enum").and_then(Json::as_array);
    one.into_iter()
        .chain(several.into_iter().flatten().filter_map(Json::as_str))
        .collect()
}

/// What is allowed, in words.
fn wanted(shapes: &[&Json]) -> String {
    let mut ways: Vec<String> = Vec::new();
    for shape in shapes {
        let words = words(shape);
        if !words.is_empty() {
            ways.extend(words.iter().map(|word| format!("\"{word}\"")));
        } else if let Some((key, _)) = one_key(shape).filter(|_| shapes.len() > 1) {
            ways.push(format!("{{ {key} = .. }}"));
        } else {
            let kind = match shape.get("type").and_then(Json::as_str) {
                Some("number") => "a number",
                Some("integer") => "a whole number",
                Some("string") => "text",
                Some("boolean") => "true or false",
                Some("array") => "a list",
                _ => "a table",
            };
            ways.push(kind.to_owned());
        }
    }
    ways.dedup();
    listed(ways.into_iter(), "or")
}

fn example(shapes: &[&Json]) -> Option<String> {
    let kind = shapes.first()?.get("type").and_then(Json::as_str)?;
    let help = match kind {
        "number" | "integer" => "write a plain number without quotes or unit",
        "string" => "put it in quotes",
        "boolean" => "write true or false without quotes",
        "array" => "write a list, for example `[1, 2]`",
        _ => return None,
    };
    Some(help.to_owned())
}

fn found(node: &Node) -> String {
    match &node.value {
        Value::Text(text) => format!("\"{}\"", shortened(text)),
        Value::Number(number) => format!("{number}"),
        other => other.kind().to_owned(),
    }
}

/// A number as people write it: no exponent where it can be helped.
fn plain(number: f64) -> String {
    format!("{number}")
}

fn shortened(text: &str) -> String {
    let clean: String = text
        .chars()
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .take(60)
        .collect();
    if text.chars().count() > 60 {
        format!("{clean}...")
    } else {
        clean
    }
}

fn listed(items: impl Iterator<Item = String>, last: &str) -> String {
    let items: Vec<String> = items.collect();
    match items.split_last() {
        Some((only, [])) => only.clone(),
        Some((end, rest)) => format!("{} {last} {end}", rest.join(", ")),
        None => String::new(),
    }
}

/// The nearest of some known words, if one is near enough to be meant.
pub(crate) fn nearest<'a>(text: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    if text.len() > 200 {
        return None;
    }
    known
        .map(|word| (word, strsim::damerau_levenshtein(text, word)))
        .filter(|(word, distance)| *distance <= 1.max(word.len().max(text.len()) / 3))
        .min_by_key(|(_, distance)| *distance)
        .map(|(word, _)| word)
}
