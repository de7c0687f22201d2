//! A belt for soiled trays.

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::mover::{Ending, Mover};
use crate::line::{Line, Post, Stands, Stop, TraysFrom, stops, trouble};
use crate::time::SimTime;
use crate::watch::State as S;

/// A moving surface for soiled trays.
#[derive(Clone, Debug, PartialEq)]
pub struct Belt {
    /// Its name.
    pub name: String,
    /// Length, mm.
    pub length_mm: u32,
    /// Least distance between two trays, mm.
    pub spacing_mm: u32,
    /// Speed in mm a minute from each clock time on; the first holds from the start.
    pub speed: Vec<(SimTime, u32)>,
    /// What happens at its end.
    pub rule: EndRule,
    /// Stops by the clock (the work in hand always resumes).
    pub stops: Vec<Stop>,
}

/// What a belt does when a tray comes to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndRule {
    /// A limit switch: while a tray lies at the end the whole belt stands, gaps stay.
    StopsOnArrival,
    /// Trays queue against the end while the belt runs on under them.
    ClosesUp,
    /// Moves one section when its end is empty, something lies on it and a worker at the end is free.
    AdvancesOnDemand {
        /// Length of a section, mm.
        section_mm: u32,
    },
}

const MOVES: u32 = 0;
const SPEED: u32 = 1;
const STOP: u32 = 2;
pub(crate) const SLOTS: u32 = 3;

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    pub(crate) mover: Mover,
    next_speed: usize,
    stops: stops::State,
}

impl State {
    /// As it is at the start of a run; when its speed changes next, and when it next stops or goes on.
    pub(crate) fn begin(&mut self, spec: &Belt, starts: SimTime) -> [Option<SimTime>; 2] {
        let ending = match spec.rule {
            EndRule::StopsOnArrival => Ending::Stands,
            EndRule::ClosesUp => Ending::ClosesUp,
            EndRule::AdvancesOnDemand { .. } => Ending::OnDemand,
        };
        let (speed, next) = speed_at(&spec.speed, starts);
        self.mover.wipe(
            spec.length_mm,
            spec.spacing_mm,
            spec.most(),
            ending,
            speed,
            starts,
        );
        self.next_speed = next;
        let turns = self.stops.begin(&spec.stops, starts);
        self.mover.stopped = self.stops.is_down();
        [spec.speed.get(next).map(|&(at, _)| at), turns]
    }

    /// The next speed of its table; when the one after it is due.
    pub(crate) fn changes_speed(&mut self, spec: &Belt) -> Option<SimTime> {
        if let Some(&(_, speed)) = spec.speed.get(self.next_speed) {
            self.mover.set_speed(speed);
            self.next_speed += 1;
        }
        spec.speed.get(self.next_speed).map(|&(at, _)| at)
    }

    /// It stops or goes on by the clock; when it does so next.
    pub(crate) fn stops_or_goes_on(&mut self, spec: &Belt, now: SimTime) -> Option<SimTime> {
        let (_, at) = self.stops.turn(&spec.stops, now);
        self.mover.stopped = self.stops.is_down();
        at
    }

    /// Trouble makes it stand.
    pub(crate) fn hold(&mut self, now: SimTime) {
        self.mover.read(now);
        self.stops.hold();
        self.mover.stopped = true;
    }

    /// A trouble is over.
    pub(crate) fn let_go(&mut self, now: SimTime) {
        self.mover.read(now);
        self.mover.stopped = !self.stops.let_go();
    }
}

impl Belt {
    /// Whole places: trays that lie on it end to end.
    pub fn places(&self) -> u32 {
        self.length_mm / self.spacing_mm.max(1)
    }

    /// Trays it holds at most: one a spacing, the last piece of belt included.
    pub fn most(&self) -> u32 {
        self.length_mm.div_ceil(self.spacing_mm.max(1)).max(1)
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor.belts.resize_with(line.belts.len(), State::default);
    for (i, spec) in line.belts.iter().enumerate() {
        let [speed, stop] = floor.belts[i].begin(spec, line.starts);
        let no = floor.belt_no(i as u8);
        floor.set_or_clear(no, SPEED, Phase::Clock, speed);
        floor.set_or_clear(no, STOP, Phase::Clock, stop);
        floor.telling.begin_state(floor.n.belt_actor[i], S::Waiting);
    }
}

/// The speed in force at `at`, and which entry comes next.
pub(crate) fn speed_at(table: &[(SimTime, u32)], at: SimTime) -> (u32, usize) {
    let begun = table.partition_point(|&(from, _)| from <= at);
    (
        table
            .get(begun.saturating_sub(1))
            .map_or(0, |&(_, speed)| speed),
        begun.max(1),
    )
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let no = floor.belt_no(i);
    floor.mark(no);
    let now = floor.now;
    let spec = &line.belts[usize::from(i)];
    let state = &mut floor.belts[usize::from(i)];
    state.mover.read(now);
    match local {
        SPEED => {
            let at = state.changes_speed(spec);
            floor.set_or_clear(no, SPEED, Phase::Clock, at);
        }
        STOP => {
            let at = state.stops_or_goes_on(spec, now);
            floor.set_or_clear(no, STOP, Phase::Clock, at);
        }
        // Something comes to the end, passes a post, or an advance is done: settling looks.
        _ => floor.mark_crew(),
    }
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let now = floor.now;
    let spec = &line.belts[usize::from(i)];
    let no = floor.belt_no(i);
    floor.belts[usize::from(i)].mover.read(now);
    if let EndRule::AdvancesOnDemand { section_mm } = spec.rule {
        let takes_here = |post: Post| match post {
            Post::Scrapping(s) => line.scrapping[usize::from(s)]
                .from
                .contains(&TraysFrom::BeltEnd(i)),
            _ => false,
        };
        let wanted = floor.crew.idle_at(takes_here) > 0;
        let mover = &mut floor.belts[usize::from(i)].mover;
        if wanted && !mover.is_empty() && !mover.lies_at_end() && !mover.moves() && !mover.stopped {
            mover.advance(section_mm);
        }
    }
    let mover = &floor.belts[usize::from(i)].mover;
    let mut next = mover.arrives_in();
    for from in line.scrapping.iter().flat_map(|s| &s.from) {
        if let TraysFrom::BeltAt { belt, at_mm, .. } = *from
            && belt == i
        {
            next = [next, mover.passes_in(at_mm), mover.settles_in()]
                .into_iter()
                .flatten()
                .min();
        }
    }
    next = [next, mover.advance_ends_in()].into_iter().flatten().min();

    let held = mover.len();
    let state = if mover.stopped {
        S::Down
    } else if spec.rule == EndRule::StopsOnArrival && mover.lies_at_end() {
        S::Stopped
    } else if mover.moves() && held > 0 {
        S::Moving
    } else {
        S::Waiting
    };
    // A tray may have come to rest, or been put down, where somebody along the belt reaches it.
    let within_reach = line
        .scrapping
        .iter()
        .flat_map(|s| &s.from)
        .any(|from| match *from {
            TraysFrom::BeltAt {
                belt,
                at_mm,
                reach_mm,
            } => belt == i && mover.something_at(at_mm, reach_mm),
            _ => false,
        });
    let drive_runs = mover.moves();
    let ready = mover.lies_at_end() || within_reach;
    let waits = mover.waits_for_demand();
    floor.set_or_clear(no, MOVES, Phase::End, next.map(|span| now + span));
    floor.telling.level(floor.n.belt[usize::from(i)], held);
    floor
        .telling
        .state(floor.n.belt_actor[usize::from(i)], state, None);
    if ready || waits {
        floor.mark_crew();
    }
    trouble::runs(floor, line, Stands::Belt(i), drive_runs);
    for (d, drop_off) in line.drop_offs.iter().enumerate() {
        if floor.drop_offs[d].is_held_up() && line.reaches_belt(drop_off.to, i) {
            let no = floor.drop_off_no(d as u8);
            floor.mark(no);
        }
    }
}

/// Trouble makes it stand.
pub(crate) fn hold(floor: &mut Floor, i: u8) {
    let now = floor.now;
    floor.belts[usize::from(i)].hold(now);
    let no = floor.belt_no(i);
    floor.mark(no);
}

/// A trouble is over.
pub(crate) fn let_go(floor: &mut Floor, i: u8) {
    let now = floor.now;
    floor.belts[usize::from(i)].let_go(now);
    let no = floor.belt_no(i);
    floor.mark(no);
}

/// Puts a tray down if there is a gap.
pub(crate) fn land(floor: &mut Floor, line: &Line, i: u8, at_mm: u32, tray: u32) -> bool {
    let now = floor.now;
    let mover = &mut floor.belts[usize::from(i)].mover;
    mover.read(now);
    let fits = mover.can_land(at_mm);
    if fits {
        mover.land(at_mm, tray, now);
        let no = floor.belt_no(i);
        floor.mark(no);
        trouble::passes(floor, line, Stands::Belt(i), Some(tray));
    }
    fits
}

/// A tray that is already there lies a spacing behind those before it. Whether it finds room.
pub(crate) fn lies_there(floor: &mut Floor, i: u8, tray: u32) -> bool {
    let now = floor.now;
    let mover = &mut floor.belts[usize::from(i)].mover;
    let at = mover.place_behind();
    if let Some(at) = at {
        mover.land(at, tray, now);
    }
    at.is_some()
}

/// Trays that wait at this source: all on the belt once one can be taken. Besides, a belt that brings them on demand has all
/// its trays waiting for a worker who is not `here`, unless it moves already; and for one who is, who presses the switch and
/// stays until the next one comes.
#[inline(never)]
pub(crate) fn waiting(floor: &mut Floor, i: u8, at: Option<(u32, u32)>, here: bool) -> u32 {
    let can_take = can_take(floor, i, at);
    let mover = &floor.belts[usize::from(i)].mover;
    let brings = at.is_none()
        && match here {
            true => mover.comes_on_demand(),
            false => mover.waits_for_demand(),
        };
    if can_take || brings { mover.len() } else { 0 }
}

/// Whether a tray can be taken now.
#[inline(never)]
pub(crate) fn can_take(floor: &mut Floor, i: u8, at: Option<(u32, u32)>) -> bool {
    let now = floor.now;
    let mover = &mut floor.belts[usize::from(i)].mover;
    mover.read(now);
    match at {
        None => mover.lies_at_end(),
        Some((at_mm, reach_mm)) => mover.something_at(at_mm, reach_mm),
    }
}

/// Takes the tray at the end, or at a point along the belt.
#[inline(never)]
pub(crate) fn take(floor: &mut Floor, i: u8, at: Option<(u32, u32)>) -> Option<(u32, SimTime)> {
    let now = floor.now;
    let mover = &mut floor.belts[usize::from(i)].mover;
    mover.read(now);
    let taken = match at {
        None => mover.take_at_end(),
        Some((at_mm, reach_mm)) => mover.take_at(at_mm, reach_mm),
    };
    if taken.is_some() {
        let no = floor.belt_no(i);
        floor.mark(no);
    }
    taken
}
