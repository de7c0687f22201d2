//! Ware that is washed twice in a file: what it means and what `check` says of it.

use scullery_engine::line::{PiecesTo, RackKindId, SecondPass};
use scullery_scenario::{Format, read_alone};

use crate::checks::{EVEN, figure, near, report};

/// The even hour in which plates are washed twice: racks of 20 tipped out in 8 s, sorted at 0.5 s a piece into racks of 10.
fn plates_twice() -> String {
    let twice = "two_passes = { sorted_at = \"sorting\", fits = [{ rack = \"glass\", pieces = 10 }], take_off_s = 8 }\ndry_min = 2";
    let table = r#"[racking.sorting]
to = "feed"
open_racks = 2
part_racks_wait = true
varies = "not_at_all"

[[racking.sorting.pile]]
ware = "plate"
piece_s = 0.5

[lane.feed]"#;
    EVEN.replacen("dry_min = 2", twice, 1)
        .replacen("[lane.feed]", table, 1)
        .replace(
            r#""scrapping.main"]"#,
            r#""scrapping.main", "racking.sorting"]"#,
        )
}

#[test]
fn trays_go_to_the_other_table_and_pieces_to_the_sorting_one_in_between() {
    let plan = read_alone(&plates_twice(), Format::Toml).unwrap();
    let line = &plan.line;
    let sorting = line.racking.iter().position(|it| it.name == "sorting");
    let bench = line.racking.iter().position(|it| it.name == "table");
    assert_eq!(
        line.classes[0].second_pass,
        Some(SecondPass {
            at: sorting.unwrap() as u8,
            fits: vec![(RackKindId(1), 10)],
            take_off_s: 8.0
        })
    );
    // Where plates and glasses go from the tray need not be said: the sorting table is not one of the choices.
    let to = PiecesTo::Racks(bench.unwrap() as u8);
    assert_eq!(line.scrapping[0].routes, [to, to]);
}

#[test]
fn check_counts_both_passes() {
    let report = report(&plates_twice());
    let said = "The plate goes through the machine twice: after the first pass a rack is tipped out (8 s), its pieces sorted at sorting into glass racks of 10, and after the second it is clean.";
    assert!(
        report.description.contains(&said.to_owned()),
        "{:#?}",
        report.description
    );
    // 600 plates are 30 racks tipped out in 8 s each, 600 pieces unloaded at 1 s, 600 sorted at 0.5 s, 48 glass racks at 10 s
    // and 600 trays of 8 s.
    near(
        figure(&report, "crew.work"),
        (4800.0 + 240.0 + 600.0 + 300.0 + 480.0) / 3600.0,
    );
    // First racks: tunnel 80 s, tipped out 8 s, back 30 s. Second racks, with the glasses: tunnel 80 s, dry 120 s, unloaded
    // 10 s, back 30 s.
    near(
        figure(&report, "rack.peg.in_loop"),
        1.0 + 30.0 * 118.0 / 3600.0,
    );
    near(
        figure(&report, "rack.glass.in_loop"),
        1.0 + 60.0 * 240.0 / 3600.0 + 1.0 + 48.0 * 360.0 / 3600.0,
    );
    // Over the hour 30 + 60 + 48 racks at 180 an hour.
    let quarters = report.quarters.unwrap();
    let machine = quarters.stages.iter().position(|it| it == "machine");
    near(
        quarters.quarters[1].shares[machine.unwrap()].unwrap(),
        138.0 / 180.0,
    );
}
