//! M/M/c: several like servers behind one queue (Erlang C).

use super::erlang_b::blocking;
use super::means::{Means, load};
use crate::solve::{fraction, not_negative};

/// The M/M/c line in steady state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mmc {
    /// The means.
    pub means: Means,
    /// Mean number of busy servers, `lambda / mu`.
    pub offered_load: f64,
    /// Probability that nobody is there. Below about 1e-300 it is told as nought.
    pub p_empty: f64,
    /// Probability that an arrival has to wait (Erlang C).
    pub p_wait: f64,
    spare_rate: f64,
}

/// M/M/c in steady state: `C = B / (1 - rho (1 - B))` with `B` the Erlang loss, `Wq = C / (c mu - lambda)`. `None`
/// when the servers together cannot keep up.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 2.
pub fn mmc(arrival_rate: f64, service_rate: f64, servers: u32) -> Option<Mmc> {
    let (offered, rho) = load(arrival_rate, service_rate, servers)?;
    let lost = blocking(offered, servers);
    let p_wait = wait_probability(lost, rho);
    let spare = f64::from(servers) * service_rate - arrival_rate;
    Some(Mmc {
        means: Means::from_wait(arrival_rate, 1.0 / service_rate, servers, p_wait / spare),
        offered_load: offered,
        p_empty: empty(offered, rho, servers, p_wait),
        p_wait,
        spare_rate: spare,
    })
}

/// Erlang C from the Erlang loss and the use of each server.
pub(crate) fn wait_probability(lost: f64, rho: f64) -> f64 {
    lost / (1.0 - rho + rho * lost)
}

fn empty(offered: f64, rho: f64, servers: u32, p_wait: f64) -> f64 {
    if offered <= 0.0 {
        return 1.0;
    }
    // P(N = c) = C (1 - rho) = p0 a^c / c!
    let c = f64::from(servers);
    p_wait * (1.0 - rho) * libm::exp(libm::lgamma(c + 1.0) - c * libm::log(offered))
}

impl Mmc {
    /// Probability of waiting longer than `time`, `C exp(-(c mu - lambda) t)`. `None` for a negative time.
    pub fn p_wait_longer_than(&self, time: f64) -> Option<f64> {
        Some(self.p_wait * libm::exp(-self.spare_rate * not_negative(time)?))
    }

    /// The wait that a share `p` of arrivals do not exceed. `None` unless `0 < p < 1`.
    pub fn wait_quantile(&self, p: f64) -> Option<f64> {
        let above = 1.0 - fraction(p)?;
        Some((libm::log(self.p_wait / above) / self.spare_rate).max(0.0))
    }
}
