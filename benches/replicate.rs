//! A thousand meals of the default scenario, everything recorded and summarised, on one thread and on two.

use std::sync::atomic::AtomicBool;

use divan::Bencher;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use scullery_study::replicate::{Replicate, replicate};

fn main() {
    divan::main();
}

#[divan::bench(args = [1, 2], sample_count = 5, sample_size = 1)]
fn thousand_meals(bencher: Bencher, threads: usize) {
    let Ok(plan) = read_alone(DEFAULT_SCENARIO, Format::Toml) else {
        return;
    };
    let how = Replicate {
        repeats: 1_000,
        seed: 1,
        threads,
    };
    bencher
        .counter(divan::counter::ItemsCount::new(how.repeats))
        .bench_local(|| replicate(&plan, &how, &|_| {}, &AtomicBool::new(false)));
}
