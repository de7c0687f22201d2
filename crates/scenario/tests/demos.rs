//! The demo scenarios use what the format can say: every table, and every choice.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::scenarios::all;

/// The name under `$defs` that a node stands for.
fn named(node: &Value) -> Option<&str> {
    node.get("$ref")?.as_str()?.strip_prefix("#/$defs/")
}

/// The choices of a node: the word, or the one key of each table.
fn choices(node: &Value) -> BTreeMap<&str, Option<&Value>> {
    let Some(Value::Array(each)) = node.get("oneOf") else {
        return BTreeMap::new();
    };
    let mut found = BTreeMap::new();
    for one in each {
        if let Some(word) = one.get("const").and_then(Value::as_str) {
            found.insert(word, None);
        } else if let Some(Value::Object(keys)) = one.get("properties") {
            found.extend(keys.iter().map(|(key, of)| (key.as_str(), Some(of))));
        }
    }
    found
}

/// Everything that can be used: top-level tables, choices, and tables within tables.
fn can_be_used(schema: &Value) -> BTreeSet<String> {
    let defs = schema["$defs"].as_object().unwrap();
    let top = schema["properties"].as_object().unwrap();
    let mut all: BTreeSet<String> = top.keys().cloned().collect();
    for (name, of) in defs {
        all.extend(choices(of).keys().map(|choice| format!("{name}.{choice}")));
        for (key, of) in of
            .get("properties")
            .and_then(Value::as_object)
            .into_iter()
            .flatten()
        {
            if named(of).is_some_and(|table| defs[table].get("properties").is_some()) {
                all.insert(format!("{name}.{key}"));
            }
        }
    }
    all
}

/// Walks a value along its schema and notes what it uses.
fn walk(schema: &Value, node: &Value, owner: &str, value: &Value, used: &mut BTreeSet<String>) {
    if let Some(name) = named(node) {
        return walk(schema, &schema["$defs"][name], name, value, used);
    }
    let choices = choices(node);
    if let Some(word) = value.as_str().filter(|word| choices.contains_key(word)) {
        used.insert(format!("{owner}.{word}"));
    }
    for one in node
        .get("anyOf")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
    {
        if value.is_object() {
            walk(schema, one, owner, value, used);
        }
    }
    for (key, value) in value.as_object().into_iter().flatten() {
        if let Some(of) = choices.get(key.as_str()) {
            used.insert(format!("{owner}.{key}"));
            if let Some(of) = of {
                walk(schema, of, owner, value, used);
            }
        } else if let Some(of) = node.get("properties").and_then(|keys| keys.get(key)) {
            used.insert(match owner {
                "" => key.clone(),
                _ => format!("{owner}.{key}"),
            });
            walk(schema, of, owner, value, used);
        } else if let Some(of) = node.get("additionalProperties") {
            walk(schema, of, owner, value, used);
        }
    }
    if let (Some(of), Some(values)) = (node.get("items"), value.as_array()) {
        for value in values {
            walk(schema, of, owner, value, used);
        }
    }
}

#[test]
fn every_table_and_every_choice_is_used_by_a_demo() {
    let schema: Value = serde_json::from_str(&scullery_scenario::schema()).unwrap();
    let can = can_be_used(&schema);
    // The walk sees what it should: elements, choices, tables within tables.
    for one in [
        "accumulator",
        "MachineType.flight",
        "EndsFile.closes_up",
        "MachineFile.water_change",
    ] {
        assert!(can.contains(one), "{one}");
    }
    let mut used = BTreeSet::new();
    let hall = all()[0].with_file_name("bad-lunch/hall.toml");
    for path in all().into_iter().chain([hall]) {
        let text = std::fs::read_to_string(&path).unwrap();
        let table: toml::Table = toml::from_str(&text).unwrap();
        let value = serde_json::to_value(&table).unwrap();
        walk(&schema, &schema, "", &value, &mut used);
    }
    let unused: Vec<&String> = can.difference(&used).collect();
    assert!(unused.is_empty(), "used by no demo: {unused:#?}");
}
