//! A simulated meal kept as a table and run again.

use scullery_engine::ended::{Ended, Fault};
use scullery_engine::tape::Tape;
use scullery_scenario::plan::Plan;
use scullery_scenario::tape_file::{TapeFile, write_tape};

use crate::record::MealRecord;
use crate::replicate::Bench;

/// The diners of one repeat as a table (see [`scullery_scenario::tape_file`]).
pub fn keep(plan: &Plan, seed: u64, repeat: u64) -> String {
    let mut tape = Tape::new();
    tape.draw(&plan.demand, seed, repeat);
    write_tape(plan, &tape, seed, repeat)
}

/// Runs a kept meal: with the plan it was drawn for, the same record as when it was simulated, bit for bit.
///
/// # Errors
/// The fault of the run, if it has one.
pub fn run_kept(plan: &Plan, kept: &TapeFile) -> Result<(Ended, MealRecord), Fault> {
    let catalogue = plan.line.catalogue();
    let mut bench = Bench::new(plan, &catalogue);
    let ended = bench.run_kept(plan, kept)?;
    Ok((ended.clone(), bench.recorder.finish(&ended).clone()))
}
