//! Makes a change in a tree.

use std::ops::Range;

use super::path::{self, Step, the_one};
use super::shape::{folded, is, items, name_of, named};
use super::value::{placed, read, same, words};
use super::{Change, Deed, fault};
use crate::diagnostic::Diagnostic;
use crate::plan::ChangeMade;
use crate::text::schema::{SCHEMA, is_name};
use crate::text::tree::{Entry, Node, Value};

/// Keys of one table that say the same thing in different ways: whoever sets one takes the others away.
const RIVALS: [&[&str]; 5] = [
    &["positions", "positions_m"],
    &["at_most", "at_least", "at_latest"],
    &["in_meals_of_100", "on_average"],
    &["sd", "cv"],
    &["price", "price_each"],
];

/// Makes `change` in `root`; places of what is new are those of the change's text, moved on by `base`. Places of a
/// complaint count from the start of the change.
pub(super) fn make(
    root: &mut Node,
    change: &Change,
    base: usize,
) -> Result<ChangeMade, Diagnostic> {
    let (before, after) = match change.deed {
        Deed::Set => set(root, change, base)?,
        Deed::Add => (None, Some(add(root, change, base)?)),
        Deed::Remove => (Some(remove(root, change)?), None),
    };
    let alters = match (&before, &after) {
        (Some(before), Some(after)) => !same(before, after),
        _ => true,
    };
    Ok(ChangeMade {
        words: change.text.clone(),
        before: before.as_ref().map(words),
        after: after.as_ref().map(words),
        alters,
    })
}

fn set(
    root: &mut Node,
    change: &Change,
    base: usize,
) -> Result<(Option<Node>, Option<Node>), Diagnostic> {
    let found = path::find(root, &SCHEMA, &change.steps)?;
    let value = read(&change.text, &change.value_at, &found.shapes, base)?;
    let before = path::node(root, &found.steps).cloned();
    let key_at = whole_path(change, base);
    match found.steps.split_last() {
        Some((Step::Key(kept), way)) => at(root, way, &key_at, &|table| {
            put(table, kept, &found.last, value.clone(), &key_at);
        }),
        _ => at(root, &found.steps, &key_at, &|node| *node = value.clone()),
    }
    Ok((before, Some(value)))
}

fn whole_path(change: &Change, base: usize) -> Range<usize> {
    let start = change.steps.first().map_or(0, |(_, at)| at.start);
    let end = change.steps.last().map_or(0, |(_, at)| at.end);
    start + base..end + base
}

/// Goes to the end of a way, making the tables that are not there yet, and does `deed` there.
fn at(root: &mut Node, steps: &[Step], key_at: &Range<usize>, deed: &dyn Fn(&mut Node)) {
    let mut here = root;
    for step in steps {
        here = match (&mut here.value, step) {
            (Value::Table(entries), Step::Key(key)) => {
                let there = entries.iter().position(|entry| entry.key == *key);
                let index = there.unwrap_or_else(|| {
                    entries.push(empty(key, key_at));
                    entries.len() - 1
                });
                &mut entries[index].value
            }
            (Value::List(list), Step::Index(index)) => &mut list[*index],
            // Nothing was found that does not lie on the way.
            _ => return,
        };
    }
    deed(here);
}

fn empty(key: &str, key_at: &Range<usize>) -> Entry {
    Entry {
        key: key.to_owned(),
        key_at: key_at.clone(),
        value: Node {
            at: key_at.clone(),
            value: Value::Table(Vec::new()),
        },
    }
}

/// Puts a value under a key of a table: the one it is kept under is renamed, and its rivals go.
fn put(table: &mut Node, kept: &str, asked: &str, value: Node, key_at: &Range<usize>) {
    let Value::Table(entries) = &mut table.value else {
        return;
    };
    let rivals = RIVALS.iter().find(|rivals| rivals.contains(&asked));
    entries.retain(|entry| {
        entry.key == kept || !rivals.is_some_and(|rivals| rivals.contains(&entry.key.as_str()))
    });
    match entries.iter_mut().find(|entry| entry.key == kept) {
        Some(entry) => {
            if entry.key != asked {
                asked.clone_into(&mut entry.key);
                entry.key_at = key_at.clone();
            }
            entry.value = value;
        }
        None => entries.push(Entry {
            value,
            ..empty(asked, key_at)
        }),
    }
}

fn add(root: &mut Node, change: &Change, base: usize) -> Result<Node, Diagnostic> {
    let key_at = whole_path(change, base);
    // A list of things without names is meant as a whole: `+bell={ ... }`.
    let (parents, last) = match change.steps.split_last() {
        Some((last, parents)) => (parents, last),
        None => return Err(fault("not-a-change", 0..0, "its path is empty", "")),
    };
    if let Ok(found) = path::find(root, &SCHEMA, &change.steps)
        && found.shapes.iter().any(|shape| is(shape, "array"))
        && !path::node(root, &found.steps).is_some_and(|node| matches!(node.value, Value::Text(_)))
    {
        let of = items(&found.shapes);
        let value = read(&change.text, &change.value_at, &of, base)?;
        let push = |node: &mut Node| match &mut node.value {
            Value::List(list) => list.push(value.clone()),
            other => *other = Value::List(vec![value.clone()]),
        };
        at(root, &found.steps, &key_at, &push);
        return Ok(value);
    }
    let found = path::find(root, &SCHEMA, parents)?;
    let said = path::said(root, &found.steps);
    let (name, name_at) = last;
    let is_list = found.shapes.iter().any(|shape| is(shape, "array"));
    let of = if is_list {
        items(&found.shapes)
    } else {
        named(&found.shapes)
    };
    if of.is_empty() {
        let message = format!("nothing is added to `{said}` under a name of its own");
        let help = format!("a known key is set without `+`: `{said}.{name}=...`");
        return Err(fault("not-a-change", name_at.clone(), message, help));
    }
    if !is_name(name) {
        let message = format!(
            "a name is a letter, then letters, digits, blanks, `_` or `-`, 40 at most, found `{name}`"
        );
        return Err(fault(
            "not-a-name",
            name_at.clone(),
            message,
            "choose a short plain name",
        ));
    }
    let known = known(path::node(root, &found.steps));
    if known.iter().any(|(taken, _)| folded(taken) == folded(name)) {
        let message = format!("`{said}` has something called `{name}` already");
        let help = "choose another name, or change it without `+`";
        return Err(fault("already-there", name_at.clone(), message, help));
    }
    let text = &change.text[change.value_at.clone()];
    let mut value = match text.strip_prefix("like ") {
        Some(other) => {
            let names: Vec<&str> = known.iter().map(|(name, _)| name.as_str()).collect();
            let place = change.value_at.start + base..change.value_at.end + base;
            match the_one(&names, other.trim()) {
                Some(index) => {
                    let mut copy = known[index].1.clone();
                    placed(&mut copy, &place);
                    copy
                }
                None => {
                    let message = format!("`{said}` has nothing called `{}` to copy", other.trim());
                    let help = format!("there are {}", names.join(", "));
                    return Err(fault(
                        "unknown-name",
                        change.value_at.clone(),
                        message,
                        help,
                    ));
                }
            }
        }
        None => read(&change.text, &change.value_at, &of, base)?,
    };
    if is_list {
        give_name(&mut value, name, &key_at);
    }
    let push = |node: &mut Node| match &mut node.value {
        Value::List(list) => list.push(value.clone()),
        Value::Table(entries) if !is_list => entries.push(Entry {
            key: name.clone(),
            key_at: key_at.clone(),
            value: value.clone(),
        }),
        other => *other = Value::List(vec![value.clone()]),
    };
    at(root, &found.steps, &key_at, &push);
    Ok(value)
}

/// What stands under names at a place: in a table by key, in a list by name.
fn known(node: Option<&Node>) -> Vec<(String, Node)> {
    match node.map(|node| &node.value) {
        Some(Value::Table(entries)) => entries
            .iter()
            .map(|entry| (entry.key.clone(), entry.value.clone()))
            .collect(),
        Some(Value::List(list)) => list
            .iter()
            .filter_map(|item| Some((name_of(item)?.to_owned(), item.clone())))
            .collect(),
        _ => Vec::new(),
    }
}

fn give_name(value: &mut Node, name: &str, at: &Range<usize>) {
    let Value::Table(entries) = &mut value.value else {
        return;
    };
    let text = Node {
        at: at.clone(),
        value: Value::Text(name.to_owned()),
    };
    match entries.iter_mut().find(|entry| entry.key == "name") {
        Some(entry) => entry.value = text,
        None => entries.insert(
            0,
            Entry {
                key: "name".to_owned(),
                key_at: at.clone(),
                value: text,
            },
        ),
    }
}

fn remove(root: &mut Node, change: &Change) -> Result<Node, Diagnostic> {
    let found = path::find(root, &SCHEMA, &change.steps)?;
    let whole = change.steps.first().map_or(0, |(_, at)| at.start)..change.text.len();
    let Some(gone) = path::node(root, &found.steps).cloned() else {
        let message = format!("`{}` is not in the file", path::said(root, &found.steps));
        return Err(fault("not-there", whole, message, "leave this change out"));
    };
    let Some((last, way)) = found.steps.split_last() else {
        return Err(fault("not-a-change", whole, "its path is empty", ""));
    };
    let drop = |node: &mut Node| match (&mut node.value, last) {
        (Value::Table(entries), Step::Key(key)) => {
            entries.retain(|entry| entry.key != *key);
        }
        (Value::List(list), Step::Index(index)) if *index < list.len() => {
            list.remove(*index);
        }
        _ => {}
    };
    at(root, way, &(0..0), &drop);
    Ok(gone)
}
