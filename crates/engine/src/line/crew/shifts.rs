//! Coming on, going home, breaks: what the clock does to the crew.

use super::{CLOCK, Doing, Hand, SLOTS_A_WORKER, TASK, pair, who};
use crate::calendar::Phase;
use crate::line::Line;
use crate::line::floor::Floor;
use crate::time::{SimTime, Span};
use crate::watch::State as S;

/// The next thing the clock has for this worker.
pub(super) fn next_clock(floor: &mut Floor, line: &Line, w: u8) {
    let no = floor.crew_no();
    let worker = &floor.crew.workers[usize::from(w)];
    let spec = &line.crew[usize::from(w)];
    let at = if worker.absent {
        None
    } else {
        let shift = worker.shift(spec, worker.next_shift);
        let shift = match (&spec.terms.help, worker.on_shift) {
            (_, true) => shift.map(|(_, to)| to),
            (None, false) => shift.map(|(from, _)| from),
            // Help comes when it is called, and may be called from the start of its hours on.
            (Some(_), false) => worker
                .comes_at
                .or(shift.map(|(from, _)| from).filter(|&from| from > floor.now)),
        };
        let stay_over = spec
            .terms
            .help
            .map(|help| worker.came_at + help.stay)
            .filter(|&until| worker.on_shift && until > floor.now);
        let moves = worker.moves.get(worker.next_move).map(|&(at, _)| at);
        let due = spec
            .breaks
            .get(worker.next_break)
            .map(|&(due, _)| due)
            .filter(|_| worker.on_shift);
        let ends = worker.break_ends.filter(|_| worker.on_shift);
        [shift, due, ends, stay_over, moves]
            .into_iter()
            .flatten()
            .min()
    };
    floor.set_or_clear(no, SLOTS_A_WORKER * u32::from(w) + CLOCK, Phase::Clock, at);
}

pub(super) fn clock(floor: &mut Floor, line: &Line, w: u8) {
    let now = floor.now;
    make_moves(floor, w);
    let spec = &line.crew[usize::from(w)];
    let worker = &mut floor.crew.workers[usize::from(w)];
    if worker.on_shift {
        let ends = spec
            .shifts
            .get(worker.next_shift)
            .is_some_and(|&(_, to)| to <= now);
        if ends {
            // What the shift's end overtakes is missed.
            let later = spec.breaks[worker.next_break..]
                .iter()
                .take_while(|(due, _)| *due <= now)
                .count();
            let missed = worker.owed + later;
            worker.next_break += later;
            worker.owed = 0;
            worker.on_shift = false;
            worker.next_shift += 1;
            floor
                .telling
                .count(floor.n.count.breaks_missed, missed as u32);
            go_off(floor, w);
            // The next shift may begin at this very instant.
            if spec.terms.help.is_none() && shift_has_begun(floor, line, w) {
                come_on(floor, line, w);
            }
            return;
        }
        if worker.break_ends.is_some_and(|ends| ends <= now) {
            worker.break_ends = None;
            worker.unpaid_us += worker.unpaid_since(now);
            worker.doing = Some(Doing::Free);
            become_free(floor, w);
        }
        let worker = &mut floor.crew.workers[usize::from(w)];
        let fallen_due = spec.breaks[worker.next_break..]
            .iter()
            .take_while(|(due, _)| *due <= now)
            .count();
        worker.owed += fallen_due;
        worker.next_break += fallen_due;
        floor.crew.breaks_owed |= fallen_due > 0;
        let worker = &mut floor.crew.workers[usize::from(w)];
        let busy = Some(Doing::Break) == worker.doing || worker.is_at_task();
        if worker.owed > 0 && !busy {
            drop_everything(floor, w);
            take_break(floor, line, w);
        }
    } else if spec.terms.help.is_some() {
        if worker.comes_at.is_some_and(|at| at <= now) {
            worker.comes_at = None;
            worker.came_at = now;
            come_on(floor, line, w);
        }
    } else if shift_has_begun(floor, line, w) {
        come_on(floor, line, w);
    }
}

fn shift_has_begun(floor: &Floor, line: &Line, w: u8) -> bool {
    let worker = &floor.crew.workers[usize::from(w)];
    let shift = worker.shift(&line.crew[usize::from(w)], worker.next_shift);
    shift.is_some_and(|(from, _)| from <= floor.now)
}

/// Takes up the list of posts that holds now. What is held at a post that is no longer on it is put down.
pub(super) fn make_moves(floor: &mut Floor, w: u8) {
    let now = floor.now;
    let worker = &mut floor.crew.workers[usize::from(w)];
    let before = worker.next_move;
    while let Some((at, list)) = worker.moves.get_mut(worker.next_move)
        && *at <= now
    {
        std::mem::swap(&mut worker.list, list);
        worker.next_move += 1;
    }
    if worker.next_move > before {
        worker.takes_up();
    }
    let (Some(Doing::Held(post, _) | Doing::Gather(post)), true) =
        (worker.doing, worker.next_move > before)
    else {
        return;
    };
    if worker.list.iter().all(|entry| entry.post != post) {
        drop_everything(floor, w);
        floor.crew.workers[usize::from(w)].doing = Some(Doing::Free);
        become_free(floor, w);
    }
}

impl Hand {
    /// Whether a task is in hand, their own or one held with another.
    pub(super) fn is_at_task(&self) -> bool {
        matches!(self.doing, Some(Doing::Task(..) | Doing::With(..)))
    }

    /// Microseconds of the break under way that are not paid.
    pub(super) fn unpaid_since(&self, now: SimTime) -> u64 {
        match self.break_began {
            (began, false) => now.since(began).us(),
            _ => 0,
        }
    }
}

pub(super) fn come_on(floor: &mut Floor, line: &Line, w: u8) {
    let now = floor.now;
    let worker = &mut floor.crew.workers[usize::from(w)];
    worker.on_shift = true;
    // A break that was due before the shift is none of it.
    worker.next_break += line.crew[usize::from(w)].breaks[worker.next_break..]
        .iter()
        .take_while(|(due, _)| *due < now)
        .count();
    // Still at a task of the shift before: it goes on, within the shift again.
    if worker.doing == Some(Doing::Off) {
        worker.doing = Some(Doing::Free);
        become_free(floor, w);
    } else if worker.is_at_task() {
        floor.telling.state(who(w), S::Working, None);
    }
}

/// The shift is over: a task in hand is finished, anything else is left at once.
pub(super) fn go_off(floor: &mut Floor, w: u8) {
    let now = floor.now;
    let worker = &mut floor.crew.workers[usize::from(w)];
    if worker.break_ends.take().is_some() {
        worker.unpaid_us += worker.unpaid_since(now);
    }
    if worker.is_at_task() {
        floor.telling.state(who(w), S::PastShift, None);
        return;
    }
    drop_everything(floor, w);
    floor.crew.workers[usize::from(w)].doing = Some(Doing::Off);
    floor.telling.state(who(w), S::Off, None);
    floor.telling.stands(who(w), None);
}

/// Leaves a walk, a wait or a held piece; the piece keeps its place and moves on by itself.
pub(super) fn drop_everything(floor: &mut Floor, w: u8) {
    let no = floor.crew_no();
    match floor.crew.workers[usize::from(w)].doing {
        Some(Doing::Free) => leave_free(floor, w),
        Some(Doing::Walk(to, _) | Doing::Wash(to)) => {
            floor.crew.posts[usize::from(to)].coming -= 1;
            floor.clear(no, SLOTS_A_WORKER * u32::from(w) + TASK);
        }
        Some(Doing::Gather(post)) => pair::stop_gathering(floor, post),
        Some(Doing::Held(post, _)) => {
            floor.crew.posts[usize::from(post)].at_work -= 1;
            for state in &mut floor.scrapping {
                for held in &mut state.held {
                    if held.worker == Some(w) {
                        held.worker = None;
                    }
                }
            }
            floor.racking.iter_mut().for_each(|r| r.abandon(w));
            floor.clean_ends.iter_mut().for_each(|c| c.abandon(w));
        }
        _ => {}
    }
}

pub(super) fn take_break(floor: &mut Floor, line: &Line, w: u8) {
    let now = floor.now;
    let worker = &mut floor.crew.workers[usize::from(w)];
    let which = worker.next_break - worker.owed;
    let length = line.crew[usize::from(w)]
        .breaks
        .get(which)
        .map_or(Span::NONE, |&(_, length)| length);
    worker.owed -= 1;
    let paid = !line.crew[usize::from(w)].terms.unpaid.contains(&which);
    worker.break_began = (now, paid);
    worker.doing = Some(Doing::Break);
    worker.break_ends = Some(now + length);
    floor.telling.state(who(w), S::Break, None);
    floor.telling.stands(who(w), None);
    next_clock(floor, line, w);
}

/// Those with a break owed go before they are given anything.
pub(super) fn go_on_owed_breaks(floor: &mut Floor, line: &Line) {
    if !floor.crew.breaks_owed {
        return;
    }
    let mut next = floor.crew.free.first();
    while let Some(w) = next {
        if floor.crew.workers[usize::from(w)].owed > 0 {
            leave_free(floor, w);
            take_break(floor, line, w);
        }
        next = floor.crew.free.after(w);
    }
    floor.crew.breaks_owed = floor.crew.workers.iter().any(|worker| worker.owed > 0);
}

#[inline]
pub(super) fn become_free(floor: &mut Floor, w: u8) {
    let crew = &mut floor.crew;
    crew.free.insert(w);
    let stands = usize::from(crew.workers[usize::from(w)].stands);
    if let Some(post) = crew.posts.get_mut(stands) {
        post.idle += 1;
    }
}

#[inline]
pub(super) fn leave_free(floor: &mut Floor, w: u8) {
    let crew = &mut floor.crew;
    crew.free.remove(w);
    let stands = usize::from(crew.workers[usize::from(w)].stands);
    if let Some(post) = crew.posts.get_mut(stands) {
        post.idle -= 1;
    }
}
