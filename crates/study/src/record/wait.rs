//! Waits at a place: every one is kept until the meal is over, so that its figures are exact.

use crate::exact::Sums;
use crate::intervals::rank;

/// Bounds, in seconds, for which the share of waits within them is told.
pub const WITHIN_S: [u64; 5] = [30, 60, 120, 180, 300];

/// Waits at one place in one meal.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WaitRecord {
    /// How many there were, their sum and their squares, in microseconds: exact.
    pub sums: Sums,
    /// 95th of 100, the order statistic of [`crate::intervals::order_statistic`], in microseconds; `None` without waits.
    pub p95_us: Option<u64>,
    /// Longest, in microseconds; `None` without waits.
    pub longest_us: Option<u64>,
    /// How many lasted at most so long, one entry a bound of [`WITHIN_S`].
    pub within: [u64; WITHIN_S.len()],
    /// Those that lasted, and how many did not.
    waits: Vec<u64>,
    none: u64,
}

impl WaitRecord {
    pub(super) fn begin(&mut self) {
        self.waits.clear();
        self.none = 0;
        self.sums = Sums::default();
        self.p95_us = None;
        self.longest_us = None;
        self.within = [0; WITHIN_S.len()];
    }

    #[inline]
    pub(super) fn add(&mut self, us: u64) {
        if us == 0 {
            self.none += 1;
        } else {
            self.waits.push(us);
        }
    }

    pub(super) fn finish(&mut self) {
        self.sums.n = self.none;
        self.within = [self.none; WITHIN_S.len()];
        for &us in &self.waits {
            self.sums.add(us as i64);
            for (n, bound_s) in self.within.iter_mut().zip(WITHIN_S) {
                *n += u64::from(us <= bound_s * 1_000_000);
            }
        }
        let longest = self.waits.iter().copied().max();
        self.longest_us = longest.or((self.none > 0).then_some(0));
        // The rank among all of them, of which those without a wait come first.
        let rank = rank(self.sums.n as usize, 950);
        self.p95_us = match rank.checked_sub(self.none as usize) {
            None | Some(0) => self.longest_us.map(|_| 0),
            Some(rank) => Some(*self.waits.select_nth_unstable(rank - 1).1),
        };
    }

    /// Mean, in seconds; `None` without waits.
    pub fn mean_s(&self) -> Option<f64> {
        self.sums.mean().map(|us| us / 1e6)
    }

    /// Share of waits within the bound of this number in [`WITHIN_S`]; `None` without waits.
    pub fn within_share(&self, bound: usize) -> Option<f64> {
        let n = self.sums.n;
        (n > 0).then(|| self.within[bound] as f64 / n as f64)
    }
}
