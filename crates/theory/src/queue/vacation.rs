//! A server that takes a break whenever nobody is there.

use super::means::Means;
use super::mg1::mg1;
use crate::Moments;

/// M/G/1 whose server, finding nobody, goes on break, and on another if still nobody is there on return:
/// `Wq = (Pollaczek-Khinchine) + E[V^2] / (2 E[V])`. `None` when the server cannot keep up.
///
/// From memory of Levy & Yechiali (1975) and Doshi (1986).
pub fn mg1_with_breaks(arrival_rate: f64, service: Moments, pause: Moments) -> Option<Means> {
    let plain = mg1(arrival_rate, service)?;
    let wait = plain.wait + pause.residual();
    Some(Means::from_wait(arrival_rate, service.mean(), 1, wait))
}
