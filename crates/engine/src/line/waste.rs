//! Waste: kinds of it, and where they go: a disposer or pulper with a rate of its own, or bins that are emptied by hand. Either
//! may be full; whoever has waste in hand then stands there.

use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{DutyWhen, Line};
use crate::tape::Diner;
use crate::time::{SimTime, Span, US_PER_MIN};

/// A kind of waste, and its share of what is on a tray.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WasteKind {
    /// Its name.
    pub name: String,
    /// Its share of the weight, in millionths. All together are a million.
    pub share_ppm: u32,
}

/// Where waste goes.
#[derive(Clone, Debug, PartialEq)]
pub struct WasteStore {
    /// Its name.
    pub name: String,
    /// What becomes of it there.
    pub kind: StoreKind,
}

/// What becomes of waste in a store.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreKind {
    /// A disposer or pulper takes what one tray brings after another.
    Ground {
        /// Grams a minute.
        g_per_min: u32,
        /// Grams it and the trough before it hold, what is being ground included; `None`: as much as comes.
        room_g: Option<u32>,
        /// It runs from the start until the last tray is broken down; else only while there is something to grind.
        throughout: bool,
    },
    /// Bins side by side, filled one after the other. A full one is emptied by somebody of the crew.
    Bins {
        /// Grams that one holds.
        each_g: u32,
        /// How many there are.
        count: u32,
    },
}

/// Most kinds of waste.
pub const MOST_WASTE_KINDS: usize = 8;
/// Most grams a store may hold: 1,000 tonnes.
const MOST_G: u32 = 1_000_000_000;

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// What each tray brought, in order; what is being ground comes first. In bins: what is in each full one.
    lumps: VecDeque<u32>,
    /// Grams in the bin that is being filled.
    filling: u32,
    /// Since when the first lump is being ground.
    since: SimTime,
    /// Microseconds of grinding that are over.
    ground_us: u64,
    /// Grams thrown in and taken out so far.
    thrown: u64,
    gone: u64,
    /// Bins filled so far.
    pub(crate) filled: u64,
    /// When the last tray was broken down and nothing was left to grind.
    done: Option<SimTime>,
}

impl State {
    fn grams(&self) -> u64 {
        self.lumps.iter().map(|&g| u64::from(g)).sum::<u64>() + u64::from(self.filling)
    }

    /// Whether all that was thrown in is here or has been taken out.
    pub(crate) fn adds_up(&self) -> bool {
        self.thrown == self.gone + self.grams()
    }
}

pub(crate) fn slots(line: &Line) -> u32 {
    line.waste_stores.len() as u32
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .waste
        .resize_with(line.waste_stores.len(), State::default);
    for state in &mut floor.waste {
        state.lumps.clear();
        state.filling = 0;
        state.ground_us = 0;
        state.thrown = 0;
        state.gone = 0;
        state.filled = 0;
        state.done = None;
    }
}

/// Grams of waste on the tray that this diner brings: the tray's own, and what is on each piece taken.
pub(crate) fn on_tray(line: &Line, diner: &Diner) -> u32 {
    let classes = line.classes.iter().zip(&diner.pieces);
    let on_pieces = classes.map(|(class, &n)| class.waste_g.saturating_mul(u32::from(n)));
    on_pieces.fold(diner.waste_g, u32::saturating_add)
}

/// Grams of a kind in so many grams of waste. All kinds together are all of it.
pub(crate) fn of_kind(line: &Line, grams: u32, kind: u8) -> u32 {
    let upto = |kinds: usize| {
        let ppm: u64 = line.waste_kinds[..kinds]
            .iter()
            .map(|it| u64::from(it.share_ppm))
            .sum();
        (u64::from(grams) * ppm / 1_000_000) as u32
    };
    let kind = usize::from(kind);
    if kind + 1 == line.waste_kinds.len() {
        return grams - upto(kind);
    }
    upto(kind + 1) - upto(kind)
}

/// Grams of a tray's waste that are still on it when the kinds of these bits have been thrown away.
pub(crate) fn left_of(line: &Line, grams: u32, thrown: u8) -> u32 {
    let kinds = 0..line.waste_kinds.len() as u8;
    let away: u32 = kinds
        .filter(|kind| thrown & (1 << kind) != 0)
        .map(|kind| of_kind(line, grams, kind))
        .sum();
    grams - away
}

/// Throws waste into a store, all of it or none. Whether there was room.
pub(crate) fn throw(floor: &mut Floor, line: &Line, store: u8, grams: u32) -> bool {
    let now = floor.now;
    let s = usize::from(store);
    let state = &mut floor.waste[s];
    match line.waste_stores[s].kind {
        StoreKind::Ground {
            g_per_min, room_g, ..
        } => {
            // What is more than it holds goes in by itself when it is empty.
            let held = state.grams();
            let fits = room_g.is_none_or(|room| held + u64::from(grams) <= u64::from(room));
            if !fits && held > 0 {
                return false;
            }
            state.lumps.push_back(grams);
            if state.lumps.len() == 1 {
                state.since = now;
                let no = floor.waste_no();
                floor.set(
                    no,
                    u32::from(store),
                    Phase::End,
                    now + lasts(grams, g_per_min),
                );
            }
        }
        StoreKind::Bins { each_g, count } => {
            let full = state.filling > 0
                && u64::from(state.filling) + u64::from(grams) > u64::from(each_g);
            if full {
                state.lumps.push_back(state.filling);
                state.filling = 0;
                state.filled += 1;
                let no = floor.duties_no();
                floor.mark(no);
            }
            let state = &mut floor.waste[s];
            if state.lumps.len() as u32 >= count {
                return false;
            }
            state.filling += grams;
        }
    }
    floor.waste[s].thrown += u64::from(grams);
    tell(floor, s);
    true
}

/// Waste that is already there: being ground, or in as many bins as it fills. Whether there is room for it.
pub(crate) fn lies_there(floor: &mut Floor, line: &Line, store: u8, grams: u32) -> bool {
    match line.waste_stores[usize::from(store)].kind {
        StoreKind::Ground { room_g, .. } => {
            let held = floor.waste[usize::from(store)].grams() + u64::from(grams);
            room_g.is_none_or(|room| held <= u64::from(room)) && throw(floor, line, store, grams)
        }
        StoreKind::Bins { each_g, .. } => {
            // Each bin is filled to the brim before the next.
            let mut left = grams;
            while left > 0 {
                let filling = floor.waste[usize::from(store)].filling % each_g;
                let part = left.min(each_g - filling);
                left -= part;
                if !throw(floor, line, store, part) {
                    return false;
                }
            }
            true
        }
    }
}

/// How long so many grams are being ground.
fn lasts(grams: u32, g_per_min: u32) -> Span {
    let us = (u64::from(grams) * US_PER_MIN).div_ceil(u64::from(g_per_min.max(1)));
    Span::from_us(us.max(1))
}

fn tell(floor: &mut Floor, s: usize) {
    let grams = floor.waste[s].grams().min(u64::from(u32::MAX)) as u32;
    floor.telling.level(floor.n.waste[s], grams);
}

/// What one tray brought is ground.
#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, local: u32) {
    let now = floor.now;
    let s = local as usize;
    let StoreKind::Ground { g_per_min, .. } = line.waste_stores[s].kind else {
        return;
    };
    let state = &mut floor.waste[s];
    let Some(grams) = state.lumps.pop_front() else {
        return;
    };
    state.gone += u64::from(grams);
    state.ground_us += now.since(state.since).us();
    if let Some(&next) = state.lumps.front() {
        state.since = now;
        let no = floor.waste_no();
        floor.set(no, local, Phase::End, now + lasts(next, g_per_min));
    } else if floor.rush_over {
        state.done = Some(now);
    }
    tell(floor, s);
    tell_those_who_wait(floor, line);
}

/// A full bin has been emptied.
pub(crate) fn empty_bin(floor: &mut Floor, line: &Line, store: u8) {
    let s = usize::from(store);
    let state = &mut floor.waste[s];
    if let Some(grams) = state.lumps.pop_front() {
        state.gone += u64::from(grams);
    }
    tell(floor, s);
    tell_those_who_wait(floor, line);
}

/// There may be room for waste again.
fn tell_those_who_wait(floor: &mut Floor, line: &Line) {
    for (i, spec) in line.drop_offs.iter().enumerate() {
        if !spec.aids.is_empty() {
            let no = floor.drop_off_no(i as u8);
            floor.mark(no);
        }
    }
    floor.mark_scrapping();
}

/// Every tray is broken down, or not any more: what runs throughout stops when it has nothing more to grind.
pub(crate) fn rush_is_over(floor: &mut Floor, over: bool) {
    let now = floor.now;
    for state in &mut floor.waste {
        state.done = (over && state.lumps.is_empty()).then_some(now);
    }
}

/// Microseconds each store's machine has run, up to now. Nought for bins.
pub(crate) fn running_us(floor: &Floor, line: &Line) -> Vec<u64> {
    let now = floor.now;
    let each = line.waste_stores.iter().zip(&floor.waste);
    each.map(|(spec, state)| match spec.kind {
        StoreKind::Bins { .. } => 0,
        StoreKind::Ground {
            throughout: true, ..
        } => state.done.unwrap_or(now).since(line.starts).us(),
        StoreKind::Ground { .. } if state.lumps.is_empty() => state.ground_us,
        StoreKind::Ground { .. } => state.ground_us + now.since(state.since).us(),
    })
    .collect()
}

impl Line {
    /// What does not fit together about waste.
    pub(crate) fn waste_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let whole: u64 = self
            .waste_kinds
            .iter()
            .map(|it| u64::from(it.share_ppm))
            .sum();
        let some = !self.waste_kinds.is_empty();
        if self.waste_kinds.len() > MOST_WASTE_KINDS || some && whole != 1_000_000 {
            faults.push("the kinds of waste are too many, or not all of it".into());
        }
        for (s, it) in self.waste_stores.iter().enumerate() {
            let fits = match it.kind {
                StoreKind::Ground {
                    g_per_min, room_g, ..
                } => {
                    (1..=MOST_G).contains(&g_per_min)
                        && room_g.is_none_or(|room| (1..=MOST_G).contains(&room))
                }
                StoreKind::Bins { each_g, count } => {
                    (1..=MOST_G).contains(&each_g) && (1..=10_000).contains(&count)
                }
            };
            let mut duties = self.duties.iter();
            let emptied = duties.any(|duty| duty.when == DutyWhen::BinFull(s as u8));
            if !fits || emptied != matches!(it.kind, StoreKind::Bins { .. }) {
                faults.push(format!(
                    "{} takes no waste, or is emptied by nobody",
                    it.name
                ));
            }
        }
        for it in &self.scrapping {
            let fits = it.waste_to.is_empty()
                || it.waste_to.len() == self.waste_kinds.len()
                    && it
                        .waste_to
                        .iter()
                        .flatten()
                        .all(|&store| usize::from(store) < self.waste_stores.len());
            if !fits {
                faults.push(format!("scrapping {} throws waste nowhere", it.name));
            }
        }
        faults
    }
}
