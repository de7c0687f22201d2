//! Mean and mean square of a time that varies, from the figures a person knows.

use crate::solve::{not_negative, positive};

/// Mean and mean square of a time: all that the mean wait in an M/G/1 queue asks of its service times.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moments {
    mean: f64,
    second: f64,
}

impl Moments {
    /// A time with this mean and mean square (time squared). `None` if the mean is not positive or the mean square
    /// is below the square of the mean.
    pub fn new(mean: f64, second: f64) -> Option<Self> {
        positive(mean)?;
        positive(second)?;
        // A hair of slack, so that a constant worked out in floating point still counts.
        (second >= mean * mean * (1.0 - 1e-12)).then_some(Self { mean, second })
    }

    /// Always the same time.
    pub fn constant(time: f64) -> Option<Self> {
        Self::new(time, time * time)
    }

    /// Exponential with this mean: `E[S^2] = 2 mean^2`.
    pub fn exponential(mean: f64) -> Option<Self> {
        Self::new(mean, 2.0 * mean * mean)
    }

    /// Sum of `stages` equal exponential stages: `cv^2 = 1 / stages`.
    pub fn erlang(stages: u32, mean: f64) -> Option<Self> {
        let stages = positive(f64::from(stages))?;
        Self::new(mean, mean * mean * (1.0 + 1.0 / stages))
    }

    /// Any law (lognormal, gamma, Weibull...) known by its mean and coefficient of variation:
    /// `E[S^2] = mean^2 (1 + cv^2)`.
    pub fn from_mean_and_cv(mean: f64, cv: f64) -> Option<Self> {
        not_negative(cv)?;
        Self::new(mean, mean * mean * (1.0 + cv * cv))
    }

    /// Exponential of rate `first_rate` with probability `first_share`, else exponential of rate `other_rate`.
    pub fn two_kinds(first_share: f64, first_rate: f64, other_rate: f64) -> Option<Self> {
        not_negative(first_share)?;
        let other_share = not_negative(1.0 - first_share)?;
        let (a, b) = (1.0 / positive(first_rate)?, 1.0 / positive(other_rate)?);
        Self::new(
            first_share * a + other_share * b,
            2.0 * (first_share * a * a + other_share * b * b),
        )
    }

    /// Uniform from `low` to `high`.
    pub fn uniform(low: f64, high: f64) -> Option<Self> {
        not_negative(low)?;
        not_negative(high - low)?;
        let mean = (low + high) / 2.0;
        let variance = (high - low) * (high - low) / 12.0;
        Self::new(mean, mean * mean + variance)
    }

    /// Triangular with its shortest, likeliest and longest time.
    pub fn triangular(low: f64, mode: f64, high: f64) -> Option<Self> {
        not_negative(low)?;
        not_negative(mode - low)?;
        not_negative(high - mode)?;
        let mean = (low + mode + high) / 3.0;
        let squares = low * low + mode * mode + high * high;
        let variance = (squares - low * mode - low * high - mode * high) / 18.0;
        Self::new(mean, mean * mean + variance)
    }

    /// The mean time.
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// The mean of the squared time (time squared).
    pub fn second(&self) -> f64 {
        self.second
    }

    /// Squared coefficient of variation, `variance / mean^2`.
    pub fn scv(&self) -> f64 {
        (self.second / (self.mean * self.mean) - 1.0).max(0.0)
    }

    /// Mean time still to run when looked in upon at a random moment, `E[S^2] / (2 E[S])`.
    pub fn residual(&self) -> f64 {
        self.second / (2.0 * self.mean)
    }
}
