//! Two kinds of tray, one person who prefers the one: priority without calling away.
//!
//! A kind's share of the diners thins the stream; each kind has a drop-off, a table and a scrapping post of its own; the
//! person has both posts on the list in order of preference and need not walk from one to the other.

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::{Length, plan, repeats};
use crate::room::{fill, poisson};

#[test]
fn trays_at_the_preferred_post_wait_less() {
    let mut claims = Claims::of("priority::trays_at_the_preferred_post_wait_less");
    for id in ["prio-np-equal", "prio-np-unequal"] {
        let figure = figure(id);
        let lambda = figure.list("lambda");
        let mu = figure.list("mu");
        let rate = lambda[0] + lambda[1];
        let length = Length {
            repeats: 40,
            warm_up_min: 2_000.0,
            min: 22_000.0,
        };
        let room = fill(
            include_str!("scenarios/two_kinds.toml.in"),
            &[
                ("share", format!("{}", lambda[0] / rate)),
                ("first_s", format!("{}", 60.0 / mu[0])),
                ("second_s", format!("{}", 60.0 / mu[1])),
            ],
        );
        let plan = plan(&(poisson(id, rate, length.min) + &room));
        let seen = repeats(
            &plan,
            length.repeats,
            || length.tally(&plan),
            |seen, _| {
                [
                    seen.mean_wait("table.first"),
                    seen.mean_wait("table.second"),
                    seen.mean_level("table.first"),
                    seen.mean_level("table.second"),
                ]
            },
        );
        for (metric, sample) in ["Wq1", "Wq2", "Lq1", "Lq2"].into_iter().zip(&seen) {
            claims.mean(figure, metric, sample);
        }
    }
    claims.hold();
}
