//! Whole meals: the textbook queue, the tandem line with a rush, each beside its floor; the default scenario; each with
//! everything recorded and with nothing recorded. Items are events.

use divan::{AllocProfiler, Bencher};
use scullery_benches::{floor, lines};
use scullery_engine::demand::Demand;
use scullery_engine::line::Line;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use scullery_study::record::Recorder;

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

/// Draws a tape and runs it, on storage that is used again; nothing recorded.
fn unwatched(bencher: Bencher, (line, demand): (Line, Demand)) {
    let (mut tape, mut room, mut repeat) = (Tape::new(), Floor::new(), 0);
    let mut one = || {
        repeat += 1;
        tape.draw(&demand, 1, repeat);
        run(&line, &tape, &mut room, &mut Nobody)
    };
    // The first few meals fetch their storage.
    let events = (0..20)
        .filter_map(|_| one().ok())
        .last()
        .map_or(1, |ended| ended.events);
    bencher
        .counter(divan::counter::ItemsCount::new(events))
        .bench_local(one);
}

/// The same with everything recorded.
fn recorded(bencher: Bencher, (line, demand): (Line, Demand)) {
    let (mut tape, mut room, mut repeat) = (Tape::new(), Floor::new(), 0);
    let mut recorder = Recorder::new(&line.catalogue(), line.starts);
    let mut one = || {
        repeat += 1;
        tape.draw(&demand, 1, repeat);
        recorder.begin();
        let ended = run(&line, &tape, &mut room, &mut recorder).ok()?;
        recorder.finish(&ended);
        Some(ended.events)
    };
    let events = (0..20).filter_map(|_| one()).last().unwrap_or(1);
    bencher
        .counter(divan::counter::ItemsCount::new(events))
        .bench_local(one);
}

fn university() -> (Line, Demand) {
    match read_alone(DEFAULT_SCENARIO, Format::Toml) {
        Ok(plan) => (plan.line, plan.demand),
        Err(_) => lines::textbook(),
    }
}

#[divan::bench]
fn textbook_floor(bencher: Bencher) {
    let events = floor::textbook(1).events;
    let mut repeat = 0;
    bencher
        .counter(divan::counter::ItemsCount::new(events))
        .bench_local(|| {
            repeat += 1;
            floor::textbook(repeat)
        });
}

#[divan::bench]
fn textbook_unwatched(bencher: Bencher) {
    unwatched(bencher, lines::textbook());
}

#[divan::bench]
fn tandem_floor(bencher: Bencher) {
    let events = floor::tandem(1).events;
    let mut repeat = 0;
    bencher
        .counter(divan::counter::ItemsCount::new(events))
        .bench_local(|| {
            repeat += 1;
            floor::tandem(repeat)
        });
}

#[divan::bench]
fn tandem_unwatched(bencher: Bencher) {
    unwatched(bencher, lines::tandem());
}

#[divan::bench]
fn textbook_recorded(bencher: Bencher) {
    recorded(bencher, lines::textbook());
}

#[divan::bench]
fn tandem_recorded(bencher: Bencher) {
    recorded(bencher, lines::tandem());
}

#[divan::bench]
fn university_unwatched(bencher: Bencher) {
    unwatched(bencher, university());
}

#[divan::bench]
fn university_recorded(bencher: Bencher) {
    recorded(bencher, university());
}
