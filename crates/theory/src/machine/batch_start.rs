//! A machine that starts with whatever waits, up to its load.

use crate::solve::{bisect, positive, power};

/// A batch machine that takes what waits at each start; who comes later waits for the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BatchStart {
    /// Mean number waiting.
    pub in_queue: f64,
    /// Mean number there, in the machine too.
    pub in_system: f64,
    /// Mean wait before the start.
    pub wait: f64,
    /// Mean number in a batch.
    pub mean_batch: f64,
    /// Share of time the machine stands idle.
    pub p_idle: f64,
}

/// Poisson arrivals of single pieces, an exponential cycle, a batch of all that wait up to `largest_batch`, started
/// as soon as the machine is free and one waits. With `r` the root in (0, 1) of
/// `mu r^(K+1) - (lambda + mu) r + lambda = 0`, `q` wait while it runs with probability `P r^q`, and it stands idle
/// with `P mu / lambda`. `None` when `lambda >= K mu`.
///
/// After Bailey (1954) and Gross & Harris, Fundamentals of Queueing Theory, ch. 3, from memory of both.
pub fn batch_start(arrival_rate: f64, batch_rate: f64, largest_batch: u32) -> Option<BatchStart> {
    let r = batch_root(arrival_rate, batch_rate, largest_batch)?;
    let first = 1.0 / (1.0 / (1.0 - r) + batch_rate / arrival_rate);
    let in_queue = first * r / ((1.0 - r) * (1.0 - r));
    let running = first / (1.0 - r);
    Some(BatchStart {
        in_queue,
        in_system: in_queue + arrival_rate / batch_rate,
        wait: in_queue / arrival_rate,
        mean_batch: arrival_rate / (batch_rate * running),
        p_idle: first * batch_rate / arrival_rate,
    })
}

/// A batch server whose running batch later comers may still join.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joining {
    /// The root `r`: `n` are there with probability `(1 - r) r^n`.
    pub ratio: f64,
    /// Mean number there.
    pub in_system: f64,
    /// Mean time there.
    pub time_in_system: f64,
    /// Probability that nobody is there.
    pub p_empty: f64,
}

/// As [`batch_start`], but who comes while a part-filled batch runs joins it: `L = r / (1 - r)`. `None` when
/// `lambda >= K mu`.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 3 (bulk service).
pub fn batch_start_joining(
    arrival_rate: f64,
    batch_rate: f64,
    largest_batch: u32,
) -> Option<Joining> {
    let r = batch_root(arrival_rate, batch_rate, largest_batch)?;
    let in_system = r / (1.0 - r);
    Some(Joining {
        ratio: r,
        in_system,
        time_in_system: in_system / arrival_rate,
        p_empty: 1.0 - r,
    })
}

/// The root in (0, 1). Divided by its root 1 the equation reads `mu (r + r^2 + ... + r^K) = lambda`.
fn batch_root(arrival_rate: f64, batch_rate: f64, largest_batch: u32) -> Option<f64> {
    let lambda = positive(arrival_rate)?;
    let mu = positive(batch_rate)?;
    let k = positive(f64::from(largest_batch))?;
    (lambda < k * mu).then(|| {
        bisect(0.0, 1.0 - 1e-13, |r| {
            lambda - mu * r * (1.0 - power(r, largest_batch)) / (1.0 - r)
        })
    })
}
