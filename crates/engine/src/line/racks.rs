//! Racks: finite pools by kind; each rack remembers whose pieces it holds.

use std::collections::VecDeque;

use crate::line::{ClassId, Line};
use crate::time::SimTime;

/// Number of a rack kind in [`crate::line::Line::rack_kinds`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RackKindId(pub u8);

/// A kind of rack: a finite pool.
#[derive(Clone, Debug, PartialEq)]
pub struct RackKind {
    /// Its name.
    pub name: String,
    /// How many there are.
    pub count: u32,
}

/// One rack.
#[derive(Clone, Debug, Default)]
pub(crate) struct Rack {
    pub(crate) kind: u8,
    pub(crate) class: u8,
    pub(crate) size: u16,
    pub(crate) fill: u16,
    pub(crate) opened: SimTime,
    pub(crate) closed: SimTime,
    pub(crate) washed_from: SimTime,
    pub(crate) machine: u8,
    /// Its ware is to be washed a second time after this.
    pub(crate) first_pass: bool,
    /// Length it takes of a flight machine's belt, in odometer units.
    pub(crate) length: i64,
    /// Trays and how many pieces of each.
    pub(crate) contents: Vec<(u32, u16)>,
}

/// The kind of what is no rack: a lot of loose ware.
const LOOSE: u8 = u8::MAX;

impl Rack {
    /// Whether it is no rack but a lot of ware placed loose on a flight machine's belt.
    pub(crate) fn is_loose(&self) -> bool {
        self.kind == LOOSE
    }

    /// Clean pieces carried in it.
    pub(crate) fn carried(&self) -> u16 {
        self.fill
    }
}

/// All racks, and which are empty and free.
#[derive(Clone, Debug, Default)]
pub(crate) struct Racks {
    pub(crate) all: Vec<Rack>,
    free: Vec<VecDeque<u32>>,
    /// How many of `all` are racks; the others are lots of loose ware.
    owned: usize,
    spare_lots: Vec<u32>,
}

impl Racks {
    pub(crate) fn wipe(&mut self, line: &Line) {
        let total: usize = line.rack_kinds.iter().map(|k| k.count as usize).sum();
        if self.owned != total {
            self.all.truncate(total.min(self.owned));
            self.owned = total;
        }
        if self.all.len() < total {
            self.all.resize_with(total, Rack::default);
        }
        self.spare_lots.clear();
        for (lot, it) in self.all.iter_mut().enumerate().skip(total) {
            it.contents.clear();
            it.fill = 0;
            self.spare_lots.push(lot as u32);
        }
        self.free.resize_with(line.rack_kinds.len(), VecDeque::new);
        let mut next = 0;
        for (kind, spec) in line.rack_kinds.iter().enumerate() {
            self.free[kind].clear();
            for _ in 0..spec.count {
                let rack = &mut self.all[next];
                rack.kind = kind as u8;
                rack.fill = 0;
                rack.length = 0;
                rack.contents.clear();
                self.free[kind].push_back(next as u32);
                next += 1;
            }
        }
    }

    pub(crate) fn get(&self, rack: u32) -> &Rack {
        &self.all[rack as usize]
    }

    pub(crate) fn get_mut(&mut self, rack: u32) -> &mut Rack {
        &mut self.all[rack as usize]
    }

    /// Empty racks of a kind that are free.
    pub(crate) fn empty(&self, kind: RackKindId) -> u32 {
        self.free[usize::from(kind.0)].len() as u32
    }

    /// The first of these rack kinds that has an empty one, with its size.
    pub(crate) fn kind_of(&self, fits: &[(RackKindId, u16)]) -> Option<(RackKindId, u16)> {
        let mut fits = fits.iter().copied();
        fits.find(|&(kind, _)| self.empty(kind) > 0)
    }

    /// Takes an empty rack for a class. It is one of the first pass, where there are two.
    pub(crate) fn open(&mut self, line: &Line, class: ClassId, now: SimTime) -> Option<u32> {
        let it = &line.classes[usize::from(class.0)];
        let rack = self.open_of(&it.fits, class, now)?;
        self.all[rack as usize].first_pass = it.second_pass.is_some();
        Some(rack)
    }

    /// Takes an empty rack of these kinds for a class, for its last pass.
    pub(crate) fn open_of(
        &mut self,
        fits: &[(RackKindId, u16)],
        class: ClassId,
        now: SimTime,
    ) -> Option<u32> {
        let (kind, size) = self.kind_of(fits)?;
        let id = self.free[usize::from(kind.0)].pop_front()?;
        let rack = &mut self.all[id as usize];
        rack.class = class.0;
        rack.size = size;
        rack.fill = 0;
        rack.first_pass = false;
        rack.opened = now;
        rack.contents.clear();
        Some(id)
    }

    /// An empty lot for loose ware of a class.
    pub(crate) fn lot(&mut self, line: &Line, class: ClassId, now: SimTime) -> u32 {
        let lot = self.spare_lots.pop().unwrap_or_else(|| {
            self.all.push(Rack::default());
            (self.all.len() - 1) as u32
        });
        let it = &mut self.all[lot as usize];
        it.kind = LOOSE;
        it.class = class.0;
        it.first_pass = line.classes[usize::from(class.0)].second_pass.is_some();
        it.opened = now;
        it.closed = now;
        lot
    }

    /// Puts up to `pieces` of `tray` into the rack; how many went in.
    pub(crate) fn fill(&mut self, rack: u32, tray: u32, pieces: u16, now: SimTime) -> u16 {
        let rack = &mut self.all[rack as usize];
        let fits = pieces.min(rack.size - rack.fill);
        if fits == 0 {
            return 0;
        }
        if rack.fill == 0 {
            rack.opened = now;
        }
        rack.fill += fits;
        match rack.contents.last_mut() {
            Some((last, n)) if *last == tray => *n += fits,
            _ => rack.contents.push((tray, fits)),
        }
        fits
    }

    /// The rack is empty and free again; its kind. A lot of loose ware is no more, and of no kind.
    pub(crate) fn free(&mut self, rack: u32) -> Option<RackKindId> {
        let it = &mut self.all[rack as usize];
        it.fill = 0;
        it.length = 0;
        it.contents.clear();
        if it.is_loose() {
            self.spare_lots.push(rack);
            return None;
        }
        let kind = it.kind;
        self.free[usize::from(kind)].push_back(rack);
        Some(RackKindId(kind))
    }
}
