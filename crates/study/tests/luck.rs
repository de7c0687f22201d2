//! Numbers for tests of coverage: the same each time.

use scullery_engine::streams::{Keyed, Root};

/// A row of uniform numbers under a name.
pub(crate) struct Luck {
    from: Keyed,
    next: u64,
}

impl Luck {
    pub(crate) fn new(name: &str) -> Luck {
        Luck {
            from: Root::new(20, 1).source(name),
            next: 0,
        }
    }

    pub(crate) fn uniform(&mut self) -> f64 {
        self.next += 1;
        self.from.uniform(self.next)
    }

    pub(crate) fn exponential(&mut self) -> f64 {
        -libm::log(1.0 - self.uniform())
    }
}

/// Standard normal, by Box and Muller.
pub(crate) fn normal(luck: &mut Luck) -> f64 {
    let radius = (2.0 * luck.exponential()).sqrt();
    radius * libm::cos(std::f64::consts::TAU * luck.uniform())
}

/// Gamma with shape 4: mean 4, standard deviation 2, skewness 1.
pub(crate) fn mildly_skewed(luck: &mut Luck) -> f64 {
    (0..4).map(|_| luck.exponential()).sum()
}
