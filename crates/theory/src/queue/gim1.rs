//! GI/M/1: independent gaps of any law between arrivals, exponential service, one server.

use super::means::{Means, load};
use crate::solve::{bisect, not_negative, positive};

/// Law of the gap between two arrivals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gap {
    /// Always the same.
    Constant {
        /// The gap.
        time: f64,
    },
    /// Exponential: makes the line an M/M/1.
    Exponential {
        /// Arrivals per time.
        rate: f64,
    },
    /// Sum of equal exponential stages.
    Erlang {
        /// How many stages.
        stages: u32,
        /// Arrivals per time (one arrival takes all the stages).
        rate: f64,
    },
    /// Uniform.
    Uniform {
        /// Shortest gap.
        low: f64,
        /// Longest gap.
        high: f64,
    },
}

impl Gap {
    /// Mean gap; `None` if the figures make no law.
    fn mean(self) -> Option<f64> {
        match self {
            Self::Constant { time } => positive(time),
            Self::Exponential { rate } => Some(1.0 / positive(rate)?),
            Self::Erlang { stages, rate } => {
                positive(f64::from(stages))?;
                Some(1.0 / positive(rate)?)
            }
            Self::Uniform { low, high } => {
                not_negative(low)?;
                positive(high - low)?;
                Some((low + high) / 2.0)
            }
        }
    }

    /// Laplace transform `E[exp(-s gap)]` at `s > 0`.
    fn transform(self, s: f64) -> f64 {
        match self {
            Self::Constant { time } => libm::exp(-s * time),
            Self::Exponential { rate } => rate / (rate + s),
            Self::Erlang { stages, rate } => {
                let stages = f64::from(stages);
                libm::pow(1.0 + s / (stages * rate), -stages)
            }
            Self::Uniform { low, high } => {
                let width = s * (high - low);
                libm::exp(-s * low) * -libm::expm1(-width) / width
            }
        }
    }
}

/// The GI/M/1 line in steady state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GiM1 {
    /// The means.
    pub means: Means,
    /// Probability that an arrival has to wait (sigma): an arrival finds `n` there with `(1 - sigma) sigma^n`.
    pub p_wait: f64,
}

/// GI/M/1 in steady state: sigma is the root below 1 of `sigma = A*(mu (1 - sigma))`, `A*` the transform of the gap;
/// `Wq = sigma / (mu (1 - sigma))`. `None` when the server cannot keep up.
///
/// From memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 5.
pub fn gim1(gap: Gap, service_rate: f64) -> Option<GiM1> {
    let arrival_rate = 1.0 / gap.mean()?;
    load(arrival_rate, service_rate, 1)?;
    let sigma = waiting_root(service_rate, |s| gap.transform(s));
    let wait = sigma / (service_rate * (1.0 - sigma));
    Some(GiM1 {
        means: Means::from_wait(arrival_rate, 1.0 / service_rate, 1, wait),
        p_wait: sigma,
    })
}

/// The root below 1 of `sigma = transform(mu (1 - sigma))`, for a line that keeps up.
pub(crate) fn waiting_root(service_rate: f64, transform: impl Fn(f64) -> f64) -> f64 {
    // 1 is a root too; it is kept just out of reach.
    bisect(0.0, 1.0 - 1e-12, |sigma| {
        transform(service_rate * (1.0 - sigma)) - sigma
    })
}
