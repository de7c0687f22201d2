//! Gates and order between classes at the load end.

use scullery_engine::line::{ClassId, Gate, GateRule, Lane, Order, Racking};

use super::checker::Checker;
use super::names::Names;
use crate::file::{GateFile, GateRuleFile, OrderFile, ScenarioFile, UpFile};

/// Gates, in order of name.
pub(crate) fn gates(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    lanes: &[Lane],
    racking: &[Racking],
) -> Vec<Gate> {
    let mut gates: Vec<Gate> = Vec::new();
    for (name, written) in &file.gate {
        if let Some(gate) = gate(check, name, written, names, lanes, racking) {
            let path = format!("gate.{name}");
            if let Some(other) = gates
                .iter()
                .find(|other| other.lane == gate.lane || other.table == gate.table)
            {
                let message = format!(
                    "gate \"{name}\" stands where gate \"{}\" stands already",
                    other.name
                );
                let help = "one gate for each lane and each table";
                check.fault("gate-does-not-fit", &path, message, help);
            }
            gates.push(gate);
        }
    }
    gates
}

fn gate(
    check: &mut Checker<'_>,
    name: &str,
    written: &GateFile,
    names: &Names,
    lanes: &[Lane],
    racking: &[Racking],
) -> Option<Gate> {
    let path = format!("gate.{name}");
    let lane = check.find(&names.lanes, &written.lane, &format!("{path}.lane"), "lane");
    let at = format!("{path}.by_hand_at");
    let table = check.find(&names.racking, &written.by_hand_at, &at, "racking table");
    let (lane, table) = (lane?, table?);
    let lane_room = lanes.get(lane)?.room();
    let piles = &racking.get(table)?.piles;
    if lane_room == Some(0) {
        let message = format!("no rack can wait on lane \"{}\" for the gate", written.lane);
        let help = "give the lane room for one rack or more";
        check.fault("gate-does-not-fit", &format!("{path}.lane"), message, help);
    }
    if piles.is_empty() || piles.iter().any(|pile| pile.room == Some(0)) {
        let message = format!(
            "nothing can wait at \"{}\" for the gate",
            written.by_hand_at
        );
        let help = "give it a `pile` with room";
        check.fault("gate-does-not-fit", &at, message, help);
    }
    let rule = match &written.rule {
        GateRuleFile::ByHand => GateRule::ByHand,
        GateRuleFile::Racks { down_at, up_at } => {
            let path = format!("{path}.rule.racks");
            if up_at >= down_at {
                let message = format!("it goes down at {down_at} racks and up again at {up_at}");
                let help = "let `up_at` be fewer than `down_at`";
                check.fault("gate-does-not-fit", &format!("{path}.up_at"), message, help);
            }
            if let Some(room) = lane_room.filter(|room| down_at > room && *room > 0) {
                let message = format!(
                    "it goes down at {down_at} racks, but lane \"{}\" holds {room}",
                    written.lane
                );
                let help = format!("write at most {room}");
                check.fault(
                    "gate-does-not-fit",
                    &format!("{path}.down_at"),
                    message,
                    help,
                );
            }
            GateRule::Racks {
                down_at: *down_at,
                up_at: *up_at,
            }
        }
        GateRuleFile::FullerSide => {
            if lane_room.is_none() || piles.iter().any(|pile| pile.room.is_none()) {
                let message =
                    "which side is fuller cannot be told where there is room for as much as comes"
                        .to_owned();
                let help = "give the lane its length or racks, and each pile its `room_pieces`";
                check.fault("gate-does-not-fit", &format!("{path}.rule"), message, help);
            }
            GateRule::FullerSide
        }
        GateRuleFile::Clock(up) => GateRule::Clock(clock(check, &format!("{path}.rule.clock"), up)),
    };
    Some(Gate {
        name: name.to_owned(),
        lane: lane as u8,
        table: table as u8,
        rule,
    })
}

/// Times at which a gate goes up and down, which follow one on the other.
fn clock(
    check: &mut Checker<'_>,
    path: &str,
    up: &[UpFile],
) -> Vec<(scullery_engine::time::SimTime, bool)> {
    let mut times = Vec::new();
    for (index, span) in up.iter().enumerate() {
        let from = check.clock(&format!("{path}.{index}.from"), &span.from);
        let to = check.clock_after(&format!("{path}.{index}.to"), &span.to, from);
        if times.last().is_some_and(|&(last, _)| from <= last) {
            let message = format!("the gate goes up at {} before it has gone down", span.from);
            let help = "write the spans in clock order, not touching";
            check.fault(
                "times-out-of-order",
                &format!("{path}.{index}.from"),
                message,
                help,
            );
        }
        times.extend([(from, true), (to, false)]);
    }
    times
}

/// Order between classes, as written under `path`.
pub(crate) fn order(
    check: &mut Checker<'_>,
    names: &Names,
    path: &str,
    written: Option<&OrderFile>,
) -> Order {
    match written {
        None => Order::Usual,
        Some(OrderFile::FirstCome) => Order::FirstCome,
        Some(OrderFile::ShortestStock) => Order::ShortestStock,
        Some(OrderFile::Fixed(classes)) => {
            let find = |(index, name): (usize, &String)| {
                let path = format!("{path}.fixed.{index}");
                let class = check.find(&names.ware, name, &path, "ware");
                class.map(|class| ClassId(class as u8))
            };
            Order::Fixed(classes.iter().enumerate().filter_map(find).collect())
        }
    }
}
