//! Filling racks: with breakdown, straight into open racks, or from piles at a post of its own.

mod grabs;
mod levels;
mod open_racks;
mod piles;
mod soak;

use crate::dist::Dist;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::racks::Racks;
use crate::line::{Line, MOST_CLASSES, Order, PiecesTo, RackKindId, gate};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::Span;
use crate::watch::PlaceId;

use grabs::Grab;
pub(crate) use grabs::{begin, finish};
pub use levels::{Level, MOST_LEVELS};
use open_racks::{Open, lacking_rack};
pub(crate) use open_racks::{put, stands_open};
use piles::PileState;
pub use piles::{Pile, Release};
pub(crate) use piles::{
    can_begin, could_go_on, from_hand_to_hand, lies_on, put_on_pile, room_on_pile, stuck, waiting,
};

/// A table where racks stand open, with a post of its own where pieces are racked from piles.
#[derive(Clone, Debug, PartialEq)]
pub struct Racking {
    /// Its name.
    pub name: String,
    /// Racks that can stand open at once on the table itself.
    pub open_racks: u32,
    /// A part-filled rack is sent when its first piece has waited so long; `None`: never.
    pub limit: Option<Span>,
    /// Where full racks of the table itself go.
    pub to: RacksTo,
    /// Levels above the table.
    pub levels: Vec<Level>,
    /// Workers who can stand here for work of its own (0: no such post).
    pub places: u32,
    /// Most pieces in one grab.
    pub grab: u32,
    /// Piles, in the order in which ties are settled.
    pub piles: Vec<Pile>,
    /// Factor of mean 1 on each grab.
    pub variation: Dist,
    /// Which pile is taken from next.
    pub order: Order,
}

/// Where filled racks go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RacksTo {
    /// Onto this lane.
    Lane(u8),
    /// No racks: pieces are placed from the piles straight onto the belt of this flight machine.
    Machine(u8),
    /// Off the line, as clean as they will get; the racks are back at once.
    Leave,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// In order of opening.
    open: Vec<Open>,
    /// By level, the table first.
    places_free: Vec<Vec<u32>>,
    piles: Vec<PileState>,
    /// Grabs in hand, in order of beginning; spare ones keep their storage.
    grabs: Vec<Grab>,
    spare: Vec<Grab>,
    /// Whether what lies on the piles decides more than what is racked next: a pile is held back, ware comes here
    /// between its two passes, or a gate or a flight machine goes by it.
    piles_decide: bool,
    /// A rack that is to leave finds no room.
    waits_for_room: bool,
    promised: [u32; MOST_CLASSES],
    grabs_begun: [u64; MOST_CLASSES],
    variation: Sampler,
    luck: Keyed,
}

impl Racking {
    pub(crate) fn slots(&self) -> u32 {
        let soaks = self.piles.iter().any(|pile| !pile.soak.is_none());
        self.all_open_racks() + self.piles.len() as u32 * (1 + u32::from(soaks))
    }

    /// Whether a pile is held back until the lane is emptier.
    pub(crate) fn watches_lane(&self) -> bool {
        self.piles
            .iter()
            .flat_map(|p| &p.held_back)
            .any(|r| matches!(r, Release::LaneBelow(_) | Release::LaneBelowFrom(..)))
    }
}

impl State {
    /// Racks standing open that hold something.
    pub(crate) fn holds_pieces(&self, racks: &Racks, of: impl Fn(u8) -> bool) -> bool {
        let mut open = self.open.iter().map(|o| racks.get(o.rack));
        open.any(|rack| rack.fill > 0 && of(rack.class))
            || self.piles.iter().any(|p| p.count > 0 && of(p.class))
            || self
                .grabs
                .iter()
                .any(|g| !g.parts.is_empty() && of(g.class))
    }

    /// Whether anything of a class is here.
    pub(crate) fn holds_class(&self, racks: &Racks, class: u8) -> bool {
        self.holds_pieces(racks, |it| it == class)
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

    /// What waits on piles that may be washed, and what is in hand: class and pieces.
    pub(crate) fn ready(&self) -> impl Iterator<Item = (u8, u32)> + '_ {
        let piles = self.piles.iter().filter(|p| p.released);
        let in_hand = self.grabs.iter().map(|g| {
            let pieces = g.parts.iter().map(|&(_, n)| u32::from(n)).sum();
            (g.class, pieces)
        });
        piles.map(|p| (p.class, p.ready())).chain(in_hand)
    }

    /// Since when the piece that has waited longest on a pile that may be washed lies there.
    pub(crate) fn longest_ready(&self) -> Option<crate::time::SimTime> {
        let piles = self.piles.iter().filter(|p| p.released && p.ready() > 0);
        piles
            .filter_map(|p| p.parts.front().map(|&(_, _, since)| since))
            .min()
    }

    /// Whether somebody has, or has left, ware of a pile in hand.
    pub(crate) fn in_hand(&self) -> bool {
        !self.grabs.is_empty()
    }

    pub(crate) fn has_held(&self) -> bool {
        self.grabs.iter().any(|g| g.done)
    }

    /// Whether an empty rack or a place may be what somebody here waits for.
    pub(crate) fn wants_a_rack(&self) -> bool {
        self.piles_decide || self.has_held()
    }

    /// Whether a rack that is to leave finds no room.
    pub(crate) fn waits_for_room(&self) -> bool {
        self.waits_for_room
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
        let mut first = 0;
        state
            .places_free
            .resize_with(1 + spec.levels.len(), Vec::new);
        for (free, room) in state.places_free.iter_mut().zip(spec.room_by_level()) {
            free.clear();
            free.extend((first..first + room).rev());
            first += room;
        }
        state
            .piles
            .resize_with(spec.piles.len(), PileState::default);
        while let Some(mut grab) = state.grabs.pop() {
            grab.parts.clear();
            state.spare.push(grab);
        }
        // A part-filled rack waits here for what is still in its first pass.
        let mut second = line.classes.iter().flat_map(|class| &class.second_pass);
        let sorts = second.any(|it| usize::from(it.at) == i);
        state.piles_decide = matches!(spec.to, RacksTo::Machine(_))
            || spec.piles.iter().any(|pile| !pile.held_back.is_empty())
            || line.gates.iter().any(|gate| usize::from(gate.table) == i)
            || sorts;
        state.waits_for_room = false;
        state.promised = [0; MOST_CLASSES];
        state.grabs_begun = [0; MOST_CLASSES];
        state.variation.fit(&spec.variation);
        state.luck = root.keyed(name_key(&spec.name) ^ name_key("racking/grab"));
        for (p, pile) in spec.piles.iter().enumerate() {
            let it = &mut floor.racking[i].piles[p];
            it.class = pile.class.0;
            it.by_hand = pile.room == Some(0);
            it.count = 0;
            it.parts.clear();
            it.soaks = !pile.soak.is_none();
            it.soaked = 0;
            it.for_good = false;
            it.released = pile.held_back.is_empty();
            let let_go = |r: &Release| matches!(r, Release::From(at) if *at <= line.starts);
            it.released |= pile.held_back.iter().any(let_go);
            let slot = spec.all_open_racks() + p as u32;
            floor.set_or_clear(no, slot, Phase::Clock, pile.next_clock(line.starts));
        }
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let spec = &line.racking[usize::from(i)];
    let no = floor.racking_no(i);
    floor.mark(no);
    let state = &mut floor.racking[usize::from(i)];
    let open_racks = spec.all_open_racks();
    if local < open_racks {
        for open in &mut state.open {
            open.due |= open.place == local;
        }
    } else if let p = (local - open_racks) as usize
        && p < spec.piles.len()
    {
        // What is let go is seen when the table settles.
        let next = spec.piles[p].next_clock(floor.now);
        floor.set_or_clear(no, local, Phase::Clock, next);
    } else {
        let p = (local - open_racks) as usize - spec.piles.len();
        soak::ends(floor, line, i, p);
    }
}

/// The place that lacks room for a piece of this class on this route.
pub(crate) fn lacking(floor: &Floor, line: &Line, route: PiecesTo, class: u8) -> PlaceId {
    match route {
        PiecesTo::Leave => PlaceId::default(),
        PiecesTo::Receiver(r) => floor.n.receiver[usize::from(r)],
        PiecesTo::Stacks(i) => floor.n.stacks[usize::from(i)],
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

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    if floor.racking[usize::from(i)].piles_decide {
        piles::release(floor, line, i);
    }
    if let RacksTo::Machine(m) = line.racking[usize::from(i)].to {
        grabs::place_loose(floor, line, i, m);
        let no = floor.machine_no(m);
        if crate::line::machine::is_hold_and_run(line, m) {
            floor.mark(no);
        }
        gate::table_changed(floor, line, i);
        return;
    }
    // What moves may leave room for what is held; with nothing held, one look is enough.
    while grabs::place(floor, line, i) | open_racks::send(floor, line, i)
        && floor.racking[usize::from(i)].has_held()
    {}
    gate::table_changed(floor, line, i);
}
