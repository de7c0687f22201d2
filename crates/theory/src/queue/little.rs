//! Little's law and the utilisation law: true of any line that neither makes nor loses customers.

use crate::solve::not_negative;

/// Mean number there from the rate in and the mean time there, `L = lambda W`.
///
/// From memory of Little (1961).
pub fn little(rate: f64, time_in_system: f64) -> Option<f64> {
    Some(not_negative(rate)? * not_negative(time_in_system)?)
}

/// Mean number of busy servers from the rate in and the mean service time, `U = lambda S`; with one server, its share
/// of time at work.
///
/// From memory of Denning & Buzen (1978).
pub fn utilisation(rate: f64, service_mean: f64) -> Option<f64> {
    little(rate, service_mean)
}
