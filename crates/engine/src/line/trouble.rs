//! Trouble: jams, failures and stop stations. What is struck stands, with its neighbours, until somebody has cleared it
//! with the drive locked out.

use crate::calendar::Phase;
use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::{AfterStop, Line, Post, accumulator, belt, lane, machine, stacks};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};

/// One kind of trouble.
#[derive(Clone, Debug, PartialEq)]
pub struct Trouble {
    /// Its name.
    pub name: String,
    /// What stands while it lasts. The first is the one whose trays, racks or running time bring it on.
    pub stops: Vec<Stands>,
    /// What brings it on.
    pub strikes: Strikes,
    /// Seconds of work to clear it, or seconds until it is over where nobody of the crew is needed.
    pub clearing_s: Dist,
    /// Posts whose workers clear it, before any other work; empty: nobody of the crew is needed.
    pub by: Vec<Post>,
    /// What becomes of the work in hand.
    pub then: AfterStop,
}

/// Something with a drive, that can stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// A belt.
    Belt(u8),
    /// A belt for stacks.
    StackBelt(u8),
    /// A tray accumulator's loop.
    Accumulator(u8),
    /// A lane of rollers.
    Lane(u8),
    /// A machine.
    Machine(u8),
}

/// What brings trouble on.
#[derive(Clone, Debug, PartialEq)]
pub enum Strikes {
    /// This share of the trays put down on a belt or loop (of the racks that go into a machine or onto a lane) jams: those whose
    /// own uniform number lies below it.
    Share(f64),
    /// After so many minutes of running, and again. The clock runs only while the thing runs; another stop does not
    /// start it anew.
    RunningMin(Dist),
}

const STRIKES: u32 = 0;
const CLEARS: u32 = 1;
pub(crate) const SLOTS_EACH: u32 = 2;

#[derive(Clone, Debug, Default)]
struct One {
    /// Jams that have struck and are not yet seen to.
    struck: u32,
    stands: bool,
    since: SimTime,
    somebody_clears: bool,
    /// Running time to the next failure, and since when the thing runs.
    left: Span,
    runs_since: Option<SimTime>,
    /// Failures, things passed and clearings so far.
    nth: u64,
    passed: u64,
    cleared: u64,
    strikes: Sampler,
    clearing: Sampler,
    luck: Keyed,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    all: Vec<One>,
    /// Whether any counts trays or racks, and whether any has a clock.
    counts: bool,
    clocks: bool,
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    let root = floor.root;
    floor
        .trouble
        .all
        .resize_with(line.troubles.len(), One::default);
    floor.trouble.counts = false;
    floor.trouble.clocks = false;
    for (t, spec) in line.troubles.iter().enumerate() {
        let it = &mut floor.trouble.all[t];
        it.struck = 0;
        it.stands = false;
        it.somebody_clears = false;
        it.runs_since = None;
        it.nth = 0;
        it.passed = 0;
        it.cleared = 0;
        it.luck = root.keyed(name_key(&spec.name) ^ name_key("trouble"));
        it.clearing.fit(&spec.clearing_s);
        match &spec.strikes {
            Strikes::Share(_) => floor.trouble.counts = true,
            Strikes::RunningMin(minutes) => {
                it.strikes.fit(minutes);
                it.left = it.next_gap();
                floor.trouble.clocks = true;
            }
        }
    }
}

impl One {
    /// Running time from the last failure to the next.
    fn next_gap(&self) -> Span {
        let minutes = self.strikes.value(self.luck, self.nth * 4);
        Span::from_us(Span::from_min(minutes).us().max(1))
    }
}

/// A tray is put down on a belt or loop, or a rack goes onto a lane or into a machine. `ordinal` is the tray's own number;
/// racks are counted here.
#[inline]
pub(crate) fn passes(floor: &mut Floor, line: &Line, on: Stands, ordinal: Option<u32>) {
    if floor.trouble.counts {
        strikes_in_passing(floor, line, on, ordinal);
    }
}

#[cold]
fn strikes_in_passing(floor: &mut Floor, line: &Line, on: Stands, ordinal: Option<u32>) {
    for (t, spec) in line.troubles.iter().enumerate() {
        let Strikes::Share(share) = spec.strikes else {
            continue;
        };
        if spec.stops.first() != Some(&on) {
            continue;
        }
        let it = &mut floor.trouble.all[t];
        let number = ordinal.map_or(it.passed, u64::from);
        it.passed += 1;
        if it.luck.uniform(number * 4 + 1) < share {
            it.struck += 1;
            let no = floor.trouble_no();
            floor.mark(no);
        }
    }
}

/// Whether something with a drive runs, from now on.
#[inline]
pub(crate) fn runs(floor: &mut Floor, line: &Line, what: Stands, it_runs: bool) {
    if floor.trouble.clocks {
        clock_runs(floor, line, what, it_runs);
    }
}

#[cold]
fn clock_runs(floor: &mut Floor, line: &Line, what: Stands, it_runs: bool) {
    let now = floor.now;
    let no = floor.trouble_no();
    for (t, spec) in line.troubles.iter().enumerate() {
        if !matches!(spec.strikes, Strikes::RunningMin(_)) || spec.stops.first() != Some(&what) {
            continue;
        }
        let it = &mut floor.trouble.all[t];
        let slot = SLOTS_EACH * t as u32 + STRIKES;
        match (it.runs_since, it_runs) {
            (None, true) => {
                it.runs_since = Some(now);
                let at = now + it.left;
                floor.set(no, slot, Phase::Clock, at);
            }
            (Some(since), false) => {
                it.left = it.left - now.since(since);
                it.runs_since = None;
                floor.clear(no, slot);
            }
            _ => {}
        }
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, local: u32) {
    let now = floor.now;
    let t = (local / SLOTS_EACH) as usize;
    let no = floor.trouble_no();
    floor.mark(no);
    let it = &mut floor.trouble.all[t];
    if local % SLOTS_EACH == STRIKES {
        it.struck += 1;
        it.nth += 1;
        it.left = it.next_gap();
        // It stands in settling, and its clock with it; until then the new stretch has begun.
        it.runs_since = Some(now);
        let at = now + it.left;
        floor.set(no, local, Phase::Clock, at);
    } else {
        is_over(floor, line, t);
    }
}

/// What is struck stands; what has to be cleared calls for somebody.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line) {
    let now = floor.now;
    for (t, spec) in line.troubles.iter().enumerate() {
        let it = &mut floor.trouble.all[t];
        if it.stands || it.struck == 0 {
            continue;
        }
        it.struck -= 1;
        it.stands = true;
        it.since = now;
        floor.crew.something_waits();
        floor.telling.count(floor.n.count.troubles[t], 1);
        floor.telling.level(floor.n.trouble[t], 1);
        for &what in &spec.stops {
            match what {
                Stands::Belt(b) => belt::hold(floor, b),
                Stands::StackBelt(b) => stacks::hold(floor, b),
                Stands::Accumulator(a) => accumulator::hold(floor, a),
                Stands::Lane(l) => lane::hold(floor, l),
                Stands::Machine(m) => machine::hold(floor, m),
            }
        }
        if spec.by.is_empty() {
            let lasts = Span::drawn(clearing_s(floor, t));
            if lasts.is_none() {
                is_over(floor, line, t);
            } else {
                let no = floor.trouble_no();
                floor.set(
                    no,
                    SLOTS_EACH * t as u32 + CLEARS,
                    Phase::Clock,
                    now + lasts,
                );
            }
        } else {
            floor.mark_crew();
        }
    }
}

fn clearing_s(floor: &mut Floor, t: usize) -> f64 {
    let it = &mut floor.trouble.all[t];
    let ordinal = it.cleared * 4 + 3;
    it.cleared += 1;
    it.clearing.value(it.luck, ordinal)
}

/// The trouble is over: what stood because of it goes on.
fn is_over(floor: &mut Floor, line: &Line, t: usize) {
    let spec = &line.troubles[t];
    let it = &mut floor.trouble.all[t];
    it.stands = false;
    it.somebody_clears = false;
    floor.telling.level(floor.n.trouble[t], 0);
    for &what in &spec.stops {
        match what {
            Stands::Belt(b) => belt::let_go(floor, b),
            Stands::StackBelt(b) => stacks::let_go(floor, b),
            Stands::Accumulator(a) => accumulator::let_go(floor, a),
            Stands::Lane(l) => lane::let_go(floor, l),
            Stands::Machine(m) => machine::let_go(floor, line, m, spec.then),
        }
    }
    let no = floor.trouble_no();
    floor.mark(no);
}

/// Whether this trouble waits for somebody.
pub(crate) fn waiting(floor: &Floor, t: u8) -> u32 {
    let it = &floor.trouble.all[usize::from(t)];
    u32::from(it.stands && !it.somebody_clears)
}

/// Somebody begins to clear it: seconds at normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, t: u8) -> Option<f64> {
    if waiting(floor, t) == 0 {
        return None;
    }
    let it = &mut floor.trouble.all[usize::from(t)];
    it.somebody_clears = true;
    let waited = floor.now.since(it.since);
    floor
        .telling
        .waited(floor.n.trouble[usize::from(t)], waited);
    Some(clearing_s(floor, usize::from(t)))
}

/// It is cleared.
pub(crate) fn finish(floor: &mut Floor, line: &Line, t: u8, worker: u8) {
    is_over(floor, line, usize::from(t));
    floor.release(worker);
}
