//! Random small demands for random lines.

use scullery_engine::demand::*;
use scullery_engine::dist::Dist;
use scullery_engine::line::Line;
use scullery_engine::time::{SimTime, Span};

use super::dice::Dice;

pub(crate) fn demand(line: &Line, choices: &[u16]) -> Demand {
    let dice = &mut Dice::new(choices);
    let starts = line.starts;
    let later = |s: u32| starts + Span::from_s(f64::from(s));
    Demand {
        covers: covers(starts, dice),
        days: dice.pick(&[
            Days::Design(1.0),
            Days::Vary { cv: 0.2 },
            Days::Past(vec![0.5, 1.5]),
        ]),
        find_seat_min: dice.dist(0.5),
        eating_min: if dice.once_in(2) {
            vec![
                (starts, dice.dist(5.0)),
                (later(dice.upto(1_200)), dice.dist(8.0)),
            ]
        } else {
            vec![(starts, dice.dist(5.0))]
        },
        bells: bells(starts, dice),
        parties: dice.once_in(3).then(|| Parties {
            shares: vec![0.5, 0.25, 0.25],
            apart: dice.span(4),
        }),
        kinds: kinds(line, dice),
        patience_people: dice.once_in(3).then(|| dice.dist(2.0)),
        work_factor: dice.factor(),
        waste_kg: dice.pick(&[
            Dist::Constant(0.0),
            Dist::Constant(0.1),
            Dist::Exponential { mean: 0.1 },
        ]),
        seats: dice.once_in(3).then(|| dice.between(1, 6)),
        loads: loads(line, dice),
    }
}

/// Loads of the first kind, which always brings something.
fn loads(line: &Line, dice: &mut Dice) -> Vec<Load> {
    let starts = line.starts;
    let later = |s: u32| starts + Span::from_s(f64::from(s));
    let loads = (0..dice.pick(&[0, 0, 1, 2])).map(|l| {
        let from = dice.upto(900);
        let when = match dice.upto(6) {
            3 => LoadWhen::Eating {
                since: SimTime::from_us(starts.us().saturating_sub(dice.span(600).us())),
                at: starts,
                people: dice.upto(5),
            },
            // One tray finds room on any belt or table; the second load's would not on every one.
            4 if l == 0 && !line.belts.is_empty() => LoadWhen::There {
                at: There::Belt(0),
                trays: 1,
            },
            4 if l == 0 && line.tables.first().is_some_and(|it| it.room != Some(0)) => {
                LoadWhen::There {
                    at: There::Table(0),
                    trays: 1,
                }
            }
            4 if l == 0 && !line.accumulators.is_empty() => LoadWhen::There {
                at: There::Accumulator(0),
                trays: 1,
            },
            5 => LoadWhen::There {
                at: There::Aside(dice.upto(line.drop_offs.len() as u32 - 1) as u8),
                trays: dice.between(1, 4),
            },
            6 if room_on_carts(line) > 0 => LoadWhen::There {
                at: There::Carts(0),
                trays: 1,
            },
            0 => LoadWhen::At(vec![
                (later(from), dice.upto(6)),
                (later(from + dice.upto(600)), dice.upto(6)),
            ]),
            1 => LoadWhen::Within {
                from: later(from),
                lasts: dice.span(600),
                count: dice.upto(8),
            },
            _ => LoadWhen::Never(dice.upto(4)),
        };
        let never = matches!(when, LoadWhen::Never(_));
        Load {
            name: format!("load {l}"),
            kind: 0,
            when,
            covers: dice.once_in(2),
            taken: (never || dice.once_in(2)).then(|| later(dice.upto(900))),
        }
    });
    loads.collect()
}

/// Trays that carts of the first kind could hold besides those that wait to be washed.
fn room_on_carts(line: &Line) -> u32 {
    let Some(carts) = line.carts.first() else {
        return 0;
    };
    let to_wash = line.already.to_wash.first().copied().unwrap_or(0);
    // Two loads may each have a tray there.
    carts.count.saturating_sub(to_wash + 1) * carts.holds
}

/// Courses of a kind: its pieces once more, each course cleared by itself.
fn courses(line: &Line, pieces: &[f64], dice: &mut Dice) -> Vec<Course> {
    let courses = (0..dice.between(1, 3)).map(|_| Course {
        pieces: pieces.to_vec(),
        cleared: if dice.once_in(2) {
            Cleared::AfterMin(dice.dist(6.0))
        } else {
            Cleared::Within {
                from: line.starts + dice.span(900),
                lasts: dice.span(600),
            }
        },
    });
    courses.collect()
}

fn covers(starts: SimTime, dice: &mut Dice) -> Covers {
    let secs = |s: u32| Span::from_s(f64::from(s));
    if dice.once_in(3) {
        let mut at = starts;
        let instants = (0..dice.upto(25)).map(|_| {
            at = at + secs(dice.upto(60));
            at
        });
        return Covers::Instants(instants.collect());
    }
    let how = dice.pick(&[How::Evenly, How::AtRandom, How::Poisson, How::PoissonLinear]);
    let mut edges = vec![starts + secs(dice.upto(300))];
    for _ in 0..dice.between(1, 2) {
        edges.push(edges[edges.len() - 1] + secs(dice.between(60, 900)));
    }
    // A rate per minute at each edge, or a count in each interval.
    let counts = match how {
        How::PoissonLinear => edges.iter().map(|_| f64::from(dice.upto(4))).collect(),
        _ => (1..edges.len()).map(|_| f64::from(dice.upto(18))).collect(),
    };
    Covers::PerInterval { edges, counts, how }
}

fn bells(starts: SimTime, dice: &mut Dice) -> Vec<Bell> {
    let mut at = starts;
    let bells = (0..dice.pick(&[0, 0, 1, 2])).map(|_| {
        at = at + Span::from_s(f64::from(dice.between(100, 800)));
        Bell {
            at,
            share: dice.pick(&[1.0, 0.5]),
            before: dice.span(60),
            after: dice.span(60),
            seated_at_least: dice.span(120),
        }
    });
    bells.collect()
}

fn kinds(line: &Line, dice: &mut Dice) -> Vec<Kind> {
    let kinds = (0..dice.between(1, 3)).map(|k| {
        let take_away = k > 0 && dice.once_in(3);
        let pieces = line.classes.iter().enumerate().map(|(class, _)| {
            let pieces: f64 = dice.pick(&[1.0, 2.0, 0.0, 0.4, 3.5, 5.0]);
            if take_away {
                0.0
            } else if k == 0 && class == 0 {
                pieces.max(1.0)
            } else {
                pieces
            }
        });
        let pieces: Vec<f64> = pieces.collect();
        let mut share = vec![(line.starts, 1.0)];
        if k > 0 && dice.once_in(2) {
            let later = line.starts + Span::from_s(f64::from(dice.upto(900)));
            share.push((later, 0.0));
        }
        Kind {
            name: format!("diner {k}"),
            share,
            drop_off: dice.upto(line.drop_offs.len() as u32 - 1) as u8,
            sits: dice.once_in(2),
            carts: (!line.carts.is_empty() && dice.once_in(2))
                .then(|| dice.upto(line.carts.len() as u32 - 1) as u8),
            courses: if dice.once_in(3) {
                courses(line, &pieces, dice)
            } else {
                vec![]
            },
            pieces,
            loose: dice.once_in(4),
            shared: dice.once_in(4).then(|| Shared {
                people: dice.between(2, 4),
                tray: scullery_engine::line::ClassId(0),
            }),
            away: dice.once_in(5).then(|| Away {
                min: dice.dist(6.0),
                back_share: dice.pick(&[1.0, 0.5]),
            }),
        }
    });
    kinds.collect()
}
