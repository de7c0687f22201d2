//! Measures of seats that bind: how many wait for one, and how long.

use scullery_engine::watch::{Catalogue, Counted};
use scullery_scenario::plan::Plan;

use super::floor::nth_count;
use super::{Measures, headline, plain, ratio};

/// Where seats are counted.
pub(super) fn seats(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    let waits = nth_count(catalogue, Counted::SeatWaits, 0);
    let waited_s = nth_count(catalogue, Counted::SeatWaitSeconds, 0);
    let (Some(_), Some(waits), Some(waited_s)) = (plan.demand.seats, waits, waited_s) else {
        return;
    };
    to.add(
        headline(
            "seats.waited_people",
            "",
            "Diners who waited for a seat",
            "people",
        ),
        move |m| Some(m.record.counts[waits].total as f64),
    );
    to.add(
        plain(
            "seats.wait_mean_s",
            "",
            "Wait for a seat, mean of those who waited",
            "s",
        ),
        move |m| {
            let count = |of: usize| m.record.counts[of].total as f64;
            ratio(count(waited_s), count(waits))
        },
    );
}
