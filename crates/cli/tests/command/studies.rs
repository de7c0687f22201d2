//! `scullery compare`, `headroom`, `vary`, and `run` until it is sure.

use serde_json::Value;

use crate::room::{Room, Said};

/// A queue in which nothing can lock.
const DEMO: [&str; 2] = ["--demo", "textbook-single-queue"];

fn study(room: &Room, command: &str, more: &[&str]) -> Said {
    room.scullery(&[&[command], &DEMO[..], more].concat())
}

fn json(said: &Said) -> Value {
    serde_json::from_str(&said.out).unwrap_or_else(|why| panic!("{why}: {said:?}"))
}

fn refused(said: &Said, words: &[&str]) {
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{said:?}");
    for word in words {
        assert!(said.err.contains(word), "{word} is not in\n{}", said.err);
    }
}

#[test]
fn a_change_is_compared_and_a_copy_of_it_differs_by_nothing() {
    let room = Room::new();
    let said = study(
        &room,
        "compare",
        &[
            "--change",
            "slower: scrapping.server.handling_s=65",
            "--change",
            "copy: scrapping.server.handling_s=60.0",
            "--repeats",
            "3",
            "--json",
        ],
    );
    assert_eq!(said.code, Some(0), "{said:?}");
    let seen = json(&said);
    let names: Vec<&str> = seen["arrangements"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["as it is", "slower", "copy"]);
    assert_eq!(seen["arrangements"][2]["same_as_first"], true);
    assert_eq!(seen["arrangements"][1]["same_as_first"], false);
    for row in seen["measures"].as_array().unwrap() {
        assert_eq!(row["differences"][1]["mean"], 0.0, "{row}");
    }
    assert!(said.err.contains("alters nothing"), "{}", said.err);
    assert!(room.names().is_empty(), "no folder is made");
}

#[test]
fn files_are_compared_by_their_names_and_a_page_is_written() {
    let room = Room::new();
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../scenarios/textbook-single-queue.toml"
    ))
    .unwrap();
    room.write("now.toml", &text);
    room.write(
        "new.toml",
        &text.replace("handling_s = 60", "handling_s = 50"),
    );
    let said = room.scullery(&[
        "compare",
        "now.toml",
        "new.toml",
        "--repeats",
        "3",
        "--out",
        "both",
    ]);
    assert_eq!(said.code, Some(0), "{said:?}");
    for name in [
        "report.html",
        "comparison.json",
        "differences.csv",
        "manifest.json",
    ] {
        assert!(room.path(&format!("both/{name}")).exists(), "{name}");
    }
    assert!(said.out.contains("both/report.html"), "{}", said.out);
    let table = room.read("both/differences.csv");
    assert!(
        table.lines().any(|line| line.contains(",now,")) && table.contains(",new,"),
        "{table}"
    );
    let page = room.read("both/report.html");
    assert!(page.contains("Measures side by side") && page.contains("planning aid"));
    let again = room.scullery(&[
        "compare",
        "now.toml",
        "new.toml",
        "--repeats",
        "3",
        "--out",
        "both",
        "--quiet",
    ]);
    assert_eq!(
        (again.code, again.out.lines().count()),
        (Some(0), 1),
        "{again:?}"
    );
}

#[test]
fn what_cannot_be_compared_says_why_and_what_to_write() {
    let room = Room::new();
    refused(
        &study(&room, "compare", &[]),
        &["nothing to be compared with", "--change"],
    );
    refused(
        &study(
            &room,
            "compare",
            &["--change", "scrapping.server.handling=65"],
        ),
        &["did you mean `handling_s`?"],
    );
    refused(
        &study(
            &room,
            "compare",
            &["--change", "scraping.server.handling_s=65"],
        ),
        &["did you mean `scrapping`?"],
    );
    refused(
        &study(&room, "compare", &["--change", "handling 65"]),
        &["there is no `=`", "write for example"],
    );
    refused(
        &study(&room, "compare", &["--change", " ; "]),
        &["changes nothing"],
    );
    refused(
        &study(&room, "compare", &["--change", "crew.server.shift=25"]),
        &["crew.server.shift=25"],
    );
    refused(
        &study(
            &room,
            "compare",
            &[
                "--change",
                "a: scrapping.server.handling_s=65",
                "--change",
                "a: scrapping.server.handling_s=66",
            ],
        ),
        &["two arrangements are called `a`"],
    );
    refused(
        &room.scullery(&["compare", "here.toml", "missing.toml"]),
        &["here.toml cannot be read"],
    );
    refused(
        &study(
            &room,
            "compare",
            &[
                "--change",
                "scrapping.server.handling_s=65",
                "--measure",
                "backlog.max_tray",
            ],
        ),
        &["the nearest is `backlog.max_trays`"],
    );
    assert!(room.names().is_empty());
}

#[test]
fn one_lunch_is_compared_without_intervals() {
    let room = Room::new();
    let said = study(
        &room,
        "compare",
        &[
            "--change",
            "scrapping.server.handling_s=65",
            "--repeats",
            "1",
            "--json",
        ],
    );
    assert_eq!(said.code, Some(0), "{said:?}");
    assert_eq!(
        json(&said)["measures"][0]["differences"][0]["interval"],
        Value::Null
    );
}

#[test]
fn strict_wants_some_arrangement_that_holds() {
    let room = Room::new();
    let never = "+target={ measure = \"backlog.max_trays\", at_most = 0 }";
    let arguments = ["--change", never, "--repeats", "3", "--quiet"];
    assert_eq!(study(&room, "compare", &arguments).code, Some(0));
    assert_eq!(
        study(&room, "compare", &[&arguments[..], &["--strict"]].concat()).code,
        Some(1)
    );
}

/// Trays evenly spread over four days, work of exactly a minute: more than 1,440 a day cannot be cleared in time.
const EVEN: [&str; 6] = [
    "--change",
    "covers.per_interval.come=evenly",
    "--change",
    "diners.tray_work_varies=not_at_all",
    "--change",
    "+target={ measure = \"backlog.max_trays\", at_most = 5 }",
];

#[test]
fn headroom_ends_where_the_work_is_more_than_the_clock_has() {
    let room = Room::new();
    let said = study(
        &room,
        "headroom",
        &[&EVEN[..], &["--at-most", "400", "--out", "room"]].concat(),
    );
    assert_eq!(said.code, Some(0), "{said:?}");
    let seen: Value = serde_json::from_str(&room.read("room/headroom.json")).unwrap();
    // 5,760 minutes of work in four days; a backlog of 5 is reached with a few trays more than that.
    let day = &seen["days"][0];
    let (holds, fails) = (
        day["holds_to"].as_f64().unwrap(),
        day["fails_from"].as_f64().unwrap(),
    );
    assert!(
        holds < 5770.0 && fails > 5760.0 && fails - holds <= 47.0,
        "{holds} {fails}"
    );
    assert!(room.read("room/trials.csv").lines().count() > 4);
    assert!(
        said.out.contains("every target holds up to"),
        "{}",
        said.out
    );
}

#[test]
fn headroom_without_a_target_is_refused() {
    let room = Room::new();
    refused(
        &study(&room, "headroom", &[]),
        &["names no target", "[[target]]"],
    );
}

#[test]
fn a_grid_a_sample_and_bars_are_written_with_their_data() {
    let room = Room::new();
    let over = [
        "--over",
        "scrapping.server.handling_s=50..70",
        "--repeats",
        "2",
    ];
    let grid = study(
        &room,
        "vary",
        &[&over[..], &["--steps", "3", "--out", "grid"]].concat(),
    );
    assert_eq!(grid.code, Some(0), "{grid:?}");
    let rows = room.read("grid/points.csv");
    assert_eq!(rows.lines().count(), 4);
    let values: Vec<&str> = rows
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(1).unwrap())
        .collect();
    assert_eq!(values, ["50", "60", "70"]);
    assert!(room.path("grid/vary-1.png").exists() && room.path("grid/report.html").exists());
    let two = [
        "--over",
        "crew.server.pace=0.9..1.1",
        "--points",
        "4",
        "--json",
    ];
    let sample = json(&study(&room, "vary", &[&over[..], &two].concat()));
    assert_eq!(
        (
            sample["points"].as_array().unwrap().len(),
            sample["design"].as_str()
        ),
        (4, Some("sample"))
    );
    let bars = study(
        &room,
        "vary",
        &[
            &over[..],
            &["--tornado", "backlog.max_trays", "--out", "bars"],
        ]
        .concat(),
    );
    assert_eq!(bars.code, Some(0), "{bars:?}");
    assert_eq!(room.read("bars/bars.csv").lines().count(), 3);
    assert!(room.path("bars/tornado.svg").exists());
}

#[test]
fn a_range_that_is_none_says_what_to_write() {
    let room = Room::new();
    let over = |text: &str| study(&room, "vary", &["--over", text, "--repeats", "2"]);
    refused(
        &over("scrapping.server.handling_s=60..60"),
        &["no length", "write for example"],
    );
    refused(
        &over("scrapping.server.handling_s=a..b"),
        &["`a` is no number"],
    );
    refused(
        &over("scrapping.server.handing_s=1..2"),
        &["did you mean `handling_s`?"],
    );
    refused(&over("meal.starts"), &["not a number"]);
    refused(&over("crew.server.pace"), &["left out of the file"]);
    refused(
        &over("scrapping.server.handling_s=-5..60"),
        &["at least 0, found -5"],
    );
    let many = [
        "--over",
        "scrapping.server.handling_s",
        "--over",
        "drop_off.door.put_down_s=0..9",
        "--steps",
        "500",
    ];
    refused(&study(&room, "vary", &many), &["more than 10000 points"]);
    assert!(room.names().is_empty());
}

#[test]
fn a_run_ends_when_it_knows_enough_and_says_why() {
    let room = Room::new();
    let said = study(
        &room,
        "run",
        &["--precise", "backlog.max_trays=25%", "--json"],
    );
    assert_eq!(said.code, Some(0), "{said:?}");
    let seen = json(&said);
    assert!(seen["repeats"].as_u64().unwrap() >= 30 && seen["repeats"] == seen["asked"]);
    assert!(
        seen["enough"].as_str().unwrap().contains("were enough"),
        "{}",
        seen["enough"]
    );
    let shown = study(&room, "run", &["--precise", "backlog.max_trays=25%"]);
    let flowed = shown.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flowed.contains("were enough"), "{flowed}");
    let capped = json(&study(
        &room,
        "run",
        &[
            "--precise",
            "backlog.max_trays=0.01",
            "--at-most",
            "40",
            "--json",
        ],
    ));
    assert_eq!(capped["repeats"], 40);
    assert!(
        capped["enough"].as_str().unwrap().contains("cap of 40"),
        "{}",
        capped["enough"]
    );
    refused(
        &study(&room, "run", &["--precise", "backlog.max_trays"]),
        &["write for example"],
    );
    refused(
        &study(&room, "run", &["--precise", "backlog.max_tray=3"]),
        &["backlog.max_trays"],
    );
    refused(
        &study(&room, "run", &["--until-sure", "--repeats", "9"]),
        &["--repeats"],
    );
}

#[test]
fn one_thread_and_two_write_the_same_bytes_in_every_study() {
    let room = Room::new();
    let studies: [(&str, &[&str]); 2] = [
        (
            "compare",
            &[
                "--change",
                "scrapping.server.handling_s=65",
                "--repeats",
                "6",
            ],
        ),
        (
            "vary",
            &[
                "--over",
                "scrapping.server.handling_s=50..70",
                "--steps",
                "2",
                "--repeats",
                "4",
            ],
        ),
    ];
    for (command, arguments) in studies {
        let manifest = |threads: &str, out: &str| {
            let said = study(
                &room,
                command,
                &[arguments, &["--threads", threads, "--out", out]].concat(),
            );
            assert_eq!(said.code, Some(0), "{said:?}");
            room.read(&format!("{out}/manifest.json"))
        };
        assert_eq!(manifest("1", "one"), manifest("2", "two"), "{command}");
    }
}

/// The queue of the example with a slower post, written by hand.
fn slower() -> String {
    let queue = include_str!("../../../../scenarios/textbook-single-queue.toml");
    let slower = queue.replace("handling_s = 60", "handling_s = 65");
    assert!(slower != queue);
    slower
}

#[test]
fn a_changed_run_is_the_run_of_a_file_that_says_so_and_tells_what_was_changed() {
    let room = Room::new();
    room.write("slower.toml", &slower());
    let few = ["--repeats", "3", "--json"];
    let change = ["--change", "scrapping.server.handling_s=65"];
    let written = json(&room.scullery(&[&["run", "slower.toml"], &few[..]].concat()));
    let changed = study(&room, "run", &[&few[..], &change[..]].concat());
    assert_eq!(changed.code, Some(0), "{changed:?}");
    let changed = json(&changed);
    assert_eq!(changed["measures"], written["measures"]);
    let usual = json(&study(&room, "run", &few));
    assert_ne!(changed["measures"], usual["measures"]);
    assert_eq!(
        changed["source"]["scenario"],
        "embedded: textbook-single-queue, changed: scrapping.server.handling_s=65"
    );
    assert_ne!(changed["source"]["hash"], usual["source"]["hash"]);
}

#[test]
fn run_and_why_take_changes_and_say_what_is_wrong_with_one() {
    let room = Room::new();
    for command in ["run", "why"] {
        let said = study(
            &room,
            command,
            &["--change", "scraping.server.handling_s=65"],
        );
        assert_eq!(said.code, Some(2), "{said:?}");
        assert!(said.err.contains("scrapping"), "{}", said.err);
    }
    let lunches = ["--shown-lunches", "2", "--json"];
    let change = ["--change", "scrapping.server.handling_s=65; -crew.nobody"];
    let said = study(&room, "why", &[&lunches[..], &change[..]].concat());
    assert_eq!(said.code, Some(2), "{said:?}");
    let said = study(
        &room,
        "why",
        &[
            &lunches[..],
            &change[..1],
            &["scrapping.server.handling_s=65"],
        ]
        .concat(),
    );
    assert_eq!(said.code, Some(0), "{said:?}");
    let source = json(&said)["about"]["source"].as_str().unwrap().to_owned();
    assert!(
        source.ends_with("changed: scrapping.server.handling_s=65"),
        "{source}"
    );
    // What stands so already alters nothing, and that is told.
    let same = [
        "--change",
        "scrapping.server.handling_s=60.0",
        "--repeats",
        "2",
        "--quiet",
    ];
    let said = study(&room, "run", &same);
    assert!(said.err.contains("alters nothing"), "{said:?}");
}
