//! The four means of a line, tied together by Little's law.

use crate::solve::{not_negative, positive};

/// Long-run means of a line that keeps up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Means {
    /// Share of each server's time at work, `lambda E[S] / c`.
    pub utilisation: f64,
    /// Mean number there, waiting or in service (L).
    pub in_system: f64,
    /// Mean number waiting (Lq).
    pub in_queue: f64,
    /// Mean time there (W).
    pub time_in_system: f64,
    /// Mean wait before service (Wq).
    pub wait: f64,
}

impl Means {
    /// From the mean wait: `W = Wq + E[S]`, `Lq = lambda Wq`, `L = lambda W`.
    pub(crate) fn from_wait(rate: f64, service: f64, servers: u32, wait: f64) -> Self {
        Self {
            utilisation: rate * service / f64::from(servers),
            in_system: rate * (wait + service),
            in_queue: rate * wait,
            time_in_system: wait + service,
            wait,
        }
    }
}

/// Most servers that are worked out one by one.
pub(crate) const MOST_SERVERS: u32 = 10_000_000;

/// Offered load `lambda / mu` and use of each server, if that is below 1.
pub(crate) fn load(arrival_rate: f64, service_rate: f64, servers: u32) -> Option<(f64, f64)> {
    let offered = not_negative(arrival_rate)? / positive(service_rate)?;
    if servers > MOST_SERVERS {
        return None;
    }
    let use_of_each = offered / positive(f64::from(servers))?;
    (use_of_each < 1.0).then_some((offered, use_of_each))
}
