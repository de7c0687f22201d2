//! What the schema says may stand at a place.

use serde_json::Value as Json;

use crate::text::schema::SCHEMA;
use crate::text::tree::{Entry, Node, Value};

/// The plain shapes a schema allows: itself, or those of its choices.
pub(super) fn spread(schema: &'static Json) -> Vec<&'static Json> {
    let mut schema = schema;
    while let Some(name) = schema
        .get("$ref")
        .and_then(Json::as_str)
        .and_then(|to| to.strip_prefix("#/$defs/"))
    {
        schema = &SCHEMA["$defs"][name];
    }
    let choices = schema.get("oneOf").or_else(|| schema.get("anyOf"));
    match choices.and_then(Json::as_array) {
        Some(choices) => choices.iter().flat_map(spread).collect(),
        None => vec![schema],
    }
}

/// Shapes of the entries of a list, when a list may stand here.
pub(super) fn items(shapes: &[&'static Json]) -> Vec<&'static Json> {
    let of = shapes.iter().filter_map(|shape| shape.get("items"));
    of.flat_map(spread).collect()
}

/// Shapes of what stands under names of the user's own.
pub(super) fn named(shapes: &[&'static Json]) -> Vec<&'static Json> {
    let of = shapes
        .iter()
        .filter(|shape| shape.get("properties").is_none());
    of.filter_map(|shape| shape.get("additionalProperties"))
        .filter(|of| of.is_object())
        .flat_map(spread)
        .collect()
}

/// The keys a shape knows, units and all.
pub(super) fn keys(shape: &'static Json) -> impl Iterator<Item = &'static str> {
    let properties = shape.get("properties").and_then(Json::as_object);
    properties
        .into_iter()
        .flat_map(|properties| properties.keys().map(String::as_str))
}

/// What the schema says of a key of a shape.
pub(super) fn property(shape: &'static Json, key: &str) -> Option<&'static Json> {
    shape.get("properties")?.get(key)
}

/// The key under which one and the same thing is kept, whatever its unit.
pub(super) fn kept<'k>(shape: &'static Json, key: &'k str) -> &'k str
where
    'static: 'k,
{
    property(shape, key)
        .and_then(|of| of.get("x-same-as"))
        .and_then(Json::as_str)
        .unwrap_or(key)
}

/// Whether all that stands in a table is known to a shape.
pub(super) fn fits(shape: &'static Json, entries: &[Entry]) -> bool {
    entries
        .iter()
        .all(|entry| property(shape, &entry.key).is_some())
}

/// Whether a shape is of this type.
pub(super) fn is(shape: &Json, kind: &str) -> bool {
    shape.get("type").and_then(Json::as_str) == Some(kind)
}

/// The text under `name` in a table.
pub(super) fn name_of(node: &Node) -> Option<&str> {
    let Value::Table(entries) = &node.value else {
        return None;
    };
    entries.iter().find_map(|entry| match &entry.value.value {
        Value::Text(name) if entry.key == "name" => Some(name.as_str()),
        _ => None,
    })
}

/// A name as it is compared: without regard to capitals, and blanks and hyphens as `_`.
pub(super) fn folded(name: &str) -> String {
    let letters = name.chars().map(|letter| match letter {
        ' ' | '-' => '_',
        letter => letter.to_ascii_lowercase(),
    });
    letters.collect()
}
