//! `scullery replay` and `scullery fit` from end to end.

use crate::room::Room;

/// A file of the demo of a bad lunch.
fn demo(name: &str) -> String {
    format!("{}/../../scenarios/{name}", env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn the_bad_lunch_is_laid_to_its_true_causes() {
    let room = Room::new();
    let said = room.scullery(&[
        "replay",
        &demo("bad-lunch/hall.toml"),
        "--till",
        &demo("bad-lunch/till.csv"),
        "--count-column",
        "covers",
        "--seen",
        &demo("bad-lunch/seen.csv"),
        "--repeats",
        "60",
        "--trays-seen",
        "1200",
    ]);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    let flowed = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    // The lunch was simulated with these two and no other.
    let causes = flowed.split("What did most to it:").nth(1).unwrap();
    let causes = causes.split("What would have helped").next().unwrap();
    assert!(
        causes.contains("Cem was away from 12:40 to 13:00"),
        "{causes}"
    );
    assert!(
        causes.contains("machine dish stood from 12:20 to 12:40"),
        "{causes}"
    );
    assert!(
        flowed.contains("You counted 1200 trays: that agrees"),
        "{flowed}"
    );
    let page = room.read("scullery-out/report.html");
    assert!(page.contains("What would have saved it") && page.contains("does nothing that shows"));
}

#[test]
fn a_kept_meal_is_written_and_run_again() {
    let room = Room::new();
    let run = room.scullery(&["run", "--repeats", "4", "--keep-meal", "3", "--out", "kept"]);
    assert_eq!(run.code, Some(0), "{}", run.err);
    let table = room.read("kept/meal-3.csv");
    assert!(
        table.starts_with("# scullery meal, 2\n# seed: 1\n# repeat: 3\n# scenario: "),
        "{table:.200}"
    );
    let said = room.scullery(&[
        "replay",
        "--meal",
        "kept/meal-3.csv",
        "--no-remedies",
        "--repeats",
        "4",
    ]);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    assert!(
        said.out.contains("repeat 3 of a study with seed 1"),
        "{}",
        said.out
    );
}

#[test]
fn every_fault_of_a_till_is_told_with_row_and_value_and_nothing_is_written() {
    let room = Room::new();
    room.write(
        "till.csv",
        "time,trays\n11:00:30,2\n11:00:10,1\n,3\n11:02:00,-1\n11:01:00,abc\n11:03:00,2\n",
    );
    let said = room.scullery(&["replay", "--till", "till.csv"]);
    assert_eq!(said.code, Some(2));
    for fault in [
        "till.csv:3: error: row 2 at 11:00:10 is earlier than row 1 at 11:00:30",
        "till.csv:4: error: row 3 has no time",
        "till.csv:6: error: row 5 at 11:01 is earlier than row 4 at 11:02",
    ] {
        assert!(said.err.contains(fault), "{fault}: {}", said.err);
    }
    assert_eq!(room.names(), ["till.csv"]);
    let said = room.scullery(&["replay"]);
    assert!(
        said.code == Some(2) && said.err.contains("nothing to replay"),
        "{}",
        said.err
    );
    let said = room.scullery(&[
        "replay",
        "--till",
        "till.csv",
        "--unknown",
        "belt.retrun.length_m=3..8",
    ]);
    assert_eq!(said.code, Some(2), "{}", said.err);
}

#[test]
fn a_stopwatch_sheet_is_fitted_task_by_task() {
    let room = Room::new();
    let rows: String = [8.2, 9.1, 7.4, 12.0, 10.3, 8.8, 9.9, 11.2]
        .iter()
        .map(|s| {
            format!(
                "scrape;{}\nload;{}\n",
                s.to_string().replace('.', ","),
                s * 2.0
            )
        })
        .collect();
    room.write(
        "times.csv",
        &format!("task;seconds\n{}", rows.replace('.', ",")),
    );
    let said = room.scullery(&[
        "fit",
        "times.csv",
        "--by",
        "task",
        "--rating",
        "1.1",
        "--allowance",
        "0.15",
    ]);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    let flowed = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flowed.contains("were read with a decimal comma"),
        "{flowed}"
    );
    // Mean 9.6125 s, basic 10.57375 s, with 15 % of the basic time 12.1598 s.
    assert!(
        flowed.contains("Standard time: 12.16 s (observed 9.61 s x rating 1.10 = basic 10.57 s"),
        "{flowed}"
    );
    assert!(room.names().contains(&"scullery-out".to_owned()));
    room.write("few.csv", "seconds\n3\n4\n");
    let said = room.scullery(&["fit", "few.csv"]);
    assert!(
        said.code == Some(2) && said.err.contains("2 readings are too few"),
        "{}",
        said.err
    );
    room.write("zero.csv", "seconds\n3\n4\n0\n5\n6\n");
    let said = room.scullery(&["fit", "zero.csv"]);
    assert!(
        said.code == Some(2) && said.err.contains("reading 3 must be a time above 0 s"),
        "{}",
        said.err
    );
}

#[test]
fn the_stopwatch_sheet_of_the_guide_is_read_for_what_it_was_drawn_from() {
    let room = Room::new();
    let said = room.scullery(&["fit", &demo("stopwatch/times.csv"), "--by", "task"]);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    let found: serde_json::Value =
        serde_json::from_str(&room.read("scullery-out/fit.json")).unwrap();
    // Drawn from laws with these means, see its README; 60 and 40 readings.
    for (task, mean, readings) in [("tray broken down", 11.5, 60), ("rack loaded", 8.0, 40)] {
        let tasks = found["tasks"].as_array().unwrap();
        let it = tasks.iter().find(|it| it["task"] == task).unwrap();
        assert_eq!(it["readings"], readings);
        let ends = it["mean_ci95_s"].as_array().unwrap();
        let [low, high] = [&ends[0], &ends[1]].map(|end| end.as_f64().unwrap());
        assert!(low < mean && mean < high, "{task}: {low} {high}");
    }
}
