//! The clean end: racks stand, air-dry, are unloaded; empty racks go back.

use crate::dist::Dist;
use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::look_over::{GoesBack, look_over, take_back};
use crate::line::racks::Racks;
use crate::line::{ClassId, Line, MOST_CLASSES, delivery, second_pass};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};
use crate::watch::PlaceId;

/// Where racks come out, dry and are unloaded.
#[derive(Clone, Debug, PartialEq)]
pub struct CleanEnd {
    /// Its name.
    pub name: String,
    /// Racks it holds; `None`: as many as come.
    pub places: Option<u32>,
    /// Pieces of loose ware it holds; `None`: as many as come.
    pub pieces: Option<u32>,
    /// Unloaded by workers; `false`: a rack is empty the moment it is dry.
    pub by_hand: bool,
    /// Workers who can stand here.
    pub workers: u32,
    /// Factor of mean 1 on each rack's unloading.
    pub variation: Dist,
    /// How empty racks go back.
    pub back: Back,
}

/// How empty racks go back to the racking tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Back {
    /// Each by itself, after so long.
    After(Span),
    /// By hand, when so many have gathered or nothing more is to come, each trip lasting so long.
    Trips {
        /// Racks a trip.
        of: u32,
        /// How long it takes (nobody of the crew is needed).
        lasts: Span,
    },
}

const BACK: u32 = 0;
const DRYING: u32 = 1;

pub(crate) fn slots(line: &Line) -> u32 {
    DRYING + line.classes.len() as u32
}

/// A rack unloaded whose ware has not all found room on a cart.
#[derive(Clone, Copy, Debug)]
struct Held {
    rack: u32,
    left: u16,
    worker: Option<u8>,
    by_hand: bool,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    room: u32,
    standing: u32,
    /// Loose pieces it has room for, and loose pieces here.
    loose_room: u32,
    loose: u32,
    drying: Vec<VecDeque<(u32, SimTime, SimTime)>>,
    ready: VecDeque<(u32, SimTime)>,
    in_work: Vec<(u8, u32)>,
    held: VecDeque<Held>,
    gathered: Vec<u32>,
    back: VecDeque<(u32, SimTime)>,
    variation: Sampler,
    luck: Keyed,
    unloads: [u64; MOST_CLASSES],
    /// Still soiled, on its way back to the piles.
    pub(crate) tub: VecDeque<GoesBack>,
    pub(crate) looks: Keyed,
    /// Pieces looked over so far, by class.
    pub(crate) looked_over: [u64; MOST_CLASSES],
}

impl State {
    /// Racks that still hold soiled-line pieces (dry or drying, in work or held), for the audit.
    pub(crate) fn racks(&self) -> impl Iterator<Item = u32> + '_ {
        let drying = self.drying.iter().flatten().map(|&(rack, _, _)| rack);
        let ready = self.ready.iter().map(|&(rack, _)| rack);
        let in_work = self.in_work.iter().map(|&(_, rack)| rack);
        drying.chain(ready).chain(in_work)
    }

    /// Racks whose ware is already counted clean but which are not free yet.
    pub(crate) fn emptied(&self, racks: &Racks) -> usize {
        let held = self.held.iter().filter(|h| !racks.get(h.rack).is_loose());
        held.count() + self.gathered.len() + self.back.len()
    }

    /// Clean pieces of a class still in racks here because no cart has room.
    pub(crate) fn held_pieces(&self, racks: &Racks, class: usize) -> u64 {
        let of_class = self
            .held
            .iter()
            .filter(|h| usize::from(racks.get(h.rack).class) == class);
        of_class.map(|h| u64::from(h.left)).sum()
    }

    pub(crate) fn has_held(&self) -> bool {
        !self.held.is_empty()
    }

    /// Racks left lying half unloaded by somebody who has gone.
    pub(crate) fn left_behind(&self) -> usize {
        self.held
            .iter()
            .filter(|h| h.by_hand && h.worker.is_none())
            .count()
    }

    pub(crate) fn abandon(&mut self, worker: u8) {
        for held in &mut self.held {
            if held.worker == Some(worker) {
                held.worker = None;
            }
        }
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .clean_ends
        .resize_with(line.clean_ends.len(), State::default);
    for (i, spec) in line.clean_ends.iter().enumerate() {
        let root = floor.root;
        let state = &mut floor.clean_ends[i];
        state.room = spec.places.unwrap_or(u32::MAX);
        state.standing = 0;
        state.loose_room = spec.pieces.unwrap_or(u32::MAX);
        state.loose = 0;
        state.drying.resize_with(line.classes.len(), VecDeque::new);
        state.drying.iter_mut().for_each(VecDeque::clear);
        state.ready.clear();
        state.in_work.clear();
        state.held.clear();
        state.gathered.clear();
        state.back.clear();
        state.variation.fit(&spec.variation);
        state.luck = root.keyed(name_key(&spec.name) ^ name_key("clean-end/unload"));
        state.unloads = [0; MOST_CLASSES];
        state.tub.clear();
        state.looks = root.keyed(name_key(&spec.name) ^ name_key("clean-end/look-over"));
        state.looked_over = [0; MOST_CLASSES];
    }
}

/// Where a machine that leads to `to` sends this rack: its class may have a clean end of its own.
pub(crate) fn of_rack(floor: &Floor, line: &Line, to: Option<u8>, rack: Option<u32>) -> Option<u8> {
    let own = rack.and_then(|rack| {
        let it = floor.racks.get(rack);
        // After a first pass it is tipped out where it comes out.
        let own = line.classes[usize::from(it.class)].clean_end;
        own.filter(|_| !it.first_pass)
    });
    to.map(|to| own.unwrap_or(to))
}

/// Whether this rack, or lot of loose ware, finds a place.
pub(crate) fn has_room(floor: &Floor, i: u8, rack: u32) -> bool {
    let state = &floor.clean_ends[usize::from(i)];
    let it = floor.racks.get(rack);
    if it.is_loose() {
        state.loose.saturating_add(u32::from(it.fill)) <= state.loose_room
    } else {
        state.standing < state.room
    }
}

/// A place is taken (or, with `back`, free again); tells how full it is: racks, or pieces where it holds loose ware.
fn takes_place(floor: &mut Floor, line: &Line, i: u8, rack: u32, back: bool) {
    let it = floor.racks.get(rack);
    let (pieces, is_loose) = (u32::from(it.fill), it.is_loose());
    let state = &mut floor.clean_ends[usize::from(i)];
    let (held, by) = if is_loose {
        (&mut state.loose, pieces)
    } else {
        (&mut state.standing, 1)
    };
    *held = if back { *held - by } else { *held + by };
    let shown = if line.clean_ends[usize::from(i)].pieces.is_some() {
        state.loose
    } else {
        state.standing
    };
    floor.telling.level(floor.n.clean[usize::from(i)], shown);
}

/// A rack comes out of the machine and takes a place.
pub(crate) fn receive(floor: &mut Floor, line: &Line, i: u8, rack: u32) {
    let now = floor.now;
    let it = floor.racks.get(rack);
    let class = it.class;
    let dry = if it.first_pass {
        Span::NONE
    } else {
        dries(line, class, it.machine)
    };
    let no = floor.clean_end_no(i);
    takes_place(floor, line, i, rack, false);
    let state = &mut floor.clean_ends[usize::from(i)];
    if dry.is_none() {
        state.ready.push_back((rack, now));
        floor.mark_crew();
    } else {
        let queue = &mut state.drying[usize::from(class)];
        queue.push_back((rack, now + dry, now));
        if queue.len() == 1 {
            floor.set(no, DRYING + u32::from(class), Phase::End, now + dry);
        }
    }
    floor.mark(no);
}

/// How long ware of a class dries that comes out of this machine.
fn dries(line: &Line, class: u8, machine: u8) -> Span {
    let dry = line.classes[usize::from(class)].dry;
    match line.machines.get(usize::from(machine)) {
        Some(it) if it.dries_to < 1000 => Span::from_us(dry.us() / 1000 * u64::from(it.dries_to)),
        _ => dry,
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let now = floor.now;
    let no = floor.clean_end_no(i);
    floor.mark(no);
    if local == BACK {
        come_back(floor, line, i);
        return;
    }
    let class = (local - DRYING) as usize;
    let state = &mut floor.clean_ends[usize::from(i)];
    while let Some(&(rack, until, since)) = state.drying[class].front() {
        if until > now {
            floor.set(no, local, Phase::End, until);
            break;
        }
        state.drying[class].pop_front();
        state.ready.push_back((rack, since));
    }
    floor.mark_crew();
}

fn come_back(floor: &mut Floor, _line: &Line, i: u8) {
    let now = floor.now;
    let no = floor.clean_end_no(i);
    let mut came = false;
    while let Some(&(rack, at)) = floor.clean_ends[usize::from(i)].back.front() {
        if at > now {
            floor.set(no, BACK, Phase::End, at);
            break;
        }
        floor.clean_ends[usize::from(i)].back.pop_front();
        floor.telling.add(floor.n.back, -1);
        floor.rack_free(rack);
        came = true;
    }
    if came {
        floor.mark_racking();
        floor.mark_scrapping();
        floor.mark_crew();
    }
}

/// Racks waiting to be unloaded, whose ware has somewhere to go; pieces, where it has room for so many of them, and racks of
/// the first of two passes.
#[inline(never)]
pub(crate) fn waiting(floor: &Floor, line: &Line, i: u8) -> u32 {
    let spec = &line.clean_ends[usize::from(i)];
    if !spec.by_hand {
        return 0;
    }
    let ready = floor.clean_ends[usize::from(i)].ready.iter();
    let ready = ready.filter(|&&(rack, _)| can_unload(floor, line, rack));
    if spec.pieces.is_none() {
        return ready.count() as u32;
    }
    // A rack of the first pass is tipped out in one go.
    let jobs = ready.map(|&(rack, _)| match floor.racks.get(rack) {
        it if it.first_pass => 1,
        it => u32::from(it.fill),
    });
    jobs.sum()
}

fn can_unload(floor: &Floor, line: &Line, rack: u32) -> bool {
    let it = floor.racks.get(rack);
    if it.first_pass {
        return second_pass::has_room(floor, line, it.class);
    }
    delivery::takes(floor, line, ClassId(it.class))
}

/// What keeps somebody who stands here from unloading the racks that wait, if anything does: no cart, or, after a first
/// pass, no room on the pile between the passes.
pub(crate) fn stuck(floor: &Floor, line: &Line, i: u8) -> Option<PlaceId> {
    let &(rack, _) = floor.clean_ends[usize::from(i)].ready.front()?;
    let it = floor.racks.get(rack);
    let lacks = match second_pass::waits_for(floor, line, it.class) {
        Some(pile) if it.first_pass => pile,
        _ => floor.n.cart,
    };
    (waiting(floor, line, i) == 0).then_some(lacks)
}

/// Begins to unload the rack that has been dry longest of those whose ware has somewhere to go: seconds at normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, i: u8, worker: u8) -> Option<f64> {
    let now = floor.now;
    let ready = &floor.clean_ends[usize::from(i)].ready;
    let k = ready
        .iter()
        .position(|&(rack, _)| can_unload(floor, line, rack))?;
    let state = &mut floor.clean_ends[usize::from(i)];
    let (rack, since) = state.ready.remove(k)?;
    state.in_work.push((worker, rack));
    let it = floor.racks.get(rack);
    let class = &line.classes[usize::from(it.class)];
    let loose = it.is_loose();
    let mut pieces = if class.stays_in_rack && !loose {
        0.0
    } else {
        f64::from(it.fill) * class.unload_s
    };
    let mut rack_s = if loose { 0.0 } else { class.unload_rack_s };
    if let Some(second) = class.second_pass.as_ref().filter(|_| it.first_pass) {
        (pieces, rack_s) = (0.0, second.take_off_s);
    }
    let ordinal = state.unloads[usize::from(it.class)] * MOST_CLASSES as u64 + u64::from(it.class);
    state.unloads[usize::from(it.class)] += 1;
    let factor = state.variation.value(state.luck, ordinal);
    let waited = now.since(since);
    floor.telling.waited(floor.n.clean[usize::from(i)], waited);
    Some((rack_s + pieces) * factor)
}

/// A rack is unloaded: its ware is clean, and goes on as far as there is room.
#[inline(never)]
pub(crate) fn finish(floor: &mut Floor, line: &Line, i: u8, worker: u8) {
    let state = &mut floor.clean_ends[usize::from(i)];
    if let Some(k) = state.in_work.iter().position(|&(w, _)| w == worker) {
        let (_, rack) = state.in_work.remove(k);
        emptied(floor, line, i, rack, Some(worker));
    }
    let no = floor.clean_end_no(i);
    floor.mark(no);
}

fn emptied(floor: &mut Floor, line: &Line, i: u8, rack: u32, worker: Option<u8>) {
    if floor.racks.get(rack).first_pass {
        second_pass::tip_out(floor, line, i, rack);
        floor.clean_ends[usize::from(i)].held.push_back(Held {
            rack,
            left: 0,
            worker,
            by_hand: worker.is_some(),
        });
        return;
    }
    let gone = look_over(floor, line, i, rack);
    if gone > 0 && floor.racks.get(rack).is_loose() {
        // What lies loose takes room piece by piece.
        let state = &mut floor.clean_ends[usize::from(i)];
        state.loose -= u32::from(gone);
        let loose = state.loose;
        if line.clean_ends[usize::from(i)].pieces.is_some() {
            floor.telling.level(floor.n.clean[usize::from(i)], loose);
        }
        floor.mark_machines();
    }
    let left = floor.racks.get(rack).fill;
    floor.rack_clean(rack);
    floor.clean_ends[usize::from(i)].held.push_back(Held {
        rack,
        left,
        worker,
        by_hand: worker.is_some(),
    });
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.clean_ends[usize::from(i)];
    if !spec.by_hand {
        while let Some((rack, since)) = floor.clean_ends[usize::from(i)].ready.pop_front() {
            let waited = floor.now.since(since);
            floor.telling.waited(floor.n.clean[usize::from(i)], waited);
            emptied(floor, line, i, rack, None);
        }
    }
    take_back(floor, line, i);
    let mut k = 0;
    while let Some(&held) = floor.clean_ends[usize::from(i)].held.get(k) {
        if floor.racks.get(held.rack).first_pass {
            if !tipped_out(floor, line, i, held) {
                k += 1;
            }
            continue;
        }
        let (class, stays) = {
            let it = floor.racks.get(held.rack);
            let stays = line.classes[usize::from(it.class)].stays_in_rack;
            (it.class, stays && !it.is_loose())
        };
        // A rack in which nothing passed goes nowhere with its ware.
        let stays = stays && held.left > 0;
        let placed = delivery::put(
            floor,
            line,
            ClassId(class),
            held.left,
            stays.then_some(held.rack),
        );
        let left = held.left - placed;
        if left > 0 {
            floor.clean_ends[usize::from(i)].held[k].left = left;
            if let Some(worker) = held.worker {
                let because = floor.n.cart;
                floor.hold(worker, because);
            }
            k += 1;
            continue;
        }
        floor.clean_ends[usize::from(i)].held.remove(k);
        takes_place(floor, line, i, held.rack, true);
        if let Some(worker) = held.worker {
            floor.release(worker);
        }
        // A class that stays in its rack has gone off with it.
        if !(stays && goes_with_its_rack(line, ClassId(class))) {
            send_back(floor, line, i, held.rack);
        }
        floor.mark_machines();
    }
    gather(floor, line, i);
}

/// A rack of the first pass is free, and on its way back, when its pieces have found room to be sorted. Whether they have.
fn tipped_out(floor: &mut Floor, line: &Line, i: u8, held: Held) -> bool {
    let state = &mut floor.clean_ends[usize::from(i)];
    if state.tub.iter().any(|it| it.rack == Some(held.rack)) {
        let class = floor.racks.get(held.rack).class;
        let because = second_pass::waits_for(floor, line, class);
        if let (Some(worker), Some(because)) = (held.worker, because) {
            floor.hold(worker, because);
        }
        return false;
    }
    state.held.retain(|other| other.rack != held.rack);
    takes_place(floor, line, i, held.rack, true);
    if let Some(worker) = held.worker {
        floor.release(worker);
    }
    send_back(floor, line, i, held.rack);
    floor.mark_machines();
    true
}

/// Whether racks of this class go out to the servery: only where its stock is followed there.
pub(crate) fn goes_with_its_rack(line: &Line, class: ClassId) -> bool {
    let class = &line.classes[usize::from(class.0)];
    class.stays_in_rack && class.par.is_some()
}

/// An empty rack goes back.
pub(crate) fn send_back(floor: &mut Floor, line: &Line, i: u8, rack: u32) {
    if floor.racks.get(rack).is_loose() {
        floor.rack_free(rack);
        return;
    }
    floor.telling.add(floor.n.back, 1);
    match line.clean_ends[usize::from(i)].back {
        Back::After(span) => on_its_way(floor, line, i, rack, span),
        Back::Trips { .. } => {
            floor.clean_ends[usize::from(i)].gathered.push(rack);
            gather(floor, line, i);
        }
    }
}

fn on_its_way(floor: &mut Floor, line: &Line, i: u8, rack: u32, span: Span) {
    let now = floor.now;
    let no = floor.clean_end_no(i);
    let state = &mut floor.clean_ends[usize::from(i)];
    state.back.push_back((rack, now + span));
    if span.is_none() {
        come_back(floor, line, i);
    } else if state.back.len() == 1 {
        floor.set(no, BACK, Phase::End, now + span);
    }
}

/// A trip goes when enough racks have gathered, or nothing more is to come.
fn gather(floor: &mut Floor, line: &Line, i: u8) {
    let Back::Trips { of, lasts } = line.clean_ends[usize::from(i)].back else {
        return;
    };
    let last = floor.rush_over && floor.ledger.pieces_inside() == 0;
    let enough = floor.clean_ends[usize::from(i)].gathered.len() >= of.max(1) as usize;
    if (enough || last) && !floor.clean_ends[usize::from(i)].gathered.is_empty() {
        let mut gathered = std::mem::take(&mut floor.clean_ends[usize::from(i)].gathered);
        for &rack in &gathered {
            on_its_way(floor, line, i, rack, lasts);
        }
        gathered.clear();
        floor.clean_ends[usize::from(i)].gathered = gathered;
    }
}
