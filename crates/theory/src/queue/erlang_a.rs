//! M/M/c+M: those who wait too long go away (Erlang A, Palm).

use crate::solve::{birth_death_without_end, positive};

/// A line whose customers lose patience.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ErlangA {
    /// Probability that an arrival finds all servers busy.
    pub p_wait: f64,
    /// Share of arrivals that give up.
    pub p_abandon: f64,
    /// Mean number waiting.
    pub in_queue: f64,
    /// Mean wait of all, those who give up too.
    pub wait: f64,
    /// Share of each server's time at work.
    pub utilisation: f64,
}

/// M/M/c with exponential patience of rate `impatience_rate` (mean patience is one over it): a birth and death chain
/// that falls at `mu min(n, c) + theta max(n - c, 0)`. Always has a steady state. `None` unless all rates are positive.
///
/// From memory of Palm (1946) and Garnett, Mandelbaum & Reiman, Manufacturing & Service Operations Management 4 (2002)
/// 208-227.
pub fn erlang_a(
    arrival_rate: f64,
    service_rate: f64,
    impatience_rate: f64,
    servers: u32,
) -> Option<ErlangA> {
    positive(arrival_rate)?;
    positive(service_rate)?;
    positive(impatience_rate)?;
    positive(f64::from(servers))?;
    let law = birth_death_without_end(
        |_| arrival_rate,
        |n| {
            service_rate * f64::from(n.min(servers))
                + impatience_rate * f64::from(n.saturating_sub(servers))
        },
    )?;
    let waiting = law.iter().zip(0_u32..).skip(servers as usize);
    let p_wait = waiting.clone().map(|(p, _)| p).sum();
    let in_queue: f64 = waiting.map(|(p, n)| p * f64::from(n - servers)).sum();
    let p_abandon = impatience_rate * in_queue / arrival_rate;
    Some(ErlangA {
        p_wait,
        p_abandon,
        in_queue,
        wait: in_queue / arrival_rate,
        utilisation: arrival_rate * (1.0 - p_abandon) / (service_rate * f64::from(servers)),
    })
}
