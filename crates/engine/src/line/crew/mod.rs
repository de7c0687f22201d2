//! The crew: who is on, who stands where, who is given what.
//!
//! Work is given out when the ware has settled. Free workers are asked in crew-list order, in two rounds: first those
//! whose choice is the post where they stand, then those who must walk. The choice is the first post on the worker's own
//! list that calls and has a place free.

mod choice;
mod free;
mod help;
mod pair;
mod shifts;
mod tasks;
mod terms;

pub(crate) use choice::settle;
pub use terms::{Help, Late, Terms, Watched};

use self::free::Free;
use crate::line::floor::Floor;
use crate::line::{EndRule, Line, TraysFrom, catalogue};
use crate::sampler::Sampler;
use crate::tape::Tape;
use crate::time::{SimTime, Span};
use crate::watch::{ActorId, PlaceId, PostId, Role};
use crate::words::place_words;

/// A member of the crew.
#[derive(Clone, Debug, PartialEq)]
pub struct Worker {
    /// Name.
    pub name: String,
    /// Shifts, in clock order, not overlapping.
    pub shifts: Vec<(SimTime, SimTime)>,
    /// Breaks: due time and length, in clock order.
    pub breaks: Vec<(SimTime, Span)>,
    /// Speed of work: 1 is normal, 1.1 is a tenth faster.
    pub pace: f64,
    /// Posts, read from the top.
    pub list: Vec<Call>,
    /// Probability that the shift goes unfilled, drawn once a meal.
    pub unfilled: f64,
    /// What is out of the ordinary.
    pub terms: Terms,
}

/// One entry of a worker's list of posts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Call {
    /// The post.
    pub post: Post,
    /// Waiting jobs at which this worker steps in (at least 1).
    pub step_in: u32,
    /// Waiting jobs at or below which this worker may leave again.
    pub leave_at: u32,
    /// Shortest stay.
    pub stay: Span,
}

/// A post, by what is done there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Post {
    /// Breaking down trays at this scrapping post.
    Scrapping(u8),
    /// Racking from piles at this table.
    Racking(u8),
    /// Loading this machine.
    Loading(u8),
    /// Unloading racks at this clean end.
    Unloading(u8),
    /// Taking clean ware to the servery.
    Running,
    /// This piece of other work.
    Duty(u8),
    /// Washing these carts.
    CartWash(u8),
    /// Clearing this kind of trouble.
    Clearing(u8),
}

/// Posts from this one on share a bit, and are always asked.
const LAST_POST: usize = 63;

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
    /// Waiting at this post for a second pair of hands.
    Gather(u16),
    /// At a task with this worker, who leads it, at this post.
    With(u8, u16),
    Break,
}

#[derive(Clone, Copy, Debug)]
struct Entry {
    post: u16,
    /// The bit of this post.
    bit: u64,
    call: Call,
    /// Calls only when other work may wait no longer.
    only_pressing: bool,
}

#[derive(Clone, Debug, Default)]
struct Hand {
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
    /// The bits of the posts on the list.
    bits: u64,
    /// Until when they must stay where they have walked to, if they must.
    stays_until: Option<SimTime>,
    absent: bool,
    /// By how much the first shift starts late today.
    late: Span,
    /// The lists still to come, and when.
    moves: Vec<(SimTime, Vec<Entry>)>,
    /// The next of them.
    next_move: usize,
    /// Help that has been called: when it is there.
    comes_at: Option<SimTime>,
    /// Help that is here: since when.
    came_at: SimTime,
    /// The break under way: since when, and whether it is paid.
    break_began: (SimTime, bool),
    /// Microseconds of unpaid breaks so far.
    unpaid_us: u64,
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
    /// Trays come by here on a loop.
    by_a_loop: bool,
    /// Its tasks take two.
    for_two: bool,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    workers: Vec<Hand>,
    posts: Vec<PostState>,
    free: Free,
    /// Posts, a bit each, where nothing is known to wait: for those who are elsewhere, and for those who stand there.
    nothing: [u64; 2],
    /// Posts of other work and of trouble: it is told when something waits there.
    tell_themselves: u64,
    /// Who waits for a second pair of hands.
    gathering: Option<pair::Gathering>,
    /// By how many minutes each worker is late, when they are.
    late_by: Vec<Sampler>,
    /// Somebody comes only when called.
    has_help: bool,
    /// Help is called by people standing at a drop-off: the crew looks when one comes.
    pub(crate) watches_diners: bool,
    /// Whether anybody has several posts, and so may put down what finds no room.
    several_posts: bool,
    /// The crew may have something to look at though nobody is free: several posts, help, or tasks for two.
    always_looks: bool,
    /// Whether anybody may ever walk to another post.
    somebody_walks: bool,
    /// Somebody may be owed a break that fell due during a task.
    breaks_owed: bool,
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

    /// Something waits at a post of other work, or trouble has to be cleared.
    pub(crate) fn something_waits(&mut self) {
        self.nothing = [0; 2];
    }

    /// Whether anybody could be given work, or put down what they hold to be given some.
    #[inline]
    pub(crate) fn somebody_looks(&self) -> bool {
        !self.free.is_empty() || self.always_looks
    }

    /// Whether anybody holds something that finds no room, and has other posts to go to.
    #[inline]
    fn somebody_could_put_down(&self) -> bool {
        self.several_posts && self.workers.iter().any(Hand::could_put_down)
    }

    /// Whether anybody is at a task, walking, or holding something.
    pub(crate) fn anybody_at_work(&self) -> bool {
        self.workers.iter().any(|w| {
            !matches!(
                w.doing,
                None | Some(Doing::Off | Doing::Free | Doing::Break | Doing::Gather(_))
            )
        })
    }

    /// Whether a shift begins or a break ends later, or somebody who is held up will walk off: somebody may yet come.
    pub(crate) fn somebody_comes(&self, line: &Line) -> bool {
        self.workers.iter().zip(&line.crew).any(|(w, spec)| {
            let by_the_clock = spec.terms.help.is_none();
            !w.absent
                && (by_the_clock && w.next_shift < spec.shifts.len() && !w.on_shift
                    || w.comes_at.is_some()
                    || w.break_ends.is_some() && w.on_shift
                    || w.next_move < w.moves.len() && w.on_shift
                    || w.walks_off_and_returns(spec))
        })
    }
}

impl Hand {
    /// Where they stand, or the list, has changed: what follows from them.
    fn takes_up(&mut self) {
        self.bits = self.list.iter().fold(0, |bits, entry| bits | entry.bit);
        let mut here = self.list.iter();
        let here = here.find(|entry| entry.post == self.stands && !entry.only_pressing);
        self.stays_until = here
            .filter(|_| self.walked)
            .map(|entry| self.stands_since + entry.call.stay);
    }

    /// They have come to stand at this post.
    fn comes_to(&mut self, post: u16, now: SimTime) {
        self.stands = post;
        self.stands_since = now;
        self.walked = true;
        self.takes_up();
    }

    /// Whether this is the only post on the worker's list.
    #[inline]
    fn has_only(&self, post: u16) -> bool {
        matches!(self.list[..], [only] if only.post == post)
    }

    /// Whether this worker holds something that finds no room, and has other posts to go to.
    fn could_put_down(&self) -> bool {
        self.list.len() > 1
            && matches!(self.doing, Some(Doing::Held(_, because)) if because != PlaceId::default())
    }

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
            let could = spec.calls().any(|call| is_it(call.post));
            let holds = matches!(w.doing, Some(Doing::Held(..))) && !w.walks_off_and_returns(spec);
            never || !could || holds
        })
    }
}

/// Who is held up by what, in words: somebody who holds something, else somebody who stands before ware that waits.
pub(crate) fn held_up(floor: &Floor, line: &Line) -> Option<String> {
    let crew = &floor.crew;
    let holds = crew
        .workers
        .iter()
        .enumerate()
        .find_map(|(w, it)| match it.doing {
            Some(Doing::Held(_, because)) => Some((w, because)),
            _ => None,
        });
    let stands = || {
        let free = std::iter::successors(crew.free.first(), |&w| crew.free.after(w));
        free.into_iter()
            .find_map(|w| Some((usize::from(w), choice::stuck(floor, line, w)?)))
    };
    let (w, because) = holds.or_else(stands)?;
    let places = line.catalogue().places;
    let by = match places.get(usize::from(because.0)) {
        Some(place) if place.role == Role::EmptyRacks => format!("want of {}", place_words(place)),
        Some(place) => place_words(place),
        None => "want of room".into(),
    };
    Some(format!("{} is held up by {by}", line.crew[w].name))
}

fn clean_side(line: &Line, post: Post) -> bool {
    match post {
        Post::Scrapping(_)
        | Post::Racking(_)
        | Post::Loading(_)
        | Post::CartWash(_)
        | Post::Clearing(_) => false,
        Post::Unloading(_) | Post::Running => true,
        Post::Duty(d) => line.duties[usize::from(d)].clean_side,
    }
}

/// Whether trays come by here on a loop.
fn by_a_loop(line: &Line, post: Post) -> bool {
    let Post::Scrapping(i) = post else {
        return false;
    };
    let from = &line.scrapping[usize::from(i)].from;
    from.iter()
        .any(|from| matches!(from, TraysFrom::Accumulator { .. }))
}

/// Whether a belt that advances on demand acts on it when a free worker stands here.
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
                _ => false,
            }),
        Post::Racking(i) => line
            .stack_belts
            .iter()
            .any(|it| it.to == i && matches!(it.belt.rule, EndRule::AdvancesOnDemand { .. })),
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
        Post::CartWash(i) => line.carts[usize::from(i)]
            .wash
            .as_ref()
            .map_or(0, |w| w.workers),
        Post::Clearing(_) => 1,
        Post::Running | Post::Duty(_) => u32::MAX,
    }
}

/// Whether a task for two can be done at this post: two can stand there, and nobody upstream waits for a free worker there.
pub fn can_take_two(line: &Line, post: Post) -> bool {
    places(line, post) >= 2 && !gives_notice(line, post)
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, tape: &Tape) {
    let crew = &mut floor.crew;
    crew.posts.clear();
    crew.free = Free::of(line.crew.len());
    crew.several_posts = false;
    crew.somebody_walks = false;
    crew.nothing = [0; 2];
    crew.tell_themselves = 0;
    crew.breaks_owed = false;
    crew.workers.resize_with(line.crew.len(), Hand::default);
    crew.last_shift_ends = line.starts;
    crew.gathering = None;
    crew.late_by.resize_with(line.crew.len(), Sampler::default);
    crew.has_help = line.crew.iter().any(|spec| spec.terms.help.is_some());
    crew.watches_diners = line.crew.iter().any(|spec| {
        let help = spec.terms.help.as_ref();
        help.is_some_and(|help| matches!(help.watches, Watched::Standing(_)))
    });
    let absent = tape.root().source("crew/unfilled");
    for (w, spec) in line.crew.iter().enumerate() {
        let mut list = std::mem::take(&mut crew.workers[w].list);
        entries(crew, line, spec, &spec.list, &mut list);
        let mut moves = std::mem::take(&mut crew.workers[w].moves);
        moves.resize_with(spec.terms.moves.len(), Default::default);
        for ((at, later), (from, calls)) in moves.iter_mut().zip(&spec.terms.moves) {
            *at = *from;
            entries(crew, line, spec, calls, later);
        }
        let stands = list
            .iter()
            .find(|e| !matches!(e.call.post, Post::Duty(_) | Post::Clearing(_)))
            .map_or(0, |e| e.post);
        crew.several_posts |= list.len() > 1 || moves.iter().any(|(_, list)| list.len() > 1);
        let only_here = matches!(list[..], [only] if only.post == stands) && moves.is_empty();
        crew.somebody_walks |= !(list.is_empty() && moves.is_empty() || only_here);
        crew.workers[w] = Hand {
            doing: Some(Doing::Off),
            stands,
            list,
            absent: spec.unfilled > 0.0 && absent.uniform(w as u64) < spec.unfilled,
            late: late(&mut crew.late_by[w], tape, w, spec),
            moves,
            ..Hand::default()
        };
        crew.workers[w].takes_up();
        // Help that is not called goes home unseen: the meal does not wait for its hours to end.
        if let Some(&(_, ends)) = spec.shifts.last().filter(|_| spec.terms.help.is_none())
            && !crew.workers[w].absent
        {
            crew.last_shift_ends = crew.last_shift_ends.max(ends);
        }
    }
    crew.always_looks = crew.several_posts || crew.has_help || !line.for_two.is_empty();
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
        shifts::make_moves(floor, w);
        let worker = &floor.crew.workers[usize::from(w)];
        if worker
            .shift(spec, worker.next_shift)
            .is_some_and(|(from, _)| from <= starts)
            && !worker.absent
            && spec.terms.help.is_none()
        {
            shifts::come_on(floor, line, w);
        }
        shifts::next_clock(floor, line, w);
    }
}

/// By how much this worker's first shift starts late today.
fn late(by_min: &mut Sampler, tape: &Tape, w: usize, spec: &Worker) -> Span {
    let Some(late) = &spec.terms.late else {
        return Span::NONE;
    };
    let mut draw = tape.root().source("crew/late").at(w as u64);
    if draw.uniform() < late.share {
        by_min.fit(&late.by_min);
        Span::from_min(by_min.draw(draw).max(0.0))
    } else {
        Span::NONE
    }
}

/// What a list of posts comes to for this worker, other work included.
fn entries(crew: &mut State, line: &Line, spec: &Worker, calls: &[Call], list: &mut Vec<Entry>) {
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
                by_a_loop: by_a_loop(line, call.post),
                for_two: line.for_two.contains(&call.post),
                ..PostState::default()
            });
            crew.posts.len() - 1
        });
        let bit = 1 << post.min(LAST_POST);
        if matches!(call.post, Post::Duty(_) | Post::Clearing(_)) {
            crew.tell_themselves |= bit;
        }
        list.push(Entry {
            post: post as u16,
            bit,
            call,
            only_pressing,
        });
    };
    // Other work comes first when it may not wait (or no longer), and last when it may.
    let duties = line.duties.iter().enumerate();
    let mine = duties.filter(|(_, d)| {
        d.by.iter()
            .any(|&post| spec.calls().any(|call| call.post == post))
    });
    let call = |d: usize| Call {
        post: Post::Duty(d as u8),
        step_in: 1,
        leave_at: 0,
        stay: Span::NONE,
    };
    // Trouble comes before everything.
    for (t, trouble) in line.troubles.iter().enumerate() {
        let mine = |post: &Post| spec.calls().any(|call| call.post == *post);
        if trouble.by.iter().any(mine) {
            let first = Call {
                post: Post::Clearing(t as u8),
                ..call(0)
            };
            add(crew, first, false);
        }
    }
    for (d, _) in mine.clone() {
        add(crew, call(d), true);
    }
    for &entry in calls {
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
}

#[inline]
fn who(w: u8) -> ActorId {
    ActorId(u16::from(w))
}

/// Microseconds of unpaid breaks of each worker, up to now.
pub(crate) fn unpaid_us(floor: &Floor) -> Vec<u64> {
    let now = floor.now;
    let each = floor.crew.workers.iter().map(|hand| match hand.doing {
        Some(Doing::Break) => hand.unpaid_us + hand.unpaid_since(now),
        _ => hand.unpaid_us,
    });
    each.collect()
}

#[inline]
pub(crate) fn due(floor: &mut Floor, line: &Line, tape: &Tape, local: u32) {
    let w = (local / SLOTS_A_WORKER) as u8;
    if local % SLOTS_A_WORKER == TASK {
        tasks::task_ends(floor, line, tape, w);
    } else {
        shifts::clock(floor, line, w);
        shifts::next_clock(floor, line, w);
    }
    floor.mark_crew();
}
