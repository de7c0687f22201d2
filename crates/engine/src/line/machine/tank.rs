//! Changing the water of the tanks during a meal: what is inside is finished, then the tanks are drained, filled and heated.

use crate::calendar::Phase;
use crate::line::Line;
use crate::line::floor::Floor;
use crate::time::{SimTime, Span};

use super::control::Running;
use super::{CHANGE, REFILLED, STARTS};

/// When the tanks' water is changed, and how long it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct WaterChange {
    /// At these times, in clock order ...
    pub at: Vec<SimTime>,
    /// ... and when so many racks have gone in since the last change. Loose ware counts as the racks that would take as
    /// much of the belt.
    pub every_racks: Option<u32>,
    /// Draining and filling.
    pub drain_and_fill: Span,
    /// Heating the fresh water.
    pub heat: Span,
}

/// How far a change of water has got.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Refill {
    #[default]
    No,
    /// Due: nothing more goes in.
    Wanted,
    /// Going on.
    Going,
}

#[derive(Clone, Debug, Default)]
pub(super) struct State {
    next: usize,
    /// Racks (for a flight machine: odometer units of belt) since the last change.
    since: i64,
}

pub(super) fn wipe(floor: &mut Floor, line: &Line, i: u8) {
    let no = floor.machine_no(i);
    let state = &mut floor.machines[usize::from(i)];
    state.refill = Refill::No;
    state.tank.since = 0;
    let Some(spec) = &line.machines[usize::from(i)].tank else {
        return;
    };
    state.tank.next = spec.at.partition_point(|&at| at < line.starts);
    let at = spec.at.get(state.tank.next).copied();
    floor.set_or_clear(no, CHANGE, Phase::Clock, at);
}

/// The clock says so.
pub(super) fn falls_due(floor: &mut Floor, line: &Line, i: u8) {
    let no = floor.machine_no(i);
    let Some(spec) = &line.machines[usize::from(i)].tank else {
        return;
    };
    let state = &mut floor.machines[usize::from(i)];
    state.tank.next += 1;
    let next = spec.at.get(state.tank.next).copied();
    if state.refill == Refill::No {
        state.refill = Refill::Wanted;
    }
    floor.set_or_clear(no, CHANGE, Phase::Clock, next);
}

/// A rack has gone in; `length` is what `rack_length` is measured in.
pub(super) fn counts(floor: &mut Floor, line: &Line, i: u8, length: i64, rack_length: i64) {
    let Some(spec) = &line.machines[usize::from(i)].tank else {
        return;
    };
    let state = &mut floor.machines[usize::from(i)];
    state.tank.since += length;
    if let Some(every) = spec.every_racks
        && state.tank.since >= i64::from(every).saturating_mul(rack_length)
        && state.refill == Refill::No
    {
        state.refill = Refill::Wanted;
    }
}

/// Begins a change that is due, when nothing is inside.
pub(super) fn begin(floor: &mut Floor, line: &Line, i: u8) {
    let no = floor.machine_no(i);
    let now = floor.now;
    let Some(spec) = &line.machines[usize::from(i)].tank else {
        return;
    };
    let state = &mut floor.machines[usize::from(i)];
    if state.refill != Refill::Wanted || !state.inside.is_empty() || !state.tunnel.is_empty() {
        return;
    }
    state.refill = Refill::Going;
    state.running = Running::No;
    floor.clear(no, STARTS);
    let lasts = Span::from_us((spec.drain_and_fill + spec.heat).us().max(1));
    floor.set(no, REFILLED, Phase::End, now + lasts);
}

/// The fresh water is hot.
pub(super) fn refilled(floor: &mut Floor, i: u8) {
    let state = &mut floor.machines[usize::from(i)];
    state.refill = Refill::No;
    state.tank.since = 0;
    floor.telling.count(floor.n.count.fills[usize::from(i)], 1);
}
