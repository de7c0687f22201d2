//! From text to plan.

use std::path::Path;

use sha2::{Digest, Sha256};

use crate::compile::{Load, compile};
use crate::diagnostic::Diagnostic;
use crate::file::ScenarioFile;
use crate::plan::Plan;
use crate::text::tree::Node;
use crate::text::{json, schema, toml, walk};

/// Notation of a scenario.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// TOML.
    Toml,
    /// JSON of the same shape.
    Json,
}

impl Format {
    /// The notation that belongs to the ending of a path: JSON for `.json`, else TOML.
    pub fn of_path(path: &str) -> Format {
        let ending = Path::new(path)
            .extension()
            .and_then(|ending| ending.to_str());
        if ending.is_some_and(|ending| ending.eq_ignore_ascii_case("json")) {
            Format::Json
        } else {
            Format::Toml
        }
    }
}

/// Longest scenario text, in bytes.
pub const LONGEST_TEXT: usize = 4 << 20;

/// Complaints that are kept of one file.
const MOST_COMPLAINTS: usize = 500;

/// Reads a scenario. `load` gives the bytes of a file the scenario names (a table of arrivals), by its path as written.
///
/// # Errors
/// Every complaint there is, in file order: of notation, or else of keys, types and ranges, and of meaning too as far as
/// the rest can be understood.
pub fn read(text: &str, format: Format, load: Load<'_>) -> Result<Plan, Vec<Diagnostic>> {
    if text.len() > LONGEST_TEXT {
        let message = format!(
            "a scenario has at most {LONGEST_TEXT} bytes, found {}",
            text.len()
        );
        return Err(vec![Diagnostic {
            code: "too-large",
            at: 0..0,
            message,
            help: None,
        }]);
    }
    let (tree, faults) = parse(text, format);
    // A key that stands twice leaves the rest readable; any other fault of notation does not.
    if faults.iter().any(|fault| fault.code != "key-twice") {
        return Err(in_order(faults));
    }
    plan_of(&tree, faults, hash(text), load)
}

/// Reads the notation alone: what could be made of the text, and what is wrong with it.
pub(crate) fn parse(text: &str, format: Format) -> (Node, Vec<Diagnostic>) {
    match format {
        Format::Toml => toml::parse(text),
        Format::Json => json::parse(text),
    }
}

/// Holds a tree to the schema and gives it its meaning; `faults` are those told so far, all of keys that stand twice.
pub(crate) fn plan_of(
    tree: &Node,
    mut faults: Vec<Diagnostic>,
    hash: String,
    load: Load<'_>,
) -> Result<Plan, Vec<Diagnostic>> {
    let (value, misfits) = walk::walk(tree, &schema::SCHEMA);
    faults.extend(misfits);
    let file = serde_json::from_value::<ScenarioFile>(value);
    match file.map(|file| compile(tree, &file, hash, load)) {
        Ok(Ok(plan)) if faults.is_empty() => Ok(plan),
        Ok(Ok(_)) => Err(in_order(faults)),
        Ok(Err(meant)) => {
            let told: Vec<_> = faults.iter().map(|fault| fault.at.clone()).collect();
            faults.extend(meant.into_iter().filter(|fault| !told.contains(&fault.at)));
            Err(in_order(faults))
        }
        // What fits the schema fits the types; were it otherwise, the reader is told rather than left alone.
        Err(why) if faults.is_empty() => {
            let message = format!("the scenario does not fit: {why}");
            Err(vec![Diagnostic {
                code: "does-not-fit",
                at: 0..0,
                message,
                help: None,
            }])
        }
        Err(_) => Err(in_order(faults)),
    }
}

/// Reads a scenario that names no other files.
///
/// # Errors
/// As [`read`].
pub fn read_alone(text: &str, format: Format) -> Result<Plan, Vec<Diagnostic>> {
    read(text, format, &|_| {
        Err("no other file can be read here".to_owned())
    })
}

/// Complaints in file order, the last ones summed up when there are very many.
pub(crate) fn in_order(mut faults: Vec<Diagnostic>) -> Vec<Diagnostic> {
    faults.sort_by_key(|fault| fault.at.start);
    if faults.len() > MOST_COMPLAINTS {
        let more = faults.len() - MOST_COMPLAINTS;
        faults.truncate(MOST_COMPLAINTS);
        let at = faults.last().map_or(0..0, |last| last.at.clone());
        faults.push(Diagnostic {
            code: "many-more",
            at,
            message: format!("{more} more faults follow"),
            help: None,
        });
    }
    faults
}

/// SHA-256 of a text, lower-case hex.
pub(crate) fn hash(text: &str) -> String {
    Sha256::digest(text.as_bytes())
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
