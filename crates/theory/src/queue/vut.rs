//! Rules of thumb for lines with uneven arrivals and uneven service: approximations, never a truth to test against.

use super::means::Means;
use crate::solve::{fraction, not_negative, positive};

/// Mean wait by variability, utilisation and time:
/// `Wq = ((ca^2 + ce^2) / 2) u^(sqrt(2 (m + 1)) - 1) / (m (1 - u)) te`, with the rate taken from `u = lambda te / m`.
///
/// Exact for M/M/1 and M/G/1 (`arrival_scv` 1, one server); else an approximation. `None` unless `0 < use < 1`.
///
/// From memory of Hopp & Spearman, Factory Physics, chs. 7-9; Kingman (1961); Sakasegawa (1977).
pub fn vut(
    arrival_scv: f64,
    service_scv: f64,
    use_of_each: f64,
    service_mean: f64,
    servers: u32,
) -> Option<Means> {
    let variability = (not_negative(arrival_scv)? + not_negative(service_scv)?) / 2.0;
    let u = fraction(use_of_each)?;
    let m = positive(f64::from(servers))?;
    let te = positive(service_mean)?;
    let crowding = libm::pow(u, (2.0 * (m + 1.0)).sqrt() - 1.0) / (m * (1.0 - u));
    Some(Means::from_wait(
        u * m / te,
        te,
        servers,
        variability * crowding * te,
    ))
}

/// Squared coefficient of variation of the gaps between departures:
/// `cd^2 = 1 + (1 - u^2) (ca^2 - 1) + u^2 (ce^2 - 1) / sqrt(m)`. An approximation. `None` unless `0 < use < 1`.
///
/// From memory of Hopp & Spearman, Factory Physics, ch. 8.
pub fn departure_scv(
    arrival_scv: f64,
    service_scv: f64,
    use_of_each: f64,
    servers: u32,
) -> Option<f64> {
    let square = fraction(use_of_each)? * use_of_each;
    let root = positive(f64::from(servers))?.sqrt();
    Some(
        1.0 + (1.0 - square) * (not_negative(arrival_scv)? - 1.0)
            + square * (not_negative(service_scv)? - 1.0) / root,
    )
}
