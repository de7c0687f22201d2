//! Chains that step up or down by one: their steady state is a running product.

/// Weights above this are scaled down before they overflow.
const TOO_LARGE: f64 = 1e200;

/// Longest chain followed when it has no end of its own.
const MOST_STATES: usize = 20_000_000;

/// Steady state over `0..=last`, with `up(n)` the rate from `n` to `n + 1` and `down(n)` from `n` to `n - 1`.
pub(crate) fn birth_death(
    last: u32,
    up: impl Fn(u32) -> f64,
    down: impl Fn(u32) -> f64,
) -> Option<Vec<f64>> {
    if last as usize >= MOST_STATES {
        return None;
    }
    let mut law = vec![1.0];
    let mut weight = 1.0;
    for n in 0..last {
        weight *= up(n) / down(n + 1);
        law.push(weight);
        weight = rescale(&mut law, weight);
    }
    normalise(law)
}

/// The same without an end: followed until what is left is below a part in 1e18 of the largest weight, which wants
/// the ratio of the rates to fall below 1 and go on falling.
pub(crate) fn birth_death_without_end(
    up: impl Fn(u32) -> f64,
    down: impl Fn(u32) -> f64,
) -> Option<Vec<f64>> {
    let mut law = vec![1.0];
    let (mut weight, mut largest) = (1.0_f64, 1.0_f64);
    for n in 0.. {
        let ratio = up(n) / down(n + 1);
        weight *= ratio;
        law.push(weight);
        let scaled = rescale(&mut law, weight);
        if scaled < weight {
            largest = scaled;
        }
        weight = scaled;
        largest = largest.max(weight);
        // Below a ratio of 1 the tail is at most a geometric sum of that ratio.
        if ratio < 1.0 && weight * ratio / (1.0 - ratio) < largest * 1e-18 {
            break;
        }
        if law.len() >= MOST_STATES {
            return None;
        }
    }
    normalise(law)
}

fn rescale(law: &mut [f64], weight: f64) -> f64 {
    if weight <= TOO_LARGE {
        return weight;
    }
    for w in law.iter_mut() {
        *w /= TOO_LARGE;
    }
    weight / TOO_LARGE
}

fn normalise(mut law: Vec<f64>) -> Option<Vec<f64>> {
    let total: f64 = law.iter().sum();
    if !total.is_finite() || total <= 0.0 {
        return None;
    }
    for p in &mut law {
        *p /= total;
    }
    Some(law)
}
