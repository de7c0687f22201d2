//! How a meal runs: what is due, then settling, until the end.

use crate::calendar::Key;
use crate::ended::{Balance, Ended, Fault, How};
pub use crate::line::floor::Floor;

use crate::line::floor::Element;
use crate::line::{
    Line, MOST_CLASSES, accumulator, already, audit, belt, carts, clean_end, crew, delivery,
    drop_off, duty, gate, gridlock, lane, machine, queue::Queue, racking, receivers, scrapping,
    servery, stacks, trouble, waste,
};
use crate::tape::Tape;
use crate::time::{SimTime, Span};
use crate::watch::Observer;

/// More visits than this in one instant is a runaway.
const MOST_VISITS: u32 = 2_000_000;
/// Still busy so long after the last drop-off: never drained.
const DRAINS_WITHIN: Span = Span::from_us(12 * 3600 * 1_000_000);

/// Runs one meal.
///
/// The same line and tape give the same calls to the observer and the same result, bit for bit, whatever the machine.
///
/// # Errors
/// [`Fault::Line`] when the line's parts do not fit together, [`Fault::Runaway`] and [`Fault::Balance`] when the run
/// itself goes wrong.
pub fn run<O: Observer>(
    line: &Line,
    tape: &Tape,
    floor: &mut Floor,
    seen: &mut O,
) -> Result<Ended, Fault> {
    if let Some(fault) = floor.begin(line, tape, O::WATCHES) {
        return Err(fault);
    }
    floor.telling.follows = O::WATCHES && O::FOLLOWS;
    let mut events = 0;
    let last_due = last_drop_off(line, tape) + DRAINS_WITHIN;
    floor.now = line.starts;
    floor.mark_all();
    let how = loop {
        settle(floor, line, tape)?;
        let next = floor.calendar.first();
        // The instant is over when nothing more is due at it.
        if next == Key::NEVER || next.at() > floor.now {
            floor.telling.flush(floor.now, seen);
            if floor.audits {
                audit::recount(floor, line).map_err(|what| Fault::Balance {
                    at: floor.now,
                    what,
                })?;
            }
            if line.ends.is_none() && all_clean(floor) && floor.now >= floor.crew.last_shift_ends {
                break How::AllClean;
            }
            if gridlock::possible(floor, next)
                && let Some(sentence) = gridlock::find(floor, line)
            {
                break How::Gridlock(sentence);
            }
        }
        // Nothing is ever due before now; should a line say so, it is due now.
        let at = next.at().max(floor.now);
        if next == Key::NEVER || line.ends.is_some_and(|end| at >= end) {
            if line.ends.is_none() && !all_clean(floor) {
                break How::Gridlock(gridlock::left_over(floor, line));
            }
            break if line.ends.is_some() {
                How::StatedEnd
            } else {
                How::AllClean
            };
        }
        if line.ends.is_none() && (at > last_due && !all_clean(floor) || at == SimTime::LAST) {
            break How::NeverDrained;
        }
        floor.now = at;
        // What was due at this instant, in order of phase and slot.
        let mut key = next;
        loop {
            events += 1;
            let owner = floor.owners[key.slot() as usize];
            floor.calendar.handle(key.slot());
            due(floor, line, tape, owner.element, owner.local);
            // Most set their next themselves; whoever did not is no longer due.
            floor.calendar.done();
            key = floor.calendar.first();
            if key == Key::NEVER || key.at() > at {
                break;
            }
        }
    };
    floor.telling.flush_rest(floor.now, seen);
    let at = match how {
        How::StatedEnd => line.ends.unwrap_or(floor.now),
        How::NeverDrained => last_due,
        _ => floor.now,
    };
    floor.now = at;
    audit::recount(floor, line).map_err(|what| Fault::Balance { at, what })?;
    Ok(ended(floor, line, how, at, events))
}

fn last_drop_off(line: &Line, tape: &Tape) -> SimTime {
    let last = tape
        .coming()
        .last()
        .map_or(line.starts, |&d| tape.diners()[d as usize].comes);
    last.max(line.starts)
}

fn all_clean(floor: &Floor) -> bool {
    floor.ledger.to_come == 0
        && floor.ledger.pieces_inside() == 0
        && floor.ledger.uncleared == 0
        && !floor.carts.iter().any(|c| c.has_soiled_carts())
        && !floor.crew.anybody_at_work()
}

fn ended(floor: &mut Floor, line: &Line, how: How, at: SimTime, events: u64) -> Ended {
    let rinse_us = (0..line.machines.len() as u8)
        .map(|i| machine::rinse_us(floor, line, i))
        .collect();
    let ledger = &floor.ledger;
    let balance = Balance {
        trays_in: ledger.trays_in,
        trays_out: ledger.trays_out,
        trays_inside: ledger.trays_inside(),
        pieces_in: ledger.pieces_in,
        pieces_out: ledger.pieces_out,
        pieces_inside: ledger.pieces_inside(),
        inside_by_class: audit::inside_by_class(floor, line),
        unfinished: audit::unfinished(floor, line),
    };
    let all_clean_at = (balance.pieces_inside == 0)
        .then_some(floor.last_clean)
        .flatten();
    Ended {
        how,
        at,
        all_clean_at,
        balance,
        events,
        rinse_us,
        unpaid_us: crew::unpaid_us(floor),
        waste_us: waste::running_us(floor, line),
        cleaning_left: duty::cleaning_left(floor, line),
    }
}

#[inline(always)]
fn due(floor: &mut Floor, line: &Line, tape: &Tape, element: Element, local: u32) {
    match element {
        Element::Servery => servery::due(floor, line, tape, local),
        Element::Delivery => delivery::arrive(floor, local),
        Element::CleanEnd(i) => clean_end::due(floor, line, i, local),
        Element::Machine(i) => machine::due(floor, line, i, local),
        Element::Lane(i) => lane::due(floor, line, i, local),
        Element::Racking(i) => racking::due(floor, line, i, local),
        Element::Waste => waste::due(floor, line, local),
        Element::Stacks(i) => stacks::due(floor, line, i, local),
        Element::Receivers | Element::Scrapping(_) => {}
        Element::Belt(i) => belt::due(floor, line, i, local),
        Element::Accumulator(i) => accumulator::due(floor, line, i, local),
        Element::Carts(i) => carts::due(floor, line, tape, i, local),
        Element::DropOff(i) => drop_off::due(floor, line, tape, i, local),
        Element::Trouble => trouble::due(floor, line, local),
        Element::Duties => duty::due(floor, line, local),
        Element::Crew => crew::due(floor, line, tape, local),
    }
}

/// Whatever can move or start in no time does so until nothing changes, always the most downstream element that has
/// something to do; workers are given work when the ware has come to rest.
#[inline(always)]
fn settle(floor: &mut Floor, line: &Line, tape: &Tape) -> Result<(), Fault> {
    let mut visits = 0;
    loop {
        while floor.marked != 0 {
            let number = floor.marked.trailing_zeros();
            floor.marked &= floor.marked - 1;
            visits += 1;
            if visits > MOST_VISITS {
                return Err(runaway(floor, line, number));
            }
            match floor.elements[number as usize] {
                Element::Servery => servery::settle(floor, line, tape),
                Element::Delivery => {}
                Element::CleanEnd(i) => clean_end::settle(floor, line, i),
                Element::Machine(i) => machine::settle(floor, line, i),
                Element::Lane(i) => lane::settle(floor, line, i),
                Element::Racking(i) => racking::settle(floor, line, i),
                Element::Waste => {}
                Element::Receivers => receivers::settle(floor, line),
                Element::Stacks(i) => stacks::settle(floor, line, i),
                Element::Scrapping(i) => scrapping::settle(floor, line, i),
                Element::Belt(i) => belt::settle(floor, line, i),
                Element::Accumulator(i) => accumulator::settle(floor, line, i),
                Element::Carts(i) => carts::settle(floor, line, i),
                Element::DropOff(i) => drop_off::settle(floor, line, tape, i),
                Element::Trouble => trouble::settle(floor, line),
                Element::Duties => duty::settle(floor, line),
                Element::Crew => crew::settle(floor, line, tape),
            }
        }
        // Closing time, or the last tray sorted, is news for whoever waits for more.
        if !line.stack_belts.is_empty() && stacks::last_go(floor) {
            continue;
        }
        let over = floor.nothing_soiled_upstream();
        if over == floor.rush_over {
            let last_change = !line.receivers.is_empty() && receivers::last_changes(floor, line);
            if last_change || over && duty::cleaning_falls_due(floor, line) {
                continue;
            }
            return Ok(());
        }
        floor.rush_over = over;
        waste::rush_is_over(floor, over);
        if over {
            floor.mark_all();
        }
    }
}

/// Too many visits in one instant; the last of them to this element.
#[cold]
fn runaway(floor: &Floor, line: &Line, number: u32) -> Fault {
    Fault::Runaway {
        at: floor.now,
        place: audit::name_of(line, floor.elements[number as usize]),
    }
}

impl Floor {
    /// Everything as it is before the first event.
    pub(crate) fn begin(&mut self, line: &Line, tape: &Tape, watched: bool) -> Option<Fault> {
        if let Some(fault) = line.faults().into_iter().next() {
            return Some(Fault::Line(fault));
        }
        self.fit(line);
        let (places, actors) = self.sizes(line);
        self.telling.wipe(watched, places, actors);
        self.calendar.wipe(self.owners.len());
        self.root = tape.root();
        self.now = line.starts;
        self.marked = 0;
        self.rush_over = false;
        self.wants_racks = false;
        self.last_clean = None;
        self.ledger.wipe(tape);
        self.racks.wipe(line);
        self.broken = [0; MOST_CLASSES];
        for (kind, spec) in line.rack_kinds.iter().enumerate() {
            self.telling.begin_level(self.n.empty[kind], spec.count);
        }
        self.tables.resize_with(line.tables.len(), Queue::default);
        for (table, spec) in self.tables.iter_mut().zip(&line.tables) {
            table.wipe(spec.room);
        }
        servery::wipe(self, line, tape);
        delivery::wipe(self, line);
        clean_end::wipe(self, line);
        machine::wipe(self, line);
        lane::wipe(self, line);
        gate::wipe(self, line);
        racking::wipe(self, line);
        receivers::wipe(self, line, tape.diners().len());
        waste::wipe(self, line);
        stacks::wipe(self, line);
        scrapping::wipe(self, line);
        belt::wipe(self, line);
        accumulator::wipe(self, line);
        carts::wipe(self, line, tape);
        drop_off::wipe(self, line, tape);
        trouble::wipe(self, line);
        duty::wipe(self, line);
        crew::wipe(self, line, tape);
        already::begin(self, line, tape).err().map(Fault::Line)
    }
}
