//! Who is served and who comes to the drop-offs, minute by minute, as expected on the day the file states.
//!
//! Served covers are spread over the minutes of their interval. Each minute's covers sit down after the mean time to find
//! a seat and leave by the distribution of eating times; at each bell the stated share of those still seated (and seated
//! long enough) is taken out and spread evenly over the bell's span. Parties and chance are left out.

use scullery_engine::demand::{Cleared, Covers, Demand, How, Kind, LoadWhen};
use scullery_engine::time::{SimTime, Span};

use super::below::below;
use crate::plan::Plan;

/// Longest stretch that is followed minute by minute.
const MOST_MINUTES: usize = 48 * 60;
/// People still seated so long after the last is served are counted in the last minute.
const LONGEST_MEAL: usize = 4 * 60;

/// Expected counts a minute, from a first minute on.
#[derive(Clone, Debug)]
pub(crate) struct Flow {
    /// Minutes since midnight of the first entry.
    pub(crate) from_min: usize,
    /// Covers served.
    pub(crate) served: Vec<f64>,
    /// Covers served that sit down.
    pub(crate) seated_in: Vec<f64>,
    /// By kind of diner: those who come to a drop-off.
    pub(crate) dropped: Vec<Vec<f64>>,
    /// By kind of diner: those served, shifted to when they sit down.
    pub(crate) by_kind: Vec<Vec<f64>>,
}

/// The flow of a plan; `None` when the meal is too long to be followed by the minute.
pub(crate) fn flow(plan: &Plan) -> Option<Flow> {
    let demand = &plan.demand;
    let (first, last) = ends(&demand.covers)?;
    let from_min = (first.min() / 15.0).floor() as usize * 15;
    // A course, or a load, may come long after the last cover was served.
    let last = latest(demand, last);
    let served_until = last.min().ceil() as usize + 1;
    let minutes = served_until.checked_sub(from_min)? + LONGEST_MEAL;
    if minutes > MOST_MINUTES {
        return None;
    }
    let served = served(&demand.covers, day_factor(demand), from_min, minutes);
    let mut flow = Flow {
        from_min,
        seated_in: vec![0.0; minutes],
        dropped: Vec::new(),
        by_kind: Vec::new(),
        served,
    };
    let find_seat = demand.find_seat_min.mean().round() as usize;
    for kind in &demand.kinds {
        let mut came = vec![0.0; minutes];
        let mut own = vec![0.0; minutes];
        for minute in 0..minutes {
            let at = SimTime::from_min((from_min + minute) as f64);
            let share = kind
                .share
                .iter()
                .rev()
                .find(|(from, _)| *from <= at)
                .or(kind.share.first());
            let people = flow.served[minute] * share.map_or(0.0, |(_, share)| *share);
            if people <= 0.0 {
                continue;
            }
            own[minute] += people;
            let sat = (minute + find_seat).min(minutes - 1);
            if kind.sits {
                flow.seated_in[sat] += people;
            }
            if !kind.courses.is_empty() {
                cleared(kind, people, from_min, sat, &mut came);
                continue;
            }
            if !kind.sits {
                came[minute] += people;
                continue;
            }
            for (after, share) in leaving(demand, from_min, sat, minutes)
                .into_iter()
                .enumerate()
            {
                came[sat + after] += people * share;
            }
        }
        let carries = kind.pieces.iter().any(|pieces| *pieces > 0.0);
        flow.dropped.push(if carries || kind.sits {
            came
        } else {
            vec![0.0; minutes]
        });
        flow.by_kind.push(own);
    }
    for load in &demand.loads {
        let mut add = |at: SimTime, trays: f64| {
            let minute = (at.min() as usize).saturating_sub(from_min);
            if let Some(came) = flow.dropped.get_mut(usize::from(load.kind)) {
                came[minute.min(minutes - 1)] += trays;
            }
        };
        match &load.when {
            LoadWhen::At(times) => times.iter().for_each(|&(at, n)| add(at, f64::from(n))),
            LoadWhen::Within { from, lasts, count } => {
                let span = ((*lasts).min().ceil() as usize).max(1);
                let each = f64::from(*count) / span as f64;
                (0..span).for_each(|after| add(*from + Span::from_min(after as f64), each));
            }
            LoadWhen::There { at: _, trays } => add(plan.line.starts, f64::from(*trays)),
            LoadWhen::Eating { at, people, .. } => {
                // Those seated are at any point of their meal: they leave over the length of a mean one.
                let eats = demand
                    .eating_min
                    .first()
                    .map_or(0.0, |(_, dist)| dist.mean());
                let span = (eats.ceil() as usize).clamp(1, minutes);
                let each = f64::from(*people) / span as f64;
                (0..span).for_each(|after| add(*at + Span::from_min(after as f64), each));
            }
            LoadWhen::Never(_) => {}
        }
    }
    Some(flow)
}

/// When the courses of those who sat down in minute `sat` are cleared. A cover counts as one: each course by its share
/// of the pieces.
fn cleared(kind: &Kind, people: f64, from_min: usize, sat: usize, came: &mut [f64]) {
    let all: f64 = kind.pieces.iter().sum();
    let last = came.len() - 1;
    for course in &kind.courses {
        let own: f64 = course.pieces.iter().sum();
        let share = people * own / all.max(1e-9);
        match &course.cleared {
            Cleared::AfterMin(after) => {
                let mut told = 0.0;
                for minute in 0..=last - sat {
                    let part =
                        below(after, minute as f64 + 0.5) - below(after, minute as f64 - 0.5);
                    came[sat + minute] += share * part;
                    told += part;
                }
                came[last] += share * (1.0 - told).max(0.0);
            }
            Cleared::Within { from, lasts } => {
                let first = ((*from).min() as usize).saturating_sub(from_min);
                let span = ((*lasts).min().ceil() as usize).max(1);
                for minute in first..first + span {
                    came[minute.min(last)] += share / span as f64;
                }
            }
        }
    }
}

/// The share of those who sat down in minute `sat` that leaves in each minute from then on.
fn leaving(demand: &Demand, from_min: usize, sat: usize, minutes: usize) -> Vec<f64> {
    let at = SimTime::from_min((from_min + sat) as f64);
    let eating = demand
        .eating_min
        .iter()
        .rev()
        .find(|(from, _)| *from <= at)
        .or(demand.eating_min.first());
    let Some((_, eating)) = eating else {
        return vec![1.0];
    };
    let left = minutes - sat;
    let mut share: Vec<f64> = (0..left)
        .map(|after| below(eating, after as f64 + 0.5) - below(eating, after as f64 - 0.5))
        .collect();
    let told: f64 = share.iter().sum();
    if let Some(last) = share.last_mut() {
        *last += (1.0 - told).max(0.0);
    }
    for bell in &demand.bells {
        let rings = bell.at.min() - (from_min + sat) as f64;
        if rings < bell.seated_at_least.min() || rings as usize >= left {
            continue;
        }
        let still: f64 = share[rings as usize..].iter().sum();
        share[rings as usize..]
            .iter_mut()
            .for_each(|share| *share *= 1.0 - bell.share);
        let from = (rings - bell.before.min()).max(0.0) as usize;
        let to = ((rings + bell.after.min()).ceil() as usize)
            .clamp(from + 1, left.max(from + 1))
            .min(left);
        let span = to.saturating_sub(from).max(1) as f64;
        for share in share.iter_mut().take(to).skip(from) {
            *share += still * bell.share / span;
        }
    }
    share
}

/// The factor on covers of the day the file states: 1 for days as they come.
fn day_factor(demand: &Demand) -> f64 {
    match demand.days {
        scullery_engine::demand::Days::Design(factor) => factor,
        _ => 1.0,
    }
}

/// The last instant of which the file itself speaks: covers, courses cleared by the clock, loads.
fn latest(demand: &Demand, covers: SimTime) -> SimTime {
    let courses = demand.kinds.iter().flat_map(|kind| &kind.courses);
    let courses = courses.filter_map(|course| match &course.cleared {
        Cleared::Within { from, lasts } => Some(*from + *lasts),
        Cleared::AfterMin(_) => None,
    });
    let loads = demand.loads.iter().filter_map(|load| match &load.when {
        LoadWhen::At(times) => times.last().map(|&(at, _)| at),
        LoadWhen::Within { from, lasts, .. } => Some(*from + *lasts),
        LoadWhen::Eating { at, .. } => Some(*at),
        LoadWhen::There { .. } | LoadWhen::Never(_) => None,
    });
    courses.chain(loads).fold(covers, Ord::max)
}

fn ends(covers: &Covers) -> Option<(SimTime, SimTime)> {
    match covers {
        Covers::Instants(instants) | Covers::CameAt(instants) => {
            Some((*instants.first()?, *instants.last()?))
        }
        Covers::PerInterval { edges, .. } => Some((*edges.first()?, *edges.last()?)),
    }
}

fn served(covers: &Covers, factor: f64, from_min: usize, minutes: usize) -> Vec<f64> {
    let mut served = vec![0.0; minutes];
    match covers {
        Covers::Instants(instants) | Covers::CameAt(instants) => {
            for &at in instants {
                let minute = (at.min() as usize).saturating_sub(from_min);
                served[minute.min(minutes - 1)] += 1.0;
            }
        }
        Covers::PerInterval { edges, counts, how } => {
            for (index, edge) in edges.windows(2).enumerate() {
                let (from, to) = (
                    edge[0].min() - from_min as f64,
                    edge[1].min() - from_min as f64,
                );
                let linear = *how == How::PoissonLinear;
                // Covers of this interval up to `x` minutes on the axis.
                let upto = |x: f64| {
                    let x = x.clamp(from, to) - from;
                    let width = (to - from).max(1e-9);
                    if linear {
                        let slope = (counts[index + 1] - counts[index]) / width;
                        counts[index] * x + slope * x * x / 2.0
                    } else {
                        counts[index] * x / width
                    }
                };
                let (first, last) = (from.max(0.0) as usize, (to.ceil() as usize).min(minutes));
                for (minute, count) in served.iter_mut().enumerate().take(last).skip(first) {
                    *count += factor * (upto(minute as f64 + 1.0) - upto(minute as f64));
                }
            }
        }
    }
    served
}
