//! Named changes to a scenario: `belt.return.length_m=40`, `crew.cem.shift=11:30-13:30`, `+crew.gus=like cem`, `-crew.eli`.
//!
//! A change speaks in the file's own keys and names. It is made to the tree that was read from the text, and the changed
//! tree then goes through the very same schema and checks as any other, so that a changed scenario is held to all that
//! a written one is. A complaint about what a change says points into the change.

mod made;
mod path;
mod shape;
mod spoken;
mod value;

use std::fmt;
use std::ops::Range;

use crate::compile::Load;
use crate::diagnostic::{Diagnostic, render};
use crate::plan::Plan;
use crate::read::{Format, hash, in_order, parse, plan_of, read};
use crate::text::schema::SCHEMA;
use crate::text::tree::Value;

pub use spoken::spoken;

/// Longest change, in bytes.
const LONGEST: usize = 100_000;
/// Most changes of one arrangement.
const MOST: usize = 1000;

/// What a change does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    /// Puts a value where one stands, or where one may stand.
    Set,
    /// Adds something under a new name, or an entry to a list.
    Add,
    /// Takes something away.
    Remove,
}

/// A change to a scenario.
///
/// `PATH=VALUE` sets, `+PATH=VALUE` adds, `-PATH` takes away. A path is made of the file's own keys and names with dots
/// between. Entries of a list that have a name are found by it, whatever its capitals, others by their number. A value
/// is written as in a TOML file, but text needs no quotes and a list no brackets. A shift is `11:30-13:30`, a break
/// `13:05 for 15 min`. What is added may be `like NAME`: a copy of another of its kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    text: String,
    deed: Deed,
    steps: Vec<(String, Range<usize>)>,
    value_at: Range<usize>,
}

/// A place in a scenario that a path names.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The path, names as the file has them.
    pub path: String,
    /// The number that stands there, if one does.
    pub number: Option<f64>,
    /// Whether only a whole number may stand there.
    pub whole: bool,
    /// What stands there, as written; `None`: nothing.
    pub words: Option<String>,
}

impl fmt::Display for Change {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(&self.text)
    }
}

impl Change {
    /// Reads a change.
    ///
    /// # Errors
    /// One sentence that names the text, what is wrong with it and what to write.
    pub fn parse(text: &str) -> Result<Change, String> {
        let complain = |what: &str| {
            Err(format!(
                "change `{}`: {what}; write for example `belt.return.length_m=40`, `+crew.gus=like cem` or `-crew.gus`",
                text.trim().chars().take(120).collect::<String>()
            ))
        };
        let whole = text.trim();
        if whole.is_empty() {
            return complain("nothing is said");
        }
        if whole.len() > LONGEST {
            return complain(&format!("it has more than {LONGEST} bytes"));
        }
        if whole.chars().any(char::is_control) {
            return complain("it has a line break or another control in it");
        }
        let (deed, from) = match whole.as_bytes()[0] {
            b'+' => (Deed::Add, 1),
            b'-' => (Deed::Remove, 1),
            _ => (Deed::Set, 0),
        };
        let (path_end, value_at) = match whole.find('=') {
            Some(_) if deed == Deed::Remove => {
                return complain("what is taken away has no value, but a `=` was found");
            }
            Some(at) => (at, trimmed(whole, at + 1..whole.len())),
            None if deed == Deed::Remove => (whole.len(), whole.len()..whole.len()),
            None => return complain("there is no `=` with a value behind it"),
        };
        if deed != Deed::Remove && value_at.is_empty() {
            return complain("there is no value behind the `=`");
        }
        let mut steps = Vec::new();
        let mut at = from;
        for step in whole[from..path_end].split('.') {
            let place = trimmed(whole, at..at + step.len());
            if place.is_empty() {
                return complain("a key or name is missing in its path");
            }
            steps.push((whole[place.clone()].to_owned(), place));
            at += step.len() + 1;
        }
        Ok(Change {
            text: whole.to_owned(),
            deed,
            steps,
            value_at,
        })
    }

    /// The change that puts a number at a path; what is read back is the very same number.
    ///
    /// # Errors
    /// As [`Change::parse`].
    pub fn number(path: &str, number: f64) -> Result<Change, String> {
        Change::parse(&format!("{path}={number:?}"))
    }

    /// The change as it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The path it speaks of, as it was written.
    pub fn path(&self) -> String {
        let steps: Vec<&str> = self.steps.iter().map(|(step, _)| step.as_str()).collect();
        steps.join(".")
    }
}

fn trimmed(text: &str, at: Range<usize>) -> Range<usize> {
    let inside = &text[at.clone()];
    let start = at.start + (inside.len() - inside.trim_start().len());
    start..start + inside.trim().len()
}

/// Reads a scenario with changes made to it, one after another.
///
/// Places in complaints past the end of `text` lie in the changes; [`render_changed`] shows them. What was changed is
/// told by [`Plan::changes`](crate::plan::Plan::changes). Without changes it is [`read`].
///
/// # Errors
/// The first change that cannot be made; else as [`read`].
pub fn read_changed(
    text: &str,
    format: Format,
    changes: &[Change],
    load: Load<'_>,
) -> Result<Plan, Vec<Diagnostic>> {
    // A text too long or past reading is told as it always is.
    let whole = || read(text, format, load);
    if changes.is_empty() || text.len() > crate::read::LONGEST_TEXT {
        return whole();
    }
    if changes.len() > MOST {
        let message = format!(
            "at most {MOST} changes are made at once, found {}",
            changes.len()
        );
        return Err(vec![fault(
            "too-large",
            text.len()..text.len(),
            message,
            "",
        )]);
    }
    let (mut tree, faults) = parse(text, format);
    if faults.iter().any(|fault| fault.code != "key-twice") {
        return Err(in_order(faults));
    }
    let mut made = Vec::with_capacity(changes.len());
    for (index, change) in changes.iter().enumerate() {
        let base = base(text, changes, index);
        let done =
            made::make(&mut tree, change, base).map_err(|fault| vec![shifted(fault, base)])?;
        made.push(done);
    }
    let all: String = changes
        .iter()
        .map(|change| format!("\n{}", change.text))
        .collect();
    let read = plan_of(&tree, faults, hash(&format!("{text}{all}")), load);
    let mut plan = read.map_err(|mut faults| {
        // Where a change itself is faulty, what is wrong elsewhere may only follow from it.
        if faults.iter().any(|fault| fault.at.start >= text.len()) {
            faults.retain(|fault| fault.at.start >= text.len());
        }
        faults
    })?;
    plan.changes = made;
    Ok(plan)
}

/// What stands at a path; the message of a failure says what is known there.
pub(crate) fn look_up(text: &str, format: Format, path: &str) -> Result<Place, String> {
    let change = Change::parse(&format!("-{path}"))?;
    let (tree, faults) = parse(text, format);
    if faults.iter().any(|fault| fault.code != "key-twice") {
        return Err("it cannot be read".to_owned());
    }
    let found = path::find(&tree, &SCHEMA, &change.steps).map_err(|lost| match lost.help {
        Some(help) => format!("{}; {help}", lost.message),
        None => lost.message,
    })?;
    let here = path::node(&tree, &found.steps);
    Ok(Place {
        path: path::said(&tree, &found.steps),
        number: here.and_then(|node| match node.value {
            Value::Number(number) => Some(number),
            _ => None,
        }),
        whole: !found.shapes.is_empty() && found.shapes.iter().all(|of| shape::is(of, "integer")),
        words: here.map(value::words),
    })
}

/// Shows complaints of [`read_changed`]: those about a change with the change, the others with their line of the text.
pub fn render_changed(
    path: &str,
    text: &str,
    changes: &[Change],
    complaints: &[Diagnostic],
) -> String {
    let mut out = String::new();
    let (of_changes, of_text): (Vec<_>, Vec<_>) = complaints
        .iter()
        .cloned()
        .partition(|complaint| complaint.at.start >= text.len() && !changes.is_empty());
    for complaint in of_changes {
        let index = (0..changes.len())
            .rev()
            .find(|index| base(text, changes, *index) <= complaint.at.start)
            .unwrap_or(0);
        let change = &changes[index];
        let at = shifted_back(&complaint.at, base(text, changes, index), change.text.len());
        let mark = change.text[..at.start].chars().count();
        let width = change.text[at.clone()].chars().count().max(1);
        out.push_str(&format!(
            "{path}: error[{}]: in a change: {}\n |\n | {}\n | {}{}\n",
            complaint.code,
            complaint.message,
            change.text,
            " ".repeat(mark),
            "^".repeat(width)
        ));
        if let Some(help) = &complaint.help {
            out.push_str(&format!(" = help: {help}\n"));
        }
    }
    if !of_text.is_empty() {
        if !changes.is_empty() {
            let all: Vec<String> = changes.iter().map(|change| format!("`{change}`")).collect();
            out.push_str(&format!("with the changes {}:\n", all.join(", ")));
        }
        out.push_str(&render(path, text, &of_text));
    }
    out
}

/// Where the places of a change begin: behind the text and the changes before it.
fn base(text: &str, changes: &[Change], index: usize) -> usize {
    let before = changes[..index].iter().map(|change| change.text.len() + 1);
    text.len() + 1 + before.sum::<usize>()
}

fn shifted(mut fault: Diagnostic, base: usize) -> Diagnostic {
    fault.at = fault.at.start + base..fault.at.end + base;
    fault
}

fn shifted_back(at: &Range<usize>, base: usize, most: usize) -> Range<usize> {
    let start = at.start.saturating_sub(base).min(most);
    start..at.end.saturating_sub(base).clamp(start, most)
}

/// A complaint about a change; `at` counts from the start of the change.
fn fault(
    code: &'static str,
    at: Range<usize>,
    message: impl Into<String>,
    help: impl Into<String>,
) -> Diagnostic {
    let help = help.into();
    Diagnostic {
        code,
        at,
        message: message.into(),
        help: (!help.is_empty()).then_some(help),
    }
}
