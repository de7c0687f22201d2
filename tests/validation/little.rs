//! Little's law, exactly: the integral of a level is the sum of the waits, when all has come out again.
//!
//! It holds for each meal, to the microsecond, at every place whose waits are told one by one.

use scullery_engine::ended::How;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_scenario::DEFAULT_SCENARIO;
use scullery_scenario::plan::Plan;

use crate::chain::{Chain, From};
use crate::repeats::plan;
use crate::room::{between, fill, queue};
use crate::tally::Tally;

/// Runs three meals and compares both sides at each place. Each must have held something.
fn check(plan: &Plan, places: &[&str]) {
    let mut tape = Tape::new();
    let mut floor = Floor::new();
    let mut held = vec![0; places.len()];
    for repeat in 0..3 {
        tape.draw(&plan.demand, 7, repeat);
        let mut seen = Tally::new(plan.line.catalogue(), SimTime::MIDNIGHT, SimTime::LAST);
        let ended = run(&plan.line, &tape, &mut floor, &mut seen);
        let ended = ended.unwrap_or_else(|fault| panic!("{fault}"));
        assert!(
            matches!(ended.how, How::StatedEnd | How::AllClean),
            "{:?}",
            ended.how
        );
        assert_eq!(ended.balance.trays_inside, 0);
        seen.close();
        for (place, held) in places.iter().zip(&mut held) {
            assert_eq!(seen.level_us(place), seen.waited_us(place), "{place}");
            assert!(
                seen.waits_at(place) > 100,
                "hardly anything came to {place}"
            );
            *held += seen.level_us(place);
        }
    }
    for (place, held) in places.iter().zip(held) {
        assert!(held > 0, "nothing ever waited at {place}");
    }
}

#[test]
fn levels_are_waits_in_the_university_lunch() {
    // As written, some lunches end with ware inside. Here everybody comes and stays until all is clean, and no rack is
    // short because ware that goes out in its rack was not taken.
    let mut plan = plan(DEFAULT_SCENARIO);
    for worker in &mut plan.line.crew {
        worker.unfilled = 0.0;
        if let Some((_, ends)) = worker.shifts.last_mut() {
            *ends = SimTime::from_min(22.0 * 60.0);
        }
    }
    for kind in &mut plan.line.rack_kinds {
        kind.count = 200;
    }
    let places = ["drop_off.main.queue", "accumulator.return", "lane.feed"];
    check(&plan, &places);
}

#[test]
fn levels_are_waits_where_several_people_take_from_one_table() {
    let covers = between(
        "little at a table",
        &[0.0, 60.0, 120.0],
        &[600.0, 0.0],
        "poisson",
    );
    check(
        &plan(&(covers + &queue("\"exponential\"", 3, 20.0))),
        &["table.queue"],
    );
}

#[test]
fn levels_are_waits_along_a_line_with_little_room() {
    let chain = Chain {
        from: From::PuttingDown,
        minutes: vec![0.3, 0.3, 0.3, 0.3, 0.3],
        rooms: vec![2, 2, 2, 2],
    };
    let covers = between(
        "little along a line",
        &[0.0, 60.0, 240.0],
        &[150.0, 0.0],
        "poisson",
    );
    let places = [
        "drop_off.door.queue",
        "table.table",
        "pile.tray",
        "lane.feed",
    ];
    check(&plan(&(covers + &chain.text())), &places);
}

#[test]
fn levels_are_waits_on_belts_of_either_rule() {
    for ends in ["closes_up", "stops_on_arrival"] {
        let room = fill(
            include_str!("scenarios/belt.toml.in"),
            &[
                ("length_m", "6.1".into()),
                ("spacing_m", "0.45".into()),
                ("speed", "9".into()),
                ("ends", ends.into()),
                ("seconds", "9".into()),
                ("comes", "00:00".into()),
            ],
        );
        let covers = between(
            "little on a belt",
            &[0.0, 60.0, 180.0],
            &[360.0, 0.0],
            "poisson",
        );
        let places = ["drop_off.door.standing", "belt.belt"];
        check(&plan(&(covers + &room)), &places);
    }
}
