//! M/M/1: Poisson arrivals, exponential service, one server.

use super::means::{Means, load};
use crate::solve::{fraction, not_negative, power};

/// The M/M/1 line in steady state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mm1 {
    /// The means.
    pub means: Means,
    /// Probability that nobody is there, `1 - rho`.
    pub p_empty: f64,
    /// Probability that an arrival has to wait, `rho`.
    pub p_wait: f64,
    /// Variance of the number there, `rho / (1 - rho)^2`.
    pub variance_in_system: f64,
    /// Mean length of a busy spell, `1 / (mu - lambda)`.
    pub busy_spell_mean: f64,
    /// Variance of the length of a busy spell, `(1 + rho) / (mu^2 (1 - rho)^3)`.
    pub busy_spell_variance: f64,
    spare_rate: f64,
}

/// M/M/1 in steady state: `L = rho / (1 - rho)`, `W = 1 / (mu - lambda)`. `None` at `arrival_rate >= service_rate`.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 2.
pub fn mm1(arrival_rate: f64, service_rate: f64) -> Option<Mm1> {
    let (_, rho) = load(arrival_rate, service_rate, 1)?;
    let spare = service_rate - arrival_rate;
    let idle = 1.0 - rho;
    Some(Mm1 {
        means: Means::from_wait(arrival_rate, 1.0 / service_rate, 1, rho / spare),
        p_empty: idle,
        p_wait: rho,
        variance_in_system: rho / (idle * idle),
        busy_spell_mean: 1.0 / spare,
        busy_spell_variance: (1.0 + rho) / (service_rate * service_rate * idle * idle * idle),
        spare_rate: spare,
    })
}

impl Mm1 {
    /// Probability that at least `count` are there, `rho^count`.
    pub fn p_at_least(&self, count: u32) -> f64 {
        power(self.p_wait, count)
    }

    /// Probability of waiting longer than `time`, `rho exp(-(mu - lambda) t)`. `None` for a negative time.
    pub fn p_wait_longer_than(&self, time: f64) -> Option<f64> {
        Some(self.p_wait * libm::exp(-self.spare_rate * not_negative(time)?))
    }

    /// The wait that a share `p` of arrivals do not exceed. `None` unless `0 < p < 1`.
    pub fn wait_quantile(&self, p: f64) -> Option<f64> {
        let above = 1.0 - fraction(p)?;
        // Those who do not wait at all may already be more than the share asked for.
        Some((libm::log(self.p_wait / above) / self.spare_rate).max(0.0))
    }

    /// The time there that a share `p` of arrivals do not exceed, `-ln(1 - p) / (mu - lambda)`.
    pub fn time_in_system_quantile(&self, p: f64) -> Option<f64> {
        Some(-libm::log1p(-fraction(p)?) / self.spare_rate)
    }
}
