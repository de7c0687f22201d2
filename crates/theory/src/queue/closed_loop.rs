//! A fixed number of racks going round: mean value analysis.

use crate::solve::{not_negative, positive};

/// Most things followed one by one.
const MOST_CIRCULATING: u32 = 10_000_000;

/// One station of the loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoopStation {
    /// Share of time at work.
    pub utilisation: f64,
    /// Mean number there, waiting or in service.
    pub in_system: f64,
    /// Mean time there per round.
    pub time_in_system: f64,
}

/// The loop in steady state.
#[derive(Clone, Debug, PartialEq)]
pub struct ClosedLoop {
    /// Rounds per time, over all that go round (X).
    pub throughput: f64,
    /// Mean time per round at the stations, thinking time not counted (R).
    pub time_at_stations: f64,
    /// The stations, in the order of the demands.
    pub stations: Vec<LoopStation>,
    /// No loop can do more than this: `min(1 / largest demand, N / (sum of demands + Z))`.
    pub throughput_bound: f64,
}

/// `circulating` things go round single servers with mean work `demands` per round, and spend `thinking_time` a round
/// away from them all (drying, in use; any law). Exact mean value analysis: `R_i = D_i (1 + Q_i(n - 1))`,
/// `X = n / (Z + sum R)`, `Q_i = X R_i`. Service is exponential. `None` if there is no station with work, or nothing
/// goes round.
///
/// From memory of Lazowska et al., Quantitative System Performance (1984), ch. 6.
pub fn closed_loop(demands: &[f64], thinking_time: f64, circulating: u32) -> Option<ClosedLoop> {
    not_negative(thinking_time)?;
    let (mut all, mut largest) = (0.0, 0.0_f64);
    for &demand in demands {
        all += not_negative(demand)?;
        largest = largest.max(demand);
    }
    positive(largest)?;
    if circulating > MOST_CIRCULATING {
        return None;
    }
    let pool = positive(f64::from(circulating))?;
    let mut queue = vec![0.0; demands.len()];
    let mut times = vec![0.0; demands.len()];
    let (mut throughput, mut round) = (0.0, 0.0);
    for n in 1..=circulating {
        for ((time, demand), there) in times.iter_mut().zip(demands).zip(&queue) {
            *time = demand * (1.0 + there);
        }
        round = times.iter().sum();
        throughput = f64::from(n) / (thinking_time + round);
        for (there, time) in queue.iter_mut().zip(&times) {
            *there = throughput * time;
        }
    }
    let stations = demands.iter().zip(&times).zip(&queue);
    Some(ClosedLoop {
        throughput,
        time_at_stations: round,
        stations: stations
            .map(|((demand, time), there)| LoopStation {
                utilisation: throughput * demand,
                in_system: *there,
                time_in_system: *time,
            })
            .collect(),
        throughput_bound: (1.0 / largest).min(pool / (all + thinking_time)),
    })
}
