//! Runs lunches of an arrangement and asks its targets.

use std::ops::Range;

use scullery_engine::ended::{Ended, Fault, How};
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::State;
use scullery_scenario::plan::{Plan, Side, Target};

use crate::deciding::share::Zone;
use crate::measures::{Meal, Measures};
use crate::money::amounts;
use crate::record::{MealRecord, Recorder};
use crate::search::{Asked, Kitchen, Lunch, Seen};

/// What the targets of a plan ask, one entry a target.
///
/// `indifference` is the share of lunches by which a target may be missed or overfilled unnoticed; a target on a mean has
/// the same share of its bound as its indifference, one on a clock time 100 times so many minutes.
///
/// # Errors
/// When there is no target, or one cannot be asked so; one sentence.
pub fn asked(plan: &Plan, indifference: f64) -> Result<Vec<Asked>, String> {
    if plan.targets.is_empty() {
        return Err(
            "the scenario names no target, so nothing can be said to hold; add a [[target]]".into(),
        );
    }
    let catalogue = plan.line.catalogue();
    let measures = Measures::of(plan, &catalogue);
    if let Some((id, nearest)) = measures.unknown(plan).first() {
        return Err(format!(
            "a target speaks of `{id}`, which this line does not have; the nearest measure is `{nearest}`"
        ));
    }
    plan.targets
        .iter()
        .map(|target| one_asked(target, indifference))
        .collect()
}

fn one_asked(target: &Target, indifference: f64) -> Result<Asked, String> {
    match target.in_meals_of_100 {
        Some(of_100) => Zone::about(of_100 / 100.0, indifference)
            .map(Asked::Share)
            .ok_or_else(|| {
                format!(
                    "\"{}\" cannot be asked of {of_100} of 100 lunches",
                    target.words
                )
            }),
        None => {
            let by_clock = target.measure.ends_with("clock_min");
            let width = if by_clock {
                100.0
            } else {
                target.bound.abs().max(0.5)
            };
            Ok(Asked::Mean {
                standard: target.bound,
                at_most: target.side == Side::AtMost,
                indifference: indifference * width,
            })
        }
    }
}

/// An arrangement to be tried: a plan, and what an hour past the shift costs for each of its crew.
#[derive(Clone, Debug)]
pub struct Arrangement {
    /// The plan.
    pub plan: Plan,
    /// One entry a worker.
    pub wages: Vec<f64>,
}

/// Makes the arrangement with a number.
pub type Arrange<'a> = &'a (dyn Fn(usize) -> Arrangement + Sync);

/// Lunches of arrangements that all have the same targets.
pub struct Arrangements<'a> {
    /// Makes one.
    pub arrange: Arrange<'a>,
    /// Seed of the study.
    pub seed: u64,
}

impl Kitchen for Arrangements<'_> {
    type Fault = Fault;

    fn lunches(&self, candidate: usize, which: Range<u64>) -> Result<Vec<Lunch>, Fault> {
        let arrangement = (self.arrange)(candidate);
        let mut lunches = Vec::with_capacity((which.end - which.start) as usize);
        each_lunch(&arrangement, self.seed, which, &mut |lunch, _, _| {
            lunches.push(lunch)
        })?;
        Ok(lunches)
    }
}

/// Runs lunches of an arrangement, telling each with its record and how it ended.
///
/// # Errors
/// The fault of the first run that has one.
pub fn each_lunch(
    arrangement: &Arrangement,
    seed: u64,
    which: Range<u64>,
    tell: &mut dyn FnMut(Lunch, &MealRecord, &Ended),
) -> Result<(), Fault> {
    let plan = &arrangement.plan;
    let catalogue = plan.line.catalogue();
    let measures = Measures::of(plan, &catalogue);
    let numbers: Vec<Option<usize>> = plan
        .targets
        .iter()
        .map(|t| measures.find(&t.measure))
        .collect();
    let mut tape = Tape::new();
    let mut floor = Floor::new();
    let mut recorder = Recorder::new(&catalogue, plan.line.starts);
    for repeat in which {
        tape.draw(&plan.demand, seed, repeat);
        recorder.begin();
        let ended = run(&plan.line, &tape, &mut floor, &mut recorder)?;
        let record = recorder.finish(&ended);
        let finished = matches!(ended.how, How::AllClean | How::StatedEnd);
        let values = finished.then(|| {
            measures.read(&Meal {
                record,
                ended: &ended,
                amounts: amounts(plan, &catalogue, record, &ended),
            })
        });
        let targets = (plan.targets.iter().zip(&numbers)).map(|(target, number)| {
            let (Some(values), Some(number)) = (&values, *number) else {
                return Seen::Never;
            };
            seen(
                target,
                values[number],
                measures.infos()[number].absent_fails,
            )
        });
        let lunch = Lunch {
            targets: targets.collect(),
            extra_cost: past_shift_cost(record, &arrangement.wages),
        };
        tell(lunch, record, &ended);
    }
    Ok(())
}

fn seen(target: &Target, value: Option<f64>, absent_fails: bool) -> Seen {
    match (value, target.in_meals_of_100) {
        (Some(value), None) => Seen::Value(value),
        (Some(value), Some(_)) => Seen::Held(match target.side {
            Side::AtMost => value <= target.bound,
            Side::AtLeast => value >= target.bound,
        }),
        (None, _) if absent_fails => Seen::Never,
        (None, _) => Seen::Nothing,
    }
}

/// Cost of the minutes past the shift.
fn past_shift_cost(record: &MealRecord, wages: &[f64]) -> f64 {
    // The crew comes first among the actors, in its order.
    let each = record.actors.iter().zip(wages);
    each.map(|(actor, wage)| actor.us(State::PastShift) as f64 / 3.6e9 * wage)
        .sum()
}
