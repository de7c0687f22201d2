//! Drawing from a [`Dist`]: the constants are worked out once, the mathematics is pinned.

use rand::distr::{Distribution, Uniform};
use rand_distr::{Exp1, Gamma, LogNormal, Pert, StandardNormal, Triangular, Weibull};

use crate::dist::Dist;
use crate::pinned::Pinned;
use crate::streams::{Draw, Keyed};

/// A [`Dist`] made ready to draw from.
#[derive(Clone, Debug)]
pub struct Sampler {
    dist: Dist,
    law: Law,
}

#[derive(Clone, Debug)]
enum Law {
    Constant(f64),
    Exponential(f64),
    Lognormal(LogNormal<Pinned>),
    Gamma(Gamma<Pinned>),
    Weibull(Weibull<Pinned>),
    NormalCut(f64, f64),
    NormalTail(f64, f64),
    Triangular(Triangular<Pinned>),
    Pert(Pert<Pinned>),
    Uniform(f64, f64),
    Empirical,
}

impl Default for Sampler {
    fn default() -> Sampler {
        Sampler::new(&Dist::Constant(0.0))
    }
}

impl Sampler {
    /// Ready to draw from `dist`. Parameters that name no distribution (the loader refuses them) draw the mean.
    pub fn new(dist: &Dist) -> Sampler {
        Sampler {
            law: Law::of(dist),
            dist: dist.clone(),
        }
    }

    /// Made ready for `dist`; costs nothing when it is the same as before.
    pub fn fit(&mut self, dist: &Dist) {
        if self.dist != *dist {
            *self = Sampler::new(dist);
        }
    }

    /// The value with this ordinal of a source.
    #[inline]
    pub fn value(&self, source: Keyed, ordinal: u64) -> f64 {
        match self.law {
            Law::Constant(value) => value,
            _ => self.drawn(source, ordinal),
        }
    }

    /// Its generator is made in here, and so not at all for a constant; an exponential needs nothing of the large function
    /// that knows all laws.
    #[inline(never)]
    fn drawn(&self, source: Keyed, ordinal: u64) -> f64 {
        let mut from = source.at(ordinal);
        match self.law {
            Law::Exponential(mean) => exponential(mean, &mut from),
            _ => self.draw(from),
        }
    }

    /// One value, from the generator of that value.
    pub fn draw(&self, mut from: Draw) -> f64 {
        let rng = &mut from;
        match &self.law {
            Law::Constant(value) => *value,
            Law::Exponential(mean) => exponential(*mean, rng),
            Law::Lognormal(law) => law.sample(rng).0,
            Law::Gamma(law) => law.sample(rng).0,
            Law::Weibull(law) => law.sample(rng).0,
            Law::NormalCut(mean, sd) => loop {
                let Pinned(unit) = StandardNormal.sample(rng);
                let value = mean + sd * unit;
                if value >= 0.0 {
                    return value;
                }
            },
            Law::NormalTail(mean, sd) => loop {
                // Below nought most draws of a normal would be thrown away: an exponential fitted to the tail is not.
                // Source: Robert, Simulation of truncated normal variables, Statistics and Computing 5 (1995).
                let cut = -mean / sd;
                let rate = 0.5 * (cut + (cut * cut + 4.0).sqrt());
                let Pinned(unit) = Exp1.sample(rng);
                let z = cut + unit / rate;
                if rng.uniform() <= libm::exp(-0.5 * (z - rate) * (z - rate)) {
                    return (mean + sd * z).max(0.0);
                }
            },
            Law::Triangular(law) => law.sample(rng).0,
            Law::Pert(law) => law.sample(rng).0,
            Law::Uniform(min, width) => min + width * rng.uniform(),
            Law::Empirical => match &self.dist {
                Dist::Empirical(readings) => {
                    let pick = Uniform::new(0, readings.len()).map(|all| all.sample(rng));
                    pick.ok()
                        .and_then(|i| readings.get(i))
                        .copied()
                        .unwrap_or(0.0)
                }
                _ => 0.0,
            },
        }
    }
}

#[inline]
fn exponential(mean: f64, rng: &mut Draw) -> f64 {
    let Pinned(unit) = Exp1.sample(rng);
    mean * unit
}

impl Law {
    fn of(dist: &Dist) -> Law {
        let p = Pinned;
        let made = match *dist {
            Dist::Constant(value) => Some(Law::Constant(value)),
            Dist::Exponential { mean } => (mean > 0.0).then_some(Law::Exponential(mean)),
            Dist::Lognormal { mean, cv } if cv > 0.0 => LogNormal::from_mean_cv(p(mean), p(cv))
                .ok()
                .map(Law::Lognormal),
            Dist::Gamma { mean, cv } if cv > 0.0 => {
                let shape = 1.0 / (cv * cv);
                Gamma::new(p(shape), p(mean / shape)).ok().map(Law::Gamma)
            }
            Dist::Weibull { shape, scale } => {
                Weibull::new(p(scale), p(shape)).ok().map(Law::Weibull)
            }
            Dist::NormalCut { mean, sd } if mean < 0.0 => {
                (sd > 0.0 && mean.is_finite()).then_some(Law::NormalTail(mean, sd))
            }
            Dist::NormalCut { mean, sd } => (sd > 0.0).then_some(Law::NormalCut(mean, sd)),
            Dist::Triangular { min, mode, max } => Triangular::new(p(min), p(max), p(mode))
                .ok()
                .map(Law::Triangular),
            Dist::Pert { min, mode, max } => Pert::new(p(min), p(max))
                .with_mode(p(mode))
                .ok()
                .map(Law::Pert),
            Dist::Uniform { min, max } => (max > min).then_some(Law::Uniform(min, max - min)),
            Dist::Empirical(ref readings) => (!readings.is_empty()).then_some(Law::Empirical),
            Dist::Lognormal { .. } | Dist::Gamma { .. } => None,
        };
        made.unwrap_or_else(|| Law::Constant(dist.mean()))
    }
}
