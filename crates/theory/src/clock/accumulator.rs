//! A rush in front of an accumulator with so many places; what does not fit waits outside.

use super::fluid::{area_above, backlog_path, first_reach, highest, last_clear};
use super::segment::Segment;
use crate::solve::positive;

/// What an accumulator takes and what it leaves outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accumulator {
    /// When it is first full; `None` if it never is.
    pub time_full: Option<f64>,
    /// Most that wait outside.
    pub peak_outside: f64,
    /// When the last outside has found a place; `None` if nobody ever waits outside.
    pub time_outside_clear: Option<f64>,
    /// When the accumulator is empty for good; `None` if no backlog ever forms.
    pub time_empty: Option<f64>,
    /// Waiting outside of all together (amount times time).
    pub outside_delay: f64,
    /// Places with which nobody would wait outside.
    pub places_needed: f64,
}

/// The backlog of [`super::fluid_backlog`] with the first `places` of it in an accumulator:
/// `outside(t) = max(Q(t) - places, 0)`. `None` unless `places` and `capacity` are positive.
///
/// The cumulative-curve method, from memory of Newell, Applications of Queueing Theory.
pub fn fluid_with_accumulator(
    segments: &[Segment],
    capacity: f64,
    places: f64,
) -> Option<Accumulator> {
    positive(places)?;
    let path = backlog_path(segments, capacity)?;
    let peak = highest(&path).amount;
    Some(Accumulator {
        time_full: first_reach(&path, places),
        peak_outside: (peak - places).max(0.0),
        time_outside_clear: last_clear(&path, places),
        time_empty: last_clear(&path, 0.0),
        outside_delay: area_above(&path, places),
        places_needed: peak,
    })
}
