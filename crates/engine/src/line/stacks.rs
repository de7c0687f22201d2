//! A belt that carries ware in stacks from where trays are broken down to where it is racked or placed.
//!
//! A stack of a class grows at the belt's start and goes on it when it is full, one place a stack. At the other end it goes
//! over to its class's pile when the whole of it has room there; where the pile has room for nothing it is worked off the
//! belt itself.

use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::belt::{Belt, EndRule};
use crate::line::floor::Floor;
use crate::line::{Line, MOST_CLASSES, PiecesTo, Post, StackThere, Stands, belt, racking, trouble};
use crate::watch::State as S;

/// A belt for stacks of ware.
#[derive(Clone, Debug, PartialEq)]
pub struct StackBelt {
    /// The belt: a place is one stack.
    pub belt: Belt,
    /// Pieces in a full stack, by class; 0: not carried.
    pub pieces: Vec<u16>,
    /// Number of the racking table, or load end of a flight machine, beside its end.
    pub to: u8,
}

const MOVES: u32 = 0;
const SPEED: u32 = 1;
const STOP: u32 = 2;
const GAP: u32 = 3;
pub(crate) const SLOTS: u32 = 4;

#[derive(Clone, Debug, Default)]
struct Stack {
    class: u8,
    count: u16,
    /// Trays and their pieces, the lowest first.
    parts: VecDeque<(u32, u16)>,
}

impl Stack {
    fn wipe(&mut self, class: u8) {
        self.class = class;
        self.count = 0;
        self.parts.clear();
    }
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    belt: belt::State,
    /// One growing stack a class, at the belt's start.
    growing: Vec<Stack>,
    /// Classes whose stack is full and finds no gap, first come first.
    waiting: VecDeque<u8>,
    /// Stacks on the belt, by the mover's number; those that are free.
    stacks: Vec<Stack>,
    free: Vec<u32>,
    /// Nothing more comes: what has begun to grow goes as it is.
    last: bool,
}

impl State {
    /// Stacks on the belt.
    pub(crate) fn len(&self) -> u32 {
        self.belt.mover.len()
    }

    /// Whether no piece is on it or at its start.
    pub(crate) fn is_empty(&self) -> bool {
        self.belt.mover.is_empty() && self.growing.iter().all(|it| it.count == 0)
    }

    /// Adds the pieces on it and at its start, by class.
    pub(crate) fn pieces(&self, by_class: &mut [u64; MOST_CLASSES]) {
        let on_it = self.belt.mover.things().map(|k| &self.stacks[k as usize]);
        for it in self.growing.iter().chain(on_it) {
            by_class[usize::from(it.class)] += u64::from(it.count);
        }
    }

    /// The stack that lies at the end.
    fn at_end(&self) -> Option<&Stack> {
        let (k, _) = self.belt.mover.at_end()?;
        self.stacks.get(k as usize)
    }

    /// Lifts the pieces of one tray off the bottom of the stack at the end.
    fn lift(&mut self) -> Option<(u32, u16)> {
        let (k, _) = self.belt.mover.at_end()?;
        let stack = self.stacks.get_mut(k as usize)?;
        let part = stack.parts.pop_front()?;
        stack.count -= part.1;
        Some(part)
    }

    /// The class of the stack nearest the end.
    fn first_class(&self) -> Option<u8> {
        let k = self.belt.mover.things().next()?;
        self.stacks.get(k as usize).map(|it| it.class)
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .stacks
        .resize_with(line.stack_belts.len(), State::default);
    for (i, spec) in line.stack_belts.iter().enumerate() {
        let belt = &spec.belt;
        let state = &mut floor.stacks[i];
        let [speed, stop] = state.belt.begin(belt, line.starts);
        state
            .growing
            .resize_with(line.classes.len(), Stack::default);
        for (class, it) in state.growing.iter_mut().enumerate() {
            it.wipe(class as u8);
        }
        state.waiting.clear();
        state
            .stacks
            .resize_with(belt.most() as usize, Stack::default);
        state.free.clear();
        state.free.extend((0..belt.most()).rev());
        state.last = false;
        let no = floor.stacks_no(i as u8);
        floor.set_or_clear(no, SPEED, Phase::Clock, speed);
        floor.set_or_clear(no, STOP, Phase::Clock, stop);
        floor
            .telling
            .begin_state(floor.n.stacks_actor[i], S::Waiting);
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let no = floor.stacks_no(i);
    floor.mark(no);
    let now = floor.now;
    let spec = &line.stack_belts[usize::from(i)].belt;
    let state = &mut floor.stacks[usize::from(i)];
    state.belt.mover.read(now);
    match local {
        SPEED => {
            let at = state.belt.changes_speed(spec);
            floor.set_or_clear(no, SPEED, Phase::Clock, at);
        }
        STOP => {
            let at = state.belt.stops_or_goes_on(spec, now);
            floor.set_or_clear(no, STOP, Phase::Clock, at);
        }
        // Something comes to the end, a gap comes to the start, or an advance is done: settling looks.
        _ => {}
    }
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let now = floor.now;
    let spec = &line.stack_belts[usize::from(i)];
    let no = floor.stacks_no(i);
    floor.stacks[usize::from(i)].belt.mover.read(now);
    while goes_over(floor, line, i) || goes_on_belt(floor, line, i) {}
    if let EndRule::AdvancesOnDemand { section_mm } = spec.belt.rule {
        // Who stands there and can go on with what lies on the piles does not ask for more.
        let wanted = floor.crew.idle_at(|post| post == Post::Racking(spec.to)) > 0
            && !racking::can_begin(floor, line, spec.to);
        let mover = &mut floor.stacks[usize::from(i)].belt.mover;
        if wanted && mover.waits_for_demand() {
            mover.advance(section_mm);
        }
    }
    let state = &floor.stacks[usize::from(i)];
    let mover = &state.belt.mover;
    let next = [mover.arrives_in(), mover.advance_ends_in()];
    let next = next.into_iter().flatten().min();
    let gap = (!state.waiting.is_empty()).then(|| mover.lands_in(0));
    let held = mover.len();
    let shown = if mover.stopped {
        S::Down
    } else if spec.belt.rule == EndRule::StopsOnArrival && mover.lies_at_end() {
        S::Stopped
    } else if mover.moves() && held > 0 {
        S::Moving
    } else {
        S::Waiting
    };
    let calls = mover.lies_at_end() || mover.waits_for_demand();
    let drive_runs = mover.moves();
    floor.set_or_clear(no, MOVES, Phase::End, next.map(|span| now + span));
    floor.set_or_clear(no, GAP, Phase::End, gap.flatten().map(|span| now + span));
    floor.telling.level(floor.n.stacks[usize::from(i)], held);
    floor
        .telling
        .state(floor.n.stacks_actor[usize::from(i)], shown, None);
    if calls {
        floor.mark_crew();
    }
    trouble::runs(floor, line, Stands::StackBelt(i), drive_runs);
}

/// The stack at the end goes over to its pile if the whole of it has room there.
fn goes_over(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let spec = &line.stack_belts[usize::from(i)];
    let Some(stack) = floor.stacks[usize::from(i)].at_end() else {
        return false;
    };
    let (class, count) = (stack.class, stack.count);
    if racking::room_on_pile(floor, line, spec.to, class) < u32::from(count) {
        return false;
    }
    while let Some((tray, pieces)) = floor.stacks[usize::from(i)].lift() {
        racking::put_on_pile(floor, line, spec.to, class, tray, pieces);
    }
    take_away(floor, i);
    true
}

/// Takes the stack at the end off the belt, when nothing is left of it.
fn take_away(floor: &mut Floor, i: u8) {
    let now = floor.now;
    let state = &mut floor.stacks[usize::from(i)];
    let Some((k, since)) = state.belt.mover.take_at_end() else {
        return;
    };
    state.free.push(k);
    let waited = now.since(since);
    floor.telling.waited(floor.n.stacks[usize::from(i)], waited);
    let no = floor.stacks_no(i);
    floor.mark(no);
}

/// A stack that is full, or the last of its class, goes on the belt's start if there is a gap.
fn goes_on_belt(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let now = floor.now;
    let state = &mut floor.stacks[usize::from(i)];
    if state.last {
        for it in &state.growing {
            if it.count > 0 && !state.waiting.contains(&it.class) {
                state.waiting.push_back(it.class);
            }
        }
    }
    if state.waiting.is_empty() || !state.belt.mover.can_land(0) {
        return false;
    }
    let (Some(class), Some(k)) = (state.waiting.pop_front(), state.free.pop()) else {
        return false;
    };
    let stack = &mut state.growing[usize::from(class)];
    std::mem::swap(stack, &mut state.stacks[k as usize]);
    stack.wipe(class);
    state.belt.mover.land(0, k, now);
    trouble::passes(floor, line, Stands::StackBelt(i), None);
    floor.mark_scrapping();
    true
}

/// Puts pieces of a class on its stack at the belt's start; how many there was room for.
pub(crate) fn put(floor: &mut Floor, line: &Line, i: u8, class: u8, tray: u32, pieces: u16) -> u16 {
    let size = line.stack_belts[usize::from(i)].pieces[usize::from(class)];
    let now = floor.now;
    let mut left = pieces;
    while left > 0 {
        let state = &mut floor.stacks[usize::from(i)];
        state.belt.mover.read(now);
        let stack = &mut state.growing[usize::from(class)];
        let went = left.min(size.saturating_sub(stack.count));
        if went > 0 {
            stack.count += went;
            stack.parts.push_back((tray, went));
            left -= went;
        }
        if stack.count >= size {
            if !state.waiting.contains(&class) {
                state.waiting.push_back(class);
            }
            let no = floor.stacks_no(i);
            floor.mark(no);
            if !goes_on_belt(floor, line, i) {
                break;
            }
        }
    }
    pieces - left
}

/// A stack that is already there lies a spacing behind those before it. Whether it finds room and is not too high.
pub(crate) fn lies_there(floor: &mut Floor, line: &Line, spec: &StackThere, tray: u32) -> bool {
    let it = &line.stack_belts[usize::from(spec.belt)];
    let now = floor.now;
    let state = &mut floor.stacks[usize::from(spec.belt)];
    let at = state.belt.mover.place_behind();
    let highest = it.pieces.get(usize::from(spec.class.0));
    let at = at.filter(|_| highest.is_some_and(|highest| spec.pieces <= *highest));
    let Some((at, k)) = at.and_then(|at| Some((at, state.free.pop()?))) else {
        return false;
    };
    let stack = &mut state.stacks[k as usize];
    stack.wipe(spec.class.0);
    stack.count = spec.pieces;
    stack.parts.push_back((tray, spec.pieces));
    state.belt.mover.land(at, k, now);
    true
}

/// Whether every tray is sorted: the last stacks go as they are. Whether that is news.
pub(crate) fn last_go(floor: &mut Floor) -> bool {
    let sorted = floor.all_sorted();
    let mut news = false;
    for i in 0..floor.stacks.len() as u8 {
        let no = floor.stacks_no(i);
        let state = &mut floor.stacks[usize::from(i)];
        if sorted && !state.last && state.growing.iter().any(|it| it.count > 0) {
            news = true;
            floor.marked |= 1 << no;
        }
        state.last = sorted;
    }
    news
}

/// Pieces of a class on a stack that lies at a belt's end, where the pile at table `r` has room for nothing.
pub(crate) fn offered(floor: &Floor, line: &Line, r: u8, class: u8) -> u32 {
    let belts = line.stack_belts.iter().zip(&floor.stacks);
    let ends = belts.filter(|(spec, _)| spec.to == r);
    ends.filter_map(|(_, state)| state.at_end())
        .filter(|stack| stack.class == class)
        .map(|stack| u32::from(stack.count))
        .sum()
}

/// Takes up to `most` pieces of a class, of one tray, from a stack that lies at a belt's end.
pub(crate) fn take_from_end(
    floor: &mut Floor,
    line: &Line,
    r: u8,
    class: u8,
    most: u32,
) -> Option<(u32, u16)> {
    for i in 0..floor.stacks.len() {
        if line.stack_belts[i].to != r {
            continue;
        }
        let now = floor.now;
        let state = &mut floor.stacks[i];
        state.belt.mover.read(now);
        let Some((k, _)) = state.belt.mover.at_end() else {
            continue;
        };
        let stack = &mut state.stacks[k as usize];
        if stack.class != class {
            continue;
        }
        // The top of the stack first.
        let Some((tray, n)) = stack.parts.back_mut() else {
            continue;
        };
        let taken = u32::from(*n).min(most) as u16;
        let tray = *tray;
        *n -= taken;
        if *n == 0 {
            stack.parts.pop_back();
        }
        stack.count -= taken;
        if stack.count == 0 {
            take_away(floor, i as u8);
        }
        return Some((tray, taken));
    }
    None
}

/// Stacks that belts bring on demand to table `r`: for a worker who stands `here` all that come, who presses the switch and
/// stays until the next one is there; for others those of a belt that stands and waits for somebody.
pub(crate) fn on_demand(floor: &mut Floor, line: &Line, r: u8, here: bool) -> u32 {
    let mut stacks = 0;
    for i in 0..floor.stacks.len() {
        if line.stack_belts[i].to != r {
            continue;
        }
        let now = floor.now;
        let state = &mut floor.stacks[i];
        state.belt.mover.read(now);
        let brings = match here {
            true => state.belt.mover.comes_on_demand(),
            false => state.belt.mover.waits_for_demand(),
        };
        if let (true, Some(class)) = (brings, state.first_class())
            && racking::could_go_on(floor, line, r, class)
        {
            stacks += floor.stacks[i].len();
        }
    }
    stacks
}

/// Somebody stands ready at table `r`: a belt that advances on demand acts on it.
pub(crate) fn stands_ready(floor: &mut Floor, line: &Line, r: u8) {
    if floor.stacks.is_empty() || racking::can_begin(floor, line, r) {
        return;
    }
    for i in 0..floor.stacks.len() {
        if line.stack_belts[i].to != r {
            continue;
        }
        let now = floor.now;
        let mover = &mut floor.stacks[i].belt.mover;
        mover.read(now);
        if mover.waits_for_demand() {
            let no = floor.stacks_no(i as u8);
            floor.mark(no);
        }
    }
}

/// Trouble makes it stand.
pub(crate) fn hold(floor: &mut Floor, i: u8) {
    let now = floor.now;
    floor.stacks[usize::from(i)].belt.hold(now);
    let no = floor.stacks_no(i);
    floor.mark(no);
}

/// A trouble is over.
pub(crate) fn let_go(floor: &mut Floor, i: u8) {
    let now = floor.now;
    floor.stacks[usize::from(i)].belt.let_go(now);
    let no = floor.stacks_no(i);
    floor.mark(no);
}

impl Line {
    /// What of the belts for stacks does not fit together.
    pub(crate) fn stack_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for spec in &self.stack_belts {
            let piles = self.racking.get(usize::from(spec.to)).map(|it| &it.piles);
            let carried = spec.pieces.iter().enumerate().filter(|&(_, &n)| n > 0);
            let fits = carried.clone().all(|(class, &n)| {
                let mut piles = piles.into_iter().flatten();
                let pile = piles.find(|pile| usize::from(pile.class.0) == class);
                // A stack that could never go over would stand at the end for ever.
                pile.is_some_and(|p| p.room.is_none_or(|room| room == 0 || room >= u32::from(n)))
            });
            if !fits || spec.pieces.len() != self.classes.len() || carried.count() == 0 {
                let name = &spec.belt.name;
                faults.push(format!("stacks on belt {name} have no pile to go to"));
            }
        }
        for (route, class) in self
            .scrapping
            .iter()
            .flat_map(|post| post.routes.iter().zip(0_usize..))
        {
            if let PiecesTo::Stacks(i) = *route {
                let belt = self.stack_belts.get(usize::from(i));
                let pieces = belt.and_then(|belt| belt.pieces.get(class));
                if pieces.is_none_or(|&pieces| pieces == 0) {
                    faults.push(format!(
                        "class {class} is stacked on a belt that carries none"
                    ));
                }
            }
        }
        faults
    }
}
