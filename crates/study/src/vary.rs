//! The same meal with some of its numbers varied: on a grid, over a space-filling sample, or one at a time.

use std::sync::atomic::AtomicBool;

use scullery_engine::ended::Fault;
use scullery_scenario::change::spoken;
use serde::{Deserialize, Serialize};

use crate::lunches::{Arrangement, lunches};
use crate::paired::{MeanDifference, mean_difference};
use crate::sobol::sobol;
use crate::summarise::{endings, heading, measure};
use crate::summary::{HeadingText, Measure, TargetResult};
use crate::targets::{LEVEL, Looked, judge};

/// A number of the scenario that is varied.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Varied {
    /// Its path, which ends in its unit.
    pub path: String,
    /// What the scenario has.
    pub present: Option<f64>,
    /// Whether it is a whole number.
    pub whole: bool,
    /// Least value.
    pub low: f64,
    /// Greatest value.
    pub high: f64,
}

/// How meals are simulated at each point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Runs {
    /// How many times at each point; the same tapes at all.
    pub repeats: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// Points that were simulated.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Variation {
    /// What a reader can repeat, in one sentence.
    pub answer: String,
    /// Title and standing.
    pub heading: HeadingText,
    /// `grid` or `sample`.
    pub design: String,
    /// The numbers varied.
    pub varied: Vec<Varied>,
    /// Ids of the measures, in the order of [`PointResult::measures`].
    pub measures: Vec<String>,
    /// The points, in order.
    pub points: Vec<PointResult>,
    /// Points asked for.
    pub asked: u64,
    /// Repeats at each point.
    pub repeats: u64,
    /// Seed of the study.
    pub seed: u64,
    /// SHA-256 of the scenario unchanged.
    pub hash: String,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One point.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct PointResult {
    /// Values of the numbers varied.
    pub values: Vec<f64>,
    /// Measures over the repeats.
    pub measures: Vec<Measure>,
    /// Targets, judged at this point by itself.
    pub targets: Vec<TargetResult>,
    /// Meals that locked or never drained.
    pub unfinished: u64,
}

/// All combinations of the values, the last number fastest.
pub fn grid(values: &[Vec<f64>]) -> Vec<Vec<f64>> {
    values.iter().fold(vec![Vec::new()], |points, next| {
        let longer = points.iter().flat_map(|point| {
            next.iter().map(move |value| {
                let mut point = point.clone();
                point.push(*value);
                point
            })
        });
        longer.collect()
    })
}

/// `points` points that fill the box between least and greatest values; `None` for more numbers than
/// [`crate::sobol::MOST_DIMENSIONS`].
pub fn sample(varied: &[Varied], points: u32) -> Option<Vec<Vec<f64>>> {
    // Half a cell in, so that no point lies on the least values and none is nearer to an edge than to the next.
    let inset = 0.5 / f64::from(points.next_power_of_two().max(1));
    let unit = sobol(points, varied.len())?;
    let point = |point: Vec<f64>| {
        let values = point.iter().zip(varied);
        values
            .map(|(share, varied)| varied.at(share + inset))
            .collect()
    };
    Some(unit.into_iter().map(point).collect())
}

impl Varied {
    /// The number in plain words, with its unit: `belt return: length, m`.
    pub fn words(&self) -> String {
        spoken(&self.path)
    }

    /// The value at a share of the way from the least to the greatest.
    pub fn at(&self, share: f64) -> f64 {
        if self.whole {
            // Each whole number has the same share.
            let many = (self.high - self.low).round() + 1.0;
            return (self.low + (share * many).floor()).min(self.high);
        }
        self.low + share * (self.high - self.low)
    }

    /// So many values, evenly spread from the least to the greatest; whole numbers without repeats.
    pub fn steps(&self, steps: u32) -> Vec<f64> {
        let last = f64::from(steps.max(2) - 1);
        let mut values: Vec<f64> = (0..steps.max(2))
            .map(|step| {
                let value = self.low + (self.high - self.low) * f64::from(step) / last;
                if self.whole { value.round() } else { value }
            })
            .collect();
        values.dedup_by(|a, b| a.total_cmp(b).is_eq());
        values
    }
}

/// Ids of the measures that are told: those asked for, else the headline ones that all have.
///
/// # Errors
/// [`Fault::Line`] when one is asked for that a line does not have.
pub fn told(arrangements: &[&Arrangement], asked: &[String]) -> Result<Vec<String>, Fault> {
    for id in asked {
        if let Some(without) = arrangements
            .iter()
            .find(|one| one.measures.find(id).is_none())
        {
            return Err(Fault::Line(format!(
                "this line has no measure `{id}`; the nearest is `{}`",
                without.measures.nearest(id)
            )));
        }
    }
    if !asked.is_empty() {
        return Ok(asked.to_vec());
    }
    let first = arrangements
        .first()
        .into_iter()
        .flat_map(|one| one.measures.infos());
    let everywhere = |id: &str| {
        arrangements
            .iter()
            .all(|one| one.measures.find(id).is_some())
    };
    Ok(first
        .filter(|info| info.headline && everywhere(&info.id))
        .map(|info| info.id.clone())
        .collect())
}

/// What is varied and where: the points with an arrangement each.
pub struct Points<'a> {
    /// `grid` or `sample`.
    pub design: &'a str,
    /// The numbers varied.
    pub varied: &'a [Varied],
    /// The arrangement of each point with the values of the numbers.
    pub points: &'a [(Vec<f64>, Arrangement)],
    /// Ids of the measures to tell; empty: the headline ones.
    pub measures: &'a [String],
    /// SHA-256 of the scenario unchanged.
    pub hash: &'a str,
}

/// Simulates each point on the same tapes. `progress` is told how many meals are done. When `stop` rises, the points that
/// are complete are told.
///
/// # Errors
/// [`Fault::Line`] when there is no point or a measure is not there; the fault of a run.
pub fn vary(
    of: &Points<'_>,
    how: &Runs,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Variation, Fault> {
    let all: Vec<&Arrangement> = of.points.iter().map(|(_, one)| one).collect();
    let Some(first) = all.first() else {
        return Err(Fault::Line("there is no point to simulate".to_owned()));
    };
    let ids = told(&all, of.measures)?;
    let mut points = Vec::new();
    for (number, (values, one)) in of.points.iter().enumerate() {
        let before = number as u64 * how.repeats;
        let told = |done: u64| progress(before + done);
        let rows = lunches(&[one], 1..=how.repeats, how.seed, how.threads, &told, stop)?.remove(0);
        if (rows.len() as u64) < how.repeats {
            break;
        }
        let judged = judge(&one.plan, &one.measures, &rows, Looked::Once(LEVEL));
        let ends = endings(&rows);
        let table = ids.iter().filter_map(|id| {
            let info = &one.measures.infos()[one.measures.find(id)?];
            let seen: Vec<f64> = one.column(id, &rows).into_iter().flatten().collect();
            Some(measure(info, &seen))
        });
        points.push(PointResult {
            values: values.clone(),
            measures: table.collect(),
            targets: judged.into_iter().map(|judged| judged.result).collect(),
            unfinished: ends.gridlock + ends.never_drained,
        });
    }
    Ok(Variation {
        answer: answer(&points, of.points.len()),
        heading: heading(&first.plan),
        design: of.design.to_owned(),
        varied: of.varied.to_vec(),
        measures: ids,
        asked: of.points.len() as u64,
        points,
        repeats: how.repeats,
        seed: how.seed,
        hash: of.hash.to_owned(),
        cautions: first.plan.cautions.clone(),
    })
}

fn answer(points: &[PointResult], asked: usize) -> String {
    let early = match points.len() {
        n if n < asked => format!(" Stopped early: {n} of {asked} points are complete."),
        _ => String::new(),
    };
    let holds = |point: &&PointResult| point.targets.iter().all(|target| target.verdict == "holds");
    let with_targets = points.iter().any(|point| !point.targets.is_empty());
    let fails = |point: &&PointResult| point.targets.iter().any(|target| target.verdict == "fails");
    if !with_targets {
        return format!(
            "{} points were simulated; no target is set.{early}",
            points.len()
        );
    }
    format!(
        "Of {} points, every target holds at {}, one fails at {}; the others are not sure.{early}",
        points.len(),
        points.iter().filter(holds).count(),
        points.iter().filter(fails).count()
    )
}

/// What matters most for one measure: each number at its least and its greatest value, the others as they are.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Tornado {
    /// What a reader can repeat, in one sentence.
    pub answer: String,
    /// Title and standing.
    pub heading: HeadingText,
    /// The measure with the scenario as it is.
    pub present: Measure,
    /// One bar a number, the longest first.
    pub bars: Vec<Bar>,
    /// Numbers asked for.
    pub asked: u64,
    /// Repeats of each.
    pub repeats: u64,
    /// Seed of the study.
    pub seed: u64,
    /// SHA-256 of the scenario unchanged.
    pub hash: String,
    /// Level of each interval, so that all together have 95 %.
    pub level_each: f64,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One number at its ends.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Bar {
    /// The number.
    pub varied: Varied,
    /// The measure at the least value, less that of the scenario as it is.
    pub at_low: Option<MeanDifference>,
    /// The measure at the greatest value, less that of the scenario as it is.
    pub at_high: Option<MeanDifference>,
    /// From the least to the greatest mean among the two and the present one.
    pub swing: f64,
}

/// A number with the arrangements at its two ends.
pub struct Ends {
    /// The number.
    pub varied: Varied,
    /// At its least value.
    pub low: Arrangement,
    /// At its greatest value.
    pub high: Arrangement,
}

/// Simulates the plan as it is and with each number at its ends, all on the same tapes. When `stop` rises, the bars that are
/// complete are told.
///
/// # Errors
/// [`Fault::Line`] when a line lacks the measure; the fault of a run.
pub fn tornado(
    present: &Arrangement,
    ends: &[Ends],
    id: &str,
    how: &Runs,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Tornado, Fault> {
    let mut everyone = vec![present];
    everyone.extend(ends.iter().flat_map(|ends| [&ends.low, &ends.high]));
    told(&everyone, &[id.to_owned()])?;
    let run = |one: &[&Arrangement], before: u64| {
        let told = |done: u64| progress(before + done);
        lunches(one, 1..=how.repeats, how.seed, how.threads, &told, stop)
    };
    let base = run(&[present], 0)?.remove(0);
    let column = present.column(id, &base);
    let level = 1.0 - (1.0 - LEVEL) / (2 * ends.len()).max(1) as f64;
    let mut bars = Vec::new();
    for (number, one) in ends.iter().enumerate() {
        let before = how.repeats * (1 + 2 * number as u64);
        let rows = run(&[&one.low, &one.high], before)?;
        if (rows[0].len() as u64) < how.repeats || (base.len() as u64) < how.repeats {
            break;
        }
        let at = |end: &Arrangement, rows| mean_difference(&column, &end.column(id, rows), level);
        let (at_low, at_high) = (at(&one.low, &rows[0]), at(&one.high, &rows[1]));
        let means = [at_low.as_ref(), at_high.as_ref()].map(|d| d.map_or(0.0, |d| d.mean));
        let swing = means[0].max(means[1]).max(0.0) - means[0].min(means[1]).min(0.0);
        bars.push(Bar {
            varied: one.varied.clone(),
            at_low,
            at_high,
            swing,
        });
    }
    bars.sort_by(|a, b| b.swing.total_cmp(&a.swing));
    let values: Vec<f64> = column.into_iter().flatten().collect();
    let info = present
        .measures
        .find(id)
        .map(|number| present.measures.infos()[number].clone());
    let info = info.ok_or_else(|| Fault::Line(format!("this line has no measure `{id}`")))?;
    let early = match bars.len() {
        n if n < ends.len() => format!(
            " Stopped early: {n} of {} numbers are complete.",
            ends.len()
        ),
        _ => String::new(),
    };
    let most = bars.iter().find(|bar| bar.swing > 0.0);
    Ok(Tornado {
        answer: match most {
            Some(bar) => format!(
                "Over the ranges given, \"{}\" matters most for \"{}\".{early}",
                bar.varied.words(),
                info.label
            ),
            None => format!("None of the numbers matters for \"{}\".{early}", info.label),
        },
        heading: heading(&present.plan),
        present: measure(&info, &values),
        bars,
        asked: ends.len() as u64,
        repeats: how.repeats,
        seed: how.seed,
        hash: present.plan.hash.clone(),
        level_each: level,
        cautions: present.plan.cautions.clone(),
    })
}
