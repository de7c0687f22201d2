//! The value of a change: as in a file, and in a few plainer forms.

use std::ops::Range;

use serde_json::Value as Json;

use super::fault;
use super::shape::{is, items, property};
use crate::diagnostic::Diagnostic;
use crate::text::tree::{Entry, Node, Value};
use crate::text::{json, toml};

/// Reads the value at `at` of a change's text, for a place of these shapes. Places are those of the change's text, moved
/// on by `base`.
pub(super) fn read(
    text: &str,
    at: &Range<usize>,
    shapes: &[&'static Json],
    base: usize,
) -> Result<Node, Diagnostic> {
    let said = &text[at.clone()];
    let place = at.start + base..at.end + base;
    let quoted = said.starts_with(['"', '\'']);
    if said.starts_with(['[', '{']) || quoted {
        return notation(text, at, base);
    }
    if !shapes.is_empty() && shapes.iter().all(|shape| is(shape, "array")) {
        return list(text, at, shapes, base);
    }
    if let Some(made) = plain_entry(said, shapes, &place) {
        return Ok(made);
    }
    let bare = Node {
        at: place,
        value: Value::Text(said.to_owned()),
    };
    if !shapes.is_empty() && shapes.iter().all(|shape| is(shape, "string")) {
        return Ok(bare);
    }
    // What TOML cannot read without quotes is text.
    Ok(notation(text, at, base).unwrap_or(bare))
}

/// A list without brackets: commas between.
fn list(
    text: &str,
    at: &Range<usize>,
    shapes: &[&'static Json],
    base: usize,
) -> Result<Node, Diagnostic> {
    let of = items(shapes);
    let mut entries = Vec::new();
    let mut from = at.start;
    for part in text[at.clone()].split(',') {
        let place = super::trimmed(text, from..from + part.len());
        if place.is_empty() {
            let help = "write the entries with one comma between, or a list in brackets";
            return Err(fault(
                "not-a-change",
                at.clone(),
                "an entry of the list is empty",
                help,
            ));
        }
        entries.push(read(text, &place, &of, base)?);
        from += part.len() + 1;
    }
    Ok(Node {
        at: at.start + base..at.end + base,
        value: Value::List(entries),
    })
}

/// `11:30-13:30` where a shift may stand, `13:05 for 15 min` where a break may.
fn plain_entry(said: &str, shapes: &[&'static Json], place: &Range<usize>) -> Option<Node> {
    let text = |said: &str| Value::Text(said.trim().to_owned());
    let has = |keys: [&str; 2]| {
        let all = |shape: &&'static Json| keys.iter().all(|key| property(shape, key).is_some());
        shapes.iter().any(all)
    };
    let pairs = if has(["from", "to"]) {
        let (from, to) = said.split_once(['-', '\u{2013}'])?;
        [("from", text(from)), ("to", text(to))]
    } else if has(["due", "lasts_min"]) {
        let (due, lasts) = said.split_once(" for ")?;
        let minutes = lasts.trim().strip_suffix("min")?.trim().parse().ok()?;
        [("due", text(due)), ("lasts_min", Value::Number(minutes))]
    } else {
        return None;
    };
    let entries = pairs.map(|(key, value)| Entry {
        key: key.to_owned(),
        key_at: place.clone(),
        value: Node {
            at: place.clone(),
            value,
        },
    });
    Some(Node {
        at: place.clone(),
        value: Value::Table(entries.into()),
    })
}

/// A value in TOML's own notation, or in JSON's.
fn notation(text: &str, at: &Range<usize>, base: usize) -> Result<Node, Diagnostic> {
    const KEY: &str = "v = ";
    let said = &text[at.clone()];
    let (root, faults) = toml::parse(&format!("{KEY}{said}"));
    if let (Value::Table(mut entries), true) = (root.value, faults.is_empty())
        && entries.len() == 1
    {
        let mut value = entries.remove(0).value;
        // Behind the value nothing but a comment could follow, and that would be taken for part of it.
        if value.at.end == KEY.len() + said.len() {
            moved(&mut value, &|byte| {
                byte - KEY.len().min(byte) + at.start + base
            });
            return Ok(value);
        }
    }
    let (mut value, faults) = json::parse(said);
    if faults.is_empty() {
        moved(&mut value, &|byte| byte + at.start + base);
        return Ok(value);
    }
    let message = format!("`{said}` cannot be read as a value");
    let help = "text stands in quotes, a list in [ ], a table in { }, as in a scenario file";
    Err(fault("not-a-change", at.clone(), message, help))
}

/// Moves all places of a value.
fn moved(node: &mut Node, to: &dyn Fn(usize) -> usize) {
    node.at = to(node.at.start)..to(node.at.end);
    match &mut node.value {
        Value::List(list) => list.iter_mut().for_each(|item| moved(item, to)),
        Value::Table(entries) => entries.iter_mut().for_each(|entry| {
            entry.key_at = to(entry.key_at.start)..to(entry.key_at.end);
            moved(&mut entry.value, to);
        }),
        _ => {}
    }
}

/// Gives all of a value one place.
pub(super) fn placed(node: &mut Node, place: &Range<usize>) {
    node.at = place.clone();
    match &mut node.value {
        Value::List(list) => list.iter_mut().for_each(|item| placed(item, place)),
        Value::Table(entries) => entries.iter_mut().for_each(|entry| {
            entry.key_at = place.clone();
            placed(&mut entry.value, place);
        }),
        _ => {}
    }
}

/// Whether two values say the same, wherever they stand.
pub(super) fn same(a: &Node, b: &Node) -> bool {
    match (&a.value, &b.value) {
        (Value::Number(a), Value::Number(b)) => a.total_cmp(b).is_eq(),
        (Value::Text(a), Value::Text(b)) => a == b,
        (Value::Bool(a), Value::Bool(b)) => a == b,
        (Value::Null, Value::Null) => true,
        (Value::List(a), Value::List(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Value::Table(a), Value::Table(b)) => {
            a.len() == b.len()
                && a.iter().all(|entry| {
                    let other = b.iter().find(|other| other.key == entry.key);
                    other.is_some_and(|other| same(&entry.value, &other.value))
                })
        }
        _ => false,
    }
}

/// Longest words for a value, in characters.
const LONGEST_WORDS: usize = 120;

/// A value in the words of a file, cut short when long.
pub(super) fn words(node: &Node) -> String {
    let mut out = String::new();
    write(node, &mut out);
    if out.chars().count() > LONGEST_WORDS {
        let short: String = out.chars().take(LONGEST_WORDS).collect();
        return format!("{short} ...");
    }
    out
}

fn write(node: &Node, out: &mut String) {
    match &node.value {
        Value::Null => out.push_str("null"),
        Value::Bool(yes) => out.push_str(if *yes { "true" } else { "false" }),
        Value::Number(number) => out.push_str(&number.to_string()),
        Value::Text(text) => {
            out.push('"');
            out.push_str(text);
            out.push('"');
        }
        Value::List(list) => {
            out.push('[');
            for (index, item) in list.iter().enumerate() {
                out.push_str(if index > 0 { ", " } else { "" });
                write(item, out);
            }
            out.push(']');
        }
        Value::Table(entries) => {
            out.push_str("{ ");
            for (index, entry) in entries.iter().enumerate() {
                out.push_str(if index > 0 { ", " } else { "" });
                out.push_str(&entry.key);
                out.push_str(" = ");
                write(&entry.value, out);
            }
            out.push_str(" }");
        }
    }
}
