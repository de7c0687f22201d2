//! M/M/c/K: room for so many and no more; who finds it full goes away.

use crate::solve::{birth_death, positive};

/// A line with finite room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mmck {
    /// Probability that nobody is there.
    pub p_empty: f64,
    /// Probability that the room is full: the share of arrivals turned away.
    pub p_full: f64,
    /// Customers served per time, `lambda (1 - p_full)`.
    pub throughput: f64,
    /// Mean number there.
    pub in_system: f64,
    /// Mean number waiting.
    pub in_queue: f64,
    /// Mean time there of those let in.
    pub time_in_system: f64,
    /// Mean wait of those let in.
    pub wait: f64,
    /// Share of each server's time at work.
    pub utilisation: f64,
}

/// M/M/c with room for `room` in all, those in service counted: `p(n)` is proportional to the product of
/// `lambda / (mu min(n, c))`. Has a steady state at any rates. `None` if a rate is not positive or `room < servers`.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 2.
pub fn mmck(arrival_rate: f64, service_rate: f64, servers: u32, room: u32) -> Option<Mmck> {
    positive(arrival_rate)?;
    positive(service_rate)?;
    if servers == 0 || room < servers {
        return None;
    }
    let law = birth_death(
        room,
        |_| arrival_rate,
        |n| service_rate * f64::from(n.min(servers)),
    )?;
    let mean = |count: fn(u32, u32) -> u32| -> f64 {
        let terms = law.iter().zip(0_u32..);
        terms.map(|(p, n)| p * f64::from(count(n, servers))).sum()
    };
    let in_system = mean(|n, _| n);
    let in_queue = mean(|n, c| n.saturating_sub(c));
    let p_full = *law.last()?;
    let throughput = arrival_rate * (1.0 - p_full);
    Some(Mmck {
        p_empty: law[0],
        p_full,
        throughput,
        in_system,
        in_queue,
        time_in_system: in_system / throughput,
        wait: in_queue / throughput,
        utilisation: throughput / (service_rate * f64::from(servers)),
    })
}
