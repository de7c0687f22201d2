//! Does something happen in at least so large a share of lunches? Wald's sequential probability ratio test.
//!
//! The logarithm of the likelihood ratio of the upper against the lower share grows with each hit and falls with each
//! miss. Under any share up to the lower one the ratio itself is a supermartingale that starts at 1, so that it ever
//! reaches `1/a` has a probability of at most `a` (Ville's inequality); likewise its inverse under any share from the
//! upper one on. The bounds used here, `ln(1/a)` on either side, therefore hold exactly, at any stopping; Wald's own are a
//! little narrower and hold nearly.
//!
//! # Source
//! Wald, *Sequential Analysis* (1947), from memory; the two bounds are derived above.

use super::{Errors, Said};

/// The shares a test tells apart: strictly between 0 and 1, the lower below the upper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zone {
    lower: f64,
    upper: f64,
}

impl Zone {
    /// The zone `asked` minus and plus `indifference`, each end at most half way from `asked` to 0 or 1; `None` unless
    /// `asked` is above 0 and at most 1 and the indifference positive. A share of 1 asked has 1 as its upper end: one
    /// miss shows that it is not kept.
    pub fn about(asked: f64, indifference: f64) -> Option<Zone> {
        let fits = asked > 0.0 && asked <= 1.0 && indifference > 0.0 && indifference.is_finite();
        fits.then(|| Zone {
            lower: (asked - indifference).max(asked / 2.0),
            upper: (asked + indifference).min((1.0 + asked) / 2.0),
        })
    }

    /// At or below this it fails.
    pub fn lower(self) -> f64 {
        self.lower
    }

    /// At or above this it holds.
    pub fn upper(self) -> f64 {
        self.upper
    }
}

/// The running test.
#[derive(Clone, Debug)]
pub struct ShareTest {
    hit: f64,
    miss: f64,
    holds_at: f64,
    fails_at: f64,
    ratio: f64,
    said: Said,
}

impl ShareTest {
    /// A test that has seen nothing.
    pub fn new(zone: Zone, errors: Errors) -> ShareTest {
        let Zone { lower, upper } = zone;
        ShareTest {
            hit: libm::log(upper / lower),
            // Minus infinity where the upper share is 1: then a miss decides.
            miss: libm::log((1.0 - upper) / (1.0 - lower)),
            holds_at: -libm::log(errors.wrong_holds),
            fails_at: libm::log(errors.wrong_fails),
            ratio: 0.0,
            said: Said::Nothing,
        }
    }

    /// Takes in one lunch; after it has spoken a test hears no more.
    pub fn see(&mut self, hit: bool) -> Said {
        if self.said == Said::Nothing {
            self.ratio += if hit { self.hit } else { self.miss };
            if self.ratio >= self.holds_at {
                self.said = Said::Holds;
            } else if self.ratio <= self.fails_at {
                self.said = Said::Fails;
            }
        }
        self.said
    }

    /// What it says so far.
    pub fn said(&self) -> Said {
        self.said
    }
}
