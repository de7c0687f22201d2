//! Every scenario in `scenarios/` is read, says it is invented, and means what it should.

use std::path::{Path, PathBuf};

use scullery_scenario::{Unread, plan::Plan, read_from_disk};

pub(crate) fn all() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    paths.sort();
    paths
}

pub(crate) fn plan_of(name: &str) -> Plan {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../scenarios")
        .join(name);
    match read_from_disk(&path) {
        Ok(plan) => plan,
        Err(Unread::File(why) | Unread::Faults(why)) => panic!("{why}"),
    }
}

#[test]
fn every_scenario_is_read_and_says_that_it_is_invented() {
    let all = all();
    assert!(all.len() >= 6);
    for path in all {
        let name = path.file_name().unwrap().to_str().unwrap();
        let text = std::fs::read_to_string(&path).unwrap();
        assert!(text.lines().next().unwrap().contains("Invented"), "{name}");
        let plan = plan_of(name);
        assert!(plan.heading.note.contains("nvented"), "{name}");
        assert!(!plan.description.is_empty(), "{name}");
    }
}

#[test]
fn a_file_that_is_not_there_is_told_in_one_sentence() {
    let Err(Unread::File(why)) = read_from_disk(Path::new("nowhere.toml")) else {
        panic!("no file expected")
    };
    assert!(why.starts_with("nowhere.toml cannot be read"));
}
