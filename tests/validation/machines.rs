//! One machine: hold-and-run, start-up times, batches, full racks (template `held`).
//!
//! Trays come at random; each is one piece, broken down in no time. With racks of one piece, racks stand on an unlimited
//! lane as customers stand in a queue, and the machine is the server: a door machine with an exponential cycle, or a rack
//! conveyor whose tunnel is as long as its pitch, which holds one rack for a constant time.

use scullery_engine::watch::{Counted, State};

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::{Length, Sample, plan, repeats};
use crate::room::{fill, poisson};
use crate::tally::Tally;

const LONG: Length = Length {
    repeats: 40,
    warm_up_min: 1_000.0,
    min: 21_000.0,
};

const DOOR: &str = "{ door = { cycle_s = { exponential = { mean = 60 } } } }";
/// A metre at a metre a minute: one rack for one minute.
const CONVEYOR: &str = "{ conveyor = { pitch_m = 1, tunnel_m = 1, speed_m_per_min = 1 } }";

struct Machine<'a> {
    pieces: u32,
    kind: &'a str,
    runs: &'a str,
    start: &'a str,
}

fn see<const N: usize>(
    title: &str,
    per_min: f64,
    length: Length,
    machine: &Machine,
    watch: impl Fn(Tally) -> Tally,
    look: impl Fn(&Tally) -> [f64; N],
) -> [Sample; N] {
    let room = fill(
        include_str!("scenarios/held.toml.in"),
        &[
            ("pieces", machine.pieces.to_string()),
            ("type", machine.kind.into()),
            ("runs", machine.runs.into()),
            ("start", machine.start.into()),
        ],
    );
    let plan = plan(&(poisson(title, per_min, length.min) + &room));
    repeats(
        &plan,
        length.repeats,
        || watch(length.tally(&plan)),
        |seen, _| look(seen),
    )
}

fn number(seen: &Tally) -> f64 {
    seen.mean_level("lane.feed") + seen.mean_level("machine.machine")
}

#[test]
fn held_until_so_many_racks_wait() {
    let mut claims = Claims::of("machines::held_until_so_many_racks_wait");
    for id in [
        "npolicy-mm1-0.6-5",
        "npolicy-mm1-0.8-10",
        "npolicy-mm1-0.5-1",
    ] {
        let figure = figure(id);
        let runs = format!("{{ hold_and_run = {{ racks = {} }} }}", figure.param("N"));
        let machine = Machine {
            pieces: 1,
            kind: DOOR,
            runs: &runs,
            start: "0",
        };
        let seen = see(
            id,
            figure.param("lambda"),
            LONG,
            &machine,
            |it| it,
            |seen| {
                let starts = seen.count(Counted::Starts);
                [
                    number(seen),
                    number(seen) * seen.minutes() / seen.count(Counted::RacksIn),
                    seen.share("machine", State::Washing),
                    starts / seen.minutes(),
                    seen.minutes() / starts,
                    seen.state_minutes("machine", State::Washing) / starts,
                ]
            },
        );
        let metrics = [
            "L",
            "W",
            "p_machine_running",
            "starts_per_time",
            "mean_cycle",
            "mean_run_length",
        ];
        for (metric, sample) in metrics.into_iter().zip(&seen) {
            claims.mean(figure, metric, sample);
        }
    }
    let figure = figure("npolicy-md1");
    let runs = format!("{{ hold_and_run = {{ racks = {} }} }}", figure.param("N"));
    let machine = Machine {
        pieces: 1,
        kind: CONVEYOR,
        runs: &runs,
        start: "0",
    };
    let lambda = figure.param("lambda");
    let seen = see(
        &figure.id,
        lambda,
        LONG,
        &machine,
        |it| it,
        |seen| {
            [
                seen.mean_wait("lane.feed"),
                number(seen),
                seen.count(Counted::Starts) / seen.minutes(),
            ]
        },
    );
    for (metric, sample) in ["Wq", "L", "starts_per_time"].into_iter().zip(&seen) {
        claims.mean(figure, metric, sample);
    }
    claims.hold();
}

#[test]
fn a_start_takes_its_time() {
    let mut claims = Claims::of("machines::a_start_takes_its_time");
    let one = "{ hold_and_run = { racks = 1 } }";
    for (id, kind, start) in [
        ("setup-mm1", DOOR, "{ exponential = { mean = 240 } }"),
        ("setup-md1", CONVEYOR, "240"),
    ] {
        let figure = figure(id);
        let machine = Machine {
            pieces: 1,
            kind,
            runs: one,
            start,
        };
        let lambda = figure.param("lambda");
        let [wait, inside, running, cold] = see(
            id,
            lambda,
            LONG,
            &machine,
            |it| it,
            |seen| {
                [
                    seen.mean_wait("lane.feed"),
                    number(seen),
                    seen.share("machine", State::Washing),
                    seen.share("machine", State::Ready),
                ]
            },
        );
        claims.mean(figure, "Wq", &wait);
        claims.mean(figure, "L", &inside);
        claims.mean(figure, "p_idle_cold", &cold);
        let source = "arrival rate × mean service";
        claims.sampled(id, "p_running", lambda, &running, source);
    }
    claims.hold();
}

/// Template `held_with_room`, which says how the room adds up. The diners who leave their tray aside are those refused.
#[test]
fn held_with_room_for_few() {
    let mut claims = Claims::of("machines::held_with_room_for_few");
    for id in ["npolicy-mm1k-0.8-4-10", "npolicy-mm1k-1.2-6-12"] {
        let figure = figure(id);
        let room = fill(
            include_str!("scenarios/held_with_room.toml.in"),
            &[
                ("shelf", format!("{}", figure.param("K") - 5.0)),
                ("hold", format!("{}", figure.param("N"))),
            ],
        );
        let plan = plan(&(poisson(id, figure.param("lambda"), LONG.min) + &room));
        let seen = repeats(
            &plan,
            LONG.repeats,
            || {
                let tally = LONG.tally(&plan);
                tally.between(Counted::CameToDropOff, Counted::PiecesClean)
            },
            |seen, _| {
                let starts = seen.count(Counted::Starts);
                [
                    seen.share("machine", State::Washing),
                    seen.count(Counted::LeftAside) / seen.count(Counted::CameToDropOff),
                    seen.per_minute(Counted::PiecesClean),
                    seen.mean_between(0) - seen.mean_level("overflow.door"),
                    starts / seen.minutes(),
                    seen.state_minutes("machine", State::Washing) / starts,
                ]
            },
        );
        let metrics = [
            "p_machine_running",
            "p_full",
            "throughput",
            "L",
            "starts_per_time",
            "mean_run_length",
        ];
        for (metric, sample) in metrics.into_iter().zip(&seen) {
            // Where the machine hardly ever rests, there are few runs to average over.
            let few = id.contains("1.2") && matches!(metric, "starts_per_time" | "mean_run_length");
            claims.heavy_use(few || metric == "p_full");
            claims.mean(figure, metric, sample);
        }
    }
    claims.hold();
}

#[test]
fn a_batch_takes_what_waits() {
    let mut claims = Claims::of("machines::a_batch_takes_what_waits");
    for id in ["bulkgate-3-5", "bulkgate-2-3"] {
        let figure = figure(id);
        let kind = format!(
            "{{ door = {{ batch_racks = {}, cycle_s = {{ exponential = {{ mean = 60 }} }} }} }}",
            figure.param("K")
        );
        let machine = Machine {
            pieces: 1,
            kind: &kind,
            runs: "\"throughout\"",
            start: "0",
        };
        let seen = see(
            id,
            figure.param("lambda"),
            LONG,
            &machine,
            |it| it,
            |seen| {
                [
                    seen.mean_level("lane.feed"),
                    number(seen),
                    seen.mean_wait("lane.feed"),
                    seen.count(Counted::RacksIn) / seen.instants(Counted::RacksIn),
                    seen.share("machine", State::Ready),
                ]
            },
        );
        let metrics = ["Lq", "L", "Wq", "mean_batch", "p_idle"];
        for (metric, sample) in metrics.into_iter().zip(&seen) {
            claims.mean(figure, metric, sample);
        }
    }
    claims.hold();
}

/// Racks of several pieces, washed one by one: a rack is the batch. A piece waits while the rack fills, then with it.
#[test]
fn only_full_racks_are_washed() {
    let mut claims = Claims::of("machines::only_full_racks_are_washed");
    for id in ["bulkfull-3-5", "bulkfull-2-4"] {
        let figure = figure(id);
        let machine = Machine {
            pieces: figure.param("K") as u32,
            kind: DOOR,
            runs: "\"throughout\"",
            start: "0",
        };
        let pieces = |tally: Tally| tally.between(Counted::Cleared, Counted::PiecesIn);
        let k = figure.param("K");
        let seen = see(id, figure.param("lambda"), LONG, &machine, pieces, |seen| {
            [
                seen.mean_between(0) * seen.minutes() / seen.count(Counted::PiecesIn),
                seen.mean_between(0),
                seen.share("machine", State::Washing),
                (seen.mean_between(0) - k * seen.mean_level("lane.feed")) * seen.minutes()
                    / seen.count(Counted::PiecesIn),
                seen.mean_wait("lane.feed"),
            ]
        });
        let metrics = [
            "Wq",
            "Lq",
            "utilisation",
            "form_wait",
            "queue_wait_of_batch",
        ];
        for (metric, sample) in metrics.into_iter().zip(&seen) {
            claims.mean(figure, metric, sample);
        }
    }
    claims.hold();
}

/// The machine takes a full rack at once and a microsecond; what is left is the time to fill a rack.
#[test]
fn a_rack_fills_at_random() {
    let mut claims = Claims::of("machines::a_rack_fills_at_random");
    for (id, min) in [
        ("form-5-2", 10_000.0),
        ("form-20-40", 1_500.0),
        ("form-25-60", 1_200.0),
    ] {
        let figure = figure(id);
        let machine = Machine {
            pieces: figure.param("K") as u32,
            kind: "{ door = { cycle_s = 0.000001 } }",
            runs: "\"throughout\"",
            start: "0",
        };
        let length = Length {
            repeats: 30,
            warm_up_min: 20.0,
            min,
        };
        let pieces = |tally: Tally| tally.between(Counted::Cleared, Counted::PiecesIn);
        let seen = see(
            id,
            figure.param("lambda"),
            length,
            &machine,
            pieces,
            |seen| {
                let fills = seen
                    .trips
                    .iter()
                    .map(|trip| trip.closed.since(trip.opened).min());
                let fills = Sample::of(fills.collect());
                [
                    seen.mean_between(0) * seen.minutes() / seen.count(Counted::PiecesIn),
                    fills.mean(),
                    fills.variance().sqrt(),
                ]
            },
        );
        let metrics = ["mean_wait", "first_item_wait", "fill_time_sd_from_first"];
        for (metric, sample) in metrics.into_iter().zip(&seen) {
            claims.mean(figure, metric, sample);
        }
    }
    claims.hold();
}
