//! The gate at the load end. Up: the racks on its lane are held, and stacked ware is loaded by hand at its table. Down: racks
//! run in, and nobody loads by hand.

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, lane};
use crate::time::SimTime;

/// A gate between a lane of racks and a post where stacked ware is loaded by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Gate {
    /// Its name.
    pub name: String,
    /// Number of the lane whose racks it holds at the end while it is up.
    pub lane: u8,
    /// Number of the racking table (or load end) where ware is loaded by hand while it is up.
    pub table: u8,
    /// When it is up.
    pub rule: GateRule,
}

/// When a gate is up. Whatever the rule: once nothing soiled comes from the diners any more, a side with nothing waiting gives
/// way to the other.
#[derive(Clone, Debug, PartialEq)]
pub enum GateRule {
    /// Down once so many racks stand on the lane, up again once there are so few.
    Racks {
        /// Goes down at this many.
        down_at: u32,
        /// Goes up at this many, fewer than `down_at`.
        up_at: u32,
    },
    /// Up (`true`) or down from each of these times on, in clock order; down before the first.
    Clock(Vec<(SimTime, bool)>),
    /// The side that is fuller for its room has the way; while both are as full it stays.
    FullerSide,
    /// Up while somebody has ware of the table in hand.
    ByHand,
}

#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct State {
    up: bool,
}

/// Number of the gate at the end of a lane.
pub(crate) fn of_lane(line: &Line, lane: u8) -> Option<usize> {
    line.gates.iter().position(|gate| gate.lane == lane)
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor.gates.clear();
    floor.gates.resize(line.gates.len(), State::default());
    for gate in &line.gates {
        next_by_the_clock(floor, gate);
    }
}

/// Sets when the clock next speaks.
fn next_by_the_clock(floor: &mut Floor, gate: &Gate) {
    let GateRule::Clock(times) = &gate.rule else {
        return;
    };
    let now = floor.now;
    let next = times.iter().map(|&(at, _)| at).find(|&at| at > now);
    let no = floor.lane_no(gate.lane);
    floor.set_or_clear(no, lane::GATE, Phase::Clock, next);
}

/// The clock speaks.
pub(crate) fn falls_due(floor: &mut Floor, line: &Line, i: u8) {
    if let Some(g) = of_lane(line, i) {
        next_by_the_clock(floor, &line.gates[g]);
    }
}

/// Whether ware may be loaded by hand at this table.
pub(crate) fn lets_hands(floor: &Floor, line: &Line, table: u8) -> bool {
    let mut gates = line.gates.iter().zip(&floor.gates);
    gates.all(|(gate, state)| gate.table != table || state.up || gate.rule == GateRule::ByHand)
}

/// Whether a gate should be up now.
fn wanted(floor: &Floor, line: &Line, g: usize) -> bool {
    let gate = &line.gates[g];
    let up = floor.gates[g].up;
    let racks = lane::len(floor, gate.lane);
    let table = &floor.racking[usize::from(gate.table)];
    if gate.rule == GateRule::ByHand {
        return table.in_hand();
    }
    let pieces: u32 = table.ready().map(|(_, pieces)| pieces).sum();
    if floor.rush_over && (pieces == 0 || racks == 0) {
        // Neither keeps the other waiting for what does not come.
        return if pieces == 0 { racks == 0 && up } else { true };
    }
    match &gate.rule {
        GateRule::Racks { down_at, up_at } => {
            if up {
                racks < *down_at
            } else {
                racks <= *up_at
            }
        }
        GateRule::Clock(times) => {
            let spoken = times.iter().rev().find(|(at, _)| *at <= floor.now);
            spoken.is_some_and(|&(_, up)| up)
        }
        GateRule::FullerSide => {
            let lane = line.lanes[usize::from(gate.lane)]
                .room()
                .unwrap_or(u32::MAX);
            let piles = &line.racking[usize::from(gate.table)].piles;
            let room: u64 = piles
                .iter()
                .map(|pile| u64::from(pile.room.unwrap_or(u32::MAX)))
                .sum();
            let (of_lane, of_table) =
                (u64::from(racks) * room, u64::from(pieces) * u64::from(lane));
            match of_lane.cmp(&of_table) {
                std::cmp::Ordering::Less => true,
                std::cmp::Ordering::Greater => false,
                std::cmp::Ordering::Equal => up,
            }
        }
        GateRule::ByHand => up,
    }
}

/// Puts the gate of a lane up or down, as its rule has it now.
pub(crate) fn look(floor: &mut Floor, line: &Line, i: u8) {
    let Some(g) = of_lane(line, i) else { return };
    let up = wanted(floor, line, g);
    if floor.gates[g].up == up {
        return;
    }
    floor.gates[g].up = up;
    lane::bar(floor, i, up);
    floor.telling.level(floor.n.gate[g], u32::from(up));
    let table = floor.racking_no(line.gates[g].table);
    floor.mark(table);
    floor.mark_crew();
}

/// What waits at a table has changed: the gate beside it looks again, if it would go up or down.
pub(crate) fn table_changed(floor: &mut Floor, line: &Line, table: u8) {
    for g in 0..line.gates.len() {
        if line.gates[g].table == table && wanted(floor, line, g) != floor.gates[g].up {
            let no = floor.lane_no(line.gates[g].lane);
            floor.mark(no);
        }
    }
}

impl Line {
    /// What does not fit together about gates.
    pub(crate) fn gate_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for (g, gate) in self.gates.iter().enumerate() {
            let lane = self.lanes.get(usize::from(gate.lane));
            let table = self.racking.get(usize::from(gate.table));
            let (Some(lane), Some(table)) = (lane, table) else {
                faults.push(format!("gate {} stands between nothing", gate.name));
                continue;
            };
            let again = self.gates[..g]
                .iter()
                .any(|other| other.lane == gate.lane || other.table == gate.table);
            if again {
                faults.push(format!("gate {} stands where another stands", gate.name));
            }
            if lane.room() == Some(0) {
                faults.push(format!(
                    "gate {} holds racks where none can wait",
                    gate.name
                ));
            }
            if table.piles.is_empty() || table.piles.iter().any(|pile| pile.room == Some(0)) {
                faults.push(format!(
                    "gate {} is beside a table where nothing waits",
                    gate.name
                ));
            }
            let fits = match &gate.rule {
                GateRule::Racks { down_at, up_at } => {
                    up_at < down_at && lane.room().is_none_or(|room| *down_at <= room)
                }
                GateRule::Clock(times) => times.is_sorted_by(|a, b| a.0 < b.0),
                GateRule::FullerSide => {
                    lane.room().is_some() && table.piles.iter().all(|pile| pile.room.is_some())
                }
                GateRule::ByHand => true,
            };
            if !fits {
                faults.push(format!("gate {} has a rule that cannot be kept", gate.name));
            }
        }
        faults
    }
}
