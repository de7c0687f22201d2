//! Parameters of distributions from the moments a person knows.

use scullery_engine::dist::Dist;

/// The same distribution with every value multiplied by `by`.
pub(crate) fn scaled(dist: Dist, by: f64) -> Dist {
    match dist {
        Dist::Constant(value) => Dist::Constant(value * by),
        Dist::Exponential { mean } => Dist::Exponential { mean: mean * by },
        Dist::Lognormal { mean, cv } => Dist::Lognormal {
            mean: mean * by,
            cv,
        },
        Dist::Gamma { mean, cv } => Dist::Gamma {
            mean: mean * by,
            cv,
        },
        Dist::Weibull { shape, scale } => Dist::Weibull {
            shape,
            scale: scale * by,
        },
        Dist::NormalCut { mean, sd } => Dist::NormalCut {
            mean: mean * by,
            sd: sd * by,
        },
        Dist::Triangular { min, mode, max } => Dist::Triangular {
            min: min * by,
            mode: mode * by,
            max: max * by,
        },
        Dist::Pert { min, mode, max } => Dist::Pert {
            min: min * by,
            mode: mode * by,
            max: max * by,
        },
        Dist::Uniform { min, max } => Dist::Uniform {
            min: min * by,
            max: max * by,
        },
        Dist::Empirical(readings) => {
            Dist::Empirical(readings.into_iter().map(|reading| reading * by).collect())
        }
    }
}

/// Weibull with this mean and coefficient of variation: the shape `k` for which
/// `Gamma(1 + 2/k) / Gamma(1 + 1/k)^2 = 1 + cv^2`, by halving.
pub(crate) fn weibull(mean: f64, cv: f64) -> Dist {
    let wanted = libm::log1p(cv * cv);
    let (mut low, mut high) = (0.05_f64, 2000.0_f64);
    for _ in 0..200 {
        let middle = (low * high).sqrt();
        let spread = libm::lgamma(1.0 + 2.0 / middle) - 2.0 * libm::lgamma(1.0 + 1.0 / middle);
        if spread > wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    let shape = (low * high).sqrt();
    Dist::Weibull {
        shape,
        scale: mean / libm::exp(libm::lgamma(1.0 + 1.0 / shape)),
    }
}

/// The 9th of 10 of a lognormal with mean 1 and coefficient of variation `cv`.
pub(crate) fn busy_factor(cv: f64) -> f64 {
    // 0.9 quantile of the standard normal.
    const Z: f64 = 1.281_551_565_544_600_4;
    let variance = libm::log1p(cv * cv);
    libm::exp(Z * variance.sqrt() - variance / 2.0)
}
