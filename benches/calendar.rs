//! The bare calendar: pull one, set one, at so many pending.

use divan::Bencher;
use scullery_engine::calendar::{Calendar, Phase};
use scullery_engine::streams::Root;
use scullery_engine::time::{SimTime, Span};

fn main() {
    divan::main();
}

const TURNS: u64 = 10_000;

#[divan::bench(args = [8, 64, 10_000])]
fn hold(bencher: Bencher, pending: u32) {
    let gaps = Root::new(1, 0).source("gaps");
    bencher
        .counter(divan::counter::ItemsCount::new(TURNS))
        .bench_local(|| {
            let mut calendar = Calendar::default();
            calendar.wipe(pending as usize);
            for slot in 0..pending {
                calendar.set(
                    slot,
                    Phase::End,
                    SimTime::from_us(gaps.at(u64::from(slot)).bits() >> 40),
                );
            }
            for turn in 0..TURNS {
                let first = calendar.first();
                let later = Span::from_us(gaps.at(turn).bits() >> 40);
                calendar.set(first.slot(), Phase::End, first.at() + later);
            }
            calendar.first()
        });
}
