//! What held the line back where receivers, disposers and bins fill up: on a line timed by hand.

use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read_alone};
use scullery_study::bottleneck::rule::{Spent, blocked_by, bottleneck};
use scullery_study::bottleneck::stages::{Stage, stages};
use scullery_study::bottleneck::watch::StageWatch;

/// One diner a minute from 0:00:30 on, one position, 6 s to put down; each puts a tray on a stack of five and waits while it
/// is full. The porter changes it in 600 s. The plates are broken down in 6 s each and leave.
const STACK: &str = r#"
heading = { name = "Stack", note = "Invented for a test." }
meal = { starts = "00:00", ends_at = "02:00" }
covers = { per_interval = { from = "00:00", every_min = 60, counts = [60], come = "evenly" } }
days = { design_day = "mean" }
diners = { tray_work_varies = "not_at_all", waste_kg = 0 }
walking = { between_posts_s = 0, hand_wash_s = 0 }

[kind.guest]
share = 1
pieces = { tray = 1, plate = 1 }
sits = false
drop_off = "hatch"

[[ware]]
name = "tray"

[[ware]]
name = "plate"

[drop_off.hatch]
to = "counter"
positions = 1
put_down_s = 6
diners_do = [{ puts = ["tray"], into = "stack", adds_s = 0, when_full = "wait" }]

[receiver.stack]
room_pieces = 5
to = "leave"
changed = { by = ["scrapping.store"], work_s = 600 }

[table.counter]

[table.shelf]

[scrapping.sort]
takes_from = ["counter"]
handling_s = 6
piece_s = { tray = 0, plate = 0 }
sends = { tray = "leave", plate = "leave" }

[drop_off.back]
to = "shelf"

[kind.never]
share = 0
pieces = { plate = 1 }
drop_off = "back"

[scrapping.store]
takes_from = ["shelf"]
sends = { tray = "leave", plate = "leave" }

[[crew]]
name = "Sorter"
shifts = [{ from = "00:00", to = "02:00" }]
posts = ["scrapping.sort"]
unfilled_share = 0

[[crew]]
name = "Porter"
shifts = [{ from = "00:00", to = "02:00" }]
posts = ["scrapping.store"]
unfilled_share = 0
"#;

fn read(text: &str) -> Plan {
    read_alone(text, Format::Toml).unwrap_or_else(|complaints| panic!("{complaints:#?}"))
}

/// The stages, and how each spent each quarter hour of one lunch.
fn watched(plan: &Plan) -> (Vec<Stage>, Vec<Vec<Spent>>) {
    let catalogue = plan.line.catalogue();
    let stages = stages(&plan.line, &catalogue);
    let (mut tape, mut floor) = (Tape::new(), Floor::new());
    tape.draw(&plan.demand, 1, 1);
    let mut watch = StageWatch::new(&stages, &catalogue, plan.line.starts);
    let ended = run(&plan.line, &tape, &mut floor, &mut watch).unwrap();
    let spent = watch.finish(ended.at);
    (stages, spent)
}

fn number(stages: &[Stage], name: &str) -> usize {
    let found = stages.iter().position(|stage| stage.name == name);
    found.unwrap_or_else(|| panic!("{name} in {stages:#?}"))
}

fn close(seen: Spent, seconds: [f64; 3]) {
    let seen = [seen.worked, seen.blocked, seen.starved];
    let by_hand = seconds.map(|s| s / 900.0);
    let near = seen.iter().zip(&by_hand).all(|(a, b)| (a - b).abs() < 1e-9);
    assert!(near, "seen {seen:?}, by hand {by_hand:?}");
}

#[test]
fn a_drop_off_whose_diners_wait_for_a_full_receiver_is_blocked_and_whoever_changes_it_is_the_cause()
{
    let (stages, spent) = watched(&read(STACK));
    let (hatch, change) = (
        number(&stages, "drop-off hatch"),
        number(&stages, "changing stack"),
    );
    // Five stand 6 s each; the fifth, at 4:30, fills the stack. The sixth waits from 5:30 to 14:30, and from then on one
    // after the other puts down.
    close(spent[0][hatch], [30.0 + 30.0, 540.0, 300.0]);
    // The porter changes it from 4:30 to 14:30, and at 14:54 is called again.
    close(spent[0][change], [600.0 + 6.0, 0.0, 294.0]);
    // From 15:00, when the tenth is down, to 24:54 the eleventh waits; then five in 30 s, the last filling it at 25:18, and
    // the sixteenth waits from 25:24 on.
    close(spent[1][hatch], [30.0, 870.0, 0.0]);
    close(spent[1][change], [900.0 - 24.0, 0.0, 24.0]);
    let behind: Vec<Vec<usize>> = stages.iter().map(|it| it.behind.clone()).collect();
    let holds: Vec<Vec<usize>> = stages.iter().map(|it| it.holds.clone()).collect();
    assert_eq!(blocked_by(&spent[1], &holds, hatch), [change]);
    assert_eq!(
        bottleneck(&spent[1], &behind, &holds, |_| true),
        Some(change)
    );
}

#[test]
fn with_two_positions_it_is_blocked_by_half_while_one_waits_and_the_other_puts_down() {
    // Every second diner has a tray to stack: at 0:30, 2:30, ... The stack of one is full from 0:30; the second waits from 2:30
    // to 10:30 at one position; the others, a minute apart, put down in 6 s at the other.
    let text = STACK
        .replace("positions = 1", "positions = 2")
        .replace("room_pieces = 5", "room_pieces = 1")
        .replace(
            "counts = [60], come = \"evenly\"",
            "counts = [1, 1, 1, 1, 1, 1, 1, 1], come = \"evenly\"",
        )
        .replace("every_min = 60", "every_min = 1")
        .replace("pieces = { tray = 1, plate = 1 }", "pieces = { plate = 1 }")
        + r#"
[load.stacked]
kind = "stacker"
when = { at = [{ time = "00:00:45", trays = 1 }, { time = "00:02:45", trays = 1 }] }

[kind.stacker]
share = 0
pieces = { tray = 1 }
drop_off = "hatch"
"#;
    let (stages, spent) = watched(&read(&text));
    let hatch = number(&stages, "drop-off hatch");
    // The first stacks at 0:45 and is changed for until 10:45; the second waits from 2:45 to 10:45, 480 s. Five diners (3:30
    // to 7:30) put down beside: 30 s shared by halves. Before, three diners and the first stacker stand alone, 24 s; after it
    // the second stacker puts down, 6 s.
    close(
        spent[0][hatch],
        [24.0 + 6.0 + 15.0, 450.0 + 15.0, 900.0 - 510.0],
    );
}

#[test]
fn a_table_held_up_by_a_full_bin_or_disposer_is_traced_to_it() {
    let text = STACK
        .replace("diners_do = [{ puts = [\"tray\"], into = \"stack\", adds_s = 0, when_full = \"wait\" }]", "")
        .replace(
            "[receiver.stack]\nroom_pieces = 5\nto = \"leave\"\nchanged = { by = [\"scrapping.store\"], work_s = 600 }\n",
            "[disposer.mill]\nrate_kg_per_min = 0.1\nholds_kg = 0.15\n",
        )
        .replace("waste_kg = 0", "waste_kg = 0.2")
        .replacen("handling_s = 6", "handling_s = 6\nwaste_to = { waste = \"mill\" }", 1);
    let (stages, spent) = watched(&read(&text));
    let (sort, mill) = (
        number(&stages, "scrapping sort"),
        number(&stages, "disposer mill"),
    );
    // 200 g are ground in 2 min, and a second tray's find no room meanwhile. The first is down at 0:36 and cleared at 0:42;
    // from then on there is always waste, and the second, done at 1:42, is held until 2:42. After that 6 s of work and 114 s
    // held take turns; work begins at 16:42, 18:42 and so on, seven times from 15:00 to 30:00.
    close(spent[1][mill], [900.0, 0.0, 0.0]);
    close(spent[1][sort], [42.0, 858.0, 0.0]);
    let holds: Vec<Vec<usize>> = stages.iter().map(|it| it.holds.clone()).collect();
    assert_eq!(blocked_by(&spent[1], &holds, sort), [mill]);
}

#[test]
fn a_receiver_that_need_not_be_changed_makes_no_bottleneck_of_the_drop_off() {
    // The stack never fills: whoever changes it has nothing to do, and that holds nobody back.
    let (stages, spent) = watched(&read(
        &STACK.replace("room_pieces = 5", "room_pieces = 500"),
    ));
    let behind: Vec<Vec<usize>> = stages.iter().map(|it| it.behind.clone()).collect();
    let holds: Vec<Vec<usize>> = stages.iter().map(|it| it.holds.clone()).collect();
    let change = number(&stages, "changing stack");
    close(spent[0][change], [0.0, 0.0, 900.0]);
    let mut busy = spent[0].clone();
    // As if the diners had stood there all the time, at a table that keeps pace.
    let (hatch, sort) = (
        number(&stages, "drop-off hatch"),
        number(&stages, "scrapping sort"),
    );
    for stage in [hatch, sort] {
        busy[stage] = Spent {
            worked: 1.0,
            ..Spent::default()
        };
    }
    assert_ne!(bottleneck(&busy, &behind, &holds, |_| true), Some(hatch));
    // It would be one if whoever changes the stack were a stage that the drop-off keeps waiting.
    assert_eq!(bottleneck(&busy, &holds, &holds, |_| true), Some(hatch));
}

#[test]
fn a_chute_over_a_full_pile_passes_the_trouble_on_to_who_racks_it() {
    let text = STACK
        .replace(
            "name = \"tray\"\n",
            "name = \"tray\"\nfits = [{ rack = \"flat\", pieces = 50 }]\n",
        )
        .replace(
            "to = \"leave\"\nchanged = { by = [\"scrapping.store\"], work_s = 600 }",
            "to = { pile = \"bench\" }",
        )
        .replace(
            "posts = [\"scrapping.store\"]",
            "posts = [\"scrapping.store\", \"racking.bench\"]",
        )
        + r#"
[[rack]]
name = "flat"
count = 9

[racking.bench]
to = "leave"
open_racks = 1
part_racks_wait = true
grab = 1
varies = "not_at_all"
pile = [{ ware = "tray", room_pieces = 1, piece_s = 120 }]
"#;
    let (stages, spent) = watched(&read(&text));
    let (hatch, bench) = (
        number(&stages, "drop-off hatch"),
        number(&stages, "racking bench"),
    );
    // A tray a minute comes and one is racked in two: in the second half hour everything is full.
    let holds: Vec<Vec<usize>> = stages.iter().map(|it| it.holds.clone()).collect();
    close(spent[2][bench], [900.0, 0.0, 0.0]);
    assert_eq!(blocked_by(&spent[2], &holds, hatch), [bench]);
}
