//! Racks into a machine and out of it.

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::mover::UNITS_PER_MM;
use crate::line::{Line, Stands, clean_end, lane, trouble};
use crate::time::{SimTime, Span};
use crate::watch::{RackTrip, Step};

use super::control::{Power, Running};
use super::tank::{self, Refill};
use super::{Chamber, Machine, MachineKind, State, WAKES, dosing, flight};

/// Sends washed racks out as far as the clean end has room.
pub(super) fn send_out(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    loop {
        let state = &floor.machines[usize::from(i)];
        let comes = match spec.kind {
            MachineKind::Door { .. } if state.chamber == Chamber::Washed => {
                state.inside.first().copied()
            }
            MachineKind::Door { .. } => None,
            _ => state.tunnel.at_end().map(|(rack, _)| rack),
        };
        let Some(comes) = comes else { break };
        let to = clean_end::of_rack(floor, line, spec.to, Some(comes));
        if to.is_some_and(|c| !clean_end::has_room(floor, c, comes)) {
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
            MachineKind::Conveyor { .. } | MachineKind::Flight { .. } => {
                let gone = state.tunnel.gone();
                let put = state.tunnel.put_down_at().next();
                let taken = state.tunnel.take_at_end();
                if let (Some(put), Some((rack, _))) = (put, taken) {
                    let length = floor.racks.get(rack).length;
                    state.rinse.passes(put, length, gone);
                }
                taken.map(|(rack, _)| rack)
            }
        };
        if state.chamber == Chamber::Washed && state.inside.is_empty() {
            state.chamber = Chamber::Empty;
            state.next_in = floor.now + spec.gap;
        }
        let Some(rack) = rack else { return };
        comes_out(floor, i, rack);
        match to {
            Some(c) => clean_end::receive(floor, line, c, rack),
            None => floor.rack_clean_and_free(rack),
        }
    }
}

/// Tells that a rack has come out, or a lot of loose ware.
fn comes_out(floor: &mut Floor, i: u8, rack: u32) {
    let now = floor.now;
    let it = floor.racks.get(rack);
    let pieces = u32::from(it.fill);
    let state = &mut floor.machines[usize::from(i)];
    state.pieces = state.pieces.saturating_sub(pieces);
    let counts = &floor.n.count;
    floor
        .telling
        .count(counts.pieces_out[usize::from(i)], pieces);
    if it.is_loose() {
        return;
    }
    floor.telling.count(counts.racks_out[usize::from(i)], 1);
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
}

/// Takes racks in from the lane, or from the loader's hands.
pub(super) fn take_in(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    let now = floor.now;
    if floor.machines[usize::from(i)].power == Power::Ending && spec.loading.is_none() {
        // Switched off: what is inside (or in the loader's hands) is finished, nothing more comes in.
        return;
    }
    if floor.machines[usize::from(i)].refill != Refill::No {
        return;
    }
    match spec.kind {
        MachineKind::Door { batch, .. } => {
            let state = &floor.machines[usize::from(i)];
            if state.chamber != Chamber::Empty || !something_waits(floor, line, i) {
                return;
            }
            if !may_take(floor, line, i, i64::from(batch)) {
                return;
            }
            if spec.loading.is_some() {
                let state = &mut floor.machines[usize::from(i)];
                state.loaded = false;
                std::mem::swap(&mut state.inside, &mut state.in_hand);
            } else if let Some(from) = spec.from {
                for k in 0..batch {
                    let Some(rack) = lane::take(floor, line, from, k > 0) else {
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
                goes_in(floor, line, i, rack, (1, 1));
            }
            begin_cycle(&mut floor.machines[usize::from(i)], now);
        }
        MachineKind::Conveyor {
            pitch_mm,
            speed_mm_min,
            ..
        } => {
            let state = &floor.machines[usize::from(i)];
            if state.tunnel.lies_at_end()
                || !state.tunnel.can_land(0)
                || !something_waits(floor, line, i)
                || !may_take(floor, line, i, 1)
            {
                return;
            }
            let Some(rack) = from_hand_or_lane(floor, line, i) else {
                return;
            };
            let state = &mut floor.machines[usize::from(i)];
            if !spec.gap.is_none() {
                let pitch_us = u64::from(pitch_mm) * UNITS_PER_MM / u64::from(speed_mm_min.max(1));
                state.next_in = now + Span::from_us(pitch_us) + spec.gap;
            }
            state.tunnel.land(0, rack, now);
            goes_in(floor, line, i, rack, (1, 1));
        }
        MachineKind::Flight { speed_mm_min, .. } => {
            let long = flight::rack_length(spec);
            if !flight::is_clear(&floor.machines[usize::from(i)], long)
                || !something_waits(floor, line, i)
                || !may_take(floor, line, i, long)
            {
                return;
            }
            let Some(rack) = from_hand_or_lane(floor, line, i) else {
                return;
            };
            floor.racks.get_mut(rack).length = long;
            let state = &mut floor.machines[usize::from(i)];
            if !spec.gap.is_none() {
                let own = Span::from_us((long / i64::from(speed_mm_min.max(1))) as u64);
                state.next_in = now + own + spec.gap;
            }
            state.tunnel.land(0, rack, now);
            goes_in(floor, line, i, rack, (long, long));
        }
    }
}

/// Whether a rack stands at the mouth, or at the end of the lane where racks run in by themselves.
fn something_waits(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let spec = &line.machines[usize::from(i)];
    if spec.loading.is_some() {
        return floor.machines[usize::from(i)].loaded;
    }
    spec.from
        .is_some_and(|from| lane::at_end(floor, from).is_some())
}

fn from_hand_or_lane(floor: &mut Floor, line: &Line, i: u8) -> Option<u32> {
    let spec = &line.machines[usize::from(i)];
    if spec.loading.is_some() {
        let state = &mut floor.machines[usize::from(i)];
        if !std::mem::take(&mut state.loaded) {
            return None;
        }
        return state.in_hand.pop();
    }
    lane::take(floor, line, spec.from?, false)
}

/// Whether the loader's gap is over and the store holds the hot water for something so long (racks are counted, loose ware
/// is measured).
pub(super) fn may_take(floor: &mut Floor, line: &Line, i: u8, length: i64) -> bool {
    let now = floor.now;
    let spec = &line.machines[usize::from(i)];
    let state = &mut floor.machines[usize::from(i)];
    if state.next_in > now {
        return false;
    }
    let Some(hot) = &spec.hot_water else {
        return true;
    };
    let whole = flight::rack_length(spec);
    let ready = state.hot_water.ready_in(hot, (length, whole), now) == Some(Span::NONE);
    if ready {
        if let Some(since) = state.hot_water.waits.take() {
            let waited = now.since(since).s().round() as u32;
            floor
                .telling
                .count(floor.n.count.rinse_waits[usize::from(i)], waited);
        }
    } else if state.hot_water.waits.is_none() {
        state.hot_water.waits = Some(now);
    }
    ready
}

/// What the next to come in counts as, and a rack: a door machine's batch in racks, else lengths of belt.
fn next_share(state: &State, spec: &Machine) -> (i64, i64) {
    let whole = flight::rack_length(spec);
    match spec.kind {
        MachineKind::Door { batch, .. } => (i64::from(batch), whole),
        _ => (state.wanted.unwrap_or(whole), whole),
    }
}

/// Whether the store holds the water of the next rack (a door machine: of a batch).
pub(super) fn is_hot(state: &State, spec: &Machine, now: SimTime) -> bool {
    let whole = flight::rack_length(spec);
    let share = match spec.kind {
        MachineKind::Door { batch, .. } => (i64::from(batch), whole),
        _ => (whole, whole),
    };
    let hot = spec.hot_water.as_ref();
    hot.is_none_or(|hot| state.hot_water.is_ready(hot, share, now))
}

/// Sets when to look again: when the loader's gap is over, or the store holds the water of what waits.
pub(super) fn wakes(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    if spec.gap.is_none() && spec.hot_water.is_none() {
        return;
    }
    let now = floor.now;
    let no = floor.machine_no(i);
    let state = &mut floor.machines[usize::from(i)];
    let gap = (state.next_in > now).then_some(state.next_in);
    let hot = spec.hot_water.as_ref().and_then(|hot| {
        let share = next_share(state, spec);
        let span = state.hot_water.ready_in(hot, share, now)?;
        (!span.is_none()).then_some(now + span)
    });
    let at = gap.into_iter().chain(hot).min();
    floor.set_or_clear(no, WAKES, Phase::Clock, at);
}

/// A rack that is already inside, with so many `behind` it. Whether the machine is hot and has room.
pub(crate) fn is_inside(floor: &mut Floor, line: &Line, i: u8, rack: u32, behind: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.machines[usize::from(i)];
    if state.power != Power::On {
        return false;
    }
    let mut share = (1, 1);
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
        MachineKind::Flight { tunnel_mm, .. } => {
            let long = flight::rack_length(&line.machines[usize::from(i)]);
            let long_mm = (long / UNITS_PER_MM as i64) as u32;
            let at = behind.saturating_mul(long_mm);
            if at > *tunnel_mm || !state.tunnel.can_land(at) {
                return false;
            }
            floor.racks.get_mut(rack).length = long;
            share = (long, long);
            let state = &mut floor.machines[usize::from(i)];
            state.tunnel.land(at, rack, now);
        }
    }
    floor.machines[usize::from(i)].running = Running::Yes;
    goes_in(floor, line, i, rack, share);
    true
}

/// A cycle of the chamber begins.
fn begin_cycle(state: &mut State, now: SimTime) {
    let seconds = state.cycle.value(state.luck, state.cycles * 4);
    state.cycles += 1;
    let length = Span::from_us(Span::drawn(seconds).us().max(1));
    state.chamber = Chamber::Cycle(length, now + length);
}

/// A rack, or a lot of loose ware, has gone in; `(length, a rack's length)` says how much it counts as.
pub(super) fn goes_in(floor: &mut Floor, line: &Line, i: u8, rack: u32, share: (i64, i64)) {
    trouble::passes(floor, line, Stands::Machine(i), None);
    let now = floor.now;
    let spec = &line.machines[usize::from(i)];
    let it = floor.racks.get_mut(rack);
    it.washed_from = now;
    it.machine = i;
    let (fill, size, loose) = (it.fill, it.size, it.is_loose());
    let (class, first_pass) = (usize::from(it.class), it.first_pass);
    floor.telling.step(Step::RackIn(rack, i));
    let counts = &floor.n.count;
    if !loose {
        floor.telling.count(counts.racks_in[usize::from(i)], 1);
        floor
            .telling
            .count(counts.part_filled[usize::from(i)], u32::from(fill < size));
        if line.classes[class].second_pass.is_some() {
            let pass = if first_pass {
                counts.first_pass[class]
            } else {
                counts.second_pass[class]
            };
            floor.telling.count(pass, 1);
        }
    }
    floor
        .telling
        .count(counts.pieces_in[usize::from(i)], u32::from(fill));
    let state = &mut floor.machines[usize::from(i)];
    state.pieces += u32::from(fill);
    if let Some(hot) = &spec.hot_water {
        state.hot_water.draw(hot, share, now);
    }
    dosing::dose(floor, line, i, share);
    tank::counts(floor, line, i, share.0, share.1);
}
