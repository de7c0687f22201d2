//! Who is given what: each free worker reads the own list from the top.

use super::shifts::{become_free, drop_everything, go_on_owed_breaks, leave_free};
use super::tasks::{begin, walk, way};
use super::{Doing, Entry, Post, SLOTS_A_WORKER, TASK, help, pair, who};
use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, TraysFrom, carts, clean_end, delivery, duty, machine, racking, scrapping};
use crate::tape::Tape;
use crate::time::{SimTime, Span};
use crate::watch::{PlaceId, State as S};

/// Gives out work: two rounds, in crew-list order.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, tape: &Tape) {
    put_down_and_go(floor, line);
    if floor.crew.has_help {
        help::look(floor, line);
    }
    if floor.crew.gathering.is_some() {
        pair::look(floor, line);
    }
    if floor.crew.free.is_empty() {
        return;
    }
    go_on_owed_breaks(floor, line);
    for must_walk in [false, true] {
        let mut k = 0;
        while let Some(&w) = floor.crew.free.get(k) {
            let stands = floor.crew.workers[usize::from(w)].stands;
            let taken = match choice(floor, line, w) {
                Some(post) if (post != stands) == must_walk => {
                    let span = if must_walk {
                        way(floor, line, stands, post)
                    } else {
                        Span::NONE
                    };
                    if must_walk && !span.is_none() {
                        walk(floor, line, w, post);
                        true
                    } else {
                        if must_walk {
                            leave_free(floor, w);
                            floor.crew.workers[usize::from(w)].stands = post;
                            floor.crew.workers[usize::from(w)].stands_since = floor.now;
                            floor.crew.workers[usize::from(w)].walked = true;
                            become_free(floor, w);
                        }
                        let begun = begin(floor, line, tape, w, post);
                        let doing = floor.crew.workers[usize::from(w)].doing;
                        if begun && !matches!(doing, Some(Doing::Task(..))) {
                            // Done in no time: the ware moves before anybody is asked again.
                            floor.mark_crew();
                            return;
                        }
                        begun
                    }
                }
                _ => false,
            };
            if !taken {
                k += 1;
            }
        }
    }
    for k in 0..floor.crew.free.len() {
        let w = floor.crew.free[k];
        let stands = usize::from(floor.crew.workers[usize::from(w)].stands);
        if floor.crew.posts.get(stands).is_some_and(|p| p.gives_notice) {
            stands_ready(floor, line, stands);
        }
        if let Some(until) = stays_until(floor, w) {
            // Nothing else may happen when the stay is over: look again then.
            let no = floor.crew_no();
            let slot = SLOTS_A_WORKER * u32::from(w) + TASK;
            floor.set(no, slot, Phase::Clock, until);
        }
        if !floor.telling.on {
            continue;
        }
        let because = match floor.crew.posts.get(stands).and_then(|p| p.what) {
            Some(Post::Racking(i)) => racking::stuck(floor, line, i),
            _ => None,
        };
        let state = if because.is_some() {
            S::HeldUp
        } else {
            S::Waiting
        };
        floor.telling.state(who(w), state, because);
    }
}

/// The first post on this worker's list that calls and has a place free.
pub(super) fn choice(floor: &mut Floor, line: &Line, w: u8) -> Option<u16> {
    let worker = &floor.crew.workers[usize::from(w)];
    let stands = worker.stands;
    let entries = worker.list.len();
    let must_stay = stays_until(floor, w).is_some();
    for k in 0..entries {
        let entry = floor.crew.workers[usize::from(w)].list[k];
        if must_stay && entry.post != stands {
            continue;
        }
        if calls(floor, line, w, entry) {
            return Some(entry.post);
        }
    }
    None
}

/// Whether this entry of the worker's list calls and has a place free.
pub(super) fn calls(floor: &mut Floor, line: &Line, w: u8, entry: Entry) -> bool {
    let Entry {
        post,
        call,
        only_pressing,
    } = entry;
    if let (true, Post::Duty(d)) = (only_pressing, call.post)
        && !duty::presses(floor, line, d)
    {
        return false;
    }
    let here = post == floor.crew.workers[usize::from(w)].stands;
    let jobs = waiting(floor, line, call.post, here);
    if jobs == 0 {
        return false;
    }
    // Nobody begins another tray beside their own that has not moved on.
    if let Post::Scrapping(i) = call.post
        && floor.scrapping[usize::from(i)].left_by(w)
    {
        return false;
    }
    let at = &floor.crew.posts[usize::from(post)];
    if at.for_two {
        return pair::calls(
            &floor.crew,
            w,
            post,
            (jobs, here),
            call.step_in,
            call.leave_at,
        );
    }
    let taken = left_behind(floor, call.post);
    let calls = if here {
        jobs > call.leave_at
    } else {
        jobs.saturating_sub(at.coming) >= call.step_in
    };
    calls && at.at_work + at.coming + taken < at.places
}

/// Whether a post other than this one calls the worker.
fn called_elsewhere(floor: &mut Floor, line: &Line, w: u8, not: u16) -> bool {
    (0..floor.crew.workers[usize::from(w)].list.len()).any(|k| {
        let entry = floor.crew.workers[usize::from(w)].list[k];
        entry.post != not && calls(floor, line, w, entry)
    })
}

/// Whoever holds something that finds no room, and is called by another post of their own list, puts it down where it is
/// and goes: it keeps its place and moves on by itself. (One pair of hands would otherwise wait for itself for ever.)
fn put_down_and_go(floor: &mut Floor, line: &Line) {
    for w in 0..floor.crew.workers.len() as u8 {
        let Some(Doing::Held(post, because)) = floor.crew.workers[usize::from(w)].doing else {
            continue;
        };
        if because == PlaceId::default() || floor.crew.workers[usize::from(w)].list.len() < 2 {
            continue;
        }
        if called_elsewhere(floor, line, w, post) {
            for held in floor.scrapping.iter_mut().flat_map(|s| &mut s.held) {
                if held.worker == Some(w) {
                    held.left_by = Some(w);
                }
            }
            drop_everything(floor, w);
            floor.crew.workers[usize::from(w)].doing = Some(Doing::Free);
            become_free(floor, w);
        }
    }
}

/// Pieces left lying at a post by somebody who has gone; they keep a place there.
fn left_behind(floor: &Floor, post: Post) -> u32 {
    let count = match post {
        Post::Scrapping(i) => floor.scrapping[usize::from(i)].left_behind(),
        Post::Racking(i) => floor.racking[usize::from(i)].left_behind(),
        Post::Unloading(i) => floor.clean_ends[usize::from(i)].left_behind(),
        Post::Loading(_) | Post::Running | Post::Duty(_) | Post::CartWash(_) => 0,
    };
    count as u32
}

/// Jobs waiting at a post, as a worker sees it who stands there (`here`) or elsewhere.
pub(super) fn waiting(floor: &mut Floor, line: &Line, post: Post, here: bool) -> u32 {
    match post {
        Post::Scrapping(i) => scrapping::waiting(floor, line, i, here),
        Post::Racking(i) => racking::waiting(floor, line, i),
        Post::Loading(i) => machine::waiting(floor, line, i),
        Post::Unloading(i) => clean_end::waiting(floor, line, i),
        Post::Running => delivery::waiting(floor, line),
        Post::Duty(d) => duty::waiting(floor, d),
        Post::CartWash(i) => carts::waiting_to_wash(floor, i),
    }
}

/// Until when a worker who has stepped in somewhere must stay there, if that is still to come.
fn stays_until(floor: &Floor, w: u8) -> Option<SimTime> {
    let it = &floor.crew.workers[usize::from(w)];
    let entry = it
        .list
        .iter()
        .find(|e| e.post == it.stands && !e.only_pressing)?;
    let until = it.stands_since + entry.call.stay;
    (it.walked && until > floor.now).then_some(until)
}

/// Somebody stands ready: a belt that advances on demand, or whoever gives from hand to hand, may act on it.
fn stands_ready(floor: &mut Floor, line: &Line, stands: usize) {
    match floor.crew.posts.get(stands).and_then(|p| p.what) {
        Some(Post::Scrapping(i)) => {
            for from in &line.scrapping[usize::from(i)].from {
                match *from {
                    TraysFrom::BeltEnd(b)
                        if floor.belts[usize::from(b)].mover.waits_for_demand() =>
                    {
                        let no = floor.belt_no(b);
                        floor.mark(no);
                    }
                    TraysFrom::Table(t)
                        if line.tables[usize::from(t)].room == Some(0)
                            && floor.tables[usize::from(t)].is_empty() =>
                    {
                        for d in 0..floor.drop_offs.len() as u8 {
                            if floor.drop_offs[usize::from(d)].is_held_up() {
                                let no = floor.drop_off_no(d);
                                floor.mark(no);
                            }
                        }
                    }
                    _ => {}
                }
            }
        }
        Some(Post::Racking(i))
            if line.racking[usize::from(i)]
                .piles
                .iter()
                .any(|p| p.room == Some(0)) =>
        {
            for s in 0..floor.scrapping.len() as u8 {
                if !floor.scrapping[usize::from(s)].held.is_empty() {
                    let no = floor.scrapping_no(s);
                    floor.mark(no);
                }
            }
        }
        _ => {}
    }
}
