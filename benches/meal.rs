//! Whole meals: the textbook queue and the tandem line with a rush, each beside its floor.

use divan::{AllocProfiler, Bencher};
use scullery_benches::{floor, lines};
use scullery_engine::demand::Demand;
use scullery_engine::line::Line;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::{Nobody, Observer};

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

/// Draws a tape and runs it, on storage that is used again.
fn meals<O: Observer>(bencher: Bencher, (line, demand): (Line, Demand), mut seen: O) {
    let (mut tape, mut room, mut repeat) = (Tape::new(), Floor::new(), 0);
    let mut one = || {
        repeat += 1;
        tape.draw(&demand, 1, repeat);
        run(&line, &tape, &mut room, &mut seen)
    };
    let Ok(ended) = one() else { return };
    bencher
        .counter(divan::counter::ItemsCount::new(ended.events))
        .bench_local(one);
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
    meals(bencher, lines::textbook(), Nobody);
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
    meals(bencher, lines::tandem(), Nobody);
}
