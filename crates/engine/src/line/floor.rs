//! The storage of one meal: what is where, who is doing what, what is due. Wiped and used again for the next meal.

use crate::calendar::{Calendar, Phase};
use crate::line::catalogue::{Numbers, number};
use crate::line::ledger::Ledger;
use crate::line::racks::Racks;
use crate::line::telling::Telling;
use crate::line::{
    ClassId, Line, MOST_CLASSES, accumulator, belt, carts, clean_end, crew, delivery, drop_off,
    duty, gate, lane, machine, queue::Queue, racking, receivers, scrapping, servery, stacks,
    trouble, waste,
};
use crate::streams::Root;
use crate::time::SimTime;
use crate::watch::Step;

/// One thing that can be visited. Numbered downstream first; the number is its bit in the set of the marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Element {
    Servery,
    Delivery,
    CleanEnd(u8),
    Machine(u8),
    Lane(u8),
    Racking(u8),
    Waste,
    Receivers,
    Stacks(u8),
    Scrapping(u8),
    Belt(u8),
    Accumulator(u8),
    Carts(u8),
    DropOff(u8),
    Trouble,
    Duties,
    Crew,
}

/// Whose slot it is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Owner {
    /// The element.
    pub(crate) element: Element,
    /// Which of its slots.
    pub(crate) local: u32,
    /// Whether what it stands for can move ware, or free somebody who moves it.
    pub(crate) frees: bool,
}

/// Number of the first element of each kind; the servery is 0.
#[derive(Clone, Copy, Debug, Default)]
struct Firsts {
    clean_end: u8,
    machine: u8,
    lane: u8,
    racking: u8,
    waste: u8,
    stacks: u8,
    scrapping: u8,
    belt: u8,
    accumulator: u8,
    carts: u8,
    drop_off: u8,
    trouble: u8,
}

/// The storage of one meal. Make one with [`Floor::new`] and use it for many.
#[derive(Clone, Debug, Default)]
pub struct Floor {
    pub(crate) now: SimTime,
    pub(crate) calendar: Calendar,
    /// Bits of the elements that have something to look at.
    pub(crate) marked: u64,
    pub(crate) elements: Vec<Element>,
    pub(crate) owners: Vec<Owner>,
    first_slot: Vec<u32>,
    firsts: Firsts,
    pub(crate) n: Numbers,
    pub(crate) root: Root,
    pub(crate) telling: Telling,
    pub(crate) ledger: Ledger,
    pub(crate) racks: Racks,
    /// Pieces broken so far, by class.
    pub(crate) broken: [u64; MOST_CLASSES],
    pub(crate) drop_offs: Vec<drop_off::State>,
    pub(crate) belts: Vec<belt::State>,
    pub(crate) accumulators: Vec<accumulator::State>,
    pub(crate) tables: Vec<Queue>,
    pub(crate) carts: Vec<carts::State>,
    pub(crate) receivers: Vec<receivers::State>,
    pub(crate) waste: Vec<waste::State>,
    pub(crate) scrapping: Vec<scrapping::State>,
    /// Whether any post passes trays on to another.
    pub(crate) in_series: bool,
    pub(crate) stacks: Vec<stacks::State>,
    pub(crate) racking: Vec<racking::State>,
    pub(crate) lanes: Vec<lane::State>,
    pub(crate) gates: Vec<gate::State>,
    pub(crate) machines: Vec<machine::State>,
    pub(crate) clean_ends: Vec<clean_end::State>,
    pub(crate) delivery: delivery::State,
    pub(crate) servery: servery::State,
    pub(crate) trouble: trouble::State,
    pub(crate) duties: duty::State,
    pub(crate) crew: crew::State,
    /// Whether it has been noticed that nothing soiled is left upstream of the racks.
    pub(crate) rush_over: bool,
    /// Somebody has begun to wait for an empty rack: worth a look whether one can ever come.
    pub(crate) wants_racks: bool,
    /// When the last tray so far became wholly clean.
    pub(crate) last_clean: Option<SimTime>,
    /// Recount everything after every instant.
    pub(crate) audits: bool,
    fitted: Option<Box<Line>>,
}

impl Floor {
    /// An empty floor.
    pub fn new() -> Floor {
        Floor::default()
    }

    /// Recount all trays, pieces and racks after every instant, and stop with a fault when something is lost. Slow;
    /// for tests.
    pub fn audit_every_instant(&mut self, audits: bool) {
        self.audits = audits;
    }

    /// Numbers elements and slots for `line`; done once for runs of the same line.
    pub(crate) fn fit(&mut self, line: &Line) {
        if self.fitted.as_deref() == Some(line) {
            return;
        }
        let (numbers, catalogue) = number(line);
        self.n = numbers;
        self.n.places = catalogue.places.len() as u16;
        self.elements.clear();
        self.elements.push(Element::Servery);
        self.elements.push(Element::Delivery);
        let firsts = &mut self.firsts;
        let mut push = |count: usize, element: fn(u8) -> Element| {
            let first = self.elements.len() as u8;
            self.elements.extend((0..count as u8).map(element));
            first
        };
        firsts.clean_end = push(line.clean_ends.len(), Element::CleanEnd);
        firsts.machine = push(line.machines.len(), Element::Machine);
        firsts.lane = push(line.lanes.len(), Element::Lane);
        firsts.racking = push(line.racking.len(), Element::Racking);
        firsts.waste = push(1, |_| Element::Waste);
        push(1, |_| Element::Receivers);
        firsts.stacks = push(line.stack_belts.len(), Element::Stacks);
        firsts.scrapping = push(line.scrapping.len(), Element::Scrapping);
        firsts.belt = push(line.belts.len(), Element::Belt);
        firsts.accumulator = push(line.accumulators.len(), Element::Accumulator);
        firsts.carts = push(line.carts.len(), Element::Carts);
        firsts.drop_off = push(line.drop_offs.len(), Element::DropOff);
        firsts.trouble = push(1, |_| Element::Trouble);
        self.elements.push(Element::Duties);
        self.elements.push(Element::Crew);

        self.owners.clear();
        self.first_slot.clear();
        for &element in &self.elements {
            self.first_slot.push(self.owners.len() as u32);
            for local in 0..slots_of(element, line) {
                let frees = match element {
                    Element::Duties => false,
                    Element::Crew => local.is_multiple_of(crew::SLOTS_A_WORKER),
                    _ => true,
                };
                self.owners.push(Owner {
                    element,
                    local,
                    frees,
                });
            }
        }
        self.fitted = Some(Box::new(line.clone()));
    }

    #[inline]
    pub(crate) fn slot(&self, element: u8, local: u32) -> u32 {
        self.first_slot[usize::from(element)] + local
    }

    /// Slot `local` of `element` is due at `at`.
    #[inline]
    pub(crate) fn set(&mut self, element: u8, local: u32, phase: Phase, at: SimTime) {
        let slot = self.slot(element, local);
        self.calendar.set(slot, phase, at);
    }

    /// Slot `local` of `element` is due at `at`, or not at all.
    #[inline]
    pub(crate) fn set_or_clear(
        &mut self,
        element: u8,
        local: u32,
        phase: Phase,
        at: Option<SimTime>,
    ) {
        let slot = self.slot(element, local);
        match at {
            Some(at) => self.calendar.set(slot, phase, at),
            None => self.calendar.clear(slot),
        }
    }

    pub(crate) fn clear(&mut self, element: u8, local: u32) {
        let slot = self.slot(element, local);
        self.calendar.clear(slot);
    }

    #[inline]
    pub(crate) fn mark(&mut self, element: u8) {
        self.marked |= 1 << element;
    }

    pub(crate) fn mark_servery(&mut self) {
        self.marked |= 1;
    }

    /// The crew looks again, unless there is nobody who could be given anything.
    #[inline]
    pub(crate) fn mark_crew(&mut self) {
        if self.crew.somebody_looks() {
            self.mark(self.crew_no());
        }
    }

    pub(crate) fn mark_all(&mut self) {
        self.marked = (1 << self.elements.len()) - 1;
    }

    #[inline]
    pub(crate) fn clean_end_no(&self, i: u8) -> u8 {
        self.firsts.clean_end + i
    }

    #[inline]
    pub(crate) fn machine_no(&self, i: u8) -> u8 {
        self.firsts.machine + i
    }

    #[inline]
    pub(crate) fn lane_no(&self, i: u8) -> u8 {
        self.firsts.lane + i
    }

    #[inline]
    pub(crate) fn racking_no(&self, i: u8) -> u8 {
        self.firsts.racking + i
    }

    #[inline]
    pub(crate) fn waste_no(&self) -> u8 {
        self.firsts.waste
    }

    #[inline]
    pub(crate) fn receivers_no(&self) -> u8 {
        self.firsts.waste + 1
    }

    #[inline]
    pub(crate) fn stacks_no(&self, i: u8) -> u8 {
        self.firsts.stacks + i
    }

    #[inline]
    pub(crate) fn scrapping_no(&self, i: u8) -> u8 {
        self.firsts.scrapping + i
    }

    #[inline]
    pub(crate) fn belt_no(&self, i: u8) -> u8 {
        self.firsts.belt + i
    }

    #[inline]
    pub(crate) fn accumulator_no(&self, i: u8) -> u8 {
        self.firsts.accumulator + i
    }

    #[inline]
    pub(crate) fn carts_no(&self, i: u8) -> u8 {
        self.firsts.carts + i
    }

    #[inline]
    pub(crate) fn drop_off_no(&self, i: u8) -> u8 {
        self.firsts.drop_off + i
    }

    #[inline]
    pub(crate) fn trouble_no(&self) -> u8 {
        self.firsts.trouble
    }

    #[inline]
    pub(crate) fn duties_no(&self) -> u8 {
        self.firsts.trouble + 1
    }

    #[inline]
    pub(crate) fn crew_no(&self) -> u8 {
        self.firsts.trouble + 2
    }

    /// Marks the racking tables where somebody waits for a rack: one may have come.
    pub(crate) fn mark_racking(&mut self) {
        for i in 0..self.racking.len() as u8 {
            if self.racking[usize::from(i)].wants_a_rack() {
                self.mark(self.racking_no(i));
            }
        }
    }

    /// Marks the clean ends where ware waits to be taken back to a pile: one may have room now.
    pub(crate) fn mark_tubs(&mut self) {
        for i in 0..self.clean_ends.len() as u8 {
            if !self.clean_ends[usize::from(i)].tub.is_empty() {
                self.mark(self.clean_end_no(i));
            }
        }
        self.mark_receivers();
    }

    /// Marks the receivers: there may be room for what was taken away from one.
    pub(crate) fn mark_receivers(&mut self) {
        if !self.receivers.is_empty() {
            self.mark(self.receivers_no());
        }
    }

    /// Marks the belts at whose end a stack lies: its pile may have room now.
    #[inline]
    pub(crate) fn mark_stacks(&mut self) {
        for i in 0..self.stacks.len() as u8 {
            self.mark(self.stacks_no(i));
        }
    }

    /// Marks the scrapping posts where pieces are held: room for them may have come.
    pub(crate) fn mark_scrapping(&mut self) {
        for i in 0..self.scrapping.len() as u8 {
            if !self.scrapping[usize::from(i)].held.is_empty() {
                self.mark(self.scrapping_no(i));
            }
        }
        self.mark_receivers();
    }

    /// Marks the drop-offs where a diner holds a tray that finds no room.
    #[inline]
    pub(crate) fn mark_held_up_drop_offs(&mut self) {
        for (no, drop_off) in (self.firsts.drop_off..).zip(&self.drop_offs) {
            self.marked |= u64::from(drop_off.is_held_up()) << no;
        }
    }

    /// Marks the machines whose bits are set, but those that do not look at what waits.
    #[inline]
    pub(crate) fn mark_these_machines(&mut self, bits: u64) {
        let first = self.firsts.machine;
        for (i, machine) in (0..).zip(&self.machines) {
            let looks = bits >> i & 1 == 1 && machine.looks_at_what_waits();
            self.marked |= u64::from(looks) << (first + i);
        }
    }

    /// Marks every machine: what is to come may have changed.
    pub(crate) fn mark_machines(&mut self) {
        self.mark_these_machines(u64::MAX);
    }

    /// Whether the drop-offs are closed, every tray is cleared and sorted, and nothing of it is in stacks on a belt.
    #[inline]
    pub(crate) fn nothing_soiled_upstream(&self) -> bool {
        self.all_broken_down() && receivers::all_empty(self)
    }

    /// Whether the drop-offs are closed, every tray is broken down, and nothing of it is in stacks on a belt.
    pub(crate) fn all_broken_down(&self) -> bool {
        self.all_sorted() && self.stacks.iter().all(|s| s.is_empty())
    }

    /// Whether the drop-offs are closed and no soiled tray is left that has not been cleared and sorted.
    #[inline]
    pub(crate) fn all_sorted(&self) -> bool {
        self.ledger.uncleared == 0
            && self.drop_offs.iter().all(|d| d.closed)
            && self.carts.iter().all(|c| c.closed)
            && self.scrapping.iter().all(|s| s.held.is_empty())
    }
}

impl Floor {
    /// How many places and actors `line` has.
    pub(crate) fn sizes(&self, line: &Line) -> (usize, usize) {
        let places = self.n.places;
        (
            usize::from(places),
            line.crew.len()
                + line.machines.len()
                + line.belts.len()
                + line.accumulators.len()
                + line.stack_belts.len(),
        )
    }

    /// Pieces of a tray are clean.
    pub(crate) fn pieces_clean(&mut self, tray: u32, pieces: u16) {
        self.telling
            .count(self.n.count.pieces_clean, u32::from(pieces));
        self.out_of_the_line(tray, pieces);
    }

    /// Pieces of a tray are on the line no longer: clean, or broken.
    pub(crate) fn out_of_the_line(&mut self, tray: u32, pieces: u16) {
        if self.ledger.clean(tray, pieces) {
            self.telling.count(self.n.count.clean, 1);
            self.telling.step(Step::Clean(tray));
            self.last_clean = Some(self.now);
        }
    }

    /// The ware in a rack is clean; the rack still holds it.
    pub(crate) fn rack_clean(&mut self, rack: u32) {
        let it = self.racks.get(rack);
        let of_class = self.n.count.class_clean[usize::from(it.class)];
        let fill = u32::from(it.fill);
        self.telling.count(of_class, fill);
        self.telling.step(Step::RackClean(rack));
        let mut contents = std::mem::take(&mut self.racks.get_mut(rack).contents);
        for (tray, pieces) in contents.drain(..) {
            self.pieces_clean(tray, pieces);
        }
        self.racks.get_mut(rack).contents = contents;
    }

    /// The rack leaves the line: its ware is clean and at the servery, the rack back at once.
    pub(crate) fn rack_clean_and_free(&mut self, rack: u32) {
        self.rack_clean(rack);
        let it = self.racks.get(rack);
        let (class, pieces) = (ClassId(it.class), u32::from(it.fill));
        servery::comes_back(self, class, pieces, None);
        self.rack_free(rack);
        self.mark_racking();
        self.mark_scrapping();
        self.mark_crew();
    }

    /// An empty rack is free again.
    pub(crate) fn rack_free(&mut self, rack: u32) {
        if let Some(kind) = self.racks.free(rack) {
            self.telling.add(self.n.empty[usize::from(kind.0)], 1);
        }
    }
}

fn slots_of(element: Element, line: &Line) -> u32 {
    match element {
        Element::Servery => servery::SLOTS,
        Element::Delivery => line.delivery.as_ref().map_or(0, |d| d.carts),
        Element::CleanEnd(_) => clean_end::slots(line),
        Element::Machine(_) => machine::SLOTS,
        Element::Lane(_) => lane::SLOTS,
        Element::Racking(i) => line.racking[usize::from(i)].slots(),
        Element::Waste => waste::slots(line),
        Element::Stacks(_) => stacks::SLOTS,
        Element::Receivers | Element::Scrapping(_) => 0,
        Element::Belt(_) => belt::SLOTS,
        Element::Accumulator(_) => accumulator::SLOTS,
        Element::Carts(_) => carts::SLOTS,
        Element::DropOff(i) => {
            drop_off::SLOTS + line.drop_offs[usize::from(i)].positions_mm.len() as u32
        }
        Element::Trouble => trouble::SLOTS_EACH * line.troubles.len() as u32,
        Element::Duties => duty::slots(line),
        Element::Crew => crew::SLOTS_A_WORKER * line.crew.len() as u32,
    }
}
