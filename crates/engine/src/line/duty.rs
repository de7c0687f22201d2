//! Other work: by the clock, by count, by round.

use crate::dist::Dist;
use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, Post};
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
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    duties: Vec<DutyState>,
    /// Waste scraped off so far, grams.
    pub(crate) scraped_g: u64,
    /// Whether any of it falls due by the weight of waste.
    pub(crate) by_weight: bool,
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .duties
        .duties
        .resize_with(line.duties.len(), DutyState::default);
    floor.duties.scraped_g = 0;
    let by_weight = |duty: &Duty| matches!(duty.when, DutyWhen::EveryKg(_));
    floor.duties.by_weight = line.duties.iter().any(by_weight);
    let no = floor.duties_no();
    for (d, spec) in line.duties.iter().enumerate() {
        let root = floor.root;
        let duty = &mut floor.duties.duties[d];
        duty.waiting.clear();
        duty.begun = 0;
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

pub(crate) fn due(floor: &mut Floor, line: &Line, local: u32) {
    let d = (local / 2) as usize;
    if local.is_multiple_of(2)
        && let DutyWhen::At(times) = &line.duties[d].when
    {
        floor.duties.duties[d].next += 1;
        let next = times.get(floor.duties.duties[d].next).copied();
        let no = floor.duties_no();
        floor.set_or_clear(no, local, Phase::Clock, next);
        fall_due(floor, line, d);
    }
    // The other slot: a job that may wait has waited long enough. The crew looks.
    floor.mark_crew();
}

fn fall_due(floor: &mut Floor, line: &Line, d: usize) {
    let now = floor.now;
    floor.duties.duties[d].waiting.push_back(now);
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
        if let DutyWhen::EveryKg(kg) = spec.when {
            let every = ((kg * 1000.0) as u64).max(1);
            while (floor.duties.duties[d].next as u64 + 1) * every <= floor.duties.scraped_g {
                floor.duties.duties[d].next += 1;
                fall_due(floor, line, d);
            }
        }
    }
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
pub(crate) fn begin(floor: &mut Floor, line: &Line, d: u8) -> Option<f64> {
    let duty = &mut floor.duties.duties[usize::from(d)];
    let since = duty.waiting.pop_front()?;
    let seconds = duty
        .work
        .constant()
        .unwrap_or_else(|| duty.work.draw(duty.luck.at(duty.begun)));
    duty.begun += 1;
    let waited = floor.now.since(since);
    floor.telling.waited(floor.n.duty[usize::from(d)], waited);
    tell(floor, line, usize::from(d));
    Some(seconds)
}

pub(crate) fn finish(floor: &mut Floor) {
    floor.telling.count(floor.n.count.duties, 1);
}
