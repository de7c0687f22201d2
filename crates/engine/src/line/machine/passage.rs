//! Racks into a machine and out of it.

use crate::line::floor::Floor;
use crate::line::{Line, Stands, clean_end, lane, trouble};
use crate::time::{SimTime, Span};
use crate::watch::{RackTrip, Step};

use super::control::{Power, Running};
use super::{Chamber, MachineKind, State};

/// Sends washed racks out as far as the clean end has room.
pub(super) fn send_out(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    loop {
        let state = &floor.machines[usize::from(i)];
        let first = match spec.kind {
            MachineKind::Door { .. } => state.inside.first().copied(),
            MachineKind::Conveyor { .. } => state.tunnel.things().next(),
        };
        let to = clean_end::of_rack(floor, line, spec.to, first);
        if to.is_some_and(|c| !clean_end::has_room(floor, c)) {
            return;
        }
        let state = &mut floor.machines[usize::from(i)];
        let rack = match spec.kind {
            MachineKind::Door { .. }
                if state.chamber == Chamber::Washed && !state.inside.is_empty() =>
            {
                Some(state.inside.remove(0))
            }
            MachineKind::Door { .. } => None,
            MachineKind::Conveyor { .. } => {
                let gone = state.tunnel.gone();
                let put = state.tunnel.put_down_at().next();
                let taken = state.tunnel.take_at_end();
                if let (Some(put), Some(_)) = (put, taken) {
                    state.rinse.passes(put, gone);
                }
                taken.map(|(rack, _)| rack)
            }
        };
        if state.chamber == Chamber::Washed && state.inside.is_empty() {
            state.chamber = Chamber::Empty;
        }
        let Some(rack) = rack else { return };
        let now = floor.now;
        let it = floor.racks.get(rack);
        floor
            .telling
            .count(floor.n.count.racks_out[usize::from(i)], 1);
        floor.telling.trip(RackTrip {
            kind: it.kind,
            class: it.class,
            machine: i,
            pieces: it.fill,
            size: it.size,
            opened: it.opened,
            closed: it.closed,
            washed_from: it.washed_from,
            out: now,
        });
        floor.telling.step(Step::RackOut(rack));
        match to {
            Some(c) => clean_end::receive(floor, line, c, rack),
            None => floor.rack_clean_and_free(rack),
        }
    }
}

/// Takes racks in from the lane, or from the loader's hands.
pub(super) fn take_in(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    let now = floor.now;
    if floor.machines[usize::from(i)].power == Power::Ending && spec.loading.is_none() {
        // Switched off: what is inside (or in the loader's hands) is finished, nothing more comes in.
        return;
    }
    match spec.kind {
        MachineKind::Door { batch, .. } => {
            if floor.machines[usize::from(i)].chamber != Chamber::Empty {
                return;
            }
            if spec.loading.is_some() {
                let state = &mut floor.machines[usize::from(i)];
                if !std::mem::take(&mut state.loaded) {
                    return;
                }
                std::mem::swap(&mut state.inside, &mut state.in_hand);
            } else {
                for k in 0..batch {
                    let Some(rack) = lane::take(floor, line, spec.from, k > 0) else {
                        break;
                    };
                    floor.machines[usize::from(i)].inside.push(rack);
                }
            }
            if floor.machines[usize::from(i)].inside.is_empty() {
                return;
            }
            for k in 0..floor.machines[usize::from(i)].inside.len() {
                let rack = floor.machines[usize::from(i)].inside[k];
                goes_in(floor, line, i, rack);
            }
            begin_cycle(&mut floor.machines[usize::from(i)], now);
        }
        MachineKind::Conveyor { .. } => {
            let state = &floor.machines[usize::from(i)];
            if state.tunnel.lies_at_end() || !state.tunnel.can_land(0) {
                return;
            }
            let rack = if spec.loading.is_some() {
                let state = &mut floor.machines[usize::from(i)];
                if !std::mem::take(&mut state.loaded) {
                    return;
                }
                state.in_hand.pop()
            } else {
                lane::take(floor, line, spec.from, false)
            };
            if let Some(rack) = rack {
                floor.machines[usize::from(i)].tunnel.land(0, rack, now);
                goes_in(floor, line, i, rack);
            }
        }
    }
}

/// A rack that is already inside, with so many `behind` it. Whether the machine is hot and has room.
pub(crate) fn is_inside(floor: &mut Floor, line: &Line, i: u8, rack: u32, behind: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.machines[usize::from(i)];
    if state.power != Power::On {
        return false;
    }
    match &line.machines[usize::from(i)].kind {
        MachineKind::Door { batch, .. } => {
            if state.inside.len() >= *batch as usize {
                return false;
            }
            state.inside.push(rack);
            if behind == 0 {
                begin_cycle(state, now);
            }
        }
        MachineKind::Conveyor {
            pitch_mm,
            tunnel_mm,
            ..
        } => {
            let at = behind.saturating_mul(*pitch_mm);
            if at > *tunnel_mm || !state.tunnel.can_land(at) {
                return false;
            }
            state.tunnel.land(at, rack, now);
        }
    }
    state.running = Running::Yes;
    goes_in(floor, line, i, rack);
    true
}

/// A cycle of the chamber begins.
fn begin_cycle(state: &mut State, now: SimTime) {
    let seconds = state.cycle.constant();
    let seconds = seconds.unwrap_or_else(|| state.cycle.draw(state.luck.at(state.cycles * 4)));
    state.cycles += 1;
    let length = Span::from_us(Span::drawn(seconds).us().max(1));
    state.chamber = Chamber::Cycle(length, now + length);
}

pub(super) fn goes_in(floor: &mut Floor, line: &Line, i: u8, rack: u32) {
    trouble::passes(floor, line, Stands::Machine(i), None);
    let now = floor.now;
    let it = floor.racks.get_mut(rack);
    it.washed_from = now;
    it.machine = i;
    let (fill, size) = (it.fill, it.size);
    floor.telling.step(Step::RackIn(rack, i));
    let counts = &floor.n.count;
    floor.telling.count(counts.racks_in[usize::from(i)], 1);
    floor
        .telling
        .count(counts.pieces_in[usize::from(i)], u32::from(fill));
    floor
        .telling
        .count(counts.part_filled[usize::from(i)], u32::from(fill < size));
}
