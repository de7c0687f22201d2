//! Receivers: what diners put in themselves at a drop-off (a cutlery chute, a glass rack, a stack of trays), and carts that
//! fill at a post. Each fills, is changed by somebody of the crew, and what was in it goes on along the line.

use std::collections::VecDeque;

use crate::line::floor::Floor;
use crate::line::racks::Racks;
use crate::line::{
    ClassId, DropOff, DutyWhen, Line, MOST_CLASSES, PiecesTo, RacksTo, Scrapping, lane, scrapping,
    waste,
};
use crate::tape::Diner;
use crate::watch::Step;

/// A place that takes pieces until it is full.
#[derive(Clone, Debug, PartialEq)]
pub struct Receiver {
    /// Its name.
    pub name: String,
    /// Room for so many pieces; `None`: as many as come. A rack has the room of its kind.
    pub room: Option<u32>,
    /// Somebody is called to change it at so many pieces; `None`: when it is full.
    pub call_at: Option<u32>,
    /// How what is in it goes on.
    pub goes: ReceiverGoes,
}

/// How what is in a receiver goes on along the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReceiverGoes {
    /// By itself, as soon as there is room: a chute that ends over a sink.
    StraightOn(PiecesTo),
    /// When somebody has changed it.
    Changed(PiecesTo),
    /// It is a rack out of the pool; whoever changes it puts it on this lane as it is.
    AsRack(u8),
}

/// A way that ware of a class goes from the table or a drop-off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Piece by piece.
    Pieces(PiecesTo),
    /// In the rack it was put into, onto this lane.
    Rack(u8),
}

/// What a diner does at a drop-off before putting the tray down.
#[derive(Clone, Debug, PartialEq)]
pub struct DinerAid {
    /// Classes of ware put there, by class.
    pub takes: Vec<bool>,
    /// Where they are put.
    pub into: AidInto,
    /// The tray itself is put there too, so there is none to handle at the table.
    pub takes_tray: bool,
    /// More seconds for a diner who puts anything there.
    pub adds_s: f64,
    /// More seconds for each piece.
    pub adds_piece_s: f64,
    /// Seconds of work less at the table on the tray of a diner who did.
    pub saves_s: f64,
    /// When it is full the diner waits for it; else the rest stays on the tray.
    pub waits: bool,
}

/// Where a diner puts something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AidInto {
    /// Ware, into this receiver.
    Receiver(u8),
    /// Waste of this kind, into this store.
    Waste {
        /// Number of the kind of waste.
        kind: u8,
        /// Number of the store.
        store: u8,
    },
}

/// Most things a diner can be asked to do at one drop-off.
pub const MOST_DINER_AIDS: usize = 14;
/// The work that was saved at the table has been taken off.
const TAKEN_OFF: u16 = 1 << 15;

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// What is in it: class, tray, pieces.
    held: VecDeque<(u8, u32, u16)>,
    count: u32,
    /// The rack that stands there.
    rack: Option<u32>,
    /// What has been taken away and finds no room yet.
    away: VecDeque<(u8, u32, u16)>,
    away_rack: Option<u32>,
    /// Somebody has been called to change it.
    pub(crate) called: bool,
}

impl State {
    /// Adds the pieces that are here loose, by class.
    pub(crate) fn pieces(&self, by_class: &mut [u64; MOST_CLASSES]) {
        for &(class, _, pieces) in self.held.iter().chain(&self.away) {
            by_class[usize::from(class)] += u64::from(pieces);
        }
    }

    /// Pieces that are here, in racks and loose.
    pub(crate) fn len(&self, racks: &Racks) -> usize {
        let loose = self
            .held
            .iter()
            .chain(&self.away)
            .map(|it| usize::from(it.2));
        let racked = self.racks().map(|rack| usize::from(racks.get(rack).fill));
        loose.chain(racked).sum()
    }

    /// Racks that stand here.
    pub(crate) fn racks(&self) -> impl Iterator<Item = u32> + '_ {
        self.rack.iter().chain(&self.away_rack).copied()
    }

    fn is_empty(&self) -> bool {
        self.count == 0 && !self.waits_to_go()
    }

    /// Whether something that was taken away finds no room.
    fn waits_to_go(&self) -> bool {
        !self.away.is_empty() || self.away_rack.is_some()
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, diners: usize) {
    floor
        .receivers
        .resize_with(line.receivers.len(), State::default);
    for state in &mut floor.receivers {
        state.held.clear();
        state.away.clear();
        state.count = 0;
        state.rack = None;
        state.away_rack = None;
        state.called = false;
    }
    floor.ledger.used.clear();
    floor.ledger.thrown.clear();
    if line.drop_offs.iter().any(|it| !it.aids.is_empty()) {
        floor.ledger.used.resize(diners, 0);
        floor.ledger.thrown.resize(diners, 0);
    }
}

/// Nothing is in any receiver, or on its way from one.
pub(crate) fn all_empty(floor: &Floor) -> bool {
    floor.receivers.iter().all(State::is_empty)
}

/// Puts pieces into a receiver; how many there was room for.
pub(crate) fn put(floor: &mut Floor, line: &Line, r: u8, class: u8, tray: u32, pieces: u16) -> u16 {
    let spec = &line.receivers[usize::from(r)];
    let fits = match spec.goes {
        ReceiverGoes::AsRack(_) => into_rack(floor, line, r, class, tray, pieces),
        ReceiverGoes::StraightOn(_) | ReceiverGoes::Changed(_) => {
            let state = &mut floor.receivers[usize::from(r)];
            let room = spec.room.unwrap_or(u32::MAX).saturating_sub(state.count);
            let fits = u32::from(pieces).min(room) as u16;
            if fits > 0 {
                state.count += u32::from(fits);
                let straight_on = matches!(spec.goes, ReceiverGoes::StraightOn(_));
                let queue = if straight_on {
                    &mut state.away
                } else {
                    &mut state.held
                };
                queue.push_back((class, tray, fits));
                if straight_on {
                    let no = floor.receivers_no();
                    floor.mark(no);
                }
            }
            fits
        }
    };
    let count = floor.receivers[usize::from(r)].count;
    floor.telling.level(floor.n.receiver[usize::from(r)], count);
    if fits < pieces || wants_change(floor, line, r) {
        call(floor, line, r);
    }
    fits
}

fn into_rack(floor: &mut Floor, line: &Line, r: u8, class: u8, tray: u32, pieces: u16) -> u16 {
    let now = floor.now;
    if floor.receivers[usize::from(r)].rack.is_none() {
        let Some(rack) = floor.racks.open(line, ClassId(class), now) else {
            return 0;
        };
        let kind = floor.racks.get(rack).kind;
        floor.telling.add(floor.n.empty[usize::from(kind)], -1);
        floor.receivers[usize::from(r)].rack = Some(rack);
    }
    let state = &mut floor.receivers[usize::from(r)];
    let Some(rack) = state.rack else { return 0 };
    let went = floor.racks.fill(rack, tray, pieces, now);
    state.count += u32::from(went);
    if went > 0 {
        floor.telling.step(Step::Racked {
            tray,
            class,
            rack,
            pieces: went,
        });
    }
    went
}

/// Whether it holds so much that somebody is to change it.
fn wants_change(floor: &Floor, line: &Line, r: u8) -> bool {
    let spec = &line.receivers[usize::from(r)];
    let state = &floor.receivers[usize::from(r)];
    let rack = state.rack.map(|rack| floor.racks.get(rack));
    spec.call_at.is_some_and(|at| state.count >= at)
        || spec.room.is_some_and(|room| state.count >= room)
        || rack.is_some_and(|rack| rack.fill == rack.size)
}

/// Calls somebody to change it, once, and not while what was taken away last still stands about.
fn call(floor: &mut Floor, line: &Line, r: u8) {
    let state = &mut floor.receivers[usize::from(r)];
    let by_hand = !matches!(
        line.receivers[usize::from(r)].goes,
        ReceiverGoes::StraightOn(_)
    );
    if by_hand && !state.called && state.count > 0 && !state.waits_to_go() {
        state.called = true;
        let no = floor.duties_no();
        floor.mark(no);
    }
}

/// It has been changed: what was in it is taken away.
pub(crate) fn change(floor: &mut Floor, line: &Line, r: u8) {
    let now = floor.now;
    let state = &mut floor.receivers[usize::from(r)];
    state.called = false;
    state.count = 0;
    state.away_rack = state.rack.take();
    std::mem::swap(&mut state.held, &mut state.away);
    if let Some(rack) = state.away_rack {
        floor.racks.get_mut(rack).closed = now;
        floor.telling.step(Step::RackSent(rack));
    }
    floor.telling.level(floor.n.receiver[usize::from(r)], 0);
    tell_those_who_wait(floor, line);
    let no = floor.receivers_no();
    floor.mark(no);
}

/// There is room in a receiver again.
fn tell_those_who_wait(floor: &mut Floor, line: &Line) {
    for (i, spec) in line.drop_offs.iter().enumerate() {
        if !spec.aids.is_empty() {
            let no = floor.drop_off_no(i as u8);
            floor.mark(no);
        }
    }
    floor.mark_scrapping();
}

/// Moves on what was taken away, as far as there is room for it.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line) {
    for (r, spec) in line.receivers.iter().enumerate() {
        if !floor.receivers[r].waits_to_go() {
            continue;
        }
        match spec.goes {
            ReceiverGoes::AsRack(l) => {
                if let Some(rack) = floor.receivers[r].away_rack
                    && lane::has_room(floor, line, l)
                {
                    floor.receivers[r].away_rack = None;
                    lane::put(floor, line, l, rack);
                    floor.mark_crew();
                    floor.mark_machines();
                }
            }
            ReceiverGoes::StraightOn(to) | ReceiverGoes::Changed(to) => {
                let moved = go_on(floor, line, r, to);
                if moved > 0 && matches!(spec.goes, ReceiverGoes::StraightOn(_)) {
                    let state = &mut floor.receivers[r];
                    state.count -= moved;
                    let count = state.count;
                    floor.telling.level(floor.n.receiver[r], count);
                    tell_those_who_wait(floor, line);
                }
            }
        }
        // What came meanwhile may have filled it.
        if wants_change(floor, line, r as u8) {
            call(floor, line, r as u8);
        }
    }
}

/// Moves pieces on, first come first, each as far as there is room; how many went.
fn go_on(floor: &mut Floor, line: &Line, r: usize, to: PiecesTo) -> u32 {
    let mut moved = 0;
    let mut k = 0;
    while let Some(&(class, tray, pieces)) = floor.receivers[r].away.get(k) {
        let went = scrapping::send(floor, line, to, class, tray, pieces);
        moved += u32::from(went);
        let away = &mut floor.receivers[r].away;
        if went == pieces {
            away.remove(k);
        } else {
            away[k].2 -= went;
            k += 1;
        }
    }
    moved
}

/// Calls for a last change where nothing more can come. Whether any was.
pub(crate) fn last_changes(floor: &mut Floor, line: &Line) -> bool {
    let mut any = false;
    for r in 0..line.receivers.len() as u8 {
        let state = &floor.receivers[usize::from(r)];
        if state.count > 0 && !state.called && nothing_more_comes(floor, line, r) {
            call(floor, line, r);
            any |= floor.receivers[usize::from(r)].called;
        }
    }
    any
}

fn nothing_more_comes(floor: &Floor, line: &Line, r: u8) -> bool {
    let by_diners = line
        .drop_offs
        .iter()
        .zip(&floor.drop_offs)
        .all(|(spec, it)| {
            let mut aids = spec.aids.iter();
            !aids.any(|aid| aid.into == AidInto::Receiver(r))
                || it.closed && it.in_hands().next().is_none()
        });
    let mut routes = line.scrapping.iter().flat_map(|post| &post.routes);
    let at_a_post = routes.any(|route| *route == PiecesTo::Receiver(r));
    by_diners && (!at_a_post || floor.all_broken_down())
}

/// A diner does what is to be done before putting the tray down, as far as there is room: the seconds it takes, and whether
/// they must wait for a receiver.
pub(crate) fn used_by_diner(
    floor: &mut Floor,
    line: &Line,
    spec: &DropOff,
    diner: u32,
    it: &Diner,
) -> (f64, bool) {
    let (mut seconds, mut waits) = (0.0, false);
    for (k, aid) in spec.aids.iter().enumerate() {
        let (put, left) = match aid.into {
            AidInto::Receiver(r) => ware_in(floor, line, aid, r, diner),
            AidInto::Waste { kind, store } => waste_in(floor, line, (kind, store), diner, it),
        };
        let used = &mut floor.ledger.used[diner as usize];
        if put > 0 {
            if *used & (1 << k) == 0 {
                *used |= 1 << k;
                seconds += aid.adds_s;
            }
            seconds += f64::from(put) * aid.adds_piece_s;
        }
        waits |= left && aid.waits;
    }
    (seconds, waits)
}

/// Puts this diner's pieces in; how many went in, and whether any did not.
fn ware_in(floor: &mut Floor, line: &Line, aid: &DinerAid, r: u8, diner: u32) -> (u32, bool) {
    let (mut put_in, mut left) = (0, false);
    for class in 0..line.classes.len() {
        let pieces = floor.ledger.pieces[diner as usize][class];
        if pieces == 0 || !aid.takes.get(class).copied().unwrap_or(false) {
            continue;
        }
        let went = put(floor, line, r, class as u8, diner, u16::from(pieces));
        floor.ledger.pieces[diner as usize][class] -= went as u8;
        put_in += u32::from(went);
        left |= went < u16::from(pieces);
    }
    (put_in, left)
}

/// Throws this diner's waste of a kind away: whether it went in (as one thing put there), and whether it did not.
fn waste_in(
    floor: &mut Floor,
    line: &Line,
    (kind, store): (u8, u8),
    diner: u32,
    it: &Diner,
) -> (u32, bool) {
    let grams = waste::of_kind(line, waste::on_tray(line, it), kind);
    if grams == 0 || floor.ledger.thrown[diner as usize] & (1 << kind) != 0 {
        return (0, false);
    }
    if !waste::throw(floor, line, store, grams) {
        return (0, true);
    }
    floor.ledger.thrown[diner as usize] |= 1 << kind;
    floor.telling.count(floor.n.count.waste, grams);
    (1, false)
}

/// Whether a diner has put everything away at the drop-off, tray and all.
pub(crate) fn nothing_left(
    floor: &Floor,
    line: &Line,
    spec: &DropOff,
    diner: u32,
    it: &Diner,
) -> bool {
    let Some(&used) = floor.ledger.used.get(diner as usize) else {
        return false;
    };
    used != 0
        && floor.ledger.pieces[diner as usize] == [0; MOST_CLASSES]
        && (floor.ledger.is_loose(diner) || has_no_tray(spec, used))
        && waste::left_of(
            line,
            waste::on_tray(line, it),
            floor.ledger.thrown[diner as usize],
        ) == 0
}

fn has_no_tray(spec: &DropOff, used: u16) -> bool {
    let mut aids = spec.aids.iter().enumerate();
    aids.any(|(k, aid)| aid.takes_tray && used & (1 << k) != 0)
}

/// Seconds of work less on this tray at this post, for what its diner has done: the tray where there is none, and once
/// what the aids save.
pub(crate) fn saved_s(
    floor: &mut Floor,
    line: &Line,
    post: &Scrapping,
    diner: u32,
    it: &Diner,
) -> f64 {
    let (Some(used), Some(spec)) = (
        floor.ledger.used.get_mut(diner as usize),
        line.drop_offs.get(usize::from(it.drop_off)),
    ) else {
        return 0.0;
    };
    if *used & !TAKEN_OFF == 0 {
        return 0.0;
    }
    let tray_s = match has_no_tray(spec, *used) {
        true => post.handling_s,
        false => 0.0,
    };
    if *used & TAKEN_OFF != 0 {
        return tray_s;
    }
    *used |= TAKEN_OFF;
    let used = *used;
    let aids = spec.aids.iter().enumerate();
    let saved: f64 = aids
        .filter(|(k, _)| used & (1 << k) != 0)
        .map(|(_, aid)| aid.saves_s)
        .sum();
    tray_s + saved
}

impl Line {
    /// What does not fit together about receivers and what diners do.
    pub(crate) fn receiver_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let pile_or_racks = |to: PiecesTo, class: usize| match to {
            PiecesTo::Leave => true,
            PiecesTo::Racks(r) => self
                .racking
                .get(usize::from(r))
                .is_some_and(|r| !matches!(r.to, RacksTo::Machine(_))),
            PiecesTo::Pile(r) => self.racking.get(usize::from(r)).is_some_and(|r| {
                let mut piles = r.piles.iter();
                piles.any(|p| usize::from(p.class.0) == class && p.room != Some(0))
            }),
            PiecesTo::Stacks(_) | PiecesTo::Receiver(_) => false,
        };
        for (r, it) in self.receivers.iter().enumerate() {
            let classes = self.classes_into(r as u8);
            let changed = self
                .duties
                .iter()
                .filter(|duty| duty.when == DutyWhen::Change(r as u8));
            let (goes_on, by_hand) = match it.goes {
                ReceiverGoes::StraightOn(to) => {
                    (classes.iter().all(|&class| pile_or_racks(to, class)), 0)
                }
                ReceiverGoes::Changed(to) => {
                    (classes.iter().all(|&class| pile_or_racks(to, class)), 1)
                }
                ReceiverGoes::AsRack(l) => {
                    let fits = |class: &usize| !self.classes[*class].fits.is_empty();
                    let lane = usize::from(l) < self.lanes.len();
                    (lane && classes.len() <= 1 && classes.iter().all(fits), 1)
                }
            };
            if !goes_on {
                faults.push(format!("what is put into {} goes nowhere", it.name));
            }
            if changed.count() != by_hand {
                faults.push(format!("{} is changed by nobody, or twice over", it.name));
            }
            if it.room == Some(0) || it.call_at == Some(0) {
                faults.push(format!("{} has room for nothing", it.name));
            }
        }
        for it in &self.drop_offs {
            let fits = it.aids.iter().all(|aid| {
                aid.takes.len() == self.classes.len()
                    && match aid.into {
                        AidInto::Receiver(r) => usize::from(r) < self.receivers.len(),
                        AidInto::Waste { kind, store } => {
                            usize::from(kind) < self.waste_kinds.len()
                                && usize::from(store) < self.waste_stores.len()
                        }
                    }
            });
            if !fits || it.aids.len() > MOST_DINER_AIDS {
                faults.push(format!(
                    "diners at drop-off {} do what cannot be done",
                    it.name
                ));
            }
        }
        faults
    }

    /// Room of a receiver that is a rack: the largest of those its class fits.
    pub fn rack_room(&self, r: u8) -> Option<u32> {
        let it = self.receivers.get(usize::from(r))?;
        let ReceiverGoes::AsRack(_) = it.goes else {
            return None;
        };
        let classes = self.classes_into(r).into_iter();
        let sizes = classes.flat_map(|class| &self.classes[class].fits);
        sizes.map(|&(_, size)| u32::from(size)).max()
    }

    /// Every way that pieces of a class can go, receivers followed to where they lead.
    pub fn ways_of(&self, class: usize) -> impl Iterator<Item = Way> + '_ {
        let routes = self.scrapping.iter().filter_map(move |post| {
            let route = post.routes.get(class)?;
            (!matches!(route, PiecesTo::Receiver(_))).then_some(Way::Pieces(*route))
        });
        let receivers = (0..).zip(&self.receivers);
        let through = receivers.filter(move |(r, _)| self.classes_into(*r).contains(&class));
        routes.chain(through.map(|(_, it)| match it.goes {
            ReceiverGoes::StraightOn(to) | ReceiverGoes::Changed(to) => Way::Pieces(to),
            ReceiverGoes::AsRack(lane) => Way::Rack(lane),
        }))
    }

    /// Whether pieces of a class come to a racking table: into its racks, on its piles, in stacks, or between two passes.
    pub fn comes_to(&self, class: usize, table: u8) -> bool {
        let second = self.classes[class].second_pass.as_ref();
        let mut ways = self.ways_of(class);
        ways.any(|way| matches!(way, Way::Pieces(to) if self.table_of(to) == Some(table)))
            || second.is_some_and(|it| it.at == table)
    }

    /// Numbers of the classes that can come into a receiver.
    pub fn classes_into(&self, r: u8) -> Vec<usize> {
        let classes = 0..self.classes.len();
        classes.filter(|&class| self.goes_into(r, class)).collect()
    }

    /// Whether pieces of a class can come into a receiver.
    pub(crate) fn goes_into(&self, r: u8, class: usize) -> bool {
        let mut aids = self.drop_offs.iter().flat_map(|it| &it.aids);
        let mut posts = self.scrapping.iter();
        aids.any(|aid| aid.into == AidInto::Receiver(r) && aid.takes.get(class) == Some(&true))
            || posts.any(|post| post.routes.get(class) == Some(&PiecesTo::Receiver(r)))
    }
}
