//! Grabs: what a worker takes off a pile in one go and puts into racks.

use super::open_racks::{fill, lacking_rack, open_rack, rackable, space};
use super::piles::to_rack;
use crate::line::floor::Floor;
use crate::line::{
    Line, MOST_CLASSES, Order, RacksTo, machine, order, scrapping, second_pass, stacks,
};
use crate::time::{SimTime, Span};
use crate::watch::PlaceId;

/// Pieces in a worker's hands, or left there when the worker has gone.
#[derive(Clone, Debug, Default)]
pub(super) struct Grab {
    pub(super) worker: Option<u8>,
    pub(super) class: u8,
    /// Trays and pieces; taken from the back.
    pub(super) parts: Vec<(u32, u16)>,
    pub(super) done: bool,
    pub(super) because: Option<PlaceId>,
}

/// Takes a grab of the pile that is next in the table's order (if unsaid the one fullest for its room), and begins: seconds
/// at normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, i: u8, worker: u8) -> Option<f64> {
    let spec = &line.racking[usize::from(i)];
    let state = &floor.racking[usize::from(i)];
    let mut best: Option<(usize, u64, u64)> = None;
    let mut first: Option<(u64, SimTime, usize)> = None;
    for (p, (pile, it)) in spec.piles.iter().zip(&state.piles).enumerate() {
        let pieces = to_rack(floor, line, i, it);
        if pieces == 0 || !it.released || !rackable(floor, line, i, pile.class.0) {
            continue;
        }
        if spec.order != Order::Usual {
            let rank = order::rank(floor, line, &spec.order, pile.class.0);
            let since = it.parts.front().map_or(floor.now, |&(_, _, since)| since);
            first = first.into_iter().chain([(rank, since, p)]).min();
            continue;
        }
        let (count, room) = (
            u64::from(pieces),
            u64::from(pile.room.unwrap_or(u32::MAX).max(1)),
        );
        if best.is_none_or(|(_, c, r)| count * r > c * room) {
            best = Some((p, count, room));
        }
    }
    let p = first.map(|(_, _, p)| p).or(best.map(|(p, _, _)| p))?;
    let class = spec.piles[p].class.0;
    let is_loose = matches!(spec.to, RacksTo::Machine(_));
    let mut most = spec.grab.max(1);
    if !is_loose {
        let mut free = space(floor, i, class);
        if free == 0 {
            if !open_rack(floor, line, i, class) {
                return None;
            }
            free = space(floor, i, class);
        }
        most = most.min(free);
    }
    let now = floor.now;
    let state = &mut floor.racking[usize::from(i)];
    let mut grab = state.spare.pop().unwrap_or_default();
    grab.parts.clear();
    let mut taken = 0;
    if spec.piles[p].room == Some(0) {
        while taken < most
            && let Some((tray, n)) = from_hand_or_belt(floor, line, i, class, most - taken)
        {
            grab.parts.push((tray, n));
            taken += u32::from(n);
            let place = floor.n.pile[usize::from(i)][p];
            floor.telling.waited(place, Span::NONE);
        }
    }
    let state = &mut floor.racking[usize::from(i)];
    let pile = &mut state.piles[p];
    let from_hand = taken;
    // Nobody takes out what still soaks.
    let most = most.min(from_hand + pile.ready());
    while taken < most
        && let Some((tray, n, since)) = pile.parts.front_mut()
    {
        let some = u32::from(*n).min(most - taken) as u16;
        grab.parts.push((*tray, some));
        taken += u32::from(some);
        let waited = now.since(*since);
        floor
            .telling
            .waited(floor.n.pile[usize::from(i)][p], waited);
        *n -= some;
        if *n == 0 {
            pile.parts.pop_front();
        }
    }
    pile.count -= taken - from_hand;
    if pile.soaks {
        pile.soaked -= taken - from_hand;
    }
    let count = pile.count;
    // First in, first into the rack: placing takes from the back.
    grab.parts.reverse();
    grab.worker = Some(worker);
    grab.class = class;
    grab.done = false;
    grab.because = None;
    state.promised[usize::from(class)] += taken;
    let ordinal = state.grabs_begun[usize::from(class)] * MOST_CLASSES as u64 + u64::from(class);
    state.grabs_begun[usize::from(class)] += 1;
    let factor = state.variation.value(state.luck, ordinal);
    state.grabs.push(grab);
    floor.telling.level(floor.n.pile[usize::from(i)][p], count);
    floor.mark_scrapping();
    floor.mark_stacks();
    floor.mark_tubs();
    if second_pass::is_sorted_at(line, class, i) {
        // Whoever found no room to tip a rack out looks again.
        floor.mark_crew();
    }
    if floor.racking[usize::from(i)].piles_decide {
        let no = floor.racking_no(i);
        floor.mark(no);
    }
    Some(f64::from(taken) * spec.piles[p].piece_s * factor)
}

/// Takes pieces of one tray that are held out to whoever racks them here, or lie on a stack at the end of a belt.
fn from_hand_or_belt(
    floor: &mut Floor,
    line: &Line,
    i: u8,
    class: u8,
    most: u32,
) -> Option<(u32, u16)> {
    let held_out = scrapping::take_from_hand(floor, line, i, class, most);
    held_out.or_else(|| stacks::take_from_end(floor, line, i, class, most))
}

/// The work on a grab is done: its pieces go into racks as far as there is room.
pub(crate) fn finish(floor: &mut Floor, i: u8, worker: u8) {
    let state = &mut floor.racking[usize::from(i)];
    if let Some(grab) = state
        .grabs
        .iter_mut()
        .find(|g| g.worker == Some(worker) && !g.done)
    {
        grab.done = true;
        let pieces: u32 = grab.parts.iter().map(|&(_, n)| u32::from(n)).sum();
        state.promised[usize::from(grab.class)] -= pieces;
    }
    let no = floor.racking_no(i);
    floor.mark(no);
}

/// Places what is in hand and done on the belt of a flight machine, first begun first: all of a grab or none of it.
pub(super) fn place_loose(floor: &mut Floor, line: &Line, i: u8, m: u8) {
    let mut k = 0;
    let mut waits = false;
    while let Some(grab) = floor.racking[usize::from(i)].grabs.get_mut(k) {
        if !grab.done {
            k += 1;
            continue;
        }
        let (class, worker) = (grab.class, grab.worker);
        let mut parts = std::mem::take(&mut grab.parts);
        // Nobody puts ware in front of somebody who waits.
        let placed = !waits && machine::place(floor, line, m, class, &parts);
        waits |= !placed;
        if placed {
            parts.clear();
        }
        let state = &mut floor.racking[usize::from(i)];
        state.grabs[k].parts = parts;
        if placed {
            let grab = state.grabs.remove(k);
            state.spare.push(grab);
            if let Some(worker) = worker {
                floor.release(worker);
            }
        } else {
            let because = floor.n.washing[usize::from(m)];
            state.grabs[k].because = Some(because);
            if let Some(worker) = worker {
                floor.hold(worker, because);
            }
            k += 1;
        }
    }
}

/// Racks what is in hand and done, first begun first. Whether any piece moved.
pub(super) fn place(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let mut moved = false;
    let mut k = 0;
    while let Some(grab) = floor.racking[usize::from(i)].grabs.get(k) {
        if !grab.done {
            k += 1;
            continue;
        }
        let (class, worker) = (grab.class, grab.worker);
        while let Some(&(tray, n)) = floor.racking[usize::from(i)].grabs[k].parts.last() {
            let placed = fill(floor, line, i, class, tray, n);
            moved |= placed > 0;
            let grab = &mut floor.racking[usize::from(i)].grabs[k];
            if placed == n {
                grab.parts.pop();
            } else {
                if let Some(last) = grab.parts.last_mut() {
                    last.1 -= placed;
                }
                break;
            }
        }
        if floor.racking[usize::from(i)].grabs[k].parts.is_empty() {
            let grab = floor.racking[usize::from(i)].grabs.remove(k);
            floor.racking[usize::from(i)].spare.push(grab);
            if let Some(worker) = worker {
                floor.release(worker);
            }
        } else {
            let because = lacking_rack(floor, line, i, class);
            floor.racking[usize::from(i)].grabs[k].because = Some(because);
            if let Some(worker) = worker {
                floor.hold(worker, because);
            }
            k += 1;
        }
    }
    moved
}
