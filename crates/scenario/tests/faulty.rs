//! Each file in `faulty/` holds the complaints it must draw as comments at its end (a JSON file: beside it).

use std::fs;
use std::path::{Path, PathBuf};

use scullery_scenario::{Diagnostic, Format, line_and_column, read};

/// The folder of faulty scenarios.
fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faulty")
}

/// Every faulty scenario with its text and the complaints it draws.
pub(crate) fn faulty() -> Vec<(PathBuf, String, Vec<Diagnostic>)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.retain(|path| {
        path.extension()
            .is_some_and(|ending| ending == "toml" || ending == "json")
    });
    paths.sort();
    let load =
        |name: &str| fs::read(folder().join(name)).map_err(|_| "there is no such file".to_owned());
    let each = paths.into_iter().map(|path| {
        let text = fs::read_to_string(&path).unwrap();
        let format = Format::of_path(path.to_str().unwrap());
        let complaints = read(&text, format, &load).err().unwrap_or_default();
        (path, text, complaints)
    });
    each.collect()
}

#[test]
fn every_faulty_scenario_draws_exactly_the_complaints_it_names() {
    let faulty = faulty();
    assert!(faulty.len() > 20);
    for (path, text, complaints) in faulty {
        let beside = path.with_extension("json.expected");
        let named = if beside.exists() {
            fs::read_to_string(beside).unwrap()
        } else {
            text.clone()
        };
        let expected: Vec<&str> = named
            .lines()
            .filter(|line| line.starts_with("# error"))
            .collect();
        let seen: Vec<String> = complaints
            .iter()
            .map(|complaint| {
                let (line, column) = line_and_column(&text, complaint.at.start);
                format!(
                    "# error[{}]: {line}:{column} {}",
                    complaint.code, complaint.message
                )
            })
            .collect();
        assert_eq!(seen, expected, "{}:\n{}", path.display(), seen.join("\n"));
    }
}

#[test]
fn complaints_are_lower_case_without_full_stop_and_in_file_order() {
    for (path, _, complaints) in faulty() {
        for complaint in &complaints {
            let message = &complaint.message;
            assert!(
                !message.ends_with('.') && !message.contains("invalid"),
                "{}: {message}",
                path.display()
            );
            assert!(!message.contains('\n'), "{}: {message}", path.display());
        }
        assert!(
            complaints
                .windows(2)
                .all(|pair| pair[0].at.start <= pair[1].at.start),
            "{}",
            path.display()
        );
    }
}
