//! The static table: what comes and how much of each stage it asks, by quarter hour, before anything is simulated.

use scullery_engine::line::{Line, Post, RacksTo, TraysTo, Way, Worker};
use scullery_engine::time::{SimTime, Span};

use super::accumulators::carriers_a_minute;
use super::belts::share;
use super::flow::Flow;
use super::series::only_row;
use super::work::{at_table, in_series, placed_s, racks_a_cover, tray_work_s, unload_work_s};
use crate::compile::racks_per_h;
use crate::plan::Plan;

/// A quarter hour of the static table.
#[derive(Clone, Debug, PartialEq)]
pub struct Quarter {
    /// When it begins.
    pub from: SimTime,
    /// Covers served.
    pub served: f64,
    /// Diners who bring something to a drop-off.
    pub dropped: f64,
    /// By stage, in the order of [`QuarterTable::stages`]: work over capacity, 1 is all of it; `None`: nobody on shift, or not on.
    pub shares: Vec<Option<f64>>,
    /// The stage that binds: the one with the greatest share, when any has work.
    pub binds: Option<usize>,
}

/// The static table by quarter hour.
#[derive(Clone, Debug, PartialEq)]
pub struct QuarterTable {
    /// Stages, along the line.
    pub stages: Vec<String>,
    /// One entry a quarter hour.
    pub quarters: Vec<Quarter>,
    /// How the table was worked out and what it leaves out.
    pub notes: Vec<String>,
}

/// A stage: seconds of work and seconds available, by quarter hour.
struct Stage {
    name: String,
    work_s: Vec<f64>,
    room_s: Vec<f64>,
    /// Stands for what is not done; it cannot bind.
    is_supposed: bool,
}

/// Minutes in a row of the table.
const QUARTER: usize = 15;

/// The table of a plan whose diners come as in `flow`.
pub(crate) fn quarter_table(plan: &Plan, flow: &Flow) -> QuarterTable {
    let line = &plan.line;
    let arrivals = by_quarter(plan, flow);
    let quarters = arrivals.first().map_or(0, Vec::len);
    let clock: Vec<SimTime> = (0..quarters)
        .map(|quarter| SimTime::from_min((flow.from_min + quarter * QUARTER) as f64))
        .collect();
    let mut stages = trays(plan, &arrivals, quarters);
    stages.extend(hands(plan, &arrivals, &clock));
    stages.extend(machines(plan, &arrivals, &clock));
    let served = sums(&flow.served);
    let rows = clock.iter().enumerate().map(|(quarter, from)| {
        let shares: Vec<Option<f64>> = stages
            .iter()
            .map(
                |stage| match (stage.work_s[quarter], stage.room_s[quarter]) {
                    (_, room) if room > 0.0 => Some(stage.work_s[quarter] / room),
                    (work, _) if work <= 0.0 => Some(0.0),
                    _ => None,
                },
            )
            .collect();
        let real = shares
            .iter()
            .enumerate()
            .filter(|(stage, _)| !stages[*stage].is_supposed);
        let greatest = real.max_by(|(_, one), (_, other)| {
            let value = |share: &Option<f64>| share.unwrap_or(f64::INFINITY);
            value(one).total_cmp(&value(other))
        });
        let binds = greatest
            .filter(|(_, share)| share.is_none_or(|share| share > 0.005))
            .map(|(stage, _)| stage);
        Quarter {
            from: *from,
            served: served.get(quarter).copied().unwrap_or(0.0),
            dropped: arrivals.iter().map(|kind| kind[quarter]).sum(),
            shares,
            binds,
        }
    });
    let mut rows: Vec<Quarter> = rows.collect();
    while rows
        .last()
        .is_some_and(|row| row.served < 0.05 && row.dropped < 0.05)
    {
        rows.pop();
    }
    QuarterTable {
        stages: stages.into_iter().map(|stage| stage.name).collect(),
        quarters: rows,
        notes: notes(line),
    }
}

fn notes(line: &Line) -> Vec<String> {
    let mut notes = vec![
        "Diners come to the drop-off as expected from the covers, the mean time to a seat, the spread of eating times and the bells; chance, parties and the differences between days are left out.".to_owned(),
        "Work is counted in the quarter hour in which its tray is dropped off, at its mean; nothing queues over into the next quarter, nobody walks or is blocked.".to_owned(),
        "A person counts in full at the first post on the list that calls for a single job, or, where nobody does so, at any post on the list.".to_owned(),
    ];
    if line
        .racking
        .iter()
        .any(|table| table.piles.iter().any(|pile| !pile.held_back.is_empty()))
    {
        notes.push("Ware held back is left out of racking, loading, machine and unloading in the row where it is dropped off; the rows \"all at once\" count it.".to_owned());
    }
    notes
}

/// Trays by kind of diner and quarter hour.
fn by_quarter(plan: &Plan, flow: &Flow) -> Vec<Vec<f64>> {
    let carries = |kind: usize| {
        plan.demand.kinds[kind]
            .pieces
            .iter()
            .any(|pieces| *pieces > 0.0)
    };
    let each = flow.dropped.iter().enumerate().map(|(kind, minutes)| {
        let sums = sums(minutes);
        if carries(kind) {
            sums
        } else {
            vec![0.0; sums.len()]
        }
    });
    each.collect()
}

fn sums(minutes: &[f64]) -> Vec<f64> {
    minutes
        .chunks(QUARTER)
        .map(|quarter| quarter.iter().sum())
        .collect()
}

/// Drop-offs and belts.
fn trays(plan: &Plan, arrivals: &[Vec<f64>], quarters: usize) -> Vec<Stage> {
    let line = &plan.line;
    let mut stages = Vec::new();
    let at = |drop_off: usize, quarter: usize| -> f64 {
        let kinds = plan.demand.kinds.iter().zip(arrivals);
        kinds
            .filter(|(kind, _)| kind.carts.is_none() && usize::from(kind.drop_off) == drop_off)
            .map(|(_, came)| came[quarter])
            .sum()
    };
    for (number, drop_off) in line.drop_offs.iter().enumerate() {
        let put_down_s = drop_off.put_down_s.mean();
        let positions = drop_off.positions_mm.len() as f64;
        let kinds = plan.demand.kinds.iter().zip(arrivals).enumerate();
        let here = kinds
            .filter(|(_, (kind, _))| kind.carts.is_none() && usize::from(kind.drop_off) == number);
        let each: Vec<(f64, &Vec<f64>)> = here
            .map(|(kind, (_, came))| (put_down_s + at_table(plan, kind).adds_s, came))
            .collect();
        stages.push(Stage {
            name: format!("drop-off {}", drop_off.name),
            work_s: (0..quarters)
                .map(|quarter| each.iter().map(|(s, came)| came[quarter] * s).sum())
                .collect(),
            room_s: vec![positions * 900.0; quarters],
            is_supposed: false,
        });
    }
    for (number, belt) in line.belts.iter().enumerate() {
        let number = number as u8;
        let on_it = |quarter: usize| -> f64 {
            let kinds = plan.demand.kinds.iter().zip(arrivals).enumerate();
            let by_diners = kinds.filter(|(_, (kind, _))| kind.carts.is_none());
            let each = by_diners.map(|(k, (kind, came))| {
                let to = line.drop_offs.get(usize::from(kind.drop_off));
                let share = to.map_or(0.0, |it| share(line, &kind.pieces, k, it.to, number));
                came[quarter] * share
            });
            each.sum()
        };
        let fastest = belt.speed.first().map_or(1, |(_, mm_min)| *mm_min);
        let headway_s = 60.0 * f64::from(belt.spacing_mm) / f64::from(fastest.max(1));
        stages.push(Stage {
            name: format!("belt {}", belt.name),
            work_s: (0..quarters)
                .map(|quarter| on_it(quarter) * headway_s)
                .collect(),
            room_s: vec![900.0; quarters],
            is_supposed: false,
        });
    }
    for (number, it) in line.accumulators.iter().enumerate() {
        let feeds =
            |drop_off: &usize| line.drop_offs[*drop_off].to == TraysTo::Accumulator(number as u8);
        let tier_s = 60.0 / (carriers_a_minute(it) * f64::from(it.tiers)).max(1e-9);
        let work_s = |quarter: usize| {
            let feeding = (0..line.drop_offs.len()).filter(feeds);
            feeding.map(|drop_off| at(drop_off, quarter)).sum::<f64>() * tier_s
        };
        stages.push(Stage {
            name: format!("accumulator {}", it.name),
            work_s: (0..quarters).map(work_s).collect(),
            room_s: vec![900.0; quarters],
            is_supposed: false,
        });
    }
    stages
}

/// Whether a class waits on a pile that is held back.
pub(crate) fn is_held_back(line: &Line, class: usize) -> bool {
    piles_of(line, class).any(|(between, held_back)| !between && held_back)
}

/// Whether a class that is washed twice waits between its passes on a pile that is held back.
pub(crate) fn is_held_between(line: &Line, class: usize) -> bool {
    piles_of(line, class).any(|(between, held_back)| between && held_back)
}

/// The piles of a class: whether each lies between two passes, and whether it is held back.
fn piles_of(line: &Line, class: usize) -> impl Iterator<Item = (bool, bool)> + '_ {
    let second = line
        .classes
        .get(class)
        .and_then(|it| it.second_pass.as_ref());
    let tables = (0..).zip(&line.racking);
    tables.flat_map(move |(number, table): (u8, _)| {
        let of_class = table
            .piles
            .iter()
            .filter(move |pile| usize::from(pile.class.0) == class);
        let between = second.is_some_and(|second| second.at == number);
        of_class.map(move |pile| (between, !pile.held_back.is_empty()))
    })
}

/// Whether a class goes through the machine.
pub(crate) fn is_washed(line: &Line, class: usize) -> bool {
    line.ways_of(class).any(|way| match way {
        Way::Pieces(to) => line
            .table_of(to)
            .and_then(|table| line.racking.get(usize::from(table)))
            .is_some_and(|table| table.to_of(class as u8) != RacksTo::Leave),
        Way::Rack(_) => true,
    })
}

/// The flight machine on whose belt a class is placed loose.
pub(crate) fn placed_on(line: &Line, class: usize) -> Option<usize> {
    line.ways_of(class).find_map(|way| {
        let Way::Pieces(to) = way else { return None };
        let table = line.table_of(to)?;
        match line.racking.get(usize::from(table))?.to {
            RacksTo::Machine(machine) => Some(usize::from(machine)),
            _ => None,
        }
    })
}

/// Work done by hand.
fn hands(plan: &Plan, arrivals: &[Vec<f64>], clock: &[SimTime]) -> Vec<Stage> {
    let line = &plan.line;
    let work = |a_cover: &dyn Fn(usize) -> f64| -> Vec<f64> {
        (0..clock.len())
            .map(|quarter| {
                arrivals
                    .iter()
                    .enumerate()
                    .map(|(kind, came)| came[quarter] * a_cover(kind))
                    .sum()
            })
            .collect()
    };
    let mut stages = Vec::new();
    let row = only_row(line);
    if row.is_empty() {
        let places: u32 = line.scrapping.iter().map(|post| post.places).sum();
        stages.push(Stage {
            name: "scrapping".to_owned(),
            work_s: work(&|kind| tray_work_s(plan, kind)),
            room_s: room(line, clock, places, |post| {
                matches!(post, Post::Scrapping(_))
            }),
            is_supposed: false,
        });
    }
    for number in row.iter().copied() {
        let spec = &line.scrapping[number];
        stages.push(Stage {
            name: format!("scrapping {}", spec.name),
            work_s: work(&|kind| {
                let along = in_series(line, row[0], &at_table(plan, kind).pieces);
                let here = along.iter().filter(|(post, _)| *post == number);
                here.map(|(_, seconds)| seconds).sum()
            }),
            room_s: room(line, clock, spec.places, |post| {
                post == Post::Scrapping(number as u8)
            }),
            is_supposed: false,
        });
    }
    let racked_s = |kind: usize| -> f64 {
        let pieces = &plan.demand.kinds[kind].pieces;
        let piles = line
            .racking
            .iter()
            .flat_map(|table| &table.piles)
            .filter(|pile| pile.held_back.is_empty());
        piles
            .map(|pile| {
                pieces
                    .get(usize::from(pile.class.0))
                    .copied()
                    .unwrap_or(0.0)
                    * pile.piece_s
            })
            .sum()
    };
    if line
        .racking
        .iter()
        .flat_map(|table| &table.piles)
        .any(|pile| pile.held_back.is_empty())
    {
        let places: u32 = line.racking.iter().map(|table| table.places).sum();
        stages.push(Stage {
            name: "racking".to_owned(),
            work_s: work(&racked_s),
            room_s: room(line, clock, places, |post| matches!(post, Post::Racking(_))),
            is_supposed: false,
        });
    }
    let load_s = line
        .machines
        .iter()
        .filter_map(|machine| machine.loading.as_ref())
        .map(|load| load.rack_s);
    let load_s = load_s.fold(0.0, f64::max);
    if load_s > 0.0 {
        let places: u32 = line
            .machines
            .iter()
            .filter_map(|machine| machine.loading.as_ref())
            .map(|load| load.places)
            .sum();
        stages.push(Stage {
            name: "loading".to_owned(),
            work_s: work(&|kind| racks_a_cover(plan, kind, false) * load_s),
            room_s: room(line, clock, places, |post| matches!(post, Post::Loading(_))),
            is_supposed: false,
        });
    }
    if line.clean_ends.iter().any(|end| end.by_hand) {
        let places: u32 = line.clean_ends.iter().map(|end| end.workers).sum();
        stages.push(Stage {
            name: "unloading".to_owned(),
            work_s: work(&|kind| unload_work_s(plan, kind, false)),
            room_s: room(line, clock, places, |post| {
                matches!(post, Post::Unloading(_))
            }),
            is_supposed: false,
        });
    }
    let everybody: Vec<&Worker> = line.crew.iter().collect();
    stages.push(Stage {
        name: "whole crew".to_owned(),
        work_s: work(&|kind| {
            let racked = racked_s(kind) + racks_a_cover(plan, kind, false) * load_s;
            tray_work_s(plan, kind) + racked + unload_work_s(plan, kind, false)
        }),
        room_s: on_shift(&everybody, clock),
        is_supposed: false,
    });
    stages
}

/// Seconds of people at a post, by quarter hour: of those whose first post for a single job it is, else of any who have
/// it on the list; at most as many as can stand there.
fn room(line: &Line, clock: &[SimTime], places: u32, is_post: impl Fn(Post) -> bool) -> Vec<f64> {
    let first = |worker: &&Worker| {
        worker
            .list
            .iter()
            .find(|call| call.step_in == 1)
            .is_some_and(|call| is_post(call.post))
    };
    let any = |worker: &&Worker| worker.list.iter().any(|call| is_post(call.post));
    let mut people: Vec<&Worker> = line.crew.iter().filter(first).collect();
    if people.is_empty() {
        people = line.crew.iter().filter(any).collect();
    }
    let most = f64::from(places) * 900.0;
    on_shift(&people, clock)
        .into_iter()
        .map(|seconds| seconds.min(most))
        .collect()
}

/// Seconds on shift and not on a break, times pace, less the shifts that go unfilled.
pub(crate) fn on_shift(people: &[&Worker], clock: &[SimTime]) -> Vec<f64> {
    let overlap = |from: SimTime, to: SimTime, quarter: SimTime| -> f64 {
        let ends = quarter + Span::from_min(QUARTER as f64);
        Ord::min(to, ends).since(from.max(quarter)).s()
    };
    let seconds = |worker: &Worker, quarter: SimTime| -> f64 {
        let shift: f64 = worker
            .shifts
            .iter()
            .map(|(from, to)| overlap(*from, *to, quarter))
            .sum();
        let breaks: f64 = worker
            .breaks
            .iter()
            .map(|(due, lasts)| overlap(*due, *due + *lasts, quarter))
            .sum();
        (shift - breaks).max(0.0) * worker.pace * (1.0 - worker.unfilled)
    };
    clock
        .iter()
        .map(|quarter| people.iter().map(|worker| seconds(worker, *quarter)).sum())
        .collect()
}

/// Machines: racks over what they take, with and without what is held back.
fn machines(plan: &Plan, arrivals: &[Vec<f64>], clock: &[SimTime]) -> Vec<Stage> {
    let line = &plan.line;
    if line.machines.is_empty() {
        return Vec::new();
    }
    let rate: f64 = line
        .machines
        .iter()
        .map(|machine| racks_per_h(&machine.kind))
        .sum();
    let racks = |all: bool| -> Vec<f64> {
        (0..clock.len())
            .map(|quarter| {
                let kinds = arrivals.iter().enumerate();
                kinds
                    .map(|(kind, came)| {
                        let racks = racks_a_cover(plan, kind, all) * 3600.0 / rate;
                        came[quarter] * (racks + placed_s(plan, kind, all))
                    })
                    .sum::<f64>()
            })
            .collect()
    };
    let hot = clock.iter().map(|quarter| {
        let ends = *quarter + Span::from_min(QUARTER as f64);
        let each = line.machines.iter().map(|machine| {
            let from = machine.on_at + machine.heat_up;
            let to = machine.off_at.map_or(ends, |off| Ord::min(off, ends));
            to.since(from.max(*quarter)).s() * racks_per_h(&machine.kind) / rate
        });
        each.sum()
    });
    let hot: Vec<f64> = hot.collect();
    let mut stages = vec![Stage {
        name: "machine".to_owned(),
        work_s: racks(false),
        room_s: hot.clone(),
        is_supposed: false,
    }];
    if (0..line.classes.len()).any(|class| is_held_back(line, class)) {
        stages.push(Stage {
            name: "machine, all at once".to_owned(),
            work_s: racks(true),
            room_s: hot,
            is_supposed: true,
        });
    }
    stages
}
