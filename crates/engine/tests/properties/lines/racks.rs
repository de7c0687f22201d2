//! Racking tables and lanes of a random line.

use scullery_engine::line::*;
use scullery_engine::time::Span;

use super::{Shape, speeds, stops};
use crate::properties::dice::Dice;

pub(super) fn racking(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for r in 0..shape.racking {
        let to = match shape.machines {
            0 => RacksTo::Leave,
            machines => {
                let m = r.min(machines - 1);
                let machine = &line.machines[usize::from(m)];
                if matches!(machine.kind, MachineKind::Flight { .. }) && !dice.once_in(3) {
                    RacksTo::Machine(m)
                } else {
                    RacksTo::Lane(machine.from.unwrap_or(m))
                }
            }
        };
        let mut piles = Vec::new();
        for class in 0..shape.classes {
            if dice.once_in(2) {
                let held_back = match dice.upto(6) {
                    6 => vec![
                        Release::LaneBelowFrom(
                            dice.between(1, 3),
                            shape.starts + Span::from_s(f64::from(dice.upto(1_500))),
                        ),
                        Release::RushOver,
                    ],
                    5 => vec![Release::LaneBelow(dice.between(1, 3)), Release::RushOver],
                    4 => vec![
                        Release::From(shape.starts + Span::from_s(f64::from(dice.upto(1_500)))),
                        Release::RushOver,
                    ],
                    _ => vec![],
                };
                piles.push(Pile {
                    class: ClassId(class),
                    // Held back where there is room for nothing makes no sense and is refused.
                    room: dice
                        .once_in(2)
                        .then(|| dice.upto(12).max(u32::from(!held_back.is_empty()))),
                    piece_s: dice.secs(4),
                    soak: Span::NONE,
                    held_back,
                });
                if let Some(pile) = piles.last_mut().filter(|pile| pile.room != Some(0)) {
                    pile.soak = dice.pick(&[Span::NONE, Span::NONE, Span::from_s(40.0)]);
                }
            }
        }
        line.racking.push(Racking {
            name: format!("racking {r}"),
            open_racks: dice.between(1, 4),
            limit: dice
                .once_in(2)
                .then(|| Span::from_s(f64::from(dice.between(1, 400)))),
            to,
            places: dice.between(1, 2),
            grab: dice.between(1, 8),
            piles,
            variation: dice.factor(),
            order: Order::Usual,
            levels: vec![],
        });
    }
}

pub(super) fn lanes(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for l in 0..shape.machines {
        let kind = if dice.once_in(2) {
            LaneKind::Rollers {
                length_mm: dice.between(500, 4_000),
                rack_mm: 500,
                speed: speeds(shape.starts, dice),
            }
        } else {
            LaneKind::Shelf {
                room: dice.once_in(2).then(|| dice.upto(5)),
            }
        };
        let mut stops = stops(shape.starts, dice);
        if matches!(kind, LaneKind::Shelf { .. }) {
            // Nothing on a shelf moves: stops are refused.
            stops.clear();
        }
        line.lanes.push(Lane {
            name: format!("lane {l}"),
            kind,
            stops,
            hands_to: None,
            order: Order::default(),
        });
    }
}

/// Orders between classes, and a gate where a lane and a table with piles allow one.
pub(super) fn gate(line: &mut Line, dice: &mut Dice) {
    let order = |dice: &mut Dice| match dice.upto(5) {
        3 => Order::FirstCome,
        4 => Order::ShortestStock,
        5 => Order::Fixed(vec![ClassId(0)]),
        _ => Order::Usual,
    };
    for table in &mut line.racking {
        table.order = order(dice);
    }
    for lane in &mut line.lanes {
        lane.order = order(dice);
    }
    if line.lanes.is_empty() || line.racking.is_empty() || !dice.once_in(2) {
        return;
    }
    let lane = dice.upto(line.lanes.len() as u32 - 1) as u8;
    let table = dice.upto(line.racking.len() as u32 - 1) as u8;
    let starts = line.starts;
    let later = |s: u32| starts + Span::from_s(f64::from(s));
    let rule = match dice.upto(3) {
        0 => GateRule::ByHand,
        1 => GateRule::FullerSide,
        2 => {
            let up = dice.upto(600);
            GateRule::Clock(vec![
                (later(up), true),
                (later(up + dice.between(1, 600)), false),
            ])
        }
        _ => {
            let up_at = dice.upto(1);
            let down_at = up_at + dice.between(1, 3);
            GateRule::Racks { down_at, up_at }
        }
    };
    line.gates.push(Gate {
        name: "gate".into(),
        lane,
        table,
        rule,
    });
    // Where it does not fit there is none.
    if line.faults().iter().any(|fault| fault.starts_with("gate ")) {
        line.gates.clear();
    }
}

/// Levels above tables, for some of the classes, with a lane of their own, the table's, or off the line.
pub(super) fn levels(line: &mut Line, dice: &mut Dice) {
    let bench = line.racking.clone();
    let classes = line.classes.len() as u8;
    for table in &mut line.racking {
        if matches!(table.to, RacksTo::Machine(_)) || !dice.once_in(2) {
            continue;
        }
        let mut left: Vec<ClassId> = (0..classes).map(ClassId).collect();
        for l in 0..dice.between(1, 2) {
            let own = dice.upto(line.lanes.len().saturating_sub(1) as u32) as u8;
            let to = match dice.upto(3) {
                0 | 1 => table.to,
                2 => RacksTo::Leave,
                _ if line.lanes.is_empty() => table.to,
                _ => RacksTo::Lane(own),
            };
            let (here, elsewhere) = left.iter().partition(|_| dice.once_in(2));
            left = elsewhere;
            table.levels.push(Level {
                name: format!("level {l}"),
                open_racks: dice.between(1, 3),
                classes: here,
                to,
            });
        }
    }
    // Ware of two passes may not leave before the second.
    if line
        .faults()
        .iter()
        .any(|fault| fault.contains("is sorted where"))
    {
        line.racking = bench;
    }
}

/// Lanes that hand over to others, with the tables that sent racks there: every rack runs over both.
pub(super) fn hand_over(line: &mut Line, dice: &mut Dice) {
    for next in 0..line.lanes.len() {
        if line.lanes[next].room() == Some(0) || !dice.once_in(3) {
            continue;
        }
        let before = line.lanes.len() as u8;
        let kind = if dice.once_in(2) {
            LaneKind::Rollers {
                length_mm: dice.between(500, 3_000),
                rack_mm: 500,
                speed: speeds(line.starts, dice),
            }
        } else {
            LaneKind::Shelf {
                room: dice.once_in(2).then(|| dice.between(1, 4)),
            }
        };
        let mut stops = stops(line.starts, dice);
        if matches!(kind, LaneKind::Shelf { .. }) {
            stops.clear();
        }
        line.lanes.push(Lane {
            name: format!("lane before {next}"),
            kind,
            stops,
            hands_to: Some(next as u8),
            order: Order::default(),
        });
        for table in &mut line.racking {
            if table.to == RacksTo::Lane(next as u8) && !dice.once_in(4) {
                table.to = RacksTo::Lane(before);
            }
        }
    }
}
