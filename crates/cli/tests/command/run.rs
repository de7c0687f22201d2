//! `scullery run`: the answer, the files, the exit codes.

use std::process::{Command, Stdio};

use serde_json::Value;

use crate::room::{Room, Said};

/// A few lunches are enough to see what the command does with them.
const FEW: [&str; 2] = ["--repeats", "3"];

fn run(room: &Room, more: &[&str]) -> Said {
    room.scullery(&[&["run"], &FEW[..], more].concat())
}

/// Code of a finished run that may have missed nothing.
fn finished(said: &Said) {
    assert!(said.code == Some(0), "{said:?}");
}

#[test]
fn with_nothing_said_the_example_is_run_and_the_answer_comes_first() {
    let room = Room::new();
    let said = room.scullery(&FEW);
    finished(&said);
    let summary: Value = serde_json::from_str(&room.read("scullery-out/summary.json")).unwrap();
    let answer = summary["answer"].as_str().unwrap();
    let flowed = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flowed.starts_with(&answer.split_whitespace().collect::<Vec<_>>().join(" ")),
        "{}",
        said.out
    );
    assert!(said.out.contains("This was an example."), "{}", said.out);
    assert!(room.path("scullery-out/report.html").exists());
    assert_eq!(summary["source"]["scenario"], "embedded: university");
}

#[test]
fn json_is_all_that_is_printed_and_no_folder_is_made() {
    let room = Room::new();
    let said = run(&room, &["--json"]);
    finished(&said);
    let summary: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(
        (summary["repeats"].as_u64(), summary["seed"].as_u64()),
        (Some(3), Some(1))
    );
    let balance = &summary["balance"];
    let trays = |key: &str| balance[key].as_u64().unwrap();
    assert!(trays("trays_in") > 0);
    assert_eq!(
        trays("trays_in"),
        trays("trays_out") + trays("trays_inside")
    );
    assert!(room.names().is_empty() && said.err.is_empty(), "{said:?}");
}

#[test]
fn quiet_prints_the_answer_only() {
    let room = Room::new();
    let said = run(&room, &["--quiet"]);
    finished(&said);
    assert_eq!(said.out.lines().count(), 1, "{}", said.out);
    assert!(said.err.is_empty() && room.path("scullery-out/manifest.json").exists());
}

#[test]
fn one_thread_and_two_write_the_same_bytes() {
    let room = Room::new();
    finished(&run(&room, &["--threads", "1", "--out", "one"]));
    finished(&run(&room, &["--threads", "2", "--out", "two"]));
    assert_eq!(
        room.read("one/manifest.json"),
        room.read("two/manifest.json"),
        "hashes of all files"
    );
}

#[test]
fn another_seed_is_another_luck() {
    let room = Room::new();
    finished(&run(&room, &["--out", "one"]));
    finished(&run(&room, &["--seed", "2", "--out", "two"]));
    assert_ne!(room.read("one/per-meal.csv"), room.read("two/per-meal.csv"));
}

#[test]
fn an_earlier_result_is_replaced_and_anything_else_is_left_alone() {
    let room = Room::new();
    finished(&run(&room, &[]));
    finished(&run(&room, &["--seed", "2"]));
    assert!(
        room.read("scullery-out/manifest.json")
            .contains("\"seed\": 2")
    );
    std::fs::create_dir(room.path("holiday")).unwrap();
    room.write("holiday/list.txt", "mine");
    let said = run(&room, &["--out", "holiday"]);
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{said:?}");
    assert!(
        said.err.contains("--out"),
        "it says what to do: {}",
        said.err
    );
    assert_eq!(std::fs::read_dir(room.path("holiday")).unwrap().count(), 1);
}

#[test]
fn customary_units_are_shown_when_asked_for() {
    let room = Room::new();
    finished(&run(&room, &["--units", "us"]));
    assert!(room.read("scullery-out/report.html").contains(">gal<"));
    finished(&run(&room, &["--units", "metric"]));
    assert!(!room.read("scullery-out/report.html").contains(">gal<"));
}

#[test]
fn a_missed_target_counts_only_when_strict() {
    let room = Room::new();
    let target = "\n[[target]]\nwords = \"a dream\"\nmeasure = \"line.covers_per_labour_h\"\nat_least = 100000\non_average = true\n";
    let text = include_str!("../../../../scenarios/university.toml");
    room.write("lunch.toml", &format!("{text}{target}"));
    finished(&run(&room, &["lunch.toml"]));
    assert_eq!(run(&room, &["lunch.toml", "--strict"]).code, Some(1));
}

#[test]
fn no_line_of_the_text_is_wider_than_the_columns_said() {
    let room = Room::new();
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_scullery"));
    let output = command
        .current_dir(room.path(""))
        .env("COLUMNS", "60")
        .args(FEW)
        .output()
        .unwrap();
    let said = Said::from(output);
    let table: Vec<&str> = said
        .out
        .lines()
        .take_while(|line| !line.starts_with("Report:"))
        .collect();
    assert!(
        table.len() > 5 && table.iter().all(|line| line.chars().count() <= 60),
        "{}",
        said.out
    );
}

#[test]
fn a_reader_who_goes_away_is_no_fault() {
    let room = Room::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_scullery"))
        .current_dir(room.path(""))
        .args(["run", "--repeats", "3", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let said = Said::from(child.wait_with_output().unwrap());
    assert!(said.code == Some(0) && said.err.is_empty(), "{said:?}");
}

#[cfg(unix)]
#[test]
fn an_interrupt_writes_what_is_complete_and_says_so() {
    let room = Room::new();
    let child = Command::new(env!("CARGO_BIN_EXE_scullery"))
        .current_dir(room.path(""))
        .args([
            "run",
            "--demo",
            "textbook-single-queue",
            "--repeats",
            "1000000",
        ])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_secs(2));
    let sent = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .unwrap();
    assert!(sent.success());
    let said = Said::from(child.wait_with_output().unwrap());
    assert_eq!(said.code, Some(1), "{said:?}");
    assert!(said.err.contains("stopped early"), "{}", said.err);
    assert!(said.out.contains("stopped early"), "{}", said.out);
    let manifest: Value = serde_json::from_str(&room.read("scullery-out/manifest.json")).unwrap();
    assert_eq!(
        (manifest["complete"].as_bool(), manifest["asked"].as_u64()),
        (Some(false), Some(1_000_000))
    );
    assert!(manifest["repeats"].as_u64().unwrap() > 0);
}
