//! The crew: who is on, who stands where, who is given what.
//!
//! Work is given out when the ware has settled. Free workers are asked in crew-list order, in two rounds: first those
//! whose choice is the post where they stand, then those who must walk. The choice is the first post on the worker's own
//! list that calls and has a place free.

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{
    Call, EndRule, Line, Post, TraysFrom, catalogue, clean_end, delivery, duty, machine, racking,
    scrapping,
};
use crate::tape::Tape;
use crate::time::{SimTime, Span};
use crate::watch::{ActorId, PlaceId, PostId, State as S};

const TASK: u32 = 0;
const CLOCK: u32 = 1;
pub(crate) const SLOTS_A_WORKER: u32 = 2;

/// What a worker is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Doing {
    Off,
    Free,
    /// At a task at this post of the roster, with this tray where it is a tray.
    Task(u16, u32),
    /// Walking to this post; the second value says when hand washing begins.
    Walk(u16, SimTime),
    /// Washing hands on the way to this post.
    Wash(u16),
    /// Holding something that finds no room, at this post.
    Held(u16, PlaceId),
    Break,
}

#[derive(Clone, Copy, Debug)]
struct Entry {
    post: u16,
    call: Call,
    /// Calls only when other work may wait no longer.
    only_pressing: bool,
}

#[derive(Clone, Debug, Default)]
struct Worker {
    doing: Option<Doing>,
    /// Post of the roster where they stand.
    stands: u16,
    stands_since: SimTime,
    /// Whether they have walked there (nobody must stay where they began).
    walked: bool,
    on_shift: bool,
    next_shift: usize,
    next_break: usize,
    /// Breaks that fell due during a task or an earlier break.
    owed: usize,
    break_ends: Option<SimTime>,
    list: Vec<Entry>,
    absent: bool,
}

#[derive(Clone, Debug, Default)]
struct PostState {
    /// What it is; `Post` has no cheap default.
    what: Option<Post>,
    /// Its number in the catalogue.
    no: Option<PostId>,
    clean_side: bool,
    places: u32,
    /// Workers at a task or holding something here.
    at_work: u32,
    /// Workers on their way here.
    coming: u32,
    /// Free workers standing here.
    idle: u32,
    /// Somebody upstream acts on it when a free worker stands here.
    gives_notice: bool,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    workers: Vec<Worker>,
    posts: Vec<PostState>,
    free: Vec<u8>,
    /// The last instant at which a shift ends.
    pub(crate) last_shift_ends: SimTime,
}

impl State {
    /// Free workers who stand at a post of this kind.
    pub(crate) fn idle_at(&self, is_it: impl Fn(Post) -> bool) -> u32 {
        self.posts
            .iter()
            .filter(|p| p.what.is_some_and(&is_it))
            .map(|p| p.idle)
            .sum()
    }

    /// Whether anybody is at a task, walking, or holding something.
    pub(crate) fn anybody_at_work(&self) -> bool {
        self.workers.iter().any(|w| {
            !matches!(
                w.doing,
                None | Some(Doing::Off | Doing::Free | Doing::Break)
            )
        })
    }

    /// Whether a shift begins or a break ends later, or somebody who is held up will walk off: somebody may yet come.
    pub(crate) fn somebody_comes(&self, line: &Line) -> bool {
        self.workers.iter().zip(&line.crew).any(|(w, spec)| {
            !w.absent
                && (w.next_shift < spec.shifts.len() && !w.on_shift
                    || w.break_ends.is_some() && w.on_shift
                    || w.walks_off_and_returns(spec))
        })
    }
}

impl Worker {
    /// Whether this worker, who holds something, will leave it for a break, or for another shift, and be free again.
    fn walks_off_and_returns(&self, spec: &crate::line::Worker) -> bool {
        let held = self.on_shift && matches!(self.doing, Some(Doing::Held(..)));
        let shift_ends = spec.shifts.get(self.next_shift).map(|&(_, to)| to);
        let next_break = spec.breaks.get(self.next_break);
        let takes_break = next_break
            .zip(shift_ends)
            .is_some_and(|(&(due, length), to)| due + length < to);
        held && (takes_break || self.next_shift + 1 < spec.shifts.len())
    }
}

impl State {
    /// Whether everybody who could ever stand at a post of this kind is holding something, and for good.
    pub(crate) fn all_hold(&self, line: &Line, is_it: impl Fn(Post) -> bool) -> bool {
        self.workers.iter().zip(&line.crew).all(|(w, spec)| {
            let never = w.absent || (!w.on_shift && w.next_shift >= spec.shifts.len());
            let could = spec.list.iter().any(|call| is_it(call.post));
            let holds = matches!(w.doing, Some(Doing::Held(..))) && !w.walks_off_and_returns(spec);
            never || !could || holds
        })
    }

    /// Who is held up by what, in words.
    pub(crate) fn held_up(&self, line: &Line) -> Option<String> {
        let held = self
            .workers
            .iter()
            .zip(&line.crew)
            .find_map(|(w, spec)| match w.doing {
                Some(Doing::Held(_, because)) => Some((spec, because)),
                _ => None,
            });
        let (spec, because) = held?;
        let place = line
            .catalogue()
            .places
            .get(usize::from(because.0))
            .map(|p| p.name.clone());
        Some(format!(
            "{} is held up by {}",
            spec.name,
            place.unwrap_or_else(|| "want of room".into())
        ))
    }
}

fn clean_side(line: &Line, post: Post) -> bool {
    match post {
        Post::Scrapping(_) | Post::Racking(_) | Post::Loading(_) => false,
        Post::Unloading(_) | Post::Running => true,
        Post::Duty(d) => line.duties[usize::from(d)].clean_side,
    }
}

/// Whether somebody upstream acts on it when a free worker stands here: a belt that advances on demand, or a giver from
/// hand to hand.
fn gives_notice(line: &Line, post: Post) -> bool {
    match post {
        Post::Scrapping(i) => line.scrapping[usize::from(i)]
            .from
            .iter()
            .any(|from| match *from {
                TraysFrom::BeltEnd(b) => matches!(
                    line.belts[usize::from(b)].rule,
                    EndRule::AdvancesOnDemand { .. }
                ),
                TraysFrom::Table(t) => line.tables[usize::from(t)].room == Some(0),
                _ => false,
            }),
        Post::Racking(i) => line.racking[usize::from(i)]
            .piles
            .iter()
            .any(|p| p.room == Some(0)),
        _ => false,
    }
}

fn places(line: &Line, post: Post) -> u32 {
    match post {
        Post::Scrapping(i) => line.scrapping[usize::from(i)].places,
        Post::Racking(i) => line.racking[usize::from(i)].places,
        Post::Loading(i) => line.machines[usize::from(i)]
            .loading
            .as_ref()
            .map_or(0, |l| l.places),
        Post::Unloading(i) => line.clean_ends[usize::from(i)].workers,
        Post::Running | Post::Duty(_) => u32::MAX,
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, tape: &Tape) {
    let crew = &mut floor.crew;
    crew.posts.clear();
    crew.free.clear();
    crew.workers.resize_with(line.crew.len(), Worker::default);
    crew.last_shift_ends = line.starts;
    let absent = tape.root().source("crew/unfilled");
    for (w, spec) in line.crew.iter().enumerate() {
        let mut list = std::mem::take(&mut crew.workers[w].list);
        list.clear();
        let mut add = |crew: &mut State, call: Call, only_pressing: bool| {
            let known = crew.posts.iter().position(|p| p.what == Some(call.post));
            let post = known.unwrap_or_else(|| {
                crew.posts.push(PostState {
                    what: Some(call.post),
                    no: Some(catalogue::post_no(line, call.post)),
                    clean_side: clean_side(line, call.post),
                    places: places(line, call.post),
                    gives_notice: gives_notice(line, call.post),
                    ..PostState::default()
                });
                crew.posts.len() - 1
            });
            list.push(Entry {
                post: post as u16,
                call,
                only_pressing,
            });
        };
        // Other work comes first when it may not wait (or no longer), and last when it may.
        let duties = line.duties.iter().enumerate();
        let mine = duties.filter(|(_, d)| {
            d.by.iter()
                .any(|&post| spec.list.iter().any(|call| call.post == post))
        });
        let call = |d: usize| Call {
            post: Post::Duty(d as u8),
            step_in: 1,
            leave_at: 0,
            stay: Span::NONE,
        };
        for (d, _) in mine.clone() {
            add(crew, call(d), true);
        }
        for &entry in &spec.list {
            add(
                crew,
                Call {
                    step_in: entry.step_in.max(1),
                    ..entry
                },
                false,
            );
        }
        for (d, _) in mine.filter(|(_, duty)| duty.may_wait.is_some()) {
            add(crew, call(d), false);
        }
        let stands = list
            .iter()
            .find(|e| !matches!(e.call.post, Post::Duty(_)))
            .map_or(0, |e| e.post);
        crew.workers[w] = Worker {
            doing: Some(Doing::Off),
            stands,
            list,
            absent: spec.unfilled > 0.0 && absent.uniform(w as u64) < spec.unfilled,
            ..Worker::default()
        };
        if let Some(&(_, ends)) = spec.shifts.last() {
            crew.last_shift_ends = crew.last_shift_ends.max(ends);
        }
    }
    for w in 0..line.crew.len() as u8 {
        let starts = line.starts;
        let worker = &mut floor.crew.workers[usize::from(w)];
        let spec = &line.crew[usize::from(w)];
        // Shifts that are over, or under way, at the start; breaks that were due before it.
        worker.next_shift = spec
            .shifts
            .iter()
            .take_while(|(_, ends)| *ends <= starts)
            .count();
        worker.next_break = spec
            .breaks
            .iter()
            .take_while(|(due, _)| *due < starts)
            .count();
        if spec
            .shifts
            .get(worker.next_shift)
            .is_some_and(|(from, _)| *from <= starts)
            && !worker.absent
        {
            come_on(floor, line, w);
        }
        next_clock(floor, line, w);
    }
}

#[inline]
fn who(w: u8) -> ActorId {
    ActorId(u16::from(w))
}

/// The next thing the clock has for this worker.
fn next_clock(floor: &mut Floor, line: &Line, w: u8) {
    let no = floor.crew_no();
    let worker = &floor.crew.workers[usize::from(w)];
    let spec = &line.crew[usize::from(w)];
    let at = if worker.absent {
        None
    } else {
        let shift = spec
            .shifts
            .get(worker.next_shift)
            .map(|&(from, to)| if worker.on_shift { to } else { from });
        let due = spec
            .breaks
            .get(worker.next_break)
            .map(|&(due, _)| due)
            .filter(|_| worker.on_shift);
        let ends = worker.break_ends.filter(|_| worker.on_shift);
        [shift, due, ends].into_iter().flatten().min()
    };
    floor.set_or_clear(no, SLOTS_A_WORKER * u32::from(w) + CLOCK, Phase::Clock, at);
}

pub(crate) fn due(floor: &mut Floor, line: &Line, tape: &Tape, local: u32) {
    let w = (local / SLOTS_A_WORKER) as u8;
    if local % SLOTS_A_WORKER == TASK {
        task_ends(floor, line, tape, w);
    } else {
        clock(floor, line, w);
        next_clock(floor, line, w);
    }
    floor.mark_crew();
}

fn clock(floor: &mut Floor, line: &Line, w: u8) {
    let now = floor.now;
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
            go_off(floor, line, w);
            // The next shift may begin at this very instant.
            let worker = &floor.crew.workers[usize::from(w)];
            if spec
                .shifts
                .get(worker.next_shift)
                .is_some_and(|&(from, _)| from <= now)
            {
                come_on(floor, line, w);
            }
            return;
        }
        if worker.break_ends.is_some_and(|ends| ends <= now) {
            worker.break_ends = None;
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
        if worker.owed > 0 && !matches!(worker.doing, Some(Doing::Task(..) | Doing::Break)) {
            drop_everything(floor, w);
            take_break(floor, line, w);
        }
    } else if spec
        .shifts
        .get(worker.next_shift)
        .is_some_and(|&(from, _)| from <= now)
    {
        come_on(floor, line, w);
    }
}

fn come_on(floor: &mut Floor, line: &Line, w: u8) {
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
    } else if matches!(worker.doing, Some(Doing::Task(..))) {
        floor.telling.state(who(w), S::Working, None);
    }
}

/// The shift is over: a task in hand is finished, anything else is left at once.
fn go_off(floor: &mut Floor, _line: &Line, w: u8) {
    let worker = &mut floor.crew.workers[usize::from(w)];
    worker.break_ends = None;
    if matches!(worker.doing, Some(Doing::Task(..))) {
        floor.telling.state(who(w), S::PastShift, None);
        return;
    }
    drop_everything(floor, w);
    floor.crew.workers[usize::from(w)].doing = Some(Doing::Off);
    floor.telling.state(who(w), S::Off, None);
    floor.telling.stands(who(w), None);
}

/// Leaves a walk, a wait or a held piece; the piece keeps its place and moves on by itself.
fn drop_everything(floor: &mut Floor, w: u8) {
    let no = floor.crew_no();
    match floor.crew.workers[usize::from(w)].doing {
        Some(Doing::Free) => leave_free(floor, w),
        Some(Doing::Walk(to, _) | Doing::Wash(to)) => {
            floor.crew.posts[usize::from(to)].coming -= 1;
            floor.clear(no, SLOTS_A_WORKER * u32::from(w) + TASK);
        }
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

fn take_break(floor: &mut Floor, line: &Line, w: u8) {
    let now = floor.now;
    let worker = &mut floor.crew.workers[usize::from(w)];
    let which = worker.next_break - worker.owed;
    let length = line.crew[usize::from(w)]
        .breaks
        .get(which)
        .map_or(Span::NONE, |&(_, length)| length);
    worker.owed -= 1;
    worker.doing = Some(Doing::Break);
    worker.break_ends = Some(now + length);
    floor.telling.state(who(w), S::Break, None);
    floor.telling.stands(who(w), None);
    next_clock(floor, line, w);
}

#[inline]
fn become_free(floor: &mut Floor, w: u8) {
    let crew = &mut floor.crew;
    let at = crew.free.partition_point(|&other| other < w);
    crew.free.insert(at, w);
    let stands = usize::from(crew.workers[usize::from(w)].stands);
    if let Some(post) = crew.posts.get_mut(stands) {
        post.idle += 1;
    }
}

#[inline]
fn leave_free(floor: &mut Floor, w: u8) {
    let crew = &mut floor.crew;
    crew.free.retain(|&other| other != w);
    let stands = usize::from(crew.workers[usize::from(w)].stands);
    if let Some(post) = crew.posts.get_mut(stands) {
        post.idle -= 1;
    }
}

/// A task, a walk or a hand wash is over.
fn task_ends(floor: &mut Floor, line: &Line, tape: &Tape, w: u8) {
    let now = floor.now;
    let no = floor.crew_no();
    match floor.crew.workers[usize::from(w)].doing {
        Some(Doing::Walk(to, washes_until)) if washes_until > now => {
            floor.crew.workers[usize::from(w)].doing = Some(Doing::Wash(to));
            floor.set(
                no,
                SLOTS_A_WORKER * u32::from(w) + TASK,
                Phase::End,
                washes_until,
            );
            floor.telling.state(who(w), S::HandWash, None);
        }
        Some(Doing::Walk(to, _) | Doing::Wash(to)) => {
            floor.crew.posts[usize::from(to)].coming -= 1;
            let worker = &mut floor.crew.workers[usize::from(w)];
            worker.stands = to;
            worker.stands_since = now;
            worker.walked = true;
            worker.doing = Some(Doing::Free);
            become_free(floor, w);
        }
        Some(Doing::Task(post, tray)) => {
            // Whether it can be put down is settled by the element; until then the worker holds it.
            floor.crew.workers[usize::from(w)].doing = Some(Doing::Held(post, PlaceId::default()));
            match floor.crew.posts[usize::from(post)].what {
                Some(Post::Scrapping(i)) => {
                    scrapping::finish(floor, line, &tape.diners()[tray as usize], i, tray, w);
                }
                Some(Post::Racking(i)) => racking::finish(floor, i, w),
                Some(Post::Loading(i)) => machine::finish(floor, i, w),
                Some(Post::Unloading(i)) => clean_end::finish(floor, i, w),
                Some(Post::Running) => {
                    delivery::finish(floor, w);
                    floor.release(w);
                }
                Some(Post::Duty(_)) => {
                    duty::finish(floor);
                    floor.release(w);
                }
                None => floor.release(w),
            }
            // Past the shift, or with a break due, nobody stays to hold it.
            let worker = &floor.crew.workers[usize::from(w)];
            if matches!(worker.doing, Some(Doing::Held(..)))
                && (!worker.on_shift || worker.owed > 0)
            {
                let on_shift = worker.on_shift;
                drop_everything(floor, w);
                if on_shift {
                    take_break(floor, line, w);
                } else {
                    floor.crew.workers[usize::from(w)].doing = Some(Doing::Off);
                    floor.telling.state(who(w), S::Off, None);
                    floor.telling.stands(who(w), None);
                }
            }
        }
        _ => {}
    }
}

impl Floor {
    /// What this worker held has found its place: they are free.
    pub(crate) fn release(&mut self, w: u8) {
        let Some(Doing::Held(post, _)) = self.crew.workers[usize::from(w)].doing else {
            return;
        };
        self.crew.posts[usize::from(post)].at_work -= 1;
        let worker = &mut self.crew.workers[usize::from(w)];
        if worker.on_shift {
            worker.doing = Some(Doing::Free);
            become_free(self, w);
        } else {
            worker.doing = Some(Doing::Off);
            self.telling.state(who(w), S::Off, None);
            self.telling.stands(who(w), None);
        }
        self.mark_crew();
    }

    /// What this worker holds finds no room at `because`.
    pub(crate) fn hold(&mut self, w: u8, because: PlaceId) {
        let worker = &mut self.crew.workers[usize::from(w)];
        let Some(Doing::Held(post, before)) = worker.doing else {
            return;
        };
        if before == because {
            return;
        }
        worker.doing = Some(Doing::Held(post, because));
        let looks_elsewhere = worker.list.len() > 1;
        self.telling.state(who(w), S::HeldUp, Some(because));
        if looks_elsewhere {
            self.mark_crew();
        }
    }
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

/// Whether a post other than this one calls the worker.
fn called_elsewhere(floor: &mut Floor, line: &Line, w: u8, not: u16) -> bool {
    (0..floor.crew.workers[usize::from(w)].list.len()).any(|k| {
        let entry = floor.crew.workers[usize::from(w)].list[k];
        entry.post != not && calls(floor, line, w, entry)
    })
}

/// Pieces left lying at a post by somebody who has gone; they keep a place there.
fn left_behind(floor: &Floor, post: Post) -> u32 {
    let count = match post {
        Post::Scrapping(i) => floor.scrapping[usize::from(i)].left_behind(),
        Post::Racking(i) => floor.racking[usize::from(i)].left_behind(),
        Post::Unloading(i) => floor.clean_ends[usize::from(i)].left_behind(),
        Post::Loading(_) | Post::Running | Post::Duty(_) => 0,
    };
    count as u32
}

/// Whether this entry of the worker's list calls and has a place free.
fn calls(floor: &mut Floor, line: &Line, w: u8, entry: Entry) -> bool {
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
    let taken = left_behind(floor, call.post);
    let at = &floor.crew.posts[usize::from(post)];
    let calls = if here {
        jobs > call.leave_at
    } else {
        jobs.saturating_sub(at.coming) >= call.step_in
    };
    calls && at.at_work + at.coming + taken < at.places
}

/// Jobs waiting at a post, as a worker sees it who stands there (`here`) or elsewhere.
fn waiting(floor: &mut Floor, line: &Line, post: Post, here: bool) -> u32 {
    match post {
        Post::Scrapping(i) => scrapping::waiting(floor, line, i, here),
        Post::Racking(i) => racking::waiting(floor, line, i),
        Post::Loading(i) => machine::waiting(floor, line, i),
        Post::Unloading(i) => clean_end::waiting(floor, line, i),
        Post::Running => delivery::waiting(floor, line),
        Post::Duty(d) => duty::waiting(floor, d),
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

/// The first post on this worker's list that calls and has a place free.
fn choice(floor: &mut Floor, line: &Line, w: u8) -> Option<u16> {
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

/// Gives out work: two rounds, in crew-list order.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, tape: &Tape) {
    put_down_and_go(floor, line);
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
        let post = floor.crew.posts.get(stands).and_then(|p| p.no);
        floor.telling.stands(who(w), post);
    }
}

/// Those with a break owed go before they are given anything.
fn go_on_owed_breaks(floor: &mut Floor, line: &Line) {
    let mut k = 0;
    while let Some(&w) = floor.crew.free.get(k) {
        if floor.crew.workers[usize::from(w)].owed > 0 {
            leave_free(floor, w);
            take_break(floor, line, w);
        } else {
            k += 1;
        }
    }
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

/// How long the way is, hand wash included.
fn way(floor: &Floor, line: &Line, from: u16, to: u16) -> Span {
    let posts = &floor.crew.posts;
    let soiled_to_clean = !posts[usize::from(from)].clean_side && posts[usize::from(to)].clean_side;
    line.walk
        + if soiled_to_clean {
            line.hand_wash
        } else {
            Span::NONE
        }
}

fn walk(floor: &mut Floor, line: &Line, w: u8, to: u16) {
    let now = floor.now;
    let no = floor.crew_no();
    let from = floor.crew.workers[usize::from(w)].stands;
    let there = now + way(floor, line, from, to);
    leave_free(floor, w);
    floor.crew.posts[usize::from(to)].coming += 1;
    let slot = SLOTS_A_WORKER * u32::from(w) + TASK;
    let post = floor.crew.posts[usize::from(to)].no;
    floor.telling.stands(who(w), post);
    if line.walk.is_none() {
        floor.crew.workers[usize::from(w)].doing = Some(Doing::Wash(to));
        floor.set(no, slot, Phase::End, there);
        floor.telling.state(who(w), S::HandWash, None);
    } else {
        floor.crew.workers[usize::from(w)].doing = Some(Doing::Walk(to, there));
        floor.set(no, slot, Phase::End, now + line.walk);
        floor.telling.state(who(w), S::Walking, None);
    }
}

/// Begins a task at the post where the worker stands. Whether there was one.
fn begin(floor: &mut Floor, line: &Line, tape: &Tape, w: u8, post: u16) -> bool {
    let pace = line.crew[usize::from(w)].pace;
    let mut tray = 0;
    let seconds = match floor.crew.posts[usize::from(post)].what {
        Some(Post::Scrapping(i)) => {
            scrapping::begin(floor, line, tape, i).map(|(taken, seconds)| {
                tray = taken;
                seconds
            })
        }
        Some(Post::Racking(i)) => racking::begin(floor, line, i, w),
        Some(Post::Loading(i)) => machine::begin(floor, line, i),
        Some(Post::Unloading(i)) => clean_end::begin(floor, line, i, w),
        Some(Post::Running) => delivery::begin(floor, line, w, pace),
        Some(Post::Duty(d)) => duty::begin(floor, line, d),
        None => None,
    };
    let Some(seconds) = seconds else { return false };
    leave_free(floor, w);
    floor.crew.posts[usize::from(post)].at_work += 1;
    floor.crew.workers[usize::from(w)].doing = Some(Doing::Task(post, tray));
    floor.telling.state(who(w), S::Working, None);
    let at = floor.crew.posts[usize::from(post)].no;
    floor.telling.stands(who(w), at);
    let lasts = Span::drawn(seconds / pace);
    if lasts.is_none() {
        task_ends(floor, line, tape, w);
    } else {
        let at = floor.now + lasts;
        let no = floor.crew_no();
        floor.set(no, SLOTS_A_WORKER * u32::from(w) + TASK, Phase::End, at);
    }
    true
}
