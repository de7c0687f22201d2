//! The fewest paid hours of whole shifts that cover a need: an integer program.
//!
//! One whole number a shift, how many people have it. For each role and quarter hour the people at work, breaks left out,
//! are at least those needed; likewise all roles together; and in no quarter hour are more people on a meal break than may
//! be. The sum of paid hours is the least.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

use super::shifts::{Need, Shift};

/// Branches looked at before the best roster so far is taken.
const MOST_BRANCHES: u64 = 4_000;

/// A choice of shifts.
#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    /// People, one entry a shift.
    pub people: Vec<u32>,
    /// Paid quarter hours.
    pub paid: f64,
    /// No choice can be paid less than this, by the problem without whole numbers.
    pub at_least: f64,
    /// Whether it is shown to be the least.
    pub least: bool,
}

/// The least choice.
///
/// # Errors
/// When the shifts cannot cover the need, or none is found; one sentence.
pub fn cover(shifts: &[Shift], need: &Need, off_at_once: u32) -> Result<Cover, String> {
    let cannot = "no roster keeps all rules of the contract and covers the need; let shifts be shorter, more people be off at \
                  once, or breaks be nearer the peak";
    let relaxed = solve(shifts, need, off_at_once, false, cannot)?;
    let whole = solve(shifts, need, off_at_once, true, cannot)?;
    let people: Vec<u32> = whole.0.iter().map(|x| x.round().max(0.0) as u32).collect();
    let paid = shifts
        .iter()
        .zip(&people)
        .map(|(s, n)| s.paid * f64::from(*n))
        .sum();
    Ok(Cover {
        people,
        paid,
        at_least: relaxed.1,
        least: whole.2,
    })
}

fn solve(
    shifts: &[Shift],
    need: &Need,
    off_at_once: u32,
    whole: bool,
    cannot: &str,
) -> Result<(Vec<f64>, f64, bool), String> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let most = (0..need.quarters())
        .map(|q| need.total(q))
        .max()
        .unwrap_or(0)
        .max(1);
    let variables: Vec<Variable> = shifts
        .iter()
        .map(|shift| match whole {
            true => problem.add_integer_var(shift.paid, (0, most as i32)),
            false => problem.add_var(shift.paid, (0.0, f64::from(most))),
        })
        .collect();
    let sum = |wanted: &dyn Fn(&Shift) -> bool| -> Vec<(Variable, f64)> {
        let of = shifts.iter().zip(&variables);
        of.filter(|(shift, _)| wanted(shift))
            .map(|(_, v)| (*v, 1.0))
            .collect()
    };
    for quarter in 0..need.quarters() {
        for (role, wanted) in need.by_role.iter().enumerate() {
            if wanted[quarter] > 0 {
                let those = sum(&|s| s.role == role && s.works(quarter));
                if those.is_empty() {
                    return Err(cannot.to_owned());
                }
                problem.add_constraint(those, ComparisonOp::Ge, f64::from(wanted[quarter]));
            }
        }
        if need.in_all[quarter] > 0 {
            problem.add_constraint(
                sum(&|s| s.works(quarter)),
                ComparisonOp::Ge,
                f64::from(need.in_all[quarter]),
            );
        }
        let off = sum(&|s| s.rests(quarter));
        if off.len() > 1 {
            problem.add_constraint(off, ComparisonOp::Le, f64::from(off_at_once));
        }
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(MOST_BRANCHES);
    let outcome = problem.solve_with(options).map_err(|why| match why {
        microlp::Error::Infeasible => cannot.to_owned(),
        why => format!("the roster could not be worked out: {why}"),
    })?;
    let least = outcome.is_optimal();
    let found = outcome.into_solution().map_err(|_| {
        format!(
            "no roster was found within {MOST_BRANCHES} branches; let shifts start on fewer times"
        )
    })?;
    let values = variables.iter().map(|v| found.var_value(*v)).collect();
    Ok((values, found.objective(), least))
}
