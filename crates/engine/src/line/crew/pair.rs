//! Tasks for two: begun when both stand there, one work content, both held until it ends.
//!
//! One gathers at a time, in the whole room, so that two half-gathered tasks can never wait for each other; and a
//! colleague who waits calls everybody who has the post on the list, at any level.

use super::shifts::{become_free, leave_free};
use super::{Doing, State, who};
use crate::line::Line;
use crate::line::floor::Floor;
use crate::watch::State as S;

/// Whoever stands at a post and waits for a second pair of hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Gathering {
    pub(super) worker: u8,
    pub(super) post: u16,
}

impl State {
    /// Whether somebody else is there today who could be the second at this post.
    pub(super) fn has_second(&self, w: u8, post: u16) -> bool {
        self.workers.iter().enumerate().any(|(other, hand)| {
            other != usize::from(w)
                && hand.on_shift
                && !matches!(hand.doing, Some(Doing::Break))
                && hand.list.iter().any(|entry| entry.post == post)
        })
    }
}

/// Whether a post for two calls this worker, `jobs` waiting there and so many on their way.
pub(super) fn calls(
    crew: &State,
    w: u8,
    post: u16,
    (jobs, here): (u32, bool),
    step_in: u32,
    leave_at: u32,
) -> bool {
    let at = &crew.posts[usize::from(post)];
    let room = at.places.saturating_sub(at.at_work + at.coming);
    match crew.gathering {
        // A colleague waits: one more is enough, whatever the level.
        Some(gathering) if gathering.post == post => room >= 1 && (here || at.coming == 0),
        Some(_) => false,
        None => {
            let level = if here {
                jobs > leave_at
            } else {
                // Two on their way are one job's worth.
                jobs.saturating_sub(at.coming / 2) >= step_in
            };
            let needed = if at.coming % 2 == 1 { 1 } else { 2 };
            level && room >= needed && crew.has_second(w, post)
        }
    }
}

/// Begins to wait for a second pair of hands.
pub(super) fn gather(floor: &mut Floor, w: u8, post: u16) {
    leave_free(floor, w);
    floor.crew.posts[usize::from(post)].at_work += 1;
    floor.crew.workers[usize::from(w)].doing = Some(Doing::Gather(post));
    floor.crew.gathering = Some(Gathering { worker: w, post });
    floor.telling.state(who(w), S::WaitingForHelp, None);
    let no = floor.crew.posts[usize::from(post)].no;
    floor.telling.stands(who(w), no);
}

/// No longer waits for a second pair of hands; the caller says what comes instead.
pub(super) fn stop_gathering(floor: &mut Floor, post: u16) {
    floor.crew.posts[usize::from(post)].at_work -= 1;
    floor.crew.gathering = None;
}

/// Lets go of whoever waits for help with nothing left to do, or with nobody left to come.
pub(super) fn look(floor: &mut Floor, line: &Line) {
    let Some(Gathering { worker, post }) = floor.crew.gathering else {
        return;
    };
    let what = floor.crew.posts[usize::from(post)].what;
    let jobs = what.map_or(0, |what| super::choice::waiting(floor, line, what, true));
    if jobs > 0 && floor.crew.has_second(worker, post) {
        return;
    }
    stop_gathering(floor, post);
    floor.crew.workers[usize::from(worker)].doing = Some(Doing::Free);
    become_free(floor, worker);
}

/// The task of `leader` is over: whoever held it with them is free, or gone.
pub(super) fn part(floor: &mut Floor, leader: u8) {
    for w in 0..floor.crew.workers.len() as u8 {
        let hand = &mut floor.crew.workers[usize::from(w)];
        let Some(Doing::With(other, post)) = hand.doing else {
            continue;
        };
        if other != leader {
            continue;
        }
        floor.crew.posts[usize::from(post)].at_work -= 1;
        let hand = &mut floor.crew.workers[usize::from(w)];
        if hand.on_shift {
            hand.doing = Some(Doing::Free);
            become_free(floor, w);
        } else {
            hand.doing = Some(Doing::Off);
            floor.telling.state(who(w), S::Off, None);
            floor.telling.stands(who(w), None);
        }
    }
}
