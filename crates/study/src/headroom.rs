//! Headroom: how many covers, of the expected day and of the busy day, until the first target fails.
//!
//! Covers are scaled up (or down, where targets fail as it is) and each number of covers is tried on the same tapes until
//! every target is known to hold or one to fail, by intervals valid at every look. The number where it turns is then
//! closed in by halving. That more covers do not help a target is taken for granted; a target that surely holds as it is
//! and would need no fewer covers (so many for an hour of labour) is left out while fewer are tried.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::Fault;
use scullery_scenario::day::{busy_factor, days_differ, on_day, stated_covers};
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use crate::gathered::Row;
use crate::lunches::{Arrangement, lunches};
use crate::sequential::{LEAST, next_look};
use crate::summarise::heading;
use crate::summary::{HeadingText, TargetResult};
use crate::targets::{LEVEL, Looked, Verdict, judge};

/// How headroom is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Search {
    /// Most lunches for one number of covers.
    pub most: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// Headroom of a plan.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Headroom {
    /// What a manager can repeat.
    pub answer: String,
    /// Title and standing.
    pub heading: HeadingText,
    /// Covers as stated.
    pub stated_covers: f64,
    /// The expected day, then the busy day.
    pub days: Vec<DayRoom>,
    /// Seed of the study.
    pub seed: u64,
    /// Lunches simulated in all.
    pub lunches: u64,
    /// Most lunches for one number of covers.
    pub most: u64,
    /// Whether it was looked for to the end (not stopped early).
    pub complete: bool,
    /// SHA-256 of the scenario.
    pub hash: String,
    /// What the file means, one sentence an entry.
    pub assumptions: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// Headroom of one kind of day.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct DayRoom {
    /// The day, in words that follow "on".
    pub day: String,
    /// Its covers.
    pub covers: f64,
    /// Most covers at which every target surely holds, of those tried; `None`: at none.
    pub holds_to: Option<f64>,
    /// Fewest covers at which a target surely fails, of those tried; `None`: at none.
    pub fails_from: Option<f64>,
    /// The target that fails there, with its evidence.
    pub first: Option<TargetResult>,
    /// In one sentence.
    pub words: String,
    /// All numbers of covers tried, fewest first.
    pub trials: Vec<Trial>,
}

/// One number of covers, tried.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Trial {
    /// Expected covers.
    pub covers: f64,
    /// Lunches simulated.
    pub lunches: u64,
    /// `holds`, `fails` or `not sure yet`: all targets together.
    pub verdict: String,
    /// Each target, judged; in file order.
    pub targets: Vec<TargetResult>,
}

/// Most numbers of covers tried for one day.
const MOST_TRIALS: usize = 24;
/// How closely the turn is looked for, as a share of the day's covers.
const CLOSE: f64 = 0.01;
/// Scales of the day's covers tried first, upward from a day that holds and downward from one that fails.
const UP: [f64; 5] = [1.1, 1.25, 1.5, 2.0, 4.0];
const DOWN: [f64; 5] = [0.9, 0.75, 0.5, 0.25, 0.05];

/// Looks for the headroom of a plan. `progress` is told how many numbers of covers were tried and about how many there
/// will be.
///
/// # Errors
/// [`Fault::Line`] when there is no target, or the covers are observed instants, which are not scaled; the fault of a run.
pub fn headroom(
    plan: &Plan,
    how: &Search,
    progress: &(dyn Fn(u64, u64) + Sync),
    stop: &AtomicBool,
) -> Result<Headroom, Fault> {
    if plan.targets.is_empty() {
        return Err(Fault::Line(
            "headroom ends where the first target fails, and the scenario names no target; add a `[[target]]`".to_owned(),
        ));
    }
    let Some(busy) = busy_factor(plan) else {
        return Err(Fault::Line(
            "the covers are instants as they were observed, and those are not scaled; give `covers` by interval".to_owned(),
        ));
    };
    let stated = stated_covers(plan);
    let from = if days_differ(plan) {
        "9th of 10"
    } else {
        "9th of 10, for days that vary by the default of 10 %"
    };
    let kinds = [
        ("the expected day".to_owned(), 1.0),
        (format!("the busy day ({from})"), busy),
    ];
    let mut days = Vec::new();
    for (number, (words, factor)) in kinds.into_iter().enumerate() {
        let mut walk = Walk {
            plan,
            how,
            day: words,
            factor,
            stated,
            tried: Vec::new(),
            held_now: vec![false; plan.targets.len()],
            before: number as u64,
            progress,
            stop,
        };
        days.push(walk.day()?);
    }
    let complete = !stop.load(Ordering::SeqCst);
    let sentences: Vec<&str> = days.iter().map(|day| day.words.as_str()).collect();
    let early = if complete {
        ""
    } else {
        " Stopped early; the numbers are what is known so far."
    };
    Ok(Headroom {
        answer: format!("{}{early}", sentences.join(" ")),
        heading: heading(plan),
        stated_covers: stated,
        lunches: days
            .iter()
            .flat_map(|day| &day.trials)
            .map(|trial| trial.lunches)
            .sum(),
        days,
        seed: how.seed,
        most: how.most,
        complete,
        hash: plan.hash.clone(),
        assumptions: plan.description.clone(),
        cautions: plan.cautions.clone(),
    })
}

/// The search on one kind of day.
struct Walk<'a> {
    plan: &'a Plan,
    how: &'a Search,
    day: String,
    factor: f64,
    stated: f64,
    /// Scale of the day's covers and what came of it.
    tried: Vec<(f64, Verdict, Trial)>,
    /// Targets that surely hold as it is.
    held_now: Vec<bool>,
    /// Kinds of day done before.
    before: u64,
    progress: &'a (dyn Fn(u64, u64) + Sync),
    stop: &'a AtomicBool,
}

/// About how many numbers of covers a day takes, for an estimate of the time left.
const USUAL_TRIALS: u64 = 9;

impl Walk<'_> {
    fn day(&mut self) -> Result<DayRoom, Fault> {
        self.bracket()?;
        while let Some(scale) = self.next() {
            if self.try_at(scale)?.is_none() {
                break;
            }
        }
        Ok(self.result())
    }

    /// Goes up from a day that holds until one fails, or down from one that does not hold until one does.
    fn bracket(&mut self) -> Result<(), Fault> {
        let first = self.try_at(1.0)?;
        if first != Some(Verdict::Holds) {
            for scale in DOWN {
                match self.try_at(scale)? {
                    Some(Verdict::Holds) | None => break,
                    Some(_) => {}
                }
            }
        }
        if first != Some(Verdict::Fails) {
            for scale in UP {
                match self.try_at(scale)? {
                    Some(Verdict::Fails) | None => break,
                    Some(_) => {}
                }
            }
        }
        Ok(())
    }

    /// The next scale to try: halves between what holds and what is not sure, then between that and what fails.
    fn next(&self) -> Option<f64> {
        if self.tried.len() >= MOST_TRIALS {
            return None;
        }
        let holds = self.greatest(Verdict::Holds)?;
        let fails = self.least(Verdict::Fails, holds)?;
        let unsure = self
            .tried
            .iter()
            .filter(|(scale, verdict, _)| {
                *verdict == Verdict::NotSureYet && *scale > holds && *scale < fails
            })
            .map(|(scale, ..)| *scale);
        let low = unsure.clone().fold(fails, f64::min);
        let high = unsure.fold(holds, f64::max);
        let half = |from: f64, to: f64| (to - from > CLOSE).then(|| f64::midpoint(from, to));
        half(holds, low).or_else(|| half(high, fails))
    }

    fn greatest(&self, of: Verdict) -> Option<f64> {
        let such = self.tried.iter().filter(|(_, verdict, _)| *verdict == of);
        such.map(|(scale, ..)| *scale).max_by(f64::total_cmp)
    }

    fn least(&self, of: Verdict, above: f64) -> Option<f64> {
        let such = self
            .tried
            .iter()
            .filter(|(scale, verdict, _)| *verdict == of && *scale > above);
        such.map(|(scale, ..)| *scale).min_by(f64::total_cmp)
    }

    /// Tries one scale; `None` when stopped before anything could be said of it.
    fn try_at(&mut self, scale: f64) -> Result<Option<Verdict>, Fault> {
        let covers = (self.stated * self.factor * scale).round().max(1.0);
        let factor = covers / self.stated;
        let plan = on_day(self.plan, factor, format!("a day with {covers:.0} covers"));
        let arrangement = Arrangement::new("", plan)?;
        // Every target at every number of covers of both days has its part of what may err.
        let chances = (2 * MOST_TRIALS * self.plan.targets.len()) as f64;
        let level = 1.0 - (1.0 - LEVEL) / chances;
        let mut rows: Vec<Row> = Vec::new();
        let mut until = LEAST.min(self.how.most);
        let mut look = 0;
        loop {
            let from = rows.len() as u64 + 1;
            let (seed, threads) = (self.how.seed, self.how.threads);
            let more = lunches(
                &[&arrangement],
                from..=until,
                seed,
                threads,
                &|_| {},
                self.stop,
            )?;
            rows.extend(more.into_iter().flatten());
            look += 1;
            let judged = judge(
                &arrangement.plan,
                &arrangement.measures,
                &rows,
                Looked::Often { level, look },
            );
            let watched = |number: &usize| scale >= 1.0 || !self.held_now[*number];
            let verdict = together(
                (0..judged.len())
                    .filter(watched)
                    .map(|number| judged[number].verdict),
            );
            let stopped = (rows.len() as u64) < until;
            if stopped && verdict == Verdict::NotSureYet {
                return Ok(None);
            }
            if verdict != Verdict::NotSureYet || until >= self.how.most {
                if self.tried.is_empty() {
                    self.held_now = judged
                        .iter()
                        .map(|one| one.verdict == Verdict::Holds)
                        .collect();
                }
                self.tried.push((
                    scale,
                    verdict,
                    Trial {
                        covers,
                        lunches: rows.len() as u64,
                        verdict: verdict.words().to_owned(),
                        targets: judged.into_iter().map(|judged| judged.result).collect(),
                    },
                ));
                let done = self.before * USUAL_TRIALS + self.tried.len() as u64;
                (self.progress)(done, (2 * USUAL_TRIALS).max(done + 1));
                return Ok(Some(verdict));
            }
            until = next_look(until).min(self.how.most);
        }
    }

    fn result(&self) -> DayRoom {
        let mut tried = self.tried.clone();
        tried.sort_by(|a, b| a.0.total_cmp(&b.0));
        let of = |verdict: Verdict| tried.iter().filter(move |(_, found, _)| *found == verdict);
        let holds = of(Verdict::Holds).next_back().map(|(_, _, trial)| trial);
        let covers = self.stated * self.factor;
        // Where none holds, what fails as it is is told, not what fails with hardly anybody.
        let above = holds.map_or(covers.round() - 0.5, |trial| trial.covers);
        let fails = of(Verdict::Fails)
            .map(|(_, _, trial)| trial)
            .find(|trial| trial.covers > above);
        let first = fails.and_then(|trial| {
            let such = trial
                .targets
                .iter()
                .filter(|target| target.verdict == "fails");
            // A lunch that never ends misses every mean at once; what fails in many lunches says more.
            such.min_by(|a, b| {
                let by_mean = |target: &TargetResult| target.held.is_none();
                by_mean(a)
                    .cmp(&by_mean(b))
                    .then(share(a).total_cmp(&share(b)))
            })
            .cloned()
        });
        DayRoom {
            words: words(&self.day, covers, holds, fails, first.as_ref()),
            day: self.day.clone(),
            covers,
            holds_to: holds.map(|trial| trial.covers),
            fails_from: fails.map(|trial| trial.covers),
            first,
            trials: tried.into_iter().map(|(_, _, trial)| trial).collect(),
        }
    }
}

fn share(target: &TargetResult) -> f64 {
    target
        .held
        .map_or(0.0, |held| held as f64 / target.of.max(1) as f64)
}

fn together(verdicts: impl Iterator<Item = Verdict> + Clone) -> Verdict {
    if verdicts.clone().any(|one| one == Verdict::Fails) {
        Verdict::Fails
    } else if verdicts.clone().all(|one| one == Verdict::Holds) {
        Verdict::Holds
    } else {
        Verdict::NotSureYet
    }
}

fn words(
    day: &str,
    covers: f64,
    holds: Option<&Trial>,
    fails: Option<&Trial>,
    first: Option<&TargetResult>,
) -> String {
    let which = first.map_or(String::new(), |target| {
        format!(
            ": \"{}\" ({})",
            target.words.trim_end_matches('.'),
            target.evidence
        )
    });
    let against = |tried: f64| {
        let percent = (tried / covers - 1.0) * 100.0;
        match percent.round() {
            more if more > 0.0 => format!("{more:.0} % more than now"),
            less if less < 0.0 => format!("{:.0} % fewer than now", -less),
            _ => "as now".to_owned(),
        }
    };
    let mut day = day.to_owned();
    day.insert_str(0, "On ");
    let head = format!("{day}, {covers:.0} covers:");
    match (holds, fails) {
        (Some(holds), Some(fails)) => format!(
            "{head} every target holds up to {:.0} covers ({}), and from {:.0} on one fails{which}.",
            holds.covers,
            against(holds.covers),
            fails.covers
        ),
        (Some(holds), None) => format!(
            "{head} every target holds up to {:.0} covers ({}), the most that was tried to the end.",
            holds.covers,
            against(holds.covers)
        ),
        (None, Some(fails)) => format!(
            "{head} a target fails with {:.0} covers ({}){which}; no smaller number was found at which the others surely hold.",
            fails.covers,
            against(fails.covers)
        ),
        (None, None) => format!("{head} no target could be told to hold or to fail."),
    }
}
