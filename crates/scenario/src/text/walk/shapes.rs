//! The shapes a schema allows, and how they are put into words.

use serde_json::Value as Json;

use crate::text::tree::{Node, Value};

/// The one key of a choice written as a one-key table, and what stands behind it.
pub(super) fn one_key(shape: &Json) -> Option<(&str, &Json)> {
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

pub(super) fn is_choice(schema: &Json) -> bool {
    schema.get("oneOf").is_some() || schema.get("anyOf").is_some()
}

/// The fixed words a text shape allows; none: any text.
pub(super) fn words(shape: &Json) -> Vec<&str> {
    let one = shape.get("const").and_then(Json::as_str);
    let several = shape.get("enum").and_then(Json::as_array);
    one.into_iter()
        .chain(several.into_iter().flatten().filter_map(Json::as_str))
        .collect()
}

/// What is allowed, in words.
pub(super) fn wanted(shapes: &[&Json]) -> String {
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

pub(super) fn example(shapes: &[&Json]) -> Option<String> {
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

pub(super) fn found(node: &Node) -> String {
    match &node.value {
        Value::Text(text) => format!("\"{}\"", shortened(text)),
        Value::Number(number) => format!("{number}"),
        other => other.kind().to_owned(),
    }
}

/// A number as people write it: no exponent where it can be helped.
pub(super) fn plain(number: f64) -> String {
    format!("{number}")
}

pub(super) fn shortened(text: &str) -> String {
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

pub(super) fn listed(items: impl Iterator<Item = String>, last: &str) -> String {
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
