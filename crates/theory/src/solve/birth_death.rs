//! Chains that step up or down by one: their steady state is a running product.

/// Weights above this are told in units of it, so that they never overflow.
const UNIT: f64 = 1e200;

/// Longest chain followed.
const MOST_STATES: u32 = 2_000_000;

/// Steady state over `0..=last`, with `up(n)` the rate from `n` to `n + 1` and `down(n)` from `n` to `n - 1`.
pub(crate) fn birth_death(
    last: u32,
    up: impl Fn(u32) -> f64,
    down: impl Fn(u32) -> f64,
) -> Option<Vec<f64>> {
    if last >= MOST_STATES {
        return None;
    }
    let mut product = Product::new();
    for n in 0..last {
        product.step(up(n) / down(n + 1));
    }
    product.law()
}

/// The same without an end: followed until what is left is below a part in 1e18 of the largest weight, which wants
/// the ratio of the rates to fall below 1 and go on falling.
pub(crate) fn birth_death_without_end(
    up: impl Fn(u32) -> f64,
    down: impl Fn(u32) -> f64,
) -> Option<Vec<f64>> {
    let mut product = Product::new();
    for n in 0..MOST_STATES {
        let ratio = up(n) / down(n + 1);
        product.step(ratio);
        // From here on the tail is at most a geometric sum of this ratio.
        if ratio < 1.0 && product.weight * ratio / (1.0 - ratio) < product.largest * 1e-18 {
            return product.law();
        }
    }
    None
}

/// The running product, each weight with the number of units taken out before it.
struct Product {
    weights: Vec<(f64, u32)>,
    weight: f64,
    largest: f64,
    units: u32,
}

impl Product {
    fn new() -> Self {
        Self {
            weights: vec![(1.0, 0)],
            weight: 1.0,
            largest: 1.0,
            units: 0,
        }
    }

    fn step(&mut self, ratio: f64) {
        self.weight *= ratio;
        self.largest = self.largest.max(self.weight);
        while self.weight > UNIT && self.weight.is_finite() {
            self.weight /= UNIT;
            self.largest = self.weight;
            self.units += 1;
        }
        self.weights.push((self.weight, self.units));
    }

    /// The weights made into probabilities; `None` if they went beyond all numbers.
    fn law(self) -> Option<Vec<f64>> {
        let units = self.units;
        let told = self
            .weights
            .into_iter()
            .map(|(weight, then)| match units - then {
                0 => weight,
                1 => weight / UNIT,
                // Too small beside the largest to be told from nought.
                _ => 0.0,
            });
        let mut law: Vec<f64> = told.collect();
        let total: f64 = law.iter().sum();
        if !total.is_finite() || total <= 0.0 {
            return None;
        }
        for p in &mut law {
            *p /= total;
        }
        Some(law)
    }
}
