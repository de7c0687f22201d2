//! Two arrangements on the same tapes: differences of means, of shares and of percentiles, repeat by repeat.

use scullery_engine::streams::Root;
use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};

use crate::intervals::{mean, mean_interval, rank, standard_deviation};

/// The difference of two means over the same repeats.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct MeanDifference {
    /// Repeats in which both have a value.
    pub n: u64,
    /// Mean of the second less mean of the first.
    pub mean: f64,
    /// Its interval; `None` with fewer than two repeats.
    pub interval: Option<[f64; 2]>,
    /// Whether the two are the same in every single repeat.
    pub identical: bool,
    /// Share of the variance that pairing took away: 1 - var(b - a) / (var(a) + var(b)); `None` where nothing varies.
    pub saved: Option<f64>,
}

/// Paired t: the mean of `b - a` over the repeats in which both have a value. `None` when there is none.
///
/// # Source
/// Law, *Simulation Modeling and Analysis*, the chapter on comparing alternative systems (paired-t confidence interval,
/// common random numbers).
pub fn mean_difference(a: &[Option<f64>], b: &[Option<f64>], level: f64) -> Option<MeanDifference> {
    let pairs: Vec<(f64, f64)> = a
        .iter()
        .zip(b)
        .filter_map(|(a, b)| Some(((*a)?, (*b)?)))
        .collect();
    let differences: Vec<f64> = pairs.iter().map(|(a, b)| b - a).collect();
    let variance = |values: &[f64]| standard_deviation(values).map(|sd| sd * sd);
    let (first, second): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    let apart = variance(&first).zip(variance(&second)).map(|(a, b)| a + b);
    let saved = apart
        .filter(|apart| *apart > 0.0)
        .zip(variance(&differences))
        .map(|(apart, paired)| 1.0 - paired / apart);
    Some(MeanDifference {
        n: pairs.len() as u64,
        mean: mean(&differences)?,
        interval: mean_interval(&differences, level),
        identical: pairs.iter().all(|(a, b)| a.total_cmp(b).is_eq()),
        saved,
    })
}

/// The difference of two shares over the same repeats.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, PartialEq)]
pub struct ShareDifference {
    /// Repeats in which it held in the first only.
    pub only_first: u64,
    /// Repeats in which it held in the second only.
    pub only_second: u64,
    /// Repeats looked at.
    pub n: u64,
    /// Share of the second less share of the first.
    pub difference: f64,
    /// Its interval.
    pub interval: [f64; 2],
}

/// Score interval for the difference of two paired shares; `None` without repeats.
///
/// # Formula
/// With b and c the repeats in which only the second and only the first held, the values d of the difference with
/// `|b - c - n d| <= z sqrt(n (2 q + d (1 - d)))`, where q, the share of "only the first" most likely under d, is the
/// larger root of `2 n q^2 + (-b - c + (2 n - b + c) d) q - c d (1 - d) = 0`.
///
/// # Source
/// Tango, *Statistics in Medicine* 17 (1998) 891-908. From memory; a test holds the root against the likelihood
/// maximised numerically.
pub fn share_difference(
    first: &[Option<bool>],
    second: &[Option<bool>],
    level: f64,
) -> Option<ShareDifference> {
    let pairs = first
        .iter()
        .zip(second)
        .filter_map(|(a, b)| Some(((*a)?, (*b)?)));
    let (mut n, mut only_first, mut only_second) = (0, 0, 0);
    for (a, b) in pairs {
        n += 1;
        only_first += u64::from(a && !b);
        only_second += u64::from(b && !a);
    }
    let interval = score_interval(only_second, only_first, n, level)?;
    Some(ShareDifference {
        only_first,
        only_second,
        n,
        difference: (only_second as f64 - only_first as f64) / n as f64,
        interval,
    })
}

/// Tango's interval for a difference of which `up` repeats of `n` speak for and `down` against; see
/// [`share_difference`].
pub fn score_interval(up: u64, down: u64, n: u64, level: f64) -> Option<[f64; 2]> {
    if n == 0 || up + down > n || !(level > 0.0 && level < 1.0) {
        return None;
    }
    let z = Normal::standard().inverse_cdf(0.5 + level / 2.0);
    let (b, c, n) = (up as f64, down as f64, n as f64);
    let score = |d: f64| {
        let variance = n * (2.0 * likely_down(b, c, n, d) + d * (1.0 - d));
        let gap = b - c - n * d;
        if variance > 0.0 {
            gap / variance.sqrt()
        } else {
            gap * f64::INFINITY
        }
    };
    let middle = (b - c) / n;
    // The score falls with d; it is nought in the middle.
    let low = edge(middle, -1.0, |d| score(d) > z);
    let high = edge(middle, 1.0, |d| score(d) < -z);
    Some([low, high])
}

/// Share of repeats that speak against, most likely when the difference is `d`.
pub fn likely_down(b: f64, c: f64, n: f64, d: f64) -> f64 {
    let half = 2.0 * n;
    let linear = -b - c + (2.0 * n - b + c) * d;
    let constant = -c * d * (1.0 - d);
    let root = (linear * linear - 4.0 * half * constant).max(0.0).sqrt();
    ((root - linear) / (2.0 * half)).max(0.0)
}

/// Where, on the way from `inside` to `end`, a condition begins to hold; `end` when it never does.
fn edge(inside: f64, end: f64, outside: impl Fn(f64) -> bool) -> f64 {
    let (mut yes, mut no) = (inside, end);
    if !outside(end) {
        return end;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(yes, no);
        if outside(middle) {
            no = middle;
        } else {
            yes = middle;
        }
    }
    yes
}

/// The difference of two percentiles over the same repeats.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, PartialEq)]
pub struct PercentileDifference {
    /// The percentile of the first.
    pub first: f64,
    /// The percentile of the second.
    pub second: f64,
    /// Its interval by bootstrap; `None` with too few repeats to tell.
    pub interval: Option<[f64; 2]>,
}

/// Samples drawn for a bootstrap.
pub const RESAMPLES: usize = 2000;
/// Fewest repeats for which a bootstrap of a percentile is given: those from which the 95th of 100 has an interval of
/// order statistics at 95 %.
pub const LEAST_FOR_BOOTSTRAP: usize = 72;

/// Difference of the percentile at `per_mille` thousandths of the two, and the interval of its bootstrap over repeats:
/// repeats are drawn with replacement, the same ones for both arrangements.
///
/// The same seed gives the same samples. `None` where no repeat has both values.
///
/// # Source
/// Efron and Tibshirani, *An Introduction to the Bootstrap* (1993), the percentile interval; from memory.
pub fn percentile_difference(
    a: &[Option<f64>],
    b: &[Option<f64>],
    per_mille: u32,
    level: f64,
    seed: u64,
) -> Option<PercentileDifference> {
    let pairs: Vec<(f64, f64)> = a
        .iter()
        .zip(b)
        .filter_map(|(a, b)| Some(((*a)?, (*b)?)))
        .collect();
    let n = pairs.len();
    let at = rank(n, per_mille).checked_sub(1)?;
    let of = |values: &mut [f64]| *values.select_nth_unstable_by(at, f64::total_cmp).1;
    let (mut first, mut second): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    let point = (of(&mut first), of(&mut second));
    let interval = (n >= LEAST_FOR_BOOTSTRAP).then(|| {
        let draw = Root::new(seed, 0).source("study/bootstrap");
        let mut differences: Vec<f64> = (0..RESAMPLES)
            .map(|sample| {
                for place in 0..n {
                    let ordinal = (sample * n + place) as u64;
                    let pick = ((draw.uniform(ordinal) * n as f64) as usize).min(n - 1);
                    (first[place], second[place]) = pairs[pick];
                }
                of(&mut second) - of(&mut first)
            })
            .collect();
        differences.sort_unstable_by(f64::total_cmp);
        let tail = (1.0 - level) / 2.0;
        let cut = ((RESAMPLES as f64 * tail) as usize).min(RESAMPLES / 2 - 1);
        [differences[cut], differences[RESAMPLES - 1 - cut]]
    });
    Some(PercentileDifference {
        first: point.0,
        second: point.1,
        interval,
    })
}
