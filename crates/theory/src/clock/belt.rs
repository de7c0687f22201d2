//! Things that stay a while whatever else is there: trays on a belt, diners at their seats.

use super::segment::{Segment, check, cumulative};
use crate::solve::{not_negative, positive};

/// Mean number on a belt with constant `transit` time at `time`, fed by a Poisson stream:
/// `m(t) = A(t) - A(t - transit)`. The number itself is Poisson, so its variance is the same. `None` unless the
/// segments are sound and the transit positive.
///
/// From memory of Eick, Massey & Whitt (1993) on M(t)/G/infinity.
pub fn mean_on_belt(segments: &[Segment], transit: f64, time: f64) -> Option<f64> {
    check(segments)?;
    positive(transit)?;
    let time = not_negative(time)?;
    Some(cumulative(segments, time) - cumulative(segments, time - transit))
}

/// Mean number there at `time` when arrivals follow `mean_rate + amplitude sin(2 pi t / period)` for ever and each
/// stays an exponential time of mean `mean_stay`:
/// `m(t) = rate / mu + amplitude (mu sin wt - w cos wt) / (mu^2 + w^2)`. Also gives how long the peak lags behind the
/// peak of the arrivals, `atan(w / mu) / w`. `None` unless `0 <= amplitude <= mean_rate` and the times are positive.
///
/// From memory of Eick, Massey & Whitt (1993).
pub fn mean_staying_under_wave(
    mean_rate: f64,
    amplitude: f64,
    period: f64,
    mean_stay: f64,
    time: f64,
) -> Option<(f64, f64)> {
    not_negative(mean_rate - not_negative(amplitude)?)?;
    let w = 2.0 * std::f64::consts::PI / positive(period)?;
    let mu = 1.0 / positive(mean_stay)?;
    let at = w * time;
    if !at.is_finite() {
        return None;
    }
    let swing = amplitude * (mu * libm::sin(at) - w * libm::cos(at)) / (mu * mu + w * w);
    Some((mean_rate / mu + swing, libm::atan(w / mu) / w))
}
