//! Tail of a Poisson count.

/// P(N >= `least`) of a Poisson count with this mean, summed from the side that holds less.
pub(crate) fn poisson_at_least(mean: f64, least: u32) -> f64 {
    if least == 0 {
        return 1.0;
    }
    if mean <= 0.0 {
        return 0.0;
    }
    let start = f64::from(least);
    if start > mean {
        sum(at(mean, start), |step| mean / (start + step))
    } else {
        // Downwards from `least - 1`: p(k - 1) = p(k) k / mean.
        let top = start - 1.0;
        1.0 - sum(at(mean, top), |step| (top - step + 1.0).max(0.0) / mean)
    }
}

/// P(N = `count`).
fn at(mean: f64, count: f64) -> f64 {
    libm::exp(count * libm::log(mean) - mean - libm::lgamma(count + 1.0))
}

/// First term plus its successors, each the one before times `ratio(1)`, `ratio(2)`...
fn sum(first: f64, ratio: impl Fn(f64) -> f64) -> f64 {
    let (mut term, mut total, mut step) = (first, first, 0.0);
    while term > total * 1e-18 {
        step += 1.0;
        term *= ratio(step);
        total += term;
    }
    total
}
