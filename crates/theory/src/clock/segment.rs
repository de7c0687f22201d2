//! A rate that is constant for a while, then another: the usual way to write down a rush.

use crate::solve::{not_negative, positive};

/// A spell of constant arrival rate. Spells follow each other from time 0; after the last one nothing comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Arrivals per time.
    pub rate: f64,
    /// How long it lasts.
    pub length: f64,
}

/// Expected arrivals from time 0 to `time`. `None` if a rate is negative, a length is not positive or a figure is not
/// finite; nought before time 0.
pub fn arrivals_until(segments: &[Segment], time: f64) -> Option<f64> {
    check(segments)?;
    time.is_finite().then(|| cumulative(segments, time))
}

pub(crate) fn cumulative(segments: &[Segment], time: f64) -> f64 {
    let (mut start, mut total) = (0.0, 0.0);
    for segment in segments {
        total += segment.rate * (time - start).clamp(0.0, segment.length);
        start += segment.length;
    }
    total
}

/// Looks at every spell, and gives the time at which the last ends.
pub(crate) fn check(segments: &[Segment]) -> Option<f64> {
    let mut end = 0.0;
    for segment in segments {
        not_negative(segment.rate)?;
        end += positive(segment.length)?;
    }
    positive(end)
}
