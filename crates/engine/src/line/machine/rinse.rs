//! The final rinse of a conveyor: it flows while ware is in its zone, overlaps counted once.

use crate::line::Line;
use crate::line::floor::Floor;
use crate::line::mover::UNITS_PER_MM;
use crate::line::racks::Racks;

use super::{MachineKind, State};

/// Odometer length over which the rinse flowed: the union of the stretches in which a rack is in the zone.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Rinse {
    from: i64,
    to: i64,
    flowed: i64,
    /// Up to where the union has been counted.
    counted: i64,
}

impl Rinse {
    /// The zone, in mm from the tunnel's mouth.
    pub(super) fn zone(&mut self, (from, to): (u32, u32)) {
        self.from = (u64::from(from) * UNITS_PER_MM) as i64;
        self.to = (u64::from(to) * UNITS_PER_MM) as i64;
    }

    /// What was put in at odometer `put`, and reaches so far ahead of it, has been carried to `now`.
    pub(super) fn passes(&mut self, put: i64, length: i64, now: i64) {
        let begins = (put + self.from - length).max(self.counted);
        let ends = (put + self.to).min(now);
        if ends > begins {
            self.flowed += ends - begins;
            self.counted = ends;
        }
    }
}

/// Counts the rinse of all that is inside, up to now.
pub(super) fn count_inside(state: &mut State, racks: &Racks) {
    let gone = state.tunnel.gone();
    let inside = state.tunnel.put_down_at().zip(state.tunnel.things());
    for (put, rack) in inside {
        state.rinse.passes(put, racks.get(rack).length, gone);
    }
}

/// Microseconds in which the final rinse flowed, up to now.
pub(crate) fn rinse_us(floor: &mut Floor, line: &Line, i: u8) -> u64 {
    let now = floor.now;
    let speed = match line.machines[usize::from(i)].kind {
        MachineKind::Door { .. } => return 0,
        MachineKind::Conveyor { speed_mm_min, .. } | MachineKind::Flight { speed_mm_min, .. } => {
            speed_mm_min
        }
    };
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    let before = state.rinse;
    count_inside(state, &floor.racks);
    let flowed = state.rinse.flowed;
    state.rinse = before;
    (flowed / i64::from(speed.max(1))) as u64
}
