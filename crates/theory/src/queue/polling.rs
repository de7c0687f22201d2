//! One worker who goes round several queues in turn.

use crate::Moments;
use crate::solve::positive;

/// Mean wait at each of `queues` like queues with one worker who empties a queue, walks to the next and empties that,
/// on and on: `Wq = var(R) / (2 E[R]) + (N lambda E[S^2] + E[R] (N - rho)) / (2 (1 - rho))`, `R` one walk, `rho` the
/// load of all queues. `None` when the worker cannot keep up or there is no queue.
///
/// From memory of Takagi, Analysis of Polling Systems (1986), for the symmetric exhaustive case.
pub fn going_round(queues: u32, rate_each: f64, service: Moments, walk: Moments) -> Option<f64> {
    let n = positive(f64::from(queues))?;
    let rho = n * positive(rate_each)? * service.mean();
    let idle = positive(1.0 - rho)?;
    let uneven = walk.scv() * walk.mean() / 2.0;
    Some(uneven + (n * rate_each * service.second() + walk.mean() * (n - rho)) / (2.0 * idle))
}
