//! Two stations with room for few between them, fed at random: blocking after service.
//!
//! Each model is said four times, with another pair of neighbours of the line as the two stations (see `chain`).

use scullery_scenario::{Format, read_alone};

use crate::agreement::Claims;
use crate::chain::{Chain, From};
use crate::figures::figure;
use crate::repeats::{Length, plan, repeats};
use crate::room::poisson;

const PAIRS: [(From, &str); 4] = [
    (From::PuttingDown, "putting down, scrapping"),
    (From::Scrapping, "scrapping, racking"),
    (From::Racking, "racking, washing"),
    (From::Washing, "washing, unloading"),
];

fn check(test: &'static str, id: &str, heavy: bool, length: Length) {
    let mut claims = Claims::of(test);
    let figure = figure(id);
    claims.heavy_use(heavy);
    for (from, stations) in PAIRS {
        let chain = Chain {
            from,
            minutes: vec![1.0 / figure.param("mu1"), 1.0 / figure.param("mu2")],
            rooms: vec![figure.param("buffer") as u32],
        };
        let title = format!("{id}: {stations}");
        let plan = plan(&(poisson(&title, figure.param("lambda"), length.min) + &chain.text()));
        let [l1, l2, blocked, works] = repeats(
            &plan,
            length.repeats,
            || length.tally(&plan),
            |seen, _| {
                [
                    chain.number(seen, 0),
                    chain.number(seen, 1),
                    chain.first_blocked(seen),
                    chain.works(seen, 1),
                ]
            },
        );
        for (metric, sample) in [
            ("L1", l1),
            ("L2", l2),
            ("p_blocked", blocked),
            ("utilisation2", works),
        ] {
            claims.sampled(&title, metric, figure.says(metric), &sample, &figure.source);
        }
    }
    claims.hold();
}

#[test]
fn room_for_two() {
    let length = Length {
        repeats: 40,
        warm_up_min: 1_000.0,
        min: 11_000.0,
    };
    check(
        "tandem::room_for_two",
        "tandem-bas-0.5-1-1-b2",
        false,
        length,
    );
}

#[test]
fn room_for_none() {
    let length = Length {
        repeats: 40,
        warm_up_min: 4_000.0,
        min: 34_000.0,
    };
    // The second station is used 0.6 of the time, but the arrivals take 0.9 of what the line can do.
    check(
        "tandem::room_for_none",
        "tandem-bas-0.6-1-1-b0",
        true,
        length,
    );
}

#[test]
fn room_for_three_and_unequal_stations() {
    let length = Length {
        repeats: 40,
        warm_up_min: 500.0,
        min: 6_500.0,
    };
    check(
        "tandem::room_for_three_and_unequal_stations",
        "tandem-bas-4-6-5.5-b3",
        false,
        length,
    );
}

/// A rack filled during breakdown stands open, full, while the lane has no room, and the person goes on with the next
/// tray: with one open rack and a shelf for one there is room for two.
#[test]
fn filled_during_breakdown() {
    let mut claims = Claims::of("tandem::filled_during_breakdown");
    let text = include_str!("../../scenarios/textbook-two-stations.toml");
    let plan = read_alone(text, Format::Toml).expect("the textbook scenario is right");
    let figure = figure("tandem-bas-0.5-1-1-b2");
    let length = Length {
        repeats: 40,
        warm_up_min: 1_000.0,
        // Its covers come for eight days.
        min: 11_500.0,
    };
    let [l1, l2] = repeats(
        &plan,
        length.repeats,
        || length.tally(&plan),
        |seen, _| {
            use scullery_engine::watch::State;
            let first = seen.share("First", State::Working) + seen.share("First", State::HeldUp);
            let second = ["racks_open.between", "lane.buffer", "machine.second"];
            [
                seen.mean_level("table.queue") + first,
                second.iter().map(|place| seen.mean_level(place)).sum(),
            ]
        },
    );
    for (metric, sample) in [("L1", l1), ("L2", l2)] {
        let title = "scenarios/textbook-two-stations.toml";
        claims.sampled(title, metric, figure.says(metric), &sample, &figure.source);
    }
    claims.hold();
}
