//! The share of a distribution that lies at or below a value.

use scullery_engine::dist::Dist;
use statrs::function::beta::beta_reg;
use statrs::function::gamma::gamma_lr;

/// Probability that a drawn value is at most `x`.
pub(crate) fn below(dist: &Dist, x: f64) -> f64 {
    let share = match dist {
        Dist::Constant(value) => f64::from(u8::from(x >= *value)),
        _ if x <= 0.0 => 0.0,
        Dist::Exponential { mean } => 1.0 - libm::exp(-x / mean),
        Dist::Lognormal { mean, cv } => {
            let variance = libm::log1p(cv * cv);
            normal_below((libm::log(x / mean) + variance / 2.0) / variance.sqrt())
        }
        Dist::Gamma { mean, cv } => {
            let shape = 1.0 / (cv * cv);
            gamma_lr(shape, x * shape / mean)
        }
        Dist::Weibull { shape, scale } => 1.0 - libm::exp(-libm::pow(x / scale, *shape)),
        Dist::NormalCut { mean, sd } => {
            let cut = normal_below(-mean / sd);
            (normal_below((x - mean) / sd) - cut) / (1.0 - cut)
        }
        Dist::Triangular { min, mode, max } => {
            if x <= *mode {
                let low = (x - min).max(0.0);
                if mode > min {
                    low * low / ((max - min) * (mode - min))
                } else {
                    0.0
                }
            } else {
                let high = (max - x).max(0.0);
                1.0 - high * high / ((max - min) * (max - mode))
            }
        }
        Dist::Pert { min, mode, max } => {
            let width = max - min;
            let at = ((x - min) / width).clamp(0.0, 1.0);
            beta_reg(
                1.0 + 4.0 * (mode - min) / width,
                1.0 + 4.0 * (max - mode) / width,
                at,
            )
        }
        Dist::Uniform { min, max } => (x - min) / (max - min),
        Dist::Empirical(readings) => {
            readings.iter().filter(|reading| **reading <= x).count() as f64
                / readings.len().max(1) as f64
        }
    };
    share.clamp(0.0, 1.0)
}

fn normal_below(z: f64) -> f64 {
    libm::erfc(-z / std::f64::consts::SQRT_2) / 2.0
}
