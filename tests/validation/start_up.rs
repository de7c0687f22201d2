//! The first customers of a queue that starts empty: exact for short runs.
//!
//! The room of the single queue; the waits at the table are kept in the order in which trays are taken, which is that
//! in which they came.

use scullery_engine::time::SimTime;

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::{plan, repeats};
use crate::room::{poisson, queue};
use crate::tally::Tally;

#[test]
fn the_first_hundred_trays_of_an_empty_room() {
    let mut claims = Claims::of("start_up::the_first_hundred_trays_of_an_empty_room");
    for (id, min) in [("mm1-startup-0.5", 330.0), ("mm1-startup-0.9", 220.0)] {
        let figure = figure(id);
        let plan =
            plan(&(poisson(id, figure.param("lambda"), min) + &queue("\"exponential\"", 1, 60.0)));
        let end = SimTime::from_min(min);
        let watch = || {
            Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, end).keeping_waits("table.queue")
        };
        let delays = repeats(&plan, 20_000, watch, |seen, _| {
            let wait = |k: usize| seen.waits[k - 1];
            let first = |n: usize| (1..=n).map(wait).sum::<f64>() / n as f64;
            let [w1, w2, w3, w5] = [1, 2, 3, 5].map(wait);
            let [w10, w20, w50, w100] = [10, 20, 50, 100].map(wait);
            let [f10, f25, f100] = [10, 25, 100].map(first);
            [w1, w2, w3, w5, w10, w20, w50, w100, f10, f25, f100]
        });
        let [first, rest @ ..] = &delays;
        let most = first.mean() + first.variance();
        claims.exact(
            id,
            "delay_1",
            figure.says("delay_1"),
            most,
            0.0,
            &figure.source,
        );
        let names = [
            "delay_2",
            "delay_3",
            "delay_5",
            "delay_10",
            "delay_20",
            "delay_50",
            "delay_100",
            "mean_delay_first_10",
            "mean_delay_first_25",
            "mean_delay_first_100",
        ];
        for (name, sample) in names.into_iter().zip(rest) {
            claims.mean(figure, name, sample);
        }
    }
    claims.hold();
}
