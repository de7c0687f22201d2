//! Other work: by the clock, by count, by round.

use crate::dist::Dist;
use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, MOST_CLASSES, Post, lane, machine, receivers, waste};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};

/// Other work, besides the line's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// Its name.
    pub name: String,
    /// When it falls due.
    pub when: DutyWhen,
    /// Seconds of work.
    pub work_s: Dist,
    /// Posts whose workers do it (those with one of these on their list).
    pub by: Vec<Post>,
    /// May wait until such a worker has nothing else to do, but at most so long; `None`: it comes first.
    pub may_wait: Option<Span>,
    /// Whether it is done on the clean side.
    pub clean_side: bool,
}

/// When other work falls due.
#[derive(Clone, Debug, PartialEq)]
pub enum DutyWhen {
    /// At these times.
    At(Vec<SimTime>),
    /// Each time so many kg of waste have been scraped off.
    EveryKg(f64),
    /// When this machine's detergent runs low; when it is done the reservoir is full.
    DetergentLow(u8),
    /// When this receiver is full; when it is done an empty one stands there.
    Change(u8),
    /// When a bin of this waste store is full; when it is done the bin is empty.
    BinFull(u8),
    /// Cleaning.
    AfterLast {
        /// Once clearing away has come so far,
        moment: Moment,
        /// and what is cleaned has drained so long,
        drains: Span,
        /// it is so many jobs, so that as many people may share it.
        jobs: u32,
    },
}

/// How far clearing away has come, so that cleaning can begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Moment {
    /// The drop-offs are closed and every tray is broken down and sorted.
    Sorted,
    /// Besides, nothing is on piles, in open racks, in lanes or in machines.
    Washed,
    /// All is clean and on its way to the servery.
    Clean,
}

pub(crate) fn slots(line: &Line) -> u32 {
    2 * line.duties.len() as u32
}

#[derive(Clone, Debug, Default)]
struct DutyState {
    /// When each waiting job fell due.
    waiting: VecDeque<SimTime>,
    next: usize,
    work: Sampler,
    luck: Keyed,
    begun: u64,
    finished: u64,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    duties: Vec<DutyState>,
    /// Waste scraped off so far, grams.
    pub(crate) scraped_g: u64,
    /// How much cleaning has not fallen due yet.
    to_fall_due: usize,
    /// Whether any of it falls due by the weight of waste.
    pub(crate) by_weight: bool,
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .duties
        .duties
        .resize_with(line.duties.len(), DutyState::default);
    floor.duties.scraped_g = 0;
    let cleans = |duty: &&Duty| matches!(duty.when, DutyWhen::AfterLast { .. });
    floor.duties.to_fall_due = line.duties.iter().filter(cleans).count();
    let by_weight = |duty: &Duty| matches!(duty.when, DutyWhen::EveryKg(_));
    floor.duties.by_weight = line.duties.iter().any(by_weight);
    let no = floor.duties_no();
    for (d, spec) in line.duties.iter().enumerate() {
        let root = floor.root;
        let duty = &mut floor.duties.duties[d];
        duty.waiting.clear();
        duty.begun = 0;
        duty.finished = 0;
        duty.work.fit(&spec.work_s);
        duty.luck = root.keyed(name_key(&spec.name) ^ name_key("duty/work"));
        duty.next = 0;
        if let DutyWhen::At(times) = &spec.when {
            duty.next = times.partition_point(|&at| at < line.starts);
            let at = times.get(duty.next).copied();
            floor.set_or_clear(no, 2 * d as u32, Phase::Clock, at);
        }
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, local: u32) {
    let d = (local / 2) as usize;
    match &line.duties[d].when {
        DutyWhen::At(times) if local.is_multiple_of(2) => {
            floor.duties.duties[d].next += 1;
            let next = times.get(floor.duties.duties[d].next).copied();
            let no = floor.duties_no();
            floor.set_or_clear(no, local, Phase::Clock, next);
            fall_due(floor, line, d);
        }
        // It has drained.
        &DutyWhen::AfterLast { jobs, .. } if local.is_multiple_of(2) => {
            for _ in 0..jobs {
                fall_due(floor, line, d);
            }
        }
        _ => {}
    }
    // The other slot: a job that may wait has waited long enough. The crew looks.
    floor.mark_crew();
}

fn fall_due(floor: &mut Floor, line: &Line, d: usize) {
    let now = floor.now;
    floor.duties.duties[d].waiting.push_back(now);
    floor.crew.something_waits();
    tell(floor, line, d);
    floor.mark_crew();
}

/// Tells the level, and sets when the oldest job may wait no longer.
fn tell(floor: &mut Floor, line: &Line, d: usize) {
    let duty = &floor.duties.duties[d];
    let held = duty.waiting.len() as u32;
    let overdue = match (duty.waiting.front(), line.duties[d].may_wait) {
        (Some(&since), Some(wait)) if since + wait > floor.now => Some(since + wait),
        _ => None,
    };
    let no = floor.duties_no();
    floor.set_or_clear(no, 2 * d as u32 + 1, Phase::Clock, overdue);
    floor.telling.level(floor.n.duty[d], held);
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line) {
    for (d, spec) in line.duties.iter().enumerate() {
        match spec.when {
            DutyWhen::EveryKg(kg) => {
                let every = ((kg * 1000.0) as u64).max(1);
                while (floor.duties.duties[d].next as u64 + 1) * every <= floor.duties.scraped_g {
                    floor.duties.duties[d].next += 1;
                    fall_due(floor, line, d);
                }
            }
            // `next` says whether it has been asked for and not done yet.
            DutyWhen::DetergentLow(m)
                if floor.duties.duties[d].next == 0 && machine::is_low(floor, m) =>
            {
                floor.duties.duties[d].next = 1;
                fall_due(floor, line, d);
            }
            DutyWhen::Change(r)
                if floor.duties.duties[d].next == 0 && floor.receivers[usize::from(r)].called =>
            {
                floor.duties.duties[d].next = 1;
                fall_due(floor, line, d);
            }
            DutyWhen::BinFull(s) => {
                while (floor.duties.duties[d].next as u64) < floor.waste[usize::from(s)].filled {
                    floor.duties.duties[d].next += 1;
                    fall_due(floor, line, d);
                }
            }
            DutyWhen::At(_)
            | DutyWhen::DetergentLow(_)
            | DutyWhen::Change(_)
            | DutyWhen::AfterLast { .. } => {}
        }
    }
}

/// Lets cleaning fall due whose moment has come, every tray being sorted. Whether any did.
pub(crate) fn cleaning_falls_due(floor: &mut Floor, line: &Line) -> bool {
    if floor.duties.to_fall_due == 0 {
        return false;
    }
    let reached = reached(floor, line);
    let before = floor.duties.to_fall_due;
    for (d, spec) in line.duties.iter().enumerate() {
        if let DutyWhen::AfterLast {
            moment,
            drains,
            jobs,
        } = spec.when
            && floor.duties.duties[d].next == 0
            && moment <= reached
        {
            floor.duties.duties[d].next = 1;
            floor.duties.to_fall_due -= 1;
            if drains.is_none() {
                for _ in 0..jobs {
                    fall_due(floor, line, d);
                }
            } else {
                let no = floor.duties_no();
                let drained = floor.now + drains;
                floor.set(no, 2 * d as u32, Phase::Clock, drained);
            }
        }
    }
    floor.duties.to_fall_due < before
}

/// How far clearing away has come, every tray being sorted.
fn reached(floor: &Floor, line: &Line) -> Moment {
    let lanes = (0..line.lanes.len() as u8).all(|l| lane::len(floor, l) == 0);
    let machines = floor
        .machines
        .iter()
        .all(|m| m.inside.is_empty() && m.in_hand.is_empty() && m.tunnel.is_empty());
    let mut on_tables = [0; MOST_CLASSES];
    for racking in &floor.racking {
        racking.pieces(&floor.racks, &mut on_tables);
    }
    if !lanes || !machines || on_tables.iter().any(|&pieces| pieces > 0) {
        Moment::Sorted
    } else if floor.ledger.pieces_inside() > 0 {
        Moment::Washed
    } else {
        Moment::Clean
    }
}

/// Cleaning that is not done: jobs, those that have not fallen due included.
pub(crate) fn cleaning_left(floor: &Floor, line: &Line) -> u32 {
    let each = line.duties.iter().zip(&floor.duties.duties);
    let left = each.map(|(spec, duty)| match spec.when {
        DutyWhen::AfterLast { jobs, .. } => jobs.saturating_sub(duty.finished as u32),
        _ => 0,
    });
    left.sum()
}

pub(crate) fn waiting(floor: &Floor, d: u8) -> u32 {
    floor.duties.duties[usize::from(d)].waiting.len() as u32
}

/// Whether the oldest job of this duty may wait no longer.
pub(crate) fn presses(floor: &Floor, line: &Line, d: u8) -> bool {
    let since = floor.duties.duties[usize::from(d)].waiting.front();
    match (since, line.duties[usize::from(d)].may_wait) {
        (None, _) => false,
        (Some(_), None) => true,
        (Some(&since), Some(wait)) => floor.now.since(since) >= wait,
    }
}

/// Begins the oldest job: seconds at normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, d: u8) -> Option<f64> {
    let duty = &mut floor.duties.duties[usize::from(d)];
    let since = duty.waiting.pop_front()?;
    let seconds = duty.work.value(duty.luck, duty.begun);
    duty.begun += 1;
    let waited = floor.now.since(since);
    floor.telling.waited(floor.n.duty[usize::from(d)], waited);
    tell(floor, line, usize::from(d));
    Some(seconds)
}

/// A job is done.
pub(crate) fn finish(floor: &mut Floor, line: &Line, d: u8) {
    floor.duties.duties[usize::from(d)].finished += 1;
    floor.telling.count(floor.n.count.duties, 1);
    match line.duties[usize::from(d)].when {
        DutyWhen::DetergentLow(m) => {
            floor.duties.duties[usize::from(d)].next = 0;
            machine::fill_up(floor, line, m);
        }
        DutyWhen::Change(r) => {
            floor.duties.duties[usize::from(d)].next = 0;
            receivers::change(floor, line, r);
        }
        DutyWhen::BinFull(s) => waste::empty_bin(floor, line, s),
        DutyWhen::At(_) | DutyWhen::EveryKg(_) | DutyWhen::AfterLast { .. } => {}
    }
}
