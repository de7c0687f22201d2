//! Detergent from a reservoir that runs low, warns, and is filled up again as a piece of other work.

use crate::line::Line;
use crate::line::floor::Floor;

/// A reservoir of detergent, full at the start.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dosing {
    /// What it holds, milligrams.
    pub reservoir_mg: u64,
    /// What a rack takes (of loose ware: what a rack as long would take), milligrams.
    pub rack_mg: u64,
    /// It warns when it holds less than this.
    pub warns_below_mg: u64,
}

#[derive(Clone, Copy, Debug, Default)]
pub(super) struct State {
    held_mg: u64,
    low: bool,
}

impl State {
    pub(super) fn wipe(&mut self, spec: Option<&Dosing>) {
        self.held_mg = spec.map_or(0, |s| s.reservoir_mg);
        self.low = false;
    }
}

/// A rack has gone in: it takes its dose, or what is left. Washing does not stop for want of it; it is counted.
pub(super) fn dose(floor: &mut Floor, line: &Line, i: u8, (part, whole): (i64, i64)) {
    let Some(spec) = &line.machines[usize::from(i)].dosing else {
        return;
    };
    let state = &mut floor.machines[usize::from(i)].dosing;
    let dose = (u128::from(spec.rack_mg) * part.max(0) as u128 / whole.max(1) as u128) as u64;
    let lacks = dose > state.held_mg;
    state.held_mg = state.held_mg.saturating_sub(dose);
    let warns = state.held_mg < spec.warns_below_mg && !state.low;
    state.low |= warns;
    let counts = &floor.n.count;
    if lacks {
        floor.telling.count(counts.without[usize::from(i)], 1);
    }
    if warns {
        floor.telling.count(counts.warned[usize::from(i)], 1);
        let no = floor.duties_no();
        floor.mark(no);
    }
}

/// Whether it has warned and has not been filled up since.
pub(crate) fn is_low(floor: &Floor, i: u8) -> bool {
    floor.machines[usize::from(i)].dosing.low
}

/// Somebody has filled it up.
pub(crate) fn fill_up(floor: &mut Floor, line: &Line, i: u8) {
    let spec = line.machines[usize::from(i)].dosing.as_ref();
    floor.machines[usize::from(i)].dosing.wipe(spec);
}
