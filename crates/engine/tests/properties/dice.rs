//! Choices from which a case is built. The smallest choice is always the plainest, and so are choices that have run
//! out, so that a failing case shrinks towards a bare line.

use scullery_engine::dist::Dist;
use scullery_engine::time::Span;

/// Choices for one part of a line.
pub(crate) struct Dice<'a> {
    left: std::slice::Iter<'a, u16>,
}

impl<'a> Dice<'a> {
    pub(crate) fn new(choices: &'a [u16]) -> Dice<'a> {
        Dice {
            left: choices.iter(),
        }
    }

    /// A whole number from nought to `most`.
    pub(crate) fn upto(&mut self, most: u32) -> u32 {
        let choice = self.left.next().copied().unwrap_or(0);
        ((u64::from(choice) * (u64::from(most) + 1)) >> 16) as u32
    }

    /// A whole number from `least` to `most`.
    pub(crate) fn between(&mut self, least: u32, most: u32) -> u32 {
        least + self.upto(most - least)
    }

    /// True once in so many times.
    pub(crate) fn once_in(&mut self, times: u32) -> bool {
        self.upto(times - 1) == times - 1
    }

    /// One of these, the plainest first.
    pub(crate) fn pick<T: Clone>(&mut self, from: &[T]) -> T {
        from[self.upto(from.len() as u32 - 1) as usize].clone()
    }

    /// Seconds: often none at all, often whole, sometimes not.
    pub(crate) fn secs(&mut self, most: u32) -> f64 {
        match self.upto(3) {
            0 => 0.0,
            1 => f64::from(self.upto(most)) + 0.37,
            _ => f64::from(self.upto(most)),
        }
    }

    /// A length of time, often none.
    pub(crate) fn span(&mut self, most_s: u32) -> Span {
        Span::from_s(self.secs(most_s))
    }

    /// A distribution of values about `mean` in size.
    pub(crate) fn dist(&mut self, mean: f64) -> Dist {
        let kinds = [
            Dist::Constant(mean),
            Dist::Constant(0.0),
            Dist::Exponential { mean },
            Dist::Lognormal { mean, cv: 0.5 },
            Dist::Gamma { mean, cv: 0.7 },
            Dist::Weibull {
                shape: 1.5,
                scale: mean,
            },
            Dist::NormalCut {
                mean,
                sd: 0.4 * mean,
            },
            Dist::Triangular {
                min: 0.0,
                mode: mean,
                max: 2.0 * mean,
            },
            Dist::Pert {
                min: 0.0,
                mode: mean,
                max: 3.0 * mean,
            },
            Dist::Uniform {
                min: 0.0,
                max: 2.0 * mean,
            },
            Dist::Empirical(vec![0.0, mean, 1.5 * mean]),
        ];
        self.pick(&kinds)
    }

    /// A factor of mean 1, often no variation.
    pub(crate) fn factor(&mut self) -> Dist {
        if self.once_in(2) {
            Dist::Gamma { mean: 1.0, cv: 0.3 }
        } else {
            Dist::Constant(1.0)
        }
    }
}
