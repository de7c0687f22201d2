//! Hold and run (N-policy): start when so many wait, run until none is left.

use crate::Moments;
use crate::queue::{Means, mg1};
use crate::solve::positive;

/// A machine held until `N` wait.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// The means; utilisation is the share of time running.
    pub means: Means,
    /// Starts per time, `lambda (1 - rho) / N`.
    pub starts_per_time: f64,
    /// Mean time from one start to the next.
    pub mean_cycle: f64,
    /// Mean time from a start until none is left, `N E[S] / (1 - rho)`.
    pub mean_run: f64,
}

/// M/G/1 under an N-policy: `L = L(M/G/1) + (N - 1) / 2`, `Wq = (Pollaczek-Khinchine) + (N - 1) / (2 lambda)`. A
/// machine with an exponential cycle is an M/M/1, one with a constant cycle an M/D/1. `None` when it cannot keep up,
/// when nothing comes, or at `hold_until` nought.
///
/// From memory of Yadin & Naor (1963), Heyman (1968) and Doshi (1986).
pub fn hold(arrival_rate: f64, service: Moments, hold_until: u32) -> Option<Hold> {
    positive(arrival_rate)?;
    let n = positive(f64::from(hold_until))?;
    let plain = mg1(arrival_rate, service)?;
    let wait = plain.wait + (n - 1.0) / (2.0 * arrival_rate);
    let idle = 1.0 - plain.utilisation;
    Some(Hold {
        means: Means::from_wait(arrival_rate, service.mean(), 1, wait),
        starts_per_time: arrival_rate * idle / n,
        mean_cycle: n / (arrival_rate * idle),
        mean_run: n * service.mean() / idle,
    })
}
