//! Hot water for the final rinse: a store that is drawn by the rack and heated up again.

use crate::time::{SimTime, Span};

/// A store of rinse water and what heats it up again. A rack goes in when the store holds the water of its rinse, which
/// is drawn then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HotWater {
    /// Microlitres it holds, all hot at the start.
    pub store_ul: u64,
    /// Microlitres the rinse of a rack takes (of loose ware: what a rack as long would take).
    pub rack_ul: u64,
    /// Microlitres heated up in an hour.
    pub recovers_ul_per_h: u64,
}

/// Parts of a microlitre that are counted, so that (microlitres an hour) x (microseconds) is exact.
const PARTS: u64 = 3_600_000_000;

#[derive(Clone, Copy, Debug, Default)]
pub(super) struct State {
    /// Hot water, in parts of a microlitre.
    level: u64,
    read_at: SimTime,
    /// Since when a rack waits for it.
    pub(super) waits: Option<SimTime>,
}

impl State {
    pub(super) fn wipe(&mut self, spec: Option<&HotWater>, at: SimTime) {
        self.level = spec.map_or(0, |s| s.store_ul.saturating_mul(PARTS));
        self.read_at = at;
        self.waits = None;
    }

    fn level_at(&self, spec: &HotWater, now: SimTime) -> u64 {
        let passed = now.since(self.read_at).us();
        let more = spec.recovers_ul_per_h.saturating_mul(passed);
        let most = spec.store_ul.saturating_mul(PARTS);
        self.level.saturating_add(more).min(most)
    }

    fn read(&mut self, spec: &HotWater, now: SimTime) {
        self.level = self.level_at(spec, now);
        self.read_at = now;
    }

    /// Whether there is the water for `part` of `whole` racks.
    pub(super) fn is_ready(
        &self,
        spec: &HotWater,
        (part, whole): (i64, i64),
        now: SimTime,
    ) -> bool {
        need(spec, part, whole) <= self.level_at(spec, now)
    }

    /// How long until there is the water for `part` of `whole` racks; nought when there is, `None` when there never is.
    pub(super) fn ready_in(
        &mut self,
        spec: &HotWater,
        (part, whole): (i64, i64),
        now: SimTime,
    ) -> Option<Span> {
        self.read(spec, now);
        let lacks = need(spec, part, whole).saturating_sub(self.level);
        if lacks == 0 {
            return Some(Span::NONE);
        }
        (spec.recovers_ul_per_h > 0).then(|| Span::from_us(lacks.div_ceil(spec.recovers_ul_per_h)))
    }

    pub(super) fn draw(&mut self, spec: &HotWater, (part, whole): (i64, i64), now: SimTime) {
        self.read(spec, now);
        self.level = self.level.saturating_sub(need(spec, part, whole));
    }
}

/// Never more than the store holds: a longer rinse is drawn as it flows.
fn need(spec: &HotWater, part: i64, whole: i64) -> u64 {
    let parts = u128::from(spec.rack_ul) * u128::from(PARTS) * part.max(0) as u128;
    let most = u128::from(spec.store_ul.saturating_mul(PARTS));
    (parts / whole.max(1) as u128).min(most) as u64
}
