//! Clearing what is left once nothing more comes.

use crate::queue::MOST_SERVERS;
use crate::solve::positive;

/// Time to clear a backlog.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drain {
    /// Its mean.
    pub mean: f64,
    /// Its variance.
    pub variance: f64,
}

/// Time until `backlog` customers, all there at once, are served by `servers` in exponential times: mean
/// `sum over n of 1 / (mu min(n, c))`, variance the sum of the squares. Elementary (a pure death chain). `None`
/// unless there is a server with a positive rate.
pub fn drain(backlog: u32, service_rate: f64, servers: u32) -> Option<Drain> {
    positive(service_rate)?;
    positive(f64::from(servers))?;
    if servers > MOST_SERVERS {
        return None;
    }
    let (mut mean, mut variance) = (0.0, 0.0);
    let mut step = |n: u32, times: f64| {
        let each = 1.0 / (service_rate * f64::from(n));
        mean += each * times;
        variance += each * each * times;
    };
    (1..=backlog.min(servers)).for_each(|n| step(n, 1.0));
    // Until no more are left than there are servers, all of them work.
    step(servers, f64::from(backlog.saturating_sub(servers)));
    Some(Drain { mean, variance })
}
