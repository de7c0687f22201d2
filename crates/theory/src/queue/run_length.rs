//! How long a run must be before its time average can be trusted.

use super::means::load;
use crate::solve::positive;

/// Asymptotic variance of the time-average number in an M/M/1 line (number squared, times time):
/// `2 rho (1 + rho) / (mu (1 - rho)^4)`. A run of length T has a time average with about this over T as its variance.
///
/// From memory of Whitt, Management Science 35 (1989) 1341-1366.
pub fn mm1_asymptotic_variance(arrival_rate: f64, service_rate: f64) -> Option<f64> {
    let (_, rho) = load(arrival_rate, service_rate, 1)?;
    let idle = 1.0 - rho;
    Some(2.0 * rho * (1.0 + rho) / (idle * idle * idle * idle) / service_rate)
}

/// Length of run for a mean number within `relative_half_width` of the truth (0.05: five per cent).
///
/// `normal_quantile` is the standard normal quantile of the confidence wanted: 1.95996 for 95 per cent. Same source
/// as [`mm1_asymptotic_variance`].
pub fn mm1_run_length(
    arrival_rate: f64,
    service_rate: f64,
    relative_half_width: f64,
    normal_quantile: f64,
) -> Option<f64> {
    let variance = mm1_asymptotic_variance(arrival_rate, service_rate)?;
    let rho = positive(arrival_rate / service_rate)?;
    let mean = rho / (1.0 - rho);
    let ratio = positive(normal_quantile)? / (positive(relative_half_width)? * mean);
    Some(variance * ratio * ratio)
}
