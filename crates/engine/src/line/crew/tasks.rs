//! Walking, beginning a task, ending it, and holding what finds no room.

use super::shifts::{become_free, drop_everything, leave_free, take_break};
use super::{Doing, Post, SLOTS_A_WORKER, TASK, pair, who};
use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, carts, clean_end, delivery, duty, machine, racking, scrapping, trouble};
use crate::tape::Tape;
use crate::time::Span;
use crate::watch::{PlaceId, State as S, Step};

/// Begins a task at the post where the worker stands, or waits there for a second pair of hands. Whether either.
#[inline]
pub(super) fn begin(floor: &mut Floor, line: &Line, tape: &Tape, w: u8, post: u16) -> bool {
    if floor.crew.posts[usize::from(post)].for_two {
        return begin_for_two(floor, line, tape, w, post);
    }
    let pace = line.crew[usize::from(w)].pace_at(floor.now);
    begin_at(floor, line, tape, w, post, pace)
}

#[cold]
fn begin_for_two(floor: &mut Floor, line: &Line, tape: &Tape, w: u8, post: u16) -> bool {
    // Two would wait for a tray to come by on a loop, or on demand, and neither need hold the other meanwhile.
    let at = &floor.crew.posts[usize::from(post)];
    let comes_by = at.by_a_loop || at.gives_notice;
    let ready = match at.what.filter(|_| comes_by) {
        Some(Post::Scrapping(i)) => scrapping::can_take(floor, line, i),
        Some(Post::Racking(i)) => racking::can_begin(floor, line, i),
        _ => true,
    };
    if !ready {
        return false;
    }
    let Some(first) = floor.crew.gathering.map(|gathering| gathering.worker) else {
        pair::gather(floor, w, post);
        return true;
    };
    // Whoever has waited leads; the slower of the two sets the pace.
    let pace = |w: u8| line.crew[usize::from(w)].pace_at(floor.now);
    let pace = pace(first).min(pace(w));
    pair::stop_gathering(floor, post);
    floor.crew.workers[usize::from(first)].doing = Some(Doing::Free);
    become_free(floor, first);
    leave_free(floor, w);
    floor.crew.workers[usize::from(w)].doing = Some(Doing::With(first, post));
    floor.crew.posts[usize::from(post)].at_work += 1;
    floor.telling.state(who(w), S::Working, None);
    let at = floor.crew.posts[usize::from(post)].no;
    floor.telling.stands(who(w), at);
    let begun = begin_at(floor, line, tape, first, post, pace);
    if !begun {
        pair::part(floor, first);
    }
    begun
}

#[inline(never)]
fn begin_at(floor: &mut Floor, line: &Line, tape: &Tape, w: u8, post: u16, pace: f64) -> bool {
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
        Some(Post::CartWash(i)) => carts::begin(floor, line, i, w),
        Some(Post::Clearing(t)) => trouble::begin(floor, t),
        None => None,
    };
    let Some(seconds) = seconds else { return false };
    leave_free(floor, w);
    floor.crew.workers[usize::from(w)].doing = Some(Doing::Task(post, tray));
    let at = &mut floor.crew.posts[usize::from(post)];
    at.at_work += 1;
    let (what, no) = (at.what, at.no);
    floor.telling.state(who(w), S::Working, None);
    if let Some(at) = what {
        floor.telling.step(Step::Begun {
            who: who(w),
            post: at,
            tray: of_tray(at, tray),
        });
    }
    floor.telling.stands(who(w), no);
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

/// The tray of a task, where the task is one tray.
fn of_tray(post: Post, tray: u32) -> Option<u32> {
    matches!(post, Post::Scrapping(_)).then_some(tray)
}

pub(super) fn walk(floor: &mut Floor, line: &Line, w: u8, to: u16) {
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

/// How long the way is, hand wash included.
pub(super) fn way(floor: &Floor, line: &Line, from: u16, to: u16) -> Span {
    let posts = &floor.crew.posts;
    let soiled_to_clean = !posts[usize::from(from)].clean_side && posts[usize::from(to)].clean_side;
    line.walk
        + if soiled_to_clean {
            line.hand_wash
        } else {
            Span::NONE
        }
}

/// A task, a walk or a hand wash is over.
#[inline(never)]
pub(super) fn task_ends(floor: &mut Floor, line: &Line, tape: &Tape, w: u8) {
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
            worker.comes_to(to, now);
            worker.doing = Some(Doing::Free);
            become_free(floor, w);
        }
        Some(Doing::Task(post, tray)) => {
            let at = &floor.crew.posts[usize::from(post)];
            let what = at.what;
            if at.for_two {
                pair::part(floor, w);
            }
            // Whether it can be put down is settled by the element; until then the worker holds it.
            floor.crew.workers[usize::from(w)].doing = Some(Doing::Held(post, PlaceId::default()));
            if let Some(at) = what {
                floor.telling.step(Step::Ended {
                    who: who(w),
                    post: at,
                    tray: of_tray(at, tray),
                });
            }
            match what {
                Some(Post::Scrapping(i)) => {
                    scrapping::finish(floor, line, &tape.diners()[tray as usize], i, tray, w);
                }
                Some(Post::Racking(i)) => racking::finish(floor, i, w),
                Some(Post::Loading(i)) => machine::finish(floor, i, w),
                Some(Post::Unloading(i)) => clean_end::finish(floor, line, i, w),
                Some(Post::Running) => {
                    delivery::finish(floor, w);
                    floor.release(w);
                }
                Some(Post::CartWash(i)) => carts::finish(floor, line, i, w),
                Some(Post::Clearing(t)) => trouble::finish(floor, line, t, w),
                Some(Post::Duty(d)) => {
                    duty::finish(floor, line, d);
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
    #[inline]
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
