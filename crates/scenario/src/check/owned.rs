//! What the line costs to own.

use super::figures::{Figure, figure};
use crate::compile::expected_covers;
use crate::defaults::rounded;
use crate::describe::words::money;
use crate::plan::Plan;

/// What each thing that has a price costs a year to own, and all of them together.
pub(super) fn owned(plan: &Plan, told: &mut Vec<Figure>) {
    for it in &plan.owned {
        let words = format!(
            "Owning {} costs {} a year: {} of its price and {} of upkeep.",
            it.words,
            money(plan, it.per_year()),
            money(plan, it.wear_per_year()),
            money(plan, it.upkeep_per_year)
        );
        told.push(figure(
            format!("owned.{}.per_year", it.of),
            it.per_year(),
            "money",
            words,
            false,
        ));
    }
    if plan.owned.is_empty() {
        return;
    }
    let year: f64 = plan.owned.iter().map(|it| it.per_year()).sum();
    let days = plan.heading.days_a_year;
    let covers = expected_covers(&plan.demand.covers);
    let cover = if covers > 0.0 {
        format!(
            ", {} a cover of {covers:.0}",
            money(plan, year / days / covers)
        )
    } else {
        String::new()
    };
    let words = format!(
        "Owning the line costs {} a year as far as it has a price, {} a lunch on {} days{cover}; price over life, without interest.",
        money(plan, year),
        money(plan, year / days),
        rounded(days)
    );
    told.push(figure(
        "owned.per_year".to_owned(),
        year,
        "money",
        words,
        false,
    ));
}
