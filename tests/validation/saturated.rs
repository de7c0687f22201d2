//! Stations that always have something to do: what a line with finite room gets through.
//!
//! All trays come within the first second and wait without limit before the first station (see `chain`).

use crate::agreement::Claims;
use crate::chain::{Chain, From};
use crate::figures::figure;
use crate::repeats::{Length, Sample, plan, repeats};
use crate::room::all_at_once;

const LENGTH: Length = Length {
    repeats: 30,
    warm_up_min: 500.0,
    min: 5_500.0,
};

fn throughput(title: &str, chain: &Chain) -> Sample {
    // Stations with a shorter mean time get a shorter run of as many services.
    let slowest = chain.minutes.iter().fold(0.0, |a: f64, &b| a.max(b));
    let length = Length {
        warm_up_min: LENGTH.warm_up_min * slowest,
        min: LENGTH.min * slowest,
        ..LENGTH
    };
    let covers = length.min / chain.minutes[0] * 1.1;
    let plan = plan(&(all_at_once(title, covers, length.min) + &chain.text()));
    let [throughput] = repeats(
        &plan,
        length.repeats,
        || length.tally(&plan),
        |seen, _| [Chain::throughput(seen)],
    );
    throughput
}

fn check(claims: &mut Claims, id: &str, from: From, stations: &str) {
    let figure = figure(id);
    let minutes: Vec<f64> = figure.list("mu").iter().map(|mu| 1.0 / mu).collect();
    let rooms = match figure.params.get("buffer") {
        Some(_) => vec![figure.param("buffer") as u32],
        None => figure.list("buffers").iter().map(|&b| b as u32).collect(),
    };
    let chain = Chain {
        from,
        minutes,
        rooms,
    };
    let title = format!("{id}: {stations}");
    let sample = throughput(&title, &chain);
    claims.sampled(
        &title,
        "throughput",
        figure.says("throughput"),
        &sample,
        &figure.source,
    );
}

#[test]
fn two_stations() {
    let mut claims = Claims::of("saturated::two_stations");
    let rooms = (0..=10).map(|b| format!("line2-b{b}"));
    let unequal = ["line2-1-1.25-b0", "line2-1-1.25-b3", "line2-1-0.8-b2"];
    for id in rooms.chain(unequal.map(String::from)) {
        check(
            &mut claims,
            &id,
            From::PuttingDown,
            "putting down, scrapping",
        );
        check(&mut claims, &id, From::Scrapping, "scrapping, racking");
        check(&mut claims, &id, From::Racking, "racking, washing");
        check(&mut claims, &id, From::Washing, "washing, unloading");
    }
    claims.hold();
}

#[test]
fn three_stations() {
    let mut claims = Claims::of("saturated::three_stations");
    let equal = (0..=3).map(|b| format!("line3-b{b}"));
    let unequal = [0, 2, 5, 10].map(|b| format!("line3-dish-b{b}"));
    for id in equal.chain(unequal) {
        check(
            &mut claims,
            &id,
            From::PuttingDown,
            "putting down, scrapping, racking",
        );
        check(
            &mut claims,
            &id,
            From::Scrapping,
            "scrapping, racking, washing",
        );
        check(
            &mut claims,
            &id,
            From::Racking,
            "racking, washing, unloading",
        );
    }
    claims.hold();
}

/// Longer lines without room between the stations. The published figures are from memory, as printed.
#[test]
fn four_and_five_stations_without_room() {
    let mut claims = Claims::of("saturated::four_and_five_stations_without_room");
    let source = "From memory of Hillier & Boling 1967; computed exactly as the stationary throughput of the chain of \
                  blocking after service with 21 (four stations) and 55 states (five)";
    for (stations, from, outside) in [
        (4, From::PuttingDown, 0.51477549),
        (4, From::Scrapping, 0.51477549),
        (5, From::PuttingDown, 0.48579812),
    ] {
        let chain = Chain {
            from,
            minutes: vec![1.0; stations],
            rooms: vec![0; stations - 1],
        };
        let title = format!("line{stations}-b0 from {from:?}");
        let sample = throughput(&title, &chain);
        claims.sampled(&title, "throughput", outside, &sample, source);
    }
    claims.hold();
}
