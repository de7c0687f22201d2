//! The load end: what a loader can begin with, takes in hand and puts at the machine's mouth.

use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::{Line, MOST_CLASSES, Post, aids, hand_over, lane};

use super::control::{Power, Running};
use super::tank::Refill;
use super::{Chamber, MachineKind, flight, passage};

/// Work at the load end.
#[derive(Clone, Debug, PartialEq)]
pub struct Loading {
    /// Seconds to load one rack (or, for a door machine, one batch).
    pub rack_s: f64,
    /// Factor of mean 1 on each.
    pub variation: Dist,
    /// Workers who can stand here.
    pub places: u32,
}

/// Whether a rack that came to the end of the feeding lane now would be taken at once.
pub(crate) fn takes_now(floor: &Floor, line: &Line, i: u8) -> bool {
    let state = &floor.machines[usize::from(i)];
    if state.power != Power::On
        || state.running != Running::Yes
        || state.stops.is_down()
        || state.refill != Refill::No
        || !state.in_hand.is_empty()
    {
        return false;
    }
    let spec = &line.machines[usize::from(i)];
    if state.next_in > floor.now || !passage::is_hot(state, spec, floor.now) {
        return false;
    }
    match spec.kind {
        MachineKind::Door { .. } => state.chamber == Chamber::Empty && state.inside.is_empty(),
        MachineKind::Conveyor { .. } => !state.tunnel.lies_at_end() && state.tunnel.can_land(0),
        MachineKind::Flight { .. } => flight::is_clear(state, flight::rack_length(spec)),
    }
}

/// Racks a loader could begin with now.
#[inline(never)]
pub(crate) fn waiting(floor: &mut Floor, line: &Line, i: u8) -> u32 {
    let spec = &line.machines[usize::from(i)];
    let state = &floor.machines[usize::from(i)];
    if spec.loading.is_none()
        || state.power != Power::On
        || state.running != Running::Yes
        || state.stops.is_down()
        || state.refill != Refill::No
        || !state.in_hand.is_empty()
    {
        return 0;
    }
    if state.is_door && state.chamber != Chamber::Empty {
        return 0;
    }
    match spec.from {
        Some(from) if lane::at_end(floor, from).is_some() => hand_over::coming(floor, line, from),
        _ => 0,
    }
}

/// The loader takes a rack (a door machine's batch) in hand: seconds at normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, i: u8) -> Option<f64> {
    let spec = &line.machines[usize::from(i)];
    let loading = spec.loading.as_ref()?;
    let batch = match spec.kind {
        MachineKind::Door { batch, .. } => batch,
        MachineKind::Conveyor { .. } | MachineKind::Flight { .. } => 1,
    };
    let from = spec.from?;
    for k in 0..batch {
        let Some(rack) = lane::take(floor, line, from, k > 0) else {
            break;
        };
        floor.machines[usize::from(i)].in_hand.push(rack);
    }
    let state = &mut floor.machines[usize::from(i)];
    if state.in_hand.is_empty() {
        return None;
    }
    let factor = state.loading.value(state.luck, state.loads * 4 + 2);
    state.loads += 1;
    if !line.aids.is_empty() {
        aids_run(floor, line, i);
    }
    let no = floor.machine_no(i);
    floor.mark(no);
    Some(loading.rack_s * factor)
}

/// The aids at the load end run for the racks in the loader's hands and what is in them.
#[cold]
fn aids_run(floor: &mut Floor, line: &Line, i: u8) {
    let in_hand = &floor.machines[usize::from(i)].in_hand;
    let mut pieces = [0; MOST_CLASSES];
    for &rack in in_hand {
        let rack = floor.racks.get(rack);
        pieces[usize::from(rack.class)] += u32::from(rack.fill);
    }
    let racks = in_hand.len() as u32;
    aids::used(floor, line, Post::Loading(i), racks, &pieces);
}

/// The loader has put the rack at the machine's mouth and is free; it goes in when the machine takes it.
pub(crate) fn finish(floor: &mut Floor, i: u8, worker: u8) {
    floor.machines[usize::from(i)].loaded = true;
    floor.release(worker);
    let no = floor.machine_no(i);
    floor.mark(no);
}
