//! Customers that come several at once, and are served one by one.

use super::means::{Means, load};
use crate::solve::positive;

/// Groups of customers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BulkArrival {
    /// Groups per time (Poisson).
    pub group_rate: f64,
    /// Mean size of a group, 1 or more.
    pub mean_size: f64,
    /// Mean of the squared size.
    pub mean_square_size: f64,
}

impl BulkArrival {
    /// Groups of 1, 2, 3, ... that come at these rates. `None` if no rate is positive or one is negative.
    pub fn from_rates(rate_by_size: &[f64]) -> Option<Self> {
        if rate_by_size
            .iter()
            .any(|rate| !rate.is_finite() || *rate < 0.0)
        {
            return None;
        }
        let (mut rate, mut sizes, mut squares) = (0.0, 0.0, 0.0);
        for (r, size) in rate_by_size.iter().zip(1_u32..) {
            let size = f64::from(size);
            rate += r;
            sizes += r * size;
            squares += r * size * size;
        }
        positive(rate)?;
        Some(Self {
            group_rate: rate,
            mean_size: sizes / rate,
            mean_square_size: squares / rate,
        })
    }

    /// Groups of geometric size 1, 2, ... with this mean: `E[X^2] = m^2 + m (m - 1)`.
    pub fn geometric(group_rate: f64, mean_size: f64) -> Option<Self> {
        positive(group_rate)?;
        (mean_size.is_finite() && mean_size >= 1.0).then_some(Self {
            group_rate,
            mean_size,
            mean_square_size: mean_size * mean_size + mean_size * (mean_size - 1.0),
        })
    }

    /// Mean number of the same group served before a customer picked at random, `(E[X^2] / E[X] - 1) / 2`.
    fn ahead_in_group(&self) -> f64 {
        (self.mean_square_size / self.mean_size - 1.0) / 2.0
    }

    fn wait(&self, service_mean: f64, service_second: f64) -> Option<Means> {
        positive(self.group_rate)?;
        if self.mean_square_size < self.mean_size * self.mean_size * (1.0 - 1e-12) {
            return None;
        }
        let rate = self.group_rate * positive(self.mean_size)?;
        let (_, rho) = load(rate, 1.0 / positive(service_mean)?, 1)?;
        let crowd = rate * service_second / 2.0 + self.ahead_in_group() * service_mean;
        Some(Means::from_wait(rate, service_mean, 1, crowd / (1.0 - rho)))
    }
}

/// Groups served one by one in exponential times: `L = (rho + lambda E[X^2] / mu) / (2 (1 - rho))`.
/// `None` when the server cannot keep up.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 3.
pub fn bulk_arrival_exponential(groups: BulkArrival, service_rate: f64) -> Option<Means> {
    let mean = 1.0 / positive(service_rate)?;
    groups.wait(mean, 2.0 * mean * mean)
}

/// Groups served one by one, each in the same time: `Wq = lambda E[X] E[S^2] / (2 (1 - rho)) +
/// (E[X^2] / E[X] - 1) E[S] / (2 (1 - rho))`. `None` when the server cannot keep up.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 5.
pub fn bulk_arrival_constant(groups: BulkArrival, service_time: f64) -> Option<Means> {
    groups.wait(service_time, service_time * service_time)
}
