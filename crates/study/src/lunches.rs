//! Several arrangements on the same tapes: repeat k of one meets the very same diners as repeat k of another.
//!
//! Only the measures of each meal are kept, no curves; a summary of one plan is made by [`crate::replicate`].

use std::ops::RangeInclusive;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use scullery_engine::ended::Fault;
use scullery_engine::watch::Catalogue;
use scullery_scenario::plan::Plan;

use crate::gathered::Row;
use crate::measures::{Meal, Measures};
use crate::money::amounts;
use crate::replicate::{Bench, pool};
use crate::targets::known;

/// A plan under a name, with what is measured on its line.
pub struct Arrangement {
    /// Its name, as the person says it.
    pub name: String,
    /// The plan.
    pub plan: Plan,
    /// Places and people of its line.
    pub catalogue: Catalogue,
    /// What is measured.
    pub measures: Measures,
}

impl Arrangement {
    /// A plan under a name.
    ///
    /// # Errors
    /// [`Fault::Line`] when a target speaks of a measure that the line does not have.
    pub fn new(name: impl Into<String>, plan: Plan) -> Result<Arrangement, Fault> {
        let catalogue = plan.line.catalogue();
        let measures = Measures::of(&plan, &catalogue);
        known(&plan, &measures)?;
        Ok(Arrangement {
            name: name.into(),
            plan,
            catalogue,
            measures,
        })
    }

    /// Values of one measure, one entry a row, in order of repeat; all `None` where the line does not have it.
    pub fn column(&self, id: &str, rows: &[Row]) -> Vec<Option<f64>> {
        match self.measures.find(id) {
            Some(number) => rows.iter().map(|row| row.values[number]).collect(),
            None => vec![None; rows.len()],
        }
    }
}

/// Simulates these repeats of each arrangement; one list of rows an arrangement, in order of repeat.
///
/// `progress` is told how many meals are done, over all arrangements, from any thread. When `stop` rises no more are
/// begun, and each arrangement has the same first so many repeats, without a gap.
///
/// # Errors
/// The fault of the lowest repeat of the first arrangement that has one.
pub fn lunches(
    arrangements: &[&Arrangement],
    repeats: RangeInclusive<u64>,
    seed: u64,
    threads: usize,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Vec<Vec<Row>>, Fault> {
    let many = (repeats.end() + 1).saturating_sub(*repeats.start());
    let kinds = arrangements.len() as u64;
    let table = Table {
        arrangements,
        first: *repeats.start(),
        jobs: many * kinds,
        seed,
        next: AtomicU64::new(0),
        done: AtomicU64::new(0),
        rows: Mutex::new(vec![Vec::new(); arrangements.len()]),
        progress,
        stop,
    };
    let ends = match pool(threads, many * kinds) {
        Some(pool) => pool.broadcast(|_| table.serve()),
        None => vec![table.serve()],
    };
    let faults = ends.into_iter().filter_map(Result::err);
    if let Some((_, fault)) = faults.min_by_key(|(job, _)| *job) {
        return Err(fault);
    }
    let mut rows = table
        .rows
        .into_inner()
        .unwrap_or_else(std::sync::PoisonError::into_inner);
    rows.iter_mut()
        .for_each(|rows| rows.sort_by_key(|row| row.repeat));
    // Jobs are handed out in order of repeat, so what is not common to all is at most the last one.
    let common = rows.iter().map(Vec::len).min().unwrap_or(0);
    rows.iter_mut().for_each(|rows| rows.truncate(common));
    Ok(rows)
}

struct Table<'a> {
    arrangements: &'a [&'a Arrangement],
    first: u64,
    jobs: u64,
    seed: u64,
    next: AtomicU64,
    done: AtomicU64,
    rows: Mutex<Vec<Vec<Row>>>,
    progress: &'a (dyn Fn(u64) + Sync),
    stop: &'a AtomicBool,
}

impl Table<'_> {
    /// Takes jobs, all arrangements of a repeat before the next repeat, until there are none left.
    fn serve(&self) -> Result<(), (u64, Fault)> {
        let kinds = self.arrangements.len() as u64;
        let mut benches: Vec<Option<Bench>> = self.arrangements.iter().map(|_| None).collect();
        let mut own: Vec<Vec<Row>> = vec![Vec::new(); self.arrangements.len()];
        while !self.stop.load(Ordering::Relaxed) {
            let job = self.next.fetch_add(1, Ordering::Relaxed);
            if job >= self.jobs {
                break;
            }
            let (repeat, which) = (self.first + job / kinds, (job % kinds) as usize);
            let arrangement = self.arrangements[which];
            let bench = benches[which]
                .get_or_insert_with(|| Bench::new(&arrangement.plan, &arrangement.catalogue));
            match row(arrangement, bench, self.seed, repeat) {
                Ok(row) => own[which].push(row),
                Err(fault) => {
                    self.next.store(u64::MAX / 2, Ordering::Relaxed);
                    return Err((job, fault));
                }
            }
            (self.progress)(self.done.fetch_add(1, Ordering::Relaxed) + 1);
        }
        let mut rows = self
            .rows
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        rows.iter_mut()
            .zip(own)
            .for_each(|(all, own)| all.extend(own));
        Ok(())
    }
}

fn row(arrangement: &Arrangement, bench: &mut Bench, seed: u64, repeat: u64) -> Result<Row, Fault> {
    let ended = bench.run(&arrangement.plan, seed, repeat)?;
    let record = bench.recorder.finish(&ended);
    let meal = Meal {
        record,
        ended: &ended,
        amounts: amounts(&arrangement.plan, &arrangement.catalogue, record, &ended),
    };
    let mut row = Row {
        repeat,
        how: ended.how.clone(),
        values: Vec::new(),
    };
    row.values = if row.finished() {
        arrangement.measures.read(&meal)
    } else {
        vec![None; arrangement.measures.infos().len()]
    };
    Ok(row)
}
