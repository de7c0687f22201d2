//! Filling racks: with breakdown, straight into open racks, or from piles at a post of its own.

use crate::dist::Dist;
use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::racks::Racks;
use crate::line::{ClassId, Line, MOST_CLASSES, PiecesTo, RackKindId, lane};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};
use crate::watch::PlaceId;

/// A table where racks stand open, with a post of its own where pieces are racked from piles.
#[derive(Clone, Debug, PartialEq)]
pub struct Racking {
    /// Its name.
    pub name: String,
    /// Racks that can stand open at once.
    pub open_racks: u32,
    /// A part-filled rack is sent when its first piece has waited so long; `None`: never.
    pub limit: Option<Span>,
    /// Where full racks go.
    pub to: RacksTo,
    /// Workers who can stand here for work of its own (0: no such post).
    pub places: u32,
    /// Most pieces in one grab.
    pub grab: u32,
    /// Piles, in the order in which ties are settled.
    pub piles: Vec<Pile>,
    /// Factor of mean 1 on each grab.
    pub variation: Dist,
}

/// A pile of one class waiting to be racked.
#[derive(Clone, Debug, PartialEq)]
pub struct Pile {
    /// Its class.
    pub class: ClassId,
    /// Room for so many pieces; `None`: as many as come.
    pub room: Option<u32>,
    /// Seconds to rack one piece.
    pub piece_s: f64,
    /// Held back until one of these holds; empty: not held back.
    pub held_back: Vec<Release>,
}

/// When a class that is held back may be washed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Release {
    /// From this clock time on.
    From(SimTime),
    /// While the lane the racks go to holds fewer than so many racks.
    LaneBelow(u32),
    /// When the drop-offs are closed and no other soiled ware waits upstream of the machine.
    RushOver,
}

/// Where filled racks go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RacksTo {
    /// Onto this lane.
    Lane(u8),
    /// Off the line, as clean as they will get; the racks are back at once.
    Leave,
}

#[derive(Clone, Copy, Debug)]
struct Open {
    rack: u32,
    /// Its time is up: it leaves as soon as the lane has room.
    due: bool,
    /// Which of the table's places it stands on.
    place: u32,
}

#[derive(Clone, Debug, Default)]
struct PileState {
    class: u8,
    count: u32,
    parts: VecDeque<(u32, u16, SimTime)>,
    released: bool,
    /// Released by the end of the rush: for good.
    for_good: bool,
}

/// Pieces in a worker's hands, or left there when the worker has gone.
#[derive(Clone, Debug, Default)]
pub(crate) struct Grab {
    pub(crate) worker: Option<u8>,
    class: u8,
    /// Trays and pieces; taken from the back.
    parts: Vec<(u32, u16)>,
    done: bool,
    because: Option<PlaceId>,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// In order of opening.
    open: Vec<Open>,
    places_free: Vec<u32>,
    piles: Vec<PileState>,
    /// Grabs in hand, in order of beginning; spare ones keep their storage.
    grabs: Vec<Grab>,
    spare: Vec<Grab>,
    promised: [u32; MOST_CLASSES],
    grabs_begun: [u64; MOST_CLASSES],
    variation: Sampler,
    luck: Keyed,
}

impl Racking {
    pub(crate) fn slots(&self) -> u32 {
        self.open_racks + self.piles.len() as u32
    }

    /// Whether a pile is held back until the lane is emptier.
    pub(crate) fn watches_lane(&self) -> bool {
        self.piles
            .iter()
            .flat_map(|p| &p.held_back)
            .any(|r| matches!(r, Release::LaneBelow(_)))
    }
}

impl State {
    /// Racks standing open that hold something.
    pub(crate) fn holds_pieces(&self, floor_racks: &Racks) -> bool {
        self.open.iter().any(|o| floor_racks.get(o.rack).fill > 0)
            || self.piles.iter().any(|p| p.count > 0)
            || self.grabs.iter().any(|g| !g.parts.is_empty())
    }

    /// Adds the pieces on piles, in hands and in open racks, by class.
    pub(crate) fn pieces(&self, racks: &Racks, by_class: &mut [u64; MOST_CLASSES]) {
        for pile in &self.piles {
            by_class[usize::from(pile.class)] += u64::from(pile.count);
        }
        for grab in &self.grabs {
            by_class[usize::from(grab.class)] +=
                grab.parts.iter().map(|&(_, n)| u64::from(n)).sum::<u64>();
        }
        for rack in self.open.iter().map(|o| racks.get(o.rack)) {
            by_class[usize::from(rack.class)] += u64::from(rack.fill);
        }
    }

    /// Racks of this kind standing open with room for more.
    pub(crate) fn unfilled_of_kind(&self, racks: &Racks, kind: RackKindId) -> u32 {
        let of_kind = self
            .open
            .iter()
            .map(|o| racks.get(o.rack))
            .filter(|r| r.kind == kind.0 && r.fill < r.size);
        of_kind.count() as u32
    }

    pub(crate) fn open_racks(&self) -> u32 {
        self.open.len() as u32
    }

    pub(crate) fn has_held(&self) -> bool {
        self.grabs.iter().any(|g| g.done)
    }

    /// Grabs left lying by somebody who has gone.
    pub(crate) fn left_behind(&self) -> usize {
        self.grabs.iter().filter(|g| g.worker.is_none()).count()
    }

    /// The worker walks off and leaves what is in hand.
    pub(crate) fn abandon(&mut self, worker: u8) {
        for grab in &mut self.grabs {
            if grab.worker == Some(worker) {
                grab.worker = None;
            }
        }
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .racking
        .resize_with(line.racking.len(), State::default);
    for (i, spec) in line.racking.iter().enumerate() {
        let root = floor.root;
        let no = floor.racking_no(i as u8);
        let state = &mut floor.racking[i];
        state.open.clear();
        state.places_free.clear();
        state.places_free.extend((0..spec.open_racks).rev());
        state
            .piles
            .resize_with(spec.piles.len(), PileState::default);
        while let Some(mut grab) = state.grabs.pop() {
            grab.parts.clear();
            state.spare.push(grab);
        }
        state.promised = [0; MOST_CLASSES];
        state.grabs_begun = [0; MOST_CLASSES];
        state.variation.fit(&spec.variation);
        state.luck = root.keyed(name_key(&spec.name) ^ name_key("racking/grab"));
        for (p, pile) in spec.piles.iter().enumerate() {
            let it = &mut floor.racking[i].piles[p];
            it.class = pile.class.0;
            it.count = 0;
            it.parts.clear();
            it.for_good = false;
            it.released = pile.held_back.is_empty();
            let from = pile.held_back.iter().filter_map(|r| match r {
                Release::From(at) => Some(*at),
                _ => None,
            });
            if let Some(at) = from.min() {
                if at <= line.starts {
                    floor.racking[i].piles[p].released = true;
                } else {
                    floor.set(no, spec.open_racks + p as u32, Phase::Clock, at);
                }
            }
        }
    }
}

pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let spec = &line.racking[usize::from(i)];
    let no = floor.racking_no(i);
    floor.mark(no);
    let state = &mut floor.racking[usize::from(i)];
    if local < spec.open_racks {
        for open in &mut state.open {
            open.due |= open.place == local;
        }
    } else {
        state.piles[(local - spec.open_racks) as usize].released = true;
        floor.mark_crew();
    }
}

/// Puts pieces straight into open racks, opening one where it can; how many found a place.
pub(crate) fn put(floor: &mut Floor, line: &Line, i: u8, class: u8, tray: u32, pieces: u16) -> u16 {
    let now = floor.now;
    let no = floor.racking_no(i);
    let mut left = pieces;
    while left > 0 {
        let state = &floor.racking[usize::from(i)];
        let racks = &floor.racks;
        let room = state.open.iter().find(|o| {
            let rack = racks.get(o.rack);
            rack.class == class && rack.fill < rack.size
        });
        let Some(&Open { rack, place, .. }) = room else {
            if open_rack(floor, line, i, class) {
                continue;
            }
            break;
        };
        let was_empty = floor.racks.get(rack).fill == 0;
        left -= floor.racks.fill(rack, tray, left, now);
        if was_empty && let Some(limit) = line.racking[usize::from(i)].limit {
            floor.set(no, place, Phase::Clock, now + limit);
        }
        floor.mark(no);
    }
    pieces - left
}

/// Opens a rack for the class if a place and an empty rack are free.
fn open_rack(floor: &mut Floor, line: &Line, i: u8, class: u8) -> bool {
    let now = floor.now;
    if floor.racking[usize::from(i)].places_free.is_empty() {
        return false;
    }
    let Some(rack) = floor.racks.open(line, ClassId(class), now) else {
        return false;
    };
    let state = &mut floor.racking[usize::from(i)];
    let Some(place) = state.places_free.pop() else {
        return false;
    };
    state.open.push(Open {
        rack,
        due: false,
        place,
    });
    let open = state.open.len() as u32;
    floor.telling.level(floor.n.open[usize::from(i)], open);
    let kind = floor.racks.get(rack).kind;
    floor.telling.add(floor.n.empty[usize::from(kind)], -1);
    true
}

/// Puts pieces on the class's pile; how many there was room for.
pub(crate) fn put_on_pile(
    floor: &mut Floor,
    line: &Line,
    i: u8,
    class: u8,
    tray: u32,
    pieces: u16,
) -> u16 {
    let spec = &line.racking[usize::from(i)];
    let Some(p) = spec.piles.iter().position(|p| p.class.0 == class) else {
        return 0;
    };
    let now = floor.now;
    let taken_at_once = match spec.piles[p].room {
        // Room for nothing: from hand to hand, when somebody stands ready to take it.
        Some(0) => taken_from_hand(floor, line, i, class),
        _ => 0,
    };
    let pile = &mut floor.racking[usize::from(i)].piles[p];
    let room = spec.piles[p]
        .room
        .map_or(u32::MAX, |room| room.max(taken_at_once))
        .saturating_sub(pile.count);
    let fits = u32::from(pieces).min(room) as u16;
    if fits > 0 {
        pile.count += u32::from(fits);
        pile.parts.push_back((tray, fits, now));
        let count = pile.count;
        floor.telling.level(floor.n.pile[usize::from(i)][p], count);
        floor.mark_crew();
        let no = floor.racking_no(i);
        floor.mark(no);
    }
    fits
}

/// Pieces of a class that those who stand ready could begin to rack at once: as many as they grab, and as there is rack
/// for. Somebody whose full rack still waits for the lane stands free, but is not ready.
fn taken_from_hand(floor: &Floor, line: &Line, i: u8, class: u8) -> u32 {
    let spec = &line.racking[usize::from(i)];
    let state = &floor.racking[usize::from(i)];
    let held_back = spec
        .piles
        .iter()
        .zip(&state.piles)
        .any(|(pile, it)| pile.class.0 == class && !it.released);
    if held_back {
        return 0;
    }
    let ready = floor
        .crew
        .idle_at(|post| post == crate::line::Post::Racking(i));
    let more = floor
        .racks
        .kind_for(line, ClassId(class))
        .map_or(0, |(kind, size)| {
            let racks = floor.racks.empty(kind).min(state.places_free.len() as u32);
            racks.saturating_mul(u32::from(size))
        });
    ready
        .saturating_mul(spec.grab)
        .min(space(floor, i, class).saturating_add(more))
}

/// The place that lacks room for a piece of this class on this route.
pub(crate) fn lacking(floor: &Floor, line: &Line, route: PiecesTo, class: u8) -> PlaceId {
    match route {
        PiecesTo::Leave => PlaceId::default(),
        PiecesTo::Pile(i) => {
            let p = line.racking[usize::from(i)]
                .piles
                .iter()
                .position(|p| p.class.0 == class)
                .unwrap_or(0);
            floor.n.pile[usize::from(i)][p]
        }
        PiecesTo::Racks(i) => lacking_rack(floor, line, i, class),
    }
}

/// Why no rack can be had for a class: none empty, no place to stand one, or the lane is full.
fn lacking_rack(floor: &Floor, line: &Line, i: u8, class: u8) -> PlaceId {
    let state = &floor.racking[usize::from(i)];
    let waits_for_lane = state.open.iter().any(|o| {
        let rack = floor.racks.get(o.rack);
        o.due || rack.fill == rack.size
    });
    if state.places_free.is_empty() {
        return match line.racking[usize::from(i)].to {
            RacksTo::Lane(l) if waits_for_lane => floor.n.lane[usize::from(l)],
            _ => floor.n.open[usize::from(i)],
        };
    }
    let kind = line.classes[usize::from(class)]
        .fits
        .first()
        .map_or(0, |(kind, _)| usize::from(kind.0));
    floor.n.empty.get(kind).copied().unwrap_or_default()
}

fn can_add(floor: &Floor, i: u8, class: u8) -> bool {
    let state = &floor.racking[usize::from(i)];
    let pile = state
        .grabs
        .iter()
        .any(|g| g.class == class && !g.parts.is_empty());
    pile || !floor.rush_over
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.racking[usize::from(i)];
    let no = floor.racking_no(i);
    let now = floor.now;
    release_piles(floor, line, i);
    loop {
        let mut moved = place_grabs(floor, line, i);
        let mut k = 0;
        while let Some(&open) = floor.racking[usize::from(i)].open.get(k) {
            let rack = floor.racks.get(open.rack);
            let (full, class) = (rack.fill == rack.size, rack.class);
            let last =
                rack.fill > 0 && !can_add(floor, i, class) && pile_of(floor, line, i, class) == 0;
            let leaves = (full || open.due || last)
                && match spec.to {
                    RacksTo::Leave => true,
                    RacksTo::Lane(l) => lane::has_room(floor, l),
                };
            if !leaves {
                k += 1;
                continue;
            }
            floor.racks.get_mut(open.rack).closed = now;
            let state = &mut floor.racking[usize::from(i)];
            state.open.remove(k);
            state.places_free.push(open.place);
            let standing = state.open.len() as u32;
            floor.clear(no, open.place);
            floor.telling.level(floor.n.open[usize::from(i)], standing);
            match spec.to {
                RacksTo::Leave => floor.rack_clean_and_free(open.rack),
                RacksTo::Lane(l) => lane::put(floor, line, l, open.rack),
            }
            floor.mark_scrapping();
            floor.mark_crew();
            floor.mark_machines();
            moved = true;
        }
        if !moved {
            break;
        }
    }
}

fn pile_of(floor: &Floor, line: &Line, i: u8, class: u8) -> u32 {
    let p = line.racking[usize::from(i)]
        .piles
        .iter()
        .position(|p| p.class.0 == class);
    p.map_or(0, |p| floor.racking[usize::from(i)].piles[p].count)
}

/// Held-back piles whose condition holds may be racked.
fn release_piles(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.racking[usize::from(i)];
    for (p, pile) in spec.piles.iter().enumerate() {
        if pile.held_back.is_empty() {
            continue;
        }
        let from_clock = pile
            .held_back
            .iter()
            .any(|r| matches!(r, Release::From(at) if *at <= floor.now));
        let others_empty = || {
            let others = spec.piles.iter().zip(&floor.racking[usize::from(i)].piles);
            floor.rush_over
                && others
                    .filter(|(s, _)| s.held_back.is_empty())
                    .all(|(_, it)| it.count == 0)
        };
        let rush_over = pile.held_back.contains(&Release::RushOver) && others_empty();
        let lane_below = pile.held_back.iter().any(|r| match (r, spec.to) {
            (Release::LaneBelow(racks), RacksTo::Lane(l)) => lane::len(floor, l) < *racks,
            (Release::LaneBelow(_), RacksTo::Leave) => true,
            (Release::RushOver | Release::From(_), _) => false,
        });
        let it = &mut floor.racking[usize::from(i)].piles[p];
        // A clock condition, once met, holds; so does the end of the rush. A lane condition comes and goes.
        it.for_good |= rush_over;
        let released = from_clock || it.for_good || lane_below;
        if it.released != released {
            it.released = released;
            if released {
                floor.mark_crew();
            }
        }
    }
}

/// Pieces of a class that could be racked now besides those already in hand.
fn space(floor: &Floor, i: u8, class: u8) -> u32 {
    let state = &floor.racking[usize::from(i)];
    let open: u32 = state
        .open
        .iter()
        .map(|o| floor.racks.get(o.rack))
        .filter(|rack| rack.class == class)
        .map(|rack| u32::from(rack.size - rack.fill))
        .sum();
    open.saturating_sub(state.promised[usize::from(class)])
}

fn rackable(floor: &Floor, line: &Line, i: u8, class: u8) -> bool {
    space(floor, i, class) > 0
        || (!floor.racking[usize::from(i)].places_free.is_empty()
            && floor.racks.kind_for(line, ClassId(class)).is_some())
}

/// Grabs waiting at the post.
pub(crate) fn waiting(floor: &Floor, line: &Line, i: u8) -> u32 {
    let spec = &line.racking[usize::from(i)];
    let state = &floor.racking[usize::from(i)];
    let mut waiting = 0;
    for (pile, it) in spec.piles.iter().zip(&state.piles) {
        if it.count > 0 && it.released && rackable(floor, line, i, pile.class.0) {
            waiting += it.count.div_ceil(spec.grab.max(1));
        }
    }
    waiting
}

/// What keeps somebody who stands here from racking the ware that waits, if anything does.
pub(crate) fn stuck(floor: &Floor, line: &Line, i: u8) -> Option<PlaceId> {
    let spec = &line.racking[usize::from(i)];
    let state = &floor.racking[usize::from(i)];
    let waits = spec
        .piles
        .iter()
        .zip(&state.piles)
        .find(|(_, it)| it.count > 0 && it.released);
    waits.map(|(pile, _)| lacking_rack(floor, line, i, pile.class.0))
}

/// Takes a grab of the pile fullest for its room, and begins: seconds at normal pace.
pub(crate) fn begin(floor: &mut Floor, line: &Line, i: u8, worker: u8) -> Option<f64> {
    let spec = &line.racking[usize::from(i)];
    let state = &floor.racking[usize::from(i)];
    let mut best: Option<(usize, u64, u64)> = None;
    for (p, (pile, it)) in spec.piles.iter().zip(&state.piles).enumerate() {
        if it.count == 0 || !it.released || !rackable(floor, line, i, pile.class.0) {
            continue;
        }
        let (count, room) = (
            u64::from(it.count),
            u64::from(pile.room.unwrap_or(u32::MAX).max(1)),
        );
        if best.is_none_or(|(_, c, r)| count * r > c * room) {
            best = Some((p, count, room));
        }
    }
    let (p, _, _) = best?;
    let class = spec.piles[p].class.0;
    if space(floor, i, class) == 0 && !open_rack(floor, line, i, class) {
        return None;
    }
    let now = floor.now;
    let most = space(floor, i, class).min(spec.grab.max(1));
    let state = &mut floor.racking[usize::from(i)];
    let mut grab = state.spare.pop().unwrap_or_default();
    grab.parts.clear();
    let pile = &mut state.piles[p];
    let mut taken = 0;
    while taken < most
        && let Some((tray, n, since)) = pile.parts.front_mut()
    {
        let some = u32::from(*n).min(most - taken) as u16;
        grab.parts.push((*tray, some));
        taken += u32::from(some);
        let waited = now.since(*since);
        floor
            .telling
            .waited(floor.n.pile[usize::from(i)][p], waited);
        *n -= some;
        if *n == 0 {
            pile.parts.pop_front();
        }
    }
    pile.count -= taken;
    let count = pile.count;
    // First in, first into the rack: placing takes from the back.
    grab.parts.reverse();
    grab.worker = Some(worker);
    grab.class = class;
    grab.done = false;
    grab.because = None;
    state.promised[usize::from(class)] += taken;
    let ordinal = state.grabs_begun[usize::from(class)] * MOST_CLASSES as u64 + u64::from(class);
    state.grabs_begun[usize::from(class)] += 1;
    let factor = state
        .variation
        .constant()
        .unwrap_or_else(|| state.variation.draw(state.luck.at(ordinal)));
    state.grabs.push(grab);
    floor.telling.level(floor.n.pile[usize::from(i)][p], count);
    floor.mark_scrapping();
    let no = floor.racking_no(i);
    floor.mark(no);
    Some(f64::from(taken) * spec.piles[p].piece_s * factor)
}

/// The work on a grab is done: its pieces go into racks as far as there is room.
pub(crate) fn finish(floor: &mut Floor, i: u8, worker: u8) {
    let state = &mut floor.racking[usize::from(i)];
    if let Some(grab) = state
        .grabs
        .iter_mut()
        .find(|g| g.worker == Some(worker) && !g.done)
    {
        grab.done = true;
        let pieces: u32 = grab.parts.iter().map(|&(_, n)| u32::from(n)).sum();
        state.promised[usize::from(grab.class)] -= pieces;
    }
    let no = floor.racking_no(i);
    floor.mark(no);
}

/// Racks what is in hand and done, first begun first. Whether any piece moved.
fn place_grabs(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let mut moved = false;
    let mut k = 0;
    while let Some(grab) = floor.racking[usize::from(i)].grabs.get(k) {
        if !grab.done {
            k += 1;
            continue;
        }
        let (class, worker) = (grab.class, grab.worker);
        while let Some(&(tray, n)) = floor.racking[usize::from(i)].grabs[k].parts.last() {
            let placed = put(floor, line, i, class, tray, n);
            moved |= placed > 0;
            let grab = &mut floor.racking[usize::from(i)].grabs[k];
            if placed == n {
                grab.parts.pop();
            } else {
                if let Some(last) = grab.parts.last_mut() {
                    last.1 -= placed;
                }
                break;
            }
        }
        if floor.racking[usize::from(i)].grabs[k].parts.is_empty() {
            let grab = floor.racking[usize::from(i)].grabs.remove(k);
            floor.racking[usize::from(i)].spare.push(grab);
            if let Some(worker) = worker {
                floor.release(worker);
            }
        } else {
            let because = lacking_rack(floor, line, i, class);
            floor.racking[usize::from(i)].grabs[k].because = Some(because);
            if let Some(worker) = worker {
                floor.hold(worker, because);
            }
            k += 1;
        }
    }
    moved
}
