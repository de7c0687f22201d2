//! Streams and queues whose rate changes with the clock.
//!
//! Covers at random between stated clock times. The queue is the room of the single queue; the belt (template `belt`) is
//! 600 m at 200 m a minute with trays 5 cm apart, taken at once, so that nothing but its length keeps a tray on it. (At 8
//! trays a minute one tray in 500 waits for a gap, for 15 ms: far below what could be seen.)

use scullery_engine::time::SimTime;
use scullery_engine::watch::Counted;

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::{plan, repeats};
use crate::room::{between, fill, queue, rates_and_minutes};
use crate::tally::Tally;

fn minutes(at: &[f64]) -> Vec<SimTime> {
    at.iter().map(|&min| SimTime::from_min(min)).collect()
}

#[test]
fn a_queue_under_a_changing_rate() {
    let mut claims = Claims::of("by_the_clock::a_queue_under_a_changing_rate");
    for (id, count) in [("mtmc-lunch", 4_000), ("mtmc-single", 10_000)] {
        let figure = figure(id);
        let (times, counts) = rates_and_minutes(&figure.list("arrivals_rate_minutes"));
        let servers = figure.param("c") as u32;
        let room = queue("\"exponential\"", servers, 60.0 / figure.param("mu"));
        let plan = plan(&(between(id, &times, &counts, "poisson") + &room));
        let at: [f64; 3] = match id {
            "mtmc-lunch" => [15.0, 45.0, 90.0],
            _ => [20.0, 40.0, 80.0],
        };
        let end = SimTime::from_min(times[times.len() - 1]);
        let watch = || {
            Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, end)
                .probing("backlog", &minutes(&at))
        };
        let seen = repeats(&plan, count, watch, |seen, _| {
            let busy = |held: u32| f64::from(u8::from(held >= servers));
            let [a, b, c] = [0, 1, 2].map(|k| seen.probed[k]);
            [a, b, c]
                .map(f64::from)
                .into_iter()
                .chain([a, b, c].map(busy))
                .collect::<Vec<_>>()
                .try_into()
                .unwrap_or([0.0; 6])
        });
        for (k, at) in at.iter().enumerate() {
            claims.mean(figure, &format!("L_at_{at}"), &seen[k]);
            // A share near nought or one cannot be told to 2 % in so few repeats.
            let metric = format!("p_wait_at_{at}");
            let p = figure.says(&metric);
            if p > 0.3 && p < 0.99 {
                claims.mean(figure, &metric, &seen[3 + k]);
            }
        }
    }
    claims.hold();
}

#[test]
fn trays_on_a_belt_under_a_changing_rate() {
    let mut claims = Claims::of("by_the_clock::trays_on_a_belt_under_a_changing_rate");
    let figure = figure("mtginf-belt");
    let (mut times, mut counts) = rates_and_minutes(&figure.list("arrivals_rate_minutes"));
    times.push(66.0);
    counts.push(0.0);
    let room = fill(
        include_str!("scenarios/belt.toml.in"),
        &[
            ("length_m", format!("{}", 200.0 * figure.param("transit"))),
            ("spacing_m", "0.05".into()),
            ("speed", "200".into()),
            ("ends", "closes_up".into()),
            ("seconds", "0".into()),
            ("comes", "00:00".into()),
        ],
    );
    let plan = plan(&(between(&figure.id, &times, &counts, "poisson") + &room));
    let at = [5.0, 11.0, 20.0, 31.0, 42.0, 62.0];
    let end = SimTime::from_min(66.0);
    let watch = || {
        Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, end)
            .probing("belt.belt", &minutes(&at))
    };
    let seen = repeats(&plan, 4_000, watch, |seen, _| {
        [0, 1, 2, 3, 4, 5].map(|k| f64::from(seen.probed[k]))
    });
    let source = &figure.source;
    for (at, sample) in at.iter().zip(&seen) {
        let metric = format!("mean_on_belt_{at}");
        claims.mean(figure, &metric, sample);
        // The count on the belt is Poisson: its variance is its mean.
        let what = format!("variance on the belt at {at}");
        claims.heavy_use(true);
        claims.variance(&figure.id, &what, figure.says(&metric), sample, source);
        claims.heavy_use(false);
    }
    claims.hold();
}

#[test]
fn counts_of_a_stream_with_a_changing_rate() {
    let mut claims = Claims::of("by_the_clock::counts_of_a_stream_with_a_changing_rate");
    let figure = figure("nhpp-counts");
    let each = figure.param("minutes_each");
    let pairs: Vec<f64> = figure
        .list("rates_per_min")
        .iter()
        .flat_map(|&rate| [rate, each])
        .collect();
    let (times, counts) = rates_and_minutes(&pairs);
    // Hardly any work: what is looked at is who comes, and when the first.
    let plan = plan(
        &(between(&figure.id, &times, &counts, "poisson") + &queue("\"not_at_all\"", 1, 0.01)),
    );
    let end = SimTime::from_min(times[times.len() - 1]);
    let watch = || Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, end).following("backlog");
    let [came, first, many] = repeats(&plan, 10_000, watch, |seen, _| {
        let came = seen.count(Counted::CameToDropOff);
        [came, seen.history[0].0, f64::from(u8::from(came >= 260.0))]
    });
    claims.mean(figure, "mean_total", &came);
    claims.heavy_use(true);
    claims.variance(
        &figure.id,
        "var_total",
        figure.says("var_total"),
        &came,
        &figure.source,
    );
    claims.heavy_use(false);
    claims.mean(figure, "mean_first_event_time", &first);
    claims.mean(figure, "p_total_ge_260", &many);
    claims.hold();
}

/// A gap drawn in a quiet spell at the quiet rate would be a hundred hours, and most rushes would be missed.
#[test]
fn a_quiet_spell_does_not_swallow_the_rush() {
    let mut claims = Claims::of("by_the_clock::a_quiet_spell_does_not_swallow_the_rush");
    let source =
        "Worked by hand: the count of a Poisson stream is Poisson with the integral of its rate";
    let room = queue("\"not_at_all\"", 1, 0.01);

    // 0.01 an hour for two hours, then 120 an hour for one.
    let title = "quiet, then a rush";
    let times = [0.0, 120.0, 180.0, 300.0];
    let quiet = plan(&(between(title, &times, &[0.02, 120.0, 0.0], "poisson") + &room));
    let end = SimTime::from_min(300.0);
    let watch = |plan: &scullery_scenario::plan::Plan| {
        Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, end).following("backlog")
    };
    let [came] = repeats(
        &quiet,
        2_000,
        || watch(&quiet),
        |seen, _| [seen.count(Counted::CameToDropOff)],
    );
    claims.sampled(title, "covers that come", 120.02, &came, source);
    claims.heavy_use(true);
    claims.variance(title, "variance of that", 120.02, &came, source);
    claims.heavy_use(false);

    // Nobody before 11:00, 60 an hour until 12:00, nobody after.
    let title = "nobody, then sixty an hour";
    let times = [600.0, 660.0, 720.0, 900.0];
    let sixty = plan(&(between(title, &times, &[0.0, 60.0, 0.0], "poisson") + &room));
    let end = SimTime::from_min(900.0);
    let watch = || Tally::new(sixty.line.catalogue(), SimTime::MIDNIGHT, end).following("backlog");
    let [came, first] = repeats(&sixty, 4_000, watch, |seen, _| {
        for &(at, _) in &seen.history {
            assert!((660.0..720.001).contains(&at), "somebody came at {at} min");
        }
        [
            seen.count(Counted::CameToDropOff),
            seen.history[0].0 - 660.0,
        ]
    });
    claims.sampled(title, "covers that come", 60.0, &came, source);
    claims.sampled(title, "minutes until the first", 1.0, &first, source);
    claims.hold();
}
