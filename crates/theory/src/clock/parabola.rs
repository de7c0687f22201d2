//! A rush that swells and ebbs like a parabola about its peak.

use crate::solve::positive;

/// What a parabolic rush leaves waiting; times are from the peak of the arrivals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ParabolicRush {
    /// How long before the peak the queue starts, `a = sqrt(excess / curvature)`.
    pub starts_before_peak: f64,
    /// Longest queue, `(4/3) excess a`.
    pub longest: f64,
    /// How long after the peak it is longest, `a`.
    pub longest_after_peak: f64,
    /// How long after the peak it is cleared, `2 a`.
    pub clears_after_peak: f64,
    /// Waiting of all together, `9 excess^2 / (4 curvature)`.
    pub total_delay: f64,
}

/// Arrivals at `peak_rate - curvature t^2` about their peak, cleared at `capacity`. `None` unless the peak is above the
/// capacity and the curvature positive.
///
/// From memory of Newell, Applications of Queueing Theory (1971, 1982), on the rush hour.
pub fn parabolic_rush(peak_rate: f64, curvature: f64, capacity: f64) -> Option<ParabolicRush> {
    positive(capacity)?;
    let excess = positive(peak_rate - capacity)?;
    let half_width = (excess / positive(curvature)?).sqrt();
    Some(ParabolicRush {
        starts_before_peak: half_width,
        longest: 4.0 / 3.0 * excess * half_width,
        longest_after_peak: half_width,
        clears_after_peak: 2.0 * half_width,
        total_delay: 9.0 * excess * excess / (4.0 * curvature),
    })
}
