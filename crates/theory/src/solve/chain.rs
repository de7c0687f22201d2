//! Small chains of any shape: find the states by walking, then solve for the steady state.

use std::collections::BTreeMap;

use super::Matrix;

/// Most states solved densely.
const MOST_STATES: usize = 1_500;

/// The states reachable from `start` with their steady state, in order of discovery.
///
/// `moves` lists where a state leads and at what rate. `None` when there are too many states, or not one of them can
/// be come back to.
pub(crate) fn explore<S: Clone + Ord>(
    start: S,
    moves: impl Fn(&S) -> Vec<(S, f64)>,
) -> Option<Vec<(S, f64)>> {
    let mut states = vec![start.clone()];
    let mut place = BTreeMap::from([(start, 0)]);
    let mut edges = Vec::new();
    let mut from = 0;
    while let Some(state) = states.get(from).cloned() {
        for (next, rate) in moves(&state) {
            if rate <= 0.0 {
                continue;
            }
            let to = *place.entry(next.clone()).or_insert(states.len());
            if to == states.len() {
                states.push(next);
            }
            edges.push((from, to, rate));
        }
        if states.len() > MOST_STATES {
            return None;
        }
        from += 1;
    }
    let mut rates = Matrix::zero(states.len());
    for (from, to, rate) in edges {
        rates[(from, to)] += rate;
    }
    let law = balance(rates)?;
    Some(states.into_iter().zip(law).collect())
}

/// Steady state of the chain with these rates (the diagonal is not read).
///
/// Elimination state by state without a subtraction, so that small probabilities keep their digits. From memory of
/// Grassmann, Taksar & Heyman, Operations Research 33 (1985) 1107-1116.
pub(crate) fn balance(mut rates: Matrix) -> Option<Vec<f64>> {
    let n = rates.size();
    for k in (1..n).rev() {
        let leaving: f64 = (0..k).map(|j| rates[(k, j)]).sum();
        if leaving <= 0.0 || !leaving.is_finite() {
            return None;
        }
        for i in 0..k {
            let share = rates[(i, k)] / leaving;
            rates[(i, k)] = share;
            if share > 0.0 {
                for j in 0..k {
                    let more = share * rates[(k, j)];
                    rates[(i, j)] += more;
                }
            }
        }
    }
    let mut law = vec![1.0];
    for k in 1..n {
        let p = (0..k).map(|i| law[i] * rates[(i, k)]).sum();
        law.push(p);
    }
    let total: f64 = law.iter().sum();
    if !total.is_finite() || total <= 0.0 {
        return None;
    }
    Some(law.into_iter().map(|p| p / total).collect())
}
