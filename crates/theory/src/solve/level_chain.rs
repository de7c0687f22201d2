//! Chains with an endless queue beside a few phases: one level per customer waiting, each level alike.

use super::{Matrix, balance};

/// A chain of levels 0, 1, 2, ... From level 1 on every level has the same phases and the same rates.
///
/// Diagonals are not read.
pub(crate) struct LevelChain {
    /// Rates from a phase to a phase one level up.
    pub(crate) up: Matrix,
    /// Rates between phases of one level.
    pub(crate) within: Matrix,
    /// Rates from a phase to a phase one level down.
    pub(crate) down: Matrix,
    /// Phases that level 0 has: the first so many of the others'.
    pub(crate) phases_at_0: usize,
    /// Rates between phases of level 0.
    pub(crate) within_0: Matrix,
}

/// Steady state of a [`LevelChain`].
pub(crate) struct Solved {
    /// Probability of each phase at level 0.
    pub(crate) level_0: Vec<f64>,
    /// Probability of each phase over all the levels from 1 up.
    pub(crate) above_0: Vec<f64>,
    /// Mean level.
    pub(crate) mean_level: f64,
}

impl LevelChain {
    /// Solves the chain; the caller has made sure that it is stable.
    ///
    /// Logarithmic reduction for the first-passage matrix `G`, then the levels 0 and 1 watched alone. From memory
    /// of Latouche & Ramaswami, Introduction to Matrix Analytic Methods in Stochastic Modeling (1999), ch. 8.
    pub(crate) fn solve(&self) -> Option<Solved> {
        let n = self.up.size();
        let mut local = self.within.clone();
        for i in 0..n {
            local[(i, i)] = 0.0;
            let out: f64 = (0..n)
                .map(|j| self.up[(i, j)] + local[(i, j)] + self.down[(i, j)])
                .sum();
            local[(i, i)] = -out;
        }
        let one = Matrix::identity(n);
        let wait = local.negated().inverse()?;
        let (mut rise, mut fall) = (wait.times(&self.up), wait.times(&self.down));
        let (mut first_passage, mut lifted) = (fall.clone(), rise.clone());
        for _ in 0..64 {
            let loops = rise.times(&fall).plus(&fall.times(&rise));
            let clear = one.plus(&loops.negated()).inverse()?;
            rise = clear.times(&rise.times(&rise));
            fall = clear.times(&fall.times(&fall));
            let more = lifted.times(&fall);
            first_passage = first_passage.plus(&more);
            lifted = lifted.times(&rise);
            if more.largest() < 1e-18 {
                break;
            }
        }
        // Level 1 watched alone with level 0: a trip up comes back somewhere in level 1.
        let round_trip = self.up.times(&first_passage);
        let shared = local.plus(&round_trip);
        let ratio = self.up.times(&shared.negated().inverse()?);
        let edge = self.phases_at_0;
        let mut rates = Matrix::zero(edge + n);
        for i in 0..edge {
            for j in 0..edge {
                rates[(i, j)] = self.within_0[(i, j)];
            }
            for j in 0..n {
                rates[(i, edge + j)] = self.up[(i, j)];
            }
        }
        for i in 0..n {
            for j in 0..edge {
                rates[(edge + i, j)] = self.down[(i, j)];
            }
            for j in 0..n {
                rates[(edge + i, edge + j)] = shared[(i, j)].max(0.0);
            }
        }
        let law = balance(rates)?;
        let (level_0, level_1) = law.split_at(edge);
        let sum = one.plus(&ratio.negated()).inverse()?;
        let above_0 = sum.after(level_1);
        let weighted: f64 = sum.after(&above_0).iter().sum();
        let total = level_0.iter().sum::<f64>() + above_0.iter().sum::<f64>();
        if !total.is_finite() || total <= 0.0 {
            return None;
        }
        Some(Solved {
            level_0: level_0.iter().map(|p| p / total).collect(),
            above_0: above_0.iter().map(|p| p / total).collect(),
            mean_level: weighted / total,
        })
    }
}
