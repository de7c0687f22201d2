//! Counts and first arrivals of a Poisson stream whose rate changes with the clock.

use super::segment::{Segment, check, cumulative};
use crate::solve::{not_negative, poisson_at_least, positive};

fn between(segments: &[Segment], from: f64, to: f64) -> Option<f64> {
    check(segments)?;
    not_negative(from)?;
    not_negative(to - from)?;
    Some(cumulative(segments, to) - cumulative(segments, from))
}

/// Probability that nothing comes from `from` to `to`, `exp(-(A(to) - A(from)))`.
///
/// From memory of Law, Simulation Modeling and Analysis, on nonstationary Poisson processes.
pub fn p_no_arrival(segments: &[Segment], from: f64, to: f64) -> Option<f64> {
    Some(libm::exp(-between(segments, from, to)?))
}

/// Probability that at least `count` come from `from` to `to`: the count is Poisson with mean (and variance)
/// `A(to) - A(from)`. Same source as [`p_no_arrival`].
pub fn p_count_at_least(segments: &[Segment], from: f64, to: f64, count: u32) -> Option<f64> {
    Some(poisson_at_least(between(segments, from, to)?, count))
}

/// Share of candidates kept when the stream is made by thinning one of the highest rate: mean rate over highest.
///
/// From memory of Lewis & Shedler (1979).
pub fn thinning_accepted(segments: &[Segment]) -> Option<f64> {
    let end = check(segments)?;
    let highest = segments.iter().fold(0.0_f64, |most, s| most.max(s.rate));
    Some(cumulative(segments, end) / (positive(highest)? * end))
}

/// Mean time of the first arrival, counted as the end of the last segment when none comes: the integral of
/// `exp(-A(t))`.
pub fn mean_first_arrival(segments: &[Segment]) -> Option<f64> {
    check(segments)?;
    let (mut none_yet, mut mean) = (1.0, 0.0);
    for segment in segments {
        let comes = segment.rate * segment.length;
        // (1 - exp(-x)) / rate, and the length itself where nothing comes.
        mean += none_yet
            * if comes > 0.0 {
                -libm::expm1(-comes) / segment.rate
            } else {
                segment.length
            };
        none_yet *= libm::exp(-comes);
    }
    Some(mean)
}
