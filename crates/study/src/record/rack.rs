//! Rack trips through one machine, summed.

use scullery_engine::time::SimTime;
use scullery_engine::watch::RackTrip;

/// Sums over the racks that came out of one machine; times in microseconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RackSums {
    /// Racks.
    pub racks: u64,
    /// Pieces in them.
    pub pieces: u64,
    /// Pieces they could have held.
    pub room: u64,
    /// Racks that were not full.
    pub part_filled: u64,
    /// From the first piece to leaving the racking table.
    pub filling_us: u64,
    /// From leaving the racking table to going into the machine.
    pub on_the_way_us: u64,
    /// From going in to coming out.
    pub inside_us: u64,
}

impl RackSums {
    #[inline]
    pub(super) fn add(&mut self, at: SimTime, trip: &RackTrip) {
        self.racks += 1;
        self.pieces += u64::from(trip.pieces);
        self.room += u64::from(trip.size);
        self.part_filled += u64::from(trip.pieces < trip.size);
        self.filling_us += trip.closed.since(trip.opened).us();
        self.on_the_way_us += trip.washed_from.since(trip.closed).us();
        self.inside_us += at.since(trip.washed_from).us();
    }

    /// Pieces over the pieces there was room for; `None` without racks.
    pub fn mean_fill(&self) -> Option<f64> {
        (self.room > 0).then(|| self.pieces as f64 / self.room as f64)
    }
}
