//! How many readings a mean needs.

use crate::intervals::student_quantile;

/// Most readings ever asked for.
pub const MOST: u64 = 1_000_000;

/// Readings needed in all so that the 95 % interval for the mean is no wider than `within` (a share of the mean) to each
/// side, if the coefficient of variation stays `cv`.
///
/// # Formula
/// The least n with t(n - 1, 0.975) cv / sqrt(n) <= within.
///
/// # Source
/// Student's t; the usual rule of work study replaces t by 2 (International Labour Office, *Introduction to Work Study*,
/// from memory).
pub fn readings(cv: f64, within: f64) -> u64 {
    let wide = |n: u64| {
        let t = student_quantile((n - 1) as f64, 0.975).unwrap_or(f64::INFINITY);
        t * cv / (n as f64).sqrt() > within
    };
    let (mut low, mut high) = (1, MOST);
    if !wide(2) {
        return 2;
    }
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if wide(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}
