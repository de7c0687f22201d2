//! The final rinse of a conveyor: it flows while a rack is in its zone, overlaps counted once.

use crate::line::Line;
use crate::line::floor::Floor;

use super::MachineKind;

/// Odometer length over which the rinse flowed: the union of the stretches in which a rack is in the zone.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Rinse {
    pub(super) from: i64,
    pub(super) to: i64,
    pub(super) flowed: i64,
    /// Up to where the union has been counted.
    counted: i64,
}

impl Rinse {
    /// A rack that was put in at odometer `put` has been carried to `now`.
    pub(super) fn passes(&mut self, put: i64, now: i64) {
        let begins = (put + self.from).max(self.counted);
        let ends = (put + self.to).min(now);
        if ends > begins {
            self.flowed += ends - begins;
            self.counted = ends;
        }
    }
}

/// Microseconds in which the final rinse flowed, up to now.
pub(crate) fn rinse_us(floor: &mut Floor, line: &Line, i: u8) -> u64 {
    let now = floor.now;
    let MachineKind::Conveyor { speed_mm_min, .. } = line.machines[usize::from(i)].kind else {
        return 0;
    };
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    let gone = state.tunnel.gone();
    let mut rinse = state.rinse;
    for put in state.tunnel.put_down_at() {
        rinse.passes(put, gone);
    }
    (rinse.flowed / i64::from(speed_mm_min.max(1))) as u64
}
