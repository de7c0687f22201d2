//! Codes of complaints: all that are used are listed, and each has a scenario that draws it.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use scullery_scenario::{CODES, Format, LONGEST_TEXT, read_alone};

use crate::faulty::faulty;

/// Codes written in the source: what follows `fault(` or `code:` or stands first in a pair of code and words.
fn codes_in_source(folder: &Path, into: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            codes_in_source(&path, into);
            continue;
        }
        if path.ends_with("codes.rs") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        for start in ["fault(", "complain(", "code: ", "Some(("] {
            for (at, _) in text.match_indices(start) {
                let rest = text[at + start.len()..].trim_start();
                let code: Option<String> = rest
                    .strip_prefix('"')
                    .and_then(|rest| rest.split('"').next())
                    .map(str::to_owned);
                into.extend(code.filter(|code| code.contains('-')));
            }
        }
    }
}

#[test]
fn every_code_in_the_source_is_listed_and_every_listed_code_is_in_the_source() {
    let mut used = BTreeSet::new();
    codes_in_source(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut used,
    );
    let listed: BTreeSet<String> = CODES.iter().map(|(code, _)| (*code).to_owned()).collect();
    assert_eq!(used, listed);
    assert!(
        CODES.windows(2).all(|pair| pair[0].0 < pair[1].0),
        "in order of code"
    );
}

#[test]
fn every_code_is_drawn_by_a_faulty_scenario() {
    let drawn: BTreeSet<&str> = faulty()
        .iter()
        .flat_map(|(_, _, faults)| faults)
        .map(|fault| fault.code)
        .collect();
    // One that no file can draw as long as schema and types agree, some drawn by changes, and two drawn below.
    let apart = [
        "already-there",
        "does-not-fit",
        "many-more",
        "not-a-change",
        "not-there",
        "row-unreadable",
    ];
    let missing: Vec<&str> = CODES
        .iter()
        .map(|(code, _)| *code)
        .filter(|code| !drawn.contains(code))
        .collect();
    assert_eq!(missing, apart);
}

#[test]
fn very_many_complaints_are_summed_up() {
    let text: String = (0..700)
        .map(|number| format!("strange_{number} = 1\n"))
        .collect();
    let complaints = read_alone(&text, Format::Toml).unwrap_err();
    assert_eq!(complaints.len(), 501);
    assert_eq!(complaints[500].code, "many-more");
}

#[test]
fn many_faulty_rows_are_summed_up() {
    let text = crate::arrivals::scenario("path = \"a.csv\"");
    let rows = format!("time\n{}", "late\n".repeat(80));
    let complaints =
        scullery_scenario::read(&text, Format::Toml, &|_| Ok(rows.clone().into_bytes()))
            .unwrap_err();
    assert_eq!(complaints.len(), 51);
    assert_eq!(complaints[50].code, "row-unreadable");
    assert_eq!(complaints[50].message, "30 more rows of a.csv have faults");
}

#[test]
fn a_text_over_the_limit_is_refused_unread() {
    let complaints = read_alone(&" ".repeat(LONGEST_TEXT + 1), Format::Toml).unwrap_err();
    assert_eq!(complaints[0].code, "too-large");
}
