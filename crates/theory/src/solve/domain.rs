//! Ranges an input must lie in.

/// Largest figure taken, and one over the smallest: no floor has such a rate or time, and a few of them multiplied
/// still do not overflow.
const LARGEST: f64 = 1e60;

/// `x`, if it is a number above nought (from 1e-60 to 1e60).
pub(crate) fn positive(x: f64) -> Option<f64> {
    (1.0 / LARGEST..=LARGEST).contains(&x).then_some(x)
}

/// `x`, if it is a number not below nought (up to 1e60).
pub(crate) fn not_negative(x: f64) -> Option<f64> {
    (0.0..=LARGEST).contains(&x).then_some(x)
}

/// `x`, if it lies strictly between 0 and 1.
pub(crate) fn fraction(x: f64) -> Option<f64> {
    (x > 0.0 && x < 1.0).then_some(x)
}

/// `base` to a whole power, the same bits on every machine.
pub(crate) fn power(base: f64, exponent: u32) -> f64 {
    libm::pow(base, f64::from(exponent))
}
