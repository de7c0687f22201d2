//! A place where things wait in order: a table, a shelf, an overflow cart.

use std::collections::VecDeque;

use crate::time::SimTime;

/// Things in order of coming, each with when it came.
#[derive(Clone, Debug, Default)]
pub(crate) struct Queue {
    /// How many it holds; `u32::MAX`: as many as come.
    pub(crate) room: u32,
    held: VecDeque<(u32, SimTime)>,
}

impl Queue {
    pub(crate) fn wipe(&mut self, room: Option<u32>) {
        self.room = room.unwrap_or(u32::MAX);
        self.held.clear();
    }

    pub(crate) fn len(&self) -> u32 {
        self.held.len() as u32
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.held.is_empty()
    }

    pub(crate) fn has_room(&self) -> bool {
        self.len() < self.room
    }

    pub(crate) fn put(&mut self, thing: u32, at: SimTime) {
        self.held.push_back((thing, at));
    }

    /// The thing that has been here longest, and since when.
    pub(crate) fn first(&self) -> Option<(u32, SimTime)> {
        self.held.front().copied()
    }

    pub(crate) fn take(&mut self) -> Option<(u32, SimTime)> {
        self.held.pop_front()
    }

    /// Takes the `n`th from the front.
    pub(crate) fn take_nth(&mut self, n: usize) -> Option<(u32, SimTime)> {
        if n == 0 {
            return self.take();
        }
        self.held.remove(n)
    }

    pub(crate) fn things(&self) -> impl Iterator<Item = u32> + '_ {
        self.held.iter().map(|&(thing, _)| thing)
    }
}
