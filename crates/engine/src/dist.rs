//! The distributions a scenario can ask for, by the moments a person knows.

/// How a length or an amount varies. All parameters are in the unit of the value drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Dist {
    /// Always the same.
    Constant(f64),
    /// Exponential with this mean.
    Exponential {
        /// Mean.
        mean: f64,
    },
    /// Lognormal with this mean and coefficient of variation *of the value itself*.
    Lognormal {
        /// Mean of the value.
        mean: f64,
        /// Standard deviation divided by the mean.
        cv: f64,
    },
    /// Gamma with this mean and coefficient of variation.
    Gamma {
        /// Mean.
        mean: f64,
        /// Standard deviation divided by the mean.
        cv: f64,
    },
    /// Weibull by shape and scale (the loader solves them from a mean and a cv).
    Weibull {
        /// Shape.
        shape: f64,
        /// Scale.
        scale: f64,
    },
    /// Normal with this mean and standard deviation, drawn again while it is negative.
    NormalCut {
        /// Mean of the uncut normal.
        mean: f64,
        /// Standard deviation of the uncut normal.
        sd: f64,
    },
    /// Triangular.
    Triangular {
        /// Least.
        min: f64,
        /// Most likely.
        mode: f64,
        /// Greatest.
        max: f64,
    },
    /// PERT (beta on `[min, max]` with shape weight 4 on the mode).
    Pert {
        /// Least.
        min: f64,
        /// Most likely.
        mode: f64,
        /// Greatest.
        max: f64,
    },
    /// Uniform between two values.
    Uniform {
        /// Least.
        min: f64,
        /// Greatest.
        max: f64,
    },
    /// One of these readings, each as likely as the others.
    Empirical(Vec<f64>),
}

impl Dist {
    /// Mean of the value drawn.
    ///
    /// For [`Dist::NormalCut`] the mean of the normal cut at nought:
    /// `mean + sd * pdf(-mean/sd) / (1 - cdf(-mean/sd))`, the standard result for a truncated normal.
    pub fn mean(&self) -> f64 {
        match *self {
            Dist::Constant(value) => value,
            Dist::Exponential { mean }
            | Dist::Lognormal { mean, .. }
            | Dist::Gamma { mean, .. } => mean,
            Dist::Weibull { shape, scale } => scale * libm::tgamma(1.0 + 1.0 / shape),
            Dist::NormalCut { mean, sd } => {
                if sd <= 0.0 {
                    return mean.max(0.0);
                }
                let z = mean / sd;
                let density = libm::exp(-0.5 * z * z) / (std::f64::consts::TAU).sqrt();
                let kept = 0.5 * libm::erfc(-z / std::f64::consts::SQRT_2);
                mean + sd * density / kept
            }
            Dist::Triangular { min, mode, max } => (min + mode + max) / 3.0,
            Dist::Pert { min, mode, max } => (min + 4.0 * mode + max) / 6.0,
            Dist::Uniform { min, max } => (min + max) / 2.0,
            Dist::Empirical(ref readings) => {
                readings.iter().sum::<f64>() / readings.len().max(1) as f64
            }
        }
    }
}
