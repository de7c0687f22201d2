//! The hand loop, a meal with nothing recorded and a meal with everything recorded, taken in turns in one process: what
//! else the machine does falls on all three alike. Where the system tells it (Linux), time is the processor's, not the
//! wall's. Prints the middle of so many rounds, each a batch of meals, and the ratios.
//!
//! `side_by_side 21`

use scullery_benches::{floor, lines};
use scullery_engine::demand::Demand;
use scullery_engine::line::Line;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;
use scullery_study::record::Recorder;

/// A hand loop: repeat in, events out.
type ByHand = fn(u64) -> u64;

fn main() {
    let rounds = std::env::args().nth(1).and_then(|n| n.parse().ok());
    let rounds: u64 = rounds.unwrap_or(21);
    let models: [(&str, (Line, Demand), ByHand, u64); 2] = [
        (
            "textbook",
            lines::textbook(),
            |repeat| floor::textbook(repeat).events,
            20,
        ),
        (
            "tandem",
            lines::tandem(),
            |repeat| floor::tandem(repeat).events,
            100,
        ),
    ];
    for (name, (line, demand), by_hand, batch) in &models {
        compare(name, line, demand, *by_hand, [rounds, *batch]);
    }
}

fn compare(name: &str, line: &Line, demand: &Demand, by_hand: ByHand, [rounds, batch]: [u64; 2]) {
    let (mut tape, mut room) = (Tape::new(), Floor::new());
    let mut recorder = Recorder::new(&line.catalogue(), line.starts);
    let mut took: [Vec<f64>; 3] = Default::default();
    for round in 0..=rounds {
        let meals = || round * batch..(round + 1) * batch;
        let floor_ms = timed_ms(batch, || meals().map(by_hand).sum());
        let unwatched_ms = timed_ms(batch, || {
            let one = |repeat| {
                tape.draw(demand, 1, repeat);
                run(line, &tape, &mut room, &mut Nobody).map_or(0, |ended| ended.events)
            };
            meals().map(one).sum()
        });
        let recorded_ms = timed_ms(batch, || {
            let one = |repeat| {
                tape.draw(demand, 1, repeat);
                recorder.begin();
                match run(line, &tape, &mut room, &mut recorder) {
                    Ok(ended) => recorder.finish(&ended).run_us,
                    Err(_) => 0,
                }
            };
            meals().map(one).sum()
        });
        // The first round fetches its storage.
        if round > 0 {
            for (all, ms) in took.iter_mut().zip([floor_ms, unwatched_ms, recorded_ms]) {
                all.push(ms);
            }
        }
    }
    let [floor, unwatched, recorded] = took.map(|mut all| {
        all.sort_by(f64::total_cmp);
        [
            all[all.len() / 10],
            all[all.len() / 2],
            all[all.len() * 9 / 10],
        ]
    });
    eprintln!("{name}: ms a meal, middle of {rounds} batches of {batch} (10th and 90th of 100)");
    for (what, [low, middle, high]) in [
        ("floor", floor),
        ("nothing recorded", unwatched),
        ("everything recorded", recorded),
    ] {
        eprintln!("  {what:20} {middle:8.3} ({low:.3} {high:.3})");
    }
    eprintln!(
        "  unrecorded / floor {:.2}, recorded / floor {:.2}, recorded / unrecorded {:.2}",
        unwatched[1] / floor[1],
        recorded[1] / floor[1],
        recorded[1] / unwatched[1]
    );
}

/// Milliseconds a meal.
fn timed_ms(meals: u64, work: impl FnOnce() -> u64) -> f64 {
    let begins = now_s();
    std::hint::black_box(work());
    (now_s() - begins) * 1e3 / meals as f64
}

/// Seconds this process has had the processor; where the system does not tell, seconds by the wall clock.
#[expect(
    clippy::disallowed_methods,
    reason = "this measures how long things take"
)]
fn now_s() -> f64 {
    let told = std::fs::read_to_string("/proc/self/schedstat").ok();
    let on_processor = told.and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
    match on_processor {
        Some(ns) => ns / 1e9,
        None => {
            static BEGINS: std::sync::OnceLock<std::time::Instant> = std::sync::OnceLock::new();
            let begins = BEGINS.get_or_init(std::time::Instant::now);
            begins.elapsed().as_secs_f64()
        }
    }
}
