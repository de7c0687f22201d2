//! Where diners put down their trays: positions side by side, hours, patience, the overflow and the late cart.

use crate::dist::Dist;
use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::queue::Queue;
use crate::line::{DinerAid, Line, accumulator, belt, receivers, scrapping, twins};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::tape::{Diner, NO_CARTS, Tape};
use crate::time::{SimTime, Span};
use crate::watch::Step;

/// Where soiled trays arrive.
#[derive(Clone, Debug, PartialEq)]
pub struct DropOff {
    /// Its name.
    pub name: String,
    /// Load point of each position, in mm from the belt's start or the loop's mark (ignored for a table); one entry a
    /// position. Positions are asked from the downstream end (largest load point first).
    pub positions_mm: Vec<u32>,
    /// Seconds to put a tray down.
    pub put_down_s: Dist,
    /// When it opens; diners who come earlier wait. `None`: open from the start.
    pub opens: Option<SimTime>,
    /// When it closes; later trays go on the late cart.
    pub closes: Closing,
    /// Where trays go.
    pub to: TraysTo,
    /// What diners do before they put the tray down, in this order.
    pub aids: Vec<DinerAid>,
}

/// When a drop-off closes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closing {
    /// At this time; later trays go on the late cart.
    At(SimTime),
    /// When the last diner has dropped off.
    AfterLast,
    /// Not within the run (needs a stated end).
    Never,
}

/// Where soiled trays go next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TraysTo {
    /// Onto this belt.
    Belt(u8),
    /// Onto this tray accumulator.
    Accumulator(u8),
    /// Onto this table.
    Table(u8),
}

const ARRIVAL: u32 = 0;
const OPENING: u32 = 1;
const CLOSING: u32 = 2;
const GAP: u32 = 3;
/// Slots besides one a position.
pub(crate) const SLOTS: u32 = 4;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Position {
    Free,
    /// Waiting for a receiver, after so many seconds of putting things away.
    AtReceiver {
        diner: u32,
        came: SimTime,
        put_away_s: f64,
    },
    /// Putting down, until the position's slot is due.
    PuttingDown {
        diner: u32,
        came: SimTime,
        took: Span,
    },
    /// Done since then, and waiting for room.
    Holding {
        diner: u32,
        came: SimTime,
        took: Span,
        since: SimTime,
    },
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    queue: VecDeque<(u32, SimTime)>,
    positions: Vec<Position>,
    /// Positions in the order in which they are asked: from the downstream end.
    order: Vec<u8>,
    /// Positions that wait for room, first come first.
    holding: VecDeque<u8>,
    /// Positions that wait for a receiver, first come first.
    at_receiver: VecDeque<u8>,
    /// Next entry of the tape's list of those who come.
    cursor: usize,
    open: bool,
    /// Closed for good.
    pub(crate) closed: bool,
    /// Trays left aside and on the late cart.
    pub(crate) overflow: Queue,
    put_down: Sampler,
    seconds: Keyed,
}

impl State {
    /// Trays in diners' hands here.
    pub(crate) fn in_hands(&self) -> impl Iterator<Item = u32> + '_ {
        let at_positions = self.positions.iter().filter_map(|p| match *p {
            Position::Free => None,
            Position::AtReceiver { diner, .. }
            | Position::PuttingDown { diner, .. }
            | Position::Holding { diner, .. } => Some(diner),
        });
        self.queue
            .iter()
            .map(|&(diner, _)| diner)
            .chain(at_positions)
    }

    /// Whether a diner stands here with a tray that finds no room.
    pub(crate) fn is_held_up(&self) -> bool {
        !self.holding.is_empty()
    }

    /// Whether a diner stands here who waits for a receiver.
    pub(crate) fn waits_for_receiver(&self) -> bool {
        !self.at_receiver.is_empty()
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, tape: &Tape) {
    floor
        .drop_offs
        .resize_with(line.drop_offs.len(), State::default);
    for (i, spec) in line.drop_offs.iter().enumerate() {
        let root = floor.root;
        let state = &mut floor.drop_offs[i];
        state.queue.clear();
        state.positions.clear();
        state
            .positions
            .resize(spec.positions_mm.len(), Position::Free);
        state.order.clear();
        state.order.extend(0..spec.positions_mm.len() as u8);
        state
            .order
            .sort_by_key(|&p| std::cmp::Reverse(spec.positions_mm[usize::from(p)]));
        state.holding.clear();
        state.at_receiver.clear();
        state.cursor = 0;
        state.open = spec.opens.is_none_or(|opens| opens <= line.starts);
        state.closed = false;
        state.overflow.wipe(None);
        state.put_down.fit(&spec.put_down_s);
        state.seconds = root.keyed(name_key(&spec.name) ^ name_key("drop-off/put-down"));
        let no = floor.drop_off_no(i as u8);
        if let (false, Some(opens)) = (floor.drop_offs[i].open, spec.opens) {
            floor.set(no, OPENING, Phase::Clock, opens);
        }
        if let Closing::At(closes) = spec.closes {
            if closes <= line.starts {
                floor.drop_offs[i].closed = true;
            } else {
                floor.set(no, CLOSING, Phase::Clock, closes);
            }
        }
        next_arrival(floor, line, tape, i as u8);
    }
}

/// Sets the slot of the next diner to come here; with none left, a drop-off that closes after the last is closed.
pub(crate) fn next_arrival(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    let state = &mut floor.drop_offs[usize::from(i)];
    let coming = tape.coming();
    while let Some(&diner) = coming.get(state.cursor) {
        let it = &tape.diners()[diner as usize];
        if it.drop_off == i && it.carts == NO_CARTS {
            let at = it.comes.max(line.starts);
            let no = floor.drop_off_no(i);
            floor.set(no, ARRIVAL, Phase::Arrive, at);
            return;
        }
        state.cursor += 1;
    }
    if line.drop_offs[usize::from(i)].closes == Closing::AfterLast
        && crate::line::servery::nobody_late(floor)
    {
        floor.drop_offs[usize::from(i)].closed = true;
        let no = floor.drop_off_no(i);
        floor.mark(no);
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, tape: &Tape, i: u8, local: u32) {
    let no = floor.drop_off_no(i);
    floor.mark(no);
    match local {
        ARRIVAL => arrive(floor, line, tape, i),
        OPENING => floor.drop_offs[usize::from(i)].open = true,
        CLOSING => floor.drop_offs[usize::from(i)].closed = true,
        GAP => {}
        position => {
            let state = &mut floor.drop_offs[usize::from(i)];
            let p = (position - SLOTS) as usize;
            if let Position::PuttingDown { diner, came, took } = state.positions[p] {
                state.positions[p] = Position::Holding {
                    diner,
                    came,
                    took,
                    since: floor.now,
                };
                state.holding.push_back(p as u8);
            }
        }
    }
}

fn arrive(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    let now = floor.now;
    while let Some(&diner) = tape.coming().get(floor.drop_offs[usize::from(i)].cursor) {
        let it = &tape.diners()[diner as usize];
        if it.drop_off != i || it.carts != NO_CARTS {
            floor.drop_offs[usize::from(i)].cursor += 1;
            continue;
        }
        if it.comes > now {
            let no = floor.drop_off_no(i);
            floor.set(no, ARRIVAL, Phase::Arrive, it.comes);
            return;
        }
        floor.drop_offs[usize::from(i)].cursor += 1;
        if !crate::line::servery::is_delayed(floor, diner) {
            comes(floor, i, diner, it);
        }
    }
    next_arrival(floor, line, tape, i);
}

/// A diner comes with what they took.
#[inline(always)]
pub(crate) fn comes(floor: &mut Floor, i: u8, diner: u32, it: &Diner) {
    let now = floor.now;
    let no = floor.drop_off_no(i);
    floor.mark(no);
    if crate::line::servery::comes_to_an_end(floor, diner, it) {
        floor.telling.count(floor.n.count.came, 1);
        floor.telling.step(Step::Came(diner));
        let state = &mut floor.drop_offs[usize::from(i)];
        let too_many = it.patience != u16::MAX && state.queue.len() > usize::from(it.patience);
        if state.closed || too_many {
            let counts = &floor.n.count;
            floor.telling.count(
                if state.closed {
                    counts.late
                } else {
                    counts.left_aside
                },
                1,
            );
            floor.telling.count(counts.dropped, 1);
            floor.telling.step(Step::LeftAside(diner));
            state.overflow.put(diner, now);
            let held = state.overflow.len();
            floor.telling.level(floor.n.overflow[usize::from(i)], held);
            floor.telling.add(floor.n.backlog, 1);
            floor.mark_crew();
        } else {
            state.queue.push_back((diner, now));
            floor.telling.add(floor.n.standing[usize::from(i)], 1);
            if floor.crew.watches_diners {
                floor.mark_crew();
            }
        }
    }
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    let spec = &line.drop_offs[usize::from(i)];
    let now = floor.now;
    let no = floor.drop_off_no(i);
    if floor.drop_offs[usize::from(i)].is_held_up() {
        land_all(floor, line, tape, i);
    }
    if floor.drop_offs[usize::from(i)].waits_for_receiver() {
        try_receivers(floor, line, tape, i);
    }
    // One at a time: nobody steps up to a place that is not yet free, so see first whether this one lands.
    while let Some((p, diner, came)) = steps_up(&mut floor.drop_offs[usize::from(i)]) {
        let waited = now.since(came);
        floor.telling.waited(floor.n.queue[usize::from(i)], waited);
        if spec.aids.is_empty() {
            begin_to_put_down(floor, line, tape, (i, p), (diner, came), 0.0);
        } else {
            let waits = put_away(floor, line, tape, (i, p), (diner, came), 0.0);
            if waits {
                tell_wait(floor, i, diner, true);
            }
        }
    }
    let waiting = floor.drop_offs[usize::from(i)].queue.len() as u32;
    floor.telling.level(floor.n.queue[usize::from(i)], waiting);
    match spec.to {
        TraysTo::Belt(_) | TraysTo::Accumulator(_) => {
            let gap = gap_in(floor, line, tape, i);
            floor.set_or_clear(no, GAP, Phase::End, gap.map(|span| now + span));
        }
        // From hand to hand: what diners hold is work that waits.
        TraysTo::Table(t)
            if floor.tables[usize::from(t)].room == 0
                && floor.drop_offs[usize::from(i)].is_held_up() =>
        {
            floor.mark_crew();
        }
        TraysTo::Table(_) => {}
    }
}

/// A diner who has stepped up puts away what goes into receivers, and then the tray down; or waits for a receiver. Whether
/// they wait.
#[cold]
fn put_away(
    floor: &mut Floor,
    line: &Line,
    tape: &Tape,
    (i, p): (u8, u8),
    (diner, came): (u32, SimTime),
    so_far_s: f64,
) -> bool {
    let spec = &line.drop_offs[usize::from(i)];
    let it = &tape.diners()[diner as usize];
    let (seconds, waits) = receivers::used_by_diner(floor, line, spec, diner, it);
    let put_away_s = so_far_s + seconds;
    if waits {
        let state = &mut floor.drop_offs[usize::from(i)];
        state.positions[usize::from(p)] = Position::AtReceiver {
            diner,
            came,
            put_away_s,
        };
        state.at_receiver.push_back(p);
    } else {
        begin_to_put_down(floor, line, tape, (i, p), (diner, came), put_away_s);
    }
    waits
}

fn tell_wait(floor: &mut Floor, i: u8, tray: u32, waits: bool) {
    floor.telling.step(Step::PutsAway {
        tray,
        drop_off: i,
        waits,
    });
}

/// Those who wait for a receiver try again, first come first; each waits on behind those who came before.
fn try_receivers(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    for _ in 0..floor.drop_offs[usize::from(i)].at_receiver.len() {
        let state = &mut floor.drop_offs[usize::from(i)];
        let Some(p) = state.at_receiver.pop_front() else {
            return;
        };
        let position = &mut state.positions[usize::from(p)];
        if let Position::AtReceiver {
            diner,
            came,
            put_away_s,
        } = std::mem::replace(position, Position::Free)
        {
            let waits = put_away(floor, line, tape, (i, p), (diner, came), put_away_s);
            if !waits {
                tell_wait(floor, i, diner, false);
            }
        }
    }
}

/// A diner at a position begins to put the tray down, with so many seconds of putting other things away.
#[inline(always)]
fn begin_to_put_down(
    floor: &mut Floor,
    line: &Line,
    tape: &Tape,
    (i, p): (u8, u8),
    (diner, came): (u32, SimTime),
    put_away_s: f64,
) {
    let now = floor.now;
    let no = floor.drop_off_no(i);
    let at_mm = line.drop_offs[usize::from(i)].positions_mm[usize::from(p)];
    let state = &mut floor.drop_offs[usize::from(i)];
    let seconds = state.put_down.value(state.seconds, u64::from(diner));
    let took = Span::drawn(seconds * f64::from(floor.ledger.puts_down(diner)) + put_away_s);
    if !took.is_none() {
        state.positions[usize::from(p)] = Position::PuttingDown { diner, came, took };
        floor.set(no, SLOTS + u32::from(p), Phase::End, now + took);
        return;
    }
    if state.holding.is_empty()
        && let Some(landed) = land(floor, line, tape, i, at_mm, diner)
    {
        tell_put_down(floor, i, diner, now.since(came));
        landed.is_told(floor);
        return;
    }
    let state = &mut floor.drop_offs[usize::from(i)];
    state.positions[usize::from(p)] = Position::Holding {
        diner,
        came,
        took,
        since: now,
    };
    state.holding.push_back(p);
    land_all(floor, line, tape, i);
}

/// Trays that diners hold out to whoever takes from this table, where there is room for nothing.
#[inline(never)]
pub(crate) fn offered(floor: &Floor, line: &Line, t: u8) -> u32 {
    let here = line.drop_offs.iter().zip(&floor.drop_offs);
    here.filter(|(spec, _)| spec.to == TraysTo::Table(t))
        .map(|(_, state)| state.holding.len() as u32)
        .sum()
}

/// Takes the tray that has been held out longest over this table, where there is room for nothing.
#[inline(never)]
pub(crate) fn take_from_hand(floor: &mut Floor, line: &Line, t: u8) -> Option<(u32, SimTime)> {
    let since = |d: usize| {
        let state = &floor.drop_offs[d];
        let &p = state.holding.front()?;
        match state.positions[usize::from(p)] {
            Position::Holding { since, .. } => Some((since, d)),
            _ => None,
        }
    };
    let (_, d) = (0..line.drop_offs.len())
        .filter(|&d| line.drop_offs[d].to == TraysTo::Table(t))
        .filter_map(since)
        .min()?;
    let diner = puts_down(floor, d as u8, 0)?;
    let no = floor.drop_off_no(d as u8);
    floor.mark(no);
    Some((diner, floor.now))
}

/// The `k`th of those who wait for room is rid of the tray, and leaves.
fn puts_down(floor: &mut Floor, i: u8, k: usize) -> Option<u32> {
    let now = floor.now;
    let state = &mut floor.drop_offs[usize::from(i)];
    let p = state.holding.remove(k)?;
    let position = &mut state.positions[usize::from(p)];
    let Position::Holding {
        diner, came, took, ..
    } = std::mem::replace(position, Position::Free)
    else {
        return None;
    };
    tell_put_down(floor, i, diner, now.since(came) - took);
    Some(diner)
}

/// A tray is put down after so long a wait.
#[inline(always)]
fn tell_put_down(floor: &mut Floor, i: u8, diner: u32, waited: Span) {
    let standing = floor.n.standing[usize::from(i)];
    floor.telling.waited(standing, waited);
    floor.telling.add(standing, -1);
    floor.telling.add(floor.n.backlog, 1);
    floor.telling.count(floor.n.count.dropped, 1);
    floor.telling.step(Step::PutDown(diner));
}

/// The first in the queue steps up to a free position, the most downstream one: which, who, and since when they are here.
#[inline]
fn steps_up(state: &mut State) -> Option<(u8, u32, SimTime)> {
    if !state.open || state.queue.is_empty() {
        return None;
    }
    let is_free = |p: &u8| matches!(state.positions[usize::from(*p)], Position::Free);
    let p = state.order.iter().copied().find(is_free)?;
    let (diner, came) = state.queue.pop_front()?;
    Some((p, diner, came))
}

/// When the first of those who hold a tray may find a gap on the belt, or a free tier on the loop.
fn gap_in(floor: &Floor, line: &Line, tape: &Tape, i: u8) -> Option<Span> {
    let spec = &line.drop_offs[usize::from(i)];
    let state = &floor.drop_offs[usize::from(i)];
    let lands_in = |to: TraysTo, at_mm: u32| match to {
        TraysTo::Belt(b) => floor.belts[usize::from(b)].mover.lands_in(at_mm),
        TraysTo::Accumulator(a) => accumulator::lands_in(floor, a, at_mm),
        TraysTo::Table(_) => None,
    };
    let each = state.holding.iter().filter_map(|&p| {
        let at_mm = spec.positions_mm[usize::from(p)];
        let Position::Holding { diner, .. } = state.positions[usize::from(p)] else {
            return None;
        };
        let (to, else_to) = twins::ways(floor, line, tape, spec.to, diner);
        let other = else_to.and_then(|to| lands_in(to, at_mm));
        lands_in(to, at_mm).into_iter().chain(other).min()
    });
    each.min()
}

/// Lands every tray that finds room, first come first.
fn land_all(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    let spec = &line.drop_offs[usize::from(i)];
    let mut k = 0;
    while let Some(&p) = floor.drop_offs[usize::from(i)].holding.get(k) {
        let Position::Holding { diner, .. } =
            floor.drop_offs[usize::from(i)].positions[usize::from(p)]
        else {
            break;
        };
        let at_mm = spec.positions_mm[usize::from(p)];
        if let Some(landed) = land(floor, line, tape, i, at_mm, diner) {
            puts_down(floor, i, k);
            landed.is_told(floor);
        } else {
            k += 1;
        }
    }
}

/// Where a tray that a diner is rid of has gone.
#[derive(Clone, Copy, PartialEq)]
enum Landed {
    /// Onto the belt, loop or table.
    There,
    /// Nowhere: everything has been put away.
    NothingLeft,
}

impl Landed {
    /// When it has been told that the tray is put down, one of which nothing is left is cleared.
    fn is_told(self, floor: &mut Floor) {
        if self == Landed::NothingLeft {
            scrapping::nothing_left(floor);
        }
    }
}

/// Puts the tray down where it goes if there is room, else where it is tried next; or nowhere if nothing of it is left.
#[inline(always)]
fn land(
    floor: &mut Floor,
    line: &Line,
    tape: &Tape,
    i: u8,
    at_mm: u32,
    diner: u32,
) -> Option<Landed> {
    let spec = &line.drop_offs[usize::from(i)];
    if !spec.aids.is_empty()
        && receivers::nothing_left(floor, line, spec, diner, &tape.diners()[diner as usize])
    {
        return Some(Landed::NothingLeft);
    }
    let (to, else_to) = twins::ways(floor, line, tape, spec.to, diner);
    let fits = put_on(floor, line, to, at_mm, diner)
        || else_to.is_some_and(|to| put_on(floor, line, to, at_mm, diner));
    fits.then_some(Landed::There)
}

/// Puts the tray down on the belt or table if there is room.
#[inline(always)]
fn put_on(floor: &mut Floor, line: &Line, to: TraysTo, at_mm: u32, diner: u32) -> bool {
    match to {
        TraysTo::Belt(b) => belt::land(floor, line, b, at_mm, diner),
        TraysTo::Accumulator(a) => accumulator::land(floor, line, a, at_mm, diner),
        TraysTo::Table(t) => {
            let now = floor.now;
            let table = &mut floor.tables[usize::from(t)];
            let fits = table.has_room();
            if fits {
                table.put(diner, now);
                let held = table.len();
                floor.telling.level(floor.n.table[usize::from(t)], held);
                floor.mark_crew();
            }
            fits
        }
    }
}
