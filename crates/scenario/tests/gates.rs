//! The example with a gate: what it means and what the description says.

use scullery_engine::line::{GateRule, Order};

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
