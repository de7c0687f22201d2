//! What is due next: every pending thing owns a numbered slot, set, moved or cleared in place.

use crate::time::SimTime;

/// What is due at one instant, in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    /// Work, movement, cycles and walks end.
    End,
    /// The clock: stops and repairs, timers, changes of speed, shifts and breaks.
    Clock,
    /// Ware and diners come from outside.
    Arrive,
}

/// Sort key of a pending thing: `at << 20 | phase << 18 | slot`. Slots are numbered downstream first, so one
/// comparison is the whole law of one instant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key(u64);

const SLOT_BITS: u32 = 18;
const PHASE_BITS: u32 = 2;

/// Most slots a calendar can have.
pub const MOST_SLOTS: usize = 1 << SLOT_BITS;

impl Key {
    /// Later than everything.
    pub const NEVER: Key = Key(u64::MAX);

    #[inline]
    fn new(at: SimTime, phase: Phase, slot: u32) -> Key {
        Key((at.us() << (SLOT_BITS + PHASE_BITS)) | ((phase as u64) << SLOT_BITS) | u64::from(slot))
    }

    /// When it is due.
    #[inline]
    pub fn at(self) -> SimTime {
        SimTime::from_us(self.0 >> (SLOT_BITS + PHASE_BITS))
    }

    /// The slot that is due.
    #[inline]
    pub fn slot(self) -> u32 {
        (self.0 & ((1 << SLOT_BITS) - 1)) as u32
    }
}

/// The pending things of a run: a tree of groups of four, each known above by its least key, so that setting or clearing
/// one slot touches only its path, and the path is short.
#[derive(Clone, Debug, Default)]
pub struct Calendar {
    /// The group at the top, then each group's four in order; the slots are in the last of them.
    groups: Vec<[u64; 4]>,
    /// Number of the first group that holds slots.
    of_slots: usize,
    /// The least key of all.
    first: u64,
    /// The slot being handled, until it is set anew.
    handled: Option<u32>,
}

impl Calendar {
    /// A calendar of `slots` empty slots (at most [`MOST_SLOTS`]), in the storage of this one.
    pub fn wipe(&mut self, slots: usize) {
        let needed = slots.clamp(1, MOST_SLOTS).div_ceil(4);
        let (mut above, mut groups) = (0, 1);
        while groups < needed {
            above += groups;
            groups *= 4;
        }
        self.of_slots = above;
        self.groups.clear();
        self.groups.resize(above + needed, [u64::MAX; 4]);
        self.first = u64::MAX;
        self.handled = None;
    }

    /// `slot` is due at `at`, in `phase`; replaces what it held.
    #[inline]
    pub fn set(&mut self, slot: u32, phase: Phase, at: SimTime) {
        self.put(slot, Key::new(at, phase, slot).0);
    }

    /// `slot` is not due.
    #[inline]
    pub fn clear(&mut self, slot: u32) {
        self.put(slot, u64::MAX);
    }

    /// The thing in `slot` is being handled; follow with [`Calendar::done`].
    #[inline]
    pub fn handle(&mut self, slot: u32) {
        self.handled = Some(slot);
    }

    /// What was handled is no longer due, unless it has been set anew meanwhile, be it for the same instant.
    #[inline]
    pub fn done(&mut self) {
        if let Some(slot) = self.handled {
            self.clear(slot);
        }
    }

    /// When `slot` is due, if it is.
    #[inline]
    pub fn when(&self, slot: u32) -> Option<SimTime> {
        let key = self.groups[self.of_slots + slot as usize / 4][slot as usize % 4];
        (key != u64::MAX).then(|| Key(key).at())
    }

    /// The least key, or [`Key::NEVER`].
    #[inline]
    pub fn first(&self) -> Key {
        Key(self.first)
    }

    #[inline]
    fn put(&mut self, slot: u32, mut key: u64) {
        if self.handled == Some(slot) {
            self.handled = None;
        }
        let (mut group, mut place) = (self.of_slots + slot as usize / 4, slot as usize % 4);
        loop {
            let keys = &mut self.groups[group];
            if keys[place] == key {
                return;
            }
            keys[place] = key;
            key = keys[0].min(keys[1]).min(keys[2].min(keys[3]));
            let Some(below) = group.checked_sub(1) else {
                self.first = key;
                return;
            };
            (group, place) = (below / 4, below % 4);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::streams::Root;

    #[test]
    fn the_least_key_is_first_whatever_is_set_moved_or_cleared() {
        let luck = Root::new(7, 0).source("calendar");
        for slots in [1, 4, 5, 17, 64, 65, 300_u32] {
            let mut calendar = Calendar::default();
            calendar.wipe(slots as usize);
            let mut plain = vec![Key::NEVER; slots as usize];
            for turn in 0..2_000 {
                let mut draw = luck.at(turn);
                let slot = (draw.bits() % u64::from(slots)) as u32;
                let at = SimTime::from_us(draw.bits() % 50);
                plain[slot as usize] = if draw.bits().is_multiple_of(3) {
                    calendar.clear(slot);
                    Key::NEVER
                } else {
                    calendar.set(slot, Phase::Clock, at);
                    Key::new(at, Phase::Clock, slot)
                };
                assert_eq!(Some(&calendar.first()), plain.iter().min());
                let due = plain[slot as usize];
                assert_eq!(calendar.when(slot), (due != Key::NEVER).then_some(at));
            }
        }
    }

    #[test]
    fn what_was_handled_is_due_no_longer_unless_set_anew() {
        let mut calendar = Calendar::default();
        calendar.wipe(3);
        let at = SimTime::from_us(5);
        for sets_anew in [false, true] {
            calendar.set(2, Phase::End, at);
            calendar.handle(2);
            if sets_anew {
                calendar.set(2, Phase::End, at);
            }
            calendar.done();
            assert_eq!(calendar.when(2), sets_anew.then_some(at));
        }
    }
}
