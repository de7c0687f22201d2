//! The same meal on another day: how many covers are stated, and what a busy day has.

use scullery_engine::demand::{Covers, Days};

use crate::compile::expected_covers;
use crate::defaults::DAYS_CV;
use crate::moments;
use crate::plan::Plan;

/// Covers of the day as stated, before any difference between days.
pub fn stated_covers(plan: &Plan) -> f64 {
    expected_covers(&plan.demand.covers)
}

/// What the busy day, the 9th of 10, has against the day as stated.
///
/// From the difference between days that the plan has; where it has one fixed day, from the default coefficient of
/// variation. `None` where the covers are observed instants, which are not scaled.
pub fn busy_factor(plan: &Plan) -> Option<f64> {
    if matches!(plan.demand.covers, Covers::Instants(_)) {
        return None;
    }
    Some(match &plan.demand.days {
        Days::Vary { cv } => moments::busy_factor(*cv),
        Days::Past(factors) => {
            let mut factors = factors.clone();
            factors.sort_unstable_by(f64::total_cmp);
            let rank = (factors.len() * 9).div_ceil(10);
            factors.get(rank.saturating_sub(1)).copied().unwrap_or(1.0)
        }
        Days::Design(_) => moments::busy_factor(DAYS_CV.value),
    })
}

/// Whether the plan says how days differ, so that [`busy_factor`] needs no default.
pub fn days_differ(plan: &Plan) -> bool {
    !matches!(plan.demand.days, Days::Design(_))
}

/// The plan on one fixed day with `factor` times the stated covers; the answer then speaks of `day_words`.
pub fn on_day(plan: &Plan, factor: f64, day_words: impl Into<String>) -> Plan {
    let mut plan = plan.clone();
    plan.demand.days = Days::Design(factor);
    plan.heading.day_words = day_words.into();
    plan
}
