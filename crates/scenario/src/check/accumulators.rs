//! What a tray accumulator holds and brings by, beside a single-level return belt of the same run.

use scullery_engine::line::Accumulator;

use super::figures::{Figure, figure, minutes_of_the_peak};
use crate::defaults::{SPACING, rounded};
use crate::describe::words::{counted, length};
use crate::plan::Plan;

/// Carriers that pass in a minute, at the speed in force from the start.
pub(super) fn carriers_a_minute(it: &Accumulator) -> f64 {
    let speed = it.speed.first().map_or(0, |(_, speed)| *speed);
    f64::from(speed) * f64::from(it.carriers) / f64::from(it.loop_mm.max(1))
}

/// Whole trays that a return belt on one level holds on the same run, there and back, at the usual spacing.
pub(super) fn return_belt_holds(it: &Accumulator) -> u32 {
    it.loop_mm / (SPACING.value * 1000.0).round() as u32
}

pub(super) fn accumulators(plan: &Plan, peak: Option<f64>, told: &mut Vec<Figure>) {
    for it in &plan.line.accumulators {
        let holds = it.places();
        let belt = return_belt_holds(it);
        let peak_words = minutes_of_the_peak(holds, peak);
        told.push(figure(
            format!("accumulator.{}.holds", it.name),
            f64::from(holds),
            "trays",
            format!("Accumulator {} holds {holds} trays{peak_words}.", it.name),
            false,
        ));
        let ratio = f64::from(holds) / f64::from(belt.max(1));
        told.push(figure(
            format!("accumulator.{}.times_a_belt", it.name),
            ratio,
            "times",
            format!(
                "A single-level return belt of the same run ({} there and back, a tray every {}) holds {belt}: the accumulator holds {} times as many (five or six tiers: about five times, common practice, no source).",
                length(plan, it.loop_mm),
                length(plan, (SPACING.value * 1000.0).round() as u32),
                rounded(ratio)
            ),
            false,
        ));
        let passing = carriers_a_minute(it);
        told.push(figure(
            format!("accumulator.{}.passing", it.name),
            passing,
            "carriers a minute",
            format!(
                "{} carriers of accumulator {} pass in a minute, each of {}: {} tiers a minute.",
                rounded(passing),
                it.name,
                counted(it.tiers, "tier"),
                rounded(passing * f64::from(it.tiers))
            ),
            false,
        ));
    }
}
