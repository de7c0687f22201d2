//! What a handful of repeats can say: means, percentiles and shares, each with its interval.
//!
//! A percentile of `n` values is an order statistic, never a value between two: the `p`-quantile is the `k`-th
//! smallest with `k` the least whole number not below `n p` (and at least 1), the inverse of the stepwise
//! distribution function. Where an interval cannot be given it is `None`, never a guess.

use statrs::distribution::{Beta, ContinuousCDF, Normal, StudentsT};

/// Rank (1 is the smallest) of the quantile at `per_mille` thousandths among `n` values; 0 without values.
pub fn rank(n: usize, per_mille: u32) -> usize {
    let rank = (n as u64 * u64::from(per_mille)).div_ceil(1000);
    (rank as usize).clamp(usize::from(n > 0), n)
}

/// The quantile at `per_mille` thousandths; reorders `values`. `None` without values.
pub fn order_statistic<T: Copy + Ord>(values: &mut [T], per_mille: u32) -> Option<T> {
    let rank = rank(values.len(), per_mille);
    let index = rank.checked_sub(1)?;
    Some(*values.select_nth_unstable(index).1)
}

/// Mean, rounding mended by a second pass; `None` without values.
pub fn mean(values: &[f64]) -> Option<f64> {
    let n = values.len() as f64;
    if values.is_empty() {
        return None;
    }
    let first = values.iter().sum::<f64>() / n;
    Some(first + values.iter().map(|x| x - first).sum::<f64>() / n)
}

/// Sample standard deviation (divisor n - 1), about the mean in a second pass; `None` with fewer than two values.
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    let centre = mean(values)?;
    let n = values.len() as f64;
    let square: f64 = values.iter().map(|x| (x - centre) * (x - centre)).sum();
    let rest: f64 = values.iter().map(|x| x - centre).sum();
    (values.len() > 1).then(|| ((square - rest * rest / n) / (n - 1.0)).max(0.0).sqrt())
}

/// Quantile of Student's t; `None` unless `freedom` is positive and `p` strictly between 0 and 1.
pub fn student_quantile(freedom: f64, p: f64) -> Option<f64> {
    let law = StudentsT::new(0.0, 1.0, freedom).ok()?;
    within(p).then(|| law.inverse_cdf(p))
}

/// Interval for the mean of a law from which `values` are independent draws; `None` with fewer than two.
///
/// # Formula
/// mean -+ t(n - 1, (1 + level) / 2) sd / sqrt(n)
///
/// # Source
/// Student's t, as in any text; Law, *Simulation Modeling and Analysis*, the chapter on output analysis.
pub fn mean_interval(values: &[f64], level: f64) -> Option<[f64; 2]> {
    let centre = mean(values)?;
    let sd = standard_deviation(values)?;
    let n = values.len() as f64;
    let half = student_quantile(n - 1.0, 0.5 + level / 2.0)? * sd / n.sqrt();
    Some([centre - half, centre + half])
}

/// Ranks (1 is the smallest) of the order statistics that enclose the `p`-quantile with at least `level`.
///
/// Equal tails: each end may be wrong with a probability of at most `(1 - level) / 2`. An end is `None` where no order
/// statistic of the sample will do. For a continuous law the coverage is [`order_coverage`]; for any other it is no
/// less.
///
/// # Source
/// Conover, *Practical Nonparametric Statistics*, the chapter on the binomial test.
pub fn order_ranks(n: usize, p: f64, level: f64) -> [Option<usize>; 2] {
    let tail = (1.0 - level) / 2.0;
    if !within(p) || !within(level) || n == 0 {
        return [None, None];
    }
    // B counts the values at or below the quantile. The low end errs when B < low, the high end when B >= high.
    let low = last_where(n, |rank| {
        at_least(n, p, rank).is_some_and(|q| 1.0 - q <= tail)
    });
    let high = last_where(n, |back| {
        at_least(n, p, n + 1 - back).is_some_and(|q| q <= tail)
    });
    [low, high.map(|back| n + 1 - back)]
}

/// Largest rank in `1..=n` at which a condition that holds up to some rank still holds.
fn last_where(n: usize, holds: impl Fn(usize) -> bool) -> Option<usize> {
    let (mut yes, mut no) = (0, n + 1);
    while no - yes > 1 {
        let middle = yes + (no - yes) / 2;
        if holds(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    (yes > 0).then_some(yes)
}

/// Probability that a binomial count (n, p) is at least `k`, for `k` in `1..=n`.
fn at_least(n: usize, p: f64, k: usize) -> Option<f64> {
    let law = Beta::new(k as f64, (n - k + 1) as f64).ok()?;
    Some(law.cdf(p))
}

/// Probability that the `p`-quantile of a continuous law lies from the `low`-th to the `high`-th smallest of `n`.
pub fn order_coverage(n: usize, p: f64, low: usize, high: usize) -> Option<f64> {
    let fits = 1 <= low && low < high && high <= n && within(p);
    fits.then(|| Some(at_least(n, p, low)? - at_least(n, p, high)?))?
}

/// Order-statistic interval of the `p`-quantile; `None` where either end cannot be given.
///
/// The 95th of 100 at level 0.95 needs 72 values for both ends.
pub fn quantile_interval(sorted: &[f64], p: f64, level: f64) -> Option<[f64; 2]> {
    let [low, high] = order_ranks(sorted.len(), p, level);
    Some([sorted[low? - 1], sorted[high? - 1]])
}

/// Wilson's interval for a share of which `held` of `of` independent trials held; `None` without trials.
///
/// Its coverage is near `level` on the whole and dips below it for shares near 0 or 1 (91.1 % for 50 trials of a share
/// of 0.99 at level 0.95).
///
/// # Source
/// Wilson, *Journal of the American Statistical Association* 22 (1927) 209-212; Newcombe, *Statistics in Medicine* 17
/// (1998) 857-872, method 3.
pub fn share_interval(held: u64, of: u64, level: f64) -> Option<[f64; 2]> {
    if of == 0 || held > of || !within(level) {
        return None;
    }
    let z = Normal::standard().inverse_cdf(0.5 + level / 2.0);
    let (n, p) = (of as f64, held as f64 / of as f64);
    let scale = 1.0 + z * z / n;
    let centre = (p + z * z / (2.0 * n)) / scale;
    let half = z * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt() / scale;
    let low = if held == 0 { 0.0 } else { centre - half };
    let high = if held == of { 1.0 } else { centre + half };
    Some([low, high])
}

fn within(p: f64) -> bool {
    p > 0.0 && p < 1.0
}
