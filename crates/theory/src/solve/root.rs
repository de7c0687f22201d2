//! A root by halving: slow, certain, and the same bits everywhere.

/// The point between `low` and `high` where `f`, positive at `low`, stops being positive.
///
/// Halves until no number lies between, so the last digit is right as far as `f` itself is.
pub(crate) fn bisect(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    loop {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            return middle;
        }
        if f(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
}
