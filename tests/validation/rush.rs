//! The tandem line with a rush, against the same line written with a general-purpose simulation library.
//!
//! Template `rush`. Two open racks of one piece for two people racking: a finished rack that finds the shelf full stands in
//! its open place, and no more than two racks are ever filled or standing, which is blocking after service with six
//! places. So the racking people blocked are the racks open less the people at work. Trays do not queue at the drop-off:
//! putting down takes no time and the table is unlimited.

use scullery_engine::time::SimTime;
use scullery_engine::watch::{Counted, State};
use serde_json::Value;

use crate::agreement::Claims;
use crate::repeats::{Sample, plan, repeats};
use crate::room::{clock, fill};
use crate::tally::Tally;

#[test]
fn a_rush_by_another_program() {
    let mut claims = Claims::of("rush::a_rush_by_another_program");
    let theirs: Value =
        serde_json::from_str(include_str!("../oracles/tandem_rush.json")).expect("it is JSON");
    let parameters = &theirs["parameters"];
    let number = |name: &str| parameters[name].as_f64().expect("a number");
    let quarter = number("quarter_min");
    let rates = parameters["rates_per_min"].as_array().expect("a list");
    let counts: Vec<f64> = rates
        .iter()
        .filter_map(Value::as_f64)
        .map(|r| r * quarter)
        .collect();
    let times: Vec<String> = (0..=counts.len())
        .map(|k| clock(k as f64 * quarter))
        .collect();
    let text = fill(
        include_str!("scenarios/rush.toml.in"),
        &[
            ("times", format!("{times:?}")),
            ("counts", format!("{counts:?}")),
            ("scrap_s", format!("{}", number("scrapping_mean_s"))),
            ("rack_s", format!("{}", number("racking_mean_s"))),
            ("wash_s", format!("{}", number("washing_mean_s"))),
        ],
    );
    let plan = plan(&text);
    let horizon = number("horizon_min");
    let whole = SimTime::from_min(300.0);
    let watch = || {
        Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, whole)
            .keeping_waits("table.table")
            .between(Counted::CameToDropOff, Counted::Clean)
            .following("table.table")
    };
    let seen: [Sample; 10] = repeats(&plan, 1_500, watch, |seen, ended| {
        let trays = seen.count(Counted::CameToDropOff);
        let mut waits = seen.waits.clone();
        waits.sort_by(f64::total_cmp);
        let rank = (0.95 * trays).ceil() as usize;
        let racks_open = seen.level_minutes("racks_open.rack");
        [
            trays,
            waits.iter().sum::<f64>() / trays,
            waits[rank - 1],
            waits[waits.len() - 1],
            ended.all_clean_at.expect("all is clean").min(),
            seen.state_minutes("Scrapper", State::HeldUp),
            racks_open - seen.state_minutes("Racker", State::Working),
            seen.mean_between(0) * seen.minutes() / trays,
            level_until(&seen.history, horizon) / horizon,
            seen.state_minutes("machine", State::Washing),
        ]
    });
    let names = [
        "trays",
        "mean_wait_min",
        "p95_wait_min",
        "longest_wait_min",
        "last_clean_min",
        "scrapping_blocked_worker_min",
        "racking_blocked_worker_min",
        "mean_time_in_system_min",
        "mean_waiting_till_horizon",
        "machine_busy_min",
    ];
    let measures = theirs["measures"].as_object().expect("a table");
    assert_eq!(measures.len(), names.len(), "every measure is compared");
    let source = format!(
        "tests/oracles/tandem_rush.py, {}, {} runs",
        theirs["library"].as_str().unwrap_or_default(),
        theirs["runs"]
    );
    for (name, sample) in names.into_iter().zip(&seen) {
        let of = |what: &str| measures[name][what].as_f64().expect("a number");
        let outside = (of("mean"), of("standard_error"));
        claims.two_samples("tandem rush", name, outside, sample, &source);
    }
    claims.hold();
}

/// Integral of a level up to a minute.
fn level_until(history: &[(f64, u32)], end: f64) -> f64 {
    let ends = history.iter().skip(1).map(|h| h.0).chain([end]);
    let spans = history.iter().zip(ends);
    spans
        .map(|(&(from, held), to)| f64::from(held) * (to.min(end) - from).max(0.0))
        .sum()
}
