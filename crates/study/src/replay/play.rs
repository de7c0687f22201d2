//! The whole of a replay: her arrivals and notes in, the told lunch out.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::Ended;
use scullery_engine::time::SimTime;
use scullery_scenario::notes::Notes;
use scullery_scenario::plan::Plan;
use scullery_scenario::tape_file::TapeFile;

use super::account::{Account, account};
use super::fit::{Fitting, Unknown, fit};
use super::followed::{Followed, MOST_LUNCHES, following, marks};
use super::kept::run_kept;
use super::lunch::{Arrivals, Stood, steady, with_arrivals};
use super::remedies::{Make, Remedies, Rush, Trying, last_chance, proposals, remedies};
use super::replayed::{Counted, Replayed, answer};
use super::seen::{bands, level};
use crate::intervals::mean;
use crate::lunches::{Arrangement, lunches};
use crate::record::MealRecord;
use crate::replicate::{Bench, meal};
use crate::summarise::heading;

/// What is replayed, and how.
pub struct Replay<'a> {
    /// Her arrivals.
    pub arrivals: Arrivals,
    /// What they are.
    pub stood: Stood,
    /// What her table is called, in words.
    pub from: String,
    /// How her tables were read.
    pub notices: Vec<String>,
    /// What she saw.
    pub notes: &'a Notes,
    /// A simulated meal that was kept, to be run again as it was.
    pub kept: Option<&'a TapeFile>,
    /// Unknown numbers, paths of the scenario with bounds.
    pub unknowns: Vec<Unknown>,
    /// Lunches like hers that are simulated.
    pub lunches: u64,
    /// Points of a fit.
    pub points: u32,
    /// Whether remedies are tried.
    pub remedies: bool,
    /// The measure that is to be better; unsaid: people standing, else when all is clean.
    pub measure: Option<String>,
    /// Trays she says there were.
    pub trays_seen: Option<f64>,
    /// Racks she says were washed.
    pub racks_seen: Option<f64>,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// What is being done, for progress.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Numbers are fitted.
    Fitting,
    /// Lunches like hers are simulated.
    Lunches,
    /// Remedies are tried.
    Remedies,
}

/// Replays a lunch. `make` gives the plan of the scenario with changes.
///
/// # Errors
/// In words, ready to be shown: a change the scenario does not take, too little seen to fit, a run that has a fault.
pub fn replay(
    make: Make<'_>,
    asked: &Replay<'_>,
    progress: &(dyn Fn(Stage, u64, u64) + Sync),
    stop: &AtomicBool,
) -> Result<Replayed, String> {
    let hers = Hers { make, asked };
    let mut fixed: Vec<String> = Vec::new();
    let mut fitted = None;
    if !asked.unknowns.is_empty() {
        let how = Fitting {
            lunches: asked.lunches.clamp(20, 60),
            points: asked.points,
            seed: asked.seed,
            threads: asked.threads,
        };
        let at = |values: &[f64]| hers.plan(&said(&asked.unknowns, values), None);
        let found = fit(
            &asked.unknowns,
            &asked.notes.levels,
            &at,
            &how,
            &|a, b| progress(Stage::Fitting, a, b),
            stop,
        )?;
        let best: Vec<f64> = found.fitted.iter().map(|it| it.best).collect();
        fixed = said(&asked.unknowns, &best);
        fitted = Some(found);
    }
    let with = |more: &[String]| {
        let all: Vec<String> = fixed.iter().chain(more).cloned().collect();
        hers.plan(&all, None)
    };
    let plan = with(&[])?;
    let (ended, record) = hers.single(&plan)?;
    let told = account(&plan, &record, &ended, &asked.notes.happened);
    let cloud = Cloud::simulate(
        &plan,
        asked,
        &record,
        &|done| progress(Stage::Lunches, done, asked.lunches),
        stop,
    )?;
    let mut tried = None;
    if asked.remedies && !stop.load(Ordering::Relaxed) {
        let undone = hers.undone(&fixed, &plan, rush(&plan, &told))?;
        tried = Some(hers.remedies(
            &with,
            &undone,
            &plan,
            &told,
            &|a, b| progress(Stage::Remedies, a, b),
            stop,
        )?);
    }
    Ok(Replayed {
        answer: answer(&told, tried.as_ref()),
        heading: heading(&plan),
        notices: asked.notices.clone(),
        counted: cloud.counted(asked),
        account: told,
        seen: bands(&asked.notes.levels, &cloud.levels),
        followed: cloud.followed,
        marks: marks(&asked.notes.happened),
        fit: fitted,
        remedies: tried,
        seed: asked.seed,
        repeats: cloud.lunches,
        asked: asked.lunches,
        assumptions: plan.description.clone(),
        cautions: plan.cautions.clone(),
    })
}

/// Changes that set the unknowns to these values.
fn said(unknowns: &[Unknown], values: &[f64]) -> Vec<String> {
    unknowns
        .iter()
        .zip(values)
        .map(|(unknown, value)| format!("{}={value}", unknown.name))
        .collect()
}

/// An hour before the worst minute to half an hour after it; the whole lunch where nobody stood.
fn rush(plan: &Plan, told: &Account) -> Rush {
    let minutes = |min: f64| SimTime::from_us((min.max(0.0) * 60e6) as u64);
    let starts = plan.line.starts.us() as f64 / 60e6;
    let worst = told.most_standing.map_or(starts + 90.0, |(_, at)| at);
    // On five minutes, as people say it.
    let from = ((worst - 60.0).max(starts) / 5.0).ceil() * 5.0;
    let to = ((worst + 30.0) / 5.0).ceil() * 5.0;
    Rush {
        from: minutes(from),
        to: minutes(to),
    }
}

struct Hers<'a> {
    make: Make<'a>,
    asked: &'a Replay<'a>,
}

impl Hers<'_> {
    /// The plan with what happened (all but one of it), these changes, and her arrivals.
    fn plan(&self, changes: &[String], but: Option<usize>) -> Result<Plan, String> {
        let happened = self
            .asked
            .notes
            .happened
            .iter()
            .enumerate()
            .filter(|(i, _)| Some(*i) != but);
        let mut all: Vec<String> = happened
            .flat_map(|(_, it)| it.changes.iter().map(|change| change.text().to_owned()))
            .collect();
        all.extend_from_slice(changes);
        with_arrivals(
            &(self.make)(&all)?,
            &self.asked.arrivals,
            self.asked.stood,
            &self.asked.from,
        )
    }

    /// Her lunch: a kept meal as it was, else her arrivals without luck of work.
    fn single(&self, plan: &Plan) -> Result<(Ended, MealRecord), String> {
        let run = match self.asked.kept {
            Some(kept) => run_kept(plan, kept),
            None => meal(&steady(plan), self.asked.seed, 1),
        };
        run.map_err(|fault| fault.to_string())
    }

    /// What happened, each undone: notes of hers, stops of the scenario, breaks that fell into the rush.
    fn undone(
        &self,
        fixed: &[String],
        plan: &Plan,
        rush: Rush,
    ) -> Result<Vec<(String, Plan)>, String> {
        let mut all = Vec::new();
        for (i, it) in self.asked.notes.happened.iter().enumerate() {
            all.push((format!("without: {}", it.words), self.plan(fixed, Some(i))?));
        }
        let mut undo = |words: String, change: String| {
            let mut changes = fixed.to_vec();
            changes.push(change);
            // What a scenario cannot do without is not undone.
            if let Ok(plan) = self.plan(&changes, None) {
                all.push((words, plan));
            }
        };
        let own = |from: SimTime, until: SimTime| {
            !self
                .asked
                .notes
                .happened
                .iter()
                .any(|it| it.from == Some(from) && it.until == Some(until))
        };
        let within =
            |from: SimTime, until: SimTime| from < rush.to && until > rush.from && own(from, until);
        for machine in &plan.line.machines {
            for (i, stop) in machine
                .stops
                .iter()
                .enumerate()
                .filter(|(_, s)| within(s.from, s.to))
            {
                let words = format!(
                    "without: machine {} stood from {} to {}",
                    machine.name,
                    at(stop.from),
                    at(stop.to)
                );
                undo(words, format!("-machine.{}.stops.{}", machine.name, i + 1));
            }
        }
        for belt in &plan.line.belts {
            for (i, stop) in belt
                .stops
                .iter()
                .enumerate()
                .filter(|(_, s)| within(s.from, s.to))
            {
                let words = format!(
                    "without: belt {} stood from {} to {}",
                    belt.name,
                    at(stop.from),
                    at(stop.to)
                );
                undo(words, format!("-belt.{}.stops.{}", belt.name, i + 1));
            }
        }
        for worker in &plan.line.crew {
            let breaks = worker.breaks.iter().enumerate();
            for (i, (due, length)) in
                breaks.filter(|(_, (due, length))| within(*due, *due + *length))
            {
                let words = format!(
                    "without: {}'s break of {} min at {}",
                    worker.name,
                    length.us() / 60_000_000,
                    at(*due)
                );
                undo(words, format!("-crew.{}.breaks.{}", worker.name, i + 1));
            }
        }
        Ok(all)
    }

    fn remedies(
        &self,
        with: Make<'_>,
        undone: &[(String, Plan)],
        plan: &Plan,
        told: &Account,
        progress: &(dyn Fn(u64, u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<Remedies, String> {
        let asked = self.asked;
        let rush = rush(plan, told);
        let how = Trying {
            lunches: asked.lunches,
            paired: 4,
            seed: asked.seed,
            threads: asked.threads,
        };
        let measure = match &asked.measure {
            Some(measure) => measure.clone(),
            None => usual_measure(plan),
        };
        let mut found = remedies(
            with,
            undone,
            &proposals(plan, rush),
            &measure,
            &how,
            progress,
            stop,
        )?;
        // The helper that helps most is moved later and later, to see until when help was in time.
        let helper = found
            .tried
            .iter()
            .find(|it| it.helps && it.words.starts_with("one more at") && !it.pair)
            .cloned();
        if let (Some(helper), Some(before)) = (helper, found.mean)
            && !stop.load(Ordering::Relaxed)
        {
            let from = format!("from = \"{}\"", at(rush.from));
            let later = |start: SimTime| -> Vec<String> {
                let to = format!("from = \"{}\"", at(start));
                // It ends as late as the helper was to stay, and not before it begins.
                helper
                    .changes
                    .iter()
                    .map(|change| change.replace(&from, &to))
                    .collect()
            };
            let saved = helper
                .mean
                .map_or(before / 2.0, |mean| mean + (before - mean) / 4.0);
            let spoken = helper
                .words
                .split(" from ")
                .next()
                .unwrap_or("one more")
                .to_owned();
            let rush = Rush {
                from: rush.from,
                to: SimTime::from_us(rush.to.us() - 5 * 60_000_000),
            };
            found.last_chance = Some(last_chance(
                with,
                (&spoken, &later),
                &measure,
                saved,
                rush,
                &how,
                stop,
            )?);
        }
        Ok(found)
    }
}

/// A clock time as changes write it.
fn at(at: SimTime) -> String {
    let minutes = at.us() / 60_000_000;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// The measure that is to be better: people standing at the first drop-off, else when all is clean.
fn usual_measure(plan: &Plan) -> String {
    match plan.line.drop_offs.first() {
        Some(drop_off) => format!("drop_off.{}.standing_max_people", drop_off.name),
        None => "clean.last_clock_min".to_owned(),
    }
}

/// Lunches like hers.
struct Cloud {
    levels: Vec<Vec<f64>>,
    followed: Vec<Followed>,
    lunches: u64,
    trays: Option<f64>,
    racks: Option<f64>,
}

impl Cloud {
    fn simulate(
        plan: &Plan,
        asked: &Replay<'_>,
        hers: &MealRecord,
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<Cloud, String> {
        let arrangement =
            Arrangement::new("hers", plan.clone()).map_err(|fault| fault.to_string())?;
        let rows = lunches(
            &[&arrangement],
            1..=asked.lunches,
            asked.seed,
            asked.threads,
            progress,
            stop,
        )
        .map_err(|fault| fault.to_string())?
        .into_iter()
        .next()
        .unwrap_or_default();
        let column = |id: &str| -> Option<f64> {
            let values: Vec<f64> = arrangement
                .column(id, &rows)
                .into_iter()
                .flatten()
                .collect();
            mean(&values)
        };
        let racks: Vec<f64> = plan
            .line
            .machines
            .iter()
            .filter_map(|m| column(&format!("machine.{}.racks", m.name)))
            .collect();
        let mut bench = Bench::new(plan, &arrangement.catalogue);
        let mut levels = Vec::new();
        let following = following(&arrangement.catalogue, &asked.notes.levels);
        let mut minutes: Vec<Vec<Vec<f64>>> = vec![Vec::new(); following.len()];
        let looked = if asked.notes.levels.is_empty() {
            (rows.len() as u64).min(MOST_LUNCHES)
        } else {
            rows.len() as u64
        };
        for repeat in 1..=looked {
            let ended = bench
                .run(plan, asked.seed, repeat)
                .map_err(|fault| fault.to_string())?;
            let record = bench.recorder.finish(&ended);
            let seen = asked.notes.levels.iter();
            levels.push(seen.map(|it| level(record, it)).collect());
            if repeat <= MOST_LUNCHES {
                for (of, kept) in following.iter().zip(&mut minutes) {
                    kept.push(of.by_minute(record));
                }
            }
        }
        let followed = following
            .into_iter()
            .zip(&minutes)
            .map(|(of, lunches)| {
                let at_hers = of.by_minute(hers);
                of.told(hers.from_min, at_hers, lunches)
            })
            .collect();
        Ok(Cloud {
            levels,
            followed,
            lunches: rows.len() as u64,
            trays: column("line.dropped_off_trays"),
            racks: (!racks.is_empty()).then(|| racks.iter().sum()),
        })
    }

    fn counted(&self, asked: &Replay<'_>) -> Counted {
        Counted {
            arrivals: match &asked.arrivals {
                Arrivals::Instants(at) => at.len() as f64,
                Arrivals::Counts(_, counts) => counts.iter().sum(),
            },
            trays: self.trays,
            racks: self.racks,
            trays_seen: asked.trays_seen,
            racks_seen: asked.racks_seen,
        }
    }
}
