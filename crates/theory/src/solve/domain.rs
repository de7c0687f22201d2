//! Ranges an input must lie in.

/// `x`, if it is finite and above nought.
pub(crate) fn positive(x: f64) -> Option<f64> {
    (x.is_finite() && x > 0.0).then_some(x)
}

/// `x`, if it is finite and not below nought.
pub(crate) fn not_negative(x: f64) -> Option<f64> {
    (x.is_finite() && x >= 0.0).then_some(x)
}

/// `x`, if it lies strictly between 0 and 1.
pub(crate) fn fraction(x: f64) -> Option<f64> {
    (x > 0.0 && x < 1.0).then_some(x)
}

/// `base` to a whole power, the same bits on every machine.
pub(crate) fn power(base: f64, exponent: u32) -> f64 {
    libm::pow(base, f64::from(exponent))
}
