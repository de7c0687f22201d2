//! The hand loop, a meal with nothing recorded and a meal with everything recorded, taken in turns in one process: what
//! else the machine does falls on all three alike. Prints the middle of so many rounds, and the ratios.
//!
//! `side_by_side 101`

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
    let rounds: u64 = rounds.unwrap_or(101);
    let models: [(&str, (Line, Demand), ByHand); 2] = [
        ("textbook", lines::textbook(), |repeat| {
            floor::textbook(repeat).events
        }),
        ("tandem", lines::tandem(), |repeat| {
            floor::tandem(repeat).events
        }),
    ];
    for (name, (line, demand), by_hand) in &models {
        compare(name, line, demand, *by_hand, rounds);
    }
}

fn compare(name: &str, line: &Line, demand: &Demand, by_hand: ByHand, rounds: u64) {
    let (mut tape, mut room) = (Tape::new(), Floor::new());
    let mut recorder = Recorder::new(&line.catalogue(), line.starts);
    let mut took: [Vec<f64>; 3] = Default::default();
    for repeat in 0..rounds + 5 {
        let floor_ms = timed_ms(|| by_hand(repeat));
        let unwatched_ms = timed_ms(|| {
            tape.draw(demand, 1, repeat);
            run(line, &tape, &mut room, &mut Nobody).map_or(0, |ended| ended.events)
        });
        let recorded_ms = timed_ms(|| {
            tape.draw(demand, 1, repeat);
            recorder.begin();
            match run(line, &tape, &mut room, &mut recorder) {
                Ok(ended) => recorder.finish(&ended).run_us,
                Err(_) => 0,
            }
        });
        // The first few fetch their storage.
        if repeat >= 5 {
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
    eprintln!("{name}: ms a meal, middle of {rounds} (10th and 90th of 100)");
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

#[expect(clippy::disallowed_methods, reason = "this measures the wall clock")]
fn timed_ms(work: impl FnOnce() -> u64) -> f64 {
    let begins = std::time::Instant::now();
    std::hint::black_box(work());
    begins.elapsed().as_secs_f64() * 1e3
}
