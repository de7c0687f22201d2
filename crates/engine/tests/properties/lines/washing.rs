//! Machines, clean ends and carts of a random line.

use scullery_engine::line::*;
use scullery_engine::time::Span;

use super::{Shape, stops};
use crate::properties::dice::Dice;

pub(super) fn machines(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for m in 0..shape.machines {
        let tunnel_mm = dice.between(500, 3_000);
        let rinse_from = dice.upto(tunnel_mm);
        let kind = if dice.once_in(4) {
            MachineKind::Flight {
                tunnel_mm,
                rinse_mm: (rinse_from, dice.between(rinse_from, tunnel_mm)),
                speed_mm_min: dice.between(500, 3_000),
                piece_um: (0..shape.classes)
                    .map(|_| dice.between(5_000, 60_000))
                    .collect(),
                rack_mm: dice.between(300, 600),
            }
        } else if dice.once_in(2) {
            MachineKind::Conveyor {
                pitch_mm: dice.between(400, 700),
                tunnel_mm,
                rinse_mm: (rinse_from, dice.between(rinse_from, tunnel_mm)),
                speed_mm_min: dice.between(500, 3_000),
            }
        } else {
            MachineKind::Door {
                batch: dice.between(1, 3),
                cycle_s: dice.dist(60.0),
            }
        };
        // A number the lane cannot hold is refused.
        // Two machines may stand at the end of one lane on which racks wait.
        let shares = line.lanes[0].room() != Some(0) && dice.once_in(4);
        let from = if shares { 0 } else { m };
        let most = line.lanes[usize::from(from)].room().unwrap_or(6).min(6);
        let control = if most > 0 && dice.once_in(2) {
            Control::HoldAndRun {
                racks: dice.between(1, most),
                longest_wait: dice.once_in(2).then(|| dice.span(400)),
                work: dice.once_in(3).then(|| dice.span(300)),
            }
        } else {
            Control::RunsThroughout
        };
        let on_at = shape.starts + dice.span(300);
        let heat_up = dice.span(300);
        line.machines.push(Machine {
            name: format!("machine {m}"),
            kind,
            from: Some(from),
            to: (shape.clean_ends > 0).then(|| dice.upto(u32::from(shape.clean_ends) - 1) as u8),
            control,
            on_at,
            off_at: dice
                .once_in(8)
                .then(|| on_at + heat_up + Span::from_s(f64::from(dice.between(1, 3_000)))),
            heat_up,
            start_s: dice.dist(20.0),
            stops: stops(shape.starts, dice),
            // Where no rack can wait nobody can load one: refused.
            loading: (most > 0 && dice.once_in(2)).then(|| Loading {
                rack_s: dice.secs(20),
                variation: dice.factor(),
                places: dice.between(1, 2),
            }),
            gap: if dice.once_in(4) {
                dice.span(20)
            } else {
                Span::NONE
            },
            tank: dice.once_in(4).then(|| WaterChange {
                at: vec![shape.starts + dice.span(2_000)],
                every_racks: dice.once_in(2).then(|| dice.between(1, 9)),
                drain_and_fill: dice.span(200),
                heat: dice.span(200),
            }),
            hot_water: dice.once_in(4).then(|| HotWater {
                store_ul: u64::from(dice.between(1, 20)) * 500_000,
                rack_ul: u64::from(dice.between(1, 6)) * 500_000,
                recovers_ul_per_h: u64::from(dice.between(50, 500)) * 1_000_000,
            }),
            dosing: dice.once_in(4).then(|| Dosing {
                reservoir_mg: u64::from(dice.between(10, 500)),
                rack_mg: u64::from(dice.between(1, 40)),
                warns_below_mg: u64::from(dice.between(1, 60)),
            }),
            dries_to: dice.pick(&[1000, 1000, 400]),
        });
    }
}

pub(super) fn clean_ends(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for c in 0..shape.clean_ends {
        line.clean_ends.push(CleanEnd {
            name: format!("clean end {c}"),
            places: dice.once_in(2).then(|| dice.between(1, 4)),
            // At least what a worker has in one grab.
            pieces: dice.once_in(2).then(|| dice.between(8, 30)),
            by_hand: dice.once_in(2),
            workers: dice.between(1, 2),
            variation: dice.factor(),
            back: if dice.once_in(2) {
                Back::Trips {
                    of: dice.between(1, 3),
                    lasts: dice.span(60),
                }
            } else {
                Back::After(dice.span(90))
            },
        });
    }
}

/// Shares that are washed again, where a pile takes them, and that break.
pub(super) fn look_over(line: &mut Line, dice: &mut Dice) {
    for class in 0..line.classes.len() {
        line.classes[class].broken = dice.pick(&[0.0, 0.0, 0.0, 0.02, 0.2]);
        let takes = |table: &Racking| {
            let mut piles = table.piles.iter();
            piles.any(|pile| usize::from(pile.class.0) == class && pile.room != Some(0))
        };
        let to = line.racking.iter().position(takes);
        line.classes[class].rewash = to.filter(|_| dice.once_in(2)).map(|to| Rewash {
            share: dice.pick(&[0.05, 0.3, 0.6]),
            to: to as u8,
        });
    }
}

/// A class that is washed twice, with a table of its own where it is sorted, where every machine has a clean end.
pub(super) fn second_pass(line: &mut Line, dice: &mut Dice) {
    let ends = line.machines.iter().all(|machine| machine.to.is_some());
    if line.machines.is_empty() || !ends || !dice.once_in(2) {
        return;
    }
    let lanes: Vec<u8> = line.machines.iter().filter_map(|m| m.from).collect();
    if lanes.is_empty() {
        return;
    }
    let class = dice.upto(line.classes.len() as u32 - 1) as u8;
    let kind = dice.upto(line.rack_kinds.len() as u32 - 1) as u8;
    let held_back = match dice.upto(3) {
        3 => vec![Release::LaneBelow(dice.between(1, 3)), Release::RushOver],
        _ => vec![],
    };
    line.classes[usize::from(class)].second_pass = Some(SecondPass {
        at: line.racking.len() as u8,
        fits: vec![(RackKindId(kind), dice.between(1, 8) as u16)],
        take_off_s: dice.secs(10),
    });
    line.racking.push(Racking {
        name: "sorting".into(),
        open_racks: dice.between(1, 3),
        limit: dice
            .once_in(2)
            .then(|| Span::from_s(f64::from(dice.between(1, 400)))),
        to: RacksTo::Lane(dice.pick(&lanes)),
        places: dice.between(1, 2),
        grab: dice.between(1, 8),
        piles: vec![Pile {
            class: ClassId(class),
            room: dice.once_in(2).then(|| dice.between(1, 12)),
            piece_s: dice.secs(4),
            soak: dice.pick(&[Span::NONE, Span::NONE, Span::from_s(25.5)]),
            held_back,
        }],
        variation: dice.factor(),
        order: Order::Usual,
        levels: vec![],
    });
}

pub(super) fn delivery(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    if !shape.delivery {
        return;
    }
    let below = line
        .classes
        .iter()
        .map(|_| dice.once_in(2).then(|| dice.between(1, 30)));
    line.delivery = Some(Delivery {
        name: "runner".into(),
        below: below.collect(),
        carts: dice.between(1, 3),
        cart_pieces: dice.between(1, 20),
        trip: dice.span(120),
        variation: dice.factor(),
    });
}
