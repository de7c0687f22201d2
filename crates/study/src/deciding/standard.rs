//! Is a mean on the good side of a standard? A fully sequential comparison.
//!
//! After `n0` values their variance `S²` is fixed, and with it one bound up and one down for the running sum of
//! (value − standard): up `k(wrong_holds) S² / δ`, down `k(wrong_fails) S² / δ`, δ being the indifference. The sum is
//! looked at from the `n0`-th value on, after each.
//!
//! The constant follows in two lines. For normal values the sums are a walk that a Brownian motion with the same drift
//! and variance σ² passes through, independent of `S²`; with a drift of −δ or less the chance that the motion ever
//! reaches `a` is at most `exp(−2 a δ / σ²)`. Put `a = k S²/δ`, and let `(n0−1) S²/σ²` be chi-square with `n0−1`
//! degrees of freedom: the mean of `exp(−2k S²/σ²)` is `(1 + 4k/(n0−1))^(−(n0−1)/2)`. Setting this to the error `a`
//! gives `k = (n0−1)/4 × (a^(−2/(n0−1)) − 1)`. Exact for normal values; near for means of others.
//!
//! This is the comparison with a standard of Kim (2005) with the two straight, parallel bounds instead of the ones
//! that close to a triangle: straight ones let the two errors differ, and are left soon by what is far from the
//! standard.
//!
//! # Source
//! Kim, *ACM Transactions on Modeling and Computer Simulation* 15 (2005) 155-174, and Kim and Nelson, the same 11 (2001)
//! 251-273, both from memory; the constant is derived above and its error rate is tested by simulation.

use super::{Errors, Said};
use crate::intervals::standard_deviation;

/// Values after which the variance is fixed.
pub const FIRST: usize = 20;

/// The bound in units of `S²/δ` for a test that may err with this probability.
pub fn bound_factor(first: usize, error: f64) -> f64 {
    let freedom = first as f64 - 1.0;
    freedom / 4.0 * (libm::pow(error, -2.0 / freedom) - 1.0)
}

/// The running test. Values above the standard are good.
#[derive(Clone, Debug)]
pub struct StandardTest {
    standard: f64,
    indifference: f64,
    errors: Errors,
    /// Values above the standard are bad: everything is mirrored.
    mirrored: bool,
    seen: Vec<f64>,
    sum: f64,
    bounds: Option<[f64; 2]>,
    said: Said,
}

impl StandardTest {
    /// A test that has seen nothing. `indifference` is positive. With `at_most` the good side is below.
    pub fn new(standard: f64, at_most: bool, indifference: f64, errors: Errors) -> StandardTest {
        StandardTest {
            standard,
            indifference,
            errors,
            mirrored: at_most,
            seen: Vec::with_capacity(FIRST),
            sum: 0.0,
            bounds: None,
            said: Said::Nothing,
        }
    }

    /// Takes in one value; after it has spoken a test hears no more.
    pub fn see(&mut self, value: f64) -> Said {
        if self.said != Said::Nothing || !value.is_finite() {
            return self.said;
        }
        let above = value - self.standard;
        let above = if self.mirrored { -above } else { above };
        self.sum += above;
        if self.bounds.is_none() {
            self.seen.push(above);
            if self.seen.len() == FIRST {
                self.bounds = Some(self.bounds_now());
            }
        }
        if let Some([up, down]) = self.bounds {
            if self.sum >= up {
                self.said = Said::Holds;
            } else if self.sum <= -down {
                self.said = Said::Fails;
            }
        }
        self.said
    }

    fn bounds_now(&self) -> [f64; 2] {
        // Values that happen to be all alike say nothing of how they vary: never less than the indifference itself.
        let sd = standard_deviation(&self.seen).unwrap_or(0.0);
        let sd = sd.max(self.indifference);
        let scale = sd * sd / self.indifference;
        [self.errors.wrong_holds, self.errors.wrong_fails]
            .map(|error| bound_factor(FIRST, error) * scale)
    }

    /// It cannot hold any more (a lunch that never ended).
    pub fn fail(&mut self) {
        if self.said == Said::Nothing {
            self.said = Said::Fails;
        }
    }

    /// What it says so far.
    pub fn said(&self) -> Said {
        self.said
    }
}
