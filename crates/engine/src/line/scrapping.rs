//! Breaking down trays: waste off, ware sorted, pieces on to where there is room. One worker a tray, or in series: each
//! post takes its own classes off and passes the tray on.

use std::collections::VecDeque;

use crate::line::floor::Floor;
use crate::line::{
    ClassId, Line, MOST_CLASSES, Post, Reach, ReceiverGoes, accumulator, aids, belt, carts,
    drop_off, racking, receivers, servery, stacks, waste,
};
use crate::tape::{Diner, Tape};
use crate::time::{SimTime, Span};
use crate::watch::PlaceId;

/// A post where trays are broken down, one worker a tray at a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Scrapping {
    /// Its name.
    pub name: String,
    /// Where trays come from, asked in this order.
    pub from: Vec<TraysFrom>,
    /// Workers who can stand here.
    pub places: u32,
    /// Seconds for each tray, whatever is on it.
    pub handling_s: f64,
    /// Seconds for each piece, by class (racking included where it is done with breakdown).
    pub piece_s: Vec<f64>,
    /// More seconds for a tray fetched from the overflow.
    pub fetch_s: f64,
    /// Where the pieces of each class go.
    pub routes: Vec<PiecesTo>,
    /// Store to which each kind of waste goes, by kind; `None` or empty: somewhere that is never full.
    pub waste_to: Vec<Option<u8>>,
    /// It does only a part of each tray and passes on the rest; `None`: whatever comes here is finished here.
    pub passes_on: Option<PassesOn>,
}

/// Breaking down in series: what a post takes off, and where the tray goes with the rest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PassesOn {
    /// Whether pieces of a class are taken off here, by class.
    pub takes_off: Vec<bool>,
    /// Number of the table over which the tray goes on to the next post. Its room is limited to at least one tray, or
    /// not at all.
    pub to: u8,
}

/// Where a scrapping post takes its trays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TraysFrom {
    /// The end of a belt.
    BeltEnd(u8),
    /// A point along a belt: the first tray that passes, or one standing within `reach_mm` upstream.
    BeltAt {
        /// Number of the belt.
        belt: u8,
        /// Where the worker stands, mm from the belt's start.
        at_mm: u32,
        /// How far upstream the worker reaches, mm.
        reach_mm: u32,
    },
    /// A point along the loop of a tray accumulator.
    Accumulator {
        /// Number of the accumulator.
        accumulator: u8,
        /// Where the workers stand and how far they reach.
        reach: Reach,
    },
    /// A table.
    Table(u8),
    /// Carts or tubs that stand where they can be emptied.
    Carts(u8),
    /// The overflow and late carts of a drop-off, fetched when nothing else waits.
    Overflow(u8),
}

/// Where the pieces of a class go after scrapping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PiecesTo {
    /// Straight into open racks of this racking table.
    Racks(u8),
    /// On this class's pile at this racking table, to be racked there as work of its own.
    Pile(u8),
    /// Into this receiver: a cart that fills.
    Receiver(u8),
    /// In stacks on this belt, which carries them to the piles at its end.
    Stacks(u8),
    /// Off the line, as clean as they will get.
    Leave,
}

/// A tray broken down whose pieces have not all found a place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Held {
    pub(crate) tray: u32,
    /// Since when the work on it is done.
    pub(crate) since: SimTime,
    pub(crate) left: [u8; MOST_CLASSES],
    /// The tray itself, with what the ledger says is still on it, is to go on to the next post.
    pub(crate) onward: bool,
    /// Waste still in hand, grams of all, and a bit for each kind of it.
    pub(crate) waste: (u32, u8),
    /// Who stands with it; `None` once they have gone home or on a break.
    pub(crate) worker: Option<u8>,
    /// Who put it down here and went, if somebody did.
    pub(crate) left_by: Option<u8>,
    /// What lacked room when it was last tried.
    pub(crate) because: Option<PlaceId>,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    pub(crate) held: VecDeque<Held>,
    /// Trays being worked on.
    pub(crate) in_work: Vec<u32>,
}

impl State {
    /// Trays left lying by somebody who has gone.
    pub(crate) fn left_behind(&self) -> usize {
        self.held.iter().filter(|h| h.worker.is_none()).count()
    }

    /// Trays done here that are still to go on to the next post.
    pub(crate) fn onward(&self) -> impl Iterator<Item = u32> + '_ {
        self.held.iter().filter(|h| h.onward).map(|h| h.tray)
    }

    /// Whether this worker has left one here.
    pub(crate) fn left_by(&self, worker: u8) -> bool {
        self.held.iter().any(|h| h.left_by == Some(worker))
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .scrapping
        .resize_with(line.scrapping.len(), State::default);
    for state in &mut floor.scrapping {
        state.held.clear();
        state.in_work.clear();
    }
    floor.in_series = line.scrapping.iter().any(|spec| spec.passes_on.is_some());
}

impl Line {
    /// The racking table, or load end, at which pieces that take this route are racked or placed.
    pub fn table_of(&self, route: PiecesTo) -> Option<u8> {
        match route {
            PiecesTo::Racks(table) | PiecesTo::Pile(table) => Some(table),
            PiecesTo::Stacks(belt) => self.stack_belts.get(usize::from(belt)).map(|it| it.to),
            PiecesTo::Receiver(r) => match self.receivers.get(usize::from(r))?.goes {
                ReceiverGoes::StraightOn(PiecesTo::Racks(table) | PiecesTo::Pile(table))
                | ReceiverGoes::Changed(PiecesTo::Racks(table) | PiecesTo::Pile(table)) => {
                    Some(table)
                }
                _ => None,
            },
            PiecesTo::Leave => None,
        }
    }
}

impl Scrapping {
    /// Seconds of work on a tray with these pieces, at normal pace and factor 1.
    pub fn tray_s(&self, pieces: &[u8; MOST_CLASSES]) -> f64 {
        let each = pieces.iter().zip(&self.piece_s);
        let all = each.map(|(&n, s)| f64::from(n) * s);
        let sorting: f64 = match self.passes_on {
            None => all.sum(),
            Some(_) => {
                let here = all.enumerate().filter(|&(class, _)| self.takes_off(class));
                here.map(|(_, s)| s).sum()
            }
        };
        self.handling_s + sorting
    }

    /// Whether pieces of this class are taken off here.
    pub fn takes_off(&self, class: usize) -> bool {
        let on = self.passes_on.as_ref();
        on.is_none_or(|on| on.takes_off.get(class).copied().unwrap_or(false))
    }
}

/// Trays waiting here, as a worker sees it who stands `here` or elsewhere.
#[inline(never)]
pub(crate) fn waiting(floor: &mut Floor, line: &Line, i: u8, here: bool) -> u32 {
    let mut waiting = 0;
    for &from in &line.scrapping[usize::from(i)].from {
        if waiting == 0 || !matches!(from, TraysFrom::Overflow(_)) {
            waiting += waiting_at(floor, line, from, here);
        }
    }
    waiting
}

fn waiting_at(floor: &mut Floor, line: &Line, from: TraysFrom, here: bool) -> u32 {
    match from {
        TraysFrom::BeltEnd(b) => belt::waiting(floor, b, None, here),
        TraysFrom::BeltAt {
            belt: b,
            at_mm,
            reach_mm,
        } => belt::waiting(floor, b, Some((at_mm, reach_mm)), here),
        // What circles will come by: it waits for whoever stands here as for those elsewhere.
        TraysFrom::Accumulator { accumulator, .. } => {
            floor.accumulators[usize::from(accumulator)].len()
        }
        TraysFrom::Table(t) => match floor.tables[usize::from(t)].room {
            0 => drop_off::offered(floor, line, t),
            _ => floor.tables[usize::from(t)].len(),
        },
        TraysFrom::Carts(c) => carts::waiting(floor, c),
        TraysFrom::Overflow(d) => floor.drop_offs[usize::from(d)].overflow.len(),
    }
}

/// Whether whoever stands here could take a tray now.
pub(crate) fn can_take(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let from = &line.scrapping[usize::from(i)].from;
    from.iter().any(|&from| match from {
        TraysFrom::Accumulator { accumulator, reach } => {
            accumulator::comes_past(floor, accumulator, reach)
        }
        TraysFrom::BeltEnd(b) => belt::can_take(floor, b, None),
        from => waiting_at(floor, line, from, true) > 0,
    })
}

/// How long until a tray that circles comes within reach of whoever stands here.
pub(crate) fn comes_in(floor: &mut Floor, line: &Line, i: u8) -> Option<Span> {
    let from = line.scrapping[usize::from(i)].from.iter();
    from.filter_map(|from| match *from {
        TraysFrom::Accumulator { accumulator, reach } => {
            accumulator::comes_by_in(floor, accumulator, reach)
        }
        _ => None,
    })
    .min()
}

/// Takes a tray and begins: the tray, and the seconds it asks of a worker of normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) -> Option<(u32, f64)> {
    let spec = &line.scrapping[usize::from(i)];
    let mut from = spec.from.iter();
    let (from, place, (tray, since)) = from.find_map(|from| {
        let (place, taken) = take_from(floor, line, *from);
        Some((from, place, taken?))
    })?;
    let waited = floor.now.since(since);
    floor.telling.waited(place, waited);
    let factor = tape.diners()[tray as usize].factor;
    // Without a tray there is none to handle.
    let no_tray_s = if floor.ledger.is_loose(tray) {
        spec.handling_s
    } else {
        0.0
    };
    let mut whole_s = spec.tray_s(&floor.ledger.pieces[tray as usize]) - no_tray_s;
    if !floor.ledger.used.is_empty() {
        let diner = &tape.diners()[tray as usize];
        let saved_s = receivers::saved_s(floor, line, spec, tray, diner);
        // Work is never less than none.
        whole_s = (whole_s - saved_s).max(0.0);
    }
    let fetch_s = match from {
        TraysFrom::Overflow(_) => spec.fetch_s,
        _ => 0.0,
    };
    let seconds = (whole_s + fetch_s) * factor;
    floor.scrapping[usize::from(i)].in_work.push(tray);
    if !line.aids.is_empty() {
        aids_run(floor, line, i, tray);
    }
    Some((tray, seconds))
}

/// Takes a tray from here, if one is there to be taken: where that is, which tray, and since when it was there.
#[inline]
fn take_from(floor: &mut Floor, line: &Line, from: TraysFrom) -> (PlaceId, Option<(u32, SimTime)>) {
    match from {
        TraysFrom::Table(t) => {
            let place = floor.n.table[usize::from(t)];
            if floor.tables[usize::from(t)].room == 0 {
                (place, drop_off::take_from_hand(floor, line, t))
            } else {
                (place, take_from_table(floor, line, t, place))
            }
        }
        TraysFrom::BeltEnd(b) => (floor.n.belt[usize::from(b)], belt::take(floor, b, None)),
        TraysFrom::BeltAt {
            belt: b,
            at_mm,
            reach_mm,
        } => {
            let taken = belt::take(floor, b, Some((at_mm, reach_mm)));
            (floor.n.belt[usize::from(b)], taken)
        }
        TraysFrom::Accumulator {
            accumulator: a,
            reach,
        } => {
            let taken = accumulator::take(floor, a, reach);
            (floor.n.accumulator[usize::from(a)], taken)
        }
        TraysFrom::Carts(c) => (floor.n.carts[usize::from(c)], carts::take(floor, line, c)),
        TraysFrom::Overflow(d) => {
            let place = floor.n.overflow[usize::from(d)];
            let overflow = &mut floor.drop_offs[usize::from(d)].overflow;
            let taken = overflow.take();
            let held = overflow.len();
            floor.telling.level(place, held);
            (place, taken)
        }
    }
}

/// Takes the tray that has been on a table longest; whoever waits for room there looks again.
#[inline]
fn take_from_table(
    floor: &mut Floor,
    line: &Line,
    t: u8,
    place: PlaceId,
) -> Option<(u32, SimTime)> {
    let table = &mut floor.tables[usize::from(t)];
    let taken = table.take()?;
    let held = table.len();
    floor.telling.level(place, held);
    floor.mark_held_up_drop_offs();
    if floor.in_series {
        mark_those_before(floor, line, t);
    }
    Some(taken)
}

/// The aids at this post run for a tray and what is taken off it here.
#[cold]
fn aids_run(floor: &mut Floor, line: &Line, i: u8, tray: u32) {
    let spec = &line.scrapping[usize::from(i)];
    let on_tray = floor.ledger.pieces[tray as usize];
    let mut pieces = [0; MOST_CLASSES];
    for (class, (taken, &n)) in pieces.iter_mut().zip(&on_tray).enumerate() {
        if spec.takes_off(class) {
            *taken = u32::from(n);
        }
    }
    aids::used(floor, line, Post::Scrapping(i), 1, &pieces);
}

/// Whoever holds a tray for this table may now find room on it.
#[cold]
fn mark_those_before(floor: &mut Floor, line: &Line, table: u8) {
    for (i, spec) in line.scrapping.iter().enumerate() {
        if spec.passes_on.as_ref().is_some_and(|on| on.to == table)
            && !floor.scrapping[i].held.is_empty()
        {
            let no = floor.scrapping_no(i as u8);
            floor.mark(no);
        }
    }
}

/// What is taken off a tray here, and whether the tray has to go on with the rest.
#[inline]
fn take_off(floor: &mut Floor, spec: &Scrapping, tray: u32) -> ([u8; MOST_CLASSES], bool) {
    let on_tray = &mut floor.ledger.pieces[tray as usize];
    let Some(on) = &spec.passes_on else {
        return (*on_tray, false);
    };
    let mut off = [0; MOST_CLASSES];
    for ((off, on_tray), &takes) in off.iter_mut().zip(&mut *on_tray).zip(&on.takes_off) {
        if takes {
            *off = std::mem::take(on_tray);
        }
    }
    (off, on_tray.iter().any(|&n| n > 0))
}

/// A tray is broken down as far as it goes, with so much waste on it.
#[inline]
fn clear(floor: &mut Floor, waste_g: u32) {
    floor.telling.count(floor.n.count.cleared, 1);
    floor.telling.count(floor.n.count.waste, waste_g);
    floor.telling.add(floor.n.backlog, -1);
    floor.ledger.uncleared -= 1;
    if waste_g > 0 && floor.duties.by_weight {
        floor.duties.scraped_g += u64::from(waste_g);
        let no = floor.duties_no();
        floor.mark(no);
    }
}

/// The diner has put everything away at the drop-off: nothing of the tray is left to be broken down.
pub(crate) fn nothing_left(floor: &mut Floor) {
    clear(floor, 0);
    floor.mark_crew();
}

/// Waste on this tray, of so many grams in all: what is left of it, and a bit for each kind that goes to a store from this
/// post.
fn waste_on(floor: &Floor, line: &Line, i: u8, whole_g: u32, tray: u32) -> (u32, u8) {
    let thrown = floor.ledger.thrown.get(tray as usize).copied();
    let waste_g = match thrown {
        Some(thrown) if thrown > 0 => waste::left_of(line, whole_g, thrown),
        _ => whole_g,
    };
    let stores = line.scrapping[usize::from(i)].waste_to.iter().enumerate();
    let kinds = stores
        .filter(|(kind, store)| store.is_some() && thrown.unwrap_or(0) & (1 << kind) == 0)
        .map(|(kind, _)| 1 << kind)
        .sum();
    (waste_g, kinds)
}

/// The work on a tray is done: it is cleared unless the rest of it goes on to another post, and its pieces go on as far
/// as there is room. They are racked as the work ends, so a rack whose time runs out at this instant takes them along.
#[inline(never)]
pub(crate) fn finish(floor: &mut Floor, line: &Line, diner: &Diner, i: u8, tray: u32, worker: u8) {
    let (left, onward) = take_off(floor, &line.scrapping[usize::from(i)], tray);
    let mut in_hand = (waste::on_tray(line, diner), 0);
    if !onward {
        let (waste_g, kinds) = waste_on(floor, line, i, in_hand.0, tray);
        clear(floor, waste_g);
        in_hand.1 = kinds;
    }
    let now = floor.now;
    let state = &mut floor.scrapping[usize::from(i)];
    if let Some(k) = state.in_work.iter().position(|&t| t == tray) {
        state.in_work.swap_remove(k);
    }
    let nobody_before = state.held.is_empty();
    let mut held = Held {
        tray,
        since: now,
        left,
        onward,
        waste: in_hand,
        worker: Some(worker),
        left_by: None,
        because: None,
    };
    if nobody_before && move_on(floor, line, i, &mut held) {
        floor.release(worker);
        return;
    }
    floor.scrapping[usize::from(i)].held.push_back(held);
    if nobody_before {
        floor.hold(worker, held.because.unwrap_or_default());
    } else {
        settle(floor, line, i);
    }
    let no = floor.scrapping_no(i);
    floor.mark(no);
}

/// Moves pieces on, first come first, each as far as there is room.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let mut k = 0;
    while let Some(&held) = floor.scrapping[usize::from(i)].held.get(k) {
        let mut held = held;
        if move_on(floor, line, i, &mut held) {
            floor.scrapping[usize::from(i)].held.remove(k);
            if let Some(worker) = held.worker {
                floor.release(worker);
            }
        } else {
            if let (Some(worker), Some(because)) = (held.worker, held.because) {
                floor.hold(worker, because);
            }
            floor.scrapping[usize::from(i)].held[k] = held;
            k += 1;
        }
    }
}

/// Moves the pieces of one tray on as far as there is room, and then the tray itself if it goes on. Whether all have
/// found room.
#[inline(always)]
fn move_on(floor: &mut Floor, line: &Line, i: u8, held: &mut Held) -> bool {
    held.because = None;
    if held.waste.1 != 0 {
        throw_away(floor, line, i, held);
    }
    for (class, &route) in line.scrapping[usize::from(i)].routes.iter().enumerate() {
        let pieces = u16::from(held.left[class]);
        if pieces == 0 {
            continue;
        }
        let placed = send(floor, line, route, class as u8, held.tray, pieces);
        held.left[class] -= placed as u8;
        if placed < pieces && held.because.is_none() {
            let because = racking::lacking(floor, line, route, class as u8);
            let n = &floor.n;
            floor.wants_racks |=
                n.empty.contains(&because) || n.open.iter().flatten().any(|it| *it == because);
            held.because = Some(because);
            // From hand to hand: what is held is work that waits.
            let by_hand = racking::from_hand_to_hand(line, route, class as u8);
            floor.marked |= u64::from(by_hand) << floor.crew_no();
        }
    }
    if held.onward && !pass_on(floor, line, i, held) && held.because.is_none() {
        let on = &line.scrapping[usize::from(i)].passes_on;
        held.because = on.as_ref().map(|on| floor.n.table[usize::from(on.to)]);
    }
    held.because.is_none()
}

/// Sends pieces of a tray on where they go; how many there was room for.
#[inline(always)]
pub(crate) fn send(
    floor: &mut Floor,
    line: &Line,
    route: PiecesTo,
    class: u8,
    tray: u32,
    pieces: u16,
) -> u16 {
    match route {
        PiecesTo::Leave => {
            floor.pieces_clean(tray, pieces);
            let of_class = floor.n.count.class_clean[usize::from(class)];
            floor.telling.count(of_class, u32::from(pieces));
            servery::comes_back(floor, ClassId(class), u32::from(pieces), None);
            pieces
        }
        PiecesTo::Racks(r) => racking::put(floor, line, r, class, tray, pieces),
        PiecesTo::Pile(r) => racking::put_on_pile(floor, line, r, class, tray, pieces),
        PiecesTo::Stacks(b) => stacks::put(floor, line, b, class, tray, pieces),
        PiecesTo::Receiver(r) => receivers::put(floor, line, r, class, tray, pieces),
    }
}

/// Throws away what waste of a tray is in hand, each kind as a whole, where there is room.
#[cold]
fn throw_away(floor: &mut Floor, line: &Line, i: u8, held: &mut Held) {
    for (kind, store) in line.scrapping[usize::from(i)].waste_to.iter().enumerate() {
        let bit = 1 << kind;
        let Some(store) = *store else { continue };
        if held.waste.1 & bit == 0 {
            continue;
        }
        let grams = waste::of_kind(line, held.waste.0, kind as u8);
        if grams == 0 || waste::throw(floor, line, store, grams) {
            held.waste.1 &= !bit;
        } else if held.because.is_none() {
            held.because = Some(floor.n.waste[usize::from(store)]);
        }
    }
}

/// Puts a tray on the table before the next post, if it has room.
fn pass_on(floor: &mut Floor, line: &Line, i: u8, held: &mut Held) -> bool {
    let Some(on) = &line.scrapping[usize::from(i)].passes_on else {
        return false;
    };
    let table = &mut floor.tables[usize::from(on.to)];
    if !table.has_room() {
        return false;
    }
    table.put(held.tray, floor.now);
    let len = table.len();
    floor.telling.level(floor.n.table[usize::from(on.to)], len);
    floor.mark_crew();
    held.onward = false;
    true
}

/// Who holds pieces of this class for the piles of table `r`, first come first: since when, post, and which of its held.
fn holders(
    floor: &Floor,
    line: &Line,
    r: u8,
    class: u8,
) -> impl Iterator<Item = (SimTime, usize, usize)> {
    let posts = line.scrapping.iter().zip(&floor.scrapping).enumerate();
    posts
        .filter(move |(_, (spec, _))| spec.routes[usize::from(class)] == PiecesTo::Pile(r))
        .flat_map(move |(post, (_, state))| {
            let held = state.held.iter().enumerate();
            held.filter(move |(_, held)| held.left[usize::from(class)] > 0)
                .map(move |(k, held)| (held.since, post, k))
        })
}

/// Pieces of a class held out to whoever racks them at table `r`, where the pile has room for nothing.
pub(crate) fn offered(floor: &Floor, line: &Line, r: u8, class: u8) -> u32 {
    holders(floor, line, r, class)
        .map(|(_, post, k)| u32::from(floor.scrapping[post].held[k].left[usize::from(class)]))
        .sum()
}

/// Takes up to `most` pieces of a class from whoever has held some out longest: the tray they are of, and how many.
pub(crate) fn take_from_hand(
    floor: &mut Floor,
    line: &Line,
    r: u8,
    class: u8,
    most: u32,
) -> Option<(u32, u16)> {
    let (_, post, k) = holders(floor, line, r, class).min()?;
    let held = &mut floor.scrapping[post].held[k];
    let left = &mut held.left[usize::from(class)];
    let taken = u32::from(*left).min(most) as u8;
    *left -= taken;
    let tray = held.tray;
    let no = floor.scrapping_no(post as u8);
    floor.mark(no);
    Some((tray, u16::from(taken)))
}
