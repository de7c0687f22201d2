//! Belts in a file: curves and return run, belts beside one another, belts for stacks; what `check` says of them.

use scullery_engine::line::{EndRule, PiecesTo, TraysFrom, Twin, TwinTakes};
use scullery_scenario::{CheckReport, Format, read_alone};

use crate::checks::{EVEN, near, report};

/// The even hour with something in place of its belt, and posts that may take from it.
fn with_belts(belts: &str, takes_from: &str) -> String {
    let (before, rest) = EVEN.split_once("[belt.soiled]").unwrap();
    let (_, after) = rest.split_once("[scrapping.main]").unwrap();
    let after = after.replace(r#"takes_from = ["soiled"]"#, takes_from);
    format!("{before}{belts}\n[scrapping.main]{after}")
}

fn beside(takes: &str) -> String {
    let belts = format!(
        r#"[belt.soiled]
length_m = 6
spacing_m = 0.5
speed_m_per_min = 6
ends = "stops_on_arrival"

[belt.other]
length_m = 3
spacing_m = 0.25
speed_m_per_min = 6
ends = "closes_up"
beside = {{ belt = "soiled", takes = {takes} }}
"#
    );
    with_belts(&belts, r#"takes_from = ["soiled", "other"]"#)
}

fn figure(report: &CheckReport, id: &str) -> f64 {
    let found = report.figures.iter().find(|figure| figure.id == id);
    found.unwrap_or_else(|| panic!("no figure {id}")).value
}

fn words(report: &CheckReport) -> String {
    let all: Vec<&str> = report.figures.iter().map(|it| it.words.as_str()).collect();
    all.join("\n")
}

fn described(text: &str) -> String {
    let plan = read_alone(text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"));
    plan.description.join("\n")
}

#[test]
fn curves_make_a_belt_longer_by_their_arcs_and_the_return_run_counts_once_round() {
    // Half a circle of radius 1 m and a quarter of one of 2 m: pi m each. 4 + 6.283 m of way at 6 m a minute: 102.83 s;
    // with 11 m of return run 21.283 m: 212.83 s.
    let belt = r#"[belt.soiled]
length_m = 4
curves = [{ angle_deg = 180, radius_m = 1 }, { radius_m = 2 }]
return_run_m = 11
spacing_m = 0.5
speed_m_per_min = 6
ends = "closes_up"
"#;
    let text = with_belts(belt, r#"takes_from = ["soiled"]"#);
    let report = report(&text);
    let arcs = 2.0 * std::f64::consts::PI;
    // Lengths are whole millimetres.
    let way_mm = ((4.0 + arcs) * 1000.0).round();
    near(figure(&report, "belt.soiled.transit"), way_mm / 100.0);
    near(figure(&report, "belt.soiled.holds"), 20.0);
    near(
        figure(&report, "belt.soiled.once_round"),
        (4.0 + arcs + 11.0) * 10.0,
    );
    assert!(
        words(&report).contains(
            "Belt soiled is 21.3 m once round (4 m straight, 6.28 m in curves and 11 m of return run): 213 s."
        ),
        "{}",
        words(&report)
    );
    let told = described(&text);
    assert!(
        told.contains("Belt soiled: 10.3 m long (6.28 m of it in 2 curves), trays 0.5 m apart"),
        "{told}"
    );
}

#[test]
fn a_belt_beside_takes_trays_by_kind_by_ware_or_where_there_is_no_gap() {
    for (takes, meant, told) in [
        (
            r#"{ kinds = ["guest"] }"#,
            TwinTakes::Kinds(vec![true]),
            "Belt other runs beside belt soiled and takes trays of guest.",
        ),
        (
            r#"{ ware = ["glass"] }"#,
            TwinTakes::Ware(vec![false, true]),
            "Belt other runs beside belt soiled and takes trays that carry glass.",
        ),
        (
            r#""no_gap""#,
            TwinTakes::NoGap,
            "Belt other runs beside belt soiled and takes trays that find no gap there.",
        ),
    ] {
        let text = beside(takes);
        let plan = read_alone(&text, Format::Toml).unwrap();
        // In order of name: other, soiled.
        assert_eq!(
            plan.line.twins,
            [Twin {
                belt: 1,
                beside: 0,
                takes: meant
            }]
        );
        assert_eq!(
            plan.line.scrapping[0].from,
            [TraysFrom::BeltEnd(1), TraysFrom::BeltEnd(0)]
        );
        assert!(described(&text).contains(told), "{}", described(&text));
    }
}

#[test]
fn the_static_table_gives_each_belt_the_trays_that_go_on_it() {
    // 150 trays in a quarter hour. Soiled lets 12 a minute pass (6 m, 0.5 m apart): 180; the other 24: 360. Every tray has a
    // glass: all on the other. Without a word, each takes what it lets pass: a third and two thirds.
    let share = |text: &str, belt: &str| {
        let table = report(text).quarters.unwrap();
        let stage = table.stages.iter().position(|stage| stage == belt).unwrap();
        table.quarters[0].shares[stage].unwrap()
    };
    let by_ware = beside(r#"{ ware = ["glass"] }"#);
    near(share(&by_ware, "belt other"), 150.0 / 360.0);
    near(share(&by_ware, "belt soiled"), 0.0);
    let no_gap = beside(r#""no_gap""#);
    near(share(&no_gap, "belt other"), 100.0 / 360.0);
    near(share(&no_gap, "belt soiled"), 50.0 / 180.0);
}

#[test]
fn a_belt_for_stacks_carries_ware_from_breaking_down_to_its_table() {
    let (before, after) = EVEN.split_once("[racking.table]").unwrap();
    let stacks = r#"[scrapping.main.sends]
plate = { stacks = "china" }

[stacks.china]
to = "table"
pieces = { plate = 15 }
length_m = 3
spacing_m = 0.3
speed_m_per_min = 6
ends = { advances_on_demand = { section_m = 0.5 } }

[[racking.table.pile]]
ware = "plate"
room_pieces = 0

[racking.table]"#;
    let people = after.replace(
        r#"posts = ["scrapping.main", "unloading.clean"]"#,
        r#"posts = ["scrapping.main", "racking.table", "unloading.clean"]"#,
    );
    let text = format!("{before}{stacks}{people}");
    let plan = read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let belt = &plan.line.stack_belts[0];
    assert_eq!((belt.pieces.as_slice(), belt.to), (&[15, 0][..], 0));
    assert_eq!(
        belt.belt.rule,
        EndRule::AdvancesOnDemand { section_mm: 500 }
    );
    assert_eq!(
        plan.line.scrapping[0].routes,
        [PiecesTo::Stacks(0), PiecesTo::Racks(0)]
    );
    let told = plan.description.join("\n");
    for sentence in [
        "From scrapping main plate goes in stacks on a belt.",
        "Belt china carries stacks (15 plate) to table: 3 m long, stacks 0.3 m apart, so it holds 10; 6 m a minute from 12:00; it moves 0.5 m when a worker at its end is free, and stops when a stack reaches the end.",
    ] {
        assert!(told.contains(sentence), "{told}");
    }
    let report = report(&text);
    near(figure(&report, "stacks.china.holds"), 10.0);
    near(figure(&report, "stacks.china.transit"), 30.0);
    assert!(
        words(&report).contains("Belt china holds 10 stacks, 150 pieces"),
        "{}",
        words(&report)
    );
}
