//! A flight machine: ware placed loose on its belt, piece by piece, besides racks.
//!
//! Pieces are placed from the piles of a racking table that leads to the machine. What a loader has placed in one grab is a
//! lot: it takes a length of belt for each piece and lies behind the lot before it. A lot goes on the belt when its last
//! piece is placed, with that piece at the mouth; it is out when that piece is.

use crate::line::floor::Floor;
use crate::line::mover::UNITS_PER_MM;
use crate::line::{ClassId, Line, RacksTo, lane};
use crate::time::Span;

use super::control::{Power, Running};
use super::passage::{goes_in, may_take};
use super::tank::Refill;
use super::{Machine, MachineKind, State};

/// Odometer units in a thousandth of a millimetre.
const UNITS_PER_UM: i64 = UNITS_PER_MM as i64 / 1000;

/// Length of belt, in odometer units.
fn length(spec: &Machine, class: usize, pieces: u32) -> i64 {
    let MachineKind::Flight { piece_um, .. } = &spec.kind else {
        return 0;
    };
    let each = piece_um.get(class).copied().unwrap_or(0);
    i64::from(each) * i64::from(pieces) * UNITS_PER_UM
}

/// Length of belt of a rack, in odometer units; 1 where racks are counted.
pub(super) fn rack_length(spec: &Machine) -> i64 {
    match spec.kind {
        MachineKind::Flight { rack_mm, .. } => i64::from(rack_mm.max(1)) * UNITS_PER_MM as i64,
        _ => 1,
    }
}

/// Whether somebody may begin to place ware on this machine's belt.
pub(crate) fn accepts(floor: &Floor, i: u8) -> bool {
    let state = &floor.machines[usize::from(i)];
    state.power == Power::On
        && state.running == Running::Yes
        && !state.stops.is_down()
        && state.refill == Refill::No
}

/// Whether the belt has run on far enough for something so long.
pub(super) fn is_clear(state: &State, length: i64) -> bool {
    !state.tunnel.lies_at_end() && state.tunnel.last_gone().is_none_or(|gone| gone >= length)
}

/// Puts a lot on the belt, if there is room for it now.
pub(crate) fn place(
    floor: &mut Floor,
    line: &Line,
    i: u8,
    class: u8,
    parts: &[(u32, u16)],
) -> bool {
    let now = floor.now;
    let spec = &line.machines[usize::from(i)];
    let pieces = parts.iter().map(|&(_, n)| u32::from(n)).sum();
    let long = length(spec, usize::from(class), pieces);
    floor.machines[usize::from(i)].tunnel.read(now);
    let no = floor.machine_no(i);
    floor.mark(no);
    let fits = accepts(floor, i)
        && is_clear(&floor.machines[usize::from(i)], long)
        && may_take(floor, line, i, long);
    if !fits {
        floor.machines[usize::from(i)].wanted = Some(long);
        return false;
    }
    let lot = floor.racks.lot(line, ClassId(class), now);
    let it = floor.racks.get_mut(lot);
    it.contents.extend_from_slice(parts);
    it.fill = pieces as u16;
    it.size = it.fill;
    it.length = long;
    let state = &mut floor.machines[usize::from(i)];
    state.wanted = None;
    state.tunnel.land(0, lot, now);
    goes_in(floor, line, i, lot, (long, rack_length(spec)));
    true
}

/// How long until something comes to the end, or the belt has run on far enough for what waits.
pub(super) fn next(floor: &mut Floor, line: &Line, i: u8) -> Option<Span> {
    let spec = &line.machines[usize::from(i)];
    let rack_waits = floor.machines[usize::from(i)].loaded
        || spec.loading.is_none()
            && spec
                .from
                .is_some_and(|from| lane::at_end(floor, from).is_some());
    let state = &floor.machines[usize::from(i)];
    let rack = rack_waits.then(|| rack_length(spec));
    let clear = |length: Option<i64>| length.and_then(|length| state.tunnel.last_gone_in(length));
    let next = [state.tunnel.arrives_in(), clear(rack), clear(state.wanted)];
    next.into_iter().flatten().min()
}

/// Whoever stands with ware in hand tries again when there is room for it.
pub(super) fn tell_tables(floor: &mut Floor, line: &Line, i: u8) {
    let open = accepts(floor, i);
    let state = &floor.machines[usize::from(i)];
    let Some(wanted) = state.wanted else {
        if open {
            floor.mark_crew();
        }
        return;
    };
    if !(open && is_clear(state, wanted) && may_take(floor, line, i, wanted)) {
        return;
    }
    for (r, racking) in line.racking.iter().enumerate() {
        if racking.to == RacksTo::Machine(i) && floor.racking[r].has_held() {
            let no = floor.racking_no(r as u8);
            floor.mark(no);
        }
    }
}

/// What waits to be placed on the belt of this machine: pieces, and the length of belt they take.
pub(super) fn waiting(floor: &Floor, line: &Line, i: u8) -> (u32, i64) {
    let spec = &line.machines[usize::from(i)];
    let mut pieces = 0;
    let mut long = 0;
    if !matches!(spec.kind, MachineKind::Flight { .. }) {
        return (0, 0);
    }
    for (r, racking) in line.racking.iter().enumerate() {
        if racking.to == RacksTo::Machine(i) {
            for (class, count) in floor.racking[r].ready() {
                pieces += count;
                long += length(spec, usize::from(class), count);
            }
        }
    }
    (pieces, long)
}
