//! Unknown numbers fitted to what was seen: where they are most likely, how sure that is, and which cannot be told apart.
//!
//! Each candidate is simulated on the same tapes. What was seen is scored by the normal law with the simulated mean and
//! covariance (and the doubt of whoever looked). The likelihood steps where a threshold is crossed, so no derivative is
//! used: points are spread evenly over the bounds (Sobol), the best is improved by the simplex of Nelder and Mead, and
//! more points are spread where the likelihood is high. Ranges weigh all points by their likelihood, every value within the
//! bounds being as likely as any other beforehand.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use argmin::core::{CostFunction, Executor, State};
use argmin::solver::neldermead::NelderMead;
use scullery_scenario::notes::SeenLevel;
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use super::seen::{SeenBand, bands, level};
use super::spread::log_likelihood;
use crate::replicate::{Bench, pool};
use crate::sobol::sobol;

/// Most unknowns fitted at once.
pub const MOST_UNKNOWNS: usize = 4;
/// Most things seen that are used.
pub const MOST_SEEN: usize = 60;
/// Things seen that there must be beyond the number of unknowns.
pub const SPARE: usize = 2;

/// An unknown number.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// Its name, for example a path of the scenario.
    pub name: String,
    /// Least it may be.
    pub low: f64,
    /// Most it may be.
    pub high: f64,
}

/// How it is fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fitting {
    /// Lunches simulated for each candidate.
    pub lunches: u64,
    /// Points spread over the bounds in the first round, and again where it is likely.
    pub points: u32,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// A fitted number.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Fitted {
    /// Its name.
    pub name: String,
    /// Bounds it was looked for in.
    pub bounds: [f64; 2],
    /// The most likely value tried.
    pub best: f64,
    /// Mean of the weighed points.
    pub mean: f64,
    /// 5th and 95th of 100 by weight.
    pub range: [f64; 2],
    /// Which bounds the range leans against: the truth may lie beyond.
    pub leans_low: bool,
    /// The same for the upper bound.
    pub leans_high: bool,
    /// Whether the range is hardly narrower than the bounds: nothing was learned.
    pub open: bool,
}

/// Two numbers that explain it equally well.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Tangled {
    /// The one.
    pub first: String,
    /// The other.
    pub second: String,
    /// Weighed correlation of the two over all points.
    pub correlation: f64,
}

/// Unknown numbers fitted.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct FitResult {
    /// The numbers, in the order asked.
    pub fitted: Vec<Fitted>,
    /// Pairs that cannot be told apart.
    pub tangled: Vec<Tangled>,
    /// What was seen beside the lunches simulated at the best values.
    pub seen: Vec<SeenBand>,
    /// Candidates simulated.
    pub candidates: u64,
    /// Lunches simulated for each.
    pub lunches: u64,
    /// How many points of equal weight the weighed ones are worth.
    pub worth: f64,
    /// Whether it was stopped before it was done.
    pub stopped: bool,
}

/// A pair of numbers whose weighed correlation is beyond this is told as one that cannot be told apart.
const TANGLED: f64 = 0.8;

/// Fits unknowns to what was seen. `plan_at` gives the plan with these values for the unknowns.
///
/// `progress` is told how many candidates are done and of how many. When `stop` rises the points at hand are weighed.
///
/// # Errors
/// In words: too few things seen, too many unknowns, a plan that cannot be made, a run that has a fault.
pub fn fit(
    unknowns: &[Unknown],
    seen: &[SeenLevel],
    plan_at: &(dyn Fn(&[f64]) -> Result<Plan, String> + Sync),
    how: &Fitting,
    progress: &(dyn Fn(u64, u64) + Sync),
    stop: &AtomicBool,
) -> Result<FitResult, String> {
    let k = unknowns.len();
    if k == 0 || k > MOST_UNKNOWNS {
        return Err(format!(
            "from 1 to {MOST_UNKNOWNS} numbers can be fitted at once, asked were {k}"
        ));
    }
    if seen.len() < k + SPARE {
        return Err(format!(
            "{} things seen are too few to fit {k} numbers: give at least {}, at different times and places",
            seen.len(),
            k + SPARE
        ));
    }
    if seen.len() > MOST_SEEN {
        return Err(format!(
            "{} things seen are more than {MOST_SEEN}",
            seen.len()
        ));
    }
    let search = Search {
        unknowns,
        seen,
        plan_at,
        how,
        done: AtomicU64::new(0),
        of: u64::from(how.points) * 2 + SIMPLEX_STEPS,
        progress,
        stop,
    };
    let whole: Vec<[f64; 2]> = unknowns.iter().map(|u| [u.low, u.high]).collect();
    let mut points = search.spread(&whole, how.points)?;
    let mut best = top(&points)
        .ok_or("stopped before any candidate was simulated")?
        .clone();
    if !stop.load(Ordering::Relaxed)
        && let Some(better) = search.improve(&best)?
    {
        best = better.clone();
        points.push(better);
    }
    // The second round's points are denser there, which their weight takes back.
    let near = near(&points, &best, &whole);
    let second = search.spread(&near, how.points)?;
    best = top(&second)
        .filter(|other| other.log > best.log)
        .unwrap_or(&best)
        .clone();
    let weights = weigh(&points, &second, &near, &whole, best.log);
    let all: Vec<&Point> = points.iter().chain(&second).collect();
    let lunches = search.lunches(&search.plan(&best.at)?)?;
    Ok(FitResult {
        fitted: (0..k)
            .map(|i| fitted(&unknowns[i], i, &best, &all, &weights))
            .collect(),
        tangled: tangled(unknowns, &all, &weights),
        seen: bands(seen, &lunches),
        candidates: search.done.load(Ordering::Relaxed),
        lunches: how.lunches,
        worth: worth(&weights),
        stopped: stop.load(Ordering::Relaxed),
    })
}

/// Steps of the simplex.
const SIMPLEX_STEPS: u64 = 60;

/// A candidate and how likely what was seen is under it.
#[derive(Clone, Debug, PartialEq)]
struct Point {
    at: Vec<f64>,
    log: f64,
}

fn top(points: &[Point]) -> Option<&Point> {
    points.iter().max_by(|a, b| a.log.total_cmp(&b.log))
}

struct Search<'a> {
    unknowns: &'a [Unknown],
    seen: &'a [SeenLevel],
    plan_at: &'a (dyn Fn(&[f64]) -> Result<Plan, String> + Sync),
    how: &'a Fitting,
    done: AtomicU64,
    of: u64,
    progress: &'a (dyn Fn(u64, u64) + Sync),
    stop: &'a AtomicBool,
}

impl Search<'_> {
    fn plan(&self, at: &[f64]) -> Result<Plan, String> {
        (self.plan_at)(at)
    }

    /// The levels that were seen, of each lunch.
    fn lunches(&self, plan: &Plan) -> Result<Vec<Vec<f64>>, String> {
        let catalogue = plan.line.catalogue();
        let mut bench = Bench::new(plan, &catalogue);
        (1..=self.how.lunches)
            .map(|repeat| {
                let ended = bench
                    .run(plan, self.how.seed, repeat)
                    .map_err(|fault| fault.to_string())?;
                let record = bench.recorder.finish(&ended);
                Ok(self.seen.iter().map(|it| level(record, it)).collect())
            })
            .collect()
    }

    fn score(&self, at: &[f64]) -> Result<f64, String> {
        let lunches = self.lunches(&self.plan(at)?)?;
        let seen: Vec<f64> = self.seen.iter().map(|it| it.count).collect();
        let own: Vec<f64> = self.seen.iter().map(|it| it.off_by * it.off_by).collect();
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        (self.progress)(done, self.of.max(done));
        Ok(log_likelihood(&seen, &own, &lunches))
    }

    /// Points spread evenly over a box, scored by all threads; in order, however many threads there are.
    fn spread(&self, within: &[[f64; 2]], many: u32) -> Result<Vec<Point>, String> {
        // The corner at nought comes first and is left out.
        let shares = sobol(many + 1, within.len()).ok_or("too many unknowns")?;
        let places: Vec<Vec<f64>> = shares
            .iter()
            .skip(1)
            .map(|u| {
                u.iter()
                    .zip(within)
                    .map(|(u, [low, high])| low + u * (high - low))
                    .collect()
            })
            .collect();
        let next = AtomicU64::new(0);
        let work = || -> Result<Vec<(u64, Point)>, String> {
            let mut own = Vec::new();
            loop {
                let i = next.fetch_add(1, Ordering::Relaxed);
                let Some(at) = places
                    .get(i as usize)
                    .filter(|_| !self.stop.load(Ordering::Relaxed))
                else {
                    return Ok(own);
                };
                own.push((
                    i,
                    Point {
                        at: at.clone(),
                        log: self.score(at)?,
                    },
                ));
            }
        };
        let parts = match pool(self.how.threads, u64::from(many)) {
            Some(pool) => pool.broadcast(|_| work()),
            None => vec![work()],
        };
        let mut points = Vec::new();
        for part in parts {
            points.extend(part?);
        }
        points.sort_by_key(|(i, _)| *i);
        Ok(points.into_iter().map(|(_, point)| point).collect())
    }

    /// The best point that the simplex finds from here; `None` when it finds none better.
    fn improve(&self, from: &Point) -> Result<Option<Point>, String> {
        let share = |at: &[f64]| -> Vec<f64> {
            at.iter()
                .zip(self.unknowns)
                .map(|(x, u)| (x - u.low) / (u.high - u.low))
                .collect()
        };
        let first = share(&from.at);
        let mut corners = vec![first.clone()];
        for i in 0..first.len() {
            let mut corner = first.clone();
            corner[i] += if corner[i] > 0.5 { -0.15 } else { 0.15 };
            corners.push(corner);
        }
        let solver = NelderMead::new(corners)
            .with_sd_tolerance(1e-3)
            .map_err(|why| why.to_string())?;
        let result = Executor::new(Simplex { search: self }, solver)
            .configure(|state| state.max_iters(SIMPLEX_STEPS))
            .run()
            .map_err(|why| why.to_string())?;
        let state = result.state();
        let Some(best) = state.get_best_param() else {
            return Ok(None);
        };
        let point = Point {
            at: self.unshare(best),
            log: -state.get_best_cost(),
        };
        Ok((point.log > from.log).then_some(point))
    }

    fn unshare(&self, shares: &[f64]) -> Vec<f64> {
        shares
            .iter()
            .zip(self.unknowns)
            .map(|(s, u)| u.low + s.clamp(0.0, 1.0) * (u.high - u.low))
            .collect()
    }
}

struct Simplex<'a, 'b> {
    search: &'a Search<'b>,
}

impl CostFunction for Simplex<'_, '_> {
    type Param = Vec<f64>;
    type Output = f64;

    fn cost(&self, shares: &Vec<f64>) -> Result<f64, argmin::core::Error> {
        if self.search.stop.load(Ordering::Relaxed) {
            return Ok(f64::MAX / 4.0);
        }
        // Outside the bounds it costs the more the farther away.
        let outside: f64 = shares.iter().map(|s| (s - s.clamp(0.0, 1.0)).abs()).sum();
        let log = self
            .search
            .score(&self.search.unshare(shares))
            .map_err(argmin::core::Error::msg)?;
        Ok(-log.max(-1e12) + 1e3 * outside)
    }
}

/// The box around all points whose likelihood is within a factor of e^-6 of the best, a tenth of the bounds wide at
/// least to each side, within the bounds.
fn near(points: &[Point], best: &Point, whole: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let good = || points.iter().filter(|point| point.log >= best.log - 6.0);
    (0..whole.len())
        .map(|i| {
            let margin = 0.1 * (whole[i][1] - whole[i][0]);
            let low = good().map(|p| p.at[i]).fold(best.at[i], f64::min) - margin;
            let high = good().map(|p| p.at[i]).fold(best.at[i], f64::max) + margin;
            [low.max(whole[i][0]), high.min(whole[i][1])]
        })
        .collect()
}

/// Weight of each point: likelihood over the density with which points stand there; sums to 1.
fn weigh(
    first: &[Point],
    second: &[Point],
    near: &[[f64; 2]],
    whole: &[[f64; 2]],
    best: f64,
) -> Vec<f64> {
    let size = |within: &[[f64; 2]]| {
        within
            .iter()
            .map(|[low, high]| (high - low).max(1e-300))
            .product::<f64>()
    };
    let share = size(near) / size(whole);
    let inside = |at: &[f64]| {
        at.iter()
            .zip(near)
            .all(|(x, [low, high])| (*low..=*high).contains(x))
    };
    let (n, m) = (first.len() as f64, second.len() as f64);
    let density = |at: &[f64]| n + if inside(at) { m / share } else { 0.0 };
    let raw: Vec<f64> = first
        .iter()
        .chain(second)
        .map(|point| libm::exp(point.log - best) / density(&point.at))
        .collect();
    let sum: f64 = raw.iter().sum();
    raw.iter().map(|w| w / sum.max(1e-300)).collect()
}

/// How many points of equal weight these are worth (Kish).
fn worth(weights: &[f64]) -> f64 {
    1.0 / weights.iter().map(|w| w * w).sum::<f64>().max(1e-300)
}

fn fitted(unknown: &Unknown, i: usize, best: &Point, points: &[&Point], weights: &[f64]) -> Fitted {
    let mut order: Vec<(f64, f64)> = points
        .iter()
        .map(|p| p.at[i])
        .zip(weights.iter().copied())
        .collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let quantile = |share: f64| {
        let mut sum = 0.0;
        for (x, w) in &order {
            sum += w;
            if sum >= share {
                return *x;
            }
        }
        order.last().map_or(best.at[i], |(x, _)| *x)
    };
    let range = [quantile(0.05), quantile(0.95)];
    let wide = unknown.high - unknown.low;
    Fitted {
        name: unknown.name.clone(),
        bounds: [unknown.low, unknown.high],
        best: best.at[i],
        mean: points.iter().zip(weights).map(|(p, w)| p.at[i] * w).sum(),
        range,
        leans_low: range[0] < unknown.low + 0.05 * wide,
        leans_high: range[1] > unknown.high - 0.05 * wide,
        open: range[1] - range[0] > 0.75 * wide,
    }
}

fn tangled(unknowns: &[Unknown], points: &[&Point], weights: &[f64]) -> Vec<Tangled> {
    let mean = |i: usize| {
        points
            .iter()
            .zip(weights)
            .map(|(p, w)| p.at[i] * w)
            .sum::<f64>()
    };
    let product = |i: usize, j: usize| {
        let (a, b) = (mean(i), mean(j));
        points
            .iter()
            .zip(weights)
            .map(|(p, w)| (p.at[i] - a) * (p.at[j] - b) * w)
            .sum::<f64>()
    };
    let mut found = Vec::new();
    for i in 0..unknowns.len() {
        for j in i + 1..unknowns.len() {
            let correlation = product(i, j) / (product(i, i) * product(j, j)).sqrt();
            if correlation.abs() > TANGLED {
                found.push(Tangled {
                    first: unknowns[i].name.clone(),
                    second: unknowns[j].name.clone(),
                    correlation,
                });
            }
        }
    }
    found
}
