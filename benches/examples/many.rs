//! Runs one model many times, for a profiler: `many textbook 200`, `many tandem 1000 watched`, `many textbook 200 floor`.
use scullery_benches::{floor, lines};
use scullery_engine::ended::Ended;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use scullery_study::record::Recorder;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let model = args.first().map_or("textbook", String::as_str);
    let times: u64 = args.get(1).and_then(|n| n.parse().ok()).unwrap_or(100);
    let how = args.get(2).map_or("unwatched", String::as_str);
    if how == "floor" {
        by_hand(model, times);
        return;
    }
    let (line, demand) = match model {
        "tandem" => lines::tandem(),
        "university" => {
            let Ok(plan) = read_alone(DEFAULT_SCENARIO, Format::Toml) else {
                return;
            };
            (plan.line, plan.demand)
        }
        _ => lines::textbook(),
    };
    let (mut tape, mut floor) = (Tape::new(), Floor::new());
    let mut recorder = (how == "watched").then(|| Recorder::new(&line.catalogue(), line.starts));
    let mut last: Option<Ended> = None;
    for repeat in 0..times {
        tape.draw(&demand, 1, repeat);
        let ended = match &mut recorder {
            Some(recorder) => {
                recorder.begin();
                let ended = run(&line, &tape, &mut floor, recorder);
                if let Ok(ended) = &ended {
                    recorder.finish(ended);
                }
                ended
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

/// The hand loop of a model.
fn by_hand(model: &str, times: u64) {
    let mut events = 0;
    for repeat in 0..times {
        events += match model {
            "tandem" => floor::tandem(repeat).events,
            _ => floor::textbook(repeat).events,
        };
    }
    eprintln!("{events} events");
}
