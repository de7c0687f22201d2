//! A way for filled racks: rollers on which racks run and close up, or a shelf.

use crate::calendar::Phase;
use crate::line::belt::speed_at;
use crate::line::floor::Floor;
use crate::line::mover::{Ending, Mover};
use crate::line::queue::Queue;
use crate::line::{Line, Order, Stands, Stop, gate, hand_over, order, stops, trouble};
use crate::time::SimTime;

/// A way that carries filled racks to a machine, or to another lane, and holds them.
#[derive(Clone, Debug, PartialEq)]
pub struct Lane {
    /// Its name.
    pub name: String,
    /// How racks move along it.
    pub kind: LaneKind,
    /// Stops by the clock.
    pub stops: Vec<Stop>,
    /// Number of the lane it hands its racks to at its end; `None`: it feeds machines.
    pub hands_to: Option<u8>,
    /// Which rack is taken next from a shelf; rollers keep the order in which they came.
    pub order: Order,
}

/// How racks move along a lane.
#[derive(Clone, Debug, PartialEq)]
pub enum LaneKind {
    /// Rollers, powered or inclined: racks run at a speed and close up at the end.
    Rollers {
        /// Length, mm.
        length_mm: u32,
        /// Length of a rack, mm.
        rack_mm: u32,
        /// Speed in mm a minute from each clock time on.
        speed: Vec<(SimTime, u32)>,
    },
    /// A shelf or table: racks are there at once.
    Shelf {
        /// Racks it holds; `None`: as many as come.
        room: Option<u32>,
    },
}

const MOVES: u32 = 0;
const SPEED: u32 = 1;
const STOP: u32 = 2;
/// The gate at its end, by the clock.
pub(crate) const GATE: u32 = 3;
pub(crate) const SLOTS: u32 = 4;

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    rollers: Option<Mover>,
    shelf: Queue,
    next_speed: usize,
    stops: stops::State,
    /// The machines at its end, one bit each.
    feeds: u64,
    /// Another lane hands over to it.
    in_series: bool,
    /// A gate at its end is up.
    barred: bool,
}

impl Lane {
    /// Whole racks it holds; `None`: as many as come.
    pub fn room(&self) -> Option<u32> {
        match self.kind {
            LaneKind::Rollers {
                length_mm, rack_mm, ..
            } => Some(length_mm / rack_mm.max(1)),
            LaneKind::Shelf { room } => room,
        }
    }
}

impl Line {
    /// The machines that stand at the end of a lane, by number, in line order.
    pub fn fed_by(&self, lane: u8) -> impl Iterator<Item = (u8, &crate::line::Machine)> {
        let all = (0..).zip(&self.machines);
        all.filter(move |(_, machine)| machine.from == Some(lane))
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor.lanes.resize_with(line.lanes.len(), State::default);
    for (i, spec) in line.lanes.iter().enumerate() {
        let no = floor.lane_no(i as u8);
        let state = &mut floor.lanes[i];
        state.feeds = 0;
        state.barred = false;
        state.in_series = line.lanes.iter().any(|it| it.hands_to == Some(i as u8));
        for (m, _) in line.fed_by(i as u8) {
            state.feeds |= 1 << m;
        }
        state.shelf.wipe(None);
        let mut at = None;
        state.shelf.wipe(spec.room());
        match &spec.kind {
            LaneKind::Rollers {
                length_mm,
                rack_mm,
                speed,
            } => {
                let (now, next) = speed_at(speed, line.starts);
                let most = spec.room().unwrap_or(0);
                let mover = state.rollers.get_or_insert_default();
                mover.wipe(
                    *length_mm,
                    *rack_mm,
                    most,
                    Ending::ClosesUp,
                    now,
                    line.starts,
                );
                state.next_speed = next;
                at = speed.get(next).map(|&(at, _)| at);
            }
            LaneKind::Shelf { .. } => state.rollers = None,
        }
        floor.set_or_clear(no, SPEED, Phase::Clock, at);
        let at = floor.lanes[i].stops.begin(&spec.stops, line.starts);
        let down = floor.lanes[i].stops.is_down();
        if let Some(mover) = &mut floor.lanes[i].rollers {
            mover.stopped = down;
        }
        floor.set_or_clear(no, STOP, Phase::Clock, at);
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let now = floor.now;
    let no = floor.lane_no(i);
    floor.mark(no);
    let spec = &line.lanes[usize::from(i)];
    let state = &mut floor.lanes[usize::from(i)];
    if let Some(mover) = &mut state.rollers {
        mover.read(now);
    }
    match (local, &spec.kind) {
        (SPEED, LaneKind::Rollers { speed, .. }) => {
            if let (Some(mover), Some(&(_, to))) = (&mut state.rollers, speed.get(state.next_speed))
            {
                mover.set_speed(to);
                state.next_speed += 1;
            }
            let at = speed.get(state.next_speed).map(|&(at, _)| at);
            floor.set_or_clear(no, SPEED, Phase::Clock, at);
        }
        (STOP, _) => {
            let (_, at) = state.stops.turn(&spec.stops, now);
            if let Some(mover) = &mut state.rollers {
                mover.stopped = state.stops.is_down();
            }
            floor.set_or_clear(no, STOP, Phase::Clock, at);
        }
        (GATE, _) => gate::falls_due(floor, line, i),
        _ => {}
    }
}

/// A gate at its end goes up or down.
pub(crate) fn bar(floor: &mut Floor, i: u8, up: bool) {
    floor.lanes[usize::from(i)].barred = up;
}

/// Trouble makes it stand.
pub(crate) fn hold(floor: &mut Floor, i: u8) {
    let now = floor.now;
    let state = &mut floor.lanes[usize::from(i)];
    state.stops.hold();
    if let Some(mover) = &mut state.rollers {
        mover.read(now);
        mover.stopped = true;
    }
    let no = floor.lane_no(i);
    floor.mark(no);
}

/// A trouble is over.
pub(crate) fn let_go(floor: &mut Floor, i: u8) {
    let now = floor.now;
    let state = &mut floor.lanes[usize::from(i)];
    let goes = state.stops.let_go();
    if let Some(mover) = &mut state.rollers {
        mover.read(now);
        mover.stopped = !goes;
    }
    let no = floor.lane_no(i);
    floor.mark(no);
}

/// Sets what is due next, and tells the neighbours.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let now = floor.now;
    let no = floor.lane_no(i);
    gate::look(floor, line, i);
    if let Some(next) = line.lanes[usize::from(i)].hands_to {
        hand_over::pass_on(floor, line, i, next);
    }
    let state = &mut floor.lanes[usize::from(i)];
    if let Some(mover) = &mut state.rollers {
        mover.read(now);
        let next = [mover.arrives_in(), mover.lands_in(0)]
            .into_iter()
            .flatten()
            .min();
        floor.set_or_clear(no, MOVES, Phase::End, next.map(|span| now + span));
    }
    let held = len(floor, i);
    floor.telling.level(floor.n.lane[usize::from(i)], held);
    floor.mark_these_machines(floor.lanes[usize::from(i)].feeds);
    tell_upstream(floor, line, i);
    let drive_runs = floor.lanes[usize::from(i)]
        .rollers
        .as_ref()
        .is_some_and(Mover::moves);
    trouble::runs(floor, line, Stands::Lane(i), drive_runs);
}

/// Whether another lane hands over to it.
pub(crate) fn is_in_series(floor: &Floor, i: u8) -> bool {
    floor.lanes[usize::from(i)].in_series
}

pub(crate) fn len(floor: &Floor, i: u8) -> u32 {
    let state = &floor.lanes[usize::from(i)];
    state
        .rollers
        .as_ref()
        .map_or_else(|| state.shelf.len(), Mover::len)
}

/// The racks on it, the one nearest the machine first.
pub(crate) fn racks(floor: &Floor, i: u8) -> impl Iterator<Item = u32> + '_ {
    let state = &floor.lanes[usize::from(i)];
    state
        .rollers
        .iter()
        .flat_map(Mover::things)
        .chain(state.shelf.things())
}

/// Whether a rack can be put on it right now.
pub(crate) fn has_room(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let now = floor.now;
    let state = &mut floor.lanes[usize::from(i)];
    match &mut state.rollers {
        Some(mover) => {
            mover.read(now);
            mover.can_land(0)
        }
        None => {
            // Room for nothing: straight into the machine when it can take a rack now.
            state.shelf.has_room()
                || (state.shelf.room == 0 && state.shelf.is_empty() && takes_now(floor, line, i))
        }
    }
}

fn takes_now(floor: &Floor, line: &Line, i: u8) -> bool {
    line.fed_by(i)
        .any(|(m, _)| crate::line::machine::takes_now(floor, line, m))
}

pub(crate) fn put(floor: &mut Floor, line: &Line, i: u8, rack: u32) {
    let now = floor.now;
    let state = &mut floor.lanes[usize::from(i)];
    match &mut state.rollers {
        Some(mover) => {
            mover.land(0, rack, now);
            let no = floor.lane_no(i);
            floor.mark(no);
            trouble::passes(floor, line, Stands::Lane(i), None);
        }
        None => {
            state.shelf.put(rack, now);
            tell(floor, i);
            tell_watchers(floor, line, i);
            if line.lanes[usize::from(i)].hands_to.is_some() || gate::of_lane(line, i).is_some() {
                let no = floor.lane_no(i);
                floor.mark(no);
            }
        }
    }
}

/// A rack that is already there stands behind those before it. Whether it finds room.
pub(crate) fn stands_there(floor: &mut Floor, line: &Line, i: u8, rack: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.lanes[usize::from(i)];
    match (&line.lanes[usize::from(i)].kind, &mut state.rollers) {
        (LaneKind::Rollers { .. }, Some(mover)) => {
            let at = mover.place_behind();
            if let Some(at) = at {
                mover.land(at, rack, now);
            }
            at.is_some()
        }
        _ => {
            let fits = state.shelf.has_room();
            if fits {
                state.shelf.put(rack, now);
                tell(floor, i);
            }
            fits
        }
    }
}

/// A shelf has no motion to work out: its neighbours are told at once.
fn tell(floor: &mut Floor, i: u8) {
    let held = len(floor, i);
    floor.telling.level(floor.n.lane[usize::from(i)], held);
    floor.mark_these_machines(floor.lanes[usize::from(i)].feeds);
}

/// Whoever holds ware back while the lane is full looks again.
fn tell_watchers(floor: &mut Floor, line: &Line, i: u8) {
    for (r, racking) in line.racking.iter().enumerate() {
        if racking.watches_lane() && racking.feeds(i) {
            let no = floor.racking_no(r as u8);
            floor.mark(no);
        }
    }
}

/// Whoever has racks for this lane, or holds ware back until it is emptier, looks again.
fn tell_upstream(floor: &mut Floor, line: &Line, i: u8) {
    for (r, racking) in line.racking.iter().enumerate() {
        if racking.feeds(i) && (floor.racking[r].waits_for_room() || racking.watches_lane()) {
            let no = floor.racking_no(r as u8);
            floor.mark(no);
        }
    }
    floor.mark_receivers();
    if !is_in_series(floor, i) {
        return;
    }
    for (l, lane) in (0..).zip(&line.lanes) {
        if lane.hands_to != Some(i) {
            continue;
        }
        // A rack that stood at its end may pass; and all ahead of the tables behind it has changed.
        if at_end(floor, l).is_some() {
            let no = floor.lane_no(l);
            floor.mark(no);
        }
        tell_watchers_behind(floor, line, l);
    }
}

/// Whoever holds ware back while this lane, or one it hands over to, is full looks again.
fn tell_watchers_behind(floor: &mut Floor, line: &Line, i: u8) {
    for l in 0..line.lanes.len() as u8 {
        if line.leads_to(l, i) {
            tell_watchers(floor, line, l);
        }
    }
}

/// The rack at the machine's end, and since when it is on the lane; none while a gate there is up.
pub(crate) fn at_end(floor: &mut Floor, i: u8) -> Option<(u32, SimTime)> {
    let now = floor.now;
    let state = &mut floor.lanes[usize::from(i)];
    if state.barred {
        return None;
    }
    match &mut state.rollers {
        Some(mover) => {
            mover.read(now);
            mover.at_end()
        }
        None => state.shelf.first(),
    }
}

/// Since when the rack that has been here longest is on the lane.
pub(crate) fn longest_here(floor: &Floor, i: u8) -> Option<SimTime> {
    let state = &floor.lanes[usize::from(i)];
    match &state.rollers {
        Some(mover) => mover.first_since(),
        None => state.shelf.first().map(|(_, since)| since),
    }
}

/// Takes the rack at the machine's end; with `more`, also one that rests right behind one just taken.
pub(crate) fn take(floor: &mut Floor, line: &Line, i: u8, more: bool) -> Option<u32> {
    let now = floor.now;
    let next = next_on_shelf(floor, line, i);
    let state = &mut floor.lanes[usize::from(i)];
    if state.barred {
        return None;
    }
    let (rack, since) = match &mut state.rollers {
        Some(mover) => {
            mover.read(now);
            if more {
                mover.take_close_behind()
            } else {
                mover.take_at_end()
            }
        }
        None => state.shelf.take_nth(next),
    }?;
    floor
        .telling
        .waited(floor.n.lane[usize::from(i)], now.since(since));
    if floor.lanes[usize::from(i)].rollers.is_some() {
        let no = floor.lane_no(i);
        floor.mark(no);
    } else {
        let held = len(floor, i);
        floor.telling.level(floor.n.lane[usize::from(i)], held);
        tell_upstream(floor, line, i);
        if gate::of_lane(line, i).is_some() {
            let no = floor.lane_no(i);
            floor.mark(no);
        }
    }
    Some(rack)
}

/// Which of the racks on a shelf is taken next.
fn next_on_shelf(floor: &Floor, line: &Line, i: u8) -> usize {
    let order = &line.lanes[usize::from(i)].order;
    if matches!(order, Order::Usual | Order::FirstCome) {
        return 0;
    }
    let racks = floor.lanes[usize::from(i)].shelf.things().enumerate();
    let ranked = racks.map(|(k, rack)| {
        let class = floor.racks.get(rack).class;
        (order::rank(floor, line, order, class), k)
    });
    ranked.min().map_or(0, |(_, k)| k)
}
