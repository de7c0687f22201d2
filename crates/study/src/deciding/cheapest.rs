//! Which of several has the smallest mean? A fully sequential paired comparison that drops losers as it goes.
//!
//! Every pair still in is compared by the sum of its differences, lunch by lunch on common luck, within bounds that close:
//! `max(0, h² S² / (2δ) − δ r / 2)` after `r` lunches, `S²` the variance of the pair's differences over the first
//! lunches. Who falls below by more than that is out. The bounds close, so it always ends. With `η = ((2a)^(−2/(n0−1)) −
//! 1) / 2`, `a = α/(k−1)` and `h² = 2 η (n0−1)`, the chance that the best is lost to one worse by δ or more is at most
//! `a` a pair: a motion with drift δ leaves the triangle on the wrong side with probability `½ exp(−2 a₀ δ/(2σ²))`, `a₀`
//! the height at 0 (Fabian 1974); the mean over chi-square `S²` is `½ (1 + 2η)^(−(n0−1)/2) = a`.
//!
//! # Source
//! Kim and Nelson, *ACM Transactions on Modeling and Computer Simulation* 11 (2001) 251-273, with c = 1; from memory. The
//! error rate is tested by simulation.

use crate::intervals::standard_deviation;

/// Lunches over which the variances of differences are taken.
pub const FIRST: usize = 20;

/// The running comparison.
#[derive(Clone, Debug)]
pub struct Cheapest {
    indifference: f64,
    eta: f64,
    /// Values of each, lunch by lunch.
    values: Vec<Vec<f64>>,
    within: Vec<bool>,
    /// Variance of the differences of each pair, once fixed.
    variances: Vec<Vec<f64>>,
}

impl Cheapest {
    /// A comparison of `of` things; `indifference` is positive, `error` strictly between 0 and 1.
    pub fn new(of: usize, indifference: f64, error: f64) -> Cheapest {
        let pairs = of.saturating_sub(1).max(1) as f64;
        let freedom = FIRST as f64 - 1.0;
        Cheapest {
            indifference,
            // An error of half and more needs no bounds at all.
            eta: (libm::pow((2.0 * error / pairs).min(1.0), -2.0 / freedom) - 1.0) / 2.0,
            values: vec![Vec::new(); of],
            within: vec![true; of],
            variances: Vec::new(),
        }
    }

    /// Which are still in.
    pub fn within(&self) -> &[bool] {
        &self.within
    }

    /// The one that is left, when only one is.
    pub fn winner(&self) -> Option<usize> {
        let mut left = (0..self.within.len()).filter(|&i| self.within[i]);
        let first = left.next()?;
        left.next().is_none().then_some(first)
    }

    /// Takes in one lunch: one value each; those that are out are passed over.
    pub fn see(&mut self, lunch: &[f64]) {
        for (values, value) in self.values.iter_mut().zip(lunch) {
            values.push(*value);
        }
        let r = self.values.first().map_or(0, Vec::len);
        if r == FIRST {
            self.variances = self.first_variances();
        }
        if r >= FIRST {
            self.screen(r);
        }
    }

    fn first_variances(&self) -> Vec<Vec<f64>> {
        let of = self.values.len();
        let variance = |i: usize, j: usize| {
            let differences: Vec<f64> = (self.values[i].iter())
                .zip(&self.values[j])
                .map(|(a, b)| a - b)
                .collect();
            standard_deviation(&differences).map_or(0.0, |sd| sd * sd)
        };
        (0..of)
            .map(|i| (0..of).map(|j| variance(i, j)).collect())
            .collect()
    }

    fn screen(&mut self, r: usize) {
        let sums: Vec<f64> = self.values.iter().map(|v| v.iter().sum()).collect();
        let freedom = FIRST as f64 - 1.0;
        let before = self.within.clone();
        for i in (0..sums.len()).filter(|&i| before[i]) {
            for j in (0..sums.len()).filter(|&j| before[j] && j != i) {
                let height = self.eta * freedom * self.variances[i][j] / self.indifference;
                let bound = (height - self.indifference * r as f64 / 2.0).max(0.0);
                let behind = sums[i] - sums[j] - bound;
                // Where the bounds have closed the lower sum wins, and the first of two alike.
                if behind > 0.0 || (behind >= 0.0 && bound <= 0.0 && j < i) {
                    self.within[i] = false;
                }
            }
        }
    }
}
