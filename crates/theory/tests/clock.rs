//! Rushes, belts and streams against the reference.

use crate::fixture::{Case, Law, hold};
use scullery_theory::clock::{
    ManyServers, Segment, arrivals_until, drain, fluid_backlog, fluid_with_accumulator,
    mean_first_arrival, mean_on_belt, mean_staying_under_wave, p_count_at_least, p_no_arrival,
    parabolic_rush, queue_over_time, thinning_accepted,
};

pub(crate) const LAWS: [Law; 9] = [
    Law::new("fluid-lunch-", backlog),
    Law::new("fluid-two-peaks", backlog),
    Law::new("fluid-accumulator", accumulator),
    Law::new("fluid-parabola", parabola),
    Law::new("mtmc-", over_time),
    Law::new("mtginf-belt", belt),
    Law::new("mtmGinf-sine", wave),
    Law::new("nhpp-counts", stream),
    Law::new("drain-", clearing),
];

#[test]
fn rushes_agree_with_the_reference() {
    hold(&LAWS);
}

fn segments(case: &Case) -> Vec<Segment> {
    let list = case.raw("arrivals_rate_minutes").as_array().unwrap();
    list.iter()
        .map(|pair| Segment {
            rate: pair[0].as_f64().unwrap(),
            length: pair[1].as_f64().unwrap(),
        })
        .collect()
}

fn backlog(case: &Case) {
    let rush = fluid_backlog(&segments(case), case.num("capacity")).unwrap();
    case.agrees(&[
        ("peak_queue", rush.peak),
        ("time_of_peak", rush.time_of_peak),
        ("clear_time", rush.clear_time.unwrap()),
        ("total_delay", rush.total_delay),
        ("max_delay_at_peak", rush.delay_at_peak),
    ]);
}

fn accumulator(case: &Case) {
    let rush = segments(case);
    let rush = fluid_with_accumulator(&rush, case.num("capacity"), case.num("places")).unwrap();
    case.agrees(&[
        ("time_full", rush.time_full.unwrap()),
        ("peak_outside", rush.peak_outside),
        ("time_outside_clear", rush.time_outside_clear.unwrap()),
        ("time_empty", rush.time_empty.unwrap()),
        ("outside_area", rush.outside_delay),
        ("places_needed_for_no_overflow", rush.places_needed),
    ]);
}

fn parabola(case: &Case) {
    let (peak, curvature) = (case.num("peak_rate"), case.num("curvature"));
    let rush = parabolic_rush(peak, curvature, case.num("capacity")).unwrap();
    case.agrees(&[
        ("queue_starts_before_peak", rush.starts_before_peak),
        ("longest_queue", rush.longest),
        ("longest_queue_after_peak", rush.longest_after_peak),
        ("clears_after_peak", rush.clears_after_peak),
        ("total_delay", rush.total_delay),
    ]);
}

fn over_time(case: &Case) {
    let line = ManyServers {
        service_rate: case.num("mu"),
        servers: case.count("c"),
        room: 400,
    };
    let rush = segments(case);
    let mut ends = Vec::new();
    for segment in &rush {
        ends.push(ends.last().unwrap_or(&0.0) + segment.length);
    }
    let seen = queue_over_time(&rush, line, &ends).unwrap();
    let expected = case.metrics();
    let mut ours = Vec::new();
    for (end, at) in ends.iter().zip(&seen) {
        assert!(at.p_at_room < 1e-20, "the room is too small at {end}");
        // The reference gives only some of the moments.
        if expected
            .iter()
            .any(|(name, _)| *name == format!("L_at_{end}"))
        {
            ours.push((format!("L_at_{end}"), at.in_system));
            ours.push((format!("p_wait_at_{end}"), at.p_wait));
        }
    }
    case.agrees(&ours);
}

fn belt(case: &Case) {
    let rush = segments(case);
    let at = |time: f64| mean_on_belt(&rush, case.num("transit"), time).unwrap();
    let moments = [5.0, 11.0, 20.0, 31.0, 42.0, 62.0];
    case.agrees(&moments.map(|t| (format!("mean_on_belt_{t}"), at(t))));
}

fn wave(case: &Case) {
    let (rate, swing) = (case.num("mean_rate"), case.num("amplitude"));
    let (period, stay) = (case.num("period"), case.num("mean_stay"));
    let at = |t: f64| mean_staying_under_wave(rate, swing, period, stay, t).unwrap();
    let mut ours: Vec<(String, f64)> = [10.0, 15.0, 23.0, 40.0]
        .iter()
        .map(|&t| (format!("mean_{t}"), at(t).0))
        .collect();
    ours.push(("time_lag_of_peak".to_owned(), at(0.0).1));
    case.agrees(&ours);
}

fn stream(case: &Case) {
    let length = case.num("minutes_each");
    let rates = case.list("rates_per_min");
    let stream: Vec<Segment> = rates.iter().map(|&rate| Segment { rate, length }).collect();
    let end = length * 5.0;
    let mean = arrivals_until(&stream, end).unwrap();
    case.agrees(&[
        ("mean_total", mean),
        // A Poisson count has its mean as its variance.
        ("var_total", mean),
        (
            "thinning_accept_fraction",
            thinning_accepted(&stream).unwrap(),
        ),
        (
            "p_zero_first_interval",
            p_no_arrival(&stream, 0.0, length).unwrap(),
        ),
        (
            "p_total_ge_260",
            p_count_at_least(&stream, 0.0, end, 260).unwrap(),
        ),
        (
            "mean_first_event_time",
            mean_first_arrival(&stream).unwrap(),
        ),
    ]);
}

fn clearing(case: &Case) {
    let time = drain(case.count("backlog"), case.num("mu"), case.count("servers")).unwrap();
    case.agrees(&[("mean", time.mean), ("variance", time.variance)]);
}
