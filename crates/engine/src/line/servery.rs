//! The servery: each cover takes clean ware; what it does not find has run out.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{ClassId, Line, MOST_CLASSES, Short, carts, clean_end, drop_off};
use crate::tape::{Diner, NO_CARTS, Tape};
use crate::time::{SimTime, Span};

pub(crate) const SLOTS: u32 = 3;
const SERVED: u32 = 0;
const PATIENCE: u32 = 1;
const LATE: u32 = 2;

/// Somebody who waits for ware that has run out.
#[derive(Clone, Copy, Debug)]
struct Waiting {
    diner: u32,
    since: SimTime,
    until: SimTime,
    missing: [u8; MOST_CLASSES],
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// Whether anybody is followed from the servery to the drop-off.
    pub(crate) follows: bool,
    pub(crate) stock: [u32; MOST_CLASSES],
    /// Pieces that stand in racks, by class, the rack emptied first at the front.
    racks: Vec<VecDeque<(u32, u32)>>,
    /// Pieces that do not stand in racks.
    loose: [u32; MOST_CLASSES],
    followed: [bool; MOST_CLASSES],
    /// Whether the stock of any class is followed.
    any_followed: bool,
    /// Those who wait for ware, first come first; whose coming it delays, by diner (empty where nobody ever waits); and
    /// when those who have gone on come.
    queue: VecDeque<Waiting>,
    delayed: Vec<bool>,
    late: BinaryHeap<Reverse<(SimTime, u32)>>,
    /// Delayed diners who have not come yet.
    late_to_come: u32,
    /// Pieces waited for, by class.
    awaited: [u32; MOST_CLASSES],
    /// Pieces with diners, by class.
    pub(crate) with_diners: [u32; MOST_CLASSES],
    cursor: usize,
    /// The clean end by whose rule racks emptied here go back: the first by name, so that the order of the plan is no rule.
    back_by: u8,
}

impl State {
    pub(crate) fn racks_here(&self) -> usize {
        self.racks.iter().map(VecDeque::len).sum()
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, tape: &Tape) {
    let state = &mut floor.servery;
    state.racks.resize_with(line.classes.len(), VecDeque::new);
    state.racks.iter_mut().for_each(VecDeque::clear);
    state.stock = [0; MOST_CLASSES];
    state.loose = [0; MOST_CLASSES];
    state.with_diners = [0; MOST_CLASSES];
    state.followed = [false; MOST_CLASSES];
    state.cursor = 0;
    state.queue.clear();
    state.late.clear();
    state.late_to_come = 0;
    state.awaited = [0; MOST_CLASSES];
    state.delayed.clear();
    if line
        .classes
        .iter()
        .any(|c| matches!(c.short, Short::Waits(_)))
    {
        state.delayed.resize(tape.diners().len(), false);
    }
    let by_name = (0..line.clean_ends.len()).min_by_key(|&i| &line.clean_ends[i].name);
    state.back_by = by_name.unwrap_or(0) as u8;
    for (class, spec) in line.classes.iter().enumerate() {
        state.followed[class] = spec.par.is_some();
        state.stock[class] = spec.par.unwrap_or(0);
        state.loose[class] = state.stock[class];
        floor
            .telling
            .begin_level(floor.n.stock[class], state.stock[class]);
    }
    state.any_followed = state.followed.contains(&true);
    let lying = tape.there().iter();
    let lying = lying.filter(|&&diner| !tape.diners()[diner as usize].sits);
    let some_stay_away = tape.coming().len() + lying.count() < tape.diners().len();
    state.follows = state.any_followed
        || some_stay_away
        || tape.diners().iter().any(|d| d.sits)
        || line.classes.iter().any(|c| !c.disposable.is_empty());
    if state.follows {
        next_served(floor, line, tape);
    }
}

fn next_served(floor: &mut Floor, line: &Line, tape: &Tape) {
    let next = tape.served().get(floor.servery.cursor);
    let at = next.map(|&diner| tape.diners()[diner as usize].served.max(line.starts));
    floor.set_or_clear(0, SERVED, Phase::Arrive, at);
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, tape: &Tape, local: u32) {
    match local {
        SERVED => serve(floor, line, tape),
        LATE => come_late(floor, line, tape),
        // Somebody will wait no longer: settling looks.
        _ => floor.mark_servery(),
    }
}

fn serve(floor: &mut Floor, line: &Line, tape: &Tape) {
    let now = floor.now;
    while let Some(&diner) = tape.served().get(floor.servery.cursor) {
        let it = &tape.diners()[diner as usize];
        if it.served > now {
            break;
        }
        floor.servery.cursor += 1;
        if it.begins {
            floor.telling.count(floor.n.count.served, 1);
            if it.seat_wait_s > 0 {
                floor.telling.count(floor.n.count.seat_waits, 1);
                floor
                    .telling
                    .count(floor.n.count.seat_wait_s, u32::from(it.seat_wait_s));
            }
        }
        if !it.brings_ware() {
            continue;
        }
        if it.begins {
            floor.telling.add(floor.n.seated, i32::from(it.people));
        }
        take_ware(floor, line, diner);
    }
    next_served(floor, line, tape);
}

fn take_ware(floor: &mut Floor, line: &Line, diner: u32) {
    let wanted = floor.ledger.pieces[diner as usize];
    let mut waits: Option<Waiting> = None;
    for (class, spec) in line.classes.iter().enumerate() {
        let wanted = u32::from(wanted[class]);
        if wanted > 0 && spec.is_disposable(floor.now) {
            floor.ledger.pieces[diner as usize][class] = 0;
            let given = floor.n.count.disposables[class];
            floor.telling.count(given, wanted);
            continue;
        }
        if !floor.servery.followed[class] || wanted == 0 {
            continue;
        }
        let queues = matches!(spec.short, Short::Waits(_));
        // Nobody takes what somebody before them is waiting for.
        let finds = if queues && floor.servery.awaited[class] > 0 {
            0
        } else {
            wanted.min(floor.servery.stock[class])
        };
        hand_out(floor, line, class, finds);
        if finds < wanted {
            let missing = wanted - finds;
            floor.telling.count(floor.n.count.run_out[class], missing);
            // What they go without, or have instead, is not this class's any more.
            let pieces = &mut floor.ledger.pieces[diner as usize];
            pieces[class] -= missing as u8;
            match spec.short {
                Short::Without => {}
                Short::Disposable => {
                    let given = floor.n.count.disposables[class];
                    floor.telling.count(given, missing);
                }
                Short::Takes(other) => takes_instead(floor, line, diner, other, missing),
                Short::Waits(most) => {
                    let now = floor.now;
                    let it = waits.get_or_insert(Waiting {
                        diner,
                        since: now,
                        until: now + most,
                        missing: [0; MOST_CLASSES],
                    });
                    it.until = it.until.max(now + most);
                    it.missing[class] = missing as u8;
                    floor.servery.awaited[class] += missing;
                }
            }
        }
    }
    if let Some(it) = waits {
        floor.servery.delayed[diner as usize] = true;
        floor.servery.late_to_come += 1;
        floor.servery.queue.push_back(it);
        tell_waiting(floor);
        floor.mark_servery();
    }
}

/// Another class instead of what has run out, as far as there is any.
fn takes_instead(floor: &mut Floor, line: &Line, diner: u32, other: ClassId, missing: u32) {
    let c = usize::from(other.0);
    let finds = if !floor.servery.followed[c] {
        missing
    } else if floor.servery.awaited[c] > 0 {
        // Nobody takes what somebody before them is waiting for.
        0
    } else {
        missing.min(floor.servery.stock[c])
    };
    let pieces = &mut floor.ledger.pieces[diner as usize][c];
    let finds = finds.min(u32::from(u8::MAX - *pieces));
    *pieces += finds as u8;
    if floor.servery.followed[c] {
        hand_out(floor, line, c, finds);
    }
}

/// Pieces of a class that lie on the line already are not at the servery. Whether there are so many.
pub(crate) fn gives_up(floor: &mut Floor, class: ClassId, pieces: u32) -> bool {
    let c = usize::from(class.0);
    let state = &mut floor.servery;
    if !state.followed[c] {
        return true;
    }
    if state.stock[c] < pieces {
        return false;
    }
    state.stock[c] -= pieces;
    state.loose[c] -= pieces;
    let stock = state.stock[c];
    floor.telling.level(floor.n.stock[c], stock);
    true
}

/// What a tray carries that is already there is not at the servery; it carries no more than there is.
pub(crate) fn is_without(floor: &mut Floor, diner: u32) {
    for class in 0..MOST_CLASSES {
        let wanted = u32::from(floor.ledger.pieces[diner as usize][class]);
        if wanted == 0 || !floor.servery.followed[class] {
            continue;
        }
        let has = wanted.min(floor.servery.stock[class]);
        floor.ledger.pieces[diner as usize][class] = has as u8;
        gives_up(floor, ClassId(class as u8), has);
    }
}

/// Somebody sits and eats when the run begins, and has what they took.
pub(crate) fn has_sat_down(floor: &mut Floor, diner: u32, it: &Diner) {
    is_without(floor, diner);
    for (class, &pieces) in floor.ledger.pieces[diner as usize].iter().enumerate() {
        if floor.servery.followed[class] {
            floor.servery.with_diners[class] += u32::from(pieces);
        }
    }
    if it.begins {
        floor.telling.count(floor.n.count.served, 1);
    }
    floor.telling.add(floor.n.seated, i32::from(it.people));
}

/// Clean pieces of a class at the servery; `None` where stock is not followed.
pub(crate) fn clean(floor: &Floor, class: usize) -> Option<u32> {
    let state = &floor.servery;
    state.followed[class].then_some(state.stock[class])
}

/// At most so many pieces of a class are at the servery when the run begins; what is nowhere else stays away.
pub(crate) fn keeps_only(floor: &mut Floor, class: usize, clean: u32) {
    let away = self::clean(floor, class).unwrap_or(0).saturating_sub(clean);
    if away > 0 {
        gives_up(floor, ClassId(class as u8), away);
        floor.servery.with_diners[class] += away;
    }
}

/// Pieces of a class go from the servery to a diner.
fn hand_out(floor: &mut Floor, line: &Line, class: usize, pieces: u32) {
    if pieces == 0 {
        return;
    }
    floor.servery.with_diners[class] += pieces;
    floor.servery.stock[class] -= pieces;
    let stock = floor.servery.stock[class];
    floor.telling.level(floor.n.stock[class], stock);
    // Racks are emptied first, so that they can go back; loose ware is the reserve.
    let mut left = pieces;
    while left > 0
        && let Some((rack, in_it)) = floor.servery.racks[class].front_mut()
    {
        let some = left.min(*in_it);
        *in_it -= some;
        left -= some;
        if *in_it == 0 {
            let rack = *rack;
            floor.servery.racks[class].pop_front();
            let by = floor.servery.back_by;
            clean_end::send_back(floor, line, by, rack);
        }
    }
    floor.servery.loose[class] -= left;
    if line.delivery.is_some() {
        floor.mark_crew();
    }
}

/// Those who wait are given what has come, first come first; who has all, or will wait no longer, goes.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, tape: &Tape) {
    if floor.servery.delayed.is_empty() {
        // Nobody ever waits.
        return;
    }
    let now = floor.now;
    let mut k = 0;
    while let Some(&it) = floor.servery.queue.get(k) {
        let mut missing = it.missing;
        for (class, left) in missing.iter_mut().enumerate() {
            let some = u32::from(*left).min(floor.servery.stock[class]);
            if some > 0 {
                *left -= some as u8;
                floor.ledger.pieces[it.diner as usize][class] += some as u8;
                floor.servery.awaited[class] -= some;
                hand_out(floor, line, class, some);
            }
        }
        let has_all = missing.iter().all(|&n| n == 0);
        if !has_all && it.until > now {
            floor.servery.queue[k].missing = missing;
            k += 1;
            continue;
        }
        for (class, left) in missing.iter().enumerate() {
            floor.servery.awaited[class] -= u32::from(*left);
        }
        floor.servery.queue.remove(k);
        let waited = now.since(it.since);
        floor.telling.waited(floor.n.waiting_for_ware, waited);
        let comes = tape.diners()[it.diner as usize].comes;
        if comes < SimTime::LAST {
            // As much later as they were kept; never before they have gone.
            let at = (comes.max(it.since) + waited).max(now + Span::from_us(1));
            floor.servery.late.push(Reverse((at, it.diner)));
        } else {
            floor.servery.late_to_come -= 1;
        }
    }
    let until = floor.servery.queue.iter().map(|it| it.until).min();
    floor.set_or_clear(0, PATIENCE, Phase::Clock, until);
    let late = floor.servery.late.peek().map(|Reverse((at, _))| *at);
    floor.set_or_clear(0, LATE, Phase::Arrive, late);
    tell_waiting(floor);
}

fn tell_waiting(floor: &mut Floor) {
    let waiting = floor.servery.queue.len() as u32;
    floor.telling.level(floor.n.waiting_for_ware, waiting);
}

/// Whether this diner comes later than the tape says, having waited for ware.
#[inline]
pub(crate) fn is_delayed(floor: &Floor, diner: u32) -> bool {
    let delayed = floor.servery.delayed.get(diner as usize);
    delayed.copied().unwrap_or(false)
}

/// Whether nobody is still to come later than the tape says.
pub(crate) fn nobody_late(floor: &Floor) -> bool {
    floor.servery.late_to_come == 0
}

/// Those who were kept waiting for ware come to the drop-off, or their table is cleared.
fn come_late(floor: &mut Floor, line: &Line, tape: &Tape) {
    while let Some(&Reverse((at, diner))) = floor.servery.late.peek() {
        if at > floor.now {
            break;
        }
        floor.servery.late.pop();
        floor.servery.late_to_come -= 1;
        let it = &tape.diners()[diner as usize];
        if it.carts == NO_CARTS {
            drop_off::comes(floor, it.drop_off, diner, it);
        } else {
            carts::clears(floor, it.carts, diner, it);
        }
    }
    let late = floor.servery.late.peek().map(|Reverse((at, _))| *at);
    floor.set_or_clear(0, LATE, Phase::Arrive, late);
    if nobody_late(floor) {
        for i in 0..line.drop_offs.len() as u8 {
            drop_off::next_arrival(floor, line, tape, i);
        }
        for i in 0..line.carts.len() as u8 {
            carts::next_arrival(floor, line, tape, i);
        }
    }
}

/// Clean pieces come to the servery, loose or in a rack.
#[inline]
pub(crate) fn comes_back(floor: &mut Floor, class: ClassId, pieces: u32, rack: Option<u32>) {
    let c = usize::from(class.0);
    if !floor.servery.followed[c] || pieces == 0 {
        return;
    }
    floor.servery.stock[c] += pieces;
    match rack {
        Some(rack) => floor.servery.racks[c].push_back((rack, pieces)),
        None => floor.servery.loose[c] += pieces,
    }
    let stock = floor.servery.stock[c];
    floor.telling.level(floor.n.stock[c], stock);
    if floor.servery.awaited[c] > 0 {
        floor.mark_servery();
    }
}

/// A diner comes to the drop-off, or the table is cleared by staff. Whether there is anything on the tray.
#[inline]
pub(crate) fn comes_to_an_end(floor: &mut Floor, diner: u32, it: &Diner) -> bool {
    if floor.servery.follows {
        if it.ends {
            floor.telling.add(floor.n.seated, -i32::from(it.people));
        }
    } else if it.begins {
        floor.telling.count(floor.n.count.served, 1);
    }
    if floor.servery.any_followed {
        brings_back(floor, diner);
    }
    floor.ledger.comes(diner)
}

/// A diner comes to the drop-off with what they took.
#[inline(never)]
fn brings_back(floor: &mut Floor, diner: u32) {
    for (class, &pieces) in floor.ledger.pieces[diner as usize].iter().enumerate() {
        if floor.servery.followed[class] {
            floor.servery.with_diners[class] -= u32::from(pieces);
        }
    }
}
