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
    /// Trays and how many pieces of each.
    pub(crate) contents: Vec<(u32, u16)>,
}

impl Rack {
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
}

impl Racks {
    pub(crate) fn wipe(&mut self, line: &Line) {
        let total: usize = line.rack_kinds.iter().map(|k| k.count as usize).sum();
        self.all.resize_with(total, Rack::default);
        self.free.resize_with(line.rack_kinds.len(), VecDeque::new);
        let mut next = 0;
        for (kind, spec) in line.rack_kinds.iter().enumerate() {
            self.free[kind].clear();
            for _ in 0..spec.count {
                let rack = &mut self.all[next];
                rack.kind = kind as u8;
                rack.fill = 0;
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

    /// The first rack kind of those the class fits that has an empty one, with its size.
    pub(crate) fn kind_for(&self, line: &Line, class: ClassId) -> Option<(RackKindId, u16)> {
        line.classes[usize::from(class.0)]
            .fits
            .iter()
            .copied()
            .find(|&(kind, _)| self.empty(kind) > 0)
    }

    /// Takes an empty rack for a class.
    pub(crate) fn open(&mut self, line: &Line, class: ClassId, now: SimTime) -> Option<u32> {
        let (kind, size) = self.kind_for(line, class)?;
        let id = self.free[usize::from(kind.0)].pop_front()?;
        let rack = &mut self.all[id as usize];
        rack.class = class.0;
        rack.size = size;
        rack.fill = 0;
        rack.opened = now;
        rack.contents.clear();
        Some(id)
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

    /// The rack is empty and free again; its kind.
    pub(crate) fn free(&mut self, rack: u32) -> RackKindId {
        let it = &mut self.all[rack as usize];
        it.fill = 0;
        it.contents.clear();
        let kind = it.kind;
        self.free[usize::from(kind)].push_back(rack);
        RackKindId(kind)
    }
}
