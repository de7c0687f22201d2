//! The published schema.

use std::collections::BTreeSet;

use scullery_scenario::{DEFAULT_SCENARIO, schema};
use serde_json::Value;

/// Keywords the reader acts upon, and those that are advice for people and editors (their rules are in others).
const KNOWN: [&str; 24] = [
    "$ref",
    "oneOf",
    "anyOf",
    "type",
    "const",
    "enum",
    "properties",
    "required",
    "additionalProperties",
    "items",
    "minimum",
    "maximum",
    "exclusiveMinimum",
    "minLength",
    "maxLength",
    "minItems",
    "maxItems",
    "minProperties",
    "maxProperties",
    "propertyNames",
    "x-same-as",
    "x-needs",
    "description",
    "allOf",
];

fn keywords(schema: &Value, into: &mut BTreeSet<String>) {
    let Value::Object(entries) = schema else {
        return;
    };
    for (keyword, value) in entries {
        into.insert(keyword.clone());
        match (keyword.as_str(), value) {
            ("properties" | "$defs", Value::Object(named)) => {
                named.values().for_each(|of| keywords(of, into))
            }
            ("oneOf" | "anyOf", Value::Array(choices)) => {
                choices.iter().for_each(|of| keywords(of, into))
            }
            ("items" | "additionalProperties", of) => keywords(of, into),
            _ => {}
        }
    }
}

#[test]
fn the_reader_knows_every_keyword_of_the_schema() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let mut used = BTreeSet::new();
    keywords(&schema, &mut used);
    let heads = ["$schema", "$defs", "title"];
    let strange: Vec<&String> = used
        .iter()
        .filter(|keyword| !KNOWN.contains(&keyword.as_str()) && !heads.contains(&keyword.as_str()))
        .collect();
    assert_eq!(strange, Vec::<&String>::new());
}

#[test]
fn every_key_of_the_schema_is_described() {
    fn undescribed(path: &str, schema: &Value, into: &mut Vec<String>) {
        if let Some(Value::Object(properties)) = schema.get("properties") {
            for (key, of) in properties {
                if of.get("description").is_none()
                    && of.get("$ref").is_none()
                    && schema.get("x-needs").is_none()
                {
                    into.push(format!("{path}.{key}"));
                }
            }
        }
    }
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let mut missing = Vec::new();
    undescribed("", &schema, &mut missing);
    for (name, of) in schema["$defs"].as_object().unwrap() {
        undescribed(name, of, &mut missing);
    }
    assert_eq!(missing, Vec::<String>::new());
}

#[test]
fn another_reader_of_the_schema_takes_what_ours_takes_and_refuses_what_ours_refuses() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    assert_eq!(
        schema["$schema"],
        "https://json-schema.org/draft/2020-12/schema"
    );
    let validator = jsonschema::validator_for(&schema).unwrap();
    let table: toml::Table = toml::from_str(DEFAULT_SCENARIO).unwrap();
    let good = serde_json::to_value(&table).unwrap();
    assert!(validator.is_valid(&good));
    for (pointer, key, value) in [
        ("/accumulator/return", "loop_ft", serde_json::json!(60)), // in two units
        ("/accumulator/return", "lop_m", serde_json::json!(60)),   // not known
        ("/accumulator/return", "tiers", serde_json::json!(-1)),   // out of range
        ("/machine/dish", "runs", serde_json::json!("stop")),      // not a choice
        ("/meal", "starts", serde_json::json!(11)),                // wrong type
    ] {
        let mut bad = good.clone();
        bad.pointer_mut(pointer).unwrap()[key] = value;
        assert!(!validator.is_valid(&bad), "{pointer} {key}");
        let ours = scullery_scenario::read_alone(&bad.to_string(), scullery_scenario::Format::Json);
        assert!(ours.is_err(), "{pointer} {key}");
    }
}
