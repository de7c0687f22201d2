//! Classes of customers, the first served before the second, and so on.

use super::erlang_b::blocking;
use super::means::{MOST_SERVERS, Means};
use super::mmc::wait_probability;
use crate::Moments;
use crate::solve::{not_negative, positive};

/// One class; the list of classes is in order of preference.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PriorityClass {
    /// Arrivals of this class per time (Poisson).
    pub arrival_rate: f64,
    /// Its service time.
    pub service: Moments,
}

/// Means of each class at one server that finishes what it has begun (non-preemptive):
/// `Wq_k = W0 / ((1 - s_(k-1)) (1 - s_k))`, `W0 = sum lambda E[S^2] / 2`, `s_k` the load of classes 1 to k.
/// `None` when there is no class or the server cannot keep up with them all.
///
/// From memory of Cobham, Operations Research 2 (1954) 70-76. One worker with posts in order of preference and no walk
/// between them is such a server.
pub fn non_preemptive(classes: &[PriorityClass]) -> Option<Vec<Means>> {
    let mut residual = 0.0;
    for class in classes {
        residual += not_negative(class.arrival_rate)? * class.service.second() / 2.0;
    }
    let loads: Vec<f64> = classes
        .iter()
        .map(|class| class.arrival_rate * class.service.mean())
        .collect();
    let waits = share_out(&loads, residual)?;
    let means = classes
        .iter()
        .zip(waits)
        .map(|(class, wait)| Means::from_wait(class.arrival_rate, class.service.mean(), 1, wait));
    Some(means.collect())
}

/// Means of each class at `servers` like servers that finish what they have begun, the service exponential and of one
/// rate for all classes: `Wq_k = C / (c mu (1 - s_(k-1)) (1 - s_k))`, `C` of Erlang for the total. `None` when there
/// is no class or the servers cannot keep up.
///
/// From memory of Cobham, Operations Research 2 (1954) 70-76, and Kella & Yechiali (1985).
pub fn non_preemptive_with_servers(
    arrival_rates: &[f64],
    service_rate: f64,
    servers: u32,
) -> Option<Vec<Means>> {
    let all_servers = positive(service_rate)? * positive(f64::from(servers))?;
    if servers > MOST_SERVERS {
        return None;
    }
    let mut total = 0.0;
    for &rate in arrival_rates {
        total += not_negative(rate)?;
    }
    let loads: Vec<f64> = arrival_rates
        .iter()
        .map(|rate| rate / all_servers)
        .collect();
    let p_wait = wait_probability(blocking(total / service_rate, servers), total / all_servers);
    let waits = share_out(&loads, p_wait / all_servers)?;
    let means = arrival_rates
        .iter()
        .zip(waits)
        .map(|(&rate, wait)| Means::from_wait(rate, 1.0 / service_rate, servers, wait));
    Some(means.collect())
}

/// Mean time in the system of each class at one server that drops what it does when a preferred customer comes and
/// takes it up again later (preemptive resume), exponential service of one rate:
/// `W_k = (1 / mu) / (1 - s_(k-1)) + (sum over i <= k of lambda_i / mu^2) / ((1 - s_(k-1)) (1 - s_k))`.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 3.
pub fn preemptive_resume(arrival_rates: &[f64], service_rate: f64) -> Option<Vec<f64>> {
    positive(service_rate)?;
    let (mut before, mut times) = (0.0, Vec::new());
    for &rate in arrival_rates {
        let upto = before + not_negative(rate)? / service_rate;
        if upto >= 1.0 {
            return None;
        }
        let own = 1.0 / (service_rate * (1.0 - before));
        times.push(own + upto / (service_rate * (1.0 - before) * (1.0 - upto)));
        before = upto;
    }
    (!times.is_empty()).then_some(times)
}

/// `residual / ((1 - s_(k-1)) (1 - s_k))` for each class; `None` if the loads reach 1.
fn share_out(loads: &[f64], residual: f64) -> Option<Vec<f64>> {
    if loads.is_empty() || loads.iter().sum::<f64>() >= 1.0 {
        return None;
    }
    let mut before = 0.0;
    let waits = loads.iter().map(|load| {
        let upto = before + load;
        let wait = residual / ((1.0 - before) * (1.0 - upto));
        before = upto;
        wait
    });
    Some(waits.collect())
}
