//! M/M/c//N: a fixed pool of things that come back to the same servers (the machine-repair model).

use crate::solve::{birth_death, positive};

/// A pool in steady state. "Away" is what a thing does between two visits: racks in the tunnel and drying, say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FiniteSource {
    /// Probability that all are away.
    pub p_none_here: f64,
    /// Mean number here, waiting or in service.
    pub here: f64,
    /// Mean number waiting.
    pub in_queue: f64,
    /// Visits per time.
    pub throughput: f64,
    /// Mean wait of a visit.
    pub wait: f64,
    /// Mean share of the pool that is away.
    pub share_away: f64,
    /// Share of each server's time at work.
    pub utilisation: f64,
}

/// `pool` things, each away an exponential time of rate `return_rate` and then served at `service_rate` by one of
/// `servers`: `p(n)` is proportional to the product of `(N - n + 1) lambda / (mu min(n, c))`. Always has a steady
/// state.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 2. With one server, the time away need not be
/// exponential.
pub fn finite_source(
    return_rate: f64,
    service_rate: f64,
    servers: u32,
    pool: u32,
) -> Option<FiniteSource> {
    positive(return_rate)?;
    positive(service_rate)?;
    if servers == 0 || pool == 0 {
        return None;
    }
    let law = birth_death(
        pool,
        |n| f64::from(pool - n) * return_rate,
        |n| f64::from(n.min(servers)) * service_rate,
    )?;
    let (mut here, mut in_queue) = (0.0, 0.0);
    for (p, n) in law.iter().zip(0_u32..) {
        here += p * f64::from(n);
        in_queue += p * f64::from(n.saturating_sub(servers));
    }
    let away = f64::from(pool) - here;
    let throughput = return_rate * away;
    Some(FiniteSource {
        p_none_here: law[0],
        here,
        in_queue,
        throughput,
        wait: in_queue / throughput,
        share_away: away / f64::from(pool),
        utilisation: throughput / (service_rate * f64::from(servers)),
    })
}
