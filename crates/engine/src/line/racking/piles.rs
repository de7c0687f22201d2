//! Piles of ware that waits to be racked as work of its own.

use std::collections::VecDeque;

use super::open_racks::{lacking_rack, rackable};
use super::soak;
use crate::line::floor::Floor;
use crate::line::{ClassId, Line, PiecesTo, RacksTo, hand_over, scrapping, stacks};
use crate::time::{SimTime, Span};
use crate::watch::PlaceId;

/// A pile of one class waiting to be racked.
#[derive(Clone, Debug, PartialEq)]
pub struct Pile {
    /// Its class.
    pub class: ClassId,
    /// Room for so many pieces; `None`: as many as come.
    pub room: Option<u32>,
    /// Seconds to rack one piece.
    pub piece_s: f64,
    /// Pieces may be racked when they have lain here so long (a soak sink, the way of a conveyor to it); none: at once.
    pub soak: Span,
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
    /// The same, but not before this clock time.
    LaneBelowFrom(u32, SimTime),
    /// When the rush is over and the table's other piles that are not held back are empty.
    RushOver,
}

#[derive(Clone, Debug, Default)]
pub(super) struct PileState {
    pub(super) class: u8,
    /// There is room for nothing: pieces are racked out of the hands of those who bring them.
    pub(super) by_hand: bool,
    pub(super) count: u32,
    pub(super) parts: VecDeque<(u32, u16, SimTime)>,
    /// Whether pieces soak here.
    pub(super) soaks: bool,
    /// Pieces that have soaked long enough; they are the first.
    pub(super) soaked: u32,
    pub(super) released: bool,
    /// Released by the end of the rush: for good.
    pub(super) for_good: bool,
}

impl PileState {
    /// Pieces that lie here and need soak no longer.
    pub(super) fn ready(&self) -> u32 {
        if self.soaks { self.soaked } else { self.count }
    }
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
    let pile = &mut floor.racking[usize::from(i)].piles[p];
    let room = spec.piles[p]
        .room
        .unwrap_or(u32::MAX)
        .saturating_sub(pile.count);
    let fits = u32::from(pieces).min(room) as u16;
    if fits > 0 {
        let before = pile.count;
        pile.count += u32::from(fits);
        pile.parts.push_back((tray, fits, now));
        let count = pile.count;
        soak::begins(floor, line, i, p, before);
        floor.telling.level(floor.n.pile[usize::from(i)][p], count);
        floor.mark_crew();
        if floor.racking[usize::from(i)].piles_decide {
            let no = floor.racking_no(i);
            floor.mark(no);
        }
    }
    fits
}

/// Whether pieces of a class that take this route are handed over: the pile has room for nothing.
pub(crate) fn from_hand_to_hand(line: &Line, route: PiecesTo, class: u8) -> bool {
    let PiecesTo::Pile(r) = route else {
        return false;
    };
    let piles = &line.racking[usize::from(r)].piles;
    piles
        .iter()
        .any(|pile| pile.class.0 == class && pile.room == Some(0))
}

/// Pieces of a class for which the pile at table `i` has room.
pub(crate) fn room_on_pile(floor: &Floor, line: &Line, i: u8, class: u8) -> u32 {
    let piles = &line.racking[usize::from(i)].piles;
    let Some(p) = piles.iter().position(|pile| pile.class.0 == class) else {
        return 0;
    };
    let here = floor.racking[usize::from(i)].piles[p].count;
    piles[p]
        .room
        .map_or(u32::MAX, |room| room.saturating_sub(here))
}

/// Whether somebody at table `i` could go on with pieces of this class, were there any.
pub(crate) fn could_go_on(floor: &Floor, line: &Line, i: u8, class: u8) -> bool {
    let piles = &floor.racking[usize::from(i)].piles;
    let mut of_class = piles.iter().filter(|pile| pile.class == class);
    of_class.any(|pile| pile.released) && rackable(floor, line, i, class)
}

/// Pieces that wait on a pile, or, where it has room for nothing, in the hands of those who would put them there or on a
/// stack at the end of a belt.
#[inline]
pub(super) fn to_rack(floor: &Floor, line: &Line, i: u8, pile: &PileState) -> u32 {
    if pile.by_hand {
        scrapping::offered(floor, line, i, pile.class) + stacks::offered(floor, line, i, pile.class)
    } else {
        pile.ready()
    }
}

/// Pieces that lie on the `p`th pile.
pub(crate) fn lies_on(floor: &Floor, i: u8, p: usize) -> u32 {
    floor.racking[usize::from(i)].piles[p].count
}

pub(super) fn pile_of(floor: &Floor, line: &Line, i: u8, class: u8) -> u32 {
    let p = line.racking[usize::from(i)]
        .piles
        .iter()
        .position(|p| p.class.0 == class);
    p.map_or(0, |p| floor.racking[usize::from(i)].piles[p].count)
}

impl Pile {
    /// The next clock time after `now` at which it may be let go.
    pub(super) fn next_clock(&self, now: SimTime) -> Option<SimTime> {
        let times = self.held_back.iter().filter_map(|release| match release {
            Release::From(at) | Release::LaneBelowFrom(_, at) => Some(*at),
            Release::LaneBelow(_) | Release::RushOver => None,
        });
        times.filter(|at| *at > now).min()
    }
}

/// Held-back piles whose condition holds may be racked.
pub(super) fn release(floor: &mut Floor, line: &Line, i: u8) {
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
        let to = spec.to_of(pile.class.0);
        let lane_below = pile.held_back.iter().any(|r| match (r, to) {
            (Release::LaneBelowFrom(_, at), _) if *at > floor.now => false,
            (Release::LaneBelow(racks) | Release::LaneBelowFrom(racks, _), RacksTo::Lane(l)) => {
                hand_over::ahead(floor, line, l) < *racks
            }
            (Release::LaneBelow(_) | Release::LaneBelowFrom(..), _) => true,
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

/// Grabs waiting at the post, as a worker sees it who stands `here` or elsewhere; stacks that a belt brings on demand are
/// one each.
#[inline(never)]
pub(crate) fn waiting(floor: &mut Floor, line: &Line, i: u8, here: bool) -> u32 {
    let mut waiting = 0;
    if !line.stack_belts.is_empty() {
        waiting = stacks::on_demand(floor, line, i, here);
    }
    let grab = line.racking[usize::from(i)].grab.max(1);
    for pile in &floor.racking[usize::from(i)].piles {
        let pieces = to_rack(floor, line, i, pile);
        if pieces > 0 && pile.released && rackable(floor, line, i, pile.class) {
            waiting += pieces.div_ceil(grab);
        }
    }
    waiting
}

/// Whether somebody who stands here could begin with something now.
pub(crate) fn can_begin(floor: &Floor, line: &Line, i: u8) -> bool {
    let mut piles = floor.racking[usize::from(i)].piles.iter();
    piles.any(|pile| {
        let waits = pile.released && to_rack(floor, line, i, pile) > 0;
        waits && rackable(floor, line, i, pile.class)
    })
}

/// What keeps somebody who stands here from racking the ware that waits, if anything does.
pub(crate) fn stuck(floor: &Floor, line: &Line, i: u8) -> Option<PlaceId> {
    let mut piles = floor.racking[usize::from(i)].piles.iter();
    let waits = piles.find(|pile| pile.released && to_rack(floor, line, i, pile) > 0)?;
    Some(lacking_rack(floor, line, i, waits.class))
}
