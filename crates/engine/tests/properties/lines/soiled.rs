//! The soiled side of a random line: drop-offs, ways for trays, breaking down.

use scullery_engine::line::*;
use scullery_engine::time::{SimTime, Span};

use super::{Shape, speeds, stops};
use crate::properties::dice::Dice;

pub(super) fn drop_offs(line: &mut Line, shape: &Shape, dice: &mut Dice, ways: &mut Dice) {
    let starts = shape.starts;
    for d in 0..dice.pick(&[1, 1, 2]) {
        let shares = d > 0 && dice.once_in(2);
        let to = if shares {
            line.drop_offs[0].to
        } else if ways.once_in(2) {
            if ways.once_in(3) {
                accumulator(line, starts, ways);
                TraysTo::Accumulator(line.accumulators.len() as u8 - 1)
            } else {
                belt(line, starts, ways);
                TraysTo::Belt(line.belts.len() as u8 - 1)
            }
        } else {
            line.tables.push(Table {
                name: format!("table {}", line.tables.len()),
                room: ways.once_in(2).then(|| ways.upto(6)),
            });
            TraysTo::Table(line.tables.len() as u8 - 1)
        };
        let length = match to {
            TraysTo::Belt(b) => line.belts[usize::from(b)].length_mm,
            TraysTo::Accumulator(a) => line.accumulators[usize::from(a)].loop_mm,
            TraysTo::Table(_) => 1,
        };
        let positions = dice.between(1, 3);
        let closes_at = starts + Span::from_s(f64::from(dice.between(200, 2_400)));
        let closes = if shape.until_clean {
            dice.pick(&[
                Closing::AfterLast,
                Closing::AfterLast,
                Closing::At(closes_at),
            ])
        } else {
            dice.pick(&[Closing::AfterLast, Closing::Never, Closing::At(closes_at)])
        };
        line.drop_offs.push(DropOff {
            name: format!("window {d}"),
            positions_mm: (0..positions).map(|_| dice.upto(length - 1)).collect(),
            put_down_s: dice.dist(5.0),
            opens: dice
                .once_in(4)
                .then(|| starts + Span::from_s(f64::from(dice.upto(400)))),
            closes,
            to,
            aids: vec![],
        });
    }
    if !shape.until_clean {
        line.ends = Some(starts + Span::from_s(f64::from(dice.between(300, 5_400))));
    }
}

fn belt(line: &mut Line, starts: SimTime, dice: &mut Dice) {
    let section_mm = dice.between(100, 1_500);
    let rule = dice.pick(&[
        EndRule::StopsOnArrival,
        EndRule::ClosesUp,
        EndRule::AdvancesOnDemand { section_mm },
    ]);
    line.belts.push(Belt {
        name: format!("belt {}", line.belts.len()),
        length_mm: dice.between(500, 8_000),
        spacing_mm: dice.between(200, 1_200),
        speed: speeds(starts, dice),
        rule,
        stops: stops(starts, dice),
    });
}

pub(super) fn scrapping(line: &mut Line, dice: &mut Dice) {
    let mut all = Vec::new();
    for (b, belt) in line.belts.iter().enumerate() {
        let b = b as u8;
        all.push(TraysFrom::BeltEnd(b));
        if dice.once_in(3) {
            all.push(TraysFrom::BeltAt {
                belt: b,
                at_mm: dice.between(1, belt.length_mm),
                reach_mm: dice.upto(800),
            });
        }
    }
    for (a, it) in line.accumulators.iter().enumerate() {
        for _ in 0..dice.between(1, 2) {
            all.push(TraysFrom::Accumulator {
                accumulator: a as u8,
                reach: Reach {
                    at_mm: dice.upto(it.loop_mm),
                    each_side_mm: dice.pick(&[it.reach_mm, it.loop_mm, 150]),
                },
            });
        }
    }
    all.extend((0..line.tables.len() as u8).map(TraysFrom::Table));
    all.extend((0..line.carts.len() as u8).map(TraysFrom::Carts));
    all.extend((0..line.drop_offs.len() as u8).map(TraysFrom::Overflow));
    for s in 0..dice.pick(&[1, 1, 2]) {
        // The first post takes from everywhere, so that nothing lies where nobody comes.
        let mut from: Vec<_> = all.clone();
        if s > 0 {
            from.retain(|_| !dice.once_in(3));
            if from.is_empty() {
                from.push(all[0]);
            }
        }
        let turn = dice.upto(from.len() as u32 - 1) as usize;
        from.rotate_left(turn);
        let routes = (0..line.classes.len()).map(|class| {
            let racking: Vec<_> = (0..line.racking.len() as u8).collect();
            if racking.is_empty() || dice.once_in(8) {
                return PiecesTo::Leave;
            }
            let r = dice.pick(&racking);
            let piles = &line.racking[usize::from(r)].piles;
            let placed = matches!(line.racking[usize::from(r)].to, RacksTo::Machine(_));
            let on_pile = piles.iter().any(|p| usize::from(p.class.0) == class);
            if on_pile && (placed || !dice.once_in(4)) {
                PiecesTo::Pile(r)
            } else if placed {
                PiecesTo::Leave
            } else {
                PiecesTo::Racks(r)
            }
        });
        let routes: Vec<_> = routes.collect();
        line.scrapping.push(Scrapping {
            name: format!("scrapping {s}"),
            from,
            places: dice.between(1, 3),
            handling_s: dice.secs(12),
            piece_s: routes.iter().map(|_| dice.secs(2)).collect(),
            fetch_s: dice.secs(10),
            routes,
            waste_to: vec![],
            passes_on: None,
        });
    }
}

/// In some lines every post takes only some classes off, and a last one, or two one behind the other, does the rest.
pub(super) fn in_series(line: &mut Line, dice: &mut Dice) {
    for _ in 0..dice.pick(&[0, 0, 0, 1, 1, 2]) {
        let table = line.tables.len() as u8;
        line.tables.push(Table {
            name: format!("between {table}"),
            room: (!dice.once_in(3)).then(|| dice.between(1, 4)),
        });
        let last = Scrapping {
            name: format!("rest {table}"),
            from: vec![TraysFrom::Table(table)],
            places: dice.between(1, 2),
            handling_s: dice.secs(6),
            passes_on: None,
            ..line.scrapping[0].clone()
        };
        for post in line.scrapping.iter_mut().filter(|p| p.passes_on.is_none()) {
            let takes_off = (0..line.classes.len()).map(|_| dice.once_in(2)).collect();
            post.passes_on = Some(PassesOn {
                takes_off,
                to: table,
            });
        }
        line.scrapping.push(last);
    }
}

fn accumulator(line: &mut Line, starts: SimTime, dice: &mut Dice) {
    let loop_mm = dice.between(1_000, 8_000);
    line.accumulators.push(Accumulator {
        name: format!("accumulator {}", line.accumulators.len()),
        carriers: dice.between(1, 7),
        tiers: dice.between(1, 4),
        loop_mm,
        reach_mm: dice.pick(&[200, 0, loop_mm / 2, 600]),
        speed: speeds(starts, dice),
        stops: stops(starts, dice),
    });
}

/// Carts and tubs; a kind of diner may go by them.
pub(super) fn carts(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for c in 0..dice.pick(&[0, 0, 1, 2]) {
        let goes = match dice.upto(2) {
            0 => CartsGo::AtOnce,
            1 => CartsGo::WhenFull {
                longest_wait: dice.once_in(2).then(|| dice.span(300)),
            },
            _ => CartsGo::Rounds {
                first: shape.starts + dice.span(600),
                every: Span::from_s(f64::from(dice.between(30, 400))),
                carts: dice.between(1, 3),
            },
        };
        line.carts.push(Carts {
            name: format!("tubs {c}"),
            count: dice.between(1, 5),
            holds: dice.between(1, 6),
            goes,
            way: dice.span(60),
            parking: dice.once_in(2).then(|| dice.between(1, 2)),
            wash: dice.once_in(2).then(|| CartWash {
                cart_s: dice.secs(60),
                variation: dice.factor(),
                workers: dice.between(1, 2),
            }),
        });
    }
}
