//! Watches how each stage spends its time, quarter hour by quarter hour.
//!
//! People belong to the post of their last task. At a post each of them works, is held up, or waits: the stage's time is
//! shared out among them. With nobody there the stage lacks hands if work waits for it (it counts as worked: it is what
//! holds the line), else it starves. A machine is blocked while the clean end is full; a door machine works while it washes, a
//! conveyor for as long after each rack that goes in as the next cannot; else it starves. A drop-off is blocked
//! while what it fills is full and somebody stands there; and by the share of those at its positions who wait for room in a
//! receiver or bin. Whoever changes a receiver is blocked while it is full and cannot be changed, since what was taken away
//! last finds no room. A disposer works while there is waste in it.

use scullery_engine::line::Post;
use scullery_engine::time::SimTime;
use scullery_engine::watch::{ActorId, ActorKind, Catalogue, Observer, PlaceId, State, Step};

use super::rule::Spent;
use super::stages::{Kind, Stage};
use crate::record::QUARTER_US;

/// Most quarter hours kept: three days.
const MOST_QUARTERS: usize = 3 * 96;

/// Microseconds worked, blocked and starved.
type Sums = [f64; 3];

/// The observer.
#[derive(Clone, Debug)]
pub struct StageWatch<'a> {
    stages: &'a [Stage],
    /// What each place holds.
    held: Vec<u32>,
    /// State of each actor.
    states: Vec<State>,
    /// Post of each worker's last task.
    posts: Vec<Option<Post>>,
    /// Actor of each machine, by its number.
    machines: Vec<usize>,
    /// Diners who wait for room in a receiver or bin, by drop-off.
    putting_away: Vec<u32>,
    /// Until when each machine's entrance is taken by the last rack that went in.
    taken_until: Vec<u64>,
    /// Sums by quarter hour and stage.
    sums: Vec<Vec<Sums>>,
    from: u64,
    since: u64,
}

impl<'a> StageWatch<'a> {
    /// A watch on these stages for one run that starts at `starts`.
    pub fn new(stages: &'a [Stage], catalogue: &Catalogue, starts: SimTime) -> StageWatch<'a> {
        let starts = starts.us();
        StageWatch {
            stages,
            held: catalogue.places.iter().map(|p| p.at_start).collect(),
            states: vec![State::Off; catalogue.actors.len()],
            posts: vec![None; catalogue.actors.len()],
            machines: (catalogue.actors.iter().enumerate())
                .filter(|(_, a)| a.kind == ActorKind::Machine)
                .map(|(i, _)| i)
                .collect(),
            putting_away: vec![0; stages.len()],
            taken_until: vec![0; stages.len()],
            sums: Vec::new(),
            from: starts - starts % QUARTER_US,
            since: starts,
        }
    }

    /// First minute of the first quarter hour.
    pub fn from_min(&self) -> u32 {
        (self.from / 60_000_000) as u32
    }

    /// Closes the watch; shares by quarter hour and stage.
    pub fn finish(&mut self, ends: SimTime) -> Vec<Vec<Spent>> {
        self.run_to(ends.us());
        let share = |sums: &Sums| {
            let all: f64 = sums.iter().sum();
            let of = |us: f64| if all > 0.0 { us / all } else { 0.0 };
            Spent {
                worked: of(sums[0]),
                blocked: of(sums[1]),
                starved: of(sums[2]),
            }
        };
        self.sums
            .iter()
            .map(|quarter| quarter.iter().map(share).collect())
            .collect()
    }

    fn run_to(&mut self, at: u64) {
        if at <= self.since {
            return;
        }
        while self.since < at {
            let now: Vec<Sums> = (0..self.stages.len()).map(|n| self.of(n)).collect();
            let quarter = ((self.since - self.from) / QUARTER_US) as usize;
            let quarter_ends = self.from + (quarter as u64 + 1) * QUARTER_US;
            let since = self.since;
            let changes = self
                .taken_until
                .iter()
                .copied()
                .filter(|&until| until > since);
            let ends = changes.fold(at.min(quarter_ends), u64::min);
            let us = (ends - self.since) as f64;
            self.since = ends;
            if quarter >= MOST_QUARTERS {
                continue;
            }
            if self.sums.len() <= quarter {
                self.sums
                    .resize(quarter + 1, vec![[0.0; 3]; self.stages.len()]);
            }
            for (sums, share) in self.sums[quarter].iter_mut().zip(&now) {
                sums.iter_mut()
                    .zip(share)
                    .for_each(|(sum, share)| *sum += share * us);
            }
        }
    }

    /// How a stage spends this moment: shares worked, blocked, starved.
    fn of(&self, number: usize) -> Sums {
        const WORKS: Sums = [1.0, 0.0, 0.0];
        const BLOCKED: Sums = [0.0, 1.0, 0.0];
        const STARVES: Sums = [0.0, 0.0, 1.0];
        let stage = &self.stages[number];
        let work_waits = stage.waits_at.iter().any(|&(p, job)| self.held[p] >= job);
        let full = stage.fills.iter().any(|&(p, room)| self.held[p] >= room);
        match stage.kind {
            Kind::DropOff(i) => match (work_waits, full) {
                (false, _) => STARVES,
                (true, true) => BLOCKED,
                (true, false) => {
                    let stand: u32 = stage.waits_at.iter().map(|&(p, _)| self.held[p]).sum();
                    let at_positions = stand.min(stage.positions).max(1);
                    let wait = self.putting_away[i].min(at_positions);
                    let blocked = f64::from(wait) / f64::from(at_positions);
                    [1.0 - blocked, blocked, 0.0]
                }
            },
            Kind::Disposer(_) if work_waits => WORKS,
            Kind::Disposer(_) => STARVES,
            Kind::Machine(i) => match self.machines.get(i).map(|&actor| self.states[actor]) {
                Some(State::Stopped) => BLOCKED,
                Some(State::Down) => WORKS,
                Some(State::Washing)
                    if stage.intake_us.is_none() || self.taken_until[number] > self.since =>
                {
                    WORKS
                }
                _ => STARVES,
            },
            Kind::Post(post) => {
                let mut people = [0.0; 3];
                for (state, at) in self.states.iter().zip(&self.posts) {
                    if *at == Some(post) {
                        match state {
                            State::Working | State::PastShift => people[0] += 1.0,
                            State::HeldUp => people[1] += 1.0,
                            State::Waiting => people[2] += 1.0,
                            _ => {}
                        }
                    }
                }
                let all: f64 = people.iter().sum();
                if full && !work_waits && people[0] == 0.0 {
                    BLOCKED
                } else if all > 0.0 {
                    people.map(|n| n / all)
                } else if work_waits {
                    WORKS
                } else {
                    STARVES
                }
            }
        }
    }
}

impl Observer for StageWatch<'_> {
    const FOLLOWS: bool = true;

    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        self.run_to(at.us());
        if let Some(it) = self.held.get_mut(usize::from(place.0)) {
            *it = held;
        }
    }

    fn state(&mut self, at: SimTime, who: ActorId, state: State, _: Option<PlaceId>) {
        self.run_to(at.us());
        if let Some(it) = self.states.get_mut(usize::from(who.0)) {
            *it = state;
        }
    }

    fn step(&mut self, at: SimTime, step: &Step) {
        if let Step::Begun { who, post, .. } = *step {
            self.run_to(at.us());
            if let Some(it) = self.posts.get_mut(usize::from(who.0)) {
                *it = Some(post);
            }
        }
        if let Step::PutsAway {
            drop_off, waits, ..
        } = *step
        {
            self.run_to(at.us());
            if let Some(it) = self.putting_away.get_mut(usize::from(drop_off)) {
                *it = if waits { *it + 1 } else { it.saturating_sub(1) };
            }
        }
        if let Step::RackIn(_, machine) = *step {
            self.run_to(at.us());
            let kind = Kind::Machine(usize::from(machine));
            let stages = self.stages.iter().zip(&mut self.taken_until);
            for (stage, until) in stages.filter(|(stage, _)| stage.kind == kind) {
                *until = at.us() + stage.intake_us.unwrap_or(0);
            }
        }
    }
}
