//! Runs one model many times, for a profiler: `many textbook 200`, `many tandem 1000`, `many university 200 watched`.
use scullery_benches::lines;
use scullery_engine::ended::Ended;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use scullery_study::record::Recorder;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let (line, demand) = match args.first().map(String::as_str) {
        Some("tandem") => lines::tandem(),
        Some("university") => {
            let Ok(plan) = read_alone(DEFAULT_SCENARIO, Format::Toml) else {
                return;
            };
            (plan.line, plan.demand)
        }
        _ => lines::textbook(),
    };
    let times: u64 = args.get(1).and_then(|n| n.parse().ok()).unwrap_or(100);
    let (mut tape, mut floor) = (Tape::new(), Floor::new());
    let watched = args.get(2).is_some();
    let mut recorder = watched.then(|| Recorder::new(&line.catalogue(), line.starts));
    let mut last: Option<Ended> = None;
    for repeat in 0..times {
        tape.draw(&demand, 1, repeat);
        let ended = match &mut recorder {
            Some(recorder) => {
                recorder.begin();
                run(&line, &tape, &mut floor, recorder)
            }
            None => run(&line, &tape, &mut floor, &mut Nobody),
        };
        match ended {
            Ok(ended) => last = Some(ended),
            Err(fault) => {
                eprintln!("repeat {repeat}: {fault}");
                return;
            }
        }
    }
    eprintln!("{last:?}");
}
