//! What would have saved the lunch: single changes and pairs, tried on it and on lunches like it, ranked by effect and by
//! cost; and until when it could last have been saved.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use scullery_engine::time::SimTime;
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

pub use super::menu::{Proposal, Rush, proposals};

use super::lunch::steady;
use crate::gathered::Row;
use crate::intervals::mean;
use crate::lunches::{Arrangement, lunches};
use crate::measures::Meal;
use crate::money::amounts;
use crate::paired::{MeanDifference, mean_difference};
use crate::replicate::meal;

/// How remedies are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trying {
    /// Lunches like hers, simulated for each remedy.
    pub lunches: u64,
    /// The most helpful single remedies that are tried in pairs.
    pub paired: usize,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// One remedy tried.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Tried {
    /// In words.
    pub words: String,
    /// Changes to the scenario.
    pub changes: Vec<String>,
    /// Whether something must be bought or built.
    pub buys: bool,
    /// Whether it is what happened, undone.
    pub undoes: bool,
    /// Whether it is two remedies together.
    pub pair: bool,
    /// The measure at her lunch without luck of work.
    pub hers: Option<f64>,
    /// Mean of the measure over lunches like hers.
    pub mean: Option<f64>,
    /// The measure with the remedy less without it, over the same lunches.
    pub effect: Option<MeanDifference>,
    /// Cost of a lunch with the remedy less without it (labour and resources; what must be bought is not in it).
    pub cost: Option<MeanDifference>,
    /// Lunches that locked or never ended.
    pub unfinished: u64,
    /// Whether the interval of the effect lies wholly on the good side.
    pub helps: bool,
}

/// What was tried.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Remedies {
    /// Id of the measure that is to be better.
    pub measure: String,
    /// Its label.
    pub label: String,
    /// Its unit.
    pub unit: String,
    /// The measure at her lunch without luck, as it was.
    pub hers: Option<f64>,
    /// Mean over lunches like hers, as it was.
    pub mean: Option<f64>,
    /// Lunches like hers that locked or never ended, as it was.
    pub unfinished: u64,
    /// Singles and pairs, the most helpful first.
    pub tried: Vec<Tried>,
    /// Remedies the scenario does not take, with the reason.
    pub refused: Vec<(String, String)>,
    /// Level of each single interval, so that all together have 95 %.
    pub level_each: f64,
    /// Lunches simulated for each.
    pub lunches: u64,
    /// The helper that was moved to see until when help would have been in time, and the last start that was.
    pub last_chance: Option<LastChance>,
    /// Whether it was stopped before it was done.
    pub stopped: bool,
}

/// Until when it could last have been saved.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct LastChance {
    /// Who would have come, in words.
    pub helper: String,
    /// The mean of the measure that counts as saved.
    pub saved_at: f64,
    /// The last start that saves it, minutes since midnight; `None`: no start tried does.
    pub until_min: Option<f64>,
}

/// Makes the plan of a list of changes.
pub type Make<'a> = &'a (dyn Fn(&[String]) -> Result<Plan, String> + Sync);

/// Tries remedies. `make` gives the plan with changes made (none: as it was); `undone` are proposals that undo what
/// happened, each with the plan it leads to.
///
/// # Errors
/// In words: a run that has a fault, a measure that the line does not have.
pub fn remedies(
    make: Make<'_>,
    undone: &[(String, Plan)],
    menu: &[Proposal],
    measure: &str,
    how: &Trying,
    progress: &(dyn Fn(u64, u64) + Sync),
    stop: &AtomicBool,
) -> Result<Remedies, String> {
    let first = Arrangement::new("as it was", make(&[])?).map_err(|fault| fault.to_string())?;
    let found = first.measures.find(measure).ok_or_else(|| {
        format!("the line has no measure `{measure}`; name one that summary.json of `scullery run` lists")
    })?;
    let info = first.measures.infos()[found].clone();
    let mut candidates = Vec::new();
    let mut refused = Vec::new();
    for (words, plan) in undone {
        let proposal = Proposal {
            words: words.clone(),
            changes: Vec::new(),
            buys: false,
        };
        candidates.push((proposal, true, plan.clone()));
    }
    for proposal in menu {
        match make(&proposal.changes) {
            Ok(plan) => candidates.push((proposal.clone(), false, plan)),
            Err(why) => refused.push((proposal.words.clone(), first_line(&why))),
        }
    }
    let pairs = how.paired * how.paired.saturating_sub(1) / 2;
    let total = (candidates.len() + pairs + 1) as u64 * how.lunches;
    let done = AtomicU64::new(0);
    let trial = Trial {
        first: &first,
        measure,
        how,
        done: &done,
        total,
        progress,
        stop,
    };
    let base = trial.rows(&first)?;
    // Every interval there will be shares the 5 %.
    let level_each = 1.0 - 0.05 / (candidates.len() + pairs).max(1) as f64;
    let mut tried = Vec::new();
    for (proposal, undoes, plan) in candidates {
        if stop.load(Ordering::Relaxed) {
            break;
        }
        tried.push(trial.one(&base, proposal, (undoes, false), plan, level_each)?);
    }
    rank(&mut tried);
    let best: Vec<Tried> = tried
        .iter()
        .filter(|it| it.helps && !it.undoes)
        .take(how.paired)
        .cloned()
        .collect();
    for (i, one) in best.iter().enumerate() {
        for other in &best[i + 1..] {
            if stop.load(Ordering::Relaxed) || clash(&one.changes, &other.changes) {
                continue;
            }
            let proposal = Proposal {
                words: format!("{}, and {}", one.words, other.words),
                changes: one.changes.iter().chain(&other.changes).cloned().collect(),
                buys: one.buys || other.buys,
            };
            match make(&proposal.changes) {
                Ok(plan) => {
                    tried.push(trial.one(&base, proposal, (false, true), plan, level_each)?)
                }
                Err(why) => refused.push((proposal.words, first_line(&why))),
            }
        }
    }
    rank(&mut tried);
    Ok(Remedies {
        measure: measure.to_owned(),
        label: info.label.clone(),
        unit: info.unit.to_owned(),
        hers: trial.hers(&first)?,
        mean: of(&first, measure, &base),
        unfinished: base.iter().filter(|row| !row.finished()).count() as u64,
        tried,
        refused,
        level_each,
        lunches: base.len() as u64,
        last_chance: None,
        stopped: stop.load(Ordering::Relaxed),
    })
}

fn first_line(text: &str) -> String {
    text.lines().next().unwrap_or("").to_owned()
}

/// Whether two lists of changes touch the same thing.
fn clash(a: &[String], b: &[String]) -> bool {
    let path = |change: &String| {
        change
            .trim_start_matches(['+', '-'])
            .split('=')
            .next()
            .unwrap_or("")
            .to_owned()
    };
    a.iter()
        .any(|one| b.iter().any(|other| path(one) == path(other)))
}

/// The least by which a pair must beat the best single remedy, as a share of what that one gains, to stand before it.
const WORTH_TWO: f64 = 0.05;

/// The most helpful first; less is better for every measure that is used here. A pair that gains hardly more than the best
/// single remedy stands behind all single ones that help.
fn rank(tried: &mut [Tried]) {
    let gain = |it: &Tried| {
        it.effect
            .as_ref()
            .map_or(f64::INFINITY, |effect| effect.mean)
    };
    let single = tried.iter().filter(|it| !it.pair && !it.undoes);
    let best = single.map(gain).fold(0.0, f64::min);
    let idle = |it: &Tried| it.pair && gain(it) > best * (1.0 + WORTH_TWO);
    tried.sort_by(|a, b| {
        b.helps
            .cmp(&a.helps)
            .then(idle(a).cmp(&idle(b)))
            .then(gain(a).total_cmp(&gain(b)))
    });
}

fn of(arrangement: &Arrangement, measure: &str, rows: &[Row]) -> Option<f64> {
    let values: Vec<f64> = arrangement
        .column(measure, rows)
        .into_iter()
        .flatten()
        .collect();
    mean(&values)
}

struct Trial<'a> {
    first: &'a Arrangement,
    measure: &'a str,
    how: &'a Trying,
    done: &'a AtomicU64,
    total: u64,
    progress: &'a (dyn Fn(u64, u64) + Sync),
    stop: &'a AtomicBool,
}

impl Trial<'_> {
    fn rows(&self, arrangement: &Arrangement) -> Result<Vec<Row>, String> {
        let how = self.how;
        let before = self.done.load(Ordering::Relaxed);
        let progress = |done: u64| (self.progress)(before + done, self.total);
        let all = lunches(
            &[arrangement],
            1..=how.lunches,
            how.seed,
            how.threads,
            &progress,
            self.stop,
        );
        let rows = all
            .map_err(|fault| fault.to_string())?
            .into_iter()
            .next()
            .unwrap_or_default();
        self.done.fetch_add(how.lunches, Ordering::Relaxed);
        Ok(rows)
    }

    /// The measure at her lunch without luck of work.
    fn hers(&self, arrangement: &Arrangement) -> Result<Option<f64>, String> {
        let plan = steady(&arrangement.plan);
        let (ended, record) = meal(&plan, self.how.seed, 1).map_err(|fault| fault.to_string())?;
        let number = arrangement.measures.find(self.measure);
        let amounts = amounts(&plan, &arrangement.catalogue, &record, &ended);
        let values = arrangement.measures.read(&Meal {
            record: &record,
            ended: &ended,
            amounts,
        });
        Ok(number.and_then(|number| values[number]))
    }

    fn one(
        &self,
        base: &[Row],
        proposal: Proposal,
        (undoes, pair): (bool, bool),
        plan: Plan,
        level: f64,
    ) -> Result<Tried, String> {
        let arrangement =
            Arrangement::new(proposal.words.clone(), plan).map_err(|fault| fault.to_string())?;
        let rows = self.rows(&arrangement)?;
        let many = base.len().min(rows.len());
        let column = |of: &Arrangement, id: &str, rows: &[Row]| of.column(id, &rows[..many]);
        let difference = |id: &str, level: f64| {
            mean_difference(
                &column(self.first, id, base),
                &column(&arrangement, id, &rows),
                level,
            )
        };
        let effect = difference(self.measure, level);
        let helps = effect
            .as_ref()
            .and_then(|it| it.interval)
            .is_some_and(|[_, high]| high < 0.0);
        let cost = difference("line.cost", level);
        Ok(Tried {
            words: proposal.words,
            changes: proposal.changes,
            buys: proposal.buys,
            undoes,
            pair,
            hers: self.hers(&arrangement)?,
            mean: of(&arrangement, self.measure, &rows),
            effect,
            cost,
            unfinished: rows.iter().filter(|row| !row.finished()).count() as u64,
            helps,
        })
    }
}

/// Looks for the last start at which a helper would have saved the lunch: the mean of the measure at most `saved_at`.
/// Starts are tried every five minutes from `rush.to` back to `rush.from`.
///
/// # Errors
/// In words, when a run has a fault.
pub fn last_chance(
    make: Make<'_>,
    helper: (&str, &dyn Fn(SimTime) -> Vec<String>),
    measure: &str,
    saved_at: f64,
    rush: Rush,
    how: &Trying,
    stop: &AtomicBool,
) -> Result<LastChance, String> {
    let step = 5 * 60_000_000;
    let mut start = rush.to.us() - rush.to.us() % step;
    let mut until_min = None;
    while start >= rush.from.us() && !stop.load(Ordering::Relaxed) {
        let at = SimTime::from_us(start);
        if let Ok(plan) = make(&helper.1(at)) {
            let arrangement =
                Arrangement::new("helper", plan).map_err(|fault| fault.to_string())?;
            let rows = lunches(
                &[&arrangement],
                1..=how.lunches,
                how.seed,
                how.threads,
                &|_| {},
                stop,
            )
            .map_err(|fault| fault.to_string())?;
            let mean = rows
                .first()
                .and_then(|rows| of(&arrangement, measure, rows));
            if mean.is_some_and(|mean| mean <= saved_at) {
                until_min = Some(start as f64 / 60e6);
                break;
            }
        }
        start = start.saturating_sub(step);
        if start == 0 {
            break;
        }
    }
    Ok(LastChance {
        helper: helper.0.to_owned(),
        saved_at,
        until_min,
    })
}
