//! Random small lines, drawing from all elements; each fits together as the loader would have it.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::time::{SimTime, Span};

use super::dice::Dice;

/// One part of the choices for each part of a line, and one for the demand.
#[derive(Clone, Copy)]
pub(crate) enum Part {
    Shape,
    Ware,
    DropOff,
    Ways,
    Scrapping,
    Racking,
    Lanes,
    Machines,
    CleanEnd,
    Delivery,
    Crew,
    Duties,
    Demand,
    Carts,
    Trouble,
    ForTwo,
    Already,
}

pub(crate) const PARTS: usize = 17;
/// Choices a part has; more are nought.
pub(crate) const CHOICES: usize = 96;

/// How many there are of each element.
struct Shape {
    starts: SimTime,
    classes: u8,
    kinds: u8,
    racking: u8,
    machines: u8,
    clean_ends: u8,
    delivery: bool,
    until_clean: bool,
}

/// Builds a line from choices, one list a [`Part`].
pub(crate) fn line(choices: &[Vec<u16>]) -> Line {
    let dice = |part: Part| Dice::new(&choices[part as usize]);
    let shape = shape(&mut dice(Part::Shape));
    let starts = shape.starts;
    let mut it = Line {
        name: "at random".into(),
        starts,
        ends: None,
        classes: vec![],
        rack_kinds: vec![],
        drop_offs: vec![],
        belts: vec![],
        tables: vec![],
        carts: vec![],
        scrapping: vec![],
        racking: vec![],
        lanes: vec![],
        machines: vec![],
        clean_ends: vec![],
        delivery: None,
        crew: vec![],
        duties: vec![],
        for_two: vec![],
        troubles: vec![],
        already: Already::default(),
        walk: Span::NONE,
        hand_wash: Span::NONE,
    };
    ware(&mut it, &shape, &mut dice(Part::Ware));
    drop_offs(
        &mut it,
        &shape,
        &mut dice(Part::DropOff),
        &mut dice(Part::Ways),
    );
    carts(&mut it, &shape, &mut dice(Part::Carts));
    lanes(&mut it, &shape, &mut dice(Part::Lanes));
    machines(&mut it, &shape, &mut dice(Part::Machines));
    racking(&mut it, &shape, &mut dice(Part::Racking));
    scrapping(&mut it, &mut dice(Part::Scrapping));
    clean_ends(&mut it, &shape, &mut dice(Part::CleanEnd));
    delivery(&mut it, &shape, &mut dice(Part::Delivery));
    super::crews::crew(&mut it, &mut dice(Part::Crew));
    super::crews::duties(&mut it, &mut dice(Part::Duties));
    troubles(&mut it, &mut dice(Part::Trouble));
    super::crews::for_two(&mut it, &mut dice(Part::ForTwo));
    already(&mut it, &mut dice(Part::Already));
    it
}

/// Ware that is already there, as far as it finds room.
fn already(line: &mut Line, dice: &mut Dice) {
    for machine in 0..line.machines.len() as u8 {
        if dice.once_in(2) {
            line.already.hot.push(machine);
        }
    }
    for _ in 0..dice.pick(&[0, 0, 1, 3]) {
        let mut places: Vec<RackAt> = Vec::new();
        places.extend((0..line.racking.len() as u8).map(RackAt::Racking));
        places.extend((0..line.lanes.len() as u8).map(RackAt::Lane));
        places.extend((0..line.machines.len() as u8).map(RackAt::Machine));
        places.extend((0..line.clean_ends.len() as u8).map(RackAt::CleanEnd));
        if places.is_empty() {
            return;
        }
        line.already.racks.push(RackThere {
            class: ClassId(dice.upto(line.classes.len() as u32 - 1) as u8),
            pieces: dice.between(1, 6) as u16,
            at: dice.pick(&places),
        });
        if line.already_misfit().is_some() {
            line.already.racks.pop();
        }
    }
    let piles = line.racking.iter().zip(0..).flat_map(|(racking, no)| {
        let class = racking.piles.iter().map(|pile| pile.class);
        class.map(move |class| (no, class))
    });
    for (racking, class) in piles.collect::<Vec<_>>() {
        if dice.once_in(3) {
            line.already.piles.push(PileThere {
                racking,
                class,
                pieces: dice.between(1, 5) as u16,
            });
            if line.already_misfit().is_some() {
                line.already.piles.pop();
            }
        }
    }
    if dice.once_in(4) {
        line.already.clean = vec![Some(dice.upto(5)); line.classes.len()];
        if line.already_misfit().is_some() {
            line.already.clean.clear();
        }
    }
}

fn shape(dice: &mut Dice) -> Shape {
    let starts = SimTime::from_s(dice.pick(&[0.0, 36_000.0]));
    let racking = dice.pick(&[0, 1, 1, 1, 1, 2]);
    let machines = if racking > 0 {
        dice.pick(&[0, 1, 1, 1, 2])
    } else {
        0
    };
    let clean_ends = if machines > 0 {
        dice.pick(&[0, 1, 1, 2]).min(machines + 1)
    } else {
        0
    };
    Shape {
        starts,
        classes: 1 + dice.upto(3) as u8,
        kinds: 1 + dice.upto(2) as u8,
        racking,
        machines,
        clean_ends,
        delivery: clean_ends > 0 && dice.once_in(2),
        until_clean: !dice.once_in(3),
    }
}

fn ware(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for k in 0..shape.kinds {
        line.rack_kinds.push(RackKind {
            name: format!("kind {k}"),
            count: dice.between(1, 8),
        });
    }
    for c in 0..shape.classes {
        let first = dice.upto(u32::from(shape.kinds) - 1) as u8;
        let mut fits = vec![(RackKindId(first), dice.between(1, 8) as u16)];
        if shape.kinds > 1 && dice.once_in(2) {
            let second = (first + 1) % shape.kinds;
            fits.push((RackKindId(second), dice.between(1, 8) as u16));
        }
        line.classes.push(Class {
            name: format!("class {c}"),
            par: dice.once_in(2).then(|| dice.between(5, 60)),
            fits,
            dry: dice.span(90),
            unload_s: dice.secs(3),
            unload_rack_s: dice.secs(20),
            short: match dice.upto(5) {
                3 => Short::Takes(ClassId(dice.upto(u32::from(shape.classes) - 1) as u8)),
                4 => Short::Disposable,
                5 => Short::Waits(Span::from_s(f64::from(dice.between(1, 600)))),
                _ => Short::Without,
            },
            stays_in_rack: dice.once_in(4),
            clean_end: (shape.clean_ends > 0 && dice.once_in(4))
                .then(|| dice.upto(u32::from(shape.clean_ends) - 1) as u8),
        });
    }
}

/// Stops in clock order, not overlapping; the next may begin when one ends.
fn stops(starts: SimTime, dice: &mut Dice) -> Vec<Stop> {
    let mut at = starts;
    let mut list = Vec::new();
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        let from = at + Span::from_s(f64::from(dice.upto(600)));
        let to = from + Span::from_s(f64::from(dice.between(1, 240)));
        let then = dice.pick(&[AfterStop::Resume, AfterStop::RunAgain]);
        list.push(Stop { from, to, then });
        at = to;
    }
    list
}

/// Speeds from each clock time on; later ones may be nought.
fn speeds(starts: SimTime, dice: &mut Dice) -> Vec<(SimTime, u32)> {
    let mut list = vec![(starts, dice.between(1_000, 12_000))];
    let mut at = starts;
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        at = at + Span::from_s(f64::from(dice.between(1, 600)));
        let speed = if dice.once_in(6) {
            0
        } else {
            dice.between(1_000, 12_000)
        };
        list.push((at, speed));
    }
    // Nothing stands for ever: the last speed is a speed.
    if let Some(last) = list.last_mut() {
        last.1 = last.1.max(1_000);
    }
    list
}

fn drop_offs(line: &mut Line, shape: &Shape, dice: &mut Dice, ways: &mut Dice) {
    let starts = shape.starts;
    for d in 0..dice.pick(&[1, 1, 2]) {
        let shares = d > 0 && dice.once_in(2);
        let to = if shares {
            line.drop_offs[0].to
        } else if ways.once_in(2) {
            belt(line, starts, ways);
            TraysTo::Belt(line.belts.len() as u8 - 1)
        } else {
            line.tables.push(Table {
                name: format!("table {}", line.tables.len()),
                room: ways.once_in(2).then(|| ways.upto(6)),
            });
            TraysTo::Table(line.tables.len() as u8 - 1)
        };
        let length = match to {
            TraysTo::Belt(b) => line.belts[usize::from(b)].length_mm,
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
        });
    }
    if !shape.until_clean {
        line.ends = Some(starts + Span::from_s(f64::from(dice.between(300, 5_400))));
    }
}

/// Jams, failures and stop stations at whatever has a drive.
fn troubles(line: &mut Line, dice: &mut Dice) {
    let belts = (0..line.belts.len() as u8).map(Stands::Belt);
    let rollers = line.lanes.iter().enumerate();
    let rollers = rollers.filter(|(_, l)| matches!(l.kind, LaneKind::Rollers { .. }));
    let rollers = rollers.map(|(l, _)| Stands::Lane(l as u8));
    let machines = (0..line.machines.len() as u8).map(Stands::Machine);
    let drives: Vec<_> = belts.chain(rollers).chain(machines).collect();
    if drives.is_empty() {
        return;
    }
    let posts = super::crews::posts(line);
    for t in 0..dice.pick(&[0, 0, 1, 2]) {
        let mut stops = vec![dice.pick(&drives)];
        let other = dice.pick(&drives);
        if dice.once_in(2) && other != stops[0] {
            stops.push(other);
        }
        line.troubles.push(Trouble {
            name: format!("trouble {t}"),
            stops,
            strikes: if dice.once_in(2) {
                Strikes::RunningMin(
                    dice.pick(&[Dist::Constant(7.0), Dist::Exponential { mean: 5.0 }]),
                )
            } else {
                Strikes::Share(dice.pick(&[0.1, 0.3]))
            },
            clearing_s: dice.dist(40.0),
            by: if dice.once_in(2) {
                vec![]
            } else {
                vec![dice.pick(&posts)]
            },
            then: dice.pick(&[AfterStop::Resume, AfterStop::RunAgain]),
        });
    }
}

/// Carts and tubs; a kind of diner may go by them.
fn carts(line: &mut Line, shape: &Shape, dice: &mut Dice) {
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

fn lanes(line: &mut Line, shape: &Shape, dice: &mut Dice) {
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
        });
    }
}

fn machines(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for m in 0..shape.machines {
        let kind = if dice.once_in(2) {
            let tunnel_mm = dice.between(500, 3_000);
            let rinse_from = dice.upto(tunnel_mm);
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
        let most = line.lanes[usize::from(m)].room().unwrap_or(6).min(6);
        let control = if most > 0 && dice.once_in(2) {
            Control::HoldAndRun {
                racks: dice.between(1, most),
                longest_wait: dice.once_in(2).then(|| dice.span(400)),
            }
        } else {
            Control::RunsThroughout
        };
        let on_at = shape.starts + dice.span(300);
        let heat_up = dice.span(300);
        line.machines.push(Machine {
            name: format!("machine {m}"),
            kind,
            from: m,
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
        });
    }
}

fn racking(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for r in 0..shape.racking {
        let to = match shape.machines {
            0 => RacksTo::Leave,
            1 => RacksTo::Lane(0),
            _ => RacksTo::Lane(r.min(shape.machines - 1)),
        };
        let mut piles = Vec::new();
        for class in 0..shape.classes {
            if dice.once_in(2) {
                let held_back = match dice.upto(5) {
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
                    held_back,
                });
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
        });
    }
}

fn scrapping(line: &mut Line, dice: &mut Dice) {
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
            if piles.iter().any(|p| usize::from(p.class.0) == class) && !dice.once_in(4) {
                PiecesTo::Pile(r)
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
        });
    }
}

fn clean_ends(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for c in 0..shape.clean_ends {
        line.clean_ends.push(CleanEnd {
            name: format!("clean end {c}"),
            places: dice.once_in(2).then(|| dice.between(1, 4)),
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

fn delivery(line: &mut Line, shape: &Shape, dice: &mut Dice) {
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
