//! Runs a plan many times, in parallel, to one summary.
//!
//! Repeats are numbered from 1 and handed out in order; each has its own tape whoever runs it. What a thread gathers is
//! exact or kept by repeat, so the summary is the same bytes for any number of threads. When the stop flag rises the
//! repeats in hand are finished and no more are begun: what is summarised is then the first so many, without a gap.

use std::ops::RangeInclusive;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use scullery_engine::ended::{Ended, Fault};
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Catalogue;
use scullery_scenario::plan::Plan;
use scullery_scenario::tape_file::TapeFile;

use crate::gathered::{Gathered, Shown, shown_counts};
use crate::measures::{Meal, Measures};
use crate::money::amounts;
use crate::record::{MealRecord, Recorder};
use crate::summarise::{Asked, summarise};
use crate::summary::Summary;
use crate::targets::{LEVEL, Looked, known};

/// How a plan is to be repeated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Replicate {
    /// How many times the meal is simulated.
    pub repeats: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// Simulates the plan's meal so many times and summarises it.
///
/// `progress` is told how many repeats are done, from any thread. `stop` may be raised at any time.
///
/// # Errors
/// The fault of the lowest repeat that has one; [`Fault::Line`] before anything is simulated when a target speaks of a
/// measure that the line does not have.
pub fn replicate(
    plan: &Plan,
    how: &Replicate,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Summary, Fault> {
    let line = Line::of(plan)?;
    let asked = Asked {
        repeats: how.repeats,
        seed: how.seed,
        looked: Looked::Once(LEVEL),
        enough: None,
    };
    let all = line.gather(1..=how.repeats, how, progress, stop)?;
    Ok(summarise(
        plan,
        &line.catalogue,
        &line.measures,
        all,
        &asked,
    ))
}

/// A plan with what is measured on its line.
pub(crate) struct Line<'a> {
    plan: &'a Plan,
    pub(crate) catalogue: Catalogue,
    pub(crate) measures: Measures,
}

impl<'a> Line<'a> {
    /// The line of a plan; [`Fault::Line`] when a target speaks of a measure that it does not have.
    pub(crate) fn of(plan: &'a Plan) -> Result<Line<'a>, Fault> {
        let catalogue = plan.line.catalogue();
        let measures = Measures::of(plan, &catalogue);
        known(plan, &measures)?;
        Ok(Line {
            plan,
            catalogue,
            measures,
        })
    }

    /// Simulates these repeats and gathers all that a summary tells. When the flag rises it is the first so many of
    /// them, without a gap.
    pub(crate) fn gather(
        &self,
        repeats: RangeInclusive<u64>,
        how: &Replicate,
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<Gathered, Fault> {
        let study = Study {
            plan: self.plan,
            catalogue: &self.catalogue,
            measures: &self.measures,
            shown: shown_counts(&self.catalogue),
            seed: how.seed,
            last: *repeats.end(),
            next: AtomicU64::new(*repeats.start()),
            done: AtomicU64::new(repeats.start() - 1),
            progress,
            stop,
        };
        let many = (repeats.end() + 1).saturating_sub(*repeats.start());
        let parts = match pool(how.threads, many) {
            Some(pool) => pool.broadcast(|_| study.work()),
            None => vec![study.work()],
        };
        let mut all = Gathered::new(&self.catalogue);
        let mut fault: Option<(u64, Fault)> = None;
        for part in parts {
            match part {
                Ok(part) => all.merge(part),
                Err(found) if fault.as_ref().is_none_or(|(least, _)| found.0 < *least) => {
                    fault = Some(found);
                }
                Err(_) => {}
            }
        }
        fault.map_or(Ok(all), |(_, fault)| Err(fault))
    }
}

/// Simulates one repeat alone: how it ended and what was seen, the same as among many.
///
/// # Errors
/// The fault of the run, if it has one.
pub fn meal(plan: &Plan, seed: u64, repeat: u64) -> Result<(Ended, MealRecord), Fault> {
    let catalogue = plan.line.catalogue();
    let mut bench = Bench::new(plan, &catalogue);
    let ended = bench.run(plan, seed, repeat)?;
    Ok((ended.clone(), bench.recorder.finish(&ended).clone()))
}

/// A pool of threads, or `None` where one thread is wanted or no pool is to be had.
pub(crate) fn pool(threads: usize, jobs: u64) -> Option<rayon::ThreadPool> {
    let most = usize::try_from(jobs).unwrap_or(usize::MAX).max(1);
    let threads = match threads {
        0 => std::thread::available_parallelism().map_or(1, |n| n.get()),
        some => some,
    };
    let threads = threads.min(most);
    let builder = rayon::ThreadPoolBuilder::new().num_threads(threads);
    (threads > 1).then(|| builder.build().ok())?
}

/// Storage of one meal, used again for the next.
pub(crate) struct Bench {
    tape: Tape,
    floor: Floor,
    pub(crate) recorder: Recorder,
}

impl Bench {
    pub(crate) fn new(plan: &Plan, catalogue: &Catalogue) -> Bench {
        Bench {
            tape: Tape::new(),
            floor: Floor::new(),
            recorder: Recorder::new(catalogue, plan.line.starts),
        }
    }

    /// Runs a meal that was kept.
    pub(crate) fn run_kept(&mut self, plan: &Plan, kept: &TapeFile) -> Result<Ended, Fault> {
        self.tape.take_up(kept.seed, kept.repeat, &kept.diners);
        self.recorder.begin();
        run(&plan.line, &self.tape, &mut self.floor, &mut self.recorder)
    }

    pub(crate) fn run(&mut self, plan: &Plan, seed: u64, repeat: u64) -> Result<Ended, Fault> {
        self.tape.draw(&plan.demand, seed, repeat);
        self.recorder.begin();
        run(&plan.line, &self.tape, &mut self.floor, &mut self.recorder)
    }
}

struct Study<'a> {
    plan: &'a Plan,
    catalogue: &'a Catalogue,
    measures: &'a Measures,
    shown: Vec<Shown>,
    seed: u64,
    last: u64,
    next: AtomicU64,
    done: AtomicU64,
    progress: &'a (dyn Fn(u64) + Sync),
    stop: &'a AtomicBool,
}

impl Study<'_> {
    /// Takes repeats until there are none left, somebody found a fault, or the flag is up.
    fn work(&self) -> Result<Gathered, (u64, Fault)> {
        let mut bench = Bench::new(self.plan, self.catalogue);
        let mut part = Gathered::new(self.catalogue);
        while !self.stop.load(Ordering::Relaxed) {
            let repeat = self.next.fetch_add(1, Ordering::Relaxed);
            if repeat > self.last {
                break;
            }
            let ended = match bench.run(self.plan, self.seed, repeat) {
                Ok(ended) => ended,
                Err(fault) => {
                    // Lower numbers are all handed out by now; nobody needs to begin a higher one.
                    self.next.store(u64::MAX / 2, Ordering::Relaxed);
                    return Err((repeat, fault));
                }
            };
            let record = bench.recorder.finish(&ended);
            let meal = Meal {
                record,
                ended: &ended,
                amounts: amounts(self.plan, self.catalogue, record, &ended),
            };
            part.add(repeat, &meal, self.measures, &self.shown);
            let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
            (self.progress)(done);
        }
        Ok(part)
    }
}
