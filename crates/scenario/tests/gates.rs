//! Gates: what they mean, what the description says, and figures worked out on paper.

use scullery_engine::line::{GateRule, Order};

use crate::checks::{EVEN, figure, near, report};
use crate::scenarios::plan_of;

#[test]
fn a_gate_stands_between_its_lane_and_its_table() {
    let plan = plan_of("load-end-gate.toml");
    let line = &plan.line;
    let gate = line.gates.iter().find(|gate| gate.name == "count").unwrap();
    assert_eq!(line.lanes[usize::from(gate.lane)].name, "feed_count");
    let table = &line.racking[usize::from(gate.table)];
    assert_eq!(
        (table.name.as_str(), &table.order),
        ("stacks_count", &Order::ShortestStock)
    );
    assert_eq!(
        gate.rule,
        GateRule::Racks {
            down_at: 4,
            up_at: 0
        }
    );
    for said in [
        "Gate count: up, the racks on lane feed_count are held and ware is loaded by hand at stacks_count; down, racks run in. It goes down when 4 racks stand there and up again at 0.",
        "At stacks_count the class of which the smallest share is at the servery goes first.",
    ] {
        assert!(
            plan.description.iter().any(|it| it == said),
            "{:#?}",
            plan.description
        );
    }
}

/// [`EVEN`] with a gate: plates in racks on lane feed, glasses by hand at stacks, both onto a shelf before the machine.
fn gated(rule: &str) -> String {
    let line = format!(
        r#"
[scrapping.main.sends]
plate = {{ racks = "table" }}
glass = {{ pile = "stacks" }}

[racking.table]
to = "feed"
open_racks = 4
part_racks_wait = true

[racking.stacks]
to = "mouth"
open_racks = 2
part_racks_wait = true

[[racking.stacks.pile]]
ware = "glass"
room_pieces = 200
piece_s = 1

[lane.feed]
to = "mouth"
way = {{ rollers = {{ length_m = 3.2, rack_m = 0.5 }} }}

[lane.mouth]
to = "dish"
way = {{ shelf = {{ racks = 2 }} }}

[gate.way]
lane = "feed"
by_hand_at = "stacks"
rule = {rule}

[machine.dish]"#
    );
    let (before, after) = EVEN.split_once("[racking.table]").unwrap();
    let (_, after) = after.split_once("[machine.dish]").unwrap();
    let posts = r#"posts = ["scrapping.main", "unloading.clean"]"#;
    let loads = r#"posts = ["scrapping.main", "unloading.clean", "racking.stacks"]"#;
    format!("{before}{line}{after}").replacen(posts, loads, 1)
}

fn words<'a>(report: &'a scullery_scenario::CheckReport, id: &str) -> (&'a str, bool) {
    let mut figures = report.figures.iter();
    let figure = figures.find(|figure| figure.id == id);
    let figure = figure.unwrap_or_else(|| panic!("{id}"));
    (&figure.words, figure.look)
}

#[test]
fn what_comes_to_the_two_sides_and_what_each_needs_of_the_machine() {
    let report = report(&gated("\"fuller_side\""));
    // 600 plates an hour in racks of 20; 6.4 racks' lengths of lane hold 6: a rack every 2 min.
    near(figure(&report, "gate.way.lane_racks_per_h"), 30.0);
    near(figure(&report, "gate.way.lane_fills_min"), 12.0);
    // Two glasses a tray, 1200 an hour, 20 a minute; room for 200.
    near(figure(&report, "gate.way.by_hand_pieces_per_h"), 1200.0);
    near(figure(&report, "gate.way.by_hand_fills_min"), 10.0);
    // The machine takes 180 racks an hour: 30 of plates and 1200 / 25 = 48 of glasses.
    near(
        figure(&report, "gate.way.machine_share"),
        100.0 * (30.0 + 48.0) / 180.0,
    );
    // 1200 s of work in 3600.
    near(figure(&report, "gate.way.hands"), 100.0 / 3.0);
    let (share, look) = words(&report, "gate.way.machine_share");
    assert_eq!(
        share,
        "Gate way: in the busiest quarter hour the racks on lane feed need 16.7 % of the time of machine dish, what is loaded by hand 26.7 %: 43.3 % together."
    );
    assert!(!look);
}

#[test]
fn by_racks_it_is_up_while_they_come_and_down_while_the_machine_takes_them_in() {
    let rule = "{ racks = { down_at = 5, up_at = 1 } }";
    let report = report(&gated(rule));
    // Four racks more, one every 2 min.
    near(figure(&report, "gate.way.up_min"), 8.0);
    // The lane loses 180 - 30 = 150 racks an hour: 4 in 1.6 min, in which 32 glasses come.
    near(figure(&report, "gate.way.down_min"), 1.6);
    let (down, look) = words(&report, "gate.way.down_min");
    assert_eq!(
        down,
        "Gate way: it goes up again 1.6 min later, when as many are in the machine; meanwhile 32 pieces come to be loaded by hand, 32 of glass with room for 200."
    );
    assert!(!look);
    // Room for 30 is less than that.
    let tight = gated(rule).replace("room_pieces = 200", "room_pieces = 30");
    assert!(words(&self::report(&tight), "gate.way.down_min").1);
}

#[test]
fn a_machine_that_cannot_keep_up_with_both_sides_is_told() {
    // 0.25 m a minute at 0.5 m a rack: 30 racks an hour, as many as the lane brings.
    let slow = gated("{ racks = { down_at = 5, up_at = 1 } }")
        .replace("speed_m_per_min = 1.5", "speed_m_per_min = 0.25");
    let report = report(&slow);
    near(
        figure(&report, "gate.way.machine_share"),
        100.0 * 78.0 / 30.0,
    );
    let (share, look) = words(&report, "gate.way.machine_share");
    assert!(
        look && share
            .ends_with("260 % together, more than there is: no rule of the gate can keep up."),
        "{share}"
    );
    near(figure(&report, "gate.way.stays_down"), 1.0);
    assert!(words(&report, "gate.way.stays_down").1);
    assert!(!report.figures.iter().any(|it| it.id == "gate.way.down_min"));
}

#[test]
fn by_the_clock_the_longest_spans_tell_what_is_held_and_what_gathers() {
    let report = report(&gated(
        r#"{ clock = [{ from = "12:10", to = "12:25" }, { from = "12:40", to = "12:44:30" }] }"#,
    ));
    // 15 min of a rack every 2 min on a lane of 6.
    near(figure(&report, "gate.way.held_racks"), 7.5);
    assert!(words(&report, "gate.way.held_racks").1);
    // Down 10, 15 and, until the last tray of 13:00, 15.5 min: 310 glasses at 20 a minute.
    near(figure(&report, "gate.way.gathers"), 310.0);
    assert_eq!(
        words(&report, "gate.way.gathers"),
        (
            "Gate way: down from 12:44:30 on, 310 pieces come to be loaded by hand, 310 of glass with room for 200.",
            true
        )
    );
}

#[test]
fn by_hand_it_is_up_while_the_work_lasts() {
    let hand = gated("\"by_hand\"");
    assert_eq!(
        words(&report(&hand), "gate.way.hands"),
        (
            "Gate way: in the busiest quarter hour loading by hand at stacks takes 33.3 % of the time of one person, and 1 can stand there: so long the gate is up, done by one.",
            false
        )
    );
    // 3 s a glass: an hour's glasses are an hour's work, and the racks are never let in.
    let full = report(&hand.replace("piece_s = 1\n", "piece_s = 3\n"));
    near(figure(&full, "gate.way.hands"), 100.0);
    assert!(words(&full, "gate.way.hands").1);
}

#[test]
fn ware_held_back_does_not_wait_at_the_gate() {
    let held = gated("\"fuller_side\"").replace(
        "piece_s = 1\n",
        "piece_s = 1\nheld_back = [\"rush_over\"]\n",
    );
    let report = report(&held);
    near(figure(&report, "gate.way.by_hand_pieces_per_h"), 0.0);
    near(
        figure(&report, "gate.way.machine_share"),
        100.0 * 30.0 / 180.0,
    );
}
