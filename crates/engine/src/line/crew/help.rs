//! Help that is called when too much waits, and goes back when it no longer does.

use super::choice::waiting;
use super::shifts::{go_off, next_clock};
use super::{Doing, Watched};
use crate::line::Line;
use crate::line::floor::Floor;

/// Calls whoever is wanted, and sends back whoever is not.
pub(super) fn look(floor: &mut Floor, line: &Line) {
    for w in 0..line.crew.len() as u8 {
        let spec = &line.crew[usize::from(w)];
        let Some(help) = spec.terms.help else {
            continue;
        };
        let now = floor.now;
        let hand = &mut floor.crew.workers[usize::from(w)];
        if hand.absent || hand.comes_at.is_some() {
            continue;
        }
        if hand.on_shift {
            // A break that is owed is taken before going back.
            let free = hand.doing == Some(Doing::Free) && hand.owed == 0;
            let must_stay = hand.came_at + help.stay > now;
            if free
                && !must_stay
                && wait_at(floor, line, help.watches) <= help.leave_at
                && super::choice::choice(floor, line, w).is_none()
            {
                floor.crew.workers[usize::from(w)].on_shift = false;
                go_off(floor, w);
                next_clock(floor, line, w);
            }
            continue;
        }
        while spec
            .shifts
            .get(hand.next_shift)
            .is_some_and(|&(_, to)| to <= now)
        {
            hand.next_shift += 1;
        }
        let there = now + help.comes_after;
        let open = spec.shifts.get(hand.next_shift);
        let may_come = open.is_some_and(|&(from, to)| from <= now && there < to);
        // Still at a task of the time before: that counts as being here.
        let at_home = hand.doing == Some(Doing::Off);
        if may_come && at_home && wait_at(floor, line, help.watches) >= help.call_at.max(1) {
            floor.crew.workers[usize::from(w)].comes_at = Some(there);
            next_clock(floor, line, w);
        }
    }
}

/// How many wait where help watches.
fn wait_at(floor: &mut Floor, line: &Line, watched: Watched) -> u32 {
    match watched {
        Watched::Jobs(post) => waiting(floor, line, post, false),
        Watched::Standing(d) => floor.drop_offs[usize::from(d)].in_hands().count() as u32,
    }
}
