//! Sums of whole numbers: exact, so that parts can be merged in any order and grouping to the same result.

/// How many values there were, their sum, and the sum of their squares.
///
/// Exact for whole numbers up to about 10^13 in size (40 years in microseconds) and 10^12 of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// How many.
    pub n: u64,
    /// Their sum.
    pub sum: i128,
    /// The sum of their squares.
    pub squares: i128,
}

impl Sums {
    /// Takes in one value.
    #[inline]
    pub fn add(&mut self, value: i64) {
        let value = i128::from(value);
        self.n += 1;
        self.sum += value;
        self.squares += value * value;
    }

    /// Takes in all values of another part.
    pub fn merge(&mut self, other: &Sums) {
        self.n += other.n;
        self.sum += other.sum;
        self.squares += other.squares;
    }

    /// Mean; `None` without values.
    pub fn mean(&self) -> Option<f64> {
        (self.n > 0).then(|| self.sum as f64 / self.n as f64)
    }

    /// Sample variance (divisor n - 1); `None` with fewer than two values.
    ///
    /// The difference is taken in whole numbers, so nothing cancels however large the mean.
    pub fn variance(&self) -> Option<f64> {
        let n = i128::from(self.n);
        // n times the sum of squares about the mean.
        let about = n
            .checked_mul(self.squares)?
            .checked_sub(self.sum.checked_mul(self.sum)?)?;
        (n > 1).then(|| about as f64 / (n as f64 * (n - 1) as f64))
    }
}
