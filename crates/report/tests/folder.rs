//! The folder of results: whole files, and never over somebody else's.

use std::fs;
use std::path::Path;

use scullery_report::manifest::{Manifest, sha256};
use scullery_report::{Destination, Fault, Report, ReportFile, report_files};

use crate::fixture::hall;

fn file(name: &str, text: &str) -> ReportFile {
    ReportFile {
        name: name.into(),
        bytes: text.into(),
    }
}

fn ours(names: &[&str]) -> Vec<ReportFile> {
    let mut files: Vec<ReportFile> = names.iter().map(|name| file(name, "text")).collect();
    let manifest = scullery_report::manifest::manifest(&hall(), &files).unwrap();
    files.push(manifest);
    files
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn all_files_are_written_and_the_manifest_names_each_with_its_hash() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("report");
    let files = report_files(&Report::of(&hall())).unwrap();
    Destination::claim(&folder).unwrap().write(&files).unwrap();
    let manifest: Manifest =
        serde_json::from_slice(&fs::read(folder.join("manifest.json")).unwrap()).unwrap();
    assert_eq!(manifest.files.len() + 1, names(&folder).len());
    for entry in &manifest.files {
        let bytes = fs::read(folder.join(&entry.name)).unwrap();
        assert_eq!(
            (bytes.len() as u64, sha256(&bytes)),
            (entry.bytes, entry.sha256.clone()),
            "{}",
            entry.name
        );
    }
    assert!(manifest.complete && manifest.repeats == 200 && manifest.seed == 20_260_101);
    assert_eq!(
        files,
        report_files(&Report::of(&hall())).unwrap(),
        "the same bytes twice"
    );
}

#[test]
fn a_folder_with_other_things_in_it_is_refused_and_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("notes.txt"), "mine").unwrap();
    let refusal = Destination::claim(folder.path()).unwrap_err();
    assert!(
        refusal.is_refusal() && refusal.to_string().contains("`notes.txt`"),
        "{refusal}"
    );
    assert!(
        refusal.to_string().contains("--out"),
        "it says what to do: {refusal}"
    );
    assert_eq!(names(folder.path()), ["notes.txt"]);
}

#[test]
fn a_manifest_of_another_maker_is_no_leave_to_write() {
    let folder = tempfile::tempdir().unwrap();
    for text in ["{}", "not json", "{\"made_by\": \"somebody\"}"] {
        fs::write(folder.path().join("manifest.json"), text).unwrap();
        assert!(
            Destination::claim(folder.path()).unwrap_err().is_refusal(),
            "{text}"
        );
    }
}

#[test]
fn a_file_in_the_folders_place_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("out");
    fs::write(&path, "mine").unwrap();
    assert!(Destination::claim(&path).unwrap_err().is_refusal());
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
}

#[test]
fn an_earlier_result_is_replaced_and_what_is_no_longer_made_goes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deep/out");
    Destination::claim(&path)
        .unwrap()
        .write(&ours(&["a.svg", "b.svg"]))
        .unwrap();
    fs::write(path.join("notes.txt"), "mine").unwrap();
    Destination::claim(&path)
        .unwrap()
        .write(&ours(&["b.svg", "c.svg"]))
        .unwrap();
    assert_eq!(
        names(&path),
        ["b.svg", "c.svg", "manifest.json", "notes.txt"]
    );
}

#[test]
fn a_name_taken_by_somebody_else_since_is_refused_before_anything_is_written() {
    let folder = tempfile::tempdir().unwrap();
    Destination::claim(folder.path())
        .unwrap()
        .write(&ours(&["a.svg"]))
        .unwrap();
    fs::write(folder.path().join("c.svg"), "mine").unwrap();
    let fault = Destination::claim(folder.path())
        .unwrap()
        .write(&ours(&["a.svg", "c.svg"]))
        .unwrap_err();
    assert!(matches!(fault, Fault::Refused { .. }));
    assert_eq!(
        fs::read_to_string(folder.path().join("c.svg")).unwrap(),
        "mine"
    );
}

#[test]
fn a_manifest_that_names_files_outside_its_folder_takes_none_of_them_away() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("out");
    Destination::claim(&path)
        .unwrap()
        .write(&ours(&["a.svg"]))
        .unwrap();
    fs::write(folder.path().join("precious"), "mine").unwrap();
    let text = fs::read_to_string(path.join("manifest.json"))
        .unwrap()
        .replace("a.svg", "../precious");
    fs::write(path.join("manifest.json"), text).unwrap();
    fs::remove_file(path.join("a.svg")).unwrap();
    Destination::claim(&path)
        .unwrap()
        .write(&ours(&["b.svg"]))
        .unwrap();
    assert_eq!(
        fs::read_to_string(folder.path().join("precious")).unwrap(),
        "mine"
    );
}

#[test]
fn what_an_interrupted_write_left_aside_does_not_bar_the_next() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join(".scullery-part-1")).unwrap();
    Destination::claim(folder.path())
        .unwrap()
        .write(&ours(&["a.svg"]))
        .unwrap();
}
