//! Whether targets hold, as far as the repeats can tell.
//!
//! A target on single meals (`in_meals_of_100`) is judged by an interval of the share of meals in which it held; a target
//! on the mean by one of the mean, both at 95 %. Wholly on the good side: `holds`; wholly on the bad side: `fails`; else
//! `not sure yet`. A meal that never finished fails every target.
//!
//! A number of repeats fixed beforehand is judged once: Wilson's interval for a share, Student's for a mean. Repeats that
//! go on until something is sure are judged at every look, by intervals that hold at all looks together
//! ([`crate::sequential`]).

use scullery_engine::ended::Fault;
use scullery_scenario::plan::{Plan, Side, Target};

use crate::gathered::Row;
use crate::intervals::{mean, mean_interval, share_interval};
use crate::measures::{MeasureInfo, Measures};
use crate::sequential::{mean_at_look, share_sequence};
use crate::summary::TargetResult;
use crate::words::{of_100, value_words};

/// Level of all intervals in a summary.
pub const LEVEL: f64 = 0.95;

/// How often the repeats are judged, and how surely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Looked {
    /// Once, after a number of repeats fixed beforehand; intervals of this level.
    Once(f64),
    /// Again and again while repeats come in; all looks together are right with this level.
    Often {
        /// The level.
        level: f64,
        /// Number of this look, from 1.
        look: u32,
    },
}

impl Looked {
    fn share(self, held: u64, of: u64) -> Option<[f64; 2]> {
        match self {
            Looked::Once(level) => share_interval(held, of, level),
            Looked::Often { level, .. } if of > 0 => share_sequence(held, of, level),
            Looked::Often { .. } => None,
        }
    }

    fn mean(self, values: &[f64]) -> Option<[f64; 2]> {
        match self {
            Looked::Once(level) => mean_interval(values, level),
            Looked::Often { level, look } => mean_at_look(values, level, look),
        }
    }
}

/// What the repeats say of a target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The interval lies wholly on the good side.
    Holds,
    /// The interval lies wholly on the bad side.
    Fails,
    /// The interval lies across.
    NotSureYet,
}

impl Verdict {
    /// As a summary says it.
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Holds => "holds",
            Verdict::Fails => "fails",
            Verdict::NotSureYet => "not sure yet",
        }
    }
}

/// A target, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// What the repeats say.
    pub verdict: Verdict,
    /// For a target on single meals: whether it held, one entry a row (`None`: nothing to measure there).
    pub by_meal: Option<Vec<Option<bool>>>,
    /// For a target on single meals: in how many of 100 it must hold.
    pub asked_of_100: Option<f64>,
    /// For the summary.
    pub result: TargetResult,
}

/// Judges each target of the plan; rows in order of repeat. A target on a measure the plan lacks is left out.
pub fn judge(plan: &Plan, measures: &Measures, rows: &[Row], looked: Looked) -> Vec<Judged> {
    let known = plan.targets.iter().filter_map(|target| {
        let number = measures.find(&target.measure)?;
        Some((target, number))
    });
    known
        .map(|(target, number)| {
            let info = &measures.infos()[number];
            let values: Vec<Option<f64>> = rows.iter().map(|row| row.values[number]).collect();
            match target.in_meals_of_100 {
                Some(asked) => in_meals(target, info, asked / 100.0, rows, &values, looked),
                None => in_the_mean(target, info, rows, &values, looked),
            }
        })
        .collect()
}

/// That the line has every measure its targets speak of.
pub(crate) fn known(plan: &Plan, measures: &Measures) -> Result<(), Fault> {
    match measures.unknown(plan).first() {
        Some((id, nearest)) => Err(Fault::Line(format!(
            "a target speaks of `{id}`, which this line does not have; the nearest measure is `{nearest}`"
        ))),
        None => Ok(()),
    }
}

fn on_good_side(target: &Target, value: f64) -> bool {
    match target.side {
        Side::AtMost => value <= target.bound,
        Side::AtLeast => value >= target.bound,
    }
}

fn in_meals(
    target: &Target,
    info: &MeasureInfo,
    asked: f64,
    rows: &[Row],
    values: &[Option<f64>],
    looked: Looked,
) -> Judged {
    let by_meal: Vec<Option<bool>> = rows
        .iter()
        .zip(values)
        .map(|(row, value)| match value {
            Some(value) => Some(on_good_side(target, *value)),
            None if !row.finished() || info.absent_fails => Some(false),
            None => None,
        })
        .collect();
    let of = by_meal.iter().flatten().count() as u64;
    let held = by_meal.iter().flatten().filter(|held| **held).count() as u64;
    let interval = looked.share(held, of);
    let verdict = match interval {
        // No number of meals can show "always"; a single miss can show that it is not.
        Some(_) if asked >= 1.0 && held < of => Verdict::Fails,
        Some([low, _]) if low >= asked => Verdict::Holds,
        Some([_, high]) if high < asked => Verdict::Fails,
        _ => Verdict::NotSureYet,
    };
    let between = match interval {
        Some([low, high]) => format!("; between {} and {} of 100", of_100(low), of_100(high)),
        None => String::new(),
    };
    let evidence = format!(
        "in {held} of {of} simulated lunches{between}; asked: {} of 100",
        of_100(asked)
    );
    judged(
        target,
        verdict,
        (Some(held), of),
        interval,
        evidence,
        Some(by_meal),
    )
}

fn in_the_mean(
    target: &Target,
    info: &MeasureInfo,
    rows: &[Row],
    values: &[Option<f64>],
    looked: Looked,
) -> Judged {
    let seen: Vec<f64> = values.iter().copied().flatten().collect();
    let never = rows.iter().filter(|row| !row.finished()).count();
    let absent = rows.len() - never - seen.len();
    let interval = looked.mean(&seen);
    let verdict = match interval {
        _ if never > 0 || (absent > 0 && info.absent_fails) => Verdict::Fails,
        Some([low, high]) if on_good_side(target, low) && on_good_side(target, high) => {
            Verdict::Holds
        }
        Some([low, high]) if !on_good_side(target, low) && !on_good_side(target, high) => {
            Verdict::Fails
        }
        _ => Verdict::NotSureYet,
    };
    let say = |value: f64| value_words(value, info.unit);
    let mut evidence = match (mean(&seen), interval) {
        (Some(mean), Some([low, high])) => format!(
            "the mean of {} simulated lunches is {}; between {} and {}",
            seen.len(),
            say(mean),
            say(low),
            say(high)
        ),
        (Some(mean), None) => format!("in the one simulated lunch {}", say(mean)),
        (None, _) => "in no simulated lunch was there anything to measure".into(),
    };
    if never > 0 {
        evidence.push_str(&format!("; {never} of {} never finished", rows.len()));
    }
    if absent > 0 && info.absent_fails {
        evidence.push_str(&format!("; in {absent} of {} not at all", rows.len()));
    }
    let of = seen.len() as u64 + never as u64;
    judged(target, verdict, (None, of), interval, evidence, None)
}

fn judged(
    target: &Target,
    verdict: Verdict,
    (held, of): (Option<u64>, u64),
    interval: Option<[f64; 2]>,
    evidence: String,
    by_meal: Option<Vec<Option<bool>>>,
) -> Judged {
    Judged {
        verdict,
        by_meal,
        asked_of_100: target.in_meals_of_100,
        result: TargetResult {
            words: target.words.clone(),
            measure: target.measure.clone(),
            verdict: verdict.words().to_owned(),
            held,
            of,
            interval,
            asked_of_100: target.in_meals_of_100,
            evidence,
        },
    }
}
