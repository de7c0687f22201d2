//! M/G/1: Poisson arrivals, any service time, one server.

use super::means::{Means, load};
use crate::Moments;

/// M/G/1 in steady state, by Pollaczek and Khinchine: `Wq = lambda E[S^2] / (2 (1 - rho))`. `None` when the server
/// cannot keep up.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 5.
pub fn mg1(arrival_rate: f64, service: Moments) -> Option<Means> {
    let (_, rho) = load(arrival_rate, 1.0 / service.mean(), 1)?;
    let wait = arrival_rate * service.second() / (2.0 * (1.0 - rho));
    Some(Means::from_wait(arrival_rate, service.mean(), 1, wait))
}

/// M/D/1 in steady state: always the same service time, half the wait of M/M/1. `None` when the server cannot keep up.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 5.
pub fn md1(arrival_rate: f64, service_time: f64) -> Option<Means> {
    mg1(arrival_rate, Moments::constant(service_time)?)
}
