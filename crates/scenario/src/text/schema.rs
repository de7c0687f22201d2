//! The published JSON Schema (draft 2020-12), generated from the types of the file.

use std::sync::LazyLock;

use schemars::generate::SchemaSettings;
use serde_json::{Map, Value, json};

use super::units;
use crate::file::ScenarioFile;

/// Pattern of the name of an element.
const NAME: &str = "^[A-Za-z][A-Za-z0-9 _-]{0,39}$";
/// Most elements of one kind.
const MOST_OF_A_KIND: usize = 60;

/// The schema as published, as a tree.
pub(crate) static SCHEMA: LazyLock<Value> = LazyLock::new(|| {
    let mut root = SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<ScenarioFile>()
        .to_value();
    finish(&mut root);
    root
});

/// The published JSON Schema of a scenario, for editors that complete and check.
pub fn schema() -> String {
    let mut text = serde_json::to_string_pretty(&*SCHEMA).unwrap_or_default();
    text.push('\n');
    text
}

/// Whether `name` may be the name of an element: what [`NAME`] says.
pub(crate) fn is_name(name: &str) -> bool {
    let mut letters = name.chars();
    name.len() <= 40
        && letters
            .next()
            .is_some_and(|first| first.is_ascii_alphabetic())
        && letters.all(|letter| letter.is_ascii_alphanumeric() || " _-".contains(letter))
}

/// Takes out nulls, adds the other units of each key, and limits keyed tables.
fn finish(schema: &mut Value) {
    match schema {
        Value::Object(entries) => {
            drop_null(entries);
            for noise in ["default", "format"] {
                // Formats such as `double` say nothing that type and range do not; a default of an absent table neither.
                if entries
                    .get(noise)
                    .is_some_and(|value| noise == "default" || value.is_string())
                {
                    entries.shift_remove(noise);
                }
            }
            let is_keyed = entries
                .get("additionalProperties")
                .is_some_and(Value::is_object);
            if is_keyed {
                entries.insert("propertyNames".to_owned(), json!({ "pattern": NAME }));
                entries.insert("maxProperties".to_owned(), json!(MOST_OF_A_KIND));
            }
            add_units(entries);
            entries.iter_mut().for_each(|(_, value)| finish(value));
        }
        Value::Array(items) => items.iter_mut().for_each(finish),
        _ => {}
    }
}

/// A missing key is simply not written: `null` is no value.
fn drop_null(entries: &mut Map<String, Value>) {
    if let Some(Value::Array(types)) = entries.get_mut("type") {
        types.retain(|kind| kind != "null");
        if let [only] = types.as_slice() {
            let only = only.clone();
            entries.insert("type".to_owned(), only);
        }
    }
    if let Some(Value::Array(choices)) = entries.get_mut("anyOf") {
        choices.retain(|choice| choice.get("type").is_none_or(|kind| kind != "null"));
        if let [only] = choices.as_slice() {
            let only = only.clone();
            entries.shift_remove("anyOf");
            if let Value::Object(only) = only {
                entries.extend(only);
            }
        }
    }
}

/// Adds for each key with a unit the keys in its other units, of which only one may stand in a table.
fn add_units(entries: &mut Map<String, Value>) {
    let Some(Value::Object(properties)) = entries.get("properties") else {
        return;
    };
    let mut all = Map::new();
    let mut only_one = Vec::new();
    let required: Vec<String> = entries
        .get("required")
        .and_then(Value::as_array)
        .map(|keys| {
            keys.iter()
                .filter_map(|key| key.as_str().map(str::to_owned))
                .collect()
        })
        .unwrap_or_default();
    let mut plain_required = Vec::new();
    for (key, property) in properties {
        all.insert(key.clone(), property.clone());
        let others: Vec<String> = units::others(key).collect();
        let is_required = required.contains(key);
        if others.is_empty() {
            if is_required {
                plain_required.push(key.clone());
            }
            continue;
        }
        for other in &others {
            let mut converted = property.clone();
            scale_bounds(key, other, &mut converted);
            if let Value::Object(converted) = &mut converted {
                converted.insert("x-same-as".to_owned(), json!(key));
            }
            all.insert(other.clone(), converted);
        }
        let keys: Vec<&String> = std::iter::once(key).chain(&others).collect();
        let mut ways: Vec<Value> = keys
            .iter()
            .map(|key| json!({ "required": [key] }))
            .collect();
        if !is_required {
            let none: Vec<Value> = keys
                .iter()
                .map(|key| json!({ "required": [key] }))
                .collect();
            ways.push(json!({ "not": { "anyOf": none } }));
        }
        only_one.push(json!({ "oneOf": ways }));
    }
    if only_one.is_empty() {
        return;
    }
    entries.insert("properties".to_owned(), Value::Object(all));
    entries.insert("required".to_owned(), json!(plain_required));
    entries.insert("x-needs".to_owned(), json!(required));
    entries.insert("allOf".to_owned(), Value::Array(only_one));
}

fn scale_bounds(kept: &str, written: &str, property: &mut Value) {
    let Value::Object(entries) = property else {
        return;
    };
    for bound in ["minimum", "maximum", "exclusiveMinimum"] {
        if let Some(value) = entries.get(bound).and_then(Value::as_f64) {
            entries.insert(bound.to_owned(), json!(units::bound(kept, written, value)));
        }
    }
    if let Some(items) = entries.get_mut("items") {
        scale_bounds(kept, written, items);
    }
}
