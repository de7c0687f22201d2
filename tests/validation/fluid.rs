//! Backlogs without chance: evenly spaced covers and constant work follow the cumulative curves to within a tray.
//!
//! The room of the single queue with constant work. A curve is smooth and trays are whole: one tray is in hand, and a tray
//! comes up to half a tray before or after the curve. So a length of queue may be off by a tray and a half, an instant by
//! the time in which the queue changes by so much, and the sum of all waits by so much for as long as the queue stood.

use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::plan;
use crate::room::{between, clock, fill, head, queue, rates_and_minutes};
use crate::tally::Tally;

/// How far whole trays may be off a smooth curve.
const TRAYS: f64 = 1.5;

/// Runs a room without chance once.
pub(crate) fn once(text: &str, watch: impl Fn(Tally) -> Tally, min: f64) -> Tally {
    let plan = plan(text);
    let mut tape = Tape::new();
    tape.draw(&plan.demand, 1, 0);
    let end = SimTime::from_min(min);
    let mut tally = watch(Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, end));
    let ended = run(&plan.line, &tape, &mut Floor::new(), &mut tally);
    ended.unwrap_or_else(|fault| panic!("{fault}"));
    tally.close();
    tally
}

/// The most a place held, when it first held so much, and when it was next empty.
fn peak(seen: &Tally) -> (f64, f64, f64) {
    let mut top = (0.0, 0);
    for &(at, held) in &seen.history {
        if held > top.1 {
            top = (at, held);
        }
    }
    let empty = seen
        .history
        .iter()
        .find(|&&(at, held)| at > top.0 && held == 0);
    (
        f64::from(top.1),
        top.0,
        empty.map_or(f64::NAN, |&(at, _)| at),
    )
}

#[test]
fn a_backlog_follows_the_cumulative_curves() {
    let mut claims = Claims::of("fluid::a_backlog_follows_the_cumulative_curves");
    for id in ["fluid-lunch-a", "fluid-lunch-b", "fluid-two-peaks"] {
        let figure = figure(id);
        let pairs = figure.list("arrivals_rate_minutes");
        let (times, counts) = rates_and_minutes(&pairs);
        let capacity = figure.param("capacity");
        let text =
            between(id, &times, &counts, "evenly") + &queue("\"not_at_all\"", 1, 60.0 / capacity);
        let end = times[times.len() - 1];
        let seen = once(
            &text,
            |it| it.following("backlog").keeping_waits("table.queue"),
            end,
        );
        let (most, at, mut empty) = peak(&seen);
        if id == "fluid-two-peaks" {
            // The queue of the second peak is the last to clear: from then on no tray waits.
            empty = last_empty_of_more_than(&seen, 1);
        }
        // Slowest rate at which the queue grows before its peak, and shrinks before it is gone.
        let rates = pairs.iter().step_by(2);
        let grows = rates.clone().map(|r| r - capacity).filter(|r| *r > 0.0);
        let grows = grows.fold(f64::INFINITY, f64::min);
        let shrinks = rates.map(|r| capacity - r).filter(|r| *r > 0.0);
        let shrinks = shrinks.fold(f64::INFINITY, f64::min);
        let stood: f64 = stood(&seen);
        let delay: f64 = seen.waits.iter().copied().sum();
        let longest = seen.waits.iter().copied().fold(0.0, f64::max);
        let source = &figure.source;
        let says = |metric: &str| figure.says(metric);
        claims.exact(id, "peak_queue", says("peak_queue"), most, TRAYS, source);
        claims.exact(
            id,
            "time_of_peak",
            says("time_of_peak"),
            at,
            TRAYS / grows,
            source,
        );
        claims.exact(
            id,
            "clear_time",
            says("clear_time"),
            empty,
            1.0 / shrinks,
            source,
        );
        claims.exact(
            id,
            "total_delay",
            says("total_delay"),
            delay,
            TRAYS * stood,
            source,
        );
        let one = 1.0 / capacity;
        claims.exact(
            id,
            "max_delay_at_peak",
            says("max_delay_at_peak"),
            longest,
            one,
            source,
        );
    }
    claims.hold();
}

/// When the backlog last became nought after having held more than so many.
fn last_empty_of_more_than(seen: &Tally, few: u32) -> f64 {
    let mut many = false;
    let mut last = f64::NAN;
    for &(at, held) in &seen.history {
        many |= held > few;
        if held == 0 && many {
            (last, many) = (at, false);
        }
    }
    last
}

/// Minutes for which more than one tray was there.
fn stood(seen: &Tally) -> f64 {
    let spans = seen.history.windows(2);
    spans.filter(|w| w[0].1 > 1).map(|w| w[1].0 - w[0].0).sum()
}

/// When the queue clears is not compared: the curve of the textbook falls below nought before that, and nobody comes at
/// less than no rate. (It takes a quarter of a minute and a few tray-minutes.)
#[test]
fn a_parabolic_rush_follows_its_curve() {
    let mut claims = Claims::of("fluid::a_parabolic_rush_follows_its_curve");
    let figure = figure("fluid-parabola");
    let (top, bend, capacity) = (
        figure.param("peak_rate"),
        figure.param("curvature"),
        figure.param("capacity"),
    );
    // The rate is top - bend (t - peak)², nought at either foot. The n-th tray comes when n - 1/2 have come by the curve.
    let peak_at = (top / bend).sqrt();
    let came = |t: f64| {
        let from_peak = |u: f64| top * u - bend * u * u * u / 3.0;
        from_peak(t - peak_at) - from_peak(-peak_at)
    };
    let all = came(2.0 * peak_at);
    let instants = (1..=all as u32).map(|n| {
        let (mut low, mut high) = (0.0, 2.0 * peak_at);
        for _ in 0..60 {
            let mid = 0.5 * (low + high);
            if came(mid) < f64::from(n) - 0.5 {
                low = mid;
            } else {
                high = mid;
            }
        }
        clock(high)
    });
    let instants: Vec<String> = instants.collect();
    let end = 2.0 * peak_at + 5.0;
    let covers = format!("[covers]\ninstants = {instants:?}");
    let text = head(&figure.id, &covers, end) + &queue("\"not_at_all\"", 1, 60.0 / capacity);
    let seen = once(
        &text,
        |it| it.following("backlog").keeping_waits("table.queue"),
        end,
    );
    let (most, at, _) = peak(&seen);
    let delay: f64 = seen.waits.iter().copied().sum();
    let (id, source) = (&figure.id, &figure.source);
    let says = |metric: &str| figure.says(metric);
    claims.exact(
        id,
        "longest_queue",
        says("longest_queue"),
        most,
        TRAYS,
        source,
    );
    // Near its top the queue changes by bend × way from the peak × (minutes off)².
    let after = says("longest_queue_after_peak");
    let flat = (TRAYS / (bend * after)).sqrt();
    claims.exact(
        id,
        "longest_queue_after_peak",
        after,
        at - peak_at,
        flat,
        source,
    );
    let around = TRAYS * stood(&seen);
    claims.exact(
        id,
        "total_delay",
        says("total_delay"),
        delay,
        around,
        source,
    );
    claims.hold();
}

/// An accumulator as a belt that closes up, with 60 places and no way to speak of: 3 m at 200 m a minute, 5 cm apart.
#[test]
fn an_accumulator_of_sixty_places_overflows() {
    let mut claims = Claims::of("fluid::an_accumulator_of_sixty_places_overflows");
    let figure = figure("fluid-accumulator");
    let (times, counts) = rates_and_minutes(&figure.list("arrivals_rate_minutes"));
    let capacity = figure.param("capacity");
    let room = fill(
        include_str!("scenarios/belt.toml.in"),
        &[
            ("length_m", format!("{}", figure.param("places") * 0.05)),
            ("spacing_m", "0.05".into()),
            ("speed", "200".into()),
            ("ends", "closes_up".into()),
            ("seconds", format!("{}", 60.0 / capacity)),
            ("comes", "00:00".into()),
        ],
    );
    let text = between(&figure.id, &times, &counts, "evenly") + &room;
    let end = times[times.len() - 1];
    let outside = once(&text, |it| it.following("drop_off.door.standing"), end);
    let belt = once(&text, |it| it.following("belt.belt"), end);
    let (most, _, clear) = peak(&outside);
    let full = belt.history.iter().find(|&&(_, held)| held == 60);
    let area = outside.level_minutes("drop_off.door.standing");
    let stood: f64 = clear - full.map_or(f64::NAN, |&(at, _)| at);
    let source = &figure.source;
    let says = |metric: &str| figure.says(metric);
    let id = &figure.id;
    let full = full.map_or(f64::NAN, |&(at, _)| at);
    // The queue grows by 4 a minute, and shrinks by 6.
    claims.exact(
        id,
        "time_full",
        says("time_full"),
        full,
        TRAYS / 4.0,
        source,
    );
    claims.exact(
        id,
        "peak_outside",
        says("peak_outside"),
        most,
        TRAYS,
        source,
    );
    let shrinks = TRAYS / 6.0;
    claims.exact(
        id,
        "time_outside_clear",
        says("time_outside_clear"),
        clear,
        shrinks,
        source,
    );
    let (_, _, empty) = peak(&belt);
    claims.exact(id, "time_empty", says("time_empty"), empty, shrinks, source);
    claims.exact(
        id,
        "outside_area",
        says("outside_area"),
        area,
        TRAYS * stood,
        source,
    );
    claims.hold();
}
