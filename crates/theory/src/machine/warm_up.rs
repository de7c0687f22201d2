//! A machine that is shut off when nothing is left and must warm up for the next piece of work.

use crate::Moments;
use crate::queue::{Means, mg1};

/// A machine with a warm-up before each busy spell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarmUp {
    /// The means; utilisation is the share of time washing, warm-up not counted.
    pub means: Means,
    /// Share of time off and cold, `(1 - rho) / (1 + lambda E[D])`.
    pub p_cold: f64,
    /// Share of time warming up.
    pub p_warming: f64,
}

/// M/G/1 with a warm-up `D` before each busy spell:
/// `Wq = (Pollaczek-Khinchine) + (2 E[D] + lambda E[D^2]) / (2 (1 + lambda E[D]))`. `None` when it cannot keep up.
///
/// From memory of Welch (1964) and Doshi (1986).
pub fn warm_up(arrival_rate: f64, service: Moments, warming: Moments) -> Option<WarmUp> {
    let plain = mg1(arrival_rate, service)?;
    let comes_meanwhile = 1.0 + arrival_rate * warming.mean();
    let longer = (2.0 * warming.mean() + arrival_rate * warming.second()) / (2.0 * comes_meanwhile);
    let idle = 1.0 - plain.utilisation;
    Some(WarmUp {
        means: Means::from_wait(arrival_rate, service.mean(), 1, plain.wait + longer),
        p_cold: idle / comes_meanwhile,
        p_warming: idle * (1.0 - 1.0 / comes_meanwhile),
    })
}
