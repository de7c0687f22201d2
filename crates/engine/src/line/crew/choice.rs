//! Who is given what: each free worker reads the own list from the top.

use super::shifts::{become_free, drop_everything, go_on_owed_breaks, leave_free};
use super::tasks::{begin, walk, way};
use super::{Doing, Entry, LAST_POST, Post, SLOTS_A_WORKER, TASK, help, pair, who};
use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{
    Line, TraysFrom, carts, clean_end, delivery, duty, machine, racking, scrapping, stacks, trouble,
};
use crate::tape::Tape;
use crate::time::SimTime;
use crate::watch::{PlaceId, State as S};

/// Gives out work; then whoever holds something that finds no room goes where it is needed.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, tape: &Tape) {
    floor.crew.look_anew();
    if floor.crew.has_help {
        help::look(floor, line);
    }
    if floor.crew.gathering.is_some() {
        pair::look(floor, line);
    }
    if !floor.crew.free.is_empty() {
        go_on_owed_breaks(floor, line);
        if !give_out(floor, line, tape) {
            floor.mark_crew();
            return;
        }
    }
    if floor.crew.somebody_could_put_down() {
        // What is held may just have been taken, or may find room now: first the ware comes to rest.
        if floor.marked != 0 || put_down_and_go(floor, line) {
            floor.mark_crew();
            return;
        }
    }
    let mut next = floor.crew.free.first();
    while let Some(w) = next {
        stands_free(floor, line, w);
        next = floor.crew.free.after(w);
    }
}

/// Gives free workers work: two rounds, in crew-list order. Whether all were asked: what somebody has done in no time
/// moves before anybody is asked again.
fn give_out(floor: &mut Floor, line: &Line, tape: &Tape) -> bool {
    for must_walk in [false, true] {
        let mut next = floor.crew.free.first();
        let mut same_again = true;
        while let Some(w) = next {
            let worker = &floor.crew.workers[usize::from(w)];
            let stands = worker.stands;
            // Who stands at their only post never walks.
            let choice = if must_walk && worker.has_only(stands) {
                None
            } else {
                choice(floor, line, w)
            };
            same_again &= choice.is_none();
            if let Some(post) = choice
                && (post != stands) == must_walk
            {
                let go_on = goes_to_work(floor, line, tape, w, post, must_walk);
                floor.crew.look_anew();
                if !go_on {
                    return false;
                }
            }
            next = floor.crew.free.after(w);
        }
        if same_again || !floor.crew.somebody_walks {
            // Nobody was called, so nothing has changed for those who would walk; or nobody ever does.
            break;
        }
    }
    true
}

/// A free worker begins at the post that calls, or goes there first. Whether others may be asked now.
#[inline]
fn goes_to_work(
    floor: &mut Floor,
    line: &Line,
    tape: &Tape,
    w: u8,
    post: u16,
    must_walk: bool,
) -> bool {
    if must_walk && walks(floor, line, w, post) {
        return true;
    }
    let begun = begin(floor, line, tape, w, post);
    let doing = floor.crew.workers[usize::from(w)].doing;
    !begun || matches!(doing, Some(Doing::Task(..)))
}

/// A free worker goes to another post. Whether that takes time.
#[inline(never)]
fn walks(floor: &mut Floor, line: &Line, w: u8, post: u16) -> bool {
    let stands = floor.crew.workers[usize::from(w)].stands;
    if !way(floor, line, stands, post).is_none() {
        walk(floor, line, w, post);
        return true;
    }
    leave_free(floor, w);
    let now = floor.now;
    floor.crew.workers[usize::from(w)].comes_to(post, now);
    become_free(floor, w);
    false
}

/// Nothing calls this free worker: what others may make of it, and what is told.
fn stands_free(floor: &mut Floor, line: &Line, w: u8) {
    let worker = &floor.crew.workers[usize::from(w)];
    let (stands, walked) = (usize::from(worker.stands), worker.walked);
    let post = floor.crew.posts.get(stands);
    if walked || post.is_some_and(|p| p.gives_notice || p.by_a_loop) {
        if post.is_some_and(|p| p.gives_notice) {
            stands_ready(floor, line, stands);
        }
        let comes_by = comes_by(floor, line, w);
        looks_again(floor, w, comes_by);
    }
    if !floor.telling.on {
        return;
    }
    let because = stuck(floor, line, w);
    let state = if because.is_some() {
        S::HeldUp
    } else {
        S::Waiting
    };
    floor.telling.state(who(w), state, because);
    let post = floor.crew.posts.get(stands).and_then(|p| p.no);
    floor.telling.stands(who(w), post);
}

/// What keeps this free worker from the ware that waits where they stand, if anything does.
pub(super) fn stuck(floor: &Floor, line: &Line, w: u8) -> Option<PlaceId> {
    let stands = usize::from(floor.crew.workers[usize::from(w)].stands);
    match floor.crew.posts.get(stands).and_then(|p| p.what) {
        Some(Post::Racking(i)) => racking::stuck(floor, line, i),
        Some(Post::Unloading(i)) => clean_end::stuck(floor, line, i),
        _ => None,
    }
}

/// Nothing else may happen when the shortest stay is over, or when a tray on a loop comes by: look again then.
fn looks_again(floor: &mut Floor, w: u8, comes_by: Option<SimTime>) {
    let at = [stays_until(floor, w), comes_by]
        .into_iter()
        .flatten()
        .min();
    if let Some(at) = at {
        let no = floor.crew_no();
        let slot = SLOTS_A_WORKER * u32::from(w) + TASK;
        floor.set(no, slot, Phase::Clock, at);
    }
}

/// When the next tray on a loop comes within reach of this free worker, who would take it.
fn comes_by(floor: &mut Floor, line: &Line, w: u8) -> Option<SimTime> {
    let stands = floor.crew.workers[usize::from(w)].stands;
    let post = floor.crew.posts.get(usize::from(stands))?;
    let Some(Post::Scrapping(i)) = post.what.filter(|_| post.by_a_loop) else {
        return None;
    };
    let comes_in = scrapping::comes_in(floor, line, i)?;
    (choice(floor, line, w) == Some(stands)).then(|| floor.now + comes_in)
}

/// The first post on this worker's list that calls and has a place free. Within the shortest stay no other post calls;
/// other work that may not wait does.
pub(super) fn choice(floor: &mut Floor, line: &Line, w: u8) -> Option<u16> {
    let must_stay = stays_until(floor, w).is_some();
    let mut from = 0;
    while let Some((k, entry)) = floor.crew.next_to_ask(w, from, must_stay) {
        if calls(floor, line, w, &entry) {
            return Some(entry.post);
        }
        from = k + 1;
    }
    None
}

impl super::State {
    /// The next entry of the worker's list, from the one with this number on, that may call: who must stay looks at no
    /// other post but those where something presses, and nobody where nothing is known to wait.
    #[inline]
    fn next_to_ask(&self, w: u8, from: usize, must_stay: bool) -> Option<(usize, Entry)> {
        let worker = &self.workers[usize::from(w)];
        let here = 1 << usize::from(worker.stands).min(LAST_POST);
        let [elsewhere, at_hand] = self.nothing;
        let open = worker.bits & !(elsewhere & !here | at_hand & here);
        if open == 0 {
            return None;
        }
        let may_call = |entry: &Entry| {
            entry.bit & open != 0
                && (!must_stay || entry.post == worker.stands || entry.only_pressing)
        };
        let list = worker.list.get(from..)?;
        let k = list.iter().position(may_call)?;
        Some((from + k, list[k]))
    }

    /// Nothing waits at the post with this bit: for those who stand there, or those who are elsewhere.
    #[inline]
    fn nothing_waits(&mut self, bit: u64, here: bool) {
        self.nothing[usize::from(here)] |= bit & !(1 << LAST_POST);
    }

    /// What waits at posts may have changed, but at those that tell of it themselves.
    #[inline]
    fn look_anew(&mut self) {
        for nothing in &mut self.nothing {
            *nothing &= self.tell_themselves;
        }
    }
}

/// Whether this entry of the worker's list calls and has a place free.
#[inline(always)]
fn calls(floor: &mut Floor, line: &Line, w: u8, entry: &Entry) -> bool {
    let Entry { post, call, .. } = *entry;
    if let Post::Duty(d) = call.post {
        if duty::waiting(floor, d) == 0 {
            floor.crew.nothing_waits(entry.bit, true);
            floor.crew.nothing_waits(entry.bit, false);
            return false;
        }
        if entry.only_pressing && !duty::presses(floor, line, d) {
            return false;
        }
    }
    let at = &floor.crew.posts[usize::from(post)];
    let (places, coming, for_two) = (at.places, at.coming, at.for_two);
    let taken = at.at_work + coming;
    if taken >= places {
        return false;
    }
    let here = post == floor.crew.workers[usize::from(w)].stands;
    let jobs = waiting(floor, line, call.post, here);
    if jobs == 0 {
        // What one has not found the others need not look for.
        floor.crew.nothing_waits(entry.bit, here);
        return false;
    }
    // Nobody begins another tray beside their own that has not moved on.
    if let Post::Scrapping(i) = call.post
        && floor.scrapping[usize::from(i)].left_by(w)
    {
        return false;
    }
    if for_two {
        return pair::calls(
            &floor.crew,
            w,
            post,
            (jobs, here),
            call.step_in,
            call.leave_at,
        );
    }
    let calls = if here {
        jobs > call.leave_at
    } else {
        jobs.saturating_sub(coming) >= call.step_in
    };
    calls && taken + left_behind(floor, call.post) < places
}

/// Whether a post other than this one calls the worker.
fn called_elsewhere(floor: &mut Floor, line: &Line, w: u8, not: u16) -> bool {
    let must_stay = stays_until(floor, w).is_some();
    let mut from = 0;
    while let Some((k, entry)) = floor.crew.next_to_ask(w, from, must_stay) {
        let may_go = entry.post != not && (!must_stay || entry.only_pressing);
        if may_go && calls(floor, line, w, &entry) {
            return true;
        }
        from = k + 1;
    }
    false
}

/// Whoever holds something that finds no room, and is called by another post of their own list where no free worker goes,
/// puts it down where it is and goes: it keeps its place and moves on by itself. (One pair of hands would otherwise wait
/// for itself for ever.) Whether anybody did.
fn put_down_and_go(floor: &mut Floor, line: &Line) -> bool {
    let mut went = false;
    for w in 0..floor.crew.workers.len() as u8 {
        let worker = &floor.crew.workers[usize::from(w)];
        let (true, Some(Doing::Held(post, _))) = (worker.could_put_down(), worker.doing) else {
            continue;
        };
        if called_elsewhere(floor, line, w, post) {
            for held in floor.scrapping.iter_mut().flat_map(|s| &mut s.held) {
                if held.worker == Some(w) {
                    held.left_by = Some(w);
                }
            }
            drop_everything(floor, w);
            floor.crew.workers[usize::from(w)].doing = Some(Doing::Free);
            become_free(floor, w);
            floor.crew.look_anew();
            went = true;
        } else {
            looks_again(floor, w, None);
        }
    }
    went
}

/// Pieces left lying at a post by somebody who has gone; they keep a place there.
fn left_behind(floor: &Floor, post: Post) -> u32 {
    let count = match post {
        Post::Scrapping(i) => floor.scrapping[usize::from(i)].left_behind(),
        Post::Racking(i) => floor.racking[usize::from(i)].left_behind(),
        Post::Unloading(i) => floor.clean_ends[usize::from(i)].left_behind(),
        Post::Loading(_)
        | Post::Running
        | Post::Duty(_)
        | Post::CartWash(_)
        | Post::Clearing(_) => 0,
    };
    count as u32
}

/// Jobs waiting at a post, as a worker sees it who stands there (`here`) or elsewhere.
pub(super) fn waiting(floor: &mut Floor, line: &Line, post: Post, here: bool) -> u32 {
    match post {
        Post::Scrapping(i) => scrapping::waiting(floor, line, i, here),
        Post::Racking(i) => racking::waiting(floor, line, i, here),
        Post::Loading(i) => machine::waiting(floor, line, i),
        Post::Unloading(i) => clean_end::waiting(floor, line, i),
        Post::Running => delivery::waiting(floor, line),
        Post::Duty(d) => duty::waiting(floor, d),
        Post::CartWash(i) => carts::waiting_to_wash(floor, i),
        Post::Clearing(t) => trouble::waiting(floor, t),
    }
}

/// Until when a worker who has stepped in somewhere must stay there, if that is still to come.
#[inline]
fn stays_until(floor: &Floor, w: u8) -> Option<SimTime> {
    let until = floor.crew.workers[usize::from(w)].stays_until;
    until.filter(|&until| until > floor.now)
}

/// Somebody stands ready: a belt that advances on demand may act on it.
fn stands_ready(floor: &mut Floor, line: &Line, stands: usize) {
    let what = floor.crew.posts.get(stands).and_then(|p| p.what);
    if let Some(Post::Racking(i)) = what {
        stacks::stands_ready(floor, line, i);
    }
    if let Some(Post::Scrapping(i)) = what {
        for from in &line.scrapping[usize::from(i)].from {
            if let TraysFrom::BeltEnd(b) = *from
                && floor.belts[usize::from(b)].mover.waits_for_demand()
            {
                let no = floor.belt_no(b);
                floor.mark(no);
            }
        }
    }
}
