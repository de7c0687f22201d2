//! Seats that may bind: who finds none waits until one is free, in order of being served.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::time::SimTime;

/// Who sits until when. The storage is used again for the next meal.
#[derive(Clone, Debug, Default)]
pub(super) struct Seats {
    seats: Option<usize>,
    until: BinaryHeap<Reverse<SimTime>>,
}

impl Seats {
    pub(super) fn wipe(&mut self, seats: Option<u32>) {
        self.seats = seats.map(|seats| seats as usize);
        self.until.clear();
    }

    /// When somebody who is ready to sit down at `ready` has a seat. Follow with [`Seats::leave`].
    pub(super) fn take(&mut self, ready: SimTime) -> SimTime {
        let Some(seats) = self.seats else {
            return ready;
        };
        while self
            .until
            .peek()
            .is_some_and(|Reverse(until)| *until <= ready)
        {
            self.until.pop();
        }
        if self.until.len() < seats {
            return ready;
        }
        self.until.pop().map_or(ready, |Reverse(until)| until)
    }

    /// Somebody who `sits` leaves the seat then.
    pub(super) fn leave(&mut self, sits: bool, at: SimTime) {
        if sits && self.seats.is_some() {
            self.until.push(Reverse(at));
        }
    }
}

/// Whole seconds of waiting for a seat.
pub(super) fn waited_s(ready: SimTime, seated: SimTime) -> u16 {
    (seated.since(ready).us() / 1_000_000).min(u64::from(u16::MAX)) as u16
}
