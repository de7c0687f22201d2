//! Intervals that may be looked at while the meals come in.
//!
//! An interval of a fixed number of meals errs more often than it says when it is looked at again and again until it
//! pleases. Those here are right at every look at once, with the level they name.

use libm::{lgamma, log};

use crate::intervals::{mean, standard_deviation, student_quantile};

/// Confidence sequence for a share, after `held` of `of` trials: with probability `level` it holds the share at every
/// number of trials at once.
///
/// # Formula
/// The values p with C(of, held) p^held (1 - p)^(of - held) > (1 - level) / (of + 1): the uniform mixture of binomial laws
/// over the law of p is a martingale that starts at 1, and it exceeds 1 / (1 - level) with a probability of at most
/// 1 - level (Ville).
///
/// # Source
/// Robbins, *Annals of Mathematical Statistics* 41 (1970) 1397-1409, example with the uniform mixture; Howard, Ramdas,
/// McAuliffe and Sekhon, *Annals of Statistics* 49 (2021) 1055-1080. Both from memory; a test sums the error exactly.
pub fn share_sequence(held: u64, of: u64, level: f64) -> Option<[f64; 2]> {
    if held > of || !(level > 0.0 && level < 1.0) {
        return None;
    }
    if of == 0 {
        return Some([0.0, 1.0]);
    }
    let (k, n) = (held as f64, of as f64);
    let ways = lgamma(n + 1.0) - lgamma(k + 1.0) - lgamma(n - k + 1.0);
    let bar = log(1.0 - level) - log(n + 1.0);
    // Logarithm of the binomial probability: it rises up to k / n and falls behind it.
    let weight = |p: f64| {
        let yes = if held == 0 { 0.0 } else { k * log(p) };
        let no = if held == of {
            0.0
        } else {
            (n - k) * log(1.0 - p)
        };
        ways + yes + no
    };
    let top = k / n;
    let low = if held == 0 {
        0.0
    } else {
        crossing(0.0, top, |p| weight(p) > bar)
    };
    let high = if held == of {
        1.0
    } else {
        crossing(1.0, top, |p| weight(p) > bar)
    };
    Some([low, high])
}

/// The last point outside, going from `inside` to `outside`, where a condition that holds at `inside` ceases to hold.
fn crossing(outside: f64, inside: f64, holds: impl Fn(f64) -> bool) -> f64 {
    let (mut no, mut yes) = (outside, inside);
    for _ in 0..60 {
        let middle = f64::midpoint(no, yes);
        if holds(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    no
}

/// Level that the `look`-th look at a mean (from 1) may have so that all looks together err with a probability of at
/// most `1 - level`: its error is `(1 - level) / (look (look + 1))`, and those sum to `1 - level`.
pub fn level_at_look(level: f64, look: u32) -> f64 {
    let look = f64::from(look.max(1));
    1.0 - (1.0 - level) / (look * (look + 1.0))
}

/// Student's interval for a mean at the `look`-th look (from 1), valid at every look by [`level_at_look`] as far as the
/// mean of so many meals is near normal.
pub fn mean_at_look(values: &[f64], level: f64, look: u32) -> Option<[f64; 2]> {
    crate::intervals::mean_interval(values, level_at_look(level, look))
}

/// Half the width of Student's interval for the mean; `None` with fewer than two values.
pub fn half_width(values: &[f64], level: f64) -> Option<f64> {
    let n = values.len() as f64;
    let sd = standard_deviation(values)?;
    Some(student_quantile(n - 1.0, 0.5 + level / 2.0)? * sd / n.sqrt())
}

/// Fewest meals before anything is looked at.
pub const LEAST: u64 = 30;

/// The number of meals at the next look: a fifth more.
pub fn next_look(meals: u64) -> u64 {
    if meals < LEAST {
        LEAST
    } else {
        meals + meals.div_ceil(5)
    }
}

/// How precisely a mean is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Precision {
    /// Half the width of its interval, in the unit of the measure.
    Within(f64),
    /// Half the width of its interval, as a share of the mean.
    WithinShare(f64),
}

/// Whether the mean of `values` is known as precisely as wanted, and half the width it is known to.
///
/// # Source
/// Chow and Robbins, *Annals of Mathematical Statistics* 36 (1965) 457-462 (from memory): stopping when the interval of
/// the usual form is short enough keeps its level in the limit of ever shorter intervals. The least number and the
/// looks a fifth apart keep it from stopping on a lucky start.
pub fn is_precise(values: &[f64], wanted: Precision, level: f64) -> Option<(bool, f64)> {
    let half = half_width(values, level)?;
    let bar = match wanted {
        Precision::Within(bar) => bar,
        Precision::WithinShare(share) => share * mean(values)?.abs(),
    };
    Some((values.len() as u64 >= LEAST && half <= bar, half))
}
